"""Squeeze, stretch and fill of a ring in its groove, with tolerances, heat and swelling."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import seals
from valvecalc.primitives import fact, known, least, using
from valvecalc.sheet import sheet
from valvecalc.sheets.groove_ring import KINDS


class Fit(NamedTuple):
    """Ring and groove, their tolerances, and what heat and fluid do to the rubber; SI."""

    groove_kind: Value
    ring_section: Value = None
    groove_depth: Value = None
    groove_width: Value = None
    ring_inside: Value = None
    groove_diameter: Value = None
    section_tolerance: Value = 8e-5
    depth_tolerance: Value = 3e-5
    volume_swell: Value = 0.0
    seal_warming: Value = 0.0
    rubber_expansion: Value = 1.6e-4


@sheet(
    "Ring in its groove: squeeze, stretch, fill",
    results=(
        *("squeeze", "squeeze_low", "squeeze_high", "squeeze_reserve", "least_squeeze", "most_squeeze"),
        *("seat_tightness", "seat_reserve", "thinned_section", "gland_fill", "hot_section", "hot_squeeze"),
        "service_fill",
    ),
    choices={"groove_kind": KINDS},
    judged={
        "squeeze_reserve": (">=", "ring-reserve"),
        "seat_reserve": (">=", "ring-reserve"),
        "service_fill": ("<=", "ring-fill"),
    },
    limits={
        "ring_section": "> 0 mm, <= 20 mm",
        "groove_depth": "> 0 mm, <= 20 mm",
        "groove_width": "> 0 mm, <= 50 mm",
        "ring_inside": "> 0 mm, <= 1 m",
        "groove_diameter": "> 0 mm, <= 1 m",
        "section_tolerance": ">= 0 mm, <= 0.5 mm",
        "depth_tolerance": ">= 0 mm, <= 0.5 mm",
        "volume_swell": ">= -50 %, <= 100 %",
        "seal_warming": ">= -80 K, <= 200 K",
        "rubber_expansion": ">= 0 1/K, <= 0.0005 1/K",
    },
    trusted={
        "volume_swell": (">= -5 %, <= 15 %", "Rubber that swells or shrinks so far is the wrong one for this fluid."),
        "ring_section": (">= 1.5 mm, <= 7.5 mm", "The usual squeeze is that of the nearest of five sections."),
        "rubber_expansion": (
            ">= 0.0001 1/K, <= 0.0003 1/K",
            "Rubbers of seals lie between 0.0001 and 0.0003 for each K.",
        ),
    },
    origins={
        "section_tolerance": ("handbook", "ring-sizes-open"),
        "depth_tolerance": ("judgement", ""),
        "volume_swell": ("judgement", ""),
        "seal_warming": ("judgement", ""),
        "rubber_expansion": ("judgement", ""),
    },
    labels={
        "ring_inside": "inside diameter of the new ring",
        "groove_diameter": "outside diameter of a groove in a bore, or in a face with pressure inside; else inside one",
        "section_tolerance": "tolerance of the section: 0.08 mm up to 2.62 mm, 0.10, 0.13, 0.15 mm above",
        "seal_warming": "how much warmer the seal gets in service than it was when it was read",
        "seat_tightness": "stretch on the inner wall, or how much larger the ring is than its groove",
        "gland_fill": "share of the groove that the ring fills, as read",
    },
    example={
        "groove_kind": "face, pressure inside",
        "ring_section": "1.78 mm",
        "ring_inside": "9.25 mm",
        "groove_depth": "1.35 mm",
        "groove_width": "2.5 mm",
        "groove_diameter": "12.7 mm",
        "volume_swell": "10 %",
        "seal_warming": "40 K",
    },
    chart="groove_depth",
    cautions=("stored-pressure", "wrong-rubber"),
    sources=(
        ("ring-gland-tables", "table of dynamic, static radial and face glands"),
        ("ring-stretch-guide", ""),
    ),
    distrust=(
        "The usual squeeze is a supplier's table, not a standard. In the valve's own documents stand its own figures.",
        "Expansion and swelling of rubber differ by a factor of two between compounds of the same name.",
        "The groove is taken as cold: steel grows a tenth of what rubber does, aluminium a sixth.",
    ),
)
def ring_check(fit: Fit) -> Value:
    """Is this ring right in this groove? Squeeze against what is usual for its section and its kind of seal.

    Stretch thins the ring; tolerances make the least and the most squeeze; heat and swelling fill the groove.
    """
    kind_row = least([row for row in fact("groove-kinds") if row["groove_kind"] == fit.groove_kind], "seat_low")
    section_bands = [
        {
            "squeeze_low": row["squeeze_low"],
            "squeeze_high": row["squeeze_high"],
            "section_misfit": seals.share_off(
                length_off=fit.ring_section - row["ring_section"], allowance=row["ring_section"]
            ),
        }
        for row in fact("oring-glands")
        if row["seal_use"] == kind_row["seal_use"]
    ]
    gland_band = least(section_bands, "section_misfit")
    squeeze_low = gland_band["squeeze_low"]
    squeeze_high = gland_band["squeeze_high"]
    stretch = using(fit, seals.ring_stretch)
    seat_tightness = (
        stretch
        if kind_row["ring_seat"] == "inner"
        else seals.wall_oversize(
            ring_outside=fit.ring_inside + fit.ring_section + fit.ring_section, groove_diameter=fit.groove_diameter
        )
    )
    seat_reserve = seals.range_reserve(
        range_value=seat_tightness, range_low=kind_row["seat_low"], range_high=kind_row["seat_high"]
    )
    stretched_section = using(fit, seals.stretched_section, stretch=stretch)
    thin_by_stretch = stretched_section if kind_row["ring_seat"] == "inner" else fit.ring_section
    thinned_section = known(thin_by_stretch, fit.ring_section)
    squeeze = using(fit, seals.ring_squeeze, ring_section=thinned_section)
    squeeze_reserve = seals.range_reserve(range_value=squeeze, range_low=squeeze_low, range_high=squeeze_high)
    thin_section = thinned_section - fit.section_tolerance
    thick_section = thinned_section + fit.section_tolerance
    deep_groove = fit.groove_depth + fit.depth_tolerance
    shallow_groove = fit.groove_depth - fit.depth_tolerance
    least_squeeze = seals.ring_squeeze(ring_section=thin_section, groove_depth=deep_groove)
    most_squeeze = seals.ring_squeeze(ring_section=thick_section, groove_depth=shallow_groove)
    gland_fill = using(fit, seals.gland_fill)
    swollen_section = using(fit, seals.swollen_section, ring_section=thinned_section)
    hot_section = using(fit, seals.hot_section, swollen_section=swollen_section)
    hot_squeeze = using(fit, seals.ring_squeeze, ring_section=hot_section)
    largest_section = hot_section + fit.section_tolerance
    service_fill = using(fit, seals.gland_fill, ring_section=largest_section, groove_depth=shallow_groove)
    return {
        "squeeze": squeeze,
        "squeeze_low": squeeze_low,
        "squeeze_high": squeeze_high,
        "squeeze_reserve": squeeze_reserve,
        "least_squeeze": least_squeeze,
        "most_squeeze": most_squeeze,
        "seat_tightness": seat_tightness,
        "seat_reserve": seat_reserve,
        "thinned_section": thinned_section,
        "gland_fill": gland_fill,
        "hot_section": hot_section,
        "hot_squeeze": hot_squeeze,
        "service_fill": service_fill,
    }
