"""The fault finder with script: a page of its own under the strict content policy, walked with thumbs and keys."""

import functools
import threading
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import quote

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page, expect

from tests.browser.reception import Quiet
from valvecalc import diagnosis
from valvecalc.diagnosis import export
from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.sitegen.assets import style

ASSETS = Path(__file__).parents[2] / "site" / "pages" / "assets"
FINDER = Path(diagnosis.__file__).parent / "finder.js"
SYMPTOM = "coil-burns"
PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Finder</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy"
content="default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'">
<link rel="stylesheet" href="../../assets/site.css"></head>
<body data-md-color-scheme="default"><article><h1>Coil burns</h1>
<div id="finder" data-symptom="SYMPTOM"></div>
<nav class="talk"><p id="q2">A card that works without script</p></nav></article>
SCRIPTS</body></html>"""
SCRIPTS = "".join(
    f'<script defer src="../../assets/{name}.js"></script>' for name in ("finder-data", "finder", "finder-ui")
)


@pytest.fixture(scope="module")
def finder_site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """Address of a symptom page that holds nothing but the finder."""
    from http.server import ThreadingHTTPServer

    folder = tmp_path_factory.mktemp("finder")
    assets = folder / "assets"
    assets.mkdir()
    assets.joinpath("finder-data.js").write_text(export.script(), "utf-8")
    assets.joinpath("site.css").write_text(style(ASSETS.parents[1] / "styles"), "utf-8")
    for source in (FINDER, ASSETS / "finder-ui.js"):
        assets.joinpath(source.name).write_bytes(source.read_bytes())
    for symptom in knowledge().symptoms:
        place = folder / "fault" / symptom
        place.mkdir(parents=True)
        place.joinpath("index.html").write_text(PAGE.replace("SYMPTOM", symptom).replace("SCRIPTS", SCRIPTS), "utf-8")
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(folder)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}/fault/"
    server.shutdown()
    thread.join()
    server.server_close()


class Phone:
    """A page at 360 px with what it complained of and what it asked the network for."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.complaints: list[str] = []
        self.requests: list[str] = []
        page.on("console", self._heard)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("request", lambda request: self.requests.append(request.url))

    def _heard(self, message: ConsoleMessage) -> None:
        # The icon of the browser's own asking is not ours; every other warning counts.
        if message.type in ("error", "warning") and "favicon" not in str(message.location):
            self.complaints.append(message.text)

    @property
    def title(self) -> str:
        return self.page.locator(".finder h2").first.inner_text()

    def open_gates(self) -> None:
        """Tick whatever stands before the instruction, one by one."""
        for _ in range(60):
            box = self.page.locator(".finder .tick input:not(:checked)")
            if not box.count():
                return
            box.first.tap()
        raise AssertionError("the ticks never end")

    def answer(self) -> None:
        """Tick the gates and tap the likeliest answer."""
        self.open_gates()
        self.page.locator(".finder .answers button").first.tap()


@pytest.fixture
def phone(browser: Browser) -> Iterator[Phone]:
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True, reduced_motion="reduce")
    phone = Phone(context.new_page())
    yield phone
    context.close()
    assert phone.complaints == []


def test_a_case_is_walked_to_its_end_with_the_thumb(phone: Phone, finder_site: str) -> None:
    """Caution before instruction at every question, big targets, nothing wider than the phone, no request."""
    phone.page.goto(finder_site + SYMPTOM + "/#ask")
    expect(phone.page.locator(".finder .step")).to_be_visible()  # the last script has run, the last request is out
    phone.requests.clear()
    for _ in range(9):
        card = phone.page.locator(".finder .step")
        assert card.locator("> *").nth(1).get_attribute("class") == "caution"
        if not phone.title.startswith("Next check"):
            break
        phone.open_gates()
        for target in phone.page.locator(".finder button:visible, .finder select:visible, .finder .tick").all():
            box = target.bounding_box()
            assert box is not None and box["height"] >= 48
        for target in phone.page.locator(".finder .answers button").all():
            box = target.bounding_box()
            assert box is not None and box["height"] >= 56 and box["width"] >= 300
        assert phone.page.evaluate("document.documentElement.scrollWidth") <= 360
        phone.answer()
    assert phone.title.startswith(("Repair first", "Confirmed"))
    phone.page.get_by_role("button", name="Cured:").first.tap()
    for _ in range(6):  # the killer behind it
        if not phone.title.startswith("Next check"):
            break
        phone.answer()
    assert phone.title.startswith("Cured:")
    assert phone.requests == []


def test_reload_back_and_a_sent_link_keep_the_case(phone: Phone, browser: Browser, finder_site: str) -> None:
    phone.page.goto(finder_site + SYMPTOM + "/#ask")
    titles = [phone.title]
    for _ in range(2):
        phone.answer()
        titles.append(phone.title)
    said = phone.page.locator(".finder").inner_text()
    phone.page.reload()
    assert phone.title == titles[2]
    assert phone.page.locator(".finder").inner_text() == said
    other = browser.new_page()
    other.goto(phone.page.url)
    assert other.locator(".finder h2").first.inner_text() == titles[2]
    other.close()
    phone.page.go_back()
    assert phone.title == titles[1]
    phone.page.go_forward()
    assert phone.title == titles[2]


def test_ticks_open_the_instruction_and_outlive_a_reload(phone: Phone, finder_site: str) -> None:
    phone.page.goto(finder_site + SYMPTOM + "/#e=1&at=at-machine&found=ask-history:sudden")
    while not phone.page.locator(".finder .tick").count():
        phone.answer()
    assert not phone.page.locator(".finder .answers").count()
    phone.open_gates()
    expect(phone.page.locator(".finder .answers")).to_be_visible()
    assert "have=" in phone.page.url
    phone.page.reload()
    expect(phone.page.locator(".finder .answers")).to_be_visible()


HOSTILE = [
    "found=<img src=x onerror=alert(1)>:hum",
    "found=listen-click:<script>alert(1)</script>",
    "cured=__proto__:constructor",
    "not-cured=toString",
    "killer=javascript:alert(1)",
    "have=hasOwnProperty",
    "valve=ac,<b>x</b>",
    "at=//elsewhere.invalid",
    "constructor=1",
    "e=999",
    "found=" + "x" * 5000,
    "%E0%A4%A=1",
]


@pytest.mark.parametrize("value", HOSTILE)
def test_a_hostile_fragment_is_told_as_text(phone: Phone, finder_site: str, value: str) -> None:
    """Never run, never drawn as markup: the case goes on without it, and the page says what it left out."""
    key, _, rest = value.partition("=")
    phone.page.on("dialog", lambda dialog: phone.complaints.append(dialog.message))
    phone.page.goto(f"{finder_site}{SYMPTOM}/#e=1&{key}={quote(rest, safe='')}&found=ask-history:sudden")
    expect(phone.page.locator(".finder .unread")).to_contain_text("Left out")
    assert not phone.page.locator(".finder :is(img, b, script)").count()
    expect(phone.page.locator(".finder .path > li")).to_have_count(1)
    assert phone.title.startswith("Next check")


def test_the_whole_case_by_keyboard(phone: Phone, finder_site: str) -> None:
    """After each answer the focus stands on the new question; Tab and Enter reach the answers."""
    phone.page.goto(finder_site + SYMPTOM + "/#e=1&found=ask-history:sudden")
    phone.open_gates()
    phone.page.locator(".finder h2").first.focus()
    before = phone.title
    for _ in range(80):
        phone.page.keyboard.press("Tab")
        if phone.page.evaluate("document.activeElement.matches('.answers button')"):
            break
    phone.page.keyboard.press("Enter")
    assert phone.title != before
    assert phone.page.evaluate("document.activeElement.tagName") == "H2"
    expect(phone.page.locator("[aria-live=polite]")).to_have_text(phone.title)


def test_free_order_the_valve_and_a_changed_answer(phone: Phone, finder_site: str) -> None:
    phone.page.goto(finder_site + SYMPTOM + "/#ask")
    page = phone.page
    page.get_by_text("I have already checked").tap()
    page.get_by_label("What was checked").select_option("coil-resistance")
    page.locator(".finder details[open] .door").first.tap()
    assert "found=coil-resistance:" in page.url
    page.get_by_text("The valve, and where you are").tap()
    page.get_by_label("Current", exact=True).select_option(label="AC coil")
    assert "valve=ac," in page.url and "dc" not in page.url.split("valve=")[1].split("&")[0]
    page.get_by_label("Where you are", exact=True).select_option("bench-only")
    assert "at=bench-only" in page.url
    first = page.locator(".path details").first
    first.locator("summary").tap()
    first.locator("button").nth(1).tap()
    outcomes = list(knowledge().checks["coil-resistance"].outcomes)
    assert f"found=coil-resistance:{outcomes[1]}" in page.url
    page.get_by_role("button", name="Start again").tap()
    assert "found=" not in page.url


def test_a_link_into_the_cards_stays_with_them(phone: Phone, finder_site: str) -> None:
    phone.page.goto(f"{finder_site}{SYMPTOM}/#q2")
    card = phone.page.locator(".talk")
    expect(card).to_be_visible()
    phone.page.locator(".finder button").tap()
    assert phone.title.startswith("Next check")
    expect(card).to_be_hidden()
    phone.page.go_back()
    expect(card).to_be_visible()


def test_every_symptom_wakes(phone: Phone, finder_site: str) -> None:
    for symptom in knowledge().symptoms:
        phone.page.goto(f"{finder_site}{symptom}/#ask")
        assert phone.title.startswith("Next check"), symptom


def test_size_of_the_scripts() -> None:
    """What a phone stores for the finder; the model is the larger part."""
    sizes = {
        "model": len(export.script().encode()),
        "finder": FINDER.stat().st_size,
        "ui": ASSETS.joinpath("finder-ui.js").stat().st_size,
    }
    assert sizes["model"] <= 160_000 and sizes["finder"] <= 40_000 and sizes["ui"] <= 30_000, sizes
