"""What there is: the list of formulas, sheets and tables, and one of them in words."""

from typing import Any

from valvecalc import tables
from valvecalc.door import find, load
from valvecalc.facts import source
from valvecalc.finding import Entry, Finder, rules
from valvecalc.formula import REGISTER, Card
from valvecalc.quantities import VOCABULARY

#: A card is found by the first names of what comes out and goes in: a sheet has dozens, and many sheets have the same.
_NAMES = 6


def entry_meaning(card: Card, name: str) -> str:
    """What an entry means on this card: its label, else the vocabulary."""
    return card.labels.get(name) or VOCABULARY[name].meaning


def item(card: Card) -> dict[str, Any]:
    """One row of the list contract."""
    entries = {name: {"unit": VOCABULARY[name].metric, "meaning": entry_meaning(card, name)} for name in card.entries}
    return {"id": card.id, "kind": card.kind, "title": card.title, "entries": entries}


def items(word: str = "") -> list[dict[str, Any]]:
    """Every formula and sheet that has a page and every table, or those that words speak of, the best first."""
    load()
    cards = sorted((card for card in REGISTER.values() if not card.part), key=lambda card: (card.kind, card.id))
    rows = [*map(item, cards), *map(tables.item, tables.tables().values())]
    if word:
        known = [*map(entry_of, cards), *map(tables.entry_of, tables.tables().values())]
        found = Finder(known, rules()).ask(word)
        rows = [rows[place] for place in (*found.near, *found.far)]
    return rows


def show(name: str) -> tuple[dict[str, Any], str]:
    """A formula, sheet or table as plain data and as text. Raises InputError that names the nearest calculations."""
    load()
    table = tables.tables().get(name)
    if table is not None:
        return tables.as_data(table), tables.as_text(table)
    card = find(name)
    return item(card), show_text(card)


def entry_of(card: Card) -> Entry:
    """A card as it is found: by title and id, by its purpose, and by what goes in and comes out."""
    results = card.results or (card.result,)
    return Entry(
        card.kind,
        card.id,
        card.title,
        (card.function.__doc__ or "").split("\n")[0],
        f"{card.id} {VOCABULARY[results[0]].symbol}".strip(),
        " ".join(list(dict.fromkeys((*results[:4], *card.entries)))[:_NAMES]).replace("_", " "),
    )


def show_text(card: Card) -> str:
    """A card for the terminal: what it is for, entries with units and limits, results, sources, distrust."""
    lines = [f"{card.id}: {card.title}", ""]
    lines += [line.strip() for line in (card.function.__doc__ or "").strip().splitlines()]
    lines += ["", "Entries"]
    for name in card.entries:
        quantity = VOCABULARY[name]
        unit = f" [{quantity.metric}]" if quantity.metric else ""
        told = f"  {name}{unit}: {entry_meaning(card, name)}"
        if name in card.choices:
            told += f" ({', '.join(card.choices[name])})"
        if name in card.rows:
            told += f" (rows of {', '.join(card.rows[name])})"
        if name in card.defaults:
            origin, key = card.origins.get(name, ("judgement", ""))
            told += f"; default, {origin.replace('-', ' ')}{f' ({key})' if key else ''}"
        elif card.record is not None and name in card.record._field_defaults:
            told += "; may be missing"
        lines.append(told + (f"; {card.limits[name]}" if name in card.limits else ""))
    lines += ["", "Results"]
    lines += [f"  {name}: {VOCABULARY[name].meaning}" for name in card.results or (card.result,)]
    if card.distrust:
        lines += ["", "When not to trust it", *(f"  - {text}" for text in card.distrust)]
    if card.sources:
        lines += ["", "Sources"]
        for key, locator in card.sources:
            record = source(key)
            lines.append(f"  - {record['text']}{f', {locator}' if locator else ''} ({record['seen']})")
    example = " ".join(f"{name}={text!r}" for name, text in card.example.items() if isinstance(text, str))
    if example and not card.part:
        lines += ["", "Example", f"  valvecalc calc {card.id} {example}"]
    return "\n".join(lines)
