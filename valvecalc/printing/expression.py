"""An expression of a body as a tree of printable parts: what text and MathML are made from.

The tree keeps the author's order and grouping. A name stands in it as its symbol, or as its value
in shop units.
"""

import ast
from typing import Any, NamedTuple

from valvecalc.formula import Card
from valvecalc.printing.scope import Scope, enter, evaluate, function_name, leaf_name, lines, settle
from valvecalc.quantities import VOCABULARY
from valvecalc.source import MATHS, call_arguments, called
from valvecalc.units import from_si, show


class Part(NamedTuple):
    """One node: its kind, its own text, its children.

    number, symbol, value (number with unit), words: text alone
    sum, difference, product, quotient, power: two children; minus, root: one
    call: text is the function; compare: text is the sign; cases: value, condition, ... , otherwise
    """

    kind: str
    text: str = ""
    parts: tuple["Part", ...] = ()


_BINARY = {ast.Add: "sum", ast.Sub: "difference", ast.Mult: "product", ast.Div: "quotient", ast.Pow: "power"}
SIGNS = {ast.Lt: "<", ast.LtE: "≤", ast.Gt: ">", ast.GtE: "≥", ast.Eq: "=", ast.NotEq: "≠"}
_FUNCTIONS = {"log": "ln", "log10": "log₁₀", "acos": "arccos", "maximum": "max", "minimum": "min"}
#: Functions that leave a temperature what it is, so that °C may stand in them.
_CHOOSING = ("where", "maximum", "minimum")


def symbol_of(name: str) -> str:
    """The symbol of a name; one without (a word, an id, a column) stands as words."""
    symbol = VOCABULARY[name].symbol if name in VOCABULARY else ""
    return symbol or name.replace("_", " ").replace("-", " ")


def unit_of(name: str, system: str) -> str:
    """The shop unit of a name."""
    quantity = VOCABULARY[name]
    return quantity.us if system == "us" else quantity.metric


def part(scope: Scope, node: ast.expr, numbers: bool, kelvin: bool = False) -> Part:
    """The tree of an expression. `numbers` puts values for symbols.

    A called formula stands as its own expression; one with locals of its own as its title with its
    arguments, or as its value, for its expression would speak of symbols that nobody has explained.
    `kelvin`: a temperature stands in a product or a function, where only kelvins are right.
    """
    scope, node = settle(scope, node, numbers)
    name = leaf_name(scope, node)
    if name is not None:
        return _value(scope, name, node, kelvin) if numbers else Part("symbol", symbol_of(name))
    if isinstance(node, ast.Constant):
        return _constant(node.value)
    if isinstance(node, ast.Name):
        return Part("symbol", "π") if node.id == "pi" else Part("words", symbol_of(node.id))
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return Part("minus", "", (part(scope, node.operand, numbers, kelvin),))
    if isinstance(node, ast.BinOp):
        kind = _BINARY[type(node.op)]
        kelvin = _needs_kelvin(scope, node, kelvin or kind not in ("sum", "difference"))
        return Part(kind, "", (part(scope, node.left, numbers, kelvin), part(scope, node.right, numbers, kelvin)))
    if isinstance(node, ast.Compare):
        sign = SIGNS[type(node.ops[0])]
        return Part("compare", sign, tuple(part(scope, each, numbers) for each in (node.left, *node.comparators)))
    if isinstance(node, ast.BoolOp):
        word = "and" if isinstance(node.op, ast.And) else "or"
        return Part("compare", word, tuple(part(scope, each, numbers) for each in node.values))
    if isinstance(node, ast.IfExp):
        yes, no = part(scope, node.body, numbers, kelvin), part(scope, node.orelse, numbers, kelvin)
        return _cases(yes, part(scope, node.test, numbers), no)
    if isinstance(node, ast.Call):
        return _call(scope, node, numbers, kelvin)
    return words(scope, node)


def _call(scope: Scope, node: ast.Call, numbers: bool, kelvin: bool) -> Part:
    callee = called(scope.card.function, node)
    if callee is not None and callee.kind == "formula":
        return _formula(scope, node, callee, numbers, kelvin)
    name = function_name(node)
    if name == "table":
        column = ast.literal_eval(node.args[2])
        return Part("call", symbol_of(column), (part(scope, node.args[3], numbers),))
    if name not in MATHS:
        return words(scope, node)
    if name == "where":
        yes, no = (part(scope, each, numbers, kelvin) for each in node.args[1:])
        return _cases(yes, part(scope, node.args[0], numbers), no)
    inside = kelvin if name in _CHOOSING else True
    parts = tuple(part(scope, each, numbers, inside) for each in node.args)
    if name == "sqrt":
        return Part("root", "", parts)
    return Part("power", "", parts) if name == "power" else Part("call", _FUNCTIONS.get(name, name), parts)


def _formula(scope: Scope, node: ast.Call, callee: Card, numbers: bool, kelvin: bool) -> Part:
    inner = enter(scope, node, callee)
    body = list(lines(callee))
    if len(body) == 1:
        return part(inner, body[0][1], numbers, kelvin)
    if numbers:
        return _value(scope, callee.result, node, kelvin)
    arguments = (ast.Name(id=name, ctx=ast.Load()) for name in call_arguments(callee, scope.card, node))
    return Part("call", callee.title, tuple(part(inner, argument, numbers) for argument in arguments))


def _cases(yes: Part, condition: Part, no: Part) -> Part:
    return Part("cases", "", (yes, condition, *(no.parts if no.kind == "cases" else (no,))))


def _constant(value: Any) -> Part:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return Part("words", "none" if value is None else word(value))
    mantissa, _, exponent = repr(value).removesuffix(".0").partition("e")
    if not exponent:
        return Part("number", mantissa)
    power = Part("power", "", (Part("number", "10"), Part("number", str(int(exponent)))))
    return power if mantissa == "1" else Part("product", "", (Part("number", mantissa), power))


def word(value: Any) -> str:
    """A value that is no number, as it is told."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "no value" if value is None else str(value)


def _value(scope: Scope, name: str, node: ast.expr, kelvin: bool) -> Part:
    value = evaluate(scope, node)
    if isinstance(value, bool) or not isinstance(value, int | float):
        return Part("words", word(value))
    dimension = VOCABULARY[name].dimension
    unit = "K" if kelvin and dimension == "temperature" else unit_of(name, scope.system)
    return Part("value", _told(value, dimension, unit))


def _told(value: float, dimension: str, unit: str) -> str:
    """Four digits; a figure that is exact with up to six, as entries are typed, stands as typed: 273.15 K, 12 mm."""
    exact = from_si(value, unit, dimension)

    def stands(digits: int) -> bool:
        return abs(float(f"{exact:.{digits}g}") - exact) <= 1e-12 * abs(exact)

    digits = next(n for n in range(1, 7) if stands(n)) if stands(6) else 4
    return show(value, dimension, unit, digits).replace("-", "−", 1)


def _needs_kelvin(scope: Scope, node: ast.BinOp, kelvin: bool) -> bool:
    """°C may stand in sums, and in a difference of two; °F never, since other entries are per kelvin."""
    if scope.system == "us":
        return True
    is_difference = isinstance(node.op, ast.Sub)
    if is_difference and _is_temperature(scope, node.left) and _is_temperature(scope, node.right):
        return bool(_temperature_units(scope, node) - {"°C"})
    return kelvin


def _temperature_units(scope: Scope, node: ast.expr) -> set[str]:
    scope, node = settle(scope, node)
    if isinstance(node, ast.BinOp):
        return _temperature_units(scope, node.left) | _temperature_units(scope, node.right)
    name = leaf_name(scope, node)
    if name is None or VOCABULARY[name].dimension != "temperature":
        return set()
    return {unit_of(name, scope.system)}


def _is_temperature(scope: Scope, node: ast.expr) -> bool:
    scope, node = settle(scope, node)
    if isinstance(node, ast.BinOp):
        left, right = _is_temperature(scope, node.left), _is_temperature(scope, node.right)
        return (left or right) if isinstance(node.op, ast.Add) else isinstance(node.op, ast.Sub) and left and not right
    if isinstance(node, ast.Call) and function_name(node) in _CHOOSING:
        return _is_temperature(scope, node.args[-1])
    callee = called(scope.card.function, node)
    name = callee.result if callee is not None else leaf_name(scope, node)
    return name is not None and VOCABULARY[name].dimension == "temperature"


def words(scope: Scope, node: ast.expr) -> Part:
    """What a primitive does, told in words: its numbers stand in rows, not in the line."""
    column = ""
    if isinstance(node, ast.Subscript) and isinstance(node.slice, ast.Constant):
        column, node = str(node.slice.value), node.value
    name = function_name(node)
    callee = called(scope.card.function, node)
    arguments = node.args if isinstance(node, ast.Call) else []
    if callee is not None:
        return Part("words", f"{symbol_of(column)} of “{callee.title}”" if column else f"“{callee.title}”")
    if name in ("least", "most") and column:
        extreme = "least" if name == "least" else "largest"
        return Part("words", f"{symbol_of(column)} where {symbol_of(ast.literal_eval(arguments[1]))} is {extreme}")
    if name == "threshold":
        entry, result = (symbol_of(ast.literal_eval(each)) for each in arguments[2:4])
        return Part("words", f"{entry} that alone makes {result} zero")
    if name == "fact":
        return Part("words", symbol_of(ast.literal_eval(arguments[0])))
    told = {
        "solve": "found by halving the bracket",
        "march": "worked step by step",
        "total": "sum of the rows",
        "table": "read from the table",
        "fit": "fitted to the points",
    }
    return Part("words", told.get(name, symbol_of(column) if column else "taken from the rows"))
