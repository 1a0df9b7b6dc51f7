"""This coil on that voltage: what is left of its force, how hot it gets, how long it lasts."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, coil, heating, supply
from valvecalc.primitives import using
from valvecalc.sheet import sheet


class Plate(NamedTuple):
    """The coil's nameplate, the voltage it meets, the air round it; SI."""

    nominal_voltage: Value
    nominal_power: Value
    coil_voltage: Value
    ambient_temperature: Value = 308.15
    thermal_resistance: Value = 2.6
    on_share: Value = 1.0
    class_temperature: Value = 428.15
    thermal_time_constant: Value = 1200.0


@sheet(
    "Wrong coil: this coil on that voltage",
    results=(
        "winding_temperature",
        "temperature_reserve",
        "heat_ratio",
        "force_ratio",
        "cold_power",
        "cold_current",
        "hot_resistance",
        "hot_current",
        "hot_power",
        "hot_force_share",
        "life_share",
        "on_time",
        "allowed_share",
    ),
    judged={"temperature_reserve": (">=", "no-reserve")},
    limits={
        "nominal_voltage": "> 0 V, <= 400 V",
        "nominal_power": "> 0 W, <= 1 kW",
        "coil_voltage": "> 0 V, <= 400 V",
        "ambient_temperature": ">= -40 °C, <= 120 °C",
        "thermal_resistance": "> 0 K/W, <= 20 K/W",
        "on_share": "> 0 %, <= 100 %",
        "class_temperature": ">= 80 °C, <= 250 °C",
        "thermal_time_constant": ">= 1 min, <= 120 min",
    },
    origins={
        "ambient_temperature": ("standard", "vde-0580-extract"),
        "thermal_resistance": ("judgement", ""),
        "on_share": ("judgement", ""),
        "class_temperature": ("common-practice", ""),
        "thermal_time_constant": ("judgement", ""),
    },
    labels={
        "coil_voltage": "DC voltage that the coil meets",
        "class_temperature": "limit of the insulation class: B 130, F 155, H 180 °C",
        "on_share": "share of the time that the coil is on, cycles of a minute or less",
    },
    chart="coil_voltage",
    example={
        "nominal_voltage": "24 V",
        "nominal_power": "26 W",
        "coil_voltage": "48 V",
        "ambient_temperature": "30 °C",
    },
    cautions=("hot-coil", "live-circuit"),
    sources=(("machine-heating", "example 4.12, p. 4.21"), ("kosow", "example 13-1"), ("iec-60085", "")),
    distrust=(
        "AC coils: their current follows the reactance and the gap, not the ohms.",
        "More current than at the plate's own volts: the iron fills up, and the hot force share is told too large.",
        "Thermal resistance and time constant not measured on this coil: temperatures are good to 20 K at best.",
        "The time to the class limit is for a coil that starts at the temperature of the air and keeps its cold power.",
    ),
)
def wrong_coil(plate: Plate) -> Value:
    """Force, current, heat and temperature of a DC coil at a voltage that its plate does not name.

    Double voltage burns it within minutes, though the current falls as it warms; half voltage leaves a quarter of the
    force, cold and without any danger to the coil, and the valve does not shift under load.
    """
    resistance_20 = using(plate, coil.nominal_resistance)
    heat_ratio = using(plate, supply.wrong_voltage_heat)
    force_ratio = using(plate, supply.force_at_voltage)
    cold_current = using(plate, coil.coil_current, resistance=resistance_20)
    cold_power = using(plate, coil.coil_power, resistance=resistance_20)
    winding_temperature = using(plate, heating.steady_winding_temperature, resistance_20=resistance_20)
    temperature_reserve = plate.class_temperature - winding_temperature
    hot_resistance = coil.winding_resistance(resistance_20=resistance_20, winding_temperature=winding_temperature)
    hot_current = using(plate, coil.coil_current, resistance=hot_resistance)
    hot_power = using(plate, coil.coil_power, resistance=hot_resistance)
    nominal_current = coil.coil_current(coil_voltage=plate.nominal_voltage, resistance=resistance_20)
    hot_force_share = budget.current_force_ratio(hot_current=hot_current, cold_current=nominal_current)
    life_share = using(plate, heating.insulation_life, winding_temperature=winding_temperature)
    fast_temperature = using(plate, coil.thermal_winding_temperature, power=cold_power)
    on_time = (
        heating.time_to_temperature(
            start_temperature=plate.ambient_temperature,
            steady_temperature=fast_temperature,
            limit_temperature=plate.class_temperature,
            thermal_time_constant=plate.thermal_time_constant,
        )
        if temperature_reserve < 0.0
        else None
    )
    allowed_share = using(
        plate,
        heating.allowed_on_share,
        limit_temperature=plate.class_temperature,
        resistance_20=resistance_20,
    )
    return {
        "winding_temperature": winding_temperature,
        "temperature_reserve": temperature_reserve,
        "heat_ratio": heat_ratio,
        "force_ratio": force_ratio,
        "cold_power": cold_power,
        "cold_current": cold_current,
        "hot_resistance": hot_resistance,
        "hot_current": hot_current,
        "hot_power": hot_power,
        "hot_force_share": hot_force_share,
        "life_share": life_share,
        "on_time": on_time,
        "allowed_share": allowed_share,
    }
