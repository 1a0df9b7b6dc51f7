"""All answers that the readings of a job allow: checks on each coil, leakage, cylinder, and the shift budgets."""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from valvecalc.answer import Answer, Entry
from valvecalc.compiled import fast
from valvecalc.door import NO_VALUE, find, work
from valvecalc.entries import read_entries
from valvecalc.errors import InputError, Trouble
from valvecalc.formula import REGISTER
from valvecalc.job import alternating
from valvecalc.job.case import Case, build
from valvecalc.job.fit import Fit, fit
from valvecalc.job.raw import cable_ohms, lowest_voltage, needed, raw_entries, winding_20
from valvecalc.job.read import Job
from valvecalc.job.remarks import remarks
from valvecalc.job.replacement import replacement
from valvecalc.job.spots import SPOTS, entry_of, given_of, spots
from valvecalc.quantities import VOCABULARY
from valvecalc.uncertainty import Leaf, Spread, propagate
from valvecalc.units import from_si, show

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
    """Everything a report is made from. `lacking` holds (what, coil, missing raw entries)."""

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


def compute(job: Job, progress: Callable[[str], None] = lambda _: None) -> Findings:
    """Work everything. Readings outside their limits are told together, before anything is computed."""
    find("coil-check")
    other = replacement(job)
    entries, troubles = _all_entries(job)
    if troubles:
        raise InputError(troubles)
    system = job.shop.units
    found = Findings({}, {}, {}, None, {}, [], [], [], [], [], replacement=other)
    alternate = [row["name"] for row in job.tables.get("coil", []) if row.get("kind", "dc") == "ac"]
    for name, given in entries["coil-check"].items():
        progress(f"coil {name}")
        found.coils[name] = _answer("coil-check", given, system)
        if name in alternate:
            alternating.trim(found.coils[name])
    for name, given in entries["bench-margin"].items():
        found.benches[name] = _answer("bench-margin", given, system)
    for name, given in entries["leak-check"].items():
        found.leaks[name] = _answer("leak-check", given, system)
    stand = _answer("test-cylinder", entries["test-cylinder"]["stand"], system) if entries["test-cylinder"] else None
    found = found._replace(stand=stand)
    for card_id in SPOTS:
        found.spots.extend((name, _answer(card_id, given, system)) for name, given in entries[card_id].items())
    # the coil with the most readings first: what it tells of the spool serves the other too
    rows = job.tables.get("coil", [])
    for row in sorted(rows, key=lambda row: -len(row.get("pickup", [])) - len(row.get("push", []))):
        _coil_budget(job, row, found, progress)
    return found._replace(notes=remarks(job, found), fit=fit(job, job.shop.limits))


def _answer(card_id: str, given: Mapping[str, Entry], system: str) -> Answer:
    answer = work(find(card_id), given)
    answer.system = system
    return answer


def _all_entries(job: Job) -> tuple[dict[str, dict[str, dict[str, Entry]]], list[Trouble]]:
    """The entries of every check, each held against the limits of its sheet."""
    found: dict[str, dict[str, dict[str, Entry]]] = {
        name: {} for name in ("coil-check", "bench-margin", "leak-check", "test-cylinder", *SPOTS)
    }
    troubles: list[Trouble] = []

    def take(card_id: str, label: str, given: dict[str, Entry], where: str) -> None:
        try:
            found[card_id][label] = read_entries(find(card_id), given)
        except InputError as fault:
            troubles.extend(one._replace(entry=f"{where}.{one.entry}", where=job.path.name) for one in fault.troubles)

    supply = job.tables.get("supply", {})
    for row in job.tables.get("coil", []):
        name = row["name"]
        given = given_of("coil-check", row, supply)
        if row.get("kind", "dc") == "ac":
            given.pop("nominal_power", None)
        ohms = cable_ohms({key: e.si for key, e in raw_entries(job, row).items()}, supply.get("cable_kind", "flexible"))
        if ohms is not None:
            given["resistance_per_length"] = _computed("resistance_per_length", ohms, "standard", "iec-60228")
        take("coil-check", name, given, f"coil {name}")
        if row.get("kind", "dc") == "dc" and row.get("pickup"):
            take("bench-margin", name, _bench_entries(job, row), f"coil {name}")
        _check_limits(job, row, troubles)
    for number, row in enumerate(job.tables.get("leakage", []), 1):
        given = given_of("leak-check", job.tables.get("valve", {}), job.tables.get("oil", {}), row)
        if "land_length" not in given and "overlap" in job.tables.get("valve", {}):
            given["land_length"] = job.tables["valve"]["overlap"]
        path = row.get("path", f"leakage {number}")
        take("leak-check", f"{path} ({number})" if path in found["leak-check"] else path, given, f"leakage {number}")
    if "stand" in job.tables:
        take("test-cylinder", "stand", given_of("test-cylinder", job.tables["stand"]), "stand")
    for one in spots(job):
        take(*one)
    for row in job.tables.get("repair", []):
        changes = {key: value for key, value in row.get("changes", {}).items() if key != "lands"}
        try:
            read_entries(find("shift-budget"), changes)
        except InputError as fault:
            where = f"repair {row.get('name', '')!r}"
            troubles.extend(one._replace(entry=f"{where}.{one.entry}", where=job.path.name) for one in fault.troubles)
    unique = list(dict.fromkeys(troubles))
    return found, unique


def _check_limits(job: Job, row: Row, troubles: list[Trouble]) -> None:
    """Hold the readings of a budget against its limits even where there are too few of them for one."""
    card = find("shift-budget")
    tables = {
        "valve": job.tables.get("valve", {}),
        "spring": job.tables.get("spring", {}),
        "duty": job.tables.get("duty", {}),
    }
    tables[f"coil {row['name']}"] = {
        key: value
        for key, value in row.items()
        if key in ("curve_voltage", "curve_temperature", "curve_resistance_20", "force_scale")
    }
    for where, table in tables.items():
        given = {key: entry for key, value in table.items() if key in card.entries and (entry := entry_of(value))}
        try:
            read_entries(card, given)
        except InputError as fault:
            troubles.extend(one._replace(entry=f"{where}.{one.entry}", where=job.path.name) for one in fault.troubles)


def _computed(name: str, si: float, origin: str, source: str = "", system: str = "metric") -> Entry:
    quantity = VOCABULARY[name]
    unit = quantity.us if system == "us" else quantity.metric
    return Entry(
        show(si, quantity.dimension, unit), from_si(si, unit, quantity.dimension), unit, si, (), origin, source
    )


def _bench_entries(job: Job, row: Row) -> dict[str, Entry]:
    raw = raw_entries(job, row)
    values = {key: entry.si for key, entry in raw.items()}
    given: dict[str, Entry] = {}
    for state in ("no_pressure", "blocked", "dwell", "flow", "duty"):
        if f"{state}_pickup_voltage" in raw:
            given[f"{state}_voltage"] = raw[f"{state}_pickup_voltage"]
            ohms = raw.get(f"{state}_pickup_resistance", raw.get("resistance"))
            if ohms is not None:
                given[f"{state}_resistance"] = ohms
    given |= {name: raw[name] for name in ("no_pressure_push", "blocked_push", "dwell_push") if name in raw}
    if "hot_resistance" in raw:
        given["hot_resistance"] = raw["hot_resistance"]
    elif (resistance_20 := winding_20(values)) is not None:
        from valvecalc.facts import fact_value
        from valvecalc.formulas import coil

        hot = coil.winding_resistance(resistance_20=resistance_20, winding_temperature=fact_value("hot-winding"))
        given["hot_resistance"] = _computed("hot_resistance", hot, "judgement")
    if "minimum_voltage" in raw:
        given["minimum_voltage"] = raw["minimum_voltage"]
    elif (lowest := lowest_voltage(values)) is not None:
        given["minimum_voltage"] = _computed("minimum_voltage", lowest, "standard", "vde-0580-extract")
    return given


def _coil_budget(job: Job, row: Row, found: Findings, progress: Callable[[str], None]) -> None:
    name = str(row["name"])
    if row.get("kind", "dc") == "ac":
        found.notes.append(("ac", {"coil": name}))
        found.go.extend(alternating.readings(row))
        return
    raw = _with_shared(name, raw_entries(job, row), found)
    values = {key: entry.si for key, entry in raw.items()}
    position = VOCABULARY["position"]
    lacks = needed(values, row, position.us if job.shop.units == "us" else position.metric)
    if lacks:
        found.lacking.append(("budget", name, lacks))
        return
    progress(f"budget of coil {name}")
    try:
        case = build(job, row, values)
        energise = _budget_answer(job, row, case, values, raw, "energise")
        release = _budget_answer(job, row, case, values, raw, "release")
    except NO_VALUE as why:
        found.notes.append(("no-budget", {"coil": name, "why": str(why)}))
        found.lacking.append(("budget", name, [str(why)]))
        return
    causes = fast(find("single-causes"))
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
            entry = _computed(
                name, getattr(other.case.valve, name), "measured", f"coil {other.coil}", other.energise.system
            )
            raw[name] = entry._replace(spreads=((spread.u, None),) if spread is not None and spread.u > 0.0 else ())
            raw[f"shared_{term}"] = entry
            taken.setdefault(other.coil, []).append(term)
    for other_coil, terms in taken.items():
        words = ", ".join(dict.fromkeys(term.replace("_", " ") for term in terms))
        found.notes.append(("shared", {"coil": coil, "other": other_coil, "terms": words}))
    return raw


def _budget_answer(
    job: Job, row: Row, case: Case, values: Mapping[str, Any], raw: Mapping[str, Entry], direction: str
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
            entries[name] = _computed(name, si, _origin(name, case), system=job.shop.units)
    answer = work(card, entries)
    answer.system = job.shop.units
    answer._spreads = _spread(job, row, values, raw, direction)
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
    job: Job, row: Row, values: Mapping[str, Any], raw: Mapping[str, Entry], direction: str
) -> dict[str, Spread]:
    budget_of = fast(REGISTER["shift-budget"])
    leaves = [Leaf((name,), u, group, None) for name, entry in raw.items() for u, group in entry.spreads]

    def margins(moved: Mapping[str, Any]) -> Mapping[str, Any]:
        case = build(job, row, moved)
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
