"""The pages of the words against the pages that they send readers to."""

import re
from pathlib import Path

import pytest

from valvecalc.door import load
from valvecalc.errors import DataError
from valvecalc.formula import REGISTER
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen import words_page
from valvecalc.sitegen.marks import address, symbols

load()
CARDS = [card for card in REGISTER.values() if not card.part]
SYMBOL_ROW = re.compile(r'<tr role="row"><th [^>]*>(?:(?!</tr>).)*?<code id="(\w+)">.*?</tr>')


@pytest.fixture(scope="module")
def words(built_site: Path) -> dict[str, str]:
    """The pages of the words by name; the start is ""."""
    start = built_site / "words"
    pages = {page.parent.name: page.read_text("utf-8") for page in start.rglob("index.html")}
    return {"" if name == "words" else name: text for name, text in pages.items()}


@pytest.fixture(scope="module")
def rows(words: dict[str, str]) -> dict[str, str]:
    """The row of each term as it is written."""
    return {match[1]: match[0] for text in words.values() for match in SYMBOL_ROW.finditer(text)}


def test_every_term_that_a_calculation_names_leads_back_to_it(built_site: Path, rows: dict[str, str]) -> None:
    """The symbols of a calculation's own page, read from that page as it is written."""
    counted = 0
    for card in CARDS:
        place = address(card).removesuffix(".md")
        page = built_site.joinpath(place, "index.html").read_text("utf-8")
        table = page.partition('id="symbols-units-and-limits"')[2].partition("<h2")[0]
        for name in re.findall(r"<code>(\w+)</code></t", table):
            named = f'href="../../{place}/"' in rows[name]
            assert named or re.search(r"and \d+ more</td>", rows[name]), f"{card.id}: {name}"
            counted += named
    assert counted > 300


def test_a_row_says_what_the_vocabulary_says(rows: dict[str, str]) -> None:
    assert len(rows) > 250
    for name, row in rows.items():
        quantity = VOCABULARY[name]
        assert symbols(quantity.meaning)[1:] in row
        assert (f"<var>{symbols(quantity.symbol)}</var>" in row) == bool(quantity.symbol)
        assert quantity.metric in row and quantity.us in row
        assert "href=" in row


def test_every_term_stands_on_the_page_of_its_heading(words: dict[str, str]) -> None:
    for key, group in words_page.terms().items():
        found = [match[1] for match in SYMBOL_ROW.finditer(words[key])]
        assert found == [name for name in group["names"] if name in found]
        assert f'href="{key}/"' in words[""]
        assert len(found) == len(set(found)) > 0


def test_a_symbol_stands_once_with_all_that_it_means(words: dict[str, str], rows: dict[str, str]) -> None:
    found = re.findall(r"<var>(.*?)</var></th><td[^>]*>(.*?)</td>", words["symbols"])
    assert len(found) == len(dict(found)) > 150
    for told, meant in found:
        wanted = {words_page.place(name) for name in rows if symbols(VOCABULARY[name].symbol) == told}
        places = re.findall(r'href="\.\./([\w-]+)/#(\w+)"', meant)
        assert {f"words/{page}.md#{name}" for page, name in places} == wanted


def test_a_term_without_a_heading_stops_the_build(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(VOCABULARY, "newcomer", VOCABULARY["flow"])
    with pytest.raises(DataError, match="newcomer"):
        words_page.terms()
