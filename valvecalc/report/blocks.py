"""The blocks that a report on paper is made of, as plain data; report.typ sets each of them as text."""

from collections.abc import Iterable, Mapping, Sequence
from re import split, sub
from typing import Any

from valvecalc.drawing import svg
from valvecalc.drawing.rounding import shown
from valvecalc.drawing.shapes import symbol
from valvecalc.report import words

Block = dict[str, Any]
#: A cell is a text, a list of texts, or a verdict with its shape.
Cell = str | list[str] | dict[str, str]


def plain(text: object) -> str:
    """Text for paper: what no font can show (control characters) becomes a blank, lines are joined."""
    return printable(str(text)).strip()


def printable(words_: str) -> str:
    """Without what no font can show and no drawing may hold."""
    for sign in set(words_):
        if not sign.isprintable() and sign != "\N{NO-BREAK SPACE}":
            words_ = words_.replace(sign, " ")
    return words_


def heading(text: str, level: int = 1) -> Block:
    return {"kind": "heading", "level": level, "text": plain(text)}


def text(words_: object, look: str = "") -> Block:
    return {"kind": "text", "text": plain(words_), "look": look}


def texts(lines: Iterable[object], look: str = "") -> list[Block]:
    return [text(line, look) for line in lines if str(line)]


def bullets(items: Iterable[object], numbered: bool = False) -> list[Block]:
    told = [plain(item) for item in items]
    return [{"kind": "list", "items": told, "numbered": numbered}] if told else []


def section(title: str, body: Sequence[Block], level: int = 1) -> list[Block]:
    """A heading with its body, or nothing where there is nothing to say."""
    return [heading(title, level), *body] if body else []


def box(look: str, title: str, body: Sequence[Block]) -> list[Block]:
    """A warning, a caution or the headline in its frame."""
    return [{"kind": "box", "look": look, "title": plain(title), "blocks": list(body)}] if body else []


def facts(pairs: Iterable[tuple[str, object]]) -> list[Block]:
    """Name and text, those without text left out."""
    rows = [[plain(name), plain(told)] for name, told in pairs if told not in (None, "", [])]
    return [{"kind": "facts", "rows": rows}] if rows else []


def verdict(word: str | None) -> Cell:
    """Shape and word."""
    return {"shape": svg.for_paper(symbol(word)), "verdict": plain(words.verdict(word))} if word else ""


def table(
    heads: Sequence[str],
    rows: Iterable[Sequence[Cell]],
    widths: Sequence[int],
    *,
    figures: Sequence[int] = (),
    small: bool = False,
    first: bool = False,
) -> list[Block]:
    """A table whose columns have shares of the width (0: as wide as needed); `figures` never break within a cell."""
    told = [[_cell(one) for one in row] for row in rows]
    if not told:
        return []
    return [
        {
            "kind": "table",
            "heads": [plain(head) for head in heads],
            "rows": told,
            "widths": list(widths),
            "figures": list(figures),
            "small": small,
            "first": first,
        }
    ]


def _cell(cell: Cell) -> Cell:
    if isinstance(cell, dict):
        return cell
    return [plain(one) for one in cell] if isinstance(cell, list) else plain(cell)


def figure(value: object) -> str:
    """A figure of a table; what is not known is a dash, never a nought."""
    return "–" if value is None else shown(value)


def grid(columns: Sequence[Mapping[str, Any]], rows: Sequence[Sequence[Any]]) -> list[Block]:
    """A curve as a small table; one that is wider than the page comes in parts, a single row as names with figures."""
    heads = [words.column(column) for column in columns]
    cells = [[figure(value) for value in row] for row in rows]
    if len(heads) <= 6:
        return table(heads, cells, [1] * len(heads), small=True)
    if len(cells) == 1:
        pairs = [part for pair in zip(heads, cells[0], strict=True) for part in pair]
        pairs += [""] * (-len(pairs) % 6)
        lines = [pairs[place : place + 6] for place in range(0, len(pairs), 6)]
        return table(["What", "Value"] * 3, lines, [2, 1] * 3, small=True)
    half = (len(heads) + 1) // 2
    return [*grid(columns[:half], [row[:half] for row in rows]), *grid(columns[half:], [row[half:] for row in rows])]


def drawing(drawn: str, caption: str, alt: str) -> Block:
    """A chart or a symbol; `alt` says in words what it shows."""
    return {
        "kind": "drawing",
        "svg": _haloed(printable(svg.for_paper(drawn))),
        "caption": plain(caption),
        "alt": plain(alt) or "drawing",
    }


def _haloed(drawn: str) -> str:
    """Letters over their halo: typst draws a stroke over its filling and knows no paint order."""
    halo = r' stroke="[^"]*" stroke-width="6" stroke-linejoin="round" paint-order="stroke"'
    return sub(rf"(<text[^>]*?){halo}([^>]*>[^<]*</text>)", r"\g<0>\1\2", drawn)


def side_by_side(blocks: Sequence[Block], columns: int = 2) -> list[Block]:
    """Blocks in rows of `columns`."""
    return [
        {"kind": "side", "columns": [[one] for one in blocks[place : place + columns]]}
        if len(blocks[place : place + columns]) == columns
        else {"kind": "side", "columns": [[one] for one in blocks[place : place + columns]] + [[]]}
        for place in range(0, len(blocks), columns)
    ]


def pieces(line: object) -> list[list[Any]]:
    """A formula line by what stands on it and what stands below it: p_T is p with a small T."""
    parts = split(r"_(\w+)", plain(line))
    return [[part, place % 2] for place, part in enumerate(parts) if part]
