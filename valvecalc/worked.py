"""The worked lines of a calculation: the body's assignments in order, with their numbers.

One run of a copy that returns its locals gives the values; nothing is calculated a second way.
"""

import ast
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any, NamedTuple, TypeAlias

from valvecalc.compiled import with_locals
from valvecalc.formula import REGISTER, Card
from valvecalc.needs import prune
from valvecalc.printing.expression import part, symbol_of, unit_of, word
from valvecalc.printing.scope import Scope, enter, evaluate, lines, settle
from valvecalc.printing.text import text
from valvecalc.quantities import VOCABULARY
from valvecalc.source import call_arguments, called
from valvecalc.units import from_si

_Line: TypeAlias = tuple[str, ast.expr, bool]


class Step(NamedTuple):
    """One worked line. Its texts are made when they are asked for: the JSON form does without them.

    value        SI float, or a word, or None where there is no value
    unit         shop unit it is printed in
    of, steps    id of the formula or sheet the line calls, and that one's own lines
    scope, expression  what the texts are made from; a called formula stands as its own expression
    """

    name: str
    symbol: str
    value: float | str | None
    unit: str
    of: str | None
    steps: tuple["Step", ...]
    scope: Scope
    expression: ast.expr

    @property
    def symbolic(self) -> str:
        """The line in symbols: "symbol = expression"."""
        return f"{self.symbol} = {text(part(self.scope, self.expression, numbers=False))}"

    @property
    def substituted(self) -> str:
        """The right side with numbers in shop units; empty where the line is told in words."""
        numbers = part(self.scope, self.expression, numbers=True)
        return "" if numbers.kind == "words" else text(numbers)


def work(card: Card, values: Mapping[str, Any], system: str = "metric") -> tuple[Step, ...]:
    """The worked lines of a card for entries in SI (None or absent: not known), in metric or US shop units."""
    if card.kind == "formula" and any(values.get(name) is None for name in card.entries):
        return ()
    return tuple(_steps(*_run(card, values, system)))


def as_json(steps: Sequence[Step]) -> list[dict[str, Any]]:
    """The steps of the answer contract: values in the printed unit, at full precision."""
    return _as_json(steps, {})


def _as_json(steps: Sequence[Step], told: dict[int, list[dict[str, Any]]]) -> list[dict[str, Any]]:
    """`told` keeps what lines became: several results of one call have the same lines."""
    if id(steps) in told:
        return told[id(steps)]
    rows = told[id(steps)] = []
    for step in steps:
        value = step.value
        if isinstance(value, float):
            value = from_si(value, step.unit, VOCABULARY[step.name].dimension)
        row: dict[str, Any] = {"name": step.name, "symbol": step.symbol, "value": value, "unit": step.unit}
        row |= {"symbolic": step.symbolic, "substituted": step.substituted}
        rows.append(row | {"of": step.of, "steps": _as_json(step.steps, told)} if step.of else row)
    return rows


def _run(card: Card, values: Mapping[str, Any], system: str) -> tuple[Scope, tuple[_Line, ...], Any]:
    """One run: where its locals can be looked up, the lines that could be worked, and what it returned."""
    given = {name: values.get(name) for name in card.entries}
    if card.kind == "formula":
        result, local = with_locals(card)(**given)
        return Scope(card, local, system), _lines(card.id, frozenset()), result
    missing = frozenset(name for name, value in given.items() if value is None)
    record = card.record(**{name: given.pop(name) for name in card.record._fields})
    result, local = with_locals(card, missing)(record, **given)
    worked = _lines(card.id, missing)
    made = {name: node for name, node, returned in worked if not returned}
    return Scope(card, local, system, made, steps={}), worked, result


@cache
def _lines(card_id: str, missing: frozenset[str]) -> tuple[_Line, ...]:
    card = REGISTER[card_id]
    return tuple(lines(card, prune(card, missing) if missing else None))


def _steps(scope: Scope, worked: tuple[_Line, ...], result: Any) -> Iterator[Step]:
    local = scope.values or {}
    for name, node, returned in worked:
        value = local[name] if not returned else result[name] if isinstance(result, dict) else result
        if isinstance(value, str | bool | int | float | None):
            yield _step(scope, name, node, value)


def _step(scope: Scope, name: str, node: ast.expr, value: Any) -> Step:
    number = isinstance(value, int | float) and not isinstance(value, bool)
    callee, steps, where, expression = _called(*settle(scope, node))
    return Step(
        name=name,
        symbol=symbol_of(name),
        value=float(value) if number else None if value is None else word(value),
        unit=unit_of(name, scope.system) if number else "",
        of=callee,
        steps=steps,
        scope=where,
        expression=expression,
    )


def _called(scope: Scope, node: ast.expr) -> tuple[str | None, tuple[Step, ...], Scope, ast.expr]:
    """What an expression calls as a whole, a formula or a sheet that one result is taken of: its id and lines.

    Then the expression to print: what the formula returns (its last line, in the caller's symbols), else `node`.
    """
    call = node.value if isinstance(node, ast.Subscript) else node
    card = called(scope.card.function, call)
    if card is None or not isinstance(call, ast.Call) or (card.kind == "sheet") != isinstance(node, ast.Subscript):
        return None, (), scope, node
    if card.kind == "sheet":
        if call not in scope.steps:
            given = {name: evaluate(scope, each) for name, each in call_arguments(card, scope.card, call).items()}
            record = evaluate(scope, call.args[0])
            scope.steps[call] = work(card, {**card.defaults, **record._asdict(), **given}, scope.system)
        return card.id, scope.steps[call], scope, node
    inner = enter(scope, call, card)
    run, worked, result = _run(card, inner.values or {}, scope.system)
    run = run._replace(bound=inner.bound)
    _, _, where, expression = _called(*settle(run, worked[-1][1]))
    return card.id, tuple(_steps(run, worked, result)), where, expression
