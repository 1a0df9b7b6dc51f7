"""Which ring belongs into this groove?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import seals
from valvecalc.primitives import fact, known, least
from valvecalc.sheet import sheet


class Groove(NamedTuple):
    """What a calliper reads in a groove; SI."""

    groove_kind: Value = "face, pressure inside"
    groove_depth: Value = None
    groove_diameter: Value = None
    groove_width: Value = None
    port_diameter: Value = None
    groove_error: Value = 5e-5


#: The words of groove-kinds in data/defaults.toml.
KINDS = (
    "face, pressure inside",
    "face, pressure outside",
    "static, groove on the plug",
    "static, groove in the bore",
    "moving, groove on the piston",
    "moving, groove in the bore",
)


@sheet(
    "Which O-ring belongs into this groove",
    results=(
        "settled_ring",
        "ring_verdict",
        "nearest_ring",
        "ring_section",
        "ring_inside",
        "ring_misfit",
        "squeeze",
        "seat_tightness",
        "gland_fill",
        "second_ring",
        "second_ring_misfit",
        "groove_rows",
    ),
    rows={
        "groove_rows": (
            *("ring_size", "ring_section", "ring_inside"),
            *("squeeze", "seat_tightness", "gland_fill", "fit_word"),
        )
    },
    choices={"groove_kind": KINDS},
    judged={"ring_misfit": ("<=", "ring-fits")},
    limits={
        "groove_depth": "> 0 mm, <= 20 mm",
        "groove_diameter": "> 0 mm, <= 1 m",
        "groove_width": "> 0 mm, <= 50 mm",
        "port_diameter": "> 0 mm, <= 1 m",
        "groove_error": ">= 0 mm, <= 2 mm",
    },
    origins={"groove_error": ("judgement", "")},
    labels={
        "groove_kind": "kind of groove; left empty: a face with pressure inside, as round the ports of a valve",
        "groove_depth": "depth of the groove or counterbore; in a bore from the floor to the other metal face",
        "groove_diameter": "outside diameter of a groove in a bore, or in a face with pressure inside; else inside one",
        "groove_width": "width of the groove; left empty: from its outside diameter and the port",
        "port_diameter": "of a counterbore: diameter of the port in its middle",
        "seat_tightness": "stretch on the inner wall, or how much larger the ring is than its groove",
    },
    example={
        "groove_kind": "face, pressure inside",
        "groove_depth": "1.35 mm",
        "groove_diameter": "12.7 mm",
        "port_diameter": "7.6 mm",
    },
    cautions=("stored-pressure", "falling-load"),
    sources=(
        ("ring-gland-tables", "table of dynamic, static radial and face glands"),
        ("ring-sizes-open", ""),
        ("ring-stretch-guide", ""),
    ),
    distrust=(
        "A groove cut for a metric ring fits none of these sizes, or a wrong one badly: look at squeeze and stretch.",
        "A counterbore that was eaten out or dressed reads too deep: hold it against the ones beside it.",
        "A groove made for a ring with a back-up ring is about half wider: the fill looks small.",
        "The valve's own seal list wins over all of this.",
    ),
)
def groove_ring(groove: Groove) -> Value:
    """Every standard size in this groove: its squeeze, stretch and fill, and what speaks against it.

    On an inner wall a ring is stretched up to 5 %, against an outer wall it is up to 3 % larger than its groove;
    squeeze lies within what is usual for its section. Tolerance of the ring and error of reading widen both.
    """
    kind_row = least([row for row in fact("groove-kinds") if row["groove_kind"] == groove.groove_kind], "seat_low")
    gland_bands = [row for row in fact("oring-glands") if row["seal_use"] == kind_row["seal_use"]]
    half_gap = seals.half_difference(outside_diameter=groove.groove_diameter, inside_diameter=groove.port_diameter)
    width_reading = known(groove.groove_width, half_gap, 0.0)
    groove_candidates = [
        {
            "ring_size": row["ring_size"],
            "ring_section": row["ring_section"],
            "ring_inside": row["ring_inside"],
            "squeeze_low": least(
                [band for band in gland_bands if band["ring_section"] == row["ring_section"]], "squeeze_low"
            )["squeeze_low"],
            "squeeze_high": least(
                [band for band in gland_bands if band["ring_section"] == row["ring_section"]], "squeeze_high"
            )["squeeze_high"],
            "allowance": row["inside_tolerance"] + groove.groove_error,
            "seat_tightness": (
                seals.ring_stretch(groove_diameter=groove.groove_diameter, ring_inside=row["ring_inside"])
                if kind_row["ring_seat"] == "inner"
                else seals.wall_oversize(ring_outside=row["ring_outside"], groove_diameter=groove.groove_diameter)
            ),
            "thinned_section": (
                seals.stretched_section(
                    ring_section=row["ring_section"],
                    stretch=seals.ring_stretch(groove_diameter=groove.groove_diameter, ring_inside=row["ring_inside"]),
                )
                if kind_row["ring_seat"] == "inner"
                else row["ring_section"]
            ),
        }
        for row in fact("oring-sizes")
        if row["ring_section"] >= least(gland_bands, "ring_section")["ring_section"]
    ]
    groove_misfits = [
        {
            "ring_size": row["ring_size"],
            "ring_section": row["ring_section"],
            "ring_inside": row["ring_inside"],
            "seat_tightness": row["seat_tightness"],
            "squeeze": seals.ring_squeeze(ring_section=row["thinned_section"], groove_depth=groove.groove_depth),
            "squeeze_high": row["squeeze_high"],
            "gland_fill": (
                seals.gland_fill(
                    ring_section=row["ring_section"], groove_depth=groove.groove_depth, groove_width=width_reading
                )
                if width_reading > 0.0
                else None
            ),
            "squeeze_misfit": seals.squeeze_misfit(
                squeeze=seals.ring_squeeze(ring_section=row["thinned_section"], groove_depth=groove.groove_depth),
                squeeze_low=row["squeeze_low"],
                squeeze_high=row["squeeze_high"],
                groove_error=groove.groove_error,
                ring_section=row["ring_section"],
            ),
            "seat_misfit": seals.seat_misfit(
                seat_tightness=row["seat_tightness"],
                seat_low=kind_row["seat_low"],
                seat_high=kind_row["seat_high"],
                allowance=row["allowance"],
                groove_diameter=groove.groove_diameter,
            ),
            "fill_share": (
                seals.fill_share(
                    gland_fill=seals.gland_fill(
                        ring_section=row["ring_section"], groove_depth=groove.groove_depth, groove_width=width_reading
                    ),
                    fill_limit=fact("ring-fill"),
                )
                if width_reading > 0.0
                else 0.0
            ),
        }
        for row in groove_candidates
    ]
    ring_misfits = [
        {
            "ring_size": row["ring_size"],
            "ring_section": row["ring_section"],
            "ring_inside": row["ring_inside"],
            "squeeze": row["squeeze"],
            "seat_tightness": row["seat_tightness"],
            "gland_fill": row["gland_fill"],
            "fit_word": (
                ("squeezed too much" if row["squeeze"] > row["squeeze_high"] else "squeezed too little")
                if row["squeeze_misfit"] > fact("ring-fits")
                else (
                    (
                        ("ring too small" if row["seat_tightness"] > kind_row["seat_high"] else "ring too large")
                        if kind_row["ring_seat"] == "inner"
                        else ("ring too large" if row["seat_tightness"] > kind_row["seat_high"] else "ring too small")
                    )
                    if row["seat_misfit"] > fact("ring-fits")
                    else ("groove too full" if row["fill_share"] > fact("ring-fits") else "fits")
                )
            ),
            "ring_misfit": seals.largest_share(
                first_share=row["squeeze_misfit"], second_share=row["seat_misfit"], third_share=row["fill_share"]
            ),
        }
        for row in groove_misfits
    ]
    best_ring = least(ring_misfits, "ring_misfit")
    nearest_ring = best_ring["ring_size"]
    ring_misfit = best_ring["ring_misfit"]
    other_rings = [row for row in ring_misfits if row["ring_size"] != nearest_ring]
    next_ring = least(other_rings, "ring_misfit")
    second_ring_misfit = next_ring["ring_misfit"]
    ring_verdict = (
        ("settled" if second_ring_misfit > fact("ring-fits") else "between two sizes")
        if ring_misfit <= fact("ring-fits")
        else "none of them"
    )
    settled_ring = nearest_ring if ring_verdict == "settled" else ring_verdict
    return {
        "settled_ring": settled_ring,
        "ring_verdict": ring_verdict,
        "nearest_ring": nearest_ring,
        "ring_section": best_ring["ring_section"],
        "ring_inside": best_ring["ring_inside"],
        "ring_misfit": ring_misfit,
        "squeeze": best_ring["squeeze"],
        "seat_tightness": best_ring["seat_tightness"],
        "gland_fill": best_ring["gland_fill"],
        "second_ring": next_ring["ring_size"],
        "second_ring_misfit": second_ring_misfit,
        "groove_rows": [row for row in ring_misfits if row["ring_misfit"] <= fact("ring-neighbour")],
    }
