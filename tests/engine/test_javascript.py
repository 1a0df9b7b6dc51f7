"""The printed module against Python: every formula and every sheet on random entries, no value in both or in neither.

The measure: 1e-12 of the larger of the result and the largest line of its dimension. A place (of the smallest
share, a threshold) may differ only where the values that decide it differ by less than that. Where the last bit of
an entry moves the result by more than the measure (a viscosity of 1e233 mm²/s), that motion is the measure.
"""

import math
from collections.abc import Iterator, Mapping
from typing import Any

import pytest

from valvecalc.compiled import fast, with_locals
from valvecalc.door import NO_VALUE, find, function_of, load
from valvecalc.formula import REGISTER, Card
from valvecalc.quantities import VOCABULARY

load()
FORMULAS = [card for card in REGISTER.values() if card.kind == "formula"]
FLAT = ["coil-check", "oil-state", "leak-check", "bench-margin", "test-cylinder"]
FLAT += ["two-stage-shift", "override-check", "crossing"]
FLAT += ["cavitation-check", "rated-point", "path-fit", "cylinder-circuit"]
FLAT += ["index-of-oil", "viscosity-100-from-index", "viscosity-from-saybolt", "oil-window"]
FLAT += ["trapped-energy", "accumulator-check", "grade-check", "viscosity-40-from-reading"]
FLAT += ["supply-check", "wrong-coil", "spring-check", "drop-out", "current-trace", "ac-armature"]
FLAT += ["cylinder-check", "drift-check", "creep-check", "rod-buckling", "centre-leakage", "cylinder-size"]
FLAT += ["mounting-interface", "coil-identity", "size-class"]
FLAT += ["line-speed", "line-pressure-loss", "line-loss-check", "suction-check", "tank-line-pressure"]
FLAT += ["water-hammer", "tank-balance", "tank-reading", "valve-heat"]
FLAT += ["which-ring", "groove-ring", "ring-check", "extrusion-check", "ring-set", "seal-compound", "seal-age"]
WITHIN = 1e-12
ALIKE = {"pressure_difference": "pressure", "pressure_abs": "pressure", "temperature_difference": "temperature"}
RUN = "const answer = ([id, given]) => attempt(() => valvecalc.run(id, given));"


@pytest.fixture(scope="session")
def tally(request: pytest.FixtureRequest) -> Iterator[dict[str, list[float]]]:
    """What was compared: told at the end of the run, with -s."""
    kept: dict[str, list[float]] = {}
    yield kept
    for name, (count, none, worst) in sorted(kept.items()):
        print(f"\n{name}: {count:.0f} compared, {none:.0f} without a value in both, worst {worst:.2g}", end="")
    print()


def is_none(told: Any) -> bool:
    return isinstance(told, dict) and set(told) == {"none"}


def kind_of(name: str) -> str:
    dimension = VOCABULARY[name].dimension
    return ALIKE.get(dimension, dimension)


def largest(*lines: Mapping[str, Any]) -> dict[str, float]:
    """The largest absolute value of each dimension among lines, their rows included."""
    found: dict[str, float] = {}

    def look(name: str, value: Any) -> None:
        if isinstance(value, Mapping) or hasattr(value, "_asdict"):
            for inner, one in (value if isinstance(value, Mapping) else value._asdict()).items():
                look(inner, one)
        elif isinstance(value, list | tuple):
            for one in value:
                look(name, one)
        elif isinstance(value, int | float) and name in VOCABULARY and math.isfinite(value):
            found[kind_of(name)] = max(found.get(kind_of(name), 0.0), abs(value))

    for line in lines:
        look("", line)
    return found


def apart(told: float, ours: float, scale: float) -> float:
    """Difference over the larger of result and scale."""
    size = max(abs(told), abs(ours), scale)
    return abs(told - ours) / size if size > 0.0 else 0.0


def trembling(card: Card, given: Mapping[str, float]) -> float:
    """How far the last bit of its entries moves a result."""
    there = card.function(**given)
    moved = [card.function(**{**given, name: math.nextafter(x, math.inf)}) for name, x in given.items()]
    return sum(abs(one - there) for one in moved)


def test_every_formula_gives_the_same_in_javascript(node, dice, cases, tally):
    hand = dice(20)
    asked = [(card, hand.formula(card)) for card in FORMULAS for _ in range(cases)]
    told = node(RUN, [[card.id, given] for card, given in asked])
    none, worst, wrong, trembled = 0, 0.0, {}, 0
    for (card, given), theirs in zip(asked, told, strict=True):
        try:
            ours = function_of(card, frozenset())(given)[card.result]
        except NO_VALUE:
            assert is_none(theirs), f"{card.id} {given}: Python has no value, JavaScript {theirs}"
            none += 1
            continue
        assert not is_none(theirs), f"{card.id} {given}: {theirs}, Python {ours}"
        _, local = with_locals(card)(**given)
        scale = largest(given, local).get(kind_of(card.result), 0.0)
        off = apart(theirs, ours, scale)
        if WITHIN < off <= apart(ours + trembling(card, given), ours, scale):
            trembled += 1
            continue
        worst = max(worst, off)
        if off > WITHIN:
            wrong[card.id] = f"{card.id} {given}: JavaScript {theirs!r}, Python {ours!r}"
    assert not wrong, "\n".join(wrong.values())
    assert none >= 3, "no case was drawn where both have no value"
    assert trembled <= max(1, len(asked) // 100_000), "so many ill-conditioned cases hide something"
    tally["formulas"] = [len(asked), none, worst]
    tally["formulas, moved more by the last bit of an entry"] = [trembled, 0, 0.0]


def python_result(card: Card, given: Mapping[str, Any]) -> tuple[dict[str, Any], dict[str, float]] | None:
    """Results and largest lines of a sheet, or None where it has no value."""
    filled = {**dict.fromkeys(card.entries), **card.defaults, **given}
    missing = frozenset(name for name, value in filled.items() if value is None)
    try:
        results = function_of(card, missing)(filled)
    except NO_VALUE:
        return None
    fields = card.record._fields
    record = card.record(**{name: filled[name] for name in fields})
    extras = {name: value for name, value in filled.items() if name not in fields}
    _, local = with_locals(card, missing)(record, **extras)
    return {k: v for k, v in results.items() if v is not None}, largest(given, local, results)


def rows_apart(ours: Any, theirs: Any, scale: Mapping[str, float], name: str = "") -> float:
    """The largest difference between two results, rows and words included."""
    if isinstance(ours, Mapping):
        assert set(theirs) >= {k for k, v in ours.items() if v is not None}
        return max((rows_apart(v, theirs[k], scale, k) for k, v in ours.items() if v is not None), default=0.0)
    if isinstance(ours, list | tuple):
        assert len(ours) == len(theirs), name
        return max((rows_apart(a, b, scale, name) for a, b in zip(ours, theirs, strict=True)), default=0.0)
    if isinstance(ours, str):
        assert ours == theirs
        return 0.0
    return apart(theirs, ours, scale.get(kind_of(name), 0.0))


@pytest.mark.parametrize("id", FLAT)
def test_flat_sheets_give_the_same_whatever_is_missing(id, node, dice, cases, tally):
    card, hand = find(id), dice(21)
    asked = [hand.record(card) for _ in range(cases)]
    told = node(RUN, [[id, given] for given in asked])
    none, worst = 0, 0.0
    for given, theirs in zip(asked, told, strict=True):
        python = python_result(card, given)
        if python is None or is_none(theirs):
            assert python is None and is_none(theirs), f"{id} {given}: Python {python}, JavaScript {theirs}"
            none += 1
            continue
        ours, scale = python
        there = {name for name, value in theirs.items() if value is not None}
        assert there == set(ours), f"{id} {given}"
        if id == "leak-check" and ours.get("wear_verdict") != theirs.get("wear_verdict"):
            ends = [ours["clearance_centred"], ours["clearance_touching"]]
            assert min(abs(end - ours["new_clearance"]) for end in ends) <= WITHIN * scale["length"]
            ours["wear_verdict"] = theirs["wear_verdict"]
        worst = max(worst, rows_apart(ours, {name: theirs[name] for name in ours}, scale))
        assert worst <= WITHIN, f"{id} {given}: JavaScript {theirs}, Python {ours}"
    tally[id] = [len(asked), none, worst]


def test_viscosity_index_part(node, dice, cases, tally):
    card, hand = find("index-at"), dice(22)
    asked = [
        {"viscosity_40": hand.random.uniform(2e-6, 3500e-6), "viscosity_100": hand.random.uniform(1.5e-6, 75e-6)}
        for _ in range(cases)
    ]
    for given in asked[::20]:
        given["viscosity_100"] = hand.random.choice((2e-6, 70e-6, 2.5e-6, 20e-6))
    told = node(RUN, [["index-at", given] for given in asked])
    none, worst = 0, 0.0
    for given, theirs in zip(asked, told, strict=True):
        python = python_result(card, given)
        if python is None or is_none(theirs):
            assert python is None and is_none(theirs), given
            none += 1
            continue
        worst = max(worst, apart(theirs["viscosity_index"], python[0]["viscosity_index"], 100.0))
    assert worst <= WITHIN
    assert none
    tally["index-at"] = [len(asked), none, worst]


BALANCE = """
const answer = ([valve, place]) => attempt(() => valvecalc.run("shift-balance", { ...valve, ...place }));
"""


def test_the_balance_at_one_place(node, dice, cases, tally):
    card, hand = find("shift-balance"), dice(23)
    asked = []
    for number in range(cases):
        given = hand.valve(card, wide=number % 2 == 1)
        for land in given["lands"]:
            land["side_factor"] = hand.random.choice((0.0, hand.random.uniform(0.0, 0.27)))
        stroke, overlap = given["stroke"], given["overlap"]
        place = hand.random.choice((0.0, stroke, overlap, overlap + 1e-9, stroke * hand.random.random()))
        drop = hand.random.choice((0.0, hand.random.uniform(0.0, 3e7)))
        ratio = hand.random.uniform(0.0, 2.0)
        asked.append((given, {"position": place, "current_ratio": ratio, "available_drop": drop}))
    told = node(BALANCE, asked)
    none, worst = 0, 0.0
    for (given, place), theirs in zip(asked, told, strict=True):
        python = python_result(card, given | place)
        if python is None or is_none(theirs):
            assert python is None and is_none(theirs), f"{given} {place}: {python} {theirs}"
            none += 1
            continue
        ours, scale = python
        worst = max(worst, rows_apart(ours, theirs, scale))
        assert worst <= WITHIN, f"{given} {place}: JavaScript {theirs}, Python {ours}"
    tally["shift-balance"] = [len(asked), none, worst]


BUDGET = """
const answer = ([given, rows]) => attempt(() => {
  const found = valvecalc.run("shift-budget", given);
  if (!rows) delete found.stroke_rows;
  return found;
});
"""
PLACES = {
    "margin_position": "margin",
    "share_position": "margin_share",
    "after_opening_position": "after_opening_margin",
}


def test_the_whole_stroke(node, dice, cases, tally):
    card, hand = find("shift-budget"), dice(24)
    with_rows = 200
    asked = [(hand.valve(card, wide=number % 3 == 2), number < with_rows) for number in range(cases)]
    told = node(BUDGET, asked)
    none, worst, moved = 0, 0.0, 0
    for (given, rows), theirs in zip(asked, told, strict=True):
        python = python_result(card, given)
        if python is None or is_none(theirs):
            assert python is None and is_none(theirs), f"{given}: {python} {theirs}"
            none += 1
            continue
        ours, scale = python
        if not rows:
            del ours["stroke_rows"]
        for place, value in PLACES.items():
            if abs(ours[place] - theirs[place]) > WITHIN * scale["length"]:
                assert apart(theirs[value], ours[value], scale[kind_of(value)]) <= WITHIN, f"{given}: {place}"
                moved += 1
                for name in (place, *(["worst"] if value == "margin" else [])):
                    del ours[name]
        worst = max(worst, rows_apart(ours, theirs, scale))
        assert worst <= WITHIN, f"{given}: JavaScript {theirs}, Python {ours}"
    tally["shift-budget"] = [len(asked), none, worst]
    tally["shift-budget, places that moved between equals"] = [moved, 0, 0.0]


def test_the_single_causes(node, dice, cases, tally):
    """300 budgets in the long run (10 000 cases), 10 in the ordinary one."""
    card, budget, hand = find("single-causes"), fast(find("shift-budget")), dice(25)
    asked = [hand.valve(card, wide=number % 5 == 4) for number in range(max(10, cases * 3 // 100))]
    told = node(RUN, [["single-causes", given] for given in asked])
    none, worst, empty, by_margin = 0, 0.0, 0, 0
    for given, theirs in zip(asked, told, strict=True):
        python = python_result(card, given)
        if python is None or is_none(theirs):
            assert python is None and is_none(theirs), f"{given}: {python} {theirs}"
            none += 1
            continue
        valve = card.record(**{**card.defaults, **given})
        pairs = [(row["cause"], row["threshold"], valve) for row in python[0]["single_causes"]]
        told_pairs = [row["threshold"] for row in theirs["single_causes"]]
        for name, changed in (("pickup_hot", {}), ("pickup_cold", {"winding_temperature": 293.15})):
            pairs.append(("coil_voltage", python[0].get(name), valve._replace(direction="energise", **changed)))
            told_pairs.append(theirs.get(name))
        for (cause, ours, record), other in zip(pairs, told_pairs, strict=True):
            if ours is None or other is None:
                assert ours is None and other is None, f"{cause}: Python {ours}, JavaScript {other}; {given}"
                empty += 1
                continue
            off = apart(other, ours, 0.0)
            if off > WITHIN:  # a flat margin: the place is as uncertain as the margin's own last bits
                found = budget(record._replace(**{cause: other}))
                off = abs(found["margin"]) / largest(found)["force"]
                by_margin += 1
            worst = max(worst, off)
            assert worst <= WITHIN, f"{cause}: Python {ours!r}, JavaScript {other!r}; {given}"
    tally["single-causes"] = [len(asked), none, worst]
    tally["single-causes, empty in both"] = [empty, 0, 0.0]
    tally["single-causes, told apart by the margin"] = [by_margin, 0, 0.0]
