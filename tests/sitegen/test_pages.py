"""The generated pages against the cards and cases that they are made of."""

import re
import shlex
from html import unescape
from html.parser import HTMLParser
from pathlib import Path

import pytest

from valvecalc.checked import cases, check
from valvecalc.door import calc, load
from valvecalc.facts import caution, source
from valvecalc.formula import REGISTER, Card
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen.calls import facts_of, formulas_below, users
from valvecalc.sitegen.demo import REPORTS
from valvecalc.sitegen.example import command
from valvecalc.sitegen.marks import SEEN, address, symbols
from valvecalc.sitegen.pages import pages

ROOT = Path(__file__).parent.parent.parent
load()
CARDS = [card for card in REGISTER.values() if not card.part]
PAGES = pages(ROOT)


def by_id(card: Card) -> str:
    return card.id


class Text(HTMLParser):
    """What a reader sees of a page, words parted by one blank."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.words: list[str] = []
        self.feed(page)

    def handle_data(self, data: str) -> None:
        self.words += data.split()

    def __str__(self) -> str:
        return " ".join(self.words)


def plain(text: str) -> str:
    return " ".join(text.split())


def test_every_calculation_has_a_page_and_parts_have_none() -> None:
    written = {path for path in PAGES if re.match(r"(calc|judge)/(?!index\.md)", path)}
    assert written == {address(card) for card in CARDS}
    assert len(written) > 40


def test_building_twice_gives_the_same_text() -> None:
    assert pages(ROOT) == PAGES


@pytest.mark.parametrize("card", CARDS, ids=by_id)
def test_page_holds_its_parts(card: Card) -> None:
    page = PAGES[address(card)]
    text = str(Text(page))
    assert unescape(page).count(f"\n# {card.title}\n") == 1
    answer = calc(card.id, **card.example)
    told = answer.printed(answer.headline)
    figure = re.search(r'class="answer-figure">.*?<strong>(.*?)</strong>', page)
    assert figure is not None
    if isinstance(told, float):
        shown = re.match(r"\(?(−?\d+(\.\d+)?(e-?\d+)?)", unescape(figure[1]))
        assert shown
        # With its uncertainty a figure ends where that does.
        last = 0.5 * 10.0 ** -len((shown[2] or ".")[1:]) if "±" in figure[1] else 0.0
        assert float(shown[1].replace("−", "-")) == pytest.approx(told, rel=6e-4, abs=last)
        assert answer.unit(answer.headline) in figure[1]
    else:
        assert figure[1] == told
    for name in card.entries:
        quantity = VOCABULARY[name]
        assert f"<code>{name}</code>" in page
        assert quantity.metric in text and quantity.us in text
        assert symbols(quantity.symbol) in page
    for sentence in card.distrust:
        assert plain(sentence) in text
    for name, (_, says) in card.trusted.items():
        assert says in text, name
    for key, locator in card.sources:
        row = source(key)
        assert plain(row["text"]) in text and locator in text
        assert SEEN[row["seen"]] in text.lower() or SEEN[row["seen"]].capitalize() in text
    assert f"edition {card.edition}" in text


@pytest.mark.parametrize("card", CARDS, ids=by_id)
def test_cautions_come_before_what_computes(card: Card) -> None:
    """Safety rule of the house: the caution stands before the instruction or the number it belongs to."""
    page = PAGES[address(card)]
    for key in card.cautions:
        assert plain(caution(key)) in str(Text(page))
    before, _, after = page.partition('<section class="calculator"')
    assert before.count('class="caution"') == len(card.cautions)
    assert 'class="caution"' not in after
    assert not re.search(r"<(table|ol|ul|code class)", before)


@pytest.mark.parametrize("card", CARDS, ids=by_id)
def test_command_line_repeats_the_example(card: Card) -> None:
    """What a shell makes of the printed command gives the same answer."""
    printed = command(card)
    assert f"```sh\n{printed}\n```" in PAGES[address(card)]
    program, verb, name, *entries = shlex.split(printed.replace("\\\n", " "))
    assert (program, verb, name) == ("valvecalc", "calc", card.id)
    given = dict(entry.split("=", 1) for entry in entries)
    assert calc(name, **given).results == calc(card.id, **card.example).results


@pytest.mark.parametrize("card", [card for card in CARDS if card.kind == "formula"], ids=by_id)
def test_formula_is_there_as_mathml_with_its_text(card: Card) -> None:
    page = PAGES[address(card)]
    assert page.count("<math ") == 1
    found = re.search(r'<div class="math" tabindex="0"[^>]*><math display="block" alttext="([^"]+)">', page)
    assert found is not None
    assert VOCABULARY[card.result].symbol in unescape(found[1])


def test_published_cases_stand_on_the_page_of_all_and_of_their_formula() -> None:
    text = str(Text(PAGES["checked.md"]))
    found = cases(ROOT / "tests" / "published")
    assert f"{len(found)} figures" in text
    for case in found:
        card = REGISTER[case.formula]
        own = [] if card.part else [str(Text(PAGES[address(card)]))]  # a part is shown inside those that call it
        for page in (text, *own):
            assert plain(source(case.source)["text"]) in page
            assert case.locator in page and case.expect in page and case.why in plain(page), case.id
    good = sum(check(case).holds for case in found)
    assert f"{good} reproduced, {len(found) - good} not." in text


def test_a_formula_without_a_published_case_says_so() -> None:
    with_case = {case.formula for case in cases(ROOT / "tests" / "published")}
    bare = {card.id for card in CARDS if card.kind == "formula"} - with_case
    assert bare
    for card in CARDS:
        if card.kind == "formula":
            assert ("No published check found." in PAGES[address(card)]) == (card.id in bare)
    listed = PAGES["checked.md"].partition("## No published check found")[2].partition("## ")[0]
    assert set(re.findall(r"page:calc/([\w-]+)\.md", listed)) == bare


def test_without_the_cases_the_page_says_where_they_are(tmp_path: Path) -> None:
    assert "tests/published/" in pages(tmp_path)["checked.md"]


def test_sheets_link_to_their_formulas_and_back() -> None:
    sheet, formula = REGISTER["coil-check"], REGISTER["resistance-at-20"]
    assert formula in formulas_below(sheet) and sheet in users(formula)
    assert "page:calc/resistance-at-20.md" in PAGES["judge/coil-check.md"]
    assert "page:judge/coil-check.md" in PAGES["calc/resistance-at-20.md"]


def test_calls_are_found_through_parts_and_thresholds() -> None:
    below = [card.id for card in formulas_below(REGISTER["single-causes"])]
    assert "spring-force" in below
    assert {"shift-budget", "single-causes"} & {card.id for card in users(REGISTER["spring-force"])}


def test_figures_of_a_sheet_stand_with_their_origin() -> None:
    """The guard-band limit that judges, and the tables that a part reads."""
    assert {"margin-sign-off", "groove-factors", "silt-breakaway"} <= set(facts_of(REGISTER["shift-budget"]))
    assert "default: judgement" in PAGES["judge/shift-budget.md"]


def test_stroke_chart_is_drawn_where_the_stroke_was_walked() -> None:
    assert PAGES["judge/shift-budget.md"].count('class="drawing"') == 1
    assert "flow force" in PAGES["judge/shift-budget.md"]


def test_indexes_lead_to_every_page() -> None:
    for kind in ("calc", "judge"):
        listed = set(re.findall(rf"page:({kind}/[\w-]+\.md)", PAGES[f"{kind}/index.md"]))
        assert listed == {address(card) for card in CARDS if address(card).startswith(kind)}


def test_the_example_jobs_reports_stand_beside_their_page() -> None:
    page = PAGES["job/demo.md"]
    parts = page.split("\n## ")[1:-1]
    assert [part.partition("\n")[0] for part in parts] == [outcome for outcome, _ in REPORTS.values()]
    for part, (name, (_, file)) in zip(parts, REPORTS.items(), strict=True):
        report = PAGES[file]
        assert report.startswith("<!DOCTYPE html>")
        assert f"page:{file}" in part
        sentence = re.search(r'class="answer-figure"><span>(.*?)</span>', part)
        assert sentence and sentence[1] in report
        assert f"The job file, {name}" in part
    assert "Every field is explained" in page
