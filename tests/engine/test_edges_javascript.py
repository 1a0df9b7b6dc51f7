"""The shift budget with listed edges in JavaScript: the same rows as in Python, whatever is listed."""

import random
from typing import Any

from tests.engine.test_javascript import RUN, WITHIN, is_none, python_result, rows_apart
from valvecalc.door import find


def drawn(dice: random.Random, stroke: float) -> list[dict[str, Any]]:
    return [
        {
            "from_port": dice.choice("PPT"),
            "to_port": dice.choice("AABBT"),
            "opens": dice.choice(("forth", "forth", "back")),
            "edge_overlap": dice.uniform(-0.6, 0.8) * stroke,
            "open_circumference": dice.uniform(0.1, 1.0),
        }
        for _ in range(dice.choice((1, 2, 3, 5)))
    ]


def test_a_budget_with_listed_edges(node, dice, cases) -> None:
    card, hand = find("shift-budget"), dice(26)
    asked = [hand.valve(card, wide=number % 5 == 4) for number in range(max(20, cases // 10))]
    asked = [given | {"edges": drawn(hand.random, given["stroke"])} for given in asked]
    told = node(RUN, [[card.id, given] for given in asked])
    compared = 0
    for given, theirs in zip(asked, told, strict=True):
        python = python_result(card, given)
        if python is None or is_none(theirs):
            assert python is None and is_none(theirs), f"{given}: {python} {theirs}"
            continue
        ours, scale = python
        for row, other in zip(ours["stroke_rows"], theirs["stroke_rows"], strict=True):
            assert rows_apart(row, other, scale) <= WITHIN, f"{given}: JavaScript {other}, Python {row}"
        compared += 1
    assert compared > len(asked) * 0.7
