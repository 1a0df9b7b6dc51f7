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
    "main-stage-drag": ("full_stroke_difference",),
    "two-stage-shift": ("pilot_pressure",),
}
#: The same for tables that come once.
ONCE = {
    "main_stage": ("main-stage-drag", "two-stage-shift"),
    "seals": ("seal-compound",),
    "mounting": ("torque-sheet",),
}
#: Readings of a coil: key of the job file -> the sheet that judges it and what that sheet calls it. A current is asked
#: of a DC coil against volts over ohms, of an AC coil against the two currents of its plate.
OF_COIL = {"drop_out": ("release-volts", "drop_out_voltage"), "shift_time": ("shift-seconds", "measured_shift_time")}
CURRENTS = {"dc": "coil-amps", "ac": "ac-armature"}
SPOTS = (
    *CURRENTS.values(),
    *(card_id for card_id, _ in OF_COIL.values()),
    *chain(*SHEETS.values()),
    "extrusion-check",
    *chain(*ONCE.values()),
)
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
        name = f"coil {row['name']}"
        if "current" in row:
            card_id = CURRENTS[row.get("kind", "dc")]
            yield card_id, name, given_of(card_id, row), name
        for key, (card_id, entry) in OF_COIL.items():
            if key in row:
                yield card_id, name, given_of(card_id, row) | {entry: entry_of(row[key])}, name
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
    for table, card_ids in ONCE.items():
        row = job.tables.get(table, {})
        for card_id in card_ids if table in job.tables else ():
            if card_id not in ASKED_BY or any(key in row for key in ASKED_BY[card_id]):
                duty = job.tables.get("duty", {}) if table == "main_stage" else {}
                yield card_id, table.replace("_", " "), given_of(card_id, duty, row), table
