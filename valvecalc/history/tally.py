"""Filters and counts over the jobs of a folder, as plain data: shares with what the number of jobs allows to say."""

from collections import Counter, defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from functools import lru_cache
from itertools import pairwise
from math import sqrt
from statistics import median
from typing import Any, NamedTuple
from unicodedata import normalize

from valvecalc.facts import load_toml
from valvecalc.history.entry import CAME_BACK, Entry, clean, titles
from valvecalc.job.fields import fields

HELD = "held"
#: With fewer jobs a share is not told as a figure.
FEW = 10
#: Quantile of the normal distribution for two-sided 95 %.
_Z95 = 1.959963984540054
PERIODS = ("month", "quarter", "year")
#: Most columns of a chart, and the longest gap without a job that is drawn.
COLUMNS, GAP = 24, 12

Plain = dict[str, Any]


class Wanted(NamedTuple):
    """What a list is cut down to; "" for no wish. Days are YYYY-MM-DD and belong to the span."""

    symptom: str = ""
    cause: str = ""
    decision: str = ""
    outcome: str = ""
    customer: str = ""
    machine: str = ""
    text: str = ""
    since: str = ""
    until: str = ""
    open_only: bool = False


def wished(jobs: Iterable[Entry], wish: Wanted) -> list[Entry]:
    """The jobs that fit every wish. A word fits a name or a title that it is part of."""
    return [job for job in jobs if _fits(job, wish)]


def _fits(job: Entry, wish: Wanted) -> bool:
    if wish.open_only and not job.open:
        return False
    if (wish.since and job.received < wish.since) or (wish.until and not "" < job.received <= wish.until):
        return False
    if (wish.decision and job.decision != wish.decision) or (
        wish.outcome and (job.outcome or "unknown") != wish.outcome
    ):
        return False
    return (
        _in(wish.symptom, job.symptom, titles("symptoms").get(job.symptom, ""))
        and _in(wish.cause, job.killer, titles("causes").get(job.killer, ""))
        and _in(wish.customer, job.customer)
        and _in(wish.machine, job.machine)
        and _in(wish.text, job.id, job.title, job.customer, job.machine, job.complaint)
    )


def _in(word: str, *texts: str) -> bool:
    return not word or any(_alike(word) in _alike(text) for text in texts)


@lru_cache(maxsize=4096)
def _alike(text: str) -> str:
    """The one spelling of texts that a reader takes for the same: case, and letters put together from parts."""
    return normalize("NFKC", text).casefold()


def doubles(jobs: Iterable[Entry]) -> list[Plain]:
    """Ids that more than one file carries, each with its files: a copy would be counted as a job of its own."""
    files: dict[str, list[str]] = defaultdict(list)
    for job in jobs:
        files[job.id].append(clean(job.file))
    return [{"id": clean(name), "files": each} for name, each in files.items() if name and len(each) > 1]


KEYS: Mapping[str, Callable[[Entry], Any]] = {
    "received": lambda job: job.received,
    "sent": lambda job: job.sent,
    "came-back": lambda job: job.came_back_on,
    "id": lambda job: job.id.casefold(),
    "customer": lambda job: job.customer.casefold(),
    "minutes": lambda job: job.total or "",
}
_NEWEST_FIRST = ("received", "sent", "came-back", "minutes")


def ordered(jobs: Iterable[Entry], key: str = "received", reverse: bool = False) -> list[Entry]:
    """Days the newest first, names by the alphabet; jobs that lack it stand last either way."""
    of = KEYS[key]
    rows = sorted(jobs, key=lambda job: job.file)
    have = [job for job in rows if of(job)]
    have.sort(key=of, reverse=(key in _NEWEST_FIRST) is not reverse)
    return have + [job for job in rows if not of(job)]


def span(back: int, known: int) -> tuple[float, float]:
    """The shares that so many come-backs among so many jobs allow: the score interval of E. B. Wilson (1927), 95 %."""
    share, more = back / known, _Z95**2 / known
    middle = (share + more / 2) / (1 + more)
    half = _Z95 / (1 + more) * sqrt(share * (1 - share) / known + more / (4 * known))
    low = 0.0 if back == 0 else max(middle - half, 0.0)
    return low, 1.0 if back == known else min(middle + half, 1.0)


def come_backs(jobs: Iterable[Entry]) -> Plain:
    """How many came back among those whose outcome is known; without one there is no share."""
    outcomes = Counter(job.outcome for job in jobs)
    back = outcomes[CAME_BACK]
    known = back + outcomes[HELD]
    told: Plain = {"known": known, "came_back": back, "unknown": outcomes.total() - known}
    if known:
        low, high = span(back, known)
        told |= {"share": back / known, "low": low, "high": high, "few": known < FEW}
    return told


def counted(jobs: Iterable[Entry], of: Callable[[Entry], str], names: Mapping[str, str]) -> list[Plain]:
    """How often each word of `of` comes, the most frequent first, with its come-backs; "" is what is not written."""
    groups: dict[str, list[Entry]] = defaultdict(list)
    for job in jobs:
        groups[of(job)].append(job)
    rows = [
        {"id": word, "title": names.get(word, word), "jobs": len(group)} | come_backs(group)
        for word, group in groups.items()
    ]
    return sorted(rows, key=lambda row: (-row["jobs"], row["id"] == "", row["id"]))


def times(jobs: Sequence[Entry]) -> Plain:
    """Medians: days from intake to dispatch, minutes of work in all and by stage. None where nobody wrote any."""
    days = [gone for job in jobs if (gone := _days(job)) is not None]
    totals = [job.total for job in jobs if job.total is not None]
    stages = []
    for stage in fields("job", "times"):
        took = [job.minutes[stage] for job in jobs if stage in job.minutes]
        if took:
            stages.append({"stage": stage, "median": median(took), "jobs": len(took)})
    return {
        "days": {"median": median(days) if days else None, "jobs": len(days)},
        "minutes": {"median": median(totals) if totals else None, "jobs": len(totals)},
        "stages": stages,
    }


def _days(job: Entry) -> int | None:
    if not job.received or not job.sent or job.sent < job.received:
        return None
    return (date.fromisoformat(job.sent) - date.fromisoformat(job.received)).days


def trend(jobs: Iterable[Entry], by: str = "") -> Plain:
    """Jobs and come-backs by the period of their intake, oldest first, periods without a job between them included.

    by  month, quarter or year; "" takes the finest of them that gives no more than a chart's columns
    """
    jobs = list(jobs)
    dated = [job for job in jobs if job.received]
    if not by:
        by = next((one for one in PERIODS if len(_rows(dated, one)) <= COLUMNS), PERIODS[-1])
    places = sorted({_place(job.received, by) for job in dated})
    gaps = sum(after - before > GAP for before, after in pairwise(places))
    return {"by": by, "periods": _rows(dated, by), "gaps": gaps, "no_day": len(jobs) - len(dated)}


def _rows(jobs: Iterable[Entry], by: str) -> list[Plain]:
    groups: dict[int, list[Entry]] = defaultdict(list)
    for job in jobs:
        groups[_place(job.received, by)].append(job)
    rows = []
    before: int | None = None
    for place in sorted(groups):
        if before is not None and place - before <= GAP:
            rows += [_row(empty, by, []) for empty in range(before + 1, place)]
        rows.append(_row(place, by, groups[place]))
        before = place
    return rows


def _row(place: int, by: str, jobs: list[Entry]) -> Plain:
    return {"period": _name(place, by), "jobs": len(jobs)} | come_backs(jobs)


def _place(day: str, by: str) -> int:
    year, month = int(day[:4]), int(day[5:7]) - 1
    return {"month": year * 12 + month, "quarter": year * 4 + month // 3, "year": year}[by]


def _name(place: int, by: str) -> str:
    if by == "year":
        return f"{place:04}"
    year, part = divmod(place, 12 if by == "month" else 4)
    return f"{year:04}-{part + 1:02}" if by == "month" else f"{year:04} Q{part + 1}"


def tallied(jobs: Sequence[Entry], by: str = "") -> Plain:
    """Everything that is counted over some jobs."""
    words = load_toml("words/history.toml")
    days = [job.received for job in jobs if job.received]
    unread = [job for job in jobs if job.unread]
    return {
        "jobs": len(jobs),
        "open": sum(job.open for job in jobs),
        "first": min(days, default=None),
        "last": max(days, default=None),
        "symptoms": counted(jobs, lambda job: job.symptom, titles("symptoms")),
        "causes": counted(jobs, lambda job: job.killer, titles("causes")),
        "roots": counted(jobs, lambda job: job.root, titles("roots")),
        "decisions": counted(jobs, lambda job: job.decision, words["decisions"]),
        "outcomes": counted(jobs, lambda job: job.outcome or "unknown", words["outcomes"]),
        "come_backs": come_backs(jobs),
        "times": times(jobs),
        "trend": trend(jobs, by),
        "unread": {"jobs": len(unread), "fields": sorted({name for job in unread for name in job.unread})},
    }
