"""A few curves in one frame, told apart by their dashes and words, and the places that matter among them.

The same once more in live/sizing/charts.js.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from valvecalc.drawing import axes, svg

#: Width and dash by place; the later ones are broader, so that two that lie on each other both show.
_STYLES = ((2.5, ""), (4.5, "11 6"), (6.5, "2.5 7"))


def draw(spec: Mapping[str, Any]) -> str:
    """The curves of `spec`.

    x, y     {"label", "unit"}; both scales begin at zero
    lines    [{"label", "points", "dots"}]: a curve through points, and those of its places that are marked
    places   [{"x", "y", "label"}]: a cross; where y is None, a line upwards through all curves
    notes    sentences under the legend
    """
    lines, places = spec["lines"], spec["places"]
    points = [point for line in lines for point in line["points"]]
    xs = [x for x, _ in points] + [place["x"] for place in places]
    ys = [y for _, y in points] + [place["y"] for place in places if place["y"] is not None]
    marks = svg.ticks(0.0, max(ys))
    heads = svg.wrapped(axes.axis(spec["y"]), svg.WIDTH - 4)
    told = [svg.wrapped(place["label"], svg.WIDTH - 30) for place in places]
    top = svg.ROW * (len(heads) + sum(len(one) for one in told)) + 10.0
    plot = axes.Plot(axes.margin_left(marks), top, 0.0, 1.04 * max(xs), marks[0], marks[-1])
    body = [svg.text(2, 14.0 + svg.ROW * row, words) for row, words in enumerate(heads)]
    y = 14.0 + svg.ROW * len(heads)
    for place, rows in zip(places, told, strict=True):
        body += _upright(12, y - 12, y + 2) if place["y"] is None else _cross(12, y - 5)
        for words in rows:
            body.append(svg.text(26, y, words, bold=True))
            y += svg.ROW
    body += axes.frame(plot, marks)
    drawn = [[(plot.x(x), plot.y(y)) for x, y in line["points"]] for line in lines]
    body += [svg.line(one, stroke=svg.PAPER, width=_style(at)[0] + 3) for at, one in enumerate(drawn)]
    body += [_line(one, at) for at, one in reversed(list(enumerate(drawn)))]
    for place in places:
        x = plot.x(place["x"])
        if place["y"] is None:
            body += _upright(x, plot.top, plot.bottom)
        else:
            at = plot.y(place["y"])
            body.append(svg.line([(plot.left, at), (x, at), (x, plot.bottom)], width=1.5, dash="3 3"))
            body += _cross(x, at)
    body += [axes.dot(plot.x(x), plot.y(y), 4.5) for line in lines for x, y in line["dots"]]
    y = axes.below(body, plot, spec["x"])
    for at, line in enumerate(lines):
        body.append(_line([(4, y - 5), (38, y - 5)], at))
        y = svg.legend(body, line["label"], y)
    for note in spec["notes"]:
        for words in svg.wrapped(note, svg.WIDTH - 4):
            body.append(svg.text(2, y, words))
            y += svg.ROW
        y += 3
    return svg.picture(spec["title"], _said(spec), y - 10, body)


def _style(at: int) -> tuple[float, str]:
    return _STYLES[at % len(_STYLES)]


def _line(points: Sequence[tuple[float, float]], at: int) -> str:
    width, dash = _style(at)
    return svg.line(points, width=width, dash=dash)


def _upright(x: float, top: float, bottom: float) -> list[str]:
    return [svg.line([(x, top), (x, bottom)], width=1.5, dash="3 3")]


def _cross(x: float, y: float) -> list[str]:
    """A cross lying on its side, with a rim that keeps it apart from the curves."""
    arms = [[(x - 6, y - 6), (x + 6, y + 6)], [(x - 6, y + 6), (x + 6, y - 6)]]
    return [svg.line(arm, stroke=ink, width=width) for ink, width in ((svg.PAPER, 7), (svg.INK, 3.5)) for arm in arms]


def _said(spec: Mapping[str, Any]) -> str:
    """Every curve and place in words, with the figures that their labels carry."""
    labels = [one["label"] for one in (*spec["places"], *spec["lines"])]
    said = f"{axes.axis(spec['y'])}, over {axes.axis(spec['x'])}. {'; '.join(labels)}. {' '.join(spec['notes'])}"
    return said.replace("\N{NO-BREAK SPACE}", " ").strip()
