"""Small pieces of a generated page. Headings are Markdown; what holds symbols and tables is HTML, escaped here.

A link names the file of its page, counted from the pages folder (`page:calc/jet-speed.md`); the plugin turns it into
an address and stops the build where the page is missing.
"""

import json
from collections.abc import Iterable
from re import split, sub

from valvecalc.drawing.rounding import quantity
from valvecalc.formula import Card
from valvecalc.limits import parse_limit
from valvecalc.quantities import VOCABULARY, Quantity
from valvecalc.report.parts import bullets, esc, grid, table
from valvecalc.report.words import ORIGINS

__all__ = ["bullets", "esc", "grid", "table"]

#: How a source is known (`seen` in data/sources.toml), in plain words.
SEEN = {
    "full": "the passage was read",
    "companion": "known through a public collection of workings of its examples; the book itself was not read",
    "secondary": "known through other works that quote it; the original was not read",
    "own derivation": "derived again here; the original was not read",
    "memory": "recalled; check the original before citing it",
}


def head(title: str, touch_scripts: Iterable[str] = ()) -> str:
    """Front matter and heading of a page, with the scripts that it loads at the first touch."""
    scripts = f"touch_scripts: {json.dumps(list(touch_scripts))}\n" if touch_scripts else ""
    name = json.dumps(title, ensure_ascii=False)
    return f"---\ntitle: {name}\nhide: [navigation]\n{scripts}---\n\n# {esc(title)}\n"


def address(card: Card) -> str:
    """The page of a card as a file under the pages folder."""
    return f"{'calc' if card.kind == 'formula' else 'judge'}/{card.id}.md"


def link(page: str, words: str) -> str:
    """A link to another page of the site; `words` are text."""
    return f'<a href="page:{esc(page)}">{esc(words)}</a>'


def card_link(card: Card) -> str:
    """A link to the page of a card; a part has none and is only named."""
    return esc(card.title) if card.part else link(address(card), card.title)


def door(page: str, words: str, below: str, name: str = "") -> str:
    """A choice wide enough for a gloved thumb; `name` is an id to be found by."""
    told = esc(below) + (f" <code>{esc(name)}</code>" if name else "")
    return f'<a class="door" href="page:{esc(page)}"><strong>{esc(words)}</strong><small>{told}</small></a>'


def doors(rows: Iterable[str]) -> str:
    """Choices below or beside each other."""
    return f'<div class="doors doors--list">{"".join(rows)}</div>'


def caution(text: str) -> str:
    """A caution box; it stands before what it belongs to."""
    return f'<div class="caution"><p>{esc(text)}</p></div>'


def symbols(text: str) -> str:
    """A line with its subscripts and exponents set: R_20 is R with a small 20."""
    text = sub(r"_(\w+|∞|\+)", r"<sub>\1</sub>", esc(text))
    text = sub(r"\^\(([^()]*)\)", r"<sup>\1</sup>", text)
    return sub(r"\^((?:[\w.]|<sub>\w+</sub>)+)", r"<sup>\1</sup>", text)


def label(card: Card, name: str) -> str:
    """What an entry or result is called on a card, with a capital."""
    words = card.labels.get(name) or VOCABULARY[name].meaning
    return words[:1].upper() + words[1:]


def within(words: str) -> str:
    """A label or title within a sentence; "AC coil" keeps its capitals, and so does the C of 20 °C."""
    return words if words[1:2].isupper() else words[:1].lower() + words[1:]


def symbol(quantity: Quantity) -> str:
    """The symbol of a quantity; a dash where it has none."""
    return f"<var>{symbols(quantity.symbol)}</var>" if quantity.symbol else "–"


def units(quantity: Quantity) -> str:
    """The shop units of a quantity in words: mm (US in), a number, a word."""
    if quantity.dimension in ("text", "rows"):
        return {"text": "a word", "rows": "a list"}[quantity.dimension]
    if not quantity.metric:
        return "a number"
    return quantity.metric if quantity.us == quantity.metric else f"{quantity.metric} (US {quantity.us})"


def pairs(heads: tuple[str, str], rows: Iterable[tuple[str, str]]) -> str:
    """Names with their values; two columns on a phone too."""
    told = table(heads, rows, figures=(1,))
    return f'<div class="pairs">{told}</div>' if told else ""


def origin(word: str, source: str = "") -> str:
    """The mark that says where a value comes from."""
    return f'<span class="origin {esc(word)}">{esc(ORIGINS[word])}</span>' + (f" {esc(source)}" if source else "")


def verdict(word: str) -> str:
    """Shape and word; the shape comes from the style sheet."""
    return f'<span class="verdict {esc(word)}">{esc(word.replace("-", " "))}</span>'


def exact(value: object, unit: str) -> str:
    """A figure that was set by somebody (a default, a limit), as set: 273.15 K, 0.00065 1/K."""
    return quantity(value, unit, digits=6)


def limit(text: str, name: str) -> str:
    """A limit of a card with the signs of print. Raises DataError where it cannot be read."""
    parse_limit(text, name)
    return esc(limit_text(text))


def limit_text(text: str) -> str:
    """The words of a limit with the signs of print."""
    return text.replace("<=", "≤").replace(">=", "≥")


def paragraphs(text: str) -> list[str]:
    """A docstring as its paragraphs."""
    return [" ".join(part.split()) for part in text.split("\n\n") if part.strip()]


def first_sentence(card: Card) -> str:
    """What a card is for, in one line."""
    text = paragraphs(card.function.__doc__ or "")[0]
    told = split(r"(?<=[.?!]) ", text, maxsplit=1)[0]
    return told if told.endswith("?") else told.rstrip(".:") + "."


def details(summary: str, body: str) -> str:
    """A part that is closed at first."""
    return f"<details><summary>{esc(summary)}</summary>{body}</details>"
