"""Checks and fields that a shop writes into its shop.toml, and the answers to them in a job file."""

import re
from collections.abc import Mapping, Sequence
from math import inf
from typing import Any, NamedTuple

from valvecalc.errors import InputError, Trouble, nearest
from valvecalc.job.fields import Field, field, fields, record_tables
from valvecalc.job.risk import risk
from valvecalc.judge import limit_of
from valvecalc.uncertainty import decide
from valvecalc.units import dimension_of, read

Row = Mapping[str, Any]

_KEY = re.compile(r"[a-z][a-z0-9_]*")


class Check(NamedTuple):
    """A check of the shop: with a unit it asks for a reading, without one for yes or no.

    at_least, at_most  limits as written, and in SI; `good` is the answer that passes
    """

    id: str
    title: str
    unit: str
    at_least: tuple[str, float] | None
    at_most: tuple[str, float] | None
    good: bool | None
    caution: str

    @property
    def dimension(self) -> str:
        """Dimension of its reading."""
        return dimension_of(self.unit)


def own_checks(rows: Sequence[Row], where: str) -> tuple[dict[str, Check], list[Trouble]]:
    """The checks of shop.toml by id, and every fault of them."""
    found: dict[str, Check] = {}
    troubles: list[Trouble] = []
    for number, row in enumerate(rows, 1):
        name, place = row.get("id", ""), f"check {number}"
        if not name:
            troubles.append(Trouble(f"{place}.id", "nothing", "an id", "A job answers the check by it: plug-gasket."))
        elif name in found:
            troubles.append(Trouble(f"{place}.id", repr(name), "an id of its own", "Each check has one id."))
        try:
            limits = {key: _limit(f"{place}.{key}", row, key) for key in ("at_least", "at_most")}
        except InputError as fault:
            troubles += [
                one._replace(entry=f"{place}.unit" if one.entry == "unit" else one.entry) for one in fault.troubles
            ]
            continue
        if "unit" in row and "good" in row:
            do = "A reading is held against at_least and at_most; good is for yes or no."
            troubles.append(Trouble(f"{place}.good", "a unit beside it", "one of the two", do))
        found[name] = Check(
            name, row.get("title", name), row.get("unit", ""), limits["at_least"], limits["at_most"],
            row.get("good"), row.get("caution", ""),
        )  # fmt: skip
    return found, [trouble._replace(where=where) for trouble in troubles]


def _limit(place: str, row: Row, key: str) -> tuple[str, float] | None:
    if "unit" in row:
        dimension = dimension_of(row["unit"])
        return (row[key], read(row[key], place, dimension).si) if key in row else None
    if key in row:
        raise InputError(Trouble(place, repr(row[key])[:60], "a unit of the check", 'Add unit = "N" or the like.'))
    return None


def own_fields(rows: Sequence[Row], where: str) -> tuple[dict[str, dict[str, Field]], list[Trouble]]:
    """The fields that a shop adds to tables of the record, and every fault of them."""
    found: dict[str, dict[str, Field]] = {}
    troubles: list[Trouble] = []
    for number, row in enumerate(rows, 1):
        table, key, place = row.get("table", ""), row.get("key", ""), f"field {number}"
        if table not in record_tables():
            near = ", ".join(nearest(table, record_tables()) or record_tables())
            troubles.append(Trouble(f"{place}.table", repr(table), "a table of the record", f"Nearest: {near}."))
        elif not _KEY.fullmatch(key) or key in fields("job", table):
            do = "Small letters, digits and _; no key that the table has already."
            troubles.append(Trouble(f"{place}.key", repr(key)[:60], f"a new key of {table}", do))
        else:
            found.setdefault(table, {})[key] = field(key, row.get("kind", "text"), row.get("meaning", ""))
    return found, [trouble._replace(where=where) for trouble in troubles]


def answer_fault(row: Row, checks: Mapping[str, Check]) -> Trouble | None:
    """What is wrong with an answer to a check: no such check, or yes where a reading is asked."""
    check = checks.get(row.get("id", ""))
    if check is None:
        near = ", ".join(nearest(row.get("id", ""), checks) or checks) or "none"
        return Trouble("id", repr(row.get("id", "nothing"))[:60], "a check of shop.toml", f"It knows: {near}.")
    wanted, other = ("reading", "answer") if check.unit else ("answer", "reading")
    if other in row:
        need = f"a {wanted}" + (f" in {check.unit}" if check.unit else ": true or false")
        return Trouble(other, "this key", need, f"Check {check.id} asks for it.")
    return None


def verdict_rows(rows: Sequence[Row], checks: Mapping[str, Check], own: Mapping[str, float]) -> list[dict[str, str]]:
    """The answers of a job to the shop's checks, each judged where the shop gave a limit."""
    return [told for row in rows if (told := _judged(row, checks[row["id"]], own))]


def _judged(row: Row, check: Check, own: Mapping[str, float]) -> dict[str, str] | None:
    if "answer" in row:
        said, good = "yes" if row["answer"] else "no", check.good
        verdict = "unknown" if good is None else "accept" if row["answer"] is good else "reject"
        wanted = "" if good is None else f"; wanted {'yes' if good else 'no'}"
        text = f"{said}{wanted}."
    elif "reading" in row:
        text, verdict = _held(row["reading"], check, limit_of("decision-factor", dict(own)))
    else:
        return None
    text = " ".join(filter(None, (text[:1].upper() + text[1:], row.get("note", ""))))
    return {"subject": check.title, "verdict": verdict, "sentence": text}


def cautions_of(rows: Sequence[Row], checks: Mapping[str, Check]) -> list[str]:
    """What can hurt in the checks that were answered, each once."""
    return list(dict.fromkeys(caution for row in rows if (caution := checks[row["id"]].caution)))


def _held(reading: Any, check: Check, factor: float) -> tuple[str, str]:
    """A reading in words with its limits, and the verdict with the guard band."""
    from valvecalc.job.readings import as_read

    entry = reading.entry
    u = sum(one * one for one, _ in entry.spreads) ** 0.5
    words, verdicts = [], []
    for sign, word, limit in ((">=", "at least", check.at_least), ("<=", "at most", check.at_most)):
        if limit is not None:
            words.append(f"{word} {limit[0]}")
            verdicts.append(decide(entry.si, u, sign, limit[1], factor))
    doubt = "" if u or not words else ", uncertainty not known"
    text = f"{as_read(entry)}{doubt}{'; wanted ' if words else ''}{' and '.join(words)}."
    low, high = (limit[1] if limit else end for limit, end in ((check.at_least, -inf), (check.at_most, inf)))
    for word in ("reject", "cannot-tell", "accept"):
        if word in verdicts:
            return text + risk(word, entry.si, u, low, high), word
    return text, "unknown"
