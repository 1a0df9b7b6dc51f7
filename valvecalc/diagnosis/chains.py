"""The killer behind the victim: after a cure its chains are asked, so that no job ends on a victim alone."""

from math import log
from typing import NamedTuple

from valvecalc.diagnosis.belief import BENCH_ONLY, likelihood, near
from valvecalc.diagnosis.knowledge import Chain
from valvecalc.diagnosis.policy import possible, way_minutes, way_to
from valvecalc.diagnosis.repair import STAGES
from valvecalc.diagnosis.walk import Case

SHOWS = 3.0  # an answer this many times likelier with the killer than without it shows the killer
CLEAR = 8.0  # a check is asked for a killer when one of its answers is this many times likelier with it
ENOUGH = 2  # telling answers that leave a killer unshown
MOST_CHECKS = 4  # asked after a cure, all killers together


class Killers(NamedTuple):
    """What is known of the killers of the cured cause.

    shown    killers that an answer shows, the strongest first: (cause, check, outcome)
    ask      the next check that can show one, "" when none is left;  about: the killer it is asked for
    """

    chains: tuple[Chain, ...]
    shown: tuple[tuple[str, str, str], ...]
    ask: str
    about: str


def killers(case: Case) -> Killers:
    """The killers of the cured cause: those shown by answers before or after the cure, and what to ask next."""
    chains = _chains(case)
    shown: dict[str, tuple[float, str, str]] = {}
    for chain in chains:
        for check, outcome, later in _answers(case):
            strength = _strength(case, chain, check, outcome, later)
            if strength >= SHOWS and strength > shown.get(chain.killer, (0.0,))[0]:
                shown[chain.killer] = (strength, check, outcome)
    ask, about = ("", "") if shown else _next(case, chains)
    ranked = sorted(shown.items(), key=lambda item: near(-item[1][0]))
    return Killers(chains, tuple((killer, check, outcome) for killer, (_, check, outcome) in ranked), ask, about)


def _chains(case: Case) -> tuple[Chain, ...]:
    """The chains of the cured cause that can be true of this valve, the likeliest killer first."""
    model, tags = case.scope.model, case.scope.profile
    fitting = [
        chain
        for chain in model.chains
        if chain.victim == case.cured
        and tags.intersection(chain.applies_to)
        and tags.intersection(model.causes[chain.killer].applies_to)
    ]
    belief = dict(zip(case.scope.causes, case.position.belief, strict=True))
    common = model.rules.scale["frequency"]
    return tuple(
        sorted(
            fitting,
            key=lambda chain: (near(-belief.get(chain.killer, 0)), -common[model.causes[chain.killer].frequency]),
        )
    )


def _answers(case: Case) -> list[tuple[str, str, bool]]:
    """(check, outcome, found after the cure) of every answer."""
    before = [(answer.check, answer.outcome, False) for answer in case.answers]
    return before + [(check, outcome, True) for check, outcome in case.afterwards]


def _strength(case: Case, chain: Chain, check: str, outcome: str, later: bool) -> float:
    """How much likelier an answer is with the killer than without it.

    Without it stands the healthy valve, and for answers before the cure the victim too: what the victim explains
    says nothing of a killer. What no link says is no evidence.
    """
    model = case.scope.model
    if chain.killer not in model.links[check]:
        return 0.0
    place = list(model.checks[check].outcomes).index(outcome)
    told = likelihood(model, check, chain.killer)[place]
    strength = told / likelihood(model, check, "")[place]
    return strength if later else min(strength, told / likelihood(model, check, chain.victim)[place])


def _next(case: Case, chains: tuple[Chain, ...]) -> tuple[str, str]:
    """The check to ask now and the killer it is asked for: the chain's own check, else the most telling one."""
    if len(case.afterwards) >= MOST_CHECKS:
        return "", ""
    asked = {check for check, _, _ in _answers(case)}
    for chain in chains:
        if case.scope.situation == BENCH_ONLY and case.scope.model.causes[chain.killer].side == "machine":
            continue  # nothing on the bench can show it
        telling = _telling(case, chain)
        if sum(check in asked for check in telling) >= ENOUGH:
            continue
        for check in telling:
            if check not in asked and (way := _way(case, check, asked)):
                return way[0], chain.killer
    return "", ""


def _telling(case: Case, chain: Chain) -> list[str]:
    """The checks that can show a killer: its chain's own, then by what they tell a minute."""
    model = case.scope.model
    found = []
    for check, links in model.links.items():
        if chain.killer in links and check != chain.prove:
            told, healthy = likelihood(model, check, chain.killer), likelihood(model, check, "")
            if max(one / other for one, other in zip(told, healthy, strict=True)) >= CLEAR:
                worth = sum(one * log(one / other) for one, other in zip(told, healthy, strict=True))
                found.append((near(worth / way_minutes(case.scope, (check,), case.position.stage)[0]), check))
    return [chain.prove, *(check for _, check in sorted(found, reverse=True))]


def _way(case: Case, check: str, asked: set[str]) -> tuple[str, ...]:
    """The way to a check, () when it cannot be done. A cured valve is not taken off or opened for the question."""
    scope, position = case.scope, case.position
    where = scope.model.checks[check].where
    if STAGES.index(where) > STAGES.index(position.stage) or not possible(scope, position, check):
        return ()
    if where == STAGES[2]:
        return (check,)
    return way_to(scope, position._replace(answered=position.answered | asked), check) or ()
