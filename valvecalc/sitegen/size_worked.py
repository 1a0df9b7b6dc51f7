"""The demo's duties judged against the demo's list, as the page "Which fits" shows it before anything is kept.

It takes the plain data of `valvecalc size --json` and computes nothing. site/pages/assets/size-fits.js makes the same
cards of the reader's own; a test holds the two to each other.
"""

from collections.abc import Mapping, Sequence
from math import floor
from typing import Any

from valvecalc.demo import SIZE
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import read_duty
from valvecalc.selection.ranking import rank
from valvecalc.selection.stock import read_stock
from valvecalc.selection.tell import told
from valvecalc.sitegen import marks

#: The duties of the demo, by the names of their files.
DUTIES = ("baler", "press", "tipping-trailer")
#: Cards of a worked example; rules named of a valve that fits.
_LEADERS, _CLOSEST = 3, 3

Row = Mapping[str, Any]


def worked() -> str:
    """The answer of each duty: headline, notes, the leading valves with their reasons."""
    answers = {name: demo(name, _LEADERS) for name in DUTIES}
    doors = "".join(
        f'<button type="button" class="door" data-demo="{name}"><strong>{marks.esc(answer["title"])}</strong>'
        f"<small>{marks.esc(answer['machine'])}</small></button>"
        for name, answer in answers.items()
    )
    return (
        '<div class="fits__demos with-script"><h2>Try it with the demo</h2>'
        f'<div class="doors doors--list">{doors}</div></div><section class="fits__example"><h2>Worked example</h2>'
        f"<p>Shop, machines and valves are invented.</p>{''.join(map(_example, answers.values()))}</section>"
    )


def demo(name: str, most: int | None = None) -> dict[str, Any]:
    """The demo's list judged against one of its duties, as plain data."""
    asked = demand(read_duty(SIZE / f"{name}.toml"))
    valves, problems = read_stock(SIZE / "stock.csv")
    return told(asked, rank(valves, asked), problems, (), most)


def _example(answer: Row) -> str:
    notes = "".join(f"<p>{marks.esc(note)}</p>" for note in answer["notes"])
    return (
        f'<h3>{marks.esc(answer["title"])}</h3><p class="fits__head">{marks.esc(answer["headline"])}</p>{notes}'
        f"{''.join(card(row, 'h4') for row in answer['candidates'])}"
    )


def card(row: Row, heading: str) -> str:
    """One candidate: verdict, name, what it would do that hurts, where it lies, what is in hand, why."""
    loud, why = reasons(row)
    name = f"{marks.verdict(row['verdict'])} {marks.esc(row['id'])}"
    return (
        f'<section class="valve"><{heading}>{name}</{heading}>{"".join(map(marks.caution, loud))}'
        f'<p class="valve__about">{marks.esc(about(row))}</p>{in_hand(row)}{marks.bullets(why)}</section>'
    )


def reasons(row: Row) -> tuple[list[str], list[str]]:
    """What would hurt, to be said first and loud; then why the verdict: the misses, the questions, the closest."""
    if row["verdict"] == "accept":
        return [], [rule["sentence"] for rule in closest(row)]
    told_of = [rule["sentence"] for rule in row["rules"] if rule["verdict"] == row["verdict"]]
    loud = [text for text in told_of if text.startswith("REFUSED")]
    return loud, [text for text in told_of if text not in loud]


def closest(row: Row) -> Sequence[Row]:
    """The rules with the smallest margins, the smallest of the valve first: smaller ones are not weighed in ranking."""
    weighed = [rule for rule in row["rules"] if rule["margin"] is not None and rule["margin"] >= row["margin"]]
    return sorted(weighed, key=lambda rule: float(rule["margin"]))[:_CLOSEST]


def about(row: Row) -> str:
    """Where it lies and what it costs, in one line."""
    found = [
        f"shelf {row['shelf']}" if row["shelf"] else "shelf not known",
        f"{row['quantity']} there" if row["quantity"] is not None else "not counted",
        row["interface"] or "mounting not known",
    ]
    if row["loss"] is not None and row["verdict"] != "reject":
        found.append(f"costs the pump {decimal(row['loss'])} {row['loss_unit']}")
    if row["price"] is not None and row["verdict"] != "reject":
        found.append(f"price {row['price']:g}")
    return ", ".join(found)


def decimal(value: float) -> str:
    """One decimal, halves upward: both languages do it alike."""
    return f"{floor(10 * value + 0.5) / 10:.1f}"


def in_hand(row: Row) -> str:
    """The smallest margin as words and bar; 100 % of the need and more fills it."""
    if row["margin"] is None or row["verdict"] == "reject":
        return ""
    share = floor(100 * row["margin"] + 0.5)
    width = min(max(share, 0), 100)
    bar = f'<rect width="100" height="8" class="empty"/><rect width="{width}" height="8" class="full"/>'
    return (
        f'<p class="valve__margin"><svg viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">{bar}</svg> '
        f"smallest margin {share} %</p>"
    )
