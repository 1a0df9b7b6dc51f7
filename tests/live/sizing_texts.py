"""Texts of every kind of cell as they may come: good ones, wrong ones, spoilt ones."""

import random
from collections.abc import Iterator

from tests.live.texts import BLANKS, nonsense, one_language, reading, spoilt
from valvecalc.selection.cells import Field, columns, duty_fields, duty_tables
from valvecalc.units import choices


def typed(dice: random.Random, text: str) -> str:
    """A text as it may come: as it is, in capitals, with blanks, spoilt."""
    return dice.choice(
        [
            text,
            text.upper(),
            text.swapcase(),
            f"{dice.choice(BLANKS)}{text} ",
            text.replace(" ", "  "),
            spoilt(dice, text),
        ]
    )


#: Letters that had no capital in earlier editions of Unicode.
LATE = set("ɤƛ")


def visible_texts(texts: list[str]) -> list[str]:
    """Each text once, if both languages see the same in it."""
    return [text for text in dict.fromkeys(texts) if one_language(text) and not LATE.intersection(text)]


def fields() -> Iterator[tuple[str, Field]]:
    """Every column ("" before it) and every entry of a duty."""
    yield from (("", field) for field in columns().values())
    yield from ((table, field) for table in duty_tables() for field in duty_fields(table).values())


GOOD = {
    "text": ["A1", "three  flat\tpins", "0"],
    "words": ["HLP", "HL, HLP; HVLP", " ;, ", "HFC,"],
    "yes-no": ["yes", "No", "maybe", "true"],
    "fluid": ["HLP", "hfc", "HFDU", "water"],
    "count": ["0", "12", "1.5", "-1", "٣", "007", "²", "7" * 5000],
    "price": ["85.50", "85,50 EUR", "€ 120", "USD1,200", "-1", "12 eur", "EUR", "1 200 GBP", "EUR 5 EUR", "-0"],
    "protection": ["IP65", "ip 54", "IP69K", "IP7", "65", "IP 70", "ıp65"],
    "interface": [
        "NG10", "ng 6", "D03", "d5", "ISO 4401-05-04-0-05:2005", "4401-3", "other:  Our Plate", "NG 12", "D010",
    ],
    "position": ["shut", "P-A, B-T", "a-b-t restricted", "none", "P-A, A-T"],
    "points": [
        "20 L/min 3 bar; 40 L/min 9.5 bar", "40 L/min 9,5 bar ;20 L/min 3 bar;", "20 L/min 3", ";", "it's 3 L/min x",
        "20 L/min 3 bar; 20 L/min 4 bar", "20 L/min 9 bar; 40 L/min 3 bar", "0 L/min 3 bar",
        "60 L/min 210 bar; 40 L/min 315 bar; 30 L/min 315 bar",
    ],
}  # fmt: skip


def cell_texts(dice: random.Random, field: Field) -> list[str]:
    kind, words = field.kind, field.words
    if kind == "choice":
        good = [*words, "other", "", words[0] + "x"]
    elif kind == "quantity":
        unit = words[1] if words[1:] and words[1] not in ("any", "from") else "%"
        good = [f"{dice.choice(['5', '31,5', '1 1/2', '-3', '0', '4,500', '1e2'])} {unit}" for _ in range(4)]
        good += [reading(dice, words[0]) for _ in range(3)] + ["12", "-0", "12,5"]
        good += [f"7 {dice.choice(choices(words[0]))}" for _ in range(3)]
    else:
        good = GOOD[kind]
    return visible_texts([*good, *(typed(dice, dice.choice(good)) for _ in range(6)), nonsense(dice)])
