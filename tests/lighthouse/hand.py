"""What Lighthouse never does: type a key, tap, turn to a second page, search. Slowed down by Chromium, not computed.

The processor runs at a quarter; a slow line has 400 ms there and back and 400 kbit/s. Times are taken in the page from
the moment of the finger to the paint that follows. The service worker needs plain http on loopback.
"""

import functools
import json
import threading
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from http.server import ThreadingHTTPServer
from pathlib import Path
from shutil import which
from statistics import median
from tempfile import TemporaryDirectory

from playwright.sync_api import Browser, BrowserContext, CDPSession, Locator, Page, sync_playwright

import valvecalc
from tests.browser.conftest import FLAGS
from tests.browser.reception import Quiet
from tests.diagnosis.record_walks import walks
from valvecalc.door import load
from valvecalc.formula import REGISTER

load()

SLOW_PROCESSOR = 4
SLOW_LINE = {"offline": False, "latency": 400, "downloadThroughput": 400_000 / 8, "uploadThroughput": 400_000 / 8}
KEYS = 30
STORED = "Stored for offline"
#: Milliseconds from the finger on a key to the paint that shows its answer.
WATCH_ANSWER = """() => {
  window.answers = [];
  let pressed = null;
  addEventListener("keydown", (event) => { pressed = event.timeStamp; }, true);
  new MutationObserver(() => {
    if (pressed === null) return;
    const began = pressed;
    pressed = null;
    requestAnimationFrame(() => setTimeout(() => window.answers.push(performance.now() - began)));
  }).observe(document.querySelector(".answer__head"), { childList: true, subtree: true, characterData: true });
}"""
#: The longest interaction (Event Timing): what INP would be of a visit of one tap.
WATCH_TAP = """
window.longest = 0;
new PerformanceObserver((list) => list.getEntries().forEach((entry) => {
  if (entry.interactionId) window.longest = Math.max(window.longest, entry.duration);
})).observe({ type: "event", durationThreshold: 16, buffered: true });
"""
LARGEST = """() => new Promise((done) => {
  new PerformanceObserver((list, watch) => { watch.disconnect(); done(list.getEntries().at(-1).startTime); })
    .observe({ type: "largest-contentful-paint", buffered: true });
})"""
#: From the first tap on the search to the first answer painted.
WATCH_SEARCH = """() => {
  let tap = null;
  addEventListener("pointerdown", (event) => { tap = tap ?? event.timeStamp; }, true);
  const painted = (done) => requestAnimationFrame(() => setTimeout(() => done(performance.now() - tap)));
  window.found = new Promise((done) => new MutationObserver(() => {
    if (document.querySelector(".found .door")) painted(done);
  }).observe(document.body, { childList: true, subtree: true }));
}"""

#: Milliseconds that the fault finder takes for each step of many cases: the whole case replayed, and the next check.
TIME_STEPS = """states => {
  const known = finder.knowledge(finderModel), spent = [];
  for (const state of states) for (let length = 0; length <= state.steps.length; length++) {
    const begun = performance.now();
    finder.advise(finder.replay(known, { ...state, steps: state.steps.slice(0, length) }));
    spent.push(performance.now() - begun);
  }
  return spent;
}"""
#: A text put into a field, and everything that follows up to the layout.
TYPE = """([field, text, shown]) => {
  field.value = text;
  field.dispatchEvent(new Event("input", { bubbles: true }));
  document.querySelector(shown).getBoundingClientRect();
}"""
TYPED = ("leek past spool", "coil resistence", "drops overnight")


class Host:
    """The site under a sub-path on loopback, and how much was asked of it."""

    def __init__(self, site: Path, folder: Path) -> None:
        (folder / "shop").mkdir()
        (folder / "shop" / "pages").symlink_to(site.resolve(), target_is_directory=True)
        self.asked: list[str] = []
        host = self

        class Counting(Quiet):
            def do_GET(self) -> None:
                host.asked.append(self.path)
                super().do_GET()

        self._server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Counting, directory=str(folder)))
        self._thread = threading.Thread(target=self._server.serve_forever, daemon=True)
        self._thread.start()
        self.start = f"http://127.0.0.1:{self._server.server_port}/shop/pages/"

    def end(self) -> None:
        self._server.shutdown()
        self._thread.join()
        self._server.server_close()


class Phone:
    """A phone of its own for each measurement: nothing is stored yet."""

    def __init__(self, browser: Browser, *, worker: bool) -> None:
        self.context: BrowserContext = browser.new_context(
            viewport={"width": 360, "height": 640}, has_touch=True, is_mobile=True, reduced_motion="reduce"
        )
        if not worker:
            self.context.add_init_script(
                "Object.defineProperty(Navigator.prototype, 'serviceWorker', {value: undefined})"
            )
        self.page: Page = self.context.new_page()
        self.tools: CDPSession = self.context.new_cdp_session(self.page)

    def slow(self, processor: int = SLOW_PROCESSOR) -> None:
        self.tools.send("Emulation.setCPUThrottlingRate", {"rate": processor})

    def costs(self, field: Locator, texts: Iterable[str], shown: str, pause: float = 0) -> list[float]:
        """Milliseconds of script, style and layout for each text put into a field, by the thread's clock."""
        self.tools.send("Performance.enable", {"timeDomain": "threadTicks"})
        names = ("ScriptDuration", "LayoutDuration", "RecalcStyleDuration")

        def spent() -> float:
            told = self.tools.send("Performance.getMetrics")["metrics"]
            return sum(row["value"] for row in told if row["name"] in names)

        found = []
        for text in texts:
            self.page.wait_for_timeout(pause)
            before = spent()
            self.page.evaluate(TYPE, [field.element_handle(), text, shown])
            found.append(1000 * SLOW_PROCESSOR * (spent() - before))
        return found

    def store(self, start: str) -> None:
        """Visit the start page until everything is stored."""
        self.page.goto(start)
        self.page.wait_for_function(
            "words => document.querySelector('.strip__offline').textContent === words", arg=STORED, timeout=120_000
        )


@contextmanager
def phone(browser: Browser, *, worker: bool = False) -> Iterator[Phone]:
    one = Phone(browser, worker=worker)
    yield one
    one.context.close()


def filled(start: str, card_id: str) -> str:
    """The address of a calculator with its example in the form."""
    card = REGISTER[card_id]
    folder = "calc" if card.kind == "formula" else "judge"
    link = str(valvecalc.calc(card_id, **card.example).to_json()["link"]).partition("#")[2]
    return f"{start}{folder}/{card_id}/#{link}"


def keys_painted(browser: Browser, start: str, card_id: str, entry: str) -> list[float]:
    """Milliseconds from the finger on a key to its answer on the screen."""
    with phone(browser) as one:
        one.page.goto(filled(start, card_id))
        one.page.wait_for_selector(".calculator[data-awake]")
        one.page.evaluate(WATCH_ANSWER)
        field = one.page.locator(f"[name={entry}]").first
        field.click()
        one.slow()
        for stroke in range(KEYS):
            one.page.keyboard.press("End")
            one.page.wait_for_timeout(250)  # as a thumb types: the worked lines follow 60 ms after a key
            one.page.keyboard.press("Backspace" if stroke % 2 else "1")
            one.page.wait_for_timeout(400)
        return list(one.page.evaluate("() => window.answers"))


def keys_worked(browser: Browser, start: str, card_id: str, entry: str) -> list[float]:
    """Milliseconds of script, style and layout until the answer of a key lies in the page."""
    with phone(browser) as one:
        one.page.goto(filled(start, card_id))
        one.page.wait_for_selector(".calculator[data-awake]")
        field = one.page.locator(f"[name={entry}]").first
        digits = field.input_value()
        texts = (digits + ("1" if stroke % 2 else "") for stroke in range(KEYS))
        return one.costs(field, texts, ".answer__head", pause=300)


def first_tap(browser: Browser, start: str, path: str, target: str) -> float:
    """The longest event of the first tap on a page, and of the scripts that it wakes."""
    with phone(browser) as one:
        one.page.add_init_script(WATCH_TAP)
        one.slow()
        one.page.goto(start + path, wait_until="networkidle")
        one.page.locator(target).first.tap()
        one.page.wait_for_timeout(2500)
        return float(one.page.evaluate("() => window.longest"))


def second_page(browser: Browser, host: Host, path: str) -> tuple[float, int]:
    """The largest paint of a page (ms) on a slow line with the worker in place, and how much was asked of the host."""
    with phone(browser, worker=True) as one:
        one.store(host.start)
        one.tools.send("Network.enable")
        one.tools.send("Network.emulateNetworkConditions", SLOW_LINE)
        one.slow()
        host.asked.clear()
        one.page.goto(host.start + path)
        largest = float(one.page.evaluate(LARGEST))
        asked = [each for each in host.asked if not each.endswith("/sw.js")]  # the browser's own look for a new version
        return largest, len(asked)


def search(browser: Browser, start: str, processor: int) -> float:
    """Milliseconds from the first tap to the first answer on a cold page, with the worker and without reception."""
    with phone(browser, worker=True) as one:
        one.store(start)
        one.context.set_offline(True)
        one.slow(processor)
        one.page.goto(start + "find/")
        one.page.evaluate(WATCH_SEARCH)
        one.page.locator("form.find input").tap()
        one.page.keyboard.type("spool")
        return float(one.page.evaluate("() => window.found"))


def search_keys(browser: Browser, start: str) -> list[float]:
    """Milliseconds of script, style and layout for each key of a search, on the clock of the page's own thread."""
    with phone(browser) as one:
        one.page.goto(start)
        field = one.page.locator("form.find input")
        field.tap()
        one.page.keyboard.type("a")
        one.page.wait_for_selector(".found__count")
        return one.costs(field, (text[: end + 1] for text in TYPED for end in range(len(text))), ".found")


def finder_steps(browser: Browser, start: str) -> list[float]:
    """Milliseconds of a step of the fault finder on random cases."""
    states = [json.loads(json.dumps(walk["state"])) for walk in walks(40)]
    with phone(browser) as one:
        one.page.goto(f"{start}fault/coil-burns/#ask")
        one.page.wait_for_selector(".finder h2")
        one.slow()
        return list(one.page.evaluate(TIME_STEPS, states))


def report(site: Path, runs: int) -> bool:
    """Print each figure against its goal; whether all are met."""
    met = True
    print(f"By hand in Chromium, processor at 1/{SLOW_PROCESSOR}, median of {runs} runs (keys: of {KEYS})")
    print("| what | median ms | longest ms | goal for the median ms |")
    print("|---|---:|---:|---:|")

    def line(what: str, figures: list[float], goal: float) -> None:
        nonlocal met
        good = median(figures) <= goal
        met &= good
        print(f"| {what} | {median(figures):.0f}{'' if good else ' **missed**'} | {max(figures):.0f} | {goal:.0f} |")

    def often(measure: Callable[[], float]) -> list[float]:
        return [measure() for _ in range(runs)]

    with sync_playwright() as playwright, TemporaryDirectory() as folder:
        browser = playwright.chromium.launch(executable_path=which("chromium"), args=FLAGS)
        host = Host(site, Path(folder))
        start = host.start
        for what, card_id, entry, goal in (
            ("formula", "annular-leakage", "clearance", 16),
            ("sheet", "coil-check", "resistance", 16),
            ("whole shift budget", "shift-budget", "spring_rate", 200),
        ):
            line(f"answer after a key, {what}", keys_worked(browser, start, card_id, entry), goal)
            line("from the finger to the paint", keys_painted(browser, start, card_id, entry), max(goal, 100))
        line("a key of the search", search_keys(browser, start), 50)
        line("a step of the fault finder", finder_steps(browser, start), 15)
        for what, path, target in (
            ("home, search", "", "form.find input"),
            ("formula, first entry", "calc/annular-leakage/", ".entries input"),
            ("sheet, first entry", "judge/coil-check/", ".entries input"),
            ("fault finder, step by step", "fault/coil-burns/", "#ask"),
        ):
            taps = functools.partial(first_tap, browser, start, path, target)
            line(f"first tap: {what}", often(taps), 100)
        for path in ("calc/annular-leakage/", "fault/coil-burns/"):
            pages = [second_page(browser, host, path) for _ in range(runs)]
            line(f"second page on a slow line, LCP: {path}", [largest for largest, _ in pages], 400)
            asked = max(count for _, count in pages)
            print(f"| its requests to the host (most) | {asked}{'' if asked == 0 else ' **missed**'} | | 0 |")
            met &= asked == 0
        line("first search result, no reception, full processor", often(lambda: search(browser, start, 1)), 600)
        line("the same, processor at a quarter", often(lambda: search(browser, start, SLOW_PROCESSOR)), 600)
        browser.close()
        host.end()
    return met
