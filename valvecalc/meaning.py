"""What a verdict means and what comes next: words of data/words/judge.toml, told as part of an answer.

Every sheet that judges has such words. `live/meaning.js` picks the same words on the phone.
"""

import re
from collections.abc import Mapping, Sequence
from functools import cache
from itertools import pairwise
from typing import Any

from valvecalc.errors import DataError
from valvecalc.facts import load_toml, source
from valvecalc.formula import Card
from valvecalc.quantities import VOCABULARY
from valvecalc.report.words import origin

Row = Mapping[str, Any]

_PLUS_MINUS = re.compile(r"±|\+/?-")

#: Rules that a result can break either way: which way is told by its sign.
TWO_SIDED = ("within", "band")


def against(card: Card, name: str) -> str:
    """What a judged result is held against: the limit, where it comes from, the guard band."""
    kind, *keys = card.judged[name]
    if kind == "within-range":
        low, high, most = (card.labels.get(key) or VOCABULARY[key].meaning for key in keys)
        return f"{high} (highest) and {low} (lowest) against {most}."
    facts = [load_toml("defaults.toml")[key] for key in keys]
    told = {
        ">=": "at least {0}",
        "<=": "at most {0}",
        "within": "within {0} either way",
        "band": "from −{0} to +{1}",
    }[kind].format(*(fact["value"] for fact in facts), "")
    return f"{told} ({_origins(facts)}), with a guard band for the uncertainty of the readings."


def _origins(facts: Sequence[Row]) -> str:
    """Where the limits come from, each once."""
    told = (
        origin(fact["origin"]) + (f", {source(fact['source'])['text']}" if "source" in fact else "") for fact in facts
    )
    return "; ".join(dict.fromkeys(told))


def meanings(card: Card) -> dict[str, dict[str, Any]]:
    """Of each judged result that has words: what it is held against, and what each verdict means. Plain data.

    Raises DataError for a verdict without words and for a check that does not exist.
    """
    words = load_toml("words/judge.toml")
    found = {}
    for name, own in words.get(card.id, {}).items():
        by_verdict = _of_other(words, own) if isinstance(own, str) else own
        if name not in card.judged:
            raise DataError(f"data/words/judge.toml: {card.id}.{name} is not judged")
        sided = card.judged[name][0] in TWO_SIDED
        wanted = {"accept", "cannot-tell", "unknown", *(("reject-low", "reject-high") if sided else ("reject",))}
        if set(by_verdict) != wanted:
            raise DataError(f"data/words/judge.toml: {card.id}.{name} needs {', '.join(sorted(wanted))}")
        verdicts = {word: {"means": row["means"], "next": _check(row["next"])} for word, row in by_verdict.items()}
        found[name] = {"against": against(card, name), "sided": sided, "verdicts": verdicts}
    return found


def _of_other(words: Row, place: str) -> Row:
    """The words of a result that means the same, by SHEET.RESULT."""
    sheet, _, name = place.partition(".")
    row = words.get(sheet, {}).get(name)
    if not isinstance(row, Mapping):
        raise DataError(f"data/words/judge.toml: no words {place}")
    return row


def _check(name: str) -> dict[str, str]:
    """A check of the fault finder: its page, its title, and the caution that stands before it."""
    if name not in _checks():
        raise DataError(f"data/words/judge.toml: no check {name}")
    row = _checks()[name]
    return {"check": name, "title": row["title"], "page": f"do/{name}/", "caution": row["caution"]}


@cache
def _checks() -> dict[str, Row]:
    return {row["id"]: row for row in load_toml("faults/checks.toml")["checks"]}


def told(card: Card, answer: Row) -> dict[str, Any]:
    """What an answer of the contract says besides: `meaning`, and `keep` for the job file; nothing for other cards."""
    found: dict[str, Any] = {}
    if known := meanings(card):
        found["meaning"] = _meaning(known, answer["results"])
    if place := kept(card):
        found["keep"] = keep_text(place, answer)
    return found


def _meaning(known: Mapping[str, Row], results: Sequence[Row]) -> list[dict[str, Any]]:
    """Each verdict in words; where nothing could be judged, what the first of them lacks.

    A check that comes next after several of them is told once, with the last: `next` of the others is None.
    """
    rows = {row["name"]: row for row in results if "verdict" in row}
    found = [_verdict(name, rows[name]["verdict"], rows[name]["value"], known[name]) for name in known if name in rows]
    first = next(iter(known))
    found = found or [_verdict(first, "unknown", None, known[first])]
    for row, after in pairwise(found):
        if row["next"] == after["next"]:
            row["next"] = None
    return found


def _verdict(name: str, verdict: str, value: Any, known: Row) -> dict[str, Any]:
    sided = verdict == "reject" and known["sided"]
    words = known["verdicts"][f"reject-{'low' if value < 0 else 'high'}" if sided else verdict]
    return {"result": name, "verdict": verdict, "against": known["against"], **words}


def kept(card: Card) -> dict[str, Any]:
    """Under which table and keys of the job file the entries of a card are kept; empty where it has no place there."""
    return dict(load_toml("words/judge.toml")["keep"].get(card.id, {}))


def keep_text(place: Row, answer: Row) -> str:
    """The entries typed as lines of the job file; what the reader has to fill in is a question mark.

    A reading keeps its limit of error and names its instrument; a figure off a plate is a plain value.
    """
    lines = [f"# {place['table']} of the job file; from {answer['id']}, edition {answer['edition']}"]
    lines += [f'{key} = "?"' for key in place.get("also", ())]
    for name, key in place["keys"].items():
        text = answer["inputs"].get(name, {}).get("text")
        if text:
            value, *doubt = (_quoted(part) for part in _PLUS_MINUS.split(text, maxsplit=1))
            error = "".join(f", uncertainty = {part}" for part in doubt)
            reading = f'{{ value = {value}{error}, instrument = "?" }}'
            plain = f"{{ value = {value}{error} }}" if doubt else value
            lines.append(f"{key} = {reading if name in place['read'] else plain}")
    return "\n".join(lines)


def _quoted(text: str) -> str:
    """A text of TOML: an inch may be typed as a double quote."""
    told = " ".join(text.split()).replace("\\", "\\\\").replace('"', '\\"')
    return f'"{told}"'
