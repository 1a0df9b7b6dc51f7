"""Limits as data: "> 0 mm, <= 500 mm" on a card, read once into SI; ends belong or do not."""

from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

from valvecalc.errors import DataError
from valvecalc.formula import REGISTER, Card
from valvecalc.quantities import VOCABULARY
from valvecalc.units import read

#: Bracket for `solve` where a card leaves an end open: an entry no bench ever sees lies beyond.
WIDEST = 1e12


class Limit(NamedTuple):
    """Two ends in SI; None is open. `low_in` and `high_in` tell whether the end itself belongs."""

    low: float | None
    high: float | None
    low_in: bool
    high_in: bool
    text: str

    def holds(self, value: float) -> bool:
        """Whether a value lies inside."""
        if self.low is not None and (value < self.low or (value == self.low and not self.low_in)):
            return False
        return not (self.high is not None and (value > self.high or (value == self.high and not self.high_in)))


def parse_limit(text: str, entry: str) -> Limit:
    """Read the words of a limit; a wrong one is a fault of the card, not of the user."""
    low: float | None = None
    high: float | None = None
    low_in = high_in = True
    dimension = VOCABULARY[entry].dimension
    for part in text.split(","):
        word, _, value = part.strip().partition(" ")
        if word not in (">", ">=", "<", "<="):
            raise DataError(f"limit of {entry}: {text!r} must read like '> 0 mm, <= 500 mm'")
        si = read(value, entry, dimension).si
        if word[0] == ">":
            low, low_in = si, word == ">="
        else:
            high, high_in = si, word == "<="
    return Limit(low, high, low_in, high_in, text)


def limits_of(card: Card) -> Mapping[str, Limit]:
    """The hard limits of a card's entries and columns: outside, there is nothing to calculate."""
    return _limits(card.id)


def trusted_of(card: Card) -> Mapping[str, tuple[Limit, str]]:
    """The ranges a card is trusted in, with the sentence for outside."""
    return _trusted(card.id)


@cache
def _limits(card_id: str) -> dict[str, Limit]:
    return {name: parse_limit(text, name) for name, text in REGISTER[card_id].limits.items()}


@cache
def _trusted(card_id: str) -> dict[str, tuple[Limit, str]]:
    return {name: (parse_limit(text, name), says) for name, (text, says) in REGISTER[card_id].trusted.items()}


def bracket(card: Card, entry: str) -> tuple[float, float]:
    """Where to look for an entry: its limits, an excluded end moved in by a trifle of the range."""
    limit = limits_of(card).get(entry) or Limit(None, None, True, True, "")
    low = limit.low if limit.low is not None else -WIDEST
    high = limit.high if limit.high is not None else WIDEST
    trifle = (high - low) * 1e-12
    return (low if limit.low_in else low + trifle, high if limit.high_in else high - trifle)
