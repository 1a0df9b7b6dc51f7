"""The home page on a phone, and what a technician does from there."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect


@pytest.fixture
def phone(browser: Browser, served: str) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True)
    page = context.new_page()
    page.goto(served)
    yield page
    context.close()


def test_question_search_and_doors_on_one_screen(phone: Page) -> None:
    strip_top = phone.locator(".strip").bounding_box()
    assert strip_top is not None
    doors = phone.locator(".door")
    assert [text.split("\n")[0] for text in doors.all_inner_texts()] == [
        "Valve misbehaves",
        "I have a reading",
        "Need another valve",
        "My job",
        "Learn",
        "Look up and cite",
    ]
    expect(phone.locator("h1")).to_have_text("What have you got in front of you?")
    for part in (phone.locator("h1"), phone.locator(".search-line"), *doors.all()):
        box = part.bounding_box()
        assert box is not None
        assert box["y"] >= 48 and box["y"] + box["height"] <= strip_top["y"], part


def test_search_line_finds_a_page(phone: Page, served: str) -> None:
    phone.locator(".search-line").tap()
    phone.keyboard.type("override force")
    result = phone.locator(".md-search-result__link").first
    expect(result).to_be_visible()
    result.tap()
    expect(phone.locator("h1")).not_to_have_text("What have you got in front of you?")


def test_first_aid_in_one_tap(phone: Page) -> None:
    phone.locator(".strip__hurt").tap()
    expect(phone.locator("h1")).to_have_text("Hurt or jet? What to do")
    expect(phone.get_by_text("Do this even if it does not hurt")).to_be_visible()


def test_light_or_dark_is_kept_on_the_next_page(phone: Page) -> None:
    body = phone.locator("body")
    expect(body).to_have_attribute("data-md-color-scheme", "default")
    phone.locator(".scheme").tap()
    expect(body).to_have_attribute("data-md-color-scheme", "slate")
    phone.locator(".door--fault").tap()
    expect(phone.locator("h1")).to_have_text("Valve misbehaves")
    expect(body).to_have_attribute("data-md-color-scheme", "slate")


def test_a_dark_device_starts_dark(browser: Browser, served: str) -> None:
    context = browser.new_context(color_scheme="dark")
    page = context.new_page()
    page.goto(served)
    expect(page.locator("body")).to_have_attribute("data-md-color-scheme", "slate")
    context.close()


def test_menu_opens(phone: Page) -> None:
    phone.locator("label.md-header__button[for=__drawer]").tap()
    expect(phone.locator(".md-nav--primary").get_by_role("link", name="Need another valve")).to_be_in_viewport()


@pytest.mark.parametrize("address", ("fault/", "size/", "do/readings/"))
def test_caution_is_read_before_anything_to_do(phone: Page, served: str, address: str) -> None:
    phone.goto(served + address)
    acts = phone.locator("article").locator(".caution, .door, .do, table, ol").all()
    assert "caution" in (acts[0].get_attribute("class") or "")
