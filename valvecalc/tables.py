"""The tables as people read them: every data/NAME.csv with its words (data/words/tables.toml) and its source."""

import os
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any, NamedTuple

from valvecalc.errors import DataError
from valvecalc.facts import data_path, load_toml, source, table_text
from valvecalc.finding import Entry
from valvecalc.formula import Card
from valvecalc.quantities import VOCABULARY, Quantity
from valvecalc.units import read, show, unit_row

WORDS = "words/tables.toml"
#: What the words of a table must hold, and what they may.
_NEEDED = {"title": str, "subject": str, "about": str, "partial": bool, "extent": str, "checked": str}
_MAY = {"columns": dict, "other": dict, "cautions": list, "used": list, "find": list, "codes": str}
#: Where a head comment says what the figures rest on: to the end of that sentence.
_FROM = re.compile(r"\b(source|origin): (.+?)(?:\.(?= )|\.?$)")


class Column(NamedTuple):
    """A column: its name in the file, what it is called, its unit as printed, and its unit in either system.

    `dimension` is that of its figures, "" for text. Where metric and US unit are the same its figures stand as printed.
    """

    name: str
    words: str
    unit: str
    metric: str
    us: str
    dimension: str


class Table(NamedTuple):
    """A table with its words. `id` is its address and name, `file` its CSV; `notes` are the head comments as prose,
    `origin` what they say of where the figures are from, `sources` the keys of every source that they name."""

    id: str
    file: str
    title: str
    subject: str
    about: str
    partial: bool
    extent: str
    checked: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    notes: str
    origin: str
    sources: tuple[str, ...]
    cautions: tuple[str, ...]
    used: tuple[str, ...]
    find: str


@cache
def tables() -> dict[str, Table]:
    """Every table by its id, in the order of data/words/tables.toml.

    Raises DataError with everything at once that is wrong between the files and their words.
    """
    words = {name: row for name, row in load_toml(WORDS).items() if name != "subjects"}
    files = {name.removesuffix(".csv") for name in os.listdir(data_path("")) if name.endswith(".csv")}
    faults = [f"data/{name}.csv has no [{name}]" for name in sorted(files - words.keys())]
    faults += [f"[{name}] has no data/{name}.csv" for name in words if name not in files]
    for name in words:
        if name in files:
            faults += [f"[{name}] {fault}" for fault in _faults(words[name], f"{name}.csv")]
    if faults:
        raise DataError(f"data/{WORDS}: {'; '.join(faults)}")
    return {name.replace("_", "-"): _table(name, row) for name, row in words.items()}


def subjects() -> dict[str, list[Table]]:
    """The tables under their headings."""
    found: dict[str, list[Table]] = {words: [] for words in load_toml(WORDS)["subjects"].values()}
    for table in tables().values():
        found[load_toml(WORDS)["subjects"][table.subject]].append(table)
    return {heading: group for heading, group in found.items() if group}


def of(card: Card, facts: Sequence[str]) -> list[Table]:
    """The tables that a calculation uses: those among its facts, and those that name it."""
    asked = {load_toml("defaults.toml")[key].get("table") for key in facts}
    return [table for table in tables().values() if table.file in asked or card.id in table.used]


def figure(column: Column, cell: str, unit: str) -> str:
    """A cell in a unit of its column: as printed in its own, else to four figures; a cell that is no single figure
    stands as it is."""
    if unit == column.unit or not re.fullmatch(r"-?\d+(\.\d+)?", cell):
        return cell
    si = read(f"{cell} {column.unit}", column.name, column.dimension).si
    return show(si, column.dimension, unit).removesuffix(f" {unit}")


def entry_of(table: Table) -> Entry:
    """A table as it is found: by title, by what people call it, by the words of its columns."""
    names = " ".join(dict.fromkeys(column.words for column in table.columns))
    return Entry("table", table.id, table.title, table.about, table.find, names)


def item(table: Table) -> dict[str, Any]:
    """A row of the list contract; its entries are the columns."""
    columns = {column.name: {"unit": column.unit, "meaning": column.words} for column in table.columns}
    return {"id": table.id, "kind": "table", "title": table.title, "entries": columns}


def as_data(table: Table) -> dict[str, Any]:
    """A whole table as plain data: its rows hold the cells as printed, None where nothing is known."""
    names = [column.name for column in table.columns]
    return {
        **item(table),
        "about": table.about,
        "partial": table.partial,
        "extent": table.extent,
        "checked": table.checked,
        "from": table.origin,
        "notes": table.notes,
        "sources": {key: source(key)["text"] for key in table.sources},
        "rows": [{name: cell or None for name, cell in zip(names, row, strict=True)} for row in table.rows],
    }


def as_text(table: Table) -> str:
    """A whole table for the terminal, a line for each row, the last column as wide as it comes."""
    heads = [f"{column.name} [{column.unit}]" if column.unit else column.name for column in table.columns]
    lines = [heads, *([cell or "–" for cell in row] for row in table.rows)]
    widths = [max(len(line[place]) for line in lines) for place in range(len(heads))]
    told = ["  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip() for line in lines]
    parts = [f"{table.id}: {table.title}", "", table.about, table.extent, "", *told, ""]
    parts += [f"From: {table.origin}", f"Notes: {table.notes}", f"Checked: {table.checked}"]
    return "\n".join(parts + [f"  - {key}: {source(key)['text']} ({source(key)['seen']})" for key in table.sources])


def _faults(words: Mapping[str, Any], file: str) -> list[str]:
    """What is missing or wrong in the words of one table."""
    found = [f"lacks {key}" for key in _NEEDED if key not in words]
    kinds = {**_NEEDED, **_MAY}
    found += [f"knows no {key}" for key in words if key not in kinds]
    found += [
        f"{key} is no {kinds[key].__name__}" for key in words if key in kinds and type(words[key]) is not kinds[key]
    ]
    if "subject" in words and words["subject"] not in load_toml(WORDS)["subjects"]:
        found.append(f"subject {words['subject']} is none of [subjects]")
    comments, heads, _ = table_text(file)
    names = [head.partition(" [")[0] for head in heads]
    said = {key: words[key] if isinstance(words.get(key), dict) else {} for key in ("columns", "other")}
    found += [
        f"has no words for column {name}" for name in names if name not in VOCABULARY and name not in said["columns"]
    ]
    for key, columns in said.items():
        found += [f"{key}: {name} is no column" for name in columns if name not in names]
    found += [
        f"knows no caution {key}" for key in words.get("cautions", ()) if key not in load_toml("words/cautions.toml")
    ]
    if not _FROM.search(_prose(comments)):
        found.append("says nowhere in the file's head where it is from (source: KEY, or origin: words)")
    return found


def _table(name: str, words: Mapping[str, Any]) -> Table:
    file = f"{name}.csv"
    comments, heads, rows = table_text(file)
    prose = _prose(comments)
    found = _FROM.search(prose)
    columns = tuple(_column(head, words) for head in heads)
    codes = words.get("codes", "")
    place = next((place for place, column in enumerate(columns) if column.name == codes), None)
    named = [row[place] for row in rows] if place is not None else []
    return Table(
        id=name.replace("_", "-"),
        file=file,
        **{key: words[key] for key in _NEEDED},
        columns=columns,
        rows=rows,
        notes=_sources_named(_FROM.sub("", prose, count=1), short=True),
        origin=_sources_named(found[2]) if found else "",
        sources=tuple(
            key for key in dict.fromkeys(re.findall(r"[a-z0-9][a-z0-9-]+", prose)) if key in load_toml("sources.toml")
        ),
        cautions=tuple(words.get("cautions", ())),
        used=tuple(words.get("used", ())),
        find=" ".join([", ".join(words.get("find", ())), *named]).strip(),
    )


def _prose(comments: Sequence[str]) -> str:
    """The head comments as one text; what a line says of its source ends with it where the next begins a sentence."""
    told = ""
    for line in comments:
        ends = re.search(r"\b(source|origin): [^.]*[^.,;]$", told.rpartition("\n")[2]) and not line[:1].islower()
        told += f"{'.' if ends else ''}\n{line}"
    return told.replace("\n", " ").strip()


def short_name(key: str) -> str:
    """What a source is called in passing; a word that is no source key stands as it is."""
    record = load_toml("sources.toml").get(key)
    return re.split(",| '", record["text"])[0] if record else key


def _sources_named(text: str, *, short: bool = False) -> str:
    """Prose with each source's text in place of its key, or with the beginning of it."""

    def told(found: re.Match[str]) -> str:
        key = found[0]
        return short_name(key) if short else str(load_toml("sources.toml").get(key, {"text": key})["text"])

    prose = re.sub(r"[a-z0-9][a-z0-9-]+", told, " ".join(text.split()).replace(" .", "."))
    return prose[:1].upper() + prose[1:]


def _column(head: str, words: Mapping[str, Any]) -> Column:
    name, _, unit = head.partition(" [")
    unit = unit.rstrip("]")
    own = VOCABULARY.get(name)
    told = words.get("columns", {}).get(name) or (own.meaning if own else name)
    usual = own if own and unit in ("", own.metric, own.us) else _usual(unit)
    if not unit or usual is None:
        return Column(name, told, unit, unit, unit, own.dimension if own else "")
    other = words.get("other", {}).get(name, usual.us if unit == usual.metric else usual.metric)
    other = unit_row(other, usual.dimension).printed if other else unit
    metric, us = (unit, other) if unit == usual.metric else (other, unit)
    return Column(name, told, unit, metric, us, usual.dimension)


@cache
def _usual(unit: str) -> Quantity | None:
    """What a unit mostly stands for in the vocabulary: a quantity of that dimension, with its unit in both systems."""
    same = [row for row in VOCABULARY.values() if unit == row.metric] or [
        row for row in VOCABULARY.values() if unit == row.us
    ]
    count = Counter((row.dimension, row.metric, row.us) for row in same)
    return max(same, key=lambda row: count[row.dimension, row.metric, row.us], default=None)
