"""Numbers by period as columns, a part of each told apart by hatching: how the work of a shop goes."""

from collections.abc import Mapping
from typing import Any

from valvecalc.drawing import axes, svg


def draw(spec: Mapping[str, Any]) -> str:
    """The columns of `spec`.

    y         {"label", "unit"}; the scale begins at zero
    columns   [{"label", "value", "part"}], from left to right; `part` is no more than `value`
    part      what the hatched part is
    notes     sentences under the legend
    """
    columns = spec["columns"]
    marks = svg.ticks(0.0, max([1.0, *(column["value"] for column in columns)]))
    plot = axes.Plot(axes.margin_left(marks), svg.ROW + 10.0, 0.0, float(len(columns) or 1), marks[0], marks[-1])
    said = _said(spec)
    name = svg.mark(spec["title"], said)
    body = [svg.hatches(name, 2), svg.text(2, 14, axes.axis(spec["y"]))]
    for mark in marks:
        y = plot.y(mark)
        body.append(svg.line([(plot.left, y), (axes.RIGHT, y)], stroke=svg.FAINT, width=1.5 if mark == 0 else 0.5))
        body.append(svg.text(plot.left - 6, y + 5, f"{mark:g}", anchor="end"))
    wide = plot.x(1) - plot.x(0)
    free = plot.left - svg.WIDTH
    for place, column in enumerate(columns):
        left, top, part = plot.x(place) + 0.1 * wide, plot.y(column["value"]), plot.y(column["part"])
        if column["value"]:
            body.append(svg.box(left, top, 0.8 * wide, part - top, fill=svg.filling(name, 0)))
        if column["part"]:
            body.append(svg.box(left, part, 0.8 * wide, plot.bottom - part, fill=svg.filling(name, 1)))
        middle, half = plot.x(place + 0.5), svg.room(column["label"]) / 2
        if middle - half >= free and middle + half <= svg.WIDTH:
            body.append(svg.text(middle, plot.bottom + 20, column["label"], anchor="middle"))
            free = middle + half + 6
    y = plot.bottom + 46
    body.append(svg.box(4, y - 12, 30, 14, fill=svg.filling(name, 1)))
    y = svg.legend(body, spec["part"], y)
    for note in spec["notes"]:
        for words in svg.wrapped(note, svg.WIDTH - 4):
            body.append(svg.text(2, y, words))
            y += svg.ROW
    return svg.picture(spec["title"], said, y, body)


def _said(spec: Mapping[str, Any]) -> str:
    """Every column in words."""
    told = "; ".join(f"{row['label']}: {row['value']}, of these {row['part']}" for row in spec["columns"])
    return f"{axes.axis(spec['y'])}; hatched: {spec['part']}. {told}. {' '.join(spec['notes'])}".strip()
