"""What holds on every page: the survey visits each once at three widths in both schemes."""

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.browser.conftest import TEXT, lay_out_all

Survey = dict[str, dict[str, Any]]
VIEWS = ("320 default", "360 default", "360 slate", "1280 default", "1280 slate")


@pytest.mark.parametrize("view", VIEWS)
def test_no_sideways_scrolling(survey: Survey, view: str) -> None:
    """WCAG 2.2, 1.4.10: text reflows at 320 px."""
    assert {page: row[view]["wide"] for page, row in survey.items() if row[view]["wide"] > 0} == {}


@pytest.mark.parametrize("view", VIEWS)
def test_text_stands_out_seven_to_one(survey: Survey, view: str) -> None:
    """WCAG 2.2, 1.4.6 (level AAA): 7:1, here for text of any size, for glare in the shop."""
    assert {page: row[view]["faint"] for page, row in survey.items() if row[view]["faint"]} == {}


@pytest.mark.parametrize("view", VIEWS)
def test_targets_fit_a_gloved_thumb(survey: Survey, view: str) -> None:
    """48 px outside running text (WCAG 2.2, 2.5.5 asks 44; 48 is the house's), at any width: screens can be touched."""
    assert {page: row[view]["small"] for page, row in survey.items() if row[view]["small"]} == {}


def test_doors_are_high(survey: Survey) -> None:
    heights = {page: min(row["360 default"]["doors"]) for page, row in survey.items() if row["360 default"]["doors"]}
    assert "./" in heights
    assert {page: height for page, height in heights.items() if height < 56} == {}


def test_caution_comes_before_the_instruction_in_its_box(survey: Survey) -> None:
    assert {page: row["360 default"]["late"] for page, row in survey.items() if row["360 default"]["late"]} == {}


@pytest.mark.parametrize("view", VIEWS)
def test_first_aid_can_be_tapped(survey: Survey, view: str) -> None:
    assert [page for page, row in survey.items() if not row[view]["firstAid"]] == []


@pytest.mark.parametrize("view", VIEWS)
def test_the_strip_stays_low(survey: Survey, view: str) -> None:
    """One line for the thumb, two of words: it may not eat the screen, at 320 px neither."""
    assert {page: row[view]["strip"] for page, row in survey.items() if not 48 <= row[view]["strip"] <= 56} == {}


@pytest.mark.parametrize(
    ("address", "wanted"), (("calc/jet-speed/", 1), ("", 0), ("judge/shift-budget/", 0), ("fault/coil-burns/", 0))
)
def test_the_maths_font_is_fetched_where_needed(browser: Browser, served: str, address: str, wanted: int) -> None:
    """In a context of its own: where the font is at hand already, Chromium asks for it again on any page."""
    context = browser.new_context(viewport={"width": 360, "height": 640}, service_workers="block")
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(served + address, wait_until="networkidle")
    if wanted:  # on a busy machine half a second of silence proves nothing
        page.wait_for_function("document.fonts.check('16px \"Shop Maths\"', '=')")
    assert sum(url.endswith("maths.woff2") for url in asked) == wanted
    assert page.evaluate("document.fonts.check('16px \"Shop Maths\"', '=')") == bool(wanted)
    context.close()


def test_nothing_comes_from_another_host(survey: Survey, served: str) -> None:
    asked = {
        page: [url for url in row["requests"] if not url.startswith((served, "data:"))] for page, row in survey.items()
    }
    assert {page: urls for page, urls in asked.items() if urls} == {}


def test_no_script_errors(survey: Survey) -> None:
    assert {page: row["errors"] for page, row in survey.items() if row["errors"]} == {}


def test_text_is_there_without_scripts(survey: Survey, browser: Browser, served: str, built_site: Path) -> None:
    """Everything readable with scripts is readable without."""
    context = browser.new_context(java_script_enabled=False, viewport={"width": 360, "height": 640})
    lay_out_all(context, built_site)
    page = context.new_page()
    lost = {}
    for address, row in survey.items():
        page.goto(served + address)
        shown = set(page.evaluate(TEXT).splitlines())
        missing = [line for line in row["text"].splitlines() if line not in shown]
        if missing or not page.locator(".strip__hurt").is_visible():
            lost[address] = missing
    context.close()
    assert lost == {}
