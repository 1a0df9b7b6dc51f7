"""The test stand: figures of an independent calculation (no published source) and properties that need none."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from valvecalc.door import calc
from valvecalc.formulas import bench, gaps, paths, spool, trapped

PSI, GPM, HP, ML_MIN = 6894.757293168361, 231 * 0.0254**3 / 60, 745.69987158227, 1e-6 / 60


@pytest.mark.parametrize(("gpm", "hp"), [(1, 0.82), (3, 2.47), (5, 4.12), (8, 6.59)])
def test_pump_power_of_a_small_stand(gpm: float, hp: float) -> None:
    """Independent calculation: 1200 psi, efficiency 0.85."""
    found = bench.pump_power(pump_flow=gpm * GPM, supply_pressure=1200 * PSI)
    assert found / HP == pytest.approx(hp, abs=0.006)


def test_a_pump_takes_what_the_oil_gets_over_its_efficiency() -> None:
    oil = paths.throttle_heat(flow=4e-4, pressure_drop=1.8e7)
    assert bench.pump_power(pump_flow=4e-4, supply_pressure=1.8e7, overall_efficiency=0.8) == pytest.approx(oil / 0.8)


def test_a_tank_under_a_relief_valve() -> None:
    """Independent calculation: 5 gpm at 1200 psi are 2.61 kW, 60 L warm by 1.58 K/min (1.65 MJ for each m³ and K)."""
    heat = paths.throttle_heat(flow=5 * GPM, pressure_drop=1200 * PSI)
    assert heat == pytest.approx(2610, abs=5)
    minute = bench.warming_time(oil_volume=0.06, warming=1.58, heat=heat)
    assert minute == pytest.approx(60, rel=0.01)  # 875 · 1900 is 1.6625 MJ for each m³ and K


@pytest.mark.parametrize(("leakage", "seconds"), [(8, 75.0), (80, 7.5)])
def test_time_to_collect(leakage: float, seconds: float) -> None:
    """Independent calculation: 0.2 mL at 2 % need 10 mL."""
    found = bench.collection_time(glass_resolution=0.2e-6, resolution_share=0.02, leakage=leakage * ML_MIN)
    assert found == pytest.approx(seconds, rel=1e-12)


def test_a_falling_pressure() -> None:
    """Independent calculation: 150 mL, 1.64 to 1.68 GPa: 10 bar/min is 0.09 mL/min; 8 mL/min at 83 bar takes half the
    pressure in 3.9 s; 0.1 K/min looks like 0.010 mL/min."""
    rate = trapped.leakage_from_pressure_fall(
        oil_volume=150e-6, pressure_change_difference=1e6, fall_time=60, bulk_modulus=1.68e9
    )
    assert rate / ML_MIN == pytest.approx(0.09, abs=0.005)
    half = bench.half_time(oil_volume=150e-6, pressure_drop=83e5, leakage=8 * ML_MIN, bulk_modulus=1.66e9)
    assert half == pytest.approx(3.9, abs=0.05)
    false = bench.false_leakage(oil_volume=150e-6, cooling=0.1, fall_time=60)
    assert false / ML_MIN == pytest.approx(0.010, abs=0.0005)


@settings(deadline=None, max_examples=30)  # it walks: a busy machine is no failure
@given(st.floats(2e6, 3e7), st.floats(2e-6, 2e-5), st.floats(1e-4, 2e-3))
def test_half_time_by_small_steps(pressure: float, clearance: float, volume: float) -> None:
    """The pressure worked down in two hundred small steps past a land is at one half after the half time."""
    land = {"diameter": 0.012, "clearance": clearance, "length": 0.002, "viscosity": 0.03}
    start = gaps.annular_leakage(pressure_drop=pressure, **land)
    step = bench.half_time(oil_volume=volume, pressure_drop=pressure, leakage=start) / 200
    left = pressure
    for _ in range(200):
        middle = left - 1.43e9 / volume * gaps.annular_leakage(pressure_drop=left, **land) * step / 2
        left -= 1.43e9 / volume * gaps.annular_leakage(pressure_drop=middle, **land) * step
    assert left / pressure == pytest.approx(0.5, rel=1e-5)


def test_decay_and_cooling_are_alike_where_the_pressure_is() -> None:
    """Oil that cools by ΔT in a rigid volume loses K·α·ΔT; read as a leak that is the volume it shrank by."""
    fall = 1.43e9 * 6.5e-4 * 0.2
    read = trapped.leakage_from_pressure_fall(oil_volume=3e-4, pressure_change_difference=fall, fall_time=120)
    assert read == pytest.approx(bench.false_leakage(oil_volume=3e-4, cooling=0.2, fall_time=120), rel=1e-12)


def test_cover_of_a_test_at_83_for_210_bar() -> None:
    """Independent calculation: 40 % of the lateral force and, at equal flow, 63 % of the flow force."""
    found = calc(
        "test-cover", test_drop="83 bar", duty_drop="210 bar", test_flow="30 L/min", duty_flow="30 L/min"
    ).results
    assert found["lateral_cover"] == pytest.approx(0.40, abs=0.005)
    assert found["flow_force_cover"] == pytest.approx(0.63, abs=0.005)


@given(st.floats(1e-5, 1e-2), st.floats(1e5, 3e7), st.floats(1e-5, 1e-2), st.floats(1e5, 3e7))
def test_cover_is_the_ratio_of_two_flow_forces(flow: float, drop: float, duty: float, duty_drop: float) -> None:
    def force(q: float, p: float) -> float:
        return float(spool.flow_force(flow=q, pressure_drop=p, density=860.0, flow_force_factor=0.6))

    share = bench.flow_force_cover(test_flow=flow, duty_flow=duty, test_drop=drop, duty_drop=duty_drop)
    assert share == pytest.approx(force(flow, drop) / force(duty, duty_drop), rel=1e-9)


def test_a_hold_test_on_a_spool_shows_nothing_and_on_a_seat_something() -> None:
    """100 bar, 150 mL. A spool of 8 mL/min: 99 bar gone in ... half of it in about 4 s. A seat: 2 bar in 10 min."""
    given = {"oil_volume": "150 mL", "pressure_drop": "100 bar"}
    spool_land = calc("pressure-hold", **given, pressure_change_difference="40 bar", fall_time="4 s", cooling="0 K")
    seat = calc("pressure-hold", **given, pressure_change_difference="2 bar", fall_time="10 min", cooling="0.01 K")
    told = [{row["name"]: row.get("verdict") for row in one.to_json()["results"]} for one in (spool_land, seat)]
    assert [row["half_time"] for row in told] == ["reject", "accept"]
    assert told[1]["false_share"] == "accept"
    # 150 mL/1.43 GPa · 2 bar/600 s = 0.00210 mL/min; cooling 150 mL · 6.5e-4 · 0.01/600 s is 4.65 % of it
    assert seat.results["leakage"] / ML_MIN == pytest.approx(150 / 1.43e9 * 2e5 / 10, rel=1e-9)
    assert seat.results["false_share"] == pytest.approx(6.5e-4 * 0.01 * 1.43e9 / 2e5, rel=1e-9)


@pytest.mark.parametrize(
    ("fall", "seconds", "half"),
    # half gone in 9 s, by definition; three quarters are two halves; all gone: told as the time it took
    (("60 bar", "9 s", 9.0), ("90 bar", "10 s", 5.0), ("120 bar", "10 s", 10.0), ("1.2 bar", "10 s", 689.676)),
)
def test_half_of_the_pressure_by_definition(fall: str, seconds: str, half: float) -> None:
    """A small fall of 1 %: 0.693147 / 0.0100503 = 68.9676 times the time (hand)."""
    held = calc(
        "pressure-hold",
        oil_volume="150 mL",
        pressure_drop="120 bar",
        pressure_change_difference=fall,
        fall_time=seconds,
    )
    assert held.results["half_time"] == pytest.approx(half, rel=1e-4)


def test_stand_power_by_hand() -> None:
    """24 L/min at 180 bar are 7.2 kW in the oil, 8.47 kW at the shaft: 77 % of 11 kW; 80 L take 1.33 MJ for 10 K."""
    found = calc("stand-power", pump_flow="24 L/min", supply_pressure="180 bar", motor_power="11 kW", oil_volume="80 L")
    assert found.value == pytest.approx(7200 / 0.85, rel=1e-12)
    assert found.results["motor_share"] == pytest.approx(7200 / 0.85 / 11000)
    assert found.results["warming_time"] == pytest.approx(0.08 * 1.6625e6 * 10 / 7200, rel=1e-12)
    assert math.isclose(found.results["heat"], 7200)
