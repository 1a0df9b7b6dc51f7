"""The answer on a page: headline, results, judgement, what is lacking, worked lines; as HTML text from the plain data.

It takes an answer of the contract and computes nothing. `live/show.js` is the same once more: it follows the numbers
that a reader types in, and a test holds the two to each other letter by letter.
"""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from valvecalc import meaning
from valvecalc.formula import REGISTER, Card
from valvecalc.quantities import VOCABULARY
from valvecalc.report import words
from valvecalc.sitegen import marks
from valvecalc.units import from_si

Row = Mapping[str, Any]

#: A called formula or sheet with more lines than this is closed at first.
LONG = 6


def named(card: Card, name: str) -> str:
    """What an entry or result is called, with its symbol."""
    symbol = VOCABULARY[name].symbol
    told = marks.esc(marks.label(card, name))
    return f"{told} <var>{marks.symbols(symbol)}</var>" if symbol else told


def headline(card: Card, answer: Row) -> str:
    """The first result that has a value, with its verdict; or why there is none."""
    result = answer["result"]
    if result is None:
        return (
            f'<p class="answer-figure"><span>{named(card, card.result)}</span> <strong>No value yet</strong> '
            f"<span>{marks.esc(_why_none(card, answer))}</span></p>"
        )
    judged = next(
        (one["verdict"] for one in answer["results"] if one["name"] == result["name"] and "verdict" in one), ""
    )
    return (
        f'<p class="answer-figure"><span>{named(card, result["name"])}</span> '
        f"<strong>{marks.esc(words.result(result))}</strong>{' ' + marks.verdict(judged) if judged else ''}</p>"
    )


def _why_none(card: Card, answer: Row) -> str:
    none = next((lack for lack in answer["missing"] if lack["entry"] == card.result), None)
    if none is not None:
        return f"{none['why']}. {none['how']}"
    needed = dict.fromkeys(lack["entry"] for lack in answer["missing"])
    if not needed:
        return "These entries have none."
    return f"Still needed: {', '.join(marks.within(marks.label(card, name)) for name in needed)}."


def body(card: Card, answer: Row) -> str:
    """Everything between the headline and the worked lines, the chart excepted."""
    return "".join(
        part
        for part in (
            *_meaning(card, answer),
            _results(card, answer),
            marks.bullets(rules(card)),
            *_lists(card, answer),
            _lacking(answer),
            _outside(answer),
        )
        if part
    )


def _results(card: Card, answer: Row) -> str:
    singles = [one for one in answer["results"] if "rows" not in one]
    if len(singles) < 2:
        return ""
    return marks.pairs(("Result", "Value"), [(named(card, one["name"]), _judged(one)) for one in singles])


def _judged(result: Row) -> str:
    told = marks.esc(words.result(result))
    return f"{told} {marks.verdict(result['verdict'])}" if "verdict" in result else told


def rules(card: Card) -> Iterator[str]:
    """What each judged result is held against."""
    for name in card.judged:
        yield f"{marks.label(card, name)} is judged: {meaning.against(card, name)}"


def _meaning(card: Card, answer: Row) -> Iterator[str]:
    """What the verdicts mean and which check comes next; what can hurt in it stands before it."""
    if "meaning" not in answer:
        return
    yield "<h3>What it means and the next step</h3>"
    for row in answer["meaning"]:
        yield (
            f'<div class="meaning"><p>{named(card, row["result"])} {marks.verdict(row["verdict"])}</p>'
            f"<p>{marks.esc(row['means'])}</p>{_next(row['next'])}</div>"
        )


def _next(check: Row | None) -> str:
    if check is None:
        return ""
    link = marks.link(f"{check['page'].rstrip('/')}.md", check["title"])
    return f'<p class="meaning__before">{marks.esc(check["caution"])}</p><p>Next: {link}</p>'


def _lists(card: Card, answer: Row) -> Iterator[str]:
    for one in answer["results"]:
        if "rows" not in one:
            continue
        if one["name"] == "single_causes":
            yield _causes(card, answer, one["rows"])
        elif len(one["rows"]) == 1:
            cells = [
                (named(card, column["name"]), marks.esc(words.result({**column, "value": value})))
                for column, value in zip(one["columns"], one["rows"][0], strict=True)
            ]
            yield f"<h3>{marks.esc(marks.label(card, one['name']))}</h3>"
            yield marks.pairs(("Force or pressure", "Value"), cells)
        else:
            table = grid(card, one["name"], one["columns"], one["rows"])
            yield marks.details(marks.label(card, one["name"]), table) if len(one["rows"]) > 12 else table


def grid(card: Card, name: str, columns: Sequence[Row], rows: Sequence[Sequence[Any]]) -> str:
    """A list of rows under its title."""
    title = marks.label(card, name)
    table = marks.grid([words.column(column) for column in columns], rows, title)
    return f"<p><strong>{marks.esc(title)}</strong></p>{table}"


def _causes(card: Card, answer: Row, rows: Sequence[Sequence[Any]]) -> str:
    """A value for each cause, in the unit of that cause, beside what it is now."""
    cells = []
    for name, value in rows:
        entry = answer["inputs"][name]
        unit, dimension = entry["unit"], VOCABULARY[name].dimension
        there = "none within its limits"
        if value is not None:
            there = words.result({"value": from_si(value, unit, dimension), "unit": unit})
        cells.append([named(card, name), marks.esc(marks.exact(entry["value"], unit)), marks.esc(there)])
    return marks.table(("What alone", "Is now", "Stops the valve at"), cells, figures=(1, 2))


def _lacking(answer: Row) -> str:
    told = marks.bullets(words.missing(lack) for lack in answer["missing"])
    return f"<h3>Not computed, and what it needs</h3>{told}" if told else ""


def _outside(answer: Row) -> str:
    told = marks.bullets(limit["says"] for limit in answer["limits"] if "says" in limit)
    return f"<h3>Trust it less, because</h3>{told}" if told else ""


def lines(card: Card, steps: Sequence[Row]) -> str:
    """Worked lines: the line in symbols, with its numbers, its value; what a line calls stands inside it."""
    items = []
    for step in steps:
        symbol, told = words.worked(step)
        worked = "".join(f'<span class="eq">= {marks.symbols(line)}</span>' for line in told[:-1])
        callee = REGISTER.get(step.get("of", ""))
        by = f", by {marks.card_link(callee)}" if callee is not None else ""
        items.append(
            f'<li><span class="quiet">{marks.esc(marks.label(card, step["name"]))}{by}</span>'
            f'<span class="lines"><span>{marks.symbols(symbol)}</span>{worked}'
            f'<span class="eq res">= {marks.esc(told[-1])}</span></span>{_inside(callee, step)}</li>'
        )
    return f"<ol>{''.join(items)}</ol>"


def _inside(callee: Card | None, step: Row) -> str:
    """The lines of what is called; of a formula of one line that line is printed already."""
    if callee is None or (callee.kind == "formula" and len(step["steps"]) < 2):
        return ""
    inner = lines(callee, step["steps"])
    return marks.details(f"Its {len(step['steps'])} lines", inner) if len(step["steps"]) > LONG else inner
