"""The few exceptions: each says which entry, what came, what is needed and what to do."""

from collections.abc import Iterable
from typing import NamedTuple


class Trouble(NamedTuple):
    """One wrong entry, in the four parts that every reader gets (command line, JSON, page)."""

    entry: str
    got: str
    need: str
    do: str
    where: str | None = None

    def __str__(self) -> str:
        place = f"{self.where}: " if self.where else ""
        return f"{place}{self.entry}: got {self.got}, need {self.need}. {self.do}"

    def as_json(self) -> dict[str, str]:
        """The four parts under the names of the failure contract; `where` only when known."""
        row = {"entry": self.entry, "got": self.got, "need": self.need, "do": self.do}
        return row | {"where": self.where} if self.where else row


class InputError(ValueError):
    """Entries that cannot be read. Carries every wrong entry at once, never only the first."""

    def __init__(self, troubles: Iterable[Trouble] | Trouble) -> None:
        self.troubles = (troubles,) if isinstance(troubles, Trouble) else tuple(troubles)
        super().__init__("\n".join(str(trouble) for trouble in self.troubles))


class DataError(RuntimeError):
    """A file of the project's own data is wrong: names file, table and key."""


class NoValue(ArithmeticError):
    """The entries can be read, but the calculation has no value there; the text says why.

    `outside`: where a table was left, (name, name of what is looked up, value, lowest, highest) in SI; the door tells
    them in shop units.
    """

    def __init__(self, why: str, outside: tuple[str, str, float, float, float] | None = None) -> None:
        self.outside = outside
        super().__init__(why)


def nearest(word: str, known: Iterable[str], most: int = 3) -> list[str]:
    """The nearest known spellings of `word`, best first."""
    from difflib import get_close_matches  # 7 ms, needed only on the way to an error

    return get_close_matches(word, list(known), n=most, cutoff=0.4)
