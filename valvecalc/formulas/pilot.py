"""Two-stage valves: what pilot pressure there is, what force it makes, how fast the main spool moves."""

from valvecalc.formula import Value, formula
from valvecalc.maths import maximum, pi, sqrt

_PRESSURE = ">= 0 bar, <= 700 bar"
_DROP = ">= 0 bar, <= 700 bar"
_DIAMETER = "> 1 mm, <= 200 mm"
_FORCE = ">= 0 N, <= 50000 N"
_FLOW = ">= 0 L/min, <= 10000 L/min"


@formula(
    "Pilot pressure at idle through an open centre",
    result="pilot_pressure",
    limits={
        "tank_pressure": ">= 0 bar, <= 350 bar",
        "centre_drop": ">= 0 bar, <= 100 bar",
        "reference_flow": "> 0 L/min, <= 10000 L/min",
        "pump_flow": _FLOW,
        "check_drop": ">= 0 bar, <= 50 bar",
    },
    labels={"pump_flow": "flow that the pump really delivers, at its lowest speed"},
    origins={"check_drop": ("judgement", "")},
    chart="pump_flow",
    example={
        "tank_pressure": "1.5 bar",
        "centre_drop": "3.2 bar",
        "reference_flow": "200 L/min",
        "pump_flow": "140 L/min",
        "check_drop": "4.5 bar",
    },
    cautions=("test-stand",),
    distrust=(
        "A check valve before the branch to the pilot: it adds nothing to the pilot pressure.",
        "Cold oil: the centre loses more, and the pilot pressure is higher than when the oil is warm.",
        "An internal drain: the tank pressure that helps here works against the pilot at the drain as well.",
    ),
)
def idle_pilot_pressure(
    *, tank_pressure: Value, centre_drop: Value, reference_flow: Value, pump_flow: Value, check_drop: Value = 0.0
) -> Value:
    """Why a two-stage valve with open centre and internal pilot clicks and does not shift.

    Pressure at P while the pump runs through the open centre: tank pressure, loss of the centre, and what a
    preload check valve holds. The loss grows with the square of the flow, so the slowest pump speed decides.
    """
    return tank_pressure + check_drop + centre_drop * (pump_flow / reference_flow) ** 2


@formula(
    "Force of the pilot oil on the main spool",
    result="pilot_force",
    sources=(("cylinder-exercise", ""),),
    limits={"pilot_pressure": _PRESSURE, "drain_pressure": _PRESSURE, "spool_diameter": _DIAMETER},
    labels={"spool_diameter": "diameter of the main spool's end"},
    chart="drain_pressure",
    example={"pilot_pressure": "9 bar", "drain_pressure": "2 bar", "spool_diameter": "24 mm"},
    cautions=("test-stand",),
    distrust=("A stepped end or a pilot piston: take the diameter that the pilot oil really pushes on.",),
)
def pilot_force(*, pilot_pressure: Value, drain_pressure: Value, spool_diameter: Value) -> Value:
    """What drives the main spool: pilot pressure less drain pressure, on the round end of the spool.

    Each bar of back pressure in the drain takes as much as a bar of pilot pressure gives. A negative force: the
    drain pushes the spool back.
    """
    spool_area = pi / 4 * spool_diameter**2
    return (pilot_pressure - drain_pressure) * spool_area


@formula(
    "Force of a pressure difference on the main spool",
    result="pilot_force",
    limits={"pilot_difference": "> 0 bar, <= 700 bar", "spool_diameter": _DIAMETER},
    part=True,
)
def difference_force(*, pilot_difference: Value, spool_diameter: Value) -> Value:
    """Pressure at the one end less that at the other, on the round end of the spool."""
    return pilot_difference * pi / 4 * spool_diameter**2


@formula(
    "Least pilot pressure that moves the main spool",
    result="required_pilot_pressure",
    limits={
        "drain_pressure": _PRESSURE,
        "spring_force": _FORCE,
        "flow_force": _FORCE,
        "dry_friction": _FORCE,
        "spool_diameter": _DIAMETER,
    },
    labels={
        "spring_force": "force of the centring spring where the least is in hand: at the end of the stroke at most",
        "flow_force": "flow force of the main edges, at its peak",
        "dry_friction": "friction of the main spool",
        "spool_diameter": "diameter of the main spool's end",
    },
    chart="drain_pressure",
    example={
        "drain_pressure": "2 bar",
        "spring_force": "150 N",
        "flow_force": "60 N",
        "dry_friction": "15 N",
        "spool_diameter": "24 mm",
    },
    cautions=("test-stand",),
    distrust=(
        "The figure on the valve's own sheet decides: it holds its maker's reserve.",
        "Spring and flow force rarely peak at the same place: both at their largest is the cautious figure.",
    ),
)
def required_pilot_pressure(
    *, drain_pressure: Value, spring_force: Value, flow_force: Value, dry_friction: Value, spool_diameter: Value
) -> Value:
    """The pilot pressure below which the main spool stays or stops half way, from its forces and its drain."""
    spool_area = pi / 4 * spool_diameter**2
    return drain_pressure + (spring_force + flow_force + dry_friction) / spool_area


@formula(
    "Pressure left for the choke",
    result="remaining_drop",
    limits={"pilot_difference": "> -700 bar, <= 700 bar", "force": _FORCE, "spool_diameter": _DIAMETER},
    part=True,
)
def remaining_drop(*, pilot_difference: Value, force: Value, spool_diameter: Value) -> Value:
    """Pilot difference less what the forces on the main spool take of it; none where they take all."""
    return maximum(pilot_difference - force / (pi / 4 * spool_diameter**2), 0)


@formula(
    "Shift time of a main spool through its pilot choke",
    result="pilot_shift_time",
    sources=(("jelali-kroll-2003", "ch. 3.3"),),
    limits={
        "spool_diameter": _DIAMETER,
        "stroke": "> 0 mm, <= 100 mm",
        "choke_diameter": "> 0.1 mm, <= 20 mm",
        "start_drop": "> 0 bar, <= 700 bar",
        "end_drop": _DROP,
        "density": ">= 700 kg/m³, <= 1500 kg/m³",
        "discharge_coefficient": "> 0.3, <= 1",
    },
    trusted={"choke_diameter": ("<= 3 mm", "so wide a hole chokes little; pilot valve and passages then set the time")},
    labels={"spool_diameter": "diameter of the main spool's end", "stroke": "travel of the main spool"},
    origins={"discharge_coefficient": ("handbook", "rabie-2009")},
    chart="choke_diameter",
    example={
        "spool_diameter": "24 mm",
        "stroke": "8 mm",
        "choke_diameter": "1.2 mm",
        "start_drop": "14 bar",
        "end_drop": "9 bar",
        "density": "857 kg/m³",
    },
    cautions=("test-stand",),
    distrust=(
        "Thick cold oil: a small choke passes less, the spool takes longer.",
        "Flow force between start and end is not in it; nor is the time that the pilot valve itself takes.",
        "A choke that chokes one way only: the other way goes through its check valve and is quick.",
    ),
)
def pilot_shift_time(
    *,
    spool_diameter: Value,
    stroke: Value,
    choke_diameter: Value,
    start_drop: Value,
    end_drop: Value,
    density: Value,
    discharge_coefficient: Value = 0.61,
) -> Value:
    """How long the main spool takes: too quick bangs, too slow drags the load through the crossing.

    The oil of one end passes the choke. The spring takes more of the pressure the farther the spool goes; along
    a straight spring the time is exactly that of the mean of the two roots. Twice the hole, a quarter of the time.
    """
    pilot_volume = pi / 4 * spool_diameter**2 * stroke
    hole_area = pi / 4 * choke_diameter**2
    mean_drop = ((sqrt(start_drop) + sqrt(end_drop)) / 2) ** 2
    return pilot_volume / (discharge_coefficient * hole_area * sqrt(2 * mean_drop / density))


@formula(
    "Force of a pressure-centred main spool",
    result="centring_force",
    limits={
        "pilot_pressure": _PRESSURE,
        "outer_diameter": _DIAMETER,
        "inner_diameter": ">= 0 mm, < 200 mm",
    },
    chart="pilot_pressure",
    example={"pilot_pressure": "20 bar", "outer_diameter": "28 mm", "inner_diameter": "24 mm"},
    cautions=("stored-pressure",),
    distrust=(
        "No pilot pressure, no centring: the light springs left in such a valve do not bring it back.",
        "From the other end the smaller difference may be the weaker: work both ways.",
    ),
)
def centring_force(*, pilot_pressure: Value, outer_diameter: Value, inner_diameter: Value) -> Value:
    """With both coils off, what brings a pressure-centred main spool back: one pressure on two unlike ends.

    Away from the larger end it is sleeve against spool, towards it spool against piston.
    """
    return pilot_pressure * (pi / 4) * (outer_diameter**2 - inner_diameter**2)
