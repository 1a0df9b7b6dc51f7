"""The page of one formula or sheet, written out from its card."""

from collections.abc import Mapping, Sequence
from typing import Any

import valvecalc
from valvecalc.checked import Checked
from valvecalc.citation import citation
from valvecalc.facts import caution, load_toml, source
from valvecalc.formula import Card
from valvecalc.meaning import kept, meanings
from valvecalc.printing.mathml import mathml
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen import calculators, calls, marks
from valvecalc.sitegen.checked_page import cases_table, seen
from valvecalc.sitegen.example import command, given, worked_answer
from valvecalc.sitegen.form import answer_unit, form
from valvecalc.sitegen.table_pages import link, used_by
from valvecalc.source import assignments

NO_CHECK = "No published check found."


def card_page(
    card: Card, checked: Mapping[str, Sequence[Checked]], guides: Mapping[str, Sequence[tuple[str, str]]]
) -> str:
    """The whole page as Markdown; `checked` holds the published cases by formula, `guides` the pages that explain."""
    purpose, *more = marks.paragraphs(card.function.__doc__ or "")
    answer = valvecalc.calc(card.id, **card.example)
    row = answer.to_json()
    parts = [
        marks.head(card.title, calculators.scripts(card)),
        f"<p>{marks.esc(purpose)}</p>",
        *(marks.caution(caution(key)) for key in card.cautions),
        *(f"<p>{marks.esc(text)}</p>" for text in more),
        _calculator(card, given(answer, row), worked_answer(answer, row)),
        *_meanings(card),
        *(_formula(card) if card.kind == "formula" else _steps(card)),
        "## Symbols, units and limits",
        _symbols(card),
        *_facts(card),
        *_tables(card),
        "## When not to trust it",
        _distrust(card),
        "## Where it is from",
        _sources(card),
        "## What it was checked against",
        _checks(card, checked),
        *_users(card),
        *_explained(guides.get(card.id, ())),
        *_keep(row.get("keep")),
        "## Cite it",
        _cite(citation(row)),
        "## Repeat it at the command line",
        f"```sh\n{command(card)}\n```",
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _calculator(card: Card, entries: str, answer: str) -> str:
    """The form with the answer; script wakes it, and without script the worked example stands alone."""
    kind = "Formula" if card.kind == "formula" else "Sheet"
    return "\n".join(
        [
            f'<section class="calculator" data-id="{card.id}" data-state="example" aria-label="Calculator">',
            '<h2 class="calculator__head"><span class="with-script">Your numbers</span>'
            '<span class="plain-only">Worked example</span></h2>',
            '<p class="entries__note" role="status" hidden></p>',
            form(card),
            f'<div class="plain-only">{entries}</div>',
            '<p class="example-mark with-script">Worked example: nothing is filled in yet.</p>',
            answer.replace("<h3>Worked lines</h3>", f"{_acts(card)}<h3>Worked lines</h3>"),
            f'<p class="id">{kind} <code>{card.id}</code>, edition {card.edition}</p>',
            "</section>",
        ]
    )


def _acts(card: Card) -> str:
    cite = '<button type="button" class="act" data-cite>Cite this</button>'
    keep = '<button type="button" class="act" data-keep>Keep for the job</button>' if kept(card) else ""
    return f'<div class="answer__do with-script">{answer_unit(card)}{cite}{keep}</div>'


def _meanings(card: Card) -> list[str]:
    """Every verdict that a small sheet can give, with what it means and the page of the check that comes next."""
    found = []
    for name, known in meanings(card).items():
        rows = [
            (_told(verdict), marks.esc(row["means"]), marks.link(_check_page(row), row["next"]["title"]))
            for verdict, row in known["verdicts"].items()
        ]
        found.append(f"<h3>{marks.esc(marks.label(card, name))}</h3>")
        found.append(marks.table(("Verdict", "What it means", "Next, with what can hurt in it"), rows))
    return ["## What each verdict means", *found] if found else []


def _told(verdict: str) -> str:
    """A verdict by shape and word; of a result that is judged either way also the side."""
    side = verdict.removeprefix("reject-") if verdict.startswith("reject-") else ""
    return f"{marks.verdict('reject')} too {side}" if side else marks.verdict(verdict)


def _check_page(row: Mapping[str, Any]) -> str:
    return f"{row['next']['page'].rstrip('/')}.md"


def _keep(text: str | None) -> list[str]:
    """The lines for the job file; with script they follow the numbers and are copied with one button."""
    if text is None:
        return []
    body = (
        f'<div class="keep"><pre class="keep__text" tabindex="0">{marks.esc(text)}</pre>'
        '<p class="with-script"><button type="button" class="act" data-keep>Keep for the job</button> '
        '<span class="keep__said" role="status"></span></p></div>'
    )
    told = "<p>Lines for the job file. A question mark is for you to fill in: the id of an instrument of shop.toml.</p>"
    return ["## Keep it for the job", told, body]


def _cite(text: str) -> str:
    """The citation as text to paste; with script it follows the numbers and brings the QR code of its link."""
    return (
        f'<div class="cite"><pre class="cite__text" tabindex="0">{marks.esc(text)}</pre>'
        '<p class="with-script"><button type="button" class="act" data-cite>Copy it, with QR code</button> '
        '<span class="cite__said" role="status"></span></p><div class="cite__code" hidden></div></div>'
    )


def _formula(card: Card) -> list[str]:
    return [
        "## Formula",
        f'<div class="math" tabindex="0" role="group" aria-label="formula">{mathml(card)}</div>',
    ]


def _steps(card: Card) -> list[str]:
    """What a sheet calls, line by line."""
    return ["## Formulas it is made of", _called_lines(card, [])]


def _called_lines(card: Card, shown: list[Card]) -> str:
    """The lines of a body that call something; an inner sheet is opened where it is called first."""
    items = []
    for name, found in calls.steps(card):
        inner = [callee for callee in found if callee.part and callee.kind == "sheet" and callee not in shown]
        shown += inner
        told = ", ".join(map(marks.card_link, found))
        below = "".join(_called_lines(callee, shown) for callee in inner)
        items.append(f"<li>{marks.esc(marks.label(card, name))}: {told}{below}</li>")
    return f"<ol>{''.join(items)}</ol>"


def _symbols(card: Card) -> str:
    lines = [name for name, _, _ in assignments(card.function)] if card.kind == "formula" else list(card.results)
    columns = [column for name in (*card.entries, *lines) for column in card.rows.get(name, ())]
    names = dict.fromkeys((*card.entries, *lines, card.result, *columns))
    return marks.table(
        ("Symbol", "Meaning", "Unit", "Limits"),
        [_symbol_row(card, name) for name in names],
    )


def _symbol_row(card: Card, name: str) -> list[str]:
    quantity = VOCABULARY[name]
    limits = marks.limit(card.limits[name], name) if name in card.limits else ""
    if name in card.choices:
        limits = marks.esc(" or ".join(card.choices[name]))
    if name in card.trusted:
        limits += f"{'; ' if limits else ''}trusted {marks.limit(card.trusted[name][0], name)}"
    return [
        marks.symbol(quantity),
        f"{marks.esc(marks.label(card, name))} <code>{name}</code>",
        marks.esc(marks.units(quantity)),
        limits,
    ]


def _facts(card: Card) -> list[str]:
    """The figures that a sheet brings along, each with where it comes from."""
    rows = []
    for key in calls.facts_of(card):
        fact = load_toml("defaults.toml")[key]
        told = fact.get("value") or fact.get("table") or _rows(fact["rows"])
        origin = marks.origin(fact["origin"], source(fact["source"])["text"] if "source" in fact else "")
        note = f"{fact.get('note', '')}{' Range ' + fact['range'] + '.' if 'range' in fact else ''}".strip()
        rows.append([f"<code>{key}</code>", marks.esc(told), origin, marks.esc(note)])
    return ["## Figures it brings along", marks.table(("Id", "Value", "From", "Note"), rows)] if rows else []


def _tables(card: Card) -> list[str]:
    items = "".join(f"<li>{link(table)}</li>" for table in used_by(card))
    return ["## Tables it uses", f"<ul>{items}</ul>"] if items else []


def _rows(rows: Sequence[Mapping[str, str]]) -> str:
    return "; ".join(" → ".join(row.values()) for row in rows)


def _distrust(card: Card) -> str:
    trusted = [f"{marks.label(card, name)}: {says}" for name, (_, says) in card.trusted.items()]
    return marks.bullets((*card.distrust, *trusted)) or "<p>Nothing is known that the limits do not say.</p>"


def _sources(card: Card) -> str:
    items = "".join(f"<li>{seen(key, locator)}</li>" for key, locator in card.sources)
    return f"<ul>{items}</ul>" if items else "<p>No source is named.</p>"


def _checks(card: Card, checked: Mapping[str, Sequence[Checked]]) -> str:
    found = checked.get(card.id, ())
    told = f"<p><strong>{NO_CHECK}</strong></p>"
    if found:
        told = cases_table(found) + f"<p>All of them stand under {marks.link('checked.md', 'What was checked')}.</p>"
    if card.kind == "formula":
        return told
    items = []
    for callee in calls.formulas_below(card):
        count = len(checked.get(callee.id, ()))
        figures = f"{count} published figure{'s' if count > 1 else ''}" if count else NO_CHECK
        items.append(f"<li>{marks.card_link(callee)}: {figures}</li>")
    below = f"<p>For the formulas that it is made of:</p><ul>{''.join(items)}</ul>" if items else ""
    return f"<p>For the sheet as a whole:</p>{told}{below}"


def _explained(guides: Sequence[tuple[str, str]]) -> list[str]:
    items = "".join(f"<li>{marks.link(page, title)}</li>" for page, title in guides)
    return ["## Where it fits in", f"<ul>{items}</ul>"] if items else []


def _users(card: Card) -> list[str]:
    items = "".join(f"<li>{marks.card_link(user)}</li>" for user in calls.users(card))
    return ["## Used by", f"<ul>{items}</ul>"] if items else []
