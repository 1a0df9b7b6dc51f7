"""The home page on a phone, the frame of every page, and how many taps lead where."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

DOORS = ["Valve misbehaves", "I have a reading", "Need another valve", "My job", "Learn", "Look up and cite"]


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
    assert [text.split("\n")[0] for text in doors.all_inner_texts()] == DOORS
    expect(phone.locator("h1")).to_have_text("What have you got in front of you?")
    for part in (phone.locator("h1"), phone.locator(".find input"), *doors.all()):
        box = part.bounding_box()
        assert box is not None
        assert box["y"] >= 48 and box["y"] + box["height"] <= strip_top["y"], part


# ---- taps from home (the house plan's counts) ---------------------------------------------------------------------


def taps(page: Page, *words: str) -> int:
    """Tap links and buttons by their words, each seen on the page as it is; how many taps that were."""
    for word in words:
        link = page.get_by_role("link", name=word).locator("visible=true").first
        link.scroll_into_view_if_needed()
        link.tap()
        page.wait_for_load_state()
    return len(words)


def test_first_check_with_its_caution_in_two_taps(phone: Page) -> None:
    assert taps(phone, "Valve misbehaves", "Coil burns out again and again") <= 2
    caution = phone.locator("article .caution:visible").first
    check = phone.locator(".talk h2:visible").first
    expect(caution).to_be_in_viewport()
    expect(check).to_be_visible()
    above, below = caution.bounding_box(), check.bounding_box()
    assert above and below and above["y"] < below["y"]


@pytest.mark.parametrize(
    ("way", "title", "most"),
    (
        (("I have a reading", "Coil check"), "Coil check", 2),
        (("Look up and cite", "Leakage past a spool land"), "Leakage past a spool land", 3),
        (("Need another valve",), "Need another valve", 2),
        (("My job",), "My job", 1),
        (("Hurt or jet? What to do",), "Hurt or jet? What to do", 1),
    ),
    ids=lambda value: value if isinstance(value, str) else None,
)
def test_taps_from_home(phone: Page, way: tuple[str, ...], title: str, most: int) -> None:
    assert taps(phone, *way) <= most
    expect(phone.locator("h1")).to_contain_text(title)


def test_first_aid_says_that_it_may_not_hurt(phone: Page) -> None:
    phone.locator(".strip__hurt").tap()
    expect(phone.get_by_text("Do this even if it does not hurt")).to_be_visible()


def test_a_citation_is_one_tap_from_the_answer(phone: Page, served: str) -> None:
    phone.goto(served + "calc/annular-leakage/")
    cite = phone.locator(".calculator [data-cite]").first
    answer = phone.locator(".answer__head").bounding_box()
    button = cite.bounding_box()
    assert answer and button and button["height"] >= 48
    cite.tap()
    expect(phone.locator(".cite__text")).to_contain_text("Leakage past a spool land")


def test_an_open_job_is_resumed_by_its_name(phone: Page) -> None:
    door = phone.locator(".door--job small")
    expect(door).to_have_text("bench record and report")
    phone.evaluate("shop.keep('job', {name: '<b>Press 4</b>, valve Y12'})")
    phone.reload()
    expect(door).to_have_text("Resume <b>Press 4</b>, valve Y12")


# ---- the frame ----------------------------------------------------------------------------------------------------


def test_light_or_dark_is_kept_on_the_next_page(phone: Page) -> None:
    html = phone.locator("html")
    expect(html).to_have_attribute("data-md-color-scheme", "default")
    phone.locator(".top__scheme").tap()
    expect(html).to_have_attribute("data-md-color-scheme", "slate")
    phone.locator(".door--fault").tap()
    expect(phone.locator("h1")).to_have_text("Valve misbehaves")
    expect(html).to_have_attribute("data-md-color-scheme", "slate")


def test_a_dark_device_starts_dark_at_the_first_paint(browser: Browser, served: str) -> None:
    """The scheme stands before the body is there: no flash of the other one."""
    context = browser.new_context(color_scheme="dark")
    page = context.new_page()
    page.add_init_script(
        "new MutationObserver((all, self) => { if (document.body) { self.disconnect(); "
        "window.first = document.documentElement.dataset.mdColorScheme } })"
        ".observe(document, {childList: true, subtree: true})"
    )
    page.goto(served)
    assert page.evaluate("window.first") == "slate"
    context.close()


def test_units_switch_and_are_kept(phone: Page, served: str) -> None:
    word = phone.locator(".strip__units b")
    expect(word).to_have_text("metric")
    phone.evaluate("window.told = 0; document.addEventListener('shop:units', () => { window.told++ })")
    phone.locator(".strip__units").tap()
    expect(word).to_have_text("US")
    assert phone.evaluate("[window.told, shop.unit('bar', 'psi'), shop.unit('V', '')]") == [1, "psi", "V"]
    phone.goto(served + "hurt/")
    expect(word).to_have_text("US")
    phone.evaluate("shop.setUnit('µm', 'thou', 'mm')")
    expect(word).to_have_text("mixed")
    assert phone.evaluate("[shop.unit('µm', 'thou'), shop.unit('mm', 'in')]") == ["mm", "in"]
    phone.evaluate("shop.setUnit('µm', 'thou', 'thou')")
    expect(word).to_have_text("US")
    phone.locator(".strip__units").tap()
    expect(word).to_have_text("metric")


def test_a_blocked_store_is_no_error(browser: Browser, served: str) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True)
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.add_init_script("Object.defineProperty(window, 'localStorage', {get() { throw new Error('blocked') }})")
    page.goto(served + "hurt/")
    page.locator(".strip__units").tap()
    expect(page.locator(".strip__units b")).to_have_text("US")
    page.locator(".top__scheme").tap()
    expect(page.locator("html")).to_have_attribute("data-md-color-scheme", "slate")
    context.close()
    assert errors == []


def test_scripts_wait_for_the_first_touch(browser: Browser, served: str) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True)
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(served + "calc/annular-leakage/", wait_until="networkidle")
    engine = served + "assets/calculator.js"
    assert engine not in asked
    page.locator("h1").tap()
    page.wait_for_function("window.shop && typeof valvecalc === 'object'")
    assert asked.count(engine) == 1
    asked.clear()
    page.goto(served + "calc/jet-speed/#e=1&pressure_drop=100bar")
    page.wait_for_function("window.shop && typeof valvecalc === 'object'")
    assert asked.count(engine) == 1
    context.close()


@pytest.mark.parametrize("script", (True, False))
def test_menu_opens(browser: Browser, served: str, script: bool) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True, java_script_enabled=script)
    page = context.new_page()
    page.goto(served + "hurt/")
    page.locator(".menu summary").tap()
    entries = page.locator(".menu li a")
    strip = page.locator(".strip").bounding_box()
    for link in (entries.first, page.locator(".menu").get_by_role("link", name="Need another valve"), entries.last):
        box = link.bounding_box()
        assert strip and box and box["height"] >= 48 and box["y"] + box["height"] <= strip["y"]
    page.locator(".strip__hurt").tap(trial=True)  # first aid lies under nothing
    context.close()


@pytest.mark.parametrize("address", ("", "calc/annular-leakage/", "fault/", "hurt/", "do/readings/"))
def test_the_keyboard_sees_where_it_is(phone: Page, served: str, address: str) -> None:
    """Every stop of Tab has its ring on the screen, under nothing that sticks (WCAG 2.2, 2.4.7 and 2.4.11)."""
    phone.goto(served + address)
    lost = []
    for _ in range(60):
        phone.keyboard.press("Tab")
        phone.wait_for_timeout(20)
        found = phone.evaluate("""() => {
            const e = document.activeElement;
            if (!e || e === document.body) return null;
            const style = getComputedStyle(e), box = e.getClientRects()[0];
            const x = box.x + Math.min(box.width, innerWidth - box.x) / 2;
            const at = document.elementFromPoint(x, box.y + Math.min(box.height, 40) / 2);
            const ring = style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
            const free = Boolean(at && (e.contains(at) || at.contains(e)));
            return [ring && free, (e.textContent || e.name || e.tagName).trim().slice(0, 40)];
        }""")
        if found is None:
            break
        if not found[0]:
            lost.append(found[1])
    assert lost == []


def test_nothing_moves_by_itself(phone: Page, served: str) -> None:
    """No animation, no gliding: then nobody has to ask for less of it (prefers-reduced-motion)."""
    style = phone.request.get(served + "assets/site.css").text()
    assert [word for word in ("animation", "transition", "scroll-behavior", "@keyframes") if word in style] == []


@pytest.mark.parametrize("address", ("fault/", "size/", "do/readings/"))
def test_caution_is_read_before_anything_to_do(phone: Page, served: str, address: str) -> None:
    phone.goto(served + address)
    acts = phone.locator("article").locator(".caution, .door, .do, table, ol").all()
    assert "caution" in (acts[0].get_attribute("class") or "")
