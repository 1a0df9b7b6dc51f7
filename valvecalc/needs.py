"""What a line of a sheet cannot do without, and which lines fall away when an entry is not known.

A Need is a conjunction: entries that must all be there, and groups of which one alternative must be
(from `known(a, b)`). The same trees decide in Python which lines are left out and print the guards
of the JavaScript.
"""

import ast
from collections.abc import Mapping
from functools import cache
from typing import TypeAlias

from valvecalc.formula import REGISTER, Card
from valvecalc.source import Rewriter, body, call_arguments, called, record_name, resolve

Need: TypeAlias = frozenset["str | tuple[Need, ...]"]

NOTHING: Need = frozenset()


def lacks(need: Need, missing: frozenset[str]) -> frozenset[str]:
    """The missing entries that keep a need from being met; of alternatives the one that adds least to the rest."""
    found = missing.intersection(item for item in need if isinstance(item, str))
    groups = [item for item in need if not isinstance(item, str)]
    for group in sorted(groups, key=lambda each: sorted(_least(each, missing))):
        found |= _least(group, missing - found)
    return found


def _least(group: tuple[Need, ...], missing: frozenset[str]) -> frozenset[str]:
    return min((lacks(each, missing) for each in group), key=lambda one: (len(one), sorted(one)))


def called_sheet(card: Card, node: ast.expr) -> Card:
    """The sheet that a bare name in the body of `card` stands for."""
    function = resolve(card.function, node)
    for other in REGISTER.values():
        if other.function is function and other.kind == "sheet":
            return other
    raise TypeError(f"{card.id}: {ast.unparse(node)} is not a sheet")


def need_of(card: Card, node: ast.AST, local: Mapping[str, Need]) -> Need:
    """The need of an expression of a sheet, through its locals, callees and copies."""
    record = record_name(card)
    extras = frozenset(card.entries) - frozenset(card.record._fields)
    found: set[str | tuple[Need, ...]] = set()

    def walk(node: ast.AST) -> None:
        if isinstance(node, ast.Call):
            name = node.func.id if isinstance(node.func, ast.Name) else ""
            if name == "known":
                found.add(tuple(need_of(card, argument, local) for argument in node.args))
                return
            callee = called_sheet(card, node.args[0]) if name == "threshold" else called(card.function, node)
            if callee is not None and callee.kind == "sheet":
                inner = node.args[1] if name == "threshold" else node.args[0]
                found.update(_of_record(callee, inner))
                walk(inner)
                for value in call_arguments(callee, card, node).values():
                    walk(value)
                return
            if callee is not None:
                for value in call_arguments(callee, card, node).values():
                    walk(value)
                return
        if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == record:
            found.add(node.attr)
        elif isinstance(node, ast.Name):
            if node.id in extras:
                found.add(node.id)
            found.update(local.get(node.id, NOTHING))
        else:
            for child in ast.iter_child_nodes(node):
                walk(child)

    walk(node)
    return frozenset(found)


def _of_record(callee: Card, argument: ast.expr) -> Need:
    """What a called sheet needs of the record it is given; what `vary` replaces there is not needed."""
    replaced = set()
    if isinstance(argument, ast.Call) and isinstance(argument.func, ast.Name) and argument.func.id == "vary":
        replaced = {keyword.arg for keyword in argument.keywords}
    return frozenset(item for item in _record_need(callee.id) if item not in replaced)


@cache
def _record_need(card_id: str) -> Need:
    card = REGISTER[card_id]
    fields = frozenset(card.record._fields)
    every: set[str | tuple[Need, ...]] = set()
    for need in line_needs(card).values():
        every.update(item for item in need if not isinstance(item, str) or item in fields)
    return frozenset(every)


def line_needs(card: Card) -> Mapping[str, Need]:
    """The need of every assigned name of a sheet, and of every result as "return name"."""
    return _line_needs(card.id)


@cache
def _line_needs(card_id: str) -> Mapping[str, Need]:
    card = REGISTER[card_id]
    local: dict[str, Need] = {}
    for statement in body(card.function):
        if isinstance(statement, ast.Assign) and isinstance(statement.targets[0], ast.Name):
            local[statement.targets[0].id] = need_of(card, statement.value, local)
        elif isinstance(statement, ast.Return) and isinstance(statement.value, ast.Dict):
            for key, value in zip(statement.value.keys, statement.value.values, strict=True):
                assert isinstance(key, ast.Constant)
                local[f"return {key.value!s}"] = need_of(card, value, local)
    return local


def lacking(card: Card, missing: frozenset[str]) -> dict[str, frozenset[str]]:
    """Result -> the missing entries that keep it from being computed; results that are kept are absent."""
    wants = {
        name.removeprefix("return "): lacks(need, missing)
        for name, need in line_needs(card).items()
        if name.startswith("return ")
    }
    return {name: wanted for name, wanted in wants.items() if wanted}


def prune(card: Card, missing: frozenset[str]) -> list[ast.stmt]:
    """The statements that can be worked without the missing entries; what is the same is shared with the source."""
    needs = line_needs(card)
    trim = _Trimmer(card, missing, needs)
    kept: list[ast.stmt] = []
    for statement in body(card.function):
        if isinstance(statement, ast.Assign) and isinstance(statement.targets[0], ast.Name):
            if lacks(needs[statement.targets[0].id], missing):
                continue
        elif isinstance(statement, ast.Return) and isinstance(statement.value, ast.Dict):
            told = statement.value
            pairs = [
                (key, value)
                for key, value in zip(told.keys, told.values, strict=True)
                if isinstance(key, ast.Constant) and not lacks(needs[f"return {key.value!s}"], missing)
            ]
            rest = ast.Dict(keys=[key for key, _ in pairs], values=[value for _, value in pairs])
            statement = ast.copy_location(ast.Return(value=ast.copy_location(rest, told)), statement)
        kept.append(trim.visit(statement))
    return kept


class _Trimmer(Rewriter):
    """Takes those alternatives of `known(...)` away that lack something."""

    def __init__(self, card: Card, missing: frozenset[str], needs: Mapping[str, Need]) -> None:
        self.card, self.missing, self.needs = card, missing, needs

    def visit_Call(self, call: ast.Call) -> ast.AST:
        if isinstance(call.func, ast.Name) and call.func.id == "known":
            rest = [one for one in call.args if not lacks(need_of(self.card, one, self.needs), self.missing)]
            call = ast.copy_location(ast.Call(func=call.func, args=rest, keywords=[]), call)
        return self.generic_visit(call)
