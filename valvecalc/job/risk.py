"""The risk of a verdict in words: how likely what is measured lies on the other side of its limit (JCGM 106)."""

from math import inf

from valvecalc.facts import load_toml
from valvecalc.uncertainty import probability_above
from valvecalc.units import show

#: Below this a share is told as "under": the tails of what is assumed normal are not known any better.
LEAST = 1e-3


def risk(verdict: str, value: float, u: float, low: float = -inf, high: float = inf) -> str:
    """A sentence for a verdict on a value with standard uncertainty u held within limits; "" without uncertainty."""
    words = load_toml("words/report.toml")["risk"]
    if u <= 0.0 or verdict not in words:
        return ""
    within = probability_above(value, u, low) - probability_above(value, u, high)
    share = 1.0 - within if verdict == "accept" else within
    told = show(share, "ratio", "%", 2) if share >= LEAST else words["under"].format(share=show(LEAST, "ratio", "%", 1))
    return f" {words[verdict].format(share=told)}"
