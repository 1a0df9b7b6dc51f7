"""Sideways force: the closed form against numerical integration of the pressure, and remembered bounds."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import budget, lands, lateral


def integrated(taper: float, offset: float, large_end_high: bool = True) -> float:
    """Sideways force over length x diameter x pressure difference, by summing the pressure over the land.

    Every strip of the bore is a gap of its own with lengthwise flow; clearance 1 at the large end.
    """
    steps = 360
    total = 0.0
    for i in range(steps):
        angle = 2 * math.pi * (i + 0.5) / steps
        narrow = 1 - offset * math.cos(angle)
        ends = (narrow, narrow + taper) if large_end_high else (narrow + taper, narrow)
        total += mean_pressure(*ends) * -math.cos(angle)
    return total / steps * math.pi


def mean_pressure(high: float, low: float) -> float:
    """Mean pressure along a strip whose gap runs straight from `high` to `low`, 1 before it and 0 behind it.

    The pressure lost up to a gap h grows like the integral of 1/h³, which is (1/high² - 1/h²).
    """
    steps = 400
    gaps = (high + (low - high) * (i + 0.5) / steps for i in range(steps))
    return sum((1 / gap**2 - 1 / low**2) / (1 / high**2 - 1 / low**2) for gap in gaps) / steps


@pytest.mark.parametrize(("taper", "offset"), [(1.0, 0.9), (0.5, 0.5), (0.9, 0.9)])
def test_closed_form_against_integration(taper: float, offset: float) -> None:
    closed = lands.taper_factor(taper=taper, clearance=1.0, offset=offset)
    assert integrated(taper, offset) == pytest.approx(closed, rel=1e-4)


def test_closed_form_against_an_independent_quadrature() -> None:
    """Taper 1.0 c, offset 0.9 c: 0.218166 by an independent quadrature of the same theory."""
    assert lands.taper_factor(taper=1.0, clearance=1.0, offset=0.9) == pytest.approx(0.218166, abs=1e-6)


def test_the_land_turned_round_centres() -> None:
    """Small end at the high pressure: equal and opposite, because the two mean pressures add up to one."""
    assert integrated(1.0, 0.9, large_end_high=False) == pytest.approx(-integrated(1.0, 0.9), rel=1e-9)


def test_largest_coefficient_from_memory() -> None:
    """0.27 (recalled from merritt-1967) is the maximum at contact: 0.2695 at a taper of 2 (√2 - 1) c = 0.828 c."""
    factors = [(lands.taper_factor(taper=t / 1000, clearance=1.0, offset=1.0), t / 1000) for t in range(1, 3000)]
    largest, where = max(factors)
    assert largest == pytest.approx(0.27, abs=0.005)
    assert where == pytest.approx(2 * (math.sqrt(2) - 1), abs=0.002)


def test_force_grows_with_everything_it_names() -> None:
    land = {"spool_diameter": 0.014, "length": 0.004, "pressure_drop": 1.5e7, "taper": 3e-6, "clearance": 5e-6}
    force = lateral.lateral_force(**land)
    factor = lands.taper_factor(taper=3e-6, clearance=5e-6, offset=5e-6)
    assert force == pytest.approx(factor * 0.014 * 0.004 * 1.5e7, rel=1e-12)
    assert lateral.lateral_force(**land, groove_factor=0.06) == pytest.approx(0.06 * force, rel=1e-12)


@given(st.floats(0.0, 1e-5), st.floats(2e-6, 1e-5))
def test_form_without_a_division_by_the_taper(taper: float, clearance: float) -> None:
    """The budget's form of the same coefficient, with grooves, is 0 for a land without taper and equal elsewhere."""
    factor = budget.side_factor(taper=taper, clearance=clearance, groove_factor=0.4)
    if taper > 1e-9:
        closed = lands.taper_factor(taper=taper, clearance=clearance, offset=clearance)
        assert factor == pytest.approx(0.4 * closed, rel=1e-9)
    else:
        assert 0 <= factor < 0.4 * 0.02
