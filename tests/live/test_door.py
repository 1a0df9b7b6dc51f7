"""The door on the phone against Python: the whole answer, or the whole refusal, for every card that has a page.

Python is the reference. Texts and verdicts are equal; numbers to 1e-12 of the larger of themselves and the largest line
of their unit, since a difference of two large terms carries their last bits.
"""

import json
import os
import random
import subprocess
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from tests.engine.conftest import NEEDED, NO_NODE, NODE
from valvecalc.answer import Answer
from valvecalc.door import calc, load
from valvecalc.errors import InputError, NoValue
from valvecalc.formula import REGISTER, Card
from valvecalc.limits import bracket, limits_of
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen.calculators import calculator, card_script
from valvecalc.solving import solve_for
from valvecalc.units import choices, show

load()
CARDS = [card for card in REGISTER.values() if not card.part]
WITHIN = 1e-12
CASES = max(3, int(os.environ.get("VALVECALC_CASES", "300")) // 60)

DRIVER = """
const fs = require("fs");
const lines = fs.readFileSync(process.argv[2], "utf8").split("\\n");
fs.writeFileSync(process.argv[3], lines.map((line) => {
  const [id, given, options, wanted] = JSON.parse(line);
  return JSON.stringify(wanted ? valvecalc.solveFor(id, wanted, given, options) : valvecalc.answer(id, given, options));
}).join("\\n"));
"""

Asked = tuple[str, dict[str, Any], dict[str, Any], str | None]
Told = Callable[[list[Asked]], list[Any]]


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Told:
    """What the scripts of the site answer, in one node process."""
    if NODE is None:
        if NEEDED:
            pytest.fail("VALVECALC_NEED_BROWSER=1, but node is not installed")
        pytest.skip(NO_NODE)
    folder = tmp_path_factory.mktemp("door")
    pieces = ["const window = globalThis;", calculator(), *map(card_script, CARDS), DRIVER]
    code = folder / "door.js"
    code.write_text("\n".join(pieces), "utf-8")

    def run(asked: list[Asked]) -> list[Any]:
        given, found = folder / "asked.ndjson", folder / "told.ndjson"
        given.write_text("\n".join(json.dumps(one) for one in asked), "utf-8")
        done = subprocess.run([NODE, code, given, found], capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stderr[-2000:]
        return [json.loads(line) for line in found.read_text("utf-8").split("\n")]

    return run


def failure(fault: InputError) -> dict[str, Any]:
    return {"schema": 1, "ok": False, "errors": [trouble.as_json() for trouble in fault.troubles]}


def styled(answer: Answer, options: dict[str, Any]) -> Any:
    """An answer of Python's as plain data, in the units that were asked for."""
    answer.system = options.get("system", "metric")
    answer.units = options.get("units", {})
    return json.loads(json.dumps(answer.to_json()))


def expected(asked: Asked) -> Any:
    name, given, options, wanted = asked
    try:
        if wanted is None:
            return styled(calc(name, **given), options)
        return [styled(answer, options) for answer in solve_for(name, wanted, None, **given)]
    except InputError as fault:
        return failure(fault)
    except NoValue as why:
        return str(why)


def sizes(row: Any, found: dict[str, float]) -> dict[str, float]:
    """The largest number of each unit among the lines, entries and results."""
    if isinstance(row, dict):
        value, unit = row.get("value"), row.get("unit")
        if isinstance(value, float | int) and not isinstance(value, bool) and isinstance(unit, str):
            found[unit] = max(found.get(unit, 0.0), abs(value))
        for each in row.values():
            sizes(each, found)
    elif isinstance(row, list):
        for each in row:
            sizes(each, found)
    return found


def differences(ours: Any, theirs: Any, size: dict[str, float], unit: str = "", place: str = "") -> Iterator[str]:
    if isinstance(ours, dict) and isinstance(theirs, dict):
        if list(ours) != list(theirs):
            yield f"{place}: keys {list(ours)} and {list(theirs)}"
        unit = ours.get("unit", unit) if isinstance(ours.get("unit", unit), str) else unit
        for key in ours.keys() & theirs.keys():
            yield from differences(ours[key], theirs[key], size, unit, f"{place} {key}")
    elif isinstance(ours, list) and isinstance(theirs, list):
        if len(ours) != len(theirs):
            yield f"{place}: {len(ours)} and {len(theirs)} rows"
        for at, pair in enumerate(zip(ours, theirs, strict=False)):
            yield from differences(*pair, size, unit, f"{place} {at}")
    elif any(isinstance(one, bool | str | None) for one in (ours, theirs)):
        if ours != theirs or type(ours) is not type(theirs):
            yield f"{place}: Python {ours!r}, JavaScript {theirs!r}"
    elif abs(ours - theirs) > WITHIN * max(abs(ours), size.get(unit, 0.0)):
        yield f"{place}: Python {ours!r}, JavaScript {theirs!r}"


def compare(told: Told, asked: list[Asked]) -> int:
    """Hold every answer to Python's; how many of them had a value."""
    values = 0
    for one, theirs in zip(asked, told(asked), strict=True):
        ours = expected(one)
        if isinstance(ours, str):  # no value anywhere in the bracket: told under `missing`
            assert theirs[0]["result"] is None and theirs[0]["missing"][0]["why"] == ours, one
            continue
        assert list(differences(ours, theirs, sizes(ours, {}))) == [], one
        values += isinstance(ours, list) or bool(ours.get("result"))
    return values


def numbers(card: Card) -> list[str]:
    """Entries that are one number."""
    text = ("text", "rows")
    return [name for name in card.entries if name not in card.rows and VOCABULARY[name].dimension not in text]


def texts(card: Card, dice: random.Random) -> dict[str, Any]:
    """The example with most of its numbers drawn anew inside their limits, in any unit, some with ±, some left out."""
    given = dict(card.example)
    for name in numbers(card):
        quantity = VOCABULARY[name]
        limit = limits_of(card).get(name)
        if quantity.dimension == "count" or limit is None or dice.random() < 0.3:
            continue
        low, high = bracket(card, name)
        start = max(low, high * 1e-6) if high > 0 else low
        even = dice.random() < 0.5 or start <= 0
        value = dice.uniform(low, high) if even else start * (high / start) ** dice.random()
        unit = dice.choice([quantity.metric, quantity.us, *choices(quantity.dimension)])
        given[name] = show(value, quantity.dimension, unit, dice.choice((2, 4, 7)))
        if dice.random() < 0.4:
            given[name] += dice.choice(
                (" ± 2 %", " ± 1 % (k=2)") if quantity.dimension != "temperature" else (" ± 1 K",)
            )
    return {name: value for name, value in given.items() if card.kind == "formula" or dice.random() > 0.08}


OPTIONS: list[dict[str, Any]] = [{}, {"system": "us"}]


def test_every_example_in_both_systems(told: Told) -> None:
    asked: list[Asked] = [(card.id, dict(card.example), options, None) for card in CARDS for options in OPTIONS]
    assert compare(told, asked) == len(asked)


def test_entries_drawn_at_random(told: Told) -> None:
    dice = random.Random(4)
    asked: list[Asked] = [
        (card.id, texts(card, dice), dice.choice(OPTIONS), None) for card in CARDS for _ in range(CASES)
    ]
    assert compare(told, asked) > len(asked) / 3


def test_an_entry_left_out_is_named_with_what_it_is_for(told: Told) -> None:
    asked: list[Asked] = [
        (card.id, {name: value for name, value in card.example.items() if name != left}, {}, None)
        for card in CARDS
        for left in card.example
    ]
    asked += [(card.id, {}, {}, None) for card in CARDS if card.kind == "formula"]
    dice = random.Random(5)
    for card in CARDS:
        if card.kind == "sheet" and not card.choices:
            for _ in range(3 * CASES):
                kept = [name for name in card.example if dice.random() < 0.5]
                asked.append((card.id, {name: card.example[name] for name in kept}, {}, None))
    compare(told, asked)


def test_at_and_beyond_every_limit(told: Told) -> None:
    asked: list[Asked] = []
    for card in CARDS:
        for name in numbers(card):
            limit, quantity = limits_of(card).get(name), VOCABULARY[name]
            for end in () if limit is None else (limit.low, limit.high):
                if end is not None and quantity.dimension != "count":
                    for value in (end, end * (1 + 1e-5) + 1e-9, end * (1 - 1e-5) - 1e-9):
                        text = show(value, quantity.dimension, quantity.metric, 7)
                        asked.append((card.id, {**card.example, name: text}, {}, None))
    compare(told, asked)


def test_what_cannot_be_read_is_refused_in_the_same_words(told: Told) -> None:
    wrong = ["", "x", "5 furlongs", "1,500 bar", "5 mpa", "5 ML", "-", "1e999 m", "5 bar ± 1 psi ± 2", "½ in", "5 psia"]
    asked: list[Asked] = []
    for card in CARDS:
        first = numbers(card)[0]
        asked += [(card.id, {**card.example, first: text}, {}, None) for text in wrong if text]
        asked.append((card.id, {**card.example, "presure": "5 bar", "toString": "1", "constructor": "x"}, {}, None))
        for name in card.choices:
            if name in card.example:
                asked.append((card.id, {**card.example, name: "sideways"}, {}, None))
        for name, columns in card.rows.items():
            if name in card.entries:
                cells = dict.fromkeys(columns, "x")
                bad = ["", "5", "a | b", "0 mm 5 N; 7", [], [cells, {"nothing": "1"}], [{}, {columns[0]: "1 mm"}]]
                asked += [(card.id, {**card.example, name: rows}, {}, None) for rows in bad if rows != ""]
    compare(told, asked)


def test_records_with_instruments_move_together(told: Told) -> None:
    reading = {"value": "160 bar", "uncertainty": "2 bar", "instrument": "G3", "origin": "measured"}
    asked: list[Asked] = [
        ("annular-leakage", {**REGISTER["annular-leakage"].example, "pressure_drop": reading}, {}, None),
        (
            "annular-leakage",
            {**REGISTER["annular-leakage"].example, "pressure_drop": {**reading, "origin": "heard"}},
            {},
            None,
        ),
        ("annular-leakage", {**REGISTER["annular-leakage"].example, "pressure_drop": {"vlaue": "1 bar"}}, {}, None),
        (
            "coil-check",
            {
                "resistance": {"value": "97.4 Ω", "uncertainty": "1 %", "instrument": "R1"},
                "hot_resistance": {"value": "121.7 Ω", "uncertainty": "1 %", "instrument": "R1"},
                "coil_temperature": "31 °C ± 1 K",
                "nominal_voltage": "48 V",
                "nominal_power": "25 W",
            },
            {},
            None,
        ),
    ]
    assert compare(told, asked) == 2


def test_solving_for_every_entry(told: Told) -> None:
    asked: list[Asked] = []
    for card in CARDS:
        if card.kind == "sheet" and card.choices:
            continue
        answer = calc(card.id, **card.example)
        results = [name for name in (card.results or (card.result,)) if name in answer.results]
        for result in results[:2]:
            value = answer.results[result]
            quantity = VOCABULARY[result]
            if not isinstance(value, float):
                continue
            text = show(value, quantity.dimension, quantity.metric, 5)
            for name in numbers(card):
                rest = {key: text for key, text in card.example.items() if key != name}
                asked.append((card.id, {**rest, result: text}, {}, name))
                asked.append(
                    (card.id, {**rest, result: f"{text} ± 1 %"}, {}, name)
                ) if quantity.dimension != "temperature" else None
        asked.append((card.id, dict(card.example), {}, card.entries[0]))
    assert compare(told, asked) > len(asked) / 3
