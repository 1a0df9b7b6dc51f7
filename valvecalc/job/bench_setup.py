"""At what a test of the bench sheet is run: figures of the job's duty, plate and ratings, capped by the ratings."""

from collections.abc import Callable, Mapping
from math import floor, log10
from typing import Any

from valvecalc.answer import Entry
from valvecalc.facts import fact_value, load_toml
from valvecalc.job.bench_limits import entry_origin, fact_origin
from valvecalc.job.fields import fields
from valvecalc.job.raw import lowest_voltage, raw_entries, return_ratio
from valvecalc.job.read import Job
from valvecalc.job.spots import entry_of
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_si, show, to_si

Row = Mapping[str, Any]

#: Ports that see the pressure of the pump, and where their ratings stand.
RATED = {port: f"rated_{port}" for port in ("p", "a", "b")}


class Lacking(Exception):
    """A figure cannot be worked: the places in the job file that it needs."""

    def __init__(self, *places: str) -> None:
        super().__init__(*places)
        self.places = places


def set_up(spec: Row, job: Job, coil: Row, tables: Mapping[str, Row]) -> dict[str, Any]:
    """One line of the set-up: what, figure with its origin, or what it needs."""
    told = {"what": spec["what"], "text": "", "whose": "", "needs": [], "note": ""}
    if "text" in spec:
        return told | {"text": spec["text"], "whose": basis(spec["basis"])}
    try:
        if "from" in spec:
            table, key = spec["from"].split(".")
            value = tables.get(table, {}).get(key)
            entry = entry_of(value)
            if entry is None:
                raise Lacking(spec["from"])
            return told | {"text": shown(fields("job", table)[key].words[0], entry, job), "whose": entry_origin(entry)}
        return told | FIGURES[spec["figure"]](job, coil)
    except Lacking as lack:
        return told | {"needs": [place(one) for one in lack.places]}


def basis(word: str) -> str:
    """The basis of a figure in words."""
    words = {"common-practice": "common practice, no source", "documents": "the valve's own documents"}
    return words[word]


def place(name: str) -> str:
    """A field of the job file by its meaning and place."""
    table, key = name.split(".")
    one = fields("job", table)[key]
    return f"{one.meaning or key} ({name})"


def shown(name: str, entry: Entry | float, job: Job) -> str:
    """A quantity in the units of the shop; what was typed in them stays as typed."""
    quantity = VOCABULARY[name]
    unit = quantity.us if job.shop.units == "us" else quantity.metric
    if isinstance(entry, Entry):
        if entry.unit == unit or quantity.dimension == "ratio":
            return entry.text
        return show(entry.si, quantity.dimension, unit, 4)
    return show(entry, quantity.dimension, unit, 4)


def never_above(name: str, si: float, job: Job) -> str:
    """A cap in the units of the shop, rounded down: 160 bar is 2320 psi, not 2321."""
    quantity = VOCABULARY[name]
    unit = quantity.us if job.shop.units == "us" else quantity.metric
    value = from_si(si, unit, quantity.dimension)
    step = 10.0 ** (floor(log10(value)) - 3) if value > 0.0 else 1.0
    down = floor(value / step + 1e-6) * step
    return show(to_si(down, unit, quantity.dimension), quantity.dimension, unit, 4)


def ratings(job: Job) -> float:
    """The lowest rating of P, A and B. Raises Lacking for each that is not known."""
    look = job.tables.get("outside", {})
    unknown = [f"outside.{key}" for key in RATED.values() if key not in look]
    if unknown:
        raise Lacking(*unknown)
    return min(float(look[key].si) for key in RATED.values())


def _duty(job: Job, key: str) -> Entry:
    entry = job.tables.get("duty", {}).get(key)
    if entry is None:
        raise Lacking(f"duty.{key}")
    found: Entry = entry
    return found


def _capped(job: Job, entry: Entry, most: float, what: str) -> dict[str, Any]:
    """The machine's figure where the rating allows it, else the rating and the finding."""
    if entry.si <= most:
        return {"text": shown("supply_pressure", entry, job), "whose": entry_origin(entry)}
    rating = never_above("supply_pressure", most, job)
    note = str(load_toml("bench.toml")["words"]["rating_over"]).format(
        what=what, text=shown("supply_pressure", entry, job), rating=rating
    )
    return {"text": rating, "whose": basis("documents"), "note": note}


def pressure(job: Job, coil: Row) -> dict[str, Any]:
    """The pressure of the machine, never above the ratings."""
    return _capped(job, _duty(job, "supply_pressure"), ratings(job), "The pressure")


def relief(job: Job, coil: Row) -> dict[str, Any]:
    """Setting of the stand's relief: a little above the test, never above the lowest rating."""
    most, share = ratings(job), fact_value("test-relief-above")
    wanted = min(_duty(job, "supply_pressure").si, most) * (1.0 + share)
    whose = fact_origin("test-relief-above", {}) if wanted < most else basis("documents")
    return {"text": never_above("supply_pressure", min(wanted, most), job), "whose": whose}


def proof(job: Job, coil: Row) -> dict[str, Any]:
    """Pressure of the static test at P, A and B: a share above the machine's, never above the lowest rating."""
    most = ratings(job)
    wanted = _duty(job, "supply_pressure").si * fact_value("static-test-share")
    whose = fact_origin("static-test-share", {}) if wanted < most else basis("documents")
    return {"text": never_above("supply_pressure", min(wanted, most), job), "whose": whose}


def tank_rating(job: Job, coil: Row) -> dict[str, Any]:
    """The rating of T."""
    rated = job.tables.get("outside", {}).get("rated_t")
    if rated is None:
        raise Lacking("outside.rated_t")
    return {"text": never_above("tank_pressure", rated.si, job), "whose": basis("documents")}


def tank(job: Job, coil: Row) -> dict[str, Any]:
    """Pressure at T: that of the machine, never above the rating of T."""
    rated = job.tables.get("outside", {}).get("rated_t")
    missing = [] if rated is not None else ["outside.rated_t"]
    missing += [] if "tank_pressure" in job.tables.get("duty", {}) else ["duty.tank_pressure"]
    if missing:
        raise Lacking(*missing)
    return _capped(job, _duty(job, "tank_pressure"), rated.si, "The tank pressure")


def low_volts(job: Job, coil: Row) -> dict[str, Any]:
    """The lowest voltage that must still shift it."""
    raw = raw_entries(job, coil)
    lowest = lowest_voltage({key: entry.si for key, entry in raw.items()})
    if lowest is None:
        raise Lacking("supply.minimum_voltage", "coil.nominal_voltage")
    whose = entry_origin(raw["minimum_voltage"]) if "minimum_voltage" in raw else ""
    return {
        "text": shown("minimum_voltage", lowest, job),
        "whose": whose or fact_origin("supply-below", job.shop.limits),
    }


def hold(job: Job, coil: Row) -> dict[str, Any]:
    """How long it stands under pressure before it has to shift: as on the machine, else by habit."""
    entry = job.tables.get("duty", {}).get("hold_time")
    if entry is not None:
        return {"text": entry.text, "whose": entry_origin(entry)}
    return {"text": shown("hold_time", fact_value("dwell-time"), job), "whose": fact_origin("dwell-time", {})}


def return_flow(job: Job, coil: Row) -> dict[str, Any]:
    """The flow that comes back through the valve: the pump's, times the ratio of the areas."""
    flow, duty = _duty(job, "pump_flow"), job.tables.get("duty", {})
    side = str(coil.get("cylinder_side", ""))
    missing = [f"duty.{key}" for key in ("bore_diameter", "rod_diameter") if key not in duty]
    missing += [] if side else ["coil.cylinder_side"]
    if missing:
        raise Lacking(*missing)
    ratio = return_ratio({key: entry.si for key, entry in raw_entries(job, coil).items()}, side)
    return {"text": shown("pump_flow", flow.si * ratio, job), "whose": "calculated from flow, bore and rod"}


FIGURES: Mapping[str, Callable[[Job, Row], dict[str, Any]]] = {
    "pressure": pressure, "relief": relief, "proof": proof, "tank": tank, "tank_rating": tank_rating,
    "low_volts": low_volts, "hold": hold, "return_flow": return_flow,
}  # fmt: skip
