"""A formula or sheet as JavaScript, printed from its own source.

Division, powers, roots and logarithms go through the runtime, which throws where Python raises;
`where` evaluates both branches, as in Python. Every compound operand is bracketed: a minus before
a bracket once lost it, and brackets cost nothing after compression.
"""

import ast
import json
import re
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any

from valvecalc.facts import fact_value
from valvecalc.formula import Card
from valvecalc.limits import bracket
from valvecalc.needs import NOTHING, Need, called_sheet, line_needs, need_of
from valvecalc.source import MATHS, PRIMITIVES, body, call_arguments, called, record_name, syntax

_WORDS = """
NoValue none finite div raised pow absent has register run valvecalc await break case catch class const continue
debugger default delete do else enum export extends false finally for function if implements import in instanceof
interface let new null package private protected public return static super switch this throw true try typeof var
void while with yield arguments eval undefined NaN Infinity
"""
#: Words a line or entry may not be called: JavaScript's own, and what the runtime has beyond Python's names.
RESERVED = frozenset(_WORDS.split())

_COMPARE = {ast.Lt: "<", ast.LtE: "<=", ast.Gt: ">", ast.GtE: ">=", ast.Eq: "===", ast.NotEq: "!=="}


class NotPrintable(TypeError):
    """A body uses what the subset does not have: names line and construct, says what to write."""


def identifier(card: Card) -> str:
    """The JavaScript name of a card's function; the $ keeps it apart from the line that bears its name."""
    return "$" + card.id.replace("-", "_")


def fact_identifier(node: ast.Call) -> str:
    """The JavaScript name of the fact that a call `fact("id")` asks for."""
    return "$fact_" + str(ast.literal_eval(node.args[0])).replace("-", "_")


def function_text(card: Card) -> str:
    """The card's function as a JavaScript arrow function bound to its name.

    Behind its entries it takes an object that it leaves its locals in, if one is given: the worked lines.
    """
    if card.kind == "formula":
        given = [f"{name} = {_number(card.defaults[name])}" if name in card.defaults else name for name in card.entries]
    else:
        extras = [name for name in card.entries if name not in card.record._fields]
        given = [record_name(card), f"{{{', '.join(extras)}}}" if extras else "$none"]
    *lines, last = _Printer(card).lines()
    if names := [target.id for target in _targets(card)]:
        given.append("$got")
        lines.append(f"if ($got) Object.assign($got, {{ {', '.join(names)} }});")
    head = f"const {identifier(card)} = ({', '.join(given)}) => {{"
    return "\n".join([head, *(f"  {line}" for line in (*lines, last)), "};"])


def _targets(card: Card) -> list[ast.Name]:
    """The names assigned in a body."""
    statements = (statement for statement in body(card.function) if isinstance(statement, ast.Assign))
    return [target for statement in statements for target in statement.targets if isinstance(target, ast.Name)]


def module_text(cards: Iterable[Card]) -> str:
    """One classic script with the runtime, the cards given and all they call, as `valvecalc.run(id, entries)`.

    `run` fills defaults in and returns the result of a formula or the dict of a sheet; it throws
    `valvecalc.NoValue` where there is none.
    """
    return f"""// Printed from valvecalc's own formulas; not to be edited.
const valvecalc = (() => {{
"use strict";
{runtime_text()}
{functions_text(cards)}
const run = (id, entries) => {{
  const [work, kind, defaults, names] = register[id];
  const filled = {{ ...entries }};
  for (const name in defaults) if (!(name in filled)) filled[name] = defaults[name];
  return kind === "formula" ? finite(work(...names.map((name) => filled[name]))) : work(filled, filled);
}};
const primitives = {{ table, log_table, grid, sweep, least, most, march, rank, total, fit, solve, crossing }};
return {{ run, NoValue, primitives }};
}})();
"""


def runtime_text() -> str:
    """The primitives that printed functions call."""
    return (Path(__file__).parent / "runtime.js").read_text(encoding="utf-8")


def runtime_names() -> list[str]:
    """What the runtime defines."""
    return re.findall(r"^(?:const|class) (\w+)", runtime_text(), re.MULTILINE)


def functions_text(cards: Iterable[Card]) -> str:
    """The functions of the cards given and of all they call, their facts, and the `register` of both; no runtime."""
    ordered: dict[str, Card] = {}
    for card in cards:
        _with_callees(card, ordered)
    facts = {fact_identifier(node): node.args[0] for card in ordered.values() for node in _facts(card)}
    constants = [f"const {name} = {_value(fact_value(ast.literal_eval(key)))};" for name, key in facts.items()]
    functions = [function_text(card) for card in ordered.values()]
    rows = [
        f"  {json.dumps(card.id)}: [{identifier(card)}, {json.dumps(card.kind)}, {_value(dict(card.defaults))},"
        f" {_value(card.entries)}],"
        for card in ordered.values()
    ]
    return "\n".join([*constants, *functions, "const register = {", *rows, "};"])


def _with_callees(card: Card, ordered: dict[str, Card]) -> None:
    if card.id in ordered:
        return
    for callee in callees(card):
        _with_callees(callee, ordered)
    ordered[card.id] = card


def _facts(card: Card) -> list[ast.Call]:
    calls = [node for statement in body(card.function) for node in ast.walk(statement) if isinstance(node, ast.Call)]
    return [node for node in calls if isinstance(node.func, ast.Name) and node.func.id == "fact"]


def callees(card: Card) -> list[Card]:
    """The formulas and sheets a body calls, in order of appearance."""
    found: dict[str, Card] = {}
    for statement in body(card.function):
        for node in ast.walk(statement):
            callee = called(card.function, node) if isinstance(node, ast.Call) else None
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "threshold":
                callee = called_sheet(card, node.args[0])
            if callee is not None:
                found[callee.id] = callee
    return list(found.values())


def _number(value: float) -> str:
    return repr(float(value)) if isinstance(value, float) else repr(value)


def _value(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)


def _first(values: Iterable[str]) -> str:
    """`known`: the first that is there; what stands behind it is not worked."""
    return " ?? ".join(f"({value})" for value in values)


class _Printer:
    def __init__(self, card: Card) -> None:
        self.card = card
        self.guarded = card.kind == "sheet" and not card.part
        self.needs: Mapping[str, Need] = line_needs(card) if self.guarded else {}

    def refuse(self, node: ast.AST, advice: str) -> NotPrintable:
        line = getattr(node, "lineno", syntax(self.card.function).lineno)
        path = Path(self.card.function.__code__.co_filename).name
        return NotPrintable(f"{path}:{line}: {self.card.id}: {ast.unparse(node)}: {advice}")

    def lines(self) -> list[str]:
        *before, last = body(self.card.function)
        for name in self.card.entries:
            if name in RESERVED:
                raise self.refuse(syntax(self.card.function).args, f"{name} is a word of JavaScript; take another name")
        found = [self.line(statement) for statement in before]
        if not isinstance(last, ast.Return) or last.value is None:
            raise self.refuse(last, "the last statement is the return")
        return [*found, f"return {self.result(last.value)};"]

    def line(self, statement: ast.stmt) -> str:
        match statement:
            case ast.Assign(targets=[ast.Name(id=name)], value=value) if name in RESERVED:
                raise self.refuse(statement, f"{name} is a word of JavaScript; take another name")
            case ast.Assign(targets=[ast.Name(id=name)], value=value):
                return f"const {name} = {self.guard(value, self.needs.get(name, NOTHING))};"
        raise self.refuse(statement, "only assignments of one name, and a return as the last statement")

    def result(self, node: ast.expr) -> str:
        if not self.guarded or not isinstance(node, ast.Dict):
            return self.text(node)
        pairs = []
        for key, value in zip(node.keys, node.values, strict=True):
            assert isinstance(key, ast.Constant)
            pairs.append(f"{json.dumps(key.value)}: {self.guard(value, self.needs[f'return {key.value!s}'])}")
        return "{ " + ", ".join(pairs) + " }"

    def guard(self, node: ast.expr, need: Need) -> str:
        """The line, undefined when an entry it cannot do without is not there (sheets at the door only)."""
        if not self.guarded:
            return self.text(node)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "known":
            return _first(self.guard(argument, need_of(self.card, argument, self.needs)) for argument in node.args)
        test = self.condition(need)
        return f"{test} ? {self.text(node)} : undefined" if test else self.text(node)

    def condition(self, need: Need) -> str:
        """A need as a JavaScript test; entries with a default are always there."""
        record = record_name(self.card)
        extras = set(self.card.entries) - set(self.card.record._fields)
        names = sorted(item for item in need if isinstance(item, str) and self.card.defaults.get(item) is None)
        tests = [f"has({', '.join(name if name in extras else f'{record}.{name}' for name in names)})"] if names else []
        for item in need:
            if not isinstance(item, str):
                alternatives = [self.condition(alternative) for alternative in item]
                if all(alternatives):
                    tests.append(f"({' || '.join(sorted(alternatives))})")
        return " && ".join(sorted(tests))

    def text(self, node: ast.expr) -> str:  # one branch for each construct
        match node:
            case ast.Constant(value=bool() | None):
                return {True: "true", False: "false", None: "null"}[node.value]  # type: ignore[index]
            case ast.Constant(value=int() | float()):
                return _number(node.value)  # type: ignore[arg-type]
            case ast.Constant(value=str()):
                return _value(node.value)
            case ast.Name():
                return "Math.PI" if node.id == "pi" else node.id
            case ast.UnaryOp(op=ast.USub()):
                return f"-{self.operand(node.operand)}"
            case ast.UnaryOp(op=ast.Not()):
                return f"!{self.operand(node.operand)}"
            case ast.BinOp(op=ast.Mult() | ast.Div() | ast.Pow()) if self.card.kind == "sheet":
                raise self.refuse(node, "a sheet adds, subtracts and compares: write a formula for it (part=True)")
            case ast.BinOp(op=ast.Add() | ast.Sub() | ast.Mult()):
                sign = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*"}[type(node.op)]
                return f"{self.operand(node.left)} {sign} {self.operand(node.right)}"
            case ast.BinOp(op=ast.Div()):
                return f"div({self.text(node.left)}, {self.text(node.right)})"
            case ast.BinOp(op=ast.Pow()):
                if not (isinstance(node.right, ast.Constant) and isinstance(node.right.value, int)):
                    raise self.refuse(node, "a broken or variable exponent is written power(x, exponent)")
                return f"pow({self.text(node.left)}, {node.right.value})"
            case ast.BoolOp():
                sign = " && " if isinstance(node.op, ast.And) else " || "
                return sign.join(self.operand(value) for value in node.values)
            case ast.Compare(ops=[op]) if type(op) in _COMPARE:
                return f"{self.operand(node.left)} {_COMPARE[type(op)]} {self.operand(node.comparators[0])}"
            case ast.IfExp():
                if self.card.kind == "formula":
                    raise self.refuse(node, "a formula takes arrays: write where(condition, yes, no)")
                return f"({self.operand(node.test)} ? {self.operand(node.body)} : {self.operand(node.orelse)})"
            case ast.Attribute(value=ast.Name()) if self.card.kind == "sheet":
                return f"{self.text(node.value)}.{node.attr}"
            case ast.Subscript():
                return f"{self.operand(node.value)}[{self.text(node.slice)}]"
            case ast.List() | ast.Tuple():
                return f"[{', '.join(self.text(item) for item in node.elts)}]"
            case ast.Dict():
                pairs = [
                    f"{_value(key.value)}: {self.text(value)}"  # type: ignore[union-attr]
                    for key, value in zip(node.keys, node.values, strict=True)
                ]
                return "{ " + ", ".join(pairs) + " }"
            case ast.Lambda(args=ast.arguments(posonlyargs=[], vararg=None, kwonlyargs=[], kwarg=None, defaults=[])):
                names = ", ".join(argument.arg for argument in node.args.args)
                inner = self.text(node.body)
                return f"({names}) => ({inner})"
            case ast.ListComp(generators=[ast.comprehension(target=ast.Name()) as loop]):
                name = loop.target.id  # type: ignore[attr-defined]
                source = self.operand(loop.iter)
                for test in loop.ifs:
                    source += f".filter(({name}) => {self.text(test)})"
                return f"{source}.map(({name}) => ({self.text(node.elt)}))"
            case ast.Call():
                return self.call(node)
        raise self.refuse(node, "not in the printable subset (see DEVELOPERS.md)")

    def operand(self, node: ast.expr) -> str:
        text = self.text(node)
        simple = isinstance(node, ast.Constant | ast.Name | ast.Call | ast.Attribute | ast.Subscript | ast.List)
        return text if simple and not text.startswith("-") else f"({text})"

    def call(self, node: ast.Call) -> str:
        name = node.func.id if isinstance(node.func, ast.Name) else ""
        if name == "fact":
            return fact_identifier(node)
        if name == "known":
            return f"({_first(self.text(argument) for argument in node.args)})"
        if name == "vary":
            changes = ", ".join(f"{keyword.arg}: {self.text(keyword.value)}" for keyword in node.keywords)
            return f"vary({self.text(node.args[0])}, {{ {changes} }})"
        if name == "threshold":
            inner = called_sheet(self.card, node.args[0])
            ends = [_number(end) for end in bracket(inner, ast.literal_eval(node.args[2]))]
            return f"threshold({', '.join([identifier(inner), *(self.text(a) for a in node.args[1:]), *ends])})"
        card = called(self.card.function, node)
        if card is not None:
            arguments = call_arguments(card, self.card, node)
            if card.kind == "formula":  # by place: with an object for each call a cold run takes a fifth longer
                places = [self.text(arguments[name]) if name in arguments else "undefined" for name in card.entries]
                return f"{identifier(card)}({', '.join(places)})"
            pairs = ", ".join(
                arg if isinstance(value, ast.Name) and value.id == arg else f"{arg}: {self.text(value)}"
                for arg, value in arguments.items()
            )
            record = self.text(node.args[0])
            return f"{identifier(card)}({record}{f', {{ {pairs} }}' if pairs else ''})"
        allowed = PRIMITIVES if self.card.kind == "sheet" else MATHS
        if name in allowed and not node.keywords:
            return f"{name}({', '.join(self.text(argument) for argument in node.args)})"
        what = "formulas, sheets and primitives" if self.card.kind == "sheet" else "formulas and maths functions"
        raise self.refuse(node, f"only registered {what} may be called, maths and primitives without keywords")
