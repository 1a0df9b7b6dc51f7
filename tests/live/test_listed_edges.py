"""A list that may be left out, the edges of a shift budget: answers and worked lines with it, in both languages."""

from tests.live.door import Ask, Case
from tests.live.door import compare as compare_answers
from tests.live.worked import Told, compare
from valvecalc.door import calc, find

BUDGET = find("shift-budget")
LISTS = (
    "P | A | forth | 1.2 mm | 1; T | B | forth | 1.2 mm | 1; P | T | back | -0.8 mm | 0.4",
    "P | A | forth | -0.2 mm ± 0.05 mm | 0.5; T | A | back | -0.3 mm | 0.5",
)
CHANGES = ({}, {"state": "blocked"}, {"direction": "release", "tank_pressure": "3 bar ± 1 bar"})
GIVEN = [dict(BUDGET.example) | {"edges": edges} | changes for edges in LISTS for changes in CHANGES]


def test_the_answer_with_listed_edges(ask: Ask) -> None:
    wrong = dict(BUDGET.example) | {"edges": "P | Q"}
    told = compare_answers([Case(BUDGET, given) for given in [*GIVEN, wrong]], ask)
    assert told.answered == len(GIVEN)


def test_the_worked_lines_with_listed_edges(told: Told) -> None:
    asked = [(BUDGET, calc(BUDGET.id, **given).values, "us") for given in GIVEN]
    rows, none = compare(asked, told)
    assert rows > 20 * len(asked) and not none
