"""One node process for many cases, and random entries of every card: inside the limits, on them, and wide."""

import json
import math
import os
import random
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.node import NO_NODE, NODE, ask_node, need_node
from valvecalc.door import NO_VALUE, load
from valvecalc.formula import REGISTER, Card
from valvecalc.limits import bracket, limits_of
from valvecalc.printing import javascript
from valvecalc.printing.javascript import module_text
from valvecalc.sheets.valve import DIRECTIONS, STATES

load()
RUNTIME = (Path(javascript.__file__).parent / "runtime.js").read_text("utf-8")

# Reads one JSON text for each line, answers one for each line. An answer is a number, a dict of results,
# or {"none": why} where there is no value; anything else that is thrown stops the run.
DRIVER = """
const lines = require("fs").readFileSync(process.argv[2], "utf8").split("\\n");
const clean = (x) => (typeof x === "number" && !Number.isFinite(x) ? String(x) : x);
const attempt = (work) => {
  try { return clean(work()); } catch (trouble) {
    if (trouble instanceof valvecalc.NoValue) return { none: trouble.message };
    throw trouble;
  }
};
const out = [];
for (const line of lines) if (line) out.push(JSON.stringify(answer(JSON.parse(line)), (key, x) => clean(x)));
require("fs").writeFileSync(process.argv[3], out.join("\\n"));
"""


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Without node one line that nobody overlooks."""
    if NODE is None and terminalreporter.stats.get("skipped"):
        terminalreporter.write_sep("!", NO_NODE, red=True, bold=True)


@pytest.fixture(scope="session")
def cases() -> int:
    """How many random cases of each kind: 300, or VALVECALC_CASES."""
    return int(os.environ.get("VALVECALC_CASES", "300"))


@pytest.fixture(scope="session")
def module() -> str:
    """The printed module of every card."""
    return module_text(REGISTER.values())


Node = Callable[..., list[Any]]


@pytest.fixture(scope="session")
def node(module: str, tmp_path_factory: pytest.TempPathFactory) -> Node:
    """Run `answer = (given) => …` over many givens in one node process, the printed module loaded.

    `open_runtime` puts the runtime's own names in reach as well, for functions printed by a test.
    """
    need_node()
    folder = tmp_path_factory.mktemp("node")

    def run(answer: str, given: list[Any], open_runtime: bool = False) -> list[Any]:
        loaded = f"{RUNTIME}\nconst valvecalc = {{ NoValue }};" if open_runtime else module
        return [json.loads(line) for line in ask_node(folder, f"{loaded}\n{answer}\n{DRIVER}", given)]

    return run


def outcome(work: Any, *given: Any, **entries: Any) -> Any:
    try:
        return work(*given, **entries)
    except NO_VALUE as why:
        return type(why)


class Dice:
    """Random entries: evenly and by decades inside the limits, at times on a limit or at a round figure."""

    def __init__(self, seed: int) -> None:
        self.random = random.Random(seed)

    def number(self, card: Card, entry: str) -> float:
        """One value of an entry of a card."""
        low, high = bracket(card, entry)
        pick = self.random.random()
        if pick < 0.04:
            return low
        if pick < 0.08:
            return high
        if pick < 0.55 or high <= 0.0:
            return low + (high - low) * self.random.random()
        start = max(low, high * 1e-9)
        if pick < 0.6 and entry in card.defaults:
            return float(card.defaults[entry])
        return min(high, max(low, start * math.exp(self.random.random() * math.log(high / start))))

    def formula(self, card: Card) -> dict[str, float]:
        """Entries of a formula. At times two are the same number (terms cancel), or one lies where none may:
        on an end that does not belong to it, or beyond zero. The door refuses those; a bare call does not."""
        given = {name: self.number(card, name) for name in card.entries}
        if len(given) > 1 and self.random.random() < 0.1:
            one, other = self.random.sample(sorted(given), 2)
            if card.limits[one] == card.limits[other]:
                given[one] = given[other]
        if self.random.random() < 0.08:
            name = self.random.choice(sorted(given))
            limit = limits_of(card)[name]
            outside = [0.0, -given[name], limit.low or 0.0, 1e200]
            given[name] = self.random.choice(outside)
        return given

    def record(self, card: Card) -> dict[str, Any]:
        """Entries of a flat sheet; those that may be missing are at times missing."""
        needed = set(card.record._fields) - set(card.record._field_defaults)
        given = {}
        for name in card.entries:
            if name in needed or self.random.random() < 0.7:
                words = card.choices.get(name)
                rows = card.rows.get(name)
                given[name] = (
                    self.random.choice(words) if words else self.rows(card, rows) if rows else self.number(card, name)
                )
        return given

    def cell(self, card: Card, column: str) -> Any:
        """One value of a column: a word that it may be, or a number."""
        words = card.choices.get(column)
        return self.random.choice(words) if words else self.number(card, column)

    def rows(self, card: Card, columns: tuple[str, ...]) -> list[dict[str, Any]]:
        """A list of numbers, rising in its first column; at times one row alone."""
        count = self.random.choice((1, 2, 3, 5, 8))
        places = sorted({self.cell(card, columns[0]) for _ in range(count)})
        return [{columns[0]: place} | {name: self.cell(card, name) for name in columns[1:]} for place in places]

    def valve(self, card: Card, wide: bool) -> dict[str, Any]:
        """A shift budget: round an invented 16 mm valve, or anywhere in the limits."""
        dice = self.random
        given: dict[str, Any] = {
            "direction": dice.choice(DIRECTIONS),
            "state": dice.choice((*STATES, "flow")),
            "driven_port": dice.choice("AB"),
        }
        if wide:
            given |= {name: self.number(card, name) for name in card.entries if name in card.limits}
        else:
            given |= {name: value * dice.uniform(0.8, 1.25) for name, value in MIDDLE.items()}
        given["stroke"] = min(given["stroke"], 0.05)
        given["overlap"] = min(given["overlap"], given["stroke"] * dice.choice((0.4, 0.45, 0.9, 1.0, 1.2)))
        given["force_curve"] = self.curve(given["stroke"], given["pin_error"])
        given["lands"] = [
            {
                "high_port": high,
                "low_port": low,
                "opens_for": opens,
                "taper": dice.choice((0.0, dice.uniform(0.0, 8e-6))),
                "live_grooves": float(dice.choice((0, 1, 2, 3, 7))),
            }
            for high, low, opens in (("P", "A", "A"), ("P", "B", "B"), ("A", "T", "B"), ("B", "T", "A"))
        ]
        for name in ("supply_pressure", "spring_rate", "dry_friction", "tank_pressure", "load_pressure_difference"):
            if dice.random() < 0.06:
                given[name] = 0.0
        if dice.random() < 0.1:
            given["silt_at_start"] = given["added_taper"] = 0.0
        return given

    def curve(self, stroke: float, pin_error: float) -> list[dict[str, float]]:
        """A force curve over the stroke and what the pin adds; one in ten is flat, one in twenty too short."""
        dice = self.random
        low, high = -abs(pin_error) - 1e-4, stroke + abs(pin_error) + 1e-4
        if dice.random() < 0.05:
            high = stroke * 0.9
        inner = sorted(dice.uniform(low, high) for _ in range(dice.choice((0, 1, 4))))
        flat = dice.random() < 0.1
        force = dice.uniform(40.0, 140.0)
        rows = []
        for position in (low, *inner, high):
            rows.append({"position": position, "curve_force": force})
            force = force if flat else force * dice.uniform(0.9, 1.3)
        return rows


# An invented valve: 16 mm spool, 3.6 mm stroke, 110 V coil. SI.
MIDDLE = {
    "spool_diameter": 0.016,
    "clearance": 5e-6,
    "stroke": 3.4e-3,
    "overlap": 1.5e-3,
    "spring_preload": 21.0,
    "spring_rate": 6000.0,
    "coil_voltage": 98.0,
    "winding_temperature": 365.0,
    "resistance_20": 330.0,
    "curve_voltage": 99.0,
    "curve_temperature": 367.0,
    "curve_resistance_20": 330.0,
    "density": 850.0,
    "supply_pressure": 150e5,
    "tank_pressure": 3e5,
    "pump_flow": 60 / 60000,
    "return_ratio": 1.2,
    "dry_friction": 2.0,
    "load_pressure_difference": 12e5,
    "silt_at_start": 6.0,
    "residual_at_end": 1.5,
    "flow_force_factor": 0.25,
    "lateral_scale": 1.0,
    "force_scale": 1.0,
    "added_taper": 1e-6,
    "friction_coefficient": 0.13,
    "discharge_coefficient": 0.65,
    "open_circumference": 0.8,
    "pin_area": 2e-5,
    "pin_error": 5e-5,
    "detent_force": 1.0,
}


@pytest.fixture(scope="session")
def dice() -> type[Dice]:
    """The maker of random entries; give it a seed."""
    return Dice
