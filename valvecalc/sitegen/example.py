"""The worked example of a page: computed through the door while the site is built, as any user would."""

import json
from collections.abc import Iterator, Sequence
from shlex import quote
from typing import Any

from valvecalc.answer import Answer
from valvecalc.drawing import chart
from valvecalc.facts import load_toml, source
from valvecalc.formula import REGISTER, Card
from valvecalc.job.charts import stroke_chart
from valvecalc.quantities import VOCABULARY
from valvecalc.report import words
from valvecalc.sitegen import marks
from valvecalc.units import from_si
from valvecalc.worked import Step

#: A called formula or sheet with more lines than this is closed at first.
_LONG = 6


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


def worked_example(answer: Answer) -> str:
    """Entries, result, judgement, worked lines; `answer` is that of the card's example."""
    row = answer.to_json()
    parts = [
        *_entries(answer, row),
        "<h3>Answer</h3>",
        _headline(answer, row),
        _results(answer, row),
        marks.bullets(_rules(answer.card)),
        _chart(answer),
        *_lists(answer, row),
        _lacking(row),
        _outside(row),
        "<h3>Worked lines</h3>",
        f'<div class="worked">{work(answer.card, answer.steps)}</div>',
        '<p class="quiet">Printed to four digits; the machine carries all of them.</p>',
    ]
    return "\n\n".join(part for part in parts if part)


def _entries(answer: Answer, row: dict[str, Any]) -> Iterator[str]:
    """What the example gives, then what it leaves to the defaults, each of those with its origin."""
    card = answer.card
    single = {name: entry for name, entry in row["inputs"].items() if name not in card.rows}
    given = {name: entry for name, entry in single.items() if name in card.example}
    yield "<h3>Given in the example</h3>"
    told = [(_named(card, name), marks.esc(entry["text"])) for name, entry in given.items()]
    yield marks.pairs(("Entry", "Value"), told)
    yield from (
        _grid(card, name, entry["columns"], entry["rows"]) for name, entry in row["inputs"].items() if name in card.rows
    )
    if len(given) < len(single):
        yield "<h3>Taken as default</h3>"
        yield marks.pairs(
            ("Entry", "Value"),
            [
                (f"{_named(card, name)}<br>{_origin(entry)}", marks.esc(marks.exact(entry["value"], entry["unit"])))
                for name, entry in single.items()
                if name not in given
            ],
        )


def _origin(entry: dict[str, Any]) -> str:
    key = entry.get("source", "")
    return marks.origin(entry["origin"], source(key)["text"] if key else "")


def _named(card: Card, name: str) -> str:
    symbol = VOCABULARY[name].symbol
    told = marks.esc(marks.label(card, name))
    return f"{told} <var>{marks.symbols(symbol)}</var>" if symbol else told


def _headline(answer: Answer, row: dict[str, Any]) -> str:
    result = row["result"]
    if result is None:
        return f'<p class="answer-figure">No value: {marks.esc(answer.reason)}</p>'
    judged = next((one["verdict"] for one in row["results"] if one["name"] == result["name"] and "verdict" in one), "")
    return (
        f'<p class="answer-figure"><span>{_named(answer.card, result["name"])}</span> '
        f"<strong>{marks.esc(words.result(result))}</strong>{' ' + marks.verdict(judged) if judged else ''}</p>"
    )


def _results(answer: Answer, row: dict[str, Any]) -> str:
    singles = [one for one in row["results"] if "rows" not in one]
    if len(singles) < 2:
        return ""
    return marks.pairs(("Result", "Value"), [(_named(answer.card, one["name"]), _judged(one)) for one in singles])


def _judged(result: dict[str, Any]) -> str:
    told = marks.esc(words.result(result))
    return f"{told} {marks.verdict(result['verdict'])}" if "verdict" in result else told


def _rules(card: Card) -> Iterator[str]:
    """What each judged result is held against."""
    for name, (kind, *keys) in card.judged.items():
        what = f"{marks.label(card, name)} is judged: "
        if kind == "within-range":
            low, high, most = (marks.label(card, key).lower() for key in keys)
            yield f"{what}{high} (highest) and {low} (lowest) against {most}."
            continue
        ends = [load_toml("defaults.toml")[key]["value"] for key in keys]
        told = {
            ">=": "at least {0}",
            "<=": "at most {0}",
            "within": "within {0} either way",
            "band": "from −{0} to +{1}",
        }[kind].format(*ends, *ends)
        yield f"{what}{told}, with a guard band for the uncertainty of the readings."


def _chart(answer: Answer) -> str:
    if "stroke_rows" not in answer.results:
        return ""
    drawn = chart(stroke_chart(answer, "Forces over the stroke"))
    return f'<figure class="chart">{drawn}</figure>'


def _lists(answer: Answer, row: dict[str, Any]) -> Iterator[str]:
    for one in row["results"]:
        if "rows" not in one:
            continue
        if one["name"] == "single_causes":
            yield _causes(answer)
        elif len(one["rows"]) == 1:
            cells = [
                (_named(answer.card, column["name"]), marks.esc(words.result({**column, "value": value})))
                for column, value in zip(one["columns"], one["rows"][0], strict=True)
            ]
            yield f"<h4>{marks.esc(marks.label(answer.card, one['name']))}</h4>"
            yield marks.pairs(("Force or pressure", "Value"), cells)
        else:
            grid = _grid(answer.card, one["name"], one["columns"], one["rows"])
            yield marks.details(marks.label(answer.card, one["name"]), grid) if len(one["rows"]) > 12 else grid


def _grid(card: Card, name: str, columns: Sequence[dict[str, Any]], rows: Sequence[Sequence[Any]]) -> str:
    title = marks.label(card, name)
    grid = marks.grid([words.column(column) for column in columns], rows, title)
    return f"<p><strong>{marks.esc(title)}</strong></p>{grid}"


def _causes(answer: Answer) -> str:
    """A value for each cause, in the unit of that cause, beside what it is now."""
    cells = []
    for row in answer.results["single_causes"]:
        name, value = row["cause"], row["threshold"]
        unit, dimension = answer.unit(name), VOCABULARY[name].dimension
        now = marks.exact(from_si(answer.values[name], unit, dimension), unit)
        there = None if value is None else {"value": from_si(value, unit, dimension), "unit": unit}
        told = words.result(there) if there else "none within its limits"
        cells.append([_named(answer.card, name), marks.esc(now), marks.esc(told)])
    return marks.table(("What alone", "Is now", "Stops the valve at"), cells, figures=(1, 2))


def _lacking(row: dict[str, Any]) -> str:
    told = marks.bullets(words.missing(lack) for lack in row["missing"])
    return f"<h4>Not computed, and what it needs</h4>{told}" if told else ""


def _outside(row: dict[str, Any]) -> str:
    told = marks.bullets(limit["says"] for limit in row["limits"] if "says" in limit)
    return f"<h4>Trust it less, because</h4>{told}" if told else ""


def work(card: Card, steps: Sequence[Step]) -> str:
    """Worked lines: the line in symbols, with its numbers, its value; what a line calls stands inside it."""
    items = []
    for step in steps:
        number = isinstance(step.value, float)
        value = from_si(step.value, step.unit, VOCABULARY[step.name].dimension) if number else step.value  # type: ignore[arg-type]
        symbol, told = words.worked(
            {**step._asdict(), "symbolic": step.symbolic, "substituted": step.substituted, "value": value}
        )
        lines = "".join(f'<span class="eq">= {marks.symbols(line)}</span>' for line in told[:-1])
        items.append(
            f'<li><span class="quiet">{marks.esc(marks.label(card, step.name))}{_by(step)}</span>'
            f'<span class="lines"><span>{marks.symbols(symbol)}</span>{lines}'
            f'<span class="eq res">= {marks.esc(told[-1])}</span></span>{_inside(step)}</li>'
        )
    return f"<ol>{''.join(items)}</ol>"


def _by(step: Step) -> str:
    callee = REGISTER.get(step.of or "")
    return f", by {marks.card_link(callee)}" if callee is not None else ""


def _inside(step: Step) -> str:
    """The lines of what is called; of a formula of one line that line is printed already."""
    callee = REGISTER.get(step.of or "")
    if callee is None or (callee.kind == "formula" and len(step.steps) < 2):
        return ""
    inner = work(callee, step.steps)
    return marks.details(f"Its {len(step.steps)} lines", inner) if len(step.steps) > _LONG else inner
