"""The door: texts, Quantities or SI floats in, an Answer out. Limits are checked here and only here.

Inside, formulas and sheets see SI floats and nothing else. Every wrong entry is told at once.
"""

from collections.abc import Callable, Mapping
from functools import cache
from typing import TYPE_CHECKING, Any

from valvecalc.answer import Answer, Entry, Lack
from valvecalc.entries import read_entries
from valvecalc.errors import InputError, NoValue, Trouble, nearest
from valvecalc.formula import REGISTER, Card
from valvecalc.limits import limits_of
from valvecalc.quantities import VOCABULARY
from valvecalc.units import show

if TYPE_CHECKING:
    from valvecalc.uncertainty import Leaf, Spread

#: What a body raises where it has no value: division by zero, a root outside its range, an overflow.
NO_VALUE = (ArithmeticError, ValueError)


def load() -> None:
    """Fill the register."""
    from valvecalc import formulas, sheets

    formulas.load()
    sheets.load()


def _import_home(name: str) -> None:
    """Import the module that defines an id, told by its text: 1 ms, where importing them all takes 15."""
    from importlib import import_module

    from valvecalc import formulas, sheets

    own = name.replace("-", "_")
    head = f"\ndef {own}(".encode()
    places = [(package, module) for package in (formulas, sheets) for module in package.MODULES]
    for package, module in sorted(places, key=lambda place: place[1] != own):  # a sheet mostly bears its module's name
        with open(f"{package.__path__[0]}/{module}.py", "rb") as file:
            found = head in file.read().replace(b"\r\n", b"\n")
        if found:
            import_module(f"{package.__name__}.{module}")
            return


@cache
def find(name: str) -> Card:
    """The card of an id (an old id too); an unknown one names the nearest."""
    if name not in REGISTER:
        _import_home(name)
    if name not in REGISTER:
        load()
    if name in REGISTER:
        return REGISTER[name]
    for card in REGISTER.values():
        if name in card.formerly:
            return card
    close = nearest(name, REGISTER)
    near = f"Nearest: {', '.join(close)}. " if close else ""
    raise InputError(Trouble("id", name, "a formula or sheet that exists", f"{near}All of them: valvecalc list"))


def calc(name: str, /, **given: Any) -> Answer:
    """Work a formula or sheet by its id.

    Entries are texts ("160 bar", "5 µm ± 0.5 µm"), pint Quantities, SI floats, rows (lists of dicts)
    or records {"value": …, "uncertainty": …, "instrument": …, "origin": …}. Raises InputError with
    every wrong entry; a missing entry is no error: `missing` names it.
    """
    card = find(name)
    return work(card, read_entries(card, given))


def fill(card: Card, entries: Mapping[str, Entry]) -> dict[str, Any]:
    """SI values of all entries of a card: given, default, or None."""
    return {name: entries[name].si if name in entries else card.defaults.get(name) for name in card.entries}


def function_of(card: Card, missing: frozenset[str]) -> Callable[[Mapping[str, Any]], Mapping[str, Any]]:
    """A card as one function from SI values to named results."""
    if card.kind == "formula":
        function, result = card.function, card.result

        def formula_results(values: Mapping[str, Any]) -> Mapping[str, Any]:
            value = function(**values)
            if isinstance(value, complex) or value - value != 0.0:
                raise NoValue("the result is not a finite number")
            return {result: value}

        return formula_results
    from valvecalc.compiled import with_locals

    compiled = with_locals(card, missing)  # the copy that tells the worked lines too: one less to make
    fields = card.record._fields
    extras = [name for name in card.entries if name not in fields]

    def sheet_results(values: Mapping[str, Any]) -> Mapping[str, Any]:
        record = card.record(**{name: values[name] for name in fields})
        results: Mapping[str, Any] = compiled(record, **{name: values[name] for name in extras})[0]
        return results

    return sheet_results


def work(card: Card, entries: Mapping[str, Entry]) -> Answer:
    """Work a card on entries that have been read."""
    values = fill(card, entries)
    missing = frozenset(name for name, value in values.items() if value is None)
    lacks: tuple[Lack, ...] = ()
    if card.kind == "formula":
        if missing:
            return Answer(
                card, entries, values, {}, tuple(_lack(name, card.title) for name in card.entries if name in missing)
            )
    elif missing:
        from valvecalc.needs import lacking

        lacks = tuple(
            _lack(entry, VOCABULARY[result].meaning)
            for result, wanted in lacking(card, missing).items()
            for entry in sorted(wanted)
        )
    try:
        results = function_of(card, missing)(values)
    except NO_VALUE as why:
        return Answer(
            card,
            entries,
            values,
            {},
            (
                Lack(
                    card.result, f"no value here: {_say(why)}", "Check the entries that lie at an end of their range."
                ),
                *lacks,
            ),
            _say(why),
        )
    return Answer(card, entries, values, {k: v for k, v in results.items() if v is not None}, lacks)


def _say(why: BaseException) -> str:
    if isinstance(why, NoValue) and why.outside is not None:
        name, of, *ends = why.outside
        quantity = VOCABULARY[name]
        at, low, high = (show(si, quantity.dimension, quantity.metric, 6) for si in ends)
        return f"{name} {at} lies outside the table of {of} ({low} to {high})"
    if isinstance(why, ZeroDivisionError):
        return "it divides by zero"
    if isinstance(why, OverflowError):
        return "a number grows beyond all bounds"
    return "a root or logarithm is outside its range" if str(why) == "math domain error" else str(why)


def _lack(entry: str, why: str) -> Lack:
    quantity = VOCABULARY[entry]
    unit = f" in {quantity.metric}" if quantity.metric else ""
    return Lack(entry, why, f"Give {entry}: {quantity.meaning}{unit}.")


def leaves_of(answer: Answer) -> "list[Leaf]":
    """The uncertain numbers among the entries of an answer."""
    from valvecalc.uncertainty import Leaf

    limits = limits_of(answer.card)
    found = []
    for name, entry in answer.entries.items():
        if name in answer.card.rows:
            for index, row in enumerate(entry.spreads):
                for column, spreads in row.items():
                    found += [Leaf((name, index, column), u, group, limits.get(column)) for u, group in spreads]
        else:
            found += [Leaf((name,), u, group, limits.get(name)) for u, group in entry.spreads]
    return found


def spread_of(answer: Answer) -> "dict[str, Spread]":
    """Standard uncertainty of every result, from the uncertain entries."""
    from valvecalc.uncertainty import propagate

    leaves = leaves_of(answer)
    if not leaves:
        return {}
    missing = frozenset(name for name, value in answer.values.items() if value is None)
    return propagate(function_of(answer.card, missing), answer.values, leaves)
