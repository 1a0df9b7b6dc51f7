"""Solving on the phone against Python: the same places, texts and doubts."""

import random
from collections.abc import Iterator

from tests.live.door import (
    CASES,
    FORMULAS,
    SHOWN,
    SLOW,
    WITHIN,
    Ask,
    Case,
    different,
    doubted,
    python,
    random_options,
    typed,
)
from valvecalc.door import NO_VALUE, calc, function_of
from valvecalc.errors import InputError, NoValue
from valvecalc.formula import REGISTER, Card
from valvecalc.limits import bracket
from valvecalc.quantities import VOCABULARY

# ---- solving


def solve_cases(dice: random.Random, cards: list[Card], entries: int = 99) -> Iterator[Case]:
    """Number entries of a card, each from a result that the example gives with that entry at another value."""
    for card in cards:
        values = calc(card.id, **card.example).values
        missing = frozenset(name for name, value in values.items() if value is None)
        numbers = [
            name for name in card.entries if name not in (*card.rows, *card.choices) and values[name] is not None
        ]
        for wanted in dice.sample(numbers, min(entries, len(numbers))):
            given = {name: text for name, text in card.example.items() if name != wanted}
            low, high = bracket(card, wanted)
            moved = values[wanted] * dice.uniform(0.8, 1.25) or high * dice.uniform(0.01, 0.1)
            try:
                results = function_of(card, missing)({**values, wanted: min(max(moved, low), high)})
            except NO_VALUE:
                continue
            not_solved = (*card.rows, *card.entries, *WORDS)
            told = [one for one, value in results.items() if isinstance(value, float) and one not in not_solved]
            if not told:
                continue
            name = dice.choice(told)
            given[name] = typed(dice, name, float(results[name]))
            yield Case(card, given, random_options(dice, card), wanted)


WORDS = {name for name in VOCABULARY if VOCABULARY[name].dimension == "text"}


def alike_at(case: Case, places: list[float]) -> bool:
    """Whether the result cannot tell the places apart: then each solves it as well as the other, to the last bits."""
    values = calc(case.card.id, **case.card.example).values
    missing = frozenset(name for name, value in values.items() if value is None)
    (asked,) = case.given.keys() - case.card.example.keys()
    first, *rest = (function_of(case.card, missing)({**values, str(case.wanted): place})[asked] for place in places)
    return all(abs(one - first) <= WITHIN * abs(first) for one in rest)


def compare_solved(cases: list[Case], ask: Ask) -> list[int]:
    """How many questions had no, one, two … solutions, and (last) faults."""
    counts = [0] * 6
    for case, theirs in zip(cases, ask(cases), strict=True):
        try:
            ours, sizes = python(case)
        except NoValue as why:
            assert case.wanted is not None
            how = "Change an entry, or look between other ends."
            (told,) = theirs
            assert (told["ok"], told["result"], told["results"]) == (True, None, [])
            assert told["missing"] == [{"entry": case.wanted, "why": str(why), "how": how}]
            counts[0] += 1
            continue
        blunt = False
        for one, other in zip(ours, theirs, strict=False) if isinstance(ours, list) else ():
            roots = (told["inputs"].pop(case.wanted) for told in (one, other))
            both = [next(roots), next(roots)]
            off = different({"results": both[0]}, {"results": both[1]}, sizes, "", case.wanted or "")
            blunt = bool(off) and alike_at(case, [float(root["si"]) for root in both])
            assert not off or blunt, f"{case.card.id} {case.given} for {case.wanted}:{off}"
        off = "" if blunt else different(ours, theirs, sizes)
        assert not off, f"{case.card.id} {case.given} for {case.wanted}:{off}"
        counts[len(ours) if isinstance(ours, list) else -1] += 1
    return counts


def test_every_entry_of_every_formula_is_solved_for(ask: Ask) -> None:
    cases = [case for seed in range(max(1, CASES // 300)) for case in solve_cases(random.Random(seed), FORMULAS)]
    none, one, two, *_ = compare_solved(cases, ask)
    assert one > len(cases) * 0.9 and none and two


def test_sheets_are_solved_for_an_entry(ask: Ask) -> None:
    sheets = [card for card in SHOWN if card.kind == "sheet" and card.id not in SLOW]
    cases = list(solve_cases(random.Random(77), sheets, CASES // 100))
    budget = REGISTER["shift-budget"]
    cases += solve_cases(random.Random(78), [budget], max(1, CASES // 1000))
    _, one, *_ = compare_solved(cases, ask)
    assert one > len(cases) / 2


def test_a_solved_entry_carries_the_doubt_of_the_others(ask: Ask) -> None:
    dice = random.Random(79)
    cases = []
    for case in solve_cases(dice, FORMULAS, 1):
        try:
            given = {
                name: doubted(dice, name, text) if dice.random() < 0.7 else text
                for name, text in case.given.items()
                if name not in case.card.choices
            }
        except InputError:
            continue  # a result that cannot exist, as a pressure below a vacuum, cannot be stated either
        cases.append(case._replace(given=given))
    counts = compare_solved(cases, ask)
    assert counts[1] > len(cases) / 4 and counts[-1]
    solved = [told[0]["results"][0] for told in ask(cases) if isinstance(told, list) and told[0]["results"]]
    assert sum("uncertainty" in row for row in solved) > 5


def test_a_pole_is_no_solution_and_each_of_two_keeps_its_own_doubt(ask: Ask) -> None:
    loads = {"load_1": "18 N", "load_2": "31 N", "length_2": "19.5 mm", "spring_rate": "5.2 N/mm"}
    land = {"spool_diameter": "15 mm", "length": "5 mm", "clearance": "6 µm"}
    force = calc("lateral-force", **land, pressure_drop="120 bar", taper="2 µm").value
    land |= {"pressure_drop": "120 bar ± 1 bar", "lateral_force": f"{force!r} N"}
    cases = [
        Case(REGISTER["spring-rate-from-loads"], loads, {}, "length_1"),
        Case(REGISTER["lateral-force"], land, {}, "taper"),
    ]
    assert compare_solved(cases, ask)[1:3] == [1, 1]
    one, other = (told["results"][0]["uncertainty"] for told in ask(cases)[1])
    assert 0 < one < other


FAULTS = [
    ({"leakage": "3 mL/min", "clearance": "5 µm"}, "clearance"),
    ({"clearance": "5 µm"}, "diameter"),
    ({"leakage": "3 mL/min", "clearence": "5 µm", "length": "4 bar"}, "diametre"),
    ({"leakage": "3 bar"}, "clearance"),
    ({"leakage": "3 mL/min"}, "clearance"),
    ({"leakage": "300 L/min", "diameter": "12 mm", "length": "4 mm", "viscosity": "30 mPa·s"}, "clearance"),
]


def test_what_cannot_be_solved(ask: Ask) -> None:
    card = REGISTER["annular-leakage"]
    cases = [Case(card, given, {}, wanted) for given, wanted in FAULTS]
    budget = REGISTER["shift-budget"]
    texts = {**budget.example, "margin": "10 N", "force_curve": "0 mm 52 N; 4 mm 60 N"}
    without = {name: text for name, text in texts.items() if name not in ("force_curve", "state")}
    cases += [Case(budget, given, {}, name) for given in (texts, without) for name in ("force_curve", "state")]
    lacking = {name: text for name, text in texts.items() if name not in ("supply_pressure", "stroke")}
    cases.append(Case(budget, lacking, {}, "stroke"))
    force = REGISTER["push-force"]  # with nothing on its other side the rod takes no part
    given = {"bore_diameter": "63 mm", "cap_side_pressure": "140 bar"}
    push = f"{calc(force.id, **given, rod_diameter='36 mm').value!r} N"
    cases.append(Case(force, {**given, "push_force": push}, {}, "rod_diameter"))
    counts = compare_solved(cases, ask)
    assert counts[-1] == 8 and counts[0] == 4
