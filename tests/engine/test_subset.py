"""The printable subset: every card prints, every name is known, and what does not belong is refused with a place."""

import ast
import importlib.util
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from valvecalc.door import load
from valvecalc.formula import _BY_FUNCTION, REGISTER, Card
from valvecalc.printing.javascript import RESERVED, NotPrintable, function_text, identifier, module_text
from valvecalc.quantities import VOCABULARY
from valvecalc.source import MATHS, PRIMITIVES, body

load()
CARDS = list(REGISTER.values())
every_card = pytest.mark.parametrize("card", CARDS, ids=lambda card: card.id)


@every_card
def test_every_card_prints(card: Card) -> None:
    text = function_text(card)
    assert text.startswith(f"const {identifier(card)} = (") and text.endswith("};")


@every_card
def test_every_assigned_name_is_in_the_vocabulary(card: Card) -> None:
    names = [target.id for line in body(card.function) if isinstance(line, ast.Assign) for target in line.targets]
    assert [name for name in (*names, *card.entries, *card.results) if name not in VOCABULARY] == []


@every_card
def test_a_formula_calls_another_as_a_whole_line(card: Card) -> None:
    """So that what it calls has a worked line of its own."""
    if card.kind == "sheet":
        return
    for line in body(card.function):
        inner = {id(node) for node in ast.walk(line.value) if node is not line.value}
        calls = [node for node in ast.walk(line.value) if isinstance(node, ast.Call) and id(node) in inner]
        assert [ast.unparse(node) for node in calls if isinstance(node.func, ast.Attribute)] == []


def test_no_name_of_the_vocabulary_is_a_word_of_javascript() -> None:
    assert set(VOCABULARY) & RESERVED == set()


def test_no_function_of_the_module_bears_the_name_of_a_line() -> None:
    """A line called like its formula would be used before it is there."""
    names = {identifier(card) for card in CARDS}
    assert names & (set(VOCABULARY) | RESERVED | MATHS | PRIMITIVES) == set()


def test_a_module_of_one_card_holds_all_it_calls() -> None:
    text = module_text([REGISTER["leak-check"]])
    needed = {"$oil_state", "$index_at", "$annular_leakage", "$viscosity_index_low"}
    assert needed <= set(re.findall(r"const (\$\w+)", text))
    assert "$coil_check" not in text


# ---- bodies that do not belong: name, kind, body, what is said about it
BAD = [
    ("loop", "formula", "for force in (load_1, load_2):\n        pass\n    return load_1", "only assignments"),
    ("if statement", "formula", "if load_1 > 0:\n        load_2 = 0\n    return load_2", "only assignments"),
    ("two names at once", "formula", "force, power = load_1, load_2\n    return force", "only assignments"),
    ("a name twice in a row", "formula", "force = power = load_1\n    return force", "only assignments"),
    ("adding to a name", "formula", "load_1 += 1\n    return load_1", "only assignments"),
    ("no return", "formula", "force = load_1", "the last statement is the return"),
    ("a return before the end", "formula", "return load_1\n    return load_2", "only assignments"),
    ("if expression", "formula", "return load_1 if load_1 > 0 else load_2", "write where(condition, yes, no)"),
    ("broken exponent", "formula", "return load_1**0.5", "power(x, exponent)"),
    ("variable exponent", "formula", "return load_1**load_2", "power(x, exponent)"),
    ("function that is not registered", "formula", "return helper(load_1)", "only registered formulas and maths"),
    ("method", "formula", "return load_1.real", "not in the printable subset"),
    ("built-in", "formula", "return abs(load_1)", "only registered formulas and maths"),
    ("primitive in a formula", "formula", "return total([load_1, load_2])", "only registered formulas and maths"),
    ("keyword to a maths function", "formula", "return power(load_1, exponent=2)", "without keywords"),
    ("chain of comparisons", "formula", "return where(0 < load_1 < 1, load_1, load_2)", "not in the printable subset"),
    ("rest of a division", "formula", "return load_1 % load_2", "not in the printable subset"),
    ("whole division", "formula", "return load_1 // load_2", "not in the printable subset"),
    ("text put together", "formula", "return f'{load_1}'", "not in the printable subset"),
    ("word of JavaScript", "formula", "new = load_1\n    return new", "new is a word of JavaScript"),
    ("name of the runtime", "formula", "div = load_1\n    return div / load_2", "div is a word of JavaScript"),
    ("product in a sheet", "sheet", 'force = pair.load_1 * pair.load_2\n    return {"force": force}', "a sheet adds"),
    ("quotient in a sheet", "sheet", 'return {"force": pair.load_1 / pair.load_2}', "a sheet adds"),
    ("power in a sheet", "sheet", 'return {"force": pair.load_1**2}', "a sheet adds"),
    ("function in a sheet", "sheet", 'return {"force": sqrt(pair.load_1)}', "only registered formulas, sheets"),
    ("lambda with a default", "sheet", 'return {"force": sweep(lambda x, y=1: x, [1])}', "not in the printable subset"),
    ("two loops at once", "sheet", 'return {"force": [a for a in b for b in c]}', "not in the printable subset"),
    ("set", "sheet", 'return {"force": {pair.load_1}}', "not in the printable subset"),
]

FORMULA = """
@formula("bad", result="force")
def {name}(*, load_1, load_2):
    {body}
"""
SHEET = """
class Pair_{name}(NamedTuple):
    load_1: float
    load_2: float

@sheet("bad", results=("force",))
def {name}(pair: Pair_{name}):
    {body}
"""
HEAD = """from typing import NamedTuple
from valvecalc.formula import formula
from valvecalc.maths import power, sqrt, where
from valvecalc.primitives import sweep, total
from valvecalc.sheet import sheet

def helper(x):
    return x
"""


@pytest.fixture
def made(tmp_path: Path) -> Iterator[Callable[[str, str], Card]]:
    """A card from the text of a body, in a file of its own; out of the register afterwards."""
    before = set(REGISTER)

    def make(kind: str, text: str) -> Card:
        path = tmp_path / "bad_body.py"
        path.write_text(HEAD + (FORMULA if kind == "formula" else SHEET).format(name="bad_body", body=text), "utf-8")
        spec = importlib.util.spec_from_file_location("bad_body", path)
        assert spec is not None and spec.loader is not None
        spec.loader.exec_module(importlib.util.module_from_spec(spec))
        return REGISTER["bad-body"]

    yield make
    for name in set(REGISTER) - before:
        del _BY_FUNCTION[REGISTER.pop(name).function]


@pytest.mark.parametrize(("name", "kind", "text", "says"), BAD, ids=[row[0] for row in BAD])
def test_a_body_outside_the_subset_is_refused_with_its_place(made, name: str, kind: str, text: str, says: str) -> None:
    card = made(kind, text)
    with pytest.raises(NotPrintable) as caught:
        function_text(card)
    place = re.match(r"bad_body\.py:(\d+): bad-body: ", str(caught.value))
    assert place, caught.value
    lines = Path(card.function.__code__.co_filename).read_text("utf-8").split("\n")
    first = next(number for number, line in enumerate(lines, 1) if line.startswith("def bad_body"))
    assert first < int(place.group(1)) <= len(lines)
    assert says in str(caught.value)


def test_an_entry_that_is_a_word_of_javascript_is_refused(made) -> None:
    card = made("formula", "return load_1")
    with pytest.raises(NotPrintable, match="delete is a word of JavaScript"):
        function_text(card._replace(entries=("load_1", "delete")))


def test_a_good_body_of_the_same_make_prints(made) -> None:
    """The refusals above come from the bodies, not from the way they are made."""
    card = made("formula", "force = load_1**2\n    return where(force > 1, force, load_2)")
    assert "pow(load_1, 2)" in function_text(card)


def test_a_good_sheet_of_the_same_make_prints(made) -> None:
    card = made("sheet", 'force = pair.load_1 - pair.load_2\n    return {"force": force}')
    assert "pair.load_1 - pair.load_2" in function_text(card)
