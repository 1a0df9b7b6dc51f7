"""The bench sheet with a thumb at 360 px: filled in by hand, kept, judged, saved, read by the desk, opened again."""

import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.live.job import SHOP, base, written
from valvecalc.demo import JOB
from valvecalc.job.compute import compute
from valvecalc.job.judged import verdict_rows
from valvecalc.job.read import read_job

SHEET = "job/sheet/"


@pytest.fixture
def context(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True, service_workers="block")
    yield context
    context.close()


@pytest.fixture
def phone(context: BrowserContext) -> Iterator[Page]:
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    yield page
    assert errors == []


def begun(page: Page, served: str) -> None:
    page.goto(served + SHEET)
    page.wait_for_selector(".bench[data-awake]", state="attached")
    page.get_by_role("button", name="Begin a job").tap()
    expect(page.locator(".bench__stage.is-now h2")).to_have_text("The job")


def stage(page: Page, name: str) -> None:
    page.locator(".bench__stages").get_by_role("button", name=name, exact=True).tap()
    expect(page.locator(".bench__stage.is-now h2")).to_have_text(name)


def field(page: Page, step: str, path: str, row: int = 0, state: str = "") -> str:
    """The control of a field, as a selector that leads to it."""
    found = page.evaluate(
        """([step, path, row, state]) => {
          const boxes = [...document.querySelectorAll(`[data-step="${step}"] .field`)];
          const box = boxes.find(({ spec, place }) =>
            spec.field === path && place.row === row && (spec.state || "") === state);
          const control = box.querySelector("input, select:not(.unit)");
          return `#${control.id}`;
        }""",
        [step, path, row, state],
    )
    return str(found)


def put(page: Page, step: str, path: str, text: str, row: int = 0, state: str = "") -> None:
    control = page.locator(field(page, step, path, row, state))
    control.scroll_into_view_if_needed()
    if control.evaluate("control => control.tagName") == "SELECT":
        control.select_option(text)
    else:
        control.fill(text)


def save(page: Page, folder: Path) -> Path:
    stage(page, "What is judged")
    with page.expect_download() as saved:
        page.locator(".bench__stage.is-now").get_by_role("button", name="Save the job file").tap()
    path = folder / "job.toml"
    saved.value.save_as(path)
    return path


def told(page: Page) -> list[tuple[str, str]]:
    """Subject and verdict of every line under "What is judged"."""
    rows = page.locator(".bench__judged .judged > p:first-child:has(.verdict)").all()
    lines = [(row.inner_text(), row.locator(".verdict").inner_text().replace(" ", "-")) for row in rows]
    return [(line.rpartition(": ")[0].lower(), verdict) for line, verdict in lines]


def at_desk(path: Path, shop: Path | None = None) -> list[tuple[str, str]]:
    job = read_job(path, shop)
    rows = verdict_rows(job, compute(job))
    return [(row["subject"].lower(), row["verdict"]) for row in rows]


def test_by_hand_from_the_first_answer_to_the_desk(phone: Page, served: str, tmp_path: Path) -> None:
    begun(phone, served)
    put(phone, "job", "job.id", "LB-7")
    put(phone, "job", "job.title", 'Press 4, "valve" Y12 \\ <b>bold</b>')
    expect(phone.locator(".bench__name strong")).to_have_text('LB-7, Press 4, "valve" Y12 \\ <b>bold</b>')
    stage(phone, "Before anything else")
    put(phone, "plates", "coil.name", "a")
    put(phone, "plates", "coil.nominal_voltage", "24,0")
    put(phone, "plates", "coil.nominal_power", "30 W")
    phone.get_by_role("button", name="Add a coil").tap()
    put(phone, "plates", "coil.nominal_voltage", "110", row=1)
    put(phone, "plates", "coil.kind", "ac", row=1)
    stage(phone, "Coils, cold, both pins off")
    put(phone, "ohms", "coil.coil_temperature", "22 ± 1")
    put(phone, "ohms", "coil.resistance", "19.4; 19.5; 19,45")
    put(phone, "insulation", "coil.insulation", "250", row=1)
    judged = phone.locator('[data-step="ohms"] .judged').first
    expect(judged).to_contain_text("accept")
    phone.locator('[data-step="ohms"] .field__doubt input').nth(1).fill("1 %")
    expect(judged).to_contain_text("±")
    stage(phone, "Without pressure")
    assert not phone.locator('[data-step="pick-up-dry"] legend', has_text="Coil b").count()
    put(phone, "pick-up-dry", "coil.pickup.voltage", "13.1", state="no-pressure")
    put(phone, "hum", "coil.pickup.shifted", "yes", row=1, state="no-pressure")
    stage(phone, "Opened")
    put(phone, "look", "part.finding", "brown paste")
    path = save(phone, tmp_path)
    raw = tomllib.loads(path.read_text("utf-8"))
    assert raw["coil"] == [
        {
            "name": "a", "nominal_voltage": "24,0 V", "nominal_power": "30 W", "coil_temperature": "22 °C ± 1 °C",
            "resistance": ["19.4 Ω ± 1 %", "19.5 Ω", "19,45 Ω"],
            "pickup": [{"state": "no-pressure", "voltage": "13.1 V"}],
        },
        {
            "name": "b", "nominal_voltage": "110 V", "kind": "ac", "insulation": "250 MΩ",
            "pickup": [{"state": "no-pressure", "shifted": True}],
        },
    ]  # fmt: skip
    assert raw["title"] == 'Press 4, "valve" Y12 \\ <b>bold</b>'
    assert told(phone) == at_desk(path) != []


def test_each_answer_is_there_after_a_reload_and_home_knows_the_job(phone: Page, served: str) -> None:
    begun(phone, served)
    put(phone, "job", "job.title", "Baler, ram valve")
    stage(phone, "Machine, valve, stand")
    put(phone, "asks", "duty.supply_pressure", "16")  # and the battery is empty: nothing is pressed, nothing left
    phone.goto(served)
    expect(phone.locator(".door--job small")).to_have_text("Resume Baler, ram valve")
    phone.locator(".door--job").tap()
    expect(phone.locator(".bench__name strong")).to_have_text("Baler, ram valve")
    stage(phone, "Machine, valve, stand")
    assert phone.locator(field(phone, "asks", "duty.supply_pressure")).input_value() == "16"


def test_a_file_of_the_desk_comes_back_whole_with_the_same_verdicts(phone: Page, served: str, tmp_path: Path) -> None:
    phone.goto(served + SHEET)
    phone.set_input_files("input[type=file]", SHOP)
    expect(phone.locator(".bench__said")).to_contain_text("instruments are known now")
    phone.set_input_files("input[type=file]", JOB)
    expect(phone.locator(".bench__name strong")).to_contain_text("LB-2611")
    again = save(phone, tmp_path)
    assert tomllib.loads(again.read_text("utf-8")) == tomllib.loads(JOB.read_text("utf-8"))
    expect(phone.locator(".bench__judged")).to_contain_text("diametral clearance")
    mine = told(phone)
    assert mine and set(mine) <= set(at_desk(again, SHOP))


def test_no_pressure_on_the_stand_until_each_is_settled(phone: Page, served: str) -> None:
    begun(phone, served)
    stage(phone, "On the stand")
    shut = phone.locator(".bench__stage.is-now .bench__shut")
    expect(shut).to_contain_text("Nobody has written down that zero was proved on the machine.")
    assert phone.locator(".bench__stage.is-now .step:visible").count() == 0
    stage(phone, "Before anything else")
    for port in "pabt":
        put(phone, "zero-proved", f"isolation.gauge_{port}", "0")
        put(phone, "outside", f"outside.rated_{port}", "315")
    put(phone, "zero-proved", "isolation.dead_proved", "yes")
    for key, word in (("tube", "sound"), ("crack", "no"), ("threads_damaged", "no")):
        put(phone, "outside", f"outside.{key}", word)
    stage(phone, "On the stand")
    expect(shut.locator("ul.with-script li")).to_have_text(
        ["Nobody has written down that the screws are complete and of a known grade."]
    )
    stage(phone, "Before anything else")
    put(phone, "outside", "outside.screws", "complete")
    stage(phone, "On the stand")
    expect(shut).to_be_hidden()
    ready = phone.locator('[data-step="stand-ready"]')
    expect(ready).to_be_visible()
    expect(ready.locator('[data-figure="pressure"] b')).to_contain_text("needs")
    stage(phone, "Machine, valve, stand")
    put(phone, "asks", "duty.supply_pressure", "400")
    stage(phone, "On the stand")
    expect(ready.locator('[data-figure="pressure"] b')).to_contain_text("315.0 bar. The pressure of the machine")


def test_a_unit_that_cannot_be_is_corrected_in_place(phone: Page, served: str, tmp_path: Path) -> None:
    begun(phone, served)
    stage(phone, "Machine, valve, stand")
    put(phone, "asks", "duty.supply_pressure", "160 mpa")
    wrong = phone.locator(f"{field(phone, 'asks', 'duty.supply_pressure')}-wrong")
    expect(wrong).to_be_visible()
    path = save(phone, tmp_path)
    assert path.read_text("utf-8").startswith(
        "# Left out of the file, for it cannot be read: duty 1 supply_pressure: 160 mpa"
    )
    read_job(path)
    stage(phone, "Machine, valve, stand")
    expect(wrong.get_by_role("button").first).to_be_visible()
    wrong.get_by_role("button").first.tap()
    expect(wrong).to_be_hidden()
    assert phone.locator(field(phone, "asks", "duty.supply_pressure")).input_value() == "160"


def test_a_reading_judged_elsewhere_goes_into_the_open_job(phone: Page, served: str) -> None:
    begun(phone, served)
    put(phone, "job", "job.id", "LB-9")
    phone.goto(
        f"{served}judge/coil-ohms/#e=1&resistance=19.4Ω&coil_temperature=22°C&nominal_voltage=24V&nominal_power=30W"
    )
    phone.wait_for_selector(".calculator[data-state=yours]:not(.is-behind)")
    expect(phone.locator(".keep__text")).to_contain_text("19.4")
    keep = phone.locator(".calculator [data-keep]")
    keep.scroll_into_view_if_needed()  # what is far below is laid out when it comes near
    keep.tap()
    phone.get_by_role("button", name="coil a", exact=True).tap()
    expect(phone.locator(".keep__job")).to_have_text("Kept in LB-9: coil a.")
    kept = phone.evaluate("shop.jobs.open().raw.coil")
    assert kept == [
        {
            "resistance": "19.4 Ω",
            "coil_temperature": "22 °C",
            "nominal_voltage": "24 V",
            "nominal_power": "30 W",
            "name": "a",
        }
    ]
    phone.locator(".keep [data-keep]").tap()
    expect(phone.get_by_role("button", name="coil a (in place of 19.4 Ω)", exact=True)).to_be_visible()


def test_several_jobs_lie_on_one_device_and_one_can_be_taken_away(phone: Page, served: str) -> None:
    begun(phone, served)
    put(phone, "job", "job.title", "first")
    phone.locator(".bench__files summary").tap()
    phone.get_by_role("button", name="Begin a job").tap()
    put(phone, "job", "job.title", "second")
    stage(phone, "What is judged")
    phone.get_by_role("button", name="Take this job off the device").tap()
    phone.get_by_role("button", name="No", exact=True).tap()
    phone.get_by_role("button", name="Take this job off the device").tap()
    phone.get_by_role("button", name="Yes", exact=True).tap()
    expect(phone.locator(".bench__name")).to_contain_text("No job is open.")
    phone.get_by_role("button", name="first", exact=True).tap()
    expect(phone.locator(".bench__name strong")).to_have_text("first")
    assert phone.evaluate("shop.jobs.list().length") == 1


def test_two_pages_lose_nothing_of_each_other(context: BrowserContext, phone: Page, served: str) -> None:
    begun(phone, served)
    other = context.new_page()
    other.goto(served + SHEET)
    other.wait_for_selector(".bench[data-awake]", state="attached")
    put(phone, "job", "job.id", "1")
    put(other, "job", "job.title", "two")
    assert phone.evaluate("shop.jobs.open().raw") == {"id": "1", "title": "two"}


def test_a_full_store_is_told_and_takes_nothing_away(phone: Page, served: str) -> None:
    begun(phone, served)
    put(phone, "job", "job.id", "before")
    full = "throw new DOMException('full', 'QuotaExceededError')"
    phone.evaluate(f"() => {{ Storage.prototype.setItem = () => {{ {full}; }}; }}")
    put(phone, "job", "job.title", "after")
    expect(phone.locator(".bench__said")).to_contain_text("Not kept on this device")
    assert phone.evaluate("shop.jobs.open().raw") == {"id": "before", "title": "after"}
    phone.reload()
    assert phone.evaluate("shop.jobs.open().raw") == {"id": "before"}


def test_no_stage_is_wider_than_the_phone_and_every_target_fits_a_glove(
    phone: Page, served: str, tmp_path: Path
) -> None:
    path = tmp_path / "job.toml"
    path.write_text(written(base()), "utf-8")
    phone.goto(served + SHEET)
    phone.set_input_files("input[type=file]", path)
    expect(phone.locator(".bench__name strong")).to_contain_text("LB-2611")
    for name in phone.locator(".bench__stages button").all_inner_texts():
        stage(phone, name)
        assert phone.evaluate("document.documentElement.scrollWidth") <= 360, name
        small = phone.evaluate(
            """() => [...document.querySelectorAll(".bench :is(button, input, select, summary)")]
                .filter((one) => one.checkVisibility())
                .map((one) => [one.id || one.textContent, one.getBoundingClientRect()])
                .filter(([, { width, height }]) => width < 48 || height < 48).map(([name]) => name)"""
        )
        assert small == [], name
