"""Has the armature of this AC coil closed, and what does it cost if it has not?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import supply
from valvecalc.primitives import fact, using
from valvecalc.sheet import sheet


class AcCoil(NamedTuple):
    """The current as read, the two currents of the plate, the supply against the plate; SI."""

    current: Value = None
    inrush_current: Value = None
    holding_current: Value = None
    rms_voltage: Value = None
    nominal_voltage: Value = None
    frequency: Value = None
    nominal_frequency: Value = None


_AMPS = "> 0 A, <= 50 A"
_VOLTS = "> 0 V, <= 400 V"
_HERTZ = "> 0 Hz, <= 400 Hz"


@sheet(
    "AC coil: has its armature closed",
    results=("armature_verdict", "open_share", "heat_ratio", "open_heat_ratio", "force_ratio"),
    judged={"open_share": ("<=", "ac-closed")},
    limits={
        "current": ">= 0 A, <= 50 A",
        "inrush_current": _AMPS,
        "holding_current": _AMPS,
        "rms_voltage": _VOLTS,
        "nominal_voltage": _VOLTS,
        "frequency": _HERTZ,
        "nominal_frequency": _HERTZ,
    },
    labels={
        "current": "AC current a second after switching on, by clamp meter",
        "inrush_current": "inrush current of the plate, or its inrush VA over its volts",
        "holding_current": "holding current of the plate, or its holding VA over its volts",
        "rms_voltage": "AC voltage at the plug under load",
        "heat_ratio": "heat now over the heat with the armature closed",
    },
    example={
        "current": "1.05 A",
        "inrush_current": "1.30 A",
        "holding_current": "0.38 A",
        "rms_voltage": "108 V",
        "nominal_voltage": "110 V",
        "frequency": "60 Hz",
        "nominal_frequency": "50 Hz",
    },
    cautions=("live-circuit", "hot-coil", "falling-load"),
    distrust=(
        "Two seconds on are enough for a reading: held open the coil burns within minutes, off its tube too.",
        "Plates give inrush and holding at nominal voltage and frequency; both currents move with them.",
        "Dirt or a worn face on a closed armature: it hums and draws somewhat more than its holding current.",
        "A DC coil draws the same whether its armature has moved or not: read the trace instead.",
    ),
)
def ac_armature(found: AcCoil) -> Value:
    """An AC coil tells by its current how far its armature has come: inrush means open, holding means closed.

    Open and switched on it makes ten times its heat: look for what holds the spool, for both coils on at once, for a
    voltage too low or the wrong frequency, before another coil goes in.
    """
    open_share = using(found, supply.open_share)
    armature_verdict = (
        "closed"
        if open_share <= fact("ac-closed")
        else ("held open" if open_share >= fact("ac-open") else "cannot tell")
    )
    heat_ratio = supply.stuck_open_heat(inrush_current=found.current, holding_current=found.holding_current)
    open_heat_ratio = using(found, supply.stuck_open_heat)
    force_ratio = using(found, supply.frequency_force)
    return {
        "armature_verdict": armature_verdict,
        "open_share": open_share,
        "heat_ratio": heat_ratio,
        "open_heat_ratio": open_heat_ratio,
        "force_ratio": force_ratio,
    }
