"""As found and as left: judged beside each other, never mixed."""

import copy
from collections.abc import Callable
from typing import Any

import pytest

from tests.job.test_fields import prepared, told
from valvecalc.errors import InputError
from valvecalc.report import html, text

Table = dict[str, Any]
Work = Callable[..., tuple[Any, Table]]

TRIALS = [
    {"state": "dwell", "when": "as-left", "voltage": "29 V", "resistance": "65.4 ohm", "hold_time": "15 min"},
    {"state": "flow", "when": "as-left", "voltage": "32 V", "resistance": "65.8 ohm"},
]
LEFT: Table = {
    "leakage": {"path": "P to T", "leakage": "9 mL/min", "pressure_drop": "114 bar", "oil_temperature": "45 °C"},
    "drift": {"path": "boom, sinking", "drift_distance": "3 mm", "drift_time": "4 min", "allowed_drift": "1.5 mm/min"},
    "loss": {"path": "P to A", "measured_drop": "6 bar", "flow": "44 L/min", "rated_drop": "5.8 bar",
             "rated_flow": "40 L/min"},
    "coil": {"name": "a", "hot_resistance": "79 ohm", "plug_voltage": "47 V", "insulation": "0.4 MΩ"},
}  # fmt: skip


def with_left() -> Table:
    """The job of the field tests with every kind of reading taken again after the work."""
    job = prepared(())
    for name, row in LEFT.items():
        job[name].append(copy.deepcopy(row) | {"when": "as-left"})
    job["coil"][0]["pickup"] += copy.deepcopy(TRIALS)
    job["stand"] = [job["stand"], {"when": "as-left", "extend_time": "1.2 s"}]
    return job


@pytest.mark.usefixtures("without_causes")
def test_readings_as_left_change_nothing_as_found(work: Work) -> None:
    plain, both = work(prepared(()))[1], work(with_left())[1]
    found = told(both)
    added = [row for row in both["answers"] if row.get("when") == "as-left"]
    assert len(added) == 6
    found["answers"] = [[row["results"], row["sentences"]] for row in both["answers"] if row.get("when") != "as-left"]
    for key in ("as_left", "headline_left"):
        assert found.pop(key)
    before = told(plain)
    assert [before.pop(key) for key in ("as_left", "headline_left")] == [[], {}]
    for report in (found, before):  # the state now is another one: test_now
        del report["warnings"], report["now"]
    found["not_computed"] = [row for row in found["not_computed"] if not row["what"].startswith("As left")]
    assert found == before


@pytest.mark.usefixtures("without_causes")
def test_each_is_judged_beside_the_first(work: Work) -> None:
    """3 mm in 4 min is 0.75 of 1.5 mm/min; 47 V of 48 V is 2.1 % low; by hand 1 - (32/65.8)²·(79/42)² = 16.3 %."""
    report = work(with_left())[1]
    verdicts = {row["subject"]: (row["found_verdict"], row["verdict"]) for row in report["as_left"]}
    by_start = {name.partition(":")[0]: pair for name, pair in verdicts.items()}
    assert by_start["drift 1, boom, sinking"] == ("reject", "accept")
    assert by_start["loss 1, P to A"] == ("reject", "accept")
    assert verdicts["coil a: resistance from both pins of a coil to its case"] == ("accept", "reject")
    (supply,) = [row for row in report["as_left"] if "against nominal" in row["subject"]]
    assert supply["sentence"].startswith("−2.08 %")
    share = 1 - (32 / 65.8) ** 2 * (79 / 42) ** 2
    (bench,) = [row for row in report["answers"] if row["id"] == "bench-margin" and row.get("when") == "as-left"]
    assert bench["result"]["value"] == pytest.approx(100 * share, rel=1e-9)
    assert f"{100 * share:.0f} %" in report["headline_left"]["sentence"]
    for page in (html.render(report), text.render(report)):
        assert report["headline_left"]["sentence"] in " ".join(page.replace("&#x27;", "'").split())


@pytest.mark.usefixtures("without_causes")
def test_what_was_not_read_again_is_not_taken_from_before(work: Work) -> None:
    """Oil temperature and clearance as found say nothing of the valve as left; the grade of the oil does."""
    job = prepared(())
    job["leakage"].append({"when": "as-left", "path": "P to T", "leakage": "9 mL/min", "pressure_drop": "114 bar"})
    findings, report = work(job)
    (answer,) = findings.left.leaks.values()
    assert "diametral_clearance" not in answer.entries
    assert answer.entries["viscosity_40"].text == "46 mm²/s"
    assert any(row["what"].startswith("As left, leakage P to T") for row in report["not_computed"])
    assert "clearance_touching" not in answer.results
    job["oil"] = [job["oil"], {"when": "as-left", "oil_temperature": "45 °C"}]
    (answer,) = work(job)[0].left.leaks.values()
    assert answer.results["clearance_touching"] > 0


def test_a_job_without_readings_as_left_says_nothing_of_them(work: Work) -> None:
    report = work({"leakage": [{"path": "P to T", "leakage": "9 mL/min"}]})[1]
    assert (report["as_left"], report["headline_left"]) == ([], {})
    assert "As left" not in html.render(report)


def test_two_of_one_kind_are_refused(read: Callable[..., Any]) -> None:
    job = with_left()
    job["stand"].append({"when": "as-left", "extend_time": "1.3 s"})
    job["coil"].append({"name": "a", "when": "as-left"})
    job["coil"][0]["pickup"].append(TRIALS[0])
    job["decision"] = {"what": "scrap"}
    with pytest.raises(InputError) as fault:
        read(job)
    assert {one.entry for one in fault.value.troubles} == {"stand", "coil.name", "coil a.pickup", "decision.what"}


def test_limits_hold_as_left_too(work: Work) -> None:
    job = {"leakage": [{"when": "as-left", "leakage": "-3 mL/min"}], "loss": [{"flow": "-4 L/min"}]}
    with pytest.raises(InputError) as fault:
        work(job)
    assert [one.entry for one in fault.value.troubles] == ["loss 1.flow", "as left, leakage 1.leakage"]
