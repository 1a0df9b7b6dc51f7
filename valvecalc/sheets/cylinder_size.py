"""A cylinder for a load: which bore and which rod of the series?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import buckling, cylinder, cylinder_load
from valvecalc.primitives import fact, least, using
from valvecalc.sheet import sheet


class Size(NamedTuple):
    """The push, the pressure for it, and the buckling length of the rod; SI."""

    load_force: Value
    supply_pressure: Value
    buckling_length: Value = None
    mechanical_efficiency: Value = 0.85
    yield_strength: Value = 3e8
    elastic_modulus: Value = 2.1e11


@sheet(
    "Bore and rod for a load",
    results=("series_bore", "needed_bore", "extend_pressure", "series_rod", "buckling_load", "needed_load"),
    limits={
        "load_force": "> 0 N, <= 2000000 N",
        "supply_pressure": ">= 5 bar, <= 1000 bar",
        "buckling_length": "> 0 mm, <= 10 m",
        "mechanical_efficiency": "> 0, <= 1",
        "yield_strength": "> 0 MPa, <= 3000 MPa",
        "elastic_modulus": "> 0 GPa, <= 1000 GPa",
    },
    origins={
        "mechanical_efficiency": ("judgement", ""),
        "yield_strength": ("judgement", ""),
        "elastic_modulus": ("common-practice", ""),
    },
    labels={
        "load_force": "load against the rod on its way out, return pressure's share on top",
        "supply_pressure": "pressure that the load may ask for on the piston side",
        "buckling_length": "length between the mountings, rod out: both ends pinned; double it where one end is free",
        "mechanical_efficiency": "efficiency from rest",
    },
    chart="load_force",
    example={"load_force": "38 kN", "supply_pressure": "125 bar", "buckling_length": "1300 mm"},
    cautions=("falling-load", "stored-pressure"),
    sources=(("iso-3320", ""), ("sullivan", "example 8.1"), ("gere", "example 11.1")),
    distrust=(
        "No answer at all: no bore, or no rod, of the series is enough. Leave the buckling length out to see the bore.",
        "Other bores and rods are made too: the series is what is common, not what is there.",
        "Cylinders pair a bore with two or three rods only: a thick rod may ask for a larger bore.",
        "A new bore changes speed, flow back and the drift that the valve's leakage makes: work the cylinder check.",
    ),
)
def cylinder_size(wanted: Size) -> Value:
    """Next bore of the preferred series that starts a load, and the next rod that does not bend out with factor 3.5."""
    needed_bore = using(wanted, cylinder_load.bore_for_push)
    bores = [row for row in fact("cylinder-bores") if row["bore_diameter"] >= needed_bore]
    series_bore = least(bores, "bore_diameter")["bore_diameter"]
    piston_area = cylinder.piston_area(bore_diameter=series_bore)
    needed_load = buckling.load_with_safety(load_force=wanted.load_force, safety_factor=fact("buckling-safety"))
    rods = [
        {
            "rod_diameter": row["rod_diameter"],
            "buckling_load": buckling.rod_buckling_load(
                rod_diameter=row["rod_diameter"],
                buckling_length=wanted.buckling_length,
                yield_strength=wanted.yield_strength,
                elastic_modulus=wanted.elastic_modulus,
            ),
        }
        for row in fact("rod-diameters")
    ]
    strong_rods = [row for row in rods if row["buckling_load"] >= needed_load]
    thinnest = least(strong_rods, "rod_diameter")
    series_rod = thinnest["rod_diameter"]
    buckling_load = thinnest["buckling_load"]
    extend_pressure = using(wanted, cylinder_load.pressure_on_area, area=piston_area)
    return {
        "series_bore": series_bore,
        "needed_bore": needed_bore,
        "extend_pressure": extend_pressure,
        "series_rod": series_rod,
        "buckling_load": buckling_load,
        "needed_load": needed_load,
    }
