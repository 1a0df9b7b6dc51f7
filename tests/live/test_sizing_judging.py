"""Rules, ranking and flips on the phone against Python: the same verdicts, words, figures, lacks and order."""

import random
from collections.abc import Iterable, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from tests.live.sizing import ask_inner
from tests.live.sizing_plain import plainly, same
from tests.selection import test_musts, test_rules
from tests.selection.conftest import TWO_STAGE, press, valve_of
from valvecalc.demo import SIZE
from valvecalc.errors import InputError
from valvecalc.selection import function
from valvecalc.selection.cells import Field, columns, duty_fields, duty_tables, fluids
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import REPEATED, Duty, changed, duty_from, entries, read_duty
from valvecalc.selection.flow_rules import Loss
from valvecalc.selection.function import Position
from valvecalc.selection.judging import Rule
from valvecalc.selection.ranking import Candidate, flips, judge, rank, to_find_out
from valvecalc.selection.stock import StockValve, prepared, read_stock

DUTIES = [read_duty(SIZE / f"{name}.toml") for name in ("baler", "press", "tipping-trailer")]
SHELVES = read_stock(SIZE / "stock.csv")[0]
MORE = """
const valvesKept = [];
const keepValves = (valves) => valvesKept.push(...valves);
const picked = (places) => places.map((at) => valvesKept[at]);
const toldRule = ({ about, ...rule }) => (
  { ...rule, about: typeof about.movement !== "object" ? about : { ...about, heat: lossHeat(about), u: lossU(about) } }
);
const toldCandidate = ({ valve, rules, ...one }) => ({ ...one, name: valve.name, rules: rules.map(toldRule) });
const toldRanked = (duty, places) => {
  const { duty: given, ...asked } = demandOf(duty);
  const ranked = rankValves(picked(places), demandOf(duty));
  return { asked, ranked: ranked.map(toldCandidate), find_out: toFindOut(ranked) };
};
const toldFlips = (before, after, places) =>
  flipsOf(picked(places), demandOf(before), demandOf(after)).map((flip) => (
    { ...flip, rules: flip.rules.map((pair) => pair.map(({ rule, verdict, words }) => [rule, verdict, words])) }
  ));
const toldAlone = (duty, place) => toldCandidate(judgeValve(valvesKept[place], demandOf(duty)));
"""


def endless(value: Any) -> Any:
    """Plain data as node writes it: no end is a word there."""
    if isinstance(value, dict):
        return {key: endless(each) for key, each in value.items()}
    if isinstance(value, list):
        return [endless(each) for each in value]
    return "inf" if value == float("inf") else value


def told_rule(rule: Rule) -> dict[str, Any]:
    about = plainly(rule.about) | ({"heat": rule.about.heat, "u": rule.about.u} if isinstance(rule.about, Loss) else {})
    return {**rule._asdict(), "lacks": list(rule.lacks), "about": endless(about)}


def told_candidate(one: Candidate) -> dict[str, Any]:
    found = {"name": one.valve.name, "verdict": one.verdict, "margin": one.margin, "loss": one.loss}
    return found | {"rules": [told_rule(rule) for rule in one.rules]}


def told_ranked(duty: Duty, valves: Sequence[StockValve]) -> dict[str, Any]:
    asked = demand(duty)
    ranked = rank(valves, asked)
    plain = {key: value for key, value in plainly(asked).items() if key != "duty"}
    return {"asked": endless(plain), "ranked": list(map(told_candidate, ranked)), "find_out": to_find_out(ranked)}


def told_flips(before: Duty, after: Duty, valves: Sequence[StockValve]) -> list[dict[str, Any]]:
    found = flips(valves, demand(before), demand(after))
    return [{**one._asdict(), "rules": [[list(rule[:3]) for rule in pair] for pair in one.rules]} for one in found]


class Asked(NamedTuple):
    """Questions to one node process, and what Python answers to each."""

    valves: list[StockValve]
    questions: list[list[Any]]
    answers: list[Any]

    def add(self, name: str, duties: Sequence[Duty], valves: Sequence[StockValve], answer: Any) -> None:
        places = list(range(len(self.valves), len(self.valves) + len(valves)))
        self.valves.extend(valves)
        self.questions.append([name, *map(plainly, duties), places[0] if name == "toldAlone" else places])
        self.answers.append(answer)

    def compare(self, folder: Path) -> None:
        names = ["keepValves", "toldRanked", "toldFlips", "toldAlone"]
        _, *got = ask_inner(folder, names, [["keepValves", plainly(self.valves)], *self.questions], MORE)
        for question, mine, theirs in zip(self.questions, got, self.answers, strict=True):
            if not same(mine, {"value": theirs}):
                raise AssertionError(f"{question[:-1]}\n{first_difference('', mine.get('value', mine), theirs)}")


def first_difference(place: str, mine: Any, theirs: Any) -> str:
    """Where two plain values part."""
    if isinstance(mine, dict) and isinstance(theirs, dict) and mine.keys() == theirs.keys():
        parts: Iterable[tuple[Any, Any, Any]] = ((key, mine[key], theirs[key]) for key in theirs)
    elif isinstance(mine, list) and isinstance(theirs, list) and len(mine) == len(theirs):
        parts = ((at, a, b) for at, (a, b) in enumerate(zip(mine, theirs, strict=True)))
    else:
        return f"{place}: {mine!r}, in Python {theirs!r}"
    return next((first_difference(f"{place}.{key}", a, b) for key, a, b in parts if not same(a, b)), place)


@pytest.fixture
def asked() -> Asked:
    """No question yet."""
    return Asked([], [], [])


# ---- what is drawn

NOTCHED = [
    Position(one.groups, frozenset({min(one.groups, key=sorted)})) for one in function.all_positions() if one.groups
]
USUAL = [function.read_position(text) for text in ("P-A, B-T", "P-B, A-T", "shut", "P-T")]
POSITIONS = [*function.all_positions(), *NOTCHED, *USUAL * 8, ""]
#: What the demo does not have: speeds, an accumulator, both sides joined, the piston side on B, a plugged port, motors.
BASES = [
    *DUTIES,
    press(),
    press({
        "cylinder": {"regenerative": "yes", "extend_speed": "80 mm/s", "extend_load": "-8 kN", "held_back": None},
        "accumulator": {"present": "yes", "peak_flow": "20 L/min"},
        "oil": {"grade": None, "viscosity_40": "68 mm²/s", "viscosity_index": "150", "density_15": "890 kg/m³"},
    }),
    press({
        "cylinder": {"cap_port": "B", "retract_speed": "90 mm/s", "hanging": "yes", "return_throttled": "yes"},
        "ports": {"plugged": "A"}, "supply": {"cable_length": "0 m"},
    }),
    duty_from({
        "motor": [
            {"displacement": "100 mL", "speed": "500 1/min", "torque": "120 N·m", "hanging": "yes"}, {"hanging": "no"},
        ],
        "pump": {"flow": "60 L/min", "relief_pressure": "210 bar"}, "oil": {"grade": "32", "hottest": "50 °C"},
        "safety": {"fail_safe": "free"}, "allowed": {"drift": "10 mm/min", "loss": "20 bar"},
    }),
]  # fmt: skip
TWO = valve_of(**{**TWO_STAGE, "rest": "P-T", "drop_pt": "30 L/min 2 bar; 60 L/min 8 bar"})
VALVES = [*SHELVES, valve_of(), valve_of(**TWO_STAGE), TWO, TWO._replace(pilot="external", drain="external")]


def rows_of(duty: Duty, table: str) -> list[Any]:
    return list(getattr(duty, f"{table}s")) if table in REPEATED else [duty.tables.get(table, {})]


def drawn(dice: random.Random, field: Field, known: Sequence[Any]) -> Any:
    """A value of a field: another one that is known, a figure near it, a word, a position."""
    words = {"choice": field.words, "fluid": fluids(), "yes-no": (True, False), "position": POSITIONS}.get(field.kind)
    if words is not None or not known:
        return dice.choice(words) if words else None
    value = dice.choice(known)
    if field.kind != "quantity" or dice.random() < 0.2:
        return value
    if "temperature" in field.words:
        return value + dice.uniform(-25.0, 25.0)
    ends = {"any": [-1.0, 0.0], "0": [0.0]}.get(field.words[-1], [])
    return value * dice.choice([0.3, 0.8, 1.25, 3.0, *ends])


def drawn_row(
    dice: random.Random, fields: dict[str, Field], row: dict[str, Any], others: Sequence[Any], gone: float, new: float
) -> dict[str, Any]:
    """Each entry kept, dropped or changed."""
    found = {}
    for key, field in fields.items():
        value, fate = row.get(key), dice.random()
        if fate < gone:
            value = None
        elif fate < gone + new:
            value = drawn(dice, field, [one[key] for one in others if one.get(key) is not None])
        if value is not None:
            found[key] = value
    return found


def drawn_duty(dice: random.Random) -> Duty:
    gone, new = dice.choice([(0.0, 0.1), (0.05, 0.15), (0.2, 0.2), (0.5, 0.1)])
    base = dice.choice(BASES)
    made: dict[str, list[dict[str, Any]]] = {}
    for table in duty_tables():
        others = [row for one in BASES for row in rows_of(one, table)]
        rows = rows_of(base, table)
        if table in REPEATED and dice.random() < 0.2:
            rows = dice.sample(others, dice.randint(0, 2))
        made[table] = [drawn_row(dice, duty_fields(table), row, others, gone, new) for row in rows]
    for row in made["cylinder"]:
        if row.get("rod_diameter", 0.0) >= row.get("bore_diameter", 1e9):
            row["rod_diameter"] = 0.6 * row["bore_diameter"]
    cylinders, motors = (tuple(made.pop(table)) for table in REPEATED)
    return Duty({table: rows[0] for table, rows in made.items()}, cylinders, motors)


def drawn_valve(dice: random.Random, number: int) -> StockValve:
    gone, new = dice.choice([(0.0, 0.1), (0.02, 0.2), (0.15, 0.2)])
    others = [one._asdict() for one in VALVES]
    row = drawn_row(dice, columns(), dice.choice(others), others, gone, new)
    row["name"] = f"{dice.choice(['a', 'Z', 'ﬀ', '😀'])}{number}"
    return prepared(StockValve(**row))


# ---- the comparisons


def one_less(dice: random.Random, duty: Duty) -> Duty:
    """Without one of its entries; another duty where none can be taken, for a drawn one may contradict itself."""
    for entry in dice.sample(list(entries(duty)), len(entries(duty))):
        with suppress(InputError):
            return changed(duty, entry, None)
    return drawn_duty(dice)


def test_the_demo(asked: Asked, tmp_path: Path) -> None:
    for duty in DUTIES:
        asked.add("toldRanked", [duty], SHELVES, told_ranked(duty, SHELVES))
        for entry, text in (("pump.flow", "20 L/min"), ("ports.plugged", "A"), ("cylinder 1.hanging", None)):
            after = changed(duty, entry, text)
            asked.add("toldFlips", [duty, after], SHELVES, told_flips(duty, after, SHELVES))
    assert any(asked.answers[1])
    asked.compare(tmp_path)


def test_random_duties_and_valves(asked: Asked, tmp_path: Path) -> None:
    dice = random.Random("judged in the hand")
    seen: dict[str, set[str]] = {}
    for round_ in range(320):
        duty = drawn_duty(dice)
        valves = [drawn_valve(dice, 10 * round_ + number) for number in range(4)]
        answer = told_ranked(duty, valves)
        asked.add("toldRanked", [duty], valves, answer)
        for one in answer["ranked"]:
            for rule in one["rules"]:
                seen.setdefault(rule["rule"], set()).add(f"{rule['verdict']} {rule['words']}")
        if round_ % 8 == 0:
            for other in (one_less(dice, duty), drawn_duty(dice)):
                asked.add("toldFlips", [duty, other], valves, told_flips(duty, other, valves))
    # The draw comes by nearly everything that a rule can say.
    assert len(seen) == 34
    assert sum(map(len, seen.values())) > 110
    asked.compare(tmp_path)


def test_names_decide_last_by_their_code_points(asked: Asked, tmp_path: Path) -> None:
    names = ["😀", "ﬀ", "ba", "b", "B", "bab", "é", "\ue000"]
    valves = [SHELVES[0]._replace(name=name) for name in names]
    asked.add("toldRanked", DUTIES[:1], valves, told_ranked(DUTIES[0], valves))
    assert [one["name"] for one in asked.answers[-1]["ranked"]] == ["B", "b", "ba", "bab", "é", "\ue000", "ﬀ", "😀"]
    asked.compare(tmp_path)


def test_every_position_at_rest_without_power(asked: Asked, tmp_path: Path) -> None:
    rests = [valve_of()._replace(rest=rest, name=function.text(rest)) for rest in (*function.all_positions(), *NOTCHED)]
    valves = [prepared(valve) for valve in rests]
    for cap, hanging, load, rest in (
        ("A", "yes", "10 kN", "shut"), ("B", "yes", "-10 kN", "A-T"), ("A", None, "-10 kN", "P-B"),
    ):  # fmt: skip
        cylinder = {"cap_port": cap, "hanging": hanging, "retract_load": load}
        changes = {"cylinder": cylinder, "pump": {"unloads": None}, "old": {"rest": rest}}
        for need in duty_fields("safety")["fail_safe"].words:
            duty = press({**changes, "safety": {"fail_safe": need}})
            asked.add("toldRanked", [duty], valves, told_ranked(duty, valves))
    asked.compare(tmp_path)


def test_nothing_known(asked: Asked, tmp_path: Path) -> None:
    """Every entry unknown, every column unknown, and each alone."""
    bare = prepared(StockValve("bare"))
    nothing = [Duty({}), Duty({}, ({},)), Duty({}, (), ({},)), duty_from({"duty": {"title": "unreadable"}})]
    for duty in (*nothing, *DUTIES):
        asked.add("toldRanked", [duty], [bare, *VALVES[-4:]], told_ranked(duty, [bare, *VALVES[-4:]]))
    plugs = [SHELVES[0]._replace(connector=plug, name=str(plug)) for plug in (None, "null", "[null]")]
    asked.add("toldRanked", DUTIES[:1], plugs, told_ranked(DUTIES[0], plugs))
    for valve in (SHELVES[0], TWO):
        blanked = [prepared(valve._replace(**{key: None})) for key in columns() if key != "name"]
        asked.add("toldRanked", DUTIES[:1], blanked, told_ranked(DUTIES[0], blanked))
    for duty in (press(), DUTIES[1]):
        for entry in entries(duty):
            less = changed(duty, entry, None)
            asked.add("toldRanked", [less], [valve_of(), TWO], told_ranked(less, [valve_of(), TWO]))
    asked.compare(tmp_path)


def test_the_hard_cases(asked: Asked, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Every valve on every duty that the musts and the rules are tested with by hand."""

    def judged(valve: StockValve, on: Any) -> Candidate:
        found = judge(valve, on)
        asked.add("toldAlone", [on.duty], [valve], told_candidate(found))
        return found

    for module in (test_musts, test_rules):  # those of the one judge through the other
        monkeypatch.setattr(module, "judge", judged)
    for module in (test_musts, test_rules):
        before = len(asked.questions)
        for work in [work for name, work in vars(module).items() if name.startswith("test_")]:
            work()
        assert len(asked.questions) > before + 30
    asked.compare(tmp_path)
