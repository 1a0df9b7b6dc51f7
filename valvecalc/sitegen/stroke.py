"""The stroke chart of a shift budget: which of its rows are drawn, and what they are called."""

from typing import Any

from valvecalc.answer import Answer
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_si

_RESISTING = {
    "energise": ("spring_force", "flow_force", "pin_force"),
    "release": ("residual_force",),
}
_ALWAYS = ("lateral_friction", "silt_force", "dry_friction", "detent_force")
_LABELS = {
    "spring_force": "spring",
    "flow_force": "flow force",
    "pin_force": "tank pressure on the pin",
    "residual_force": "residual magnetism",
    "lateral_friction": "friction of the lands",
    "silt_force": "silt",
    "dry_friction": "dry friction",
    "detent_force": "detent",
}


def stroke_chart(answer: Answer) -> dict[str, Any]:
    """The chart of a worked shift budget, for drawing.chart; a force that is zero everywhere is left out."""
    rows = answer.results["stroke_rows"]
    direction = answer.values["direction"]
    terms = [
        {"label": _LABELS[name], "y": _column(answer, rows, name)}
        for name in (*_RESISTING[direction], *_ALWAYS)
        if any(row[name] for row in rows)
    ]
    worst = answer.results["worst"][0]
    return {
        "kind": "stroke",
        "title": f"Forces over the stroke, {direction}",
        "unit_x": answer.unit("position"),
        "unit_y": answer.unit("drive"),
        "x": _column(answer, rows, "position"),
        "terms": terms,
        "drive": {"label": "solenoid" if direction == "energise" else "spring and flow", "y": _column(answer, rows, "drive")},
        "marks": [{"x": _scaled(answer, "position", answer.values["overlap"]), "label": "edges open"}],
        "worst": {
            "x": _scaled(answer, "position", worst["position"]),
            "margin": _scaled(answer, "margin", worst["margin"]),
            "label": "least force in hand",
        },
    }


def _column(answer: Answer, rows: Any, name: str) -> list[float]:
    return [_scaled(answer, name, row[name]) for row in rows]


def _scaled(answer: Answer, name: str, si: float) -> float:
    return from_si(si, answer.unit(name), VOCABULARY[name].dimension)
