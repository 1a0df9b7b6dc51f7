"""Leakage through gaps: the cube law, eccentricity, and what stays the same when the oil changes."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import gaps

LAND = {"diameter": 0.012, "length": 0.004, "pressure_drop": 1.6e7, "viscosity": 0.03}


def test_a_touching_spool_leaks_two_and_a_half_times_as_much() -> None:
    """2.5 times the centred spool: printed in the source clearance-article."""
    centred = gaps.annular_leakage(clearance=5e-6, **LAND)
    assert gaps.annular_leakage(clearance=5e-6, eccentricity=1.0, **LAND) == pytest.approx(2.5 * centred, rel=1e-12)


@given(st.floats(0, 1))
def test_eccentricity_is_the_mean_cube_of_the_gap(eccentricity: float) -> None:
    """Definition: the mean of (1 + ε cos)³ round the bore is 1 + 1.5 ε²; half eccentric is 1.375."""
    steps = 360
    mean = sum((1 + eccentricity * math.cos(2 * math.pi * i / steps)) ** 3 for i in range(steps)) / steps
    leakage = gaps.annular_leakage(clearance=5e-6, eccentricity=eccentricity, **LAND)
    assert leakage == pytest.approx(mean * gaps.annular_leakage(clearance=5e-6, **LAND), rel=1e-12)


@given(st.floats(1e-6, 3e-5))
def test_twice_the_gap_eight_times_the_oil(clearance: float) -> None:
    once = gaps.annular_leakage(clearance=clearance, **LAND)
    assert gaps.annular_leakage(clearance=2 * clearance, **LAND) == pytest.approx(8 * once, rel=1e-12)


@given(st.floats(1e-6, 3e-5), st.floats(0, 1))
def test_clearance_back_from_the_leakage(clearance: float, eccentricity: float) -> None:
    leakage = gaps.annular_leakage(clearance=clearance, eccentricity=eccentricity, **LAND)
    back = gaps.clearance_from_leakage(leakage=leakage, eccentricity=eccentricity, **LAND)
    assert back == pytest.approx(clearance, rel=1e-12)


@given(st.floats(0.005, 0.2), st.floats(1e6, 3e7))
def test_reference_leakage_is_what_the_gap_gives_there(viscosity: float, drop: float) -> None:
    leakage = gaps.annular_leakage(clearance=5e-6, **LAND)
    there = gaps.leakage_at_reference(
        leakage=leakage,
        viscosity=LAND["viscosity"],
        reference_viscosity=viscosity,
        pressure_drop=LAND["pressure_drop"],
        reference_pressure_drop=drop,
    )
    moved = LAND | {"viscosity": viscosity, "pressure_drop": drop}
    assert there == pytest.approx(gaps.annular_leakage(clearance=5e-6, **moved), rel=1e-12)


def test_diametral_reading_and_lands_in_series() -> None:
    assert gaps.radial_clearance(diametral_clearance=12e-6) == 6e-6
    assert gaps.series_land_drop(pressure_drop=2.1e7, lands_in_series=2.0) == 1.05e7
