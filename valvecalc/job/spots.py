"""Readings that are judged one by one, each by its small sheet: a current, a drift, an oil sample, the screws."""

from collections.abc import Iterator, Mapping
from itertools import chain
from typing import Any

from valvecalc.answer import Entry
from valvecalc.door import find
from valvecalc.job.read import Job
from valvecalc.job.reader import Repeats

#: Table of the job file -> the sheets that judge each of its rows.
SHEETS = {
    "drift": ("drift-rate",),
    "loss": ("path-loss",),
    "ring": ("groove-ring",),
    "sample": ("oil-code", "oil-water", "oil-grade"),
    "line": ("line-loss-check",),
    "tank": ("tank-reading",),
}
#: Sheets that are asked only where one of these was read: a sample tells of dirt, water and grade, or of one of them.
ASKED_BY = {
    "oil-code": ("code_4", "code_6", "code_14"),
    "oil-water": ("water_content",),
    "oil-grade": ("kinematic_viscosity",),
}
#: The same for tables that come once.
ONCE = {"seals": "seal-compound", "mounting": "torque-sheet"}
SPOTS = ("coil-amps", *chain(*SHEETS.values()), "extrusion-check", *ONCE.values())
#: Keys by which a row is called in the report.
NAMES = ("path", "place")


def entry_of(value: Any) -> Entry | None:
    """The entry behind a value of a job file, its mean if it was read several times; None for words."""
    return value.entry if isinstance(value, Repeats) else value if isinstance(value, Entry) else None


def given_of(card_id: str, *tables: Mapping[str, Any]) -> dict[str, Any]:
    """What tables of a job file give to a sheet: readings, and words where it takes words."""
    card = find(card_id)
    read = (
        (key, value if key in card.choices and isinstance(value, str) else entry_of(value))
        for table in tables
        for key, value in table.items()
        if key in card.entries
    )
    return {key: entry for key, entry in read if entry is not None}


def spots(job: Job) -> Iterator[tuple[str, str, dict[str, Any], str]]:
    """(sheet, what the report calls the reading, its entries, where it stands in the file)."""
    for row in job.tables.get("coil", []):
        if "current" in row and row.get("kind", "dc") == "dc":
            yield "coil-amps", f"coil {row['name']}", given_of("coil-amps", row), f"coil {row['name']}"
    for table, card_ids in SHEETS.items():
        for number, row in enumerate(job.tables.get(table, []), 1):
            where = f"{table} {number}"
            named = next((row[key] for key in NAMES if key in row), "")
            subject = f"{where}, {named}" if named else where
            for card_id in card_ids:
                if card_id not in ASKED_BY or any(key in row for key in ASKED_BY[card_id]):
                    yield card_id, subject, given_of(card_id, row), where
            pressure = job.tables.get("seals", {}).get("pressure")
            if "diametral_gap" in row and pressure is not None:
                given = {"diametral_gap": row["diametral_gap"], "ring_pressure": pressure}
                yield "extrusion-check", subject, given, where
    for table, card_id in ONCE.items():
        if table in job.tables:
            yield card_id, table, given_of(card_id, job.tables[table]), table
