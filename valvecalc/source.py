"""A calculation's own source as a syntax tree: what every printer and the compiler start from.

The tree comes from the file, not from `inspect`, which costs 20 ms to import. Names are resolved
through the function's module, so `coil.winding_resistance` is known to be that formula.
"""

import ast
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

from valvecalc.formula import Card, card_of

PRIMITIVES = frozenset(
    {
        *("using", "fact", "known", "table", "log_table", "grid", "sweep", "fit"),
        *("least", "most", "march", "rank", "total", "vary", "solve", "threshold"),
    }
)
MATHS = frozenset({"sqrt", "power", "exp", "log", "log10", "cos", "tan", "acos", "tanh", "where", "maximum", "minimum"})


@cache
def _module(path: str) -> dict[str, ast.FunctionDef]:
    with open(path, encoding="utf-8") as file:
        tree = ast.parse(file.read())
    return {node.name: node for node in tree.body if isinstance(node, ast.FunctionDef)}


class Rewriter(ast.NodeTransformer):
    """Changes a syntax tree without touching it: what changes is made anew, all else is shared with the source."""

    def generic_visit(self, node: ast.AST) -> ast.AST:
        changed: dict[str, Any] = {}
        for name, value in node.__dict__.items():
            if isinstance(value, list):
                made = [self.visit(each) if isinstance(each, ast.AST) else each for each in value]
                if any(new is not old for new, old in zip(made, value, strict=True)):
                    changed[name] = made
            elif isinstance(value, ast.AST) and (new := self.visit(value)) is not value:
                changed[name] = new
        return type(node)(**{**node.__dict__, **changed}) if changed else node


def syntax(function: Callable[..., Any]) -> ast.FunctionDef:
    """The definition of a registered function, as written."""
    code = function.__code__
    return _module(code.co_filename)[code.co_name]


def body(function: Callable[..., Any]) -> list[ast.stmt]:
    """The statements of a function without its docstring."""
    statements = syntax(function).body
    first = statements[0]
    quoted = (
        isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant) and isinstance(first.value.value, str)
    )
    return statements[1:] if quoted else statements


def assignments(function: Callable[..., Any]) -> Iterator[tuple[str, ast.expr, ast.stmt]]:
    """(name, expression, statement) of every line; the return of a formula bears its result's name."""
    card = card_of(function)
    for statement in body(function):
        if isinstance(statement, ast.Assign) and isinstance(statement.targets[0], ast.Name):
            yield statement.targets[0].id, statement.value, statement
        elif isinstance(statement, ast.Return) and statement.value is not None and card is not None:
            yield card.result, statement.value, statement


def resolve(function: Callable[..., Any], node: ast.expr) -> Any:
    """What a name or `module.name` stands for in the module of `function`; None if it is local."""
    names: dict[str, Any] = function.__globals__
    if isinstance(node, ast.Name):
        return names.get(node.id)
    if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
        module = names.get(node.value.id)
        return getattr(module, node.attr, None) if module is not None else None
    return None


def called(function: Callable[..., Any], node: ast.expr) -> Card | None:
    """The card of the formula or sheet that a call expression calls (through `using` too), or None."""
    if not isinstance(node, ast.Call):
        return None
    if isinstance(node.func, ast.Name) and node.func.id == "using" and len(node.args) > 1:
        target = resolve(function, node.args[1])
    else:
        target = resolve(function, node.func)
    return card_of(target) if callable(target) else None


def record_name(card: Card) -> str:
    """What a sheet calls its record."""
    return syntax(card.function).args.args[0].arg


def call_arguments(card: Card, caller: Card, node: ast.Call) -> dict[str, ast.expr]:
    """The keyword expressions of a call of `card` inside `caller`; those `using` takes are spelled out."""
    given = {keyword.arg: keyword.value for keyword in node.keywords if keyword.arg is not None}
    if isinstance(node.func, ast.Name) and node.func.id == "using" and caller.record is not None:
        record = node.args[0]
        for name in card.entries:
            if name not in given and name in caller.record._fields:
                given[name] = ast.Attribute(value=record, attr=name, ctx=ast.Load())
    return {name: given[name] for name in card.entries if name in given}
