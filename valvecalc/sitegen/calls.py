"""Who calls whom: read from the bodies, so that pages link in both directions."""

import ast
from functools import cache

from valvecalc.formula import REGISTER, Card
from valvecalc.printing.scope import lines
from valvecalc.source import body, called, resolve


def called_in(card: Card, node: ast.AST) -> list[Card]:
    """Formulas and sheets that an expression calls, in order, each once."""
    found = []
    for call in ast.walk(node):
        if isinstance(call, ast.Call):
            callee = called(card.function, call) or _solved(card, call)
            if callee is not None and callee not in found:
                found.append(callee)
    return found


def steps(card: Card) -> list[tuple[str, list[Card]]]:
    """The lines of a body that call something: name of the line, and what it calls."""
    return [(name, found) for name, node, _ in lines(card) if (found := called_in(card, node))]


@cache
def _callees(card_id: str) -> tuple[Card, ...]:
    """All that a card's body calls, each once: read once, for every page asks it of every card."""
    card = REGISTER[card_id]
    found = [callee for statement in body(card.function) for callee in called_in(card, statement)]
    return tuple({callee.id: callee for callee in found}.values())


def users(card: Card) -> list[Card]:
    """The cards with a page that call this one, directly or through parts."""
    found: list[Card] = []
    waiting = [card]
    while waiting:
        one = waiting.pop()
        for other in REGISTER.values():
            if other not in found and one in _callees(other.id):
                found.append(other)
                if other.part:
                    waiting.append(other)
    return [other for other in found if not other.part and other is not card]


def formulas_below(card: Card) -> list[Card]:
    """Every formula that a sheet rests on, through other sheets and parts too, in the order of the body."""
    found: list[Card] = []
    for callee in _callees(card.id):
        for one in [callee] if callee.kind == "formula" and not callee.part else formulas_below(callee):
            if one not in found:
                found.append(one)
    return found


def facts_of(card: Card) -> list[str]:
    """Ids of the facts of data/defaults.toml that a sheet works with or judges by, those of its parts included."""
    found: list[str] = []
    waiting, seen = [card], {card.id}
    while waiting:
        one = waiting.pop(0)
        for rule in one.judged.values():
            found += [key for key in rule[1:] if isinstance(key, str) and key not in one.results]
        for statement in body(one.function):
            for node in ast.walk(statement):
                if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "fact":
                    found.append(ast.literal_eval(node.args[0]))
        for callee in _callees(one.id):
            if callee.kind == "sheet" and callee.id not in seen:
                seen.add(callee.id)
                waiting.append(callee)
    return list(dict.fromkeys(found))


def _solved(card: Card, call: ast.Call) -> Card | None:
    """The sheet that `threshold` solves."""
    if not (isinstance(call.func, ast.Name) and call.func.id == "threshold"):
        return None
    function = resolve(card.function, call.args[0])
    return next((other for other in REGISTER.values() if other.function is function), None)
