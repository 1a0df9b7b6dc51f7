"""Verdicts: a result against its limit, decided with a guard band, never a bare yes or no near the limit."""

from typing import Any

from valvecalc.answer import Answer
from valvecalc.facts import fact_value
from valvecalc.uncertainty import decide

#: accept, reject, cannot-tell; unknown where there is nothing to judge
Verdict = str


def verdicts(answer: Answer, own_limits: dict[str, float] | None = None) -> dict[str, Verdict]:
    """Verdict of every judged result. `own_limits` (fact id -> SI) are the shop's, and win over data/."""
    if not answer.card.judged:
        return {}
    own = own_limits or {}
    factor = own.get("decision-factor", fact_value("decision-factor"))
    found = {}
    for name, rule in answer.card.judged.items():
        found[name] = _verdict(answer, name, rule, factor, own) if name in answer.results else "unknown"
    return found


def limit_of(key: str, own: dict[str, float] | None = None) -> float:
    """A limit in SI: the shop's own if it set one, else the project's default."""
    value = (own or {}).get(key)
    return float(fact_value(key)) if value is None else value


def _verdict(answer: Answer, name: str, rule: tuple[Any, ...], factor: float, own: dict[str, float]) -> Verdict:
    def u(result: str) -> float:
        spread = answer.spreads.get(result)
        return 0.0 if spread is None else spread.u

    value = answer.results[name]
    if rule[0] in (">=", "<="):
        return decide(value, u(name), rule[0], limit_of(rule[1], own), factor)
    if rule[0] == "within":
        limit = limit_of(rule[1], own)
        return _both(decide(value, u(name), "<=", limit, factor), decide(value, u(name), ">=", -limit, factor))
    if rule[0] == "band":
        below, above = -limit_of(rule[1], own), limit_of(rule[2], own)
        return _both(decide(value, u(name), "<=", above, factor), decide(value, u(name), ">=", below, factor))
    low, high, most = (answer.results.get(one) for one in rule[1:])
    if low is None or high is None or most is None:
        return "unknown"
    if decide(high, u(rule[2]), "<=", most, factor) == "accept":
        return "accept"
    return "reject" if decide(low, u(rule[1]), "<=", most, factor) == "reject" else "cannot-tell"


def _both(one: Verdict, other: Verdict) -> Verdict:
    if "reject" in (one, other):
        return "reject"
    return "accept" if one == other == "accept" else "cannot-tell"
