"""Armature and spool on the move: the parts of the motion that sheets/shift_time.py steps through.

The inductance grows along the stroke by as much as the force curve asks for: half the square of the current times its
slope is the force. So the coil and its curve keep one account of energy, and only the inductance at rest is needed.
"""

from valvecalc.formula import Value, formula
from valvecalc.maths import maximum, pi, sqrt

_FORCE = ">= -10000 N, <= 10000 N"
_SPEED = ">= -20 m/s, <= 20 m/s"
_DENSITY = ">= 700 kg/m³, <= 1500 kg/m³"
_DIAMETER = "> 1 mm, <= 200 mm"


@formula(
    "Slope of the inductance along the stroke",
    result="inductance_slope",
    limits={"curve_force": ">= 0 N, <= 10000 N", "curve_current": "> 0 A, <= 20 A"},
    part=True,
)
def inductance_slope(*, curve_force: Value, curve_current: Value) -> Value:
    """What the force at the curve's current says of the inductance."""
    return 2 * curve_force / curve_current**2


@formula(
    "Gain of inductance with the time",
    result="inductance_rate",
    limits={"inductance_slope": ">= 0 H/m", "armature_speed": _SPEED},
    part=True,
)
def inductance_rate(*, inductance_slope: Value, armature_speed: Value) -> Value:
    """The slope, as fast as the armature runs along it."""
    return inductance_slope * armature_speed


@formula(
    "Voltage of the moving armature",
    result="back_emf",
    limits={"current": ">= -20 A, <= 20 A", "inductance_rate": ">= -100 kΩ, <= 100 kΩ"},
    part=True,
)
def back_emf(*, current: Value, inductance_rate: Value) -> Value:
    """What makes the dip in the current: proof that something moved."""
    return current * inductance_rate


@formula(
    "Change of the current",
    result="current_rate",
    limits={
        "coil_voltage": ">= -2000 V, <= 1000 V",
        "current": ">= -20 A, <= 20 A",
        "resistance": "> 0 Ω, <= 20 kΩ",
        "back_emf": ">= -10000 V, <= 10000 V",
        "inductance": "> 0 H, <= 1000 H",
    },
    part=True,
)
def current_rate(
    *, coil_voltage: Value, current: Value, resistance: Value, back_emf: Value, inductance: Value
) -> Value:
    """What resistance and motion leave of the voltage drives the current up."""
    return (coil_voltage - current * resistance - back_emf) / inductance


@formula(
    "Pull at this current",
    result="solenoid_force",
    limits={
        "curve_force": ">= 0 N, <= 10000 N",
        "current": ">= -20 A, <= 20 A",
        "curve_current": "> 0 A, <= 20 A",
    },
    part=True,
)
def pull(*, curve_force: Value, current: Value, curve_current: Value) -> Value:
    """Force of the curve times the square of the currents' ratio."""
    return curve_force * (current / curve_current) ** 2


@formula(
    "Friction of the moving spool",
    result="slide_friction",
    limits={
        "dry_friction": "> 0 N, <= 500 N",
        "armature_speed": _SPEED,
        "moving_mass": "> 0 g, <= 20 kg",
        "stop_time": "> 0 ms, <= 10 ms",
    },
    part=True,
)
def slide_friction(*, dry_friction: Value, armature_speed: Value, moving_mass: Value, stop_time: Value) -> Value:
    """Against the motion; near standstill it fades, so that friction alone stops the mass in the stop time."""
    return (
        dry_friction
        * armature_speed
        / (maximum(armature_speed, -armature_speed) + dry_friction * stop_time / moving_mass)
    )


@formula(
    "Drag of the oil",
    result="oil_drag",
    limits={"damping": ">= 0 N·s/m, <= 10000 N·s/m", "armature_speed": _SPEED},
    part=True,
)
def drag(*, damping: Value, armature_speed: Value) -> Value:
    """Grows with the speed: shear in the clearance and the oil pushed through the armature tube."""
    return damping * armature_speed


@formula(
    "Drag area of the oil that changes ends",
    result="drag_area",
    limits={
        "spool_diameter": _DIAMETER,
        "passage_diameter": "> 0.1 mm, <= 50 mm",
        "discharge_coefficient": "> 0.3, <= 1",
    },
    part=True,
)
def drag_area(*, spool_diameter: Value, passage_diameter: Value, discharge_coefficient: Value) -> Value:
    """What of the force on the spool's ends does not change on the way: cube of the end over square of the hole."""
    spool_area = pi / 4 * spool_diameter**2
    hole_area = pi / 4 * passage_diameter**2
    return spool_area**3 / (discharge_coefficient * hole_area) ** 2


@formula(
    "Drag of the oil that changes ends, either way",
    result="exchange_drag",
    limits={"density": _DENSITY, "drag_area": ">= 0 mm²", "armature_speed": _SPEED},
    part=True,
)
def exchange_drag(*, density: Value, drag_area: Value, armature_speed: Value) -> Value:
    """Against the motion, with the square of the speed; its sign is that of the speed."""
    return density / 2 * drag_area * armature_speed * maximum(armature_speed, -armature_speed)


@formula(
    "Damping of the oil film",
    result="film_damping",
    limits={
        "viscosity": "> 0 mPa·s, <= 100 Pa·s",
        "spool_diameter": _DIAMETER,
        "gap_length": "> 0 mm, <= 1 m",
        "clearance": "> 0 µm, <= 1 mm",
    },
    part=True,
)
def film_damping(*, viscosity: Value, spool_diameter: Value, gap_length: Value, clearance: Value) -> Value:
    """Shear of the film between lands and bore for each speed."""
    return viscosity * pi * spool_diameter * gap_length / clearance


@formula(
    "Mass that the steps can follow",
    result="stepped_mass",
    limits={
        "moving_mass": "> 0 g, <= 20 kg",
        "film_damping": ">= 0 N·s/m",
        "density": _DENSITY,
        "drag_area": ">= 0 mm²",
        "solenoid_force": ">= 0 N",
        "spring_force": ">= 0 N",
        "window": "> 0 ms, <= 1 s",
    },
    part=True,
)
def stepped_mass(
    *,
    moving_mass: Value,
    film_damping: Value,
    density: Value,
    drag_area: Value,
    solenoid_force: Value,
    spring_force: Value,
    window: Value,
) -> Value:
    """The moving mass; where drag settles the speed within less than one of the 1500 steps, as much as takes one step.

    Such a spool creeps, and its mass does not count: only the steps would overshoot. Force equals drag at the speed
    where the drag's slope is the root of 2 · density · drag area · force.
    """
    driving_force = maximum(solenoid_force, spring_force)
    return maximum(moving_mass, (film_damping + sqrt(2 * density * drag_area * driving_force)) * window / 1500)


@formula(
    "Acceleration of the spool",
    result="armature_acceleration",
    limits={"net_force": _FORCE, "moving_mass": "> 0 g, <= 20 kg"},
    part=True,
)
def acceleration(*, net_force: Value, moving_mass: Value) -> Value:
    """Force over mass."""
    return net_force / moving_mass


@formula(
    "Braking at an end stop",
    result="armature_acceleration",
    limits={"armature_speed": _SPEED, "stop_time": "> 0 ms, <= 10 ms"},
    part=True,
)
def braking(*, armature_speed: Value, stop_time: Value) -> Value:
    """The stop takes 63 % of the speed out in each stop time."""
    return -armature_speed / stop_time


@formula("5 % of the stroke", result="early_place", limits={"stroke": "> 0 mm, <= 100 mm"}, part=True)
def early_place(*, stroke: Value) -> Value:
    """Where a motion counts as begun."""
    return 0.05 * stroke


@formula("95 % of the stroke", result="late_place", limits={"stroke": "> 0 mm, <= 100 mm"}, part=True)
def late_place(*, stroke: Value) -> Value:
    """Where a motion counts as done."""
    return 0.95 * stroke


@formula(
    "Current that starts the spool",
    result="start_current",
    limits={
        "curve_current": "> 0 A, <= 20 A",
        "spring_preload": ">= 0 N, <= 2000 N",
        "dry_friction": ">= 0 N, <= 500 N",
        "curve_force": "> 0 N, <= 10000 N",
    },
    part=True,
)
def start_current(*, curve_current: Value, spring_preload: Value, dry_friction: Value, curve_force: Value) -> Value:
    """The pull at rest goes with the square of the current, and has to beat preload and friction."""
    return curve_current * sqrt((spring_preload + dry_friction) / curve_force)


@formula(
    "Current of a coil that is off",
    result="current_rate",
    limits={"current": ">= -20 A, <= 20 A", "stop_time": "> 0 ms, <= 10 ms"},
    part=True,
)
def run_out(*, current: Value, stop_time: Value) -> Value:
    """A suppressor passes one way only: at zero the current stays there."""
    return -current / stop_time
