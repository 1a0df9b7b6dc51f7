"""Texts, shop units and Quantities to SI floats and back. The only module that imports pint, on first need.

Texts are read by the table of data/units.toml alone; pint only meets Quantities.
"""

import re
from functools import lru_cache
from typing import Any, NamedTuple

from valvecalc.errors import InputError, Trouble
from valvecalc.numbers import UNFINISHED, Refused, figure, plain, split_number, visible
from valvecalc.unit_table import (
    Dimension,
    Unit,
    check_possible,
    check_reference,
    choices,
    dimension_names,
    dimension_row,
    find,
    refuse_trap,
    table_for_javascript,
    tidy,
)

__all__ = [
    "Reading",
    "Unit",
    "choices",
    "dimension_of",
    "figure",
    "from_quantity",
    "from_si",
    "read",
    "registry",
    "show",
    "standard_uncertainty",
    "table_for_javascript",
    "to_quantity",
    "to_si",
    "unit_row",
]

#: A limit of error is a difference, whatever it belongs to.
_DIFFERENCE_OF = {
    "temperature": "temperature_difference",
    "pressure": "pressure_difference",
    "pressure_abs": "pressure_difference",
}


class Reading(NamedTuple):
    """A text that was read.

    text        as typed
    value       the number in `unit`
    unit        printed form of the unit, "" for a plain number
    si          the value in SI
    half_width  what stood after ±, in SI; None if nothing did
    expanded    True if it was marked (k=2), else it is a limit of error
    """

    text: str
    value: float
    unit: str
    si: float
    half_width: float | None
    expanded: bool


def read(text: str, entry: str, dimension: str) -> Reading:
    """What a text says: number, unit, optionally ± number and unit (or %).

    `entry` names it in the message. Raises InputError with one Trouble.
    """
    try:
        return _read(text, dimension)
    except Refused as refused:
        raise InputError(Trouble(entry, visible(text), refused.need, refused.do)) from None


@lru_cache(maxsize=4096)
def _read(text: str, dimension: str) -> Reading:
    asked = dimension_row(dimension)
    main, *spread = plain(text).replace("+/-", "±").replace("+-", "±").split("±")
    if len(spread) > 1:
        raise Refused("one ± only", f"Write it like {asked.examples[0]} ± 2 %.")
    value, unit = _value_and_unit(main.strip(), asked, asked.examples[0])
    si = value * unit.factor + unit.offset
    check_possible(si, asked)
    if dimension == "count" and value != int(value):
        raise Refused("a whole number", "Enter it without a fraction.")
    if not spread:
        return Reading(text, value, unit.printed, si, None, False)
    half_width, expanded = _half_width(spread[0].strip(), value, unit, main.strip())
    return Reading(text, value, unit.printed, si, half_width, expanded)


def _value_and_unit(text: str, asked: Dimension, example: str) -> tuple[float, Unit]:
    if not text[:1].isdecimal():  # "ISO VG 46": the grade has no number in front
        refuse_trap(text.rstrip("0123456789 "), asked.name)
    value, number, rest = split_number(text, example)
    if not rest and "" not in asked.names:
        raise Refused("a unit as well", f"{number} what? For example {' or '.join(asked.examples)}.")
    try:
        unit, kind = find(rest, asked.name)
    except Refused:
        if rest and rest[0] in UNFINISHED:
            raise Refused("one number, then its unit", f"Write it in the form {example}.") from None
        raise
    check_reference(kind, value, unit, text)
    return value, unit


def _half_width(text: str, value: float, unit: Unit, main: str) -> tuple[float, bool]:
    """What stands after ±, in SI, and whether it is expanded."""
    coverage = re.search(r"\( ?[kK] ?= ?([0-9]+(?:[.,][0-9]+)?) ?\)$", text)
    if coverage:
        text = text[: coverage.start()].strip()
    if "(k" in text.lower().replace(" ", "") or (coverage and float(coverage.group(1).replace(",", ".")) != 2):
        raise Refused("a limit of error, or an expanded uncertainty marked (k=2)", f"Write it like {main} ± 2 % (k=2).")
    difference = _DIFFERENCE_OF.get(unit.dimension, unit.dimension)
    number, _, rest = split_number(text, "± 2 %")
    if number < 0:
        raise Refused("a limit of error of 0 or more", "Write it after ± without a sign.")
    if not rest and unit.printed:
        raise Refused("a unit after ± as well", f"Write it like {main} ± {text} {unit.printed}.")
    if tidy(rest) == "%" and unit.printed != "%":
        if unit.dimension == "temperature":
            raise Refused("the limit of a temperature in K, °C or °F", "Write it like 40 °C ± 1 K.")
        half_width = abs(value) * unit.factor * number / 100
    else:
        row, kind = find(rest, difference)
        check_reference(kind, number, row, text)
        half_width = number * row.factor
    check_possible(half_width, dimension_row(difference))
    return half_width, bool(coverage)


def standard_uncertainty(reading: Reading) -> float | None:
    """Standard uncertainty of a reading in SI, None if no ± was given.

    A limit of error counts as rectangular, a/√3; an expanded uncertainty with k = 2 as U/2
    (JCGM 100:2008, 4.3.7 and 6.2.1).
    """
    if reading.half_width is None:
        return None
    return reading.half_width / (2 if reading.expanded else 3**0.5)


@lru_cache(maxsize=1024)
def _row(unit: str, dimension: str) -> Unit:
    row, kind = find(plain(unit), dimension)
    if kind and kind != {"pressure": "gauge", "pressure_abs": "absolute"}.get(dimension):
        raise Refused(dimension_row(dimension).says, f"Write {row.printed}: the entry says what it is measured from.")
    return row


def unit_row(unit: str, dimension: str, entry: str = "unit") -> Unit:
    """The row meant by a spelling in a dimension. Raises InputError."""
    try:
        return _row(unit, dimension)
    except Refused as refused:
        raise InputError(Trouble(entry, visible(unit), refused.need, refused.do)) from None


def dimension_of(unit: str) -> str:
    """The first dimension of the table that has this spelling, letter by letter. Raises InputError."""
    typed = tidy(plain(unit))
    for name in dimension_names():
        if typed in dimension_row(name).names:
            return name
    raise InputError(Trouble("unit", visible(unit), "a unit of the table", "Check its spelling, capitals included."))


def to_si(value: float, unit: str, dimension: str) -> float:
    """A value in a shop unit, in SI."""
    row = unit_row(unit, dimension)
    return value * row.factor + row.offset


def from_si(si: float, unit: str, dimension: str) -> float:
    """An SI value in a shop unit."""
    row = unit_row(unit, dimension)
    return (si - row.offset) / row.factor


def show(si: float, dimension: str, unit: str, digits: int = 4) -> str:
    """An SI value as text in a shop unit: 1.914 L/min. Counts print whole; `read` takes it back."""
    printed = unit_row(unit, dimension).printed
    value = from_si(si, unit, dimension)
    number = str(int(value)) if dimension == "count" and value.is_integer() else figure(value, digits)
    return f"{number}{'' if printed in ('', '°') else ' '}{printed}"


def registry() -> Any:
    """The pint registry that Quantities are handed out in: the application's own."""
    import pint

    return pint.get_application_registry()  # type: ignore[no-untyped-call]


def to_quantity(si: float, dimension: str, unit: str | None = None) -> Any:
    """An SI value as a pint Quantity in a unit of the table, in any other unit that pint knows, or in SI.

    Raises InputError when the unit is unknown to both or of another dimension.
    """
    quantities = registry()
    asked = dimension_row(dimension)
    if unit is None:
        return quantities.Quantity(si, asked.pint)
    try:
        row = _row(unit, dimension)
    except Refused as refused:
        from pint.errors import PintError

        try:
            return quantities.Quantity(si, asked.pint).to(unit)
        except (PintError, AttributeError, TypeError, ValueError):
            raise InputError(Trouble("unit", visible(unit), refused.need, refused.do)) from None
    return quantities.Quantity((si - row.offset) / row.factor, row.pint)


#: (registry, unit, dimension) -> factor to SI, or None where zero is not zero (°C) and pint must shift.
_factors: dict[tuple[Any, Any, str], float | None] = {}


def from_quantity(quantity: Any, entry: str, dimension: str) -> float:
    """A pint Quantity of any registry in SI. Raises InputError for another dimension or no single number."""
    try:
        magnitude = float(quantity.magnitude)
        key = (quantity._REGISTRY, quantity._units, dimension)  # q.units builds a new object at each call
        try:
            factor = _factors[key]
        except KeyError:
            factor = _factors[key] = _factor(quantity, dimension)
        si = magnitude * factor if factor is not None else float(quantity.m_as(dimension_row(dimension).pint))
        check_possible(si, dimension_row(dimension))
        return si
    except TypeError:
        do = "Pass arrays to the formula itself."
        raise InputError(Trouble(entry, visible(str(quantity)), "a Quantity with one number", do)) from None
    except Refused as refused:
        raise InputError(Trouble(entry, visible(str(quantity)), refused.need, refused.do)) from None


def _factor(quantity: Any, dimension: str) -> float | None:
    """Factor to SI of a Quantity's unit. Compared in root units, not only by dimension: to pint a radian and
    a plain number are one dimension, so it would turn 60 rpm into 6.28 Hz."""
    from pint.errors import PintError

    asked = dimension_row(dimension)
    units = quantity.units
    quantities = quantity._REGISTRY
    try:
        root = quantities.get_root_units(units)[1]
        fits = root == quantities.get_root_units(quantities.Unit(asked.pint))[1]
        one = quantities.Quantity(1.0, units)
        shifted = quantities.Quantity(0.0, units).to_root_units().magnitude != 0
    except PintError:
        fits = False
    if not fits or (dimension == "temperature" and "delta_" in str(units)):
        raise Refused(asked.says, f"Convert it first, for example to {asked.examples[0]}.")
    if shifted and dimension != "temperature":
        raise Refused(asked.says, "Use pint's delta_degC or kelvin: this is a temperature, not a difference.")
    return None if shifted else float(one.m_as(asked.pint))
