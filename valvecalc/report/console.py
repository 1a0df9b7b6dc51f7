"""`valvecalc report` and `valvecalc verify`: what they write and print, and their exit codes."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from textwrap import wrap
from typing import Any

from valvecalc.report.verify import ALTERED, BY_VERSION, SAME, UNKNOWN, Change, Verified, verify

#: The contract of the command line (0 answered, 1 read but no answer, 2 cannot be read) and the two further answers.
CODES = {SAME: 0, UNKNOWN: 1, ALTERED: 3, BY_VERSION: 4}
WIDTH = 80


def say_report(options: Any, progress: Callable[[str], None]) -> int:
    """Work a job, write its report, print it in brief or as JSON."""
    if options.estimate:
        return say_estimate(options, progress)
    from valvecalc.job.publish import publish, work_job
    from valvecalc.report import pdf
    from valvecalc.report.text import render

    job_path = Path(options.job)
    told = work_job(job_path, Path(options.shop) if options.shop else None, progress)
    folder = Path(options.to) if options.to else job_path.parent / f"{job_path.stem}-report"
    files = publish(told, folder, job_path.parent)
    if options.json:
        print(json.dumps(told, ensure_ascii=False, indent=1))
    else:
        print(render(told, brief=True))
        print("All answers, worked lines, single causes and strokes are in the files.")
        print("Written: " + ", ".join(str(path) for path in files) + ".")
    if not pdf.available():
        progress(pdf.LACKING)
    return 1 if told["headline"]["verdict"] == "cannot tell" and not told["answers"] else 0


def say_estimate(options: Any, progress: Callable[[str], None]) -> int:
    """Print the estimate of a job and write it as PDF, page, text and JSON; nothing of it is the report."""
    from valvecalc.job.estimate import estimate
    from valvecalc.job.publish import file_stem
    from valvecalc.job.read import read_job
    from valvecalc.report import pdf
    from valvecalc.report.estimate import page, text
    from valvecalc.writing import write_together

    job_path = Path(options.job)
    told = estimate(read_job(job_path, Path(options.shop) if options.shop else None))
    as_json, as_text = json.dumps(told, ensure_ascii=False, indent=1), text(told)
    contents = {"html": page(told).encode(), "json": f"{as_json}\n".encode(), "txt": as_text.encode()}
    if pdf.available():
        from valvecalc.report import pdf_estimate

        contents["pdf"] = pdf_estimate.render(told)
    folder = Path(options.to) if options.to else job_path.parent / f"{job_path.stem}-report"
    stem = f"{file_stem(told)}-estimate"
    files = write_together(folder, {f"{stem}.{end}": content for end, content in contents.items()})
    if options.json:
        print(as_json)
    else:
        print(as_text)
        print("Written: " + ", ".join(str(path) for path in files) + ".")
    if not pdf.available():
        progress(pdf.LACKING)
    return 0 if told["options"] else 1


def say_verify(options: Any) -> int:
    """Hold a report against its digest and work it anew."""
    from valvecalc.report.reopened import read_report

    told, pages = read_report(Path(options.report))
    found = verify(told, pages)
    if options.json:
        print(json.dumps(as_data(told, found), ensure_ascii=False, indent=1))
    else:
        print("\n".join(as_text(told, found)))
    return CODES[found.answer]


def as_data(told: dict[str, Any], found: Verified) -> dict[str, Any]:
    """The answer as plain data."""
    from valvecalc.version import VERSION, data_version

    report = {key: told.get(key) for key in ("version", "data_version", "made", "digest")}
    job = told.get("job")
    report["id"] = job.get("id") if isinstance(job, dict) else None
    head = {"schema": 1, "kind": "verification", "ok": True}
    return {**head, "report": report, "now": {"version": VERSION, "data_version": data_version()}, **found._asdict()}


def as_text(told: dict[str, Any], found: Verified) -> Iterator[str]:
    """The answer for a terminal."""
    job = told.get("job")
    name = job.get("id") if isinstance(job, dict) else None
    yield from wrap(f"{found.answer.upper()}: report {name or 'without a number'}. {found.why}", WIDTH)
    yield from _items("Calculations whose edition changed:", map(_edition, found.calculations))
    yield from _items("Files of data that changed:", iter(found.data))
    heading = "Not as it was written or not as its job gives it:" if found.answer == ALTERED else "Figures that differ:"
    yield from _items(heading, map(_change, found.changes))
    yield from _items("Not compared:", iter(found.unchecked))


def _items(heading: str, texts: Iterator[str]) -> Iterator[str]:
    lines = [line for text in texts for line in wrap(f"- {text}", WIDTH, subsequent_indent="  ")]
    if lines:
        yield from ("", heading, *lines)


def _edition(row: Change) -> str:
    now = "is no longer there" if row["edition_now"] is None else f"edition {row['edition_now']} now"
    return f"{row['id']}: edition {row['edition']} then, {now}"


def _change(row: Change) -> str:
    return f"{row['what']}: {row['was']} in the report, {row['now']} worked anew"
