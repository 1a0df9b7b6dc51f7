"""Is the coil what its plate says, and what is left of it hot and at the end of its cable?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, coil
from valvecalc.primitives import fact, known, using
from valvecalc.sheet import sheet


class Coil(NamedTuple):
    """Ohm readings with the temperature of the winding, the plate, the supply; SI."""

    resistance: Value = None
    coil_temperature: Value = None
    nominal_voltage: Value = None
    nominal_power: Value = None
    nominal_resistance_20: Value = None
    hot_resistance: Value = None
    source_voltage: Value = None
    cable_length: Value = None
    resistance_per_length: Value = None
    contact_resistance: Value = 0.0
    plug_voltage: Value = None


@sheet(
    "Coil check",
    results=(
        "resistance_20",
        "expected_resistance_20",
        "resistance_deviation",
        "cold_current",
        "cold_power",
        "winding_temperature",
        "hot_current",
        "hot_power",
        "hot_force_share",
        "loop_resistance",
        "plug_voltage_expected",
        "voltage_drop",
        "supply_deviation",
    ),
    judged={
        "resistance_deviation": ("within", "coil-resistance-tolerance"),
        "supply_deviation": ("band", "supply-below", "supply-above"),
    },
    limits={
        "resistance": "> 0 Ω, <= 100 kΩ",
        "coil_temperature": ">= -40 °C, <= 200 °C",
        "nominal_voltage": "> 0 V, <= 400 V",
        "nominal_power": "> 0 W, <= 1 kW",
        "nominal_resistance_20": "> 0 Ω, <= 100 kΩ",
        "hot_resistance": "> 0 Ω, <= 100 kΩ",
        "source_voltage": "> 0 V, <= 400 V",
        "cable_length": ">= 0 m, <= 2000 m",
        "resistance_per_length": "> 0 Ω/km, <= 1000 Ω/km",
        "contact_resistance": ">= 0 Ω, <= 1 kΩ",
        "plug_voltage": "> 0 V, <= 400 V",
    },
    origins={"contact_resistance": ("judgement", "")},
    labels={"resistance": "winding resistance as read, leads subtracted, both pins off"},
    example={
        "resistance": "97.4 Ω",
        "coil_temperature": "31 °C",
        "nominal_voltage": "48 V",
        "nominal_power": "25 W",
        "hot_resistance": "121.7 Ω",
        "source_voltage": "47.2 V",
        "cable_length": "28 m",
        "resistance_per_length": "26.0 Ω/km",
        "plug_voltage": "44.9 V",
    },
    cautions=("live-circuit", "hot-coil"),
    sources=(("patil", "example 1.4"), ("iec-60228", "maximum resistance at 20 °C"), ("vde-0580-extract", "")),
    distrust=(
        "A coil with a rectifier, diode or electronics inside: do not ohm through it; measure volts and amps.",
        "AC coils: current and force do not follow from ohms; only open and shorted windings show.",
        "A reading at the cabinet or without load says nothing about the volts at the coil.",
    ),
)
def coil_check(winding: Coil) -> Value:
    """Turns the reading to 20 °C, compares it with the plate, and follows the current to the hot coil."""
    resistance_20 = using(winding, coil.resistance_at_20)
    expected_resistance_20 = known(winding.nominal_resistance_20, using(winding, coil.nominal_resistance))
    resistance_deviation = budget.resistance_deviation(
        resistance_20=resistance_20, expected_resistance_20=expected_resistance_20
    )
    winding_resistance_20 = known(resistance_20, expected_resistance_20)
    cold_current = coil.coil_current(coil_voltage=winding.nominal_voltage, resistance=winding_resistance_20)
    cold_power = coil.coil_power(coil_voltage=winding.nominal_voltage, resistance=winding_resistance_20)
    winding_temperature = coil.winding_temperature_from_resistance(
        cold_resistance=winding_resistance_20,
        hot_resistance=winding.hot_resistance,
        cold_temperature=fact("reference-temperature"),
    )
    loop_resistance = using(winding, coil.cable_resistance)
    coil_resistance = known(winding.hot_resistance, winding_resistance_20)
    plug_voltage_expected = coil.plug_voltage(
        source_voltage=winding.source_voltage,
        resistance=coil_resistance,
        loop_resistance=loop_resistance,
        contact_resistance=winding.contact_resistance,
    )
    coil_voltage = known(winding.plug_voltage, plug_voltage_expected, winding.nominal_voltage)
    hot_current = coil.coil_current(coil_voltage=coil_voltage, resistance=winding.hot_resistance)
    hot_power = coil.coil_power(coil_voltage=coil_voltage, resistance=winding.hot_resistance)
    hot_force_share = budget.current_force_ratio(hot_current=hot_current, cold_current=cold_current)
    measured_voltage = known(winding.plug_voltage, plug_voltage_expected)
    voltage_drop = winding.source_voltage - measured_voltage
    supply_deviation = using(winding, budget.supply_deviation, measured_voltage=measured_voltage)
    return {
        "resistance_20": resistance_20,
        "expected_resistance_20": expected_resistance_20,
        "resistance_deviation": resistance_deviation,
        "cold_current": cold_current,
        "cold_power": cold_power,
        "winding_temperature": winding_temperature,
        "hot_current": hot_current,
        "hot_power": hot_power,
        "hot_force_share": hot_force_share,
        "loop_resistance": loop_resistance,
        "plug_voltage_expected": plug_voltage_expected,
        "voltage_drop": voltage_drop,
        "supply_deviation": supply_deviation,
    }
