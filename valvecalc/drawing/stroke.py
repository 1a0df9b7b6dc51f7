"""Force over the stroke: what drives the spool against everything that holds it, stacked."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from valvecalc.drawing import svg
from valvecalc.drawing.rounding import quantity, shown

_LEFT, _RIGHT, _DEEP = 40, svg.WIDTH - 12, 210

Points = list[tuple[float, float]]


class _Plot(NamedTuple):
    """Where a stroke and a force lie on the drawing."""

    top: float
    x_low: float
    x_high: float
    y_low: float
    y_high: float

    def x(self, stroke: float) -> float:
        return _LEFT + (stroke - self.x_low) / (self.x_high - self.x_low) * (_RIGHT - _LEFT)

    def y(self, force: float) -> float:
        return self.top + (self.y_high - force) / (self.y_high - self.y_low) * _DEEP


class _Heading(NamedTuple):
    """Words above the plot that belong to one place of the stroke."""

    stroke: float
    lines: list[str]
    row: int
    weakest: bool


def draw(spec: Mapping[str, Any]) -> str:
    """The chart of one coil and direction. A point at which a term is unknown stays empty in the stack."""
    strokes, terms, drive = spec["x"], spec["terms"], spec["drive"]
    layers = list(_stack([term["y"] for term in terms], len(strokes)))
    forces = [f for layer in layers for pair in layer if pair for f in pair] + [f for f in drive["y"] if f is not None]
    y_ticks = svg.ticks(min([0.0, *forces]), max([0.0, *forces]))
    heads = _headings(spec)
    rows = 1 + sum(len(head.lines) for head in heads)
    plot = _Plot(svg.ROW * rows + 8, strokes[0], strokes[-1], y_ticks[0], y_ticks[-1])
    said = _said(spec)
    name = svg.mark(spec["title"], said)
    body = [svg.hatches(name, len(terms)), *_axes(plot, spec, y_ticks)]
    for place, layer in enumerate(layers):
        body += [_area(plot, run, svg.filling(name, place)) for run in _runs(strokes, layer)]
    total = [_sum([term["y"][place] for term in terms]) for place in range(len(strokes))]
    if any(force is not None and force < 0 for term in terms for force in term["y"]):
        body += _curve(plot, strokes, total, svg.INK, 1.5, "5 3")
    body += _curve(plot, strokes, drive["y"], svg.PAPER, 6)
    short = _shortage(plot, strokes, drive["y"], total)
    body += [*short, *_curve(plot, strokes, drive["y"], svg.INK, 3), *_places(plot, heads)]
    y = plot.top + _DEEP + 62
    body.append(svg.line([(8, y - 5), (34, y - 5)], width=3))
    y = svg.legend(body, f"line: {drive['label']}", y)
    if short:
        body.append(svg.box(8, y - 13, 26, 16, fill=svg.ALARM))
        y = svg.legend(body, "force that is missing", y)
    for place in reversed(range(len(terms))):
        body.append(svg.box(8, y - 13, 26, 16, fill=svg.filling(name, place)))
        y = svg.legend(body, terms[place]["label"], y)
    if (worst := spec.get("worst")) and worst.get("label"):
        body.append(svg.line([(21, y - 14), (21, y + 3)], stroke=svg.ALARM, width=1.5))
        y = svg.legend(body, f"weakest place: {worst['label']}", y)
    return svg.picture(spec["title"], said, y - 10, body)


def _sum(forces: Sequence[float | None]) -> float | None:
    known = [force for force in forces if force is not None]
    return sum(known) if len(known) == len(forces) else None


def _stack(columns: Sequence[Sequence[float | None]], count: int) -> Iterator[list[tuple[float, float] | None]]:
    """Bottom and top of each layer: what resists is piled up from zero, what helps hangs below it."""
    above: list[float | None] = [0.0] * count
    below: list[float | None] = [0.0] * count
    for column in columns:
        layer: list[tuple[float, float] | None] = []
        for place, force in enumerate(column):
            pile = above if force is None or force >= 0 else below
            start = pile[place]
            if force is None or start is None:
                above[place] = below[place] = None
                layer.append(None)
            else:
                pile[place] = start + force
                layer.append((start, start + force))
        yield layer


def _runs(
    strokes: Sequence[float], layer: Sequence[tuple[float, float] | None]
) -> Iterator[list[tuple[float, tuple[float, float]]]]:
    run: list[tuple[float, tuple[float, float]]] = []
    for stroke, pair in zip(strokes, layer, strict=True):
        if pair is not None:
            run.append((stroke, pair))
        elif run:
            yield run
            run = []
    if run:
        yield run


def _area(plot: _Plot, run: Sequence[tuple[float, tuple[float, float]]], fill: str) -> str:
    edge = [(plot.x(s), plot.y(top)) for s, (_, top) in run] + [
        (plot.x(s), plot.y(low)) for s, (low, _) in reversed(run)
    ]
    path = "M" + "L".join(f"{svg.number(x)} {svg.number(y)}" for x, y in edge) + "Z"
    return f'<path d="{path}" fill="{fill}" stroke="{svg.INK}" stroke-width="0.75"/>'


def _curve(
    plot: _Plot, strokes: Sequence[float], forces: Sequence[float | None], stroke: str, width: float, dash: str = ""
) -> list[str]:
    layer = [None if force is None else (force, force) for force in forces]
    runs: list[Points] = [[(plot.x(s), plot.y(pair[1])) for s, pair in run] for run in _runs(strokes, layer)]
    return [svg.line(run, stroke=stroke, width=width, dash=dash) for run in runs]


def _axes(plot: _Plot, spec: Mapping[str, Any], y_ticks: Sequence[float]) -> list[str]:
    bottom = plot.top + _DEEP
    body = [svg.text(2, 14, f"force in {spec['unit_y']}")]
    for force in y_ticks:
        y = plot.y(force)
        body.append(svg.line([(_LEFT, y), (_RIGHT, y)], stroke=svg.FAINT, width=1.5 if force == 0 else 0.5))
        body.append(svg.text(_LEFT - 6, y + 5, shown(float(force)), anchor="end"))
    axis = f"stroke in {spec['unit_x']}"
    for stroke in svg.ticks_inside(plot.x_low, plot.x_high):
        x = plot.x(stroke)
        body.append(svg.line([(x, bottom), (x, bottom + 5)]))
        body.append(svg.text(x, bottom + 20, shown(float(stroke)), anchor="middle"))
    return [*body, svg.text(_RIGHT, bottom + 38, axis, anchor="end")]


def _headings(spec: Mapping[str, Any]) -> list[_Heading]:
    """The words above the plot, each in rows of its own so that they never meet: the weakest place comes last."""
    unit = spec["unit_x"]
    places = [(place["x"], f"{place['label']}, {shown(place['x'])} {unit}", False) for place in spec.get("marks", ())]
    if worst := spec.get("worst"):
        left = quantity(worst["margin"], spec["unit_y"])
        places.append((worst["x"], f"weakest: {left} left at {shown(worst['x'])} {unit}", True))
    heads: list[_Heading] = []
    row = 1
    for stroke, words, weakest in places:
        lines = svg.wrapped(words, svg.WIDTH - 8)
        heads.append(_Heading(stroke, lines, row, weakest))
        row += len(lines)
    return heads


def _places(plot: _Plot, heads: Sequence[_Heading]) -> list[str]:
    lines, told = [], []
    for head in heads:
        x, y = plot.x(head.stroke), 14.0 + svg.ROW * head.row
        ink = svg.ALARM if head.weakest else svg.INK
        at = min(x + 5, svg.WIDTH - 2 - max(svg.room(words) for words in head.lines))
        start = y - 10 if at > x else y + svg.ROW * (len(head.lines) - 1) + 4
        dash = "" if head.weakest else "3 3"
        lines.append(svg.line([(x, start), (x, plot.top + _DEEP)], stroke=ink, width=1.5, dash=dash))
        for place, words in enumerate(head.lines):
            told.append(svg.text(max(at, 2), y + svg.ROW * place, words, bold=head.weakest, fill=ink, halo=True))
    return lines + told


def _shortage(plot: _Plot, strokes: Sequence[float], drive: Sequence[Any], total: Sequence[Any]) -> list[str]:
    """The force that is missing: where the stack stands higher than the drive."""
    layer = [
        None if force is None or against is None else (force, max(force, against))
        for force, against in zip(drive, total, strict=True)
    ]
    if not any(pair and pair[1] > pair[0] for pair in layer):
        return []
    return [_area(plot, run, svg.ALARM) for run in _runs(strokes, layer)]


def _said(spec: Mapping[str, Any]) -> str:
    unit_x, unit_y, drive = spec["unit_x"], spec["unit_y"], spec["drive"]
    names = ", ".join(term["label"] for term in spec["terms"])
    said = f"{drive['label']} as a line over {names}, stacked, along the stroke in {unit_x}; forces in {unit_y}."
    if worst := spec.get("worst"):
        said += f" Weakest place: {quantity(worst['margin'], unit_y)} left at {shown(worst['x'])} {unit_x}"
        said += f", {worst['label']}." if worst.get("label") else "."
    return said
