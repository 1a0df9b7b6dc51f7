"""Two readings of a coil switched off and on, each judged on its own: drop-out voltage, shift time."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import reading
from valvecalc.primitives import using
from valvecalc.sheet import sheet

_VOLTS = "> 0 V, <= 400 V"
_MOMENT = "> 0 ms, <= 60 s"


class Released(NamedTuple):
    """The voltage at which the spool went back, and the plate; SI."""

    drop_out_voltage: Value
    nominal_voltage: Value


@sheet(
    "Drop-out voltage of a coil",
    results=("drop_out_share",),
    judged={"drop_out_share": (">=", "drop-out-least")},
    limits={"drop_out_voltage": ">= 0 V, <= 400 V", "nominal_voltage": _VOLTS},
    example={"drop_out_voltage": "5.3 V", "nominal_voltage": "48 V"},
    cautions=("hot-coil", "live-circuit"),
    distrust=(
        "A slow ramp down: the winding warms on the way. Lower in steps, one breath each.",
        "A reading without pressure: flow and silt hold the spool as well. State the pressure; first at none.",
        "AC: below its pull-in voltage the coil draws its starting current. Short on times, or leave it out.",
    ),
)
def release_volts(off: Released) -> Value:
    """Does the coil let go? A spool that hangs on almost to zero volts will one day hang on after switching off."""
    drop_out_share = using(off, reading.drop_out_share)
    return {"drop_out_share": drop_out_share}


class Switched(NamedTuple):
    """The shift time as read, and the one of the documents or of a sister valve; SI."""

    measured_shift_time: Value
    rated_shift_time: Value


@sheet(
    "Shift time as read",
    results=("shift_time_deviation",),
    judged={"shift_time_deviation": ("within", "shift-time-tolerance")},
    limits={"measured_shift_time": _MOMENT, "rated_shift_time": _MOMENT},
    example={"measured_shift_time": "44 ms", "rated_shift_time": "40 ms"},
    cautions=("test-stand", "live-circuit", "falling-load"),
    distrust=(
        "Two ways of reading: the dip of the current is the armature, the rise of the pressure is the oil behind it.",
        "A cold coil or cold oil: the one makes it faster, the other slower. Read both valves alike.",
        "A diode in the plug: it slows switching off, not switching on.",
    ),
)
def shift_seconds(moved: Switched) -> Value:
    """Does it shift as fast as it should? Slower is drag, low volts or a starved pilot; faster is a weak spring."""
    shift_time_deviation = using(moved, reading.shift_time_deviation)
    return {"shift_time_deviation": shift_time_deviation}
