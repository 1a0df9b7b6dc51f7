"""Pressures that a cylinder needs under its load, running and while the load is brought up to speed."""

from valvecalc.formula import Value, formula
from valvecalc.maths import pi, sqrt

_DIAMETER = "> 0 mm, <= 2 m"
_PRESSURE = ">= 0 bar, <= 1000 bar"
_LOAD = ">= 0 N, <= 10000000 N"
_LOAD_LIMITS = {
    "load_force": _LOAD,
    "bore_diameter": _DIAMETER,
    "rod_diameter": ">= 0 mm, < 2 m",
    "cap_side_pressure": _PRESSURE,
    "rod_side_pressure": _PRESSURE,
    "mechanical_efficiency": "> 0, <= 1",
}
_STARTING = "Breaking loose from rest: enter 0.85 for the efficiency, and more pressure is needed."
_HELPING = "A load that pulls the way the rod moves: no pressure is needed then, the return side has to hold it back."


@formula(
    "Pressure to push a load out",
    result="cap_side_pressure",
    sources=(("sullivan", "example 8.1"), ("cylinder-exercise", "")),
    limits={name: _LOAD_LIMITS[name] for name in _LOAD_LIMITS if name != "cap_side_pressure"},
    origins={"rod_side_pressure": ("judgement", ""), "mechanical_efficiency": ("judgement", "")},
    labels={"load_force": "load against the rod on its way out"},
    chart="load_force",
    example={"load_force": "30 kN", "bore_diameter": "63 mm", "rod_diameter": "36 mm", "rod_side_pressure": "6 bar"},
    cautions=("falling-load", "stored-pressure"),
    distrust=(_STARTING, _HELPING),
)
def pressure_to_push(
    *,
    load_force: Value,
    bore_diameter: Value,
    rod_diameter: Value,
    rod_side_pressure: Value = 0.0,
    mechanical_efficiency: Value = 0.95,
) -> Value:
    """Pressure on the piston side that moves a load out, return pressure and seal friction paid.

    What the valve has to bring there; the pump needs the pressure difference over the valve on top.
    """
    piston_area = pi / 4 * bore_diameter**2
    annulus_area = pi / 4 * (bore_diameter**2 - rod_diameter**2)
    return (load_force / mechanical_efficiency + rod_side_pressure * annulus_area) / piston_area


@formula(
    "Pressure to pull a load in",
    result="rod_side_pressure",
    sources=(("cylinder-exercise", ""),),
    limits={name: _LOAD_LIMITS[name] for name in _LOAD_LIMITS if name != "rod_side_pressure"},
    origins={"cap_side_pressure": ("judgement", ""), "mechanical_efficiency": ("judgement", "")},
    labels={"load_force": "load against the rod on its way in"},
    chart="load_force",
    example={"load_force": "20 kN", "bore_diameter": "63 mm", "rod_diameter": "36 mm", "cap_side_pressure": "6 bar"},
    cautions=("falling-load", "stored-pressure"),
    distrust=(
        _STARTING,
        _HELPING,
        "Return pressure counts more than on the way out: it works on the full piston, at the larger return flow.",
    ),
)
def pressure_to_pull(
    *,
    load_force: Value,
    bore_diameter: Value,
    rod_diameter: Value,
    cap_side_pressure: Value = 0.0,
    mechanical_efficiency: Value = 0.95,
) -> Value:
    """Pressure on the rod side that moves a load in, return pressure and seal friction paid."""
    piston_area = pi / 4 * bore_diameter**2
    annulus_area = pi / 4 * (bore_diameter**2 - rod_diameter**2)
    return (load_force / mechanical_efficiency + cap_side_pressure * piston_area) / annulus_area


@formula(
    "Pressure that bringing a load up to speed adds",
    result="acceleration_pressure",
    sources=(("esposito", "example 6-4"),),
    limits={
        "moved_mass": ">= 0 kg, <= 1000000 kg",
        "cylinder_speed": ">= 0 mm/s, <= 10 m/s",
        "acceleration_time": "> 0 s, <= 60 s",
        "area": "> 0 mm², <= 4000000 mm²",
    },
    labels={"area": "area that the incoming oil pushes on", "cylinder_speed": "speed reached, from rest"},
    chart="acceleration_time",
    example={
        "moved_mass": "600 kg",
        "cylinder_speed": "130 mm/s",
        "acceleration_time": "0.05 s",
        "area": "3117 mm²",
    },
    cautions=("falling-load", "stored-pressure"),
    distrust=(
        "A mass on a lever: what the rod feels is mass times the square of the lever's ratio.",
        "A spool that opens at once: the oil springs and the peak can reach twice this. Stopping against a shut spool "
        "makes the same peak on the return side.",
    ),
)
def acceleration_pressure(*, moved_mass: Value, cylinder_speed: Value, acceleration_time: Value, area: Value) -> Value:
    """Pressure on top of the load's own, for as long as a mass is brought up to speed or stopped."""
    acceleration_force = moved_mass * cylinder_speed / acceleration_time
    return acceleration_force / area


@formula(
    "Load over the force that is there",
    result="load_share",
    limits={"load_force": _LOAD, "force": "> 0 N"},
    part=True,
)
def load_over_force(*, load_force: Value, force: Value) -> Value:
    """Which share of a cylinder's force the load takes."""
    return load_force / force


@formula(
    "Pressure in the cushion at the end of a stroke",
    result="cushion_pressure",
    sources=(("esposito", "example 6-6"),),
    limits={
        "moved_mass": ">= 0 kg, <= 1000000 kg",
        "cylinder_speed": ">= 0 mm/s, <= 10 m/s",
        "cushion_length": "> 0 mm, <= 1 m",
        "supply_pressure": _PRESSURE,
        "bore_diameter": _DIAMETER,
        "cushion_diameter": ">= 0 mm, < 2 m",
        "load_force": ">= -10000000 N, <= 10000000 N",
    },
    origins={"load_force": ("judgement", "")},
    labels={
        "cylinder_speed": "speed with which the piston meets the cushion",
        "supply_pressure": "pressure that still pushes the piston side: mostly the relief valve's setting",
        "load_force": "load and friction that help to stop; minus where the load pulls on",
    },
    chart="cushion_length",
    example={
        "moved_mass": "600 kg",
        "cylinder_speed": "134 mm/s",
        "cushion_length": "20 mm",
        "supply_pressure": "140 bar",
        "bore_diameter": "63 mm",
        "cushion_diameter": "45 mm",
    },
    cautions=("stored-pressure", "trapped-volume", "falling-load"),
    distrust=(
        "An even slowing: a needle valve shut too far makes the peak at the start far higher.",
        "A cushion seal that leaks: the piston runs through and hits the head.",
    ),
)
def cushion_pressure(
    *,
    moved_mass: Value,
    cylinder_speed: Value,
    cushion_length: Value,
    supply_pressure: Value,
    bore_diameter: Value,
    cushion_diameter: Value,
    load_force: Value = 0.0,
) -> Value:
    """Pressure on the rod side while the cushion stops the piston at the end of the way out, the pump still pushing.

    The oil of the cushion pushes on the ring between bore and plunger only, so even without any mass it is above the
    pump's pressure.
    """
    piston_area = pi / 4 * bore_diameter**2
    cushion_area = pi / 4 * (bore_diameter**2 - cushion_diameter**2)
    acceleration_force = moved_mass * cylinder_speed**2 / (2 * cushion_length)
    return (supply_pressure * piston_area + acceleration_force - load_force) / cushion_area


@formula(
    "Bore for a push",
    result="bore_diameter",
    sources=(("sullivan", "example 8.1"),),
    limits={
        "load_force": "> 0 N, <= 10000000 N",
        "supply_pressure": "> 0 bar, <= 1000 bar",
        "mechanical_efficiency": _LOAD_LIMITS["mechanical_efficiency"],
    },
    origins={"mechanical_efficiency": ("judgement", "")},
    labels={"supply_pressure": "pressure on the piston side, the return side without pressure"},
    chart="supply_pressure",
    example={"load_force": "30 kN", "supply_pressure": "110 bar"},
    cautions=("falling-load",),
    distrust=(_STARTING, "Return pressure and the load's own weight on a slope: put them on top of the load."),
)
def bore_for_push(*, load_force: Value, supply_pressure: Value, mechanical_efficiency: Value = 0.95) -> Value:
    """Smallest bore that pushes this load at this pressure. Take the next larger one of the series."""
    return sqrt(4 * load_force / (pi * mechanical_efficiency * supply_pressure))


@formula(
    "Pressure of a load on a piston",
    result="extend_pressure",
    limits={"load_force": _LOAD, "mechanical_efficiency": _LOAD_LIMITS["mechanical_efficiency"], "area": "> 0 mm²"},
    part=True,
)
def pressure_on_area(*, load_force: Value, mechanical_efficiency: Value, area: Value) -> Value:
    """Load over area, the seals' share on top."""
    return load_force / (mechanical_efficiency * area)
