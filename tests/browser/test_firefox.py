"""The pages in Firefox, where it is installed: home, a calculator, the fault finder, the search, without reception."""

import functools
import threading
from collections.abc import Iterator
from http.server import ThreadingHTTPServer
from pathlib import Path
from shutil import which

import pytest

import valvecalc
from tests.browser.reception import Quiet
from valvecalc.citation import citation
from valvecalc.door import load
from valvecalc.formula import REGISTER
from valvecalc.sitegen import answer_part, marks

pytest.importorskip("websockets")
from tests.browser.bidi import Firefox, firefox

load()
PROGRAM = which("firefox-esr") or which("firefox")
pytestmark = pytest.mark.skipif(not PROGRAM, reason="Firefox is not installed (Debian: apt-get install firefox-esr)")
#: Heard from the first line of a page on.
REFUSED = (
    "() => performance.getEntriesByType('resource').filter((one) => one.responseStatus >= 400).map((one) => one.name)"
)


@pytest.fixture(scope="module")
def fox(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Firefox]:
    with firefox(str(PROGRAM), tmp_path_factory.mktemp("profile")) as one:
        yield one


@pytest.fixture
def page(fox: Firefox) -> Iterator[Firefox]:
    """The browser; nothing may be complained of, refusals of the content policy included."""
    fox.complaints.clear()
    yield fox
    assert fox.ask(REFUSED) == []
    assert fox.complaints == []


def test_home_shows_its_doors_and_leads_on(page: Firefox, served: str) -> None:
    page.open(served)
    assert page.text("h1") == "What have you got in front of you?"
    assert page.ask("() => document.querySelectorAll('.door').length") == 6
    assert page.ask("() => document.documentElement.scrollWidth <= innerWidth")
    page.tap(".door--fault")
    page.until("() => document.querySelector('h1').innerText === 'Valve misbehaves'")


@pytest.mark.parametrize("card_id", ("annular-leakage", "coil-check", "shift-budget"))
def test_a_calculator_tells_what_python_tells(card_id: str, page: Firefox, served: str) -> None:
    card = REGISTER[card_id]
    row = valvecalc.calc(card_id, **card.example).to_json()
    page.open(served + marks.address(card).removesuffix(".md") + "/#" + row["link"].partition("#")[2])
    plain = "html => new DOMParser().parseFromString(html, 'text/html').body.textContent"
    page.until("() => document.querySelector('.calculator').dataset.state === 'yours'")
    page.until("told => document.querySelector('.cite__text').textContent === told", citation(row))
    shown = "selector => document.querySelector(selector).textContent"
    assert page.ask(shown, ".answer__head") == page.ask(plain, answer_part.headline(card, row))
    assert page.ask(shown, ".answer__body") == page.ask(plain, answer_part.body(card, row))


def test_typing_answers_and_the_address_keeps_it(page: Firefox, served: str) -> None:
    page.open(served + "calc/piston-area/")
    page.tap("#in-bore_diameter")
    page.until("() => document.querySelector('.calculator').dataset.awake")
    page.type("50")
    page.until("() => document.querySelector('.answer__head').innerText.includes('1963')")  # π/4 · 50²
    page.until("() => location.hash.includes('bore_diameter=50mm')")


def test_the_fault_finder_asks_on(page: Firefox, served: str) -> None:
    page.open(served + "fault/coil-burns/")
    page.tap("#ask")
    page.until("() => document.querySelector('.finder h2')?.innerText.includes('Next check')")
    # What is to be made safe stands before the answers.
    closed = "() => Boolean(document.querySelector('.finder .tick input:not(:checked)'))"
    while page.ask(closed):
        left = page.ask("() => document.querySelectorAll('.finder .tick input:checked').length")
        page.tap(".finder .tick input:not(:checked)")
        page.until("left => document.querySelectorAll('.finder .tick input:checked').length !== left", left)
    before = page.text(".finder")
    page.tap(".finder .answers button")
    page.until("before => document.querySelector('.finder').innerText !== before", before)


def test_maths_is_set_in_the_shops_font(page: Firefox, served: str) -> None:
    page.open(served + "calc/annular-leakage/")
    loaded = "async () => { await document.fonts.ready; return document.fonts.check('16px \"Shop Maths\"', 'π') }"
    assert page.ask(loaded)
    assert page.ask("() => document.querySelector('math').getBoundingClientRect().height") > 20


def test_the_search_finds(page: Firefox, served: str) -> None:
    page.open(served + "find/")
    page.tap("form.find input")
    page.type("spool leak")
    page.until("() => document.querySelectorAll('.found .door').length > 0")


def test_everything_opens_without_reception(fox: Firefox, built_site: Path, tmp_path: Path) -> None:
    """One visit stores the site; then its server is ended."""
    (tmp_path / "shop").symlink_to(built_site, target_is_directory=True)
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(tmp_path)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    start = f"http://127.0.0.1:{server.server_port}/shop/"
    fox.open(start)
    fox.until("() => document.querySelector('.strip__offline').textContent === 'Stored for offline'")
    server.shutdown()
    thread.join()
    server.server_close()
    fox.complaints.clear()
    for path, heading in (("hurt/", "Hurt or jet? What to do"), ("words/", "Words"), ("fault/", "Valve misbehaves")):
        fox.open(start + path)
        assert fox.text("h1") == heading
    row = valvecalc.calc("annular-leakage", **REGISTER["annular-leakage"].example).to_json()
    fox.open(start + "calc/annular-leakage/#" + row["link"].partition("#")[2])
    fox.until("told => document.querySelector('.cite__text').textContent === told", citation(row))
    assert fox.complaints == []
