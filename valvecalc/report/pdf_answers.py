"""Each calculation on paper: question, results, what it was computed from, a link that reopens it, worked lines."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from valvecalc.report import blocks, links, words
from valvecalc.report.blocks import Block
from valvecalc.report.words import Row


def calculations(report: Mapping[str, Any], site: str) -> list[Block]:
    """Every answer of the report, or nothing where it has none."""
    told = [block for row in report.get("answers", ()) for block in answer(row, site)]
    return [blocks.text(f"{words.COVERAGE} {words.ONCE} {links.SPREAD}", "quiet"), *told] if told else []


def answer(row: Row, site: str) -> list[Block]:
    """One answer of the contract."""
    question = str(row.get("question") or row.get("title") or row["id"])
    results = words.results(row)
    title = str(row.get("title", ""))
    body = blocks.texts([title] if title and title != question else [], "quiet")
    body += blocks.box("caution", "Before you rely on it", blocks.texts(row.get("cautions", ())))
    body += blocks.texts(row.get("sentences", ()))
    body += _results([one for one in results if "rows" not in one], row.get("result") is not None)
    for one in row.get("meaning", ()):
        body += _meaning(one)
    for one in results:
        if "rows" in one:
            body += blocks.section(capital(words.label(one)), blocks.grid(one["columns"], one["rows"]), 3)
    body += blocks.section("Trust it less, because", blocks.bullets(words.outside(row)), 3)
    body += blocks.section("Missing", blocks.bullets(map(words.missing, row.get("missing", ()))), 3)
    body += _inputs(row)
    lines = list(_worked(row.get("steps", ()), 0, set()))
    if lines:
        body += [blocks.heading("Worked lines", 3), {"kind": "worked", "lines": lines}]
    body += _sources(row)
    return [blocks.heading(question, 2), *body, *_reopen(row, site)]


def capital(text: str) -> str:
    """A heading begins with a capital letter."""
    return text[:1].upper() + text[1:]


def _results(rows: Sequence[Row], headline: bool) -> list[Block]:
    judged = any(row.get("verdict") for row in rows)
    heads = ["Result", "Value", *(["Verdict"] if judged else [])]
    cells = [
        [words.label(row), words.result(row), *([blocks.verdict(row.get("verdict"))] if judged else [])] for row in rows
    ]
    return blocks.table(heads, cells, [1, 0, *([0] if judged else [])], figures=(1, 2), first=headline)


def _meaning(row: Row) -> list[Block]:
    """What a verdict means; what can hurt in the next check stands before its name."""
    told = [
        blocks.heading(f"What it means: {words.label(row, 'result')}, {words.verdict(row['verdict'])}", 3),
        *blocks.texts([f"Held against: {row['against']}", row["means"]]),
    ]
    check = row["next"]
    if not check:
        return told
    before = blocks.box("caution", "Before the next step", blocks.texts([check["caution"]]))
    return [*told, *before, blocks.text(f"Next: {check['title']}")]


def _inputs(row: Row) -> list[Block]:
    entries = row.get("inputs", {})
    cells: list[list[blocks.Cell]] = [
        [words.label({"name": name, **entry}), words.as_typed(entry), _origin(entry)]
        for name, entry in entries.items()
        if "rows" not in entry
    ]
    told = blocks.table(["Computed from", "Value", "Where it comes from"], cells, [3, 2, 2], small=True)
    for name, entry in entries.items():
        if "rows" in entry:
            told += [
                blocks.text(f"{words.label({'name': name, **entry})}, {_origin(entry)}", "quiet"),
                *blocks.grid(entry["columns"], entry["rows"]),
            ]
    return told


def _origin(entry: Row) -> str:
    source = entry.get("source")
    return words.origin(entry.get("origin")) + (f" ({source})" if source else "")


def _worked(steps: Sequence[Row], depth: int, told: set[tuple[Any, ...]]) -> Iterator[dict[str, Any]]:
    """The lines in their order; one that was told already, and all below it, is not told again."""
    for step in steps:
        symbol, said = words.worked(step)
        key = (symbol, *said)
        if key in told:
            continue
        told.add(key)
        yield {
            "label": blocks.plain(words.label(step)),
            "symbol": blocks.pieces(symbol),
            "lines": [blocks.pieces(line) for line in said[:-1]],
            "value": blocks.plain(said[-1]),
            "depth": min(depth, 4),
        }
        yield from _worked(step.get("steps", ()), depth + 1, told)


def _sources(row: Row) -> list[Block]:
    told = "; ".join(words.source(source) for source in row.get("sources", ()))
    name = f"Calculation {row['id']}, edition {row['edition']}." if row.get("edition") else ""
    return blocks.texts([f"Source: {told}." if told else "", name], "quiet")


def _reopen(row: Row, site: str) -> list[Block]:
    """The link with its inputs, as a link and as a QR code; without an address of the shop's pages the command."""
    url = links.url(row, site)
    if not url:
        command = links.command(row)
        return [blocks.text(links.BY_COMMAND, "quiet"), blocks.text(command, "mono")] if command else []
    made = links.code(row, url)
    return [{"kind": "reopen", "url": url, "text": links.SAID if made else links.TOO_LONG, "qr": made}]
