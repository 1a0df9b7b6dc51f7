"""A calculation's body as plain JSON: what the phone makes the worked lines of.

Everything that needs Python is settled here: what a call calls, in which order, what a name stands for. The trees hold
what a line prints and what has to be worked to print it; what is told in words stands as its words.

A node is
    a number, true, false or null   a constant
    "name", "record.name"           a local or an entry, a field of the record
    [head, …]                       "+" "-" "*" "/" "**", "minus", a sign of comparison, "and", "or", "not", or
        ["e", value, mantissa, exponent]  a number printed with a power of ten      ["'", text]  a text
        ["if", test, yes, no]  ["[", node, column]  ["{", {column: node}]  ["vary", record, {field: node}]
        ["known", choice, …]            a choice is a name, null, or [node that is never null, what it needs]
        ["fact", name, value]           the value of a table only where it is worked with
        ["f", id, {entry: node}]        a formula    ["s", id, record, {entry: node}]  a sheet
        ["w", words, words with % for the column asked of it]
        [function, argument, …]         a function of maths, table, log_table
"""

import ast
from typing import Any

from valvecalc.facts import fact_value
from valvecalc.formula import Card
from valvecalc.needs import Need, line_needs, need_of
from valvecalc.printing.expression import SIGNS, words
from valvecalc.printing.javascript import NotPrintable
from valvecalc.printing.scope import Scope, function_name, lines
from valvecalc.quantities import VOCABULARY
from valvecalc.source import MATHS, call_arguments, called, record_name

_ARITHMETIC = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/", ast.Pow: "**"}
#: Functions that the phone works by name.
_WORKED = MATHS | {"table", "log_table"}
#: Calls that give a value or throw: `known` takes them without looking.
_SURE = _WORKED | {"fact", "solve", "total"}


def bodies(card: Card) -> dict[str, dict[str, Any]]:
    """The bodies of a card and of everything whose lines can be opened from it, by id."""
    found: dict[str, dict[str, Any]] = {}
    waiting = [card]
    while waiting:
        here = waiting.pop()
        if here.id not in found:
            body = _Body(here)
            found[here.id] = body.data()
            waiting += body.calls
    return found


def names_of(data: Any) -> set[str]:
    """The names of the vocabulary that bodies speak of."""
    if isinstance(data, str):
        return {data.rpartition(".")[2]} & VOCABULARY.keys()
    inner = (*data, *data.values()) if isinstance(data, dict) else data if isinstance(data, list) else ()
    return {name for each in inner for name in names_of(each)}


class _Body:
    """The nodes of one body, and the cards that it calls."""

    def __init__(self, card: Card) -> None:
        self.card = card
        self.calls: list[Card] = []
        self.needs = line_needs(card) if card.kind == "sheet" else {}

    def data(self) -> dict[str, Any]:
        """Title, result, what a sheet calls its record, the lines, and the lines that are returned."""
        worked = [(name, self.node(expression), returned) for name, expression, returned in lines(self.card)]
        return {
            "title": self.card.title,
            "result": self.card.result,
            "record": record_name(self.card) if self.card.kind == "sheet" else None,
            "lines": [[name, node] for name, node, returned in worked if not returned],
            "told": [[name, node] for name, node, returned in worked if returned],
        }

    def node(self, node: ast.expr, worked: bool = False) -> Any:
        """One node. `worked`: its value is asked for as well, so words will not do."""
        match node:
            case ast.Constant(value=str()):
                return ["'", node.value]
            case ast.Constant():
                return _constant(node.value)
            case ast.Name():
                return node.id
            case ast.Attribute(value=ast.Name(id=record)):
                return f"{record}.{node.attr}"
            case ast.UnaryOp(op=ast.USub()):
                return ["minus", self.node(node.operand, worked)]
            case ast.UnaryOp(op=ast.Not()) if worked:
                return ["not", self.node(node.operand, worked)]
            case ast.BinOp():
                return [_ARITHMETIC[type(node.op)], self.node(node.left, worked), self.node(node.right, worked)]
            case ast.BoolOp():
                word = "and" if isinstance(node.op, ast.And) else "or"
                return [word, *(self.node(value, worked) for value in node.values)]
            case ast.Compare(ops=[op]):
                return [SIGNS[type(op)], self.node(node.left, worked), self.node(node.comparators[0], worked)]
            case ast.IfExp():
                return ["if", self.node(node.test, True), self.node(node.body, worked), self.node(node.orelse, worked)]
            case ast.Subscript(slice=ast.Constant(value=str(column))):
                return ["[", self.node(node.value, worked), column]
            case ast.Dict() if not worked:
                pairs = zip(node.keys, node.values, strict=True)
                return ["{", {ast.literal_eval(key): self.node(value) for key, value in pairs if key is not None}]
            case ast.Call():
                return self.call(node, worked)
        return self.words(node, worked)

    def call(self, node: ast.Call, worked: bool) -> Any:
        card = called(self.card.function, node)
        if card is not None:
            self.calls.append(card)
            given = {name: self.node(value, True) for name, value in call_arguments(card, self.card, node).items()}
            if card.kind == "formula":
                return ["f", card.id, given]
            return ["s", card.id, self.node(node.args[0], True), given]
        match function_name(node):
            case "fact":
                key = ast.literal_eval(node.args[0])
                value = fact_value(key)
                told = worked or isinstance(value, int | float)
                return ["fact", key.replace("-", "_"), *([value] if told else [])]
            case "known":
                return ["known", *(self.choice(each, worked) for each in node.args)]
            case "vary" if worked:
                changes = {str(keyword.arg): self.node(keyword.value, True) for keyword in node.keywords}
                return ["vary", self.node(node.args[0], True), changes]
            case "where":
                return ["where", self.node(node.args[0], True), *(self.node(each, worked) for each in node.args[1:])]
            case name if name in _WORKED and (worked or name != "log_table"):
                return [name, *(self.node(each, worked) for each in node.args)]
        return self.words(node, worked)

    def choice(self, node: ast.expr, worked: bool) -> Any:
        """One of what `known` chooses from: a name is looked at, anything else is there if its needs are met."""
        if isinstance(node, ast.Name | ast.Attribute) or (isinstance(node, ast.Constant) and node.value is None):
            return self.node(node, worked)
        if not self.is_sure(node):
            raise self.refuse(node, "it may be missing: give it a line of its own")
        return [self.node(node, worked), self.need(need_of(self.card, node, self.needs))]

    def is_sure(self, node: ast.expr) -> bool:
        """Whether an expression never is None."""
        match node:
            case ast.Subscript(
                value=ast.Call(args=[_, ast.Constant(value=name)]) as call, slice=ast.Constant(value=column)
            ):
                return function_name(call) in ("least", "most") and name == column
            case ast.Call():
                card = called(self.card.function, node)
                return function_name(node) in _SURE or (card is not None and card.kind == "formula")
        return isinstance(node, ast.Constant | ast.BinOp | ast.UnaryOp | ast.List)

    def need(self, need: Need) -> list[Any]:
        """A need as a list: entries, and lists of needs of which one must be met. Defaults are always there."""
        names = sorted(item for item in need if isinstance(item, str) and item not in self.card.defaults)
        groups = [[self.need(each) for each in item] for item in need if not isinstance(item, str)]
        return [*names, *sorted((group for group in groups if all(group)), key=str)]

    def words(self, node: ast.expr, worked: bool) -> Any:
        if worked:
            raise self.refuse(node, "its value is needed to tell a line: give it a line of its own")
        asked = ast.Subscript(value=node, slice=ast.Constant(value="%"), ctx=ast.Load())
        plain, of_column = (words(Scope(self.card), each).text for each in (node, asked))
        return ["w", plain] if plain == of_column else ["w", plain, of_column]

    def refuse(self, node: ast.expr, advice: str) -> NotPrintable:
        return NotPrintable(f"{self.card.id}: {ast.unparse(node)}: {advice}")


def _constant(value: Any) -> Any:
    """A constant; one that Python writes with an exponent as ["e", value, mantissa, exponent]."""
    mantissa, _, exponent = repr(value).removesuffix(".0").partition("e")
    return ["e", value, mantissa, int(exponent)] if exponent else value
