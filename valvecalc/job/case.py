"""One coil of a job as a shift budget: raw readings in, the valve record out, calibrated by what was read.

Everything here is a function of the raw readings (SI), so that uncertainty can move each reading and
see the margin move, calibration included.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple

from valvecalc.answer import Entry
from valvecalc.compiled import fast
from valvecalc.errors import NoValue
from valvecalc.facts import fact_value, load_table
from valvecalc.formula import REGISTER
from valvecalc.formulas import budget, coil, cylinder, gaps, oil, spring
from valvecalc.job.read import Job, Repeats
from valvecalc.primitives import crossing, threshold_between
from valvecalc.sheets.valve import Valve

Values = Mapping[str, Any]

#: How each figure of a budget is known.
MEASURED, CALCULATED, DEFAULT = "measured", "calculated", "default"


class Case(NamedTuple):
    """The valve of one coil at its duty, what each term rests on, and what was said on the way."""

    valve: Valve
    bases: dict[str, str]
    notes: tuple[str, ...]


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


def _spring(values: Values) -> dict[str, float]:
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


def _return_ratio(values: Values, side: str) -> float:
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


def needed(values: Values, row: Mapping[str, Any]) -> list[str]:
    """Raw entries without which there is no budget of this coil."""
    spring_known = _spring(values)
    wanted = {
        "spool_diameter": "spool_diameter" in values,
        "diametral_clearance": "diametral_clearance" in values,
        "stroke": "stroke" in values,
        "overlap": "overlap" in values,
        "spring_preload": "spring_preload" in spring_known,
        "spring_rate": "spring_rate" in spring_known,
        "force_curve": "force_curve" in row,
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


def build(job: Job, row: Mapping[str, Any], values: Values) -> Case:
    """The valve at its duty as found, calibrated by the readings; raises KeyError if `needed` is not empty."""
    resistance_20 = winding_20(values)
    if resistance_20 is None:
        raise KeyError("resistance")
    winding, winding_basis = hot_winding(values, resistance_20)
    voltage = values.get("plug_voltage", lowest_voltage(values))
    curve_20 = values.get("curve_resistance_20", values.get("nominal_resistance_20", resistance_20))
    density_15 = values.get("density_15", fact_value("density-15"))
    density = (
        oil.density_at(density_15=density_15, oil_temperature=values["oil_temperature"])
        if "oil_temperature" in values
        else density_15
    )
    optional = (
        "load_pressure_difference", "residual_at_end", "friction_coefficient", "discharge_coefficient",
        "open_circumference", "pin_area", "pin_error", "detent_force", "force_scale",
    )  # fmt: skip
    valve = Valve(
        direction="energise",
        state="flow",
        driven_port=row["driven_port"],
        spool_diameter=values["spool_diameter"],
        clearance=gaps.radial_clearance(diametral_clearance=values["diametral_clearance"]),
        stroke=values["stroke"],
        overlap=values["overlap"],
        coil_voltage=voltage,
        winding_temperature=winding,
        resistance_20=resistance_20,
        force_curve=tuple({key: entry.si for key, entry in point.items()} for point in row["force_curve"]),
        curve_voltage=values["curve_voltage"],
        curve_temperature=values["curve_temperature"],
        curve_resistance_20=curve_20,
        lands=lands_of(job),
        density=density,
        supply_pressure=values["supply_pressure"],
        tank_pressure=values["tank_pressure"],
        pump_flow=values["pump_flow"],
        return_ratio=_return_ratio(values, str(row.get("cylinder_side", ""))),
        dry_friction=values.get("dry_friction", fact_value("dry-friction")),
        **_spring(values),
        **{name: values[name] for name in optional if name in values},
    )
    if "residual_at_end" not in values:
        valve = valve._replace(residual_at_end=fact_value("residual-at-end"))
    return _calibrated(valve, values, winding_basis)


def at_pickup(values: Values, state: str, now: Valve) -> Valve | None:
    """The valve as it was in a pick-up reading: its volts, its winding, its pressures, no silt; None if not read."""
    voltage = values.get(f"{state}_pickup_voltage")
    if voltage is None:
        return None
    ohms = values.get(f"{state}_pickup_resistance", values.get("resistance", now.resistance_20))
    winding = coil.winding_temperature_from_resistance(
        cold_resistance=now.resistance_20, hot_resistance=ohms, cold_temperature=fact_value("reference-temperature")
    )
    pressures = {"no_pressure": "no-pressure", "blocked": "blocked", "dwell": "blocked"}.get(state, "flow")
    return now._replace(coil_voltage=voltage, winding_temperature=winding, state=pressures, silt_at_start=0.0)


def _calibrated(valve: Valve, values: Values, winding_basis: str) -> Case:
    budget_of = fast(REGISTER["shift-budget"])
    bases = {
        "spring_force": MEASURED,
        "solenoid_force": MEASURED if winding_basis == MEASURED and "plug_voltage" in values else CALCULATED,
        "dry_friction": MEASURED if "dry_friction" in values else DEFAULT,
        "lateral_friction": CALCULATED if any(land["taper"] > 0.0 for land in valve.lands) else DEFAULT,
        "silt_force": DEFAULT,
        "flow_force": CALCULATED if "flow_force_factor" in values else DEFAULT,
        "pin_force": CALCULATED,
        "detent_force": MEASURED if "detent_force" in values else DEFAULT,
        "residual_force": MEASURED if "residual_at_end" in values else DEFAULT,
    }
    notes: list[str] = []

    def settle(name: str, term: str, now: Valve, there: Valve | None, high: float) -> Valve:
        """The value of one entry that makes the reading come true; a reading that no value meets is told."""
        if there is None:
            return now
        found = threshold_between(budget_of, there, name, "margin", 0.0, high)
        if found is None:
            notes.append(f"disagrees:{term}")
            return now
        bases[term] = MEASURED
        return now._replace(**{name: found})

    # dry friction: the push without pressure less the preload, else the pick-up without pressure
    if "no_pressure_push" in values and "dry_friction" not in values:
        dry = values["no_pressure_push"] - valve.spring_preload
        if dry < 0.0:
            notes.append("disagrees:dry_friction")
        bases["dry_friction"] = MEASURED
        valve = valve._replace(dry_friction=max(dry, 0.0))
    elif "dry_friction" not in values:
        valve = settle("dry_friction", "dry_friction", valve, at_pickup(values, "no_pressure", valve), 500.0)

    # lateral: what pressure adds to the push, else the pick-up with the ports blocked
    blocked = valve._replace(state="blocked", silt_at_start=0.0)
    lateral_now = budget_of(blocked)["stroke_rows"][0]["lateral_friction"]
    unknown = "lateral_scale" if lateral_now > 0.0 else "added_taper"
    if "blocked_push" in values and "no_pressure_push" in values:
        added = max(values["blocked_push"] - values["no_pressure_push"], 0.0)
        bases["lateral_friction"] = MEASURED
        if unknown == "lateral_scale":
            scale = budget.scale_of_lateral(push_added_lateral=added, lateral_friction=lateral_now)
            valve = valve._replace(lateral_scale=scale)
        elif added > 0.0:
            valve = valve._replace(added_taper=_taper_for(budget_of, blocked, added))
    elif "shared_lateral_friction" in values:
        bases["lateral_friction"] = MEASURED
        valve = valve._replace(lateral_scale=values["lateral_scale"], added_taper=values["added_taper"])
    else:
        valve = settle(
            unknown,
            "lateral_friction",
            valve,
            at_pickup(values, "blocked", valve),
            20.0 if unknown == "lateral_scale" else 1e-4,
        )

    # flow force: the pick-up with flow, else a limit point of the new valve
    if "flow_force_factor" in values:
        valve = valve._replace(flow_force_factor=values["flow_force_factor"])
        bases["flow_force"] = MEASURED if "shared_flow_force" in values else CALCULATED
    elif "flow_pickup_voltage" in values:
        valve = settle("flow_force_factor", "flow_force", valve, at_pickup(values, "flow", valve), 2.0)
    elif all(
        f"limit_{name}" in values for name in ("pump_flow", "supply_pressure", "coil_voltage", "winding_temperature")
    ):
        new = valve._replace(
            state="flow", silt_at_start=0.0, lateral_scale=0.0, added_taper=0.0, dry_friction=fact_value("dry-friction"),
            load_pressure_difference=0.0, tank_pressure=0.0, return_ratio=1.0,
            **{name: values[f"limit_{name}"] for name in ("pump_flow", "supply_pressure", "coil_voltage", "winding_temperature")},
        )  # fmt: skip
        valve = settle("flow_force_factor", "flow_force", valve, new, 2.0)

    # silt: what a hold adds to the push, else the pick-up after a hold; turned to the hold of the duty
    tested = values.get("dwell_push_hold_time", values.get("dwell_pickup_hold_time"))
    if "dwell_push" in values and "blocked_push" in values:
        bases["silt_force"] = MEASURED
        valve = valve._replace(silt_at_start=max(values["dwell_push"] - values["blocked_push"], 0.0))
    elif "silt_at_start" in values:
        bases["silt_force"] = MEASURED
        valve = valve._replace(silt_at_start=values["silt_at_start"])
    else:
        valve = settle("silt_at_start", "silt_force", valve, at_pickup(values, "dwell", valve), 1000.0)
    if tested and "hold_time" in values and values["hold_time"] != tested and bases["silt_force"] == MEASURED:
        valve = valve._replace(
            silt_at_start=budget.silt_after_hold(
                silt_force=valve.silt_at_start,
                hold_time=values["hold_time"],
                tested_hold_time=tested,
                silt_time_constant=fact_value("silt-time-constant"),
            )
        )
        notes.append("silt-turned")
    return Case(valve, bases, tuple(notes))


def _taper_for(budget_of: Any, blocked: Valve, added: float) -> float:
    """Taper on all lands that gives the lateral friction read at the start."""

    def off(taper: float) -> float:
        return float(budget_of(blocked._replace(added_taper=taper))["stroke_rows"][0]["lateral_friction"]) - added

    found = crossing(off, 0.0, 0.0, 1e-4)
    if found is None:
        raise NoValue("no taper up to 100 µm gives the lateral friction that was read")
    return found
