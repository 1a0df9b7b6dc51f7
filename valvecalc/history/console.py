"""`valvecalc history`: reads the folder, cuts the list down, counts, and writes what was asked for."""

import json
import os
import re
import sys
from calendar import monthrange
from pathlib import Path
from time import monotonic
from typing import Any

from valvecalc.errors import InputError, Trouble, nearest
from valvecalc.facts import load_toml
from valvecalc.history import counts, told
from valvecalc.history.entry import Entry, clean
from valvecalc.history.index import Memory, remember
from valvecalc.history.tally import KEYS, PERIODS, Wanted, doubles, ordered, tallied, wished
from valvecalc.progress import bar

#: Lines of the list without --all, and files that are named as skipped one by one.
MOST = 20


def say(options: Any) -> int:
    """Run the command: print and return the exit code; 1 where there is no job, or none that fits."""
    wish = _wish(options)
    by = _one_of("--by", options.by or "", PERIODS)
    key = _one_of("--sort", options.sort or "received", tuple(KEYS))
    folder = _folder(options.folder)
    memory = remember(folder, bar("reading", monotonic()), not options.no_index)
    jobs = ordered(wished(memory.jobs, wish), key, options.reverse)
    only = "; ".join(f"{name} {value}" for name, value in wish._asdict().items() if value and value is not True)
    only = "; ".join(filter(None, (only, "open" if wish.open_only else "")))
    data: dict[str, Any] = {"schema": 1, "kind": "history", "ok": True, "folder": options.folder, "only": only}
    data["skipped"] = [{"file": file, "why": why} for file, why in memory.skipped]
    data["doubles"] = doubles(memory.jobs)
    data["counts"] = tallied(jobs, by)
    written = _write(options, data, jobs)
    if options.json:
        print(
            json.dumps(data | {"jobs": [_plain(job) for job in jobs], "written": written}, ensure_ascii=False, indent=1)
        )
        return 0 if jobs else 1
    _trouble(memory, data["doubles"])
    if not jobs:
        print(_nothing(memory, only, options.folder), file=sys.stderr)
        return 1
    print(told.text(data, jobs, None if options.all else MOST))
    if written:
        print(f"\nWritten: {', '.join(written)}.")
    return 0


def _wish(options: Any) -> Wanted:
    words = load_toml("words/history.toml")
    since, until = _day("--since", options.since), _day("--until", options.until, last=True)
    if since and until and until < since:
        raise InputError(Trouble("--until", until, f"{since} or later", "Turn the two round."))
    return Wanted(
        symptom=options.symptom or "",
        cause=options.cause or "",
        decision=_one_of("--decision", options.decision or "", tuple(words["decisions"])),
        outcome=_one_of("--outcome", options.outcome or "", tuple(words["outcomes"])),
        customer=options.customer or "",
        machine=options.machine or "",
        text=options.text or "",
        since=since,
        until=until,
        open_only=options.open,
    )


def _one_of(option: str, word: str, known: tuple[str, ...]) -> str:
    if word and word not in known:
        near = ", ".join(nearest(word, known)) or known[0]
        raise InputError(Trouble(option, repr(word), f"one of {', '.join(known)}", f"Nearest: {near}."))
    return word


def _day(option: str, text: str | None, last: bool = False) -> str:
    """A day; a month or a year stands for its first day, or its last."""
    if text is None:
        return ""
    found = re.fullmatch(r"([0-9]{4})(?:-(0[1-9]|1[0-2]))?(?:-([0-3][0-9]))?", text.strip())
    if found and int(found[1]):
        year, month = int(found[1]), int(found[2] or (12 if last else 1))
        days = monthrange(year, month)[1]
        day = int(found[3] or (days if last else 1))
        if 1 <= day <= days:
            return f"{year:04}-{month:02}-{day:02}"
    raise InputError(
        Trouble(option, repr(text), "a day, a month or a year", "For example 2026-05-04, 2026-05 or 2026.")
    )


def _folder(name: str) -> Path:
    do = "Name the folder that the job files lie in."
    try:
        path = Path(name)
        if path.is_dir():
            return path
        got = "a file" if path.exists() else "nothing of this name"
    except (OSError, ValueError):
        got = "a name that no system takes"
    if got == "a file":
        do = f"For this one job: valvecalc report {name}. {do}"
    raise InputError(Trouble(name or "the folder", got, "a folder of job files", do))


def _write(options: Any, data: dict[str, Any], jobs: list[Entry]) -> list[str]:
    written: list[str] = []
    if options.counts:
        found = counts.count(jobs)
        data["cases"] = {"cases": found.cases, "left_out": found.left_out}
        if found.total:
            counts.write_counts(Path(options.counts), found)
            written.append(options.counts)
            line = told.say("counts", "written", cases=found.total, symptoms=len(found.cases), file=options.counts)
        else:
            line = told.say("counts", "none")
        left = told.say("counts", "left_out", **found.left_out) if any(found.left_out.values()) else ""
        print("\n".join(filter(None, (line, left))), file=sys.stderr)
    if options.to:
        from valvecalc.history.page import publish

        written += [os.fspath(path) for path in publish(data, jobs, Path(options.to))]
    return written


def _trouble(memory: Memory, twice: list[dict[str, Any]]) -> None:
    for file, why in memory.skipped[:MOST]:
        print(f"skipped {file}: {why}", file=sys.stderr)
    if len(memory.skipped) > MOST:
        print(f"skipped {len(memory.skipped) - MOST} more; --json names all", file=sys.stderr)
    for row in twice[:MOST]:
        print(f"job {row['id']} is counted {len(row['files'])} times: {', '.join(row['files'])}", file=sys.stderr)


def _nothing(memory: Memory, only: str, folder: str) -> str:
    if memory.jobs:
        return f"No job fits, of {len(memory.jobs)}: {only}."
    return f"No job in {clean(folder)}: a job is a file that ends with .toml, as in the guide of the job file."


def _plain(job: Entry) -> dict[str, Any]:
    return job._asdict() | {"file": clean(job.file), "open": job.open}
