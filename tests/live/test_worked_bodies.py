"""Worked lines of invented bodies: what no calculation has today must be told alike too."""

import ast
import importlib.util
import random
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.engine.test_printer_fuzz import tree
from tests.live.worked import CASES, SYSTEMS, Told, compare, filled
from valvecalc.formula import _BY_FUNCTION, REGISTER, Card
from valvecalc.live.body import bodies
from valvecalc.printing.javascript import NotPrintable

HEAD = """from typing import NamedTuple
from valvecalc.formula import formula
from valvecalc.formulas import coil, lateral, spool
from valvecalc.maths import acos, cos, exp, log, log10, maximum, minimum, pi, power, sqrt, tan, tanh, where
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
    assert set(bodies(REGISTER["single-causes"])) == {"single-causes", "each-cause"}
    assert set(bodies(REGISTER["lateral-force"])) == {"lateral-force", "taper-factor"}
    assert {"oil-state", "density-at", "leakage-at-reference"} <= set(bodies(REGISTER["leak-check"]))
