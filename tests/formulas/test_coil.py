"""Coil formulas: definitions, round trips, and a source's mistake that must not be repeated."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import coil
from valvecalc.units import to_si

CELSIUS = 273.15


@given(st.floats(1, 5000), st.floats(233, 473))
def test_turning_to_20_degrees_and_back(resistance_20: float, temperature: float) -> None:
    hot = coil.winding_resistance(resistance_20=resistance_20, winding_temperature=temperature)
    assert coil.resistance_at_20(resistance=hot, coil_temperature=temperature) == pytest.approx(
        resistance_20, rel=1e-12
    )


def test_at_20_degrees_nothing_is_turned() -> None:
    assert coil.winding_resistance(resistance_20=92.2, winding_temperature=CELSIUS + 20) == 92.2


@given(st.floats(1, 5000), st.floats(253, 333), st.floats(1.0, 2.0))
def test_temperature_and_resistance_go_by_the_copper_constant(cold: float, t_cold: float, ratio: float) -> None:
    """R2 / R1 = (234.5 + T2) / (234.5 + T1), T in °C: the definition of the resistance method."""
    hot = coil.winding_temperature_from_resistance(
        cold_resistance=cold, hot_resistance=ratio * cold, cold_temperature=t_cold
    )
    assert (234.5 + hot - CELSIUS) / (234.5 + t_cold - CELSIUS) == pytest.approx(ratio, rel=1e-9)


def test_rise_with_the_234_5_constant() -> None:
    """Definition, own arithmetic: 3.42 Ω at 20 °C, 4.22 Ω hot, constant 234.5: rise 59.53 K."""
    hot = coil.winding_temperature_from_resistance(
        cold_resistance=3.42, hot_resistance=4.22, cold_temperature=CELSIUS + 20
    )
    assert hot - CELSIUS - 20 == pytest.approx(59.5322, abs=5e-4)


def test_coefficient_belongs_to_its_own_temperature() -> None:
    """A public solution prints 33.248 Ω for 28.2 Ω carried from 24.5 to 68.8 °C: it uses a 20 °C coefficient from
    24.5 °C. Right is 33.02 Ω (234.5 constant); our 20 °C way agrees within the rounding of 0.00393 (0.01 %)."""
    at_20 = coil.resistance_at_20(resistance=28.2, coil_temperature=CELSIUS + 24.5)
    assert coil.winding_resistance(resistance_20=at_20, winding_temperature=CELSIUS + 68.8) == pytest.approx(
        33.0234, rel=1e-4
    )


def test_both_copper_figures_are_one() -> None:
    """Coefficient at 20 °C is 1 / (234.5 + 20), printed as 0.00393 (source temperature-rise-page)."""
    hot = coil.winding_resistance(resistance_20=1.0, winding_temperature=CELSIUS + 21) - 1.0
    assert hot == pytest.approx(1 / (234.5 + 20), abs=5e-6)


def test_a_hot_coil_loses_power() -> None:
    """Definition: 24 V, 19.2 Ω cold makes 30 W; 100 K hotter (constant 234.5) 26.744 Ω and 21.537 W."""
    assert coil.coil_power(coil_voltage=24.0, resistance=19.2) == pytest.approx(30.0, abs=1e-9)
    assert coil.coil_power(coil_voltage=24.0, resistance=19.2 * 354.5 / 254.5) == pytest.approx(21.537, abs=2e-3)
    hot = coil.winding_resistance(resistance_20=19.2, winding_temperature=CELSIUS + 120)
    assert hot == pytest.approx(26.744, rel=3e-4)  # 0.00393 against 1/254.5: 0.02 % of the gain


@given(st.floats(6, 400), st.floats(5, 100))
def test_nameplate_resistance_draws_the_nameplate_power(voltage: float, watts: float) -> None:
    resistance = coil.nominal_resistance(nominal_voltage=voltage, nominal_power=watts)
    current = coil.coil_current(coil_voltage=voltage, resistance=resistance)
    assert current * voltage == pytest.approx(watts, rel=1e-12)
    assert coil.coil_power(coil_voltage=2 * voltage, resistance=resistance) == pytest.approx(4 * watts, rel=1e-12)


@given(st.floats(10, 400), st.floats(5, 2000), st.floats(0, 20), st.floats(0, 5))
def test_plug_and_cable_share_the_source(source: float, resistance: float, loop: float, contact: float) -> None:
    """Kirchhoff: what the coil gets and what cable and contacts keep add up to the source."""
    plug = coil.plug_voltage(
        source_voltage=source, resistance=resistance, loop_resistance=loop, contact_resistance=contact
    )
    current = coil.coil_current(coil_voltage=plug, resistance=resistance)
    lost = coil.cable_drop(current=current, loop_resistance=loop + contact)
    assert plug + lost == pytest.approx(source, rel=1e-9)


def test_cable_of_the_table() -> None:
    """30 m of flexible 0.75 mm² (26.0 Ω/km, IEC 60228) at 1.25 A loses 1.95 V there and back: own arithmetic."""
    loop = coil.cable_resistance(cable_length=30.0, resistance_per_length=to_si(26.0, "Ω/km", "resistance_per_length"))
    assert coil.cable_drop(current=1.25, loop_resistance=loop) == pytest.approx(1.95, abs=1e-9)


def test_no_power_no_rise() -> None:
    assert coil.thermal_winding_temperature(ambient_temperature=318.15, thermal_resistance=2.6, power=0.0) == 318.15
    assert coil.thermal_winding_temperature(
        ambient_temperature=318.15, thermal_resistance=2.6, power=10.0
    ) == pytest.approx(344.15)


def test_at_the_curves_own_state_the_ratio_is_one() -> None:
    own = {"curve_voltage": 43.2, "curve_resistance": 121.7}
    assert coil.current_ratio(coil_voltage=43.2, resistance=121.7, **own) == 1.0
    assert coil.current_ratio(coil_voltage=21.6, resistance=121.7, **own) == pytest.approx(0.5)
