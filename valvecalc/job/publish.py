"""Writes a report: page, JSON and text into a folder, all or nothing."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from valvecalc.job.compute import compute
from valvecalc.job.read import read_job
from valvecalc.job.report import report
from valvecalc.report import html, text


def work_job(
    job_path: Path, shop_path: Path | None = None, progress: Callable[[str], None] = lambda _: None
) -> dict[str, Any]:
    """The report of a job file as plain data. Raises InputError with every fault of the files."""
    job = read_job(job_path, shop_path)
    return report(job, compute(job, progress))


def file_stem(told: dict[str, Any]) -> str:
    """A file name from the job's id: letters, digits, dot, dash; anything else becomes a dash."""
    kept = "".join(letter if letter.isalnum() or letter in ".-_" else "-" for letter in str(told["job"]["id"]))
    return kept.strip(".-") or "report"


def publish(told: dict[str, Any], folder: Path) -> list[Path]:
    """Write ID.html, ID.json and ID.txt. Each is written aside first, so that nothing is left half-written."""
    stem = file_stem(told)
    contents = {
        f"{stem}.html": html.render(told),
        f"{stem}.json": json.dumps(told, ensure_ascii=False, indent=1) + "\n",
        f"{stem}.txt": text.render(told),
    }
    folder.mkdir(parents=True, exist_ok=True)
    parts = {name: folder / f".{name}.part" for name in contents}
    try:
        for name, content in contents.items():
            parts[name].write_text(content, encoding="utf-8")
        return [part.replace(folder / name) for name, part in parts.items()]
    finally:
        for part in parts.values():
            part.unlink(missing_ok=True)
