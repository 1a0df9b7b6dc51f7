"""The fields of a job file, as data/job_fields.toml documents them: what each is and how it is read."""

from functools import cache
from typing import NamedTuple

from valvecalc.facts import load_toml
from valvecalc.quantities import VOCABULARY

#: Tables that hang below a coil, and those that come once or several times.
BELOW_COIL = ("pickup", "push")
REPEATED = ("land", "coil", "leakage", "drift", "loss", "repair", "pickup", "push", "instrument")


class Field(NamedTuple):
    """One key: kind (text, date, quantity, …), the words after it, what it means."""

    key: str
    kind: str
    words: tuple[str, ...]
    meaning: str


@cache
def fields(file: str, table: str) -> dict[str, Field]:
    """The fields of one table of `job` or `shop`."""
    found = {}
    for key, row in load_toml("job_fields.toml")[file][table].items():
        if key == "about":
            continue
        kind, _, words = row[0].partition(" ")
        names = tuple(words.split("|")) if kind == "choice" else tuple(words.split())
        meaning = row[1]
        if not meaning and kind in ("quantity", "repeats"):
            meaning = VOCABULARY[names[0]].meaning
        found[key] = Field(key, kind, names, meaning)
    return found


def about(file: str, table: str) -> str:
    """What a table is for."""
    return str(load_toml("job_fields.toml")[file][table]["about"])


def tables(file: str) -> tuple[str, ...]:
    """The tables of a file, head first."""
    return tuple(load_toml("job_fields.toml")[file])
