"""What a link, a thumb or a device's own store brings is text: nothing of it runs, becomes an element or breaks a page.

Each page is watched from its first line on (WATCH): a script that ran, an element made of a hostile text, a refusal of
the content policy, an error in the console or a request to elsewhere is a failure.
"""

import json
import os
import random
import time
from collections.abc import Iterator
from itertools import cycle, islice
from typing import Any
from urllib.parse import quote

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

import valvecalc
from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.door import load
from valvecalc.formula import REGISTER, Card
from valvecalc.sitegen import answer_part, marks

load()
CARDS = [card for card in REGISTER.values() if not card.part and not card.desk_only]
#: One form serves all calculators: an ordinary run takes one in so many; VALVECALC_HOSTILE=all takes each.
SPARSE = 1 if os.environ.get("VALVECALC_HOSTILE") == "all" else 5
LONG = 10_000
#: Every element here carries the class `hostile`, every script calls hurt().
TEXTS = (
    "<img class=hostile src=x onerror=hurt()>",
    '"><svg class=hostile onload=hurt()><script class=hostile>hurt()</script>',
    "</script></title></textarea></select><script class=hostile>hurt()</script>",
    "' onfocus='hurt()' autofocus class='hostile' x='",
    "javascript:hurt()",
    "&lt;img class=hostile src=x onerror=hurt()&gt;",
    "%3Cimg class=hostile src=x onerror=hurt()%3E",
    "5 <b class=hostile>bar</b>",
    "${hurt()} {{hurt()}} `hurt()`",
    "<!--",
    "9" * LONG,
    "1," * (LONG // 2),
    "1 " * (LONG // 2),
    "<" * LONG,
    "5 " + "m" * LONG,
    "5 ± " * (LONG // 4),
    "0 mm | 5 N; " * (LONG // 12),
    "\u202e5 bar\u202c\u200f",
    "5\x00bar\ufeff\u2028",
    "\U0001f6e0 5 bar\ufffd",
    "5 __proto__",
    "constructor",
    "5 toString",
    "Infinity",
    "NaN bar",
    "1e400 bar",
    "-0",
    "0x10 mm",
)
#: As a name in a fragment, or as a whole pair that is none. The last two are no UTF-8: half a letter, a lone surrogate.
NAMES = (
    "__proto__",
    "constructor",
    "toString",
    "hasOwnProperty",
    "valueOf",
    "<img class=hostile src=x onerror=hurt()>",
)
BROKEN = (
    "#%",
    "#=",
    "#&&&===",
    "#e=1&=&e=<b class=hostile>",
    "#e=1&diameter",
    "#e=1&diameter=%E0%A4",
    "#e=1&x=%ED%A0%80",
)
WATCH = """
// As in a private window: else each page would store the whole site.
Object.defineProperty(Navigator.prototype, "serviceWorker", { value: undefined });
window.hostile = { ran: 0, made: [], refused: [], errors: [] };
window.hurt = () => { window.hostile.ran += 1; };
document.addEventListener("securitypolicyviolation", (event) => {
  window.hostile.refused.push(`${event.violatedDirective} ${event.blockedURI} ${event.sample}`);
});
addEventListener("unhandledrejection", (event) => { window.hostile.errors.push(String(event.reason)); });
new MutationObserver((all) => all.forEach((one) => one.addedNodes.forEach((node) => {
  if (node.nodeType !== 1) return;
  const found = [node, ...node.querySelectorAll("*")].filter((element) => element.matches(
    ".hostile, [onerror], [onload], [onfocus], a[href^='javascript:' i], [src^='javascript:' i]"));
  window.hostile.made.push(...found.map((element) => element.outerHTML.slice(0, 100)));
}))).observe(document, { subtree: true, childList: true });
"""
#: Types into a field as a thumb does: the text, an input event, and leaving the field.
TYPE = """([selector, text]) => {
  const field = document.querySelector(selector);
  field.value = text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  field.dispatchEvent(new Event("change", { bubbles: true }));
}"""
SETTLED = "() => new Promise((done) => setTimeout(done, 90))"  # the form finishes its answer 60 ms after the last key
#: What the watch must see: for the test of the watch itself.
HARM = """(html) => {
  document.querySelector("article").innerHTML = html;
  const script = document.createElement("script");
  script.src = "https://example.invalid/x.js";
  document.head.append(script);
  hurt();
  console.error("said");
  setTimeout(() => { Promise.reject("lost"); throw new Error("thrown"); });
}"""
FIELDS = """() => [...document.querySelectorAll(".entries input")].map((input) => `#${CSS.escape(input.id)}`)
  .filter((selector) => selector.length > 1)"""


class Watched:
    """A page with all that went wrong on it."""

    def __init__(self, context: BrowserContext, served: str) -> None:
        self.served = served
        self.told: list[str] = []
        context.add_init_script(WATCH)
        self.page: Page = context.new_page()
        self.page.on("dialog", self._dialog)
        self.page.on("pageerror", lambda error: self.told.append(f"error: {error}"))
        self.page.on(
            "console", lambda said: self.told.append(f"{said.type}: {said.text}") if said.type in BAD else None
        )
        self.page.on(
            "request", lambda asked: None if asked.url.startswith((*OURS, served)) else self.told.append(asked.url)
        )

    def _dialog(self, dialog: Any) -> None:
        self.told.append(f"dialog: {dialog.message}")
        dialog.dismiss()

    def open(self, address: str) -> None:
        self.page.goto("about:blank")  # else a new fragment would not load the page
        self.page.goto(self.served + address)

    def awake(self) -> None:
        """Load what the page loads at the first touch."""
        self.page.keyboard.press("Shift")
        self.page.wait_for_selector(".calculator[data-awake]")

    def harm(self) -> list[str]:
        """What happened since the page was opened."""
        found = self.page.evaluate("() => window.hostile")
        ran = [f"a script ran {found['ran']} times"] if found["ran"] else []
        told, self.told = self.told, []
        return [*told, *ran, *(f"{what}: {one}" for what in ("made", "refused", "errors") for one in found[what])]


BAD = ("error", "warning")
OURS = ("data:", "blob:", "about:")


@pytest.fixture
def watched(browser: Browser, served: str) -> Iterator[Watched]:
    context = browser.new_context(viewport={"width": 360, "height": 640})
    yield Watched(context, served)
    context.close()


def address(card: Card) -> str:
    return marks.address(card).removesuffix(".md") + "/"


def states(card: Card) -> Iterator[str]:
    """Fragments in which every entry has a hostile text; each text comes once or more. Then hostile names."""
    names = list(card.entries)
    texts = cycle(TEXTS)
    for _ in range(-(-len(TEXTS) // len(names))):
        yield "#e=1&" + "&".join(
            f"{name}={quote(text)}" for name, text in zip(names, islice(texts, len(names)), strict=True)
        )
    for name in NAMES:
        yield f"#e={quote(name)}&{quote(name)}=5&solve={quote(name)}&{card.result}={quote(name)}"
    yield from BROKEN


def healthy(card: Card, watched: Watched) -> None:
    """The page still gives the answer of its own example, told as Python tells it."""
    row = valvecalc.calc(card.id, **card.example).to_json()
    page = watched.page
    page.evaluate("link => { location.hash = link.split('#')[1] }", row["link"])
    told = "html => new DOMParser().parseFromString(html, 'text/html').body.textContent"
    figure = page.evaluate(told, answer_part.headline(card, row))
    assert row["result"] is not None
    expect(page.locator(".answer__head")).to_have_text(figure, timeout=10_000)


def test_the_watch_sees_harm(watched: Watched) -> None:
    """Each of its eyes is shown what it is to see."""
    watched.open("hurt/")
    assert watched.harm() == []
    watched.page.evaluate(HARM, TEXTS[0])
    watched.page.wait_for_timeout(200)
    found = " | ".join(watched.harm())
    for sign in ("a script ran 1 times", "made: <img", "refused: script-src", "error: thrown", "lost", "error: said"):
        assert sign in found, sign


@pytest.mark.parametrize("card", CARDS[::SPARSE], ids=lambda card: card.id)
def test_a_calculator_takes_hostile_links_as_text(card: Card, watched: Watched) -> None:
    watched.open(address(card) + next(states(card)))
    watched.page.wait_for_selector(".calculator[data-awake]")
    for state in states(card):
        watched.page.evaluate("hash => { location.hash = hash }", state)
        began = time.monotonic()
        watched.page.evaluate(SETTLED)
        assert time.monotonic() - began < 10, f"slow: {state[:80]}"
    assert watched.page.evaluate("({}).polluted === undefined && Object.prototype.e === undefined")
    healthy(card, watched)
    assert watched.harm() == []


@pytest.mark.parametrize("card", CARDS[:: 3 * SPARSE], ids=lambda card: card.id)
def test_a_calculator_takes_hostile_typing_as_text(card: Card, watched: Watched) -> None:
    """Every field of the form, the doubt and the stated result too; one field in ten gets a lone surrogate."""
    watched.open(address(card))
    watched.awake()
    dice = random.Random(card.id)
    watched.page.evaluate("() => document.querySelectorAll('.entries details').forEach((part) => { part.open = true })")
    for field in watched.page.evaluate(FIELDS):
        for text in dice.sample(TEXTS, 4):
            watched.page.evaluate(TYPE, [field, text])
    watched.page.evaluate(SETTLED)
    for field in watched.page.evaluate(FIELDS)[::10]:
        watched.page.evaluate(TYPE.replace("field.value = text", r"field.value = '5\ud800 bar'"), [field, ""])
        watched.page.evaluate(SETTLED)
    healthy(card, watched)
    assert watched.harm() == []


@pytest.mark.parametrize("symptom", list(knowledge().symptoms)[::6])
def test_the_finder_takes_hostile_links_as_text(symptom: str, watched: Watched) -> None:
    model = knowledge()
    check = next(iter(model.checks))
    for text in (*TEXTS, *NAMES):
        given = quote(text[:2000])
        watched.open(
            f"fault/{symptom}/#e=1&at={given}&valve={given},{given}&found={given}:{given}&found={check}:{given}"
            f"&skip={given}&have={given}&lack={given}&cured={given}:{given}&not-cured={given}&killer={given}&{given}={given}"
        )
        expect(watched.page.locator(".finder h2").first).to_be_visible()
    for broken in BROKEN:
        watched.open(f"fault/{symptom}/{broken}")
        expect(watched.page.locator(".finder :is(h2, button, a)").first).to_be_visible()
    assert watched.harm() == []


def test_the_search_takes_hostile_words_as_text(watched: Watched) -> None:
    for place in ("find/", ""):
        watched.open(place)
        field = watched.page.locator("form.find input")
        field.focus()
        for text in (*TEXTS, *NAMES):
            began = time.monotonic()
            watched.page.evaluate(TYPE, ["form.find input", text])
            watched.page.evaluate(SETTLED)
            assert time.monotonic() - began < 5, f"slow: {text[:40]}"
        field.fill("coil")
        expect(watched.page.locator(".found .door").first).to_be_visible()
        assert watched.harm() == []
    for text in (*TEXTS, *NAMES):
        watched.open(f"find/#q={quote(text)}")
        expect(watched.page.locator("form.find input")).to_have_count(1)
    for broken in (*BROKEN, "?q=" + quote(TEXTS[0]), "#q=%E0%A4", "#q=" + "%"):
        watched.open("find/" + broken)
        watched.page.evaluate(SETTLED)
        assert watched.harm() == []


@pytest.mark.parametrize(
    ("key", "kept"),
    [
        ("scheme", json.dumps('"><img class=hostile src=x onerror=hurt()>')),
        ("scheme", "{"),
        (
            "units",
            json.dumps({"system": "<b class=hostile>", "own": {"mm|in": TEXTS[0], "__proto__": "x", "bar|psi": 5}}),
        ),
        ("units", json.dumps({"system": "constructor", "own": "text"})),
        ("units", "null"),
        ("units", "[1, 2]"),
        ("job", json.dumps({"name": TEXTS[1]})),
        ("job", json.dumps({"name": {"toString": 5}})),
        ("job", "5"),
    ],
    ids=lambda text: text[:30],
)
def test_what_the_device_kept_is_text(key: str, kept: str, watched: Watched) -> None:
    card = REGISTER["annular-leakage"]
    watched.open("hurt/")
    watched.page.evaluate("([key, text]) => localStorage.setItem(`valvecalc.${key}`, text)", [key, kept])
    for place in ("", address(card), "fault/coil-burns/"):
        watched.open(place)
        watched.page.keyboard.press("Shift")
        watched.page.locator(".strip__units").click()
        watched.page.locator(".top__scheme").click()
        watched.page.evaluate("([key, text]) => localStorage.setItem(`valvecalc.${key}`, text)", [key, kept])
    watched.open(address(card))
    watched.awake()
    watched.page.evaluate("link => { location.hash = link }", "#e=1&diameter=12mm&clearance=5um&length=4mm")
    expect(watched.page.locator(".answer__head")).not_to_be_empty()
    assert watched.harm() == []
