"""What a verdict means, on the phone and in Python: the whole answer of the small sheets, and the page's text of it."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.engine.conftest import Dice
from tests.live.door import DRIVER, Case, different, doubted, given_of, python
from tests.node import ask_node, need_node
from valvecalc.door import calc, find
from valvecalc.facts import load_toml
from valvecalc.sitegen import answer_part
from valvecalc.sitegen.calculators import calculator, card_script

CARDS = [find(name) for name in load_toml("words/judge.toml")["doors"]["first"]]
SHOW = """
const asked = fs.readFileSync(process.argv[2], "utf8").split("\\n").map((line) => JSON.parse(line));
const link = (page) => `page:${page.replace(/\\/$/, "")}.md`;
fs.writeFileSync(process.argv[3], asked.map(([id, given]) =>
  JSON.stringify(valvecalc.show.body(valvecalc.card(id), valvecalc.answer(id, given, {}), link))).join("\\n"));
"""


def in_node(folder: Path, driver: str, asked: list[Any]) -> list[Any]:
    need_node()
    code = "\n".join(['const fs = require("fs");', calculator(), *map(card_script, CARDS), driver])
    return [json.loads(line) for line in ask_node(folder, code, asked)]


def verdict_cases() -> list[Case]:
    """The examples, nothing at all, each entry left out, and entries at random with and without their doubt."""
    hand, cases = Dice(141), []
    dice = hand.random
    for card in CARDS:
        example = dict(card.example)
        cases += [Case(card, example), Case(card, {}), Case(card, example, {"system": "us"})]
        cases += [Case(card, {key: text for key, text in example.items() if key != name}) for name in example]
        cases += [Case(card, {**example, name: f"{text} ± 30 %"}) for name, text in example.items() if "°C" not in text]
        for number in range(40):
            given = given_of(hand, card, number)
            if dice.random() < 0.5:
                given = {
                    name: text if name in card.choices else doubted(dice, name, text) for name, text in given.items()
                }
            cases.append(Case(card, given))
    return cases


def test_the_answers_are_alike(tmp_path: Path) -> None:
    cases = verdict_cases()
    told = in_node(tmp_path, DRIVER, [[case.card.id, *case[1:]] for case in cases])
    verdicts = set()
    for case, theirs in zip(cases, told, strict=True):
        ours, sizes = python(case)
        assert not different(ours, theirs, sizes), (case.card.id, case.given)
        verdicts |= {(case.card.id, row["verdict"]) for row in ours.get("meaning", ())}
    assert {verdict for _, verdict in verdicts} == {"accept", "reject", "cannot-tell", "unknown"}


def test_the_page_says_the_same_letter_by_letter(tmp_path: Path) -> None:
    asked = [[card.id, given] for card in CARDS for given in (dict(card.example), {})]
    for (name, given), theirs in zip(asked, in_node(tmp_path, SHOW, asked), strict=True):
        card = find(name)
        assert theirs == answer_part.body(card, calc(name, **given).to_json()), name


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("97.4 Ω ± 0.5 Ω", 'resistance = { value = "97.4 Ω", uncertainty = "0.5 Ω", instrument = "?" }'),
        ("97.4 Ω +/- 2 % (k=2)", 'resistance = { value = "97.4 Ω", uncertainty = "2 % (k=2)", instrument = "?" }'),
        ("97.4\u2009Ω+-1Ω", 'resistance = { value = "97.4 Ω", uncertainty = "1Ω", instrument = "?" }'),
    ],
)
def test_a_kept_reading_has_its_error_and_a_place_for_the_instrument(tmp_path: Path, text: str, line: str) -> None:
    given = {"resistance": text, "coil_temperature": "22 °C", "nominal_voltage": "48 V"}
    ours = calc("coil-ohms", **given).to_json()["keep"]
    (theirs,) = in_node(tmp_path, DRIVER, [["coil-ohms", given, {}, None]])
    assert line in ours.splitlines() and theirs["keep"] == ours
