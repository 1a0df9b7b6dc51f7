"""All answers that the readings of a job allow: checks on each coil, leakage, cylinder, and the shift budgets."""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from valvecalc.answer import Answer, Entry
from valvecalc.compiled import fast
from valvecalc.door import NO_VALUE, find, work
from valvecalc.entries import read_entries
from valvecalc.errors import InputError
from valvecalc.formula import REGISTER
from valvecalc.job import alternating
from valvecalc.job.case import Case, build
from valvecalc.job.fit import Fit, fit
from valvecalc.job.given import all_entries, computed
from valvecalc.job.raw import lowest_voltage, needed, raw_entries
from valvecalc.job.read import Job
from valvecalc.job.remarks import remarks
from valvecalc.job.replacement import replacement
from valvecalc.job.spots import SPOTS
from valvecalc.job.windings import Winding, windings
from valvecalc.quantities import VOCABULARY
from valvecalc.uncertainty import Leaf, Spread, propagate

Row = Mapping[str, Any]


class Budget(NamedTuple):
    """The budget of one coil both ways, its single causes, and what each term rests on.

    hopeful  share in hand without flow force, where the flow-force factor is only the default; else None
    lowest   lowest voltage that must still shift it and the share in hand there, where it lies below the one found
    """

    coil: str
    case: Case
    energise: Answer
    hopeful: float | None
    lowest: tuple[float, float] | None
    release: Answer
    causes: Mapping[str, Any]
    release_causes: Mapping[str, Any]
    raw: Mapping[str, Entry]


class Findings(NamedTuple):
    """Everything a report is made from. `lacking` holds (what, coil, missing raw entries).

    left  the checks of what was read again after the work: no budgets, no notes
    """

    coils: dict[str, Answer]
    benches: dict[str, Answer]
    leaks: dict[str, Answer]
    stand: Answer | None
    budgets: dict[str, Budget]
    repairs: list[dict[str, Any]]
    go: list[dict[str, Any]]
    notes: list[tuple[str, dict[str, str]]]
    lacking: list[tuple[str, str, list[str]]]
    spots: list[tuple[str, Answer]]
    fit: Fit | None = None
    replacement: Row | None = None
    windings: tuple[Winding, ...] = ()
    only_ac: bool = False
    left: "Findings | None" = None


#: Readings of a coil that a check as left rests on; its plate alone asks for none.
OF_COIL = ("resistance", "hot_resistance", "plug_voltage")


def compute(job: Job, progress: Callable[[str], None] = lambda _: None) -> Findings:
    """Work everything. Readings outside their limits are told together, before anything is computed."""
    find("coil-check")
    other = replacement(job)
    entries, troubles = all_entries(job)
    later = job._replace(tables=job.left) if job.left else None
    after, more = all_entries(later) if later else ({}, [])
    troubles += [one._replace(entry=f"as left, {one.entry}") for one in more]
    if troubles:
        raise InputError(list(dict.fromkeys(troubles)))
    found = _checks(job, entries, progress)._replace(replacement=other)
    # the coil with the most readings first: what it tells of the spool serves the other too
    rows = job.tables.get("coil", [])
    for row in sorted(rows, key=lambda row: -len(row.get("pickup", [])) - len(row.get("push", []))):
        _coil_budget(job, row, found, progress)
    left = None
    if later:
        for row in later.tables.get("coil", []):
            if not any(key in row for key in OF_COIL):
                after["coil-check"].pop(row["name"], None)
        left = _checks(later, after, lambda what: progress(f"as left, {what}"))
        left = left._replace(fit=fit(later, job.shop.limits))
    return found._replace(notes=remarks(job, found), fit=fit(job, job.shop.limits), left=left)


def _checks(job: Job, entries: Mapping[str, Mapping[str, Any]], progress: Callable[[str], None]) -> Findings:
    """Every check that stands by itself; budgets come after it."""
    system = job.shop.units
    found = Findings({}, {}, {}, None, {}, [], [], [], [], [])
    alternate = [row for row in job.tables.get("coil", []) if row.get("kind", "dc") == "ac"]
    for name, given in entries["coil-check"].items():
        progress(f"coil {name}")
        found.coils[name] = _answer("coil-check", given, system)
        if name in [row["name"] for row in alternate]:
            alternating.trim(found.coils[name])
    for row in alternate:
        found.go.extend(alternating.readings(row))
    for name, given in entries["bench-margin"].items():
        found.benches[name] = _answer("bench-margin", given, system)
    for name, given in entries["leak-check"].items():
        found.leaks[name] = _answer("leak-check", given, system)
    for card_id in SPOTS:
        found.spots.extend((name, _answer(card_id, given, system)) for name, given in entries[card_id].items())
    stand = entries["test-cylinder"].get("stand")
    only_ac = bool(alternate) and len(alternate) == len(job.tables["coil"])
    found = found._replace(windings=tuple(windings(job)), only_ac=only_ac)
    return found._replace(stand=_answer("test-cylinder", stand, system) if stand is not None else None)


def _answer(card_id: str, given: Mapping[str, Entry], system: str) -> Answer:
    answer = work(find(card_id), given)
    answer.system = system
    return answer


def _coil_budget(job: Job, row: Row, found: Findings, progress: Callable[[str], None]) -> None:
    name = str(row["name"])
    if row.get("kind", "dc") == "ac":
        found.notes.append(("ac", {"coil": name}))
        return
    raw = _with_shared(name, raw_entries(job, row), found)
    values = {key: entry.si for key, entry in raw.items()}
    position = VOCABULARY["position"]
    lacks = needed(values, row, position.us if job.shop.units == "us" else position.metric)
    if lacks:
        found.lacking.append(("budget", name, lacks))
        return
    progress(f"budget of coil {name}")
    build_again = _remembering(job, row)
    try:
        case = build_again(values)
        energise = _budget_answer(job, build_again, case, values, raw, "energise")
        release = _budget_answer(job, build_again, case, values, raw, "release")
    except NO_VALUE as why:
        found.notes.append(("no-budget", {"coil": name, "why": str(why)}))
        found.lacking.append(("budget", name, [str(why)]))
        return
    causes = fast(find("each-cause"))
    found.budgets[name] = Budget(
        name,
        case,
        energise,
        _hopeful(case),
        _lowest(case, values),
        release,
        causes(case.valve),
        causes(case.valve._replace(direction="release")),
        raw,
    )
    _repairs(job, name, case, found)


#: What a reading at one coil tells of the spool, and the readings that would tell it at the other.
SHARED = {
    "flow_force_factor": ("flow_force", ("flow_pickup_voltage",)),
    "silt_at_start": ("silt_force", ("dwell_push", "dwell_pickup_voltage")),
    "lateral_scale": ("lateral_friction", ("blocked_push", "blocked_pickup_voltage")),
    "added_taper": ("lateral_friction", ("blocked_push", "blocked_pickup_voltage")),
    "dry_friction": ("dry_friction", ("no_pressure_push", "no_pressure_pickup_voltage", "dry_friction")),
}


def _with_shared(coil: str, raw: dict[str, Entry], found: Findings) -> dict[str, Entry]:
    """The readings of a coil, with what another coil's readings told of the spool where its own are silent."""
    taken: dict[str, list[str]] = {}
    for other in found.budgets.values():
        for name, (term, readings) in SHARED.items():
            own = any(reading in raw for reading in readings) or name in raw
            if own or other.case.bases[term] != "measured":
                continue
            spread = other.energise.spreads.get(f"case {name}")
            entry = computed(
                name, getattr(other.case.valve, name), "measured", f"coil {other.coil}", other.energise.system
            )
            raw[name] = entry._replace(spreads=((spread.u, None),) if spread is not None and spread.u > 0.0 else ())
            raw[f"shared_{term}"] = entry
            taken.setdefault(other.coil, []).append(term)
    for other_coil, terms in taken.items():
        words = ", ".join(dict.fromkeys(term.replace("_", " ") for term in terms))
        found.notes.append(("shared", {"coil": coil, "other": other_coil, "terms": words}))
    return raw


def _remembering(job: Job, row: Row) -> Callable[[Mapping[str, Any]], Case]:
    """`build` of one coil that keeps what it built: both directions move the same readings by the same steps."""
    kept: dict[tuple[Any, ...], Case] = {}

    def build_again(values: Mapping[str, Any]) -> Case:
        key = tuple(values.items())
        if key not in kept:
            kept[key] = build(job, row, values)
        return kept[key]

    return build_again


def _budget_answer(
    job: Job,
    build_again: Callable[[Mapping[str, Any]], Case],
    case: Case,
    values: Mapping[str, Any],
    raw: Mapping[str, Entry],
    direction: str,
) -> Answer:
    """The budget as an answer: each entry with its origin, the uncertainty carried through from the raw readings."""
    card = find("shift-budget")
    valve = case.valve._replace(direction=direction)
    entries = {}
    for name, si in valve._asdict().items():
        if si is None:
            continue  # edges are not listed in a job file
        if name in card.rows:
            entries[name] = Entry(f"{len(si)} rows", list(si), "", tuple(si), (), "measured")
        elif name in card.choices:
            entries[name] = Entry(str(si), si, "", si, (), "user")
        elif name in raw and raw[name].si == si:
            entries[name] = raw[name]
        elif name not in card.defaults or si != card.defaults[name]:
            entries[name] = computed(name, si, _origin(name, case), system=job.shop.units)
    answer = work(card, entries)
    answer.system = job.shop.units
    answer._spreads = _spread(build_again, values, raw, direction)
    return answer


def _origin(name: str, case: Case) -> str:
    term = {
        "silt_at_start": "silt_force",
        "flow_force_factor": "flow_force",
        "lateral_scale": "lateral_friction",
        "added_taper": "lateral_friction",
        "residual_at_end": "residual_force",
    }.get(name, name)
    return {"measured": "measured", "default": "judgement"}.get(case.bases.get(term, ""), "calculated")


def _spread(
    build_again: Callable[[Mapping[str, Any]], Case],
    values: Mapping[str, Any],
    raw: Mapping[str, Entry],
    direction: str,
) -> dict[str, Spread]:
    budget_of = fast(REGISTER["shift-budget"])
    leaves = [Leaf((name,), u, group, None) for name, entry in raw.items() for u, group in entry.spreads]

    def margins(moved: Mapping[str, Any]) -> Mapping[str, Any]:
        case = build_again(moved)
        results = budget_of(case.valve._replace(direction=direction))
        told = {name: value for name, value in results.items() if isinstance(value, float)}
        return told | {f"case {name}": getattr(case.valve, name) for name in SHARED}

    return propagate(margins, values, leaves) if leaves else {}


def _hopeful(case: Case) -> float | None:
    """The share in hand without any flow force, where nobody has read the flow-force factor: the other end."""
    if case.bases["flow_force"] != "default":
        return None
    return float(fast(REGISTER["shift-budget"])(case.valve._replace(flow_force_factor=0.0))["margin_share"])


def _lowest(case: Case, values: Mapping[str, Any]) -> tuple[float, float] | None:
    """The share in hand at the lowest voltage the valve must bear; the winding stays as hot: the careful side."""
    voltage = lowest_voltage(values)
    if voltage is None or voltage >= case.valve.coil_voltage:
        return None
    return voltage, float(fast(REGISTER["shift-budget"])(case.valve._replace(coil_voltage=voltage))["margin_share"])


def _repairs(job: Job, coil: str, case: Case, found: Findings) -> None:
    budget_of = fast(REGISTER["shift-budget"])
    card = find("shift-budget")
    for row in job.tables.get("repair", []):
        if row.get("coil", coil) != coil:
            continue
        changes = dict(row.get("changes", {}))
        new_lands = changes.pop("lands", None) == "new"
        read = {name: entry.si for name, entry in read_entries(card, changes).items()}
        if new_lands:
            clean = tuple({**land, "taper": 0.0} for land in case.valve.lands)
            read |= {"lands": clean, "added_taper": 0.0, "lateral_scale": 1.0}
        valve = case.valve._replace(**read)
        energise, release = budget_of(valve), budget_of(valve._replace(direction="release"))
        found.repairs.append(
            {"name": row.get("name", "repair"), "coil": coil, "energise": energise, "release": release}
        )
