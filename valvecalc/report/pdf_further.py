"""Parts of a report that the paper has no layout of its own for: told by the shape of their data.

A list of texts becomes a list, a list of rows a table, names with texts become facts; figures keep their units. So a
part that is added to the report stands on paper too.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from valvecalc.drawing.rounding import quantity, shown
from valvecalc.report import blocks, words
from valvecalc.report.blocks import Block, Cell

#: A table with more columns than this is told row by row.
_MOST_COLUMNS = 8


def title_of(name: str) -> str:
    """The heading of a part: its name in words."""
    told = name.replace("_", " ").replace("-", " ").strip()
    return told[:1].upper() + told[1:]


def part(name: str, data: Any, level: int = 1) -> list[Block]:
    """The heading and what stands below it; nothing where the data are empty."""
    if isinstance(data, Mapping):
        told = {**data}
        head = str(told.pop("title", "") or title_of(name))
        return blocks.section(head, _table_of_names(told, level), level)
    if isinstance(data, list | tuple):
        return blocks.section(title_of(name), _rows(data, level), level)
    return blocks.section(title_of(name), blocks.texts([value(data)]), level) if data not in (None, "") else []


def _table_of_names(data: Mapping[str, Any], level: int) -> list[Block]:
    """Cautions first, then single values as facts, then what is made of parts."""
    told = blocks.box("caution", "Before you begin", blocks.texts(data.get("cautions", ())))
    single = {key: one for key, one in data.items() if key != "cautions" and _is_single(one)}
    told += blocks.facts((title_of(key), value(one)) for key, one in single.items())
    for key, one in data.items():
        if key == "rows" and isinstance(one, list | tuple):
            told += _rows(one, level)  # what the part is made of: its heading is that of the part
        elif key not in single and key != "cautions":
            told += part(key, one, min(level + 1, 3))
    return told


def _rows(data: Sequence[Any], level: int) -> list[Block]:
    if all(_is_single(one) for one in data):
        return blocks.bullets(value(one) for one in data)
    rows = [one if isinstance(one, Mapping) else {"": one} for one in data]
    names = list(dict.fromkeys(name for row in rows for name in row if name != "label"))
    names = [name for name in names if any(row.get(name) not in (None, "", [], {}) for row in rows)]
    flat = all(_is_cell(row.get(name)) for row in rows for name in names)
    if flat and 0 < len(names) <= _MOST_COLUMNS:
        cells = [[_cell(row, name) for name in names] for row in rows]
        return blocks.table([title_of(name) for name in names], cells, [1] * len(names), small=len(names) > 4)
    if len(rows) == 1:
        return _table_of_names(rows[0], level)
    told: list[Block] = []
    for place, row in enumerate(rows, 1):
        head = next((str(row[key]) for key in ("title", "name", "what", "subject", "id") if row.get(key)), str(place))
        rest = {key: one for key, one in row.items() if not (_is_single(one) and str(one) == head)}
        told += blocks.section(head, _table_of_names(rest, level + 1), min(level + 1, 3))
    return told


def _cell(row: Mapping[str, Any], name: str) -> Cell:
    one = row.get(name)
    if name in ("verdict", "band") and isinstance(one, str):
        return blocks.verdict(one)
    if isinstance(one, list | tuple):
        return [value(part_) for part_ in one]
    return str(row["label"]) if name in ("entry", "name") and row.get("label") else value(one)


def _is_single(one: Any) -> bool:
    return not isinstance(one, list | tuple | Mapping) or (isinstance(one, Mapping) and "value" in one)


def _is_cell(one: Any) -> bool:
    return _is_single(one) or (isinstance(one, list | tuple) and all(_is_single(part_) for part_ in one))


def value(one: Any) -> str:
    """One value as text: a figure with its unit and uncertainty, yes or no, a text as it is."""
    if isinstance(one, Mapping) and "value" in one:
        if isinstance(one.get("text"), str) and one["text"]:
            return words.as_typed(one)
        return quantity(one["value"], str(one.get("unit", "")), one.get("uncertainty"))
    return "" if one is None else shown(one)
