"""The door on the phone against Python: the whole answer, for the very scripts that the pages load."""

import random
import re
from collections.abc import Iterator

from tests.engine.conftest import Dice
from tests.live.door import (
    CASES,
    SHOWN,
    SLOW,
    Ask,
    Case,
    compare,
    doubted,
    given_of,
    in_one_text,
    often,
    random_options,
)
from valvecalc.door import calc
from valvecalc.errors import InputError
from valvecalc.formula import REGISTER, Card

# ---- answers


def test_the_example_of_every_page(ask: Ask) -> None:
    cases = [Case(card, dict(card.example), {"system": system}) for card in SHOWN for system in ("metric", "us")]
    assert compare(cases, ask) == (len(cases), 0, 0)


def test_each_entry_left_out_and_each_given_alone(ask: Ask) -> None:
    cases = []
    for card in SHOWN:
        example = dict(card.example)
        for name in list(example)[:: max(1, SLOW.get(card.id, 1) * 300 // CASES)]:
            cases.append(Case(card, {other: text for other, text in example.items() if other != name}))
            cases.append(Case(card, {name: example[name]}))
        cases.append(Case(card, {}))
    told = compare(cases, ask)
    assert told.none > 200 and told.answered > 20 and not told.failed


def test_random_entries_of_every_page(ask: Ask) -> None:
    hand = Dice(71)
    cases = [
        Case(card, given_of(hand, card, number), random_options(hand.random, card))
        for card in SHOWN
        for number in range(often(card, CASES / 15))
    ]
    told = compare(cases, ask)
    assert told.answered > len(cases) / 2 and told.none and told.failed > len(cases) / 20


def test_entries_with_their_doubt(ask: Ask) -> None:
    hand = Dice(72)
    dice = hand.random
    cases = []
    for card in SHOWN:
        for number in range(often(card, CASES / 25)):
            given = given_of(hand, card, 1) if number % 2 else dict(card.example)
            for name, text in given.items():
                if name not in card.choices and name not in card.rows and dice.random() < 0.6:
                    try:
                        given[name] = doubted(dice, name, text.split("±")[0])
                    except InputError:  # a value that its unit's rounding put out of what can exist
                        continue
            cases.append(Case(card, given, random_options(dice, card)))
    answers = ask(cases)
    told = compare(cases, lambda _: answers)
    assert told.answered > len(cases) / 3 and told.failed > len(cases) / 10
    rows = [row for answer in answers if answer["ok"] for row in answer["results"]]
    assert sum("uncertainty" in row for row in rows) > len(rows) / 10
    verdicts = [row["verdict"] for row in rows if "verdict" in row]
    assert {"accept", "reject", "cannot-tell"} <= set(verdicts)


def test_a_list_with_doubt_in_its_cells(ask: Ask) -> None:
    dice = random.Random(73)
    card = REGISTER["shift-budget"]
    cases = []
    for number in range(max(3, CASES // 100)):
        rows = calc(card.id, **card.example).entries["force_curve"].value
        doubt = dice.choice((" ± 0.5 N", " ± 1 % (k=2)", " ± 0.05 mm", ""))
        cells = [
            {key: f"{text.split('±')[0]}{doubt if key == 'curve_force' else ''}" for key, text in row.items()}
            for row in rows
        ]
        cases.append(
            Case(
                card,
                {
                    **card.example,
                    "force_curve": cells if number % 2 else in_one_text(dice, card.rows["force_curve"], cells),
                },
            )
        )
    told = compare(cases, ask)
    assert told.answered and told.failed


# ---- limits


def ends_of(card: Card) -> Iterator[tuple[str, str]]:
    """(entry, text) at each end of a limit, and beyond it by a millionth."""
    words = [(name, text) for name, text in card.limits.items() if name in card.entries]
    for name, text in words + [(name, text) for name, (text, _) in card.trusted.items() if name in card.entries]:
        for number, unit in re.findall(r"[<>]=? (-?[0-9.e+-]+) ?([^,]*)", text):
            for factor in (1.0, 1.0 + 1e-6, 1.0 - 1e-6):
                yield name, f"{float(number) * factor!r} {unit}"
            if not float(number):
                yield name, f"-1e-9 {unit}"


def test_values_at_the_limits_and_beyond(ask: Ask) -> None:
    cases = [
        Case(card, {**card.example, name: text})
        for card in SHOWN
        for name, text in list(ends_of(card))[:: max(1, SLOW.get(card.id, 1) * 300 // CASES)]
    ]
    told = compare(cases, ask)
    assert told.answered > 200 and told.failed > 200


# ---- what a page asks for besides


def test_options_leave_parts_out_and_change_nothing(ask: Ask) -> None:
    """The figure while somebody types is the figure of the whole answer."""
    card = REGISTER["shift-budget"]
    less = {"steps": False, "rows": False, "spreads": False}
    given = {**card.example, "supply_pressure": "120 bar ± 2 bar"}
    (whole,), (part,) = (ask([Case(card, given, options)]) for options in ({}, less))
    bare = [{key: row[key] for key in ("name", "value", "unit")} for row in whole["results"] if "rows" not in row]
    assert [{key: row[key] for key in ("name", "value", "unit")} for row in part["results"]] == bare
    assert part["steps"] == [] and whole["steps"]
    assert "uncertainty" not in part["result"] and "uncertainty" in whole["result"]
    assert all(part[key] == whole[key] for key in ("inputs", "limits", "missing", "cautions", "link"))


def test_the_fragment_of_what_is_typed_is_the_links(ask: Ask) -> None:
    hand = Dice(80)
    cases = [Case(card, given_of(hand, card, 1)) for card in SHOWN if card.id not in SLOW for _ in range(3)]
    budget = REGISTER["shift-budget"]
    curve = "0 mm | 52 N; 4 mm 1/2 | 60 N"  # cannot be read and stays
    cases.append(Case(budget, {"force_curve": [{"position": "1 1/2 in"}], "state": "ü+&=% /~'\ud800", "stroke": "3 "}))
    cases.append(Case(budget, {"force_curve": curve}))
    cases.insert(0, Case(budget, dict(budget.example)))
    # A list typed as JSON stays JSON in the address; a form has rows of fields instead.
    as_json = [any(str(text).lstrip().startswith("[{") for text in case.given.values()) for case in cases]
    links = [None if typed else told.get("link") for typed, told in zip(as_json, ask(cases), strict=True)]
    cases = [case._replace(options={"fragment": True}) for case in cases]
    *texts, odd, torn = ask(cases)
    for link, text in zip(links, texts, strict=False):
        assert link is None or link.split("#")[1] == text.removeprefix("#")
    assert sum(link is not None for link in links) > len(cases) / 2
    assert odd == "#e=1&state=%C3%BC%2B%26%3D%25/~%27%EF%BF%BD&stroke=3&force_curve=11/2%7C".replace(
        "11/2", "1%201/2in"
    )
    assert torn == "#e=1&force_curve=0mm%7C52N%3B4mm1/2%7C60N"
