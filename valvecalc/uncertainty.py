"""Uncertainty by numerical propagation, and decisions with a guard band.

JCGM 100:2008 (GUM), 5.1.3 note 2: the contribution of an input is half the difference of the result
at x + u and x - u. Inputs read with one instrument share its error and move together. Where x ± u
leaves the limits the step ends at the limit and the difference is scaled to u.
Decisions follow JCGM 106:2012: a limit is held only where the result clears it by the guard band.
"""

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any, NamedTuple

from valvecalc.limits import Limit

#: Coverage factor of every printed U.
COVERAGE = 2.0


class Leaf(NamedTuple):
    """One uncertain number among the entries.

    path   (entry,) or (entry, row index, column)
    u      standard uncertainty, SI
    group  what it shares its error with (an instrument id), or None
    """

    path: tuple[Any, ...]
    u: float
    group: str | None
    limit: Limit | None


class Contribution(NamedTuple):
    """What one input, or one instrument shared by several, adds to a result (signed, k = 1)."""

    label: str
    paths: tuple[tuple[Any, ...], ...]
    change: float


class Spread(NamedTuple):
    """Standard uncertainty of one result and who causes it, largest first."""

    u: float
    contributions: tuple[Contribution, ...]


Values = Mapping[str, Any]


def propagate(function: Callable[[Values], Values], values: Values, leaves: Sequence[Leaf]) -> dict[str, Spread]:
    """Spread of every number that `function` returns.

    Where one of the two steps has no value (a curve ends there), the other side alone gives the
    contribution; a result without a value on both sides has no spread.
    """
    groups: dict[str, list[Leaf]] = {}
    for leaf in leaves:
        groups.setdefault(leaf.group or f"{leaf.path}#{len(groups)}", []).append(leaf)
    here = _or_nothing(function, values)
    found: dict[str, list[Contribution]] = {name: [] for name, value in here.items() if _number(value)}
    broken: set[str] = set()
    for group, members in groups.items():
        up, up_share = _moved(values, members, +1.0)
        down, down_share = _moved(values, members, -1.0)
        high = _or_nothing(function, up) if up_share > 0.0 else here
        low = _or_nothing(function, down) if down_share > 0.0 else here
        paths = tuple(member.path for member in members)
        label = group if members[0].group else _label(members[0].path)
        for name, contributions in found.items():
            a: Any = high.get(name)
            b: Any = low.get(name)
            above, below = _number(a), _number(b)
            span = up_share * above + down_share * below
            if span > 0.0:
                change = (a if above else here[name]) - (b if below else here[name])
                contributions.append(Contribution(label, paths, change / span))
            else:
                broken.add(name)
    spreads = {}
    for name, contributions in found.items():
        if name not in broken and contributions:
            ordered = sorted(contributions, key=lambda one: -abs(one.change))
            u = math.sqrt(sum(one.change * one.change for one in ordered))
            spreads[name] = Spread(u, tuple(ordered))
    return spreads


def _number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _label(path: tuple[Any, ...]) -> str:
    return str(path[0]) if len(path) == 1 else f"{path[0]} {path[1] + 1} {path[2]}"


def _or_nothing(function: Callable[[Values], Values], values: Values) -> Values:
    try:
        return function(values)
    except (ArithmeticError, ValueError):
        return {}


def _moved(values: Values, members: Sequence[Leaf], sign: float) -> tuple[dict[str, Any], float]:
    """The values with every member moved by its u, and how much of the step fitted inside the limits."""
    share = 1.0
    for leaf in members:
        x = _at(values, leaf.path)
        limit = leaf.limit
        end = None if limit is None else (limit.high if sign > 0 else limit.low)
        if end is not None and leaf.u > 0.0 and limit is not None:
            inside = limit.high_in if sign > 0 else limit.low_in
            room = abs(end - x) * (1.0 if inside else 1.0 - 1e-6)
            share = min(share, room / leaf.u)
    moved = dict(values)
    for leaf in members:
        _set(moved, leaf.path, _at(values, leaf.path) + sign * leaf.u * share)
    return moved, share


def _at(values: Values, path: tuple[Any, ...]) -> float:
    found: Any = values
    for step in path:
        found = found[step]
    return float(found)


def _set(values: dict[str, Any], path: tuple[Any, ...], value: float) -> None:
    if len(path) == 1:
        values[path[0]] = value
        return
    entry, index, column = path
    rows = list(values[entry])
    rows[index] = {**rows[index], column: value}
    values[entry] = tuple(rows)


def decide(value: float, u: float, sign: str, limit: float, factor: float) -> str:
    """accept, reject or cannot-tell for "value >= limit" or "value <= limit" with guard band factor·u."""
    distance = value - limit if sign == ">=" else limit - value
    if distance >= factor * u:
        return "accept"
    return "reject" if distance < -factor * u or u == 0.0 else "cannot-tell"


def probability_above(value: float, u: float, limit: float) -> float:
    """Probability that a normally spread result lies above a limit."""
    if u == 0.0:
        return 1.0 if value >= limit else 0.0
    return 0.5 * (1.0 + math.erf((value - limit) / (u * math.sqrt(2.0))))
