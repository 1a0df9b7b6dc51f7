"""The dimension self-test: every formula worked on pint Quantities, every line held against the vocabulary.

It runs on a copy of the body in which defaults are Quantities, called formulas are their own such copies,
and the maths functions refuse what has a dimension where none belongs.
"""

import ast
from copy import deepcopy
from math import sin
from typing import Any

import pint
import pytest

from valvecalc.door import load
from valvecalc.formula import REGISTER, Card
from valvecalc.maths import pi
from valvecalc.quantities import VOCABULARY
from valvecalc.source import body, called, syntax
from valvecalc.units import registry, to_quantity

load()
FORMULAS = [card for card in REGISTER.values() if card.kind == "formula"]
ZERO = 0.0


class WrongDimension(AssertionError):
    """A line has another dimension than its name says, or unlike things were put together."""


def dimension(value: Any) -> dict[str, float]:
    """The powers of a value's base dimensions; a plain number has none. A third power of a root is a whole one."""
    powers = dict(value.dimensionality) if hasattr(value, "dimensionality") else {}
    return {name: round(power, 9) for name, power in powers.items() if abs(power) > 1e-9}


def plain(value: Any) -> float:
    """The number of a value that must not have a dimension."""
    if dimension(value):
        raise WrongDimension(f"{value} where a plain number belongs")
    return float(value.to_base_units().magnitude) if hasattr(value, "to_base_units") else float(value)


def alike(*values: Any) -> None:
    """Refuse unlike dimensions; a plain 0 is alike with everything."""
    kinds = [dimension(value) for value in values if hasattr(value, "dimensionality") or value != ZERO]
    if any(kind != kinds[0] for kind in kinds):
        raise WrongDimension(f"{' and '.join(map(str, values))} in one place")


def pick(compare: Any) -> Any:
    def either(a: Any, b: Any) -> Any:
        alike(a, b)
        found, other = compare(a, b), a if hasattr(a, "dimensionality") else b
        return found if hasattr(found, "dimensionality") else 0.0 * other  # a plain 0 takes the other's unit

    return either


def chosen(condition: Any, yes: Any, no: Any) -> Any:
    alike(yes, no)
    return yes if condition else no


def raised(x: Any, exponent: Any) -> Any:
    return x ** plain(exponent)


def root(x: Any) -> Any:
    return x**0.5


def of_number(value: float) -> Any:
    """exp, log, log10, cos and the like: only that a plain number goes in and comes out matters here."""

    def function(x: Any) -> float:
        return value + 0.1 * sin(plain(x))  # two logarithms of unlike numbers must not cancel

    return function


MATHS = {
    "pi": pi,
    "sqrt": root,
    "power": raised,
    "exp": of_number(0.6),
    "log": of_number(0.6),
    "log10": of_number(0.6),
    "cos": of_number(0.6),
    "tan": of_number(0.6),
    "acos": of_number(0.6),
    "tanh": of_number(0.6),
    "where": chosen,
    "maximum": pick(max),
    "minimum": pick(min),
}


def held(name: str, value: Any) -> Any:
    """A line, its dimension held against that of its name."""
    expected = dimension(to_quantity(1.0, VOCABULARY[name].dimension))
    if dimension(value) != expected:
        raise WrongDimension(f"{name} = {value}: expected {expected or 'a plain number'}")
    return value


class Rewriter(ast.NodeTransformer):
    """Calls of formulas become calls of their copies."""

    def __init__(self, card: Card, names: dict[str, Any]) -> None:
        self.card, self.names = card, names

    def visit_Call(self, node: ast.Call) -> ast.AST:
        callee = called(self.card.function, node)
        self.generic_visit(node)
        if callee is None:
            return node
        name = "_" + callee.id.replace("-", "_")
        self.names[name] = copy_of(callee)
        return ast.Call(func=ast.Name(name, ast.Load()), args=node.args, keywords=node.keywords)


def copy_of(card: Card) -> Any:
    """The body of a formula on Quantities, every line held."""
    names: dict[str, Any] = dict(MATHS) | {"held": held}
    rewriter = Rewriter(card, names)
    statements = []
    for statement in deepcopy(body(card.function)):
        assert isinstance(statement, ast.Assign | ast.Return) and statement.value is not None
        name = statement.targets[0].id if isinstance(statement, ast.Assign) else card.result  # type: ignore[attr-defined]
        value = rewriter.visit(statement.value)
        statement.value = ast.Call(ast.Name("held", ast.Load()), [ast.Constant(name), value], [])
        statements.append(statement)
    arguments = deepcopy(syntax(card.function).args)
    for argument in arguments.kwonlyargs:
        argument.annotation = None
    arguments.kw_defaults = [None] * len(arguments.kwonlyargs)
    function = ast.FunctionDef(name="worked", args=arguments, body=statements, decorator_list=[], type_params=[])
    exec(compile(ast.fix_missing_locations(ast.Module([function], [])), card.id, "exec"), names)

    def with_defaults(**given: Any) -> Any:
        return names["worked"](**defaults(card) | given)

    return with_defaults


def defaults(card: Card) -> dict[str, Any]:
    return {name: to_quantity(value, VOCABULARY[name].dimension) for name, value in card.defaults.items()}


def check(card: Card) -> Any:
    """Work a card on Quantities: 1.7 in SI for the first entry, each further a tenth smaller, so that no two cancel."""
    given = {
        name: to_quantity(1.7 / 1.1**place, VOCABULARY[name].dimension)
        for place, name in enumerate(card.entries)
        if name not in card.defaults
    }
    try:
        return copy_of(card)(**given)
    except pint.DimensionalityError as unlike:
        raise WrongDimension(str(unlike)) from None


@pytest.mark.parametrize("card", FORMULAS, ids=lambda card: card.id)
def test_every_line_has_the_dimension_of_its_name(card: Card) -> None:
    check(card)


def test_every_dimension_of_the_vocabulary_is_told_apart() -> None:
    """Else a line of a wrong dimension would pass."""
    kinds = {name: dimension(to_quantity(1.0, name)) for name in ("length", "area", "flow", "force", "pressure")}
    assert len({str(kind) for kind in kinds.values()}) == len(kinds)
    assert dimension(registry().Quantity(1.0, "N*m/s")) == dimension(to_quantity(1.0, "power"))


# Bodies that are wrong, in the clothes of formulas that are right: entries and result of the card stand.
WRONG = [
    ("annular-leakage", "return diameter * clearance**2 * pressure_drop / (12 * viscosity * length)"),
    ("annular-leakage", "return diameter * clearance**3 * pressure_drop * (1 + clearance) / (viscosity * length)"),
    ("orifice-flow", "return discharge_coefficient * area * 2 * pressure_drop / density"),
    ("corner-opening", "corner_area = pump_flow / available_drop\n    return clearance"),  # the line, not the result
    ("corner-opening", "return maximum(clearance, pump_flow)"),
    ("silt-force", "return silt_limit * (1 - exp(-hold_time)) * breakaway"),
    ("kinematic-viscosity", "return viscosity_40 * power(10, oil_temperature)"),
    ("solenoid-force", "return where(current_ratio <= 1, curve_force, current_ratio)"),
    ("solenoid-force", "return curve_force * power(current_ratio, curve_force)"),
    ("peak-flow-force", "return flow_force_factor * cos(density) * pump_flow * sqrt(2 * density * available_drop)"),
    ("winding-resistance", "return resistance_20 * (1 + (winding_temperature - reference_temperature))"),
    ("spring-force", "return spring_preload + spring_rate"),
]


@pytest.mark.parametrize(("id", "text"), WRONG, ids=[f"{name}-{place}" for place, (name, _) in enumerate(WRONG)])
def test_a_wrong_formula_is_found(id: str, text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The test of the test."""
    wrong = ast.parse(f"def wrong():\n    {text}").body[0].body  # type: ignore[attr-defined]
    monkeypatch.setitem(globals(), "body", lambda function: wrong)
    with pytest.raises(WrongDimension):
        check(REGISTER[id])
