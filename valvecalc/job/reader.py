"""Reads one table of a job file or of shop.toml, key by key, against data/job_fields.toml; keeps what was corrected."""

import math
import re
import unicodedata
from collections.abc import Mapping
from datetime import date
from itertools import pairwise
from typing import Any, NamedTuple

from valvecalc.answer import Entry
from valvecalc.entries import OF_RECORD, read_entry
from valvecalc.errors import InputError, Trouble, nearest
from valvecalc.job.fields import BELOW_COIL, Field, about, choices, fields, many
from valvecalc.job.own import Check, answer_fault
from valvecalc.job.shop import Shop
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_si, read, show, standard_uncertainty

Table = dict[str, Any]

#: What a corrected value carries beside the value that counts.
OF_CORRECTION = ("earlier", "why", "by")
_DAY = re.compile(r"\d{4}(-\d\d(-\d\d([T ].*)?)?)?", re.ASCII | re.DOTALL)
_QUARTER = re.compile(r"[1-4]Q(\d\d|\d{4})|\d{4}-Q[1-4]", re.ASCII)
_NEED = {
    "yes-no": "true or false",
    "words": "a list of texts",
    "changes": "a table of entries and values",
    "reading": "a value with its unit, or a list of trials",
    "date": "a day",
}
#: What to do, by kind.
DO = {
    "yes-no": "Write true or false, without quotes.",
    "date": "Write year, month, day: 2026-05-04. A month is 2026-05, a quarter 2Q2026.",
}


class Repeats(NamedTuple):
    """Several trials of one reading: their mean as an Entry, each value in SI, and the trials in words."""

    entry: Entry
    values: tuple[float, ...]
    text: str


class Reader:
    """Reads the tables of one file; `troubles` and `corrections` grow on the way."""

    def __init__(self, file: str, where: str, shop: Shop, troubles: list[Trouble]) -> None:
        self.file, self.where, self.shop, self.troubles = file, where, shop, troubles
        self.corrections: list[Table] = []

    def fault(self, entry: str, got: str, need: str, do: str) -> None:
        """Keep one fault of the file; reading goes on."""
        self.troubles.append(Trouble(entry, got, need, do, self.where))

    def tables(self, name: str, value: Any) -> Any:
        """A table, or the list of its repeats; a coil's readings are read along."""
        twice = "when" in fields(self.file, name)
        if not many(self.file, name) and not (twice and isinstance(value, list)):
            if not isinstance(value, dict):
                self.fault(
                    name, repr(value)[:60], f"one table [{name}]", f"Write [{name}] once. {about(self.file, name)}"
                )
                return {}
            return self.table(name, value, name)
        if isinstance(value, dict):
            value = [value]
        if not isinstance(value, list) or not all(isinstance(row, dict) for row in value):
            self.fault(name, repr(value)[:60], f"tables [[{name}]]", f"Write [[{name}]] before each.")
            return []
        return [self.table(name, row, f"{name} {number}") for number, row in enumerate(value, 1)]

    def table(self, name: str, raw: Table, path: str) -> Table:
        """One table with what of it could be read."""
        known = {**fields(self.file, name), **self.shop.fields.get(name, {})}
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
                advice = f"Nearest: {near}." if near else f"Its keys: {', '.join(known)}."
                self.fault(entry, "a key of this name", f"a key of {name}", advice)
            else:
                try:
                    found[key] = self.value(known[key], self.counted(value, entry), entry)
                except InputError as trouble:
                    self.troubles.extend(
                        one._replace(entry=one.entry if one.entry.startswith(entry) else entry, where=self.where)
                        for one in trouble.troubles
                    )
        return found

    def counted(self, raw: Any, entry: str) -> Any:
        """The value that counts; what stood there before it was corrected is kept beside the job."""
        if isinstance(raw, list):
            return [self.counted(one, entry) for one in raw]
        if not isinstance(raw, dict) or "earlier" not in raw:
            return raw
        rest = {key: value for key, value in raw.items() if key not in OF_CORRECTION}
        earlier = raw["earlier"] if isinstance(raw["earlier"], list) else [raw["earlier"]]
        why, by = raw.get("why"), raw.get("by", "")
        if "value" not in rest or not earlier or not all(isinstance(one, str | int | float) for one in earlier):
            do = '{ value = "63 Ω", earlier = ["68 Ω"], why = "leads not subtracted", by = "…" }'
            raise InputError(Trouble(entry, repr(raw)[:60], "the value that counts and the earlier ones", do))
        if not isinstance(why, str) or not why.strip() or not isinstance(by, str):
            do = "Say why the value was corrected, and by whom."
            raise InputError(Trouble(f"{entry}.why", repr(why)[:60], "a reason in words", do))
        row: Table = {"entry": entry.replace("_", " ").replace(".", " "), "now": told(rest["value"])}
        row |= {"earlier": [told(one) for one in earlier], "why": plain(why), "by": plain(by)}
        self.corrections.append(row | ({"at": str(raw["at"])} if "at" in raw else {}))
        return rest["value"] if set(rest) <= {"value", "at"} else rest

    def value(self, field: Field, raw: Any, entry: str) -> Any:
        """One value by the kind of its field."""
        kind, words = field.kind, choices(field)
        kind = "choice" if kind == "word" else kind
        if kind == "quantity":
            return self.quantity(words[0], raw)
        if kind == "repeats":
            return self.repeats(words[0], raw if isinstance(raw, list) else [raw])
        if kind == "rows":
            return self.rows(words, raw, entry)
        if kind == "text" and isinstance(raw, str | int):
            return plain(str(raw))
        if kind == "date" and (isinstance(raw, str) or hasattr(raw, "isoformat")) and is_day(str(raw)):
            return plain(str(raw))
        if kind == "yes-no" and isinstance(raw, bool):
            return raw
        if kind == "choice" and raw in words:
            return raw
        if kind == "words" and isinstance(raw, list) and all(isinstance(one, str) for one in raw):
            return [plain(one) for one in raw]
        if kind == "words" and isinstance(raw, str):
            return [plain(raw)]
        if (kind == "changes" and isinstance(raw, dict)) or (kind == "reading" and not isinstance(raw, bool)):
            return raw
        need = f"one of {', '.join(words)}" if kind == "choice" else _NEED.get(kind, f"a {kind}")
        advice = field.meaning[:1].upper() + field.meaning[1:] + "." if field.meaning else "See the guide."
        if kind == "choice" and (near := nearest(str(raw).lower(), words, most=1)):
            advice = f"Write {near[0]}."
        advice = DO.get(kind, advice)
        raise InputError(Trouble(entry, repr(raw)[:60], need, advice))

    def quantity(self, name: str, raw: Any) -> Entry:
        """One reading under a name of the vocabulary, with the error of the instrument that it names."""
        if isinstance(raw, int | float) and not isinstance(raw, bool):
            raw = str(raw)  # read as text, so that a missing unit is told like everywhere
        if isinstance(raw, Mapping) and (unknown := [key for key in raw if key not in OF_RECORD]):
            need = f"one of {', '.join((*OF_RECORD, *OF_CORRECTION))}"
            do = 'Correct the key. A correction keeps what stood there before: earlier = "68 Ω", why = "…", by = "…".'
            raise InputError(Trouble(f"{name}.{key}", "a key of this name", need, do) for key in unknown)
        entry = read_entry(name, raw)
        instrument = raw.get("instrument") if isinstance(raw, Mapping) else None
        origin = "nameplate" if name.startswith("nominal_") else entry.origin
        if instrument is None:
            return entry._replace(origin=origin)
        known = self.shop.instrument(name, str(instrument))
        spreads = entry.spreads or (
            (known.standard_uncertainty(name, VOCABULARY[name].dimension, entry.si), instrument),
        )
        return entry._replace(spreads=spreads, origin="measured", source=known.id)

    def repeats(self, name: str, raw: list[Any]) -> Repeats:
        """Mean of the trials; their scatter (type A) stands beside the instrument's error."""
        if not raw:
            raise InputError(
                Trouble(name, "an empty list", "at least one reading", "Leave the key out if there is none.")
            )
        each: list[Entry] = []
        troubles: list[Trouble] = []
        for number, one in enumerate(raw, 1):
            try:
                each.append(self.quantity(name, one))
            except InputError as fault:
                trial = f"trial {number}: " if len(raw) > 1 else ""
                troubles.extend(told._replace(got=f"{trial}{told.got}") for told in fault.troubles)
        if troubles:
            raise InputError(troubles)
        return mean(each, VOCABULARY[name].dimension)

    def rows(self, columns: tuple[str, ...], raw: Any, entry: str) -> list[Table]:
        """A list of rows, the first column rising."""
        if not isinstance(raw, list):
            do = 'For example [["0 mm", "52 N"], ["1 mm", "60 N"]].'
            raise InputError(Trouble(entry, repr(raw)[:60], f"rows of {', '.join(columns)}", do))
        troubles: list[Trouble] = []
        rows = []
        for number, row in enumerate(raw, 1):
            cells = list(row.values()) if isinstance(row, dict) else row
            if not isinstance(cells, list) or len(cells) != len(columns):
                need = f"{len(columns)} values: {', '.join(columns)}"
                troubles.append(Trouble(f"{entry} row {number}", repr(row)[:60], need, "Write each with its unit."))
                continue
            try:
                rows.append({column: self.quantity(column, cell) for column, cell in zip(columns, cells, strict=True)})
            except InputError as trouble:
                troubles.extend(one._replace(entry=f"{entry} row {number}") for one in trouble.troubles)
        if not troubles and any(b[columns[0]].si <= a[columns[0]].si for a, b in pairwise(rows)):
            need = f"{columns[0]} rising from row to row"
            troubles.append(Trouble(entry, "rows out of order", need, "Sort the rows; no place twice."))
        if troubles:
            raise InputError(troubles)
        return rows


def mean(each: list[Entry], dimension: str) -> Repeats:
    """The mean of trials in the unit of the first, with their scatter as an uncertainty of its own."""
    values = tuple(one.si for one in each)
    middle = math.fsum(values) / len(values)
    spreads = each[0].spreads
    if len(values) > 1:
        deviation = math.sqrt(math.fsum((x - middle) ** 2 for x in values) / (len(values) - 1))
        spreads = (*spreads, (deviation / math.sqrt(len(values)), None)) if deviation > 0.0 else spreads
    text = each[0].text if len(each) == 1 else show(middle, dimension, each[0].unit, 6)
    trials = text if len(each) == 1 else f"mean of {len(each)}: " + ", ".join(one.text for one in each)
    shown = from_si(middle, each[0].unit, dimension)
    entry = each[0]._replace(text=text, value=shown, si=middle, spreads=spreads, origin="measured")
    return Repeats(entry, values, trials)


def is_day(text: str) -> bool:
    """Whether it tells a day, a month, a year, or a quarter as it stands on seals."""
    if _QUARTER.fullmatch(text):
        return True
    if not _DAY.fullmatch(text):
        return False
    try:
        date.fromisoformat(f"{text}-01-01"[:10])
    except ValueError:
        return False
    return True


def plain(text: str) -> str:
    """Text without control characters: a terminal would obey them."""
    return "".join(" " if unicodedata.category(sign) == "Cc" else sign for sign in text)


def told(value: Any) -> str:
    """A value of the file in words."""
    if isinstance(value, list):
        return "; ".join(map(told, value))
    return {True: "yes", False: "no"}[value] if isinstance(value, bool) else plain(str(value))


def read_answers(reader: Reader, rows: list[Table]) -> None:
    """The readings of the shop's checks, each in the unit that its check asks for; read in place."""
    for number, row in enumerate(rows, 1):
        place, raw = f"check {number}", row.pop("reading", None)
        try:
            if fault := answer_fault(row if raw is None else {**row, "reading": raw}, reader.shop.checks):
                raise InputError(fault)
            if raw is not None:
                row["reading"] = _own_reading(reader.shop, reader.shop.checks[row["id"]], raw)
        except InputError as trouble:
            reader.troubles.extend(
                one._replace(entry=f"{place}.{one.entry}", where=reader.where) for one in trouble.troubles
            )


def _own_reading(shop: Shop, check: Check, raw: Any) -> Repeats:
    each = []
    for one in raw if isinstance(raw, list) and raw else [raw]:
        record = one if isinstance(one, dict) else {"value": one}
        if not isinstance(record.get("value"), str) or not set(record) <= {"value", "uncertainty", "instrument", "at"}:
            do = f'For example reading = "5 {check.unit}".'
            raise InputError(Trouble("reading", repr(raw)[:60], f"a value in {check.unit}", do))
        doubt = f" ± {record['uncertainty']}" if "uncertainty" in record else ""
        found = read(f"{record['value']}{doubt}", "reading", check.dimension)
        u = standard_uncertainty(found) if found.half_width is not None else None
        spreads: tuple[tuple[float, str | None], ...] = ((u, None),) if u else ()
        tool = record.get("instrument")
        if tool is not None and not spreads:
            error = shop.instrument("reading", str(tool)).standard_uncertainty("reading", check.dimension, found.si)
            spreads = ((error, str(tool)),)
        text = record["value"]
        each.append(Entry(text, found.value, found.unit, found.si, spreads, "measured", str(tool or "")))
    return mean(each, check.dimension)
