"""Readings as people type them, and as nobody should: made at random for both languages."""

import math
import random
import re
import struct
import sys
import unicodedata
from collections.abc import Iterator

from valvecalc.unit_table import dimension_names, dimension_row

DIMENSIONS = dimension_names()
ROWS = [row for name in DIMENSIONS for row in dimension_row(name).units]
SPELLINGS = sorted({spelling for name in DIMENSIONS for spelling in dimension_row(name).names if spelling})

#: More than Python's own blanks: U+FEFF is one to JavaScript alone, U+001C to U+001F and U+0085 to Python alone.
BLANKS = " \t\n\v\f\r\x1c\x1d\x1e\x1f\x85\xa0\u1680\u2000\u2009\u200b\u2028\u2029\u202f\u205f\u3000\ufeff"


def one_language(text: str) -> bool:
    """Whether both languages see the same text: a high surrogate before a low one is two characters to Python alone,
    and what Python's edition of Unicode lacks may be a letter in node's."""
    return not re.search("[\ud800-\udbff][\udc00-\udfff]", text) and "Cn" not in map(unicodedata.category, text)


def variants(spelling: str) -> Iterator[str]:
    """A unit as it is typed and mistyped."""
    yield from (spelling, spelling.upper(), spelling.lower(), spelling.swapcase(), spelling.title())
    yield from (
        spelling[:-1],
        spelling[1:],
        spelling + "s",
        spelling + "*m*s",
        f" {spelling} ",
        spelling[::-1],
        spelling.replace("·", "*"),
    )
    yield from (
        spelling.replace("²", "^2").replace("³", "**3"),
        spelling.replace("/", " / "),
        spelling.replace("µ", "μ"),
    )


def number(dice: random.Random) -> str:
    """A number in one of the ways people write it, or nearly."""
    whole = str(dice.randrange(10 ** dice.randrange(1, 9)))
    part = str(dice.randrange(10 ** dice.randrange(1, 8)))
    grouped = f"{dice.randrange(10 ** dice.randrange(3, 11)):,}"
    mark = dice.choice(".,")
    body = dice.choice(
        [
            whole,
            f"{whole}{mark}{part}",
            f"{whole}{mark}",
            f"{mark}{part}",
            f"0{mark}{part}",
            grouped,
            grouped.replace(",", dice.choice(" '’.\u202f\xa0,")),
            grouped.replace(",", dice.choice(" '.,")) + mark + part,
            f"{dice.randrange(40)}/{dice.randrange(70)}",
            f"{whole} {dice.randrange(40)}/{dice.randrange(70)}",
            f"{'7' * dice.randrange(15, 40)}/{'3' * dice.randrange(15, 40)}",
            "9" * dice.randrange(1, 130),
            f"0.{'0' * dice.randrange(20)}{'123456789' * dice.randrange(1, 9)}",
        ]
    )
    power = dice.choice(["e", "E"]) + dice.choice(["", "-", "+", "−"]) + str(dice.randrange(dice.choice([4, 20, 340])))
    sign = dice.choice(["", "", "", "-", "+", "−", "- ", "+-", "--"])
    return sign + body + (power if dice.random() < 0.2 else "")


def unit(dice: random.Random, dimension: str) -> str:
    """A unit: of the dimension, of any, mistyped, or none."""
    pick = dice.random()
    spelling = dice.choice(list(dimension_row(dimension).names)) if pick < 0.6 else dice.choice(SPELLINGS)
    return dice.choice(list(variants(spelling))) if pick % 0.1 < 0.03 else spelling


def reading(dice: random.Random, dimension: str) -> str:
    """Number and unit, at times with a limit of error."""
    blank = dice.choice(["", " ", " ", "  ", dice.choice(BLANKS)])
    text = number(dice) + blank + unit(dice, dimension)
    if dice.random() < 0.4:
        spread = number(dice) if dice.random() < 0.5 else str(dice.randrange(9))
        text += dice.choice(["±", " ± ", "+-", " +/- ", "±±"]) + spread + blank
        text += dice.choice(["%", " %", unit(dice, dimension), unit(dice, dimension)])
        text += dice.choice(
            ["", "", "", " (k=2)", "(K = 2)", " (k=2,0)", " (k=1)", "(k = 3)", " (k)", "(k=2) ", "( k=2 )"]
        )
    return text


def spoilt(dice: random.Random, text: str) -> str:
    """The text with a character or two struck out, doubled, changed or put in."""
    characters = list(text)
    for _ in range(dice.randrange(1, 4)):
        place = dice.randrange(len(characters) + 1)
        characters[place : place + dice.randrange(2)] = dice.choice(
            [
                "",
                dice.choice(BLANKS),
                dice.choice("0123456789.,'/+-−eE±%()k=mMµμ²³·*^\x00\x7f\ud834٣߀KΩΣİ＋％"),
                text[:place],
            ]
        )
    return "".join(characters)


def nonsense(dice: random.Random) -> str:
    """Characters of the grammar, or any at all; at times far too many."""
    length = dice.choice([0, 1, 2, 5, 20, 59, 60, 61, 62, 119, 120, 121, 1000])
    near = "0123456789 .,'/+-−eE±%()k=2 barmMpPsi°CµΩ" + BLANKS
    pick = dice.choice(["near", "low", "any", "one"])
    if pick == "near":
        return "".join(dice.choices(near, k=length))
    if pick == "one":
        return dice.choice(near) * length
    return "".join(map(chr, dice.choices(range(0x300) if pick == "low" else range(sys.maxunicode + 1), k=length)))


# --- Reading


ODD = [0.0, -0.0, 5e-324, -5e-324, 2.2250738585072014e-308, 1e-5, 1e308, -1.7976931348623157e308, 0.1, 1e21, 1e23, 9.5]


def doubles(dice: random.Random, count: int) -> Iterator[float]:
    """Any double by its bits, figures of the shop, and exact halves of every size."""
    yield from ODD
    while count:
        count -= 1
        pick = dice.randrange(4)
        if pick == 0:
            (value,) = struct.unpack("<d", dice.randbytes(8))
            yield value if math.isfinite(value) else 1.0
        elif pick == 1:
            yield dice.uniform(-1, 1) * 10.0 ** dice.randrange(-9, 12)
        elif pick == 2:
            yield (dice.randrange(2 ** dice.randrange(1, 53)) + 0.5) * 2.0 ** -dice.randrange(12) * dice.choice([1, -1])
        else:
            yield (dice.randrange(10 ** dice.randrange(1, 9)) * 10 + 5) * 10.0 ** dice.randrange(8)
