"""Loads the files of data/. The only module that reads TOML."""

from functools import cache
from typing import Any

from valvecalc.errors import DataError


def data_path(name: str) -> str:
    """Where the data file `name` (for example "units.toml" or "faults/causes.toml") lies."""
    return f"{__file__.removesuffix('facts.py')}data/{name}"


@cache
def load_toml(name: str) -> dict[str, Any]:
    """The data file `name`, read once. Callers must not change what they get.

    Raises DataError with the file's name when it is missing or not TOML.
    """
    import tomllib  # 12 ms, not needed by a bare formula call

    try:
        with open(data_path(name), "rb") as file:
            return tomllib.load(file)
    except FileNotFoundError as error:
        raise DataError(f"data/{name}: the file is missing; install valvecalc again") from error
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise DataError(f"data/{name}: {error}") from error


def parse_toml(data: bytes, name: str) -> dict[str, Any]:
    """A user's TOML file. Raises InputError that names file and line; binary junk is told as such."""
    import tomllib

    from valvecalc.errors import InputError, Trouble

    try:
        return tomllib.loads(data.decode("utf-8-sig").replace("\r\n", "\n"))
    except UnicodeDecodeError as fault:
        raise InputError(
            Trouble(
                "the file",
                f"bytes that are no text (byte {fault.start + 1})",
                "a text file in UTF-8",
                "Save it as plain text.",
                name,
            )
        ) from None
    except RecursionError:
        raise InputError(
            Trouble("the file", "brackets nested too deep", "TOML", "Take the brackets out that hold nothing.", name)
        ) from None
    except tomllib.TOMLDecodeError as fault:
        raise InputError(Trouble("the file", _torn(str(fault), data), "TOML", _mended(str(fault)), name)) from None


def _torn(fault: str, data: bytes) -> str:
    """What the reader of TOML says, with the line that it names."""
    from re import search

    at = search(r"line (\d+)", fault)
    lines = data.decode("utf-8-sig").splitlines()
    told = lines[int(at[1]) - 1].strip()[:60] if at and int(at[1]) <= len(lines) else ""
    return f"{fault}: {told}" if told else fault


def _mended(fault: str) -> str:
    if "twice" in fault or "overwrite" in fault:
        return "It stands there already: put both into one, or write [[name]] before each where several are allowed."
    return 'Correct that line: a text, and a value with its unit, in quotes ("160 bar"), one key a line.'


@cache
def fact_value(key: str) -> Any:
    """A default or table by id, in SI: a float, or a tuple of rows {column: float}. KeyError's cure is in the text."""
    from valvecalc.units import read

    facts = load_toml("defaults.toml")
    if key not in facts:
        raise DataError(f"data/defaults.toml: no [{key}]; a sheet asks for it")
    record = facts[key]
    if "table" in record:
        return load_table(record["table"])
    if "rows" in record:
        return tuple({name: _column(name, text) for name, text in row.items()} for row in record["rows"])
    return read(record["value"], key, record["dimension"]).si


@cache
def table_text(name: str) -> tuple[tuple[str, ...], tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """A CSV table as it stands in the file: its head comments (which start with #), its header, its cells as text.

    A comma in the last column belongs to its text. Raises DataError where a row has too few cells.
    """
    with open(data_path(name), encoding="utf-8") as file:
        lines = [line.rstrip("\n") for line in file if line.strip()]
    comments = tuple(line.removeprefix("#").strip() for line in lines if line.startswith("#"))
    heads, *rows = (line for line in lines if not line.startswith("#"))
    columns = tuple(head.strip() for head in heads.split(","))
    cells = tuple(tuple(cell.strip() for cell in row.split(",", len(columns) - 1)) for row in rows)
    if short := [row for row, split in zip(rows, cells, strict=True) if len(split) != len(columns)]:
        raise DataError(f"data/{name}: a row needs {len(columns)} cells: {short[0]}")
    return comments, columns, cells


@cache
def load_table(name: str) -> tuple[dict[str, Any], ...]:
    """A CSV table in SI. A header names the column, and its unit in brackets.

    An empty cell is None (unknown, never 0); a column that is no quantity of the vocabulary stays text.
    """
    _, heads, cells = table_text(name)
    rows = []
    for line in cells:
        row: dict[str, Any] = {}
        for head, cell in zip(heads, line, strict=True):
            column, _, unit = head.partition(" [")
            row[column] = _cell(column, cell, unit.rstrip("]")) if cell else None
        rows.append(row)
    return tuple(rows)


def _cell(column: str, cell: str, unit: str) -> Any:
    """A cell under a vocabulary name, or under any name whose header states a unit."""
    from valvecalc.quantities import VOCABULARY
    from valvecalc.units import dimension_of, read

    if unit and column not in VOCABULARY:
        return read(f"{cell} {unit}", column, dimension_of(unit)).si
    return _column(column, f"{cell} {unit}".strip())


def _column(name: str, text: str) -> Any:
    from valvecalc.quantities import VOCABULARY
    from valvecalc.units import read

    quantity = VOCABULARY.get(name)
    if quantity is None or quantity.dimension == "text":
        return text
    return read(text, name, quantity.dimension).si


def source(key: str) -> dict[str, Any]:
    """The record of a source key: text, kind, seen, note."""
    found: dict[str, Any] = load_toml("sources.toml")[key]
    return found


def caution(key: str) -> str:
    """The sentence of a caution id."""
    return str(load_toml("words/cautions.toml")[key]["text"])
