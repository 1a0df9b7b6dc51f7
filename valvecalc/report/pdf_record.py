"""The record of a job on paper: found, cause, decision, work, left, what to measure; corrections and times."""

from collections.abc import Mapping
from typing import Any

from valvecalc.drawing import svg
from valvecalc.drawing.shapes import symbol
from valvecalc.report import blocks, words
from valvecalc.report.blocks import Block, Cell
from valvecalc.report.record import no_pressure, title
from valvecalc.report.words import Row

Report = Mapping[str, Any]

#: Parts of a report that are told here.
PARTS = ("now", "record", "gate", "as_left", "headline_left", "measure", "corrections")
#: Columns of the options: heading -> fields that stand below each other in it.
_OPTION_COLUMNS = {
    "What is done": ("name", "what"),
    "Cost": ("cost", "parts", "hours"),
    "Ready": ("ready",),
    "If it comes back": ("comeback_share", "comeback_cost"),
    "Why": ("why",),
}
#: More columns than these are told row by row.
_MOST_COLUMNS = 6


def verdict_box(head: Row | None, heading: str = "") -> list[Block]:
    """A verdict with its shape, its sentence and what must be put right."""
    if not head:
        return []
    word = words.verdict(head["verdict"])
    said = f"{heading}{word}" if heading else word[:1].upper() + word[1:]
    return blocks.box("headline", "", [*_verdict(head, said), *_actions(head)])


def _verdict(head: Row, said: str) -> list[Block]:
    shape = svg.for_paper(symbol(head["verdict"]))
    return [{"kind": "verdict", "shape": shape, "text": blocks.plain(said)}, blocks.text(head["sentence"], "big")]


def _actions(head: Row, left: bool = False) -> list[Block]:
    actions = blocks.bullets(head.get("actions", ()))
    return [blocks.text(words.actions(head, left), "strong"), *actions] if actions else []


def now(report: Report) -> list[Block]:
    """The state of the valve now. What must be done stands below the cautions."""
    head = report.get("now")
    if not head:
        return []
    remarks = blocks.texts(head["remarks"], "quiet")
    return blocks.box("headline", "", [*_verdict(head, head["title"]), *remarks])


def verdicts(report: Report) -> list[Block]:
    """The verdict as found with what must be put right, and what is still to be put right after the work."""
    head, after = report.get("headline"), report.get("headline_left")
    if not report.get("now"):
        return verdict_box(head)
    if not after:
        return blocks.box("headline", "", _actions(head)) if head else []
    return [*verdict_box(head, f"{title('found')}: "), *blocks.box("headline", "", _actions(after, left=True))]


def in_brief(report: Report) -> list[Block]:
    """What belongs on the first page: cause and decision, what was not tested."""
    untested = blocks.bullets(report.get("not_tested") or [words.NOT_TOLD])
    told = [blocks.section(title(part), _sections(report, part, bare=True)) for part in ("cause", "decision")]
    columns = [one for one in told if one]
    beside: list[Block] = [{"kind": "side", "columns": columns, "shares": [4, 3]}] if columns else []
    return [*beside, *blocks.section("Not tested", untested)]


def in_full(report: Report) -> list[Block]:
    """What to measure on the machine; how it was found, what was done, how it left, how it went."""
    asked = blocks.bullets(report.get("measure", ()))
    return [
        *blocks.section(title("measure"), [blocks.text(title("measure_first"), "strong"), *asked] if asked else []),
        *blocks.section(title("found"), [*_gate(report), *_sections(report, "found")]),
        *_options(report),
        *blocks.section(title("work"), _sections(report, "work")),
        *blocks.section(title("left"), [*_as_left(report), *_sections(report, "left")]),
        *blocks.section(title("dispatch"), _sections(report, "dispatch")),
    ]


def papers(report: Report) -> list[Block]:
    """Corrections and times: at the end."""
    rows: list[list[Cell]] = [
        [row["entry"], str(row["now"]), [str(one) for one in row["earlier"]], _reason(row)]
        for row in report.get("corrections", ())
    ]
    corrected = blocks.table(["What", "Counts", "Stood there before", "Why"], rows, [1, 1, 1, 1], small=True)
    return [
        *blocks.section(title("corrections"), corrected),
        *blocks.section(title("papers"), _sections(report, "papers", bare=True)),
    ]


def _reason(row: Row) -> str:
    return ", ".join(filter(None, (row.get("why"), row.get("by"), row.get("at"))))


def _gate(report: Report) -> list[Block]:
    gate = report.get("gate") or {}
    if gate.get("closed"):
        return blocks.box("caution", no_pressure(), blocks.texts(gate["reasons"]))
    return blocks.texts([gate["ratings"]]) if gate else []


def _sections(report: Report, part: str, bare: bool = False) -> list[Block]:
    told: list[Block] = []
    for section in report.get("record", ()):
        if section["part"] == part and section["table"] != "option":
            body = _many(section["rows"]) if section["many"] else _one(section["rows"][0])
            told += body if bare else blocks.section(section["title"], body, 2)
    return told


def _options(report: Report) -> list[Block]:
    """What could be done, one line each: the first page tells only what was decided."""
    section = next((one for one in report.get("record", ()) if one["table"] == "option"), None)
    if section is None:
        return []
    told = [{cell["name"]: cell["text"] for cell in row} for row in section["rows"]]
    rows = [[", ".join(row[key] for key in keys if key in row) for keys in _OPTION_COLUMNS.values()] for row in told]
    return blocks.section(section["title"], blocks.table(list(_OPTION_COLUMNS), rows, [4, 2, 2, 2, 4], small=True))


def _one(cells: list[Row]) -> list[Block]:
    return blocks.facts((_capital(cell["label"]), cell["text"]) for cell in cells)


def _many(rows: list[list[Row]]) -> list[Block]:
    columns = {cell["name"]: _capital(cell["label"]) for row in rows for cell in row}
    if len(columns) > _MOST_COLUMNS:
        return [block for row in rows for block in _one(row)]
    named = [{cell["name"]: cell["text"] for cell in row} for row in rows]
    cells: list[list[Cell]] = [[row.get(name, "") for name in columns] for row in named]
    longest = [max(len(row.get(name, "")) for row in named) for name in columns]
    widths = [min(4, 1 + letters // 15) for letters in longest]
    return blocks.table(list(columns.values()), cells, widths, small=len(columns) > 4)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _as_left(report: Report) -> list[Block]:
    rows: list[list[Cell]] = [
        [row["subject"], blocks.verdict(row["found_verdict"]), row["found"], blocks.verdict(row["verdict"]),
         row["sentence"]]
        for row in report.get("as_left", ())
    ]  # fmt: skip
    heads = ["What was judged", "As found", "", "As left", ""]
    return blocks.table(heads, rows, [3, 0, 3, 0, 3], figures=(1, 3), small=True)
