"""The fields of a job file, as data/job_fields.toml documents them: what each is and how it is read."""

from functools import cache
from typing import Any, NamedTuple

from valvecalc.facts import load_toml
from valvecalc.quantities import VOCABULARY

#: Tables that hang below a coil.
BELOW_COIL = ("pickup", "push")


class Field(NamedTuple):
    """One key: kind (text, date, quantity, …), the words after it, what it means."""

    key: str
    kind: str
    words: tuple[str, ...]
    meaning: str


@cache
def fields(file: str, table: str) -> dict[str, Field]:
    """The fields of one table of `job` or `shop`: its lists; what is no list the table says of itself."""
    rows = load_toml("job_fields.toml")[file][table].items()
    return {key: field(key, *row) for key, row in rows if isinstance(row, list)}


def field(key: str, kind: str, meaning: str) -> Field:
    """A field as the data (or a shop) writes it; a quantity without words has its vocabulary's meaning."""
    kind, _, words = kind.partition(" ")
    names = tuple(words.split("|")) if kind == "choice" else tuple(words.split())
    if not meaning and kind in ("quantity", "repeats"):
        meaning = VOCABULARY[names[0]].meaning
    return Field(key, kind, names, meaning)


def choices(one: Field) -> tuple[str, ...]:
    """The words that a field takes: its own, or those of the entry of its name in a sheet."""
    if one.kind != "word":
        return one.words
    from valvecalc.door import find  # only where the words are wanted: it loads every sheet

    return tuple(find(one.words[0]).choices[one.key])


def about(file: str, table: str) -> str:
    """What a table is for."""
    return str(load_toml("job_fields.toml")[file][table]["about"])


def many(file: str, table: str) -> bool:
    """Whether a table comes once or several times: [[table]]."""
    return bool(load_toml("job_fields.toml")[file][table].get("many", False))


def tables(file: str) -> tuple[str, ...]:
    """The tables of a file, head first."""
    return tuple(load_toml("job_fields.toml")[file])


def record_tables() -> dict[str, dict[str, Any]]:
    """The tables that are the record, in the order in which the report prints them: title and part of each."""
    return {name: row for name, row in load_toml("job_fields.toml")["job"].items() if "part" in row}
