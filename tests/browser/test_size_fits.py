"""My valves and which of them fits: what the device reads, keeps and says is what Python says; nothing leaves it."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.test_hostile import TEXTS, WATCH
from valvecalc.demo import SIZE
from valvecalc.door import load
from valvecalc.drawing.symbol import symbol_of, title_of
from valvecalc.facts import parse_toml
from valvecalc.selection.console import size_text
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import changed, read_duty
from valvecalc.selection.function import Function
from valvecalc.selection.ranking import flips, rank
from valvecalc.selection.stock import read_stock
from valvecalc.selection.tell import told
from valvecalc.sitegen.size_worked import DUTIES, about, demo, reasons

load()
FAULTY = Path(__file__).parents[1] / "selection" / "faulty.csv"
CARDS = """() => [...document.querySelectorAll(".fits__yours .valve:not(.fits__if .valve)")].map((card) => ({
  verdict: card.querySelector("h3 .verdict").textContent, name: card.querySelector("h3").lastChild.textContent,
  loud: [...card.querySelectorAll(":scope > .caution p")].map((p) => p.textContent),
  about: card.querySelector(".valve__about").textContent,
  why: [...card.querySelectorAll(":scope > ul > li")].map((li) => li.textContent) }))"""


class Opened:
    """A page on a phone, and all that it asked of anybody."""

    def __init__(self, page: Page, served: str) -> None:
        self.page, self.served = page, served
        self.asked: list[str] = []
        self.errors: list[str] = []
        page.on("request", lambda request: self.asked.append(f"{request.method} {request.url}"))
        page.on("pageerror", lambda error: self.errors.append(str(error)))

    def list(self, file: Any) -> None:
        self.page.goto(f"{self.served}size/list/")
        self.page.set_input_files("#stock-file", file)

    def duty(self, name: str) -> None:
        raw = parse_toml((SIZE / f"{name}.toml").read_bytes(), name)
        self.page.evaluate("raw => localStorage.setItem('valvecalc.duty', JSON.stringify(raw))", raw)

    def fits(self) -> None:
        self.page.goto(f"{self.served}size/fits/")
        self.page.wait_for_selector(".fits__report")


@pytest.fixture
def phone(browser: Browser, served: str) -> Iterator[Opened]:
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True, service_workers="block")
    context.add_init_script(WATCH)
    opened = Opened(context.new_page(), served)
    yield opened
    harm = opened.page.evaluate("() => window.hostile")
    context.close()
    assert opened.errors == []
    assert [one for one in opened.asked if not one.startswith((f"GET {served}", "GET data:"))] == []
    assert (harm["ran"], harm["made"], harm["refused"], harm["errors"]) == (0, [], [], [])


def test_a_list_from_a_file_is_kept_and_can_be_removed_after_a_question(phone: Opened) -> None:
    phone.list(SIZE / "stock.csv")
    page, said = phone.page, phone.page.locator(".stock__said")
    expect(said).to_contain_text("20 valves from stock.csv")
    expect(said).to_contain_text("Kept on this device.")
    page.reload()
    expect(page.locator(".valves details")).to_have_count(20)
    page.locator(".valves summary").first.tap()
    expect(page.locator(".valves details").first).to_contain_text("P joined to A, B joined to T (P-A, B-T)")
    page.get_by_role("button", name="Remove the list").tap()
    page.get_by_role("button", name="Keep it").tap()
    expect(page.locator(".valves details")).to_have_count(20)
    page.get_by_role("button", name="Remove the list").tap()
    page.get_by_role("button", name="Remove it").tap()
    page.reload()
    page.wait_for_timeout(300)
    assert page.locator(".valves").count() == 0


def test_every_fault_of_a_list_is_named_with_what_to_do(phone: Opened) -> None:
    phone.list(FAULTY)
    valves, problems = read_stock(FAULTY)
    rows = phone.page.locator(".stock__problems tbody tr")
    expect(rows).to_have_count(len(problems))
    found = rows.evaluate_all("rows => rows.map((row) => [...row.children].map((cell) => cell.textContent))")
    named = [f"Row {one.row}{f' ({one.name})' if one.name else ''}: {one.column}" for one in problems]
    assert found == [[name, one.got, one.need, one.do] for name, one in zip(named, problems, strict=True)]
    expect(phone.page.locator(".valves details")).to_have_count(len(valves))


def test_letters_that_are_not_utf8_are_read_and_told(phone: Opened) -> None:
    written = "name;shelf\nKühlpresse;µ 3\n".encode("cp1252")
    phone.list({"name": "alt.csv", "mimeType": "text/csv", "buffer": written})
    expect(phone.page.locator(".stock__problems")).to_contain_text("letters that are not UTF-8")
    expect(phone.page.locator(".valves")).to_contain_text("Kühlpresse shelf µ 3")


def test_what_cannot_be_read_is_told_and_the_list_before_stays(phone: Opened) -> None:
    phone.list(SIZE / "stock.csv")
    expect(phone.page.locator(".valves details")).to_have_count(20)
    for name, text, words in (
        ("x.csv", "shelf\nA1\n", "a column called name"),
        ("x.csv", 'name\n"x', "quotation mark"),
        ("x.toml", "[valve]", "Write [[valve]] before each."),
    ):
        phone.page.set_input_files("#stock-file", {"name": name, "mimeType": "text/csv", "buffer": text.encode()})
        expect(phone.page.locator(".stock__said")).to_contain_text(words)
    phone.page.reload()
    expect(phone.page.locator(".valves details")).to_have_count(20)


def test_a_list_in_toml_is_read(phone: Opened) -> None:
    written = '[[valve]]\nname = "left"\nshelf = "A1"\n[[valve]]\nname = "right"\nquantity = "two"\n'
    phone.list({"name": "list.toml", "mimeType": "text/plain", "buffer": written.encode()})
    expect(phone.page.locator(".valves details")).to_have_count(2)
    expect(phone.page.locator(".stock__problems")).to_contain_text("Row 2 (right): quantity")


def test_without_room_a_list_lasts_for_the_page_and_says_so(phone: Opened) -> None:
    phone.page.add_init_script(
        "Storage.prototype.setItem = () => { throw new DOMException('', 'QuotaExceededError'); };"
    )
    phone.list(SIZE / "stock.csv")
    expect(phone.page.locator(".stock__said")).to_contain_text("no room to keep it on this device")
    expect(phone.page.locator(".valves details")).to_have_count(20)


def test_a_list_with_markup_in_its_cells_shows_it_as_text(phone: Opened) -> None:
    cells = ['"' + text.replace('"', '""').replace("\x00", "") + '"' for text in TEXTS]
    rows = [f"{cell},{other},{cell}" for cell, other in zip(cells, reversed(cells), strict=True)]
    written = "\n".join(["name,shelf,rest", *rows])
    phone.list(
        {"name": "<img class=hostile src=x onerror=hurt()>.csv", "mimeType": "text/csv", "buffer": written.encode()}
    )
    expect(phone.page.locator(".valves")).to_contain_text("<img class=hostile src=x onerror=hurt()>")
    phone.page.get_by_role("button", name="Remove the list").tap()
    phone.duty("baler")
    phone.fits()
    phone.page.locator(".fits details summary").first.tap()
    expect(phone.page.locator(".fits__yours")).to_contain_text("class=hostile")
    phone.page.get_by_role("button", name="Show the other").tap()
    phone.page.get_by_role("button", name="Copy as text").tap()


LIST = '{"name":"x.csv","text":"name\\nbin 1"}'
RUBBISH = (
    ('{"pump":5,"cylinder":"x","old":{"rest":{"a":1},"constructor":"1","seals":"<b class=hostile>"}}', LIST),
    (
        '{"cylinder":[null,{"bore_diameter":["1 mm"],"__proto__":"x"},{}],"motor":{"hanging":true},"constructor":{}}',
        LIST,
    ),
    ('"text"', '{"name":{},"text":7}'),
    ("[1]", "[]"),
    ("{}", "{"),
)


@pytest.mark.parametrize(("duty", "stock"), RUBBISH)
def test_a_store_that_holds_rubbish_breaks_nothing(duty: str, stock: str, phone: Opened) -> None:
    phone.page.goto(f"{phone.served}size/fits/")
    store = "([duty, stock]) => { localStorage['valvecalc.duty'] = duty; localStorage['valvecalc.stock'] = stock; }"
    phone.page.evaluate(store, [duty, stock])
    phone.page.reload()
    phone.page.wait_for_selector(".fits__yours .door, .fits__report")
    phone.page.goto(f"{phone.served}size/list/")
    expect(phone.page.locator("[data-demo]")).to_be_visible()


@pytest.mark.parametrize("name", DUTIES)
def test_the_demo_in_one_tap_is_judged_as_python_judges_it(name: str, phone: Opened) -> None:
    phone.page.goto(f"{phone.served}size/fits/")
    phone.page.locator(f"[data-demo={name}]").tap()
    phone.page.get_by_role("button", name="Show the other").tap()
    expect(phone.page.locator(".fits__yours .valve")).to_have_count(20)
    answer = demo(name)
    expect(phone.page.locator(".fits__head").first).to_have_text(answer["headline"])
    for found, row in zip(phone.page.evaluate(CARDS), answer["candidates"], strict=True):
        loud, why = reasons(row)
        assert (found["verdict"], found["name"]) == (row["verdict"], f"{row['id']}")
        assert (found["loud"], found["about"]) == (loud, about(row))
        shown = [text for text in found["why"] if not text.endswith("more, see every rule.")]
        assert shown == why[: len(shown)]
        assert len(shown) == len(why) or found["why"][-1] == f"and {len(why) - len(shown)} more, see every rule."
    text = phone.page.locator(".fits__yours").inner_text()
    for row in answer["find_out"]:
        assert row["what"] in text
    for note in answer["notes"]:
        assert note in text


def test_other_units_are_those_of_python(phone: Opened) -> None:
    phone.page.goto(f"{phone.served}size/fits/#demo=press")
    phone.page.wait_for_selector(".fits__report")
    phone.page.locator(".strip__units").tap()
    asked, (valves, problems) = demand(read_duty(SIZE / "press.toml")), read_stock(SIZE / "stock.csv")
    answer = told(asked, rank(valves, asked), problems, (), None, "us")
    expect(phone.page.locator(".valve__about").first).to_have_text(about(answer["candidates"][0]))
    assert "psi" in about(answer["candidates"][0])
    assert phone.page.evaluate(CARDS)[0]["why"] == reasons(answer["candidates"][0])[1]


@pytest.mark.parametrize("name", DUTIES)
def test_the_copied_text_says_what_the_command_line_prints(name: str, phone: Opened) -> None:
    phone.page.goto(f"{phone.served}size/fits/#demo={name}")
    phone.page.wait_for_selector(".fits__report")
    phone.page.get_by_role("button", name="Copy as text").tap()
    text = phone.page.locator(".fits__text").text_content() or ""

    def bare(lines: str) -> str:
        """Without line breaks and the marks that the command line sets before each broken line."""
        return "".join(lines.replace("!", "").split())

    printed = bare(size_text(demo(name, 10))).replace(";--jsontellsall.", ".")
    assert bare(text).startswith(printed)
    for words in (f"data {demo(name, 0)['data_version']}", "stock.csv", "pump.flow = "):
        assert words in text


def test_every_rule_and_movement_of_a_valve_can_be_opened(phone: Opened) -> None:
    phone.page.goto(f"{phone.served}size/fits/#demo=press")
    phone.page.wait_for_selector(".fits__report")
    last = phone.page.locator(".fits__yours .valve details").nth(5)
    last.locator("summary").tap()
    row = demo("press")["candidates"][5]
    rules = last.locator("tbody").first.locator("tr")
    expect(rules).to_have_count(len(row["rules"]))
    sentences = rules.locator("td:last-child").all_text_contents()
    assert sentences == [one["sentence"] for one in row["rules"]]
    movements = last.locator(".scroll tbody tr")
    expect(movements).to_have_count(len(row["movements"]))


def test_what_the_ports_do_is_drawn_wherever_the_sizing_speaks_of_it(phone: Opened) -> None:
    """The old valve's on the request; a valve's own among the list; both where it does something else."""
    page = phone.page
    phone.list(SIZE / "stock.csv")
    expect(page.locator(".valves details")).to_have_count(20)
    phone.duty("press")
    valves, asked = read_stock(SIZE / "stock.csv")[0], demand(read_duty(SIZE / "press.toml"))

    def title(function: Function, operator: str, stage: str) -> str:
        return title_of(symbol_of(function, operator, stage))

    titles = {valve.name: title(valve.function, valve.operator, valve.stage) for valve in valves}
    old = title(asked.old, asked.duty.get("old", "operator"), asked.duty.get("old", "stage"))
    page.locator(".valves summary").first.tap()
    expect(page.locator(".valves svg.drawing title")).to_have_text(titles[valves[0].name])
    page.goto(f"{phone.served}size/request/")
    expect(page.locator(".request[data-state=yours] .request__drawn svg.drawing title")).to_have_text(old)
    phone.fits()
    other = next(one for one in rank(valves, asked) if one.verdict == "reject" and any(
        rule.rule == "function" and rule.verdict == "reject" for rule in one.rules))  # fmt: skip
    card = page.locator(".fits__yours .valve").filter(has=page.locator(f"h3:has-text('{other.valve.name}')"))
    card.locator("summary").first.tap()
    expect(card.locator(".symbols figcaption")).to_have_text(["Needed: the old valve", f"There: {other.valve.name}"])
    expect(card.locator(".symbols title")).to_have_text([old, titles[other.valve.name]])
    named = page.evaluate("() => [...document.querySelectorAll('[id]')].map((one) => one.id)")
    assert len(named) == len(set(named))


def test_another_value_turns_what_it_turns_in_python(phone: Opened) -> None:
    phone.list(SIZE / "stock.csv")
    expect(phone.page.locator(".valves details")).to_have_count(20)
    phone.duty("baler")
    phone.fits()
    phone.page.locator("#fits-entry").select_option("pump.flow")
    phone.page.locator("#fits-value").fill("60 bar")
    phone.page.get_by_role("button", name="Show what turns").tap()
    expect(phone.page.locator(".fits__if .field__wrong")).to_contain_text("bar is a pressure")
    phone.page.locator("#fits-value").fill("60 L/min")
    phone.page.get_by_role("button", name="Show what turns").tap()
    duty = read_duty(SIZE / "baler.toml")
    before, after = demand(duty), demand(changed(duty, "pump.flow", "60 L/min"))
    valves, problems = read_stock(SIZE / "stock.csv")
    answer = told(after, rank(valves, after), problems, flips(valves, before, after), 0)
    expect(phone.page.locator(".fits__if .fits__head")).to_have_text(answer["headline"])
    turned = [flip for flip in answer["flips"] if flip["before"] != flip["after"]]
    assert turned
    cards = phone.page.locator(".fits__if .valve")
    expect(cards).to_have_count(len(turned))
    for place, flip in enumerate(turned):
        sentences = cards.nth(place).locator(".caution p, li").all_text_contents()
        assert sentences == [rule["sentence"] for rule in flip["rules"]]
        expect(cards.nth(place)).to_contain_text(flip["id"])


def test_what_is_printed_carries_versions_entries_and_the_machine(phone: Opened) -> None:
    phone.list(SIZE / "stock.csv")
    expect(phone.page.locator(".valves details")).to_have_count(20)
    phone.duty("tipping-trailer")
    phone.fits()
    answer = demo("tipping-trailer")
    phone.page.emulate_media(media="print")
    phone.page.evaluate("dispatchEvent(new Event('beforeprint'))")
    text = phone.page.locator("article").inner_text()
    for words in (
        answer["version"],
        answer["data_version"],
        answer["title"],
        "1 300 mm",
        "stock.csv",
        "Worked example",
    ):
        assert (words in text) == (words != "Worked example"), words
    for rule in answer["candidates"][0]["rules"]:
        assert rule["sentence"] in text
    assert "What if" not in text
    links = phone.page.locator(".fits__yours a[href*='size/machine/#q=']")
    assert links.count() == len(answer["find_out"]) > 0
