"""The limit of a directional valve: how much flow it still shifts against, and what one known limit says."""

from valvecalc.formula import Value, formula
from valvecalc.formulas import spool
from valvecalc.maths import cos, maximum, pi, sqrt

_FLOW = "> 0 L/min, <= 10000 L/min"
_ANGLE = ">= 0 °, < 90 °"
_ENTRIES = {
    "force_in_hand": "> 0 N, <= 5000 N",
    "supply_pressure": "> 0 bar, <= 700 bar",
    "density": ">= 700 kg/m³, <= 1500 kg/m³",
    "load_pressure_difference": ">= -350 bar, <= 700 bar",
    "tank_pressure": ">= 0 bar, <= 350 bar",
    "return_ratio": ">= 0, <= 10",
    "velocity_coefficient": "> 0, <= 1",
    "jet_angle": _ANGLE,
}
_LABELS = {
    "force_in_hand": "force that coil less spring, friction and silt leaves there",
    "return_ratio": "return flow over inlet flow; 0 for one edge alone",
}
_ORIGINS = {
    "load_pressure_difference": ("judgement", ""),
    "tank_pressure": ("judgement", ""),
    "return_ratio": ("judgement", ""),
    "velocity_coefficient": ("handbook", "merritt-1967"),
    "jet_angle": ("handbook", "jelali-kroll-2003"),
}
_DISTRUST = (
    "The force in hand changes along the stroke: a place farther on has more of it. The shift budget walks it.",
    "One port plugged, or an accumulator on the line: the limit is lower than this.",
)


@formula(
    "Largest flow that still shifts, at a pressure",
    result="limit_flow",
    sources=(("jelali-kroll-2003", "eq. 3.88, p. 50"),),
    limits={**_ENTRIES, "flow_force_factor": "> 0, <= 2"},
    labels=_LABELS,
    origins=_ORIGINS,
    chart="supply_pressure",
    example={
        "force_in_hand": "32 N",
        "flow_force_factor": "0.25",
        "supply_pressure": "210 bar",
        "density": "857 kg/m³",
    },
    cautions=("test-stand",),
    distrust=_DISTRUST,
)
def limit_flow(
    *,
    force_in_hand: Value,
    flow_force_factor: Value,
    supply_pressure: Value,
    density: Value,
    load_pressure_difference: Value = 0.0,
    tank_pressure: Value = 0.0,
    return_ratio: Value = 1.0,
    velocity_coefficient: Value = 0.98,
    jet_angle: Value = 69 * pi / 180,
) -> Value:
    """The limit curve of a valve, flow against pressure: what its flow force leaves room for.

    Where the edges just pass the pump flow the flow force is at its peak; there it may take all that is in hand.
    """
    available_drop = spool.available_pressure(
        supply_pressure=supply_pressure,
        load_pressure_difference=load_pressure_difference,
        return_ratio=return_ratio,
        tank_pressure=tank_pressure,
    )
    return force_in_hand / (
        flow_force_factor
        * velocity_coefficient
        * cos(jet_angle)
        * (1 + return_ratio**2)
        * sqrt(2 * density * available_drop / (1 + return_ratio**3))
    )


@formula(
    "Flow-force factor from one limit point",
    result="flow_force_factor",
    sources=(("jelali-kroll-2003", "eq. 3.88, p. 50"),),
    limits={**_ENTRIES, "limit_flow": _FLOW},
    labels=_LABELS | {"limit_flow": "flow at the limit, as the valve's own sheet or a test gives it"},
    origins=_ORIGINS,
    chart="limit_flow",
    example={
        "force_in_hand": "32 N",
        "limit_flow": "70 L/min",
        "supply_pressure": "210 bar",
        "density": "857 kg/m³",
    },
    cautions=("test-stand",),
    distrust=(*_DISTRUST, "A limit stated cold or at full voltage: take the force in hand of that same state."),
)
def factor_at_limit(
    *,
    force_in_hand: Value,
    limit_flow: Value,
    supply_pressure: Value,
    density: Value,
    load_pressure_difference: Value = 0.0,
    tank_pressure: Value = 0.0,
    return_ratio: Value = 1.0,
    velocity_coefficient: Value = 0.98,
    jet_angle: Value = 69 * pi / 180,
) -> Value:
    """Calibrates the flow force on this valve: at its known limit the flow force takes all that is in hand.

    Far below 1 is usual: the plain theory is pessimistic for a shaped spool.
    """
    available_drop = spool.available_pressure(
        supply_pressure=supply_pressure,
        load_pressure_difference=load_pressure_difference,
        return_ratio=return_ratio,
        tank_pressure=tank_pressure,
    )
    return force_in_hand / (
        limit_flow
        * velocity_coefficient
        * cos(jet_angle)
        * (1 + return_ratio**2)
        * sqrt(2 * density * available_drop / (1 + return_ratio**3))
    )


@formula(
    "Limit flow with one working port plugged",
    result="limit_flow_one_way",
    limits={"limit_flow": ">= 0 L/min, <= 10000 L/min", "one_way_share": "> 0, <= 1"},
    labels={"limit_flow": "limit flow with oil both ways, at this pressure"},
    origins={"one_way_share": ("judgement", "")},
    example={"limit_flow": "62 L/min"},
    cautions=("test-stand",),
    distrust=(
        "A share of 0.7 is judgement, no law: the valve's own limit for this use, or a test in this use, decides.",
    ),
)
def one_way_limit(*, limit_flow: Value, one_way_share: Value = 0.7) -> Value:
    """What to allow a four-way valve used as a three-way or two-way, A or B plugged, until its own figure is known.

    With oil through one chamber only the forces of the two no longer balance in part; the limit drops.
    """
    return limit_flow * one_way_share


@formula(
    "Pressure difference over an edge, whichever way",
    result="pressure_drop",
    limits={"upper_pressure": "> -1 bar, <= 1000 bar", "lower_pressure": "> -1 bar, <= 1000 bar"},
    part=True,
)
def unsigned_drop(*, upper_pressure: Value, lower_pressure: Value) -> Value:
    """The flow force does not care which way the oil streams."""
    return maximum(upper_pressure - lower_pressure, lower_pressure - upper_pressure)
