"""What a job gives to each check: the entries, held against the limits of the sheets, all faults together."""

from collections.abc import Mapping
from typing import Any

from valvecalc.answer import Entry
from valvecalc.door import find
from valvecalc.entries import read_entries
from valvecalc.errors import InputError, Trouble
from valvecalc.job.raw import cable_ohms, lowest_voltage, raw_entries, winding_20
from valvecalc.job.read import Job
from valvecalc.job.spots import SPOTS, entry_of, given_of, spots
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_si, show

Row = Mapping[str, Any]


def all_entries(job: Job) -> tuple[dict[str, dict[str, dict[str, Entry]]], list[Trouble]]:
    """The entries of every check, each held against the limits of its sheet."""
    found: dict[str, dict[str, dict[str, Entry]]] = {
        name: {} for name in ("coil-check", "bench-margin", "leak-check", "test-cylinder", *SPOTS)
    }
    troubles: list[Trouble] = []

    def take(card_id: str, label: str, given: dict[str, Any], where: str) -> None:
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
            given["resistance_per_length"] = computed("resistance_per_length", ohms, "standard", "iec-60228")
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


def computed(name: str, si: float, origin: str, source: str = "", system: str = "metric") -> Entry:
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
        given["hot_resistance"] = computed("hot_resistance", hot, "judgement")
    if "minimum_voltage" in raw:
        given["minimum_voltage"] = raw["minimum_voltage"]
    elif (lowest := lowest_voltage(values)) is not None:
        given["minimum_voltage"] = computed("minimum_voltage", lowest, "standard", "vde-0580-extract")
    return given
