"""The pages of the words: every quantity under its trade heading, and the same by symbol."""

from collections import Counter
from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any
from unicodedata import normalize

from valvecalc.errors import DataError
from valvecalc.facts import load_toml
from valvecalc.formula import REGISTER, Card
from valvecalc.job.fields import fields, tables
from valvecalc.printing.scope import lines
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen import calls, marks

FIELDS = "job/fields.md"
SYMBOLS = "words/symbols.md"
#: Pages named behind a term; a common one stands on dozens, and the search lists them all.
USED = 5


def words_pages() -> dict[str, str]:
    """Markdown by file: a page for each heading, one for the symbols, and the way to them.

    The place of a term is its name in the vocabulary: /words/leakage/#clearance.
    """
    found = users()
    doors, written = [], {}
    for key, group in terms().items():
        shown = [name for name in group["names"] if name in found]
        doors.append(marks.door(file(key), group["title"], f"{len(shown)} words"))
        written[file(key)] = _page(
            f"Words: {group['title'].lower()}",
            f"<p>{marks.esc(group['about'])}</p>",
            marks.table(("Term", "Symbol", "Unit", "Used in"), [_row(name, found[name]) for name in shown]),
        )
    doors.append(marks.door(SYMBOLS, "Symbols", "from the letter to its meanings"))
    written[SYMBOLS] = _page(
        "Symbols",
        "<p>One letter serves several quantities in the trade; the page that you came from tells which is meant.</p>",
        _symbols(found),
    )
    written["words.md"] = _page(
        "Words",
        "<p>What each quantity means on these pages, its symbol, the units it is read in, and which pages use it. "
        "The name in small type is the one of the command line and of links.</p>",
        f'<div class="doors groups">{"".join(doors)}</div>',
    )
    return written


def _page(title: str, *parts: str) -> str:
    return "\n\n".join([marks.head(title), *parts]) + "\n"


def file(key: str) -> str:
    """The page of a heading."""
    return f"words/{key}.md"


@cache
def _places() -> dict[str, str]:
    return {name: f"{file(key)}#{name}" for key, group in terms().items() for name in group["names"]}


def place(name: str) -> str:
    """The page of a term and its place there."""
    return _places()[name]


def terms() -> dict[str, dict[str, Any]]:
    """The headings with their names. Raises DataError unless every name of the vocabulary stands under one of them."""
    headings = load_toml("words/terms.toml")
    count = Counter(name for group in headings.values() for name in group["names"])
    wrong = [name for name in {*count, *VOCABULARY} if count[name] != 1 or name not in VOCABULARY]
    if wrong:
        raise DataError(f"data/words/terms.toml: a name of the vocabulary stands there once, not so {sorted(wrong)}")
    return headings


def users() -> dict[str, list[Card | None]]:
    """The pages that show a term; None is the page of the job file's fields. A part is shown where it is called."""
    found: dict[str, list[Card | None]] = {}
    for card in REGISTER.values():
        for page in calls.users(card) if card.part else [card]:
            for name in _names(card):
                if page not in found.setdefault(name, []):
                    found[name].append(page)
    for file in ("job", "shop"):
        for field in (field for table in tables(file) for field in fields(file, table).values()):
            for name in field.words if field.kind in ("quantity", "repeats", "rows") else ():
                if name in VOCABULARY and None not in found.setdefault(name, []):
                    found[name].append(None)
    return found


def _names(card: Card) -> Iterable[str]:
    """Entries, lines and results of a card, with the columns of its lists."""
    own = [*card.entries, *(name for name, _, _ in lines(card)), card.result, *card.results]
    return dict.fromkeys([*own, *(column for name in own for column in card.rows.get(name, ()))])


def _row(name: str, pages: Iterable[Card | None]) -> list[str]:
    quantity = VOCABULARY[name]
    meaning = quantity.meaning[:1].upper() + quantity.meaning[1:]
    links = [marks.link(FIELDS, "the job file") if card is None else marks.card_link(card) for card in pages]
    more = [f"and {len(links) - USED} more"] if len(links) > USED + 1 else []
    used = ", ".join([*links[:USED], *more] if more else links)
    return [
        f'{marks.esc(meaning)} <code id="{name}">{name}</code>',
        marks.symbol(quantity),
        marks.esc(marks.units(quantity)),
        used,
    ]


def _symbols(names: Iterable[str]) -> str:
    """Every symbol once, with links to all that it stands for: one letter serves several quantities in the trade."""
    meant: dict[str, list[str]] = {}
    for name in names:
        if VOCABULARY[name].symbol:
            meant.setdefault(VOCABULARY[name].symbol, []).append(name)
    return marks.table(("Symbol", "Stands for"), [_meanings(symbol, meant) for symbol in sorted(meant, key=_order)])


def _meanings(symbol: str, meant: Mapping[str, list[str]]) -> list[str]:
    links = ", ".join(marks.link(place(name), name.replace("_", " ")) for name in sorted(meant[symbol]))
    return [marks.symbol(VOCABULARY[meant[symbol][0]]), links]


def _order(symbol: str) -> tuple[bool, str, str]:
    """Latin before Greek, then by the letter, whichever case it has (the micro sign is a mu)."""
    plain = normalize("NFKC", symbol)
    return not plain[0].isascii(), plain.lower(), symbol
