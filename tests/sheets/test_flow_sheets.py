"""Flow paths: losses of a path warm and cold, one point drawn on, valve and cylinder together.

"Independent calculation, no published source": as in test_sheets.py.
"""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from valvecalc.answer import Answer
from valvecalc.door import calc
from valvecalc.judge import verdicts

BAR, L_MIN = 1e5, 1e-3 / 60

# ---------------------------------------------------------------- a path's curve

POINTS = "10 L/min 0.45 bar; 20 L/min 1.35 bar; 30 L/min 2.7 bar; 40 L/min 4.5 bar; 50 L/min 6.7 bar; 60 L/min 9.4 bar"
CURVE = {
    "path_points": POINTS,
    "curve_viscosity": "46 mm²/s",
    "viscosity_40": "46 mm²/s",
    "reference_density": "861 kg/m³",
}


def path(**given: Any) -> Answer:
    return calc("path-fit", **{**CURVE, "flow": "30 L/min", "oil_temperature": "40 °C", **given})


def test_two_figures_from_six_points() -> None:
    """Independent calculation, no published source: 0.02271 bar/(L/min), 0.002236 bar/(L/min)², 0.2 %."""
    found = path().results
    assert found["laminar_resistance"] / BAR * L_MIN == pytest.approx(0.02271, abs=5e-6)
    assert found["turbulent_resistance"] / BAR * L_MIN**2 == pytest.approx(0.002236, abs=5e-7)
    assert found["fit_error"] == pytest.approx(0.002, abs=5e-4)
    assert found["flow_reach"] == pytest.approx(0.5, rel=1e-12)


def test_the_oil_of_the_points_loses_as_the_points_do() -> None:
    """At 40 °C the oil has the viscosity and, to 0.03 %, the density of the points: 0.02271 · 30 + 0.002236 · 900."""
    found = path().results
    assert found["curve_drop"] / BAR == pytest.approx(0.02271 * 30 + 0.002236 * 900, abs=1e-3)
    assert found["warm_drop"] == pytest.approx(found["curve_drop"], rel=5e-4)
    assert found["warm_heat"] == pytest.approx(found["warm_drop"] * 30 * L_MIN, rel=1e-12)


def test_cold_oil_raises_the_laminar_part_alone() -> None:
    """Independent calculation, no published source: 9.5 bar at 30 L/min and 500 mm²/s, which VG 46 has near 2 °C."""
    found = path(cold_oil_temperature="2 °C").results
    assert found["cold_viscosity"] * 1e6 == pytest.approx(500, rel=0.03)
    density = 875 * (1 + 6.5e-4 * 13)
    thicker = found["cold_viscosity"] * density / (46e-6 * 861)
    by_hand = 0.02271 * 30 * thicker + 0.002236 * 900 * density / 861
    assert found["cold_drop"] / BAR == pytest.approx(by_hand, rel=1e-3)
    assert found["cold_drop"] / BAR == pytest.approx(9.5, abs=0.3)


def test_the_points_again_warm_and_cold() -> None:
    rows = path(cold_oil_temperature="2 °C").results["path_rows"]
    assert [row["flow"] / L_MIN for row in rows] == pytest.approx([10, 20, 30, 40, 50, 60])
    assert all(row["curve_drop"] == pytest.approx(row["pressure_drop"], rel=0.01) for row in rows)
    assert all(row["cold_drop"] > row["warm_drop"] for row in rows)
    one = path(cold_oil_temperature="2 °C").results
    assert (rows[2]["warm_drop"], rows[2]["cold_drop"]) == pytest.approx(
        (one["warm_drop"], one["cold_drop"]), rel=1e-12
    )


@pytest.mark.parametrize(("measured", "verdict"), [("2.9 bar", "accept"), ("4.2 bar", "reject")])
def test_a_measured_loss_against_the_expected_one(measured: str, verdict: str) -> None:
    answer = path(measured_drop=measured)
    expected = answer.results["warm_drop"]
    assert answer.results["loss_deviation"] == pytest.approx(float(measured[:3]) * BAR / expected - 1, rel=1e-12)
    assert verdicts(answer)["loss_deviation"] == verdict


def test_beyond_the_points_and_points_that_do_not_fit_are_judged() -> None:
    assert verdicts(path(flow="70 L/min"))["flow_reach"] == "reject"
    assert verdicts(path())["flow_reach"] == "accept"
    astray = POINTS.replace("30 L/min 2.7 bar", "30 L/min 4.2 bar")
    assert verdicts(path(path_points=astray))["fit_error"] == "reject"


def test_without_the_oil_the_figures_of_the_points_stand() -> None:
    found = calc("path-fit", path_points=POINTS, flow="30 L/min").results
    assert "laminar_resistance" in found and "fit_error" in found
    assert not {"warm_drop", "cold_drop", "loss_deviation", "path_rows"} & set(found)
    assert "cold_drop" not in path().results


# ---------------------------------------------------------------- one point


def test_one_point_and_what_its_share_can_do() -> None:
    """Twice the known flow, oil twice as thick: 2.7 · (s · 2 · 2 + (1 − s) · 4), and that is 10.8 whatever s; with oil
    five times as thick 2.7 · (10 s + 4 (1 − s))."""
    point = {"rated_flow": "30 L/min", "rated_drop": "2.7 bar", "flow": "60 L/min"}
    found = calc("rated-point", **point, viscosity="80 mPa·s").results
    three = [found[name] / BAR for name in ("lowest_drop", "pressure_drop", "highest_drop")]
    assert three == pytest.approx([10.8, 10.8, 10.8], rel=1e-12)
    assert found["flow_ratio"] == pytest.approx(2.0, rel=1e-12)
    found = calc("rated-point", **point, viscosity="200 mPa·s").results
    shares = {"lowest_drop": 0.0, "pressure_drop": 0.1, "highest_drop": 0.25}
    for name, share in shares.items():
        assert found[name] / BAR == pytest.approx(2.7 * (10 * share + 4 * (1 - share)), rel=1e-12), name
    assert found["heat"] == pytest.approx(found["pressure_drop"] * 60 * L_MIN, rel=1e-12)


# ---------------------------------------------------------------- valve and cylinder

SAME = dict.fromkeys(("path_pa_drop", "path_bt_drop", "path_pb_drop", "path_at_drop"))


def test_a_two_to_one_cylinder_by_hand() -> None:
    """Bore 100, rod 100/√2: the rod side and the rod are each half the piston. Every path 8 bar at 40 L/min, all
    turbulent, pump 40 L/min, no load, no tank pressure, relief 100 bar.

    Out: back 20 L/min, 2 bar, half of it felt: 1 + 8 = 9 bar. In: back 80 L/min, 32 bar, felt twice: 64 + 8 = 72.
    Joined: in 80 L/min, 32 bar, back 40 L/min, 8 bar: (32 + 8/2) · 2 = 72 bar, at the rod side 80.
    Heat: 8 · 40 + 2 · 20 = 360, 8 · 40 + 32 · 80 = 2880, 32 · 80 + 8 · 40 = 2880 bar·L/min over 600."""
    answer = calc(
        "cylinder-circuit",
        bore_diameter=0.1,
        rod_diameter=0.1 / 2**0.5,
        pump_flow="40 L/min",
        rated_flow="40 L/min",
        **dict.fromkeys(SAME, "8 bar"),
        push_load="0 N",
        pull_load="0 N",
        supply_pressure="100 bar",
        laminar_share="0",
    )
    found = answer.results
    expected = {
        "extend_pump_pressure": 9.0,
        "retract_pump_pressure": 72.0,
        "regenerative_pump_pressure": 72.0,
        "regenerative_rod_pressure": 80.0,
        "extend_drop_out": 2.0,
        "retract_drop_out": 32.0,
        "extend_reserve": 91.0,
        "retract_reserve": 28.0,
        "blocked_rod_pressure": 200.0,
    }
    for name, bar in expected.items():
        assert found[name] / BAR == pytest.approx(bar, rel=1e-9), name
    flows = {"extend_return_flow": 20.0, "retract_return_flow": 80.0, "regenerative_inlet_flow": 80.0}
    for name, flow in flows.items():
        assert found[name] / L_MIN == pytest.approx(flow, rel=1e-9), name
    heats = {"extend_heat": 600.0, "retract_heat": 4800.0, "regenerative_heat": 4800.0}
    for name, heat in heats.items():
        assert found[name] == pytest.approx(heat, rel=1e-9), name
    assert found["regenerative_speed"] == pytest.approx(2 * found["extend_speed"], rel=1e-9)
    assert verdicts(answer)["retract_reserve"] == "accept"


INDEPENDENT = {
    "bore_diameter": "50 mm",
    "rod_diameter": "28 mm",
    "pump_flow": "30 L/min",
    "rated_flow": "30 L/min",
    "laminar_share": "0.2154",
    "tank_pressure": "1 bar",
    **dict.fromkeys(SAME, "2.55 bar"),
}


def test_each_direction_of_an_independent_calculation() -> None:
    """No published source: 50/28 mm, 30 L/min, tank 1 bar, paths alike. Their split between viscosity and square is
    read off the three losses that they print for one path: 2.55, 5.05, 22.11 bar at 30, 43.7, 95.7 L/min."""
    found = calc("cylinder-circuit", **INDEPENDENT, push_load="5 kN", pull_load="2 kN").results
    printed = {
        "extend_pump_pressure": 30.94,
        "extend_cap_pressure": 28.40,
        "extend_rod_pressure": 2.32,
        "extend_drop_out": 1.32,
        "retract_pump_pressure": 26.98,
        "retract_cap_pressure": 6.05,
        "retract_rod_pressure": 24.43,
        "retract_drop_out": 5.05,
        "regenerative_drop_in": 22.11,
        "regenerative_drop_out": 10.79,
        "regenerative_pump_pressure": 179.61,
        "regenerative_rod_pressure": 190.40,
    }
    for name, bar in printed.items():
        assert found[name] / BAR == pytest.approx(bar, rel=1e-3, abs=0.011), name
    assert found["extend_speed"] * 1e3 == pytest.approx(254.6, abs=0.06)
    assert found["retract_speed"] * 1e3 == pytest.approx(371.0, abs=0.06)
    assert found["regenerative_speed"] * 1e3 == pytest.approx(812.0, abs=0.06)
    assert found["retract_return_flow"] / L_MIN == pytest.approx(43.7, abs=0.06)
    assert found["extend_return_flow"] / L_MIN == pytest.approx(20.6, abs=0.06)
    for name, heat in {"extend_heat": 173, "retract_heat": 495, "regenerative_heat": 4707}.items():
        assert found[name] == pytest.approx(heat, rel=3e-3), name


@settings(deadline=None)  # the first call compiles the sheet
@given(st.floats(30, 200), st.floats(0.2, 0.9), st.floats(0, 60_000), st.floats(0, 20), st.floats(0.005, 0.8))
def test_the_pumps_power_is_accounted_for(
    bore: float, share: float, load: float, tank: float, viscosity: float
) -> None:
    """Pump power = load power over efficiency + heat + what the return carries into the tank line."""
    given_ = INDEPENDENT | {
        "bore_diameter": f"{bore} mm",
        "rod_diameter": f"{share * bore} mm",
        "tank_pressure": f"{tank} bar",
        "viscosity": viscosity,
        "push_load": load,
        "pull_load": load,
    }
    found = calc("cylinder-circuit", **given_).results
    pump = 30 * L_MIN
    for way, back in (("extend", "extend_return_flow"), ("retract", "retract_return_flow"), ("regenerative", None)):
        used = load * found[f"{way}_speed"] / 0.95 + found[f"{way}_heat"]
        used += tank * BAR * found[back] if back else 0.0
        assert found[f"{way}_pump_pressure"] * pump == pytest.approx(used, rel=1e-9, abs=1e-6), way


def test_loads_not_given_leave_flows_and_losses() -> None:
    found = calc("cylinder-circuit", **INDEPENDENT).results
    assert {"retract_return_flow", "retract_drop_out", "extend_heat"} <= set(found)
    assert not {"extend_pump_pressure", "retract_pump_pressure", "blocked_rod_pressure", "extend_reserve"} & set(found)
