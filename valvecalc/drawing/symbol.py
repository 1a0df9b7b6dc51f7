"""The symbol of a directional valve by the conventions of ISO 1219-1, drawn from what its ports do.

One square for each position, joined ports as lines with arrows, a bar across each shut port, the outside ports at the
square of rest, and at either end what moves the spool there. A valve is described, never read from a picture.
"""

from collections.abc import Iterator, Sequence
from html import escape
from math import hypot
from typing import NamedTuple

from valvecalc.drawing import svg
from valvecalc.errors import DataError
from valvecalc.selection.function import PORTS, Function, Position, text, words

Point = tuple[float, float]

#: Where each port enters a square of side 1; y runs down.
PLACES: dict[str, Point] = {"A": (0.25, 0.0), "B": (0.75, 0.0), "P": (0.25, 1.0), "T": (0.75, 1.0)}
#: What moves a spool, and how much room it takes along the spool's axis.
OPERATORS = {"solenoid": 28.0, "spring": 28.0, "pilot": 17.0, "manual": 22.0, "detent": 30.0}

_LARGEST = 64.0  # side of a square
_EDGE = 4.0
_ABOVE, _BELOW = 36.0, 40.0  # room for the outside ports and their letters
_OUT = 14.0
_BAR_DEPTH, _BAR_HALF = 0.2, 0.11
_HEAD, _HEAD_HALF = 8.0, 3.2
_WIDTH = 1.6


class Square(NamedTuple):
    """One position: its label, what it joins (None: not known), dashed where the spool only passes."""

    label: str
    position: Position | None
    passing: bool = False


class Symbol(NamedTuple):
    """Squares from left to right, the one of rest, and at each end chains of operators, nearest the squares first."""

    squares: tuple[Square, ...]
    rest: int
    left: tuple[tuple[str, ...], ...] = ()
    right: tuple[tuple[str, ...], ...] = ()


class Way(NamedTuple):
    """How a group of joined ports runs through a square of side 1."""

    ports: str
    lines: tuple[tuple[Point, ...], ...]
    arrow: tuple[Point, Point] | None = None  # from, to: only between two ports, where the direction is plain
    dots: tuple[Point, ...] = ()
    notch: tuple[Point, Point] | None = None  # where a throttle is drawn, and along which way


def ways(position: Position) -> list[Way]:
    """The lines of a position: straight between the faces, a bracket within a face, a bar across for three or four."""
    found = []
    for group in sorted(position.groups, key=lambda one: text(Position(frozenset((one,))))):
        ports = [port for port in PORTS if port in group]
        if len(ports) > 2:
            way = _barred(ports)
        elif PLACES[ports[0]][1] == PLACES[ports[1]][1]:
            way = _bracket(ports)
        else:
            way = _straight(ports)
        found.append(way if group in position.restricted else way._replace(notch=None))
    return found


def _straight(ports: Sequence[str]) -> Way:
    start, end = (port for port in sorted(ports, key="PABT".index))
    a, b = PLACES[start], PLACES[end]
    third = (a[0] + 0.3 * (b[0] - a[0]), a[1] + 0.3 * (b[1] - a[1]))  # two ways cross in the middle
    return Way("-".join(ports), ((a, b),), (a, b), notch=(third, (b[0] - a[0], b[1] - a[1])))


def _bracket(ports: Sequence[str]) -> Way:
    (x1, y), (x2, _) = PLACES[ports[0]], PLACES[ports[1]]
    level = 0.66 if y else 0.34
    line = ((x1, y), (x1, level), (x2, level), (x2, y))
    arrow = ((x2, level), (x2, y)) if "T" in ports else None
    return Way("-".join(ports), (line,), arrow, notch=((0.5, level), (1.0, 0.0)))


def _barred(ports: Sequence[str]) -> Way:
    stubs = tuple((PLACES[port], (PLACES[port][0], 0.5)) for port in ports)
    columns = [stub[0][0] for stub in stubs]
    dots = tuple((x, 0.5) for x in (0.25, 0.75) if columns.count(x) == 2)
    return Way("-".join(ports), (*stubs, ((0.25, 0.5), (0.75, 0.5))), dots=dots, notch=((0.5, 0.5), (1.0, 0.0)))


def symbol_of(function: Function, operator: str | None = None, stage: str | None = None) -> Symbol:
    """The symbol of a valve as a stock list tells it: solenoid a at the left, b at the right, crossing between."""
    shifts = ("pilot", "solenoid") if stage == "two-stage" else ("solenoid",)
    has_rest = function.rest != ""
    squares: list[Square] = []
    if function.on_a != "":
        squares.append(Square("a", _known(function.on_a)))
        if isinstance(function.crossing_a, Position):
            squares.append(Square("", function.crossing_a, passing=True))
    rest = len(squares) if has_rest else 0
    if has_rest:
        squares.append(Square("0", _known(function.rest)))
    if function.on_b != "":
        if isinstance(function.crossing_b, Position):
            squares.append(Square("", function.crossing_b, passing=True))
        squares.append(Square("b", _known(function.on_b)))
    sprung = operator in ("spring-centred", "spring-offset")
    left = ((shifts,) if function.on_a != "" else ()) + ((("spring",),) if sprung and function.on_b != "" else ())
    right = ((shifts,) if function.on_b != "" else ()) + ((("spring",),) if sprung and function.on_a != "" else ())
    return Symbol(tuple(squares), rest, left, right + ((("detent",),) if operator == "detent" else ()))


def _known(position: Position | str | None) -> Position | None:
    return position if isinstance(position, Position) else None


def title_of(symbol: Symbol) -> str:
    """What the symbol is called: ways and positions, and what it does at rest."""
    count = sum(not square.passing for square in symbol.squares)
    return f"4/{count} valve. {_told(symbol.squares[symbol.rest], at_rest=True)}"


def description_of(symbol: Symbol) -> str:
    """The whole symbol in words, for who cannot see it."""
    parts = [_told(square, place == symbol.rest) for place, square in enumerate(symbol.squares)]
    for end, chains in (("left", symbol.left), ("right", symbol.right)):
        told = " and ".join(" through ".join(reversed(chain)) for chain in chains)
        parts.append(f"At the {end} end: {told or 'nothing'}.")
    return " ".join(parts)


def _told(square: Square, at_rest: bool) -> str:
    name = "On the way" if square.passing else f"Position {square.label}"
    rest = " (rest)" if at_rest else ""
    return f"{name}{rest}: {'not known' if square.position is None else words(square.position)}."


def draw(symbol: Symbol) -> str:
    """The symbol as SVG text, 360 units wide, its meaning in title and description."""
    for name in (name for side in (symbol.left, symbol.right) for chain in side for name in chain):
        if name not in OPERATORS:
            raise DataError(f"operator {name!r} is unknown; known are {', '.join(OPERATORS)}")
    if not 0 <= symbol.rest < len(symbol.squares):
        raise DataError("a symbol needs a square of rest")
    left, right = (_room(side) for side in (symbol.left, symbol.right))
    count = len(symbol.squares)
    side = min(_LARGEST, (svg.WIDTH - 2 * _EDGE - left - right) / count)
    x0 = (svg.WIDTH - left - right - count * side) / 2 + left
    body: list[str] = []
    for place, square in enumerate(symbol.squares):
        body.extend(_square(square, x0 + place * side, _ABOVE, side))
    body.extend(_outside(x0 + symbol.rest * side, _ABOVE, side))
    positions = sum(not square.passing for square in symbol.squares)
    for chains, x, sign in ((symbol.left, x0, -1.0), (symbol.right, x0 + count * side, 1.0)):
        for lane, chain in enumerate(chains):
            height = side / max(len(chains), 2)
            middle = _ABOVE + side / 2 + (lane - (len(chains) - 1) / 2) * height
            at = x
            for name in chain:
                body.append(
                    f'<g data-operator="{name}">{_operator(name, at, middle, sign, 0.8 * height, positions)}</g>'
                )
                at += sign * OPERATORS[name]
    return svg.picture(title_of(symbol), description_of(symbol), _ABOVE + side + _BELOW, body)


def draw_known(function: Function, operator: str | None = None, stage: str | None = None) -> str:
    """The symbol of a function as SVG text, "" where no position at all is known."""
    symbol = symbol_of(function, operator, stage)
    return draw(symbol) if any(square.position is not None for square in symbol.squares) else ""


def draw_box(position: Position) -> str:
    """One square with its ports, for a choice whose words stand beside it: it is not told to who hears the page."""
    side, edge = _LARGEST, 18.0
    body = list(_square(Square("", position), edge, _ABOVE, side))
    body.extend(_outside(edge, _ABOVE, side))
    width, height = side + 2 * edge, side + _ABOVE + _BELOW
    return (
        f'<svg viewBox="0 0 {svg.number(width)} {svg.number(height)}" aria-hidden="true" focusable="false" '
        f'font-family="system-ui, sans-serif" font-size="{svg.FONT}">{"".join(body)}</svg>'
    )


def _room(chains: Sequence[Sequence[str]]) -> float:
    return max((sum(OPERATORS[name] for name in chain) for chain in chains), default=0.0)


def _square(square: Square, x: float, y: float, side: float) -> Iterator[str]:
    corners = [(x, y), (x + side, y), (x + side, y + side), (x, y + side), (x, y)]
    yield f'<g data-square="{escape(square.label)}">'
    yield svg.line(corners, width=_WIDTH, dash="4 3" if square.passing else "")
    yield svg.text(x + side / 2, y + side + 17, square.label, anchor="middle")
    if square.position is None:
        yield svg.text(x + side / 2, y + side / 2 + 5, "?", anchor="middle", bold=True)
    else:
        yield from _inside(square.position, x, y, side)
    yield "</g>"


def _inside(position: Position, x: float, y: float, side: float) -> Iterator[str]:
    def at(point: Point) -> Point:
        return x + point[0] * side, y + point[1] * side

    for way in ways(position):
        yield f'<g data-ports="{way.ports}">'
        for line in way.lines:
            yield svg.line([at(point) for point in line], width=_WIDTH)
        if way.arrow:
            yield _head(at(way.arrow[0]), at(way.arrow[1]))
        for dot in way.dots:
            cx, cy = at(dot)
            yield f'<circle cx="{svg.number(cx)}" cy="{svg.number(cy)}" r="2.6" fill="{svg.INK}"/>'
        if way.notch:
            yield _throttle(at(way.notch[0]), way.notch[1])
        yield "</g>"
    for port in PORTS:
        if position.is_shut(port):
            px, py = PLACES[port]
            depth = abs(py - _BAR_DEPTH)
            yield f'<g data-shut="{port}">'
            yield svg.line([at((px, py)), at((px, depth))], width=_WIDTH)
            yield svg.line([at((px - _BAR_HALF, depth)), at((px + _BAR_HALF, depth))], width=_WIDTH)
            yield "</g>"


def _outside(x: float, y: float, side: float) -> Iterator[str]:
    """The ports of the valve, at the square of rest."""
    for port, (px, py) in PLACES.items():
        start, end = (y + side, y + side + _OUT) if py else (y, y - _OUT)
        yield f'<g data-port="{port}">{svg.line([(x + px * side, start), (x + px * side, end)], width=_WIDTH)}'
        yield svg.text(x + px * side, end + (15 if py else -5), port, anchor="middle", bold=True) + "</g>"


def _filled(points: Sequence[Point]) -> str:
    path = "M" + "L".join(f"{svg.number(x)} {svg.number(y)}" for x, y in points) + "Z"
    return f'<path d="{path}" fill="{svg.INK}"/>'


def _head(start: Point, end: Point) -> str:
    """An arrow head with its tip at the end."""
    length = hypot(end[0] - start[0], end[1] - start[1])
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    bx, by = end[0] - _HEAD * ux, end[1] - _HEAD * uy
    wings = [(bx - _HEAD_HALF * uy, by + _HEAD_HALF * ux), (bx + _HEAD_HALF * uy, by - _HEAD_HALF * ux)]
    return _filled([end, *wings])


def _throttle(at: Point, along: Point) -> str:
    """Two arcs that narrow a line from both sides."""
    length = hypot(*along)
    ux, uy = along[0] / length, along[1] / length
    arcs = []
    for sign in (-1.0, 1.0):
        ends = [(at[0] + k * 5 * ux - sign * 6 * uy, at[1] + k * 5 * uy + sign * 6 * ux) for k in (-1.0, 1.0)]
        (x1, y1), (x2, y2) = ends
        mx, my = at[0] - sign * 0.5 * uy, at[1] + sign * 0.5 * ux
        n = svg.number
        arcs.append(f"M{n(x1)} {n(y1)}Q{n(mx)} {n(my)} {n(x2)} {n(y2)}")
    return f'<path d="{"".join(arcs)}" fill="none" stroke="{svg.INK}" stroke-width="1.4" data-notch=""/>'


def _operator(name: str, x: float, middle: float, sign: float, height: float, positions: int) -> str:
    """One operator whose end at the squares is at x; sign says to which side it reaches."""
    far, half = x + sign * OPERATORS[name], height / 2
    if name == "spring":
        reach = sign * OPERATORS[name]
        zigzag = [(x + reach * k / 6, middle + (half * 0.8 if k % 2 else -half * 0.8)) for k in range(1, 6)]
        return svg.line([(x, middle), *zigzag, (far, middle)], width=_WIDTH)
    if name == "manual":
        back = far - sign * 6
        grip = [(back, middle - half), (far, middle - half), (far, middle + half), (back, middle + half)]
        return svg.line([(x, middle), (far, middle)], width=_WIDTH) + svg.line(grip, width=_WIDTH)
    if name == "detent":
        return _detent(x, middle, sign, half, positions)
    box = [(x, middle - half), (far, middle - half), (far, middle + half), (x, middle + half), (x, middle - half)]
    drawn = svg.line(box, width=_WIDTH)
    if name == "solenoid":
        return drawn + svg.line([(far, middle + half), (x, middle - half)], width=_WIDTH)
    base = far - sign * 4
    return drawn + _filled([(x + sign * 3, middle), (base, middle - half * 0.6), (base, middle + half * 0.6)])


def _detent(x: float, middle: float, sign: float, half: float, positions: int) -> str:
    """A rod with a notch for each position, and the pawl in one of them."""
    reach, depth = sign * OPERATORS["detent"], min(half * 0.6, 5.0)
    pitch = reach / (positions + 1)
    edge = [(x, middle)]
    for k in range(1, positions + 1):
        at = x + k * pitch
        edge += [(at - pitch / 3, middle), (at, middle - depth), (at + pitch / 3, middle)]
    pawl = x + pitch
    hook = [(pawl - pitch / 3, middle + depth), (pawl, middle), (pawl + pitch / 3, middle + depth)]
    return svg.line([*edge, (x + reach, middle)], width=_WIDTH) + svg.line(hook, width=_WIDTH)
