"""Will the rod of a pushing cylinder bend out?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import buckling, cylinder
from valvecalc.primitives import fact, known, using
from valvecalc.sheet import sheet

ROD_ENDS = ("both pinned", "one fixed, one pinned", "both fixed", "one fixed, one free")


class Rod(NamedTuple):
    """The rod, how it is held, and the load or else the pressure that pushes; SI."""

    rod_ends: Value
    rod_diameter: Value
    mounted_length: Value
    load_force: Value = None
    bore_diameter: Value = None
    cap_side_pressure: Value = None
    yield_strength: Value = 3e8
    elastic_modulus: Value = 2.1e11


@sheet(
    "Rod buckling: does it bear the push",
    results=(
        "buckling_safety",
        "buckling_load",
        "allowed_load",
        "allowed_pressure",
        "pushing_force",
        "buckling_length",
        "slenderness",
        "limit_slenderness",
        "buckling_rule",
    ),
    judged={"buckling_safety": (">=", "buckling-safety")},
    choices={"rod_ends": ROD_ENDS},
    limits={
        "rod_diameter": "> 0 mm, <= 1 m",
        "mounted_length": "> 0 mm, <= 20 m",
        "load_force": "> 0 N, <= 10000000 N",
        "bore_diameter": "> 4 mm, <= 1000 mm",
        "cap_side_pressure": "> 0 bar, <= 1000 bar",
        "yield_strength": "> 0 MPa, <= 3000 MPa",
        "elastic_modulus": "> 0 GPa, <= 1000 GPa",
    },
    origins={"yield_strength": ("judgement", ""), "elastic_modulus": ("common-practice", "")},
    labels={
        "load_force": "push on the rod, if it is known; else bore and pressure",
        "cap_side_pressure": "highest pressure on the piston side: the relief valve's setting",
    },
    chart="mounted_length",
    example={
        "rod_ends": "both pinned",
        "rod_diameter": "36 mm",
        "mounted_length": "1100 mm",
        "bore_diameter": "63 mm",
        "cap_side_pressure": "140 bar",
    },
    cautions=("falling-load", "stored-pressure"),
    sources=(("gere", "examples 11.1 and 11.2"), ("wentzell", "example 3.6"), ("johnson-article", "")),
    distrust=(
        "Side load, weight of a long level rod, a bent rod, worn guides or pins that bind: each takes of the safety.",
        "The rules that the machine is built to may ask for another factor than 3.5: theirs wins.",
        "Rod and tube together as one stepped column, with friction at the pins: ISO/TS 13725 has that method.",
        "A fixed end is only fixed if what it is bolted to does not give way: in doubt take it as pinned.",
    ),
)
def rod_buckling(rod: Rod) -> Value:
    """Safety of a rod against bending out, from its length fully out, its ends and its push; and the pressure allowed.

    The length counts from mounting to mounting with the rod all the way out, tube included. Retrofitting a longer
    stroke, another mounting or a higher relief setting asks for this sheet.
    """
    end_factor = (
        fact("end-factor-pinned")
        if rod.rod_ends == "both pinned"
        else (
            fact("end-factor-fixed-pinned")
            if rod.rod_ends == "one fixed, one pinned"
            else (fact("end-factor-fixed") if rod.rod_ends == "both fixed" else fact("end-factor-free"))
        )
    )
    buckling_length = using(rod, buckling.buckling_length, end_factor=end_factor)
    slenderness = using(rod, buckling.slenderness, buckling_length=buckling_length)
    limit_slenderness = using(rod, buckling.limit_slenderness)
    buckling_rule = "Euler" if slenderness >= limit_slenderness else "Johnson"
    buckling_load = using(rod, buckling.rod_buckling_load, buckling_length=buckling_length)
    piston_area = using(rod, cylinder.piston_area)
    pressure_force = using(rod, buckling.push_of_pressure, piston_area=piston_area)
    pushing_force = known(rod.load_force, pressure_force)
    buckling_safety = buckling.buckling_safety(buckling_load=buckling_load, load_force=pushing_force)
    allowed_load = buckling.allowed_load(buckling_load=buckling_load, safety_factor=fact("buckling-safety"))
    allowed_pressure = buckling.pressure_of_load(allowed_load=allowed_load, piston_area=piston_area)
    return {
        "buckling_safety": buckling_safety,
        "buckling_load": buckling_load,
        "allowed_load": allowed_load,
        "allowed_pressure": allowed_pressure,
        "pushing_force": pushing_force,
        "buckling_length": buckling_length,
        "slenderness": slenderness,
        "limit_slenderness": limit_slenderness,
        "buckling_rule": buckling_rule,
    }
