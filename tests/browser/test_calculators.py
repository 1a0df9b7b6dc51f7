"""Every calculator of the built site in Chromium against Python: the same figures, words and worked lines.

Python is the reference: an answer of the door, told by sitegen/answer_part.py. The page gets its entries by its
address, as a shared link brings them; what it then shows is compared as text with what Python tells.
"""

import random
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

import valvecalc
from valvecalc.citation import citation
from valvecalc.door import load
from valvecalc.errors import InputError
from valvecalc.formula import REGISTER, Card
from valvecalc.limits import bracket
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen import answer_part, marks
from valvecalc.sitegen.curves import figure
from valvecalc.units import read, show

load()
CARDS = [card for card in REGISTER.values() if not card.part and not card.desk_only]
EACH = 5

#: Puts a hash into the address and waits for the answer that the page then announces.
TURN = """hash => new Promise((done, fail) => {
  const late = setTimeout(() => fail(new Error("no answer within 10 s")), 10000);
  document.addEventListener("shop:answer", event => {
    clearTimeout(late);
    const text = name => document.querySelector(name).textContent;
    done({ head: text(".answer__head"), body: text(".answer__body"), worked: text(".worked"), cite: text(".cite__text"),
      chart: document.querySelectorAll(".answer__chart svg").length });
  }, { once: true });
  location.hash = hash;
})"""


@pytest.fixture(scope="module")
def page(browser: Browser) -> Any:
    context = browser.new_context(viewport={"width": 360, "height": 640})
    page = context.new_page()
    yield page
    context.close()


def opened(page: Page, served: str, card: Card) -> list[str]:
    """The page of a card with its scripts awake; the console's errors as they come."""
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.goto(served + marks.address(card).removesuffix(".md") + "/")
    page.mouse.move(10, 10)
    page.keyboard.press("Shift")
    page.wait_for_selector(".calculator[data-awake]", state="attached")
    return errors


def text_of(page: Page, html: str) -> str:
    """What a reader sees of HTML that Python tells."""
    return str(page.evaluate("html => new DOMParser().parseFromString(html, 'text/html').body.textContent", html))


def random_entries(card: Card, dice: random.Random) -> dict[str, Any]:
    """The example with some of its numbers and choices drawn anew, and at times one left out."""
    given = dict(card.example)
    counts = all(VOCABULARY[name].dimension in ("text", "count") for name in card.entries)
    for name in card.entries:
        if counts and name in given and VOCABULARY[name].dimension == "count":
            low, high = bracket(card, name)
            given[name] = str(int(min(high, max(low, float(given[name]) + dice.choice((-2, -1, 0, 1, 2))))))
        if name in card.choices and name in given and dice.random() < 0.6:
            given[name] = dice.choice(list(card.choices[name]))
        if name in card.rows or name in card.choices or VOCABULARY[name].dimension in ("text", "count"):
            continue
        if name in given and dice.random() < 0.6:
            low, high = bracket(card, name)
            quantity = VOCABULARY[name]
            now = read(given[name], name, quantity.dimension).si
            value = min(high, max(low, now * dice.uniform(0.7, 1.4)))
            unit = quantity.us if dice.random() < 0.3 else quantity.metric
            given[name] = show(value, quantity.dimension, unit, 5)
            if dice.random() < 0.3:
                given[name] += " ± 2 %" if quantity.dimension != "temperature" else " ± 1 K"
        elif name in given and card.kind == "sheet" and dice.random() < 0.15:
            del given[name]
    return given


@pytest.mark.parametrize("card", CARDS, ids=lambda card: card.id)
def test_a_page_shows_what_python_tells(card: Card, page: Page, served: str) -> None:
    errors = opened(page, served, card)
    dice = random.Random(card.id)
    cases = [dict(card.example), *(random_entries(card, dice) for _ in range(EACH))]
    compared, before = 0, ""
    for given in cases:
        try:
            answer = valvecalc.calc(card.id, **given)
            row = answer.to_json()
        except InputError:
            continue  # drawn beyond what the door takes: test_hostile and test_door see to those
        if row["link"] == before:
            continue  # the same address is no change
        before = row["link"]
        seen = page.evaluate(TURN, row["link"].partition("#")[2])
        assert seen["head"] == text_of(page, answer_part.headline(card, row))
        assert seen["body"] == text_of(page, answer_part.body(card, row))
        assert seen["worked"] == (text_of(page, answer_part.lines(card, row["steps"])) if row["steps"] else "")
        told = citation(row)
        assert seen["cite"] == told
        assert page.evaluate("location.hash") == "#" + row["link"].partition("#")[2]
        assert seen["chart"] == figure(answer).count("<svg")
        compared += 1
    assert compared >= 2
    assert errors == []
