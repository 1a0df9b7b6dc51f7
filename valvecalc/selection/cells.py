"""One cell of a stock list or one entry of a duty: its text into a value in SI, by the kind the data files name."""

import re
from collections.abc import Callable
from functools import cache
from itertools import pairwise
from typing import Any, NamedTuple

from valvecalc.errors import DataError, InputError, nearest
from valvecalc.facts import load_table, load_toml
from valvecalc.numbers import Refused, plain, split_number
from valvecalc.selection.function import read_position
from valvecalc.units import read, unit_row

#: Spellings of "don't know".
UNKNOWN = ("", "unknown", "?", "don't know", "n/a", "-", "–")

#: Size of ISO 4401 by the other names of the same mounting surfaces.
_SIZES = {"4": "02", "6": "03", "10": "05", "16": "07", "25": "08", "32": "10"}
_INTERFACE = re.compile(
    r"^(?:(?:iso ?)?4401-(02|03|05|07|08|10)(?:-[0-9-]+)?(?::[0-9]{4})?|ng ?(4|6|10|16|25|32)|d0?(2|3|5|7|8|10))$"
)


class Field(NamedTuple):
    """One column or entry: how it is read, what it means, how it is found out (duty only)."""

    key: str
    kind: str
    words: tuple[str, ...]
    meaning: str
    how: str = ""


def _field(key: str, row: list[str]) -> Field:
    kind, _, rest = row[0].partition(" ")
    return Field(key, kind, tuple(rest.split("|" if kind == "choice" else None)), row[1], *row[2:])


@cache
def columns() -> dict[str, Field]:
    """The columns of a stock list, in the order of the file."""
    return {key: _field(key, row) for key, row in load_toml("stock_columns.toml")["columns"].items()}


@cache
def duty_fields(table: str) -> dict[str, Field]:
    """The entries of one table of a duty file."""
    return {key: _field(key, row) for key, row in load_toml("duty_fields.toml")[table].items() if key != "about"}


def duty_tables() -> tuple[str, ...]:
    """The tables of a duty file, head first."""
    return tuple(load_toml("duty_fields.toml"))


def is_unknown(text: str) -> bool:
    """Whether a cell says that it is not known."""
    return text.strip().lower() in UNKNOWN


def read_cell(field: Field, text: str, unit: str = "") -> Any:
    """The value of a cell that is not unknown. `unit`: what the header names, for a cell that is a bare number.

    Raises Refused.
    """
    if field.kind == "quantity":
        return _quantity(field, text, unit)
    if field.kind == "points":
        return _points(field, text)
    if field.kind == "choice":
        return _choice(field.words, text)
    return _READERS[field.kind](text)


@cache
def fluids() -> tuple[str, ...]:
    """The classes of fluid that the seal table knows."""
    return tuple(row["fluid"] for row in load_table("seal_fluids.csv"))


def _choice(words: tuple[str, ...], text: str) -> str:
    folded = " ".join(text.split()).lower()
    for word in words:
        if word.lower() == folded:
            return word
    near = nearest(folded, words, 1)
    raise Refused(f"one of {', '.join(words)}", f"Did you mean {near[0]}?" if near else "Correct the word.")


def _count(text: str) -> int:
    if not re.fullmatch("[0-9]{1,9}", text.strip()):
        raise Refused("a whole number", "Write how many there are, 0 for none; leave it blank if nobody has counted.")
    return int(text.strip())


def _price(text: str) -> float:
    bare = re.sub(r"^(?:[A-Z]{3}|[€$£]) ?| ?(?:[A-Z]{3}|[€$£])$", "", text.strip())
    value, _, rest = split_number(plain(bare), "85.50")
    if rest or value < 0:
        raise Refused("one figure of 0 or more", "Write it like 85.50 or 85.50 EUR; leave it blank if it is not known.")
    return value


def _protection(text: str) -> str:
    found = re.match(r"^IP ?([0-6])([0-9])K?$", text.strip().upper())
    if not found:
        raise Refused("IP and two figures", "Write it like IP65, as on the coil or the plug.")
    return f"IP{found[1]}{found[2]}"


def _interface(text: str) -> str:
    folded = " ".join(text.lower().split())
    if folded.startswith("other:"):
        return folded
    found = _INTERFACE.match(folded)
    if not found:
        do = "Write it like ISO 4401-05, NG10 or D05; another surface as other: and words."
        raise Refused("a mounting surface", do)
    iso, ng, d = found.groups()
    return f"ISO 4401-{iso or (_SIZES[ng] if ng else d.zfill(2))}"


def _quantity(field: Field, text: str, unit: str) -> float:
    dimension, printed, limit = field.words[0], field.words[1:2], " ".join(field.words[-2:])
    try:
        given = f"{text} {unit}" if unit and re.fullmatch(r"[0-9.,' +±-]+", text.strip()) else text
        si = read(given, field.key, dimension).si
    except InputError as fault:
        raise Refused(fault.troubles[0].need, fault.troubles[0].do) from None
    least = "any" if field.words[-1] == "any" else "from 0" if limit == "from 0" else "above 0"
    if (least == "above 0" and si <= 0) or (least == "from 0" and si < 0):
        do = "Leave it blank if it is not known: a blank is asked for, a zero is believed."
        raise Refused(f"a figure {least}{' ' + printed[0] if printed and printed[0] != 'from' else ''}", do)
    return si


def _points(field: Field, text: str) -> tuple[tuple[float, float], ...]:
    x_dimension, x_unit, y_dimension, y_unit = field.words
    example = f"20 {x_unit} 3 {y_unit}; 40 {x_unit} 9.5 {y_unit}"
    points = []
    for part in filter(None, (part.strip() for part in text.split(";"))):
        cells = part.split()
        if len(cells) != 4:
            raise Refused(f"pairs with their units, as in {example}", f"Correct {part!r}.")
        try:
            x = read(" ".join(cells[:2]), field.key, x_dimension).si
            y = read(" ".join(cells[2:]), field.key, y_dimension).si
        except InputError as fault:
            raise Refused(fault.troubles[0].need, f"In {part!r}: {fault.troubles[0].do}") from None
        if x <= 0 or y <= 0:
            raise Refused("points with both figures above 0", f"Correct or leave out {part!r}.")
        points.append((x, y))
    if not points:
        raise Refused(f"pairs with their units, as in {example}", "Fill it in, or leave it blank.")
    rising = field.key.startswith("drop_")  # a limit is looked up by its pressure, a loss by its flow
    points.sort(key=lambda point: point[0] if rising else point[1])
    key = 0 if rising else 1
    for before, after in pairwise(points):
        if before[key] == after[key]:
            what = "flow" if rising else "pressure"
            raise Refused(f"each {what} once", f"Two points stand at one {what}: keep the one that is right.")
        if rising and after[1] <= before[1]:
            raise Refused("a loss that rises with the flow", "A larger flow loses less here: a digit is wrong.")
    return tuple(points)


_READERS: dict[str, Callable[[str], Any]] = {
    "text": lambda text: " ".join(text.split()),
    "words": lambda text: tuple(one.strip() for one in text.replace(";", ",").split(",") if one.strip()),
    "yes-no": lambda text: _choice(("yes", "no"), text) == "yes",
    "fluid": lambda text: _choice(fluids(), text),
    "count": _count,
    "price": _price,
    "protection": _protection,
    "interface": _interface,
    "position": read_position,
}


def header_unit(field: Field, unit: str) -> str:
    """The unit of a header as printed. Raises Refused where the column takes none or another kind."""
    if field.kind != "quantity":
        raise Refused("no unit in this header", "Leave the brackets out; the cells carry what they need.")
    try:
        return unit_row(unit, field.words[0]).printed
    except InputError as fault:
        raise Refused(fault.troubles[0].need, fault.troubles[0].do) from None


def check_fields(fields: tuple[str, ...]) -> None:
    """Stops where the record of a valve and the file of its columns differ."""
    if tuple(columns()) != fields:
        raise DataError("data/stock_columns.toml: its columns and the record of a valve differ")
