"""The inverse: the value of one entry that gives a stated result, bracketed, residual checked."""

from collections.abc import Iterable, Mapping
from typing import Any

from valvecalc.answer import Answer, Entry
from valvecalc.door import NO_VALUE, fill, find, function_of, work
from valvecalc.entries import in_metric, read_entries, read_entry, unknown_entry
from valvecalc.errors import InputError, NoValue, Trouble
from valvecalc.formula import Card
from valvecalc.limits import bracket
from valvecalc.primitives import solve
from valvecalc.quantities import VOCABULARY
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
        troubles.append(Trouble("--solve", ", ".join(stated) or "no result", f"one result as an entry: {', '.join(results)}", f"State it, for example {results[0]}=…"))
    if wanted not in card.entries:
        troubles.append(unknown_entry(card, wanted))
    elif wanted in given:
        troubles.append(Trouble(wanted, str(given[wanted]), "this entry left out", "It is what you solve for."))
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
    ends = bracket(card, wanted) if between is None else (read(between[0], wanted, dimension).si, read(between[1], wanted, dimension).si)
    return [_solved(card, entries, wanted, root, stated[0], target) for root in _roots(card, entries, wanted, stated[0], target.si, min(ends), max(ends))]


def _solved(card: Card, entries: Mapping[str, Entry], wanted: str, root: float, result: str, target: Entry) -> Answer:
    unit = VOCABULARY[wanted].metric
    entry = Entry(show(root, VOCABULARY[wanted].dimension, unit), in_metric(wanted, root), unit, root, (), "solved")
    answer = work(card, {**entries, wanted: entry})
    residual = abs(answer.results[result] - target.si)
    if residual > 1e-6 * max(abs(target.si), abs(answer.results[result])):
        raise NoValue(f"{result} jumps past {target.text} near {wanted} = {entry.text}; no solution there")
    return answer


def _roots(card: Card, entries: Mapping[str, Entry], wanted: str, result: str, target: float, low: float, high: float) -> Iterable[float]:
    values = fill(card, entries)
    missing = frozenset(name for name, value in values.items() if value is None and name != wanted)
    if card.kind == "formula" and missing:
        raise InputError(Trouble(name, "nothing", "a value", f"Give {name}: {VOCABULARY[name].meaning}.") for name in sorted(missing))
    function = function_of(card, missing)

    def off(x: float) -> float:
        found = function({**values, wanted: x}).get(result)
        if found is None:
            raise NoValue(f"{result} needs more entries: {', '.join(sorted(missing))}")
        return float(found) - target

    roots: list[float] = []
    before: tuple[float, float] | None = None
    for x in _scan(low, high, 200 if card.kind == "formula" else 24):
        try:
            y = off(x)
        except NoValue:
            raise
        except NO_VALUE:
            before = None
            continue
        if y == 0.0:
            roots.append(x)
        elif before is not None and before[1] != 0.0 and (before[1] > 0.0) != (y > 0.0):
            roots.append(solve(off, before[0], x))
        before = (x, y)
    if not roots:
        dimension, unit = VOCABULARY[wanted].dimension, VOCABULARY[wanted].metric
        raise NoValue(f"no {wanted} between {show(low, dimension, unit)} and {show(high, dimension, unit)} gives this {result}")
    return roots


def _scan(low: float, high: float, parts: int) -> list[float]:
    """Places to look between two ends: evenly, and by decades where the range spans them."""
    places = {low + (high - low) * i / parts for i in range(parts + 1)}
    if high > 0.0 and high / max(low, high * 1e-12) > 100.0:
        places |= {high * 10.0 ** (-12.0 * i / parts) for i in range(parts + 1)}
    return sorted(x for x in places if low <= x <= high)
