"""What the page and the terminal both say: the words of origins and verdicts, names and figures of the contract."""

from collections.abc import Mapping, Sequence
from typing import Any

from valvecalc.drawing.rounding import full_quantity, percent, quantity, shown
from valvecalc.facts import load_toml

Row = Mapping[str, Any]

ORIGINS = {
    "measured": "measured",
    "nameplate": "nameplate",
    "standard": "default: standard",
    "handbook": "default: handbook",
    "common-practice": "default: common practice, no source",
    "judgement": "default: judgement",
    "shop": "the shop's own",
    "user": "typed in",
    "calculated": "calculated",
}

NO_RELEASE = (
    "This report says what was measured and calculated, at which values, and what was not tested. "
    "It releases no machine: that is for the responsible person of the site."
)
NOT_TOLD = "The job does not say what was not tested. Take nothing as tested that has no result above."
ALONE = "Each value by itself, all others as they were found: where it would turn the verdict."
ONCE = "Lines that stand above in a calculation are not repeated."
COVERAGE = "± is the expanded uncertainty, coverage factor k = 2 (JCGM 100:2008)."


def label(row: Row, key: str = "name") -> str:
    """The words for an entry or a result: its label where it has one, else its name."""
    return str(row.get("label") or row[key].replace("_", " "))


def verdict(word: str) -> str:
    """A verdict as it is read aloud."""
    return word.replace("cannot-tell", "cannot tell")


def actions(head: Row, left: bool = False) -> str:
    """The heading over what is to be done; `left`: after the work."""
    nothing = [load_toml("words/report.toml")["actions"]["none"]]
    if verdict(head["verdict"]) == "cannot tell" or list(head["actions"]) == nothing:
        return "What to do next"
    return "Still to be put right after the work" if left else "What must be put right"


def origin(word: str | None) -> str:
    """Where a figure comes from; a word that is not known is shown as it is."""
    return ORIGINS.get(word, word) if word else "origin not given"


def measured(row: Row | None) -> str:
    """Value, unit and uncertainty of a threshold, a margin or another figure told in passing."""
    return "no value" if row is None else quantity(row["value"], row.get("unit", ""), row.get("uncertainty"))


def result(row: Row) -> str:
    """Value, unit and uncertainty of a result of an answer, to the digits of the worked lines."""
    return full_quantity(row["value"], row.get("unit", ""), row.get("uncertainty"))


def worked(step: Row) -> tuple[str, list[str]]:
    """The symbol of a worked line and what it equals: in symbols, with the numbers put in, the value."""
    symbol = str(step.get("symbol") or step["name"])
    lines = [str(step[key]).removeprefix(f"{symbol} = ") for key in ("symbolic", "substituted") if step.get(key)]
    value = full_quantity(step["value"], step.get("unit", ""))
    return symbol, [*lines, value] if lines[-1:] != [value] else lines


def as_typed(entry: Row) -> str:
    """An input as it was typed; its uncertainty is added, to two figures, when it came from elsewhere.

    A mean has more figures than its uncertainty gives it: it is rounded to it.
    """
    unit, extra = entry.get("unit", ""), entry.get("uncertainty")
    text = str(entry.get("text") or quantity(entry.get("value"), unit))
    if extra is None or "±" in text:
        return text
    if isinstance(extra, str):
        return f"{text} ± {extra}"
    rounded = quantity(entry.get("value"), unit, extra)
    known = rounded.strip("(").partition(" ")[0]
    typed = text.partition(" ")[0]
    if len(typed.partition(".")[2]) > len(known.partition(".")[2]):
        return rounded
    return f"{text} ± {quantity(float(f'{extra:.2g}'), unit)}"


def reading_uncertainty(row: Row) -> str:
    """The uncertainty of a reading, as text."""
    extra = row.get("uncertainty")
    return "" if extra is None else extra if isinstance(extra, str) else quantity(extra, row.get("unit", ""))


def outside(answer: Row) -> list[str]:
    """Sentences about entries that lie outside the range in which the calculation is trusted."""
    return [
        row.get("sentence") or f"{label(row, 'entry')} is outside the range that is trusted ({_span(row)})."
        for row in answer.get("limits", ())
        if row.get("state", "inside") not in ("inside", "within", "ok")
    ]


def _span(row: Row) -> str:
    low, high = (None if row.get(end) is None else shown(row[end]) for end in ("low", "high"))
    unit = f" {row['unit']}" if row.get("unit") else ""
    if low is None:
        return f"at most {high}{unit}"
    return f"at least {low}{unit}" if high is None else f"{low} to {high}{unit}"


def missing(row: Row) -> str:
    """One entry that is lacking: what, why, how to get it."""
    told = "; ".join(part for part in (row.get("why"), row.get("how")) if part)
    return f"{label(row, 'entry')}: {told}" if told else label(row, "entry")


def results(answer: Row) -> list[Row]:
    """All results of an answer, the headline first and once only."""
    head, rest = answer.get("result"), answer.get("results", ())
    if head is None:
        return list(rest)
    own: Row = next((row for row in rest if row["name"] == head["name"]), {})
    return [{**head, **own}, *(row for row in rest if row["name"] != head["name"])]


def column(spec: Row) -> str:
    """The head of a column of a curve or table: its name and unit."""
    unit = spec.get("unit", "")
    return label(spec) if unit in ("", "1", "text") else f"{label(spec)}, {unit}"


def with_share(repair: Row) -> str:
    """A margin in force and as the share in hand."""
    return measured(repair.get("margin")) + (
        "" if repair.get("share") is None else f", {percent(repair['share'])} in hand"
    )


def grouped(thresholds: Sequence[Row]) -> dict[str, list[Row]]:
    """Thresholds by coil and direction, in the order given."""
    groups: dict[str, list[Row]] = {}
    for row in thresholds:
        parts = [f"coil {row['coil']}" if row.get("coil") else "", str(row.get("direction") or "")]
        groups.setdefault(", ".join(part for part in parts if part), []).append(row)
    return groups


def source(row: Row) -> str:
    """A source with its locator."""
    return ", ".join(str(part) for part in (row.get("text") or row.get("key"), row.get("locator")) if part)
