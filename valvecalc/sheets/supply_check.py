"""Are these volts right for this supply and this coil, and what should a meter show?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, coil, supply
from valvecalc.primitives import fact, known, least, using
from valvecalc.sheet import sheet


class Supply(NamedTuple):
    """What feeds the coil, the coil, and the reading at its plug under load; SI."""

    supply_kind: Value
    supply_voltage: Value
    on_share: Value = 1.0
    resistance: Value = None
    loop_resistance: Value = 0.0
    contact_resistance: Value = 0.0
    nominal_voltage: Value = None
    plug_voltage: Value = None


#: The words of data/supplies.csv.
KINDS = (
    "battery",
    "battery with charger",
    "regulated supply",
    "transformer and bridge",
    "transformer and one diode",
    "transformer bridge and capacitor",
    "plug with bridge on AC",
    "controller output transistor",
    "controller output relay",
    "driver with reduced hold",
    "pulsed output (PWM)",
    "AC direct",
)


@sheet(
    "Supply check: are these volts right for this supply",
    results=(
        "expected_voltage",
        "mean_voltage",
        "effective_voltage",
        "peak_voltage",
        "expected_current",
        "reading_deviation",
        "supply_deviation",
        "meter_note",
    ),
    choices={"supply_kind": KINDS},
    judged={
        "reading_deviation": ("within", "supply-reading"),
        "supply_deviation": ("band", "supply-below", "supply-above"),
    },
    limits={
        "supply_voltage": "> 0 V, <= 400 V",
        "on_share": "> 0 %, <= 100 %",
        "resistance": "> 0 Ω, <= 100 kΩ",
        "loop_resistance": ">= 0 Ω, <= 1 kΩ",
        "contact_resistance": ">= 0 Ω, <= 1 kΩ",
        "nominal_voltage": "> 0 V, <= 400 V",
        "plug_voltage": "> 0 V, <= 400 V",
    },
    origins={
        "on_share": ("judgement", ""),
        "loop_resistance": ("judgement", ""),
        "contact_resistance": ("judgement", ""),
    },
    labels={
        "on_share": "share of the time that a pulsed output is on; 100 % for all others",
        "resistance": "winding resistance as warm as it is",
        "nominal_voltage": "voltage on the coil's nameplate: DC for a DC coil, AC for an AC coil",
        "plug_voltage": "voltage at the plug under load: DC range for a DC coil, AC range for an AC coil",
    },
    example={
        "supply_kind": "transformer and bridge",
        "supply_voltage": "42 V",
        "resistance": "88 Ω",
        "loop_resistance": "1.6 Ω",
        "nominal_voltage": "36 V",
        "plug_voltage": "31.2 V",
    },
    cautions=("live-circuit",),
    sources=(("malvino", "example 4-2, p. 95"), ("vde-0580-extract", "")),
    distrust=(
        "A reading without the coil on: most faults of a supply show only under load.",
        "A diode, a lamp or electronics in the plug: their drop comes on top.",
        "A driver that gives full volts first and holds with fewer: compare what stands after two seconds.",
    ),
)
def supply_check(feed: Supply) -> Value:
    """From the kind of supply to the volts and amps at the plug, and to what each range of a meter makes of them.

    The mean decides over a DC coil, the RMS value over an AC coil. Far below what is expected: look along the way
    (contact, cable, diode, capacitor); right as expected but wrong for the plate: the wrong coil or supply.
    """
    supply_row = least(
        [row for row in fact("supply-kinds") if row["supply_kind"] == feed.supply_kind], "voltage_factor"
    )
    wave = supply_row["wave"]
    diode_drop = supply_row["diode_drop"]
    rail_voltage = using(feed, supply.rail, voltage_factor=supply_row["voltage_factor"])
    peak_voltage = (
        rail_voltage - diode_drop
        if wave == "dc" or wave == "pulsed"
        else supply.rectified_peak(rms_voltage=rail_voltage, diode_drop=diode_drop)
    )
    mean_voltage = (
        supply.half_wave_mean(rms_voltage=rail_voltage, diode_drop=diode_drop)
        if wave == "half"
        else (
            supply.full_wave_mean(rms_voltage=rail_voltage, diode_drop=diode_drop)
            if wave == "full"
            else (
                using(feed, supply.pulsed_mean, rail_voltage=rail_voltage, diode_drop=diode_drop)
                if wave == "pulsed"
                else (0.0 if wave == "ac" else peak_voltage)
            )
        )
    )
    effective_voltage = (
        supply.half_wave_effective(rms_voltage=rail_voltage)
        if wave == "half"
        else (
            using(feed, supply.pulsed_effective, rail_voltage=rail_voltage)
            if wave == "pulsed"
            else (rail_voltage if wave == "full" or wave == "ac" else peak_voltage)
        )
    )
    working_voltage = rail_voltage if wave == "ac" else mean_voltage
    plug_voltage_expected = using(feed, coil.plug_voltage, source_voltage=working_voltage)
    expected_voltage = known(plug_voltage_expected, working_voltage)
    expected_current = using(feed, coil.coil_current, coil_voltage=plug_voltage_expected) if wave != "ac" else None
    reading_deviation = using(feed, supply.reading_deviation, expected_voltage=expected_voltage)
    measured_voltage = known(feed.plug_voltage, expected_voltage)
    supply_deviation = using(feed, budget.supply_deviation, measured_voltage=measured_voltage)
    return {
        "expected_voltage": expected_voltage,
        "mean_voltage": mean_voltage,
        "effective_voltage": effective_voltage,
        "peak_voltage": peak_voltage,
        "expected_current": expected_current,
        "reading_deviation": reading_deviation,
        "supply_deviation": supply_deviation,
        "meter_note": supply_row["meter_note"],
    }
