"""The moving spool, the detent and the limit of flow: limits, round trips and figures worked by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import limit, orifice, spool, spool_motion

BAR, MM, LPM = 1e5, 1e-3, 1e-3 / 60
END = {"spool_diameter": 0.012, "spool_speed": 0.1, "density": 857.0}


@pytest.mark.parametrize(("hole", "expected"), [(1.0, 20.5), (1.5, 4.0), (2.0, 1.3)])
def test_oil_that_changes_ends(hole: float, expected: float) -> None:
    """Independent calculation, no published source: 12 mm spool at 0.1 m/s; its hole has a coefficient of 0.70."""
    found = spool_motion.end_chamber_force(**END, passage_diameter=hole * MM, discharge_coefficient=0.70)
    assert found == pytest.approx(expected, abs=0.06)


@given(st.floats(0.4, 4.0), st.floats(0.01, 1.0))
def test_the_pressure_in_the_end_drives_the_spools_own_oil_through_the_hole(hole: float, speed: float) -> None:
    area = math.pi / 4 * 0.012**2
    force = spool_motion.end_chamber_force(**END | {"spool_speed": speed}, passage_diameter=hole * MM)
    flow = orifice.orifice_flow(
        discharge_coefficient=0.61, area=math.pi / 4 * (hole * MM) ** 2, pressure_drop=force / area, density=857.0
    )
    assert flow == pytest.approx(area * speed, rel=1e-9)


def test_half_the_hole_is_sixteen_times_the_force() -> None:
    wide, narrow = (spool_motion.end_chamber_force(**END, passage_diameter=d * MM) for d in (2.0, 1.0))
    assert narrow == pytest.approx(16 * wide, rel=1e-12)


def test_a_shut_chamber_is_a_block() -> None:
    """By hand: 113.1 mm² squared, 1.6 GPa, 2 mL: 10.2 N for each µm. Squeezed by 1 % of its volume it holds 16 MPa."""
    rate = spool_motion.trapped_stiffness(spool_diameter=0.012, trapped_volume=2e-6)
    assert rate * 1e-6 == pytest.approx(10.23, abs=0.01)
    area = math.pi / 4 * 0.012**2
    travel = 0.01 * 2e-6 / area
    assert rate * travel / area == pytest.approx(0.01 * 1.6e9, rel=1e-12)


def test_transient_force_by_hand() -> None:
    """Independent calculation, no published source: 2.9 N for 10 mm, 83 bar, 0.1 m/s, 12 mm."""
    found = spool_motion.transient_force(
        damping_length=0.010, spool_diameter=0.012, spool_speed=0.1, pressure_drop=83 * BAR, density=857.0
    )
    assert found == pytest.approx(2.9, abs=0.05)


@given(st.floats(0.01, 1.0), st.floats(1, 300))
def test_transient_force_is_density_length_and_the_growth_of_the_flow(speed: float, bars: float) -> None:
    """The growth of the flow taken from the edge itself, opened a little farther in a little time."""
    found = spool_motion.transient_force(
        damping_length=0.015, spool_diameter=0.014, spool_speed=speed, pressure_drop=bars * BAR, density=860.0
    )
    step = 1e-5
    edge = {"discharge_coefficient": 0.65, "pressure_drop": bars * BAR, "density": 860.0}
    before, after = (
        orifice.orifice_flow(
            area=spool.metering_area(spool_diameter=0.014, opening=x, clearance=0.0, open_circumference=1.0), **edge
        )
        for x in (1e-3, 1e-3 + speed * step)
    )
    assert found == pytest.approx(860.0 * 0.015 * (after - before) / step, rel=1e-6)


@pytest.mark.parametrize(("viscosity", "expected", "within"), [(31.5e-3, 1.9, 0.05), (0.442, 27.0, 0.5)])
def test_drag_warm_and_cold(viscosity: float, expected: float, within: float) -> None:
    """Independent calculation, no published source: 12 mm, 40 mm of lands, 5 µm, 0.2 m/s; 45 °C and 500 mm²/s."""
    found = spool_motion.viscous_drag(
        viscosity=viscosity, spool_diameter=0.012, gap_length=0.040, spool_speed=0.2, clearance=5e-6
    )
    assert found == pytest.approx(expected, abs=within)


def test_a_detent_without_friction_is_the_slope_of_its_flank() -> None:
    held = {"ball_count": 2.0, "ball_force": 9.0}
    at_45 = spool_motion.detent_force(**held, flank_angle=math.radians(45), friction_coefficient=0.0)
    at_30 = spool_motion.detent_force(**held, flank_angle=math.radians(30), friction_coefficient=0.0)
    assert at_45 == pytest.approx(18.0, rel=1e-12)
    assert at_30 == pytest.approx(18.0 / math.sqrt(3), rel=1e-12)


@given(st.floats(5, 60), st.floats(0, 0.3))
def test_friction_adds_its_angle_to_the_flank(degrees: float, friction: float) -> None:
    found = spool_motion.detent_force(
        ball_count=1.0, ball_force=1.0, flank_angle=math.radians(degrees), friction_coefficient=friction
    )
    assert found == pytest.approx(math.tan(math.radians(degrees) + math.atan(friction)), rel=1e-9)


# ---- limit of flow

HAND = {"supply_pressure": 210 * BAR, "density": 857.0}


@given(st.floats(1, 100), st.floats(0.05, 1), st.floats(50, 300), st.floats(0.3, 3), st.floats(0, 20), st.floats(0, 6))
def test_at_the_limit_the_peak_takes_all_that_is_in_hand(
    force: float, factor: float, bars: float, ratio: float, load: float, tank: float
) -> None:
    entries = {
        "force_in_hand": force, "supply_pressure": bars * BAR, "density": 857.0, "return_ratio": ratio,
        "load_pressure_difference": load * BAR, "tank_pressure": tank * BAR,
    }  # fmt: skip
    found = limit.limit_flow(flow_force_factor=factor, **entries)
    available = spool.available_pressure(
        supply_pressure=bars * BAR, load_pressure_difference=load * BAR, return_ratio=ratio, tank_pressure=tank * BAR
    )
    peak = spool.peak_flow_force(
        pump_flow=found, available_drop=available, density=857.0, flow_force_factor=factor, return_ratio=ratio
    )
    assert peak == pytest.approx(force, rel=1e-9)
    assert limit.factor_at_limit(limit_flow=found, **entries) == pytest.approx(factor, rel=1e-9)


def test_four_times_the_pressure_half_the_limit() -> None:
    low, high = (
        limit.limit_flow(force_in_hand=30.0, flow_force_factor=0.25, **HAND | {"supply_pressure": p * BAR})
        for p in (50, 200)
    )
    assert high == pytest.approx(low / 2, rel=1e-12)


def test_the_factor_of_the_worked_valve() -> None:
    """Independent calculation, no published source: 35.69 N in hand at 100 L/min and 210 bar give 0.2283."""
    found = limit.factor_at_limit(
        force_in_hand=35.69, limit_flow=100 * LPM, supply_pressure=210 * BAR, density=849.08, tank_pressure=0.0
    )
    assert found == pytest.approx(0.2283, abs=2e-4)


def test_one_way_is_less() -> None:
    assert limit.one_way_limit(limit_flow=60 * LPM) == pytest.approx(42 * LPM)
    assert limit.one_way_limit(limit_flow=60 * LPM, one_way_share=1.0) == 60 * LPM
