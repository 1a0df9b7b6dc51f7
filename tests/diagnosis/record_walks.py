"""Random cases with what the Python finder says at each step: what its JavaScript twin is held to.

    python tests/diagnosis/record_walks.py [COUNT] [SEED] > walks.json

The answers follow the model's own likelihoods for a drawn cause, so that every part of a conversation occurs:
questions, needs that cannot be had, checks that are not possible, repairs that fail, cures, killers, ends.
"""

import json
import sys
from collections.abc import Iterator
from random import Random
from typing import Any

from valvecalc.diagnosis import why
from valvecalc.diagnosis.advice import Advice, advise, as_json
from valvecalc.diagnosis.belief import AT_MACHINE, BENCH_ONLY, likelihood, prior_fits
from valvecalc.diagnosis.knowledge import Model, knowledge
from valvecalc.diagnosis.walk import Case, replay, scope_of

SEED = 20260
COUNT = 1000
MOST_STEPS = 12
# What the valve may be: pairs of which both, one or the other is left in, and tags that are in or out.
PAIRS = (("ac", "dc"),)
SINGLE = ("double-solenoid", "wet-armature", "pilot-operated", "detented", "above-50-v")


def walks(count: int = COUNT, seed: int = SEED) -> Iterator[dict[str, Any]]:
    """`count` cases: {"state": …, "said": [what is said before each step and at the end]}."""
    model, random = knowledge(), Random(seed)
    made = 0
    while made < count:
        symptom = random.choice(list(model.symptoms))
        profile = _profile(random)
        tags = frozenset(model.rules.tags) if profile is None else frozenset(profile) | {"all"}
        if tags.intersection(model.symptoms[symptom].applies_to) and prior_fits(model, symptom, tags):
            made += 1
            yield _walk(model, random, symptom, profile)


def _profile(random: Random) -> list[str] | None:
    if random.random() < 0.3:
        return None
    tags = [tag for pair in PAIRS for tag in random.choice([pair, pair[:1], pair[1:]])]
    return tags + [tag for tag in SINGLE if random.random() < 0.6]


def _walk(model: Model, random: Random, symptom: str, profile: list[str] | None) -> dict[str, Any]:
    state: dict[str, Any] = {"symptom": symptom, "situation": random.choice([AT_MACHINE, BENCH_ONLY]), "steps": []}
    if profile is not None:
        state["profile"] = profile
    if random.random() < 0.2:
        state["counts"] = {cause: random.randint(0, 9) for cause in random.sample(list(model.causes), 3)}
    scope = scope_of(model, state)
    truth = random.choices(scope.causes, scope.prior)[0]
    said = []
    while True:
        case = replay(model, state, scope)
        advice = advise(case)
        said.append(saying(case, advice))
        step = _next(random, case, advice, truth) if len(state["steps"]) < MOST_STEPS else None
        if step is None:
            return {"state": state, "said": said}
        state["steps"].append(step)


def saying(case: Case, advice: Advice) -> dict[str, Any]:
    """All that the twin has to agree with."""
    return {
        "causes": case.scope.causes,
        "belief": case.position.belief,
        "advice": as_json(advice),
        "why": why.why_check(case, advice),
        "headline": why.headline(case, advice),
        "notes": why.notes(case, advice),
        "strength": [why.strength(case, chance) for _, chance in advice.leading],
    }


def _next(random: Random, case: Case, advice: Advice, truth: str) -> dict[str, Any] | None:
    if advice.question is not None:
        return _answer(random, case, advice, truth)
    if advice.kind == "closed":
        return (
            {"killer": random.choice([*(chain.killer for chain in advice.killers.chains), None])}
            if (advice.killers is not None and case.killer is None)
            else None
        )
    if advice.kind == "repair" and advice.repairs:
        first = advice.repairs[0]
        cures = truth in dict(first.causes) and random.random() < 0.9
        return {"repair": first.job, "cured": True, "cause": truth} if cures else {"repair": first.job, "cured": False}
    return None


def _answer(random: Random, case: Case, advice: Advice, truth: str) -> dict[str, Any]:
    asked, model = advice.question, case.scope.model
    assert asked is not None
    check = asked.check
    if random.random() < 0.15 and check in case.scope.rows:
        # "I have already checked …": any check of this valve that has no answer yet.
        left = [name for name in case.scope.rows if name not in case.position.answered | case.position.skipped]
        left = [name for name in left if name not in dict(case.afterwards)]
        check = random.choice(left)
    elif asked.unticked and random.random() < 0.5:
        need = random.choice(asked.unticked)
        return {"need": need, "ticked": True} if random.random() < 0.8 else {"need": need, "missing": True}
    elif random.random() < 0.1:
        return {"check": check, "skipped": random.choice(["not-possible", "declined"])}
    outcomes = list(model.checks[check].outcomes)
    return {"check": check, "outcome": random.choices(outcomes, likelihood(model, check, truth))[0]}


if __name__ == "__main__":
    json.dump(list(walks(*map(int, sys.argv[1:]))), sys.stdout)
