"""The page of the words: every quantity of the pages under its trade heading, and the same by symbol."""

from collections.abc import Iterable, Mapping
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


def words_page() -> str:
    """The whole page as Markdown. The place of a term on it is its name in the vocabulary: /words/#clearance."""
    found = users()
    headings = terms()
    shown = {key: [name for name in group["names"] if name in found] for key, group in headings.items()}
    jumps = "".join(
        f'<a class="door" href="#about-{key}"><strong>{marks.esc(title)}</strong><small>{marks.esc(below)}</small></a>'
        for key, title, below in (
            *((key, group["title"], f"{len(shown[key])} words") for key, group in headings.items()),
            ("symbols", "Symbols", "from the letter to its meanings"),
        )
    )
    parts = [
        marks.head("Words"),
        "<p>What each quantity means on these pages, its symbol, the units it is read in, and which pages use it. "
        "The name in small type is the one of the command line and of links.</p>",
        f'<div class="doors groups">{jumps}</div>',
    ]
    for key, group in headings.items():
        parts += [
            f"## {group['title']} {{#about-{key}}}",
            f"<p>{marks.esc(group['about'])}</p>",
            marks.table(("Term", "Symbol", "Unit", "Used in"), [_row(name, found[name]) for name in shown[key]]),
        ]
    parts += ["## Symbols {#about-symbols}", _symbols(name for names in shown.values() for name in names)]
    return "\n\n".join(parts) + "\n"


def terms() -> dict[str, dict[str, Any]]:
    """The headings with their names. Raises DataError unless every name of the vocabulary stands under one of them."""
    headings = load_toml("words/terms.toml")
    names = [name for group in headings.values() for name in group["names"]]
    wrong = [name for name in {*names, *VOCABULARY} if names.count(name) != 1 or name not in VOCABULARY]
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
    used = ", ".join(marks.link(FIELDS, "the job file") if card is None else marks.card_link(card) for card in pages)
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
    links = ", ".join(f'<a href="#{name}">{name.replace("_", " ")}</a>' for name in sorted(meant[symbol]))
    return [marks.symbol(VOCABULARY[meant[symbol][0]]), links]


def _order(symbol: str) -> tuple[bool, str, str]:
    """Latin before Greek, then by the letter, whichever case it has (the micro sign is a mu)."""
    plain = normalize("NFKC", symbol)
    return not plain[0].isascii(), plain.lower(), symbol
