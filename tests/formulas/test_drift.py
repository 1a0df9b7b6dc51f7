"""Drift, creep and the shut cylinder: flows and forces balanced anew, and a seal let leak step by step."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import cylinder, cylinder_load, drift

ML_MIN = 1e-6 / 60
MM_MIN = 1e-3 / 60
CAP, ROD = math.pi / 4 * 0.05**2, math.pi / 4 * 0.028**2
RING = CAP - ROD


def test_ten_millilitres_a_minute_past_the_valve_of_a_50_mm_bore() -> None:
    """Independent calculation, no published source: 5.09 mm/min."""
    area = cylinder.piston_area(bore_diameter=0.05)
    assert drift.drift_speed(leakage=10 * ML_MIN, area=area) / MM_MIN == pytest.approx(5.09, abs=0.005)


@given(st.floats(1e-10, 1e-4), st.floats(1e-5, 1.0))
def test_leakage_and_drift_are_each_others_inverse(leakage: float, area: float) -> None:
    speed = drift.drift_speed(leakage=leakage, area=area)
    assert drift.leakage_for_drift(drift_speed=speed, area=area) == pytest.approx(leakage, rel=1e-12)


def test_the_rod_side_drifts_faster_for_the_same_oil() -> None:
    assert drift.drift_speed(leakage=1e-7, area=RING) > drift.drift_speed(leakage=1e-7, area=CAP)


def creep(**given: float) -> float:
    usual = {
        "land_leakage": 10 * ML_MIN,
        "pressure_drop": 105e5,
        "supply_pressure": 210e5,
        "bore_diameter": 0.05,
        "rod_diameter": 0.028,
    }
    return float(drift.creep_out_speed(**(usual | given)))


def test_creep_of_an_unloaded_cylinder() -> None:
    """Independent calculation, no published source: 2.2 mm/min out, still at 6.5 kN."""
    assert creep() / MM_MIN == pytest.approx(2.2, abs=0.1)
    stall = drift.creep_stall_force(supply_pressure=210e5, rod_diameter=0.028)
    assert stall == pytest.approx(6500, abs=50)
    assert creep(load_force=stall) == pytest.approx(0.0, abs=1e-15)
    assert creep(load_force=1.1 * stall) < 0


@given(st.floats(0, 3e7), st.floats(0, 2e6), st.floats(-2e4, 2e4))
def test_creep_is_what_flows_and_forces_give(supply: float, tank: float, load: float) -> None:
    """Three balances (oil of either side, forces at the piston) solved for both pressures and the speed."""
    lead = 10 * ML_MIN / 105e5
    left = np.array([[2 * lead, 0, CAP], [0, 2 * lead, -RING], [CAP, -RING, 0]])
    into = lead * (supply + tank)
    # columns in bar and mm/min, so that the equations are well conditioned
    scale = np.array([1e5, 1e5, MM_MIN])
    rows = np.array([into, into, load])
    size = np.abs(left * scale).max(axis=1)
    speed = np.linalg.solve(left * scale / size[:, None], rows / size)[2] * MM_MIN
    ours = creep(supply_pressure=supply, tank_pressure=tank, load_force=load)
    assert ours == pytest.approx(speed, rel=1e-9, abs=1e-12)


def test_a_worn_valve_creeps_faster_with_the_same_force() -> None:
    assert creep(land_leakage=80 * ML_MIN) == pytest.approx(8 * creep(), rel=1e-12)
    assert creep(rod_diameter=0.036) > creep()


def test_a_shut_cylinder_with_a_leaking_seal_ends_at_load_over_rod() -> None:
    """Independent calculation, no published source: 5 kN on a 28 mm rod, 25 bar rise to 81."""
    found = drift.equalised_pressure(load_force=5000.0, rod_diameter=0.028)
    assert found / 1e5 == pytest.approx(81, abs=0.5)
    at_first = 5000 / CAP
    assert at_first / 1e5 == pytest.approx(25, abs=0.5)


@given(st.floats(1e3, 5e4), st.floats(2e-4, 5e-3), st.floats(2e-4, 5e-3), st.floats(0, 2e6))
def test_the_way_it_sinks_is_what_a_seal_lets_through_step_by_step(
    load: float, cap_volume: float, rod_volume: float, rod_pressure: float
) -> None:
    """Oil passed from side to side in small steps, the load balanced after each, until the pressures meet."""
    stiffness = 1.4e9
    end = load / ROD
    if rod_pressure > 0.8 * end:
        return
    p1, p2, way = (load + rod_pressure * RING) / CAP, rod_pressure, 0.0
    for_each = (CAP / cap_volume + RING / rod_volume) / (CAP**2 / cap_volume + RING**2 / rod_volume)  # way per oil
    step = 1e-3 * cap_volume * end / stiffness
    while p1 > p2:
        oil = step
        ds = for_each * oil
        p1 += stiffness / cap_volume * (CAP * ds - oil)
        p2 += stiffness / rod_volume * (oil - RING * ds)
        way += ds
    assert p1 == pytest.approx(end, rel=0.01)
    ours = drift.sinking_distance(
        load_force=load,
        bore_diameter=0.05,
        rod_diameter=0.028,
        cap_side_volume=cap_volume,
        rod_side_volume=rod_volume,
        effective_modulus=stiffness,
        rod_side_pressure=rod_pressure,
    )
    assert ours == pytest.approx(way, rel=0.02)


def test_soft_oil_sinks_further_and_a_thick_rod_less() -> None:
    size = {"load_force": 5000.0, "bore_diameter": 0.05, "cap_side_volume": 3e-4, "rod_side_volume": 2e-4}
    stiff = drift.sinking_distance(rod_diameter=0.028, effective_modulus=1.4e9, **size)
    assert drift.sinking_distance(rod_diameter=0.028, effective_modulus=0.7e9, **size) == pytest.approx(2 * stiff)
    assert drift.sinking_distance(rod_diameter=0.036, effective_modulus=1.4e9, **size) < stiff


@given(st.floats(0, 1e5), st.floats(0, 2e6), st.floats(0.5, 1))
def test_pressure_and_force_are_each_others_inverse(load: float, back: float, efficiency: float) -> None:
    """The push that a pressure gives is the load that asks for it, return pressure included."""
    size = {"bore_diameter": 0.063, "rod_diameter": 0.036, "mechanical_efficiency": efficiency}
    cap = cylinder_load.pressure_to_push(load_force=load, rod_side_pressure=back, **size)
    assert cylinder.push_force(cap_side_pressure=cap, rod_side_pressure=back, **size) == pytest.approx(load, abs=1e-6)
    ring = cylinder_load.pressure_to_pull(load_force=load, cap_side_pressure=back, **size)
    assert cylinder.pull_force(rod_side_pressure=ring, cap_side_pressure=back, **size) == pytest.approx(load, abs=1e-6)
    assert ring >= cap


def test_the_work_of_the_peak_is_the_energy_of_the_mass() -> None:
    """Independent property: pressure x area x the way of an even acceleration is half m v²."""
    area, mass, speed, seconds = 3.117e-3, 600.0, 0.13, 0.05
    peak = cylinder_load.acceleration_pressure(
        moved_mass=mass, cylinder_speed=speed, acceleration_time=seconds, area=area
    )
    assert peak * area * (speed * seconds / 2) == pytest.approx(mass * speed**2 / 2, rel=1e-12)


def test_a_cushion_takes_the_energy_of_the_mass_and_the_push_of_the_pump() -> None:
    """Independent property: work of the cushion is half m v² and the pump's work over the same way; no mass: areas."""
    size = {"supply_pressure": 14e6, "bore_diameter": 0.063, "cushion_diameter": 0.045}
    ring = math.pi / 4 * (0.063**2 - 0.045**2)
    found = cushion(moved_mass=600.0, cylinder_speed=0.134, cushion_length=0.02, **size)
    work = 600 * 0.134**2 / 2 + 14e6 * math.pi / 4 * 0.063**2 * 0.02
    assert found * ring * 0.02 == pytest.approx(work, rel=1e-12)
    still = cushion(moved_mass=0.0, cylinder_speed=0.134, cushion_length=0.02, **size)
    assert still / 14e6 == pytest.approx(63**2 / (63**2 - 45**2), rel=1e-12)
    longer = cushion(moved_mass=600.0, cylinder_speed=0.134, cushion_length=0.03, **size)
    assert still < longer < found


def cushion(**given: float) -> float:
    return float(cylinder_load.cushion_pressure(**given))


@given(st.floats(1e3, 1e5), st.floats(1e6, 3e7), st.floats(0.5, 1))
def test_the_bore_for_a_push_pushes_it(load: float, pressure: float, efficiency: float) -> None:
    bore = cylinder_load.bore_for_push(load_force=load, supply_pressure=pressure, mechanical_efficiency=efficiency)
    push = cylinder.push_force(
        bore_diameter=bore, rod_diameter=0.0, cap_side_pressure=pressure, mechanical_efficiency=efficiency
    )
    assert push == pytest.approx(load, rel=1e-12)
