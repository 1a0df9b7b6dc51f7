"""The duty form with a thumb at 360 px: a demo's duty by hand, nothing known, bad units, files, the keyboard."""

import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from valvecalc.demo import SIZE
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import duty_from, read_duty
from valvecalc.selection.questions import field_of, questions
from valvecalc.selection.tell import told_request

FORM = "size/machine/"
NOW = ".ask.is-now"
NEXT = ".asks__nav [data-do='next']"


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True, service_workers="block")
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    yield page
    context.close()
    assert errors == []


def at(page: Page, served: str, question: str) -> None:
    """The form at one question, as a link brings it there."""
    page.goto("about:blank")
    page.goto(f"{served}{FORM}#q={question.replace(' ', '%20')}")
    page.wait_for_selector(".asks[data-awake]", state="attached")


def title(page: Page) -> str:
    return page.locator(f"{NOW} h2").inner_text()


def kept(page: Page) -> Any:
    return page.evaluate("shop.kept('duty')")


def answer(page: Page, entry: str, text: str) -> None:
    """One entry of the screen as a thumb gives it: a button where there is one, else typed."""
    control = page.locator(f'{NOW} [data-entry="{entry}"]')
    button = control.locator(f'[data-put="{text}"]')
    if button.count():
        button.scroll_into_view_if_needed()
        button.tap()
    else:
        control.locator("input").fill(text)


def open_entries(page: Page) -> list[str]:
    return str(page.locator(NOW).get_attribute("data-entries")).split()


def said(duty: Mapping[str, Any], entry: str) -> str:
    table, _, key = entry.partition(".")
    found = duty.get(table, {})
    row = found[0] if isinstance(found, list) else found
    return str(row.get(key, "unknown"))


def test_a_duty_by_hand(phone: Page, served: str) -> None:
    """Two taps from home to the first question; then the demo's duty, question by question."""
    duty = tomllib.loads((SIZE / "baler.toml").read_text("utf-8"))
    phone.goto(served)
    phone.get_by_role("link", name="Need another valve").locator("visible=true").first.tap()
    phone.get_by_role("link", name="What the machine asks").locator("visible=true").first.tap()
    expect(phone.locator(f"{NOW} h2")).to_have_text("What does the valve move?")
    phone.get_by_role("button", name="A cylinder", exact=True).tap()  # comes before its script
    expect(phone.locator(f"{NOW} h2")).to_have_text("Would a load move the rod if the oil let go?")
    screens = 1
    while phone.evaluate("location.hash") != "#q=end":
        screens += 1
        before = title(phone)
        entries = open_entries(phone)
        assert phone.evaluate("document.documentElement.scrollWidth") <= 360, before
        cautions = phone.locator(f"{NOW} .caution").all()
        assert all(caution.is_visible() for caution in cautions)
        known = [entry for entry in entries if said(duty, entry) != "unknown"]
        for entry in known:
            answer(phone, entry, said(duty, entry))
        if entries == ["old.interface"] or title(phone) == before:
            phone.locator(NEXT if len(known) == len(entries) else "[data-do='unknown']").tap()
        expect(phone.locator(f"{NOW} h2")).not_to_have_text(before)
        assert screens < 60
    assert screens > 35
    assert duty_from(kept(phone)) == read_duty(SIZE / "baler.toml")
    count = sum(len(row) for table in duty.values() for row in (table if isinstance(table, list) else [table]))
    expect(phone.locator(".asks__count")).to_contain_text(f"{count} entries known")
    expect(phone.locator(".asks__count")).to_contain_text(" 0 not answered")
    phone.get_by_role("link", name="What to ask a supplier for").tap()
    told = told_request(demand(read_duty(SIZE / "baler.toml")))
    lines = phone.locator(".request[data-state='yours'] .request__lines li")
    expect(lines).to_have_text([f"{row['what']}: {row['figure']}" for row in told["request"]])


def test_nothing_known(phone: Page, served: str) -> None:
    """Don't know is an answer to every question, and its end says what to find out."""
    phone.goto(served + FORM)
    asked = set()
    while phone.evaluate("location.hash") != "#q=end":
        before = title(phone)
        asked |= set(open_entries(phone))
        box = phone.locator("[data-do='unknown']").bounding_box()
        if before == "Does the valve move anything else?":
            phone.get_by_role("button", name="No, that is all").tap()
        else:
            assert box is not None and box["height"] >= 56
            phone.locator("[data-do='unknown']").tap()
        expect(phone.locator(f"{NOW} h2")).not_to_have_text(before)
    # Only what a condition rules out was not asked.
    left = {entry for one in questions() for entry in one.entries if not (one.when or one.repeated == "motor")}
    assert asked == left
    assert duty_from(kept(phone)) == duty_from({**kept(phone), "cylinder": [{}]})
    expect(phone.locator(".asks__count")).to_contain_text("0 entries known")
    lacking = phone.locator(".asks__open a")
    assert lacking.count() == len(left) - 2  # the machine's name need not be found out
    lacking.filter(has_text="pump.flow").tap()
    expect(phone.locator(f"{NOW} h2")).to_have_text("How much does the pump give?")
    expect(phone.locator("[data-do='unknown']")).to_have_attribute("aria-pressed", "true")


def test_a_bad_unit_is_corrected_in_place_and_nothing_is_lost(phone: Page, served: str) -> None:
    at(phone, served, "pump.flow")
    field = phone.locator(f"{NOW} input")
    field.fill("45 lpn")
    phone.locator(NEXT).tap()
    expect(phone.locator(f"{NOW} .field__wrong")).to_contain_text("Did you mean L/min")
    expect(field).to_be_focused()
    expect(field).to_have_attribute("aria-invalid", "true")
    phone.reload()
    expect(field).to_have_value("45 lpn")
    expect(phone.locator(f"{NOW} .field__wrong")).to_be_visible()
    phone.locator(f"{NOW} .field__wrong").get_by_role("button", name="L/min", exact=True).tap()
    expect(field).to_have_value("45")
    expect(phone.locator(f"{NOW} .field__wrong")).to_be_hidden()
    assert kept(phone)["pump"] == {"flow": "45 L/min"}
    phone.locator(NEXT).tap()
    expect(phone.locator(f"{NOW} h2")).to_have_text("At which pressure does the relief valve open?")
    phone.locator(f"{NOW} select").select_option("psi")
    phone.locator(f"{NOW} input").fill("2 600")
    phone.locator("[data-do='back']").tap()
    expect(field).to_have_value("45")
    phone.go_forward()
    expect(phone.locator(f"{NOW} input")).to_have_value("2 600")
    expect(phone.locator(f"{NOW} select")).to_have_value("psi")
    assert kept(phone)["pump"]["relief_pressure"] == "2 600 psi"
    at(phone, served, "lines.tank_pressure")
    expect(phone.locator(f"{NOW} select")).to_have_value("psi")  # remembered for every pressure


def test_answers_that_contradict_are_told_on_their_screen(phone: Page, served: str) -> None:
    at(phone, served, "oil.coldest")
    answer(phone, "oil.coldest", "70")
    answer(phone, "oil.hottest", "60")
    phone.locator(NEXT).tap()
    expect(phone.locator(f"{NOW} .field__wrong:visible")).to_contain_text("the colder of the two")


def test_conditions_and_links(phone: Page, served: str) -> None:
    at(phone, served, "old.stage")
    listed = phone.locator(".asks__all li")
    phone.locator(".asks__all summary").tap()
    pilot = listed.filter(has_text="Where does its pilot oil come from?")
    expect(pilot).to_have_count(0)
    phone.locator(f'{NOW} [data-put="two-stage"]').tap()
    expect(pilot).to_have_count(1)
    phone.locator(".asks__all a").filter(has_text="One stage or two?").tap()
    expect(phone.locator(f'{NOW} [data-put="two-stage"]')).to_have_attribute("aria-pressed", "true")
    at(phone, served, "supply.cable_length")
    phone.locator(f"{NOW} input").fill("0")
    phone.locator(NEXT).tap()
    expect(phone.locator(f"{NOW} h2")).to_have_text("How hot is the air round the coil?")
    at(phone, served, "accumulator.peak_flow")  # the result asks for it, though no condition does
    expect(phone.locator(f"{NOW} h2")).to_have_text("How much flow does the accumulator add?")
    at(phone, served, "<img src=x onerror=alert(1)>")
    expect(phone.locator(f"{NOW} h2")).to_have_text("What does the valve move?")


def test_two_cylinders(phone: Page, served: str) -> None:
    at(phone, served, "moves")
    phone.get_by_role("button", name="A cylinder", exact=True).tap()
    phone.locator(f'{NOW} [data-put="yes"]').tap()
    at(phone, served, "more")
    phone.get_by_role("button", name="Another cylinder").tap()
    expect(phone.locator(f"{NOW} h2")).to_have_text("Cylinder 2: Would a load move the rod if the oil let go?")
    phone.locator(f'{NOW} [data-put="no"]').tap()
    assert [row["hanging"] for row in kept(phone)["cylinder"]] == ["yes", "no"]
    at(phone, served, "cylinder 2.bore_diameter")
    expect(phone.locator(f"{NOW} h2")).to_have_text("Cylinder 2: How large is the cylinder?")
    at(phone, served, "moves")
    phone.get_by_role("button", name="Remove Cylinder 1").tap()
    phone.get_by_role("button", name="Yes", exact=True).tap()
    assert kept(phone)["cylinder"] == [{"hanging": "no"}]


def test_an_example_a_file_and_a_new_start(phone: Page, served: str, tmp_path: Path) -> None:
    at(phone, served, "pump.flow")
    phone.locator(f"{NOW} input").fill("33")
    phone.locator(".asks__more summary").tap()
    phone.locator("[data-do='example']").tap()
    phone.get_by_role("button", name="Plate press").tap()
    assert kept(phone)["pump"] == {"flow": "33 L/min"}  # asked first
    phone.get_by_role("button", name="Yes", exact=True).tap()
    press = read_duty(SIZE / "press.toml")
    assert duty_from(kept(phone)) == press
    phone.locator(".asks__more summary").tap()
    with phone.expect_download() as saving:
        phone.locator("[data-do='save']").tap()
    file = tmp_path / saving.value.suggested_filename
    saving.value.save_as(file)
    assert file.name == "duty.toml"
    assert read_duty(file) == press
    phone.locator("[data-do='anew']").tap()
    phone.get_by_role("button", name="No, keep it").tap()
    assert duty_from(kept(phone)) == press
    phone.locator("[data-do='anew']").tap()
    phone.get_by_role("button", name="Yes", exact=True).tap()
    assert kept(phone) == {}
    phone.locator(".asks__more summary").tap()
    phone.locator(".asks__more input").set_input_files(SIZE / "tipping-trailer.toml")
    expect(phone.locator(".say")).to_contain_text("tipping-trailer.toml is open")
    assert duty_from(kept(phone)) == read_duty(SIZE / "tipping-trailer.toml")
    wrong = tmp_path / "wrong.toml"
    wrong.write_text("[pump]\nflow = 45 L/min\n", "utf-8")
    phone.locator(".asks__more summary").tap()
    phone.locator(".asks__more input").set_input_files(wrong)
    expect(phone.locator(".asks__choose")).to_contain_text("line 2")
    assert duty_from(kept(phone)) == read_duty(SIZE / "tipping-trailer.toml")


def test_a_device_that_keeps_nothing_says_so(phone: Page, served: str) -> None:
    phone.add_init_script("Storage.prototype.setItem = () => { throw new Error('full') }")
    at(phone, served, "old.stage")
    phone.locator(f'{NOW} [data-put="direct"]').tap()
    expect(phone.locator(".say--seen")).to_contain_text("save the answers as a file")
    assert kept(phone) == {"old": {"stage": "direct"}}


def test_with_the_keyboard_alone(phone: Page, served: str) -> None:
    """Each screen begins at its heading; Enter in a field goes on."""
    at(phone, served, "cylinder.bore_diameter")
    phone.evaluate("shop.keep('duty', {cylinder: [{}]})")
    at(phone, served, "cylinder 1.bore_diameter")
    expect(phone.locator(f"{NOW} h2")).to_be_focused()
    phone.keyboard.press("Tab")
    phone.keyboard.type("100")
    phone.keyboard.press("Enter")
    phone.keyboard.type("70")
    phone.keyboard.press("Enter")
    phone.keyboard.type("900")
    phone.keyboard.press("Enter")
    expect(phone.locator(f"{NOW} h2")).to_have_text("Which port feeds the piston side?")
    expect(phone.locator(f"{NOW} h2")).to_be_focused()
    phone.keyboard.press("Tab")
    phone.keyboard.press("Space")
    expect(phone.locator(f"{NOW} h2")).to_have_text("How hard is the load on the rod?")
    row = {"bore_diameter": "100 mm", "rod_diameter": "70 mm", "stroke_length": "900 mm", "cap_port": "A"}
    assert kept(phone)["cylinder"] == [row]
    assert field_of("cylinder.cap_port").words == ("A", "B")
