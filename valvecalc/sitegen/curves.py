"""Which chart belongs to an answer, and its figures: the curve along the entry its card names, or the stroke.

live/curve.js and live/stroke.js do the same for the entries of a reader; a test holds the two together.
"""

from collections.abc import Callable
from typing import Any

from valvecalc.answer import Answer
from valvecalc.answer_json import expanded
from valvecalc.door import NO_VALUE, function_of
from valvecalc.drawing import chart
from valvecalc.formula import Card
from valvecalc.job.charts import RESIST, stroke_chart
from valvecalc.job.verdict import label as term_label
from valvecalc.judge import limit_of
from valvecalc.limits import Limit, limits_of, trusted_of
from valvecalc.primitives import grid
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_si, read

#: Parts of a swept range, and shares of it near its start, where a root climbs steeply.
STEPS, FIRST = 60, (1 / 960, 1 / 240, 1 / 120)
#: Temperatures of a bench and its oil, in K: 0 °C to 120 °C, and what stays to either side of the reader's own.
COLD, HOT, BESIDE = 273.15, 393.15, 20.0
STROKE_TITLE = "Forces over the stroke"
_ANY = Limit(None, None, True, True, "")
_BOUND = {">=": "at least", "<=": "at most"}


def figure(answer: Answer) -> str:
    """The chart of an answer as part of a page, or nothing."""
    if "stroke_rows" in answer.results:
        spec: dict[str, Any] | None = stroke_chart(answer, STROKE_TITLE)
    else:
        spec = curve_spec(answer)
    return f'<figure class="chart">{chart(spec)}</figure>' if spec else ""


def stroke_terms(card: Card) -> dict[str, list[tuple[str, str]]]:
    """Direction -> what resists, each with its short words; of a card that has a stroke."""
    if "stroke_rows" not in card.results:
        return {}
    return {direction: [(name, term_label(name)) for name in names] for direction, names in RESIST.items()}


def curve_spec(answer: Answer) -> dict[str, Any] | None:
    """A result along the entry that the card names; None where there is nothing to draw."""
    card, entry = answer.card, answer.card.chart
    if entry is not None and entry in card.rows:
        return _spec_of_rows(answer, entry)
    result = _drawn(answer)
    if entry is None or result is None or answer.values.get(entry) is None:
        return None
    at = answer.values[entry]
    low, high = _span(card, entry, at)
    if not low < high:
        return None
    limit = limits_of(card)[entry]
    trust, _ = trusted_of(card).get(entry, (_ANY, ""))
    ends = {"low": trust.low, "high": trust.high}
    known = [end for end in ends.values() if end is not None]
    first = [low + (high - low) * share for share in FIRST]
    places = [place for place in grid(low, high, STEPS, first, [at, *known]) if limit.holds(place)]
    found = map(_along(answer, entry, result), places)
    x_told, y_told = _told(answer, entry), _told(answer, result)
    kind, key = card.judged.get(result, ("", ""))[:2]
    return {
        "kind": "curve",
        "title": card.title,
        "x": _axis(answer, entry) | {"values": [x_told(place) for place in places]},
        "y": _axis(answer, result) | {"values": [None if y is None else y_told(y) for y in found]},
        "here": _here(answer, entry, result),
        "trusted": {name: None if end is None else x_told(end) for name, end in ends.items()},
        "limits": [{"y": y_told(limit_of(key)), "label": _BOUND[kind]}] if kind in _BOUND else [],
    }


def _spec_of_rows(answer: Answer, name: str) -> dict[str, Any] | None:
    """A list that a card names is drawn as it stands: its second column over its first, the reader's place marked."""
    entry, result = answer.card.rows[name][:2]
    if name not in answer.results or result not in answer.results or answer.values.get(entry) is None:
        return None
    x_told, y_told = _told(answer, entry), _told(answer, result)
    rows = answer.results[name]
    return {
        "kind": "curve",
        "title": answer.card.title,
        "x": _axis(answer, entry) | {"values": [x_told(row[entry]) for row in rows]},
        "y": _axis(answer, result) | {"values": [None if row[result] is None else y_told(row[result]) for row in rows]},
        "here": _here(answer, entry, result),
        "trusted": {"low": None, "high": None},
        "limits": [],
    }


def _here(answer: Answer, entry: str, result: str) -> dict[str, float]:
    """The reader's own place on a curve, with what it is known to."""
    here = {"x": _told(answer, entry)(answer.values[entry]), "y": _told(answer, result)(answer.results[result])}
    if result in answer.spreads:
        u = expanded(answer, result, answer.spreads[result].u)
        here |= {"low": here["y"] - u, "high": here["y"] + u}
    return here


def _drawn(answer: Answer) -> str | None:
    """The result that the card judges if it judges one alone, else the first; of those that are figures here."""
    card = answer.card
    names = [*(card.judged if len(card.judged) == 1 else ()), *(card.results or (card.result,))]
    figures = [name for name in names if type(answer.results.get(name)) in (int, float)]
    return figures[0] if figures else None


def _span(card: Card, entry: str, at: float) -> tuple[float, float]:
    """From zero (half where zero is no value) to double, inside the limits; a temperature over the range of a bench."""
    limit = limits_of(card)[entry]
    if VOCABULARY[entry].dimension == "temperature":
        low, high = min(COLD, at - BESIDE), max(HOT, at + BESIDE)
    else:
        whole = at or read(card.example[entry], entry, VOCABULARY[entry].dimension).si
        low, high = min(0.0, 2.0 * whole), max(0.0, 2.0 * whole)
        if low == 0.0 == limit.low and not limit.low_in:
            low = whole / 2.0  # what grows beyond all bounds near zero would flatten the rest
    return (
        low if limit.low is None else max(low, limit.low),
        high if limit.high is None else min(high, limit.high),
    )


def _along(answer: Answer, entry: str, result: str) -> Callable[[float], float | None]:
    """The result at another value of the entry; None where it has none."""
    missing = frozenset(name for name, value in answer.values.items() if value is None)
    function = function_of(answer.card, missing)

    def work(place: float) -> float | None:
        try:
            return function({**answer.values, entry: place}).get(result)
        except NO_VALUE:
            return None

    return work


def _told(answer: Answer, name: str) -> Callable[[float], float]:
    """SI to the unit that an entry or result of the answer is printed in."""
    unit, dimension = answer.unit(name), VOCABULARY[name].dimension
    return lambda si: from_si(si, unit, dimension)


def _axis(answer: Answer, name: str) -> dict[str, Any]:
    return {"label": answer.card.labels.get(name) or VOCABULARY[name].meaning, "unit": answer.unit(name)}
