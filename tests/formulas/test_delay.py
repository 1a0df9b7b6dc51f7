"""Delays of switching: the current's own curve, limits, and what a suppressor changes."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import delay


@given(st.floats(5, 400), st.floats(1, 2000), st.floats(0.01, 20), st.floats(0.01, 0.99))
def test_at_the_delay_the_current_is_there(volts: float, ohms: float, henry: float, share: float) -> None:
    """i = U/R · (1 - exp(-t·R/L)), the growth of the current in a coil."""
    full = volts / ohms
    time = delay.pull_in_delay(coil_voltage=volts, resistance=ohms, inductance=henry, start_current=share * full)
    assert full * (1 - math.exp(-time * ohms / henry)) == pytest.approx(share * full, rel=1e-9)


@given(st.floats(0.05, 5), st.floats(1, 2000), st.floats(0.01, 20), st.floats(0.01, 0.99), st.floats(0, 500))
def test_at_the_drop_out_the_current_is_there(
    amps: float, ohms: float, henry: float, share: float, clamp: float
) -> None:
    """L·di/dt + R·i = -U_z from i = I: i = (I + U_z/R)·exp(-t·R/L) - U_z/R."""
    time = delay.drop_out_delay(
        current=amps, drop_out_current=share * amps, resistance=ohms, inductance=henry, clamp_voltage=clamp
    )
    there = (amps + clamp / ohms) * math.exp(-time * ohms / henry) - clamp / ohms
    assert there == pytest.approx(share * amps, rel=1e-6, abs=1e-12 * clamp / ohms)


def test_late_is_a_coil_that_hardly_can() -> None:
    """Half of the settled current takes 0.69 time constants, 99 % of it 4.6; 101 % is never reached."""
    coil = {"coil_voltage": 48.0, "resistance": 96.0, "inductance": 0.96}
    assert delay.pull_in_delay(**coil, start_current=0.25) == pytest.approx(0.01 * math.log(2))
    assert delay.pull_in_delay(**coil, start_current=0.495) == pytest.approx(0.01 * math.log(100))
    with pytest.raises(ValueError):
        delay.pull_in_delay(**coil, start_current=0.505)


def test_diode_zener_and_open_contact() -> None:
    """Independent calculation, no published source: 24 V coil to a quarter of its current: 33.2 ms with a diode
    (0.8 V), 7.5 with 47 V, 1.1 with 400 V; its time constant is not told, their ratios are."""
    coil = {"current": 1.25, "drop_out_current": 0.3125, "resistance": 19.2, "inductance": 0.5}
    diode, zener, contact = (delay.drop_out_delay(**coil, clamp_voltage=volts) for volts in (0.8, 47.0, 400.0))
    assert zener / diode == pytest.approx(7.5 / 33.2, rel=0.01)
    assert contact / diode == pytest.approx(1.1 / 33.2, rel=0.05)
    assert diode < delay.drop_out_delay(**coil, clamp_voltage=0.0) == pytest.approx(0.5 / 19.2 * math.log(4))
