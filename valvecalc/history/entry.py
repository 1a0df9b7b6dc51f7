"""What the memory keeps of one job file. Read softly: a field of the wrong kind counts as not written."""

import unicodedata
from collections.abc import Mapping
from datetime import date
from functools import cache
from typing import Any, NamedTuple

from valvecalc.errors import InputError
from valvecalc.facts import load_toml
from valvecalc.job.fields import fields, tables
from valvecalc.units import from_si, read

#: Longer texts are cut: a list has one line for a job.
MOST_LETTERS = 300
#: Signs that turn the order of what follows; a list of many jobs would be torn by them.
_TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
#: A number for a text (a job number without quotes) has no more digits than this.
_MOST_NUMBER = 10**18
#: Decisions after which a valve need not be sent back for its job to be done.
_DONE = ("scrap", "declined")
CAME_BACK = "came-back"


class Entry(NamedTuple):
    """One job. Texts are "" and days are "" where the file says nothing; days are YYYY-MM-DD.

    file     where the file lies, counted from the folder, parts joined by /
    minutes  minutes of work by stage, as far as they are written and can be read
    unread   fields that are there and could not be read
    """

    file: str
    id: str
    title: str
    customer: str
    machine: str
    complaint: str
    symptom: str
    killer: str
    root: str
    decision: str
    outcome: str
    received: str
    sent: str
    came_back_on: str
    minutes: dict[str, float]
    unread: tuple[str, ...]

    @property
    def open(self) -> bool:
        """Neither sent, nor heard of again, nor given up: there is still something to do."""
        return not self.sent and self.outcome in ("", "unknown") and self.decision not in _DONE

    @property
    def total(self) -> float | None:
        """Minutes of work in all; None where no stage is written."""
        return sum(self.minutes.values()) if self.minutes else None


def clean(text: str) -> str:
    """One line that a terminal and a table can show: no control signs, none that turn the order, no half letters."""
    kept = "".join(
        "\N{REPLACEMENT CHARACTER}" if "\ud800" <= sign <= "\udfff" else sign for sign in text if sign not in _TURNING
    )
    kept = " ".join("".join(" " if unicodedata.category(sign) == "Cc" else sign for sign in kept).split())
    return kept if len(kept) <= MOST_LETTERS else kept[: MOST_LETTERS - 1] + "…"


@cache
def _words(table: str, key: str) -> frozenset[str]:
    """The words of a choice that is counted."""
    return frozenset(("", *fields("job", table)[key].words))


@cache
def _tables() -> tuple[frozenset[str], frozenset[str]]:
    """Keys that a job file may have, and tables that only a duty file has."""
    ours = frozenset((*fields("job", "job"), *tables("job"))) - {"schema"}
    return ours, frozenset(load_toml("duty_fields.toml")) - ours


def is_job(raw: Mapping[str, Any]) -> bool:
    """Whether a TOML file is a job at all: a duty or a stock list may lie beside it."""
    ours, of_duty = _tables()
    stock = set(raw) <= {"schema", "valve"} and isinstance(raw.get("valve"), list)
    return not stock and not of_duty.intersection(raw) and not ours.isdisjoint(raw)


def entry(file: str, raw: Mapping[str, Any]) -> Entry:
    """What is kept of a parsed job file."""
    unread: list[str] = []

    def table(name: str) -> Mapping[str, Any]:
        found = raw.get(name, {})
        if isinstance(found, list) and found:
            found = found[0]
        if isinstance(found, dict):
            return found
        unread.append(name)
        return {}

    def text(place: Mapping[str, Any], key: str, of: str) -> str:
        value = _counted(place.get(key, ""))
        if isinstance(value, str) or (type(value) is int and abs(value) < _MOST_NUMBER):
            return clean(str(value))
        unread.append(f"{of}{key}")
        return ""

    def day(place: Mapping[str, Any], key: str, of: str) -> str:
        value = _counted(place.get(key, ""))
        try:
            return date.fromisoformat(str(value)[:10]).isoformat() if value != "" else ""
        except ValueError:
            unread.append(f"{of}{key}")
            return ""

    def choice(place: Mapping[str, Any], key: str, of: str) -> str:
        value = text(place, key, of)
        if value in _words(of.rstrip("."), key):
            return value
        unread.append(f"{of}{key}")
        return ""

    cause, decision, feedback = table("cause"), table("decision"), table("feedback")
    came_back_on = day(feedback, "came_back_on", "feedback.")
    outcome = choice(feedback, "outcome", "feedback.")
    minutes: dict[str, float] = {}
    for stage, value in table("times").items():
        took = _minutes(value)
        if took is None or stage not in fields("job", "times"):
            unread.append(clean(f"times.{stage}"))
        else:
            minutes[stage] = took
    return Entry(
        file=file,
        id=text(raw, "id", "") or clean(file.rpartition("/")[2].removesuffix(".toml")),
        title=text(raw, "title", ""),
        customer=text(raw, "customer", ""),
        machine=text(raw, "machine", ""),
        complaint=text(raw, "complaint", ""),
        symptom=text(table("finder"), "symptom", "finder."),
        killer=text(cause, "killer", "cause."),
        root=text(cause, "root", "cause."),
        decision=choice(decision, "what", "decision."),
        outcome=CAME_BACK if came_back_on and not outcome else outcome,
        received=day(raw, "received", ""),
        sent=day(table("dispatch"), "sent", "dispatch."),
        came_back_on=came_back_on,
        minutes=minutes,
        unread=tuple(unread),
    )


def _counted(value: Any) -> Any:
    """The value that counts, where it was corrected."""
    return value.get("value", "") if isinstance(value, dict) else value


def _minutes(value: Any) -> float | None:
    value = _counted(value)
    if not isinstance(value, str):
        return None
    try:
        took = from_si(read(value, "work_time", "time").si, "min", "time")
    except InputError:
        return None
    return took if took >= 0 else None


@cache
def titles(kind: str) -> dict[str, str]:
    """Titles of the fault finder's symptoms, causes or roots by name."""
    return {row["id"]: row["title"] for row in load_toml(f"faults/{kind}.toml")[kind]}
