"""Candidates judged and ranked: what fits first, by its smallest margin, then loss, then price; and what flips."""

import gc
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import NamedTuple

from valvecalc.selection.demand import Demand
from valvecalc.selection.judging import ACCEPT, ASK, REJECT, Rule
from valvecalc.selection.rules import Judge
from valvecalc.selection.stock import StockValve, Tick

#: Their margins cannot be large (volts) or say nothing of strength (reach): they judge, and do not rank.
_NOT_WEIGHED = ("volts", "limit-volts", "reach")
_ORDER = {ACCEPT: 0, ASK: 1, REJECT: 2}


class Candidate(NamedTuple):
    """One valve judged: the worst verdict of its rules, how many refuse it, its smallest margin, its largest felt loss.

    What it costs in each movement is not kept: thousands of valves would hold a hundred thousand losses that nobody
    reads. `flow_rules.work_of` makes them again.
    """

    valve: StockValve
    verdict: str
    rules: tuple[Rule, ...]
    misses: int
    margin: float | None
    loss: float | None

    @property
    def rejected(self) -> list[Rule]:
        """The rules that refuse it."""
        return [rule for rule in self.rules if rule.verdict == REJECT]

    @property
    def asked(self) -> list[Rule]:
        """The rules that cannot be decided."""
        return [rule for rule in self.rules if rule.verdict == ASK]


def judge(valve: StockValve, asked: Demand | Judge) -> Candidate:
    """One valve against a duty."""
    rules, work = (asked if isinstance(asked, Judge) else Judge(asked))(valve)
    verdicts = [rule.verdict for rule in rules]
    misses = verdicts.count(REJECT)
    verdict = REJECT if misses else ASK if ASK in verdicts else ACCEPT
    margins = [rule.margin for rule in rules if rule.margin is not None and rule.rule not in _NOT_WEIGHED]
    loss = max([one.felt for one in work.warm]) if work.warm else None
    return Candidate(valve, verdict, tuple(rules), misses, min(margins, default=None), loss)


def rank(valves: Sequence[StockValve], asked: Demand, tick: Tick | None = None) -> list[Candidate]:
    """All valves, best first. `tick` is told how many are judged, every few hundred."""
    found = []
    judging = Judge(asked)
    with _no_collecting():
        for number, valve in enumerate(valves, 1):
            found.append(judge(valve, judging))
            if tick is not None and number % 200 == 0:
                tick(number, len(valves))
        return sorted(found, key=_key)


@contextmanager
def _no_collecting() -> Iterator[None]:
    """Nothing made here refers back to itself: going through all of it again and again for such rings, as Python does
    while thousands of objects come, took a quarter of the time and found none."""
    collecting = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if collecting:
            gc.enable()


def _key(one: Candidate) -> tuple[object, ...]:
    """What fits before what asks before what is refused; of the refused those with the fewest misses first."""
    loss, price = one.loss, one.valve.price
    return (
        _ORDER[one.verdict],
        one.misses,
        -one.margin if one.margin is not None else float("inf"),
        loss if loss is not None else float("inf"),
        price if price is not None else float("inf"),
        one.valve.name,
    )


class Flip(NamedTuple):
    """A valve whose verdict changes, and the rules that did it (before, after)."""

    name: str
    before: str
    after: str
    rules: list[tuple[Rule, Rule]]


def flips(valves: Iterable[StockValve], before: Demand, after: Demand) -> list[Flip]:
    """What changes when an entry of the duty changes: whole verdicts, and single rules under one that stays."""
    found = []
    old, new = Judge(before), Judge(after)
    for valve in valves:
        was, now = judge(valve, old), judge(valve, new)
        pairs = [(a, b) for a, b in zip(was.rules, now.rules, strict=True) if a.verdict != b.verdict]
        if pairs:
            found.append(Flip(valve.name, was.verdict, now.verdict, pairs))
    return found


def to_find_out(candidates: Iterable[Candidate]) -> list[str]:
    """Entries of the duty that some candidate not refused hangs on, in the order in which the rules ask."""
    found: dict[str, None] = {}
    for one in candidates:
        if one.verdict != REJECT:
            for rule in one.asked:
                found.update((entry, None) for entry in rule.lacks if not entry.startswith("stock."))
    return list(found)
