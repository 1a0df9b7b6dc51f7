"""An answer as text to paste into a report: title, version, edition, entries with their origin, result, source, link.

`live/cite.js` is the same once more for the phone, held to this by test.
"""

from collections.abc import Mapping
from typing import Any

from valvecalc.drawing.rounding import quantity
from valvecalc.report import words

Row = Mapping[str, Any]


def citation(answer: Row, site: str = "") -> str:
    """The citation of an answer of the contract (`Answer.to_json()`).

    site  address of the shop's pages, put before the link; without it the link is relative to the pages' root
    """
    told = words.results(answer)
    lines = [
        f"{answer['title']}",
        f"valvecalc {answer['version']}, {answer['id']}, edition {answer['edition']}, data {answer['data_version']}",
        *_entries(answer),
        *(f"Result: {_name(row)} = {_result(row)}" for row in told if "rows" not in row),
        *(_rows("Result", row) for row in told if "rows" in row),
        *([] if told else ["Result: no value"]),
        *(f"Not computed: needs {_name(row, 'entry')}" for row in _once(answer["missing"])),
        *(f"Caution: {limit['says']}" for limit in answer["limits"] if "says" in limit),
        *(f"Source: {words.source(row)}" for row in answer["sources"]),
        *([words.COVERAGE] if any("uncertainty" in row for row in told) else []),
        f"Link: {site.rstrip('/')}{answer['link']}",
    ]
    return "\n".join(lines)


def _entries(answer: Row) -> list[str]:
    """Each entry as it was typed; a default with the figure that was taken. Where it comes from stands behind it."""
    found = []
    for name, entry in answer["inputs"].items():
        if "rows" in entry:
            found.append(_rows("Entry", {"name": name, **entry}))
            continue
        text = entry["text"] or quantity(entry["value"], entry["unit"], digits=6)
        found.append(f"Entry: {_name({'name': name})} = {text} ({words.origin(entry['origin'])})")
    return found


def _rows(what: str, row: Row) -> str:
    """A list by its columns and its length: the link and the page carry the rows."""
    columns = ", ".join(words.column(column) for column in row["columns"])
    return f"{what}: {_name(row)}: {len(row['rows'])} rows of {columns}"


def _result(row: Row) -> str:
    told = words.result(row)
    return f"{told}, {words.verdict(row['verdict'])}" if "verdict" in row else told


def _name(row: Row, key: str = "name") -> str:
    return str(row[key]).replace("_", " ")


def _once(lacks: Any) -> list[Row]:
    """Each lacking entry once, though several results may want it."""
    return list({lack["entry"]: lack for lack in lacks}.values())
