"""One simulated repair after another: what a policy costs on the cases of the fault knowledge. Not a test."""

import random
from collections.abc import Mapping, Sequence
from math import log
from typing import NamedTuple

import numpy as np

from valvecalc.diagnosis.advice import RETAKE
from valvecalc.diagnosis.belief import Scope, likelihood
from valvecalc.diagnosis.chains import killers
from valvecalc.diagnosis.knowledge import Model
from valvecalc.diagnosis.policy import Choice, Position, choose, way_minutes, way_to
from valvecalc.diagnosis.repair import Job, jobs, opening_minutes
from valvecalc.diagnosis.walk import Answer, Case, answered, not_cured, replay, start, surprises

Rows = Mapping[str, Sequence[Sequence[float]]]


class End(NamedTuple):
    minutes: float
    checks: int
    first_cause: bool
    first_job: bool
    stated: float
    killer: bool = False


class Bench:
    """One complaint; the policy's choices are kept by what was answered, so that cases share them."""

    def __init__(self, case: Scope, by_cause: bool = False, rows: Rows | None = None, known: "Bench | None" = None):
        self.case = case
        self.rows = rows or case.rows
        self.origin = start(case)._replace(todo=jobs(case, by_cause))
        self.choices: dict[tuple[object, ...], Choice] = known.choices if known else {}

    def choice(self, key: tuple[object, ...], position: Position) -> Choice:
        if key not in self.choices:
            self.choices[key] = choose(self.case, position)
        return self.choices[key]

    def repair_minutes(self, position: Position, job: Job) -> float:
        return job.minutes + (opening_minutes(self.case, position.stage) if job.opened else 0.0)

    def clairvoyant(self) -> float:
        return sum(
            self.case.prior[place] * self.repair_minutes(self.origin, job)
            for job in self.origin.todo
            for place in job.causes
        )

    def draw(self, rng: random.Random, check: str, true: int) -> int:
        rows = self.rows[check]
        return rng.choices(range(len(rows)), [row[true] for row in rows])[0]

    def run(self, rng: random.Random, true: int | None = None, wrong: bool = False, retake: bool = False) -> End:
        """One case. wrong: one of the first four answers is a wrong one, at random."""
        case = self.case
        true = rng.choices(range(len(case.causes)), case.prior)[0] if true is None else true
        wrong_at = rng.randrange(4) if wrong else -1
        said: list[tuple[str, int, bool]] = []  # check, outcome, wrongly
        tried: list[Job] = []
        minutes, checks, taken_again = 0.0, 0, False
        first: tuple[bool, bool, float] | None = None
        position = self.origin
        while True:
            key = (tuple((check, outcome) for check, outcome, _ in said), tuple(job.id for job in tried))
            choice = self.choice(key, position)
            if choice.option is not None:
                check = choice.option.way[0]
                minutes += way_minutes(case, (check,), position.stage)[0]
                outcome = self.draw(rng, check, true)
                is_wrong = checks == wrong_at
                if is_wrong:
                    outcome = rng.choice([other for other in range(len(self.rows[check])) if other != outcome])
                checks += 1
                said.append((check, outcome, is_wrong))
                position = answered(case, position, check, list(case.model.checks[check].outcomes)[outcome])
                continue
            job = choice.order[0]
            minutes += self.repair_minutes(position, job)
            if first is None:
                top = max(job.causes, key=lambda place: position.belief[place])
                first = (top == true, true in job.causes, sum(position.belief[place] for place in job.causes))
            if true in job.causes:
                return End(minutes, checks, *first)
            tried.append(job)
            position = not_cured(position, job)
            if retake and not taken_again and said:
                taken_again = True
                minutes, said, position = self._take_again(rng, true, minutes, said, tried, position)

    def _take_again(
        self,
        rng: random.Random,
        true: int,
        minutes: float,
        said: list[tuple[str, int, bool]],
        tried: list[Job],
        position: Position,
    ) -> tuple[float, list[tuple[str, int, bool]], Position]:
        """After the first failed repair the most surprising answer is taken again; a right one stays what it was."""
        model = self.case.model
        steps = [{"check": check, "outcome": list(model.checks[check].outcomes)[place]} for check, place, _ in said]
        case = replay(model, {"symptom": self.case.symptom, "steps": steps}, self.case)
        answer, chance = surprises(case)[0]
        if chance >= RETAKE:
            return minutes, said, position
        minutes += way_minutes(self.case, (answer.check,), "disassembled")[0]
        again = [
            (check, self.draw(rng, check, true) if wrongly else outcome, False)
            if check == answer.check
            else (check, outcome, wrongly)
            for check, outcome, wrongly in said
        ]
        if again == said:
            return minutes, said, position
        fresh = self.origin
        for check, outcome, _ in again:
            fresh = answered(self.case, fresh, check, list(model.checks[check].outcomes)[outcome])
        for job in tried:
            fresh = not_cured(fresh, job)
        return minutes, again, fresh


def chart(bench: Bench, rng: random.Random) -> End:
    """The printed chart: causes in falling weight, one pointing check each, repair when it points, else next line."""
    case = bench.case
    true = rng.choices(range(len(case.causes)), case.prior)[0]
    position, minutes, checks = bench.origin, 0.0, 0
    said: dict[str, int] = {}
    first: tuple[bool, bool, float] | None = None
    lines = sorted(range(len(case.causes)), key=lambda place: -case.prior[place])
    for points in (True, False):  # the whole chart, then what is left in its order
        for line in lines:
            job = next((job for job in position.todo if line in job.causes), None)
            if job is None:
                continue
            if points:
                check, outcomes = pointing(case, line)
                for name in () if check in said else way_to(case, position, check) or ():
                    minutes += way_minutes(case, (name,), position.stage)[0]
                    checks += 1
                    said[name] = bench.draw(rng, name, true)
                    outcome = list(case.model.checks[name].outcomes)[said[name]]
                    position = answered(case, position, name, outcome)
                if said.get(check) not in outcomes:
                    continue
            minutes += bench.repair_minutes(position, job)
            first = first or (line == true, true in job.causes, 0.0)
            if true in job.causes:
                return End(minutes, checks, *first)
            position = not_cured(position, job)
    raise AssertionError("a job cures every cause")


def pointing(case: Scope, line: int) -> tuple[str, tuple[int, ...]]:
    """The check that points best to a cause, and the outcomes that point to it."""
    best, found = -1.0, ("", ())
    others = [part for place, part in enumerate(case.prior) if place != line]
    for check, rows in case.rows.items():
        gain, outcomes = 0.0, []
        for place, row in enumerate(rows):
            rest = [chance for other, chance in enumerate(row) if other != line]
            mean = sum(map(lambda one, two: one * two, others, rest)) / (sum(others) or 1.0)
            if row[line] > mean:
                gain += row[line] - mean
                outcomes.append(place)
        if gain > best and way_to(case, start(case), check):
            best, found = gain, (check, tuple(outcomes))
    return found


def least_check_minutes(bench: Bench) -> float:
    """Least minutes of checks that could carry the bits of the complaint, each at its channel capacity, used once."""
    case = bench.case
    need = -sum(part * log(part, 2) for part in case.prior if part > 0)
    items = []
    for check, rows in case.rows.items():
        minutes = way_minutes(case, (check,), "on-machine")[0]
        items.append((capacity(np.array(rows)) / minutes, minutes))
    total = 0.0
    for rate, minutes in sorted(items, reverse=True):
        carried = min(need, rate * minutes)
        total += carried / rate if rate > 0 else 0.0
        need -= carried
        if need <= 1e-9:
            break
    return total


def capacity(channel: "np.ndarray[tuple[int, ...], np.dtype[np.float64]]") -> float:
    """Channel capacity in bits (Blahut 1972, Arimoto 1972); columns are P(outcome | cause)."""
    weights = np.full(channel.shape[1], 1 / channel.shape[1])
    for _ in range(60):
        out = channel @ weights
        gain = 2 ** (channel * np.log2(channel / out[:, None])).sum(axis=0)
        weights = weights * gain / (weights @ gain)
    out = channel @ weights
    return float((weights * (channel * np.log2(channel / out[:, None])).sum(axis=0)).sum())


def words_off(case: Scope, rng: random.Random, share: float) -> Rows:
    """The truth with a share of the links one word off, up or down; the belief keeps the file's words."""
    model = case.model
    ranks = sorted(model.rules.scale["likelihood"], key=lambda word: model.rules.scale["likelihood"][word])
    numbers = [model.rules.scale["likelihood"][word] for word in ranks]
    rows = {}
    for check in case.rows:
        columns = []
        for cause in case.causes:
            places = [ranks.index(word) for word in model.words(check, cause)]
            if cause in model.links[check]:
                moves = [rng.choice((-1, 1)) if rng.random() < share else 0 for _ in places]
                places = [min(max(place + move, 0), 4) for place, move in zip(places, moves, strict=True)]
            total = sum(numbers[place] for place in places)
            columns.append([numbers[place] / total for place in places])
        rows[check] = tuple(zip(*columns, strict=True))
    return rows


def double_fault(bench: Bench, rng: random.Random, killer: str, victim: str, ask: bool) -> End | None:
    """Killer and victim together: the case ends when the victim is repaired; was the killer repaired as well?

    Each answer shows the linked fault, or either by coin when both are linked. After the cure the chains are asked.
    """
    case, model = bench.case, bench.case.model

    def shown(check: str) -> str:
        linked = [cause for cause in (killer, victim) if cause in model.links[check]]
        return rng.choice(linked) if linked else victim

    def draw(check: str) -> str:
        chances = likelihood(model, check, shown(check))
        return rng.choices(list(model.checks[check].outcomes), chances)[0]

    position, minutes, checks = bench.origin, 0.0, 0
    answers: list[Answer] = []
    tried: list[str] = []
    key: tuple[object, ...] = ()
    victim_place = case.causes.index(victim)
    killed = False
    while True:
        choice = bench.choice(key, position)
        if choice.option is not None:
            check = choice.option.way[0]
            minutes += way_minutes(case, (check,), position.stage)[0]
            checks += 1
            outcome = draw(check)
            answers.append(Answer(check, outcome, case.rows[check][0]))
            position = answered(case, position, check, outcome)
            key = (*key, (check, list(model.checks[check].outcomes).index(outcome)))
            continue
        job = choice.order[0]
        minutes += bench.repair_minutes(position, job)
        killed = killed or any(case.causes[place] == killer for place in job.causes)
        if victim_place in job.causes:
            break
        tried.append(job.id)
        position = not_cured(position, job)
        key = (*key, job.id)
        if len(position.todo) == 0:
            return None
    if not ask or killed:
        return End(minutes, checks, True, True, 0.0, killed)
    opened = job.opened or model.causes[victim].repair_class == "scrap"
    position = position._replace(stage="disassembled" if opened else position.stage)
    cured = Case(case, position, frozenset(), tuple(answers), (), tuple(tried), victim, None)
    while (found := killers(cured)).ask:
        minutes += way_minutes(case, (found.ask,), cured.position.stage)[0]
        cured = cured._replace(afterwards=(*cured.afterwards, (found.ask, draw_after(model, rng, found.ask, killer))))
    return End(minutes, checks, True, True, 0.0, killer in [name for name, _, _ in found.shown])


def draw_after(model: Model, rng: random.Random, check: str, killer: str) -> str:
    """An answer after the victim is cured: only the killer is left to show."""
    return rng.choices(list(model.checks[check].outcomes), likelihood(model, check, killer))[0]
