"""Which check next, or which repair first: least expected minutes, one or two steps ahead, inside the safety rules.

The idea of comparing a check with repairing now is that of Heckerman, Breese and Rommelse 1995. Safety is a gate and
never a price: what a rule forbids is not in the list that the minutes are compared on.
"""

from collections.abc import Sequence
from functools import lru_cache
from math import log2
from operator import mul
from typing import NamedTuple

from valvecalc.diagnosis.belief import BENCH_ONLY, Belief, Scope, near, normalised
from valvecalc.diagnosis.repair import STAGES, Job, Prices, expected_minutes, opening_minutes, prices, repair_order

TIE = 1e-9  # minutes: less is no difference, so that two languages choose alike
SCREENED = 14  # checks that are priced, the best by information per minute
DEEPENED = 6  # of those, the best ones that are priced two steps ahead
FOLLOWERS = 6  # checks tried as the second step
PAYS = 1.0  # minutes that a check has to save, expected: less is not worth the walk
LIKE_WORTH = 1.002  # checks within 0.2 % of the least expected minutes are of like worth: the lower hazard goes first
LEVELS = ("none", "low", "medium", "high")


class Position(NamedTuple):
    """Where a case stands, as the policy reads it.

    belief       by cause, struck causes 0
    answered     checks with an answer;  groups: their evidence groups
    skipped      checks declined or not possible here;  unmet: needs that cannot be had here
    stage        "on-machine", "on-bench" or "disassembled": how far the valve has come
    no_pressure  an outside look failed: no pressure on this valve again
    todo         repair jobs not tried yet
    """

    belief: Belief
    answered: frozenset[str]
    groups: frozenset[str]
    skipped: frozenset[str]
    unmet: frozenset[str]
    stage: str
    no_pressure: bool
    todo: tuple[Job, ...]


class Option(NamedTuple):
    """A check that may be offered: the way to it (itself last), minutes of the whole way, bits that it is worth."""

    check: str
    way: tuple[str, ...]
    minutes: float
    bits: float
    expected: float = 0.0


class Choice(NamedTuple):
    """What to do next. `option` is None when no check pays: then repair in `order`.

    now       expected minutes of repairing at once, by `order`
    options   the checks that were priced, best first
    """

    option: Option | None
    now: float
    order: tuple[Job, ...]
    options: tuple[Option, ...]


def hazard_of(case: Scope, check: str) -> str:
    """The hazard level shown and counted: what is live is high above 50 V."""
    record = case.model.checks[check]
    told = len(case.profile) < len(case.model.rules.tags)
    return "high" if told and "above-50-v" in case.profile and "live" in record.hazards else record.hazard


def possible(case: Scope, position: Position, check: str) -> bool:
    """Whether a check can be done at all in this case: place, needs, pressure, safety of the complaint."""
    record = case.model.checks[check]
    if check not in case.rows or check in position.skipped or position.unmet.intersection(record.needs):
        return False
    if case.situation == BENCH_ONLY and record.where == STAGES[0] and not record.at_bench:
        return False
    under_pressure = case.model.rules.pressure
    if position.no_pressure and any(need in under_pressure for need in record.needs):
        return False
    look_first = case.model.symptoms[case.symptom].look_first
    waits = look_first and not position.answered.intersection(look_first)
    return not (waits and any(need in under_pressure for need in record.needs))


def way_to(case: Scope, position: Position, check: str) -> tuple[str, ...] | None:
    """The checks that come before `check` and it, in order; None when one of them cannot be done."""
    known = case.model.symptoms[case.symptom].already_known
    way: list[str] = []

    def add(name: str) -> bool:
        if name in position.answered or name in known or name in way:
            return True
        if not possible(case, position, name):
            return False
        for earlier in case.model.checks[name].after:
            if not add(earlier) and not case.model.checks[earlier].may_be_missed:
                return False
        way.append(name)
        return True

    return tuple(way) if add(check) else None


def way_minutes(case: Scope, way: Sequence[str], stage: str) -> tuple[float, str]:
    """Minutes of the checks of a way with hazard, evidence and stage, and the stage it ends at."""
    scale = case.model.rules.scale
    total, place = 0.0, STAGES.index(stage)
    for name in way:
        record = case.model.checks[name]
        total += record.minutes + scale["hazard_minutes"][hazard_of(case, name)]
        total += scale["penalty_minutes"]["intrusive"] if record.intrusive else 0
        total += scale["penalty_minutes"]["destroys_evidence"] if record.destroys_evidence else 0
        there = STAGES.index(record.where)
        if there > place:
            total += sum(scale["stage_minutes"][later] for later in STAGES[place + 1 : there + 1])
            place = there
    return total, STAGES[place]


def bits(belief: Belief, rows: Sequence[Sequence[float]]) -> float:
    """Information that the answer of a check is expected to give about the cause."""
    gain = 0.0
    for row in rows:
        joint = tuple(map(mul, belief, row))
        chance = sum(joint)
        if chance > 0:
            gain -= chance * log2(chance)
            gain += sum(map(mul, joint, _logs(row)))
    return gain


@lru_cache(maxsize=1024)
def _logs(row: tuple[float, ...]) -> tuple[float, ...]:
    """Logarithms of a row; the rows of one complaint come back at every position."""
    return tuple(map(log2, row))


def rows_of(case: Scope, position: Position, check: str) -> Sequence[Sequence[float]]:
    """P(outcome | cause) as it would count now."""
    repeats = case.model.checks[check].evidence_group in position.groups
    return (case.again if repeats else case.rows)[check]


def offered(case: Scope, position: Position) -> list[Option]:
    """Every check that may be offered now, in the order of the knowledge, unpriced."""
    found = []
    for name in case.telling:
        if name in position.answered:
            continue
        record = case.model.checks[name]
        if record.never_first and not position.answered:
            continue
        gain = bits(position.belief, rows_of(case, position, name))
        way = way_to(case, position, name) if gain > TIE else None
        if way and not (case.model.checks[way[0]].never_first and not position.answered):
            found.append(Option(name, way, way_minutes(case, way, position.stage)[0], gain))
    lower = [one.bits for one in found if len(one.way) == 1 and hazard_of(case, one.check) != "high"]
    most = max(lower, default=0.0)
    return [one for one in found if hazard_of(case, one.way[0]) != "high" or most < one.bits / 2]


def choose(case: Scope, position: Position, steps: int = 2) -> Choice:
    """The next check, or none when no check pays for itself.

    steps: 0 prices no check; 1 prices every screened check with repairing after its answer; 2 lets one further check
    follow.
    """
    price = prices(position.todo, len(case.causes))
    opening = opening_minutes(case, position.stage)
    now = expected_minutes(position.belief, price, opening)
    order = tuple(repair_order(position.belief, position.todo, opening))
    if steps < 1 or len(position.todo) < 2:
        return Choice(None, now, order, ())
    ranked = sorted(offered(case, position), key=lambda one: near(-one.bits / one.minutes))[:SCREENED]
    priced = sorted((_one_step(case, position, one, price) for one in ranked), key=lambda one: near(one.expected))
    if steps > 1:
        follow = _followers(priced)
        deep = [_two_steps(case, position, one, price, follow) for one in priced[:DEEPENED]]
        priced = sorted(deep + priced[DEEPENED:], key=lambda one: near(one.expected))
    paying = [one for one in priced if one.expected < now - PAYS]
    return Choice(_gentlest(case, paying), now, order, tuple(priced))


def _gentlest(case: Scope, paying: Sequence[Option]) -> Option | None:
    """Of the checks of like worth the one of the lowest hazard, then of the least expected minutes."""
    if not paying:
        return None
    like = [one for one in paying if one.expected <= paying[0].expected * LIKE_WORTH + TIE]
    return min(like, key=lambda one: LEVELS.index(hazard_of(case, one.way[0])))


def _one_step(case: Scope, position: Position, option: Option, price: Prices) -> Option:
    stage = way_minutes(case, option.way, position.stage)[1]
    opening = opening_minutes(case, stage)
    rows = rows_of(case, position, option.check)
    after = sum(expected_minutes(tuple(map(mul, position.belief, row)), price, opening) for row in rows)
    return option._replace(expected=option.minutes + after)


def _followers(priced: Sequence[Option]) -> list[Option]:
    """The checks tried as second step: half the best by expected minutes, half by information per minute."""
    best = list(priced[: FOLLOWERS // 2])
    for one in sorted(priced, key=lambda one: near(-one.bits / one.minutes)):
        if len(best) < FOLLOWERS and one not in best:
            best.append(one)
    return best


def _two_steps(case: Scope, position: Position, option: Option, price: Prices, follow: Sequence[Option]) -> Option:
    stage = way_minutes(case, option.way, position.stage)[1]
    done = position._replace(
        answered=position.answered.union(option.way),
        groups=position.groups | {case.model.checks[option.check].evidence_group},
        stage=stage,
    )
    ways = []
    for one in follow:
        left = tuple(name for name in one.way if name not in option.way)
        if left and one.check != option.check:
            minutes, end = way_minutes(case, left, stage)
            ways.append((minutes, opening_minutes(case, end), rows_of(case, done, one.check)))
    total = option.minutes
    opening = opening_minutes(case, stage)
    repaired = tuple(price.minutes[job] for job in price.job_of)
    for row in rows_of(case, position, option.check):
        joint = tuple(map(mul, position.belief, row))
        best = expected_minutes(joint, price, opening)
        chance = sum(joint)
        least = sum(map(mul, joint, repaired))  # if the cause were told free: no second check can do better
        for minutes, later, rows in ways:
            if minutes * chance + least < best:
                value = minutes * chance
                for inner in rows:
                    value += expected_minutes(tuple(map(mul, joint, inner)), price, later)
                    if value > best:
                        break
                best = min(best, value)
        total += best
    return option._replace(expected=min(option.expected, total))


def leading(case: Scope, belief: Belief, most: int = 3) -> tuple[tuple[str, float], ...]:
    """The leading causes with their probability."""
    ranked = sorted(range(len(belief)), key=lambda index: near(-belief[index]))
    return tuple((case.causes[index], belief[index]) for index in ranked[:most] if belief[index] > 0)


def outcome_views(
    case: Scope, position: Position, check: str
) -> tuple[tuple[str, float, tuple[tuple[str, float], ...]], ...]:
    """(outcome, chance, leading causes after it) of a check, in order of likelihood."""
    views = []
    for outcome, row in zip(case.model.checks[check].outcomes, rows_of(case, position, check), strict=True):
        joint = tuple(map(mul, position.belief, row))
        views.append((outcome, sum(joint), leading(case, normalised(joint))))
    return tuple(sorted(views, key=lambda view: near(-view[1])))
