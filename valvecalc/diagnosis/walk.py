"""One case from complaint to end, as plain data that can be stored, sent and replayed.

    {"symptom": "coil-burns", "profile": ["ac", "double-solenoid"], "situation": "at-machine",
     "counts": {"over-voltage": 3},
     "steps": [{"need": "area-clear", "ticked": true},
               {"check": "listen-click", "outcome": "hum"},
               {"check": "current-trace", "skipped": "not-possible"},
               {"need": "stand", "missing": true},
               {"repair": "clean-valve", "cured": true, "cause": "spool-silted"},
               {"killer": "spool-silted"}]}

profile, situation, counts and steps may be left out; profile null is "not described yet". A killer null is "unknown".
The belief, the stage, the ticks and what to do next all follow from the replay; nothing else is kept.
"""

from collections.abc import Mapping, Sequence
from operator import mul
from typing import Any, NamedTuple

from valvecalc.diagnosis.belief import (
    AT_MACHINE,
    BENCH_ONLY,
    Belief,
    Scope,
    near,
    normalised,
    outcome_row,
    scope,
    unknown,
    updated,
)
from valvecalc.diagnosis.knowledge import Model
from valvecalc.diagnosis.policy import Position, way_minutes
from valvecalc.diagnosis.repair import STAGES, Job, jobs
from valvecalc.errors import InputError, Trouble

SKIPPED = ("not-possible", "declined")
# An answer that the others make this unlikely is told as contradicting them, and offered for re-taking.
CONTRADICTS = 0.05


class Answer(NamedTuple):
    """One answer as it counted: `row` is P(outcome | cause) by cause."""

    check: str
    outcome: str
    row: tuple[float, ...]


class Case(NamedTuple):
    """A replayed case.

    ticks    needs ticked and not taken away since
    answers  before the cure, in order;  afterwards: (check, outcome) found after it, while the killer is asked
    cured    the cause whose repair cured, "" while the fault is there
    killer   None not asked yet, "" unknown, else the cause that is named
    """

    scope: Scope
    position: Position
    ticks: frozenset[str]
    answers: tuple[Answer, ...]
    afterwards: tuple[tuple[str, str], ...]
    tried: tuple[str, ...]
    cured: str
    killer: str | None


def start(case: Scope) -> Position:
    """The position before the first question."""
    none: frozenset[str] = frozenset()
    stage = STAGES[1] if case.situation == BENCH_ONLY else STAGES[0]
    return Position(case.prior, none, none, none, none, stage, False, jobs(case))


def answered(case: Scope, position: Position, check: str, outcome: str) -> Position:
    """The position after one answer."""
    record = case.model.checks[check]
    row = outcome_row(case, check, outcome, record.evidence_group in position.groups)
    return position._replace(
        belief=updated(position.belief, row),
        answered=position.answered | {check},
        groups=position.groups | {record.evidence_group},
        stage=way_minutes(case, (check,), position.stage)[1],
        no_pressure=position.no_pressure or outcome in record.no_pressure_after,
    )


def not_cured(position: Position, job: Job) -> Position:
    """The position after a repair that did not cure: its causes are struck out."""
    left = normalised(0.0 if place in job.causes else part for place, part in enumerate(position.belief))
    todo = tuple(other for other in position.todo if other.id != job.id)
    return position._replace(belief=left, todo=todo, stage=STAGES[2] if job.opened else position.stage)


def replay(model: Model, state: Mapping[str, Any], case: Scope | None = None) -> Case:
    """The case that a state tells. `case` spares compiling the scope again for the same complaint and valve.

    Raises InputError with every wrong step at once.
    """
    case = case or scope_of(model, state)
    troubles: list[Trouble] = []
    now = Case(case, start(case), frozenset(), (), (), (), "", None)
    steps = state.get("steps", ())
    if not isinstance(steps, Sequence) or isinstance(steps, str):
        raise InputError(Trouble("steps", repr(steps)[:60], "a list of steps", "Start the case again."))
    for number, step in enumerate(steps, 1):
        fault = _fault(model, now, step)
        if fault:
            troubles.append(fault._replace(where=f"step {number}"))
        else:
            now = _step(model, now, step)
    if troubles:
        raise InputError(troubles)
    return now


def scope_of(model: Model, state: Mapping[str, Any]) -> Scope:
    """The scope of a state's complaint and valve. Raises InputError."""
    symptom = state.get("symptom")
    if not isinstance(symptom, str):
        raise InputError(Trouble("symptom", repr(symptom), "the id of a complaint", "Choose the complaint."))
    counts, profile = state.get("counts"), state.get("profile")
    if counts is not None and not isinstance(counts, Mapping):
        raise InputError(Trouble("counts", repr(counts)[:60], "cases by cause", "Write {cause: cases}."))
    if profile is not None and (isinstance(profile, str) or not all(isinstance(tag, str) for tag in profile)):
        raise InputError(Trouble("profile", repr(profile)[:60], "a list of tags", "Describe the valve again."))
    return scope(model, symptom, profile, str(state.get("situation", AT_MACHINE)), counts)


def with_answer(state: Mapping[str, Any], check: str, outcome: str) -> dict[str, Any]:
    """The state with one answer given or changed: a changed one keeps its place, so that the rest still counts."""
    steps = [dict(step) for step in state.get("steps", ())]
    for place, step in enumerate(steps):
        if step.get("check") == check:
            steps[place] = {"check": check, "outcome": outcome}
            break
    else:
        steps.append({"check": check, "outcome": outcome})
    return {**state, "steps": steps}


def without(state: Mapping[str, Any], check: str) -> dict[str, Any]:
    """The state with the answer to a check taken back."""
    return {**state, "steps": [dict(step) for step in state.get("steps", ()) if step.get("check") != check]}


def surprises(case: Case) -> list[tuple[Answer, float]]:
    """The answers with their chance in the light of all the others, the most surprising first."""
    found = []
    for place, answer in enumerate(case.answers):
        weights: Belief = case.scope.prior
        for other, row in enumerate(case.answers):
            if other != place:
                weights = tuple(map(mul, weights, row.row))
        found.append((answer, sum(map(mul, normalised(weights), answer.row))))
    return sorted(found, key=lambda pair: near(pair[1]))


def contradicting(case: Case) -> list[tuple[Answer, float]]:
    """The answers that do not go together with the others."""
    return [pair for pair in surprises(case) if pair[1] < CONTRADICTS] if len(case.answers) > 1 else []


def _fault(model: Model, now: Case, step: Any) -> Trouble | None:
    if not isinstance(step, Mapping):
        return Trouble("step", repr(step)[:60], "a table", "Start the case again.")
    if "check" in step:
        return _check_fault(model, now, step)
    if "need" in step:
        if step["need"] not in model.rules.needs:
            return unknown("need", step["need"], model.rules.needs)
        if not (step.get("ticked") is True or step.get("missing") is True):
            return Trouble("need", repr(dict(step)), "ticked or missing, true", "Tick it or say that it cannot be had.")
        return None
    if "repair" in step:
        todo = [job.id for job in now.position.todo]
        if now.cured:
            return Trouble("repair", repr(step["repair"]), "no repair after the cure", "Take the later step out.")
        if step["repair"] not in todo:
            return unknown("repair", step["repair"], todo)
        if not isinstance(step.get("cured"), bool):
            return Trouble("cured", repr(step.get("cured")), "true or false", "Say whether it cured.")
        job = next(job for job in now.position.todo if job.id == step["repair"])
        causes = [now.scope.causes[place] for place in job.causes]
        return unknown("cause", step["cause"], causes) if step.get("cause", causes[0]) not in causes else None
    if "killer" in step:
        if not now.cured:
            return Trouble("killer", repr(step["killer"]), "a cured case first", "Repair first.")
        killer = step["killer"]
        return unknown("killer", killer, model.causes) if killer is not None and killer not in model.causes else None
    return Trouble("step", repr(dict(step))[:60], "a check, need, repair or killer", "Take the step out.")


def _check_fault(model: Model, now: Case, step: Mapping[str, Any]) -> Trouble | None:
    name = step["check"]
    if name not in model.checks:
        return unknown("check", name, model.checks)
    title = model.checks[name].title
    if name in now.position.answered or name in dict(now.afterwards) or name in now.position.skipped:
        return Trouble("check", repr(name), "each check once", f"'{title}' has an answer: change that one.")
    if "skipped" in step:
        need = " or ".join(SKIPPED)
        return None if step["skipped"] in SKIPPED else Trouble("skipped", repr(step["skipped"]), need, "Choose one.")
    if step.get("outcome") not in model.checks[name].outcomes:
        return unknown("outcome", str(step.get("outcome")), model.checks[name].outcomes)
    known = model.symptoms[now.scope.symptom].already_known
    if name in known and not now.cured:
        said = model.checks[name].outcomes[known[name]]
        return Trouble("check", repr(name), "a check that the complaint leaves open", f"The complaint says: {said}.")
    if name not in now.scope.rows and name not in known:
        return Trouble("check", repr(name), "a check of this kind of valve", "Change the description of the valve.")
    return None


def _step(model: Model, now: Case, step: Mapping[str, Any]) -> Case:
    position = now.position
    if "need" in step:
        need = step["need"]
        if step.get("ticked"):
            return now._replace(ticks=now.ticks | {need}, position=position._replace(unmet=position.unmet - {need}))
        return now._replace(ticks=now.ticks - {need}, position=position._replace(unmet=position.unmet | {need}))
    if "repair" in step:
        job = next(job for job in position.todo if job.id == step["repair"])
        now = now._replace(ticks=frozenset(), tried=(*now.tried, job.id))
        if not step["cured"]:
            return now._replace(position=not_cured(position, job))
        leading = max(job.causes, key=lambda place: position.belief[place])
        cured = step.get("cause", now.scope.causes[leading])
        # The old part lies open on the bench, whether it was cleaned or replaced: it can still be looked at.
        opened = job.opened or model.causes[cured].repair_class == "scrap"
        stage = STAGES[2] if opened else position.stage
        return now._replace(cured=cured, position=position._replace(stage=stage))
    if "killer" in step:
        return now._replace(killer=step["killer"] or "")
    name = step["check"]
    if "skipped" in step:
        return now._replace(position=position._replace(skipped=position.skipped | {name}))
    cleared = {gone for need in model.checks[name].needs for gone in model.rules.clears.get(need, ())}
    now = now._replace(ticks=now.ticks - cleared)
    if now.cured:
        return now._replace(afterwards=(*now.afterwards, (name, step["outcome"])))
    repeats = model.checks[name].evidence_group in position.groups
    answer = Answer(name, step["outcome"], outcome_row(now.scope, name, step["outcome"], repeats))
    return now._replace(position=answered(now.scope, position, name, step["outcome"]), answers=(*now.answers, answer))
