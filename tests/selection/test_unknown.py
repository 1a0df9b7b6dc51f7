"""Every column and every entry of the sizing unknown, alone and together: asked for, never taken for zero."""

import pytest

from tests.selection.conftest import FITS, TWO_STAGE, press, valve_of
from valvecalc.selection.cells import columns
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import changed, entries
from valvecalc.selection.ranking import judge
from valvecalc.selection.rules import RULES
from valvecalc.selection.words import sentence

#: Columns that no rule of this duty needs, and why.
NOT_NEEDED = {
    "name": "without it there is no row",
    "shelf": "told, judged by nothing",
    "price": "ranks last where it is not known",
    "flow_nominal": "the points and the limit are judged instead",
    "drop_pt": "P and T are not joined at rest",
    "drop_density": "the machine's oil is taken: a few per cent, within the spread of the curve",
    "limit_ports": "no port is plugged, so either limit serves",
    "fluids": "the seal table answers for this fluid",
    "pilot": "", "drain": "", "pilot_pressure_min": "", "pilot_pressure_max": "", "drain_pressure_max": "",
    "shift_time_on": "told", "shift_time_off": "told", "override": "told",
    "area": "no hazardous area",
}  # fmt: skip


@pytest.mark.parametrize("column", list(columns()))
def test_every_column_unknown_alone_is_asked_for(column: str) -> None:
    if column == "name":
        return
    candidate = judge(valve_of(**{column: None}), demand(press()))
    for rule in candidate.rules:
        assert sentence(rule)
    if column in NOT_NEEDED:
        assert candidate.verdict == "accept"
    else:
        assert column in FITS
        assert candidate.verdict == "ask"
        assert any(f"stock.{column}" in rule.lacks for rule in candidate.asked), column


@pytest.mark.parametrize("column", [*TWO_STAGE, "drop_pt"])
def test_every_column_of_a_second_stage_unknown_alone_is_asked_for(column: str) -> None:
    duty = press({"old": {"stage": "two-stage", "pilot": "internal", "drain": "internal", "rest": "P-T"},
                  "pump": {"unloads": "yes"}, "lines": {"tank_surge": "1 bar"}})  # fmt: skip
    whole = {**TWO_STAGE, "rest": "P-T", "drop_pt": "30 L/min 20 bar; 60 L/min 80 bar"}
    assert judge(valve_of(**whole), demand(duty)).verdict == "accept"
    candidate = judge(valve_of(**{**whole, column: None}), demand(duty))
    assert candidate.verdict == "ask"
    assert any(f"stock.{column}" in rule.lacks for rule in candidate.asked)


#: Entries of the duty that need not be known where the others are, and why.
OTHERS_ANSWER = {
    "old.stage": "the candidate's own stage is judged",
    "old.coil_voltage": "the supply's voltage stands",
    "old.coil_kind": "the supply's kind stands",
    "old.seals": "the fluid decides over seals",
    "cylinder 1.stroke_length": "no time is given that would need it",
    "cylinder 1.held_back": "no load runs ahead",
    "cylinder 1.regenerative": "the old valve's positions answer it",
    "pump.unloads": "the old valve's position of rest answers it",
    "allowed.loss": "the relief valve's setting decides",
    "allowed.drift": "nothing hangs",
    "supply.voltage": "the old coil's plate stands",
    "supply.kind": "the old coil's plate stands",
    "cylinder 1.hanging": "both ports of the candidate stay shut at rest: nothing is let go either way",
    "cylinder 1.return_throttled": "the candidate bears the higher of the two pressures",
    "ports.plugged": "it fits even with one port plugged",
}


@pytest.mark.parametrize("entry", list(entries(press())))
def test_every_entry_unknown_alone_is_asked_for_or_answered_by_others(entry: str) -> None:
    strong = valve_of(pressure_b="350 bar", shift_limit="150 L/min 160 bar")
    candidate = judge(strong, demand(changed(press(), entry, None)))
    for rule in candidate.rules:
        assert sentence(rule)
    if entry in OTHERS_ANSWER:
        assert candidate.verdict == "accept", [sentence(rule) for rule in candidate.asked]
    else:
        assert candidate.verdict == "ask", entry
        assert any(entry in rule.lacks for rule in candidate.asked), entry


def test_nothing_known_at_all_is_asked_and_never_accepted() -> None:
    bare = valve_of(**{key: None for key in FITS if key != "name"})
    for valve in (bare, valve_of()):
        for duty in (press(), changed(press(), "pump.flow", None)):
            candidate = judge(valve, demand(duty))
            assert (candidate.verdict == "accept") == (valve is not bare and duty == press())
    from valvecalc.selection.duty import duty_from

    nothing = judge(bare, demand(duty_from({"duty": {"title": "unreadable"}})))
    assert nothing.verdict == "ask"
    # Only what a bare record cannot need is accepted: no pilot is known, no drift asked.
    assert len(nothing.asked) >= len(RULES) - 2
    for rule in nothing.rules:
        assert sentence(rule)
