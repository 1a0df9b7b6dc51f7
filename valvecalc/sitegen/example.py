"""The worked example of a page: computed through the door while the site is built, as any user would."""

import json
from collections.abc import Iterator
from shlex import quote
from typing import Any

from valvecalc.answer import Answer
from valvecalc.facts import source
from valvecalc.formula import Card
from valvecalc.sitegen import marks
from valvecalc.sitegen.answer_part import body, grid, headline, lines, named
from valvecalc.sitegen.curves import figure


def command(card: Card) -> str:
    """The command line that repeats the example."""
    lines = [f"valvecalc calc {card.id}"]
    for word in (f"{name}={_typed(text)}" for name, text in card.example.items()):
        if len(lines[-1]) + len(word) > 76:
            lines[-1] += " \\"
            lines.append(f"    {word}")
        else:
            lines[-1] += f" {word}"
    return "\n".join(lines)


def _typed(value: Any) -> str:
    if not isinstance(value, str):
        return quote(json.dumps(value, ensure_ascii=False))
    return f'"{value}"' if " " in value else value


def given(answer: Answer, row: dict[str, Any]) -> str:
    """The entries of the example, for paper and where no script runs: the form shows them else."""
    return "\n\n".join(_entries(answer, row))


def worked_answer(answer: Answer, row: dict[str, Any]) -> str:
    """Answer, chart and worked lines of the example; the calculator puts the reader's own in their places."""
    card = answer.card
    return "\n".join(
        [
            '<div class="answer">',
            f'<div class="answer__head">{headline(card, row)}</div>',
            f'<div class="answer__body">{body(card, row)}</div>',
            f'<div class="answer__chart">{figure(answer)}</div>',
            "<h3>Worked lines</h3>",
            f'<div class="worked">{lines(card, row["steps"])}</div>',
            '<p class="quiet">Printed to four digits; the machine carries all of them.</p>',
            "</div>",
        ]
    )


def _entries(answer: Answer, row: dict[str, Any]) -> Iterator[str]:
    """What the example gives, then what it leaves to the defaults, each of those with its origin."""
    card = answer.card
    single = {name: entry for name, entry in row["inputs"].items() if name not in card.rows}
    given = {name: entry for name, entry in single.items() if name in card.example}
    yield "<h3>Given in the example</h3>"
    told = [(named(card, name), marks.esc(entry["text"])) for name, entry in given.items()]
    yield marks.pairs(("Entry", "Value"), told)
    yield from (
        grid(card, name, entry["columns"], entry["rows"]) for name, entry in row["inputs"].items() if name in card.rows
    )
    if len(given) < len(single):
        yield "<h3>Taken as default</h3>"
        yield marks.pairs(
            ("Entry", "Value"),
            [
                (f"{named(card, name)}<br>{_origin(entry)}", marks.esc(marks.exact(entry["value"], entry["unit"])))
                for name, entry in single.items()
                if name not in given
            ],
        )


def _origin(entry: dict[str, Any]) -> str:
    key = entry.get("source", "")
    return marks.origin(entry["origin"], source(key)["text"] if key else "")
