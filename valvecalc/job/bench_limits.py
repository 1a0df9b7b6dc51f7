"""What a reading of the bench sheet is held against before it is taken: the sheet that judges it, solved backwards."""

from collections.abc import Mapping
from typing import Any

from valvecalc.answer import Entry
from valvecalc.door import calc, fill, find, function_of
from valvecalc.entries import read_entries
from valvecalc.errors import InputError, NoValue
from valvecalc.facts import load_toml, source
from valvecalc.formula import Card
from valvecalc.job.spots import entry_of
from valvecalc.job.verdict import label as short
from valvecalc.judge import limit_of
from valvecalc.needs import lacking
from valvecalc.quantities import VOCABULARY
from valvecalc.report.words import origin
from valvecalc.solving import solve_for
from valvecalc.units import show, to_si

Row = Mapping[str, Any]
#: table of the job file -> what stands there for this line
Tables = Mapping[str, Mapping[str, Any]]

#: How far beside the limit the sheet is asked which side is good.
BESIDE = 1e-3


def held(judges: Any, tables: Tables, own: Mapping[str, float], system: str) -> dict[str, Any]:
    """Limits, expected reading, what they were worked with and what is lacking: by the first sheet that can say it."""
    first: dict[str, Any] = {}
    for judge in judges:
        found = _by(judge, tables, own, system)
        if found["limits"]:
            return found
        first = first or found
    return first


def entries_of(judge: Row, tables: Tables) -> tuple[dict[str, Any], list[str]]:
    """What the job gives to the judging sheet, the reading itself left out; and what was assumed of the rest."""
    card = find(judge["sheet"])
    given: dict[str, Any] = {}
    for name in card.entries:
        more = judge.get("more", {}).get(name)
        where = [(table, name) for table in judge["tables"]] + ([tuple(more.split("."))] if more else [])
        for table, key in where:
            value = tables.get(table, {}).get(key)
            entry = value if name in card.choices and isinstance(value, str) else entry_of(value)
            if entry is not None and name not in (judge["entry"], *judge.get("skip", ()), *given):
                given[name] = entry._replace(spreads=()) if isinstance(entry, Entry) else entry
    assumed = [name for name in judge.get("assume", {}) if name not in given]
    return given | {name: judge["assume"][name] for name in assumed}, assumed


def _by(judge: Row, tables: Tables, own: Mapping[str, float], system: str) -> dict[str, Any]:
    card, reading = find(judge["sheet"]), judge["entry"]
    given, assumed = entries_of(judge, tables)
    told: dict[str, Any] = {"sheet": card.id, "limits": [], "expected": "", "whose": "", "with": [], "needs": []}
    try:
        entries = read_entries(card, given)
    except InputError as fault:  # the job's own figure lies outside the sheet's limits
        return told | {"needs": [f"{one.entry}: {one.need}" for one in fault.troubles]}
    rule, *keys = card.judged[judge["result"]]
    results = [judge["result"]] if rule != "within-range" else keys
    values = fill(card, entries)
    missing = frozenset(name for name, value in values.items() if value is None and name != reading)
    wants = lacking(card, missing)
    needed = list(dict.fromkeys(name for result in results for name in sorted(wants.get(result, ()))))
    if needed:
        return told | {"needs": [_place(name, judge, card) for name in needed]}
    worked = calc(card.id, **given).results
    try:
        told["limits"] = _limits(card, judge, given, own, system)
        told["expected"] = _expected(card, judge, given, worked, system)
    except NoValue as why:
        return told | {"needs": [str(why)]}
    told["whose"] = _whose(judge, rule, keys, entries, own)
    used = _used(card, judge, values, told["limits"][0]["value"])
    told["with"] = [_with(card, name, values, entries, assumed, system) for name in used]
    return told


def _limits(card: Card, judge: Row, given: Row, own: Mapping[str, float], system: str) -> list[dict[str, Any]]:
    """Each end of the reading: the value at which the sheet's verdict turns, and which side of it is good."""
    rule, *keys = card.judged[judge["result"]]
    if rule == "within-range":
        low, high, most = keys
        limit = calc(card.id, **given).results[most]
        ends = [(high, limit, "good"), (low, limit, "bad")]
    elif rule == "band":
        ends = [(judge["result"], -limit_of(keys[0], dict(own)), "good")]
        ends.append((judge["result"], limit_of(keys[1], dict(own)), "good"))
    else:
        limit = limit_of(keys[0], dict(own))
        ends = [(judge["result"], one, "good") for one in ((-limit, limit) if rule == "within" else (limit,))]
    return [row for end in ends for row in _end(card, judge, given, end, rule, system)]


def _end(
    card: Card, judge: Row, given: Row, end: tuple[str, float, str], rule: str, system: str
) -> list[dict[str, Any]]:
    result, target, says = end
    reading, wanted_above = judge["entry"], rule == ">=" or (rule in ("within", "band") and target < 0.0)
    rows = []
    for answer in solve_for(card.id, reading, None, **given, **{result: target}):
        at = answer.entries[reading].si
        beyond = calc(card.id, **given, **{reading: at * (1.0 + BESIDE)}).results[result]
        good_above = (beyond >= target) if wanted_above else (beyond <= target)
        above = good_above if says == "good" else not good_above
        text = _shown(reading, at, system, 4)
        words = ("at least" if above else "at most") if says == "good" else ("worn above" if above else "bad below")
        rows.append({"word": words, "value": at, "text": text, "says": says, "above": above})
    return rows


def _expected(card: Card, judge: Row, given: Row, worked: Row, system: str) -> str:
    reading = judge["entry"]
    if "expect" in judge:
        found = sorted(worked[name] for name in judge["expect"] if name in worked)
        return " to ".join(dict.fromkeys(_shown(reading, one, system, 3) for one in found))
    if "target" not in judge:
        return ""
    roots = solve_for(card.id, reading, None, **given, **{judge["result"]: judge["target"]})
    return _shown(reading, roots[0].entries[reading].si, system, 3)


def _whose(judge: Row, rule: str, keys: Any, entries: Mapping[str, Entry], own: Mapping[str, float]) -> str:
    """Where the limit comes from: the shop, a fact with its source, or an entry of the job.

    A fact that the sheet itself reckons with (`limit_fact`) is the project's whatever the shop says.
    """
    texts = [entry_origin(entries[judge["limit_entry"]])] if judge.get("limit_entry") in entries else []
    if "limit_fact" in judge:
        texts.append(fact_origin(judge["limit_fact"], {}))
    elif rule != "within-range":
        texts += [fact_origin(key, own) for key in keys]
    return "; ".join(dict.fromkeys(texts))


def entry_origin(entry: Entry) -> str:
    """Where an entry of the job comes from; what was typed is the job's."""
    return "the job file" if entry.origin == "user" else origin(entry.origin)


def fact_origin(key: str, own: Mapping[str, float]) -> str:
    """Where a limit comes from, with its figure and its source."""
    if key in own:
        return f"{key}, the shop's own"
    fact = load_toml("defaults.toml")[key]
    told = f", {source(fact['source'])['text']}" if "source" in fact else ""
    return f"{key} {fact['value']}, {origin(fact['origin']).removeprefix('default: ')}{told}"


def _used(card: Card, judge: Row, values: Row, at: float) -> list[str]:
    """The entries that the limit rests on: words, and numbers that move what is judged when they move."""
    rule, *keys = card.judged[judge["result"]]
    results = keys if rule == "within-range" else [judge["result"]]
    missing = frozenset(name for name, value in values.items() if value is None and name != judge["entry"])
    work = function_of(card, missing)

    def judged(moved: Row) -> list[Any]:
        found = work({**values, judge["entry"]: at, **moved})
        return [found.get(name) for name in results]

    plain = judged({})
    there = [name for name in card.entries if values[name] is not None and name != judge["entry"]]
    return [
        name
        for name in there
        if not isinstance(values[name], float | int) or judged({name: _beside(name, values[name])}) != plain
    ]


def _beside(name: str, si: float) -> float:
    """A value a little off; nought is moved by as little of its unit."""
    quantity = VOCABULARY[name]
    return si * (1.0 + BESIDE) if si else to_si(BESIDE, quantity.metric, quantity.dimension)


def _with(card: Card, name: str, values: Row, entries: Mapping[str, Entry], assumed: list[str], system: str) -> str:
    """An entry behind the limit with its origin: of the job, assumed here, or the sheet's default."""
    label = short(name)
    if name in assumed:
        return f"{label} = {entries[name].text} ({load_toml('bench.toml')['words']['assumed']})"
    if name in entries:
        return f"{label} = {entries[name].text} ({entry_origin(entries[name])})"
    return f"{label} = {_shown(name, values[name], system, 4)} ({origin(card.origins[name][0])})"


def _place(name: str, judge: Row, card: Card) -> str:
    """A missing entry by its meaning and its place in the job file."""
    from valvecalc.job.fields import fields

    more = judge.get("more", {}).get(name, "")
    place = next((f"{table}.{name}" for table in judge["tables"] if name in fields("job", table)), more)
    label = card.labels.get(name) or VOCABULARY[name].meaning
    return f"{label} ({place})" if place else label


def _shown(name: str, si: Any, system: str, digits: int) -> str:
    quantity = VOCABULARY[name]
    if not isinstance(si, float | int):
        return str(si)
    return show(si, quantity.dimension, quantity.us if system == "us" else quantity.metric, digits)
