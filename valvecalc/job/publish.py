"""Works a job into its report and writes it: page, JSON, text and PDF into a folder, all or nothing."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import date
from hashlib import sha256
from pathlib import Path
from typing import Any

from valvecalc.job.compute import compute
from valvecalc.job.function import symbol
from valvecalc.job.read import read_job
from valvecalc.job.report import report
from valvecalc.job.sealed import last_day, made_from, seal
from valvecalc.job.verdict import say
from valvecalc.report import html, pdf, pictures, text
from valvecalc.report.digest import as_file
from valvecalc.writing import write_together


def work_job(
    job_path: Path, shop_path: Path | None = None, progress: Callable[[str], None] = lambda _: None
) -> dict[str, Any]:
    """The report of a job file as plain data, sealed. Raises InputError with every fault of the files.

    No clock is read: the report is of the last day that the job tells of, so that it can be made again.
    """
    job = read_job(job_path, shop_path)
    source = made_from(job_path, shop_path)
    day = last_day(source)
    drawn = symbol(job)
    told = report(job, compute(job, progress), day or date.min) | {"symbol": drawn}
    if day is None:
        told["made"] = ""
        told["assumed"] += [say("notes", "no_day")] if told["instruments"] else []
    told["shop"] |= {"paper": job.shop.paper} | ({"site": job.shop.site} if job.shop.site else {})
    for row in told.get("photos", ()):
        picture = pictures.photo_file(job_path.parent, row["file"])
        if picture is not None:
            taken = picture.read_bytes()
            row |= {"sha256": sha256(taken).hexdigest(), "size": len(taken)}
    return seal(told, source)


def file_stem(told: dict[str, Any]) -> str:
    """A file name from the job's id: letters, digits, dot, dash; anything else becomes a dash."""
    kept = "".join(letter if letter.isalnum() or letter in ".-_" else "-" for letter in str(told["job"]["id"]))
    return kept.strip(".-") or "report"


def publish(told: dict[str, Any], folder: Path, photos: Path | None = None) -> list[Path]:
    """Write ID.html, ID.json, ID.txt and, where typst is installed, ID.pdf; photos are looked for in `photos`.

    What sets the PDF works outside Python: page and text are made meanwhile.
    """
    stem = file_stem(told)
    as_json, beside_it = as_file(told), pictures.beside(told, photos)
    with ThreadPoolExecutor(1) as beside:
        paper = beside.submit(pdf.render, told, photos, as_json) if pdf.available() else None
        contents = {
            f"{stem}.html": html.render(told, beside_it).encode(),
            f"{stem}.json": as_json.encode(),
            f"{stem}.txt": text.render(told).encode(),
        }
        if paper is not None:
            contents[f"{stem}.pdf"] = paper.result()
    return write_together(folder, contents)
