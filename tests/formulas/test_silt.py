"""Silt and residual magnetism: definitions."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import silt


def test_no_stand_no_silt_and_a_long_stand_the_limit() -> None:
    assert silt.silt_force(silt_limit=12.0, hold_time=0.0, silt_time_constant=300.0) == 0
    assert silt.silt_force(silt_limit=12.0, hold_time=1e6, silt_time_constant=300.0) == pytest.approx(12.0)


@given(st.floats(1, 1e4))
def test_after_one_time_constant_63_percent(tau: float) -> None:
    force = silt.silt_force(silt_limit=10.0, hold_time=tau, silt_time_constant=tau, breakaway=0.5)
    assert force == pytest.approx(5 * (1 - 1 / math.e), rel=1e-12)


def test_residual_force_falls_with_the_square_of_the_position() -> None:
    assert silt.residual_force(residual_at_end=1.5, position=0.0025, stroke=0.0025) == 1.5
    assert silt.residual_force(residual_at_end=1.5, position=0.00125, stroke=0.0025) == pytest.approx(0.375)
    assert silt.residual_force(residual_at_end=1.5, position=0.0, stroke=0.0025) == 0
