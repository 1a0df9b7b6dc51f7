"""The bench sheet with a thumb at 360 px: filled in by hand, kept, judged, saved, read by the desk, opened again."""

import tomllib
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.sheet import SHEET, at_desk, begun, field, left_at_desk, put, save, stage, told
from tests.live.job import SHOP, base, written
from valvecalc.demo import JOB
from valvecalc.job.read import read_job


def test_by_hand_from_the_first_answer_to_the_desk(bench: Page, served: str, tmp_path: Path) -> None:
    begun(bench, served)
    put(bench, "job", "job.id", "LB-7")
    put(bench, "job", "job.title", 'Press 4, "valve" Y12 \\ <b>bold</b>')
    expect(bench.locator(".bench__name strong")).to_have_text('LB-7, Press 4, "valve" Y12 \\ <b>bold</b>')
    stage(bench, "Before anything else")
    put(bench, "plates", "coil.name", "a")
    put(bench, "plates", "coil.nominal_voltage", "24,0")
    put(bench, "plates", "coil.nominal_power", "30 W")
    bench.get_by_role("button", name="Add a coil").tap()
    put(bench, "plates", "coil.nominal_voltage", "110", row=1)
    put(bench, "plates", "coil.kind", "ac", row=1)
    stage(bench, "Coils, cold, both pins off")
    put(bench, "ohms", "coil.coil_temperature", "22 ± 1")
    put(bench, "ohms", "coil.resistance", "19.4; 19.5; 19,45")
    put(bench, "insulation", "coil.insulation", "250", row=1)
    judged = bench.locator('[data-step="ohms"] .judged').first
    expect(judged).to_contain_text("accept")
    bench.locator('[data-step="ohms"] .field__doubt input').nth(1).fill("1 %")
    expect(judged).to_contain_text("±")
    stage(bench, "Without pressure")
    assert not bench.locator('[data-step="pick-up-dry"] legend', has_text="Coil b").count()
    put(bench, "pick-up-dry", "coil.pickup.voltage", "13.1", state="no-pressure")
    put(bench, "hum", "coil.pickup.shifted", "yes", row=1, state="no-pressure")
    stage(bench, "Opened")
    put(bench, "look", "part.finding", "brown paste")
    path = save(bench, tmp_path)
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
    assert told(bench) == at_desk(path) != []


def test_each_answer_is_there_after_a_reload_and_home_knows_the_job(bench: Page, served: str) -> None:
    begun(bench, served)
    put(bench, "job", "job.title", "Baler, ram valve")
    stage(bench, "Machine, valve, stand")
    put(bench, "asks", "duty.supply_pressure", "16")  # and the battery is empty: nothing is pressed, nothing left
    bench.goto(served)
    expect(bench.locator(".door--job small")).to_have_text("Resume Baler, ram valve")
    bench.locator(".door--job").tap()
    expect(bench.locator(".bench__name strong")).to_have_text("Baler, ram valve")
    stage(bench, "Machine, valve, stand")
    assert bench.locator(field(bench, "asks", "duty.supply_pressure")).input_value() == "16"


def test_a_choice_is_taken_back(bench: Page, served: str) -> None:
    """Not written down is not the word for it, and not no."""
    begun(bench, served)
    stage(bench, "Coils, cold, both pins off")
    control = bench.locator(field(bench, "ohms", "coil.open"))
    assert control.locator("option").all_inner_texts() == ["not written down", "yes", "no"]
    assert control.input_value() == ""
    put(bench, "ohms", "coil.open", "yes")
    assert bench.evaluate("shop.jobs.open().raw.coil[0].open") is True
    control.select_option(label="not written down")
    assert bench.evaluate("'open' in ((shop.jobs.open().raw.coil || [{}])[0] || {})") is False


def test_a_file_of_the_desk_comes_back_whole_with_the_same_verdicts(bench: Page, served: str, tmp_path: Path) -> None:
    bench.goto(served + SHEET)
    bench.set_input_files("input[type=file]", SHOP)
    expect(bench.locator(".bench__said")).to_contain_text("instruments are known now")
    bench.set_input_files("input[type=file]", JOB)
    expect(bench.locator(".bench__name strong")).to_contain_text("LB-2611")
    again = save(bench, tmp_path)
    assert tomllib.loads(again.read_text("utf-8")) == tomllib.loads(JOB.read_text("utf-8"))
    expect(bench.locator(".bench__judged")).to_contain_text("diametral clearance")
    mine = told(bench)
    desk = [
        *at_desk(again, SHOP),
        *((f"as left, {subject}", verdict) for subject, verdict in left_at_desk(again, SHOP)),
    ]
    assert mine and set(mine) <= set(desk)


def test_no_pressure_on_the_stand_until_each_is_settled(bench: Page, served: str) -> None:
    begun(bench, served)
    stage(bench, "On the stand")
    shut = bench.locator(".bench__stage.is-now .bench__shut")
    expect(shut).to_contain_text("Nobody has written down that zero was proved on the machine.")
    assert bench.locator(".bench__stage.is-now .step:visible").count() == 0
    stage(bench, "Before anything else")
    for port in "pabt":
        put(bench, "zero-proved", f"isolation.gauge_{port}", "0")
        put(bench, "outside", f"outside.rated_{port}", "315")
    put(bench, "zero-proved", "isolation.dead_proved", "yes")
    for key, word in (("tube", "sound"), ("crack", "no"), ("threads_damaged", "no")):
        put(bench, "outside", f"outside.{key}", word)
    stage(bench, "On the stand")
    expect(shut.locator("ul.with-script li")).to_have_text(
        ["Nobody has written down that the screws are complete and of a known grade."]
    )
    stage(bench, "Before anything else")
    put(bench, "outside", "outside.screws", "complete")
    stage(bench, "On the stand")
    expect(shut).to_be_hidden()
    ready = bench.locator('[data-step="stand-ready"]')
    expect(ready).to_be_visible()
    expect(ready.locator('[data-figure="pressure"] b')).to_contain_text("needs")
    stage(bench, "Machine, valve, stand")
    put(bench, "asks", "duty.supply_pressure", "400")
    stage(bench, "On the stand")
    expect(ready.locator('[data-figure="pressure"] b')).to_contain_text("315.0 bar. The pressure of the machine")


def test_a_unit_that_cannot_be_is_corrected_in_place(bench: Page, served: str, tmp_path: Path) -> None:
    begun(bench, served)
    stage(bench, "Machine, valve, stand")
    put(bench, "asks", "duty.supply_pressure", "160 mpa")
    wrong = bench.locator(f"{field(bench, 'asks', 'duty.supply_pressure')}-wrong")
    expect(wrong).to_be_visible()
    path = save(bench, tmp_path)
    assert path.read_text("utf-8").startswith(
        "# Left out of the file, for it cannot be read: duty 1 supply_pressure: 160 mpa"
    )
    read_job(path)
    stage(bench, "Machine, valve, stand")
    expect(wrong.get_by_role("button").first).to_be_visible()
    wrong.get_by_role("button").first.tap()
    expect(wrong).to_be_hidden()
    assert bench.locator(field(bench, "asks", "duty.supply_pressure")).input_value() == "160"


def test_a_reading_judged_elsewhere_goes_into_the_open_job(bench: Page, served: str) -> None:
    begun(bench, served)
    put(bench, "job", "job.id", "LB-9")
    bench.goto(
        f"{served}judge/coil-ohms/#e=1&resistance=19.4Ω&coil_temperature=22°C&nominal_voltage=24V&nominal_power=30W"
    )
    bench.wait_for_selector(".calculator[data-state=yours]:not(.is-behind)")
    expect(bench.locator(".keep__text")).to_contain_text("19.4")
    keep = bench.locator(".calculator [data-keep]")
    keep.scroll_into_view_if_needed()  # what is far below is laid out when it comes near
    keep.tap()
    bench.get_by_role("button", name="coil a", exact=True).tap()
    expect(bench.locator(".keep__job")).to_have_text("Kept in LB-9: coil a.")
    kept = bench.evaluate("shop.jobs.open().raw.coil")
    assert kept == [
        {
            "resistance": "19.4 Ω",
            "coil_temperature": "22 °C",
            "nominal_voltage": "24 V",
            "nominal_power": "30 W",
            "name": "a",
        }
    ]
    bench.locator(".keep [data-keep]").tap()
    expect(bench.get_by_role("button", name="coil a (in place of 19.4 Ω)", exact=True)).to_be_visible()


def test_several_jobs_lie_on_one_device_and_one_can_be_taken_away(bench: Page, served: str) -> None:
    begun(bench, served)
    put(bench, "job", "job.title", "first")
    bench.locator(".bench__files summary").tap()
    bench.get_by_role("button", name="Begin a job").tap()
    put(bench, "job", "job.title", "second")
    stage(bench, "What is judged")
    bench.get_by_role("button", name="Take this job off the device").tap()
    bench.get_by_role("button", name="No", exact=True).tap()
    bench.get_by_role("button", name="Take this job off the device").tap()
    bench.get_by_role("button", name="Yes", exact=True).tap()
    expect(bench.locator(".bench__name")).to_contain_text("No job is open.")
    bench.get_by_role("button", name="first", exact=True).tap()
    expect(bench.locator(".bench__name strong")).to_have_text("first")
    assert bench.evaluate("shop.jobs.list().length") == 1


def test_two_pages_lose_nothing_of_each_other(narrow: BrowserContext, bench: Page, served: str) -> None:
    begun(bench, served)
    other = narrow.new_page()
    other.goto(served + SHEET)
    other.wait_for_selector(".bench[data-awake]", state="attached")
    put(bench, "job", "job.id", "1")
    put(other, "job", "job.title", "two")
    assert bench.evaluate("shop.jobs.open().raw") == {"id": "1", "title": "two"}


def test_a_full_store_is_told_and_takes_nothing_away(bench: Page, served: str) -> None:
    begun(bench, served)
    put(bench, "job", "job.id", "before")
    full = "throw new DOMException('full', 'QuotaExceededError')"
    bench.evaluate(f"() => {{ Storage.prototype.setItem = () => {{ {full}; }}; }}")
    put(bench, "job", "job.title", "after")
    expect(bench.locator(".bench__said")).to_contain_text("Not kept on this device")
    assert bench.evaluate("shop.jobs.open().raw") == {"id": "before", "title": "after"}
    bench.reload()
    assert bench.evaluate("shop.jobs.open().raw") == {"id": "before"}


def test_no_stage_is_wider_than_the_phone_and_every_target_fits_a_glove(
    bench: Page, served: str, tmp_path: Path
) -> None:
    path = tmp_path / "job.toml"
    path.write_text(written(base()), "utf-8")
    bench.goto(served + SHEET)
    bench.set_input_files("input[type=file]", path)
    expect(bench.locator(".bench__name strong")).to_contain_text("LB-2611")
    for name in bench.locator(".bench__stages button:visible").all_inner_texts():
        stage(bench, name)
        assert bench.evaluate("document.documentElement.scrollWidth") <= 360, name
        small = bench.evaluate(
            """() => [...document.querySelectorAll(".bench :is(button, input, select, summary)")]
                .filter((one) => one.checkVisibility())
                .map((one) => [one.id || one.textContent, one.getBoundingClientRect()])
                .filter(([, { width, height }]) => width < 48 || height < 48).map(([name]) => name)"""
        )
        assert small == [], name


def test_the_own_limits_of_a_shop_judge_here_as_at_the_desk(bench: Page, served: str, tmp_path: Path) -> None:
    own = tmp_path / "shop.toml"
    own.write_text('[limits]\ninsulation-least = "20 MΩ"\ncoil-resistance-tolerance = "1 %"\n', "utf-8")
    begun(bench, served)
    bench.set_input_files("input[type=file]", own)
    told_so = "Judged by the shop's own limits: insulation-least, coil-resistance-tolerance."
    expect(bench.locator(".bench__said")).to_contain_text(told_so)
    stage(bench, "What is judged")
    bench.reload()
    expect(bench.locator(".bench__judged")).to_contain_text(told_so)
    assert bench.evaluate("shop.jobs.list().length") == 1
    stage(bench, "Before anything else")
    put(bench, "plates", "coil.nominal_voltage", "24")
    put(bench, "plates", "coil.nominal_power", "30")
    stage(bench, "Coils, cold, both pins off")
    put(bench, "ohms", "coil.coil_temperature", "20")
    put(bench, "ohms", "coil.resistance", "19.5")
    put(bench, "insulation", "coil.insulation", "10")
    limit = bench.locator('[data-step="insulation"] .field__limit')
    expect(limit).to_contain_text("at least 20.00 MΩ (insulation-least, the shop's own)")
    assert bench.locator('[data-step="insulation"]').inner_text().count("Wanted") == 1
    expect(bench.locator('[data-step="insulation"] .judged')).to_contain_text("reject")
    path = save(bench, tmp_path)
    expect(bench.locator(".bench__judged .reject")).to_have_count(2)
    assert told(bench) == at_desk(path, own)
    assert told(bench) != at_desk(path, SHOP)


def test_a_limit_is_worked_from_the_readings_with_where_it_comes_from(bench: Page, served: str) -> None:
    begun(bench, served)
    stage(bench, "Coils, cold, both pins off")
    box = bench.locator(".field", has=bench.locator(field(bench, "ohms", "coil.resistance")))
    limit = box.locator(".field__limit")
    expect(limit).to_contain_text("Limit: needs")
    expect(limit).to_contain_text("(coil.nominal_resistance_20)")
    stage(bench, "Before anything else")
    put(bench, "plates", "coil.nominal_voltage", "24")
    put(bench, "plates", "coil.nominal_power", "30")
    stage(bench, "Coils, cold, both pins off")
    expect(limit).to_contain_text("Wanted: at least 17.28 Ω, at most 21.12 Ω (coil-resistance-tolerance 10 %")
    expect(limit).to_contain_text("Expected: 19.2 Ω.")
    limit.locator("summary").tap()
    expect(limit).to_contain_text("nominal voltage = 24 V (nameplate)")
    put(bench, "ohms", "coil.coil_temperature", "40")
    expect(limit).to_contain_text("Expected: 20.7 Ω.")
    bench.evaluate("dispatchEvent(new Event('beforeprint'))")
    expect(bench.locator('[data-step="pick-up-dry"] .field__limit').first).to_contain_text("Wanted: at most")
    bench.evaluate("dispatchEvent(new Event('afterprint'))")
