"""Four readings of a coil, each judged on its own: ohms, volts at the plug, current, pick-up volts."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, coil, reading
from valvecalc.primitives import fact, known, using
from valvecalc.sheet import sheet

_OHMS = "> 0 Ω, <= 100 kΩ"
_VOLTS = "> 0 V, <= 400 V"
_WATTS = "> 0 W, <= 1 kW"
_WINDING = ">= -40 °C, <= 200 °C"
_NOT_THROUGH_ELECTRONICS = (
    "A coil with a rectifier, diode or electronics inside: do not ohm through it; measure volts and amps."
)


class Ohms(NamedTuple):
    """Ohms with the temperature of the winding, and the plate; SI."""

    resistance: Value
    coil_temperature: Value
    nominal_voltage: Value = None
    nominal_power: Value = None
    nominal_resistance_20: Value = None


@sheet(
    "Ohms of a coil",
    results=("resistance_deviation", "resistance_20", "expected_resistance_20"),
    judged={"resistance_deviation": ("within", "coil-resistance-tolerance")},
    limits={
        "resistance": _OHMS,
        "coil_temperature": _WINDING,
        "nominal_voltage": _VOLTS,
        "nominal_power": _WATTS,
        "nominal_resistance_20": _OHMS,
    },
    labels={"resistance": "winding resistance as read, leads subtracted, both pins off"},
    example={
        "resistance": "81.6 Ω",
        "coil_temperature": "26 °C",
        "nominal_voltage": "48 V",
        "nominal_power": "28 W",
    },
    cautions=("live-circuit", "hot-coil"),
    sources=(("patil", "example 1.4"),),
    distrust=(
        _NOT_THROUGH_ELECTRONICS,
        "AC coils: current and force do not follow from ohms; only open and shorted windings show.",
        "A coil that has just worked: it is hotter inside than outside. Let it lie for two hours.",
    ),
)
def coil_ohms(ohms: Ohms) -> Value:
    """Is the winding what its plate says? The reading is turned to 20 °C and held against the plate."""
    resistance_20 = using(ohms, coil.resistance_at_20)
    nominal_resistance_20 = using(ohms, coil.nominal_resistance)
    expected_resistance_20 = known(ohms.nominal_resistance_20, nominal_resistance_20)
    resistance_deviation = budget.resistance_deviation(
        resistance_20=resistance_20, expected_resistance_20=expected_resistance_20
    )
    return {
        "resistance_deviation": resistance_deviation,
        "resistance_20": resistance_20,
        "expected_resistance_20": expected_resistance_20,
    }


class Volts(NamedTuple):
    """Volts at the plug under load, the plate, and the volts off load if they were read; SI."""

    plug_voltage: Value
    nominal_voltage: Value
    off_load_voltage: Value = None


@sheet(
    "Volts at the plug",
    results=("supply_deviation", "supply_sag", "voltage_drop"),
    judged={
        "supply_deviation": ("band", "supply-below", "supply-above"),
        "supply_sag": ("<=", "supply-sag"),
    },
    limits={"plug_voltage": _VOLTS, "nominal_voltage": _VOLTS, "off_load_voltage": _VOLTS},
    labels={"voltage_drop": "voltage lost from off load to on load"},
    example={"plug_voltage": "42.1 V", "nominal_voltage": "48 V", "off_load_voltage": "46.9 V"},
    cautions=("live-circuit", "falling-load"),
    sources=(("vde-0580-extract", ""),),
    distrust=(
        "A reading at the cabinet, or with the coil disconnected: it says nothing about the volts at the coil.",
        "A supply that pulses (rectifier, controller output): mean and RMS differ, and so do meters.",
        "One good reading of a loose contact: shake plug and cable while you read.",
    ),
)
def plug_volts(volts: Volts) -> Value:
    """Does the coil get its voltage? Read at its own pins, on load, with everything else on that supply running."""
    supply_deviation = using(volts, budget.supply_deviation, measured_voltage=volts.plug_voltage)
    supply_sag = using(volts, reading.supply_sag)
    voltage_drop = volts.off_load_voltage - volts.plug_voltage
    return {
        "supply_deviation": supply_deviation,
        "supply_sag": supply_sag,
        "voltage_drop": voltage_drop,
    }


class Amps(NamedTuple):
    """Coil current with the volts at the plug, and the plate; SI."""

    current: Value
    plug_voltage: Value
    nominal_voltage: Value = None
    nominal_power: Value = None
    nominal_resistance_20: Value = None
    winding_temperature: Value = None


@sheet(
    "Current of a coil",
    results=("current_deviation", "largest_current", "smallest_current"),
    judged={"current_deviation": ("within", "coil-resistance-tolerance")},
    limits={
        "current": ">= 0 A, <= 100 A",
        "plug_voltage": _VOLTS,
        "nominal_voltage": _VOLTS,
        "nominal_power": _WATTS,
        "nominal_resistance_20": _OHMS,
        "winding_temperature": _WINDING,
    },
    labels={
        "current": "steady current of the coil, DC",
        "winding_temperature": "winding temperature; left empty: anything from 20 °C to hot in service",
    },
    example={"current": "0.47 A", "plug_voltage": "45.2 V", "nominal_voltage": "48 V", "nominal_power": "28 W"},
    cautions=("live-circuit", "falling-load", "hot-coil"),
    distrust=(
        "AC coils: the current follows the air gap. Compare with the hold current in the coil's documents.",
        "A coil with electronics that lower the current after pull-in: the steady current is meant to be low.",
        "A clamp that was not set to zero: at half an ampere its offset can be the whole reading.",
    ),
)
def coil_amps(amps: Amps) -> Value:
    """Does the coil draw what its voltage and its ohms make it draw?

    Where the temperature of the winding is not known, any current between that of the hot and that of the cold winding
    is what it should be; what is judged is how far the reading lies beyond.
    """
    resistance_20 = using(amps, coil.nominal_resistance)
    winding_resistance_20 = known(amps.nominal_resistance_20, resistance_20)
    coil_temperature = known(amps.winding_temperature, fact("reference-temperature"))
    winding_temperature = known(amps.winding_temperature, fact("hot-winding"))
    cold_resistance = coil.winding_resistance(resistance_20=winding_resistance_20, winding_temperature=coil_temperature)
    hot_resistance = coil.winding_resistance(
        resistance_20=winding_resistance_20, winding_temperature=winding_temperature
    )
    largest_current = coil.coil_current(coil_voltage=amps.plug_voltage, resistance=cold_resistance)
    smallest_current = coil.coil_current(coil_voltage=amps.plug_voltage, resistance=hot_resistance)
    current_deviation = reading.current_beyond(
        current=amps.current, largest_current=largest_current, smallest_current=smallest_current
    )
    return {
        "current_deviation": current_deviation,
        "largest_current": largest_current,
        "smallest_current": smallest_current,
    }


class PickUpVolts(NamedTuple):
    """Pick-up voltage with the temperature of the winding, the plate, and what is known of the hot coil; SI."""

    pickup_voltage: Value
    coil_temperature: Value
    nominal_voltage: Value
    minimum_voltage: Value = None
    winding_temperature: Value = 378.15
    pickup_resistance: Value = None
    hot_resistance: Value = None


@sheet(
    "Pick-up volts",
    results=("margin_share", "largest_pickup_voltage", "minimum_voltage", "resistance_ratio"),
    judged={"margin_share": (">=", "margin-sign-off")},
    limits={
        "pickup_voltage": _VOLTS,
        "coil_temperature": _WINDING,
        "nominal_voltage": _VOLTS,
        "minimum_voltage": _VOLTS,
        "winding_temperature": _WINDING,
        "pickup_resistance": _OHMS,
        "hot_resistance": _OHMS,
    },
    labels={
        "coil_temperature": "temperature of the winding at the trial",
        "winding_temperature": "temperature of the winding hot in service",
        "pickup_resistance": "winding resistance at the trial, if read: with the hot one it replaces both temperatures",
        "hot_resistance": "winding resistance hot in service, if read",
    },
    origins={"winding_temperature": ("judgement", "")},
    chart="pickup_voltage",
    example={"pickup_voltage": "27.4 V", "coil_temperature": "22 °C", "nominal_voltage": "48 V"},
    cautions=("test-stand", "live-circuit", "hot-coil", "falling-load"),
    distrust=(
        "Other pressure, flow, hold or oil than in service: a reading without flow says nothing about flow.",
        "Full stroke: a spool may pick up and stop half way; watch the current dip or the cylinder.",
        "AC coils: only go or no-go, one to two seconds on, then cool.",
        "A slow ramp instead of steps from 0 V, or a coil warmed by the trials before: read its ohms each time.",
    ),
)
def pickup_volts(trial: PickUpVolts) -> Value:
    """Is enough force in hand, told from the voltage at which the spool just shifts?

    The best single test of a valve on the bench, and it holds for the pressure, flow and hold that it was read at.
    """
    lowest_voltage = using(trial, budget.lowest_voltage, supply_below=fact("supply-below"))
    minimum_voltage = known(trial.minimum_voltage, lowest_voltage)
    resistance_ratio_read = using(trial, reading.read_ratio)
    resistance_ratio_copper = using(trial, reading.copper_ratio)
    resistance_ratio = known(resistance_ratio_read, resistance_ratio_copper)
    margin_share = reading.share_at_ratio(
        pickup_voltage=trial.pickup_voltage, minimum_voltage=minimum_voltage, resistance_ratio=resistance_ratio
    )
    largest_pickup_voltage = reading.largest_pickup(
        minimum_voltage=minimum_voltage, resistance_ratio=resistance_ratio, wanted_share=fact("margin-sign-off")
    )
    return {
        "margin_share": margin_share,
        "largest_pickup_voltage": largest_pickup_voltage,
        "minimum_voltage": minimum_voltage,
        "resistance_ratio": resistance_ratio,
    }
