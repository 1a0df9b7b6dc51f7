"""Solving: an entry is found again from the result, and where there is none it is said why."""

import math

import pytest

from tests.engine.conftest import outcome
from valvecalc import primitives
from valvecalc.door import calc, load
from valvecalc.errors import InputError, NoValue
from valvecalc.formula import REGISTER, Card
from valvecalc.limits import bracket
from valvecalc.solving import solve_for

load()
FORMULAS = [card for card in REGISTER.values() if card.kind == "formula"]
SHOWN = [card for card in FORMULAS if card.example]


# Where the example's result does not feel an entry, no value of it can be found again.
NOT_FELT = {
    ("edge-flow", "pump_flow"): "at the example the edges limit the flow, not the pump",
    ("solenoid-force", "exponent_above"): "at the example the current is below the curve's",
    ("push-force", "rod_diameter"): "without return pressure the ring area does not matter",
}


@pytest.mark.parametrize("card", SHOWN, ids=lambda card: card.id)
def test_every_entry_is_found_again_from_the_result(card: Card) -> None:
    answer = calc(card.id, **card.example)
    known = {name: entry.si for name, entry in answer.entries.items()}
    for wanted in card.entries:
        rest = {name: value for name, value in known.items() if name != wanted} | {card.result: answer.value}
        there = answer.values[wanted]
        change = [
            outcome(card.function, **{**answer.values, wanted: there * (1.0 + step) or step}) for step in (-1e-6, 1e-6)
        ]
        if answer.value in change or (card.id, wanted) in NOT_FELT:
            assert (card.id, wanted) in NOT_FELT, f"{card.id} does not feel {wanted}: {change}"
            continue
        if card.result in card.entries:
            continue
        found = solve_for(card.id, wanted, None, **rest)
        roots = [one.values[wanted] for one in found]
        # An entry whose example is nought is held to the range that is searched.
        least = 1e-12 if there else 1e-12 * max(map(abs, bracket(card, wanted)))
        assert any(root == pytest.approx(there, rel=1e-9, abs=least) for root in roots), (wanted, there, roots)
        for one in found:
            assert one.value == pytest.approx(answer.value, rel=1e-6)


def test_two_solutions_are_both_named() -> None:
    """The sideways force has its largest value at a taper of 0.83 of the clearance: below it two tapers give it."""
    land = {"spool_diameter": "15 mm", "length": "5 mm", "pressure_drop": "120 bar", "clearance": "6 µm"}
    force = calc("lateral-force", **land, taper="2 µm").value
    found = [one.values["taper"] for one in solve_for("lateral-force", "taper", None, **land, lateral_force=force)]
    assert len(found) == 2
    assert found[0] == pytest.approx(2e-6, rel=1e-9)
    assert found[1] > 0.83 * 6e-6
    for taper in found:
        assert calc("lateral-force", **land, taper=taper).value == pytest.approx(force, rel=1e-12)


def test_what_a_result_needs_besides_is_asked_for() -> None:
    """A missing entry is no error: there is no value yet, and what it needs is named."""
    with pytest.raises(NoValue, match=r"it needs rod_diameter, .*; stroke_length, "):
        solve_for("test-cylinder", "pump_flow", None, bore_diameter="50 mm", retract_time_expected="1.1 s")


def test_a_pole_is_no_solution() -> None:
    """The rate goes through infinity where both lengths are equal: only the length on one side is named."""
    loads = {"load_1": "18 N", "load_2": "31 N", "length_2": "19.5 mm"}
    (found,) = solve_for("spring-rate-from-loads", "length_1", None, **loads, spring_rate="5.2 N/mm")
    assert found.values["length_1"] == pytest.approx(0.0195 + 13.0 / 5200.0, rel=1e-12)  # by hand


def test_the_bracket_may_be_given() -> None:
    land = {"spool_diameter": "15 mm", "length": "5 mm", "pressure_drop": "120 bar", "clearance": "6 µm"}
    force = calc("lateral-force", **land, taper="2 µm").value
    found = solve_for("lateral-force", "taper", ("4 µm", "100 µm"), **land, lateral_force=force)
    assert [one.values["taper"] > 4e-6 for one in found] == [True]


def test_no_solution_says_between_what_it_was_looked_for() -> None:
    land = {"diameter": "15 mm", "length": "5 mm", "pressure_drop": "120 bar", "viscosity": "25 mPa·s"}
    with pytest.raises(NoValue, match=r"no clearance between 0 µm and 1000 µm gives this leakage"):
        solve_for("annular-leakage", "clearance", None, **land, leakage="90000 L/min")


def test_a_sheet_is_solved_for_any_of_its_results() -> None:
    stand = {"bore_diameter": "50 mm", "rod_diameter": "30 mm", "stroke_length": "300 mm"}
    (found,) = solve_for("test-cylinder", "pump_flow", None, **stand, retract_time_expected="1.1 s")
    # ring area times stroke over time, by hand
    assert found.values["pump_flow"] == pytest.approx(math.pi / 4 * (0.05**2 - 0.03**2) * 0.3 / 1.1, rel=1e-12)


def test_solving_says_every_fault_at_once() -> None:
    with pytest.raises(InputError) as caught:
        solve_for("annular-leakage", "clearance", None, clearance="5 µm", diametr="12 mm", length="4 kg")
    assert {trouble.entry for trouble in caught.value.troubles} == {"--solve", "clearance", "diametr", "length"}


def test_a_residual_that_is_not_zero_is_no_solution() -> None:
    """A result that jumps past the one asked for: the ends differ in sign, and still nothing gives it."""
    step = primitives.solve(lambda x: 1.0 if x > 0.25 else -1.0, 0.0, 1.0)
    assert step == pytest.approx(0.25)  # solve finds the jump; solve_for refuses it by its residual
    thin = {"spool_diameter": "15 mm", "opening": "0.2 mm", "clearance": "5 µm"}
    with pytest.raises(NoValue):
        solve_for("metering-area", "open_circumference", None, **thin, area="900 mm²")
