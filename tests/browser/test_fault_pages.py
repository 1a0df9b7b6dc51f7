"""The fault finder on a phone of 360 px: taps, cards, answers, width; with scripts off as well."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from valvecalc.diagnosis.knowledge import knowledge

MODEL = knowledge()
SAMPLE = tuple(MODEL.symptoms)[::6]
FINDER = re.compile(r"fault/|do/")


@pytest.fixture
def bare(browser: Browser, served: str) -> Iterator[Page]:
    """A phone whose browser runs no script, on the start page."""
    context = browser.new_context(viewport={"width": 360, "height": 640}, java_script_enabled=False)
    page = context.new_page()
    page.goto(served)
    yield page
    context.close()


def test_no_page_of_the_finder_scrolls_sideways(browser: Browser, served: str, every_address: list[str]) -> None:
    """WCAG 2.2, 1.4.10, on every one of them; the survey looks closer at five of a kind."""
    context = browser.new_context(viewport={"width": 320, "height": 640}, java_script_enabled=False)
    page = context.new_page()
    wide = {}
    for address in filter(FINDER.match, every_address):
        page.goto(served + address, wait_until="commit")
        box = page.locator("html").evaluate("page => page.scrollWidth - page.clientWidth")
        if box > 0:
            wide[address] = box
    context.close()
    assert wide == {}


@pytest.mark.parametrize("name", SAMPLE)
def test_two_taps_to_a_complaints_first_check(bare: Page, name: str) -> None:
    """Caution and first check in the first screen, without a scroll."""
    bare.locator(".door--fault").click()
    bare.locator(f'article a[href="{name}/"]').click()
    expect(bare.locator("h1")).to_have_text(MODEL.symptoms[name].title)
    strip = bare.locator(".strip").bounding_box()
    caution = bare.locator("article .caution").first.bounding_box()
    check = bare.locator(".talk h2:visible").bounding_box()
    assert strip and caution and check
    assert caution["y"] >= 48 and caution["y"] + caution["height"] <= check["y"]
    assert check["y"] + check["height"] <= strip["y"]


@pytest.mark.parametrize("name", SAMPLE)
def test_the_likeliest_answers_lead_to_an_end(bare: Page, served: str, name: str) -> None:
    """One card at a time; its caution above its answers; the end says remedy, proof and root."""
    bare.goto(f"{served}fault/{name}/")
    taps = 0
    while taps < 12:
        card = bare.locator(".talk > section:visible")
        expect(card).to_have_count(1)
        caution = card.locator(".caution").first.bounding_box()
        assert caution is not None
        if card.get_attribute("class") == "step end":
            break
        answers = card.locator(".answers .door:visible")
        for box in [answer.bounding_box() for answer in answers.all()]:
            assert box and box["height"] >= 56 and box["width"] >= 280
            assert box["y"] >= caution["y"] + caution["height"]
        answers.first.click()
        taps += 1
    assert 0 < taps <= 9  # seven questions, the valve taken off, the valve opened
    expect(card.locator(".ways li:visible")).to_have_count(1)
    told = card.inner_text()
    assert "Proof:" in told and "On the machine:" in told and "This did not cure it" in told
    card.locator(".no").click()
    expect(bare.locator("#in-order")).to_be_in_viewport()


def test_an_answer_can_be_changed_and_back_goes_back(bare: Page, served: str) -> None:
    bare.goto(f"{served}fault/coil-burns/")
    first = bare.locator(".talk h2:visible").inner_text()
    bare.locator(".way.first .door").first.click()
    assert bare.locator(".talk h2:visible").inner_text() != first
    bare.locator(".trail a:visible").first.click()
    expect(bare.locator(".talk h2:visible")).to_have_text(first)
    bare.go_back()
    assert bare.locator(".talk h2:visible").inner_text() != first


def test_six_groups_are_on_the_first_screen(browser: Browser, served: str) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 640})
    page = context.new_page()
    page.goto(f"{served}fault/")
    strip = page.locator(".strip").bounding_box()
    doors = [door.bounding_box() for door in page.locator(".groups .door").all()]
    context.close()
    assert strip and len(doors) == 6
    assert all(door and door["height"] >= 56 and door["y"] + door["height"] <= strip["y"] for door in doors)


@pytest.mark.parametrize(("words", "title"), (("third coil", "Coil burns"), ("load sinks", "Actuator drifts")))
def test_search_finds_the_complaint_first(browser: Browser, served: str, words: str, title: str) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True)
    page = context.new_page()
    page.goto(f"{served}fault/")
    field = page.locator(".find input")
    field.tap()
    expect(field).to_be_focused()
    page.keyboard.type(words)
    expect(page.locator(".found .door").first).to_contain_text(title)
    context.close()


def test_the_script_wakes_on_a_complaints_page(browser: Browser, served: str) -> None:
    """With script the same first check, in free order, once it is asked for; without errors."""
    context = browser.new_context(viewport={"width": 360, "height": 640})
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto(f"{served}fault/coil-burns/")
    expect(page.locator(".talk")).to_be_visible()
    page.locator("#finder a").click()
    expect(page.locator("#finder")).to_contain_text(MODEL.checks["coil-current-on"].title)
    expect(page.locator(".talk")).to_be_hidden()
    context.close()
    assert errors == []
