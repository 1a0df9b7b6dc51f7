"""The readings of a job as the report lists them: as typed, with uncertainty, instrument and origin."""

from collections.abc import Mapping
from typing import Any

from valvecalc.answer import Entry
from valvecalc.job.read import Job
from valvecalc.job.reader import Repeats
from valvecalc.units import dimension_of, figure, to_si

Rows = list[dict[str, Any]]


#: Tables with figures that nobody read on the valve or the machine.
_NO_READINGS = ("repair", "option", "times")


def readings(job: Job) -> Rows:
    """The readings in the order of the file, those taken again after the work last."""
    rows: Rows = []
    seen: set[int] = set()

    def take(where: str, table: Mapping[str, Any]) -> None:
        for key, value in table.items():
            if id(value) in seen:
                continue  # holds as found and as left
            if isinstance(value, Entry | Repeats):
                seen.add(id(value))
                rows.append(_reading(_named(f"{where} {key}"), value))
            elif key == "force_curve":
                points = "; ".join(f"{point['position'].text} {point['curve_force'].text}" for point in value)
                rows.append(
                    {
                        "entry": f"{where} force curve",
                        "text": points,
                        "origin": value[0]["curve_force"].origin if value else "user",
                    }
                )
            elif isinstance(value, list) and key in ("pickup", "push"):
                for reading in value:
                    take(f"{where} {key} {reading.get('state', '')}", reading)

    for when, tables in (("", job.tables), ("as left ", job.left)):
        for name, table in tables.items():
            if name in _NO_READINGS:
                continue
            for number, row in enumerate(table if isinstance(table, list) else [table], 1):
                label = row.get("name", row.get("id", number))
                take(f"{when}{name} {label}" if isinstance(table, list) else when + name, row)
    return rows


def _named(key: str) -> str:
    """A key in words; a port at its end is a capital letter."""
    *words, last = key.replace("_", " ").split(" ")
    port = last in ("p", "a", "b", "t", "x", "y") and words[-1:] in (["gauge"], ["rated"])
    return " ".join([*words, last.upper() if port else last])


def _reading(label_: str, value: Entry | Repeats) -> dict[str, Any]:
    entry = value.entry if isinstance(value, Repeats) else value
    text = value.text if isinstance(value, Repeats) else entry.text
    row: dict[str, Any] = {"entry": label_, "text": text, "origin": entry.origin}
    if entry.spreads and "±" not in text:
        row["uncertainty"] = _expanded(entry)
    if entry.source:
        row["instrument"] = entry.source
    return row


def as_read(entry: Entry) -> str:
    """A reading as typed, with its uncertainty (k = 2) where that comes from its instrument or its scatter."""
    return entry.text if not entry.spreads or "±" in entry.text else f"{entry.text} ± {_expanded(entry)}"


def _expanded(entry: Entry) -> str:
    """Twice the standard uncertainty of a reading, in its own unit."""
    u = sum(one * one for one, _ in entry.spreads) ** 0.5
    dimension = dimension_of(entry.unit) if entry.unit else "ratio"
    scale = to_si(1.0, entry.unit, dimension) - to_si(0.0, entry.unit, dimension)
    return f"{figure(2.0 * u / scale, 2)} {entry.unit}".strip()
