"""The figures of the charts, in shop units; drawing is drawing/'s."""

from collections.abc import Mapping
from typing import Any

from valvecalc.answer import Answer
from valvecalc.job.compute import Budget
from valvecalc.job.verdict import bands, label, place
from valvecalc.units import from_si
from valvecalc.units import show as show_plain


def show(si: float, dimension: str, unit: str, digits: int) -> str:
    """A figure held together with its unit, so that a chart's label never breaks between them."""
    return show_plain(si, dimension, unit, digits).replace(" ", "\N{NO-BREAK SPACE}")


RESIST = {
    "energise": (
        "spring_force",
        "flow_force",
        "pin_force",
        "lateral_friction",
        "silt_force",
        "dry_friction",
        "detent_force",
    ),
    "release": ("residual_force", "lateral_friction", "silt_force", "dry_friction", "detent_force"),
}


def charts(budget: Budget, own: Mapping[str, float]) -> list[dict[str, Any]]:
    """Margin bar, ranked terms at the weakest place, and the stroke both ways."""
    return [
        _margin(budget, own),
        _bars(budget),
        _stroke(budget, budget.energise, "energise"),
        _stroke(budget, budget.release, "release"),
    ]


def margin_chart(title: str, answer: Answer, own: Mapping[str, float]) -> dict[str, Any]:
    """The share in hand on its bands with its uncertainty (k = 2)."""
    return {
        "kind": "margin",
        "title": title,
        "value": answer.results["margin_share"],
        "half_width": answer.expanded("margin_share") or 0.0,
        "bands": bands(own),
    }


def _margin(budget: Budget, own: Mapping[str, float]) -> dict[str, Any]:
    return margin_chart(f"Share of the force in hand, coil {budget.coil}, as found", budget.energise, own)


def _bars(budget: Budget) -> dict[str, Any]:
    worst = budget.energise.results["worst"][0]
    unit = budget.energise.unit("margin")
    terms = sorted(RESIST["energise"], key=lambda term: -worst[term])
    rows = [
        {
            "label": label(term),
            "value": from_si(worst[term], unit, "force"),
            "basis": budget.case.bases.get(term, "calculated"),
        }
        for term in terms
        if worst[term] > 0.0
    ]
    return {
        "kind": "bars",
        "title": f"What eats the force of coil {budget.coil} {place(budget)}",
        "unit": unit,
        "rows": rows,
    }


def _stroke(budget: Budget, answer: Answer, direction: str) -> dict[str, Any]:
    return stroke_chart(answer, f"Coil {budget.coil}, {direction}, at the duty as found") | {"coil": budget.coil}


def stroke_chart(answer: Answer, title: str) -> dict[str, Any]:
    """What drives the spool over what holds it, along the stroke; `answer` is that of a shift budget."""
    rows, valve = answer.results["stroke_rows"], answer.values
    force, way, direction = answer.unit("margin"), answer.unit("margin_position"), valve["direction"]
    worst = answer.results["worst"][0]
    if direction == "energise":
        temperature = show(valve["winding_temperature"], "temperature", answer.unit("winding_temperature"), 3)
        drive = f"solenoid at {show(valve['coil_voltage'], 'voltage', 'V', 3)}, winding {temperature}"
    else:
        drive = "spring, flow force and pin"
    marks = [{"x": from_si(valve["overlap"], way, "length"), "label": "edges open"}]
    corner = valve["overlap"] + answer.results["corner_opening"]
    if answer.results["corner_opening"] > 0.0 and corner < valve["stroke"] and valve["state"] == "flow":
        marks.append({"x": from_si(corner, way, "length"), "label": "pump flow passes"})
    return {
        "kind": "stroke",
        "title": title,
        "direction": direction,
        "unit_x": way,
        "unit_y": force,
        "x": [from_si(row["position"], way, "length") for row in rows],
        "drive": {"label": drive, "y": [from_si(row["drive"], force, "force") for row in rows]},
        "terms": [
            {"label": label(term), "y": [from_si(row[term], force, "force") for row in rows]}
            for term in RESIST[direction]
            if any(row[term] > 0.0 for row in rows)
        ],
        "worst": {
            "x": from_si(worst["position"], way, "length"),
            "margin": from_si(worst["margin"], force, "force"),
        },
        "marks": marks,
    }
