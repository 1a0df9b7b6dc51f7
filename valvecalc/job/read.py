"""Reads a job file and shop.toml: every field checked against data/job_fields.toml, all faults at once.

A reading that is not there is no fault. What is there must be right: unit, dimension, spelling of the
key, the instrument it names.
"""

import math
from collections.abc import Mapping
from itertools import pairwise
from pathlib import Path
from typing import Any, NamedTuple

from valvecalc.answer import Entry
from valvecalc.entries import read_entry
from valvecalc.errors import InputError, Trouble, nearest
from valvecalc.facts import parse_toml
from valvecalc.job.between import faults
from valvecalc.job.fields import BELOW_COIL, REPEATED, Field, fields, tables
from valvecalc.job.shop import Instrument, Shop, own_limits
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_si, show

Table = dict[str, Any]


class Repeats(NamedTuple):
    """Several trials of one reading: their mean as an Entry, each value in SI, and the trials in words."""

    entry: Entry
    values: tuple[float, ...]
    text: str


class Job(NamedTuple):
    """A job file as read: words as they are, quantities as Entries (SI with origin and uncertainty)."""

    head: Table
    tables: Mapping[str, Any]
    shop: Shop
    path: Path


def read_job(path: Path, shop_path: Path | None = None) -> Job:
    """Read a job file and the shop.toml beside it (or the one given). Raises InputError with every fault."""
    troubles: list[Trouble] = []
    shop = _read_shop(shop_path or path.parent / "shop.toml", shop_path is not None, troubles)
    raw = _load(path)
    reader = _Reader("job", path.name, shop, troubles)
    head = reader.table(
        "job",
        {
            key: value
            for key, value in raw.items()
            if key in fields("job", "job") or not (isinstance(value, dict | list) or key in tables("job"))
        },
        "",
    )
    found: Table = {}
    for name, value in raw.items():
        if name in fields("job", "job"):
            continue
        if name in tables("job") and name not in ("job", *BELOW_COIL):
            found[name] = reader.tables(name, value)
        elif isinstance(value, dict | list):
            near = ", ".join(nearest(name, [one for one in tables("job") if one not in ("job", *BELOW_COIL)]))
            troubles.append(
                Trouble(
                    name,
                    "a table of this name",
                    "a table of a job file",
                    f"Nearest: {near}." if near else "See the guide.",
                    path.name,
                )
            )
    troubles.extend(faults(found, path.name))
    if not raw:
        troubles.append(
            Trouble(
                "the file",
                "nothing",
                "a job file",
                "Start from the demo: valvecalc demo --no-serve --to somewhere.",
                path.name,
            )
        )
    if troubles:
        raise InputError(troubles)
    return Job(head, found, shop, path)


def _load(path: Path) -> Table:
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        raise InputError(Trouble(str(path), "no file", "a job file", "Check the name and the folder.")) from None
    except (OSError, ValueError) as fault:  # a folder, no rights, a name that no system takes
        raise InputError(
            Trouble(
                str(path),
                getattr(fault, "strerror", None) or "no access",
                "a job file that can be read",
                "Check the name and its rights.",
            )
        ) from None
    return parse_toml(data, path.name)


def read_shop(path: Path) -> Shop:
    """A shop.toml by itself. Raises InputError with everything that is wrong in it."""
    troubles: list[Trouble] = []
    shop = _read_shop(path, True, troubles)
    if troubles:
        raise InputError(troubles)
    return shop


def _read_shop(path: Path, asked: bool, troubles: list[Trouble]) -> Shop:
    if not asked and not path.exists():
        return Shop()
    try:
        raw = _load(path)
    except InputError as fault:
        troubles.extend(fault.troubles)
        return Shop()
    reader = _Reader("shop", path.name, Shop(), troubles)
    head = reader.table("shop", {key: value for key, value in raw.items() if key not in ("instrument", "limits")}, "")
    rows = reader.tables("instrument", raw.get("instrument", []))
    instruments = {
        row["id"]: Instrument(
            row["id"],
            row.get("kind", ""),
            row.get("range", ""),
            row.get("accuracy", ""),
            str(row.get("calibrated_until", "")),
        )
        for row in rows
        if row.get("id")
    }
    limits, faults = own_limits(raw.get("limits", {}), path.name)
    troubles.extend(faults)
    return Shop(instruments=instruments, limits=limits, **head)


class _Reader:
    def __init__(self, file: str, where: str, shop: Shop, troubles: list[Trouble]) -> None:
        self.file, self.where, self.shop, self.troubles = file, where, shop, troubles

    def fault(self, entry: str, got: str, need: str, do: str) -> None:
        self.troubles.append(Trouble(entry, got, need, do, self.where))

    def tables(self, name: str, value: Any) -> Any:
        """A table, or the list of its repeats; a coil's readings are read along."""
        if name not in REPEATED:
            if not isinstance(value, dict):
                self.fault(name, repr(value)[:60], f"one table [{name}]", f"Write [{name}] once.")
                return {}
            return self.table(name, value, name)
        if isinstance(value, dict):
            value = [value]
        if not isinstance(value, list) or not all(isinstance(row, dict) for row in value):
            self.fault(name, repr(value)[:60], f"tables [[{name}]]", f"Write [[{name}]] before each.")
            return []
        return [self.table(name, row, f"{name} {number}") for number, row in enumerate(value, 1)]

    def table(self, name: str, raw: Table, path: str) -> Table:
        known = fields(self.file, name)
        below = BELOW_COIL if name == "coil" else ()
        label = f"{name} {raw['name']}" if name == "coil" and isinstance(raw.get("name"), str) else path
        found: Table = {one: [] for one in below}
        for key, value in raw.items():
            entry = f"{label}.{key}" if label else key
            if key in below:
                rows = value if isinstance(value, list) else [value]
                for row in rows:
                    if not isinstance(row, dict):
                        self.fault(entry, repr(row)[:60], "rows of keys and values", '{ state = "blocked", … }')
                found[key] = [
                    self.table(key, row, f"{label}.{key} {i}") for i, row in enumerate(rows, 1) if isinstance(row, dict)
                ]
            elif key not in known:
                near = ", ".join(nearest(key, (*known, *below)))
                self.fault(
                    entry,
                    "a key of this name",
                    f"a key of {name}",
                    f"Nearest: {near}." if near else f"Its keys: {', '.join(known)}.",
                )
            else:
                try:
                    found[key] = self.value(known[key], value, entry)
                except InputError as trouble:
                    self.troubles.extend(
                        one._replace(entry=one.entry if one.entry.startswith(entry) else entry, where=self.where)
                        for one in trouble.troubles
                    )
        return found

    def value(self, field: Field, raw: Any, entry: str) -> Any:
        kind, words = field.kind, field.words
        if kind == "quantity":
            return self.quantity(words[0], raw)
        if kind == "repeats":
            return self.repeats(words[0], raw if isinstance(raw, list) else [raw])
        if kind == "rows":
            return self.rows(words, raw, entry)
        if kind == "text" and isinstance(raw, str | int):
            return str(raw)
        if kind == "date" and (isinstance(raw, str) or hasattr(raw, "isoformat")):
            return str(raw)
        if kind == "yes-no" and isinstance(raw, bool):
            return raw
        if kind == "choice" and raw in words:
            return raw
        if kind == "words" and isinstance(raw, list) and all(isinstance(one, str) for one in raw):
            return raw
        if kind == "words" and isinstance(raw, str):
            return [raw]
        if kind == "changes" and isinstance(raw, dict):
            return raw
        need = {
            "choice": f"one of {', '.join(words)}",
            "yes-no": "true or false",
            "words": "a list of texts",
            "changes": "a table of entries and values",
        }
        raise InputError(
            Trouble(
                entry,
                repr(raw)[:60],
                need.get(kind, f"a {kind}"),
                field.meaning.capitalize() + "." if field.meaning else "See the guide.",
            )
        )

    def quantity(self, name: str, raw: Any) -> Entry:
        if isinstance(raw, int | float) and not isinstance(raw, bool):
            raw = str(raw)  # read as text, so that a missing unit is told like everywhere
        entry = read_entry(name, raw)
        instrument = raw.get("instrument") if isinstance(raw, Mapping) else None
        origin = "nameplate" if name.startswith("nominal_") else entry.origin
        if instrument is None:
            return entry._replace(origin=origin)
        known = self.shop.instruments.get(str(instrument))
        if known is None:
            close = ", ".join(nearest(str(instrument), self.shop.instruments) or self.shop.instruments) or "none"
            raise InputError(
                Trouble(name, f"instrument {instrument!r}", "an instrument of shop.toml", f"It knows: {close}.")
            )
        spreads = entry.spreads or ((known.standard_uncertainty(name, entry.si), instrument),)
        return entry._replace(spreads=spreads, origin="measured", source=known.id)

    def repeats(self, name: str, raw: list[Any]) -> Repeats:
        """Mean of the trials; their scatter (type A) stands beside the instrument's error."""
        if not raw:
            raise InputError(
                Trouble(name, "an empty list", "at least one reading", "Leave the key out if there is none.")
            )
        each = [self.quantity(name, one) for one in raw]
        values = tuple(one.si for one in each)
        mean = math.fsum(values) / len(values)
        spreads = each[0].spreads
        if len(values) > 1:
            deviation = math.sqrt(math.fsum((x - mean) ** 2 for x in values) / (len(values) - 1))
            spreads = (*spreads, (deviation / math.sqrt(len(values)), None)) if deviation > 0.0 else spreads
        told = each[0].text
        shown = from_si(mean, each[0].unit, VOCABULARY[name].dimension)
        text = told if len(each) == 1 else show(mean, VOCABULARY[name].dimension, each[0].unit, 6)
        told = told if len(each) == 1 else f"mean of {len(each)}: " + ", ".join(one.text for one in each)
        entry = each[0]._replace(text=text, value=shown, si=mean, spreads=spreads, origin="measured")
        return Repeats(entry, values, told)

    def rows(self, columns: tuple[str, ...], raw: Any, entry: str) -> list[Table]:
        if not isinstance(raw, list):
            raise InputError(
                Trouble(
                    entry,
                    repr(raw)[:60],
                    f"rows of {', '.join(columns)}",
                    'For example [["0 mm", "52 N"], ["1 mm", "60 N"]].',
                )
            )
        troubles: list[Trouble] = []
        rows = []
        for number, row in enumerate(raw, 1):
            cells = list(row.values()) if isinstance(row, dict) else row
            if not isinstance(cells, list) or len(cells) != len(columns):
                troubles.append(
                    Trouble(
                        f"{entry} row {number}",
                        repr(row)[:60],
                        f"{len(columns)} values: {', '.join(columns)}",
                        "Write each with its unit.",
                    )
                )
                continue
            try:
                rows.append({column: self.quantity(column, cell) for column, cell in zip(columns, cells, strict=True)})
            except InputError as trouble:
                troubles.extend(one._replace(entry=f"{entry} row {number}") for one in trouble.troubles)
        if not troubles and any(b[columns[0]].si <= a[columns[0]].si for a, b in pairwise(rows)):
            troubles.append(
                Trouble(
                    entry, "rows out of order", f"{columns[0]} rising from row to row", "Sort the rows; no place twice."
                )
            )
        if troubles:
            raise InputError(troubles)
        return rows
