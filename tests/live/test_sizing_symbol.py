"""The symbol on the phone against Python, character for character: every position, and any valve a list can tell of."""

import random
from itertools import combinations
from pathlib import Path
from typing import Any

from tests.live.sizing import ask_inner
from tests.live.test_drawing import same
from valvecalc.drawing.symbol import draw_known
from valvecalc.selection.function import Function, Position, all_positions, text

NOTCHED = [
    Position(one.groups, frozenset(notched))
    for one in all_positions()
    for count in range(len(one.groups) + 1)
    for notched in combinations(sorted(one.groups, key=sorted), count)
]
OPERATORS = (None, "spring-centred", "spring-offset", "detent")
STAGES = (None, "direct", "two-stage")
Given = tuple[Function, str | None, str | None]


def drawn(folder: Path, given: list[Given]) -> list[str]:
    """What the phone draws of the same."""
    asked = [
        ("symbolDrawn", {key: one and text(one) for key, one in function._asdict().items()}, operator, stage)
        for function, operator, stage in given
    ]
    return [answer["value"] for answer in ask_inner(folder, ["symbolDrawn"], asked)]


def test_every_position_and_its_notches_as_one_square(tmp_path: Path) -> None:
    assert len(NOTCHED) == 35
    given: list[Given] = [(Function(one, "", ""), None, None) for one in NOTCHED]
    ours = [draw_known(*one) for one in given]
    assert len(set(ours)) == 35
    same(ours, drawn(tmp_path, given))


def test_any_valve_of_a_list(tmp_path: Path) -> None:
    dice = random.Random(12)
    choices: list[Any] = [*NOTCHED, *["", None] * 8]
    given: list[Given] = [
        (Function(*dice.choices(choices, k=5)), dice.choice(OPERATORS), dice.choice(STAGES)) for _ in range(400)
    ]
    given += [(Function(), "detent", None), (Function("", "", ""), None, None), (Function("", "", None), None, None)]
    ours = [draw_known(*one) for one in given]
    same(ours, drawn(tmp_path, given))
    assert len(set(ours)) > 300 and ours[-3:] == ["", "", ""]
    for words in ("not known", "through a notch", "On the way", "solenoid through pilot", "detent", "4/2", "4/3"):
        assert any(words in one for one in ours), words
