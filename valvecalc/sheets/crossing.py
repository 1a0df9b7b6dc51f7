"""What the ports of a spool do on the way: shut, or joined, by the overlap of each edge."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.primitives import grid, sweep
from valvecalc.sheet import sheet

_OVERLAP = ">= -50 mm, <= 50 mm"


class Edges(NamedTuple):
    """Overlaps of the four edges in centre and the stroke; SI. Driven: the port that this coil joins to P."""

    inlet_overlap: Value
    return_overlap: Value
    opposite_inlet_overlap: Value
    opposite_return_overlap: Value
    stroke: Value


@sheet(
    "Crossing: which ports join while the spool is on the way",
    results=(
        "crossing_verdict",
        "driven_gap",
        "other_gap",
        "return_lead",
        "centre_condition",
        "crossing_rows",
    ),
    rows={
        "crossing_rows": (
            "position",
            "inlet_opening",
            "return_opening",
            "opposite_inlet_opening",
            "opposite_return_opening",
        )
    },
    limits={
        "inlet_overlap": _OVERLAP,
        "return_overlap": _OVERLAP,
        "opposite_inlet_overlap": _OVERLAP,
        "opposite_return_overlap": _OVERLAP,
        "stroke": "> 0 mm, <= 100 mm",
    },
    labels={"position": "travel of the spool from centre; negative: the other way"},
    example={
        "inlet_overlap": "1.1 mm",
        "return_overlap": "0.6 mm",
        "opposite_inlet_overlap": "1.1 mm",
        "opposite_return_overlap": "-0.4 mm",
        "stroke": "3.2 mm",
    },
    cautions=("falling-load", "trapped-volume"),
    distrust=(
        "Notches and chamfers open before the edge itself: measure from where the first notch opens.",
        "A joined crossing lasts milliseconds: it matters for load holding, shock and the pressure of neighbours.",
        "A centre that joins P to T through the spool itself has a fifth edge: it is not in this.",
        "Wear rounds the edges: the true overlap is smaller than the drawing's by the wear on both.",
    ),
)
def crossing(edges: Edges) -> Value:
    """Whether the load drops or the pump is shut in for a moment while the spool moves from one side to the other.

    A port's two overlaps added are the travel over which it is shut; a negative sum means that it joins P to T for
    that travel. Everything shut: pressure peaks, the load stays. Joined: soft, but the load may drop meanwhile.
    """
    driven_gap = edges.inlet_overlap + edges.opposite_return_overlap
    other_gap = edges.return_overlap + edges.opposite_inlet_overlap
    return_lead = edges.inlet_overlap - edges.return_overlap
    crossing_verdict = "P joined to T on the way" if driven_gap < 0.0 or other_gap < 0.0 else "P never joined to T"
    centre_condition = (
        "all ports shut"
        if edges.inlet_overlap >= 0.0
        and edges.return_overlap >= 0.0
        and edges.opposite_inlet_overlap >= 0.0
        and edges.opposite_return_overlap >= 0.0
        else (
            "P joined to T"
            if (edges.inlet_overlap < 0.0 and edges.opposite_return_overlap < 0.0)
            or (edges.opposite_inlet_overlap < 0.0 and edges.return_overlap < 0.0)
            else (
                "P shut, A and B joined to T"
                if edges.return_overlap < 0.0 and edges.opposite_return_overlap < 0.0
                else (
                    "T shut, A and B joined to P"
                    if edges.inlet_overlap < 0.0 and edges.opposite_inlet_overlap < 0.0
                    else "one working port open"
                )
            )
        )
    )
    crossing_rows = sweep(
        lambda position: {
            "position": position,
            "inlet_opening": position - edges.inlet_overlap if position > edges.inlet_overlap else 0.0,
            "return_opening": position - edges.return_overlap if position > edges.return_overlap else 0.0,
            "opposite_inlet_opening": -position - edges.opposite_inlet_overlap
            if -position > edges.opposite_inlet_overlap
            else 0.0,
            "opposite_return_opening": -position - edges.opposite_return_overlap
            if -position > edges.opposite_return_overlap
            else 0.0,
        },
        grid(
            -edges.stroke,
            edges.stroke,
            16,
            [edges.inlet_overlap, edges.return_overlap],
            [-edges.opposite_inlet_overlap, -edges.opposite_return_overlap],
        ),
    )
    return {
        "crossing_verdict": crossing_verdict,
        "driven_gap": driven_gap,
        "other_gap": other_gap,
        "return_lead": return_lead,
        "centre_condition": centre_condition,
        "crossing_rows": crossing_rows,
    }
