"""The record of a job on the page and in the terminal: as found, cause, decision, work, as left, what is still open."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from valvecalc.facts import load_toml
from valvecalc.report import parts, words
from valvecalc.report.pictures import address
from valvecalc.report.words import Row

Report = Mapping[str, Any]

#: Tables that are evidence rather than news: folded on the screen, whole on paper.
FOLDED = ("intake", "isolation", "outside")


def title(key: str) -> str:
    """The heading of a part of the record."""
    return str(load_toml("words/report.toml")["record"][key])


def no_pressure() -> str:
    """The heading over the reasons that keep pressure off."""
    return str(load_toml("words/report.toml")["gate"]["title"])


def _of(report: Report, part: str) -> list[Row]:
    return [row for row in report.get("record", ()) if row["part"] == part]


def _columns(section: Row) -> dict[str, str]:
    return {cell["name"]: cell["label"] for row in section["rows"] for cell in row}


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


# ---- the page


def page(report: Report) -> Iterator[str]:
    """The sections a customer reads first, in order."""
    yield parts.section(title("found"), _gate(report) + _sections(report, "found"), "found")
    yield parts.section(title("cause"), _sections(report, "cause", bare=True), "cause")
    yield parts.section(title("decision"), _sections(report, "decision", bare=True), "decision")
    done = report.get("job", {}).get("work_done", ())
    yield parts.section(title("work"), _list(done) + _sections(report, "work"), "work")
    yield parts.section(title("left"), _as_left(report) + _sections(report, "left"), "left")
    untested = _list(report.get("not_tested", ())) or parts.paragraphs([words.NOT_TOLD])
    yield parts.section("Not tested", untested, "not-tested")
    asked = _list(report.get("measure", ()))
    first = f"<p><strong>{parts.esc(title('measure_first'))}</strong></p>"
    yield parts.section(title("measure"), first + asked if asked else "", "measure")
    yield parts.section(title("dispatch"), _sections(report, "dispatch"), "dispatch")


def papers(report: Report, photos: Mapping[str, bytes]) -> Iterator[str]:
    """What stands at the end: corrections, photographs, times."""
    rows = [
        [_said(row["entry"]), _said(row["now"]), _said("; ".join(row["earlier"])), _said(_reason(row))]
        for row in report.get("corrections", ())
    ]
    heads = ["What", "Counts", "Stood there before", "Why"]
    yield parts.section(title("corrections"), parts.table(heads, rows), "corrections")
    rows_ = report.get("photos", ())
    shown = "".join(_photo(row, photos[row["file"]]) for row in rows_ if row.get("file") in photos)
    shots = [
        [_said(row.get(key, "")) for key in ("caption", "stage", "file", "note")]
        for row in rows_
        if row.get("file") not in photos
    ]
    listed = parts.table(["What it shows", "Taken at", "File", "Note"], shots)
    pictures_ = f'<div class="photos">{shown}</div>' if shown else ""
    yield parts.section(title("photos"), pictures_ + listed, "photos")
    yield parts.section(title("papers"), _sections(report, "papers", bare=True), "papers")


def _photo(row: Row, picture: bytes) -> str:
    caption = ", ".join(filter(None, (str(row.get("caption", "")), str(row.get("stage", "")))))
    image = f'<img src="{address(row["file"], picture)}" alt="{parts.esc(row.get("caption") or "photograph")}">'
    return f"<figure>{image}<figcaption>{_said(caption)}</figcaption></figure>"


def _said(text: object) -> str:
    """What a person wrote, in whichever direction their script runs."""
    return f"<bdi>{parts.esc(text)}</bdi>" if text else ""


def _list(texts: Sequence[object]) -> str:
    items = "".join(f"<li>{_said(text)}</li>" for text in texts)
    return f"<ul>{items}</ul>" if items else ""


def _gate(report: Report) -> str:
    gate = report.get("gate", {})
    if gate.get("closed"):
        return parts.box("caution", no_pressure(), gate["reasons"], 3)
    return parts.paragraphs([gate["ratings"]]) if gate else ""


def _sections(report: Report, part: str, bare: bool = False) -> str:
    folded, told = [], []
    for section in _of(report, part):
        body = _table(section) if section["many"] else _facts(section["rows"][0])
        if section["table"] in FOLDED:
            folded.append(f"<details><summary>{parts.esc(section['title'])}</summary>{body}</details>")
        else:
            told.append(body if bare else f"<h3>{parts.esc(section['title'])}</h3>{body}")
    return "".join([*told, *folded])


def _facts(cells: Sequence[Row]) -> str:
    rows = "".join(f"<dt>{parts.esc(_capital(cell['label']))}</dt><dd>{_said(cell['text'])}</dd>" for cell in cells)
    return f'<dl class="facts">{rows}</dl>'


def _table(section: Row) -> str:
    columns = _columns(section)
    rows = [{cell["name"]: cell["text"] for cell in row} for row in section["rows"]]
    cells = [[_said(row.get(name, "")) for name in columns] for row in rows]
    return parts.table([_capital(label) for label in columns.values()], cells)


def _as_left(report: Report) -> str:
    rows = [
        [
            _said(row["subject"]),
            f"{parts.verdict(row['found_verdict'])} {_said(row['found'])}".strip(),
            f"{parts.verdict(row['verdict'])} {_said(row['sentence'])}",
        ]
        for row in report.get("as_left", ())
    ]
    head = report.get("headline_left", {})
    said = f"<p><strong>{parts.verdict(head['verdict'])}: {parts.esc(head['sentence'])}</strong></p>" if head else ""
    said += actions(head, left=True) if head else ""
    return said + parts.table(["What was judged", "As found", "As left"], rows)


def actions(head: Row, left: bool = False) -> str:
    """What is to be done, under its heading."""
    told = parts.bullets(head.get("actions", ()))
    return f"<h3>{words.actions(head, left)}</h3>{told}" if told else ""


def _reason(row: Row) -> str:
    return ", ".join(filter(None, (row["why"], row["by"], row.get("at", ""))))


# ---- the terminal


def lines(
    report: Report, items: Callable[[Sequence[str]], list[str]], boxed: Callable[[str, Sequence[str]], list[str]]
) -> Iterator[tuple[str, list[str]]]:
    """(heading, lines) in the order of the page; `items` folds a list of texts, `boxed` a caution."""
    gate = report.get("gate", {})
    found = boxed(no_pressure().upper(), gate["reasons"]) if gate.get("closed") else []
    found += items([gate["ratings"]]) if gate and not gate["closed"] else []
    yield title("found"), found + items(_told(report, "found"))
    yield title("cause"), items(_told(report, "cause", bare=True))
    yield title("decision"), items(_told(report, "decision", bare=True))
    yield title("work"), items([*report.get("job", {}).get("work_done", ()), *_told(report, "work")])
    after = report.get("headline_left", {})
    said = [f"{words.verdict(after['verdict'])}: {after['sentence']}"] if after else []
    said += [f"{words.actions(after, left=True)}: {text}" for text in after.get("actions", ())] if after else []
    yield title("left"), items([*said, *map(_judged, report.get("as_left", ())), *_told(report, "left")])
    yield "Not tested", items(report.get("not_tested", ()) or [words.NOT_TOLD])
    asked = report.get("measure", ())
    yield title("measure"), items([title("measure_first"), *asked]) if asked else []
    yield title("dispatch"), items(_told(report, "dispatch"))


def last_lines(report: Report, items: Callable[[Sequence[str]], list[str]]) -> Iterator[tuple[str, list[str]]]:
    """The end of it: corrections, photographs, times."""
    corrections = [
        f"{row['entry']}: {row['now']}, before {'; '.join(row['earlier'])} ({_reason(row)})"
        for row in report.get("corrections", ())
    ]
    yield title("corrections"), items(corrections)
    shots = [
        ", ".join(filter(None, (row.get(key, "") for key in ("caption", "stage", "file", "note"))))
        for row in report.get("photos", ())
    ]
    yield title("photos"), items(shots)
    yield title("papers"), items(_told(report, "papers", bare=True))


def _told(report: Report, part: str, bare: bool = False) -> list[str]:
    texts = []
    for section in _of(report, part):
        for row in section["rows"]:
            said = "; ".join(f"{cell['label']}: {cell['text']}" for cell in row)
            texts.append(said if bare else f"{section['title']}. {said}")
    return texts


def _judged(row: Row) -> str:
    before = f" As found: {words.verdict(row['found_verdict'])}, {row['found']}" if row["found"] else ""
    return f"{row['subject']}: {words.verdict(row['verdict'])}, {row['sentence']}{before}"
