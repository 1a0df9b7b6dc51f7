"""The door on the phone against Python: what cannot be read is refused in the very words."""

import random
from typing import Any

from tests.live.door import CASES, SHOWN, SLOW, Ask, Case, compare, often, python
from valvecalc.formula import REGISTER
from valvecalc.quantities import VOCABULARY
from valvecalc.unit_table import choices, dimension_names

# ---- what cannot be read


def test_entries_that_a_card_does_not_have(ask: Ask) -> None:
    dice = random.Random(74)
    cases = []
    for card in SHOWN:
        for _ in range(3):
            own = dice.choice(card.entries)
            cut = dice.randrange(len(own) + 1)
            names = (
                own[:cut] + own[cut + 1 :],
                own.upper(),
                dice.choice(sorted(VOCABULARY)),
                "zz",
                "__proto__",
                "constructor",
                "é'\"",
            )
            cases.append(
                Case(card, {dice.choice(names): "5 mm", own: dice.choice(("5 furlong", "", "about 3")), "zzz": None})
            )
    told = compare([with_blanks_dropped(case) for case in cases], ask)
    assert told.failed > len(cases) * 0.9


def with_blanks_dropped(case: Case) -> Case:
    """An empty text is no entry on the phone; from the command line it is a fault."""
    return case._replace(given={name: value for name, value in case.given.items() if value not in ("", None)})


def test_an_empty_text_is_no_entry(ask: Ask) -> None:
    cases = [Case(card, {**dict.fromkeys(card.entries, ""), **card.example}) for card in SHOWN if card.id not in SLOW]
    answers = ask(cases)
    told = compare([with_blanks_dropped(case) for case in cases], lambda _: answers)
    assert told.answered == len(cases)


def test_wrong_units_and_nonsense(ask: Ask) -> None:
    dice = random.Random(75)
    dimensions = [name for name in dimension_names() if choices(name)]
    texts = (
        "5",
        "bar",
        "1,500 mm",
        "5 mm 3",
        "-1 mm",
        "5 ± 1 ± 1 mm",
        "5 mm ± 3",
        "1/0 in",
        "٣ mm",
        "nan",
        "\x00",
        "' or 1",
        "5 ML",
    )
    cases = []
    for card in SHOWN:
        for _ in range(often(card, CASES / 30)):
            given = dict(card.example)
            for name in dice.sample(card.entries, min(3, len(card.entries))):
                unit = dice.choice(choices(dice.choice(dimensions)))
                given[name] = dice.choice((f"{dice.choice(('5', '0.2', '40'))} {unit}", dice.choice(texts)))
            cases.append(Case(card, given))
    told = compare(cases, ask)
    assert told.failed > len(cases) * 0.8


RECORDS: list[Any] = [
    {"value": "160 bar", "uncertainty": "2 bar", "instrument": "G3"},
    {"value": "160 bar ± 1 bar", "uncertainty": "2 %"},
    {"value": "160 bar ± 1 bar", "instrument": "G3", "origin": "nameplate"},
    {"value": "160 bar", "uncertainty": "-2 bar"},
    {"value": "160 bar", "uncertainty": "2"},
    {
        "value": "160 bar",
        "origin": "dreamt of, and at such a length that nobody can read it to its end without a pause",
    },
    {"value": "160 bar", "accuracy": "2 bar"},
    {"value": "160 bar", "source": "pump's plate"},
    {"unit": "bar"},
    {"uncertainty": "2 bar"},
]


def test_records(ask: Ask) -> None:
    card = REGISTER["annular-leakage"]
    cases = [Case(card, {**card.example, "pressure_drop": record}) for record in RECORDS]
    assert compare(cases, ask) == (4, 0, 6)


LISTS: list[Any] = [
    "0 mm 52 N; 0.6 mm 55.5 N; 4 mm 60 N",
    "0 mm|52 N;0.6 mm|55.5 N;4 mm|60 N",
    " ; 0 mm | 52 N ;; 4 mm|60 N;",
    "0 mm | ; 4 mm | 60 N",
    "0 mm 52 N; 4 mm 60 N; 2 mm 55 N",
    "0 mm 52 N; 2 mm 55 N; 0.2 cm 56 N; 4 mm 60 N",
    "0 mm 52 N; 0.6 mm 55.5",
    "0 mm|52 N|3",
    ";",
    "rubbish",
    "0 mm | 52 bar; x | 60 N; 4 mm | -1000000 N",
    '[{"position": "0 mm", "curve_force": "52 N"}, {"position": "4 mm", "curve_force": "60 N"}]',
    '[{"position": 0, "curve_force": 52.5}, {"position": 0.004, "curve_force": 60}]',
    '[{"position": "0 mm", "curve_forse": "52 N"}]',
    '[{"position": null, "curve_force": "52 N"}]',
    "[5]",
    '["0 mm"]',
    "[]",
    [],
    ["a", {}],
    [
        {"position": "0 mm", "curve_force": {"value": "52 N", "uncertainty": "1 N", "instrument": "B1"}},
        {"position": "4 mm", "curve_force": "60 N"},
    ],
]
LANDS = [
    "P|A|A|0 µm|3; P|B|B|0 µm|3; A|T|B|1 µm|3; B|T|A||3",
    "P|A|A|0 µm|3; P|Q|B|0 µm|3",
    "P|A|A|0 µm|2.5",
    "P A A 0 3",
    [{"high_port": "P", "low_port": "", "opens_for": "A'", "taper": "0 µm", "live_grooves": "3"}],
]


def test_lists_in_all_their_forms(ask: Ask) -> None:
    card = REGISTER["shift-budget"]
    example = dict(card.example)
    cases = [Case(card, {**example, "force_curve": value}) for value in LISTS]
    cases += [
        Case(card, {**example, "lands": value, "direction": word}) for value in LANDS for word in ("release", "relaese")
    ]
    told = compare(cases, ask)
    assert told.answered > 5 and told.failed > 15


def test_a_list_in_json_that_breaks_off(ask: Ask) -> None:
    """JavaScript does not say where: only that sentence differs."""
    card = REGISTER["shift-budget"]
    case = Case(card, {"force_curve": '[{"position": "0 mm"'})
    ours, _ = python(case)
    (theirs,) = ask([case])
    assert [error.pop("do") for told in (ours, theirs) for error in told["errors"]] == [
        "It breaks off at character 20.",
        "It cannot be read to its end.",
    ]
    assert ours == theirs
