"""Limit curve and limit point: against the hand budget, and against each other."""

import pytest

from tests.sheets.hand_budget import BAR, LPM, PLAIN, hand_least, valve
from valvecalc.compiled import fast
from valvecalc.door import calc, find

CURVE, POINT = fast(find("limit-curve")), fast(find("limit-point"))


def test_at_each_limit_nothing_is_left_by_hand() -> None:
    found = CURVE(valve())
    assert hand_least(PLAIN | {"pump_flow": found["limit_flow"]})["margin"] == pytest.approx(0.0, abs=1e-7)
    rows = [row for row in found["limit_rows"] if row["limit_flow"] is not None]
    assert len(rows) >= 5
    for row in rows:
        there = PLAIN | {"supply_pressure": row["supply_pressure"], "pump_flow": row["limit_flow"]}
        assert hand_least(there)["margin"] == pytest.approx(0.0, abs=1e-7)
        as_entered = hand_least(there | {"pump_flow": PLAIN["pump_flow"]})["margin"]
        assert row["margin"] == pytest.approx(as_entered, rel=1e-9)
        assert (row["margin"] > 0) == (row["limit_flow"] > PLAIN["pump_flow"])


def test_the_limit_falls_with_pressure_and_its_own_pressure_is_among_the_rows() -> None:
    found = CURVE(valve())
    rows = [row for row in found["limit_rows"] if row["limit_flow"] is not None]
    flows = [row["limit_flow"] for row in rows]
    assert flows == sorted(flows, reverse=True)
    (own,) = (row for row in rows if row["supply_pressure"] == PLAIN["supply_pressure"])
    assert own["limit_flow"] == pytest.approx(found["limit_flow"], rel=1e-12)


def test_a_valve_that_does_not_shift_has_no_limit_and_nothing_in_hand() -> None:
    found = CURVE(valve(dry_friction=90.0))
    assert found["limit_flow"] is None
    assert all(row["limit_flow"] is None and row["margin"] < 0 for row in found["limit_rows"])


def test_the_direction_and_state_entered_do_not_matter() -> None:
    asked = CURVE(valve(direction="release", state="blocked"))
    assert asked["limit_flow"] == CURVE(valve())["limit_flow"]


def test_the_factor_of_a_limit_that_the_curve_gave_is_the_valves_own() -> None:
    limit = CURVE(valve())["limit_flow"]
    found = POINT(valve(pump_flow=limit, flow_force_factor=1.0))["calibrated_factor"]
    assert found == pytest.approx(PLAIN["flow_force_factor"], rel=1e-6)


WORKED = {
    "direction": "energise", "state": "flow", "driven_port": "B", "spool_diameter": "16 mm", "clearance": "6 µm",
    "stroke": "3.6 mm", "overlap": "1.6 mm", "spring_preload": "22 N", "spring_rate": "6.5 N/mm",
    "coil_voltage": "99 V", "winding_temperature": "94 °C", "resistance_20": "336 Ω",
    "force_curve": "-0.6 mm 48 N; 0 mm 52 N; 0.6 mm 55.5 N; 1.2 mm 61 N; 1.8 mm 69 N; 2.4 mm 82 N; 3 mm 104 N; "
    "3.6 mm 142 N",
    "curve_voltage": "99 V", "curve_temperature": "94 °C", "curve_resistance_20": "336 Ω",
    "lands": [
        {"high_port": h, "low_port": low, "opens_for": o, "taper": "0 µm", "live_grooves": "3"}
        for h, low, o in (("P", "A", "A"), ("P", "B", "B"), ("A", "T", "B"), ("B", "T", "A"))
    ],
    "density": "849.08 kg/m³", "tank_pressure": "0 bar", "load_pressure_difference": "0 bar", "return_ratio": "1",
    "dry_friction": "1.5 N", "friction_coefficient": "0.14", "discharge_coefficient": "0.65",
}  # fmt: skip


def test_the_factor_of_the_worked_valve() -> None:
    """Independent calculation, no published source: 100 L/min at 210 bar just pass: 0.2283."""
    found = calc("limit-point", **WORKED, supply_pressure="210 bar", pump_flow="100 L/min")
    assert found.value == pytest.approx(0.2283, abs=1e-4)


@pytest.mark.parametrize(("bars", "expected"), [(140, 133.1), (210, 100.0), (280, 83.3)])
def test_the_limits_of_the_worked_valve(bars: int, expected: float) -> None:
    """Independent calculation, no published source: within 1 %; not limited at 70 bar below 400 L/min."""
    worked = {**WORKED, "supply_pressure": f"{bars} bar", "pump_flow": "55 L/min", "flow_force_factor": "0.2283"}
    found = calc("limit-curve", **worked).results
    assert found["limit_flow"] / LPM == pytest.approx(expected, rel=0.01)
    (lowest, *_) = found["limit_rows"]
    assert lowest["supply_pressure"] == pytest.approx(50 * BAR)
    assert lowest["limit_flow"] is None or lowest["limit_flow"] > 400 * LPM
