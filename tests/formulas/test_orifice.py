"""Orifice formulas: definitions."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import orifice

DROP = st.floats(1e4, 5e7)


@given(DROP, st.floats(1e-8, 1e-3), st.floats(700, 1200))
def test_four_times_the_drop_twice_the_flow(drop: float, area: float, density: float) -> None:
    entries = {"discharge_coefficient": 0.65, "area": area, "density": density}
    once = orifice.orifice_flow(pressure_drop=drop, **entries)
    assert orifice.orifice_flow(pressure_drop=4 * drop, **entries) == pytest.approx(2 * once, rel=1e-12)
    assert orifice.orifice_drop(flow=once, **entries) == pytest.approx(drop, rel=1e-12)


def test_a_hole_of_one_millimetre() -> None:
    """1.0 mm hole, 0.61, 100 bar, 856.6 kg/m³: 4.3923 L/min by an independent calculation (density rounded to 0.1)."""
    flow = orifice.orifice_flow(
        discharge_coefficient=0.61, area=math.pi / 4 * 0.001**2, pressure_drop=1e7, density=856.6
    )
    assert flow * 60_000 == pytest.approx(4.39229, abs=1.3e-4)


@given(DROP, st.floats(700, 1200))
def test_the_jet_carries_the_pressure_as_motion(drop: float, density: float) -> None:
    """Energy: half density times speed squared is the pressure difference."""
    assert density / 2 * orifice.jet_speed(pressure_drop=drop, density=density) ** 2 == pytest.approx(drop, rel=1e-12)
