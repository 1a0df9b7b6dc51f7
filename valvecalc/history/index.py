"""Reads the folder, with an index beside the jobs that spares reading again what has not changed.

The index is only a cache: it may be deleted, cut off, damaged or written by two at once, and the answer stays the
same. It is replaced as a whole, and a folder that cannot be written to only costs time.
"""

import json
import os
from collections.abc import Iterator
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from stat import S_ISREG
from time import time_ns
from typing import Any, NamedTuple

from valvecalc.errors import InputError
from valvecalc.facts import parse_toml
from valvecalc.history.entry import Entry, clean, entry, is_job
from valvecalc.progress import Tick
from valvecalc.version import VERSION
from valvecalc.writing import write_whole

INDEX = ".valvecalc-history"
#: First line of a file of counts; such a file is no job and nobody has to be told.
COUNTS_MARK = "# valvecalc: counted cases"
#: Raised when what is kept of a job, or how it is read, changes.
EDITION = 1
#: A larger file is no job file, and a larger index none of ours.
MOST_BYTES, MOST_INDEX = 4_000_000, 200_000_000
#: A file that changed so shortly before it was read may change again without its times showing it: some disks tell
#: time in steps of two seconds.
YOUNG = 3_000_000_000

_HEAD = f"valvecalc history index {EDITION} {VERSION} {' '.join(Entry._fields)}"
_TEXTS = len(Entry._fields) - 2  # all but the two at the end

Stamp = tuple[int, int, int, int]


class Kept(NamedTuple):
    """A file of the folder: its stamp, and its job, or why it is none ("" where nobody need be told)."""

    stamp: Stamp | None
    job: Entry | None
    why: str


class Memory(NamedTuple):
    """The folder as read: jobs by file, files that were skipped with the reason, and how many had to be read."""

    jobs: list[Entry]
    skipped: list[tuple[str, str]]
    read: int


def remember(folder: Path, tick: Tick = lambda done, total: None, use_index: bool = True) -> Memory:
    """Every job below a folder, in the order of the file names. Raises OSError where the folder cannot be listed."""
    known = _load(folder) if use_index else {}
    skipped: list[tuple[str, str]] = []
    files = sorted(_files(folder, skipped))
    found: dict[str, Kept] = {}
    read = 0
    for done, name in enumerate(files):
        if done % 50 == 0:
            tick(done, len(files))
        old = known.get(name)
        path = os.path.join(folder, name)
        if old is not None and old.stamp is not None and old.stamp == _stamp_of(path):
            found[name] = old
        else:
            found[name] = _read(path, name)
            read += 1
    tick(len(files), len(files))
    if use_index and found != known:
        _save(folder, found)
    jobs = [kept.job for kept in found.values() if kept.job is not None]
    skipped += [(clean(name), kept.why) for name, kept in found.items() if kept.why]
    return Memory(jobs, sorted(skipped), read)


def _files(folder: Path, skipped: list[tuple[str, str]]) -> Iterator[str]:
    """The TOML files below the folder, but for shop.toml and what is hidden; links to folders are not followed."""
    top = os.fspath(folder)

    def trouble(fault: OSError) -> None:
        place = os.path.relpath(fault.filename, top)
        if place == ".":
            raise fault
        skipped.append((clean(place), clean(fault.strerror or "cannot be opened")))

    for here, below, names in os.walk(top, onerror=trouble):
        below[:] = [name for name in below if not name.startswith(".")]
        inside = os.path.relpath(here, top).replace(os.sep, "/")
        for name in names:
            if name.lower().endswith(".toml") and not name.startswith(".") and name.lower() != "shop.toml":
                yield name if inside == "." else f"{inside}/{name}"


def _stamp(told: os.stat_result) -> Stamp:
    """What changes when a file does: size, the times of content and of the entry, and which file it is."""
    return told.st_size, told.st_mtime_ns, told.st_ctime_ns, told.st_ino


def _stamp_of(path: str) -> Stamp | None:
    try:
        return _stamp(os.stat(path))
    except (OSError, ValueError):
        return None


def _read(path: str, name: str) -> Kept:
    """One file. Its stamp is taken before it is read, so that a change on the way shows the next time."""
    try:
        told = os.stat(path)
        if not S_ISREG(told.st_mode):
            return Kept(None, None, "no plain file")
        stamp = _stamp(told) if max(told.st_mtime_ns, told.st_ctime_ns) < time_ns() - YOUNG else None
        if told.st_size > MOST_BYTES:
            return Kept(stamp, None, f"{told.st_size // 1_000_000} MB: too large for a job file")
        with open(path, "rb") as file:
            data = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as fault:
        return Kept(None, None, clean(getattr(fault, "strerror", None) or "cannot be opened"))
    if data.startswith(COUNTS_MARK.encode()):
        return Kept(stamp, None, "")
    try:
        raw = parse_toml(data, name)
    except InputError as fault:
        return Kept(stamp, None, clean(fault.troubles[0].got))
    except ValueError:  # a number of ten thousand digits
        return Kept(stamp, None, "a number that cannot be read")
    if not is_job(raw):
        return Kept(stamp, None, "no job file" if raw else "empty")
    return Kept(stamp, entry(name, raw), "")


def _load(folder: Path) -> dict[str, Kept]:
    """The index, or nothing where there is none, or none that is whole and ours."""
    path = folder / INDEX
    try:
        told = os.stat(path)
        if not S_ISREG(told.st_mode) or told.st_size > MOST_INDEX:
            return {}
        head, digest, body = path.read_bytes().split(b"\n", 2)
        if head.decode() != _HEAD or digest.decode() != sha256(body).hexdigest():
            return {}
        return {name: _kept(name, *row) for name, row in json.loads(body).items()}
    except (OSError, ValueError, TypeError, AttributeError, RecursionError, MemoryError):
        return {}


def _kept(name: str, stamp: Any, job: Any, why: Any) -> Kept:
    """One row of the index. Raises ValueError where it is not as we write it."""
    if not isinstance(why, str) or not (stamp is None or [type(one) for one in stamp] == [int] * 4):
        raise ValueError(name)
    return Kept(None if stamp is None else (stamp[0], stamp[1], stamp[2], stamp[3]), job and _entry(name, *job), why)


def _entry(name: str, *row: Any) -> Entry:
    *texts, minutes, unread = row
    sound = len(texts) == _TEXTS - 1 and all(isinstance(one, str) for one in (*texts, *minutes, *unread))
    if not sound or not all(isinstance(one, float) for one in minutes.values()):
        raise ValueError(name)
    return Entry._make((name, *texts, minutes, tuple(unread)))


def _save(folder: Path, found: dict[str, Kept]) -> None:
    """Write the index aside and put it in place in one step; where that fails nothing is lost but time."""
    rows = {name: (kept.stamp, kept.job and kept.job[1:], kept.why) for name, kept in found.items()}
    body = json.dumps(rows, separators=(",", ":")).encode()
    with suppress(OSError):
        write_whole(folder / INDEX, f"{_HEAD}\n{sha256(body).hexdigest()}\n".encode() + body, lasting=False)
