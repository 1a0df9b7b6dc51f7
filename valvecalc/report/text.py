"""A job report or a single answer as terminal text: the same order as the page, in brief."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from textwrap import wrap
from typing import Any

from valvecalc.drawing.rounding import percent, quantity
from valvecalc.drawing.shapes import SIGNS, form
from valvecalc.report import joints, record, replacement, words
from valvecalc.report.words import Row


def render(report: Mapping[str, Any], width: int = 80, brief: bool = False) -> str:
    """The report for a terminal of `width` columns. Warnings and cautions are never shortened.

    `brief` leaves out the answers in full, the single causes and the strokes; their cautions stand first all the same.
    """
    if brief:
        report = _brief(report)
    job, head = report.get("job", {}), report.get("headline")
    lines = [*_boxed("KEEP OUT OF SERVICE", report.get("warnings", ()), width)]
    state = report.get("now")
    for told_now in filter(None, (state, head if head and (not state or report.get("headline_left")) else None)):
        named = words.verdict(told_now["verdict"])
        said = told_now.get("title") or (f"{record.title('found')}: {named}" if state else named)
        lines += [*_fit(f"{_sign(told_now['verdict'])} {said.upper()}", width), *_fit(told_now["sentence"], width)]
        lines += [*(line for text in told_now.get("remarks", ()) for line in _fit(text, width)), ""]
    lines += [*_boxed("BEFORE ANY WORK", report.get("cautions", ()), width)]
    if head and head.get("actions"):
        lines += [*_part(words.actions(head), _items(head["actions"], width))]
    told = [("Job", " ".join(filter(None, (job.get("id"), job.get("title")))))]
    told += [(name.capitalize(), job.get(name)) for name in ("machine", "valve", "complaint")]
    lines += [*_part("", [line for name, text in told if text for line in _fit(f"{name}: {text}", width, "  ")])]
    for told_by in (record.lines, joints.lines):
        kept = told_by(report, lambda texts: _items(texts, width), lambda name, texts: _boxed(name, texts, width))
        lines += [line for name, body in kept for line in _part(name, body)]
    for spec in report.get("charts", ()):
        lines += [*_part(spec["title"], _chart(spec, width))]
    judged = [
        _judged(row["verdict"], f"{row['subject']}: {row.get('sentence', '')}") for row in report.get("verdicts", ())
    ]
    lines += [*_part("Verdicts", _items(judged, width, ""))]
    for row in report.get("answers", ()):
        lines += _boxed("BEFORE YOU RELY ON THE NEXT ANSWER", row.get("cautions", ()), width)
        lines += [*_part(row.get("question") or row.get("title") or row["id"], _answer_brief(row, width))]
    for group, rows in words.grouped(report.get("thresholds", ())).items():
        lines += [*_part(f"One cause alone: {group}".rstrip(": "), _items(map(_threshold, rows), width))]
    path = report.get("finder", {})
    if path:
        found = [f"Complaint: {path['symptom']}", *path.get("steps", ()), path.get("result", ""), path.get("basis", "")]
        lines += [*_part("How the fault was found", _items(found, width))]
    repairs = [
        _judged(row.get("band", ""), f"{row['name']}: {words.with_share(row)}") for row in report.get("repairs", ())
    ]
    lines += [*_part("Repairs, tried on paper", _items(repairs, width, ""))]
    lines += _replacement(report.get("replacement", {}), set(report.get("cautions", ())), width)
    lacking = [
        f"{row['what']}: needs " + "; ".join(words.missing(need) for need in row.get("needs", ()))
        for row in report.get("not_computed", ())
    ]
    lines += [*_part("Not computed, and what it needs", _items(lacking, width))]
    lines += [*_part("Assumed on the way", _items(report.get("assumed", ()), width))]
    for name, body in record.last_lines(report, lambda texts: _items(texts, width)):
        lines += _part(name, body)
    stamp = ", ".join(
        f"{name} {report[key]}"
        for name, key in (("valvecalc", "version"), ("data", "data_version"), ("made", "made"))
        if report.get(key)
    )
    lines += [*_fit(words.NO_RELEASE, width), *_fit(stamp, width)]
    return "\n".join(lines).rstrip() + "\n"


def _brief(report: Mapping[str, Any]) -> dict[str, Any]:
    told = [
        *report.get("cautions", ()),
        *(text for row in report.get("answers", ()) for text in row.get("cautions", ())),
    ]
    charts = [spec for spec in report.get("charts", ()) if spec["kind"] != "stroke"]
    return {**report, "cautions": list(dict.fromkeys(told)), "charts": charts, "answers": (), "thresholds": ()}


def answer_text(answer: Mapping[str, Any], width: int = 80) -> str:
    """One answer: cautions, result, further results, worked lines, where not to trust it, what is missing, sources."""
    lines = [*_boxed("BEFORE YOU RELY ON IT", answer.get("cautions", ()), width)]
    lines += _fit(answer.get("question") or answer.get("title") or answer["id"], width)
    lines += [*_answer_brief(answer, width), ""]
    inputs = [
        f"{words.label({'name': name, **entry})}: {words.as_typed(entry)}, {_origin(entry)}"
        for name, entry in answer.get("inputs", {}).items()
        if "rows" not in entry
    ]
    lines += [*_part("Computed from", _items(inputs, width))]
    lines += [*_part("Worked lines", _steps(answer.get("steps", ()), width, "  "))]
    lines += [*_part("For the job file", (f"  {line}" for line in answer.get("keep", "").splitlines()))]
    lines += [*_part("Sources", _items(map(words.source, answer.get("sources", ())), width))]
    stamp = [
        f"{name} {answer[key]}"
        for name, key in (("edition", "edition"), ("valvecalc", "version"), ("data", "data_version"))
        if answer.get(key)
    ]
    lines += [*_fit(", ".join(stamp), width), *([answer["link"]] if answer.get("link") else [])]
    return "\n".join(lines).rstrip() + "\n"


def _answer_brief(answer: Row, width: int) -> Iterator[str]:
    for sentence in answer.get("sentences", ()):
        yield from _fit(sentence, width, "  ")
    rows = [row for row in words.results(answer) if "rows" not in row]
    if answer.get("result") is None and not rows:
        yield "  no value"
    for row in rows:
        told = f"{words.label(row)} = {words.result(row)}"
        if row.get("uncertainty"):
            told += " (k = 2)"
        yield from _fit(_judged(row["verdict"], told) if row.get("verdict") else told, width, "  ")
    for row in answer.get("meaning", ()):
        yield from _fit(f"What it means: {_judged(row['verdict'], words.label(row, 'result'))}", width, "  ")
        yield from _fit(f"Held against: {row['against']}", width, "    ")
        yield from _fit(row["means"], width, "    ")
        if check := row["next"]:
            yield from (f"  ! {line}" for line in wrap(check["caution"], width - 4))
            yield from _fit(f"Next: {check['title']} (page {check['page']})", width, "  ")
    for told in words.outside(answer):
        yield from _fit(f"Trust it less: {told}", width, "  ")
    for row in answer.get("missing", ()):
        yield from _fit(f"Missing: {words.missing(row)}", width, "  ")


def _replacement(told: Mapping[str, Any], said: set[str], width: int) -> Iterator[str]:
    if not told:
        return
    yield from _boxed("BEFORE ANY VALVE IS CHANGED", [text for text in told["cautions"] if text not in said], width)
    yield replacement.TITLE
    for text in (replacement.files(told), told["headline"], *told.get("notes", ())):
        yield from _fit(text, width, "  ")
    for row in told["candidates"]:
        yield from _boxed(f"{row['id']}: BEFORE IT IS FITTED", row["cautions"], width)
        yield from _items([_judged(row["verdict"], replacement.named(row))], width, "")
        yield from _fit(" ".join(replacement.reasons(row)), width, "    ")
    yield from _items([f"{row['what']}: {row['figure']}" for row in told.get("request", ())], width)
    yield from _items([f"To be found out: {row['what']}" for row in told["find_out"]], width)
    yield from _items([f"Fault of the list: {text}" for text in replacement.faults(told)], width)
    yield ""


def _steps(steps: Sequence[Row], width: int, indent: str) -> Iterator[str]:
    for step in steps:
        yield from _fit(f"{words.label(step)}:", width, indent)
        symbol, said = words.worked(step)
        for place, told in enumerate(said):
            yield from _fit(f"{symbol if place == 0 else ' ' * len(symbol)} = {told}", width, indent + "  ")
        yield from _steps(step.get("steps", ()), width, indent + "    ")


def _chart(spec: Row, width: int) -> Iterator[str]:
    if spec["kind"] == "bars":
        known = [abs(row["value"]) for row in spec["rows"] if row["value"] is not None]
        broad = max((len(row["label"]) for row in spec["rows"]), default=0)
        broad = min(broad, width // 3)
        for row in spec["rows"]:
            if row["value"] is None:
                yield from _fit(f"{row['label']}: not known", width, "  ")
                continue
            told = f"{quantity(row['value'], spec.get('unit', ''))}, {row['basis']}"
            size = round(abs(row["value"]) / (max(known) or 1) * (width - broad - 34))
            first, *more = wrap(row["label"], broad) or [""]
            yield f"  {first:<{broad}}  {told:<27} {'#' * size}".rstrip()
            yield from (f"  {line}" for line in more)
    elif spec["kind"] == "margin":
        bands = spec["bands"]
        value = spec["value"]
        band = None if value is None else next((b for b in bands if value < b["to"]), bands[-1])
        yield from _fit(percent(value, spec.get("half_width")) + (f": {band['label']}" if band else ""), width, "  ")
    elif worst := spec.get("worst"):
        left = quantity(worst["margin"], spec["unit_y"])
        yield from _fit(f"weakest: {left} left at {quantity(worst['x'], spec['unit_x'])}", width, "  ")


def _threshold(row: Row) -> str:
    told = f"{words.label(row, 'entry')}: now {words.measured(row.get('as_is'))}."
    return f"{told} {row.get('sentence', '')}".strip()


def _origin(entry: Row) -> str:
    source = entry.get("source")
    return words.origin(entry.get("origin")) + (f" ({source})" if source else "")


def _sign(verdict: str) -> str:
    return SIGNS[form(verdict)]


def _judged(verdict: str, told: str) -> str:
    return f"{_sign(verdict)} {words.verdict(verdict)}: {told}".strip(": ")


def _fit(text: str, width: int, indent: str = "") -> list[str]:
    return wrap(text, width, initial_indent=indent, subsequent_indent=indent + ("  " if indent else ""))


def _items(texts: Iterable[str], width: int, bullet: str = "- ") -> list[str]:
    return [line for text in texts for line in _fit(f"{bullet}{text}", width, "  ")]


def _part(title: str, body: Iterable[str]) -> list[str]:
    lines = list(body)
    return [*([title] if title else []), *lines, ""] if lines else []


def _boxed(title: str, texts: Sequence[str], width: int) -> list[str]:
    if not texts:
        return []
    body = [line for text in texts for line in _fit(text, width - 2)]
    return [f"! {title}", *(f"! {line}" for line in body), ""]
