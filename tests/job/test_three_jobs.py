"""Three jobs as a new user writes them: what is answered, what is refused, what is missing; and nothing promised."""

import json
from pathlib import Path
from re import DOTALL, sub
from typing import Any

import pytest

from valvecalc.job.publish import publish, work_job
from valvecalc.report import html, text

Table = dict[str, Any]
JOBS = Path(__file__).parent / "jobs"
NEVER = ("safe", "harmless", "guarantee", "cannot fail", "no risk", "will hold")


@pytest.fixture(scope="module")
def told() -> dict[str, Table]:
    return {name: work_job(JOBS / f"{name}.toml") for name in ("five-readings", "us/baler-ac", "worn-and-stiff")}


def needs(report: Table) -> set[str]:
    return {need["entry"] for row in report["not_computed"] for need in row["needs"]}


def test_five_readings(told: dict[str, Table]) -> None:
    """By hand: 1 - (14.0/20.0)²·(25.1/21.6)², the state with the ports plugged; flow and hold were not read."""
    report = told["five-readings"]
    share = 1 - (14.0 / 20.0) ** 2 * (25.1 / 21.6) ** 2
    bench = next(row for row in report["answers"] if row["id"] == "bench-margin")
    assert bench["result"]["value"] == pytest.approx(100 * share, rel=1e-12)
    head = report["headline"]
    assert head["verdict"] == "cannot tell"
    assert f"{100 * share:.0f} % of its force in hand with the ports plugged" in head["sentence"]
    assert any(
        "Read next on coil b: volts and ohms at pick-up with flow and after a hold" in one for one in head["actions"]
    )
    assert report["charts"] == []  # a bar with "sign-off" on it would say more than the readings do
    assert {"spool_diameter", "plug_voltage", "flow_voltage", "dwell_voltage"} <= needs(report)
    assert "Take nothing as tested" in " ".join(text.render(report).split())


def test_ac_and_us_units(told: dict[str, Table]) -> None:
    report = told["us/baler-ac"]
    head = report["headline"]
    assert head["verdict"] == "will not shift"
    assert "Coil left did not shift after a hold at 108 V." in head["sentence"]
    assert "Coil right shifted with the ports plugged at 102 V and after a hold at 108 V." in head["sentence"]
    assert any("Coil left does not shift after a hold: clean the oil" in one for one in head["actions"])
    assert [text for text in report["warnings"] if "Coil left does not shift reliably" in text]
    results = {row["name"]: row for answer in report["answers"] for row in answer["results"]}
    # no current, power or force from the ohms of an AC coil
    assert not {"cold_current", "cold_power", "hot_current", "hot_force_share", "margin_share"} & set(results)
    assert not {"cold_power", "cold_current"} & {step["name"] for one in report["answers"] for step in one["steps"]}
    assert results["clearance_touching"]["unit"] == "thou"
    assert results["viscosity"]["unit"] == "cP"
    assert any("gauge was calibrated until 2026-06-30" in one for one in report["assumed"])


def test_a_spring_and_a_clearance_out_of_limit(told: dict[str, Table]) -> None:
    """Spring by hand: rate (78 - 34) N over 4 mm = 11 N/mm; preload 34 N + 11 N/mm · 0.6 mm = 40.6 N."""
    report = told["worn-and-stiff"]
    budget = next(row for row in report["answers"] if row["id"] == "shift-budget")
    assert budget["inputs"]["spring_rate"]["si"] == pytest.approx(11e3, rel=1e-9)
    assert budget["inputs"]["spring_preload"]["si"] == pytest.approx(40.6, rel=1e-9)
    assert report["headline"]["verdict"] == "will not shift"
    assert report["headline"]["actions"][0].startswith("The spring takes ")
    assert any("45 µm ± 2 µm across, a new fit 11 µm at most: worn" in one for one in report["headline"]["actions"])
    fit = next(row for row in report["verdicts"] if row["subject"].startswith("spool and bore"))
    assert fit["verdict"] == "reject"
    preload = next(
        row for row in report["thresholds"] if row["entry"] == "spring_preload" and row["direction"] == "energise"
    )
    assert preload["value"]["value"] < 40.6
    assert "it alone would make the valve shift" in preload["sentence"]
    assert not any(row["entry"] == "tank_pressure" for row in report["thresholds"])  # raising it is no cure
    assert report["repairs"][0]["band"] in ("works", "sign-off")


@pytest.mark.parametrize("name", ["five-readings", "us/baler-ac", "worn-and-stiff"])
def test_nothing_is_promised_and_everything_renders(name: str, told: dict[str, Table]) -> None:
    report = told[name]
    for page in (text.render(report), text.render(report, brief=True), html.render(report)):
        words = sub(r"<style>.*?</style>|<[^>]*>", " ", page, flags=DOTALL)
        for word in NEVER:
            assert word not in words.lower(), word
        assert "None" not in words
    brief = " ".join(line.lstrip("! ") for line in text.render(report, brief=True).splitlines())
    for caution in [*report["cautions"], *(one for row in report["answers"] for one in row["cautions"])]:
        assert caution in brief
    json.dumps(report, allow_nan=False)


def test_each_caution_once(told: dict[str, Table]) -> None:
    for report in told.values():
        cautions = [*report["cautions"], *(one for row in report["answers"] for one in row["cautions"])]
        assert len(cautions) == len(set(cautions))


def test_nothing_is_left_half_written(told: dict[str, Table], tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    report = told["five-readings"]
    publish(report, tmp_path)
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    written: list[int] = []

    def full(file: int) -> None:
        written.append(file)
        if len(written) == 3:
            raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    with pytest.raises(OSError, match="No space left"):
        publish({**report, "made": "2027-01-01"}, tmp_path)
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_the_file_name_is_the_job_number_and_stays_in_its_folder(told: dict[str, Table], tmp_path: Path) -> None:
    report = told["five-readings"]
    odd = {**report, "job": {**report["job"], "id": "../../etc/A 7"}}
    assert {path.parent for path in publish(odd, tmp_path / "out")} == {tmp_path / "out"}


def test_two_readings_of_one_path_both_stay(told: dict[str, Table], tmp_path: Path) -> None:
    job = (JOBS / "us" / "baler-ac.toml").read_text("utf-8")
    start, end = job.index("[[leakage]]"), job.index("[stand]")
    (tmp_path / "job.toml").write_text(job.replace("[stand]", job[start:end] + "[stand]"), "utf-8")
    report = work_job(tmp_path / "job.toml", JOBS / "us" / "shop.toml")
    assert sum(row["id"] == "leak-check" for row in report["answers"]) == 2


def test_a_coil_that_says_nothing_is_no_answer(tmp_path: Path) -> None:
    """Volts of the plate alone: nothing follows, no drop is made up from the plate, and what to read is told."""
    (tmp_path / "job.toml").write_text(
        '[supply]\nsource_voltage = "47 V"\n[[coil]]\nname = "a"\nnominal_voltage = "48 V"\n', "utf-8"
    )
    report = work_job(tmp_path / "job.toml")
    assert (report["answers"], report["verdicts"]) == ([], [])
    assert report["headline"]["verdict"] == "cannot tell"
    assert "plug_voltage" in needs(report)
