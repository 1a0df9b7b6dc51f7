"""The card of a calculation and the register; the decorated function itself comes back unwrapped.

A formula is a keyword-only function of SI floats (or arrays) whose body reads like the handbook.
The names of its parameters and of every local are names of the vocabulary (`quantities.py`), which
fixes symbol, dimension, shop units and meaning. Everything else is on the card, as data.
"""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple, TypeAlias, TypeVar

#: What a formula takes and returns: a float in SI, or a NumPy array of them. It is Any on purpose:
#: `float` would make a strict type checker refuse arrays, and the unit is told by the name.
Value: TypeAlias = Any

F = TypeVar("F", bound=Callable[..., Any])


class Card(NamedTuple):
    """What the register knows of a formula or a sheet. All texts are as the author wrote them."""

    id: str
    kind: str
    title: str
    function: Callable[..., Any]
    entries: tuple[str, ...]
    defaults: Mapping[str, Any]
    result: str
    sources: tuple[tuple[str, str], ...]
    limits: Mapping[str, str]
    trusted: Mapping[str, tuple[str, str]]
    origins: Mapping[str, tuple[str, str]]
    labels: Mapping[str, str]
    example: Mapping[str, Any]
    cautions: tuple[str, ...]
    distrust: tuple[str, ...]
    edition: int
    part: bool
    formerly: tuple[str, ...]
    record: Any = None
    rows: Mapping[str, tuple[str, ...]] = {}
    choices: Mapping[str, tuple[str, ...]] = {}
    results: tuple[str, ...] = ()
    judged: Mapping[str, Any] = {}
    desk_only: bool = False
    chart: str | None = None


REGISTER: dict[str, Card] = {}
_BY_FUNCTION: dict[Callable[..., Any], Card] = {}


def card_of(function: Callable[..., Any]) -> Card | None:
    """The card of a registered formula or sheet, or None."""
    try:
        return _BY_FUNCTION.get(function)
    except TypeError:
        return None


def file_card(card: Card) -> None:
    """Put a card into the register; an id is given once only, old ids included."""
    taken = {name for other in REGISTER.values() for name in (other.id, *other.formerly)}
    for name in (card.id, *card.formerly):
        if name in taken:
            raise RuntimeError(f"the id {name!r} is in the register already")
    REGISTER[card.id] = card
    _BY_FUNCTION[card.function] = card


def formula(
    title: str,
    *,
    result: str,
    sources: tuple[tuple[str, str], ...] = (),
    limits: Mapping[str, str] | None = None,
    trusted: Mapping[str, tuple[str, str]] | None = None,
    origins: Mapping[str, tuple[str, str]] | None = None,
    labels: Mapping[str, str] | None = None,
    example: Mapping[str, str] | None = None,
    cautions: tuple[str, ...] = (),
    distrust: tuple[str, ...] = (),
    edition: int = 1,
    part: bool = False,
    formerly: tuple[str, ...] = (),
    chart: str | None = None,
) -> Callable[[F], F]:
    """File the card of a formula and return the function unchanged.

    title     what the shop calls it
    result    vocabulary name of the value returned
    sources   (key of data/sources.toml, locator) pairs; the locator may be ""
    limits    entry -> "> 0 mm, <= 500 mm": outside, the door refuses (impossible or undefined);
              < and > say that the end does not belong to it
    trusted   entry -> (range in the same words, sentence): outside, the answer carries the sentence
    origins   entry with a default -> (origin word, source key or ""): standard, handbook,
              common-practice, judgement
    labels    entry -> narrower label than the vocabulary's meaning
    example   entries as text: the worked example of the page
    cautions  ids of sentences in data/words/cautions.toml shown before the calculation
    distrust  sentences: when not to trust it
    edition   raised when the answer changes beyond rounding
    part      a product or ratio nobody would look up: no page, shown inside those that call it
    chart     the entry along which the result is drawn, where a curve says more than the figure
    """

    def file(function: F) -> F:
        code = function.__code__
        if code.co_argcount or not code.co_kwonlyargcount:
            raise RuntimeError(f"{code.co_name}: a formula takes keyword-only entries")
        file_card(
            Card(
                id=code.co_name.replace("_", "-"),
                kind="formula",
                title=title,
                function=function,
                entries=code.co_varnames[: code.co_kwonlyargcount],
                defaults=dict(function.__kwdefaults__ or {}),
                result=result,
                sources=sources,
                limits=limits or {},
                trusted=trusted or {},
                origins=origins or {},
                labels=labels or {},
                example=example or {},
                cautions=cautions,
                distrust=distrust,
                edition=edition,
                part=part,
                formerly=formerly,
                chart=chart,
            )
        )
        return function

    return file
