"""The raw readings of one coil under flat names, and what follows from them without a budget."""

from collections.abc import Mapping
from typing import Any

from valvecalc.answer import Entry
from valvecalc.facts import fact_value, load_table
from valvecalc.formulas import budget, coil, cylinder, spring
from valvecalc.job.read import Job
from valvecalc.job.reader import Repeats
from valvecalc.units import show

Values = Mapping[str, Any]

#: How a figure is known.
MEASURED, DEFAULT = "measured", "default"

#: Two places nearer than this are one (rounding of units).
NOTHING = 1e-12


def raw_entries(job: Job, row: Mapping[str, Any]) -> dict[str, Entry]:
    """All readings that bear on one coil under flat names: `blocked_pickup_voltage`, `dwell_push`, …"""
    found: dict[str, Entry] = {}
    for table in ("valve", "spring", "oil", "supply", "duty"):
        found |= {key: entry for key, entry in job.tables.get(table, {}).items() if isinstance(entry, Entry)}
    found |= {f"limit_{key}": entry for key, entry in job.tables.get("limit_point", {}).items()}
    for key, value in row.items():
        if isinstance(value, Entry):
            found[key] = value
        elif isinstance(value, Repeats):
            found[key] = value.entry
    for reading in row.get("pickup", []):
        state = str(reading.get("state", "")).replace("-", "_")
        if "voltage" in reading:
            found[f"{state}_pickup_voltage"] = reading["voltage"].entry
        for key in ("resistance", "hold_time"):
            if key in reading:
                found[f"{state}_pickup_{key}"] = reading[key]
    for reading in row.get("push", []):
        state = str(reading.get("state", "")).replace("-", "_")
        if "force" in reading:
            found[f"{state}_push"] = reading["force"].entry
        if "hold_time" in reading:
            found[f"{state}_push_hold_time"] = reading["hold_time"]
    return found


def winding_20(values: Values) -> float | None:
    """Winding resistance at 20 °C: read, else stated, else from volts and watts."""
    if "resistance" in values and "coil_temperature" in values:
        return float(
            coil.resistance_at_20(resistance=values["resistance"], coil_temperature=values["coil_temperature"])
        )
    if "nominal_resistance_20" in values:
        return float(values["nominal_resistance_20"])
    if "nominal_voltage" in values and "nominal_power" in values:
        return float(
            coil.nominal_resistance(nominal_voltage=values["nominal_voltage"], nominal_power=values["nominal_power"])
        )
    return None


def hot_winding(values: Values, resistance_20: float) -> tuple[float, str]:
    """Winding temperature at the duty: from the hot reading, else the project's default."""
    if "hot_resistance" in values:
        found = coil.winding_temperature_from_resistance(
            cold_resistance=resistance_20,
            hot_resistance=values["hot_resistance"],
            cold_temperature=fact_value("reference-temperature"),
        )
        return float(found), MEASURED
    return float(fact_value("hot-winding")), DEFAULT


def lowest_voltage(values: Values) -> float | None:
    """Lowest voltage at the plug that must still shift it: stated, else nominal less what the supply may drop."""
    if "minimum_voltage" in values:
        return float(values["minimum_voltage"])
    if "nominal_voltage" not in values:
        return None
    return float(
        budget.lowest_voltage(nominal_voltage=values["nominal_voltage"], supply_below=fact_value("supply-below"))
    )


def cable_ohms(values: Values, kind: str) -> float | None:
    """Resistance per length of the cable named by its cross-section, from IEC 60228; None if not in the table."""
    column = "class_5_plain" if kind == "flexible" else "class_2_plain"
    for row in load_table("cable.csv"):
        if "cable_area" in values and abs(row["cable_area"] - values["cable_area"]) < 1e-12:
            return None if row[column] is None else float(row[column])
    return None


def spring_of(values: Values) -> dict[str, float]:
    """Preload and rate as far as they are known: read, else from two loads at two lengths."""
    if "spring_rate" in values and "spring_preload" in values:
        return {name: values[name] for name in ("spring_rate", "spring_preload")}
    if all(name in values for name in ("load_1", "length_1", "load_2", "length_2", "installed_length")):
        rate = spring.spring_rate_from_loads(
            **{name: values[name] for name in ("load_1", "load_2", "length_1", "length_2")}
        )
        preload = budget.preload_from_load(
            load_1=values["load_1"],
            length_1=values["length_1"],
            installed_length=values["installed_length"],
            spring_rate=rate,
        )
        return {"spring_rate": rate, "spring_preload": preload}
    return {name: values[name] for name in ("spring_rate", "spring_preload") if name in values}


def return_ratio(values: Values, side: str) -> float:
    """Flow back over flow in, from the machine's cylinder; 1 where it is not named."""
    if "bore_diameter" not in values or "rod_diameter" not in values:
        return 1.0
    ratio = cylinder.area_ratio(bore_diameter=values["bore_diameter"], rod_diameter=values["rod_diameter"])
    return float(ratio if side == "rod" else 1.0 / ratio)


def lands_of(job: Job) -> tuple[dict[str, Any], ...]:
    """The lands as read; without any, four lands without taper."""
    rows = job.tables.get("land", [])
    if rows:
        return tuple(
            {
                "high_port": row.get("high_port", "P"),
                "low_port": row.get("low_port", "T"),
                "opens_for": row.get("opens_for", "A"),
                "taper": row["taper"].si if "taper" in row else 0.0,
                "live_grooves": row["live_grooves"].si if "live_grooves" in row else 0.0,
            }
            for row in rows
        )
    pairs = (("P", "A", "A"), ("P", "B", "B"), ("A", "T", "B"), ("B", "T", "A"))
    return tuple(
        {"high_port": high, "low_port": low, "opens_for": opens, "taper": 0.0, "live_grooves": 0.0}
        for high, low, opens in pairs
    )


def needed(values: Values, row: Mapping[str, Any], unit: str) -> list[str]:
    """Raw entries without which there is no budget of this coil; `unit` is the one a place of the stroke is told in."""
    spring_known = spring_of(values)
    wanted = {
        "spool_diameter": "spool_diameter" in values,
        "diametral_clearance": "diametral_clearance" in values,
        "stroke": "stroke" in values,
        "overlap": "overlap" in values,
        "spring_preload": "spring_preload" in spring_known,
        "spring_rate": "spring_rate" in spring_known,
        _curve_words(values, row, unit): _curve_reaches(values, row),
        "curve_voltage": "curve_voltage" in values,
        "curve_temperature": "curve_temperature" in values,
        "supply_pressure": "supply_pressure" in values,
        "tank_pressure": "tank_pressure" in values,
        "pump_flow": "pump_flow" in values,
        "resistance": winding_20(values) is not None,
        "plug_voltage": "plug_voltage" in values or lowest_voltage(values) is not None,
        "driven_port": "driven_port" in row,
    }
    return [name for name, there in wanted.items() if not there]


def _span(values: Values) -> tuple[float, float]:
    """Where the force curve is read: the stroke, moved by the error of the pin."""
    error = values.get("pin_error", 0.0)
    return 0.0 - error, values["stroke"] - error


def _curve_reaches(values: Values, row: Mapping[str, Any]) -> bool:
    places = [point["position"].si for point in row.get("force_curve", [])]
    if not places or "stroke" not in values:
        return bool(places)
    low, high = _span(values)
    return bool(places[0] <= low + NOTHING and places[-1] >= high - NOTHING)


def _curve_words(values: Values, row: Mapping[str, Any], unit: str) -> str:
    if not row.get("force_curve") or "stroke" not in values:
        return "force_curve"
    return "force_curve from " + " to ".join(show(place, "length", unit, 3) for place in _span(values))
