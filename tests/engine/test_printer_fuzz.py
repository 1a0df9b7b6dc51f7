"""Random bodies through the printer: the same source run by Python and, printed, by node.

The trees are made as syntax and written by `ast.unparse` with as few brackets as Python needs, so that a
bracket lost on the way to JavaScript shows. Values agree to 1e-12 of the largest sub-expression.
"""

import ast
import importlib.util
import random
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from valvecalc import maths
from valvecalc.door import NO_VALUE, function_of
from valvecalc.formula import _BY_FUNCTION, REGISTER, Card
from valvecalc.printing.javascript import function_text, identifier
from valvecalc.source import syntax

ENTRIES = ("first_load", "second_load", "third_load")
LINE = "held"
EACH = 5
HEAD = """from valvecalc.formula import formula
from valvecalc.maths import acos, cos, exp, log, log10, maximum, minimum, pi, power, sqrt, tan, tanh, where
"""


def number(value: float) -> ast.expr:
    return ast.Constant(value=value)


def call(name: str, *given: ast.expr) -> ast.expr:
    return ast.Call(func=ast.Name(id=name, ctx=ast.Load()), args=list(given), keywords=[])


def tree(dice: random.Random, depth: int, names: tuple[str, ...]) -> ast.expr:
    """A random expression of the subset."""

    def inner() -> ast.expr:
        return tree(dice, depth - 1, names)

    pick = dice.random()
    if depth == 0 or pick < 0.1:
        if dice.random() < 0.75:
            return ast.Name(id=dice.choice(names), ctx=ast.Load())
        figure = dice.choice([dice.randint(0, 12), round(dice.uniform(0, 3), 2)])
        return dice.choice([number(figure), ast.Name("pi", ast.Load())])
    if pick < 0.6:
        sign = dice.choice([ast.Add, ast.Sub, ast.Mult, ast.Div])
        return ast.BinOp(left=inner(), op=sign(), right=inner())
    if pick < 0.68:
        return ast.UnaryOp(op=ast.USub(), operand=inner())
    if pick < 0.76:
        return ast.BinOp(left=inner(), op=ast.Pow(), right=number(dice.choice([0, 1, 2, 2, 3, 4])))
    if pick < 0.82:
        third = ast.BinOp(left=number(1), op=ast.Div(), right=number(3))
        return call("power", inner(), dice.choice([number(1.5), number(-0.7), third, inner()]))
    if pick < 0.92:
        return call(dice.choice(["sqrt", "log10", "log", "exp", "cos", "tan", "acos", "tanh"]), inner())
    if pick < 0.96:
        return call(dice.choice(["maximum", "minimum"]), inner(), inner())
    sign = dice.choice([ast.Lt, ast.LtE, ast.Gt, ast.GtE])
    return call("where", ast.Compare(left=inner(), ops=[sign()], comparators=[inner()]), inner(), inner())


@pytest.fixture(scope="module")
def bodies(cases: int, tmp_path_factory: pytest.TempPathFactory) -> Iterator[list[Card]]:
    """Cards of random bodies: one assignment and a return."""
    dice = random.Random(31)
    text = HEAD
    for index in range(cases):
        text += f"\n\n@formula('fuzz', result='force')\ndef fuzz_{index}(*, {', '.join(ENTRIES)}):\n"
        text += f"    {LINE} = {ast.unparse(tree(dice, 3, ENTRIES))}\n"
        text += f"    return {ast.unparse(tree(dice, dice.choice([2, 3, 4]), (*ENTRIES, LINE)))}\n"
    path = tmp_path_factory.mktemp("fuzz") / "fuzz.py"
    path.write_text(text, encoding="utf-8")
    before = set(REGISTER)
    load_module(path)
    made = [REGISTER[name] for name in REGISTER if name not in before]
    yield made
    for card in made:
        del REGISTER[card.id], _BY_FUNCTION[card.function]


def load_module(path: Path) -> None:
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec is not None and spec.loader is not None
    spec.loader.exec_module(importlib.util.module_from_spec(spec))


def compile_parts(body: list[ast.stmt]) -> list[tuple[str, Any]]:
    """Every sub-expression of a body as code, in the order of its lines."""
    parts = []
    for statement in body:
        for node in ast.walk(statement):
            if isinstance(node, ast.BinOp | ast.UnaryOp | ast.Call):
                parts.append(("", compile(ast.fix_missing_locations(ast.Expression(node)), "<part>", "eval")))
        if isinstance(statement, ast.Assign):
            whole = ast.fix_missing_locations(ast.Expression(statement.value))
            parts.append((LINE, compile(whole, "<line>", "eval")))
    return parts


def largest_part(parts: list[tuple[str, Any]], given: dict[str, float]) -> float:
    names = {**vars(maths), **given}
    found = max(abs(value) for value in given.values())
    for name, code in parts:
        value = eval(code, names)
        if name:
            names[name] = value
        found = max(found, abs(value))
    return found


def load(dice: random.Random) -> float:
    """A value of an entry: at times 0, 1 or -1, else small, large, of either sign."""
    return dice.choice([0.0, 1.0, -1.0, 2.0, dice.uniform(-5, 5), dice.uniform(0, 5), 10 ** dice.uniform(-3, 3)])


def test_random_bodies_give_the_same_in_javascript(bodies, node, capsys):
    dice = random.Random(32)
    asked = []
    for index, card in enumerate(bodies):
        for _ in range(EACH):
            given = {name: load(dice) for name in ENTRIES}
            asked.append((index, card, given))
    functions = "\n".join(function_text(card) for card in bodies)
    table = f"const made = [{', '.join(identifier(card) for card in bodies)}];"
    answer = "const answer = ([index, given]) => attempt(() => finite(made[index](...given)));"
    by_place = [[index, [given[name] for name in card.entries]] for index, card, given in asked]
    told = node(f"{functions}\n{table}\n{answer}", by_place, open_runtime=True)
    none, worst = 0, 0.0
    parts: dict[int, list[tuple[str, Any]]] = {}
    for (index, card, given), theirs in zip(asked, told, strict=True):
        text = ast.unparse(syntax(card.function))
        try:
            ours = function_of(card, frozenset())(given)["force"]
        except NO_VALUE:
            assert isinstance(theirs, dict), f"Python has no value, JavaScript {theirs}: {given}\n{text}"
            none += 1
            continue
        assert not isinstance(theirs, dict), f"Python {ours}, JavaScript {theirs}: {given}\n{text}"
        if theirs == ours:
            continue
        if index not in parts:
            parts[index] = compile_parts(syntax(card.function).body)
        off = abs(theirs - ours) / largest_part(parts[index], given)
        worst = max(worst, off)
        assert off <= 1e-12, f"JavaScript {theirs!r}, Python {ours!r}: {given}\n{text}"
    assert none > len(asked) // 100, "hardly a case was drawn that has no value"
    assert none < len(asked) // 2, "hardly a case was drawn that has a value"
    with capsys.disabled():
        print(f"\nprinter fuzz: {len(asked)} values, {none} without a value in both, worst {worst:.2g}")
