"""Lines and heat: figures by hand, verdicts either side of the limit, what missing entries leave."""

from typing import Any

import pytest

from valvecalc.answer import Answer
from valvecalc.door import calc
from valvecalc.judge import verdicts
from valvecalc.maths import pi

BAR, L_MIN = 1e5, 1e-3 / 60
OIL = {"viscosity_40": "46 mm²/s", "oil_temperature": "40 °C", "density_15": "870 kg/m³", "thermal_expansion": "0 1/K"}
LINE = {"flow": "30 L/min", "tube_bore": "12 mm", "line_length": "5 m", **OIL}
SPEED = 30 * L_MIN / (pi / 4 * 0.012**2)


def line(**given: Any) -> dict[str, Any]:
    return calc("line-pressure-loss", **{**LINE, **given}).results


def test_a_straight_line_with_calm_oil() -> None:
    """4.421 m/s and 46 mm²/s on 12 mm are Re 1153; 64/Re · 5/0.012 · 870 · v²/2 is 1.966 bar."""
    found = line()
    assert found["line_velocity"] == pytest.approx(4.421, abs=1e-3)
    assert found["line_reynolds_number"] == pytest.approx(SPEED * 0.012 / 46e-6, rel=1e-5)
    assert found["pipe_drop"] / BAR == pytest.approx(1.966, abs=2e-3)
    assert found["line_drop"] == found["pipe_drop"] and found["fitting_drop"] == 0
    assert found["heat"] == pytest.approx(found["line_drop"] * 30 * L_MIN, rel=1e-12)
    assert "cold_line_drop" not in found


def test_fittings_components_and_height_add_up() -> None:
    """Two drilled elbows and a tee: (2500/1153 + 3 · (1 + 25.4/12)) · 870 v²/2 = 0.979 bar; 3 m of oil 0.256 bar."""
    found = line(elbow_count="2", tee_count="1", height="3 m", component_drop="1.5 bar", extra_coefficient="2")
    dynamic = 870 * SPEED**2 / 2
    reynolds = SPEED * 0.012 / 46e-6
    by_hand = (2500 / reynolds + 3.0 * (1 + 25.4 / 12) + 2) * dynamic
    assert found["fitting_drop"] == pytest.approx(by_hand, rel=1e-5)
    assert found["column_difference"] == pytest.approx(870 * 9.80665 * 3, rel=1e-9)
    parts = found["pipe_drop"] + found["fitting_drop"] + 1.5 * BAR + found["column_difference"]
    assert found["line_drop"] == pytest.approx(parts, rel=1e-12)


def test_cold_oil_loses_with_its_viscosity() -> None:
    found = line(cold_oil_temperature="5 °C")
    thicker = found["cold_viscosity"] / found["kinematic_viscosity"]
    assert thicker > 6 and found["cold_line_drop"] == pytest.approx(found["line_drop"] * thicker, rel=1e-4)


@pytest.mark.parametrize(
    ("flow", "kind", "word", "verdict"),
    [
        ("10 L/min", "return", "slower than both guides", "accept"),
        ("24 L/min", "return", "inside both guides", "accept"),
        ("15 L/min", "return", "inside the second guide alone", "accept"),
        ("29 L/min", "return", "inside the first guide alone", "accept"),
        ("40 L/min", "return", "faster than both guides", "reject"),
        ("40 L/min", "pressure above 210 bar", "inside the second guide alone", "accept"),
        ("20 L/min", "suction", "faster than both guides", "reject"),
    ],
)
def test_a_speed_against_two_guides(flow: str, kind: str, word: str, verdict: str) -> None:
    """12 mm: 10 L/min 1.47 m/s, 15 2.21, 20 2.95, 24 3.54, 29 4.27, 40 5.89; return 3.05 to 4.57 and 2 to 4."""
    answer = calc("line-speed", flow=flow, tube_bore="12 mm", line_kind=kind)
    assert answer.results["speed_word"] == word
    assert verdicts(answer)["velocity_share"] == verdict
    assert "flow_word" not in answer.results


def read(measured: str, **given: str) -> Answer:
    return calc("line-loss-check", measured_drop=measured, **{**LINE, **given})


@pytest.mark.parametrize(
    ("measured", "verdict"),
    [("2 bar", "accept"), ("4 bar", "reject"), ("1 bar", "reject"), ("2.5 bar ± 0.4 bar", "cannot-tell")],
)
def test_a_measured_loss_against_the_clean_line(measured: str, verdict: str) -> None:
    assert verdicts(read(measured))["loss_deviation"] == verdict


def test_what_a_measured_loss_means_names_filter_and_hose() -> None:
    meaning = read("6 bar").to_json()["meaning"]
    assert "filter" in meaning[0]["means"] and "hose" in meaning[0]["means"]


def test_pressure_at_the_pump() -> None:
    """Air less 0.5 m of oil (0.0427 bar), 0.1 bar strainer, line and 1.5 times the dynamic pressure."""
    given = {"flow": "30 L/min", "tube_bore": "25 mm", "line_length": "1 m", **OIL}
    found = calc("suction-check", height="0.5 m", component_drop="0.1 bar", **given).results
    speed = 30 * L_MIN / (pi / 4 * 0.025**2)
    pipe = 64 / (speed * 0.025 / 46e-6) / 0.025 * 870 * speed**2 / 2
    by_hand = 101325 - 870 * 9.80665 * 0.5 - 0.1 * BAR - pipe - 1.5 * 870 * speed**2 / 2
    assert found["inlet_pressure_abs"] == pytest.approx(by_hand, rel=1e-6)
    assert found["inlet_pressure"] == pytest.approx(by_hand - 101325, rel=1e-5)
    cold = calc("suction-check", cold_oil_temperature="-10 °C", **{**given, "tube_bore": "20 mm"})
    assert verdicts(cold)["inlet_pressure_abs"] == "accept" and verdicts(cold)["cold_inlet_pressure_abs"] == "reject"


def test_pressure_at_t_takes_the_cold_figure_where_it_is_known() -> None:
    given = {**LINE, "tank_port_limit": "5 bar", "end_pressure": "1 bar"}
    warm = calc("tank-line-pressure", **given)
    line_drop = warm.results["line_drop"]
    assert warm.results["back_pressure"] == pytest.approx(1 * BAR + line_drop, rel=1e-12)
    assert warm.results["back_pressure_share"] == pytest.approx(warm.results["back_pressure"] / (5 * BAR), rel=1e-12)
    assert verdicts(warm)["back_pressure_share"] == "accept"
    cold = calc("tank-line-pressure", cold_oil_temperature="0 °C", **given)
    assert cold.results["back_pressure_share"] > 1 and verdicts(cold)["back_pressure_share"] == "reject"


def test_water_hammer() -> None:
    """Stiff wall: sqrt(1.5e9/870) = 1313 m/s, 4.421 m/s make 50.5 bar; 5 m come back after 7.6 ms; 30 ms: a quarter."""
    given = {"flow": "30 L/min", "tube_bore": "12 mm", "line_length": "5 m"}
    found = calc("water-hammer", closing_time="30 ms", line_pressure="150 bar", **given).results
    assert found["wave_speed"] == pytest.approx(1313.06, abs=0.01)
    assert found["surge_difference"] / BAR == pytest.approx(50.5, abs=0.05)
    assert found["reflection_time"] == pytest.approx(2 * 5 / 1313.06, rel=1e-5)
    assert found["surge_peak_pressure"] / BAR == pytest.approx(150 + 50.5 * 7.616 / 30, abs=0.05)
    hose = calc("water-hammer", effective_bulk_modulus="0.55 GPa", **given).results
    assert hose["real_surge_difference"] == pytest.approx(found["surge_difference"] * (0.55 / 1.5) ** 0.5, rel=1e-9)
    steel = calc("water-hammer", wall_thickness="1.5 mm", line_pressure="150 bar", **given).results
    assert steel["wave_speed"] == pytest.approx(1313.06 / (1 + 1.5e9 * 8 / 210e9) ** 0.5, rel=1e-5)
    assert steel["wall_stress"] == pytest.approx(150 * BAR * 15 / 3, rel=1e-9)
    assert "allow" not in " ".join(steel)


def test_duty_of_a_heat_exchanger() -> None:
    """esposito, 11-4 and 11-5: pump at 85 %, relief half the time, 10 % of that in lines: 6.41 kW, 21 565 Btu/h."""
    given = {"room_temperature": "20 °C", "tank_area": "1 m²", "relief_share": "50 %"}
    metric = calc(
        "tank-balance",
        pump_flow="0.00126 m³/s",
        relief_flow="0.00126 m³/s",
        supply_pressure="70 bar",
        other_heat="0.441 kW",
        **given,
    )
    assert metric.results["total_heat"] == pytest.approx(6410, abs=5)
    western = calc(
        "tank-balance",
        pump_flow="20 gpm",
        relief_flow="20 gpm",
        supply_pressure="1000 psi",
        other_heat="0.58343 hp",
        **given,
    )
    assert western.results["total_heat"] / 0.2930710701722222 == pytest.approx(21565, abs=20)


def test_heat_that_is_known_alone_counts() -> None:
    """30 L/min over 100 bar are 5 kW, a tenth of the time 0.5; with 0.2 kW of the rest 0.7, pump unknown."""
    given = {"room_temperature": "20 °C", "tank_area": "1 m²", "other_heat": "0.2 kW", "supply_pressure": "100 bar"}
    found = calc("tank-balance", relief_flow="30 L/min", relief_share="10 %", **given).results
    assert found["total_heat"] == pytest.approx(700, rel=1e-9) and "pump_heat" not in found
    pump = calc("tank-balance", pump_flow="30 L/min", **given).results
    assert pump["total_heat"] == pytest.approx(200 + 5000 * (1 / 0.85 - 1), rel=1e-9)


def test_balance_of_a_tank() -> None:
    """1 kW on 1.25 m² at 12 W/(m²·K): 66.67 K over the room; 100 L · 870 · 1900/15 s = 183.7 min."""
    given = {"room_temperature": "20 °C", "tank_area": "1.25 m²", "other_heat": "1 kW", "oil_volume": "100 L"}
    answer = calc("tank-balance", running_time="183.6667 min", wanted_oil_temperature="50 °C", **given)
    found = answer.results
    assert found["settled_oil_temperature"] - 293.15 == pytest.approx(66.667, abs=1e-3)
    assert found["tank_time_constant"] / 60 == pytest.approx(183.667, abs=1e-3)
    assert found["oil_temperature"] - 293.15 == pytest.approx(66.667 * 0.63212, abs=1e-2)
    assert found["warm_up_time"] / 60 == pytest.approx(183.667 * 0.59784, abs=1e-2)
    assert found["cooler_heat"] == pytest.approx(1000 - 15 * 30, rel=1e-9)
    rows = found["tank_rows"]
    assert rows[0]["oil_temperature"] == pytest.approx(293.15) and len(rows) == 25
    assert rows[-1]["oil_temperature"] - 293.15 == pytest.approx(66.667 * 0.95021, abs=1e-2)
    assert verdicts(answer)["settled_oil_temperature"] == "reject"
    cold = calc("tank-balance", wanted_oil_temperature="90 °C", **given).results
    assert cold.get("warm_up_time") is None and cold["settled_oil_temperature"] == found["settled_oil_temperature"]


@pytest.mark.parametrize(
    ("celsius", "word", "verdict"),
    [
        ("45 °C", "below the limits for a touch of minutes", "accept"),
        ("49 °C", "a touch of more than a minute burns", "accept"),
        ("55 °C", "a touch of ten seconds or more burns", "accept"),
        ("65 °C", "a touch of a second or more burns", "reject"),
        ("75 °C", "any touch burns", "reject"),
        ("59.5 °C ± 2 K", "a touch of ten seconds or more burns", "cannot-tell"),
    ],
)
def test_a_temperature_read(celsius: str, word: str, verdict: str) -> None:
    answer = calc("tank-reading", oil_temperature=celsius)
    assert answer.results["touch_word"] == word
    assert verdicts(answer)["tank_temperature"] == verdict


def test_heat_that_a_temperature_shows() -> None:
    """45 K on 1.5 m² at 12 W/(m²·K) are 810 W; 400 W were counted: twice as much, something leaks or blows."""
    given = {"oil_temperature": "65 °C", "room_temperature": "20 °C", "tank_area": "1.5 m²", "total_heat": "400 W"}
    answer = calc("tank-reading", viscosity_40="32 mm²/s", **given)
    assert answer.results["shown_heat"] == pytest.approx(810, rel=1e-9)
    assert answer.results["heat_share"] == pytest.approx(2.025, rel=1e-9)
    assert verdicts(answer)["heat_share"] == "reject"
    assert answer.results["settled_oil_temperature"] - 293.15 == pytest.approx(400 / 18, rel=1e-9)
    assert verdicts(calc("tank-reading", oil_temperature="80 °C", viscosity_40="32 mm²/s"))["kinematic_viscosity"] == (
        "reject"
    )


def test_heat_of_a_valve() -> None:
    """30 L/min at 6 bar are 300 W, 45 at 8 bar 600 W; half the time 450 W; 0.3 L/min at 200 bar add 100 W."""
    given = {"in_flow": "30 L/min", "in_drop": "6 bar", "out_flow": "45 L/min", "out_drop": "8 bar"}
    found = calc("valve-heat", flow_share="50 %", leakage="300 mL/min", supply_pressure="200 bar", **given).results
    assert (found["in_heat"], found["out_heat"], found["leak_heat"]) == pytest.approx((300, 600, 100), rel=1e-9)
    assert found["mean_heat"] == pytest.approx(550, rel=1e-9)
