"""The shop's counted cases by complaint and cause, as the fault finder takes them in: diagnose --counts FILE."""

import os
from collections import Counter
from collections.abc import Iterable
from pathlib import Path
from typing import NamedTuple

from valvecalc.errors import InputError, Trouble
from valvecalc.history.entry import CAME_BACK, Entry, titles
from valvecalc.history.index import COUNTS_MARK
from valvecalc.writing import write_whole


class Counts(NamedTuple):
    """Cases by complaint and cause, and how many jobs were left out, by the first reason that held."""

    cases: dict[str, dict[str, int]]
    left_out: dict[str, int]

    @property
    def total(self) -> int:
        """All cases."""
        return sum(sum(row.values()) for row in self.cases.values())


def count(jobs: Iterable[Entry]) -> Counts:
    """A case is a closed job that did not come back, with a complaint and a killer that the finder knows."""
    symptoms, causes = titles("symptoms"), titles("causes")
    cases: dict[str, Counter[str]] = {}
    left_out = dict.fromkeys(("open", "back", "symptom", "killer"), 0)
    for job in jobs:
        if job.open:
            left_out["open"] += 1
        elif job.outcome == CAME_BACK:
            left_out["back"] += 1
        elif job.symptom not in symptoms:
            left_out["symptom"] += 1
        elif job.killer not in causes:
            left_out["killer"] += 1
        else:
            cases.setdefault(job.symptom, Counter())[job.killer] += 1
    order = {symptom: cases[symptom] for symptom in symptoms if symptom in cases}
    return Counts({symptom: dict(sorted(row.items())) for symptom, row in order.items()}, left_out)


def as_toml(found: Counts) -> str:
    """The file: a table for each complaint, cause = cases."""
    lines = [COUNTS_MARK, f"# {found.total} cases; written by valvecalc history, read by valvecalc diagnose --counts"]
    for symptom, row in found.cases.items():
        lines += ["", f"[{symptom}]", *(f"{cause} = {cases}" for cause, cases in row.items())]
    return "\n".join(lines) + "\n"


def write_counts(path: Path, found: Counts) -> None:
    """Write the file, in place of an earlier one; any other file is left alone."""
    if os.path.lexists(path) and not _is_ours(path):
        need, do = "a new name, or a file of counts", "Nothing was written over. Take another name."
        raise InputError(Trouble("--counts", f"{path}, which is something else", need, do))
    write_whole(path, as_toml(found).encode())


def _is_ours(path: Path) -> bool:
    if not path.is_file():
        return False
    with path.open("rb") as file:
        return file.read(len(COUNTS_MARK)) == COUNTS_MARK.encode()
