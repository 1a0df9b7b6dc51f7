"""The share of the force in hand on its bands, with its uncertainty and the word of the verdict."""

from collections.abc import Mapping
from typing import Any

from valvecalc.drawing import svg
from valvecalc.drawing.rounding import percent

_LEFT, _RIGHT = 14, svg.WIDTH - 14
_TOP, _DEEP = 48, 30

#: Fillings from worst to best: the alarm's hatching at the bad end, the calm dots at the good one.
_ORDER = (3, 1, 0, 2)


def draw(spec: Mapping[str, Any]) -> str:
    """A whisker over the bands. The band of the value is named; so is every other that the whisker touches."""
    bands, value, half = spec["bands"], spec["value"], spec.get("half_width") or 0.0
    bounds = [band["to"] for band in bands[:-1]]
    seen = [] if value is None else [value - half, value + half]
    low = min([bounds[0] - 0.2, *(place - 0.05 for place in seen)])
    high = max([bounds[-1] + 0.2, *(place + 0.05 for place in seen)])

    def across(share: float) -> float:
        place: float = _LEFT + (share - low) / (high - low) * (_RIGHT - _LEFT)
        return place

    name = svg.mark(spec["title"], percent(value, half))
    body = [svg.hatches(name, len(_ORDER))]
    edges = [low, *bounds, high]
    for place in range(len(bands)):
        left, right = across(edges[place]), across(edges[place + 1])
        body.append(svg.box(left, _TOP, right - left, _DEEP, fill=svg.filling(name, _ORDER[place % len(_ORDER)])))
    for bound in bounds:
        body.append(svg.text(across(bound), _TOP + _DEEP + 18, percent(bound), anchor="middle"))
    own = None if value is None else next((i for i, band in enumerate(bands) if value < band["to"]), len(bands) - 1)
    if value is not None:
        body += _whisker(across(value), across(value - half), across(value + half), percent(value, half))
    y = _TOP + _DEEP + 46.0
    told = []
    for place, band in enumerate(bands):
        extent = _extent(bounds, place)
        touched = bool(half and seen[0] < edges[place + 1] and seen[1] > edges[place]) if seen else False
        words = f"{band['label']}: {extent}"
        if place == own:
            words += " ◀ here"
            told.append(f"The value lies in “{band['label']}”.")
        elif touched:
            words += " (within ±)"
            told.append(f"The uncertainty reaches into “{band['label']}”.")
        body.append(svg.box(_LEFT, y - 13, 22, 16, fill=svg.filling(name, _ORDER[place % len(_ORDER)])))
        body.append(svg.text(_LEFT + 32, y, words, bold=place == own))
        y += 24
    said = f"Share of the force in hand: {percent(value, half)}. {' '.join(told)}".strip()
    return svg.picture(spec["title"], said, y - 8, body)


def _extent(bounds: list[float], place: int) -> str:
    if place == 0:
        return f"below {percent(bounds[0])}"
    if place == len(bounds):
        return f"{percent(bounds[-1])} and more"
    return f"{percent(bounds[place - 1])} to {percent(bounds[place])}"


def _whisker(middle: float, left: float, right: float, words: str) -> list[str]:
    y = _TOP - 12
    span = svg.room(words) / 2
    ends = [svg.line([(x, y - 6), (x, y + 6)], width=2) for x in (left, right)] if right > left else []
    return [
        svg.text(min(max(middle, span), svg.WIDTH - span), 18, words, anchor="middle", bold=True),
        svg.line([(left, y), (right, y)], width=2),
        *ends,
        svg.line([(middle, y), (middle, _TOP + _DEEP + 3)], stroke=svg.PAPER, width=6),
        svg.line([(middle, y), (middle, _TOP + _DEEP + 3)], width=2.5),
        f'<circle cx="{svg.number(middle)}" cy="{svg.number(y)}" r="5" fill="{svg.INK}"/>',
    ]
