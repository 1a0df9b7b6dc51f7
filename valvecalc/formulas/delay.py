"""Switching on and off: how long the coil's inductance holds the current back, and how long it keeps it going."""

from valvecalc.formula import Value, formula
from valvecalc.maths import log

_VOLTAGE = "> 0 V, <= 1000 V"
_RESISTANCE = "> 0 Ω, <= 20 kΩ"
_INDUCTANCE = "> 0 H, <= 1000 H"
_COMPARE = "Order of size, good to ±50 %: use it to compare (before and after, diode or none), not as a promised time."
_EDDY = "Eddy currents in solid iron are left out: they add 5 to 20 ms."


@formula(
    "Delay until the spool starts (switching on)",
    result="pull_in_delay",
    sources=(("bird-circuit", "problem 17.09"),),
    limits={
        "coil_voltage": _VOLTAGE,
        "resistance": _RESISTANCE,
        "inductance": _INDUCTANCE,
        "start_current": "> 0 A, <= 20 A",
    },
    labels={
        "inductance": "inductance with the armature at rest, gap open",
        "resistance": "resistance of the winding as warm as it is, cable included",
    },
    chart="coil_voltage",
    example={"coil_voltage": "46 V", "resistance": "115 Ω", "inductance": "1.1 H", "start_current": "0.27 A"},
    cautions=("live-circuit", "falling-load"),
    distrust=(_COMPARE, _EDDY, "A start current above what the coil can draw: it never starts, and there is no value."),
)
def pull_in_delay(*, coil_voltage: Value, resistance: Value, inductance: Value, start_current: Value) -> Value:
    """Dead time before anything moves: the current has to climb to what the spring and friction ask for.

    Hot, at low voltage or with a sticking spool the needed current comes near the settled one and the delay grows
    without bound: a valve that shifts late is one that hardly shifts.
    """
    coil_time_constant = inductance / resistance
    return coil_time_constant * log(coil_voltage / (coil_voltage - start_current * resistance))


@formula(
    "Delay until the spring wins (switching off)",
    result="drop_out_delay",
    sources=(("bird-circuit", "problems 17.10 and 17.11"),),
    limits={
        "current": "> 0 A, <= 20 A",
        "drop_out_current": ">= 0 A, <= 20 A",
        "resistance": _RESISTANCE,
        "inductance": _INDUCTANCE,
        "clamp_voltage": ">= 0 V, <= 2000 V",
    },
    labels={
        "current": "current in the coil when it is switched off",
        "inductance": "inductance with the armature at the end of its stroke, gap closed",
        "clamp_voltage": "voltage of the suppressor: diode 0.8 V, Zener or varistor its own, open contact some 400 V",
    },
    chart="clamp_voltage",
    example={
        "current": "0.40 A",
        "drop_out_current": "0.10 A",
        "resistance": "115 Ω",
        "inductance": "2.4 H",
        "clamp_voltage": "0.8 V",
    },
    cautions=("live-circuit", "falling-load"),
    distrust=(_COMPARE, _EDDY, "Nothing across the coil: the arc of the opening contact makes its own voltage."),
)
def drop_out_delay(
    *, current: Value, drop_out_current: Value, resistance: Value, inductance: Value, clamp_voltage: Value
) -> Value:
    """How long the coil holds on after it is switched off: a plain diode across it triples the time or worse.

    A replacement plug with a diode inside can make a fast machine overrun; one without can burn the contact.
    """
    coil_time_constant = inductance / resistance
    return coil_time_constant * log(
        (current * resistance + clamp_voltage) / (drop_out_current * resistance + clamp_voltage)
    )


@formula(
    "Time constant of a coil",
    result="coil_time_constant",
    limits={"inductance": _INDUCTANCE, "resistance": _RESISTANCE},
    part=True,
)
def coil_time_constant(*, inductance: Value, resistance: Value) -> Value:
    """Inductance over resistance: the time in which the current makes 63 % of its way."""
    return inductance / resistance


@formula(
    "Ratio of two delays",
    result="delay_ratio",
    limits={"drop_out_delay": "> 0 s", "diode_delay": "> 0 s"},
    part=True,
)
def delay_ratio(*, drop_out_delay: Value, diode_delay: Value) -> Value:
    """The delay with this suppressor over that with a plain diode."""
    return drop_out_delay / diode_delay


@formula(
    "Depth of the dip in a current trace",
    result="dip_share",
    limits={"trace_peak_current": "> 0 A", "dip_current": ">= 0 A"},
    part=True,
)
def dip_share(*, trace_peak_current: Value, dip_current: Value) -> Value:
    """How far the current falls while the armature moves, over the peak before it."""
    return (trace_peak_current - dip_current) / trace_peak_current


@formula(
    "Settled current against the expected one",
    result="final_deviation",
    limits={"final_current": "> 0 A", "full_current": "> 0 A"},
    part=True,
)
def final_deviation(*, final_current: Value, full_current: Value) -> Value:
    """Too small: resistance in the way, or a hot coil; too large: shorted turns or another coil."""
    return (final_current - full_current) / full_current
