"""A value corrected on the phone keeps the earlier one, with reason and day, in the form that the desk reads."""

import tomllib
from pathlib import Path

from playwright.sync_api import Page, expect

from tests.browser.sheet import SHEET, at_desk, begun, cold_coil, field, put, save, stage, told
from valvecalc.job.read import read_job


def correct(page: Page, step: str, path: str, text: str, why: str) -> None:
    put(page, step, path, text)
    page.locator(field(page, step, path)).blur()
    box = page.locator(".field", has=page.locator(field(page, step, path)))
    expect(box.locator(".field__mend")).to_contain_text("A correction keeps it, with its reason.")
    box.locator(".field__mend input").fill(why)
    box.get_by_role("button", name="Keep both").tap()
    expect(box.locator(".field__mend")).to_have_count(0)


def test_the_earlier_value_stays_with_its_reason(bench: Page, served: str, tmp_path: Path) -> None:
    begun(bench, served)
    cold_coil(bench)
    bench.locator(field(bench, "ohms", "coil.resistance")).blur()
    assert bench.locator(".field__mend").count() == 0  # the first value corrects nothing
    bench.reload()
    correct(bench, "ohms", "coil.resistance", "19.4; 19.5", "leads <b>not</b> subtracted")
    earlier = bench.locator('[data-step="ohms"] .field__earlier:not(:empty)')
    expect(earlier).to_contain_text("Earlier: 26 Ω (leads <b>not</b> subtracted, 20")
    expect(bench.locator('[data-step="ohms"] .judged')).to_contain_text("accept")
    bench.locator(field(bench, "ohms", "coil.resistance")).fill("")  # emptied on the way to another figure
    correct(bench, "ohms", "coil.resistance", "19.6", "read again")
    expect(earlier).to_contain_text("Earlier: 26 Ω; then 19.4 Ω; 19.5 Ω (leads <b>not</b> subtracted; read again, 20")
    path = save(bench, tmp_path)
    kept = tomllib.loads(path.read_text("utf-8"))["coil"][0]["resistance"]
    assert kept.pop("at").isoformat() == bench.evaluate(
        "new Date(Date.now() - new Date().getTimezoneOffset() * 60000).toISOString().slice(0, 10)"
    )
    assert kept == {
        "value": "19.6 Ω", "earlier": ["26 Ω", "19.4 Ω; 19.5 Ω"], "why": "leads <b>not</b> subtracted; read again",
    }  # fmt: skip
    (correction,) = read_job(path).corrections
    assert (correction["now"], correction["earlier"]) == ("19.6 Ω", kept["earlier"])
    assert told(bench) == at_desk(path) != []


def test_a_word_and_a_reading_with_its_instrument_keep_what_they_carry(
    bench: Page, served: str, tmp_path: Path
) -> None:
    path = tmp_path / "job.toml"
    path.write_text(
        'id = "7"\n[outside]\nscrews = "missing"\ncrack = true\n[oil]\nviscosity_40 = "46 cSt"\n'
        '[valve]\nspool_diameter = { value = "12 mm", uncertainty = "1 µm", earlier = ["11 mm"], why = "slip" }\n',
        "utf-8",
    )
    bench.goto(served + SHEET)
    bench.set_input_files("input[type=file]", path)
    stage(bench, "Before anything else")
    correct(bench, "outside", "outside.screws", "complete", "one was in the bag")
    correct(bench, "outside", "outside.crack", "no", "dirt")
    stage(bench, "Opened")
    put(bench, "fit", "valve.spool_diameter", "13")  # a slip: the offer is left alone
    raw = tomllib.loads(save(bench, tmp_path).read_text("utf-8"))
    assert raw["outside"]["screws"] | {"at": ""} == {
        "value": "complete", "earlier": ["missing"], "why": "one was in the bag", "at": "",
    }  # fmt: skip
    assert raw["outside"]["crack"] | {"at": ""} == {"value": False, "earlier": ["yes"], "why": "dirt", "at": ""}
    assert raw["valve"]["spool_diameter"] == {
        "value": "13 mm", "uncertainty": "1 µm", "earlier": ["11 mm"], "why": "slip",
    }  # fmt: skip
    job = read_job(path)
    assert job.tables["outside"]["screws"] == "complete" and job.tables["outside"]["crack"] is False
    assert len(job.corrections) == 3
