"""Numbers as people write them, and as we print them. No units here."""

import math
import re
from functools import lru_cache


class Refused(ValueError):
    """A text that cannot be read: what is needed and what to do. `units` adds the entry's name."""

    def __init__(self, need: str, do: str) -> None:
        self.need = need
        self.do = do
        super().__init__(need, do)


#: A number at the start of a text. Groups: 1 sign · 2 whole, 3 over, 4 under of a fraction · 5 grouped by blanks or
#: apostrophes · 6 grouped by commas · 7 grouped by dots · 8, 9 either side of a lone comma · 10 plain · 11 exponent.
#: Written so that JavaScript reads the same pattern; [0-9] and not \d, which in Python takes Arabic-Indic digits.
NUMBER = (
    r"^([+-]?) ?(?:(?:([0-9]+) )?([0-9]+)/([0-9]+)"
    r"|(?:([0-9]{1,3}(?:[ '][0-9]{3})+(?:[.,][0-9]+)?)"
    r"|([0-9]{1,3}(?:,[0-9]{3})+\.[0-9]+|[0-9]{1,3}(?:,[0-9]{3}){2,})"
    r"|([0-9]{1,3}(?:\.[0-9]{3})+,[0-9]+|[0-9]{1,3}(?:\.[0-9]{3}){2,})"
    r"|([0-9]+),([0-9]+)"
    r"|([0-9]+\.?[0-9]*|\.[0-9]+))(?:[eE]([+-]?[0-9]+))?)"
)
_NUMBER = re.compile(NUMBER)

#: Characters that cannot follow a whole number; left over, they mean that the number was not understood.
UNFINISHED = "0123456789.,'/+-"

_LONGEST = 120
_STAND_INS = str.maketrans({"\u2212": "-", "\u2019": "'", "\uff05": "%"})


def plain(text: str) -> str:
    """The text with every kind of blank as one space, and typographic minus and apostrophe as typed ones."""
    return " ".join(text.translate(_STAND_INS).split())


def visible(text: str) -> str:
    """What came, in quotes, fit for a message: control characters written out, cut to 60 characters."""
    cut = text if len(text) <= 60 else text[:59] + "…"
    return "'" + "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in cut) + "'"


def split_number(text: str, example: str) -> tuple[float, str, str]:
    """The number at the start of `text` (already `plain`), its own text, and what follows it.

    Raises Refused, with `example` as the pattern to follow.
    """
    if len(text) > _LONGEST:
        raise Refused("one number and its unit", f"Shorten the entry to the form {example}.")
    if not text:
        raise Refused(f"a number, for example {example}", "Fill it in, or leave the entry out if there is no reading.")
    match = _NUMBER.match(text)
    if not match:
        raise _no_number(text, example)
    rest = text[match.end() :].strip()
    sign, whole, over, under, blanks, commas, dots, left, right, single, power = match.groups()
    if rest.isdecimal() or (rest[:1] == "," and right is not None):
        raise Refused("one number", f"Write it in one form only, for example {example}.")
    if under is not None:
        if not float(under):
            raise Refused("a fraction with something under the line", "Correct the number below the line: it is 0.")
        value = float(whole or 0) + float(over) / float(under)
    else:
        if right is not None and len(right) == 3 and left[0] != "0":
            whole_reading, broken_reading = left + right, f"{left}.{right}"
            raise Refused(
                f"a number that can be read one way only: {whole_reading} or {broken_reading}",
                f"Write {whole_reading} if the comma marks thousands, {broken_reading} if it is the decimal mark.",
            )
        digits = (
            (blanks and blanks.replace(" ", "").replace("'", "").replace(",", "."))
            or (commas and commas.replace(",", ""))
            or (dots and _continental(dots))
            or single
            or f"{left}.{right}"
        )
        value = float(f"{digits}e{power or 0}")
    if not math.isfinite(value):
        raise Refused("a finite number", "Check the exponent: the number is too large for any reading.")
    return (-value if sign == "-" else value), match.group().strip(), rest


def _continental(digits: str) -> str:
    return digits.replace(".", "").replace(",", ".")


def _no_number(text: str, example: str) -> Refused:
    start = text.lstrip("+- ").lower()
    if start.startswith(("nan", "inf")):
        return Refused("a finite number", "Leave the entry out if there is no reading.")
    if any(c.isdecimal() and c > "9" for c in text):
        return Refused("the digits 0 to 9", f"Type the number with these digits, for example {example}.")
    return Refused("a number first, then its unit", f"Write it like {example}.")


@lru_cache(10_000)  # page, paper and text of a report show the same figures
def figure(value: float, digits: int = 4) -> str:
    """The number alone, rounded to `digits` significant digits, trailing zeros kept: 0.02900, 12340.

    Half rounds away from zero, as on paper and as JavaScript's toExponential does. An exponent appears only
    below 0.0001 and from 1e9 on. What is not finite prints as "no value".
    """
    if not math.isfinite(value):
        return "no value"
    if not value:
        return "0"
    mantissa, exponent = f"{abs(value):.30e}".split("e")
    known = mantissa.replace(".", "")
    # A double has too few bits to lie within 1e-30 of a half without being one, so the next digit decides.
    kept = str(int(known[:digits]) + (known[digits] >= "5"))
    power = int(exponent) + len(kept) - digits
    kept = kept[:digits]
    sign = "-" if value < 0 else ""
    if not -4 <= power < 9:
        return f"{sign}{_point(kept, 1)}e{power}"
    if power < 0:
        return f"{sign}0.{'0' * (-power - 1)}{kept}"
    return sign + _point(kept.ljust(power + 1, "0"), power + 1)


def _point(digits: str, place: int) -> str:
    return f"{digits[:place]}.{digits[place:]}" if len(digits) > place else digits
