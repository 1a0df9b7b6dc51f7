"""The pages of the tables in Chromium: sorted, filtered, in US units, by thumb and by key, and with script off."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.conftest import MEASURE
from valvecalc.facts import table_text
from valvecalc.tables import figure, tables

RINGS = "table/oring-sizes/"
CARDS = "table/interfaces/"
ROWS = "article tbody tr:visible"


@pytest.fixture
def phone(browser: Browser, served: str) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True, service_workers="block")
    page = context.new_page()
    errors: list[str] = []
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto(served + RINGS)
    yield page
    context.close()
    assert errors == []


def column(page: Page, place: int) -> list[str]:
    """The cells of a column as they stand, from the top."""
    return page.eval_on_selector_all(
        "article tbody tr", f"rows => rows.filter(row => !row.hidden).map(row => row.cells[{place}].textContent)"
    )


def test_the_rows_that_hold_what_is_typed(phone: Page) -> None:
    field = phone.get_by_label("Rows with")
    told = phone.locator(".field [role=status]")
    expect(told).to_have_text("349 rows")
    field.tap()
    for text, codes in (("-214", ["214"]), ("1,78 12,42", ["014"]), ("no such ring", [])):
        field.fill(text)
        expect(told).to_have_text(f"{len(codes)} of 349 rows")
        assert column(phone, 0) == codes
    field.fill("")
    expect(told).to_have_text("349 rows")
    expect(phone.locator(ROWS)).to_have_count(349)


def test_a_tap_on_a_head_sorts_and_another_turns_it(phone: Page) -> None:
    """The first tap of all: its script has not come yet."""
    printed = [row[1] for row in table_text("oring_sizes.csv")[2]]
    head = phone.locator("article thead th").nth(1)
    head.tap()
    expect(head).to_have_attribute("aria-sort", "ascending")
    assert column(phone, 1) == sorted(printed, key=float)
    head.get_by_role("button").tap()
    expect(head).to_have_attribute("aria-sort", "descending")
    assert column(phone, 1) == sorted(printed, key=float, reverse=True)
    expect(phone.locator(".say")).to_have_text("Sorted by Inside, largest first")
    assert phone.locator("[aria-sort]").count() == 1


def test_unknown_cells_come_last_either_way(phone: Page, served: str) -> None:
    phone.goto(served + "table/cable/")
    head = phone.locator("article thead th").nth(1)
    for way in ("ascending", "descending"):
        head.tap()
        expect(head).to_have_attribute("aria-sort", way)
        assert column(phone, 1)[-8:] == ["–"] * 8


def test_by_key_alone(phone: Page) -> None:
    """The region scrolls by key, its heads are buttons with a ring, and Space sorts."""
    phone.keyboard.press("Tab")
    phone.locator("article thead button").first.wait_for()
    phone.get_by_label("Rows with").focus()
    phone.keyboard.press("Tab")
    assert phone.evaluate("document.activeElement.className") == "scroll grid"
    for _ in range(3):
        phone.keyboard.press("ArrowDown")
    phone.wait_for_function("document.activeElement.scrollTop > 0")
    for _ in range(2):
        phone.keyboard.press("Tab")
    assert phone.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "solid"
    phone.keyboard.press("Space")
    expect(phone.locator("article thead th").nth(1)).to_have_attribute("aria-sort", "ascending")


def test_the_heads_and_the_codes_stay_in_sight(phone: Page) -> None:
    region = phone.locator(".grid")
    region.evaluate("region => region.scrollTo(60, 3000)")
    box, head = region.bounding_box(), phone.locator("article thead th").first.bounding_box()
    assert box and head
    assert abs(head["y"] - box["y"]) <= 2 and abs(head["x"] - box["x"]) <= 2


@pytest.mark.parametrize("address", (RINGS, CARDS, "table/thermal-classes/"))
def test_the_figures_follow_the_units_switch(phone: Page, served: str, address: str) -> None:
    phone.goto(served + address)
    table = tables()[address.split("/")[1]]
    metric = [column(phone, place) for place in range(len(table.columns))]
    phone.locator(".strip__units").tap()
    expect(phone.locator(".strip__units b")).to_have_text("US")
    place = next(place for place, one in enumerate(table.columns) if one.metric != one.us)
    one = table.columns[place]
    known = next(number for number, row in enumerate(table.rows) if row[place])
    cell = phone.locator(f"article tbody tr:nth-child({known + 1}) > :nth-child({place + 1})")
    expect(cell).to_contain_text(figure(one, table.rows[known][place], one.us))
    if address != CARDS:
        expect(phone.locator("article thead th").nth(place)).to_contain_text(f"[{one.us}]")
    phone.locator(".strip__units").tap()
    expect(phone.locator(".strip__units b")).to_have_text("metric")
    assert [column(phone, place) for place in range(len(table.columns))] == metric


def test_without_script_all_rows_stand_and_no_control_is_dead(browser: Browser, served: str) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 640}, java_script_enabled=False)
    page = context.new_page()
    page.goto(served + RINGS)
    assert page.locator("article tbody tr").count() == 349
    assert page.locator("article :is(button, input):visible").count() == 0
    expect(page.locator("article thead th").nth(1)).to_have_text("Inside [mm]")
    context.close()


@pytest.mark.parametrize("address", (RINGS, CARDS, "table/cable/"))
def test_no_sideways_scrolling_at_any_width_in_either_scheme(phone: Page, served: str, address: str) -> None:
    """Once the heads are buttons too; text at 7:1 and targets of 48 px, as on every page."""
    phone.goto(served + address)
    phone.keyboard.press("Tab")
    if address != CARDS:
        phone.locator("article thead button").first.wait_for()
    phone.evaluate(MEASURE)
    for width in (320, 360, 760, 1280):
        phone.set_viewport_size({"width": width, "height": 640})
        for scheme in ("default", "slate"):
            found = phone.evaluate("scheme => measure(scheme)", scheme)
            assert (found["wide"], found["faint"], found["small"]) == (0, [], []), (width, scheme)


@pytest.mark.parametrize("address", (RINGS, "table/iso898-1-proof-load-coarse/"))
def test_on_paper_the_whole_table_stands(phone: Page, served: str, address: str) -> None:
    """On A4 and Letter, the narrower of both: 18 cm between the margins."""
    phone.goto(served + address)
    phone.emulate_media(media="print")
    phone.set_viewport_size({"width": 680, "height": 900})
    region = phone.locator(".grid")
    expect(region).to_be_visible()
    assert region.evaluate("region => region.scrollHeight - region.clientHeight") <= 1
    assert phone.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    expect(phone.get_by_label("Rows with")).to_be_hidden()
    phone.emulate_media(media="screen")


def test_the_file_is_served_and_stored(phone: Page, served: str, built_site: Path) -> None:
    text = phone.request.get(served + "table/oring-sizes.csv").text()
    assert text == (built_site / "table" / "oring-sizes.csv").read_text("utf-8")
    assert '"table/oring-sizes.csv"' in (built_site / "sw.js").read_text("utf-8")
