"""An expression as one line of text: `Q_L = π · d · c³ · Δp / (12 · µ · L)`, and the same with its numbers."""

import ast
from collections.abc import Mapping
from typing import Any

from valvecalc.formula import Card
from valvecalc.printing.expression import Part, part
from valvecalc.printing.scope import Scope

_RAISED = str.maketrans("-0123456789", "⁻⁰¹²³⁴⁵⁶⁷⁸⁹")
_OPERATORS = {"sum": " + ", "difference": " − ", "product": " · ", "quotient": " / "}
#: What needs brackets as the left and as the right side of an operator. A bracket of the author's
#: that does not change the order (a + (b + c)) stays, since it groups what he meant to be read together.
_LOOSE = ("sum", "difference", "compare")
_LEFT = {"sum": ("compare",), "difference": ("compare",), "product": _LOOSE, "quotient": (*_LOOSE, "quotient")}
_RIGHT = {
    "sum": (*_LOOSE, "minus"),
    "difference": (*_LOOSE, "minus"),
    "product": (*_LOOSE, "product", "quotient", "minus"),
    "quotient": (*_LOOSE, "product", "quotient", "minus"),
}


def symbolic(card: Card, node: ast.expr) -> str:
    """An expression of the body of `card` in symbols."""
    return text(part(Scope(card), node, numbers=False))


def substituted(card: Card, node: ast.expr, env: Mapping[str, Any], system: str = "metric") -> str:
    """The same with the values of `env` (SI) in shop units, each rounded for reading."""
    return text(part(Scope(card, env, system), node, numbers=True))


def text(tree: Part) -> str:
    """A tree of parts as one line of text."""
    kind, parts = tree.kind, tree.parts
    if kind in _OPERATORS:
        left, right = parts
        return _bracketed(left, _LEFT[kind]) + _OPERATORS[kind] + _bracketed(right, _RIGHT[kind], below_zero=True)
    if kind == "power":
        return _base(parts[0]) + _exponent(parts[1])
    if kind == "minus":
        return "−" + _bracketed(parts[0], (*_LOOSE, "minus"), below_zero=True)
    if kind == "root":
        return f"√({text(parts[0])})"
    if kind == "call":
        return f"{tree.text}({', '.join(text(each) for each in parts)})"
    if kind == "compare":
        return f" {tree.text} ".join(_bracketed(each, ("compare",)) for each in parts)
    if kind == "cases":
        pairs = [f"{text(yes)} if {text(when)}" for yes, when in zip(parts[:-1:2], parts[1::2], strict=True)]
        return f"{{{'; '.join(pairs)}; otherwise {text(parts[-1])}}}"
    return tree.text


def is_negative(part: Part) -> bool:
    """Whether a value or number begins with a minus, so that it cannot follow an operator bare."""
    return part.kind in ("value", "number") and part.text[:1] in "-−"


def is_atom(part: Part) -> bool:
    """Whether a power may stand on it without brackets: (5 µm)³, but c³."""
    if part.kind == "value":
        return part.text.replace(".", "").isdigit()
    return part.kind in ("symbol", "number") and not is_negative(part)


def _bracketed(part: Part, kinds: tuple[str, ...], below_zero: bool = False) -> str:
    inner = text(part)
    return f"({inner})" if part.kind in kinds or (below_zero and is_negative(part)) else inner


def _base(part: Part) -> str:
    return text(part) if is_atom(part) else f"({text(part)})"


def _exponent(part: Part) -> str:
    if part.kind == "number" and "." not in part.text:
        return part.text.translate(_RAISED)
    inner = text(part)
    return f"^{inner}" if is_atom(part) else f"^({inner})"
