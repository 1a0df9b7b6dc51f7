"""The evidence on paper: charts, photos, verdicts, single causes, repairs, the other valve, readings."""

from collections.abc import Iterable, Mapping
from html import unescape
from re import search
from typing import Any

from valvecalc.drawing import chart
from valvecalc.drawing.rounding import percent
from valvecalc.report import blocks, replacement, words
from valvecalc.report.blocks import Block, Cell
from valvecalc.report.pictures import photo_name, photo_rows
from valvecalc.report.words import Row

Report = Mapping[str, Any]


def described(drawn: str) -> str:
    """What a drawing says of itself."""
    found = search("<desc[^>]*>(.*?)</desc>", drawn)
    return unescape(found[1]) if found else ""


def _chart(spec: Row) -> Block:
    drawn = chart(spec)
    return blocks.drawing(drawn, spec["title"], described(drawn))


def _on_first_page(report: Report) -> list[Row]:
    """How much force is in hand: where no record fills the first page, it is told there."""
    margins = [spec for spec in report.get("charts", ()) if spec["kind"] == "margin"]
    return [] if report.get("record") else margins[:2]


def margins(report: Report) -> list[Block]:
    """The charts of the first page."""
    return blocks.side_by_side([_chart(spec) for spec in _on_first_page(report)])


def charts(report: Report) -> list[Block]:
    """All charts but those of the first page, two beside each other, those of one kind together."""
    specs, shown = list(report.get("charts", ())), _on_first_page(report)
    kinds: dict[str, list[Block]] = {}
    for spec in specs:
        if spec not in shown:
            kinds.setdefault(spec["kind"], []).append(_chart(spec))
    return [row for drawn in kinds.values() for row in blocks.side_by_side(drawn)]


def photos(report: Report, found: Mapping[str, str]) -> list[Block]:
    """Photos by caption; `found` gives the place of each that is there, the others are named."""
    there, lacking = [], []
    for row in photo_rows(report):
        name, caption = photo_name(row), str(row.get("caption", ""))
        if name in found:
            told = blocks.plain(caption or name)
            there.append({"kind": "photo", "file": found[name], "caption": told, "alt": told})
        elif name:
            lacking.append(f"{name}{f': {caption}' if caption else ''}")
    missing = blocks.section("Photos that are named and cannot be shown", blocks.bullets(lacking), 2)
    return [*blocks.side_by_side(there), *missing]


def verdicts(report: Report) -> list[Block]:
    rows: list[list[Cell]] = [
        [row["subject"], blocks.verdict(row["verdict"]), row.get("sentence", "")] for row in report.get("verdicts", ())
    ]
    return blocks.table(["What was judged", "Verdict", "Why"], rows, [2, 0, 3], figures=(1,))


def thresholds(report: Report) -> list[Block]:
    told: list[Block] = []
    for group, rows in words.grouped(report.get("thresholds", ())).items():
        cells: list[list[Cell]] = [
            [
                words.label(row, "entry"),
                words.measured(row.get("as_is")),
                words.measured(row["value"]) if row.get("value") else "not within the range searched",
                row.get("sentence", ""),
            ]
            for row in rows
        ]
        heads = ["What", "Is now", "Turns the verdict at", "In words"]
        listed = blocks.table(heads, cells, [4, 2, 3, 5], small=True)
        told += blocks.section(group[:1].upper() + group[1:], listed, 2) if group else listed
    return [blocks.text(words.ALONE, "quiet"), *told] if told else []


def finder(report: Report) -> list[Block]:
    told = report.get("finder") or {}
    if not told:
        return []
    return [
        blocks.text(f"Complaint: {told['symptom']}."),
        *blocks.bullets(told.get("steps", ()), numbered=True),
        *blocks.texts([told.get("result", ""), told.get("basis", "")]),
    ]


def repairs(report: Report) -> list[Block]:
    rows: list[list[Cell]] = []
    for row in report.get("repairs", ()):
        share = percent(row["share"]) if row.get("share") is not None else "–"
        back = words.measured(row["release_margin"]) if row.get("release_margin") else "–"
        said = [row["name"], *([row["sentence"]] if row.get("sentence") else [])]
        rows.append([said, blocks.verdict(row.get("band")), share, words.measured(row.get("margin")), back])
    return blocks.table(["Repair", "Verdict", "In hand", "Smallest margin", "Way back"], rows, [1, 0, 0, 0, 0])


def other_valve(report: Report) -> list[Block]:
    """The valve that is to take the old one's place."""
    told = report.get("replacement") or {}
    if not told:
        return []
    said = report.get("cautions", ())
    cautions = [text for text in told["cautions"] if text not in said]
    heads = ["Valve", "Verdict", "Why"]
    rows: list[list[Cell]] = [
        [replacement.named(row), blocks.verdict(row["verdict"]), [*row["cautions"], *replacement.reasons(row)]]
        for row in told["candidates"]
    ]
    asked: list[list[Cell]] = [[row["what"], row["figure"]] for row in told.get("request", ())]
    found_out = blocks.bullets(row["what"] for row in told["find_out"])
    faults = blocks.bullets(replacement.faults(told))
    return [
        blocks.text(replacement.files(told)),
        *blocks.box("caution", "Before any valve is changed", blocks.texts(cautions)),
        blocks.text(told["headline"], "strong"),
        *blocks.texts(told.get("notes", ())),
        *_symbols(replacement.valves(told)),
        *blocks.table(heads, rows, [2, 0, 4], figures=(1,)),
        *blocks.side_by_side([_chart(spec) for spec in told.get("charts", ())]),
        *(block for row in told["candidates"][:1] if row["verdict"] != "reject" for block in _rules(row)),
        *blocks.table(["Ask for", "Figure"], asked, [1, 2]),
        *blocks.section("To be found out", found_out, 2),
        *blocks.section("Faults of the list; these cells count as unknown", faults, 2),
    ]


def symbol(report: Report) -> list[Block]:
    """The valve of the job, drawn by what each port does, where the job says so."""
    valve = report.get("symbol")
    return _symbols([("Symbol by ISO 1219", valve)]) if valve else []


def _symbols(named: Iterable[tuple[str, Row]]) -> list[Block]:
    drawings = replacement.drawn_symbols(named)
    return blocks.side_by_side([blocks.drawing(drawn, name, described(drawn)) for drawn, name in drawings])


def _rules(row: Row) -> list[Block]:
    cells: list[list[Cell]] = [
        [rule["title"], rule["need"] or "–", rule["has"] or "–", blocks.verdict(rule["verdict"])]
        for rule in row["rules"]
    ]
    listed = blocks.table(["Rule", "Needed", "There", "Verdict"], cells, [3, 2, 2, 0], figures=(3,), small=True)
    return blocks.section(f"{row['id']}, rule by rule", listed, 2)


def not_computed(report: Report) -> list[Block]:
    rows: list[list[Cell]] = [
        [row["what"], [words.missing(need) for need in row.get("needs", ())]] for row in report.get("not_computed", ())
    ]
    return blocks.table(["What", "Needs"], rows, [1, 1], small=True)


def readings(report: Report) -> list[Block]:
    rows: list[list[Cell]] = [
        [
            words.label(row, "entry"),
            str(row["text"]),
            words.reading_uncertainty(row),
            row.get("instrument") or "",
            words.origin(row.get("origin")),
        ]
        for row in report.get("readings", ())
    ]
    heads = ["What", "Reading", "±", "Instrument", "Where it comes from"]
    return blocks.table(heads, rows, [4, 4, 2, 0, 2], small=True)


def instruments(report: Report) -> list[Block]:
    keys = ("id", "kind", "range", "accuracy", "calibrated_until")
    rows: list[list[Cell]] = [[str(row.get(key) or "") for key in keys] for row in report.get("instruments", ())]
    heads = ["Instrument", "Kind", "Range", "Accuracy", "Calibrated until"]
    return blocks.table(heads, rows, [0, 2, 1, 2, 1], small=True)
