"""Buckling of a rod: where the two curves meet, against the beam itself, and what a technician knows."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import buckling

E = 2.1e11


@given(st.floats(1e8, 1.5e9))
def test_euler_and_johnson_meet_at_half_the_yield_strength_without_a_kink(strength: float) -> None:
    """Definition: at the limit of slenderness both give half the yield stress, and fall alike."""
    limit = buckling.limit_slenderness(yield_strength=strength)
    rod, area = 0.03, math.pi / 4 * 0.03**2

    def euler(slender: float) -> float:
        return float(buckling.euler_load(rod_diameter=rod, buckling_length=slender * rod / 4))

    def johnson(slender: float) -> float:
        return float(buckling.johnson_load(area=area, slenderness=slender, yield_strength=strength))

    assert euler(limit) == pytest.approx(area * strength / 2, rel=1e-9)
    assert johnson(limit) == pytest.approx(area * strength / 2, rel=1e-9)
    step = 1e-4 * limit
    falls = [(curve(limit + step) - curve(limit - step)) / (2 * step) for curve in (euler, johnson)]
    assert falls[0] == pytest.approx(falls[1], rel=1e-5)


def test_euler_is_the_lowest_load_that_bends_a_beam() -> None:
    """Lowest eigenvalue of E·I·w'' = -F·w on 400 pieces of a pinned beam: within 1e-5 of the formula."""
    rod, length, pieces = 0.028, 1.0, 400
    stiffness = E * math.pi / 64 * rod**4
    step = length / pieces
    bend = np.diag(np.full(pieces - 1, 2.0)) - np.diag(np.ones(pieces - 2), 1) - np.diag(np.ones(pieces - 2), -1)
    lowest = np.linalg.eigvalsh(bend)[0] * stiffness / step**2
    assert buckling.euler_load(rod_diameter=rod, buckling_length=length) == pytest.approx(lowest, rel=1e-5)


def test_a_28_mm_rod_of_one_metre() -> None:
    """Independent calculation, no published source: slenderness 143, 17.5 kN with factor 3.5 (it has E 206 GPa)."""
    assert buckling.slenderness(buckling_length=1.0, rod_diameter=0.028) == pytest.approx(143, abs=0.5)
    load = buckling.euler_load(rod_diameter=0.028, buckling_length=1.0, elastic_modulus=2.06e11)
    assert load / 3.5 == pytest.approx(17500, abs=50)


@given(st.floats(0.01, 0.2), st.floats(0.1, 5), st.floats(2e8, 1e9))
def test_the_rod_takes_the_curve_that_counts(rod: float, length: float, strength: float) -> None:
    load = buckling.rod_buckling_load(rod_diameter=rod, buckling_length=length, yield_strength=strength)
    slender = buckling.slenderness(buckling_length=length, rod_diameter=rod)
    if slender >= buckling.limit_slenderness(yield_strength=strength):
        own = buckling.euler_load(rod_diameter=rod, buckling_length=length)
    else:
        own = buckling.johnson_load(area=math.pi / 4 * rod**2, slenderness=slender, yield_strength=strength)
    assert load == pytest.approx(own, rel=1e-12)
    assert 0 < load < math.pi / 4 * rod**2 * strength
    longer = buckling.rod_buckling_load(rod_diameter=rod, buckling_length=1.1 * length, yield_strength=strength)
    thicker = buckling.rod_buckling_load(rod_diameter=1.1 * rod, buckling_length=length, yield_strength=strength)
    assert longer < load < thicker


def test_twice_as_long_a_quarter_of_the_load_and_better_steel_does_not_help() -> None:
    load = buckling.euler_load(rod_diameter=0.036, buckling_length=1.0)
    assert buckling.euler_load(rod_diameter=0.036, buckling_length=2.0) == pytest.approx(load / 4, rel=1e-12)
    weak, strong = (
        buckling.rod_buckling_load(rod_diameter=0.02, buckling_length=2.0, yield_strength=strength)
        for strength in (3e8, 9e8)
    )
    assert weak == strong
