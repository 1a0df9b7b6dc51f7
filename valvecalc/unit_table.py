"""The rows of data/units.toml, and finding the one that is meant by a spelling."""

import math
from collections.abc import Mapping
from functools import cache
from typing import Any, NamedTuple

from valvecalc.errors import DataError, nearest
from valvecalc.facts import load_toml
from valvecalc.numbers import NUMBER, Refused, figure


class Unit(NamedTuple):
    """One row: value in SI = value * factor + offset. `spellings` begins with the printed form."""

    printed: str
    dimension: str
    factor: float
    offset: float
    pint: str
    spellings: tuple[str, ...]


class Dimension(NamedTuple):
    """What can be measured in the same units. `names` maps each spelling to its row and, for pressures,
    the reference it names: "gauge", "absolute" or "" for none. `folded` is the same without regard to case."""

    name: str
    says: str
    si: str
    pint: str
    examples: tuple[str, ...]
    lowest: float | None
    lowest_says: str
    units: tuple[Unit, ...]
    names: Mapping[str, tuple[Unit, str]]
    folded: Mapping[str, tuple[str, ...]]


def _raw() -> dict[str, Any]:
    return load_toml("units.toml")


@cache
def dimension_names() -> tuple[str, ...]:
    """Every dimension of the table."""
    return tuple(_raw()["dimensions"])


@cache
def dimension_row(name: str) -> Dimension:
    """The dimension `name` with its units. Raises DataError when the table has none of that name."""
    table = _raw()["dimensions"]
    if name not in table:
        raise DataError(f"data/units.toml has no dimension {name!r}; nearest: {', '.join(nearest(name, table))}")
    row = table[name]
    rows = table[row.get("like", name)]["units"]
    units = tuple(
        Unit(
            printed=unit["printed"],
            dimension=name,
            factor=unit["factor"],
            offset=unit.get("offset", 0.0),
            pint=unit["pint"],
            spellings=(unit["printed"], *unit.get("spellings", ())),
        )
        for unit in rows
    )
    names = {spelling: (unit, "") for unit in units for spelling in unit.spellings}
    if row.get("like", name) == "pressure":
        for reference in _raw()["reference"]:
            unit = names[reference["unit"]][0]
            names |= {spelling: (unit, kind) for kind in ("gauge", "absolute") for spelling in reference[kind]}
    folded: dict[str, tuple[str, ...]] = {}
    for spelling in names:
        folded[spelling.lower()] = (*folded.get(spelling.lower(), ()), spelling)
    return Dimension(
        name=name,
        says=row["says"],
        si=row["si"],
        pint=row["pint"],
        examples=tuple(row["examples"]),
        lowest=row.get("lowest"),
        lowest_says=row.get("lowest_says", ""),
        units=units,
        names=names,
        folded=folded,
    )


def tidy(unit: str) -> str:
    """A unit as typed, in the table's own characters: mm^2/s and mm**2 / s are mm²/s."""
    for typed, printed in _raw()["replace"]:
        unit = unit.replace(typed, printed)
    for mark in "/·":
        unit = mark.join(part.strip() for part in unit.split(mark))
    return unit


def find(typed: str, dimension: str) -> tuple[Unit, str]:
    """The row meant by a spelling, and the pressure reference that the spelling names ("" for none).

    Exact spelling first; then without regard to case, if that leads to one row and no m/M changes.
    Raises Refused.
    """
    names = dimension_row(dimension).names
    found = names.get(typed)
    if found:
        return found
    unit = tidy(typed)
    if unit in names:
        return names[unit]
    refuse_trap(unit, dimension)
    spellings = dimension_row(dimension).folded.get(unit.lower(), ())
    sure = [spelling for spelling in spellings if not _swaps_m(unit, spelling)]
    if len({names[spelling] for spelling in sure}) == 1:
        return names[sure[0]]
    if spellings:
        meant = " or ".join(dict.fromkeys(names[spelling][0].printed for spelling in spellings))
        raise Refused(
            "the unit in its exact letters",
            f"Write {meant} if that is meant: m is a thousandth and M a million, so capitals count.",
        )
    raise _unknown(unit, dimension)


def _swaps_m(typed: str, spelling: str) -> bool:
    return any(a != b and b in "mM" for a, b in zip(typed, spelling, strict=True))


@cache
def _traps() -> dict[str, list[dict[str, Any]]]:
    found: dict[str, list[dict[str, Any]]] = {}
    for trap in _raw()["trap"]:
        for spelling in trap["spellings"]:
            found.setdefault(spelling, []).append(trap)
    return found


def refuse_trap(unit: str, dimension: str) -> None:
    """Refuse a word of the trade that is not a unit, or not one unit, with advice."""
    for trap in _traps().get(unit.lower(), ()):
        if dimension in trap.get("dimensions", (dimension,)):
            raise Refused(trap["need"], trap["do"])


def _unknown(unit: str, dimension: str) -> Refused:
    asked = dimension_row(dimension)
    examples = " or ".join(asked.examples)
    low = unit.lower()
    others = [name for name in dimension_names() if low in dimension_row(name).folded]
    for pair in _raw()["mixed_up"]:
        if pair["asked"] == dimension and pair["given"] in others:
            return Refused(asked.says, f"{unit} is {dimension_row(pair['given']).says}: {pair['do']}")
    if others:
        return Refused(asked.says, f"{unit} is {dimension_row(others[0]).says}; write for example {examples}.")
    known = list(dict.fromkeys(row.printed for row in asked.units if row.printed))
    if not known:
        return Refused(asked.says, f"Write the number alone, for example {examples}.")
    close = nearest(unit, [spelling for spelling, (row, _) in asked.names.items() if row.printed])
    likely = " or ".join(dict.fromkeys(asked.names[spelling][0].printed for spelling in close))
    return Refused(
        f"{asked.says} in {', '.join(known[:-1])} or {known[-1]}" if len(known) > 1 else f"{asked.says} in {known[0]}",
        f"Did you mean {likely}?" if likely else f"Write it for example as {examples}.",
    )


def check_reference(kind: str, value: float, unit: Unit, typed: str) -> None:
    """Refuse a pressure whose spelling names the wrong reference, with the figure converted."""
    if not kind:
        return
    if unit.dimension == "pressure_difference":
        raise Refused("a pressure difference", f"A difference has no reference: write {unit.printed}.")
    wanted = "absolute" if unit.dimension == "pressure_abs" else "gauge"
    if kind == wanted:
        return
    shift = _raw()["atmosphere"] / unit.factor
    other = figure(value + shift if wanted == "absolute" else value - shift)
    article = "an absolute" if wanted == "absolute" else "a gauge"
    raise Refused(
        f"{article} pressure",
        f"{typed} is {other} {unit.printed} {wanted}: enter {other} {unit.printed}.",
    )


def check_possible(si: float, dimension: Dimension) -> None:
    """Refuse what is not finite, or below the physical floor of a dimension (absolute zero, a perfect vacuum)."""
    if not math.isfinite(si):
        raise Refused("a finite number", "Leave the entry out if there is no reading.")
    if dimension.lowest is not None and si < dimension.lowest - 1e-9:
        raise Refused(f"{dimension.says} that can exist", dimension.lowest_says)


def choices(dimension: str) -> list[str]:
    """Printed forms of the units of a dimension, for a form's list."""
    return [unit.printed for unit in dimension_row(dimension).units]


def table_for_javascript() -> dict[str, Any]:
    """The whole table as plain JSON data, with the pattern of a number, for the phone calculator."""
    dimensions = {}
    for name, row in _raw()["dimensions"].items():
        kept = {key: value for key, value in row.items() if key not in ("pint", "units")}
        if "units" in row:
            kept["units"] = [{key: value for key, value in unit.items() if key != "pint"} for unit in row["units"]]
        dimensions[name] = kept
    rest = {key: _raw()[key] for key in ("replace", "atmosphere", "reference", "trap", "mixed_up")}
    return {"number": NUMBER, **rest, "dimensions": dimensions}
