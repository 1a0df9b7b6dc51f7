"""The frame of a chart: where figures lie on it, its lines, marks and words. The same once more in live/drawing.js."""

from collections.abc import Mapping, Sequence
from math import log10
from typing import Any, NamedTuple

from valvecalc.drawing import svg
from valvecalc.drawing.rounding import shown

RIGHT, DEEP = svg.WIDTH - 12, 210
_NO_UNIT = ("", "1")


class Plot(NamedTuple):
    """Where an entry and a result lie on the drawing."""

    left: float
    top: float
    x_low: float
    x_high: float
    y_low: float
    y_high: float
    log: bool = False

    @property
    def bottom(self) -> float:
        """Where the lower axis lies."""
        return self.top + DEEP

    def x(self, value: float) -> float:
        """The place of a value on the lower axis."""
        return self.left + (value - self.x_low) / (self.x_high - self.x_low) * (RIGHT - self.left)

    def y(self, value: float) -> float:
        """Held at the frame: on a logarithmic scale a whisker may reach zero."""
        if self.log:
            share = log10(max(value, self.y_low) / self.y_low) / log10(self.y_high / self.y_low)
        else:
            share = (value - self.y_low) / (self.y_high - self.y_low)
        return self.top + (1 - min(max(share, 0.0), 1.0)) * DEEP


def from_zero(low: float, high: float) -> tuple[float, float]:
    """The ends of an even scale: zero belongs to it unless the curve lies in the far half."""
    if low > 0.5 * high > 0 or high < 0.5 * low < 0:
        return low, high
    return min(low, 0.0), max(high, 0.0)


def margin_left(marks: Sequence[float]) -> float:
    """Where the plot begins, so that the figures of its left axis have room."""
    return max(svg.room(shown(float(mark))) for mark in marks) + 10


def axis(told: Mapping[str, Any]) -> str:
    """What an axis shows; the unit never stands alone on a line."""
    return str(told["label"]) if told["unit"] in _NO_UNIT else f"{told['label']},\N{NO-BREAK SPACE}{told['unit']}"


def frame(plot: Plot, marks: Sequence[float]) -> list[str]:
    """Both axes with their figures, and a faint line at each of `marks`."""
    body = []
    for mark in marks:
        y = plot.y(mark)
        heavy = 1.5 if mark == 0 or (plot.log and mark == marks[0]) else 0.5
        body.append(svg.line([(plot.left, y), (RIGHT, y)], stroke=svg.FAINT, width=heavy))
        body.append(svg.text(plot.left - 6, y + 5, shown(float(mark)), anchor="end"))
    body.append(svg.line([(plot.left, plot.top), (plot.left, plot.bottom), (RIGHT, plot.bottom)], stroke=svg.FAINT))
    for mark in svg.ticks_inside(plot.x_low, plot.x_high):
        x, words = plot.x(mark), shown(float(mark))
        at = min(x, svg.WIDTH - svg.room(words) / 2)
        body.append(svg.line([(x, plot.bottom), (x, plot.bottom + 5)]))
        body.append(svg.text(at, plot.bottom + 20, words, anchor="middle"))
    return body


def below(body: list[str], plot: Plot, told: Mapping[str, Any]) -> float:
    """Write what the lower axis shows; where the legend may begin."""
    y = plot.bottom + 38
    for words in svg.wrapped(axis(told), svg.WIDTH - 4):
        body.append(svg.text(RIGHT, y, words, anchor="end"))
        y += svg.ROW
    return y + 6


def dot(x: float, y: float, radius: float = 6) -> str:
    """The mark of a place, set off from the lines it lies on."""
    at = f'cx="{svg.number(x)}" cy="{svg.number(y)}" r="{svg.number(radius)}"'
    return f'<circle {at} fill="{svg.INK}" stroke="{svg.PAPER}" stroke-width="2"/>'
