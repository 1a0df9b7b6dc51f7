"""Which ring is this, as far as a calliper on rubber can tell it?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import seals
from valvecalc.primitives import fact, known, least, total, using
from valvecalc.sheet import sheet


class Ring(NamedTuple):
    """What a calliper reads on an old ring; SI."""

    ring_height: Value = None
    inside_diameter: Value = None
    outside_diameter: Value = None
    ring_breadth: Value = None
    reading_error: Value = 1e-4
    ring_state: Value = "not said"


STATES = ("not said", "round and soft", "flattened", "hard or cracked", "swollen or sticky")


@sheet(
    "Which O-ring is this",
    results=(
        "settled_ring",
        "ring_verdict",
        "nearest_ring",
        "ring_section",
        "ring_inside",
        "ring_misfit",
        "section_off",
        "diameter_off",
        "second_ring",
        "second_ring_misfit",
        "metric_section",
        "ring_note",
        "ring_rows",
    ),
    rows={"ring_rows": ("ring_size", "ring_section", "ring_inside", "section_off", "diameter_off", "fit_word")},
    choices={"ring_state": STATES},
    judged={"ring_misfit": ("<=", "ring-fits")},
    limits={
        "ring_height": "> 0 mm, <= 20 mm",
        "ring_breadth": "> 0 mm, <= 30 mm",
        "inside_diameter": "> 0 mm, <= 1 m",
        "outside_diameter": "> 0 mm, <= 1 m",
        "reading_error": ">= 0 mm, <= 5 mm",
    },
    trusted={"reading_error": (">= 0.02 mm, <= 0.5 mm", "On soft rubber a calliper is hardly better than 0.05 mm.")},
    origins={"reading_error": ("judgement", "")},
    labels={
        "ring_height": "thickness of the ring; of a flattened one the smallest reading",
        "ring_breadth": "of a flattened ring the largest thickness; left empty: the ring is round",
        "inside_diameter": "inside diameter, the ring lying free; or the outside one instead",
        "outside_diameter": "outside diameter, where the inside one cannot be read",
    },
    example={"ring_height": "1.74 mm", "inside_diameter": "9.35 mm"},
    cautions=("stored-pressure", "burnt-seal"),
    sources=(("ring-sizes-open", ""),),
    distrust=(
        "Only AS568 and ISO 3601-1 sizes are looked at; a metric ring of any diameter may lie beside them. A ring of"
        " 3.5 mm is not told from one of 3.53 mm, nor 2.65 mm from 2.62 mm.",
        "An old ring has taken the shape of its groove: settle it by the groove as well.",
        "Size says nothing of the rubber. Colour says nothing either.",
    ),
)
def which_ring(ring: Ring) -> Value:
    """Section and diameter against every standard size; the nearest are told with how far each is off, and why not.

    A size fits when both readings lie within its class A tolerance and the error of reading together.
    """
    round_section = using(ring, seals.round_section)
    half_gap = using(ring, seals.half_difference)
    section_reading = known(round_section, ring.ring_height, half_gap)
    some_diameter = known(ring.inside_diameter, ring.outside_diameter)
    inside_reading = known(ring.inside_diameter, 0.0)
    outside_reading = known(ring.outside_diameter, 0.0)
    ring_candidates = [
        {
            "ring_size": row["ring_size"],
            "ring_section": row["ring_section"],
            "ring_inside": row["ring_inside"],
            "section_off": section_reading - row["ring_section"],
            "diameter_off": (
                inside_reading - row["ring_inside"] if inside_reading > 0.0 else outside_reading - row["ring_outside"]
            ),
            "section_misfit": seals.share_off(
                length_off=section_reading - row["ring_section"],
                allowance=row["section_tolerance"] + ring.reading_error,
            ),
            "diameter_misfit": (
                seals.share_off(
                    length_off=inside_reading - row["ring_inside"],
                    allowance=row["inside_tolerance"] + ring.reading_error,
                )
                if inside_reading > 0.0
                else seals.share_off(
                    length_off=outside_reading - row["ring_outside"],
                    allowance=row["inside_tolerance"]
                    + row["section_tolerance"]
                    + row["section_tolerance"]
                    + ring.reading_error,
                )
            ),
        }
        for row in fact("oring-sizes")
        if some_diameter > 0.0
    ]
    ring_misfits = [
        {
            "ring_size": row["ring_size"],
            "ring_section": row["ring_section"],
            "ring_inside": row["ring_inside"],
            "section_off": row["section_off"],
            "diameter_off": row["diameter_off"],
            "section_misfit": row["section_misfit"],
            "fit_word": (
                ("the ring is thicker" if row["section_off"] > 0.0 else "the ring is thinner")
                if row["section_misfit"] > fact("ring-fits")
                else (
                    ("the ring is wider" if row["diameter_off"] > 0.0 else "the ring is narrower")
                    if row["diameter_misfit"] > fact("ring-fits")
                    else "fits"
                )
            ),
            "ring_misfit": seals.largest_share(
                first_share=row["section_misfit"], second_share=row["diameter_misfit"], third_share=0.0
            ),
        }
        for row in ring_candidates
    ]
    best_ring = least(ring_misfits, "ring_misfit")
    nearest_ring = best_ring["ring_size"]
    ring_misfit = best_ring["ring_misfit"]
    other_rings = [row for row in ring_misfits if row["ring_size"] != nearest_ring]
    next_ring = least(other_rings, "ring_misfit")
    second_ring_misfit = next_ring["ring_misfit"]
    rings_below = total(
        [1.0 for row in ring_misfits if row["section_misfit"] <= fact("ring-fits") and row["diameter_off"] >= 0.0]
    )
    rings_above = total(
        [1.0 for row in ring_misfits if row["section_misfit"] <= fact("ring-fits") and row["diameter_off"] < 0.0]
    )
    told_by_sizes = (
        ("settled" if second_ring_misfit > fact("ring-fits") else "between two sizes")
        if ring_misfit <= fact("ring-fits")
        else ("between two sizes" if rings_below > 0.0 and rings_above > 0.0 else "none of them")
    )
    section_rows = [
        {
            "section_series": row["section_series"],
            "metric_section": row["ring_section"],
            "metric_off": (
                section_reading - row["ring_section"]
                if section_reading > row["ring_section"]
                else row["ring_section"] - section_reading
            ),
        }
        for row in fact("oring-glands-metric")
    ]
    metric_rows = [row for row in section_rows if row["section_series"] == "metric"]
    metric_section = least(metric_rows, "metric_off")["metric_section"]
    section_series = least(section_rows, "metric_off")["section_series"]
    ring_verdict = "perhaps a metric ring" if section_series == "metric" else told_by_sizes
    settled_ring = nearest_ring if ring_verdict == "settled" else ring_verdict
    ring_note = (
        "Flattened: read both ways across. Half of the squeeze gone means heat or age; renew all rings of the valve."
        if ring.ring_state == "flattened"
        else (
            "Hard or cracked: heat or the wrong fluid. The section has shrunk; settle the size by the groove."
            if ring.ring_state == "hard or cracked"
            else (
                "Swollen: wrong rubber for this fluid. All readings are too large; take the size from the groove and"
                " ask which fluid it is."
                if ring.ring_state == "swollen or sticky"
                else (
                    "Round and soft: the readings may be believed."
                    if ring.ring_state == "round and soft"
                    else "Look at it too: a flat, hard or swollen ring reads wrong."
                )
            )
        )
    )
    return {
        "settled_ring": settled_ring,
        "ring_verdict": ring_verdict,
        "nearest_ring": nearest_ring,
        "ring_section": best_ring["ring_section"],
        "ring_inside": best_ring["ring_inside"],
        "ring_misfit": ring_misfit,
        "section_off": best_ring["section_off"],
        "diameter_off": best_ring["diameter_off"],
        "second_ring": next_ring["ring_size"],
        "second_ring_misfit": second_ring_misfit,
        "metric_section": metric_section,
        "ring_note": ring_note,
        "ring_rows": [row for row in ring_misfits if row["ring_misfit"] <= fact("ring-neighbour")],
    }
