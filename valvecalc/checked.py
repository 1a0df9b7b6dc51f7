"""Figures printed by somebody else, worked again by our own formulas: the cases of tests/published/.

The folder is no part of an installed package; tests and the site read it from the source tree.
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from valvecalc.door import calc, find
from valvecalc.facts import parse_toml
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_si, read

#: File of the cases that were looked at and not taken, with the reason.
LEFT_OUT = "left_out.toml"


class Case(NamedTuple):
    """One published figure.

    topic    name of its file
    given    entry -> text with unit, as the source gives it
    expect   the printed value with its unit
    within   tolerance as a text with unit; `why` says where it comes from
    source   key of data/sources.toml
    status   "seen" where the figure was read, "library" where an open library computed it
    """

    topic: str
    id: str
    formula: str
    given: Mapping[str, str]
    expect: str
    within: str
    why: str
    source: str
    locator: str
    status: str


class Checked(NamedTuple):
    """A case with our value; numbers in the unit of the printed value."""

    case: Case
    ours: float
    expected: float
    tolerance: float
    unit: str

    @property
    def difference(self) -> float:
        """Ours minus printed."""
        return self.ours - self.expected

    @property
    def holds(self) -> bool:
        """Whether ours lies within the tolerance."""
        return abs(self.difference) <= self.tolerance


class LeftOut(NamedTuple):
    """A figure that was looked at and not taken."""

    id: str
    why: str


def cases(folder: Path) -> list[Case]:
    """All cases of a folder, topic by topic. Raises InputError with file and line where one cannot be read."""
    found = []
    for path in sorted(folder.glob("*.toml")):
        rows = parse_toml(path.read_bytes(), path.name).get("case", [])
        found += [Case(topic=path.stem, **row) for row in rows]
    return found


def left_out(folder: Path) -> list[LeftOut]:
    """The figures that were not taken; empty where there is no such list."""
    path = folder / LEFT_OUT
    rows: list[dict[str, Any]] = parse_toml(path.read_bytes(), path.name)["left"] if path.exists() else []
    return [LeftOut(**row) for row in rows]


def check(case: Case) -> Checked:
    """Work a case through the door, as a user would."""
    card = find(case.formula)
    dimension = VOCABULARY[card.result].dimension
    expected = read(case.expect, card.result, dimension)
    ours = from_si(calc(card.id, **case.given).results[card.result], expected.unit, dimension)
    return Checked(case, ours, expected.value, tolerance(case.within, card.result, expected.unit), expected.unit)


def tolerance(within: str, name: str, unit: str) -> float:
    """The tolerance in the unit of the expected value; one in K serves a temperature, part of one a whole number."""
    dimension = VOCABULARY[name].dimension
    if dimension == "count":
        return read(within, name, "ratio").si
    if dimension == "temperature":
        return read(within, name, "temperature_difference").si
    return from_si(read(within, name, dimension).si, unit, dimension)
