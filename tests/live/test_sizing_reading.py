"""Positions and cells on the phone against Python: the same values, the same words where one is refused."""

import random
from pathlib import Path

from tests.live.sizing_plain import Case, agree, plainly, told
from tests.live.sizing_texts import GOOD, cell_texts, fields, typed, visible_texts
from tests.live.texts import nonsense
from valvecalc.selection import function
from valvecalc.selection.cells import header_unit, is_unknown, read_cell
from valvecalc.selection.function import Function, Position
from valvecalc.units import choices

NOTCHED = [Position(one.groups, frozenset({next(iter(one.groups))})) for one in function.all_positions() if one.groups]
POSITIONS = [*function.all_positions(), *NOTCHED]
OPERATORS = ["spring-centred", "spring-offset", "detent", None]


def test_every_position_and_any_text_as_one(tmp_path: Path) -> None:
    dice = random.Random(1)
    texts = [function.text(one) for one in POSITIONS]
    texts += ["", "none", " NONE", "P", "p, a", "P-A,", "P-A B", "P-P", "A restricted", "P--A", "P-A-ß"]
    texts += ["b-t Restricted, a-p"]
    texts += [typed(dice, dice.choice(texts)) for _ in range(800)] + [nonsense(dice) for _ in range(100)]
    cases: list[Case] = [("readPosition", (text,), told(function.read_position, text)) for text in visible_texts(texts)]
    assert sum("value" in expected for *_, expected in cases) > 60
    assert len({str(expected) for *_, expected in cases if "refused" in expected}) > 30
    for one in (*POSITIONS, ""):
        mine = plainly(one)
        cases += [
            ("positionText", (mine,), {"value": function.text(one)}),
            ("positionWords", (mine,), {"value": function.words(one)}),
        ]
    for one in POSITIONS:
        mine = plainly(one)
        groups = {"-".join(port for port in function.PORTS if port in group) for group in one.groups}
        cases += [("groupTexts", (mine,), {"value": sorted(groups)})]
        cases += [("positionIsShut", (mine, port), {"value": one.is_shut(port)}) for port in "PABT"]
        cases += [
            ("positionJoins", (mine, *ports), {"value": one.joins(*ports)})
            for ports in ("PA", "TB", "PAB", "ABT", "AT", "PT", "PABT", "A")
        ]
    more = 'const groupTexts = (position) => positionGroups(position).map((one) => one.join("-")).sort();'
    agree(tmp_path, cases, more)


def test_functions_are_compared_turned_and_warned_of_as_one(tmp_path: Path) -> None:
    dice = random.Random(2)
    cases: list[Case] = [
        ("hazardsOf", (plainly(need), plainly(there)), {"value": function.hazards(need, there)})
        for need in POSITIONS
        for there in POSITIONS
    ]
    outcomes = set()
    for _ in range(600):
        need = Function(*(dice.choice([*dice.choices(POSITIONS, k=6), "", None]) for _ in Function._fields))
        there = dice.choice(
            [need, function.exchanged(need), function.turned(need), need._replace(on_a=dice.choice(POSITIONS))]
        )
        there = Function(*(None if dice.random() < 0.1 else one for one in there))
        mine, other, operator = plainly(need), plainly(there), dice.choice(OPERATORS)
        outcome = function.compare(need, there)
        outcomes.add(outcome)
        cases += [
            ("compareFunctions", (mine, other), {"value": outcome}),
            ("completed", (mine, operator), {"value": plainly(function.completed(need, operator))}),
            ("exchanged", (mine,), {"value": plainly(function.exchanged(need))}),
            ("turned", (mine,), {"value": plainly(function.turned(need))}),
            ("asItFits", (other, outcome), {"value": plainly(function.as_it_fits(there, outcome))}),
        ]
    assert outcomes == {function.EQUAL, function.PLUGS, function.HOSES, function.DIFFERENT, function.UNKNOWN}
    agree(tmp_path, cases)


CELL = """
const fieldOf = (table, key) => (table ? DATA.duty[table] : DATA.columns)[key];
const cellOf = (table, key, text, unit) => readCell(fieldOf(table, key), text, unit);
const unitOf = (table, key, unit) => headerUnit(fieldOf(table, key), unit);
"""


def test_cells_of_every_kind_are_read_or_refused_as_one(tmp_path: Path) -> None:
    dice = random.Random(3)
    cases: list[Case] = []
    outcomes: dict[str, set[str]] = {}
    for table, field in fields():
        own = dice.choice(choices(field.words[0])) if field.kind == "quantity" else "mm"
        units = ["", "bar", "%", own, "Bar", "psia"]
        for text in cell_texts(dice, field):
            unit = dice.choice(units) if dice.random() < 0.5 else ""
            expected = told(read_cell, field, text, unit)
            outcomes.setdefault(field.kind, set()).add(*expected)
            cases.append(("cellOf", (table, field.key, text, unit), expected))
        cases += [("unitOf", (table, field.key, unit), told(header_unit, field, unit)) for unit in units]
    assert set(outcomes) == {*GOOD, "choice", "quantity"}
    assert {kind for kind, sorts in outcomes.items() if len(sorts) == 1} == {"text", "words"}
    assert len(cases) > 1500
    texts = ["", " ", "unknown", "Unknown ", "?", "don't know", "N/A", "-", "–", "\ufeff", "0", "\x1c?\x85", "-0", "??"]
    cases += [("isUnknown", (text,), {"value": is_unknown(text)}) for text in texts]
    agree(tmp_path, cases, CELL)
