"""Searching in Chromium: at home, on the search page, by a shared link, and with script off."""

import re
from collections.abc import Iterator
from urllib.parse import quote

import pytest
from playwright.sync_api import Browser, Page, Route, expect

HOSTILE = (
    "<img src=x onerror=document.title='run'>",
    "</script><script>document.title='run'</script>",
    '"><b>',
    "\ud800",
)
FIELD = "main input[type=search]"
FOUND = ".found a:visible"


@pytest.fixture
def phone(browser: Browser, served: str) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True, service_workers="block")
    page = context.new_page()
    errors: list[str] = []
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto(served)
    yield page
    context.close()
    assert errors == []


def kept(page: Page, words: str) -> None:
    """Wait until what was typed stands in the address."""
    page.wait_for_url(re.compile(r"#q=" + quote(words).replace("%20", r"(\+|%20)")))


def test_home_shows_what_is_found_in_place_of_the_doors(phone: Page) -> None:
    door = phone.locator(".door--fault")
    phone.locator(FIELD).tap()
    phone.keyboard.type("vavle sticks when hot")
    expect(phone.locator(FOUND).first).to_contain_text("Works cold, fails hot")
    expect(phone.locator(".found h2").first).to_have_text("Complaints")
    expect(phone.locator(FOUND).first).to_be_in_viewport(ratio=1)
    expect(door).to_be_hidden()
    phone.locator(FIELD).fill("")
    expect(door).to_be_visible()
    expect(phone.locator(FOUND)).to_have_count(0)


def test_a_result_opens_and_the_way_back_shows_them_again(phone: Page) -> None:
    phone.locator(FIELD).tap()
    phone.keyboard.type("third coil")
    expect(phone.locator(FOUND).first).to_contain_text("Coil burns out")
    kept(phone, "third coil")
    phone.locator(FOUND).first.tap()
    expect(phone.locator("h1")).to_contain_text("Coil burns out")
    phone.go_back()
    expect(phone.locator(FIELD)).to_have_value("third coil")
    expect(phone.locator(FOUND).first).to_contain_text("Coil burns out")


def test_results_are_told_once_the_typing_rests(phone: Page) -> None:
    phone.locator(FIELD).tap()
    phone.keyboard.type("coil")
    expect(phone.locator(".say")).to_have_text(re.compile(r"^\d+ found$"))


def test_enter_opens_the_search_page(phone: Page, served: str) -> None:
    phone.locator(FIELD).tap()
    phone.keyboard.type("o ring")
    phone.keyboard.press("Enter")
    phone.wait_for_url(re.compile(r"/find/#q=o(\+|%20)ring$"))
    expect(phone.locator(FIELD)).to_have_value("o ring")
    expect(phone.locator(FOUND).first).to_contain_text("O-ring")


def test_a_shared_link_shows_its_results_without_a_touch(phone: Page, served: str) -> None:
    phone.goto(f"{served}find/#q=leek%20past%20spool")
    expect(phone.locator(FIELD)).to_have_value("leek past spool")
    expect(phone.locator(FOUND).first).to_contain_text("Leakage past a spool land")
    phone.evaluate("location.hash = '#q=jet'")
    expect(phone.locator(FOUND).first).to_contain_text("jet")
    expect(phone.locator(FIELD)).to_have_value("jet")


def test_words_sent_before_the_script_was_there_are_found(phone: Page, served: str) -> None:
    phone.goto(f"{served}find/?q=third+coil")
    expect(phone.locator(FOUND).first).to_contain_text("Coil burns out")


def test_letters_typed_before_the_script_came_stay(phone: Page, served: str) -> None:
    held: list[Route] = []
    phone.route("**/assets/find.js", lambda route: held.append(route))
    phone.goto(f"{served}fault/")
    phone.locator(FIELD).tap()
    phone.keyboard.type("third")
    while not held:
        phone.wait_for_timeout(50)
    held[0].continue_()
    expect(phone.locator(FOUND).first).to_be_visible()
    phone.keyboard.type(" coil")
    expect(phone.locator(FIELD)).to_have_value("third coil")
    expect(phone.locator(FOUND).first).to_contain_text("Coil burns out")


def test_the_complaints_page_searches_too(phone: Page, served: str) -> None:
    phone.goto(f"{served}fault/")
    caution = phone.locator("article .caution").first
    phone.locator(FIELD).tap()
    phone.keyboard.type("load sinks")
    expect(phone.locator(FOUND).first).to_contain_text("Actuator drifts")
    expect(caution).to_be_visible()
    expect(phone.locator(".groups")).to_be_hidden()


def test_nothing_found_says_so_and_offers_everything(phone: Page) -> None:
    phone.locator(FIELD).tap()
    phone.keyboard.type("xyzzy")
    expect(phone.locator(".found__count")).to_contain_text("Nothing found. No page has “xyzzy”.")
    expect(phone.locator(".door--fault")).to_be_visible()
    phone.get_by_role("link", name="The list of everything").tap()
    expect(phone.locator("h1")).to_have_text("Search")
    expect(phone.locator(".every a").first).to_be_visible()


@pytest.mark.parametrize("typed", HOSTILE)
@pytest.mark.parametrize("address", ("", "find/"))
def test_all_that_is_typed_is_text(phone: Page, served: str, typed: str, address: str) -> None:
    phone.goto(served + address)
    title = phone.title()
    phone.locator(FIELD).tap()
    phone.locator(FIELD).evaluate(
        "(field, text) => { field.value = text; field.dispatchEvent(new Event('input', { bubbles: true })); }", typed
    )
    expect(phone.locator(".found__count")).to_be_visible()
    phone.wait_for_url(re.compile("#q="))
    phone.reload()
    expect(phone.locator(".found__count")).to_be_visible()
    assert phone.locator("main :is(img, script, b)").count() == 0
    assert phone.title() == title


def test_a_hostile_link_is_text(phone: Page, served: str) -> None:
    phone.goto(f"{served}find/#q={quote(HOSTILE[0])}&__proto__=1&q=%E0%A4%A")
    expect(phone.locator(FIELD)).to_have_value(HOSTILE[0])
    assert phone.locator("main img").count() == 0


def test_every_place_is_reached_by_tab(phone: Page) -> None:
    phone.locator(FIELD).focus()
    phone.keyboard.type("coil")
    expect(phone.locator(FOUND).first).to_be_visible()
    phone.keyboard.press("Tab")
    assert phone.evaluate("document.activeElement === document.querySelector('.found a')")
    phone.keyboard.press("Enter")
    expect(phone.locator("h1")).to_contain_text("oil")


def test_without_script_the_field_leads_to_the_list_of_everything(browser: Browser, served: str) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 640}, java_script_enabled=False)
    page = context.new_page()
    page.goto(served)
    page.locator(FIELD).fill("coil")
    page.locator(FIELD).press("Enter")
    page.wait_for_url("**/find/?q=coil")
    headings = page.locator("h2").all_inner_texts()
    assert headings[:3] == ["First aid", "Complaints", "Judge a reading"] and "Formulas" in headings
    assert page.locator(".every a:visible").count() > 500
    page.get_by_role("link", name="Leakage past a spool land", exact=True).click()
    expect(page.locator("h1")).to_have_text("Leakage past a spool land")
    context.close()
