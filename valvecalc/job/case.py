"""One coil of a job as a shift budget: raw readings in, the valve record out, calibrated by what was read.

Everything here is a function of the raw readings (SI), so that uncertainty can move each reading and
see the margin move, calibration included.
"""

from collections.abc import Mapping
from typing import Any, NamedTuple

from valvecalc.compiled import fast
from valvecalc.errors import NoValue
from valvecalc.facts import fact_value
from valvecalc.formula import REGISTER
from valvecalc.formulas import budget, coil, gaps, oil
from valvecalc.job.raw import (
    DEFAULT,
    MEASURED,
    Values,
    hot_winding,
    lands_of,
    lowest_voltage,
    return_ratio,
    spring_of,
    winding_20,
)
from valvecalc.job.read import Job
from valvecalc.primitives import crossing, threshold_between
from valvecalc.sheets.valve import Valve

#: How a term of a budget is known, beside MEASURED and DEFAULT.
CALCULATED = "calculated"

#: What a limit point of the new valve must tell.
LIMIT_POINT = ("pump_flow", "supply_pressure", "coil_voltage", "winding_temperature")


class Case(NamedTuple):
    """The valve of one coil at its duty, what each term rests on, and what was said on the way."""

    valve: Valve
    bases: dict[str, str]
    notes: tuple[str, ...]


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
        return_ratio=return_ratio(values, str(row.get("cylinder_side", ""))),
        dry_friction=values.get("dry_friction", fact_value("dry-friction")),
        **spring_of(values),
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
    elif all(f"limit_{name}" in values for name in LIMIT_POINT):
        new = valve._replace(
            state="flow",
            silt_at_start=0.0,
            lateral_scale=0.0,
            added_taper=0.0,
            dry_friction=fact_value("dry-friction"),
            load_pressure_difference=0.0,
            tank_pressure=0.0,
            return_ratio=1.0,
            **{name: values[f"limit_{name}"] for name in LIMIT_POINT},
        )
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
