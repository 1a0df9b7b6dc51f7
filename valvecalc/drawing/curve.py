"""A result along one of its entries, with the place where the reader is. The same once more in live/curve.js."""

from collections.abc import Mapping, Sequence
from typing import Any

from valvecalc.drawing import axes, svg
from valvecalc.drawing.rounding import quantity

Points = list[tuple[float, float]]


def draw(spec: Mapping[str, Any]) -> str:
    """The curve of one calculation.

    x, y      {"label", "unit", "values"}; a value of y is None where there is none
    here      {"x", "y"}, and "low" and "high" where the uncertainty of y is known
    trusted   {"low", "high"} of x, each may be None: outside, the curve is dashed
    limits    [{"y", "label"}]: what the result is judged by
    """
    xs, ys, here = spec["x"]["values"], spec["y"]["values"], spec["here"]
    seen = [y for y in ys if y is not None] + [here["y"]] + [limit["y"] for limit in spec.get("limits", ())]
    low, high = min(seen), max(seen)
    log = low > 0 and high > 100 * low * (1 + 1e-9)
    high = max(high, here.get("high", high))
    low = low if log else min(low, here.get("low", low))  # a logarithmic scale has no room for what may be nothing
    marks = svg.decades(low, high) if log else svg.ticks(*axes.from_zero(low, high))
    heads = svg.wrapped(axes.axis(spec["y"]) + (", logarithmic" if log else ""), svg.WIDTH - 4)
    told = svg.wrapped(f"here: {_here(spec)}", svg.WIDTH - 24)
    left = axes.margin_left(marks)
    top = svg.ROW * (len(heads) + len(told)) + 10.0
    plot = axes.Plot(left, top, xs[0], xs[-1], marks[0], marks[-1], log)
    body = [svg.text(2, 14.0 + svg.ROW * row, words) for row, words in enumerate(heads)]
    body += [*_marked(told, 14.0 + svg.ROW * len(heads)), *axes.frame(plot, marks)]
    lines = _lines(xs, ys, spec.get("trusted") or {})
    for ink, width in ((svg.PAPER, 6.0), (svg.INK, 3.0)):
        for points, dashed in lines:
            drawn = [(plot.x(x), plot.y(y)) for x, y in points]
            body.append(svg.line(drawn, stroke=ink, width=width, dash="7 5" if dashed and width == 3 else ""))
    for limit in spec.get("limits", ()):
        y = plot.y(limit["y"])
        body.append(svg.line([(plot.left, y), (axes.RIGHT, y)], stroke=svg.ALARM, width=2, dash="10 4 2 4"))
    body += _place(plot, here)
    y = axes.below(body, plot, spec["x"])
    for limit in spec.get("limits", ()):
        body.append(svg.line([(8, y - 5), (34, y - 5)], stroke=svg.ALARM, width=2, dash="10 4 2 4"))
        y = svg.legend(body, f"{limit['label']} {quantity(limit['y'], spec['y']['unit'])}", y)
    if any(dashed for _, dashed in lines):
        body.append(svg.line([(8, y - 5), (34, y - 5)], width=3, dash="7 5"))
        y = svg.legend(body, "outside the range in which the calculation is trusted", y)
    return svg.picture(spec["title"], _said(spec), y - 10, body)


def _here(spec: Mapping[str, Any]) -> str:
    here = spec["here"]
    return _figures(spec, here["x"], here["y"], None if "high" not in here else here["high"] - here["y"])


def _figures(spec: Mapping[str, Any], x: float, y: float, uncertainty: float | None = None) -> str:
    """The figures of a place, each held together with its unit."""
    told = (quantity(y, spec["y"]["unit"], uncertainty), quantity(x, spec["x"]["unit"]))
    return " at ".join(text.replace(" ", "\N{NO-BREAK SPACE}") for text in told)


def _marked(told: Sequence[str], y: float) -> list[str]:
    """The words of the place beside the mark that it has on the curve."""
    words = [svg.text(22, y + svg.ROW * row, line, bold=True) for row, line in enumerate(told)]
    return [axes.dot(10, y - 5), *words]


def _lines(xs: Sequence[float], ys: Sequence[float | None], trusted: Mapping[str, Any]) -> list[tuple[Points, bool]]:
    """The curve in pieces, each with whether it is dashed; it breaks where there is no value."""
    low, high = trusted.get("low"), trusted.get("high")
    pieces: list[tuple[Points, bool]] = []
    before: tuple[float, float] | None = None
    for x, y in zip(xs, ys, strict=True):
        if y is None:
            before = None
            continue
        if before is not None:
            middle = (before[0] + x) / 2
            dashed = (low is not None and middle < low) or (high is not None and middle > high)
            if pieces and pieces[-1][1] == dashed and pieces[-1][0][-1] == before:
                pieces[-1][0].append((x, y))
            else:
                pieces.append(([before, (x, y)], dashed))
        before = (x, y)
    return pieces


def _place(plot: axes.Plot, here: Mapping[str, Any]) -> list[str]:
    """Where the reader is: leaders to both axes, the uncertainty as a whisker, the mark."""
    x, y = plot.x(here["x"]), plot.y(here["y"])
    body = [svg.line([(plot.left, y), (x, y), (x, plot.bottom)], width=1.5, dash="3 3")]
    if "high" in here:
        low, high = plot.y(here["low"]), plot.y(here["high"])
        body.append(svg.line([(x, low), (x, high)], width=2))
        body += [svg.line([(x - 6, end), (x + 6, end)], width=2) for end in (low, high)]
    return [*body, axes.dot(x, y)]


def _said(spec: Mapping[str, Any]) -> str:
    """The curve in one sentence: its ends and the place."""
    pairs = [(x, y) for x, y in zip(spec["x"]["values"], spec["y"]["values"], strict=True) if y is not None]
    said = f"Curve of {axes.axis(spec['y'])}, over {axes.axis(spec['x'])}"
    if pairs:
        ends = [
            f"{quantity(y, spec['y']['unit'])} at {quantity(x, spec['x']['unit'])}" for x, y in (pairs[0], pairs[-1])
        ]
        said += f", from {ends[0]} to {ends[1]}"
    said += f"; here {_here(spec)}"
    for limit in spec.get("limits", ()):
        said += f"; {limit['label']} {quantity(limit['y'], spec['y']['unit'])}"
    return said.replace("\N{NO-BREAK SPACE}", " ") + "."
