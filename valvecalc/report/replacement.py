"""The valve that is to take the old one's place: what fits and why, or what to ask a supplier for."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from valvecalc.drawing import chart
from valvecalc.drawing.rounding import percent
from valvecalc.drawing.symbol import draw_known
from valvecalc.report import parts
from valvecalc.report.words import Row
from valvecalc.selection.function import Function, read_position

TITLE = "Another valve in its place"


def page(told: Mapping[str, Any], said: frozenset[str]) -> str:
    """The section of the page; cautions that are `said` already stand above. Nothing where the job names no duty."""
    if not told:
        return ""
    cautions = [text for text in told["cautions"] if text not in said]
    body = [
        parts.paragraphs([files(told)]),
        parts.box("caution", "Before any valve is changed", cautions, 3),
        f"<p><strong>{parts.esc(told['headline'])}</strong></p>",
        parts.paragraphs(told.get("notes", ())),
        figures(valves(told)),
        parts.table(["Valve", "Verdict", "Why"], map(_candidate, told["candidates"])),
        *map(_drawn, told.get("charts", ())),
        *(_rules(row) for row in told["candidates"][:1] if row["verdict"] != "reject"),
        parts.table(["Ask for", "Figure"], map(_asked, told.get("request", ()))),
        _list("To be found out", [row["what"] for row in told["find_out"]]),
        _list("Faults of the list; these cells count as unknown", faults(told)),
    ]
    return "".join(body)


def files(told: Mapping[str, Any]) -> str:
    """What was judged by what."""
    stock = f", stock list {told['stock']}: {told['judged']} valves judged" if "stock" in told else ""
    return f"Duty {told['duty']}{stock}."


def reasons(row: Row) -> list[str]:
    """Why a candidate stands where it does: what refuses it or has to be asked, or what is in hand."""
    if row["verdict"] != "accept":
        return [str(rule["sentence"]) for rule in row["rules"] if rule["verdict"] == row["verdict"]]
    loss = f"{row['loss']:.3g} {row['loss_unit']} of the pump's pressure" if row["loss"] is not None else ""
    margin = f"{percent(row['margin'])} in hand at its tightest rule" if row["margin"] is not None else ""
    return [", ".join(filter(None, (margin, loss))) + "."] if margin or loss else []


def faults(told: Mapping[str, Any]) -> list[str]:
    """Each fault of the list with its place."""
    return [
        f"row {row['row']} ({row['name']}), {row['column']}: got {row['got']}, needed {row['need']}. {row['do']}"
        for row in told.get("faults", ())
    ]


def _asked(row: Row) -> list[str]:
    return [parts.esc(row["what"]), parts.esc(row["figure"])]


def named(row: Row) -> str:
    """A candidate with where it lies and what it is mounted on."""
    return ", ".join(filter(None, (row["id"], row["shelf"] and f"shelf {row['shelf']}", row["interface"])))


def _candidate(row: Row) -> list[str]:
    hurt = parts.paragraphs(row["cautions"])
    return [parts.esc(named(row)), parts.verdict(row["verdict"]), hurt + parts.bullets(reasons(row))]


def _drawn(spec: Row) -> str:
    return f'<figure class="lines"><figcaption>{parts.esc(spec["title"])}</figcaption>{chart(spec)}</figure>'


def valves(told: Mapping[str, Any]) -> list[tuple[str, Row]]:
    """The old valve and the leader, by their names."""
    return [("The old valve", told["old"]), *((leader["id"], leader["symbol"]) for leader in told["candidates"][:1])]


def drawn_symbols(named: Iterable[tuple[str, Row]]) -> Iterator[tuple[str, str]]:
    """(drawing, caption) of what the ports of each valve do; one drawing for those that do the same."""
    captions: dict[str, list[str]] = {}
    for name, row in named:
        positions = {key: read_position(text) if text else text for key, text in row["function"].items()}
        captions.setdefault(draw_known(Function(**positions), row["operator"], row["stage"]), []).append(name)
    captions.pop("", None)  # nothing is known of it
    yield from ((drawn, " and ".join(names)) for drawn, names in captions.items())


def figures(named: Iterable[tuple[str, Row]]) -> str:
    """Those drawings for the page."""
    return "".join(
        f'<figure class="symbol"><figcaption>{parts.esc(caption)}</figcaption>{drawn}</figure>'
        for drawn, caption in drawn_symbols(named)
    )


def _rules(row: Row) -> str:
    cells = [
        [parts.esc(rule["title"]), parts.esc(rule["need"] or "–"), parts.esc(rule["has"] or "–"),
         parts.verdict(rule["verdict"])]
        for rule in row["rules"]
    ]  # fmt: skip
    listed = parts.table(["Rule", "Needed", "There", "Verdict"], cells)
    return f"<details><summary>{parts.esc(row['id'])}, rule by rule</summary>{listed}</details>"


def _list(title: str, texts: list[str]) -> str:
    return f"<h3>{parts.esc(title)}</h3>{parts.bullets(texts)}" if texts else ""
