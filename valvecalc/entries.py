"""Entries: texts, Quantities, records or rows turned into SI, limits checked, every fault told at once."""

from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from valvecalc.answer import Entry
from valvecalc.errors import InputError, Trouble, nearest
from valvecalc.formula import Card
from valvecalc.limits import Limit, limits_of
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_quantity, from_si, read, show, standard_uncertainty

#: Where a value may come from, by the contract.
ORIGINS = ("measured", "nameplate", "standard", "handbook", "common-practice", "judgement", "shop", "user")

#: What a value that is written as a record may carry.
OF_RECORD = ("value", "uncertainty", "instrument", "origin", "source", "at")


def read_entries(card: Card, given: Mapping[str, Any]) -> dict[str, Entry]:
    """The entries of a card from what was given, limits checked; all faults are raised together."""
    troubles: list[Trouble] = []
    entries: dict[str, Entry] = {}
    limits = limits_of(card)
    for name, value in given.items():
        if name not in card.entries:
            troubles.append(unknown_entry(card, name))
        elif value is not None:
            try:
                entries[name] = _read_one(card, name, value, limits)
            except InputError as trouble:
                troubles.extend(trouble.troubles)
    if troubles:
        raise InputError(troubles)
    return entries


def unknown_entry(card: Card, name: str) -> Trouble:
    """The trouble of an entry that a card does not have, with the nearest it has."""
    close = nearest(name, card.entries)
    known = ", ".join(close or card.entries)
    return Trouble(
        name, "an entry of this name", f"an entry of {card.id}", f"{'Nearest' if close else 'Its entries'}: {known}."
    )


def _read_one(card: Card, name: str, value: Any, limits: Mapping[str, Limit]) -> Entry:
    if name in card.choices:
        return _read_choice(card, name, value)
    if name in card.rows:
        return _read_rows(card, name, value, limits)
    entry = value if isinstance(value, Entry) else read_entry(name, value)
    _check(name, entry, limits.get(name))
    return entry


def read_entry(name: str, value: Any) -> Entry:
    """One scalar entry under a vocabulary name, limits not checked."""
    dimension = VOCABULARY[name].dimension
    if value.__class__ is str:
        reading = read(value, name, dimension)
        u = standard_uncertainty(reading) if reading.half_width is not None else None
        return Entry(value, reading.value, reading.unit, reading.si, ((u, None),) if u else ())
    if hasattr(value, "magnitude"):
        si = from_quantity(value, name, dimension)
        return Entry("", in_metric(name, si), VOCABULARY[name].metric, si)
    if isinstance(value, Mapping):
        return _read_record(name, dimension, value)
    if isinstance(value, bool):
        raise InputError(Trouble(name, str(value), "a number with a unit", "Write it like 160 bar."))
    if isinstance(value, int | float):
        si = float(value)
        return Entry(show(si, dimension, VOCABULARY[name].metric), in_metric(name, si), VOCABULARY[name].metric, si)
    raise InputError(
        Trouble(name, type(value).__name__, "a text, a Quantity or a number in SI", 'For example "160 bar".')
    )


def in_metric(name: str, si: float) -> float:
    """A value in the metric shop unit of its name."""
    return from_si(si, VOCABULARY[name].metric, VOCABULARY[name].dimension)


def _read_record(name: str, dimension: str, given: Mapping[str, Any]) -> Entry:
    for key in given:
        if key not in OF_RECORD:
            raise InputError(
                Trouble(f"{name}.{key}", "a key of this name", f"one of {', '.join(OF_RECORD)}", "Correct the key.")
            )
    if not isinstance(given.get("value"), str):
        raise InputError(
            Trouble(name, repr(given.get("value")), 'value = "number unit"', "Write the value as text with its unit.")
        )
    origin = given.get("origin", "measured")
    if origin not in ORIGINS:
        raise InputError(
            Trouble(f"{name}.origin", repr(origin)[:60], f"one of {', '.join(ORIGINS)}", "Correct the word.")
        )
    entry = read_entry(name, given["value"])
    spreads = list(entry.spreads)
    if "uncertainty" in given:
        reading = read(f"{given['value'].split('±')[0]} ± {given['uncertainty']}", name, dimension)
        u = standard_uncertainty(reading)
        spreads = [(u, given.get("instrument"))] if u else []
    return entry._replace(
        spreads=tuple(spreads),
        origin=origin,
        source=str(given.get("source", given.get("instrument", ""))),
    )


def _read_choice(card: Card, name: str, value: Any) -> Entry:
    if value not in card.choices[name]:
        close = nearest(str(value), card.choices[name]) or card.choices[name]
        raise InputError(
            Trouble(name, repr(value), f"one of {', '.join(card.choices[name])}", f"Nearest: {', '.join(close)}.")
        )
    return Entry(str(value), value, "", value)


def _read_rows(card: Card, name: str, value: Any, limits: Mapping[str, Limit]) -> Entry:
    """A list entry: rows of named texts; from the command line as JSON, or "0 mm 52 N; 0.6 mm 55.5 N"."""
    columns = card.rows[name]
    rows = parse_rows(name, columns, value) if isinstance(value, str) else value
    if not isinstance(rows, list | tuple) or not rows:
        raise InputError(Trouble(name, repr(value)[:60], "a list of rows", f"Each row holds {', '.join(columns)}."))
    troubles: list[Trouble] = []
    read_rows: list[dict[str, Any]] = []
    for number, row in enumerate(rows, 1):
        if not isinstance(row, Mapping):
            troubles.append(Trouble(f"{name} {number}", repr(row)[:60], "a row", f"It holds {', '.join(columns)}."))
            continue
        found: dict[str, Any] = {}
        for column in row:
            if column not in columns:
                close = ", ".join(nearest(column, columns) or columns)
                troubles.append(Trouble(f"{name} {number}", column, f"a column of {name}", f"Nearest: {close}."))
        for column in columns:
            cell = row.get(column)
            where = f"{name} {number} {column}"
            if cell is None:
                do = "Fill it in, or leave the whole row out."
                troubles.append(Trouble(where, "an empty cell", VOCABULARY[column].meaning, do))
                continue
            try:
                if VOCABULARY[column].dimension == "text":
                    found[column] = _word(card, column, cell, where)
                    continue
                entry = cell if isinstance(cell, Entry) else read_entry(column, cell)
                _check(column, entry, limits.get(column))
                found[column] = entry.si
                found.setdefault("_spreads", {})[column] = entry.spreads
            except InputError as trouble:
                troubles.extend(one._replace(entry=where) for one in trouble.troubles)
        read_rows.append(found)
    if not troubles and _is_curve(columns) and any(b[columns[0]] <= a[columns[0]] for a, b in pairwise(read_rows)):
        need, do = f"{columns[0]} rising from row to row", "Sort the rows; no place twice."
        troubles.append(Trouble(name, "rows out of order", need, do))
    if troubles:
        raise InputError(troubles)
    spreads = tuple(row.pop("_spreads", {}) for row in read_rows)
    text = value if isinstance(value, str) else f"{len(rows)} rows"
    return Entry(text, list(rows), "", tuple(read_rows), spreads)


def _is_curve(columns: tuple[str, ...]) -> bool:
    """A list of numbers only is looked up by its first column: out of order it would be read wrongly."""
    return all(VOCABULARY[column].dimension != "text" for column in columns)


def _word(card: Card, column: str, cell: Any, where: str) -> str:
    words = card.choices.get(column)
    if words and cell not in words:
        close = ", ".join(nearest(str(cell), words) or words)
        raise InputError(Trouble(where, repr(cell), f"one of {', '.join(words)}", f"Nearest: {close}."))
    return str(cell)


def parse_rows(name: str, columns: tuple[str, ...], text: str) -> list[dict[str, Any]]:
    """Rows from one text: JSON, or rows parted by `;` with their cells parted by `|` ("0 mm | 52 N; 0.6 mm | 55.5 N").

    Where every cell is a number with its unit, the strokes may be left out. An empty cell is none.
    """
    if text.lstrip().startswith("["):
        import json

        try:
            rows = json.loads(text)
        except json.JSONDecodeError as fault:
            raise InputError(
                Trouble(name, text[:60], "a list in JSON", f"It breaks off at character {fault.pos}.")
            ) from None
        except RecursionError:
            raise InputError(
                Trouble(name, text[:60], "a list of rows", "It is nested too deep: write one list of rows.")
            ) from None
        return rows if isinstance(rows, list) else [rows]
    found = []
    for part in filter(None, (part.strip() for part in text.split(";"))):
        cells = [cell.strip() or None for cell in part.split("|")]
        if len(cells) == len(columns) > 1:
            found.append(dict(zip(columns, cells, strict=True)))
            continue
        words = part.split()
        if len(words) != 2 * len(columns):
            need = f"{len(columns)} values with units in each row: {', '.join(columns)}"
            raise InputError(
                Trouble(name, part, need, "Part rows by ; and cells by | as in 0 mm | 52 N; 0.6 mm | 55.5 N.")
            )
        found.append({column: " ".join(words[2 * i : 2 * i + 2]) for i, column in enumerate(columns)})
    return found


def _check(name: str, entry: Entry, limit: Limit | None) -> None:
    if limit is None or limit.holds(entry.si):
        return
    raise InputError(
        Trouble(
            name,
            entry.text or f"{entry.value:.6g} {entry.unit}".strip(),
            limit.text,
            f"{_meaning(name)}: check the reading and its unit.",
        )
    )


def _meaning(name: str) -> str:
    meaning = VOCABULARY[name].meaning
    return meaning[0].upper() + meaning[1:]
