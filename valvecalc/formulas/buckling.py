"""When a rod that pushes bends out sideways: slenderness, and the load by Euler or by Johnson."""

from valvecalc.formula import Value, formula
from valvecalc.maths import pi, sqrt, where

_LIMITS = {
    "rod_diameter": "> 0 mm, <= 1 m",
    "buckling_length": "> 0 mm, <= 50 m",
    "elastic_modulus": "> 0 GPa, <= 1000 GPa",
    "yield_strength": "> 0 MPa, <= 3000 MPa",
    "area": "> 0 mm², <= 1000000 mm²",
    "slenderness": "> 0, <= 10000",
}
_STEEL = ("common-practice", "")
_SIDEWAYS = "Side load, a bent rod, a worn guide or a load beside the axis: it bends long before this load."


@formula(
    "Slenderness of a piston rod",
    result="slenderness",
    sources=(("wentzell", "example 3.6"),),
    limits={name: _LIMITS[name] for name in ("buckling_length", "rod_diameter")},
    chart="buckling_length",
    example={"buckling_length": "900 mm", "rod_diameter": "36 mm"},
    distrust=("A hollow rod: it is less slender than this, but has less area to carry the load.",),
)
def slenderness(*, buckling_length: Value, rod_diameter: Value) -> Value:
    """How slender a solid round rod is: buckling length over a quarter of its diameter. Long and thin is large."""
    return 4 * buckling_length / rod_diameter


@formula(
    "Slenderness from which Euler holds",
    result="limit_slenderness",
    sources=(("johnson-article", ""), ("wentzell", "example 3.6")),
    limits={name: _LIMITS[name] for name in ("yield_strength", "elastic_modulus")},
    origins={"elastic_modulus": _STEEL},
    example={"yield_strength": "300 MPa"},
    distrust=("Yield strength of another steel than the rod's: ask for its certificate, or take the lowest.",),
)
def limit_slenderness(*, yield_strength: Value, elastic_modulus: Value = 2.1e11) -> Value:
    """Where the curves of Euler and Johnson meet, each at half the yield strength. Shorter rods go by Johnson."""
    return pi * sqrt(2 * elastic_modulus / yield_strength)


@formula(
    "Buckling load by Euler",
    result="buckling_load",
    sources=(("gere", "example 11.1"),),
    limits={name: _LIMITS[name] for name in ("rod_diameter", "buckling_length", "elastic_modulus")},
    origins={"elastic_modulus": _STEEL},
    chart="buckling_length",
    example={"rod_diameter": "36 mm", "buckling_length": "1200 mm"},
    cautions=("falling-load",),
    distrust=(
        "A short thick rod: Euler gives more than the steel bears. Take the lower of Euler and Johnson.",
        _SIDEWAYS,
    ),
)
def euler_load(*, rod_diameter: Value, buckling_length: Value, elastic_modulus: Value = 2.1e11) -> Value:
    """Load at which a long solid rod bends out, without any safety factor.

    Twice the length, a quarter of the load; a better steel does not help, a thicker rod does.
    """
    return pi**3 * elastic_modulus * rod_diameter**4 / (64 * buckling_length**2)


@formula(
    "Buckling load by Johnson",
    result="buckling_load",
    sources=(("wentzell", "example 3.6"), ("johnson-article", "")),
    limits={name: _LIMITS[name] for name in ("area", "slenderness", "yield_strength", "elastic_modulus")},
    origins={"elastic_modulus": _STEEL},
    labels={"area": "cross-section of the rod"},
    chart="slenderness",
    example={"area": "1018 mm²", "slenderness": "80", "yield_strength": "300 MPa"},
    cautions=("falling-load",),
    distrust=("Beyond the slenderness from which Euler holds: this parabola falls below zero there.", _SIDEWAYS),
)
def johnson_load(*, area: Value, slenderness: Value, yield_strength: Value, elastic_modulus: Value = 2.1e11) -> Value:
    """Load at which a rod of middling length gives way, without any safety factor."""
    return area * yield_strength * (1 - yield_strength * slenderness**2 / (4 * pi**2 * elastic_modulus))


@formula(
    "Buckling load of a piston rod",
    result="buckling_load",
    sources=(("gere", "example 11.1"), ("wentzell", "example 3.6"), ("johnson-article", "")),
    limits={name: _LIMITS[name] for name in ("rod_diameter", "buckling_length", "yield_strength", "elastic_modulus")},
    origins={"elastic_modulus": _STEEL},
    chart="buckling_length",
    example={"rod_diameter": "36 mm", "buckling_length": "900 mm", "yield_strength": "300 MPa"},
    cautions=("falling-load",),
    distrust=(
        _SIDEWAYS,
        "Rod and tube together as one stepped column, with friction at the pins: ISO/TS 13725 has that method, this is "
        "the rod alone over the whole length.",
    ),
)
def rod_buckling_load(
    *, rod_diameter: Value, buckling_length: Value, yield_strength: Value, elastic_modulus: Value = 2.1e11
) -> Value:
    """Load at which a solid rod gives way: Euler where it is slender, Johnson where it is not. No safety factor yet."""
    slenderness = 4 * buckling_length / rod_diameter
    limit_slenderness = pi * sqrt(2 * elastic_modulus / yield_strength)
    area = pi / 4 * rod_diameter**2
    return where(
        slenderness >= limit_slenderness,
        pi**3 * elastic_modulus * rod_diameter**4 / (64 * buckling_length**2),
        area * yield_strength * (1 - yield_strength * slenderness**2 / (4 * pi**2 * elastic_modulus)),
    )


@formula(
    "Buckling length",
    result="buckling_length",
    limits={"mounted_length": "> 0 mm, <= 50 m", "end_factor": ">= 0.5, <= 2"},
    part=True,
)
def buckling_length(*, mounted_length: Value, end_factor: Value) -> Value:
    """Length between the mountings with the rod out, times the factor of its ends."""
    return mounted_length * end_factor


@formula(
    "Safety against buckling",
    result="buckling_safety",
    limits={"buckling_load": "> 0 N", "load_force": "> 0 N"},
    part=True,
)
def buckling_safety(*, buckling_load: Value, load_force: Value) -> Value:
    """How many times the load that is there the rod would bear."""
    return buckling_load / load_force


@formula(
    "Load allowed on a rod",
    result="allowed_load",
    limits={"buckling_load": "> 0 N", "safety_factor": ">= 1, <= 20"},
    part=True,
)
def allowed_load(*, buckling_load: Value, safety_factor: Value) -> Value:
    """Buckling load over the safety factor asked for."""
    return buckling_load / safety_factor


@formula(
    "Pressure that makes a force on the piston side",
    result="allowed_pressure",
    limits={"allowed_load": "> 0 N", "piston_area": "> 0 mm²"},
    part=True,
)
def pressure_of_load(*, allowed_load: Value, piston_area: Value) -> Value:
    """Force over the full piston area."""
    return allowed_load / piston_area


@formula(
    "Push of a pressure, without friction",
    result="pressure_force",
    limits={"cap_side_pressure": ">= 0 bar", "piston_area": "> 0 mm²"},
    part=True,
)
def push_of_pressure(*, cap_side_pressure: Value, piston_area: Value) -> Value:
    """The most that a rod can be pushed with: no friction taken off, no return pressure."""
    return cap_side_pressure * piston_area


@formula(
    "Load times its safety factor",
    result="needed_load",
    limits={"load_force": "> 0 N", "safety_factor": ">= 1, <= 20"},
    part=True,
)
def load_with_safety(*, load_force: Value, safety_factor: Value) -> Value:
    """The buckling load that a rod needs."""
    return load_force * safety_factor
