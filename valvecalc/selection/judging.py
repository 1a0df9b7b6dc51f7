"""What a rule of the sizing says: need, what is there, margin, verdict; and the few ways to come to a verdict."""

from typing import Any, NamedTuple

from valvecalc.facts import fact_value
from valvecalc.selection.demand import Need
from valvecalc.uncertainty import decide

ACCEPT, REJECT, ASK = "accept", "reject", "ask"
Lacks = tuple[str, ...]
NOTHING: dict[str, Any] = {}


class Rule(NamedTuple):
    """One rule on one valve. Numbers in SI; the sentence is made from `words` and `about` when somebody reads it.

    margin  what is in hand as a share of the need; None where there is nothing to measure
    u       standard uncertainty of that share
    about   what the sentence tells beside need and has: names with values, or the loss of a movement
    lacks   entries of the duty ("pump.flow") and columns of the stock ("stock.seals") to find out
    """

    rule: str
    verdict: str
    words: str
    need: Any = None
    has: Any = None
    margin: float | None = None
    u: float = 0.0
    lacks: Lacks = ()
    about: Any = NOTHING


def ask(rule: str, lacks: Lacks, need: Any = None, has: Any = None, words: str = "ask") -> Rule:
    """The rule cannot be decided: what is lacking stands in it."""
    return Rule(rule, ASK, words, need, has, None, 0.0, lacks)


def lacking(valve: Any, *columns: str) -> Lacks:
    """Those of these columns that are not known of this valve."""
    return tuple(f"stock.{column}" for column in columns if getattr(valve, column) is None)


def at_least(rule: str, need: float, has: float, u: float = 0.0, about: Any = NOTHING) -> Rule:
    """`has` has to reach `need`; u is the standard uncertainty of `has`. Too near to tell is asked about."""
    verdict = decide(has, u, ">=", need, fact_value("decision-factor"))
    return _told(rule, verdict, need, has, (has - need) / need if need else None, u / need if need else 0.0, about)


def at_most(rule: str, need: float, has: float, u: float = 0.0, about: Any = NOTHING) -> Rule:
    """`has` must not pass `need`."""
    verdict = decide(has, u, "<=", need, fact_value("decision-factor"))
    return _told(rule, verdict, need, has, (need - has) / need if need else None, u / need if need else 0.0, about)


def _told(rule: str, verdict: str, need: float, has: float, margin: float | None, u: float, about: Any) -> Rule:
    if verdict == "cannot-tell":
        return Rule(rule, ASK, "near", need, has, margin, u, (), about)
    return Rule(rule, verdict, verdict, need, has, margin, u, (), about)


def rating(rule: str, need: Need, has: float | None, column: str) -> Rule:
    """A rating against a need that may be known between two ends only."""
    if has is None:
        return ask(rule, (f"stock.{column}", *need.lacks), need.low or None)
    if has >= need.high:
        return Rule(rule, ACCEPT, ACCEPT, need.high, has, (has - need.high) / need.high if need.high else None)
    if has < need.low:
        return Rule(rule, REJECT, REJECT, need.low, has, (has - need.low) / need.low)
    return ask(rule, need.lacks, need.low or None, has)


def same(rule: str, need: Any, has: Any, entry: str, column: str) -> Rule:
    """Two words that must match."""
    if need is None or has is None:
        lacks = ((entry,) if need is None else ()) + ((f"stock.{column}",) if has is None else ())
        return ask(rule, lacks, need, has)
    verdict = ACCEPT if need == has else REJECT
    return Rule(rule, verdict, verdict, need, has)
