"""Cylinder formulas: definitions."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import cylinder


@given(st.floats(0.02, 0.3), st.floats(0.0, 0.95))
def test_areas_ratio_and_ring(bore: float, share: float) -> None:
    rod = share * bore
    full = cylinder.piston_area(bore_diameter=bore)
    ring = cylinder.annulus_area(bore_diameter=bore, rod_diameter=rod)
    assert ring + math.pi / 4 * rod**2 == pytest.approx(full, rel=1e-12)
    assert cylinder.area_ratio(bore_diameter=bore, rod_diameter=rod) == pytest.approx(full / ring, rel=1e-9)


def test_rod_side_of_a_two_inch_cylinder_blocked() -> None:
    """Definition (balance of forces): bore 2 in, rod 1 in, 1200 psi on the piston side: 1600 psi on the rod side."""
    inch, psi = 0.0254, 6894.757293168361
    blocked = cylinder.blocked_side_pressure(
        cap_side_pressure=1200 * psi,
        piston_area=cylinder.piston_area(bore_diameter=2 * inch),
        annulus_area=cylinder.annulus_area(bore_diameter=2 * inch, rod_diameter=inch),
    )
    assert blocked / psi == pytest.approx(1600, abs=1e-6)


def test_an_overrunning_load_adds_to_the_blocked_pressure() -> None:
    entries = {"cap_side_pressure": 1.6e7, "piston_area": 3.117e-3, "annulus_area": 2.099e-3}
    rest = cylinder.blocked_side_pressure(**entries)
    pulled = cylinder.blocked_side_pressure(load_force=-5000.0, **entries)
    assert pulled - rest == pytest.approx(5000 / 2.099e-3, rel=1e-9)


@given(st.floats(1e5, 3e7), st.floats(0, 3e6))
def test_push_and_pull_are_the_same_balance(cap: float, rod: float) -> None:
    size = {"bore_diameter": 0.063, "rod_diameter": 0.036, "mechanical_efficiency": 1.0}
    push = cylinder.push_force(cap_side_pressure=cap, rod_side_pressure=rod, **size)
    pull = cylinder.pull_force(cap_side_pressure=cap, rod_side_pressure=rod, **size)
    assert push == pytest.approx(-pull, rel=1e-9, abs=1e-6)


@given(st.floats(1e-4, 1e-2), st.floats(0.05, 2), st.floats(1e-5, 1e-2))
def test_stroke_over_time_is_the_speed(area: float, stroke: float, flow: float) -> None:
    seconds = cylinder.stroke_time(area=area, stroke_length=stroke, flow=flow)
    assert stroke / seconds == pytest.approx(cylinder.cylinder_speed(flow=flow, area=area), rel=1e-12)
