"""Repairs: one job cures every cause of its group; jobs go by probability over cost, the opening shared between them.

With one fault and independent costs the order by probability over cost has the least expected cost (Kadane and Simon
1975, as used by Heckerman, Breese and Rommelse 1995). What is shared (opening the valve) makes a cluster of jobs:
its best prefix by probability over cost goes as one job (arXiv 1203.3502).
"""

from collections.abc import Sequence
from operator import mul
from typing import NamedTuple

from valvecalc.diagnosis.belief import BENCH_ONLY, Scope, near

STAGES = ("on-machine", "on-bench", "disassembled")
MACHINE_CARD = "measure-on-machine"  # the job "send the valve back with what to measure on the machine"


class Job(NamedTuple):
    """One repair job: the causes that it cures (indices of Scope.causes), its minutes with part and retest."""

    id: str
    causes: tuple[int, ...]
    minutes: float
    opened: bool


def jobs(case: Scope, by_cause: bool = False) -> tuple[Job, ...]:
    """The repair jobs of a complaint. With the machine out of reach its causes share one job: the card to the customer.

    by_cause: every cause its own job, for comparison with studies that repair cause by cause.
    """
    members: dict[str, list[int]] = {}
    for index, name in enumerate(case.causes):
        cause = case.model.causes[name]
        away = case.situation == BENCH_ONLY and cause.side == "machine"
        job = MACHINE_CARD if away else name if by_cause else cause.repair_group or name
        members.setdefault(job, []).append(index)
    figures = case.model.rules.scale["repair"]
    made = []
    for name, causes in members.items():
        records = [case.model.causes[case.causes[index]] for index in causes]
        parts = case.model.rules.scale["part_minutes"]
        if name == MACHINE_CARD:
            work, opened = figures["machine_card_minutes"], False
        else:
            work = max(row.remedy_minutes + parts.get(row.repair_class, 0) for row in records)
            opened = any(row.opened for row in records)
        made.append(Job(name, tuple(causes), float(work + figures["retest_minutes"]), opened))
    return tuple(made)


def opening_minutes(case: Scope, stage: str) -> float:
    """What it still takes to have the valve open on the bench."""
    minutes = case.model.rules.scale["stage_minutes"]
    return float(sum(minutes[later] for later in STAGES[STAGES.index(stage) + 1 :]))


def repair_order(weights: Sequence[float], todo: Sequence[Job], opening: float) -> list[Job]:
    """The jobs in the order of least expected cost, hopeless ones last. `weights` need not be normalised."""
    chance = {job.id: sum(weights[index] for index in job.causes) for job in todo}
    ranked = sorted(todo, key=lambda job: near(-chance[job.id] / job.minutes))
    block, worth = _opened_block([(chance[job.id], job.minutes) for job in ranked if job.opened], opening)
    together = [job for job in ranked if job.opened][:block]
    inside = {job.id for job in together}
    order: list[Job] = []
    for job in ranked:
        if job.id in inside:
            continue
        if together and chance[job.id] / job.minutes < worth:
            order += together
            together = []
        order.append(job)
    return order + together


def _opened_block(items: list[tuple[float, float]], opening: float) -> tuple[int, float]:
    """How many of the opened jobs (chance, minutes; best first) go together behind one opening, and their worth."""
    best, count, chance, minutes = 0.0, 0, 0.0, opening
    for place, (one, cost) in enumerate(items, 1):
        chance += one
        minutes += cost
        if chance / minutes > best:
            best, count = chance / minutes, place
    return count, best


class Prices(NamedTuple):
    """The jobs as flat tuples: what the policy's inner loop reads."""

    job_of: tuple[int, ...]
    minutes: tuple[float, ...]
    rate: tuple[float, ...]
    opened: tuple[bool, ...]


def prices(todo: Sequence[Job], causes: int) -> Prices:
    """`todo` for `expected_minutes`; a cause without a job (struck out) weighs nothing, whatever its place."""
    places = [0] * causes
    for place, job in enumerate(todo):
        for index in job.causes:
            places[index] = place
    minutes = tuple(job.minutes for job in todo)
    return Prices(tuple(places), minutes, tuple(1 / cost for cost in minutes), tuple(job.opened for job in todo))


def expected_minutes(weights: Sequence[float], price: Prices, opening: float) -> float:
    """Expected minutes of repairing by `repair_order` until cured, times the sum of the weights."""
    job_of, minutes, rate, opened = price
    chance = [0.0] * len(minutes)
    for job, weight in zip(job_of, weights):  # noqa: B905 - this line runs some ten thousand times a second
        chance[job] += weight
    left = sum(weights)
    worth = list(map(mul, chance, rate))
    ranked = sorted(range(len(worth)), key=worth.__getitem__, reverse=True)
    total = 0.0
    if not opening:
        for job in ranked:
            total += left * minutes[job]
            left -= chance[job]
        return total
    best, block = 0.0, 0
    sum_chance, sum_minutes = 0.0, opening
    inside = [job for job in ranked if opened[job]]
    for place, job in enumerate(inside, 1):
        sum_chance += chance[job]
        sum_minutes += minutes[job]
        if sum_chance > best * sum_minutes:
            best, block = sum_chance / sum_minutes, place
    together = inside[:block]
    for job in ranked:
        if opened[job] and job in together:
            continue
        if block and worth[job] < best:
            block = 0
            total += left * opening
            for one in together:
                total += left * minutes[one]
                left -= chance[one]
        total += left * minutes[job]
        left -= chance[job]
    if block:
        total += left * opening
        for one in together:
            total += left * minutes[one]
            left -= chance[one]
    return total
