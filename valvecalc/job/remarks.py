"""What is said beside the figures: what was assumed, and readings that speak against each other."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from valvecalc.compiled import fast
from valvecalc.facts import fact_value
from valvecalc.formula import REGISTER
from valvecalc.job.case import Case, at_pickup
from valvecalc.job.raw import lowest_voltage
from valvecalc.job.read import Job
from valvecalc.primitives import threshold_between
from valvecalc.quantities import VOCABULARY
from valvecalc.units import show

if TYPE_CHECKING:
    from valvecalc.job.compute import Budget, Findings

Remark = tuple[str, dict[str, str]]

#: What a budget says when a term is only a default.
SILENT = {"flow_force": "no-kappa", "silt_force": "no-hold", "lateral_friction": "no-lands"}


def remarks(job: Job, found: "Findings") -> list[Remark]:
    """Every remark once, as the id of its sentence and what fills it in."""
    told = list(found.notes)
    for budget in found.budgets.values():
        told += [(note, {"coil": budget.coil}) for note in budget.case.notes]
        told += [(note, {}) for term, note in SILENT.items() if budget.case.bases[term] == "default"]
        told += _against(budget)
    coils = job.tables.get("coil", [])
    for row in coils:
        told += _of_coil(row, job, found)
    for row in job.tables.get("repair", []):
        if row.get("coil") not in (None, *(coil["name"] for coil in coils)):
            told.append(("repair-coil", {"name": row.get("name", "repair"), "coil": row["coil"]}))
    return list({(key, tuple(sorted(fields.items()))): (key, fields) for key, fields in told}.values())


def _of_coil(row: Mapping[str, Any], job: Job, found: "Findings") -> list[Remark]:
    readings = [*row.get("pickup", []), *row.get("push", [])]
    told: list[Remark] = [("no-state", {"coil": row["name"]}) for reading in readings if "state" not in reading]
    if row.get("kind", "dc") == "ac":
        return told
    if any("voltage" in reading and "resistance" not in reading for reading in row.get("pickup", [])):
        told.append(("cold-ohms", {}))
    judged = row["name"] in found.budgets or found.benches.get(row["name"])
    if judged and "hot_resistance" not in row:
        unit = VOCABULARY["winding_temperature"]
        told.append(
            (
                "default-winding",
                {
                    "coil": row["name"],
                    "temperature": show(
                        fact_value("hot-winding"), "temperature", unit.us if job.shop.units == "us" else unit.metric, 3
                    ),
                },
            )
        )
    if judged and "minimum_voltage" not in job.tables.get("supply", {}) and "nominal_voltage" in row:
        lowest = lowest_voltage({"nominal_voltage": row["nominal_voltage"].si})
        told.append(("default-minimum", {"coil": row["name"], "voltage": show(lowest or 0.0, "voltage", "V", 3)}))
    return told


def _against(budget: "Budget") -> list[Remark]:
    """Pick-up readings that the push readings, springs and force curve do not foretell."""
    values = {name: entry.si for name, entry in budget.raw.items()}
    told: list[Remark] = []
    for state, term in (("no_pressure", "dry_friction"), ("blocked", "lateral_friction")):
        read = values.get(f"{state}_pickup_voltage")
        if read is None or f"{state}_push" not in values or f"disagrees:{term}" in budget.case.notes:
            continue
        foretold = foretold_pickup(budget.case, values, state)
        if foretold is not None and abs(read / foretold - 1.0) > fact_value("pickup-disagreement"):
            figures = {name: show(volts, "voltage", "V", 3) for name, volts in (("read", read), ("foretold", foretold))}
            told.append(("against", {"coil": budget.coil, "state": state.replace("_", "-"), **figures}))
    return told


def foretold_pickup(case: Case, values: Mapping[str, float], state: str) -> float | None:
    """Voltage at which the calibrated valve would just shift in the state of a reading, its winding as read."""
    there = at_pickup(values, state, case.valve)
    if there is None:
        return None
    return threshold_between(fast(REGISTER["shift-budget"]), there, "coil_voltage", "margin", 0.1, 400.0)
