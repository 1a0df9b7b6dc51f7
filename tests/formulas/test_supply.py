"""What a supply gives: means against numerical integration of the wave, wrong coils, AC."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import coil, supply

PHASE = (np.arange(200_000) + 0.5) / 200_000 * 2 * math.pi


@pytest.mark.parametrize("rms", [12.0, 24.0, 110.0, 230.0])
def test_means_and_effective_values_against_the_wave_itself(rms: float) -> None:
    """Midpoint sums over one cycle of an ideal rectifier."""
    wave = math.sqrt(2.0) * rms * np.sin(PHASE)
    half, full = np.maximum(wave, 0.0), np.abs(wave)
    assert supply.half_wave_mean(rms_voltage=rms) == pytest.approx(half.mean(), rel=1e-8)
    assert supply.full_wave_mean(rms_voltage=rms) == pytest.approx(full.mean(), rel=1e-8)
    assert supply.half_wave_effective(rms_voltage=rms) == pytest.approx(math.sqrt((half**2).mean()), rel=1e-8)
    assert supply.rectified_peak(rms_voltage=rms) == pytest.approx(full.max(), rel=1e-8)


@given(st.floats(5, 400), st.floats(0.01, 1.0))
def test_pulses_against_a_pulse_train(volts: float, share: float) -> None:
    on = np.arange(10_000) < round(share * 10_000)
    train = np.where(on, volts, 0.0)
    assert supply.pulsed_mean(rail_voltage=volts, on_share=on.mean()) == pytest.approx(train.mean(), rel=1e-9)
    effective = supply.pulsed_effective(rail_voltage=volts, on_share=on.mean())
    assert effective == pytest.approx(math.sqrt((train**2).mean()), rel=1e-9)
    assert effective >= supply.pulsed_mean(rail_voltage=volts, on_share=on.mean()) * (1 - 1e-12)


def test_trade_rules() -> None:
    """0.9 behind a bridge: the coil of 205 V DC on 230 V AC, 98 V on 110 V (trade values, whole volts)."""
    assert supply.full_wave_mean(rms_voltage=230.0) == pytest.approx(205, abs=2.5)
    assert supply.full_wave_mean(rms_voltage=110.0) == pytest.approx(98, abs=1.5)
    assert supply.full_wave_mean(rms_voltage=24.0, diode_drop=1.4) < 0.87 * 24.0  # two diodes count at low volts
    assert supply.half_wave_mean(rms_voltage=24.0) == pytest.approx(supply.full_wave_mean(rms_voltage=24.0) / 2)


def test_a_coil_of_half_the_voltage_makes_four_times_the_heat() -> None:
    """12 V, 30 W coil on 24 V: 120 W cold; 24 V coil on 12 V and two 24 V coils in series: a quarter of the force."""
    assert 30.0 * supply.wrong_voltage_heat(coil_voltage=24.0, nominal_voltage=12.0) == pytest.approx(120.0)
    assert supply.force_at_voltage(coil_voltage=12.0, nominal_voltage=24.0) == pytest.approx(0.25)
    shared = supply.series_coil_voltage(source_voltage=24.0, first_resistance=19.2, second_resistance=19.2)
    assert supply.force_at_voltage(coil_voltage=shared, nominal_voltage=24.0) == pytest.approx(0.25)
    assert supply.force_at_voltage(coil_voltage=24.0, nominal_voltage=110.0) == pytest.approx(0.05, abs=0.003)
    assert supply.force_at_voltage(coil_voltage=30.0, nominal_voltage=24.0) < (30 / 24) ** 2  # iron fills up


@given(st.floats(1, 1000), st.floats(1, 1000), st.floats(5, 400))
def test_shared_voltages_add_up_and_parallel_ohms_are_below_either(one: float, other: float, volts: float) -> None:
    first = supply.series_coil_voltage(source_voltage=volts, first_resistance=one, second_resistance=other)
    second = supply.series_coil_voltage(source_voltage=volts, first_resistance=other, second_resistance=one)
    assert first + second == pytest.approx(volts, rel=1e-12)
    both = supply.parallel_coils(first_resistance=one, second_resistance=other)
    assert both < min(one, other)
    assert 1 / both == pytest.approx(1 / one + 1 / other, rel=1e-12)


@given(st.floats(5, 400), st.floats(1, 2000), st.floats(0.01, 50), st.floats(10, 400))
def test_inductance_from_the_current_it_lets_through(volts: float, ohms: float, henry: float, hertz: float) -> None:
    if 2 * math.pi * hertz * henry < 0.1 * ohms:  # a small difference of large squares
        return
    amps = supply.ac_current(rms_voltage=volts, resistance=ohms, inductance=henry, frequency=hertz)
    assert amps < coil.coil_current(coil_voltage=volts, resistance=ohms)
    found = supply.inductance_from_ac(rms_voltage=volts, current=amps, resistance=ohms, frequency=hertz)
    assert found == pytest.approx(henry, rel=1e-9)


def test_stuck_open_and_the_other_frequency() -> None:
    """150 VA at inrush, 45 VA holding: 11 times the heat. 50 Hz coil on 60 Hz: (50/60)², a third less pull."""
    assert supply.stuck_open_heat(inrush_current=150 / 24, holding_current=45 / 24) == pytest.approx(11.1, abs=0.05)
    swap = {"rms_voltage": 110.0, "nominal_voltage": 110.0}
    less = supply.frequency_force(**swap, frequency=60.0, nominal_frequency=50.0)
    more = supply.frequency_force(**swap, frequency=50.0, nominal_frequency=60.0)
    assert less == pytest.approx(25 / 36)
    assert less * more == pytest.approx(1.0)
    # volts raised with the hertz keep the pull
    kept = supply.frequency_force(rms_voltage=132.0, nominal_voltage=110.0, frequency=60.0, nominal_frequency=50.0)
    assert kept == pytest.approx(1.0)
