"""Amounts of money as a shop types them: a number with its currency before or behind it; one currency at a time."""

import re
from typing import NamedTuple
from unicodedata import category

from valvecalc.numbers import Refused, plain, split_number

_BEFORE = re.compile(r"[^0-9+\-., ]{0,5}")
#: Currencies that are neither a sign nor three capital letters: else "about 500" would be 500 of the currency about.
_WORDS = frozenset(("kr", "Kč", "zł", "Ft", "lei", "din", "Rs", "Fr", "SFr"))


class Money(NamedTuple):
    """An amount and the currency as it was written, before or behind."""

    amount: float
    before: str
    behind: str

    @property
    def text(self) -> str:
        """As the shop would write it: whole, or with two decimals."""
        amount = round(self.amount + 0.0, 2)
        number = f"{amount:.0f}" if amount == int(amount) else f"{amount:.2f}"
        gap = " " if self.before[-1:].isalpha() else ""
        return f"{self.before}{gap}{number} {self.behind}".strip()


def money(text: str) -> Money | None:
    """The amount that a text states; None where it is none, is not plain, or has no currency."""
    told = plain(str(text))
    before = _BEFORE.match(told)
    lead = before.group() if before else ""
    try:
        amount, _, behind = split_number(told[len(lead) :].strip(), "190 EUR")
    except Refused:
        return None
    behind = behind.strip()
    fits = bool(lead) != bool(behind) and _currency(lead or behind) and amount >= 0.0
    return Money(amount, lead, behind) if fits else None


def _currency(text: str) -> bool:
    """Whether a text names a currency: a sign, alone or behind letters (US$), its three letters, or a known word."""
    if len(text) <= 4 and any(category(sign) == "Sc" for sign in text):
        return not re.search(r"[a-z0-9]", text)
    return bool(re.fullmatch(r"[A-Z]{3}", text)) or text in _WORDS


def alike(*amounts: Money) -> bool:
    """Whether all are of one currency."""
    return len({(one.before, one.behind) for one in amounts}) <= 1


def together(*amounts: Money) -> Money:
    """Their sum; they must be alike."""
    return amounts[0]._replace(amount=sum(one.amount for one in amounts))
