"""The answer as plain data, by the contract: names here are dear to change."""

from collections.abc import Callable
from re import sub
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from valvecalc import meaning
from valvecalc.facts import caution, source
from valvecalc.limits import limits_of, trusted_of
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_si, show
from valvecalc.version import VERSION, data_version

if TYPE_CHECKING:
    from valvecalc.answer import Answer


def answer_json(answer: "Answer") -> dict[str, Any]:
    """Everything a report or a page needs of one answer; numbers at full precision."""
    from valvecalc.answer import SCHEMA

    card = answer.card
    results = [_result(answer, name) for name in (card.results or (card.result,)) if name in answer.results]
    if answer.solved:
        results.insert(0, _solved(answer, answer.solved))
    head = next((row for row in results if "rows" not in row), None)
    told = {
        "schema": SCHEMA,
        "kind": "answer",
        "ok": True,
        "id": card.id,
        "title": card.title,
        "edition": card.edition,
        "version": VERSION,
        "data_version": data_version(),
        "inputs": {name: row for name in card.entries if (row := _input(answer, name))},
        "result": head and {key: head[key] for key in ("name", "value", "unit", "uncertainty") if key in head},
        "results": results,
        "steps": _steps(answer),
        "limits": _limits(answer),
        "missing": [lack._asdict() for lack in answer.missing],
        "sources": [{"key": key, "text": source(key)["text"], "locator": locator} for key, locator in card.sources],
        "cautions": [caution(key) for key in card.cautions],
        "link": link(answer),
    }
    return told | meaning.told(card, told)


def _steps(answer: "Answer") -> list[dict[str, Any]]:
    from valvecalc.worked import as_json

    return as_json(answer.steps)


def _scaled(answer: "Answer", name: str, si: Any) -> Any:
    dimension = VOCABULARY[name].dimension
    if isinstance(si, bool) or not isinstance(si, int | float) or dimension in ("text", "rows"):
        return si
    return from_si(si, answer.unit(name), dimension)


def expanded(answer: "Answer", name: str, u: float) -> float:
    """A standard uncertainty as U (k = 2) in the unit of its value; a temperature's is a difference."""
    dimension = VOCABULARY[name].dimension
    unit = answer.unit(name)
    return from_si(2.0 * u, unit, dimension) - from_si(0.0, unit, dimension)


def _result(answer: "Answer", name: str) -> dict[str, Any]:
    from valvecalc.judge import verdicts

    if name in answer.card.rows:
        columns = answer.card.rows[name]
        return {
            "name": name,
            "unit": "",
            "value": None,
            "columns": _columns(answer, columns),
            "rows": [_row(answer, columns, row) for row in answer.results[name]],
        }
    row: dict[str, Any] = {
        "name": name,
        "value": _scaled(answer, name, answer.results[name]),
        "unit": answer.unit(name),
    }
    if name in answer.spreads:
        row["uncertainty"] = expanded(answer, name, answer.spreads[name].u)
    verdict = verdicts(answer).get(name)
    return row | ({"verdict": verdict} if verdict else {})


def _solved(answer: "Answer", name: str) -> dict[str, Any]:
    row = {"name": name, "value": _scaled(answer, name, answer.entries[name].si), "unit": answer.unit(name)}
    spread = answer.solved_spread
    return row if spread is None else row | {"uncertainty": expanded(answer, name, spread.u)}


def _columns(answer: "Answer", columns: tuple[str, ...]) -> list[dict[str, str]]:
    return [{"name": column, "unit": answer.unit(column)} for column in columns]


def _row(answer: "Answer", columns: tuple[str, ...], row: dict[str, Any]) -> list[Any]:
    return [_scaled(answer, column, row[column]) for column in columns]


def _input(answer: "Answer", name: str) -> dict[str, Any] | None:
    card = answer.card
    if name in answer.entries:
        entry = answer.entries[name]
        if name in card.rows:
            columns = card.rows[name]
            return {
                "text": entry.text,
                "columns": _columns(answer, columns),
                "rows": [_row(answer, columns, row) for row in entry.si],
                "origin": entry.origin,
            }
        row = {"text": entry.text, "value": entry.value, "unit": entry.unit, "si": entry.si, "origin": entry.origin}
        if entry.spreads:
            u = sum(u * u for u, _ in entry.spreads) ** 0.5
            row["uncertainty"] = expanded(answer, name, u)
        return row | ({"source": entry.source} if entry.source else {})
    if name not in card.defaults:
        return None
    origin, key = card.origins.get(name, ("judgement", ""))
    si = card.defaults[name]
    row = {"text": "", "value": _scaled(answer, name, si), "unit": answer.unit(name), "si": si, "origin": origin}
    return row | ({"source": key} if key else {})


def _limits(answer: "Answer") -> list[dict[str, Any]]:
    """Hard limits (inside, else the door refused) and the ranges of trust with what is to be said outside."""
    rows = []
    for name, limit in limits_of(answer.card).items():
        if name in answer.card.entries and answer.values.get(name) is not None:
            rows.append(_limit_row(answer, name, limit.low, limit.high, "inside"))
    for name, (limit, says) in trusted_of(answer.card).items():
        value = answer.values.get(name)
        if value is not None and name in answer.card.entries:
            inside = limit.holds(value)
            row = _limit_row(answer, name, limit.low, limit.high, "inside" if inside else "outside what is trusted")
            rows.append(row if inside else row | {"says": says})
    return rows


def _limit_row(answer: "Answer", name: str, low: float | None, high: float | None, state: str) -> dict[str, Any]:
    ends = [None if end is None else _scaled(answer, name, end) for end in (low, high)]
    return {"entry": name, "low": ends[0], "high": ends[1], "unit": answer.unit(name), "state": state}


def link(answer: "Answer", as_text: "Callable[[Answer, str], str] | None" = None) -> str:
    """The page's address with the entries in its fragment, units as typed; relative to the site's root.

    as_text  how an entry is told where not as it was typed
    """
    kind = "calc" if answer.card.kind == "formula" else "judge"
    told = as_text or _tightly
    typed = [
        f"{name}={quote(text)}"
        for name in answer.card.entries
        if name in answer.entries and (text := told(answer, name))
    ]
    return f"/{kind}/{answer.card.id}/#" + "&".join([f"e={answer.card.edition}", *typed])


def _tightly(answer: "Answer", name: str) -> str:
    return _tight(_as_typed(answer, name))


def exact_link(answer: "Answer") -> str:
    """The same with what a job worked out or took as a mean at nine figures: its four printed ones would reopen the
    calculation with another result. Words keep their blanks, so that the command line reads them too."""
    return link(answer, _exactly)


def _exactly(answer: "Answer", name: str) -> str:
    entry = answer.entries[name]
    if name in answer.card.rows:
        columns = answer.card.rows[name]
        return ";".join(
            "|".join(_cell_exactly(column, row, si) for column in columns)
            for row, si in zip(entry.value, entry.si, strict=True)
        )
    if isinstance(entry.value, bool) or not isinstance(entry.value, int | float):
        return entry.text
    typed = entry.origin == "user" or "±" in entry.text
    return _tight(entry.text) if typed else f"{_nine(entry.value)}{entry.unit}"


def _cell_exactly(column: str, row: dict[str, Any], si: dict[str, Any]) -> str:
    if isinstance(row.get(column), str):
        return str(row[column])
    quantity = VOCABULARY[column]
    return f"{_nine(from_si(si[column], quantity.metric, quantity.dimension))}{quantity.metric}"


def _nine(value: float) -> str:
    """Nine figures without an exponent and without noughts that say nothing: 42.6, 0.2752."""
    text = f"{value:.9g}"
    return text if "e" not in text else f"{value:.15f}".rstrip("0").rstrip(".")


def _tight(text: str) -> str:
    """Without its blanks, save those between two digits: 1 1/2 in would become 11/2 in."""
    return sub(r"([^0-9]) +", r"\1", sub(r" +([^0-9]|$)", r"\1", text))


def _as_typed(answer: "Answer", name: str) -> str:
    """An entry as text that the door reads again; the rows of a list by `;`, their cells by `|`."""
    entry = answer.entries[name]
    if name not in answer.card.rows:
        return entry.text
    columns = answer.card.rows[name]
    return ";".join(
        "|".join(_cell(column, row, si) for column in columns) for row, si in zip(entry.value, entry.si, strict=True)
    )


def _cell(column: str, row: dict[str, Any], si: dict[str, Any]) -> str:
    if isinstance(row.get(column), str):
        return str(row[column])
    quantity = VOCABULARY[column]
    return show(si[column], quantity.dimension, quantity.metric, 6)
