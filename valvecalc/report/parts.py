"""Small pieces of the page: escaped text, tables, lists, marks. Whatever comes from a file is escaped here."""

from collections.abc import Iterable, Sequence
from html import escape
from re import sub

from valvecalc.drawing.rounding import shown
from valvecalc.drawing.shapes import symbol
from valvecalc.report import words

#: A figure of more characters is a sentence or a list (a force curve): it may break.
FIGURE_MOST = 40


def esc(text: object) -> str:
    """Text for the page: markup in it is shown, not obeyed."""
    return escape(str(text))


def paragraphs(texts: Iterable[object]) -> str:
    return "".join(f"<p>{esc(text)}</p>" for text in texts)


def bullets(texts: Iterable[object]) -> str:
    items = "".join(f"<li>{esc(text)}</li>" for text in texts)
    return f"<ul>{items}</ul>" if items else ""


def section(title: str, body: str, name: str = "") -> str:
    """A section with its heading, or nothing where there is nothing to say."""
    mark = f' id="{name}"' if name else ""
    return f"<section{mark}><h2>{esc(title)}</h2>{body}</section>" if body else ""


def box(kind: str, title: str, texts: Sequence[object], level: int = 2) -> str:
    """A warning or a caution: in full, in the type size of the text or larger."""
    if not texts:
        return ""
    return f'<div class="{kind}" role="note"><h{level}>{esc(title)}</h{level}>{paragraphs(texts)}</div>'


def table(heads: Sequence[str], rows: Iterable[Sequence[str]], *, figures: Sequence[int] = (), first: str = "") -> str:
    """A table of ready-made cells that becomes a list of cards on a narrow screen.

    The roles keep it a table for a screen reader even where the style shows cards. `figures` are the columns
    that hold a value with unit, `first` is the class of the first row.
    """
    lines = []
    for place, row in enumerate(rows):
        cells = [f'<th scope="row" role="rowheader">{row[0]}</th>']
        for column, cell in enumerate(row[1:], 1):
            short = column in figures and len(sub(r"<[^>]*>", "", cell)) <= FIGURE_MOST
            kind = ' class="figure"' if short else ""
            cells.append(f'<td role="cell"{kind} data-head="{esc(heads[column])}">{cell}</td>')
        kind = f' class="{first}"' if first and place == 0 else ""
        lines.append(f'<tr role="row"{kind}>{"".join(cells)}</tr>')
    if not lines:
        return ""
    top = "".join(f'<th scope="col" role="columnheader">{esc(head)}</th>' for head in heads)
    return (
        f'<table class="stack" role="table"><thead role="rowgroup"><tr role="row">{top}</tr></thead>'
        f'<tbody role="rowgroup">{"".join(lines)}</tbody></table>'
    )


def cell(value: object) -> str:
    """A figure of a table; what is not known is a dash, never a nought."""
    return "–" if value is None else value if isinstance(value, str) else shown(value)


def grid(heads: Sequence[str], rows: Iterable[Sequence[object]], title: str) -> str:
    """A curve as a table of plain figures that scrolls sideways where it has to."""
    top = "".join(f'<th scope="col">{esc(head)}</th>' for head in heads)
    body = "".join("<tr>" + "".join(f"<td>{esc(cell(value))}</td>" for value in row) + "</tr>" for row in rows)
    return (
        f'<div class="scroll" tabindex="0" role="group" aria-label="{esc(title)}"><table><thead><tr>{top}</tr>'
        f"</thead><tbody>{body}</tbody></table></div>"
    )


def facts(pairs: Iterable[tuple[str, object]]) -> str:
    """Name and text, those without text left out."""
    rows = "".join(f"<dt>{esc(name)}</dt><dd>{esc(text)}</dd>" for name, text in pairs if text)
    return f'<dl class="facts">{rows}</dl>' if rows else ""


def verdict(word: str | None) -> str:
    """Shape and word."""
    return f'<span class="verdict">{symbol(word)} {esc(words.verdict(word))}</span>' if word else ""


def origin(word: str | None, source: object = None) -> str:
    """The mark that says where an input comes from."""
    kind = word if word in words.ORIGINS else "other"
    told = f"{words.origin(word)}{f' ({source})' if source else ''}"
    return f'<span class="origin {kind}">{esc(told)}</span>'


def symbols(text: object) -> str:
    """A formula line with its subscripts: p_T is p with a small T."""
    return sub(r"_(\w+)", r"<sub>\1</sub>", esc(text))
