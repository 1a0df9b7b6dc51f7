"""What no single key of a job file shows: twins, two readings of one state, records that contradict each other."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import date
from typing import Any

from valvecalc.errors import Trouble, nearest
from valvecalc.facts import load_toml
from valvecalc.job.fields import BELOW_COIL, many
from valvecalc.job.left import TWICE, is_left

Row = Mapping[str, Any]

#: A name of the fault finder: small letters with hyphens.
_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)+")
#: A promise that no report makes.
_PROMISE = re.compile(r"\bsafe(ly)?\b", re.IGNORECASE)
#: Words of the customer and of the outside world stand as they were said.
QUOTED = ("complaint", "customer", "machine", "heard", "file")
#: Days that have to come one after the other.
DAYS = (
    ("received", "as_received.on"),
    ("received", "decision.agreed_on"),
    ("as_received.on", "dispatch.sent"),
    ("received", "dispatch.sent"),
    ("dispatch.sent", "feedback.came_back_on"),
)


def faults(head: Row, found: Mapping[str, Any], where: str) -> list[Trouble]:
    """The faults of a job file that has been read key by key; coils without a name get their number."""
    coils = found.get("coil", [])
    for number, coil in enumerate(coils, 1):
        coil.setdefault("name", str(number))
    troubles = [*_twins(coils), *(trouble for coil in coils for trouble in _states(coil, coils)), *_repairs(found)]
    troubles += [
        *_twice(found),
        *_cause(found),
        *_decision(found),
        *_not_run(found),
        *_parts(found),
        *_days(head, found),
    ]
    troubles += [*_promises("", head), *(one for name, table in found.items() for one in _promises(name, table))]
    return [trouble._replace(where=where) for trouble in troubles]


def _twins(coils: list[dict[str, Any]]) -> list[Trouble]:
    names = Counter((coil["name"], is_left(coil)) for coil in coils)
    need, do = "a name of its own for each coil", "Call them a and b."
    return [Trouble("coil.name", f"{n} coils called {name!r}", need, do) for (name, _), n in names.items() if n > 1]


def _states(coil: Row, coils: list[dict[str, Any]]) -> list[Trouble]:
    """Two readings of one state: which one counts? An AC coil is tried at several voltages in one state."""
    kind = next((row["kind"] for row in coils if row["name"] == coil["name"] and "kind" in row), "dc")
    troubles = []
    for key in BELOW_COIL:
        states = Counter((row["state"], is_left(row)) for row in coil.get(key, []) if "state" in row)
        for (state, _), n in states.items():
            if n > 1 and not (key == "pickup" and kind == "ac"):
                got, need = f'{n} of state = "{state}"', "one for each state"
                do = 'Write trials as a list: ["29.0 V", "29.3 V"].'
                troubles.append(Trouble(f"coil {coil['name']}.{key}", got, need, do))
    return troubles


def _repairs(found: Mapping[str, Any]) -> Iterator[Trouble]:
    for number, repair in enumerate(found.get("repair", []), 1):
        lands = repair.get("changes", {}).get("lands", "new")
        if lands != "new":
            do = "It takes all taper away; leave it out to keep the lands."
            yield Trouble(f"repair {number}.changes.lands", repr(lands)[:60], '"new"', do)


def _twice(found: Mapping[str, Any]) -> Iterator[Trouble]:
    """A table of one row may come once as found and once as left."""
    for name in TWICE:
        rows = found.get(name, [])
        if many("job", name) or not isinstance(rows, list):
            continue
        for left, word in ((False, "as-found"), (True, "as-left")):
            if (n := sum(is_left(row) is left for row in rows)) > 1:
                yield Trouble(name, f"{n} {word}", "one as-found, one as-left", f"Put them into one [[{name}]].")


def _cause(found: Mapping[str, Any]) -> Iterator[Trouble]:
    cause = found.get("cause", {})
    killer, victims = cause.get("killer", ""), cause.get("victims", [])
    if victims and not killer:
        do = 'A cause is never closed on a victim alone. Not known yet: killer = "unknown".'
        yield Trouble("cause.killer", "victims alone", "what killed them", do)
    if killer and killer in victims:
        yield Trouble("cause.victims", repr(killer), "another part than the killer", "Nothing is its own victim.")
    also = cause.get("also", [])
    if also and killer in ("", "unknown", *also):
        do = "The first fault is the killer, the second stands under also."
        yield Trouble("cause.also", "a second fault without another first", "two that differ", do)
    for key, names in (("killer", [killer]), ("also", also), ("victims", victims), ("root", [cause.get("root", "")])):
        known = names_of("roots" if key == "root" else "causes")
        for name in names:
            if _NAME.fullmatch(name) and name not in known and (near := nearest(name, known)):
                do = f"Nearest: {', '.join(near)}. Free words: write them with blanks."
                yield Trouble(f"cause.{key}", repr(name), "a name of the fault finder, or free words", do)


def names_of(kind: str) -> dict[str, Row]:
    """The causes or roots of the fault finder by name."""
    return {row["id"]: row for row in load_toml(f"faults/{kind}.toml")[kind]}


def _decision(found: Mapping[str, Any]) -> Iterator[Trouble]:
    what = found.get("decision", {}).get("what")
    killer = names_of("causes").get(found.get("cause", {}).get("killer", "")) if what else None
    if what == "no-fault-found" and killer is not None and killer["side"] == "valve":
        do = "A cause in the valve is a fault found; a cause on the machine is not."
        yield Trouble("decision.what", f"no-fault-found with killer {killer['id']}", "one of the two", do)
    again = any(is_left(row) for name in TWICE for row in _list(found.get(name, [])))
    if what == "scrap" and again:
        do = "Readings of another valve belong to a job of their own."
        yield Trouble("decision.what", "scrap with readings as left", "one of the two", do)
    feedback = found.get("feedback", {})
    if "came_back_on" in feedback and feedback.get("outcome", "came-back") != "came-back":
        got = f"{feedback['outcome']} with a day on which it came back"
        yield Trouble("feedback.outcome", got, "came-back, or no came_back_on", "Correct one of the two.")


def _not_run(found: Mapping[str, Any]) -> Iterator[Trouble]:
    """What was not run says why."""
    lines = [("as_received", found.get("as_received", {}), "reproduced")]
    lines += [(f"acceptance {n}", row, "result") for n, row in enumerate(found.get("acceptance", []), 1)]
    for place, row, key in lines:
        if row.get(key) == "not-run" and not row.get("why", "").strip():
            yield Trouble(f"{place}.why", "nothing", "why it was not run", "It stands under what was not tested.")


def _parts(found: Mapping[str, Any]) -> Iterator[Trouble]:
    verdicts: dict[str, str] = {}
    for row in found.get("part", []):
        name, verdict = row.get("name", ""), row.get("verdict")
        if name and verdict and verdicts.setdefault(name, verdict) != verdict:
            got = f"{name!r} as {verdicts[name]} and as {verdict}"
            yield Trouble("part.verdict", got, "one verdict for each part", "Name the parts apart: spring a, spring b.")


def _days(head: Row, found: Mapping[str, Any]) -> Iterator[Trouble]:
    for before, after in DAYS:
        first, second = (_day(_at(place, head, found)) for place in (before, after))
        if first is not None and second is not None and second < first:
            yield Trouble(after, str(second), f"{before} ({first}) or later", "Correct the day that is wrong.")


def _at(place: str, head: Row, found: Mapping[str, Any]) -> Any:
    table, _, key = place.rpartition(".")
    return (found.get(table, {}) if table else head).get(key)


def _day(text: Any) -> date | None:
    try:
        return date.fromisoformat(str(text)[:10])
    except ValueError:
        return None


def _promises(name: str, table: Any) -> Iterator[Trouble]:
    """The word that no report prints, in what the shop wrote."""
    if name == "intake":
        return
    for number, row in enumerate(_list(table), 1):
        place = f"{name} {number}." if isinstance(table, list) else f"{name}." if name else ""
        for key, value in row.items():
            texts = value if isinstance(value, list) else [value]
            if key not in QUOTED and any(isinstance(one, str) and _PROMISE.search(one) for one in texts):
                do = "Write what was tested, at what, and what was not."
                yield Trouble(f"{place}{key}", "a promise", "what was tested", f'No report says "safe". {do}')


def _list(table: Any) -> list[Any]:
    return table if isinstance(table, list) else [table]
