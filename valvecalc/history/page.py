"""The shop's memory as files: one self-contained page with the chart, and the list as CSV that no spreadsheet obeys."""

import csv
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from valvecalc.drawing import chart
from valvecalc.drawing.rounding import shown
from valvecalc.history import told
from valvecalc.history.entry import Entry, clean, titles
from valvecalc.report import parts
from valvecalc.report.html import POLICY
from valvecalc.report.style import STYLE, page_foot
from valvecalc.version import VERSION
from valvecalc.writing import write_whole

#: What a spreadsheet takes for the beginning of a formula: at the head of a cell, and after whatever may divide cells.
_FORMULA = re.compile("(^|[;,|\t\r\n\"'])(\\s*)(?=[=+\\-@＝＋－＠])")
COLUMNS = (
    "file", "id", "title", "customer", "machine", "complaint", "symptom", "killer", "root", "decision", "outcome",
    "received", "sent", "came_back_on",
)  # fmt: skip


def harmless(text: str) -> str:
    """A text for a cell: an apostrophe stands before whatever a spreadsheet could take for a formula."""
    return _FORMULA.sub(r"\1\2'", text)


def table(jobs: Iterable[Entry]) -> str:
    """The list as CSV, every cell in quotes; texts are made harmless, days and minutes are our own."""
    out = io.StringIO()
    writer = csv.writer(out, quoting=csv.QUOTE_ALL, lineterminator="\r\n")
    writer.writerow([*COLUMNS, "open", "minutes"])
    for job in jobs:
        cells = [harmless(clean(str(getattr(job, name)))) for name in COLUMNS]
        writer.writerow([*cells, "yes" if job.open else "no", "" if job.total is None else f"{job.total:g}"])
    return out.getvalue()


def spec(trend: Mapping[str, Any]) -> dict[str, Any]:
    """What the chart of the trend shows."""
    periods, notes = told.drawn(trend)
    return {
        "kind": "columns",
        "title": told.say("trend", "title", by=trend["by"]),
        "y": {"label": "jobs", "unit": ""},
        "columns": [{"label": row["period"], "value": row["jobs"], "part": row["came_back"]} for row in periods],
        "part": told.say("trend", "back"),
        "notes": notes,
    }


def page(data: Mapping[str, Any], jobs: Sequence[Entry]) -> str:
    """The page: what can be said, the chart, the counts, the list."""
    counts = data["counts"]
    title = f"Jobs of {clean(data['folder'])}"
    days = f", {counts['first']} to {counts['last']}" if counts["first"] else ""
    said = [f"Jobs: {counts['jobs']}{days}; open: {counts['open']}."]
    said += [*told.come_backs(counts["come_backs"]), *told.times(counts["times"])]
    body = [f"<h1>{parts.esc(title)}</h1>", parts.paragraphs([f"Only: {data['only']}."] if data["only"] else [])]
    body += [parts.paragraphs(said)]
    if counts["trend"]["periods"]:
        drawn = spec(counts["trend"])
        figure = f"<figure><figcaption>{parts.esc(drawn['title'])}</figcaption>{chart(drawn)}</figure>"
        body.append(parts.section("Trend", figure, "trend"))
    body += [parts.section(told.say("heads", kind), _counted(kind, counts[kind]), kind) for kind in told.KINDS]
    stages = [
        [_name(row["stage"].replace("_", " ")), shown(row["median"]), str(row["jobs"])]
        for row in counts["times"]["stages"]
    ]
    body.append(
        parts.section(told.say("heads", "stages"), parts.table(["Stage", "Median, min", "Jobs"], stages), "times")
    )
    body.append(
        parts.section(
            "Jobs",
            parts.table(["Job", "Received", "Customer", "Machine", "Cause", "Decision", "Outcome"], map(_row, jobs)),
            "jobs",
        )
    )
    skipped = [f"{row['file']}: {row['why']}" for row in data["skipped"]]
    body.append(parts.section("Files that were skipped", parts.bullets(skipped), "skipped"))
    twice = [f"{row['id']}: {', '.join(row['files'])}" for row in data["doubles"]]
    body.append(parts.section("Jobs that stand in several files, and count as often", parts.bullets(twice), "doubles"))
    body.append(f'<footer><p class="quiet">valvecalc {VERSION}</p></footer>')
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta name="color-scheme" content="light dark">'
        f"<title>{parts.esc(title)}</title><style>{STYLE}{page_foot(title)}</style></head>\n<body><main>"
        + "\n".join(part for part in body if part)
        + "</main></body></html>\n"
    )


def _name(text: str) -> str:
    """A text of any script, kept apart from what stands beside it."""
    return f"<bdi>{parts.esc(clean(text))}</bdi>" if text else ""


def _counted(kind: str, rows: Sequence[Mapping[str, Any]]) -> str:
    cells = [[_name(told.title_of(kind, row)), str(row["jobs"]), parts.esc(told.back_of(kind, row))] for row in rows]
    return parts.table(["What", "Jobs", "Of those whose outcome is known"], cells)


def _row(job: Entry) -> list[str]:
    cause = titles("causes").get(job.killer, job.killer)
    state = job.outcome or ("open" if job.open else "")
    head = _name(job.id) + (f"<br>{_name(job.title)}" if job.title else "")
    return [head, job.received, *map(_name, (job.customer, job.machine, cause, job.decision, state))]


def publish(data: Mapping[str, Any], jobs: Sequence[Entry], folder: Path) -> list[Path]:
    """Write history.html and history.csv into a folder. The mark at the head of the CSV tells a spreadsheet UTF-8."""
    contents = {"history.html": page(data, jobs).encode(), "history.csv": table(jobs).encode("utf-8-sig")}
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in contents.items():
        write_whole(folder / name, content)
    return [folder / name for name in contents]
