"""The site from a stick: opened as files, with no server at all."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from valvecalc.sitegen.stick import write_stick


@pytest.fixture(scope="module")
def stick(built_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("a stick") / "pages"
    write_stick(built_site, folder)
    return folder


@pytest.fixture
def page(browser: Browser, stick: Path) -> Iterator[Page]:
    """The start page of the stick on a phone. Nothing may be complained of, and nothing asked of a network."""
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True, reduced_motion="reduce")
    page = context.new_page()
    complaints: list[str] = []
    page.on("console", lambda told: complaints.append(told.text) if told.type in ("error", "warning") else None)
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on(
        "request",
        lambda asked: None if asked.url.startswith(("file:", "data:")) else complaints.append(asked.url),
    )
    page.goto((stick / "index.html").as_uri())
    yield page
    page.wait_for_timeout(300)
    context.close()
    assert complaints == []


def test_home_leads_to_a_check_with_the_thumb(page: Page) -> None:
    expect(page.locator(".strip__offline")).to_have_text("From this folder")
    page.locator(".door--fault").tap()
    expect(page.locator("h1")).to_have_text("Valve misbehaves")
    page.locator("article a[href*='coil-burns/']").first.tap()
    page.wait_for_url("**/fault/coil-burns/index.html")
    expect(page.locator(".talk h2").first).to_be_visible()
    page.get_by_text("Ask step by step").first.tap()
    expect(page.locator(".finder h2").first).to_contain_text("Next check")


def test_the_fault_finder_asks_and_its_links_name_files(page: Page, stick: Path) -> None:
    page.goto((stick / "fault" / "coil-burns" / "index.html").as_uri() + "#ask")
    heading = page.locator(".finder h2").first
    expect(heading).to_contain_text("Next check")
    page.get_by_role("link", name="The whole procedure of this check").tap()
    page.wait_for_url("**/do/*/index.html")
    expect(page.locator("h1")).not_to_be_empty()


def test_first_aid_and_the_way_home(page: Page) -> None:
    page.locator(".strip__hurt").tap()
    expect(page.locator("h1")).to_have_text("Hurt or jet? What to do")
    page.locator(".top__home").tap()
    expect(page.locator("h1")).to_have_text("What have you got in front of you?")


def test_search_finds_and_opens(page: Page) -> None:
    page.locator(".top__find").tap()
    page.locator("form.find input").tap()
    page.keyboard.type("coil resistence")
    found = page.locator(".found a.door[href*='calc/']").first
    title = found.locator("strong").inner_text()
    assert "resistance" in title.lower()
    found.tap()
    page.wait_for_url("**/calc/*/index.html")
    expect(page.locator("h1")).to_have_text(title)
    page.go_back()
    expect(page.locator(".found a.door[href*='calc/']").first).to_contain_text(title)  # from the address


def test_a_calculator_answers(page: Page, stick: Path) -> None:
    page.goto((stick / "calc" / "annular-leakage" / "index.html").as_uri())
    page.locator(".calculator [data-do=example]").tap()
    expect(page.locator(".calculator")).to_have_attribute("data-state", "yours")
    expect(page.locator(".answer__head")).to_contain_text("/min")


def test_light_or_dark_is_kept(page: Page) -> None:
    page.locator(".top__scheme").tap()
    chosen = page.locator("html").get_attribute("data-md-color-scheme")
    page.locator(".strip__hurt").tap()
    expect(page.locator("html")).to_have_attribute("data-md-color-scheme", chosen or "")
