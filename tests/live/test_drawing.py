"""Charts on the phone against Python, character for character: random specs, and the example of every card."""

import json
import os
import random
from collections.abc import Callable, Iterable, Iterator
from typing import Any

import pytest

from tests.node import ask_node, need_node
from valvecalc.answer import Answer
from valvecalc.door import calc, load
from valvecalc.drawing import chart
from valvecalc.drawing.rounding import full_quantity, quantity, shown
from valvecalc.formula import REGISTER, Card
from valvecalc.limits import limits_of
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen.calculators import calculator, card_script
from valvecalc.sitegen.curves import figure
from valvecalc.units import read

load()
CARDS = [card for card in REGISTER.values() if not card.part]
CASES = int(os.environ.get("VALVECALC_CASES", "300"))
DRIVER = """
const fs = require("fs");
const lines = fs.readFileSync(process.argv[2], "utf8").split("\\n");
fs.writeFileSync(process.argv[3], lines.map((line) => JSON.stringify(valvecalc.work(...JSON.parse(line)))).join("\\n"));
"""

Node = Callable[[str, Iterable[tuple[Any, ...]]], list[Any]]


@pytest.fixture(scope="module")
def node(tmp_path_factory: pytest.TempPathFactory) -> Node:
    """Run `work = (…) => …` over many arguments in one node process, within the engine of the pages."""
    need_node()
    folder = tmp_path_factory.mktemp("drawing")
    engine, _, end = calculator().rpartition("return {")  # what a test runs stands beside the pieces
    cards = "".join(card_script(card) for card in CARDS)

    def run(work: str, given: Iterable[tuple[Any, ...]]) -> list[Any]:
        code = "\n".join([engine, f"return {{ work: {work},{end}", cards, DRIVER])
        return [json.loads(line) for line in ask_node(folder, code, given)]

    return run


def same(ours: list[str], theirs: list[str]) -> None:
    """Both languages wrote the same; the first difference is shown where it begins."""
    assert len(ours) == len(theirs)
    for number, (here, there) in enumerate(zip(ours, theirs, strict=True)):
        if here != there:
            at = next(i for i, pair in enumerate(zip(here + "\0", there + "\0", strict=False)) if pair[0] != pair[1])
            part = slice(max(at - 60, 0), at + 60)
            pytest.fail(f"case {number} differs at {at}:\n  Python     {here[part]}\n  JavaScript {there[part]}")


# --- Figures


def a_number(dice: random.Random) -> float:
    """Any size and sign, often with few digits: halves, tens and whole numbers are where rounding can go two ways."""
    digits = dice.randrange(1, 18)
    text = f"{dice.choice('+-')}{dice.randrange(10**digits)}e{dice.randrange(-14, 10) - dice.randrange(digits + 1)}"
    return dice.choice([float(text), round(float(text), 2), float(dice.randrange(-2000, 2000)) / 8])


def test_figures_for_the_eye(node: Node) -> None:
    dice = random.Random(1)
    given = [
        (
            a_number(dice),
            dice.choice(["", "1", "text", "N", "mL/min"]),
            dice.choice([None, 0.0, abs(a_number(dice)), abs(a_number(dice)) / 1000]),
            dice.choice([2, 3, 4, 6]),
        )
        for _ in range(40 * CASES)
    ]
    theirs = node(
        "(x, unit, u, digits) => [shown(x, u, digits), quantityText(x, unit, u, digits), fullQuantity(x, unit, u)]",
        given,
    )
    ours = [
        [shown(x, u, digits), quantity(x, unit, u, digits), full_quantity(x, unit, u)] for x, unit, u, digits in given
    ]
    differ = [(one, here, there) for one, here, there in zip(given, ours, theirs, strict=True) if here != there]
    assert not differ, f"{len(differ)} of {len(given)}: {differ[:3]}"
    assert len({text for texts in ours for text in texts}) > CASES


def test_what_is_no_number(node: Node) -> None:
    given = [(None,), (True,), (False,), ("laminar",), ("",)]
    assert node("(x) => [shown(x), quantityText(x, 'N'), fullQuantity(x, 'N')]", given) == [
        [shown(x), quantity(x, "N"), full_quantity(x, "N")] for (x,) in given
    ]


# --- Charts of random figures

LABELS = [
    "dry friction",
    "a < b & c > d \"e\" 'f'",
    "Strömungskraft × 2, µm²",
    "",
    "  two  blanks ",
    "x" * 60,
    "𝛥 p over 1",
]
UNITS = ["", "1", "N", "°C", "mL/min", "%", "mm²/s"]


def some(dice: random.Random, count: int) -> list[float | None]:
    """Values along a curve: straight, steep over decades, or anyhow; some may be lacking."""
    kind = dice.choice(["straight", "decades", "anyhow", "round"])
    start, step = dice.uniform(-50, 200), dice.uniform(-9, 9)
    values: list[float | None] = []
    for place in range(count):
        value = {
            "straight": start + place * step,
            "decades": 10.0 ** (-3 + 6 * place / count),
            "anyhow": dice.gauss(0, 40),
            "round": 12.5 * dice.randrange(-8, 9),
        }[kind]
        values.append(None if dice.random() < 0.04 else value)
    return values


def along(dice: random.Random, count: int) -> list[float]:
    low = dice.choice([0.0, 0.0, dice.uniform(-40, 40), 1e-4])
    span = dice.choice([dice.uniform(1, 300), 10.0 ** dice.randrange(-6, 7), 3.2])
    return [low + span * place / (count - 1) for place in range(count)]


def a_curve(dice: random.Random) -> dict[str, Any]:
    count = dice.randrange(2, 70)
    xs = along(dice, count)
    y = dice.choice([dice.gauss(0, 40), 10.0 ** dice.uniform(-4, 5), 25.0])
    doubt = dice.choice([0.1, 3.0, abs(y) / 10, 1e4])
    ends = [dice.choice([None, dice.choice(xs), dice.uniform(xs[0], xs[-1])]) for _ in range(2)]
    return {
        "kind": "curve",
        "title": dice.choice(LABELS),
        "x": {"label": dice.choice(LABELS), "unit": dice.choice(UNITS), "values": xs},
        "y": {"label": dice.choice(LABELS), "unit": dice.choice(UNITS), "values": some(dice, count)},
        "here": {"x": dice.choice(xs), "y": y} | dice.choice([{}, {"low": y - doubt, "high": y + doubt}]),
        "trusted": dice.choice([None, {"low": ends[0], "high": ends[1]}]),
        "limits": [{"y": dice.gauss(0, 40), "label": dice.choice(LABELS)} for _ in range(dice.randrange(3))],
    }


def a_stroke(dice: random.Random) -> dict[str, Any]:
    count = dice.randrange(2, 70)
    xs = along(dice, count)
    spec: dict[str, Any] = {
        "kind": "stroke",
        "title": dice.choice(LABELS),
        "unit_x": dice.choice(["mm", "in"]),
        "unit_y": dice.choice(["N", "lbf"]),
        "x": xs,
        "drive": {"label": dice.choice(LABELS), "y": some(dice, count)},
        "terms": [{"label": dice.choice(LABELS), "y": some(dice, count)} for _ in range(dice.randrange(10))],
        "marks": [{"x": dice.choice(xs), "label": dice.choice(LABELS)} for _ in range(dice.randrange(4))],
    }
    if dice.random() < 0.7:
        spec["worst"] = {"x": dice.choice(xs), "margin": dice.gauss(0, 30)}
        if dice.random() < 0.5:
            spec["worst"]["label"] = dice.choice(LABELS)
    return spec


@pytest.mark.parametrize(("kind", "make"), [("curve", a_curve), ("stroke", a_stroke)])
def test_random_charts(node: Node, kind: str, make: Callable[[random.Random], dict[str, Any]]) -> None:
    dice = random.Random(7)
    specs = [make(dice) for _ in range(CASES)]
    same([chart(spec) for spec in specs], node(f"(spec) => drawing.{kind}(spec)", [(spec,) for spec in specs]))


# --- The charts of answers


def moved(dice: random.Random, card: Card) -> dict[str, Any]:
    """The example with most numbers moved, some to zero, some written with what they are known to."""
    given = dict(card.example)
    for name, text in card.example.items():
        if name in card.rows or VOCABULARY[name].dimension in ("text", "count"):
            continue
        dimension = VOCABULARY[name].dimension
        reading = read(text, name, dimension)
        by = dice.uniform(-30, 90) if dimension == "temperature" else reading.value * dice.uniform(-1, 2)
        value = dice.choice([reading.value, reading.value + by, 0.0])
        known = "2 K" if dimension == "temperature" else f"{abs(value) / 40:.3g} {reading.unit}"
        typed = f"{value:.6g} {reading.unit}" + dice.choice(["", "", f" ± {known}"])
        if limits_of(card)[name].holds(read(typed, name, dimension).si):
            given[name] = typed
    return given


def answers(dice: random.Random, many: int) -> Iterator[Answer]:
    """Answers of every card: its example in both systems, and moved examples."""
    for card in CARDS:
        for system in ("metric", "us"):
            answer = calc(card.id, **card.example)
            answer.system = system
            yield answer
        for _ in range(many if card.chart in card.entries else 2):
            answer = calc(card.id, **moved(dice, card))
            answer.system = dice.choice(["metric", "us"])
            yield answer


def test_the_charts_of_answers(node: Node) -> None:
    found = list(answers(random.Random(5), max(CASES // 50, 2)))
    ours = [figure(answer) for answer in found]
    assert sum(map(bool, ours)) > 100
    assert any("logarithmic" in one for one in ours) and any("at least" in one for one in ours)
    assert any("trusted" in one for one in ours) and any("±" in one for one in ours)
    same(ours, node("chartFigure", [(answer.card.id, answer.to_json()) for answer in found]))


def test_the_charts_of_the_entries_that_a_reader_types(node: Node) -> None:
    """The whole way on the phone: text, answer, chart."""
    asked = [(card, system) for card in CARDS if card.chart or card.id == "shift-budget" for system in ("metric", "us")]
    ours = []
    for card, system in asked:
        answer = calc(card.id, **card.example)
        answer.system = system
        ours.append(figure(answer))
    work = "(id, given, system) => chartFigure(id, answer(id, given, { system }))"
    same(ours, node(work, [(card.id, card.example, system) for card, system in asked]))


def test_the_stroke_of_both_directions_and_states(node: Node) -> None:
    card = REGISTER["shift-budget"]
    given = [
        {**card.example, "direction": direction, "state": state, "load_pressure_difference": load_bar}
        for direction in ("energise", "release")
        for state in ("flow", "blocked", "no-pressure")
        for load_bar in ("20 bar", "-30 bar")
    ]
    found = [calc(card.id, **one) for one in given]
    for answer in found[::2]:
        answer.system = "us"
    for answer in found[::3]:
        answer.units = {"margin": "kN"}
    ours = [figure(answer) for answer in found]
    assert len(set(ours)) > 6 and any("kN" in one for one in ours)
    same(ours, node("chartFigure", [(answer.card.id, answer.to_json()) for answer in found]))
