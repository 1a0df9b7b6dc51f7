"""Does a report still say what it said, and do its calculations give the same today?

Three answers. *altered*: it is not what was written (its digest does not fit, its figures do not follow from the job
in it, or the pages of the PDF are not those of its data). *differs by version*: it is as it was written, and this
version gives other figures. *same*: as it was written, and every figure again.

A digest finds a change; who made it is told by a signature only. Whoever changes a reading in the job, works the job
anew and seals it has made another report.
"""

from collections.abc import Iterator, Mapping, Sequence
from math import isclose
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple

from valvecalc.errors import InputError, NoValue
from valvecalc.report.digest import digest
from valvecalc.version import VERSION, data_version

SAME, ALTERED, BY_VERSION, UNKNOWN = "same", "altered", "differs by version", "cannot tell"

#: Parts that are not worked anew: what says which version and what it was made from, and what rests on files that
#: stay in the shop.
_NOT_ANEW = ("version", "data_version", "digest", "made_from", "replacement", "photos", "photo")
#: More places than these are not named one by one.
MOST = 20

Change = dict[str, Any]


class Verified(NamedTuple):
    """The answer, why, and what was compared.

    changes       {"what", "was", "now"}: places that are not as they were written, or not as they are worked now
    calculations  {"id", "edition", "edition_now"}: calculations whose edition changed
    data          files of data that changed
    unchecked     what was not compared, in words
    """

    answer: str
    why: str
    changes: list[Change]
    calculations: list[Change]
    data: list[str]
    unchecked: list[str]


#: What comes of data that have not the shape of a report: a text where a table should be, a chart of no known kind.
_NO_REPORT = (AttributeError, IndexError, KeyError, TypeError, ValueError, RuntimeError)


def verify(told: Mapping[str, Any], pages: bytes | None = None) -> Verified:
    """Hold a report against its digest, work it anew, and hold its PDF or its page against its data."""
    try:
        return _verify(told, pages)
    except _NO_REPORT as fault:
        why = f"Its content has not the shape of a report ({type(fault).__name__}: {fault})."
        return Verified(ALTERED, why, [], [], [], [])


def _verify(told: Mapping[str, Any], pages: bytes | None) -> Verified:
    from valvecalc.job.sealed import work_anew

    unchecked: list[str] = []
    if not isinstance(told.get("digest"), str) or not _can_be_worked(told.get("made_from")):
        why = "The report carries no digest or not the job that it was made from: it was written by an older version."
        return Verified(UNKNOWN, why, [], [], [], [])
    whole = told["digest"] == digest(told)
    same_version = (told.get("version"), told.get("data_version")) == (VERSION, data_version())
    try:
        now: Mapping[str, Any] | None = work_anew(told)
        fault = ""
    except (InputError, NoValue, *_NO_REPORT) as trouble:
        now, fault = None, str(trouble)
    changes = [] if now is None else list(_differences(_worked(told), _worked(now)))
    if not whole:
        why = "The digest does not fit the content."
        why += "" if changes or fault else " No figure that is worked anew is touched: words, data or the digest are."
        return Verified(ALTERED, f"{why} {fault}".strip(), changes[:MOST], [], [], unchecked)
    if same_version and (changes or fault):
        why = "The digest fits, but the report does not follow from the job that it carries."
        return Verified(ALTERED, f"{why} {fault}".strip(), changes[:MOST], [], [], unchecked)
    if pages is not None:
        told_apart = _pages if pages.startswith(b"%PDF") else _page
        if why := told_apart(told, pages, unchecked):
            return Verified(ALTERED, why, [], [], [], unchecked)
    if told.get("replacement"):
        unchecked.append("the replacement: its duty and stock list stay in the shop")
    if same_version:
        return Verified(SAME, "As it was written; every calculation gives the same again.", [], [], [], unchecked)
    return _other_version(told, now, fault, unchecked)


def _can_be_worked(source: Any) -> bool:
    return isinstance(source, dict) and isinstance(source.get("job"), dict)


def _other_version(
    told: Mapping[str, Any], now: Mapping[str, Any] | None, fault: str, unchecked: list[str]
) -> Verified:
    """As it was written, by another version or other data: do the figures hold?"""
    from valvecalc.job.sealed import data_files

    source = told["made_from"]
    then, editions = source.get("editions", {}), now["made_from"]["editions"] if now else {}
    calculations = [
        {"id": name, "edition": edition, "edition_now": editions.get(name)}
        for name, edition in then.items()
        if now is not None and editions.get(name) != edition
    ]
    files = data_files()
    data = sorted(name for name in {*files, *source.get("data", {})} if files.get(name) != source["data"].get(name))
    by = f"Written by valvecalc {told.get('version')} with data {told.get('data_version')}"
    if now is None:
        why = f"{by}; this version cannot work its job: {fault}"
        return Verified(BY_VERSION, why, [], [], data, unchecked)
    figures = list(_differences(_figures(told), _figures(now)))
    if not figures and not calculations:
        why = f"{by}; this version, {VERSION} with data {data_version()}, gives the same figures."
        return Verified(SAME, why, [], [], data, unchecked)
    why = f"{by}; this version, {VERSION} with data {data_version()}, works it otherwise."
    return Verified(BY_VERSION, why, figures[:MOST], calculations, data, unchecked)


def _worked(told: Mapping[str, Any]) -> dict[str, Any]:
    kept = {key: one for key, one in told.items() if key not in _NOT_ANEW}
    shots = [{key: row.get(key) for key in ("file", "caption", "stage")} for row in told.get("photos", ())]
    return kept | ({"photos": shots} if shots else {})  # whether a file is there is the shop's


def _figures(told: Mapping[str, Any]) -> dict[str, Any]:
    """Figures and verdicts without their words: those may be put better in another version."""
    answers = {}
    for place, row in enumerate(told.get("answers", ()), 1):
        results = {
            one["name"]: {key: one[key] for key in ("value", "unit", "uncertainty", "verdict", "rows") if key in one}
            for one in row.get("results", ())
        }
        answers[f"{place}, {row.get('id')}"] = results
    judged = [[row.get("subject"), row.get("verdict")] for row in told.get("verdicts", ())]
    return {"headline": (told.get("headline") or {}).get("verdict"), "answers": answers, "verdicts": judged}


def _differences(was: Any, now: Any, place: str = "") -> Iterator[Change]:
    """Every place at which two pieces of plain data differ, named by its keys."""
    if isinstance(was, Mapping) and isinstance(now, Mapping):
        for key in dict.fromkeys((*was, *now)):
            where = f"{place} › {key}" if place else str(key)
            yield from _differences(was.get(key), now.get(key), where)
    elif isinstance(was, Sequence) and isinstance(now, Sequence) and not (isinstance(was, str) or isinstance(now, str)):
        for number in range(max(len(was), len(now))):
            left, right = (rows[number] if number < len(rows) else None for rows in (was, now))
            yield from _differences(left, right, f"{place} {_name(left or right, number)}")
    elif not _alike(was, now):
        yield {"what": place, "was": _told(was), "now": _told(now)}


def _alike(was: Any, now: Any) -> bool:
    """Equal; two machines may differ in the last bits of a figure."""
    if isinstance(was, bool) or isinstance(now, bool):
        return was is now
    if isinstance(was, int | float) and isinstance(now, int | float):
        return was == now or isclose(was, now, rel_tol=1e-9, abs_tol=1e-12)
    return bool(was == now)


def _name(row: Any, number: int) -> str:
    """A row by what it is called, else by its number."""
    if isinstance(row, Mapping):
        for key in ("id", "entry", "name", "subject", "what", "title"):
            if isinstance(row.get(key), str):
                return f"{number + 1} ({row[key]})"
    return str(number + 1)


def _told(one: Any) -> str:
    text = "nothing" if one is None else str(one)
    return text if len(text) <= 80 else f"{text[:77]}…"


def _page(told: Mapping[str, Any], page: bytes, unchecked: list[str]) -> str:
    """Why a page for the browser is not that of its data, "" where it is or cannot be compared (then it is said)."""
    from valvecalc.report import html, qr
    from valvecalc.report.pictures import carried
    from valvecalc.report.reopened import pictures_of

    if told.get("version") != VERSION or not qr.available():
        unchecked.append("the page itself: the valvecalc that wrote it, or what draws its codes, is not here")
        return ""
    wanted, there = carried(told), pictures_of(page)
    lacking = [name for name, mark in wanted.items() if mark not in there]
    if lacking:
        return f"Photographs of the report are not in the page as they were: {', '.join(lacking)}."
    made = html.render(told, {name: there[mark] for name, mark in wanted.items()})
    return "" if made.encode() == page else "The page is not the one that its data give."


def _pages(told: Mapping[str, Any], pdf: bytes, unchecked: list[str]) -> str:
    """Why the pages of a PDF are not those of its data, "" where they are or cannot be compared (then it is said)."""
    from valvecalc.report import pdf as paper
    from valvecalc.report.reopened import set_by

    if told.get("version") != VERSION or not paper.available():
        unchecked.append("the pages of the PDF: the valvecalc and typst that set them are not here")
        return ""
    with TemporaryDirectory() as folder:
        lacking = _photos_again(told, pdf, Path(folder))
        made = paper.render(told, Path(folder))
    if made == pdf:
        return ""
    if set_by(made) != set_by(pdf):
        unchecked.append(f"the pages of the PDF: they were set by {set_by(pdf)}, here is {set_by(made)}")
    elif lacking and lacking[0].lower().endswith((".jpg", ".jpeg")):
        return f"Photographs of the report are not in the PDF as they were: {', '.join(lacking)}."
    elif lacking:
        unchecked.append("the pages of the PDF: photographs other than JPEG cannot be taken out of it as they were")
    else:
        return "The pages of the PDF are not those that its data give."
    return ""


def _photos_again(told: Mapping[str, Any], pdf: bytes, folder: Path) -> list[str]:
    """Lay the photographs that a PDF carries where the report looks for them; the names of those it does not carry."""
    from valvecalc.report.pictures import photo_name, photo_rows
    from valvecalc.report.reopened import photographs

    wanted = {photo_name(row): str(row["sha256"]) for row in photo_rows(told) if row.get("sha256")}
    carried = photographs(pdf) if wanted else {}
    lacking = []
    for name, mark in wanted.items():
        place = (folder / name).resolve()
        if mark in carried and place.is_relative_to(folder.resolve()):
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(carried[mark])
        else:
            lacking.append(name)
    return sorted(lacking, key=lambda name: not name.lower().endswith((".jpg", ".jpeg")))
