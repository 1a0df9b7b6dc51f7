"""How long does the coil hang on after it is switched off, with what is across it?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import coil, delay
from valvecalc.primitives import fact, known, least, using
from valvecalc.sheet import sheet


class Switching(NamedTuple):
    """What is across the coil, the coil with its gap closed, and the current at which the spring wins; SI."""

    suppressor_kind: Value
    coil_voltage: Value
    resistance: Value
    inductance: Value
    drop_out_current: Value
    clamp_voltage: Value = None


#: The words of data/suppressors.csv.
KINDS = (
    "nothing (contact opens)",
    "diode",
    "lamp or LED alone in the plug",
    "diode and LED in the plug",
    "Zener 24 V",
    "Zener or varistor 47 V",
    "varistor on 110 V coils",
    "bridge in the plug",
)


@sheet(
    "Drop-out: how long the coil hangs on with this plug",
    results=("drop_out_delay", "diode_delay", "delay_ratio", "full_current", "coil_time_constant", "suppressor_note"),
    choices={"suppressor_kind": KINDS},
    limits={
        "coil_voltage": "> 0 V, <= 400 V",
        "resistance": "> 0 Ω, <= 20 kΩ",
        "inductance": "> 0 H, <= 100 H",
        "drop_out_current": ">= 0 A, <= 20 A",
        "clamp_voltage": ">= 0 V, <= 2000 V",
    },
    labels={
        "inductance": "inductance with the armature at the end of its stroke, gap closed",
        "clamp_voltage": "voltage printed on the suppressor, if it is known",
    },
    example={
        "suppressor_kind": "Zener or varistor 47 V",
        "coil_voltage": "46 V",
        "resistance": "115 Ω",
        "inductance": "2.4 H",
        "drop_out_current": "0.10 A",
    },
    cautions=("live-circuit", "falling-load"),
    sources=(("bird-circuit", "problems 17.10 and 17.11"),),
    distrust=(
        "Order of size, good to ±50 %: use it to compare plugs, not as a promised time.",
        "Eddy currents in solid iron are left out: they add 5 to 20 ms to each.",
        "The spool's own way back comes on top.",
    ),
)
def drop_out(switching: Switching) -> Value:
    """The delay with this suppressor, beside that with a plain diode: a spec item when a plug is replaced.

    A machine that overruns after a change of plugs or valves: look for a diode that was not there before.
    """
    suppressor_row = least(
        [row for row in fact("suppressor-kinds") if row["suppressor_kind"] == switching.suppressor_kind],
        "clamp_voltage",
    )
    full_current = using(switching, coil.coil_current)
    coil_time_constant = using(switching, delay.coil_time_constant)
    usual_clamp_voltage = suppressor_row["clamp_voltage"]
    clamp_voltage = known(switching.clamp_voltage, usual_clamp_voltage)
    drop_out_delay = using(switching, delay.drop_out_delay, current=full_current, clamp_voltage=clamp_voltage)
    diode_delay = using(switching, delay.drop_out_delay, current=full_current, clamp_voltage=fact("diode-clamp"))
    delay_ratio = delay.delay_ratio(drop_out_delay=drop_out_delay, diode_delay=diode_delay)
    return {
        "drop_out_delay": drop_out_delay,
        "diode_delay": diode_delay,
        "delay_ratio": delay_ratio,
        "full_current": full_current,
        "coil_time_constant": coil_time_constant,
        "suppressor_note": suppressor_row["suppressor_note"],
    }
