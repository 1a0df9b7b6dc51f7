"""A card as plain data for the phone: names, limits, needs and texts that its door reads. All numbers in SI."""

from typing import Any

from valvecalc.facts import caution, source
from valvecalc.formula import REGISTER, Card
from valvecalc.judge import limit_of
from valvecalc.limits import Limit, limits_of, trusted_of
from valvecalc.live.body import bodies, names_of
from valvecalc.meaning import kept, meanings
from valvecalc.needs import Need, line_needs
from valvecalc.quantities import VOCABULARY


def card_data(card: Card) -> dict[str, Any]:
    """Everything that `live/door.js` needs of a card, its printed functions and the site's table of units excepted."""
    trees = bodies(card)
    return {
        "id": card.id,
        "kind": card.kind,
        "title": card.title,
        "edition": card.edition,
        "page": page_of(card),
        "result": card.result,
        "results": list(card.results),
        "entries": list(card.entries),
        "defaults": dict(card.defaults),
        "origins": {name: list(origin) for name, origin in card.origins.items()},
        "labels": dict(card.labels),
        "limits": {name: limit_data(limit) for name, limit in limits_of(card).items()},
        "trusted": {name: [limit_data(limit), says] for name, (limit, says) in trusted_of(card).items()},
        "rows": {name: list(columns) for name, columns in card.rows.items()},
        "choices": {name: list(words) for name, words in card.choices.items()},
        "judged": {name: _rule(card, rule) for name, rule in card.judged.items()},
        "needs": _needs(card),
        "example": dict(card.example),
        "cautions": [caution(key) for key in card.cautions],
        "sources": [{"key": key, "text": source(key)["text"], "locator": locator} for key, locator in card.sources],
        "chart": card.chart,
        "callees": {key: _callee(REGISTER[key]) for key in trees if key != card.id},
        "words": {name: _word(name) for name in sorted(_names(card) | names_of(trees))},
        "bodies": trees,
        "meaning": meanings(card),
        "keep": kept(card),
    }


def page_of(card: Card) -> str:
    """The address of a card's page, from the root of the site."""
    return f"{'calc' if card.kind == 'formula' else 'judge'}/{card.id}/"


def limit_data(limit: Limit) -> dict[str, Any]:
    """A limit under the names that the script reads."""
    return limit._asdict()


def _rule(card: Card, rule: tuple[Any, ...]) -> list[Any]:
    """How a result is judged: the limits as figures; of a range the names of its results."""
    kind, *ends = rule
    return [kind, *(ends if kind == "within-range" else map(limit_of, ends))]


def _needs(card: Card) -> dict[str, Any]:
    """What each result of a sheet cannot do without."""
    if card.kind == "formula":
        return {}
    needs = line_needs(card)
    return {
        name: _need(needs[f"return {name}"])
        for name in (key.removeprefix("return ") for key in needs if key.startswith("return "))
    }


def _need(need: Need) -> dict[str, Any]:
    return {
        "all": sorted(item for item in need if isinstance(item, str)),
        # A set has no order, and a script that changed at each build would be fetched at each update.
        "any": sorted(([_need(each) for each in group] for group in need if not isinstance(group, str)), key=repr),
    }


def _callee(card: Card) -> dict[str, Any]:
    """What a worked line says of the formula or sheet that it calls."""
    return {
        "title": card.title,
        "page": None if card.part else page_of(card),
        "kind": card.kind,
        "labels": dict(card.labels),
    }


def _names(card: Card) -> set[str]:
    columns = {column for names in card.rows.values() for column in names}
    return {*card.entries, *card.results, card.result, *columns}


def _word(name: str) -> dict[str, str]:
    quantity = VOCABULARY[name]
    return {key: getattr(quantity, key) for key in ("symbol", "dimension", "metric", "us", "meaning")}
