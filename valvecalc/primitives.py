"""What a sheet may call besides formulas and other sheets. Each exists once more, in
printing/runtime.js, and both are tested on the same vectors.

`using`, `fact` and `threshold` are plain here and spelled out by the compiler (compiled.py), which
is what runs; the plain forms keep a sheet an ordinary Python function.
"""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

from valvecalc.errors import NoValue
from valvecalc.formula import card_of

Row = Mapping[str, Any]


def using(record: Any, function: Callable[..., Any], /, **given: Any) -> Any:
    """Call a formula; every entry not given comes from the record's field of that name."""
    card = card_of(function)
    if card is None:
        raise TypeError(f"{function!r} is not a registered formula")
    taken = {name: getattr(record, name) for name in card.entries if name not in given and hasattr(record, name)}
    return function(**taken, **given)


def fact(key: str) -> Any:
    """A number or table of data/defaults.toml, in SI, by its id."""
    from valvecalc.facts import fact_value

    return fact_value(key)


def known(*values: Any) -> Any:
    """The first that is there; a reading that was not taken is None."""
    for value in values:
        if value is not None:
            return value
    return None


def table(rows: Sequence[Row], x_name: str, y_name: str, x: float) -> float:
    """Straight line between the rows of a table that rises in `x_name`; outside it has no value."""
    previous = rows[0]
    if x == previous[x_name]:
        return float(previous[y_name])
    if x > previous[x_name]:
        for row in rows:
            if x <= row[x_name]:
                x0, y0 = previous[x_name], previous[y_name]
                return float(y0 + (row[y_name] - y0) * ((x - x0) / (row[x_name] - x0)))
            previous = row
    low, high = rows[0][x_name], rows[-1][x_name]
    why = f"{x_name} {x:.6g} lies outside the table of {y_name} ({low:.6g} to {high:.6g})"
    raise NoValue(why, (x_name, y_name, x, low, high))


def log_table(rows: Sequence[Row], x_name: str, y_name: str, x: float) -> float:
    """`table` with the logarithm of `y_name` running straight between the rows."""
    logs = [{x_name: row[x_name], y_name: math.log10(row[y_name])} for row in rows]
    return math.pow(10.0, table(logs, x_name, y_name, x))


def grid(low: float, high: float, steps: int, *further: Iterable[float]) -> list[float]:
    """Places from low to high in equal steps, and those of the further lists that lie between."""
    places = {low + (high - low) * (i / steps) for i in range(steps)}
    places.add(high)
    for places_of_break in further:
        places.update(x for x in places_of_break if low <= x <= high)
    return sorted(places)


def sweep(function: Callable[[float], Row], places: Iterable[float]) -> list[Row]:
    """One row for each place."""
    return [function(place) for place in places]


def least(rows: Sequence[Row], name: str) -> Row:
    """The row with the smallest value; of equals the first. Rows without a value do not count."""
    found = None
    for row in rows:
        value = row[name]
        if value is not None and (found is None or value < found[name]):
            found = row
    if found is None:
        raise NoValue(f"no row has a {name}")
    return found


def most(rows: Sequence[Row], name: str) -> Row:
    """The row with the largest value; of equals the first. Rows without a value do not count."""
    found = None
    for row in rows:
        value = row[name]
        if value is not None and (found is None or value > found[name]):
            found = row
    if found is None:
        raise NoValue(f"no row has a {name}")
    return found


def rank(rows: Sequence[Row], name: str) -> list[Row]:
    """Largest first; equals keep their order; rows without a value come last."""
    with_value = [row for row in rows if row[name] is not None]
    return sorted(with_value, key=lambda row: -row[name]) + [row for row in rows if row[name] is None]


def total(values: Iterable[float]) -> float:
    """Sum, taken from left to right (as JavaScript takes it)."""
    result = 0.0
    for value in values:
        result = result + value
    return result


def fit(rows: Sequence[Row], x_name: str, y_name: str) -> dict[str, float]:
    """y = linear·x + square·x² through the points, neither below zero, by least squares of the relative deviation.

    Relative, so that a small loss at a small flow counts as much as a large one. `error` is the root of the mean
    square of what is left, `largest` the last x. Fewer than two points have no value.
    """
    if len(rows) < 2:
        raise NoValue("a curve needs two points at least")
    first = [row[x_name] / row[y_name] for row in rows]
    second = [row[x_name] * (row[x_name] / row[y_name]) for row in rows]
    along = total(a * a for a in first)
    share = total(a * b for a, b in zip(first, second, strict=True)) / along
    across = [b - share * a for a, b in zip(first, second, strict=True)]  # what the square has beside the straight line
    square = total(across) / total(c * c for c in across)
    linear = total(first) / along - square * share
    if linear < 0.0 or square < 0.0:  # then one of them is zero: which leaves the smaller deviation?
        beside = total(b * b for b in second)
        is_straight = total(first) * total(first) / along >= total(second) * total(second) / beside
        linear = total(first) / along if is_straight else 0.0
        square = 0.0 if is_straight else total(second) / beside
    left = [linear * a + square * b - 1.0 for a, b in zip(first, second, strict=True)]
    error = math.sqrt(total(one * one for one in left) / len(left))
    return {"linear": linear, "square": square, "error": error, "largest": float(rows[-1][x_name])}


def march(
    rates: Callable[[Row], Row], start: Row, along: str, end: float, rows: int, steps: int
) -> list[dict[str, float]]:
    """What becomes of `start` on the way of `along` from 0 to `end`, as rows + 1 rows with `steps` steps between two.

    `rates` tells of a row how fast each value of `start` changes along it. Runge-Kutta of the fourth order, steps of
    one size: a jump in the rates costs it an error of the size of a step. Where the values run away (the steps are too
    long for how fast they change) there is no value.
    """
    step = end / (rows * steps)
    names = list(start)

    def ahead(row: Row, rate: Row, at: float, by: float) -> dict[str, float]:
        return {along: at, **{name: row[name] + by * rate[name] for name in names}}

    row = {along: 0.0, **start}
    found = [row]
    for number in range(1, rows * steps + 1):
        middle, at = (number - 0.5) * step, number * step
        first = rates(row)
        second = rates(ahead(row, first, middle, 0.5 * step))
        third = rates(ahead(row, second, middle, 0.5 * step))
        fourth = rates(ahead(row, third, at, step))
        mean = {name: (first[name] + 2.0 * (second[name] + third[name]) + fourth[name]) / 6.0 for name in names}
        row = ahead(row, mean, at, step)
        if number % steps == 0:
            if not all(math.isfinite(value) for value in row.values()):
                raise NoValue("the values run away: something changes faster than the steps of the calculation")
            found.append(row)
    return found


def vary(record: Any, **changes: Any) -> Any:
    """A changed copy of a record."""
    return record._replace(**changes)


def solve(function: Callable[[float], float], low: float, high: float) -> float:
    """The place where `function` is zero between two ends of unlike sign, to the last bit.

    Chandrupatla's method (Advances in Engineering Software 28, 1997): inverse quadratic steps where
    they are sure to help, halving elsewhere. Raises NoValue where the ends have the same sign.
    """
    a, b = low, high
    fa, fb = function(a), function(b)
    if fa == 0.0:
        return a
    if fb == 0.0:
        return b
    if (fa > 0.0) == (fb > 0.0):
        raise NoValue("no solution between the ends of the bracket")
    c, fc = a, fa
    t = 0.5
    for _ in range(200):
        x = a + t * (b - a)
        if x in (a, b):  # the step was lost in rounding: halve, until the ends are neighbours
            x = a + 0.5 * (b - a)
            if x in (a, b):
                break
        fx = function(x)
        if (fx > 0.0) == (fa > 0.0):
            c, fc = a, fa
        else:
            c, b, fc, fb = b, a, fb, fa
        a, fa = x, fx
        if fa == 0.0:
            return a
        width = abs(b - a)
        room = min(0.5, 2.3e-16 * abs(a if abs(fa) < abs(fb) else b) / width)  # a step moves by a bit at least
        xi = (a - b) / (c - b)
        phi = (fa - fb) / (fc - fb)
        if phi * phi < xi and (1.0 - phi) * (1.0 - phi) < 1.0 - xi:
            t = (fa / (fb - fa)) * (fc / (fb - fc)) + ((c - a) / (b - a)) * (fa / (fc - fa)) * (fb / (fc - fb))
        else:
            t = 0.5
        t = min(1.0 - room, max(room, t))
    return a if abs(fa) < abs(fb) else b


def crossing(function: Callable[[float], float], at: float, low: float, high: float) -> float | None:
    """The nearest value to `at` where `function` changes sign, first below, then above, or None.

    Each side is looked at a quarter of the way to its limit, then at the limit; where there is no
    value the walk ends. The nearer of the two crossings wins.
    """
    start = function(at)
    if start == 0.0:
        return at
    found: float | None = None
    for end in (low, high):
        inner = at
        for share in (0.25, 1.0):
            outer = at + (end - at) * share
            if outer == inner:
                continue
            try:
                value = function(outer)
            except (ArithmeticError, ValueError):
                break
            if (value > 0.0) != (start > 0.0):
                root = solve(function, inner, outer)
                if found is None or abs(root - at) < abs(found - at):
                    found = root
                break
            inner = outer
    return found


def threshold(sheet: Callable[..., Row], record: Any, entry: str, result: str) -> float | None:
    """The value of one entry, alone, at which a result of a sheet becomes zero; None if its limits hold none."""
    from valvecalc.limits import bracket

    card = card_of(sheet)
    if card is None:
        raise TypeError(f"{sheet!r} is not a registered sheet")
    low, high = bracket(card, entry)
    return threshold_between(sheet, record, entry, result, low, high)


def threshold_between(
    sheet: Callable[..., Row], record: Any, entry: str, result: str, low: float, high: float
) -> float | None:
    """`threshold` with its limits spelled out, as the compiler and JavaScript call it.

    The walk to the crossing and the solving between its ends ask for the same places: each is worked once.
    """
    worked: dict[float, float] = {}

    def at(value: float) -> float:
        if value not in worked:
            worked[value] = sheet(record._replace(**{entry: value}))[result]
        return worked[value]

    return crossing(at, getattr(record, entry), low, high)
