"""AC coils: their force follows the gap and not the ohms, so only go or no-go is told, and no current from ohms."""

from collections.abc import Mapping, Sequence
from typing import Any

from valvecalc.answer import Answer
from valvecalc.quantities import VOCABULARY

#: What of a coil check holds for an AC coil. Watts on its plate are no volts squared over ohms.
KEPT = ("resistance_20", "expected_resistance_20", "resistance_deviation", "winding_temperature", "loop_resistance")
AT_PLUG = ("voltage_drop", "supply_deviation")

#: States that a machine's duty is made of: a stroke with flow, and one after a hold.
FLOW, HOLD = frozenset(("flow", "duty")), frozenset(("dwell", "duty"))

Go = Mapping[str, Any]


def trim(answer: Answer) -> None:
    """Take out of a coil check what ohms do not tell of an AC coil; volts at the plug only where they were read."""
    kept = KEPT + (AT_PLUG if "plug_voltage" in answer.entries else ())
    meanings = [VOCABULARY[name].meaning for name in kept]
    answer._steps = tuple(step for step in answer.steps if step.name in kept)
    answer.results = {name: value for name, value in answer.results.items() if name in kept}
    answer.missing = tuple(lack for lack in answer.missing if lack.why in meanings and lack.entry != "nominal_power")


def readings(row: Mapping[str, Any]) -> list[dict[str, Any]]:
    """The trials of an AC coil: coil, state, voltage as typed, and whether it shifted."""
    return [
        {
            "coil": row["name"],
            "state": reading.get("state", ""),
            "shifted": reading["shifted"],
            "voltage": reading["voltage"].entry.text if "voltage" in reading else "",
        }
        for reading in row.get("pickup", [])
        if "shifted" in reading
    ]


def by_coil(go: Sequence[Go]) -> dict[str, list[Go]]:
    """The trials of each coil."""
    found: dict[str, list[Go]] = {}
    for row in go:
        found.setdefault(row["coil"], []).append(row)
    return found


def fails(rows: Sequence[Go]) -> bool:
    """Whether a coil did not shift in one of its trials."""
    return not all(row["shifted"] for row in rows)


def proved(rows: Sequence[Go]) -> bool:
    """Whether flow and a hold were both tried."""
    states = {row["state"] for row in rows}
    return bool(states & FLOW) and bool(states & HOLD)
