"""The state that a report tells first: now, and not as it was found. No warning is lost that was not read away."""

import copy
from collections.abc import Callable
from typing import Any

import pytest

from tests.job.test_fields import prepared
from valvecalc.report import html, text
from valvecalc.report.pdf_pages import document

Table = dict[str, Any]
Work = Callable[..., tuple[Any, Table]]
pytestmark = pytest.mark.usefixtures("without_causes")

GOOD = {
    "dwell": {"voltage": "24 V", "resistance": "65.4 ohm", "hold_time": "15 min"},
    "flow": {"voltage": "25 V", "resistance": "65.8 ohm"},
}
BAD = {
    "dwell": {"voltage": "36 V", "resistance": "65.4 ohm", "hold_time": "15 min"},
    "flow": {"voltage": "34.5 V", "resistance": "65.8 ohm"},
}


def job(left: Table | None = None, **more: Any) -> Table:
    """The job of the field tests, its coil too weak by its budget; read again after the work where `left` says so."""
    told = prepared(())
    told["coil"][0]["plug_voltage"] = "36 V"
    if left:
        trials = [{"state": state, "when": "as-left"} | row for state, row in left.items()]
        told["coil"][0]["pickup"] += trials
        told["coil"].append({"name": "a", "when": "as-left", "hot_resistance": "79 ohm"})
    return copy.deepcopy(told | more)


def shifting(report: Table) -> list[str]:
    return [one for one in report["warnings"] if "does not shift reliably" in one]


def test_a_coil_that_was_found_weak_is_warned_of(work: Work) -> None:
    report = work(job())[1]
    assert shifting(report) and not any(one.startswith(("As", "The old")) for one in report["warnings"])
    assert report["now"]["title"].startswith("The valve now, as found: ")
    assert report["now"]["sentence"] == report["headline"]["sentence"]


@pytest.mark.parametrize(("volts", "warned"), [("21 V", True), ("12 V", False)])
def test_pick_up_readings_alone_warn_too(work: Work, volts: str, warned: bool) -> None:
    """Of the force at 21.6 V, (21/21.6)² = 95 % is asked; of that at 12 V, 31 %."""
    pickup = [{"state": state, "voltage": volts, "resistance": "25 ohm"} for state in ("flow", "dwell")]
    coil = {"name": "b", "nominal_voltage": "24 V", "hot_resistance": "25 ohm", "pickup": pickup}
    report = work({"id": "1", "supply": {"minimum_voltage": "21.6 V"}, "coil": [coil]})[1]
    assert bool(shifting(report)) is warned, report["headline"]


def test_a_coil_that_was_read_again_and_shifts_is_not(work: Work) -> None:
    report = work(job(GOOD))[1]
    assert report["now"]["title"] in ("The valve now: sign-off", "The valve now: works")
    assert report["now"]["sentence"] == report["headline_left"]["sentence"]
    assert shifting(report) == []
    assert report["headline"]["verdict"] in ("erratic", "will not shift")


def test_a_coil_that_was_read_again_and_is_still_weak_is(work: Work) -> None:
    report = work(job(BAD))[1]
    assert report["now"]["verdict"] in ("erratic", "will not shift")
    assert [one.partition(":")[0] for one in shifting(report)] == ["As left"]


def test_half_a_reading_takes_no_warning_away(work: Work) -> None:
    """Without a hold and flow nothing is said of its duty."""
    report = work(job({"no-pressure": {"voltage": "20 V", "resistance": "65 ohm"}}))[1]
    assert report["now"]["verdict"] == "cannot tell"
    assert [one.partition(":")[0] for one in shifting(report)] == ["As found, and not read again after the work"]


def test_a_coil_that_was_not_read_again_is_named(work: Work) -> None:
    told = job(GOOD)
    told["coil"].append({**copy.deepcopy(told["coil"][0]), "name": "b"})
    told["coil"][-1]["pickup"] = [row for row in told["coil"][-1]["pickup"] if "when" not in row]
    report = work(told)[1]
    assert "Not read again after the work: coil b." in report["now"]["remarks"]
    assert [one for one in shifting(report) if "not read again" in one and "Coil b" in one]
    assert not [one for one in shifting(report) if "Coil a" in one]


def test_work_without_a_reading_after_it_proves_nothing(work: Work) -> None:
    run = [{"test": "shifts", "result": "pass"}, {"test": "leaks", "result": "fail"}]
    report = work(job(work_done=["washed"], acceptance=run))[1]
    assert report["now"]["title"] == "The valve now: not read again after the work"
    assert report["now"]["verdict"] == "unknown"
    assert "Acceptance run: 1 passed, 1 failed." in report["now"]["remarks"]
    assert shifting(report)


@pytest.mark.parametrize(
    ("decision", "title"),
    [
        ("no-fault-found", "The valve now, as it came: "),
        ("declined", "The valve now, as it came: "),
        ("scrap", "The valve now: scrap"),
        ("replace", "The valve now: not read again"),
    ],
)
def test_the_decision_says_what_became_of_it(decision: str, title: str, work: Work) -> None:
    report = work(job(decision={"what": decision}))[1]
    assert report["now"]["title"].startswith(title)
    assert shifting(report)
    assert all(one.startswith("The old valve. ") for one in shifting(report)) is (decision == "replace")


def test_another_valve_in_its_place(work: Work) -> None:
    report = work(job(GOOD, decision={"what": "exchange"}))[1]
    assert report["now"]["title"].startswith("The valve in its place now: ")
    assert all(one.startswith("The old valve. ") for one in shifting(report))


def test_it_stands_first_in_every_form_and_what_to_do_below_the_cautions(work: Work) -> None:
    report = work(job(GOOD))[1]
    kinds = [(row["kind"], row.get("look", "")) for row in document(report, {})["blocks"]]
    assert kinds.index(("box", "headline")) < kinds.index(("facts", "")) < kinds.index(("box", "caution"))
    page, told = html.render(report), text.render(report)
    assert page.index(report["now"]["title"]) < page.index("Before any work") < page.index("As found: ")
    assert page.index("As found: ") < page.index("What must be put right")
    assert told.index(report["now"]["title"].upper()) < told.index("BEFORE ANY WORK") < told.index("What must be put")
