"""What the sizing tells on the phone against Python: from the texts of duty and list to the answer, word for word."""

import csv
import io
import json
import random
from collections.abc import Iterator
from copy import deepcopy
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from tests.live.sizing import ask_inner
from tests.live.sizing_plain import plainly, same
from valvecalc.demo import SIZE
from valvecalc.errors import InputError
from valvecalc.facts import load_toml, parse_toml
from valvecalc.selection.cells import columns, duty_fields, duty_tables
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import changed, duty_from
from valvecalc.selection.flow_rules import Loss
from valvecalc.selection.judging import Rule
from valvecalc.selection.movements import Movement
from valvecalc.selection.ranking import flips, rank
from valvecalc.selection.stock import Curve, read_csv
from valvecalc.selection.tell import told, told_request
from valvecalc.selection.words import lack_text, sentence, unit_and_value, value_text

NAMES = ("baler", "press", "tipping-trailer")
DEMO = [parse_toml((SIZE / f"{name}.toml").read_bytes(), name) for name in NAMES]
STOCK = (SIZE / "stock.csv").read_text("utf-8")
#: The front's own functions begin behind the place where a test looks in; these call them when they are there.
MORE = """
const sizedWhole = (raw, csv, options) => {
  const { duty } = readDuty(raw, "duty");
  const { valves, problems } = readStock(csv, "stock.csv");
  return size(duty, valves, problems, options);
};
const askedWhole = (raw, system) => requestPage(readDuty(raw, "duty").duty, system);
"""


class Case(NamedTuple):
    """A duty as a form gives it, a list as a file gives it, and how the answer is asked for."""

    raw: dict[str, Any]
    stock: str = STOCK
    change: tuple[str, str] | None = None
    most: int | None = None
    system: str = "metric"

    @property
    def options(self) -> dict[str, Any]:
        return {"change": self.change, "most": self.most, "system": self.system}


def by_python(case: Case) -> dict[str, Any]:
    duty = duty_from(case.raw)
    valves, problems = read_csv(case.stock.encode(), "stock.csv")
    asked = demand(duty)
    after = None if case.change is None else demand(changed(duty, *case.change))
    turned = [] if after is None else flips(valves, asked, after)
    return told(after or asked, rank(valves, after or asked), problems, turned, case.most, case.system)


#: What may stand in an entry beside what the demo has; None takes it out.
OTHERS: dict[tuple[str, str], list[str]] = {
    ("old", "interface"): ["NG6", "NG25", "other: four bolts"], ("old", "rest"): ["P-T", "A-B-T", "none"],
    ("old", "on_a"): ["P-A-B", "none"], ("old", "stage"): ["two-stage"], ("old", "operator"): ["detent"],
    ("old", "pilot"): ["external", "internal"], ("old", "coil_kind"): ["AC 50 Hz", "rectified"],
    ("cylinder", "rod_diameter"): ["30 mm", "56 mm"], ("cylinder", "extend_load"): ["-20 kN", "150 kN"],
    ("cylinder", "hanging"): ["yes", "no"], ("cylinder", "regenerative"): ["yes", "no"],
    ("cylinder", "held_back"): ["yes", "no"], ("cylinder", "extend_speed"): ["30 mm/s", "0.4 m/s"],
    ("pump", "flow"): ["12 L/min", "3 gpm", "90 L/min"], ("pump", "relief_pressure"): ["80 bar", "290 bar", "3000 psi"],
    ("pump", "unloads"): ["yes", "no"], ("accumulator", "present"): ["yes", "no"],
    ("accumulator", "peak_flow"): ["30 L/min"], ("lines", "tank_surge"): ["5 bar", "140 bar"],
    ("oil", "grade"): ["22", "100"], ("oil", "coldest"): ["-15 °C", "60 °F"], ("oil", "hottest"): ["85 °C", "70 °C"],
    ("oil", "fluid"): ["HFC", "HEES", "HFDU"], ("ports", "plugged"): ["A", "B", "none"],
    ("supply", "voltage"): ["12 V", "22 V", "230 V"], ("supply", "kind"): ["AC 50 Hz", "DC"],
    ("supply", "cable_length"): ["0 m", "120 m"], ("supply", "ambient"): ["60 °C"],
    ("supply", "protection"): ["IP67"], ("safety", "fail_safe"): ["free", "stay", "extend"],
    ("safety", "hazardous_area"): ["yes", "no"], ("allowed", "loss"): ["4 bar", "80 bar"],
    ("allowed", "drift"): ["1 mm/min", "40 mm/min"],
}  # fmt: skip
TURNED = [
    ("pump.flow", "60 L/min"), ("oil.coldest", "-20 °C"), ("safety.hazardous_area", "yes"),
    ("cylinder 1.hanging", "yes"), ("allowed.loss", "unknown"), ("lines.tank_surge", "20 bar"),
]  # fmt: skip


def altered(dice: random.Random) -> dict[str, Any]:
    """A duty of the demo with entries taken out and others changed, that can still be read."""
    while True:
        raw = deepcopy(dice.choice(DEMO))
        for (table, key), texts in dice.sample(sorted(OTHERS.items()), dice.randrange(1, 9)):
            row = raw.setdefault(table, [{}] if table == "cylinder" else {})
            (row[0] if table == "cylinder" else row)[key] = dice.choice(texts)
        for _ in range(dice.choice([0, 1, 4, 12])):
            table = dice.choice(sorted(raw))
            row = raw[table][0] if isinstance(raw[table], list) else raw[table]
            if row:
                del row[dice.choice(sorted(row))]
        if dice.random() < 0.15:
            raw["motor"] = [{"displacement": "80 cm³", "speed": "300 rpm", "torque": "150 N·m"}]
        try:
            duty_from(raw)
        except InputError:
            continue
        return raw


def worn(dice: random.Random) -> str:
    """The demo's list with cells gone, exchanged between rows, or spoilt."""
    rows = list(csv.reader(io.StringIO(STOCK.split("\n", 1)[1])))
    for _ in range(dice.choice([0, 0, 6, 30])):
        at, place = dice.randrange(1, len(rows)), dice.randrange(1, len(rows[0]))
        rows[at][place] = dice.choice(["", "", rows[dice.randrange(1, len(rows))][place], "x < y"])
    written = io.StringIO()
    csv.writer(written).writerows(rows[:1] + dice.sample(rows[1:], dice.choice([0, 2, 5, 9])))
    return written.getvalue()


def cases() -> Iterator[Case]:
    for raw in DEMO:
        for system in ("metric", "us"):
            yield Case(raw, system=system)
            yield Case(raw, change=TURNED[0], most=3, system=system)
        for change in TURNED[1:]:
            yield Case(raw, change=change, most=0)
    dice = random.Random(11)
    for _ in range(60):
        change = dice.choice([None, None, dice.choice(TURNED)])
        yield Case(altered(dice), worn(dice), change, dice.choice([None, None, 3]), dice.choice(["metric", "us"]))


def first_difference(mine: Any, theirs: Any, place: str = "") -> str:
    if isinstance(theirs, dict) and isinstance(mine, dict) and list(mine) == list(theirs):
        return next(filter(None, (first_difference(mine[key], theirs[key], f"{place}.{key}") for key in theirs)), "")
    if isinstance(theirs, list) and isinstance(mine, list) and len(mine) == len(theirs):
        pairs = enumerate(zip(mine, theirs, strict=True))
        return next(filter(None, (first_difference(a, b, f"{place}[{at}]") for at, (a, b) in pairs)), "")
    return "" if same(mine, theirs) else f"{place}:\n  JavaScript {mine!r}\n  Python     {theirs!r}"


@pytest.fixture(scope="module")
def asked() -> list[Case]:
    return list(cases())


def test_the_whole_way_from_texts_to_the_answer(asked: list[Case], tmp_path: Path) -> None:
    questions = [("sizedWhole", case.raw, case.stock, case.options) for case in asked]
    answers = ask_inner(tmp_path, ["sizedWhole"], questions, MORE)
    verdicts: set[str] = set()
    sentences: set[tuple[str, str]] = set()
    for case, answer in zip(asked, answers, strict=True):
        ours = json.loads(json.dumps(by_python(case)))
        assert (found := first_difference(answer.get("value"), ours)) == "", f"{found}\n{case.raw}\n{answer.keys()}"
        verdicts |= {one["verdict"] for one in ours["candidates"]}
        sentences |= {(rule["rule"], rule["sentence"]) for one in ours["candidates"] for rule in one["rules"]}
    assert verdicts == {"accept", "ask", "reject"} and len(sentences) > 700


def test_the_request_to_a_supplier(asked: list[Case], tmp_path: Path) -> None:
    given = [(case.raw, system) for case in asked for system in ("metric", "us")]
    given += [({"old": {"interface": "NG10"}}, "us"), ({"pump": {"flow": "5 L/min"}}, "metric")]
    answers = ask_inner(tmp_path, ["askedWhole"], [("askedWhole", *one) for one in given], MORE)
    figures: set[str] = set()
    for (raw, system), answer in zip(given, answers, strict=True):
        ours = json.loads(json.dumps(told_request(demand(duty_from(raw)), system)))
        assert (found := first_difference(answer.get("value"), ours)) == "", f"{found}\n{raw}\n{answer.keys()}"
        figures |= {line["figure"] for line in ours["request"]}
    assert len(figures) > 100 and "to be found out" in figures


def loss_of(dice: random.Random) -> Loss:
    ratio = dice.choice([0.51, 1.0, 1.04, 1.5, 1.961, 4.0, 11.3])
    flow = dice.choice([0.0, 2.5e-4, dice.uniform(0, 0.01)])
    no_path = Curve(0.0, 0.0, 0.0, 0.0, 0.0, 1.0)
    one = Movement("cylinder 1 going in", "pb", "at", flow, ratio * flow, 1e6, 1.0, ratio, ratio, ratio, (), (), ())
    return Loss(one, dice.uniform(0, 4e6), dice.uniform(0, 4e6), 5e6, None, no_path, no_path)


def every_sentence(dice: random.Random) -> Iterator[Rule]:
    """Each sentence of each rule, with figures of any size and with words; `about` as the rules fill it."""
    words = load_toml("words/size.toml")
    for rule, row in words["rules"].items():
        of_loss = rule in ("loss", "pump", "cold")
        for key in [*row, "ask", "near", "more-flow"]:
            if key in ("title", "kind", "unit", "us", "caution", "ratio"):
                continue
            for _ in range(6):
                number = dice.choice([0.0, 1.0, dice.uniform(0, 400), 10 ** dice.uniform(-7, 8)])
                need, has = (
                    dice.choice([None, "x < y", "no", 1, 0])
                    if row["kind"] == "text"
                    else dice.choice([None, number, number * 1.5])
                    for _ in range(2)
                )
                lacks = dice.choice([(), ("pump.flow",), ("stock.seals", "cylinder 1.extend_load", "oil.grade")])
                about = {
                    "position": dice.choice(["", "rest", "on_b"]), "hazards": ("notch", "unloads")[: dice.randrange(3)],
                    "flow": 1e-3, "pressure": 2e7, "drain": 4e5, "supply": 24.0, "coil": 12.0, "loop": 0.42,
                    "class": "H", "load": "cylinder 2", "place": "at rest", "movement": "motor 1 going one way",
                }  # fmt: skip
                yield Rule(rule, "ask", key, need, has, None, 0.0, lacks, loss_of(dice) if of_loss else about)


def test_every_sentence_of_the_rules(tmp_path: Path) -> None:
    dice = random.Random(3)
    rules = list(every_sentence(dice))
    given: list[tuple[Any, ...]] = []
    ours: list[Any] = []
    for rule in rules:
        system = dice.choice(["metric", "us"])
        given += [("sentenceOf", plainly(rule), system), ("valueText", rule.rule, rule.need, system)]
        ours += [sentence(rule, system), value_text(rule.rule, rule.need, system)]
        if not isinstance(rule.need, int):  # JavaScript knows one kind of number
            given.append(("unitAndValue", rule.rule, rule.need, system))
            ours.append(list(unit_and_value(rule.rule, rule.need, system)))
    named = [f"{table}.{key}" for table in duty_tables() for key in duty_fields(table)]
    for entry in [
        *named,
        *(f"cylinder 2.{key}" for key in duty_fields("cylinder")),
        *(f"stock.{key}" for key in columns()),
    ]:
        given.append(("lackText", entry))
        ours.append(lack_text(entry))
    answers = ask_inner(tmp_path, ["sentenceOf", "valueText", "unitAndValue", "lackText"], given)
    differ = [
        (asked, one, answer)
        for asked, one, answer in zip(given, ours, answers, strict=True)
        if not same(answer.get("value"), one)
    ]
    assert not differ, f"{len(differ)} of {len(given)}: {differ[:2]}"
    assert len(set(map(str, ours))) > 500
