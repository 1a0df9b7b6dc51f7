"""Readings that are judged one by one, each by its small sheet: a coil's current, a drift, the loss of a path."""

from collections.abc import Iterator, Mapping
from typing import Any

from valvecalc.answer import Entry
from valvecalc.door import find
from valvecalc.job.read import Job, Repeats

#: Table of the job file -> the sheet that judges each of its rows.
SHEETS = {"drift": "drift-rate", "loss": "path-loss"}
SPOTS = ("coil-amps", *SHEETS.values())


def entry_of(value: Any) -> Entry | None:
    """The entry behind a value of a job file, its mean if it was read several times; None for words."""
    return value.entry if isinstance(value, Repeats) else value if isinstance(value, Entry) else None


def given_of(card_id: str, *tables: Mapping[str, Any]) -> dict[str, Entry]:
    """What tables of a job file give to a sheet."""
    names = find(card_id).entries
    read = ((key, entry_of(value)) for table in tables for key, value in table.items() if key in names)
    return {key: entry for key, entry in read if entry is not None}


def spots(job: Job) -> Iterator[tuple[str, str, dict[str, Entry], str]]:
    """(sheet, what the report calls the reading, its entries, where it stands in the file)."""
    for row in job.tables.get("coil", []):
        if "current" in row and row.get("kind", "dc") == "dc":
            yield "coil-amps", f"coil {row['name']}", given_of("coil-amps", row), f"coil {row['name']}"
    for table, card_id in SHEETS.items():
        for number, row in enumerate(job.tables.get(table, []), 1):
            where = f"{table} {number}"
            yield card_id, f"{where}, {row['path']}" if "path" in row else where, given_of(card_id, row), where
