"""What both sides are asked about the door on the phone, and how their answers are compared.

Texts, words, orders and what was read are equal; a result, its uncertainty and the value of a worked line may differ
by 1e-12 of the larger of it and the largest line of its dimension.
"""

import json
import math
import os
import random
from collections.abc import Callable
from typing import Any, NamedTuple

from tests.engine.conftest import Dice
from tests.engine.test_javascript import kind_of, largest
from tests.live.worked import drawn, lines_in_si
from valvecalc.answer import Answer
from valvecalc.compiled import with_locals
from valvecalc.door import calc, load
from valvecalc.errors import InputError
from valvecalc.formula import REGISTER, Card
from valvecalc.quantities import VOCABULARY
from valvecalc.solving import solve_for
from valvecalc.unit_table import choices
from valvecalc.units import from_si, read

load()

SHOWN = [card for card in REGISTER.values() if not card.part]
FORMULAS = [card for card in SHOWN if card.kind == "formula"]
#: How many times rarer than the others.
SLOW = {"single-causes": 100, "limit-curve": 100, "shift-time": 100, "limit-point": 30, "shift-budget": 10}
WITHIN = 1e-12
CASES = int(os.environ.get("VALVECALC_CASES", "300"))

DRIVER = """
const told = (x) =>
  JSON.stringify(x, (key, value) => (typeof value === "number" && !Number.isFinite(value) ? `@${value}` : value))
    .replace(/"@(-?Infinity|NaN)"/g, "$1");
const asked = fs.readFileSync(process.argv[2], "utf8").split("\\n").map((line) => JSON.parse(line));
fs.writeFileSync(process.argv[3], asked.map(([id, given, options, wanted]) => {
  if (options.fragment) return told(valvecalc.fragment(id, given));
  return told(wanted === null ? valvecalc.answer(id, given, options) : valvecalc.solveFor(id, wanted, given, options));
}).join("\\n"));
"""


class Case(NamedTuple):
    """One question to both; `wanted` is the entry to solve for."""

    card: Card
    given: dict[str, Any]
    options: dict[str, Any] = {}  # noqa: RUF012 never changed
    wanted: str | None = None


Ask = Callable[[list[Case]], list[Any]]


# ---- Python's side


def python(case: Case) -> tuple[Any, dict[str, float]]:
    """What Python answers, and the largest number of each dimension on the way to it."""
    try:
        if case.wanted is None:
            answers = [calc(case.card.id, **case.given)]
        else:
            answers = solve_for(case.card.id, case.wanted, **case.given)
    except InputError as fault:
        return {"schema": 1, "ok": False, "errors": [trouble.as_json() for trouble in fault.troubles]}, {}
    told, sizes = [], []
    for answer in answers:
        answer.system = case.options.get("system", "metric")
        answer.units = case.options.get("units", {})
        told.append(answer.to_json())
        sizes.append(sizes_of(answer, told[-1]))
    return (told[0] if case.wanted is None else told), merged(sizes)


def merged(sizes: list[dict[str, float]]) -> dict[str, float]:
    return {kind: max(one.get(kind, 0.0) for one in sizes) for one in sizes for kind in one}


def sizes_of(answer: Answer, told: dict[str, Any]) -> dict[str, float]:
    """The largest absolute value of each dimension among entries, lines and results, in SI."""
    if not answer.results:
        return {}
    return largest(answer.values, locals_of(answer), answer.results, *lines_in_si(told["steps"]))


def locals_of(answer: Answer) -> dict[str, Any]:
    card, values = answer.card, dict(answer.values)
    if card.kind == "formula":
        return dict(with_locals(card)(**values)[1])
    missing = frozenset(name for name, value in values.items() if value is None)
    record = card.record(**{name: values.pop(name) for name in card.record._fields})
    return dict(with_locals(card, missing)(record, **values)[1])


# ---- comparing


def different(ours: Any, theirs: Any, sizes: dict[str, float], place: str = "", name: str = "", unit: str = "") -> str:
    """The first place where two tellings differ, "" where they do not. Numbers under "result", "results" and "steps"
    have the room that `sizes` gives; `name` and `unit` tell what a number is."""
    if isinstance(ours, dict) and isinstance(theirs, dict) and list(ours) == list(theirs):
        name, unit = ours.get("name", name), ours.get("unit", unit)
        if "columns" in ours and "rows" in ours:
            off = different(ours["columns"], theirs["columns"], {}, f"{place} columns")
            return off or different_rows(ours["columns"], ours["rows"], theirs["rows"], sizes, place)
        room = {"result": sizes, "results": sizes, "steps": sizes} if not place else dict.fromkeys(ours, sizes)
        pairs = ((key, ours[key], theirs[key], room.get(key, {})) for key in ours)
        found = (different(a, b, s, f"{place} {key}", name, unit) for key, a, b, s in pairs)
        return next(filter(None, found), "")
    if isinstance(ours, list) and isinstance(theirs, list) and len(ours) == len(theirs):
        both = enumerate(zip(ours, theirs, strict=True))
        return next(filter(None, (different(a, b, sizes, f"{place} {i}", name, unit) for i, (a, b) in both)), "")
    if is_number(ours) and is_number(theirs):
        return "" if is_near(ours, theirs, sizes, name, unit) else f"{place}: Python {ours!r}, JavaScript {theirs!r}"
    return "" if ours == theirs and type(ours) is type(theirs) else f"{place}: Python {ours!r}, JavaScript {theirs!r}"


def different_rows(columns: list[Any], ours: list[Any], theirs: list[Any], sizes: dict[str, float], place: str) -> str:
    if len(ours) != len(theirs):
        return f"{place}: Python {len(ours)} rows, JavaScript {len(theirs)}"
    for row, other in zip(ours, theirs, strict=True):
        for column, a, b in zip(columns, row, other, strict=True):
            if off := different(a, b, sizes, f"{place} rows", column["name"], column["unit"]):
                return f"{off} ({column['name']})"
    return ""


def is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def is_near(ours: float, theirs: float, sizes: dict[str, float], name: str, unit: str) -> bool:
    if ours == theirs:
        return True
    if not sizes or not name or not math.isfinite(ours) or not math.isfinite(theirs):
        return False
    dimension = VOCABULARY[name].dimension
    scale = abs(from_si(1.0, unit, dimension) - from_si(0.0, unit, dimension)) if dimension != "text" else 1.0
    return abs(ours - theirs) <= WITHIN * max(abs(ours), scale * sizes.get(kind_of(name), 0.0))


class Tally(NamedTuple):
    """How many answers, answers without a value, and failures were compared."""

    answered: int
    none: int
    failed: int


def compare(cases: list[Case], ask: Ask) -> Tally:
    answered = none = failed = 0
    for case, theirs in zip(cases, ask(cases), strict=True):
        ours, sizes = python(case)
        off = different(ours, theirs, sizes)
        assert not off, f"{case.card.id} {case.given} {case.options}:{off}"
        failed += not ours["ok"]
        answered += ours["ok"] and ours["result"] is not None
        none += ours["ok"] and ours["result"] is None
    return Tally(answered, none, failed)


# ---- entries as texts


def typed(dice: random.Random, name: str, si: float) -> str:
    """A value as text, in any unit of its dimension, at times with blanks, a comma, an exponent."""
    dimension = VOCABULARY[name].dimension
    unit = dice.choice(choices(dimension))
    value = from_si(si, unit, dimension)
    if dimension == "count":
        return f"{value:.0f}"
    number = dice.choice((repr(value), f"{value:.6g}", f"{value:.3e}"))
    if "." in number and "e" not in number and dice.random() < 0.2 and len(number.split(".")[1]) != 3:
        number = number.replace(".", ",")
    return f"{number}{dice.choice((' ', '', '  '))}{unit}"


def doubted(dice: random.Random, name: str, text: str) -> Any:
    """A text with what it is known to; or as a record, with an instrument that others are read with too."""
    unit = read(text, name, VOCABULARY[name].dimension).unit
    half = dice.choice(("2 %", "0,5 %", f"0.01 {unit}", f"1e-6 {unit} (k=2)", "3 % (k=2)", f"0 {unit}"))
    if dice.random() < 0.5:
        return f"{text} {dice.choice(('±', '+/-', '+-'))} {half}"
    record = {"value": text, "uncertainty": half, "instrument": dice.choice(("G1", "G2"))}
    extras = {
        "origin": dice.choice(("measured", "nameplate", "shop", "guessed")),
        "source": "sheet 4",
        "at": "2026-05-04",
    }
    return record | {key: extras[key] for key in extras if dice.random() < 0.3}


def as_texts(dice: random.Random, card: Card, values: dict[str, Any]) -> dict[str, Any]:
    """Entries in SI as texts: numbers, words, and lists as rows of texts or in one text."""
    found: dict[str, Any] = {}
    for name, value in values.items():
        if name in card.rows:
            rows = [{column: cell_text(dice, column, cell) for column, cell in row.items()} for row in value]
            found[name] = rows if dice.random() < 0.5 else in_one_text(dice, card.rows[name], rows)
        else:
            found[name] = value if name in card.choices else typed(dice, name, value)
    return found


def cell_text(dice: random.Random, column: str, cell: Any) -> str:
    return cell if isinstance(cell, str) else typed(dice, column, cell).replace("  ", " ")


def in_one_text(dice: random.Random, columns: tuple[str, ...], rows: list[dict[str, str]]) -> str:
    if dice.random() < 0.2:
        return json.dumps(rows)
    if dice.random() < 0.3 and all(len(text.split()) == 2 for row in rows for text in row.values()):
        return ";".join(" ".join(row[column] for column in columns) for row in rows)
    return "; ".join(dice.choice((" | ", "|")).join(row[column] for column in columns) for row in rows)


def given_of(hand: Dice, card: Card, number: int) -> dict[str, Any]:
    """Random entries of a card as texts, inside its limits but for a few."""
    return as_texts(hand.random, card, drawn(card, hand, number))


def random_options(dice: random.Random, card: Card) -> dict[str, Any]:
    """Metric or US, and at times the unit of a name chosen."""
    names = [name for name in (*card.results, card.result, *card.entries) if VOCABULARY[name].dimension not in NO_UNIT]
    chosen = dice.sample(names, min(len(names), dice.choice((0, 0, 1, 2))))
    units = {name: dice.choice(choices(VOCABULARY[name].dimension)) for name in chosen}
    return {"system": dice.choice(("metric", "us")), "units": units}


NO_UNIT = ("text", "rows", "count")


def often(card: Card, cases: float) -> int:
    """How many random cases of a card."""
    return max(1, int(cases / SLOW.get(card.id, 1)))
