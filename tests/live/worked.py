"""How the worked lines of the phone are held to Python's: rows and texts exactly, numbers to 1e-12."""

import json
import math
import os
import random
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from tests.engine.conftest import Dice
from tests.engine.test_javascript import kind_of, largest
from valvecalc import live
from valvecalc.door import NO_VALUE, calc, load
from valvecalc.formula import REGISTER, Card
from valvecalc.live.body import bodies, names_of
from valvecalc.printing.javascript import functions_text, runtime_text
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_si, table_for_javascript, to_si
from valvecalc.worked import as_json, work

load()
SHOWN = [card for card in REGISTER.values() if not card.part]
SYSTEMS = ("metric", "us")
WITHIN = 1e-12
CASES = int(os.environ.get("VALVECALC_CASES", "300"))
SCRIPTS = Path(live.__file__).parent

DRIVER = """
const fs = require("fs");
const told = (rows) =>
  JSON.stringify(rows, (key, x) => (typeof x === "number" && !Number.isFinite(x) ? `@${x}` : x))
    .replace(/"@(-?Infinity|NaN)"/g, "$1");
const words = (names) => Object.fromEntries(names.map((name) => [name, WORDS[name]]));
const lines = fs.readFileSync(process.argv[2], "utf8").split("\\n");
fs.writeFileSync(process.argv[3], lines.map((line) => {
  const [id, values, system] = JSON.parse(line);
  try {
    return told(workedLines({ register, bodies: BODIES[id], words: words(NAMES[id]) }, id, values, system));
  } catch (trouble) {
    if (trouble instanceof NoValue) return '"none"';
    throw trouble;
  }
}).join("\\n"));
"""

Asked = tuple[Card, dict[str, Any], str]


def script(cards: list[Card]) -> str:
    """Runtime, printed functions, bodies and the words they speak of: each calculation sees its own words only."""
    data = {card.id: bodies(card) for card in cards}
    names = {name: sorted(names_of(data[name])) for name in data}
    words = {name: VOCABULARY[name]._asdict() for name in VOCABULARY}
    pieces = [
        runtime_text(),
        f"const SITE = {json.dumps({'units': table_for_javascript()})};",
        *((SCRIPTS / name).read_text("utf-8") for name in ("units.js", "worked.js")),
        functions_text(cards),
        f"const BODIES = {json.dumps(data)}, NAMES = {json.dumps(names)}, WORDS = {json.dumps(words)};",
        DRIVER,
    ]
    return '"use strict";\n' + "\n".join(pieces)


Told = Callable[..., list[Any]]


def different(ours: Any, theirs: Any, sizes: dict[str, float], place: str = "") -> str:
    """The first place where two tellings differ, "" where they do not; a value is a number in its row's unit."""
    if isinstance(ours, list) and isinstance(theirs, list) and len(ours) == len(theirs):
        pairs = zip(ours, theirs, strict=True)
        return next(filter(None, (different(*pair, sizes, f"{place} {pair[0]['name']}") for pair in pairs)), "")
    if isinstance(ours, dict) and isinstance(theirs, dict) and list(ours) == list(theirs):
        theirs = {**theirs, "value": ours["value"]} if is_near(ours, theirs["value"], sizes) else theirs
        return next(filter(None, (different(ours[key], theirs[key], sizes, f"{place} {key}") for key in ours)), "")
    return "" if ours == theirs and type(ours) is type(theirs) else f"{place}: Python {ours!r}, JavaScript {theirs!r}"


def is_near(row: dict[str, Any], theirs: Any, sizes: dict[str, float]) -> bool:
    """Whether a row's value is the same but for 1e-12 of the largest entry or line of its dimension."""
    ours, name = row["value"], row["name"]
    if not isinstance(ours, float) or not isinstance(theirs, int | float):
        return False
    if not math.isfinite(ours):
        return str(ours) == str(theirs)
    there, here = (to_si(value, row["unit"], VOCABULARY[name].dimension) for value in (theirs, ours))
    return abs(there - here) <= WITHIN * max(sizes.get(kind_of(name), 0.0), abs(here))


def lines_in_si(rows: list[dict[str, Any]]) -> Iterator[dict[str, float]]:
    """{name: SI} of every row, those of called formulas too."""
    for row in rows:
        if isinstance(row["value"], float):
            yield {row["name"]: to_si(row["value"], row["unit"], VOCABULARY[row["name"]].dimension)}
        yield from lines_in_si(row.get("steps", []))


def is_apart(ours: list[dict[str, Any]], theirs: list[dict[str, Any]], sizes: dict[str, float]) -> bool:
    """Whether a number of a row lies farther off than `is_near` allows."""
    return any(
        (isinstance(one["value"], float) and not is_near(one, other["value"], sizes))
        or is_apart(one.get("steps", []), other.get("steps", []), sizes)
        for one, other in zip(ours, theirs, strict=True)
    )


def compare(asked: list[Asked], told: Told, tremble: int = 0) -> tuple[int, int]:
    """How many rows were compared, and in how many cases there was no value in both.

    `tremble`: so many cases may be left out because a number is apart: a random body may hold cos(exp(x)), where the
    last bit decides. Those numbers have their own measure in the printer's fuzz.
    """
    rows = none = trembled = 0
    for (card, values, system), theirs in zip(asked, told(asked), strict=True):
        try:
            ours: Any = as_json(work(card, values, system))
        except NO_VALUE:
            ours = "none"
        sizes = largest(values, *lines_in_si(ours if ours != "none" else []))
        if tremble and "none" not in (ours, theirs) and is_apart(ours, theirs, sizes):
            trembled += 1
            continue
        off = different(ours, theirs, sizes)
        assert not off, f"{card.id} {system} {values}:{off}"
        rows += count(ours) if isinstance(ours, list) else 0
        none += ours == "none"
    assert trembled <= tremble
    return rows, none


def count(rows: list[dict[str, Any]]) -> int:
    return sum(1 + count(row.get("steps", [])) for row in rows)


def filled(card: Card, given: dict[str, Any]) -> dict[str, Any]:
    return {**dict.fromkeys(card.entries), **card.defaults, **given}


def as_typed(dice: random.Random, values: dict[str, Any]) -> dict[str, Any]:
    """Half of the entries rounded to three digits in a shop unit, as people type them."""
    for name, value in values.items():
        if isinstance(value, float) and dice.random() < 0.5:
            _, _, dimension, metric, us, _ = VOCABULARY[name]
            unit = dice.choice((metric, us))
            values[name] = to_si(float(f"{from_si(value, unit, dimension):.3g}"), unit, dimension)
    return values


def drawn(card: Card, hand: Dice, number: int) -> dict[str, Any]:
    """Entries inside the limits; of a sheet round the example too, and at times with some left out."""
    dice = hand.random
    if card.kind == "formula":
        return hand.formula(card)
    if "lands" in card.rows:
        given = hand.valve(card, wide=number % 3 == 2)
    else:
        example = {name: entry.si for name, entry in calc(card.id, **card.example).entries.items()}
        given = hand.record(card)
        if number % 2:
            numbers = {name: value for name, value in example.items() if name not in (*card.choices, *card.rows)}
            given |= {name: value * dice.uniform(0.8, 1.2) for name, value in numbers.items()}
            given |= {name: [dict(row) for row in example[name]] for name in card.rows if name in example}
    return {name: value for name, value in given.items() if dice.random() < (0.8 if number % 3 == 0 else 1.0)}
