"""With no reception: one visit stores the whole site, the server is ended, and everything still opens."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.reception import SOON, STORED, Host, Phone, Serve, h1, says
from tests.browser.sheet import at_desk, begun, cold_coil, save, told
from valvecalc import door
from valvecalc.quantities import VOCABULARY
from valvecalc.units import read

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


def test_a_job_is_filled_in_judged_kept_and_saved(bench: tuple[Page, str], tmp_path: Path) -> None:
    page, start = bench
    begun(page, start)
    cold_coil(page)
    expect(page.locator('[data-step="ohms"] .judged')).to_contain_text("reject")
    page.reload()
    expect(page.locator('[data-step="ohms"] .judged')).to_contain_text("reject")
    path = save(page, tmp_path)
    expect(page.locator(".bench__judged")).to_contain_text("reject")
    assert told(page) == at_desk(path) != []


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
