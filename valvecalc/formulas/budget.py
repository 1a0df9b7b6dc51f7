"""Parts of the sheets: products and ratios that nobody would look up on their own."""

from valvecalc.formula import Value, formula
from valvecalc.maths import exp, maximum, pi, sqrt

_FORCE = ">= -10000 N, <= 10000 N"


@formula(
    "Share of the drive that is in hand", result="margin_share", limits={"margin": _FORCE, "drive": "> 0 N"}, part=True
)
def share_in_hand(*, margin: Value, drive: Value) -> Value:
    """What is left of the driving force, as a share of it."""
    return margin / drive


@formula(
    "Sideways factor of one land",
    result="side_factor",
    sources=(("merritt-1967", ""), ("blackburn-1953", "")),
    limits={"taper": ">= 0 µm, <= 1 mm", "clearance": "> 0 µm, <= 1 mm", "groove_factor": ">= 0, <= 1"},
    part=True,
)
def side_factor(*, taper: Value, clearance: Value, groove_factor: Value) -> Value:
    """Taper coefficient at contact times what the grooves leave of it.

    The closed form of lands.taper_factor at offset = clearance, multiplied out so that a land without
    taper gives 0 instead of dividing by it.
    """
    return (
        groove_factor
        * (pi / 4)
        * (sqrt(taper) * (2 * clearance + taper) / sqrt(4 * clearance + taper) - taper)
        / clearance
    )


@formula(
    "Sideways force of one land",
    result="lateral_force",
    limits={"spool_diameter": "> 0 mm", "length": ">= -100 mm", "pressure_drop": ">= 0 bar", "side_factor": ">= 0"},
    part=True,
)
def land_side_force(*, spool_diameter: Value, length: Value, pressure_drop: Value, side_factor: Value) -> Value:
    """Nothing where the land has left its bore, and nothing where the large end is at the low pressure (it centres)."""
    return side_factor * spool_diameter * maximum(length, 0.0) * maximum(pressure_drop, 0.0)


@formula(
    "Friction of the pressed lands",
    result="lateral_friction",
    limits={"friction_coefficient": ">= 0, <= 1", "lateral_scale": ">= 0", "lateral_force": ">= 0 N"},
    part=True,
)
def land_friction(*, friction_coefficient: Value, lateral_scale: Value, lateral_force: Value) -> Value:
    """Friction coefficient times force; the scale carries what a reading says against the computed force."""
    return lateral_scale * friction_coefficient * lateral_force


@formula(
    "Silt force on the way",
    result="silt_force",
    limits={"silt_at_start": ">= 0 N", "breakaway": ">= 0, <= 1"},
    part=True,
)
def silt_on_the_way(*, silt_at_start: Value, breakaway: Value) -> Value:
    """What is left of the silt's hold after some travel."""
    return silt_at_start * breakaway


@formula(
    "Deviation of a winding from its plate",
    result="resistance_deviation",
    limits={"resistance_20": "> 0 Ω", "expected_resistance_20": "> 0 Ω"},
    part=True,
)
def resistance_deviation(*, resistance_20: Value, expected_resistance_20: Value) -> Value:
    """How far the reading at 20 °C lies from the expected one, as a share of it."""
    return (resistance_20 - expected_resistance_20) / expected_resistance_20


@formula(
    "Deviation of the supply",
    result="supply_deviation",
    limits={"measured_voltage": "> 0 V", "nominal_voltage": "> 0 V"},
    part=True,
)
def supply_deviation(*, measured_voltage: Value, nominal_voltage: Value) -> Value:
    """How far the voltage at the coil lies from the nominal one, as a share of it."""
    return (measured_voltage - nominal_voltage) / nominal_voltage


@formula(
    "Deviation of a stroke time",
    result="time_deviation",
    limits={"measured_time": "> 0 s", "expected_time": "> 0 s"},
    part=True,
)
def time_deviation(*, measured_time: Value, expected_time: Value) -> Value:
    """How much longer a stroke took than it should, as a share of what it should."""
    return (measured_time - expected_time) / expected_time


@formula(
    "Ratio of the stroke times",
    result="time_ratio",
    limits={"extend_time": "> 0 s", "retract_time": "> 0 s"},
    part=True,
)
def stroke_time_ratio(*, extend_time: Value, retract_time: Value) -> Value:
    """Time out over time in; with one flow it is the area ratio."""
    return extend_time / retract_time


@formula(
    "Deviation of the ratio of the stroke times",
    result="time_ratio_deviation",
    limits={"time_ratio": "> 0", "area_ratio": "> 0"},
    part=True,
)
def time_ratio_deviation(*, time_ratio: Value, area_ratio: Value) -> Value:
    """How far the ratio of the times lies from the area ratio."""
    return (time_ratio - area_ratio) / area_ratio


@formula(
    "Leakage against a new valve's",
    result="wear_ratio",
    limits={"reference_leakage": ">= 0 mL/min", "new_leakage": "> 0 mL/min"},
    part=True,
)
def leakage_ratio(*, reference_leakage: Value, new_leakage: Value) -> Value:
    """How many times the leakage of a new valve a reading is, both at the reference oil and pressure."""
    return reference_leakage / new_leakage


@formula(
    "Force ratio of two currents",
    result="hot_force_share",
    limits={"hot_current": "> 0 A", "cold_current": "> 0 A"},
    part=True,
)
def current_force_ratio(*, hot_current: Value, cold_current: Value) -> Value:
    """Force goes with the square of the current below saturation."""
    return (hot_current / cold_current) ** 2


@formula(
    "Force offered, from a push and the share it took",
    result="offered_force",
    limits={"push_force_start": ">= 0 N", "used_share": "> 0"},
    part=True,
)
def offered_from_push(*, push_force_start: Value, used_share: Value) -> Value:
    """The push that just starts the spool is the share used of the force that the coil offers there."""
    return push_force_start / used_share


@formula(
    "A share of the offered force",
    result="share_force",
    limits={"offered_force": ">= 0 N", "share": ">= -10, <= 1"},
    part=True,
)
def force_of_share(*, offered_force: Value, share: Value) -> Value:
    """A share turned into newtons."""
    return offered_force * share


@formula(
    "Leakage of one path", result="path_leakage", limits={"leakage": ">= 0 mL/min", "parallel_paths": ">= 1"}, part=True
)
def path_leakage_of(*, leakage: Value, parallel_paths: Value) -> Value:
    """Equal paths share the leakage."""
    return leakage / parallel_paths


@formula(
    "Leakage of all paths",
    result="expected_leakage",
    limits={"path_leakage": ">= 0 mL/min", "parallel_paths": ">= 1"},
    part=True,
)
def all_paths_leakage(*, path_leakage: Value, parallel_paths: Value) -> Value:
    """Equal paths add up."""
    return path_leakage * parallel_paths


@formula(
    "Lowest voltage that must still shift it",
    result="minimum_voltage",
    limits={"nominal_voltage": "> 0 V", "supply_below": ">= 0, < 1"},
    part=True,
)
def lowest_voltage(*, nominal_voltage: Value, supply_below: Value) -> Value:
    """Nominal voltage less what the supply may drop."""
    return nominal_voltage * (1 - supply_below)


@formula(
    "Silt force after another hold",
    result="silt_at_start",
    limits={
        "silt_force": ">= 0 N",
        "hold_time": ">= 0 s, <= 1000000 s",
        "tested_hold_time": ">= 10 s, <= 1000000 s",
        "silt_time_constant": "> 0 s, <= 10000 s",
    },
    part=True,
)
def silt_after_hold(
    *, silt_force: Value, hold_time: Value, tested_hold_time: Value, silt_time_constant: Value
) -> Value:
    """A silt force read after one hold, turned to another on the same curve.

    A hold far shorter than the time constant tells nothing: the force read is divided by almost nothing.
    """
    return silt_force * (1 - exp(-hold_time / silt_time_constant)) / (1 - exp(-tested_hold_time / silt_time_constant))


@formula(
    "Lateral scale from a reading",
    result="lateral_scale",
    limits={"push_added_lateral": ">= 0 N", "lateral_friction": "> 0 N"},
    part=True,
)
def scale_of_lateral(*, push_added_lateral: Value, lateral_friction: Value) -> Value:
    """What pressure added to the push, over the lateral friction computed there."""
    return push_added_lateral / lateral_friction


@formula(
    "Preload from a load at a length",
    result="spring_preload",
    limits={"load_1": ">= 0 N", "length_1": "> 0 mm", "installed_length": "> 0 mm", "spring_rate": ">= 0 N/mm"},
    part=True,
)
def preload_from_load(*, load_1: Value, length_1: Value, installed_length: Value, spring_rate: Value) -> Value:
    """The load carried on along the rate from the length it was read at to the length as fitted."""
    return load_1 + spring_rate * (length_1 - installed_length)
