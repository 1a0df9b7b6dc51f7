"""For each single cause the value that alone turns the verdict, in figures and in words."""

from typing import Any

from valvecalc.answer import Answer
from valvecalc.formula import REGISTER
from valvecalc.job.compute import Budget
from valvecalc.job.verdict import label
from valvecalc.limits import limits_of
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_si, show

Rows = list[dict[str, Any]]

#: What helps the drive when it grows; everything else helps when it shrinks.
HELPS = {"energise": ("coil_voltage",), "release": ("spring_preload", "spring_rate")}


def thresholds(budget: Budget) -> Rows:
    """Both ways. Where the valve does not shift, a cause that helps only the wrong way round (tank pressure
    raised, say, which chokes the flow) is no cure and is left out."""
    rows: Rows = []
    for direction, causes in (("energise", budget.causes), ("release", budget.release_causes)):
        answer = budget.energise if direction == "energise" else budget.release
        shifts = answer.results["margin"] >= 0.0
        for row in causes["single_causes"]:
            name = row["cause"]
            now, there = getattr(budget.case.valve, name), row["threshold"]
            if not shifts and there is not None and (there > now) != (name in HELPS[direction]):
                continue
            rows.append(
                {
                    "coil": budget.coil,
                    "direction": direction,
                    "entry": name,
                    "label": label(name),
                    "as_is": figure(answer, name, now),
                    "value": None if there is None else figure(answer, name, there),
                    "sentence": _words(answer, name, now, there, shifts),
                }
            )
    return rows


def _words(answer: Answer, name: str, now: float, there: float | None, shifts: bool) -> str:
    dimension, unit = VOCABULARY[name].dimension, shop_unit(answer, name)
    if there is None:
        limit = limits_of(REGISTER["shift-budget"])[name]
        span = " to ".join(show(end, dimension, unit, 3) for end in (limit.low, limit.high) if end is not None)
        return f"Alone it {'does not stop the valve' if shifts else 'does not make it shift'} anywhere from {span}."
    shown = show(there, dimension, unit, 3)
    if shifts:
        return f"{'Above' if there > now else 'Below'} {shown} it alone stops the valve."
    return f"{'From' if there > now else 'Down to'} {shown} it alone would make the valve shift."


def figure(answer: Answer, name: str, si: float) -> dict[str, Any]:
    """A figure of a budget in the shop's unit."""
    unit = shop_unit(answer, name)
    return {"value": from_si(si, unit, VOCABULARY[name].dimension), "unit": unit}


def shop_unit(answer: Answer, name: str) -> str:
    """The shop's unit, whatever the reading was typed in: rows of a table compare only in one unit."""
    return VOCABULARY[name].us if answer.system == "us" else VOCABULARY[name].metric
