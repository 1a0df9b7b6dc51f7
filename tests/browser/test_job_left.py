"""Readings taken again after the work, on the phone: beside the first, judged as the desk judges them."""

import tomllib
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.sheet import SHEET, at_desk, begun, cold_coil, field, left_at_desk, left_told, put, save, stage
from tests.live.job import SHOP, tools
from valvecalc.demo import JOBS


def test_as_left_stands_beside_as_found_and_the_desk_judges_both_alike(
    bench: Page, served: str, tmp_path: Path
) -> None:
    begun(bench, served)
    cold_coil(bench)
    expect(bench.locator('[data-step="ohms"] .judged')).to_contain_text("reject")
    assert bench.locator('[data-step="plug"] .field').count() == 0
    bench.get_by_role("button", name="As left", exact=True).tap()
    expect(bench.locator(".bench__stage.is-now h2")).to_have_text("Coils, cold, both pins off")
    ohms = bench.locator('[data-step="ohms"]')
    expect(ohms).to_contain_text("As found: 26 Ω")
    assert bench.locator(field(bench, "ohms", "coil.resistance")).input_value() == ""
    put(bench, "ohms", "coil.coil_temperature", "21")
    put(bench, "ohms", "coil.resistance", "19.4")
    expect(ohms.locator(".judged")).to_contain_text("accept")
    put(bench, "plug", "acceptance.reading", "blocks one way")
    put(bench, "plug", "acceptance.result", "pass")
    bench.reload()  # and it is still after the work
    expect(bench.locator(".bench__stage.is-now h2")).to_have_text("Coils, cold, both pins off")
    assert bench.locator(field(bench, "ohms", "coil.resistance")).input_value() == "19.4"
    assert "The job" not in bench.locator(".bench__stages button:visible").all_inner_texts()
    stage(bench, "Without pressure")
    put(bench, "pick-up-dry", "coil.pickup.voltage", "13.1", state="no-pressure")
    stage(bench, "Coils, cold, both pins off")
    put(bench, "plug", "acceptance.result", "not-run")
    put(bench, "plug", "acceptance.why", "stand had no slow supply")
    path = save(bench, tmp_path)
    raw = tomllib.loads(path.read_text("utf-8"))
    first = {"nominal_voltage": "24 V", "name": "a", "nominal_power": "30 W"}
    assert raw["coil"] == [
        first | {"coil_temperature": "22 °C", "resistance": "26 Ω"},
        {
            "name": "a", "when": "as-left", "coil_temperature": "21 °C", "resistance": "19.4 Ω",
            "pickup": [{"state": "no-pressure", "voltage": "13.1 V"}],
        },
    ]  # fmt: skip
    assert [(row["result"], row["why"]) for row in raw["acceptance"]] == [("not-run", "stand had no slow supply")]
    assert raw["acceptance"][0]["limit"].startswith("blocks one way, polarity as marked")
    expect(bench.locator(".bench__judged .judged__left")).to_have_count(1)
    assert left_told(bench) == left_at_desk(path)
    assert dict(at_desk(path))[left_told(bench)[0][0]] == "reject" != left_told(bench)[0][1]
    bench.get_by_role("button", name="As found", exact=True).tap()
    stage(bench, "Coils, cold, both pins off")
    expect(ohms).to_contain_text("As left: 19.4 Ω")
    assert bench.locator(field(bench, "ohms", "coil.resistance")).input_value() == "26"
    stage(bench, "Before anything else")
    put(bench, "plates", "coil.name", "c")
    assert bench.evaluate("shop.jobs.open().raw.coil.map((coil) => coil.name)") == ["c", "c"]


@pytest.mark.parametrize("name", ["clamp-press", "plate-press", "carton-lift"])
def test_a_job_of_the_desk_shows_what_was_read_again(bench: Page, served: str, name: str) -> None:
    bench.goto(served + SHEET)
    bench.set_input_files("input[type=file]", SHOP)
    expect(bench.locator(".bench__said")).to_contain_text(f"{len(tools())} instruments are known now")
    bench.set_input_files("input[type=file]", JOBS / f"{name}.toml")
    stage(bench, "What is judged")
    desk = left_at_desk(JOBS / f"{name}.toml", SHOP)
    shown = bench.locator(".bench__judged .judged__left")
    expect(bench.locator(".bench__judged .judged").first).to_be_visible()
    if name == "carton-lift":  # nothing was read again
        assert desk == [] and shown.count() == 0
        return
    expect(shown.first).to_be_visible()
    mine = dict(left_told(bench))
    assert mine and mine.items() <= dict(desk).items()
