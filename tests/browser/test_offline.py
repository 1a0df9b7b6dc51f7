"""With no reception: one visit stores the whole site, the server is ended, and everything still opens."""

import json
import shutil
import threading
from collections.abc import Callable, Iterator
from functools import partial
from http.server import ThreadingHTTPServer
from pathlib import Path
from urllib.error import URLError
from urllib.request import urlopen

import pytest
from playwright.sync_api import Browser, BrowserContext, ConsoleMessage, Page, expect

from tests.browser.conftest import FLAGS, Quiet
from valvecalc import door
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen.worker import write_worker
from valvecalc.units import read

TEMPLATE = Path(__file__).parents[2] / "site" / "worker.js"
BELOW = "/shop/pages/"
SOON = 60_000  # ms, on a machine that does other work too
STORED = "Stored for offline"
FRESH = "New pages are there"


class Host:
    """A server that shows a site under a sub-path, writes down what it is asked for, and can fail or end."""

    def __init__(self, site: Path, folder: Path) -> None:
        self.asked: list[str] = []
        self.broken: dict[str, int | bytes] = {}  # path below the site -> status, or a text that comes instead
        (folder / "shop").mkdir(parents=True)
        (folder / "shop" / "pages").symlink_to(site, target_is_directory=True)
        host = self

        class Handler(Quiet):
            def do_GET(self) -> None:
                path = self.path.split("?")[0].removeprefix(BELOW)
                host.asked.append(path)
                fault = host.broken.get(path)
                if isinstance(fault, int):
                    self.send_error(fault)
                elif fault is not None:
                    self.send_response(200)
                    self.send_header("Content-Type", "text/html")
                    self.send_header("Content-Length", str(len(fault)))
                    self.end_headers()
                    self.wfile.write(fault)
                else:
                    super().do_GET()

        self._server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Handler, directory=str(folder)))
        self._thread = threading.Thread(target=self._server.serve_forever, daemon=True)
        self._thread.start()
        self.port = self._server.server_port
        self.start = f"http://127.0.0.1:{self.port}{BELOW}"

    def end(self) -> None:
        """Nobody listens afterwards, and that is checked."""
        if self._thread.is_alive():
            self._server.shutdown()
            self._thread.join()
            self._server.server_close()
        with pytest.raises(URLError):
            urlopen(self.start, timeout=2)


Serve = Callable[[Path], Host]


@pytest.fixture
def serve(tmp_path: Path) -> Iterator[Serve]:
    hosts: list[Host] = []

    def started(site: Path) -> Host:
        hosts.append(Host(site, tmp_path / f"host{len(hosts)}"))
        return hosts[-1]

    yield started
    for host in hosts:
        host.end()


@pytest.fixture
def copy(built_site: Path, tmp_path: Path) -> Path:
    """A copy of the site that a test may change."""
    return Path(shutil.copytree(built_site, tmp_path / "copy"))


class Phone:
    """A phone's browser: its pages, and what they complained of."""

    def __init__(self, context: BrowserContext) -> None:
        self.context = context
        self.complaints: list[str] = []
        self.page = self.window()

    def window(self) -> Page:
        page = self.context.new_page()
        page.on("console", self._heard)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        return page

    def _heard(self, message: ConsoleMessage) -> None:
        if message.type in ("error", "warning"):
            self.complaints.append(f"{message.text} {message.location['url']}")

    def visit(self, address: str, words: str = STORED) -> None:
        """Open a page and wait until the strip says so."""
        self.page.goto(address)
        says(self.page, words)

    def stored(self) -> list[str]:
        """The addresses in the store, in order."""
        found: list[str] = self.page.evaluate(
            """async () => (await Promise.all((await caches.keys()).map(async (name) =>
                (await (await caches.open(name)).keys()).map((request) => request.url)))).flat().sort()"""
        )
        return found


def says(page: Page, words: str) -> None:
    expect(page.locator(".strip__offline")).to_have_text(words, timeout=SOON)


@pytest.fixture
def phone(browser: Browser) -> Iterator[Phone]:
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True, reduced_motion="reduce")
    phone = Phone(context)
    yield phone
    context.close()


def update(site: Path, page: str, words: str) -> None:
    """A new version of the site in which one page says something more."""
    file = site / page / "index.html"
    file.write_text(file.read_text("utf-8").replace("</article>", f"<p>{words}</p></article>"), "utf-8")
    write_worker(site, TEMPLATE, "the next version")


def h1(page: Page) -> str:
    return page.locator("h1").inner_text()


# ---- everything from the store ------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def cut_off(
    built_site: Path, browser: Browser, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[Phone, str]]:
    """A phone that visited the start page once; then its server was ended and its reception taken."""
    host = Host(built_site, tmp_path_factory.mktemp("host"))
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True, reduced_motion="reduce")
    phone = Phone(context)
    phone.visit(host.start)
    host.end()
    context.set_offline(True)
    yield phone, host.start
    context.close()


@pytest.fixture
def bench(cut_off: tuple[Phone, str]) -> Iterator[tuple[Page, str]]:
    """A page of the phone that is cut off, and the address of the start page. Nothing may be complained of."""
    phone, start = cut_off
    phone.complaints.clear()
    page = phone.window()
    yield page, start
    page.close()
    assert phone.complaints == []


def test_every_file_of_the_site_comes_from_the_store(bench: tuple[Page, str], built_site: Path) -> None:
    """Byte for byte, pages never visited included; but for the worker itself."""
    page, start = bench
    page.goto(start)
    files = {path.relative_to(built_site).as_posix(): path for path in sorted(built_site.rglob("*")) if path.is_file()}
    del files["sw.js"]
    assert len(files) > 250
    addresses = {name.removesuffix("index.html"): path for name, path in files.items()}
    lengths: dict[str, list[int]] = page.evaluate(
        """async (names) => Object.fromEntries(await Promise.all(names.map(async (name) => {
            const answer = await fetch(name);
            const bytes = new Uint8Array(await answer.arrayBuffer());
            return [name, [answer.status, bytes.length, bytes.reduce((sum, byte) => (sum * 31 + byte) % 65521, 0)]];
        })))""",
        list(addresses),
    )

    def sum_of(path: Path) -> int:
        total = 0
        for byte in path.read_bytes():
            total = (total * 31 + byte) % 65521
        return total

    wanted = {name: [200, path.stat().st_size, sum_of(path)] for name, path in addresses.items()}
    assert {name: row for name, row in lengths.items() if row != wanted[name]} == {}


@pytest.mark.parametrize(
    ("address", "heading"),
    [
        ("", "What have you got in front of you?"),
        ("hurt/", "Hurt or jet? What to do"),
        ("hurt", "Hurt or jet? What to do"),
        ("fault/", "Valve misbehaves"),
        ("fault/coil-burns/?from=a-link#q1", None),
        ("judge/coil-check/", None),
        ("do/readings/", None),
        ("learn/index.html", None),
        ("checked/", "What was checked"),
    ],
)
def test_pages_open_by_navigation(bench: tuple[Page, str], address: str, heading: str | None) -> None:
    """With a query, without the slash of a folder, or as the file itself."""
    page, start = bench
    answer = page.goto(start + address)
    assert answer is not None and answer.status == 200 and answer.from_service_worker
    assert h1(page) == (heading or h1(page)) != ""
    styled = page.evaluate("getComputedStyle(document.querySelector('.strip')).position")
    assert styled in ("fixed", "sticky")
    says(page, STORED)


def test_the_maths_font_is_there(bench: tuple[Page, str]) -> None:
    page, start = bench
    page.goto(start + "calc/annular-leakage/")
    expect(page.locator("math").first).to_be_visible()
    faces = page.evaluate(
        "async () => (await document.fonts.load('16px \"Shop Maths\"', 'x√∑')).map((face) => face.status)"
    )
    assert faces and set(faces) == {"loaded"}


@pytest.mark.parametrize("place", ("find/", ""))
def test_search_finds_and_opens(bench: tuple[Page, str], place: str) -> None:
    """On its own page and on the start page, mistyped."""
    page, start = bench
    page.goto(start + place)
    page.locator("form.find input").tap()
    page.keyboard.type("coil resistence")
    found = page.locator(".found a.door[href*='calc/']").first
    title = found.locator("strong").inner_text()
    assert "resistance" in title.lower()
    found.tap()
    expect(page.locator("h1")).to_have_text(title)


def test_a_calculator_answers(bench: tuple[Page, str]) -> None:
    """The example of the page, then with ten times the clearance; both as Python works them out."""
    page, start = bench
    page.goto(start + "calc/annular-leakage/")
    page.locator(".calculator [data-do=example]").tap()
    clearance = page.locator(".calculator input[name=clearance]")
    expect(clearance).not_to_have_value("")
    expect(page.locator(".calculator")).to_have_attribute("data-state", "yours")
    assert figure(page) == pytest.approx(figure_of_example(1), rel=6e-3)  # as printed, three figures
    clearance.fill(str(float(clearance.input_value()) * 10))
    expect(page.locator(".answer__head")).not_to_contain_text("No answer")
    page.wait_for_timeout(200)
    assert figure(page) == pytest.approx(figure_of_example(10), rel=6e-3)


def figure(page: Page) -> float:
    """The headline figure in SI: what the page prints, read by the library."""
    text = page.locator(".answer__head .answer-figure strong").first.inner_text()
    return read(text.split("±")[0].replace("\N{NO-BREAK SPACE}", " "), "leakage", VOCABULARY["leakage"].dimension).si


def figure_of_example(factor: float) -> float:
    """What Python works out for the example of the card with the clearance so many times as large."""
    card = door.find("annular-leakage")
    clearance = read(str(card.example["clearance"]), "clearance", VOCABULARY["clearance"].dimension)
    value = door.calc(card.id, **{**card.example, "clearance": clearance.si * factor}).value
    assert isinstance(value, float)
    return value


def test_the_fault_finder_asks_on(bench: tuple[Page, str]) -> None:
    page, start = bench
    page.goto(start + "fault/coil-burns/#ask")
    heading = page.locator(".finder h2").first
    expect(heading).to_contain_text("Next check")
    asked = heading.inner_text()
    while page.locator(".finder .tick input:not(:checked)").count():
        page.locator(".finder .tick input:not(:checked)").first.tap()
    page.locator(".finder .answers button").first.tap()
    expect(heading).not_to_have_text(asked)


@pytest.mark.parametrize("address", ("nowhere", "calc/no-such-formula/", "calc/a/b/c/constructor", "toString"))
def test_an_address_that_leads_nowhere_shows_our_page(cut_off: tuple[Phone, str], address: str) -> None:
    """With its looks and with links that lead on, however deep the address lies."""
    phone, start = cut_off
    phone.complaints.clear()
    page = phone.window()
    answer = page.goto(start + address)
    assert answer is not None and answer.status == 404
    assert h1(page) == "No such page"
    assert page.evaluate("getComputedStyle(document.querySelector('.strip')).position") in ("fixed", "sticky")
    says(page, STORED)
    page.locator("article a").first.tap()
    expect(page.locator("h1")).to_have_text("What have you got in front of you?")
    page.close()
    # The browser itself notes the status 404 of the address; nothing else may be complained of.
    assert [line for line in phone.complaints if not line.endswith(start + address)] == []


def test_the_page_offline_says_what_is_stored(bench: tuple[Page, str], built_site: Path) -> None:
    page, start = bench
    page.goto(start + "offline/")
    facts = page.locator(".offline__facts")
    files = sum(path.is_file() for path in built_site.rglob("*")) - 1
    expect(facts).to_contain_text(f"{files} of {files}", timeout=SOON)
    expect(facts).to_contain_text("data ")
    expect(page.locator(".offline__load")).to_be_hidden()


def test_the_page_that_was_opened_first_needs_no_second_visit(phone: Phone, serve: Serve, built_site: Path) -> None:
    """The reception goes before the first touch, and with it the scripts that wait for that."""
    host = serve(built_site)
    phone.visit(f"{host.start}calc/annular-leakage/")
    host.end()
    phone.page.locator(".calculator [data-do=example]").tap()
    expect(phone.page.locator(".calculator")).to_have_attribute("data-state", "yours")
    assert phone.complaints == []


# ---- lines that fail ----------------------------------------------------------------------------------------------


def test_one_failing_file_loses_no_other(phone: Phone, serve: Serve, built_site: Path) -> None:
    """A page that fails, and one that a guest network answers with its sign-in page; both come at the next visit."""
    host = serve(built_site)
    host.broken = {"learn/": 500, "checked/": b"<title>Guest network: sign in</title>"}
    phone.visit(host.start, "Stored 99 %")
    assert not [url for url in phone.stored() if "/learn/index" in url or "/checked/" in url]
    host.broken = {}
    host.asked.clear()
    phone.visit(host.start)
    assert sorted(path for path in host.asked if path != "sw.js") == ["checked/", "learn/"]


def test_a_page_that_is_not_stored_yet_is_told(phone: Phone, serve: Serve, built_site: Path) -> None:
    """Not as an address that leads nowhere: it is there, but not on this device."""
    host = serve(built_site)
    host.broken = {"do/readings/": 500}
    phone.visit(host.start, "Stored 99 %")
    host.end()
    answer = phone.page.goto(f"{host.start}do/readings/")
    assert answer is not None and answer.status == 503
    expect(phone.page.locator(".offline__means")).to_contain_text("Not all of it came", timeout=SOON)
    phone.page.locator(".strip__hurt").tap()
    expect(phone.page.locator("h1")).to_have_text("Hurt or jet? What to do")


def test_two_sites_of_one_host_keep_apart(phone: Phone, serve: Serve, built_site: Path, tmp_path: Path) -> None:
    host = serve(built_site)
    phone.visit(host.start)
    assert {url.split(BELOW)[0] + BELOW for url in phone.stored()} == {host.start}
    names = phone.page.evaluate("caches.keys()")
    assert names == [f"valvecalc {host.start}"]
    assert phone.page.evaluate("navigator.serviceWorker.controller.scriptURL") == f"{host.start}sw.js"


# ---- new pages ----------------------------------------------------------------------------------------------------


def test_an_update_moves_what_changed_and_waits_for_the_tap(phone: Phone, serve: Serve, copy: Path) -> None:
    host = serve(copy)
    phone.visit(host.start)
    before = phone.stored()
    update(copy, "learn", "A line of the next version")
    host.asked.clear()
    phone.visit(f"{host.start}offline/", FRESH)
    assert sorted(host.asked) == ["learn/", "sw.js"]
    phone.visit(f"{host.start}learn/", FRESH)
    assert not phone.page.get_by_text("A line of the next version").count()

    phone.page.locator(".strip__offline").tap()
    load = phone.page.get_by_role("button", name="Load the new pages")
    load.tap()
    says(phone.page, STORED)
    expect(phone.page.locator(".offline__facts")).to_contain_text("the next version", timeout=SOON)
    expect(load).to_be_hidden()
    phone.visit(f"{host.start}learn/")
    expect(phone.page.get_by_text("A line of the next version")).to_be_visible()
    after = phone.stored()
    assert len(after) == len(before) and len(set(after) - set(before)) == 1  # the old page is gone
    assert "learn/" not in host.asked[2:]
    assert phone.complaints == []


def test_no_page_changes_over_while_it_is_edited(phone: Phone, serve: Serve, copy: Path) -> None:
    """Another window of the browser loads the new pages; the one with an entry under the finger waits."""
    host = serve(copy)
    phone.visit(host.start)
    edited = phone.window()
    edited.goto(f"{host.start}calc/annular-leakage/")
    entry = edited.locator(".calculator input[name=clearance]")
    entry.fill("7")
    edited.evaluate("window.sameAsBefore = true")
    update(copy, "learn", "A line of the next version")
    phone.visit(f"{host.start}offline/", FRESH)
    phone.page.get_by_role("button", name="Load the new pages").tap()
    says(phone.page, STORED)
    edited.bring_to_front()
    edited.wait_for_timeout(3000)
    assert edited.evaluate("window.sameAsBefore") is True
    expect(entry).to_have_value("7")
    with edited.expect_navigation(timeout=SOON):
        entry.blur()
    expect(entry).to_have_value("7")  # from the address
    assert phone.complaints == []


def test_an_update_that_breaks_off_changes_nothing(phone: Phone, serve: Serve, copy: Path) -> None:
    host = serve(copy)
    phone.visit(host.start)
    before = phone.stored()
    update(copy, "learn", "A line of the next version")
    update(copy, "size", "Another line of the next version")
    host.broken = {"size/": 500}
    host.asked.clear()
    phone.page.goto(f"{host.start}offline/")
    phone.page.wait_for_timeout(2500)
    assert {"sw.js", "learn/", "size/"} <= set(host.asked)
    assert set(before) <= set(phone.stored())
    says(phone.page, STORED)

    host.broken = {}
    host.asked.clear()
    phone.page.get_by_role("button", name="Look for new pages").tap()
    says(phone.page, FRESH)
    assert sorted(host.asked) == ["size/", "sw.js"]  # what had come is not asked for again


# ---- the reader's wish --------------------------------------------------------------------------------------------


def test_stored_pages_can_be_removed_and_stored_again(phone: Phone, serve: Serve, built_site: Path) -> None:
    host = serve(built_site)
    phone.visit(f"{host.start}offline/")
    phone.page.get_by_role("button", name="Remove the stored pages").tap()
    says(phone.page, "Not stored")
    assert phone.stored() == []
    phone.visit(f"{host.start}hurt/", "Not stored")
    phone.page.wait_for_timeout(1000)
    assert phone.stored() == []
    phone.visit(f"{host.start}offline/", "Not stored")
    phone.page.get_by_role("button", name="Store these pages").tap()
    says(phone.page, STORED)
    assert phone.complaints == []


def test_over_plain_http_nothing_is_stored_and_all_else_works(browser: Browser, serve: Serve, built_site: Path) -> None:
    """A shop's own net without a certificate is no secure context."""
    host = serve(built_site)
    chromium = browser.browser_type.launch(
        executable_path=shutil.which("chromium"), args=[*FLAGS, "--host-resolver-rules=MAP shop.test 127.0.0.1"]
    )
    try:
        phone = Phone(chromium.new_context(viewport={"width": 360, "height": 640}, has_touch=True))
        phone.visit(f"http://shop.test:{host.port}{BELOW}offline/", "Not stored")
        expect(phone.page.locator(".offline__means")).to_contain_text("plain http")
        phone.page.goto(f"http://shop.test:{host.port}{BELOW}fault/coil-burns/#ask")
        expect(phone.page.locator(".finder h2").first).to_contain_text("Next check")
        assert phone.complaints == []
    finally:
        chromium.close()


def test_it_goes_on_the_home_screen(served: str, built_site: Path, browser: Browser) -> None:
    """Chromium reads the manifest without a complaint, and every file and page that it names is there."""
    manifest = json.loads((built_site / "manifest.webmanifest").read_text("utf-8"))
    for icon in manifest["icons"]:
        head = (built_site / icon["src"]).read_bytes()[:24]
        width, height = (int.from_bytes(head[at : at + 4], "big") for at in (16, 20))
        assert f"{width}x{height}" == icon["sizes"]
    for place in (*(shortcut["url"] for shortcut in manifest["shortcuts"]), manifest["start_url"]):
        assert (built_site / place / "index.html").is_file(), place
    page = browser.new_page()
    page.goto(served)
    told = page.context.new_cdp_session(page).send("Page.getAppManifest")
    assert told["errors"] == [] and told["url"] == f"{served}manifest.webmanifest"
    page.close()
