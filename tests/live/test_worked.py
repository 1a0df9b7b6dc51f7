"""The worked lines on the phone against Python: the same rows, the texts letter by letter, the numbers to 1e-12."""

import ast
import importlib.util
import json
import math
import os
import random
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.engine.conftest import NEEDED, NO_NODE, NODE, Dice
from tests.engine.test_javascript import kind_of, largest
from tests.engine.test_printer_fuzz import tree
from valvecalc import live
from valvecalc.door import NO_VALUE, calc, load
from valvecalc.formula import _BY_FUNCTION, REGISTER, Card
from valvecalc.live.body import bodies, names_of
from valvecalc.printing.javascript import NotPrintable, functions_text, runtime_text
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


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Told:
    """What JavaScript tells for many (card, values, system) in one node process."""
    if NODE is None:
        if NEEDED:
            pytest.fail("VALVECALC_NEED_BROWSER=1, but node is not installed")
        pytest.skip(NO_NODE)
    folder = tmp_path_factory.mktemp("worked")

    def run(asked: list[Asked]) -> list[Any]:
        code, given, found = (folder / name for name in ("worked.js", "asked.ndjson", "told.ndjson"))
        code.write_text(script(list({card.id: card for card, _, _ in asked}.values())), "utf-8")
        given.write_text("\n".join(json.dumps([card.id, *rest]) for card, *rest in asked), "utf-8")
        done = subprocess.run([NODE, code, given, found], capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stderr[-2000:]
        return [json.loads(line) for line in found.read_text("utf-8").split("\n")]

    return run


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
            given |= {name: value * dice.uniform(0.8, 1.2) for name, value in example.items()}
    return {name: value for name, value in given.items() if dice.random() < (0.8 if number % 3 == 0 else 1.0)}


def test_the_examples_of_all_pages(told: Told) -> None:
    asked = [(card, calc(card.id, **card.example).values, system) for card in SHOWN for system in SYSTEMS]
    rows, none = compare(asked, told)
    assert rows > 500 and none == 0


def test_random_entries_of_every_page(told: Told) -> None:
    hand = Dice(61)
    often = {"single-causes": max(2, CASES // 300), "shift-budget": CASES // 20}
    asked = [
        (card, filled(card, as_typed(hand.random, drawn(card, hand, number))), hand.random.choice(SYSTEMS))
        for card in SHOWN
        for number in range(often.get(card.id, CASES // 10))
    ]
    rows, none = compare(asked, told)
    assert rows > 3 * len(asked) * 0.8 and 0 < none < len(asked) / 10


def test_each_entry_left_out(told: Told) -> None:
    """Of every sheet each entry alone, and each given alone; of a formula one, which leaves no line."""
    asked: list[Asked] = []
    for card in SHOWN:
        values = calc(card.id, **card.example).values
        if card.kind == "formula":
            asked.append((card, {**values, card.entries[0]: None}, "metric"))
        elif card.id != "single-causes":
            rest = [{other: values[other] for other in values if other != name} for name in card.entries]
            alone = [{name: values[name]} for name in card.entries if "lands" not in card.rows]
            asked += [(card, filled(card, given), SYSTEMS[len(given) == 1]) for given in (*rest, *alone)]
    rows, _ = compare(asked, told)
    assert rows > len(asked)


# ---- invented bodies: what no calculation has today

HEAD = """from typing import NamedTuple
from valvecalc.formula import formula
from valvecalc.formulas import coil, lateral, spool
from valvecalc.maths import cos, exp, log, log10, maximum, minimum, pi, power, sqrt, where
from valvecalc.primitives import *
from valvecalc.primitives import using
from valvecalc.sheet import sheet
"""
ENTRIES = ("winding_temperature", "ambient_temperature", "ice_point", "clearance", "load_1", "copper_constant")


@pytest.fixture
def made(tmp_path: Path) -> Iterator[Callable[[str], list[Card]]]:
    """Cards from the text of a module; out of the register afterwards."""
    before = set(REGISTER)

    def make(text: str) -> list[Card]:
        path = tmp_path / "invented.py"
        path.write_text(HEAD + text, "utf-8")
        spec = importlib.util.spec_from_file_location("invented", path)
        assert spec is not None and spec.loader is not None
        spec.loader.exec_module(importlib.util.module_from_spec(spec))
        return [REGISTER[name] for name in REGISTER if name not in before]

    yield make
    for name in set(REGISTER) - before:
        del _BY_FUNCTION[REGISTER.pop(name).function]


def chosen(dice: random.Random, depth: int) -> str:
    """Sums and choices of temperatures and their differences."""
    if depth == 0 or dice.random() < 0.1:
        return dice.choice(("winding_temperature", "ambient_temperature", "ice_point", "copper_constant"))
    one, other, test = (chosen(dice, depth - 1) for _ in range(3))
    forms = ["({0} + {1})", "({0} - {1})", "({0} - {1})", "maximum({0}, {1})", "where({2} > {1}, {0}, {1})"]
    forms += ["where({2} >= {1}, {1}, where({0} < {1}, {2}, {0}))", "load_1 * ({0} - {1})"]
    return dice.choice(forms).format(one, other, test)


def test_random_bodies(made, told: Told) -> None:
    """Every way of bracketing, of temperatures in sums and products, and of a formula called by another."""
    dice = random.Random(62)
    text = ""
    for index in range(CASES // 2):
        entries = f"(*, {', '.join(ENTRIES)})"
        names = (*ENTRIES, "force")
        text += f"\n\n@formula('Inner “{index}”', result='{dice.choice(ENTRIES)}')\ndef inner_{index}{entries}:\n"
        text += f"    return {ast.unparse(tree(dice, 2, ENTRIES))}\n"
        text += f"\n\n@formula('outer', result='{dice.choice(names)}')\ndef outer_{index}{entries}:\n"
        text += f"    force = {ast.unparse(tree(dice, 3, ENTRIES))}\n"
        given = ", ".join(f"{name}={ast.unparse(tree(dice, dice.choice((0, 0, 2)), names))}" for name in ENTRIES)
        text += f"    oil_temperature = inner_{index}({given})\n"
        text += f"    reference_temperature = {chosen(dice, 3)}\n"
        text += f"    return {ast.unparse(tree(dice, dice.choice((2, 3, 4)), (*names, 'oil_temperature')))}\n"
    asked = []
    for card in made(text):
        for system in SYSTEMS:
            values = {
                name: dice.choice((0.0, 1.0, 2.5, dice.uniform(-5, 5), dice.uniform(250, 400))) for name in ENTRIES
            }
            asked.append((card, values, system))
    rows, none = compare(asked, told, tremble=1 + CASES // 3000)
    assert rows > len(asked) and none > len(asked) / 100


SHEETS = """
class Pair(NamedTuple):
    load_1: float
    load_2: float = None
    winding_temperature: float = 300.0
    coil_temperature: float = None
    force_curve: float = None


@formula("Two lines", result="force")
def two_lines(*, load_1, load_2):
    margin = load_1 - load_2
    return margin**2 / load_2


@sheet("Inner", results=("force", "spring_force", "drive"))
def inner(pair: Pair, *, margin):
    force = pair.load_1 + margin
    spring_force = pair.load_2 - force
    drive = force if margin > 1.5 else None
    return {"force": force, "spring_force": spring_force, "drive": drive, "load_1": pair.load_1}


@sheet("Outer", results=("force",), limits={"load_1": ">= 0 N, <= 100 N"})
def outer(pair: Pair):
    drive = known(pair.load_2, pair.load_1)
    margin = known(drive - pair.coil_temperature, two_lines(load_1=drive, load_2=pair.load_1))
    state = "small" if not pair.load_1 > 2.0 or drive < 1.0 and margin <= 4.0 else "large"
    direction = margin >= drive
    told = inner(vary(pair, load_2=drive), margin=margin)
    again = inner(pair, margin=margin)
    ports = {"P": told["force"], "T": 2.5e-05 if direction else 1e-07, "A": -pair.load_1, "B": None}
    force = told["drive"]
    silt_force = known(force, None)
    port_pressure = known(force, drive)
    lateral_force = two_lines(load_1=ports["P"], load_2=pair.load_1 + 1.0) - ports["A"] + ports["T"]
    spring_force = again["spring_force"]
    solenoid_force = two_lines(
        load_1=table(pair.force_curve, "position", "curve_force", ports["T"]),
        load_2=log_table(pair.force_curve, "position", "curve_force", known(pair.load_2, margin))
        + fact("touching"),
    )
    oil_temperature = pair.winding_temperature - (pair.coil_temperature - fact("reference-temperature"))
    dry_friction = total([drive, margin]) + least(pair.force_curve, "position")["curve_force"]
    tank_pressure = ports["B"]
    return {
        "force": two_lines(load_1=margin, load_2=drive),
        "worst": [ports],
        "margin": margin,
        "pin_force": told["spring_force"] if direction == (state != "small") else again["load_1"],
        "residual_force": silt_force,
    }
"""


def test_invented_sheets(made, told: Told) -> None:
    """Choices, branches, columns of columns, records changed, values that are none, words."""
    _, inner, outer = made(SHEETS)
    dice = random.Random(63)
    asked = []
    for _ in range(CASES):
        given: dict[str, Any] = {"load_1": dice.choice((1.0, 2.0, dice.uniform(0.5, 4.0)))}
        given["load_2"] = dice.choice((1.0, dice.uniform(0.5, 4.0)))
        given["coil_temperature"] = dice.choice((293.15, dice.uniform(0.0, 5.0)))
        given["force_curve"] = [{"position": place, "curve_force": place + 1.0} for place in (0.0, 1.0, 8.0)]
        given = {name: value for name, value in given.items() if dice.random() < 0.8}
        asked.append((outer, filled(outer, given), dice.choice(SYSTEMS)))
        asked.append((inner, filled(inner, given | {"margin": dice.uniform(0.0, 3.0)}), "us"))
    rows, none = compare(asked, told)
    assert rows > 4 * len(asked) and none < len(asked) / 10


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("known(threshold(asked, pair, 'load_1', 'force'), pair.load_2)", "it may be missing"),
        ("coil.coil_current(coil_voltage=total([pair.load_1]), resistance=pair.load_2)", "its value is needed"),
    ],
)
def test_a_line_that_the_phone_cannot_tell_is_refused(made, line: str, says: str) -> None:
    text = "class Pair(NamedTuple):\n    load_1: float\n    load_2: float\n"
    text += '\n\n@sheet("asked", results=("force",))\ndef asked(pair: Pair):\n    return {"force": pair.load_1}\n'
    text += f'\n\n@sheet("bad", results=("force",))\ndef bad(pair: Pair):\n    force = {line}\n'
    text += '    return {"force": force}\n'
    _, bad = made(text)
    with pytest.raises(NotPrintable, match=f"^bad: .*: {says}.*: give it a line of its own"):
        bodies(bad)


def test_bodies_hold_what_can_be_opened_and_no_more() -> None:
    assert set(bodies(REGISTER["single-causes"])) == {"single-causes"}
    assert set(bodies(REGISTER["lateral-force"])) == {"lateral-force", "taper-factor"}
    assert {"oil-state", "density-at", "leakage-at-reference"} <= set(bodies(REGISTER["leak-check"]))
