"""How a number is shown to a reader. The files keep full precision; here it is only rounded for the eye."""

from math import isfinite

from valvecalc.numbers import figure

MINUS = "\N{MINUS SIGN}"
_NO_UNIT = ("", "1", "text")


def shown(value: object, uncertainty: object = None, digits: int = 3) -> str:
    """A value as text, with `± U` when an uncertainty in the same unit is known.

    The uncertainty gets two significant digits and the value ends at the same place (JCGM 100:2008, 7.2.6);
    without one the value gets `digits` significant digits and loses zeros at the end: for charts and prose.
    Text comes back as it is, None as "no value".
    """
    if value is None:
        return "no value"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if not isinstance(value, (int, float)):
        return str(value)
    if isfinite(value) and isinstance(uncertainty, (int, float)) and isfinite(uncertainty) and uncertainty > 0:
        places = 1 - int(f"{uncertainty:.1e}".split("e")[1])
        return f"{_fixed(value, places)} ± {_fixed(uncertainty, places)}"
    text = _signed(value, digits)
    return text.rstrip("0").rstrip(".") if "." in text and "e" not in text else text


def quantity(value: object, unit: str = "", uncertainty: object = None, digits: int = 3) -> str:
    """A value with its unit; `(120 ± 4) N` where an uncertainty stands between the two. A ratio has no unit."""
    return _with_unit(shown(value, uncertainty, digits), value, unit)


def full_quantity(value: object, unit: str = "", uncertainty: object = None) -> str:
    """The same with four significant digits, zeros kept, as in the worked lines; a whole ratio stays whole."""
    if not isinstance(value, float) or uncertainty or (unit in _NO_UNIT and value.is_integer()):
        return quantity(value, unit, uncertainty)
    return _with_unit(_signed(value, 4), value, unit)


def percent(share: float | None, half_width: float | None = None) -> str:
    """A share as per cent, to the whole per cent: nobody weighs a spool's margin more finely."""
    if share is None:
        return "no value"
    text = _fixed(100 * share, 0)
    return f"({text} ± {_fixed(100 * half_width, 0)}) %" if half_width else f"{text} %"


def _signed(value: float, digits: int) -> str:
    if isinstance(value, int) or (digits < 4 and abs(value) >= 100 and isfinite(value) and abs(value) < 1e9):
        return _fixed(value, 0)
    text = figure(value, digits)
    return MINUS + text[1:] if text.startswith("-") else text


def _with_unit(text: str, value: object, unit: str) -> str:
    if value is None or unit in _NO_UNIT:
        return text
    return f"({text}) {unit}" if "±" in text else f"{text} {unit}"


def _fixed(value: float, places: int) -> str:
    """Rounded to so many decimals (tens and hundreds if negative), half away from zero as `figure` does it."""
    if not isfinite(value):
        return "no value"
    mantissa, power = f"{abs(value):.40e}".split("e")
    kept = max(int(power) + 1 + places, -1)
    known = mantissa.replace(".", "").ljust(kept + 1, "0")
    # Before its first digit a number has none: a zero stands there.
    whole = int(known[:kept] or "0") + (known[kept] >= "5") if kept >= 0 else 0
    digits = str(whole * 10 ** max(-places, 0)).rjust(places + 1, "0")
    text = f"{digits[:-places]}.{digits[-places:]}" if places > 0 else digits
    return MINUS + text if value < 0 and whole else text
