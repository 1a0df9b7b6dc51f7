"""The forms of one calculation: plain function, compiled copy, arrays, texts, Quantities, and backwards."""

import ast
import random
from typing import Any

import numpy as np
import pytest

from tests.engine.conftest import outcome
from valvecalc.compiled import _compile, fast
from valvecalc.door import calc, find, function_of, load
from valvecalc.errors import InputError
from valvecalc.formula import REGISTER, Card, card_of
from valvecalc.limits import bracket
from valvecalc.needs import lacking, line_needs
from valvecalc.quantities import VOCABULARY
from valvecalc.source import body, record_name
from valvecalc.units import to_quantity

load()
FORMULAS = [card for card in REGISTER.values() if card.kind == "formula"]
SHOWN = [card for card in FORMULAS if card.example]
FLAT = ["coil-check", "oil-state", "leak-check", "bench-margin", "test-cylinder", "two-stage-shift", "override-check"]
FLAT += ["wrong-coil", "spring-check", "current-trace"]
FLAT += ["cylinder-check", "creep-check"]


def full(card: Card, given: dict[str, Any]) -> Any:
    """A record of a sheet with everything in it."""
    return card.record(**{**card.defaults, **{k: v for k, v in given.items() if k in card.record._fields}})


# ---- the compiled copy against the plain function


@pytest.mark.parametrize("id", FLAT)
def test_the_compiled_copy_equals_the_plain_function(id: str, dice) -> None:
    card, hand = find(id), dice(40)
    values = 0
    for _ in range(200):
        record = full(card, {name: hand.number(card, name) for name in card.entries})
        plain, copy = outcome(card.function, record), outcome(fast(card), record)
        if isinstance(plain, dict):
            assert copy == plain
            values += 1
        elif id in ("oil-state", "leak-check") and isinstance(copy, dict):
            # the plain function also works what `known` then does not take, and may have no value there
            assert record.viscosity_100 is not None
        else:
            assert copy == plain
    assert values >= 10


@pytest.mark.parametrize("id", ["shift-budget", "single-causes"])
def test_the_compiled_copy_of_the_budget_equals_the_plain_function(id: str, dice) -> None:
    card, hand = find(id), dice(41)
    for number in range(60 if id == "shift-budget" else 3):
        given = hand.valve(card, wide=number % 3 == 2)
        record = full(card, given)
        assert outcome(fast(card), record) == outcome(card.function, record)


def test_making_a_copy_leaves_the_source_as_it_was() -> None:
    """What a copy does not change it shares with the source, which printers and other copies start from too."""
    before = [ast.dump(statement) for card in REGISTER.values() for statement in body(card.function)]
    for card in REGISTER.values():
        open_ends = frozenset(name for name in card.entries if name not in card.defaults)
        for missing in (frozenset[str](), open_ends if card.kind == "sheet" else frozenset[str]()):
            _compile.__wrapped__(card.id, missing, True)
    assert [ast.dump(statement) for card in REGISTER.values() for statement in body(card.function)] == before


def test_a_reading_serves_where_what_it_replaces_has_no_value() -> None:
    """A heavy oil: no index of the standard's table reaches its viscosity at 100 °C, but the drum states it."""
    told = {"viscosity_40": "3000 mm²/s", "oil_temperature": "60 °C"}
    assert calc("oil-state", **told).value is None
    assert calc("oil-state", **told, viscosity_100="65 mm²/s").results["viscosity_100"] == pytest.approx(65e-6)


# ---- with entries missing: an independent reading of the body, line by line


class Nothing(Exception):
    """Met where an entry is not there."""


class Absent:
    """Stands for an entry that is not there: whatever is done with it is nothing."""

    def _nothing(self, *_: Any) -> Any:
        raise Nothing

    __add__ = __radd__ = __sub__ = __rsub__ = __lt__ = __le__ = __gt__ = __ge__ = __bool__ = __float__ = _nothing
    __getitem__ = _nothing


ABSENT = Absent()


class Told(dict[str, Any]):
    """Results of a sheet; one that is not there is nothing."""

    def __missing__(self, name: str) -> Any:
        raise Nothing


def read_line_by_line(card: Card, given: dict[str, Any]) -> dict[str, Any]:
    """What a sheet can tell of the entries given: each line on its own, a line that meets nothing is nothing."""
    record = type("Record", (), {**dict.fromkeys(card.record._fields, ABSENT), **card.defaults, **given})

    def called(function: Any) -> Any:
        inner = card_of(function)

        def call(*args: Any, **entries: Any) -> Any:
            if any(value is ABSENT for value in (*args, *entries.values())):
                raise Nothing
            if inner is None or inner.kind == "formula":
                return function(*args, **entries)
            fields = {name: getattr(args[0], name, ABSENT) for name in inner.record._fields}
            needed = {name: value for name, value in fields.items() if value is not ABSENT}
            return read_line_by_line(inner, needed | entries)

        call.card = inner  # type: ignore[attr-defined]
        return call

    class Module:
        def __init__(self, module: Any) -> None:
            self.module = module

        def __getattr__(self, name: str) -> Any:
            return called(getattr(self.module, name))

    def using(source: Any, function: Any, **entries: Any) -> Any:
        taken = {name: getattr(source, name) for name in function.card.entries if hasattr(source, name)}
        return function(**taken | entries)

    def vary(source: Any, **changes: Any) -> Any:
        return type("Record", (), {**vars(source), **changes})

    names = dict(card.function.__globals__)  # type: ignore[attr-defined]
    for name, value in list(names.items()):
        if getattr(value, "__name__", "").startswith("valvecalc.formulas."):
            names[name] = Module(value)
        elif callable(value) and card_of(value) is not None:
            names[name] = called(value)
    names |= {"using": using, "vary": vary, record_name(card): record}
    names |= {name: value for name, value in given.items() if name in card.entries}

    def worth(node: ast.expr) -> Any:
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "known":
            return next((value for value in map(worth, node.args) if value is not ABSENT), ABSENT)
        if isinstance(node, ast.List):
            return [worth(item) for item in node.elts]
        if isinstance(node, ast.Dict):
            pairs = zip(node.keys, node.values, strict=True)
            return {ast.literal_eval(key): worth(value) for key, value in pairs if key is not None}
        try:
            return eval(compile(ast.Expression(node), card.id, "eval"), names)
        except Nothing:
            return ABSENT

    for line in body(card.function):
        assert isinstance(line, ast.Assign | ast.Return) and line.value is not None
        if isinstance(line, ast.Return):
            return Told({name: value for name, value in worth(line.value).items() if value is not ABSENT})
        names[line.targets[0].id] = worth(line.value)  # type: ignore[attr-defined]
    raise AssertionError("no return")


def sensible(card: Card, dice: random.Random) -> dict[str, Any]:
    """All entries of a sheet, the example's and more, each within 5 % so that no range is left."""
    return {name: value * dice.uniform(0.97, 1.03) for name, value in WHOLE[card.id].items()}


WHOLE: dict[str, dict[str, float]] = {
    "coil-check": {
        "resistance": 51.0, "coil_temperature": 297.0, "nominal_voltage": 36.0, "nominal_power": 26.0,
        "nominal_resistance_20": 50.0, "hot_resistance": 64.0, "source_voltage": 35.0, "cable_length": 40.0,
        "resistance_per_length": 0.013, "contact_resistance": 0.2, "plug_voltage": 33.5,
    },
    "oil-state": {
        "viscosity_40": 46e-6, "oil_temperature": 325.0, "viscosity_index": 103.0, "density_15": 872.0,
        "thermal_expansion": 6.6e-4, "viscosity_100": 6.9e-6,
    },
    "leak-check": {
        "leakage": 4e-7, "spool_diameter": 0.014, "land_length": 1.9e-3, "pressure_drop": 140e5, "viscosity_40": 32e-6,
        "oil_temperature": 320.0, "lands_in_series": 2.0, "parallel_paths": 2.0, "diametral_clearance": 11e-6,
        "new_diametral_clearance": 9e-6, "new_leakage": 2e-7, "viscosity_index": 98.0, "viscosity_100": 5.4e-6,
        "density_15": 872.0, "thermal_expansion": 6.4e-4, "reference_oil_temperature": 313.0,
        "reference_pressure_drop": 100e5,
    },
    "bench-margin": {
        "hot_resistance": 64.0, "minimum_voltage": 32.4, "no_pressure_voltage": 16.0, "no_pressure_resistance": 51.0,
        "blocked_voltage": 18.0, "blocked_resistance": 51.5, "dwell_voltage": 22.0, "dwell_resistance": 52.0,
        "flow_voltage": 20.0, "flow_resistance": 53.0, "duty_voltage": 26.0, "duty_resistance": 62.0,
        "no_pressure_push": 21.0, "blocked_push": 26.0, "dwell_push": 35.0,
    },
    "test-cylinder": {
        "bore_diameter": 0.05, "rod_diameter": 0.03, "stroke_length": 0.3, "pump_flow": 4e-4, "extend_time": 1.5,
        "retract_time": 1.0,
    },
    "wrong-coil": {
        "nominal_voltage": 36.0, "nominal_power": 26.0, "coil_voltage": 95.0, "ambient_temperature": 305.0,
        "thermal_resistance": 2.4, "on_share": 0.9, "class_temperature": 400.0, "thermal_time_constant": 1100.0,
    },
    "spring-check": {
        "load_1": 18.0, "length_1": 0.022, "load_2": 31.0, "length_2": 0.0195, "installed_length": 0.0215,
        "stroke": 0.003, "free_length": 0.0252, "nominal_preload": 21.0, "nominal_free_length": 0.0255,
        "partner_preload": 20.0, "wire_diameter": 0.0014, "mean_diameter": 0.01, "active_coils": 7.0,
        "total_coils": 9.0, "shear_modulus": 81e9,
    },
    "current-trace": {
        "trace_peak_current": 0.3, "dip_current": 0.25, "final_current": 0.4, "coil_voltage": 46.0,
        "resistance": 110.0,
    },
    "cylinder-check": {
        "bore_diameter": 0.063, "rod_diameter": 0.036, "stroke_length": 0.4, "pump_flow": 4e-4,
        "supply_pressure": 140e5,
        "push_load": 30e3, "pull_load": 14e3, "moved_mass": 600.0, "acceleration_time": 0.1, "return_pressure": 6e5,
        "mechanical_efficiency": 0.94,
    },
    "creep-check": {
        "bore_diameter": 0.063, "rod_diameter": 0.036, "supply_pressure": 160e5, "leakage": 6e-7,
        "pressure_drop": 150e5,
        "load_force": 2000.0, "tank_pressure": 3e5, "lands_in_series": 2.0, "parallel_paths": 2.0,
    },
    "two-stage-shift": {
        "pilot_pressure": 9.5e5, "drain_pressure": 2.5e5, "spool_diameter": 0.026, "stroke": 0.008,
        "spring_preload": 90.0, "spring_rate": 9000.0, "dry_friction": 12.0, "pump_flow": 0.0025,
        "available_drop": 120e5, "density": 857.0, "return_ratio": 1.2, "flow_force_factor": 0.3,
        "choke_diameter": 0.0015, "discharge_coefficient": 0.62,
    },
    "override-check": {
        "measured_push": 74.0, "spring_preload": 18.0, "tank_pressure": 22e5, "override_diameter": 0.005,
        "dry_friction": 2.0, "detent_force": 3.0,
    },
}  # fmt: skip


@pytest.mark.parametrize("id", FLAT)
def test_what_is_given_is_enough_for_what_is_told(id: str, cases) -> None:
    """Whatever is missing: the results are those of the body read line by line, no more and no fewer."""
    card, dice = find(id), random.Random(42)
    for _ in range(min(cases, 2000)):
        whole = sensible(card, dice)
        given = {name: value for name, value in whole.items() if dice.random() < 0.6}
        expected = outcome(read_line_by_line, card, given)
        answer = calc(id, **given)
        if not isinstance(expected, dict):
            assert not answer.results and answer.reason, given
            continue
        assert set(answer.results) == set(expected), given
        for name, value in expected.items():
            assert name == "states" or answer.results[name] == value, (name, given)


@pytest.mark.parametrize("id", FLAT)
def test_missing_names_what_brings_a_result(id: str) -> None:
    """Given, the entries named under `missing` bring the result; leave one of them out and it stays away."""
    card, dice = find(id), random.Random(43)
    brought = 0
    for _ in range(60):
        whole = sensible(card, dice)
        given = {name: value for name, value in whole.items() if dice.random() < 0.5}
        answer = calc(id, **given)
        absent = frozenset(name for name in card.entries if answer.values[name] is None)
        for result, wanted in lacking(card, absent).items():
            assert result not in answer.results
            assert wanted <= {lack.entry for lack in answer.missing}
            now = calc(id, **given, **{name: whole[name] for name in wanted})
            if now.reason and not now.results:
                continue
            assert result in now.results, (result, wanted, given)
            brought += 1
            for name in wanted:
                less = calc(id, **given, **{other: whole[other] for other in wanted if other != name})
                assert result not in less.results, (result, name, given)
    assert brought > 20


def test_nothing_given_names_what_is_needed_first() -> None:
    answer = calc("test-cylinder")
    assert answer.value is None
    assert {"bore_diameter", "stroke_length", "pump_flow"} <= {lack.entry for lack in answer.missing}


def test_every_line_of_a_sheet_has_a_need() -> None:
    for card in REGISTER.values():
        if card.kind == "sheet" and not card.part:
            told = {name for name in line_needs(card) if name.startswith("return ")}
            assert told == {f"return {name}" for name in card.results}


# ---- arrays


@pytest.mark.parametrize("card", FORMULAS, ids=lambda card: card.id)
def test_arrays_equal_the_scalar_calls(card: Card, dice) -> None:
    """Round the example; a part without one, anywhere inside its limits."""
    hand = dice(44)
    rows: list[dict[str, float]] = []
    values: list[float] = []
    middle = calc(card.id, **card.example).values if card.example else {}
    while len(rows) < 50:
        given = {name: middle[name] * hand.random.uniform(0.9, 1.1) for name in middle}
        given = given or {name: hand.random.uniform(*bracket(card, name)) for name in card.entries}
        value = outcome(function_of(card, frozenset()), given)
        if isinstance(value, dict):
            rows.append(given)
            values.append(value[card.result])
    arrays = {name: np.array([row[name] for row in rows]) for name in card.entries}
    found = card.function(**arrays)
    for one, value, row in zip(found, values, rows, strict=True):
        same = [abs(row[name]) for name in row if VOCABULARY[name].dimension == VOCABULARY[card.result].dimension]
        assert abs(one - value) <= 1e-12 * max(abs(value), *same, 0.0)


# ---- texts, Quantities, SI floats


@pytest.mark.parametrize("card", SHOWN, ids=lambda card: card.id)
def test_texts_quantities_and_floats_give_the_same_answer(card: Card) -> None:
    texts = calc(card.id, **card.example)
    floats = calc(card.id, **{name: entry.si for name, entry in texts.entries.items()})
    quantities = calc(
        card.id,
        **{
            name: to_quantity(entry.si, VOCABULARY[name].dimension, entry.unit or None)
            for name, entry in texts.entries.items()
        },
    )
    assert floats.value == texts.value
    assert quantities.value == pytest.approx(texts.value, rel=1e-13, abs=0.0)


def test_a_sheet_takes_quantities_too() -> None:
    card = find("test-cylinder")
    texts = calc(card.id, **card.example)
    quantities = calc(
        card.id, **{n: to_quantity(e.si, VOCABULARY[n].dimension, e.unit) for n, e in texts.entries.items()}
    )
    for name, value in texts.results.items():
        assert quantities.results[name] == pytest.approx(value, rel=1e-13, abs=0.0)


def test_an_array_does_not_go_through_the_door() -> None:
    with pytest.raises(InputError) as caught:
        calc("coil-current", coil_voltage=to_quantity(1.0, "voltage") * np.array([1.0, 2.0]), resistance="96 Ω")
    assert [trouble.entry for trouble in caught.value.troubles] == ["coil_voltage"]
