"""Does the trace of the coil current show that the armature moved?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import coil, delay
from valvecalc.primitives import fact, using
from valvecalc.sheet import sheet


class Trace(NamedTuple):
    """What the clamp meter or scope shows after switching on, and the coil; SI."""

    trace_peak_current: Value = None
    dip_current: Value = None
    final_current: Value = None
    coil_voltage: Value = None
    resistance: Value = None


@sheet(
    "Current trace: does it show that the armature moved",
    results=("motion_verdict", "dip_share", "full_current", "final_deviation"),
    judged={"dip_share": (">=", "trace-dip"), "final_deviation": ("within", "trace-final")},
    limits={
        "trace_peak_current": "> 0 A, <= 20 A",
        "dip_current": ">= 0 A, <= 20 A",
        "final_current": "> 0 A, <= 20 A",
        "coil_voltage": "> 0 V, <= 400 V",
        "resistance": "> 0 Ω, <= 20 kΩ",
    },
    labels={
        "trace_peak_current": "current at the first peak, before the dip; without a dip the same as the dip current",
        "coil_voltage": "voltage at the plug while the trace was taken",
        "resistance": "winding resistance as warm as it was then",
    },
    example={
        "trace_peak_current": "0.29 A",
        "dip_current": "0.25 A",
        "final_current": "0.41 A",
        "coil_voltage": "46 V",
        "resistance": "108 Ω",
    },
    cautions=("live-circuit", "falling-load"),
    distrust=(
        "A dip proves motion, not the full stroke: a spool that stops half way dips too, only less.",
        "An armature that had moved before (held by the manual override, or still on) shows no dip.",
        "Drivers that regulate or pulse the current hide the dip; AC coils show none of this.",
        "A slow armature in cold thick oil dips so little that it cannot be told.",
    ),
)
def current_trace(trace: Trace) -> Value:
    """The moving armature makes a voltage against the supply: the current dips before it climbs to its settled value.

    No dip: it did not move, or it stood at its end already. Settled too low: resistance in the way or a hot coil.
    """
    dip_share = using(trace, delay.dip_share)
    motion_verdict = (
        "moved"
        if dip_share >= fact("trace-dip")
        else ("did not move" if dip_share <= fact("trace-flat") else "cannot tell")
    )
    full_current = using(trace, coil.coil_current)
    final_deviation = using(trace, delay.final_deviation, full_current=full_current)
    return {
        "motion_verdict": motion_verdict,
        "dip_share": dip_share,
        "full_current": full_current,
        "final_deviation": final_deviation,
    }
