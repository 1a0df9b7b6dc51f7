"""Codes of dirt against a target, and readings of the oil: the differences and ratios behind the sheets."""

from valvecalc.formula import Value, formula
from valvecalc.maths import maximum, power

_CODE = ">= 0, <= 30"
_OVER = ">= -30, <= 30"
_COUNT = ">= 0 1/mL, <= 100000000 1/mL"


@formula(
    "Codes above the target",
    result="codes_over",
    limits={"iso_code": _CODE, "target_4": _CODE},
    part=True,
)
def codes_above(*, iso_code: Value, target_4: Value) -> Value:
    """One number of a code against that of the target."""
    return iso_code - target_4


@formula(
    "Worst of three",
    result="codes_over",
    limits={"first_over": _OVER, "second_over": _OVER, "third_over": _OVER},
    part=True,
)
def worst_over(*, first_over: Value, second_over: Value, third_over: Value) -> Value:
    """The largest of three differences."""
    return maximum(maximum(first_over, second_over), third_over)


@formula(
    "Times the dirt of the target",
    result="times_dirtier",
    limits={"codes_over": _OVER},
    part=True,
)
def times_dirtier(*, codes_over: Value) -> Value:
    """Each code is twice the particles."""
    return power(2, codes_over)


@formula(
    "Particles really counted",
    result="particles_counted",
    limits={"particle_concentration": _COUNT, "counted_volume": "> 0 mL, <= 10 L"},
    part=True,
)
def particles_counted(*, particle_concentration: Value, counted_volume: Value) -> Value:
    """Particles in each mL times the oil that was looked at."""
    return particle_concentration * counted_volume


@formula(
    "Target made harder",
    result="target_4",
    limits={"printed_4": _CODE, "harder_by": ">= 0, <= 3"},
    part=True,
)
def harder_target(*, printed_4: Value, harder_by: Value) -> Value:
    """The printed number less what the duty asks for."""
    return printed_4 - harder_by


@formula(
    "Widest gap of a spool",
    result="twice_clearance",
    limits={"clearance": "> 0 µm, <= 1 mm"},
    part=True,
)
def widest_gap(*, clearance: Value) -> Value:
    """A spool pressed to one side leaves twice the radial clearance on the other."""
    return 2 * clearance


@formula(
    "Particles that a leakage carries",
    result="gap_rate",
    limits={"gap_count": _COUNT, "leakage": ">= 0 mL/min, <= 100 L/min"},
    part=True,
)
def carried(*, gap_count: Value, leakage: Value) -> Value:
    """Particles in each mL times the leakage."""
    return gap_count * leakage


@formula(
    "Water against what the oil dissolves",
    result="saturation_share",
    limits={"water_content": ">= 0 ppm, <= 100 %", "saturation_content": "> 0 ppm, <= 10 %"},
    part=True,
)
def saturation_share(*, water_content: Value, saturation_content: Value) -> Value:
    """Above one the water stands free or as milk."""
    return water_content / saturation_content


@formula(
    "Distance of an oil from a grade",
    result="grade_misfit",
    limits={"viscosity_40": "> 0.6 mm²/s, <= 10000 mm²/s", "grade_viscosity": "> 0.6 mm²/s, <= 10000 mm²/s"},
    part=True,
)
def grade_misfit(*, viscosity_40: Value, grade_viscosity: Value) -> Value:
    """Viscosity at 40 °C over that of the grade, or the other way round, less one."""
    return maximum(viscosity_40 / grade_viscosity, grade_viscosity / viscosity_40) - 1


@formula(
    "Time of so many halvings",
    result="longest_time",
    limits={"halving_time": "> 0 s, <= 1e9 s", "halving_number": "> 0, <= 100"},
    part=True,
)
def halvings(*, halving_time: Value, halving_number: Value) -> Value:
    """So many codes at one after the other."""
    return halving_time * halving_number
