"""Main spool, pilot plugs and crossing: figures worked by hand beside them."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.door import calc, find
from valvecalc.facts import fact_value
from valvecalc.judge import verdicts

MAIN = {
    "pilot_pressure": "12 bar", "drain_pressure": "2 bar", "spool_diameter": "20 mm", "stroke": "6 mm",
    "spring_preload": "60 N", "spring_rate": "10 N/mm", "dry_friction": "8 N", "choke_diameter": "1 mm",
    "density": "850 kg/m³",
}  # fmt: skip
FLOW = {"pump_flow": "100 L/min", "available_drop": "100 bar", "flow_force_factor": "0.2"}
AREA = math.pi / 4 * 0.02**2


def test_the_main_spool_by_hand() -> None:
    """10 bar on 314.16 mm² drive with 314.16 N; 68 N hold at the start, 128 N at the end of the spring."""
    found = calc("two-stage-shift", **MAIN, **FLOW).results
    assert found["pilot_difference"] == pytest.approx(10e5)
    assert found["pilot_force"] == pytest.approx(314.159, abs=1e-3)
    assert found["start_margin"] == pytest.approx(314.159 - 68, abs=1e-3)
    assert found["end_margin"] == pytest.approx(314.159 - 128, abs=1e-3)
    flow_force = 0.2 * 0.98 * math.cos(math.radians(69)) * (0.1 / 60) * 2 * math.sqrt(850 * 100e5)
    assert found["peak_flow_force"] == pytest.approx(flow_force, rel=1e-9)
    assert found["margin"] == pytest.approx(314.159 - 128 - flow_force, abs=1e-3)
    assert found["margin_share"] == pytest.approx(1 - (128 + flow_force) / (10e5 * AREA), rel=1e-9)
    assert found["required_pilot_pressure"] == pytest.approx(2e5 + (128 + flow_force) / AREA, rel=1e-9)
    assert found["return_margin"] == pytest.approx(52.0)
    root = (math.sqrt(10e5 - 68 / AREA) + math.sqrt(10e5 - 128 / AREA)) / 2
    speed = 0.61 * (math.pi / 4 * 1e-6) * math.sqrt(2 / 850) * root / AREA
    assert found["pilot_shift_time"] == pytest.approx(0.006 / speed, rel=1e-9)


def test_at_the_required_pressure_nothing_is_left() -> None:
    needed = calc("two-stage-shift", **MAIN, **FLOW).results["required_pilot_pressure"]
    assert calc("two-stage-shift", **MAIN | FLOW | {"pilot_pressure": needed}).results["margin"] == pytest.approx(
        0.0, abs=1e-9
    )


def test_without_the_flow_it_says_what_is_lacking_and_tells_the_rest() -> None:
    answer = calc("two-stage-shift", **MAIN)
    assert "margin_share" not in answer.results and "start_margin" in answer.results
    assert {lack.entry for lack in answer.missing} == {"pump_flow", "available_drop"}


@given(drain=st.floats(0, 9), more=st.floats(0.01, 5))
def test_back_pressure_in_the_drain_takes_from_the_shift_and_not_from_the_return(drain: float, more: float) -> None:
    less, higher = (
        calc("two-stage-shift", **MAIN | FLOW | {"drain_pressure": p * 1e5}).results for p in (drain, drain + more)
    )
    assert less["margin"] - higher["margin"] == pytest.approx(more * 1e5 * AREA, rel=1e-9)
    assert less["return_margin"] == higher["return_margin"]


def test_a_drain_above_the_pilot_gives_no_share_and_no_time() -> None:
    found = calc("two-stage-shift", **MAIN | FLOW | {"drain_pressure": "13 bar"})
    assert "margin_share" not in found.results and "pilot_shift_time" not in found.results
    assert found.results["start_margin"] < 0
    assert verdicts(found)["margin_share"] == "unknown"


def test_a_spool_that_stops_half_way_has_no_time() -> None:
    """3 bar leave 94 N: more than the 68 N at the start, less than the 128 N at the end."""
    found = calc("two-stage-shift", **MAIN | FLOW | {"pilot_pressure": "5 bar"}).results
    assert found["start_margin"] > 0 > found["end_margin"]
    assert "pilot_shift_time" not in found


@pytest.mark.parametrize(("pilot_pressure", "verdict"), [("20 bar", "accept"), ("7.5 bar", "reject")])
def test_it_is_judged_by_the_share_in_hand(pilot_pressure: str, verdict: str) -> None:
    answer = calc("two-stage-shift", **MAIN | FLOW | {"pilot_pressure": pilot_pressure})
    assert verdicts(answer)["margin_share"] == verdict


# ---------------------------------------------------------------- plugs


def test_every_setting_of_the_plugs_has_its_words() -> None:
    settings = {(a, b) for a in ("internal", "external") for b in ("internal", "external")}
    rows = fact_value("pilot-plugs")
    assert {(row["pilot_supply"], row["pilot_drain"]) for row in rows} == settings and len(rows) == 4
    for supply, drain in settings:
        answer = calc("pilot-plugs", pilot_supply=supply, pilot_drain=drain)
        (row,) = (row for row in rows if (row["pilot_supply"], row["pilot_drain"]) == (supply, drain))
        assert answer.results == {name: row[name] for name in find("pilot-plugs").results}
        assert ("X" in answer.results["plug_openings"]) and ("Y" in answer.results["plug_openings"])
    assert len({row["plug_wrong"] for row in rows}) == 4


# ---------------------------------------------------------------- crossing

ALL_SHUT = {
    "inlet_overlap": "1 mm", "return_overlap": "0.8 mm", "opposite_inlet_overlap": "1 mm",
    "opposite_return_overlap": "0.8 mm", "stroke": "3 mm",
}  # fmt: skip


def overlaps(*values: float) -> dict[str, Any]:
    names = ("inlet_overlap", "return_overlap", "opposite_inlet_overlap", "opposite_return_overlap")
    return {name: f"{value} mm" for name, value in zip(names, values, strict=True)} | {"stroke": "3 mm"}


def test_a_closed_crossing_by_hand() -> None:
    """P opens to the driven port 1 mm past centre, the driven port leaves T 0.8 mm before it: shut for 1.8 mm."""
    found = calc("crossing", **ALL_SHUT).results
    assert found["crossing_verdict"] == "P never joined to T"
    assert found["centre_condition"] == "all ports shut"
    assert found["driven_gap"] == pytest.approx(1.8e-3) and found["other_gap"] == pytest.approx(1.8e-3)
    assert found["return_lead"] == pytest.approx(0.2e-3)


@pytest.mark.parametrize(
    ("given", "centre", "crossing"),
    [
        (overlaps(1, 1, 1, 1), "all ports shut", "P never joined to T"),
        (overlaps(1, -0.4, 1, -0.4), "P shut, A and B joined to T", "P never joined to T"),
        (overlaps(0.3, -0.4, 0.3, -0.4), "P shut, A and B joined to T", "P joined to T on the way"),
        (overlaps(-0.4, -0.4, -0.4, -0.4), "P joined to T", "P joined to T on the way"),
        (overlaps(-0.4, 1, -0.4, 1), "T shut, A and B joined to P", "P never joined to T"),
        (overlaps(1, 1, 1, -0.4), "one working port open", "P never joined to T"),
        (overlaps(0, 0, 0, 0), "all ports shut", "P never joined to T"),
    ],
)
def test_the_usual_centres(given: dict[str, str], centre: str, crossing: str) -> None:
    found = calc("crossing", **given).results
    assert (found["centre_condition"], found["crossing_verdict"]) == (centre, crossing)


@given(st.lists(st.floats(-2, 2), min_size=4, max_size=4))
def test_the_rows_show_what_the_verdict_says(values: list[float]) -> None:
    """P meets T where both edges of one port stand open in one row."""
    found = calc("crossing", **overlaps(*values)).results
    rows = found["crossing_rows"]
    assert [row["position"] for row in rows] == sorted(row["position"] for row in rows)
    joined = any(
        (row["inlet_opening"] > 0 and row["opposite_return_opening"] > 0)
        or (row["return_opening"] > 0 and row["opposite_inlet_opening"] > 0)
        for row in rows
    )
    if joined:
        assert found["crossing_verdict"] == "P joined to T on the way"
    if min(found["driven_gap"], found["other_gap"]) < -0.4e-3:  # wider than a step of the rows
        assert joined
    for row in rows:
        assert row["inlet_opening"] == pytest.approx(max(row["position"] - values[0] * 1e-3, 0.0), abs=1e-12)
        assert row["opposite_inlet_opening"] == pytest.approx(max(-row["position"] - values[2] * 1e-3, 0.0), abs=1e-12)
