"""Is this spring still good: its load, its rate, its length, its twin, and its wire?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, spring
from valvecalc.primitives import using
from valvecalc.sheet import sheet


class Spring(NamedTuple):
    """Two loads at two lengths, the lengths of fit and stroke, what it should be, its wire; SI."""

    load_1: Value
    length_1: Value
    load_2: Value
    length_2: Value
    installed_length: Value = None
    stroke: Value = None
    free_length: Value = None
    nominal_preload: Value = None
    nominal_free_length: Value = None
    partner_preload: Value = None
    wire_diameter: Value = None
    mean_diameter: Value = None
    active_coils: Value = None
    total_coils: Value = None
    shear_modulus: Value = 81.5e9


_LENGTH = "> 0 mm, <= 500 mm"
_LOAD = ">= 0 N, <= 20000 N"


@sheet(
    "Spring check: load, rate, set and pair",
    results=(
        "spring_preload",
        "preload_deviation",
        "spring_rate",
        "set_share",
        "pair_difference",
        "rate_from_wire",
        "rate_deviation",
        "worked_load",
        "shear_stress",
        "solid_length",
        "solid_reserve",
        "solid_reserve_share",
    ),
    judged={
        "preload_deviation": ("within", "spring-load"),
        "set_share": ("<=", "spring-set"),
        "pair_difference": ("within", "spring-pair"),
        "rate_deviation": ("within", "wire-rate"),
        "solid_reserve_share": (">=", "solid-reserve"),
    },
    limits={
        "load_1": _LOAD,
        "length_1": _LENGTH,
        "load_2": _LOAD,
        "length_2": _LENGTH,
        "installed_length": _LENGTH,
        "stroke": ">= 0 mm, <= 100 mm",
        "free_length": _LENGTH,
        "nominal_preload": "> 0 N, <= 20000 N",
        "nominal_free_length": _LENGTH,
        "partner_preload": "> 0 N, <= 20000 N",
        "wire_diameter": "> 0 mm, <= 30 mm",
        "mean_diameter": "> 0 mm, <= 200 mm",
        "active_coils": "> 0, <= 200",
        "total_coils": "> 0, <= 200",
        "shear_modulus": "> 0 MPa, <= 120000 MPa",
    },
    origins={"shear_modulus": ("common-practice", "")},
    labels={
        "length_1": "longer length that was pressed to",
        "length_2": "shorter length that was pressed to",
        "free_length": "free length as measured now",
        "shear_modulus": "shear modulus: about 81500 MPa for spring steel, 70000 MPa for stainless",
    },
    example={
        "load_1": "17.1 N",
        "length_1": "22 mm",
        "load_2": "30.4 N",
        "length_2": "19.5 mm",
        "installed_length": "21.5 mm",
        "stroke": "3 mm",
        "free_length": "25.2 mm",
        "nominal_preload": "21 N",
        "nominal_free_length": "25.5 mm",
        "partner_preload": "20.6 N",
        "wire_diameter": "1.4 mm",
        "mean_diameter": "10 mm",
        "active_coils": "7",
        "total_coils": "9",
    },
    cautions=("spring",),
    sources=(("esposito", "example 9-3"), ("bhandari", "example 10.18")),
    distrust=(
        "Lengths close together: the errors of both loads go into a small difference.",
        "Wire measured over rust or coating: 1 % of diameter is 4 % of rate.",
        "A spring that looks right can be cracked: look along the inside of the coils.",
    ),
)
def spring_check(found: Spring) -> Value:
    """Two loads at two lengths tell rate and preload; the rest compares them with what they should be.

    Measure both springs of a pair at the same two lengths. The rate from wire and coils only tells whether it can be
    the right spring at all.
    """
    spring_rate = using(found, spring.spring_rate_from_loads)
    spring_preload = using(found, budget.preload_from_load, spring_rate=spring_rate)
    preload_deviation = using(found, spring.preload_deviation, spring_preload=spring_preload)
    set_share = using(found, spring.set_share)
    pair_difference = using(found, spring.pair_difference, spring_preload=spring_preload)
    rate_from_wire = using(found, spring.spring_rate_from_wire)
    rate_deviation = spring.rate_deviation(spring_rate=spring_rate, rate_from_wire=rate_from_wire)
    worked_load = spring.spring_force(spring_preload=spring_preload, spring_rate=spring_rate, position=found.stroke)
    shear_stress = using(found, spring.spring_stress, spring_load=worked_load)
    solid_length = using(found, spring.solid_length)
    worked_length = found.installed_length - found.stroke
    solid_reserve = worked_length - solid_length
    solid_reserve_share = using(found, spring.reserve_share, solid_reserve=solid_reserve, solid_length=solid_length)
    return {
        "spring_preload": spring_preload,
        "preload_deviation": preload_deviation,
        "spring_rate": spring_rate,
        "set_share": set_share,
        "pair_difference": pair_difference,
        "rate_from_wire": rate_from_wire,
        "rate_deviation": rate_deviation,
        "worked_load": worked_load,
        "shear_stress": shear_stress,
        "solid_length": solid_length,
        "solid_reserve": solid_reserve,
        "solid_reserve_share": solid_reserve_share,
    }
