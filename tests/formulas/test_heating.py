"""Heat of the winding: the meeting point of power and temperature, warming, cycles, life."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import coil, heating

CELSIUS = 273.15


# Independent calculation, no published source: 30 W, 24 V coil (19.2 Ω at 20 °C), 2.6 K/W; volts, ambient, settled.
SETTLED = [(24.0, 20, 83), (24.0, 50, 108), (26.4, 50, 118), (21.6, 50, 98), (48.0, 20, 202), (12.0, 20, 38)]


@pytest.mark.parametrize(("volts", "ambient", "settled"), SETTLED)
def test_where_a_coil_settles(volts: float, ambient: float, settled: float) -> None:
    found = heating.steady_winding_temperature(
        coil_voltage=volts, resistance_20=19.2, ambient_temperature=CELSIUS + ambient
    )
    assert found - CELSIUS == pytest.approx(settled, abs=0.5)


@given(st.floats(1, 200), st.floats(5, 2000), st.floats(250, 340), st.floats(0.2, 8), st.floats(0.05, 1.0))
def test_power_and_temperature_meet(
    volts: float, ohms: float, ambient: float, kelvin_per_watt: float, share: float
) -> None:
    """Definition: the rise is the thermal resistance times the mean power of the winding as warm as it is."""
    there = heating.steady_winding_temperature(
        coil_voltage=volts,
        resistance_20=ohms,
        ambient_temperature=ambient,
        thermal_resistance=kelvin_per_watt,
        on_share=share,
    )
    hot = coil.winding_resistance(resistance_20=ohms, winding_temperature=there)
    power = share * coil.coil_power(coil_voltage=volts, resistance=hot)
    again = coil.thermal_winding_temperature(
        ambient_temperature=ambient, thermal_resistance=kelvin_per_watt, power=power
    )
    assert again == pytest.approx(there, rel=1e-9)
    # and the share that keeps it there is the share that was given
    back = heating.allowed_on_share(
        limit_temperature=there,
        coil_voltage=volts,
        resistance_20=ohms,
        ambient_temperature=ambient,
        thermal_resistance=kelvin_per_watt,
    )
    assert back == pytest.approx(share, rel=1e-5)


def test_a_coil_that_warms_settles_below_what_its_cold_power_makes_for() -> None:
    cold = coil.thermal_winding_temperature(ambient_temperature=293.15, thermal_resistance=2.6, power=30.0)
    settled = heating.steady_winding_temperature(coil_voltage=24.0, resistance_20=19.2, ambient_temperature=293.15)
    assert settled < cold
    assert heating.thermal_resistance_from_soak(
        winding_temperature=cold, ambient_temperature=293.15, power=30.0
    ) == pytest.approx(2.6)


@given(st.floats(260, 330), st.floats(340, 500), st.floats(60, 7200), st.floats(0.01, 4))
def test_warming_and_the_time_it_takes(start: float, steady: float, tau: float, spans: float) -> None:
    warm = heating.warming(
        start_temperature=start, steady_temperature=steady, on_time=spans * tau, thermal_time_constant=tau
    )
    assert start < warm < steady
    time = heating.time_to_temperature(
        start_temperature=start, steady_temperature=steady, limit_temperature=warm, thermal_time_constant=tau
    )
    assert time == pytest.approx(spans * tau, rel=1e-6)


def test_after_one_time_constant_63_percent_is_made() -> None:
    at = heating.warming(start_temperature=0.0, steady_temperature=100.0, on_time=600, thermal_time_constant=600)
    assert at == pytest.approx(63.212, abs=5e-4)


def test_cycles_repeat_what_one_cycle_after_the_other_gives() -> None:
    """Walked cycle by cycle, warming on and cooling off, until it repeats."""
    tau, on, off, ambient, steady = 1300.0, 240.0, 420.0, 310.0, 420.0
    at = ambient
    for _ in range(200):
        top = heating.warming(start_temperature=at, steady_temperature=steady, on_time=on, thermal_time_constant=tau)
        at = heating.warming(start_temperature=top, steady_temperature=ambient, on_time=off, thermal_time_constant=tau)
    cycle = {"ambient_temperature": ambient, "steady_temperature": steady, "thermal_time_constant": tau}
    assert heating.cycle_peak(**cycle, on_time=on, off_time=off) == pytest.approx(top, rel=1e-12)
    # short cycles: on-share times rise; long on-times: the whole rise; no pause: the whole rise
    short = heating.cycle_peak(**cycle, on_time=6.0, off_time=9.0)
    assert short - ambient == pytest.approx(0.4 * 110.0, rel=5e-3)
    assert heating.cycle_peak(**cycle, on_time=50_000.0, off_time=off) == pytest.approx(steady, rel=1e-9)
    assert heating.cycle_peak(**cycle, on_time=on, off_time=0.0) == pytest.approx(steady, rel=1e-12)


@given(st.floats(300, 500))
def test_ten_kelvin_halve_the_life(warm: float) -> None:
    life = heating.insulation_life(class_temperature=428.15, winding_temperature=warm)
    hotter = heating.insulation_life(class_temperature=428.15, winding_temperature=warm + 10.0)
    assert hotter == pytest.approx(life / 2, rel=1e-12)
    assert math.isclose(heating.insulation_life(class_temperature=428.15, winding_temperature=428.15), 1.0)
