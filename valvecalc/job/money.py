"""Amounts of money as a shop types them: a number with its currency before or behind it; one currency at a time."""

import re
from typing import NamedTuple

from valvecalc.numbers import Refused, plain, split_number

_BEFORE = re.compile(r"[^0-9+\-., ]{0,5}")
#: A currency of letters takes a blank before its number, a sign takes none.
_MOST = 5


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
    fits = bool(lead) != bool(behind) and len(behind) <= _MOST and not re.search(r"[0-9]", behind)
    return Money(amount, lead, behind) if fits and amount >= 0.0 else None


def alike(*amounts: Money) -> bool:
    """Whether all are of one currency."""
    return len({(one.before, one.behind) for one in amounts}) <= 1


def together(*amounts: Money) -> Money:
    """Their sum; they must be alike."""
    return amounts[0]._replace(amount=sum(one.amount for one in amounts))
