"""Where the names of a worked line are looked up, and what really stands behind an expression.

A callee's entry stands for what the caller wrote; `known` for the reading that is there; a branch for
the one taken; a column of a local for what the local was made of.
"""

import ast
from collections.abc import Iterator, Mapping
from functools import lru_cache
from types import CodeType
from typing import Any, NamedTuple

from valvecalc.formula import Card
from valvecalc.quantities import VOCABULARY
from valvecalc.source import body, call_arguments


class Scope(NamedTuple):
    """Where names are looked up.

    values  locals in SI; None where nothing is worked
    made    local -> the expression it was made of
    bound   entry of a called formula -> what the caller wrote for it, and where
    steps   call of a sheet -> its worked lines: several lines may each take a result of one call
    """

    card: Card
    values: Mapping[str, Any] | None = None
    system: str = "metric"
    made: Mapping[str, ast.expr] = {}
    bound: Mapping[str, tuple["Scope", ast.expr]] = {}
    steps: Any = None


def function_name(node: ast.expr) -> str:
    """What a call of a plain name calls, else an empty text."""
    return node.func.id if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) else ""


def evaluate(scope: Scope, node: ast.expr) -> Any:
    """The value of an expression among worked locals."""
    values = scope.values or {}
    if isinstance(node, ast.Name) and node.id in values:
        return values[node.id]
    if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id in values:
        return getattr(values[node.value.id], node.attr)
    if isinstance(node, ast.Constant):
        return node.value
    return eval(_code(node), {**scope.card.function.__globals__, **values})


@lru_cache(maxsize=4096)
def _code(node: ast.expr) -> CodeType:
    return compile(ast.fix_missing_locations(ast.Expression(body=node)), "<line>", "eval")


def settle(scope: Scope, node: ast.expr, numbers: bool = False) -> tuple[Scope, ast.expr]:
    """What really stands there: the caller's expression, the first known reading, the branch taken."""
    while True:
        name = function_name(node)
        if isinstance(node, ast.Name) and node.id in scope.bound:
            scope, node = scope.bound[node.id]
        elif name == "known" and isinstance(node, ast.Call):
            node = _first_known(scope, node.args)
        elif isinstance(node, ast.IfExp) and scope.values is not None:
            node = node.body if evaluate(scope, node.test) else node.orelse
        elif name == "where" and numbers and isinstance(node, ast.Call):
            node = node.args[1] if evaluate(scope, node.args[0]) else node.args[2]
        elif isinstance(node, ast.Subscript) and (found := _looked_up(scope, node)) is not None:
            node = found
        else:
            return scope, node


def _looked_up(scope: Scope, node: ast.Subscript) -> ast.expr | None:
    """A column of a local as a column of what the local was made of; None if it is that already."""
    made = scope.made.get(node.value.id) if isinstance(node.value, ast.Name) else None
    if made is None:
        return None
    _, made = settle(scope, made)
    if not isinstance(made, ast.Dict):
        return ast.Subscript(value=made, slice=node.slice, ctx=ast.Load())
    column = ast.literal_eval(node.slice) if isinstance(node.slice, ast.Constant) else None
    pairs = zip(made.keys, made.values, strict=True)
    return next((value for key, value in pairs if isinstance(key, ast.Constant) and key.value == column), None)


def _first_known(scope: Scope, choices: list[ast.expr]) -> ast.expr:
    if scope.values is None:
        return choices[0]
    return next((each for each in choices if evaluate(scope, each) is not None), choices[0])


def enter(scope: Scope, node: ast.Call, callee: Card) -> Scope:
    """Inside a called formula: its entries print as what the caller wrote; a literal or a call as the entry itself."""
    arguments = call_arguments(callee, scope.card, node)
    bound: dict[str, tuple[Scope, ast.expr]] = {}
    for name, expression in arguments.items():
        where, what = settle(scope, expression)
        if isinstance(what, ast.BinOp) or leaf_name(where, what):
            bound[name] = where, what
    if scope.values is None:
        return Scope(callee, None, scope.system, {}, bound)
    given = {name: evaluate(scope, expression) for name, expression in arguments.items()}
    return Scope(callee, {**callee.defaults, **given}, scope.system, {}, bound)


def leaf_name(scope: Scope, node: ast.expr) -> str | None:
    """The vocabulary name whose symbol and unit an expression bears, or None if it bears none or is made of parts."""
    name = None
    if isinstance(node, ast.Name):
        name = node.id
    elif isinstance(node, ast.Attribute):
        name = node.attr
    elif isinstance(node, ast.Subscript) and isinstance(node.value, ast.Name) and isinstance(node.slice, ast.Constant):
        name = str(node.slice.value)
    elif isinstance(node, ast.Call) and function_name(node) == "fact":
        name = str(ast.literal_eval(node.args[0])).replace("-", "_")
    return name if name in VOCABULARY else None


def lines(card: Card, statements: list[ast.stmt] | None = None) -> Iterator[tuple[str, ast.expr, bool]]:
    """(name, expression, whether it is returned) of every line, of the body or of the `statements` left of it.

    Results of a sheet that only repeat a local or an entry are left out.
    """
    for statement in statements or body(card.function):
        if isinstance(statement, ast.Assign) and isinstance(statement.targets[0], ast.Name):
            yield statement.targets[0].id, statement.value, False
        elif isinstance(statement, ast.Return) and isinstance(statement.value, ast.Dict):
            for key, value in zip(statement.value.keys, statement.value.values, strict=True):
                name = ast.literal_eval(key) if key is not None else ""
                if name not in (getattr(value, "id", ""), getattr(value, "attr", "")):
                    yield name, value, True
        elif isinstance(statement, ast.Return) and statement.value is not None:
            yield card.result, statement.value, True
