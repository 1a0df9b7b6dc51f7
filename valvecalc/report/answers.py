"""One answer on the page: question, cautions, results, what it was computed from, and the worked lines."""

from collections.abc import Sequence

from valvecalc.report import links, parts, words
from valvecalc.report.words import Row

#: Side of a module of a QR code, mm, as on the paper of the PDF.
MODULE = 0.42


def answer(row: Row, place: int, site: str = "") -> str:
    """An answer of the contract as an article; `site` is the address of the shop's pages."""
    question = row.get("question") or row.get("title") or row["id"]
    results = words.results(row)
    rows = [result for result in results if "rows" not in result]
    title = f'<p class="quiet">{parts.esc(row["title"])}</p>' if row.get("title") not in (None, question) else ""
    body = [
        f'<article class="answer" id="answer-{place}"><h3>{parts.esc(question)}</h3>{title}',
        parts.box("caution", "Before you rely on it", row.get("cautions", ()), 4),
        parts.paragraphs(row.get("sentences", ())),
        _results(rows, headline=row.get("result") is not None),
        *map(_meaning, row.get("meaning", ())),
        *(_curve(result) for result in results if "rows" in result),
        _trust(row),
        _inputs(row),
        _worked(row.get("steps", ())),
        _sources(row),
        _reopen(row, site),
        "</article>",
    ]
    return "".join(body)


def _results(rows: Sequence[Row], headline: bool) -> str:
    judged = any(row.get("verdict") for row in rows)
    heads = ["Result", "Value", *(["Verdict"] if judged else [])]
    cells = [
        [
            parts.esc(words.label(row)),
            parts.esc(words.result(row)),
            *([parts.verdict(row.get("verdict"))] if judged else []),
        ]
        for row in rows
    ]
    return parts.table(heads, cells, figures=(1,), first="headline-row" if headline else "")


def _meaning(row: Row) -> str:
    """What a verdict means; what can hurt in the next check stands before its name."""
    head = f"<h4>What it means: {parts.esc(words.label(row, 'result'))} {parts.verdict(row['verdict'])}</h4>"
    told = parts.paragraphs([f"Held against: {row['against']}", row["means"]])
    if not (check := row["next"]):
        return head + told
    before = parts.box("caution", "Before the next step", [check["caution"]], 5)
    return head + told + before + parts.paragraphs([f"Next: {check['title']}"])


def _curve(row: Row) -> str:
    """A table of rows; a single row stands upright, since it would be wider than any page."""
    title = words.label(row)
    if len(row["rows"]) == 1:
        pairs = zip(row["columns"], row["rows"][0], strict=True)
        upright = [[parts.esc(words.column(column)), parts.esc(parts.cell(value))] for column, value in pairs]
        return f"<h4>{parts.esc(title)}</h4>" + parts.table(["What", "Value"], upright, figures=(1,))
    return f"<h4>{parts.esc(title)}</h4>" + parts.grid([words.column(c) for c in row["columns"]], row["rows"], title)


def _trust(row: Row) -> str:
    told = words.outside(row)
    lacking = [words.missing(entry) for entry in row.get("missing", ())]
    body = f"<h4>Trust it less, because</h4>{parts.bullets(told)}" if told else ""
    return body + (f"<h4>Missing</h4>{parts.bullets(lacking)}" if lacking else "")


def _inputs(row: Row) -> str:
    entries = row.get("inputs", {})
    cells = [
        [
            parts.esc(words.label({"name": name, **entry})),
            parts.esc(words.as_typed(entry)),
            parts.origin(entry.get("origin"), entry.get("source")),
        ]
        for name, entry in entries.items()
        if "rows" not in entry
    ]
    curves = "".join(
        f"<h4>{parts.esc(words.label({'name': name, **entry}))} {parts.origin(entry.get('origin'))}</h4>"
        + parts.grid([words.column(c) for c in entry["columns"]], entry["rows"], name)
        for name, entry in entries.items()
        if "rows" in entry
    )
    listed = parts.table(["Computed from", "Value", "Where it comes from"], cells, figures=(1,)) + curves
    return f"<details><summary>What it was computed from</summary>{listed}</details>" if listed else ""


def _worked(steps: Sequence[Row]) -> str:
    return f"<details><summary>Worked lines</summary>{_lines(steps, set())}</details>" if steps else ""


def _lines(steps: Sequence[Row], told: set[tuple[str, ...]]) -> str:
    """The lines in their order; one that was told already, and all below it, is not told again."""
    items = []
    for step in steps:
        symbol, said = words.worked(step)
        if (line := (symbol, *said)) in told:
            continue
        told.add(line)
        middle = "".join(f'<span class="eq">= {parts.symbols(part)}</span>' for part in said[:-1])
        items.append(
            f'<li><span class="quiet">{parts.esc(words.label(step))}</span>'
            f'<div class="lines"><span>{parts.symbols(symbol)}</span>{middle}'
            f'<span class="eq res">= {parts.esc(said[-1])}</span></div>{_lines(step.get("steps", ()), told)}</li>'
        )
    return f'<ul class="worked">{"".join(items)}</ul>' if items else ""


def _sources(row: Row) -> str:
    told = "; ".join(words.source(source) for source in row.get("sources", ()))
    edition = f" Edition {row['edition']} of this calculation." if row.get("edition") else ""
    return f'<p class="quiet">Source: {parts.esc(told)}.{parts.esc(edition)}</p>' if told else ""


def _reopen(row: Row, site: str) -> str:
    """The link that opens it again and, folded on the screen, its QR code; without an address the command."""
    url = links.url(row, site)
    if not url:
        command = links.command(row)
        said = f'<summary>{parts.esc(links.BY_COMMAND)}</summary><p class="mono">{parts.esc(command)}</p>'
        return f"<details>{said}</details>" if command else ""
    made = links.code(row, url)
    said = links.SAID if made else links.TOO_LONG
    link = f'<p class="reopen"><a href="{parts.esc(url)}">{parts.esc(said)}</a></p>'
    if made is None:
        return link
    side = f"{made['modules'] * MODULE:.1f}mm"
    drawn = made["svg"].replace("<svg ", f'<svg role="img" aria-label="{parts.esc(made["alt"])}" width="{side}" ', 1)
    return f'{link}<details class="code"><summary>QR code of this link</summary>{drawn}</details>'
