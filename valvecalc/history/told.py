"""The shop's memory for a terminal: list, counts, the trend as bars; and the sentences that the page shares."""

import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from textwrap import wrap
from typing import Any

from valvecalc.drawing.rounding import percent, shown
from valvecalc.facts import load_toml
from valvecalc.history.entry import Entry, titles
from valvecalc.history.tally import COLUMNS

WIDTH = 100
#: Rows of a count that are told; the rest is summed up.
MOST = 12
BAR = 40
KINDS = ("symptoms", "causes", "roots", "decisions", "outcomes")

Plain = Mapping[str, Any]


def say(group: str, key: str, **fields: object) -> str:
    """A sentence of data/words/history.toml with its figures."""
    return str(load_toml("words/history.toml")[group][key]).format(**fields)


def wide(text: str) -> int:
    """How many columns of a terminal a text takes: signs of East Asia two, marks on a letter none."""
    return sum(0 if unicodedata.combining(sign) else 1 + (unicodedata.east_asian_width(sign) in "WF") for sign in text)


def fit(text: str, width: int) -> str:
    """The text cut or filled up to so many columns."""
    if wide(text) > width:
        while wide(text) > width - 1:
            text = text[:-1]
        text += "…"
    return text + " " * (width - wide(text))


def come_backs(told: Plain) -> list[str]:
    """The come-backs in sentences: how sure the share is stands in the sentence that tells it."""
    if not told["known"]:
        return [say("come_backs", "none")]
    kind = "few" if told["few"] else "some"
    ends = {key: percent(told[key]).replace(" ", "\N{NO-BREAK SPACE}") for key in ("share", "low", "high")}
    lines = [say("come_backs", kind, back=told["came_back"], known=told["known"], **ends)]
    return lines + ([say("come_backs", "unknown", unknown=told["unknown"])] if told["unknown"] else [])


def times(told: Plain) -> list[str]:
    """The medians in sentences."""
    return [
        say("times", key, jobs=told[key]["jobs"], median=shown(told[key]["median"]))
        for key in ("days", "minutes")
        if told[key]["jobs"]
    ]


def title_of(kind: str, row: Plain) -> str:
    """What a row of a count is called."""
    return str(row["title"] or say("blank", kind))


def back_of(kind: str, row: Plain) -> str:
    """The come-backs of one row, in few words; among the outcomes it would say the same twice."""
    return f"{row['came_back']} of {row['known']} came back" if row["known"] and kind != "outcomes" else ""


def drawn(told: Plain) -> tuple[list[Plain], list[str]]:
    """The periods that a chart has room for, and what has to be said beside it."""
    periods, by = told["periods"], told["by"]
    shown_, before = periods[-COLUMNS:], sum(row["jobs"] for row in periods[:-COLUMNS])
    notes = [say("trend", "cut", shown=f"{len(shown_)} {by}s", before=before)] if before else []
    notes += [say("trend", "gap")] if told["gaps"] else []
    return shown_, notes + ([say("trend", "no_day", jobs=told["no_day"], by=by)] if told["no_day"] else [])


def job_line(job: Entry) -> str:
    """One job on one line."""
    what = titles("causes").get(job.killer, job.killer)
    state = job.outcome if job.outcome not in ("", "unknown") else "open" if job.open else "-"
    cells = [
        fit(job.received or "no day", 10), fit(job.id, 14), fit(job.customer, 18), fit(what or "-", 26),
        fit(job.decision or "-", 14), state,
    ]  # fmt: skip
    return "  ".join(cells).rstrip()


def text(data: Plain, jobs: Sequence[Entry], most: int | None) -> str:
    """The whole answer; of the list no more than `most` lines."""
    return "\n".join([*_list(jobs, most), *_counts(data["counts"]), *_trend(data["counts"]["trend"])]).rstrip()


def _list(jobs: Sequence[Entry], most: int | None) -> Iterator[str]:
    listed = jobs if most is None else jobs[:most]
    yield from map(job_line, listed)
    if len(listed) < len(jobs):
        yield f"… {len(jobs) - len(listed)} more: --all lists them, filters cut them down."
    yield ""


def _counts(told: Plain) -> Iterator[str]:
    days = f", {told['first']} to {told['last']}" if told["first"] else ""
    yield f"Jobs: {told['jobs']}{days}; open: {told['open']}"
    for sentence in (*come_backs(told["come_backs"]), *times(told["times"])):
        yield from wrap(sentence, WIDTH)
    if told["unread"]["jobs"]:
        fields = ", ".join(told["unread"]["fields"][:MOST])
        yield from wrap(say("notes", "unread", jobs=told["unread"]["jobs"], fields=fields), WIDTH)
    for kind in KINDS:
        rows = told[kind]
        yield from ("", say("heads", kind))
        for row in rows[:MOST]:
            yield f"  {row['jobs']:>6}  {fit(title_of(kind, row), 56)}  {back_of(kind, row)}".rstrip()
        if rest := sum(row["jobs"] for row in rows[MOST:]):
            yield f"  {rest:>6}  in {len(rows) - MOST} others"
    if told["times"]["stages"]:
        yield from ("", say("heads", "stages"))
        for row in told["times"]["stages"]:
            yield f"  {shown(row['median']):>6}  {fit(row['stage'].replace('_', ' '), 16)}  (jobs: {row['jobs']})"


def _trend(told: Plain) -> Iterator[str]:
    periods, notes = drawn(told)
    if not periods:
        return
    yield from ("", f"{say('trend', 'title', by=told['by'])} (#: {say('trend', 'back')})")
    high = max(row["jobs"] for row in periods)
    for row in periods:
        # A come-back shows, however short the bar.
        length = -(-BAR * row["jobs"] // high)
        back = -(-BAR * row["came_back"] // high)
        bar = "#" * back + "=" * (length - back)
        yield f"  {row['period']:<8} {bar} {row['jobs']}".rstrip()
    for note in notes:
        yield from wrap(note, WIDTH)
