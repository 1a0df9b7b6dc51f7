"""Solenoid force and the share told from the pick-up voltage."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import solenoid


@given(st.floats(0.05, 1.0))
def test_square_of_the_current_below_the_curve(ratio: float) -> None:
    assert solenoid.solenoid_force(curve_force=80.0, current_ratio=ratio) == pytest.approx(80 * ratio**2, rel=1e-12)


@given(st.floats(1.0, 3.0))
def test_above_the_curve_less_is_credited(ratio: float) -> None:
    force = solenoid.solenoid_force(curve_force=80.0, current_ratio=ratio)
    assert 80 <= force <= 80 * ratio**2
    assert force == pytest.approx(80 * ratio**1.2, rel=1e-12)


def test_force_is_continuous_at_the_curves_current() -> None:
    below = solenoid.solenoid_force(curve_force=80.0, current_ratio=1 - 1e-12)
    above = solenoid.solenoid_force(curve_force=80.0, current_ratio=1 + 1e-12)
    assert below == pytest.approx(above, rel=1e-9)


def test_share_of_an_invented_bench_test() -> None:
    """48 V coil, 43.2 V lowest, 121.7 Ω hot; 28.3 V at 97.0 Ω: 0.3245, from an independent calculation."""
    share = solenoid.pickup_share(
        pickup_voltage=28.3, pickup_resistance=97.0, hot_resistance=121.7, minimum_voltage=43.2
    )
    assert share == pytest.approx(0.3245, abs=5e-5)


@given(st.floats(10, 400), st.floats(5, 2000), st.floats(1.0, 1.6), st.floats(0.0, 0.9))
def test_the_cold_limit_leaves_just_the_wanted_share(lowest: float, cold: float, ratio: float, wanted: float) -> None:
    limit = solenoid.largest_cold_pickup(
        minimum_voltage=lowest, resistance_20=cold, hot_resistance=ratio * cold, wanted_share=wanted
    )
    share = solenoid.pickup_share(
        pickup_voltage=limit, pickup_resistance=cold, hot_resistance=ratio * cold, minimum_voltage=lowest
    )
    assert share == pytest.approx(wanted, abs=1e-12)


def test_share_is_the_force_in_hand() -> None:
    """Forces go with the square of the current: the share is 1 minus what was needed over what is there."""
    needed = solenoid.solenoid_force(curve_force=80.0, current_ratio=28.3 / 97.0)
    there = solenoid.solenoid_force(curve_force=80.0, current_ratio=43.2 / 121.7)
    share = solenoid.pickup_share(
        pickup_voltage=28.3, pickup_resistance=97.0, hot_resistance=121.7, minimum_voltage=43.2
    )
    assert share == pytest.approx((there - needed) / there, rel=1e-12)
