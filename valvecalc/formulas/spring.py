"""Springs of the valve: force, rate, preload."""

from valvecalc.formula import Value, formula
from valvecalc.maths import pi

_LENGTH = "> 0 mm, <= 1 m"
_RATE = "> 0 N/mm, <= 10000 N/mm"
_LOAD = ">= 0 N, <= 100000 N"


@formula(
    "Spring force at a position",
    result="spring_force",
    sources=(("esposito", "example 8-1"),),
    limits={
        "spring_preload": ">= 0 N, <= 100000 N",
        "spring_rate": ">= 0 N/mm, <= 10000 N/mm",
        "position": ">= 0 mm, <= 100 mm",
    },
    chart="position",
    example={"spring_preload": "18 N", "spring_rate": "5.2 N/mm", "position": "2.5 mm"},
    cautions=("spring",),
    distrust=("Both centring springs on the spool at once: with captive washers only the far one works.",),
)
def spring_force(*, spring_preload: Value, spring_rate: Value, position: Value) -> Value:
    """Force of the spring that works against the shifting spool."""
    return spring_preload + spring_rate * position


@formula(
    "Spring rate from loads at two lengths",
    result="spring_rate",
    sources=(("esposito", "example 9-3"),),
    limits={
        "load_1": ">= 0 N, <= 100000 N",
        "load_2": ">= 0 N, <= 100000 N",
        "length_1": _LENGTH,
        "length_2": _LENGTH,
    },
    example={"load_1": "18 N", "load_2": "31 N", "length_1": "22 mm", "length_2": "19.5 mm"},
    cautions=("spring",),
    distrust=("Two lengths close together: the reading errors of both loads go into a small difference.",),
)
def spring_rate_from_loads(*, load_1: Value, load_2: Value, length_1: Value, length_2: Value) -> Value:
    """The measured rate: press to two lengths, read both loads. Better than any rate from the wire."""
    return (load_2 - load_1) / (length_1 - length_2)


@formula(
    "Spring rate from the wire",
    result="spring_rate",
    sources=(("bhavikatti", "example 6.22"), ("levinson", "example 10.9")),
    limits={
        "wire_diameter": "> 0 mm, <= 100 mm",
        "mean_diameter": "> 0 mm, <= 1 m",
        "active_coils": "> 0, <= 1000",
        "shear_modulus": "> 0 MPa, <= 200000 MPa",
    },
    chart="wire_diameter",
    example={
        "wire_diameter": "1.4 mm",
        "mean_diameter": "10 mm",
        "active_coils": "7",
        "shear_modulus": "81500 MPa",
    },
    distrust=(
        "As an acceptance figure: 1 % more wire is 4 % more rate. It tells only whether the spring can be right.",
        "Wire other than round, coils that touch.",
    ),
)
def spring_rate_from_wire(
    *, wire_diameter: Value, mean_diameter: Value, active_coils: Value, shear_modulus: Value
) -> Value:
    """Rate of a round-wire compression spring, to tell a mixed-up spring from the right one."""
    return shear_modulus * wire_diameter**4 / (8 * mean_diameter**3 * active_coils)


@formula(
    "Spring preload at the fitted length",
    result="spring_preload",
    limits={"free_length": _LENGTH, "installed_length": _LENGTH, "spring_rate": "> 0 N/mm, <= 10000 N/mm"},
    example={"free_length": "25.5 mm", "installed_length": "22 mm", "spring_rate": "5.2 N/mm"},
    cautions=("spring",),
    distrust=("A spring that has set: measure its free length now, not on the drawing.",),
)
def preload_at_length(*, free_length: Value, installed_length: Value, spring_rate: Value) -> Value:
    """Force of the spring with the valve at rest. Half a millimetre of set can be a fifth of it."""
    return spring_rate * (free_length - installed_length)


@formula(
    "Stress factor of a coiled wire (Wahl)",
    result="stress_factor",
    sources=(("bhandari", "example 10.3, table of C and K"),),
    limits={"wire_diameter": "> 0 mm, <= 100 mm", "mean_diameter": "> 0 mm, <= 1 m"},
    example={"wire_diameter": "1.4 mm", "mean_diameter": "10 mm"},
    distrust=("Spring index below 3: hardly to be coiled, and the factor is a guess.",),
)
def wahl_factor(*, wire_diameter: Value, mean_diameter: Value) -> Value:
    """How much more the inside of the coil is stressed than a straight wire under the same torsion.

    The form of EN 13906-1, (w + 0.5) / (w - 0.75), lies below it: by 1.4 % at a spring index w of 4, by 0.6 % at 15.
    """
    spring_index = mean_diameter / wire_diameter
    return (4 * spring_index - 1) / (4 * spring_index - 4) + 0.615 / spring_index


@formula(
    "Stress in the spring wire",
    result="shear_stress",
    sources=(("bhandari", "example 10.18"), ("bhavikatti", "example 6.22")),
    limits={"spring_load": _LOAD, "wire_diameter": "> 0 mm, <= 100 mm", "mean_diameter": "> 0 mm, <= 1 m"},
    chart="spring_load",
    example={"spring_load": "34 N", "wire_diameter": "1.4 mm", "mean_diameter": "10 mm"},
    distrust=(
        "As a life: rust, a scratch or a spring pressed solid break a wire far below its strength.",
        "The strength of an unknown wire. Above about 45 % of it a spring that is worked often is at risk.",
    ),
)
def spring_stress(*, spring_load: Value, wire_diameter: Value, mean_diameter: Value) -> Value:
    """Shear stress where springs break: at the inside of the coil, with the factor for its curve."""
    stress_factor = wahl_factor(wire_diameter=wire_diameter, mean_diameter=mean_diameter)
    return stress_factor * 8 * spring_load * mean_diameter / (pi * wire_diameter**3)


@formula(
    "Solid length of a spring",
    result="solid_length",
    limits={"total_coils": "> 0, <= 1000", "wire_diameter": "> 0 mm, <= 100 mm"},
    example={"total_coils": "9", "wire_diameter": "1.4 mm"},
    distrust=("Ends that are not ground: one wire diameter more.",),
)
def solid_length(*, total_coils: Value, wire_diameter: Value) -> Value:
    """Length with all coils touching, ends ground. At full stroke 10 to 15 % of the travel should be left before it."""
    return total_coils * wire_diameter


@formula(
    "Two springs side by side",
    result="spring_rate",
    sources=(("bhandari", "example 10.18"),),
    limits={"rate_1": _RATE, "rate_2": _RATE},
    example={"rate_1": "5.2 N/mm", "rate_2": "3.1 N/mm"},
    distrust=("Springs of unlike free length: the shorter one comes in later.",),
)
def parallel_springs(*, rate_1: Value, rate_2: Value) -> Value:
    """Rate of springs that are pressed together by the same travel, one inside the other: the rates add."""
    return rate_1 + rate_2


@formula(
    "Two springs one behind the other",
    result="spring_rate",
    limits={"rate_1": _RATE, "rate_2": _RATE},
    example={"rate_1": "5.2 N/mm", "rate_2": "3.1 N/mm"},
    distrust=("Once one of them is solid only the other works.",),
)
def series_springs(*, rate_1: Value, rate_2: Value) -> Value:
    """Rate of springs that carry the same load one after the other: softer than the softer one."""
    return rate_1 * rate_2 / (rate_1 + rate_2)


@formula(
    "How far off centre a mixed pair rests",
    result="rest_offset",
    limits={"preload_1": _LOAD, "preload_2": _LOAD, "rate_1": _RATE, "rate_2": _RATE},
    example={"preload_1": "21 N", "preload_2": "17 N", "rate_1": "5.2 N/mm", "rate_2": "5.0 N/mm"},
    cautions=("spring",),
    distrust=("Captive washers: there the body fixes the centre, and this does not apply.",),
)
def off_centre_rest(*, preload_1: Value, preload_2: Value, rate_1: Value, rate_2: Value) -> Value:
    """Where the spool rests when two unlike springs both push on it in centre: the stronger one wins some travel.

    A few tenths are enough to open an edge that the drawing keeps shut: creep in centre, one way only.
    """
    return (preload_1 - preload_2) / (rate_1 + rate_2)


@formula(
    "Deviation of a preload",
    result="preload_deviation",
    limits={"spring_preload": _LOAD, "nominal_preload": "> 0 N"},
    part=True,
)
def preload_deviation(*, spring_preload: Value, nominal_preload: Value) -> Value:
    """Load at the fitted length against what it should be."""
    return (spring_preload - nominal_preload) / nominal_preload


@formula(
    "Free length lost",
    result="set_share",
    limits={"free_length": _LENGTH, "nominal_free_length": _LENGTH},
    part=True,
)
def set_share(*, free_length: Value, nominal_free_length: Value) -> Value:
    """What a spring has set, as a share of the length it should have."""
    return (nominal_free_length - free_length) / nominal_free_length


@formula(
    "Difference of a pair",
    result="pair_difference",
    limits={"spring_preload": _LOAD, "partner_preload": "> 0 N"},
    part=True,
)
def pair_difference(*, spring_preload: Value, partner_preload: Value) -> Value:
    """Difference of two loads over their mean."""
    return 2 * (spring_preload - partner_preload) / (spring_preload + partner_preload)


@formula(
    "Deviation of a rate",
    result="rate_deviation",
    limits={"spring_rate": _RATE, "rate_from_wire": _RATE},
    part=True,
)
def rate_deviation(*, spring_rate: Value, rate_from_wire: Value) -> Value:
    """Measured rate against the one that wire and coils make for."""
    return (spring_rate - rate_from_wire) / rate_from_wire


@formula(
    "Travel left, as a share",
    result="solid_reserve_share",
    limits={"solid_reserve": ">= -1 m, <= 1 m", "free_length": _LENGTH, "solid_length": _LENGTH},
    part=True,
)
def reserve_share(*, solid_reserve: Value, free_length: Value, solid_length: Value) -> Value:
    """Travel left at full stroke over the whole travel from free to solid."""
    return solid_reserve / (free_length - solid_length)
