"""A held load that moves by itself: drift past a land, creep under standing pressure, a shut cylinder that sinks."""

from valvecalc.formula import Value, formula
from valvecalc.maths import pi

_AREA = "> 0 mm², <= 4000000 mm²"
_LEAKAGE = ">= 0 mL/min, <= 100 L/min"
_PRESSURE = ">= 0 bar, <= 1000 bar"
_DIAMETER = "> 0 mm, <= 2 m"
_LOAD = ">= 0 N, <= 10000000 N"
_ROD_PULLED = "A load that pulls the rod out: a void forms on the piston side, and all but the smallest loads drift on."
_TWO_RODS = "A rod through both ends: nothing stops it, a leaking piston seal alone lets it drift."


@formula(
    "Drift of a held load from the leakage",
    result="drift_speed",
    sources=(("sullivan", "example 8.2"),),
    limits={"leakage": _LEAKAGE, "area": _AREA},
    labels={"leakage": "oil that leaves the side that holds the load", "area": "area whose oil holds the load"},
    example={"leakage": "14 mL/min", "area": "3117 mm²"},
    cautions=("falling-load", "stored-pressure"),
    distrust=(
        "Oil that warms or cools while you wait moves the rod too: wait until its temperature stands.",
        "A leaking piston seal alone: with both ports truly shut a load that pushes the rod in comes to rest.",
    ),
)
def drift_speed(*, leakage: Value, area: Value) -> Value:
    """How fast a held load sinks when this much oil gets past the valve."""
    return leakage / area


@formula(
    "Leakage that a drift speaks for",
    result="leakage",
    sources=(("sullivan", "example 8.2"),),
    limits={"drift_speed": ">= 0 mm/min, <= 1 m/s", "area": _AREA},
    labels={"drift_speed": "drift measured, or allowed", "area": "area whose oil holds the load"},
    example={"drift_speed": "3 mm/min", "area": "3117 mm²"},
    cautions=("drift-test", "stored-pressure"),
    distrust=(
        "Oil that cools in a line shut off shrinks: 1 L loses about 0.7 mL for each K, which looks like a leak.",
        "Whose leakage it is: valve, line, rod seal or port. Shut the ports at the cylinder and measure again.",
    ),
)
def leakage_for_drift(*, drift_speed: Value, area: Value) -> Value:
    """Leakage behind a measured drift; from the drift that the machine allows, the most that its valve may leak."""
    return drift_speed * area


@formula(
    "Drift from a way and a time",
    result="drift_speed",
    limits={"drift_distance": ">= 0 mm, <= 20 m", "drift_time": "> 0 s, <= 1000000 s"},
    part=True,
)
def drift_from_distance(*, drift_distance: Value, drift_time: Value) -> Value:
    """Way over time."""
    return drift_distance / drift_time


@formula(
    "Drift over another drift",
    result="drift_share",
    limits={"drift_speed": ">= 0 mm/min", "reference_drift": "> 0 mm/min"},
    part=True,
)
def drift_ratio(*, drift_speed: Value, reference_drift: Value) -> Value:
    """How many times one drift is the other."""
    return drift_speed / reference_drift


@formula(
    "Load behind a holding pressure",
    result="load_force",
    limits={"holding_pressure": _PRESSURE, "area": _AREA},
    part=True,
)
def held_load(*, holding_pressure: Value, area: Value) -> Value:
    """Pressure of the side that holds the load, times its area; the other side without pressure."""
    return holding_pressure * area


@formula(
    "Pressure in a shut cylinder with a leaking piston seal",
    result="equalised_pressure",
    sources=(("drift-article", ""),),
    limits={"load_force": _LOAD, "rod_diameter": _DIAMETER},
    labels={"load_force": "load that pushes the rod in"},
    example={"load_force": "9000 N", "rod_diameter": "36 mm"},
    cautions=("trapped-volume", "falling-load", "stored-pressure"),
    distrust=(_ROD_PULLED, _TWO_RODS),
)
def equalised_pressure(*, load_force: Value, rod_diameter: Value) -> Value:
    """Where the pressure of both sides ends when the ports are shut and oil slips past the piston.

    With the same pressure on both sides only the rod's area still carries the load, so the pressure rises, often to
    several times what the gauge showed, also on the rod side and its seal. Then nothing moves any more: a drift that
    goes on means oil that leaves the cylinder.
    """
    rod_area = pi / 4 * rod_diameter**2
    return load_force / rod_area


@formula(
    "Way a shut cylinder sinks until its pressures are even",
    result="sinking_distance",
    limits={
        "load_force": _LOAD,
        "bore_diameter": _DIAMETER,
        "rod_diameter": _DIAMETER,
        "cap_side_volume": ">= 0 mL, <= 10000 L",
        "rod_side_volume": ">= 0 mL, <= 10000 L",
        "effective_modulus": "> 10 MPa, <= 5000 MPa",
        "rod_side_pressure": _PRESSURE,
    },
    trusted={
        "effective_modulus": (
            ">= 500 MPa, <= 2000 MPa",
            "Oil in cylinder and hoses is mostly between 500 and 2000 MPa: outside, check the figure.",
        )
    },
    origins={"rod_side_pressure": ("judgement", "")},
    labels={
        "load_force": "load that pushes the rod in",
        "cap_side_volume": "oil shut in on the piston side, line included",
        "rod_side_volume": "oil shut in on the rod side, line included",
        "rod_side_pressure": "pressure on the rod side before the seal let it even out",
    },
    chart="effective_modulus",
    example={
        "load_force": "9000 N",
        "bore_diameter": "63 mm",
        "rod_diameter": "36 mm",
        "cap_side_volume": "700 mL",
        "rod_side_volume": "450 mL",
        "effective_modulus": "1400 MPa",
    },
    cautions=("trapped-volume", "falling-load", "stored-pressure"),
    distrust=(
        "Air in the oil: at low pressure it gives way far more, and the rod sinks further.",
        _ROD_PULLED,
        _TWO_RODS,
    ),
)
def sinking_distance(
    *,
    load_force: Value,
    bore_diameter: Value,
    rod_diameter: Value,
    cap_side_volume: Value,
    rod_side_volume: Value,
    effective_modulus: Value,
    rod_side_pressure: Value = 0.0,
) -> Value:
    """How far a rod sinks with both ports shut and a leaking piston seal: millimetres, then it stands.

    Why a piston seal alone does not let a shut cylinder drift: the rod that goes in needs room, and both ports are
    shut; only the squeeze of the oil gives it some.
    """
    piston_area = pi / 4 * bore_diameter**2
    rod_area = pi / 4 * rod_diameter**2
    cap_side_pressure = (load_force + rod_side_pressure * (piston_area - rod_area)) / piston_area
    equalised_pressure = load_force / rod_area
    return (
        cap_side_volume * (equalised_pressure - cap_side_pressure)
        + rod_side_volume * (equalised_pressure - rod_side_pressure)
    ) / (effective_modulus * rod_area)


_CREEP_LIMITS = {
    "supply_pressure": _PRESSURE,
    "tank_pressure": _PRESSURE,
    "rod_diameter": _DIAMETER,
}
_CREEP_LABELS = {"supply_pressure": "pressure that stands at port P while the spool is in centre"}
_EQUAL_LANDS = "Lands that are worn unlike: the worst is P to the piston side alone, which ends at the full push."


@formula(
    "Creep of a cylinder under standing pressure",
    result="creep_speed",
    limits={
        "land_leakage": _LEAKAGE,
        "pressure_drop": "> 0 bar, <= 1000 bar",
        "bore_diameter": _DIAMETER,
        "load_force": ">= -10000000 N, <= 10000000 N",
        **_CREEP_LIMITS,
    },
    origins={"tank_pressure": ("judgement", ""), "load_force": ("judgement", "")},
    labels={
        **_CREEP_LABELS,
        "pressure_drop": "pressure difference over that land when its leakage was taken",
        "load_force": "load that pushes the rod in; minus where it pulls the rod out",
    },
    chart="supply_pressure",
    example={
        "land_leakage": "12 mL/min",
        "pressure_drop": "80 bar",
        "supply_pressure": "160 bar",
        "bore_diameter": "63 mm",
        "rod_diameter": "36 mm",
    },
    cautions=("creep", "falling-load", "stored-pressure"),
    distrust=(
        _EQUAL_LANDS,
        "Seal friction holds a slow rod still, then lets it jump: the figure is a mean over minutes.",
        "A centre that lets A, B and T together, or pilot-operated check valves behind the valve.",
    ),
)
def creep_out_speed(
    *,
    land_leakage: Value,
    pressure_drop: Value,
    supply_pressure: Value,
    bore_diameter: Value,
    rod_diameter: Value,
    tank_pressure: Value = 0.0,
    load_force: Value = 0.0,
) -> Value:
    """How fast a rod creeps out by itself with the pump on and a closed centre whose four lands leak alike.

    Oil comes past P into both sides and leaves past T. Both sides settle near half the pump's pressure, the piston
    side has the larger area, and the rod moves out. A minus sign: the load presses it in.
    """
    piston_area = pi / 4 * bore_diameter**2
    annulus_area = pi / 4 * (bore_diameter**2 - rod_diameter**2)
    return (
        land_leakage
        / pressure_drop
        * ((supply_pressure + tank_pressure) * (piston_area - annulus_area) - 2 * load_force)
        / (piston_area**2 + annulus_area**2)
    )


@formula(
    "Force of a rod that creeps out",
    result="stall_force",
    limits=_CREEP_LIMITS,
    origins={"tank_pressure": ("judgement", "")},
    labels=_CREEP_LABELS,
    chart="supply_pressure",
    example={"supply_pressure": "160 bar", "rod_diameter": "36 mm"},
    cautions=("creep", "falling-load", "stored-pressure"),
    distrust=(_EQUAL_LANDS,),
)
def creep_stall_force(*, supply_pressure: Value, rod_diameter: Value, tank_pressure: Value = 0.0) -> Value:
    """The load at which a rod that creeps out under standing pressure stands still: no small force.

    Half of the pressures at P and T together, times the area of the rod. However little the lands leak, the force is
    the same; only the speed is less.
    """
    rod_area = pi / 4 * rod_diameter**2
    return (supply_pressure + tank_pressure) / 2 * rod_area


@formula(
    "Pressure of a plugged port between two equal lands",
    result="shut_pressure",
    limits={"supply_pressure": _PRESSURE, "tank_pressure": _PRESSURE},
    part=True,
)
def middle_pressure(*, supply_pressure: Value, tank_pressure: Value) -> Value:
    """Half way between P and T."""
    return (supply_pressure + tank_pressure) / 2
