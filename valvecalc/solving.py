"""The inverse: the value of one entry that gives a stated result, bracketed, residual checked."""

from collections.abc import Callable, Mapping
from typing import Any

from valvecalc.answer import Answer, Entry
from valvecalc.door import NO_VALUE, fill, find, function_of, work
from valvecalc.entries import in_metric, read_entries, read_entry, unknown_entry
from valvecalc.errors import InputError, NoValue, Trouble
from valvecalc.formula import Card
from valvecalc.limits import bracket
from valvecalc.needs import lacking
from valvecalc.primitives import solve
from valvecalc.quantities import VOCABULARY
from valvecalc.uncertainty import Leaf, Spread, propagate
from valvecalc.units import read, show


def solve_for(name: str, wanted: str, between: tuple[str, str] | None = None, /, **given: Any) -> list[Answer]:
    """Answers for the values of the entry `wanted` that give the result stated among the entries.

    The result stands among `given` under its own name (for a sheet: any of its results). The bracket
    is the limit of the entry unless given. Every solution found is returned, its residual checked;
    none raises NoValue.
    """
    card = find(name)
    results = card.results or (card.result,)
    stated = [entry for entry in given if entry in results and entry not in card.entries]
    troubles: list[Trouble] = []
    if len(stated) != 1:
        troubles.append(
            Trouble(
                "--solve",
                ", ".join(stated) or "no result",
                f"one result as an entry: {', '.join(results)}",
                f"State it, for example {results[0]}=…",
            )
        )
    if wanted not in card.entries:
        troubles.append(unknown_entry(card, wanted))
    elif wanted in given:
        troubles.append(Trouble(wanted, str(given[wanted])[:60], "this entry left out", "It is what you solve for."))
    elif wanted in card.rows or wanted in card.choices:
        troubles.append(Trouble(wanted, "a list or a word", "an entry that is a number", "Solve for another entry."))
    entries: dict[str, Entry] = {}
    target: Entry | None = None
    for entry_name, value in given.items():
        if entry_name in stated:
            try:
                target = read_entry(entry_name, value)
            except InputError as trouble:
                troubles.extend(trouble.troubles)
    try:
        entries = read_entries(card, {key: value for key, value in given.items() if key not in stated})
    except InputError as trouble:
        troubles.extend(trouble.troubles)
    if troubles or target is None:
        raise InputError(troubles)
    dimension = VOCABULARY[wanted].dimension
    ends = (
        bracket(card, wanted)
        if between is None
        else (read(between[0], wanted, dimension).si, read(between[1], wanted, dimension).si)
    )
    low, high = min(ends), max(ends)
    roots = _roots(card, entries, wanted, stated[0], target.si, low, high)
    answers = [_solved(card, entries, wanted, root, stated[0], target) for root in roots]
    leaves = [
        Leaf((name,), u, group, None)
        for name, entry in {**entries, "": target}.items()
        if name not in card.rows
        for u, group in entry.spreads
    ]
    if leaves:
        for answer, root in zip(answers, roots, strict=True):
            answer.solved_spread = _spread(card, entries, wanted, stated[0], target, root, (low, high), leaves)
    return answers


def _spread(
    card: Card, entries: Mapping[str, Entry], wanted: str, result: str, target: Entry, root: float,
    ends: tuple[float, float], leaves: list[Leaf],
) -> Spread | None:  # fmt: skip
    """Spread of a solved entry: solved again at every step, the root nearest to the first one taken."""

    def again(values: Mapping[str, Any]) -> Mapping[str, Any]:
        moved = {
            name: entry if name in card.rows else entry._replace(si=values[name]) for name, entry in entries.items()
        }
        return {wanted: min(_roots(card, moved, wanted, result, values[""], *ends), key=lambda one: abs(one - root))}

    values = {name: entry.si for name, entry in entries.items()} | {"": target.si}
    return propagate(again, values, leaves).get(wanted)


def _solved(card: Card, entries: Mapping[str, Entry], wanted: str, root: float, result: str, target: Entry) -> Answer:
    unit = VOCABULARY[wanted].metric
    entry = Entry(show(root, VOCABULARY[wanted].dimension, unit), in_metric(wanted, root), unit, root, (), "calculated")
    answer = work(card, {**entries, wanted: entry})
    residual = abs(answer.results[result] - target.si)
    if residual > 1e-6 * max(abs(target.si), abs(answer.results[result])):
        raise NoValue(f"{result} jumps past {target.text} near {wanted} = {entry.text}; no solution there")
    answer.solved = wanted
    answer._spreads = {}  # the stated result is given, not found: the doubt goes to the solved entry
    return answer


def _roots(
    card: Card, entries: Mapping[str, Entry], wanted: str, result: str, target: float, low: float, high: float
) -> list[float]:
    values = fill(card, entries)
    missing = frozenset(name for name, value in values.items() if value is None and name != wanted)
    needed = missing if card.kind == "formula" else lacking(card, missing).get(result, ())
    if needed:
        wants = "; ".join(f"{name}, {VOCABULARY[name].meaning}" for name in sorted(needed))
        raise NoValue(f"to solve for {wanted} it needs {wants}")
    function = function_of(card, missing)

    def off(x: float) -> float:
        found = function({**values, wanted: x}).get(result)
        if found is None:
            raise NoValue(f"{result} has no value there")
        return float(found) - target

    roots: list[float] = []
    same = 1e-14 * abs(target)  # of a stretch that gives the target all along, its first place is named
    changes = False
    before: tuple[float, float] | None = None
    for x in _scan(low, high, 200 if card.kind == "formula" else 24):
        try:
            y = off(x)
        except NO_VALUE:
            before = None
            continue
        if abs(y) <= same:
            roots += [] if before is not None and abs(before[1]) <= same else [x]
        else:
            changes = True
            if before is not None and abs(before[1]) > same and (before[1] > 0.0) != (y > 0.0):
                root = _between(off, before[0], x, target)
                roots += [] if root is None else [root]
        before = (x, y)
    if roots and not changes:
        raise NoValue(f"{result} does not change with {wanted}: any value gives it")
    if not roots:
        dimension, unit = VOCABULARY[wanted].dimension, VOCABULARY[wanted].metric
        raise NoValue(
            f"no {wanted} between {show(low, dimension, unit)} and {show(high, dimension, unit)} gives this {result}"
        )
    return roots


def _between(off: Callable[[float], float], low: float, high: float, target: float) -> float | None:
    """The root between two places of unlike sign; None where the result jumps past the target (a pole, a step)."""
    try:
        root = solve(off, low, high)
        residual = off(root)
    except NO_VALUE:
        return None
    return root if abs(residual) <= 1e-6 * max(abs(target), abs(target + residual)) else None


def _scan(low: float, high: float, parts: int) -> list[float]:
    """Places to look between two ends: evenly, and by decades where the range spans them."""
    places = {low + (high - low) * i / parts for i in range(parts + 1)}
    if high > 0.0 and high / max(low, high * 1e-12) > 100.0:
        places |= {high * 10.0 ** (-12.0 * i / parts) for i in range(parts + 1)}
    return sorted(x for x in places if low <= x <= high)
