"""The pages of the tables: the list of them, each with all its rows, and its CSV to take along."""

import csv
from collections.abc import Iterable
from functools import cache
from io import StringIO

from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.facts import caution, source, table_text
from valvecalc.formula import REGISTER, Card
from valvecalc.sitegen import calls, marks
from valvecalc.sitegen import fault_parts as parts
from valvecalc.sitegen.checked_page import seen
from valvecalc.tables import Column, Table, figure, of, short_name, subjects, tables

PAGE = "table/index.md"
SCRIPT = "assets/table-ui.js"
STYLE = "assets/tables.css"
#: A cell longer than this is a sentence: on a phone its table is shown as cards, unless there would be more than these.
SENTENCE, CARDS = 28, 24
#: How a source is known, in the head of a page; in full below (marks.SEEN).
KNOWN = {
    "full": "read",
    "companion": "original not read",
    "secondary": "original not read",
    "own derivation": "derived again here",
    "memory": "recalled",
}
#: With more rows than these there is a field to look for one.
MANY = 12


def table_pages() -> dict[str, str]:
    """The list, a page for each table, and each as CSV."""
    written = {PAGE: _index()}
    for table in tables().values():
        written |= {address(table): table_page(table), download(table): csv_text(table)}
    return written


def address(table: Table) -> str:
    """The page of a table as a file under the pages folder."""
    return f"table/{table.id}.md"


def download(table: Table) -> str:
    """The file of a table that a spreadsheet opens."""
    return f"table/{table.id}.csv"


def link(table: Table) -> str:
    """A link to the page of a table."""
    return marks.link(address(table), table.title)


def used_by(card: Card) -> tuple[Table, ...]:
    """The tables that a calculation's page leads to."""
    return _used_by(card.id)


@cache
def _used_by(card_id: str) -> tuple[Table, ...]:
    """Kept by the card's id: every page of a table asks it of every card."""
    card = REGISTER[card_id]
    return tuple(of(card, calls.facts_of(card) if card.kind == "sheet" else ()))


def _index() -> str:
    told = (
        "Each with its source, what of the original is there, and how it was checked. Every one can be taken along "
        "as a file for a spreadsheet."
    )
    page = [marks.head("Tables"), f"<p>{told}</p>"]
    for heading, group in subjects().items():
        doors = (marks.door(address(table), table.title, table.about, table.id) for table in group)
        page += [f"## {heading}", marks.doors(doors)]
    return "\n\n".join(page) + "\n"


def table_page(table: Table) -> str:
    """The whole page as Markdown."""
    users = [card for card in REGISTER.values() if not card.part and table in used_by(card)]
    page = [
        marks.head(table.title, [SCRIPT]).replace("hide: [", f"style: {STYLE}\nhide: [toc, ", 1),
        *(marks.caution(caution(key)) for key in table.cautions),
        f"<p>{marks.esc(table.about)}</p>",
        f"<p><small>{_in_short(table)}</small></p>",
        _tools(table),
        _cards(table) if _in_sentences(table) else _grid(table),
        "## Where it is from",
        _sources(table),
        "## Notes",
        f"<p>{marks.esc(table.notes)}</p>{_converted(table)}",
        "## How it was checked",
        f"<p>{marks.esc(table.checked)}</p>",
        "## Used by",
        _list(map(marks.card_link, users)) or "<p>No calculation asks for it; it is here to be looked up.</p>",
        "## Take it along",
        f'<p class="no-print"><a class="act" href="page:{download(table)}" download>'
        "The table as CSV</a></p>"
        f"<p>Its head says where it is from; <code>valvecalc show {table.id}</code> prints the same.</p>",
    ]
    return "\n\n".join(part for part in page if part) + "\n"


def _converted(table: Table) -> str:
    """Which figures are print and which are ours."""
    printed = dict.fromkeys(column.unit for column in table.columns if column.metric != column.us)
    told = (
        f"Printed in {', '.join(printed)}; in the other units of the switch the figures are converted, to four figures."
    )
    return f"<p>{marks.esc(told)}</p>" if printed else ""


def _list(items: Iterable[str]) -> str:
    """Finished items as a list; nothing where there is none."""
    told = "".join(f"<li>{one}</li>" for one in items)
    return f"<ul>{told}</ul>" if told else ""


def _in_short(table: Table) -> str:
    """What of the original is there, where it is from and how that is known: the head of the page."""
    known = KNOWN[source(table.sources[0])["seen"]] if table.sources else ""
    return (
        f"<strong>{'Part of it.' if table.partial else 'Whole.'}</strong> {marks.esc(table.extent)} "
        f"<strong>From:</strong> {marks.esc(table.origin.rstrip('.'))}"
        f"{f' ({known})' if known else ''}."
    )


def _sources(table: Table) -> str:
    return _list(seen(key, "") for key in table.sources) or f"<p>{marks.esc(table.origin.rstrip('.'))}.</p>"


def _tools(table: Table) -> str:
    if len(table.rows) <= MANY:
        return ""
    return (
        '<div class="entries no-print"><div class="field"><label for="rows">Rows with</label><div class="field__in">'
        '<input id="rows" type="search" autocomplete="off" autocapitalize="off" spellcheck="false" '
        'enterkeyhint="search">'
        f'<span role="status">{len(table.rows)} rows</span></div></div></div>'
    )


def _in_sentences(table: Table) -> bool:
    return len(table.rows) <= CARDS and any(len(cell) > SENTENCE for row in table.rows for cell in row)


def _head(column: Column) -> str:
    return column.words[:1].upper() + column.words[1:]


def _units(column: Column) -> str:
    """The attribute by which the script knows what a column's figures are in."""
    units = marks.esc(f"{column.metric}|{column.us}")
    return f' data-units="{units}"' if column.metric != column.us else ""


def _grid(table: Table) -> str:
    """Figures under their heads, the units there; it scrolls in a region of its own, and the heads stay."""
    heads = "".join(
        f'<th scope="col"{_units(column)}>{marks.esc(_head(column))}{_unit(column)}</th>' for column in table.columns
    )
    rows = "".join(
        f'<tr><th scope="row"{_us(table.columns[0], row[0])}>{_metric(table.columns[0], row[0])}</th>'
        + "".join(
            f"<td{_us(column, cell)}>{_metric(column, cell)}</td>"
            for column, cell in zip(table.columns[1:], row[1:], strict=True)
        )
        + "</tr>"
        for row in table.rows
    )
    return (
        f'<div class="scroll grid" tabindex="0" role="region" aria-label="{marks.esc(table.title)}">'
        f'<table class="table"><thead><tr>{heads}</tr></thead><tbody>{rows}</tbody></table></div>'
    )


def _unit(column: Column) -> str:
    us = f' data-us="[{marks.esc(column.us)}]"' if column.metric != column.us else ""
    return f" <small{us}>[{marks.esc(column.metric)}]</small>" if column.unit else ""


def _us(column: Column, cell: str) -> str:
    """The attribute with the figure in US units, where that is another one."""
    told = figure(column, cell, column.us)
    return f' data-us="{marks.esc(told)}"' if told != figure(column, cell, column.metric) else ""


def _metric(column: Column, cell: str) -> str:
    """A cell as the page shows it at first; what is not known is a dash, never a nought."""
    if column.unit:
        return marks.esc(figure(column, cell, column.metric)) or "–"
    check = knowledge().checks.get(cell)
    return parts.check_link(check) if check else marks.esc(plain(cell)) or "–"


def plain(cell: str) -> str:
    """A word of the program as people read it: a source by its name, no underscores."""
    return short_name(cell).replace("_", " ")


def _cards(table: Table) -> str:
    """Sentences beside figures: on a phone a card for each row, so that the units stand in the cells."""
    heads = [_head(column) for column in table.columns]
    rows = []
    for row in table.rows:
        cells = [_in_words(column, cell) for column, cell in zip(table.columns, row, strict=True)]
        beside = "".join(
            f'<td role="cell"{_wide(cell)} data-head="{marks.esc(head)}">{told}</td>'
            for head, cell, told in zip(heads[1:], row[1:], cells[1:], strict=True)
        )
        rows.append(f'<tr role="row"><th scope="row" role="rowheader">{cells[0]}</th>{beside}</tr>')
    top = "".join(
        f'<th scope="col" role="columnheader"{_units(column)}>{marks.esc(head)}</th>'
        for column, head in zip(table.columns, heads, strict=True)
    )
    return (
        f'<div class="cards" tabindex="0" role="region" aria-label="{marks.esc(table.title)}">'
        '<table class="stack table" role="table">'
        f'<thead role="rowgroup"><tr role="row">{top}</tr></thead>'
        f'<tbody role="rowgroup">{"".join(rows)}</tbody></table></div>'
    )


def _wide(cell: str) -> str:
    return ' class="sentence"' if len(cell) > SENTENCE else ""


def _in_words(column: Column, cell: str) -> str:
    """A cell with its unit; a figure that has a US unit in an element that the script turns."""
    told = _metric(column, cell)
    if not (cell and column.unit):
        return told
    us = figure(column, cell, column.us)
    if column.metric == column.us:
        return f"{told} {marks.esc(column.unit)}"
    return f'<span data-us="{marks.esc(us)} {marks.esc(column.us)}">{told} {marks.esc(column.metric)}</span>'


def csv_text(table: Table) -> str:
    """The CSV of the data with its head comments; only a text with a comma gets quotation marks that the data lacks."""
    comments, heads, rows = table_text(table.file)
    written = StringIO()
    written.writelines(f"# {line}".rstrip() + "\n" for line in comments)
    out = csv.writer(written, lineterminator="\n")
    out.writerows((heads, *rows))
    return written.getvalue()
