"""Ranked terms as bars: what eats the force, and how each figure is known."""

from collections.abc import Mapping
from typing import Any

from valvecalc.drawing import svg
from valvecalc.drawing.rounding import quantity

_LEFT, _RIGHT = 4, svg.WIDTH - 4
_BASIS = {"measured": 0, "calculated": 1, "default": 2}


def draw(spec: Mapping[str, Any]) -> str:
    """The bars of `rows` in the order given; a row without a value keeps its place and says so."""
    rows, unit = spec["rows"], spec.get("unit", "")
    known = [row["value"] for row in rows if row["value"] is not None]
    low, high = min([0.0, *known]), max([0.0, *known])
    scale = (_RIGHT - _LEFT) / ((high - low) or 1.0)
    zero = _LEFT - low * scale
    told = "; ".join(
        f"{row['label']}: {quantity(row['value'], unit) if row['value'] is not None else 'not known'}, {row['basis']}"
        for row in rows
    )
    said = f"Bars, in the order of the list. {told}."
    name = svg.mark(spec["title"], said)
    body, y = [svg.hatches(name, len(_BASIS))], 4.0
    for row in rows:
        told = f"{quantity(row['value'], unit)}, {row['basis']}" if row["value"] is not None else "not known"
        first, *more = svg.wrapped(row["label"], svg.WIDTH - svg.room(told) - 20)
        body += [svg.text(_LEFT, y + 14, first), svg.text(_RIGHT, y + 14, told, anchor="end", bold=True)]
        for words in more:
            y += 17
            body.append(svg.text(_LEFT, y + 14, words))
        if row["value"] is not None:
            length = row["value"] * scale
            fill = svg.filling(name, _BASIS.get(row["basis"], 2))
            body.append(svg.box(min(zero, zero + length), y + 20, abs(length), 14, fill=fill))
            body.append(svg.line([(zero, y + 18), (zero, y + 36)], width=2))
        y += 44
    return svg.picture(spec["title"], said, y, body)
