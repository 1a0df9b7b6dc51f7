"""The sizing as plain data, as `valvecalc size --json` prints it and the page and the report take it."""

from collections.abc import Sequence
from typing import Any

from valvecalc.facts import caution, load_toml
from valvecalc.selection.demand import Demand
from valvecalc.selection.duty import Duty
from valvecalc.selection.flow_rules import Loss, work_of
from valvecalc.selection.function import Function, text
from valvecalc.selection.judging import ACCEPT, REJECT, Rule
from valvecalc.selection.ranking import Candidate, Flip, to_find_out
from valvecalc.selection.request import find_out, request
from valvecalc.selection.stock import Problem
from valvecalc.selection.words import (
    cautions_of,
    lack_text,
    named_figure,
    named_unit,
    sentence,
    title,
    unit_and_value,
    value_text,
)
from valvecalc.version import VERSION, data_version


def _head(duty: Duty) -> dict[str, Any]:
    return {
        "schema": 1,
        "kind": "size",
        "ok": True,
        "version": VERSION,
        "data_version": data_version(),
        "title": duty.get("duty", "title") or "",
        "machine": duty.get("duty", "machine") or "",
    }


def _symbol(function: Function, operator: str | None, stage: str | None) -> dict[str, Any]:
    """A function as it is drawn, a position by its text: "" where there is none, None where it is not known."""
    named = {key: position and text(position) for key, position in function._asdict().items()}
    return {"function": named, "operator": operator, "stage": stage}


def _old(asked: Demand) -> dict[str, Any]:
    return _symbol(asked.old, asked.duty.get("old", "operator"), asked.duty.get("old", "stage"))


def _first_cautions() -> list[str]:
    common = load_toml("words/size.toml")["common"]
    return [caution(str(common[key])) for key in ("hold-first", "zero-first")]


def told(
    asked: Demand,
    candidates: Sequence[Candidate],
    problems: Sequence[Problem] = (),
    changes: Sequence[Flip] = (),
    most: int | None = None,
    system: str = "metric",
) -> dict[str, Any]:
    """The candidates, best first, with every rule; what is wrong in the list; what an entry changed has turned.

    `most`: how many are told; making the sentences of thousands takes longer than judging them. `system`: metric or us.
    """
    duty = asked.duty
    common = load_toml("words/size.toml")["common"]
    return _head(duty) | {
        "old": _old(asked),
        "cautions": _first_cautions(),
        "headline": headline(candidates, system),
        "notes": [
            *(common["too-fast"].format(movement=name) for name in asked.too_fast),
            *([common["water-based"]] if duty.get("oil", "fluid") in ("HFA", "HFB", "HFC") else []),
        ],
        "candidates": [_candidate(one, asked, system) for one in candidates[:most]],
        "judged": len(candidates),
        "find_out": [{"entry": entry, "what": lack_text(entry)} for entry in to_find_out(candidates)],
        "faults": [
            {"row": one.row, "name": one.name, "column": one.column, "got": one.got, "need": one.need, "do": one.do}
            for one in problems
        ],
        "flips": [
            {
                "id": flip.name,
                "before": flip.before,
                "after": flip.after,
                "rules": [
                    {
                        "rule": after.rule,
                        "before": before.verdict,
                        "after": after.verdict,
                        "sentence": sentence(after, system),
                    }
                    for before, after in flip.rules
                ],
            }
            for flip in changes
        ],
    }


def headline(candidates: Sequence[Candidate], system: str = "metric") -> str:
    """The answer in a sentence: which fit, or which would once something is found out, or the nearest miss."""
    common = load_toml("words/size.toml")["common"]
    fits = [one for one in candidates if one.verdict == ACCEPT]
    open_ones = [one for one in candidates if one.verdict not in (ACCEPT, REJECT)]
    if fits:
        more = f" {len(open_ones)} more may, once what they ask is found out." if open_ones else ""
        return f"{len(fits)} of {len(candidates)} fit{'s' if len(fits) == 1 else ''}; best: {fits[0].valve.name}.{more}"
    if open_ones:
        first = open_ones[0]
        number = len(first.asked)
        what = f"{number} thing{'s' if number > 1 else ''} to find out"
        may = f"{len(open_ones)} of {len(candidates)} may"
        return f"None can be said to fit yet. {may}; first: {first.valve.name}, {what}."
    if not candidates:
        return f"{common['no-candidate']} The list holds no valve."
    first = candidates[0]
    misses = ", ".join(_miss(rule, system) for rule in first.rejected)
    return f"{common['no-candidate']} {common['nearest'].format(name=first.valve.name, misses=misses)}"


def _miss(rule: Rule, system: str) -> str:
    named = title(rule)
    name = named[0].lower() + named[1:]
    if rule.need is None and rule.has is None:
        return name
    need, has = (value_text(rule.rule, value, system) for value in (rule.need, rule.has))
    return f"{name} (needs {need}, has {has})"


def _candidate(one: Candidate, asked: Demand, system: str) -> dict[str, Any]:
    valve = one.valve
    work = work_of(valve, asked)
    return {
        "id": valve.name,
        "verdict": one.verdict,
        "interface": valve.interface,
        "shelf": valve.shelf,
        "quantity": valve.quantity,
        "price": valve.price,
        "symbol": _symbol(valve.function, valve.operator, valve.stage),
        "margin": one.margin,
        "loss": named_figure("loss", one.loss, system),
        "loss_unit": named_unit("loss", system)[1],
        "cautions": cautions_of(one.rejected),
        "rules": [_rule(rule, system) for rule in one.rules],
        "movements": [_movement(warm, work.cold, system) for warm in work.warm],
    }


def _rule(rule: Rule, system: str) -> dict[str, Any]:
    (need, unit), (has, other) = (unit_and_value(rule.rule, value, system) for value in (rule.need, rule.has))
    row: dict[str, Any] = {
        "rule": rule.rule,
        "title": title(rule),
        "need": None if rule.need is None else value_text(rule.rule, rule.need, system),
        "has": None if rule.has is None else value_text(rule.rule, rule.has, system),
        "margin": rule.margin,
        "verdict": rule.verdict,
        "sentence": sentence(rule, system),
    }
    if unit or other:
        row["figures"] = {"need": need, "has": has, "unit": unit or other}
    if rule.u:
        row["margin_uncertainty"] = 2 * rule.u
    if rule.lacks:
        row["lacks"] = list(dict.fromkeys(rule.lacks))
    return row


def _movement(warm: Loss, cold: list[Loss], system: str) -> dict[str, Any]:
    one = warm.movement
    again = next((lost for lost in cold if lost.movement is one), None)
    return {
        "movement": one.name,
        "paths": [path for path in (one.inlet, one.outlet) if path],
        "inlet_flow": named_figure("flow", one.inlet_flow, system),
        "return_flow": named_figure("flow", one.return_flow, system),
        "flow_unit": named_unit("flow", system)[1],
        "warm": _costs(warm, system),
        "cold": None if again is None else _costs(again, system),
        "pressure_unit": named_unit("loss", system)[1],
        "heat": warm.heat,
        "heat_unit": "W",
    }


def _costs(one: Loss, system: str) -> dict[str, float | None]:
    costs = {"in": one.drop_in, "out": one.drop_out, "felt": one.felt, "pump": one.pump}
    return {name: named_figure("loss", value, system) for name, value in costs.items()}


def told_request(asked: Demand, system: str = "metric") -> dict[str, Any]:
    """The page for any supplier: one line a figure, what is still to be found out, the cautions first."""
    words = load_toml("words/size.toml")["request"]
    lines = request(asked, system)
    return _head(asked.duty) | {
        "old": _old(asked),
        "cautions": _first_cautions(),
        "headline": words["title"],
        "candidates": [],
        "request": [{"what": line.what, "figure": line.figure, "lacks": list(line.lacks)} for line in lines],
        "find_out": [{"what": what} for what in find_out(lines)],
        "answered": asked.largest_flow is not None,
    }
