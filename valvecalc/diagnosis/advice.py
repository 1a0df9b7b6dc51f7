"""What to do next in a case: a check, a repair, the card for the machine, the killer, the end. Data only, no words."""

from typing import Any, NamedTuple

from valvecalc.diagnosis.belief import BENCH_ONLY, confirmed, near
from valvecalc.diagnosis.chains import Killers, killers
from valvecalc.diagnosis.policy import (
    Choice,
    bits,
    choose,
    hazard_of,
    leading,
    outcome_views,
    possible,
    rows_of,
)
from valvecalc.diagnosis.repair import MACHINE_CARD, STAGES, Job
from valvecalc.diagnosis.walk import Case, contradicting, surprises

CHECK, REPAIR, MACHINE, KILLER, CLOSED, NOTHING = (
    "check",
    "repair",
    "machine-card",
    "ask-killer",
    "closed",
    "nothing-fits",
)
OTHER = "other-unlisted"  # the cause that stands for everything the file does not list
CARD_CHECKS = 3  # measurements on the card for the machine
MOSTLY = 0.5  # from this belief on "something else" is said
RETAKE = 0.2  # after a failed repair an answer less likely than this is offered for re-taking

Leading = tuple[tuple[str, float], ...]


class Question(NamedTuple):
    """A check as it is offered now.

    needs     gates to tick first, in order;  unticked: those not ticked at this moment
    toward    the check that this one is a step to, "" when it is asked for itself
    outcomes  (outcome, chance, leading causes after it), the likeliest first
    """

    check: str
    place: str
    hazard: str
    caution: str
    needs: tuple[str, ...]
    unticked: tuple[str, ...]
    toward: str
    outcomes: tuple[tuple[str, float, Leading], ...]


class Repair(NamedTuple):
    """A repair job with the causes that it cures, the likeliest first."""

    job: str
    causes: Leading
    probability: float
    minutes: float
    opened: bool


class Advice(NamedTuple):
    """What to do next.

    kind      "check", "repair", "machine-card", "ask-killer", "closed" or "nothing-fits"
    question  for check and ask-killer
    repairs   the jobs left, in the order to try them (also beside a check: what would be done without it)
    leading   the three leading causes;  confirmed: the first one of them is
    measure   for machine-card: the checks to be made on the machine
    before    for repair: checks whose evidence the opening would destroy, not answered yet
    retake    the most surprising answer, after a failed repair
    notes     ids of data/faults/words.toml [note]
    """

    kind: str
    question: Question | None
    choice: Choice | None
    repairs: tuple[Repair, ...]
    leading: Leading
    confirmed: bool
    killers: Killers | None
    measure: tuple[str, ...]
    before: tuple[str, ...]
    contradicts: tuple[tuple[str, str], ...]
    retake: tuple[str, str] | None
    notes: tuple[str, ...]


def advise(case: Case, steps: int = 2) -> Advice:
    """What to do next in a case; `steps` ahead as in policy.choose."""
    scope, position = case.scope, case.position
    top = leading(scope, position.belief)
    blank = Advice(
        NOTHING,
        None,
        None,
        (),
        top,
        bool(top) and confirmed(scope, top[0][1]),
        None,
        (),
        (),
        tuple((answer.check, answer.outcome) for answer, _ in contradicting(case)),
        None,
        _notes(case),
    )
    if case.cured:
        return _after_cure(case, blank)
    if not top:
        return blank
    choice = choose(scope, position, steps)
    found = blank._replace(
        choice=choice,
        repairs=tuple(_repair(case, job) for job in choice.order),
        retake=_retake(case),
    )
    if choice.option is not None:
        check = choice.option.way[0]
        toward = choice.option.check if check != choice.option.check else ""
        return found._replace(kind=CHECK, question=question(case, check, toward))
    first = choice.order[0]
    if first.id == OTHER and found.repairs[0].probability < MOSTLY and len(choice.order) > 1:
        first = choice.order[1]  # nobody can repair "something else": what is listed goes first while it may be that
        found = found._replace(repairs=(found.repairs[1], found.repairs[0], *found.repairs[2:]))
    if first.id == MACHINE_CARD:
        return found._replace(kind=MACHINE, measure=machine_card(case))
    if first.id == OTHER:
        return found
    return found._replace(kind=REPAIR, before=_before_opening(case, first))


def question(case: Case, check: str, toward: str = "") -> Question:
    """A check as it would be offered now, whoever chose it."""
    views = outcome_views(case.scope, case.position, check) if check in case.scope.rows else ()
    return offer(case, check, toward)._replace(outcomes=views)


def offer(case: Case, check: str, toward: str = "") -> Question:
    """The same without its outcomes: where it is done, with what caution and needs."""
    record = case.scope.model.checks[check]
    off = case.scope.situation == BENCH_ONLY or case.position.stage != STAGES[0]
    on_bench = bool(record.at_bench) and record.where == STAGES[0] and off
    needs = () if on_bench else record.needs
    return Question(
        check,
        STAGES[1] if on_bench else record.where,
        hazard_of(case.scope, check),
        record.at_bench if on_bench else record.caution,
        needs,
        tuple(need for need in needs if need not in case.ticks),
        toward,
        (),
    )


def machine_card(case: Case) -> tuple[str, ...]:
    """What to measure on the machine when the valve passes: the checks that best split its machine-side causes."""
    scope, model = case.scope, case.scope.model
    belief = tuple(
        part if model.causes[cause].side == "machine" else 0.0
        for cause, part in zip(scope.causes, case.position.belief, strict=True)
    )
    total = sum(belief) or 1.0
    belief = tuple(part / total for part in belief)
    at_machine = scope._replace(situation="at-machine")
    free = case.position._replace(no_pressure=False, unmet=frozenset())
    worth = []
    for check in scope.rows:
        record = model.checks[check]
        if record.hazard == "high" and "test-point" not in record.needs:
            continue  # what can kill is not asked for in a letter, but for a gauge at a point fitted for it
        if check not in free.answered and record.where == STAGES[0] and possible(at_machine, free, check):
            gain = bits(belief, rows_of(scope, case.position, check))
            worth.append((gain / (record.minutes + model.rules.scale["hazard_minutes"][record.hazard]), check))
    chosen: list[str] = []
    groups: set[str] = set()
    for _, check in sorted(worth, key=lambda pair: near(-pair[0])):
        group = model.checks[check].evidence_group
        if len(chosen) < CARD_CHECKS and group not in groups:
            chosen.append(check)
            groups.add(group)
    return tuple(chosen)


def _after_cure(case: Case, blank: Advice) -> Advice:
    found = killers(case)
    done = blank._replace(killers=found, leading=((case.cured, 1.0),))
    if case.killer is None and found.ask:
        return done._replace(kind=KILLER, question=question(case, found.ask))
    return done._replace(kind=CLOSED)


def _repair(case: Case, job: Job) -> Repair:
    belief = case.position.belief
    places = sorted(job.causes, key=lambda place: near(-belief[place]))
    causes = tuple((case.scope.causes[place], belief[place]) for place in places if belief[place] > 0)
    return Repair(job.id, causes, sum(chance for _, chance in causes), job.minutes, job.opened)


def _before_opening(case: Case, job: Job) -> tuple[str, ...]:
    """What is looked at before and while the valve is opened, because afterwards it cannot be any more."""
    if not job.opened or case.position.stage == STAGES[2]:
        return ()
    names: list[str] = []
    for check in case.scope.model.checks.values():
        if check.destroys_evidence:
            names += [name for name in check.after if name not in names]
    answered = case.position.answered | case.scope.model.symptoms[case.scope.symptom].already_known.keys()
    first = {name for earlier in names for name in case.scope.model.checks[earlier].after}
    ordered = sorted({*names, *first}, key=lambda name: (STAGES.index(case.scope.model.checks[name].where), name))
    records = case.scope.model.checks
    return tuple(name for name in ordered if name not in answered and not records[name].destroys_evidence)


def _retake(case: Case) -> tuple[str, str] | None:
    if not case.tried or not case.answers:
        return None
    answer, chance = surprises(case)[0]
    return (answer.check, answer.outcome) if chance < RETAKE else None


def _notes(case: Case) -> tuple[str, ...]:
    symptom = case.scope.model.symptoms[case.scope.symptom]
    notes = []
    if symptom.out_of_service:
        notes.append("out-of-service")
    if case.position.no_pressure:
        notes.append("no-pressure")
    missable = {name for name, check in case.scope.model.checks.items() if check.may_be_missed}
    if case.position.stage == STAGES[2] and not missable & (case.position.answered | symptom.already_known.keys()):
        notes.append("as-received-missed")
    return tuple(notes)


def as_json(advice: Advice) -> dict[str, Any]:
    """The advice as plain data; probabilities and minutes at full precision."""

    def causes(pairs: Leading) -> list[dict[str, Any]]:
        return [{"id": name, "probability": chance} for name, chance in pairs]

    asked = advice.question
    answer: dict[str, Any] = {
        "kind": advice.kind,
        "belief": causes(advice.leading),
        "confirmed": advice.confirmed,
        "notes": list(advice.notes),
        "contradicts": [{"check": check, "outcome": outcome} for check, outcome in advice.contradicts],
    }
    if asked is not None:
        answer["next"] = {
            "id": asked.check,
            "toward": asked.toward,
            "place": asked.place,
            "hazard": asked.hazard,
            "cautions": [asked.caution],
            "needs": list(asked.needs),
            "unticked": list(asked.unticked),
            "outcomes": [
                {"id": outcome, "probability": chance, "belief": causes(after)}
                for outcome, chance, after in asked.outcomes
            ],
        }
    if advice.choice is not None:
        option = advice.choice.option
        answer["minutes"] = {"now": advice.choice.now, "with_check": option.expected if option else None}
    if advice.repairs:
        answer["repairs"] = [
            {"id": one.job, "probability": one.probability, "minutes": one.minutes, "causes": causes(one.causes)}
            for one in advice.repairs
        ]
    if advice.measure:
        answer["measure"] = list(advice.measure)
    if advice.before:
        answer["before"] = list(advice.before)
    if advice.retake:
        answer["retake"] = {"check": advice.retake[0], "outcome": advice.retake[1]}
    if advice.killers is not None:
        answer["killers"] = {
            "possible": [chain.killer for chain in advice.killers.chains],
            "shown": [
                {"id": killer, "check": check, "outcome": outcome} for killer, check, outcome in advice.killers.shown
            ],
            "asked_for": advice.killers.about,
        }
    return answer
