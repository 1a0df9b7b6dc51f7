"""The answer to one calculation: numbers in SI with their origin; whoever shows it renders it.

Steps, uncertainty and the JSON form are worked only when asked for.
"""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, NamedTuple

from valvecalc.formula import Card
from valvecalc.quantities import VOCABULARY

if TYPE_CHECKING:
    from valvecalc.uncertainty import Spread
    from valvecalc.worked import Step

#: Raised when a name of the JSON form changes; additions are free.
SCHEMA = 1


class Entry(NamedTuple):
    """One entry as it came: the text typed, its value and unit, SI, what it is known to, whence.

    spreads  ((standard uncertainty in SI, instrument id or None), ...): independent parts; of a list
             entry one dict for each row, column -> such a tuple
    origin   measured, nameplate, standard, handbook, common-practice, judgement, shop, user
    """

    text: str
    value: Any
    unit: str
    si: Any
    spreads: Any = ()
    origin: str = "user"
    source: str = ""


class Lack(NamedTuple):
    """Something not computed: the entry it needs, why, and how to get it."""

    entry: str
    why: str
    how: str


class Answer:
    """Card, entries and results of one calculation. `value` is the headline in SI (None: no value)."""

    __slots__ = (
        *("_spreads", "_steps", "card", "entries", "missing", "reason", "results"),
        *("solved", "solved_spread", "system", "units", "values"),
    )

    def __init__(
        self,
        card: Card,
        entries: Mapping[str, Entry],
        values: Mapping[str, Any],
        results: Mapping[str, Any],
        missing: tuple[Lack, ...] = (),
        reason: str = "",
        system: str = "metric",
        units: Mapping[str, str] | None = None,
    ) -> None:
        self.card, self.entries, self.values, self.results = card, entries, values, results
        self.missing, self.reason, self.system = missing, reason, system
        self.units = units or {}
        #: the entry that was solved for, told first; else None
        self.solved: str | None = None
        self.solved_spread: Spread | None = None
        self._steps: tuple[Step, ...] | None = None
        self._spreads: dict[str, Spread] | None = None

    @property
    def headline(self) -> str:
        """Name of the result told first: the first of the card that could be computed, rows excepted."""
        single = (name for name in self.card.results or (self.card.result,) if name not in self.card.rows)
        return next((name for name in single if name in self.results), self.card.result)

    @property
    def value(self) -> Any:
        """The headline in SI, or None where there is no value."""
        return self.results.get(self.headline)

    def unit(self, name: str) -> str:
        """The unit a result or entry is printed in: as typed, as asked for, or the vocabulary's."""
        if name in self.units:
            return self.units[name]
        if name in self.entries and self.entries[name].unit and name != self.solved:
            return self.entries[name].unit
        quantity = VOCABULARY[name]
        return quantity.us if self.system == "us" else quantity.metric

    def printed(self, name: str) -> Any:
        """A result in its printed unit."""
        from valvecalc.units import from_si

        value = self.results.get(name)
        dimension = VOCABULARY[name].dimension
        if isinstance(value, bool) or not isinstance(value, int | float) or dimension in ("text", "rows"):
            return value
        return from_si(value, self.unit(name), dimension)

    @property
    def quantity(self) -> Any:
        """The headline as a pint Quantity in its printed unit."""
        from valvecalc.units import to_quantity

        return to_quantity(self.value, VOCABULARY[self.headline].dimension, self.unit(self.headline))

    @property
    def steps(self) -> "tuple[Step, ...]":
        """The worked lines, in the order of the body."""
        if self._steps is None:
            from valvecalc.worked import work

            self._steps = work(self.card, self.values, self.system) if self.results else ()
        return self._steps

    @property
    def spreads(self) -> "dict[str, Spread]":
        """Result -> standard uncertainty in SI and who causes it; empty where no entry carries any."""
        if self._spreads is None:
            from valvecalc.door import spread_of

            self._spreads = spread_of(self)
        return self._spreads

    def expanded(self, name: str) -> float | None:
        """U (k = 2) of a result in SI, or None where nothing is known of it."""
        spread = self.spreads.get(name)
        return None if spread is None else 2.0 * spread.u

    def to_json(self) -> dict[str, Any]:
        """The answer contract as plain data, numbers at full precision."""
        from valvecalc.answer_json import answer_json

        return answer_json(self)
