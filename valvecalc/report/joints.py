"""The picking list of the seals and the torque sheet, on the page and in the terminal: cautions first."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from valvecalc.report import parts
from valvecalc.report.words import Row

Report = Mapping[str, Any]
Boxed = Callable[[str, Sequence[str]], list[str]]

SEALS, TORQUE = "Seal list", "Torque sheet"
#: Heading and key of each column.
RINGS = (
    ("Place", "place"), ("Rings", "number"), ("Size", "size"), ("Inside", "inside"), ("Section", "section"),
    ("Squeeze", "squeeze"), ("Back-up", "backup"), ("Came near", "near"),
)  # fmt: skip
SCREWS = (
    ("Screws", "screws"), ("Class", "class"), ("First round", "first_torque"), ("Second round", "second_torque"),
    ("Torque", "torque"), ("Whose figure", "origin"), ("Order", "order"),
)  # fmt: skip
APPLIED = (("Applied to", "what"), ("Torque", "torque"), ("Tool", "tool"), ("By", "by"))


def page(report: Report) -> Iterator[str]:
    """Seal list and torque sheet as sections."""
    seals, torque = report.get("seal_list", {}), report.get("torque_sheet", {})
    if seals:
        body = _first(seals, "Before a seal goes in") + parts.paragraphs([seals["rubber"]])
        body += parts.bullets([*seals["pick"], *seals["open"]]) + _table(RINGS, seals["rows"])
        yield parts.section(SEALS, body, "seal-list")
    if torque:
        body = _first(torque, "Before a screw is turned") + _table(SCREWS, torque["rows"])
        body += parts.paragraphs([f"On threads and under heads: {torque['lubrication']}"])
        yield parts.section(TORQUE, body + _table(APPLIED, torque["applied"]), "torque-sheet")


def _first(told: Row, title: str) -> str:
    return parts.box("caution", title, told["cautions"], 3)


def _table(columns: Sequence[tuple[str, str]], rows: Sequence[Row]) -> str:
    used = [(head, key) for head, key in columns if any(row[key] for row in rows)]
    cells = [[f"<bdi>{parts.esc(row[key])}</bdi>" if row[key] else "" for _, key in used] for row in rows]
    return parts.table([head for head, _ in used], cells)


def lines(report: Report, items: Callable[[Sequence[str]], list[str]], boxed: Boxed) -> Iterator[tuple[str, list[str]]]:
    """(heading, lines) of both, as on the page."""
    seals, torque = report.get("seal_list", {}), report.get("torque_sheet", {})
    if seals:
        told = [seals["rubber"], *seals["pick"], *seals["open"], *_rows(RINGS, seals["rows"])]
        yield SEALS, boxed("BEFORE A SEAL GOES IN", seals["cautions"]) + items(told)
    if torque:
        told = [*_rows(SCREWS, torque["rows"]), f"On threads and under heads: {torque['lubrication']}"]
        told += _rows(APPLIED, torque["applied"])
        yield TORQUE, boxed("BEFORE A SCREW IS TURNED", torque["cautions"]) + items(told)


def _rows(columns: Sequence[tuple[str, str]], rows: Sequence[Row]) -> list[str]:
    return ["; ".join(f"{head.lower()}: {row[key]}" for head, key in columns if row[key]) for row in rows]
