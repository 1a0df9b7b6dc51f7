"""Worked lines: the same numbers as the plain call, and numbers on the page that recompute."""

import ast
import math
import random
import re
from typing import Any, NamedTuple

import pytest

from valvecalc import formulas, sheets
from valvecalc.compiled import fast, with_locals
from valvecalc.door import fill
from valvecalc.entries import read_entries
from valvecalc.formula import _BY_FUNCTION, REGISTER, Card
from valvecalc.formulas import coil, oil  # noqa: F401  oil is called in an expression of a test
from valvecalc.limits import bracket
from valvecalc.primitives import known, least, using
from valvecalc.printing.expression import Part
from valvecalc.printing.text import substituted, symbolic, text
from valvecalc.quantities import VOCABULARY
from valvecalc.sheet import sheet
from valvecalc.units import choices, dimension_of, to_si
from valvecalc.worked import Step, as_json, work

formulas.load()
sheets.load()
CARDS = [card for card in REGISTER.values() if card.kind == "formula"]
SHEETS = [card for card in REGISTER.values() if card.kind == "sheet" and card.example]
SHOWN = [card for card in CARDS if card.example]


def example(card: Card) -> dict[str, Any]:
    return fill(card, read_entries(card, card.example))


def outcome(function: Any, given: dict[str, Any]) -> Any:
    try:
        return function(**given)
    except (ArithmeticError, ValueError) as error:
        return type(error)


def every(steps: tuple[Step, ...]) -> list[Step]:
    return [inner for step in steps for inner in (*every(step.steps), step)]


@pytest.mark.parametrize("card", CARDS, ids=lambda card: card.id)
def test_the_copy_that_tells_its_locals_equals_the_plain_call_to_the_bit(card):
    dice = random.Random(7)
    ends = {name: bracket(card, name) for name in card.entries}
    cases = [{name: low + (high - low) * dice.random() for name, (low, high) in ends.items()} for _ in range(200)]
    cases += [example(card)] if card.example else []
    for given in cases:
        told = outcome(with_locals(card), given)
        plain = outcome(card.function, given)
        assert (told[0] if isinstance(told, tuple) else told) == plain


@pytest.mark.parametrize("card", SHOWN, ids=lambda card: card.id)
@pytest.mark.parametrize("system", ["metric", "us"])
def test_every_line_has_symbol_unit_and_the_last_is_the_result(card, system):
    steps = work(card, example(card), system)
    assert steps[-1].value == card.function(**example(card))
    for step in every(steps):
        assert step.symbol == VOCABULARY[step.name].symbol
        assert step.unit == getattr(VOCABULARY[step.name], system)
        assert step.symbolic.startswith(f"{step.symbol} = ")
        assert step.substituted


NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?(?:e-?[0-9]+)?")
_LOWERED = str.maketrans("⁻⁰¹²³⁴⁵⁶⁷⁸⁹", "-0123456789")
RAISED = re.compile("[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+")


class Between:
    """Everything from low to high; arithmetic by the ends (monotone on what formulas use)."""

    def __init__(self, low: float, high: float | None = None) -> None:
        self.low, self.high = low, low if high is None else high

    @classmethod
    def of(cls, ends: list[float]) -> "Between":
        return cls(min(ends), max(ends))

    def __add__(self, other: "Between") -> "Between":
        return Between(self.low + other.low, self.high + other.high)

    def __sub__(self, other: "Between") -> "Between":
        return Between(self.low - other.high, self.high - other.low)

    def __neg__(self) -> "Between":
        return Between(-self.high, -self.low)

    def __mul__(self, other: "Between") -> "Between":
        return Between.of([a * b for a in (self.low, self.high) for b in (other.low, other.high)])

    def __truediv__(self, other: "Between") -> "Between":
        return Between.of([a / b for a in (self.low, self.high) for b in (other.low, other.high)])

    def __pow__(self, other: "Between") -> "Between":
        ends = [a**b for a in (self.low, self.high) for b in (other.low, other.high)]
        return Between.of(ends + ([0.0] if self.low < 0 < self.high else []))

    def through(self, function: Any) -> "Between":
        return Between.of([function(self.low), function(self.high)])


FUNCTIONS: dict[str, Any] = {
    "SQRT": lambda x: x.through(math.sqrt),
    "LOG10": lambda x: x.through(math.log10),
    "ln": lambda x: x.through(math.log),
    "exp": lambda x: x.through(math.exp),
    "cos": lambda x: x.through(math.cos),
    "tan": lambda x: x.through(math.tan),
    "arccos": lambda x: x.through(math.acos),
    "tanh": lambda x: x.through(math.tanh),
    "max": lambda a, b: Between(max(a.low, b.low), max(a.high, b.high)),
    "min": lambda a, b: Between(min(a.low, b.low), min(a.high, b.high)),
    "PI": Between(math.pi),
    "B": Between,
}


def figure(text: str, unit: str) -> str:
    """A printed number with its unit as an interval in SI: half a unit of its last figure either way."""
    digits = text.split("e")[0].replace(".", "").lstrip("0")
    exact = len(digits) < 4
    _, _, after = text.split("e")[0].partition(".")
    exponent = int(text.split("e")[1]) if "e" in text else 0
    filled_up = max(0, len(digits) - 4)  # four figures are printed; the zeros behind them fill up to the point
    half = 0.0 if exact else 0.5 * 10.0 ** (exponent - len(after) + filled_up)
    dimension = dimension_of(unit) if unit else ""
    low, high = (to_si(float(text) + side, unit, dimension) if unit else float(text) + side for side in (-half, half))
    return f"B({low!r}, {high!r})"


def work_text(text: str, units: list[str]) -> Between:
    """Work a line of numbers as it is printed."""
    text = text.replace("√", "SQRT").replace("log₁₀", "LOG10").replace("π", "PI")
    known = "|".join(re.escape(unit) for unit in sorted(units, key=len, reverse=True) if unit)
    value = re.compile(rf"(?<![A-Z0-9a-z])({NUMBER.pattern})(?:\s?({known})(?![A-Za-z0-9/·²³]))?")
    text = value.sub(lambda m: figure(m.group(1), m.group(2) or ""), text)
    text = RAISED.sub(lambda m: f"**B({m.group().translate(_LOWERED)})", text)
    text = text.replace("·", "*").replace("−", "-").replace("^", "**")
    result = eval(text, dict(FUNCTIONS))
    assert isinstance(result, Between)
    return result


@pytest.mark.parametrize("card", SHOWN, ids=lambda card: card.id)
@pytest.mark.parametrize("system", ["metric", "us"])
def test_printed_numbers_recompute_within_their_rounding(card, system):
    """Keying in what the page shows, each number anywhere within its rounding, meets the value of the line."""
    dimensions = {quantity.dimension for quantity in VOCABULARY.values()} - {"text", "rows"}
    units = [unit for dimension in dimensions for unit in choices(dimension)]
    for step in every(work(card, example(card), system)):
        result = work_text(step.substituted, units)
        slack = 1e-9 * max(abs(result.low), abs(result.high), 1e-30)
        assert result.low - slack <= step.value <= result.high + slack, step.substituted


def test_a_line_as_a_handbook_prints_it():
    # Laminar flow through an annular gap (the form on the card); the numbers are those of the card's example.
    (step,) = work(REGISTER["annular-leakage"], example(REGISTER["annular-leakage"]))
    assert step.symbolic == "Q_L = π · d · c³ · Δp · (1 + 1.5 · ε²) / (12 · µ · L)"
    shown = "π · 12 mm · (5 µm)³ · 160 bar · (1 + 1.5 · 0²) / (12 · 30 mPa·s · 4 mm)"
    assert step.substituted == shown
    assert as_json((step,)) == [
        {
            "name": "leakage",
            "symbol": "Q_L",
            "value": pytest.approx(3.1416, abs=5e-5),
            "unit": "mL/min",
            "symbolic": step.symbolic,
            "substituted": shown,
        }
    ]


def test_a_temperature_in_a_difference_stands_in_celsius_and_in_a_ratio_in_kelvin():
    hot = REGISTER["winding-resistance"].defaults | {"resistance_20": 92.2, "winding_temperature": 373.15}
    assert work(REGISTER["winding-resistance"], hot)[0].substituted.endswith("(100 °C − 20 °C))")
    assert "°F" not in work(REGISTER["winding-resistance"], hot, "us")[0].substituted, "the coefficient is per kelvin"
    warm = REGISTER["thermal-winding-temperature"]
    assert "°F" not in work(warm, example(warm), "us")[0].substituted, "a rise in kelvin is no rise in °F"
    # 20 °C less 273.15 K would be keyed in as 20 - 273.15.
    from_ohms = REGISTER["winding-temperature-from-resistance"]
    assert "(234.5 K + 293.15 K − 273.15 K)" in work(from_ohms, example(from_ohms))[0].substituted
    card = REGISTER["kinematic-viscosity"]
    shown = [step.substituted for step in work(card, example(card))]
    assert any("log₁₀(" in line and " K / " in line for line in shown)
    assert not any("°C /" in line for line in shown)


def expression(source: str) -> ast.expr:
    return ast.parse(source, mode="eval").body


@pytest.mark.parametrize(
    ("source", "shown"),
    [
        ("diameter - (length - clearance)", "d − (L − c)"),
        ("diameter - length - clearance", "d − L − c"),
        ("diameter / (length * clearance)", "d / (L · c)"),
        ("diameter / length * clearance", "d / L · c"),
        ("diameter * (length / clearance)", "d · (L / c)"),
        ("(diameter / length) / clearance", "(d / L) / c"),
        ("-diameter**2", "−d²"),
        ("(-diameter)**2", "(−d)²"),
        ("diameter * -length", "d · (−L)"),
        ("(diameter + length)**3", "(d + L)³"),
        ("power(diameter / length, 0.25)", "(d / L)^0.25"),
        ("power(diameter, length - 1)", "d^(L − 1)"),
        ("sqrt(diameter**2 - length**2)", "√(d² − L²)"),
        ("where(diameter <= length, diameter, 2.0)", "{d if d ≤ L; otherwise 2}"),
        ("where(length > 1, diameter, where(length > 2, length, 1e-3))", "{d if L > 1; L if L > 2; otherwise 0.001}"),
        ("1e-6 * diameter", "10⁻⁶ · d"),
        ("log10(maximum(diameter, 0.0))", "log₁₀(max(d, 0))"),
    ],
)
def test_brackets_stand_where_the_meaning_needs_them(source, shown):
    assert symbolic(REGISTER["annular-leakage"], expression(source)) == shown


def test_random_trees_of_numbers_recompute():
    dice = random.Random(5)
    card = REGISTER["annular-leakage"]
    env = {"diameter": 1.25, "length": -0.5, "eccentricity": -0.75, "clearance": 2.0}

    def tree(depth: int) -> str:
        if depth == 0:
            return dice.choice((*env, "2", "0.5", "pi"))
        left, right = tree(depth - 1), tree(dice.randrange(depth))
        sign = dice.choice("+-*/")
        other = (f"-({left})", f"({left})**2", f"sqrt({left})", f"maximum({left}, {right})")
        return dice.choice((f"({left}) {sign} ({right})", f"({left}) {sign} ({right})", dice.choice(other)))

    worked = 0
    for _ in range(1500):
        source = tree(dice.randrange(1, 5))
        try:
            expected = eval(source, {**env, "sqrt": math.sqrt, "maximum": max, "pi": math.pi})
            result = work_text(substituted(card, expression(source), env), ["mm", "µm"])
        except (ArithmeticError, ValueError):
            continue
        slack = 1e-9 * (1 + abs(expected))
        assert result.low - slack <= expected <= result.high + slack, source
        worked += 1
    assert worked > 700


def test_negative_values_and_units_under_a_power_stand_in_brackets():
    card = REGISTER["annular-leakage"]
    env = {"diameter": -0.012, "length": 0.004, "eccentricity": 0.5}
    assert substituted(card, expression("length - diameter**2 + eccentricity**2"), env) == "4 mm − (−12 mm)² + 0.5²"
    assert substituted(card, expression("length * diameter"), env) == "4 mm · (−12 mm)"
    assert substituted(card, expression("where(length > diameter, length, diameter)"), env) == "4 mm"
    assert text(Part("words", "none")) == "none"


class BenchCoil(NamedTuple):
    """Entries of the sheet of this test."""

    resistance: Any = None
    coil_temperature: Any = None
    resistance_20: Any = None
    coil_voltage: Any = None


def bench_coil(state: BenchCoil) -> Any:
    resistance_20 = using(state, coil.resistance_at_20)
    cold_resistance = known(state.resistance_20, using(state, coil.resistance_at_20))
    current = coil.coil_current(coil_voltage=state.coil_voltage, resistance=cold_resistance)
    power = 0.0 if state.coil_voltage <= 0.0 else using(state, coil.coil_power, resistance=cold_resistance)
    rows = [{"current": current, "power": power}]
    top = least(rows, "power")
    return {"current": current, "power": top["power"], "resistance_20": resistance_20}


@pytest.fixture
def bench(monkeypatch):
    """A sheet for the time of one test."""
    sheet("Coil on the bench", results=("current", "power", "resistance_20"))(bench_coil)
    yield REGISTER["bench-coil"]
    del REGISTER["bench-coil"], _BY_FUNCTION[bench_coil]


def by_name(steps: tuple[Step, ...]) -> dict[str, Step]:
    return {step.name: step for step in steps}


def test_a_sheet_prints_what_it_calls_in_its_own_symbols_and_takes_the_branch_that_was_taken(bench):
    # Ohm's law by hand: 48 V over 96 Ω is 0.5 A and 24 W.
    steps = by_name(work(bench, {"resistance_20": 96.0, "coil_voltage": 48.0}))
    assert steps["cold_resistance"].symbolic == "R_1 = R_20"
    assert steps["current"].symbolic == "I = U_c / R_1"
    assert steps["current"].substituted == "48 V / 96 Ω"
    assert (steps["current"].value, steps["current"].of) == (0.5, "coil-current")
    assert [(inner.name, inner.value) for inner in steps["current"].steps] == [("current", 0.5)]
    assert steps["power"].value == 24.0
    assert "rows" not in steps
    assert "resistance_20" not in steps, "a line that lacks the reading is not there"


def test_without_the_plate_value_the_reading_is_taken_and_told(bench):
    steps = by_name(work(bench, {"resistance": 96.0, "coil_temperature": 293.15, "coil_voltage": 0.0}))
    assert steps["cold_resistance"].of == "resistance-at-20"
    assert steps["cold_resistance"].symbolic == "R_1 = R / (1 + α · (T_c − T_ref))"
    assert steps["power"].value == 0.0


def test_json_is_in_shop_units_with_the_lines_of_what_is_called(bench):
    rows = as_json(work(bench, {"resistance_20": 96.0, "coil_voltage": 48.0}))
    (current,) = [row for row in rows if row["name"] == "current"]
    inner = {"name": "current", "symbol": "I", "value": 0.5, "unit": "A"}
    inner |= {"symbolic": "I = U_c / R_1", "substituted": "48 V / 96 Ω"}
    assert current == {**inner, "of": "coil-current", "steps": [inner]}


def test_a_callee_with_lines_of_its_own_is_told_by_its_title_and_its_lines_stand_below(bench):
    call = expression("oil.kinematic_viscosity(viscosity_40=state.resistance, oil_temperature=state.coil_temperature)")
    assert symbolic(bench, call) == f"{REGISTER['kinematic-viscosity'].title}(R, T_c)"


@pytest.mark.parametrize("card", SHEETS, ids=lambda card: card.id)
@pytest.mark.parametrize("system", ["metric", "us"])
def test_the_lines_of_a_sheet_end_in_its_results(card, system):
    given = example(card)
    known_entries = {name: given.get(name) for name in card.entries}
    record = card.record(**{name: known_entries.pop(name) for name in card.record._fields})
    missing = frozenset(name for name in card.entries if given.get(name) is None)
    results = fast(card, missing)(record, **known_entries)
    steps = by_name(work(card, given, system))
    told = {name: steps[name].value for name in results if name in steps}
    assert told == {name: value for name, value in results.items() if name in told}
    assert told, "no result has a line"
    for step in every(tuple(steps.values())):
        assert step.symbolic
        assert step.value is None or isinstance(step.value, str) or step.unit == getattr(VOCABULARY[step.name], system)


def test_a_formula_that_lacks_an_entry_has_no_lines():
    assert work(REGISTER["coil-current"], {"coil_voltage": 48.0}) == ()
