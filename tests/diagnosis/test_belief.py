"""Belief: against brute-force enumeration of the joint table, and what must hold for any answers."""

import random
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from valvecalc.diagnosis.belief import AT_MACHINE, BENCH_ONLY, Scope, discounted, likelihood, prior, scope
from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.diagnosis.walk import answered, start
from valvecalc.errors import InputError

MODEL = knowledge()
SCOPES = {name: scope(MODEL, name) for name in MODEL.symptoms}
symptoms = st.sampled_from(sorted(SCOPES))


def distinct_checks(case: Scope, rng: random.Random, count: int) -> list[str]:
    """Checks of different evidence groups."""
    names = list(case.rows)
    rng.shuffle(names)
    groups: dict[str, str] = {}
    for name in names:
        groups.setdefault(MODEL.checks[name].evidence_group, name)
    return list(groups.values())[:count]


@given(symptoms, st.integers(0, 10**9))
@settings(max_examples=40, deadline=None)
def test_equals_enumeration_of_the_joint_table(symptom: str, seed: int) -> None:
    """P(cause, answers) written out for every cause and every combination of answers of three checks; conditioning is
    then summing and dividing, without Bayes' rule step by step."""
    case = SCOPES[symptom]
    rng = random.Random(seed)
    checks = distinct_checks(case, rng, 3)
    joint: dict[tuple[str, ...], dict[str, float]] = {}
    for answers in product(*(MODEL.checks[check].outcomes for check in checks)):
        for cause, weight in MODEL.symptoms[symptom].candidates.items():
            chance = weight / 100
            for check, outcome in zip(checks, answers, strict=True):
                place = list(MODEL.checks[check].outcomes).index(outcome)
                numbers = [MODEL.rules.scale["likelihood"][word] for word in MODEL.words(check, cause)]
                chance *= numbers[place] / sum(numbers)
            joint.setdefault(answers, {})[cause] = chance
    assert sum(sum(row.values()) for row in joint.values()) == pytest.approx(1)
    answers = rng.choice(list(joint))
    position = start(case)
    for check, outcome in zip(checks, answers, strict=True):
        position = answered(case, position, check, outcome)
    total = sum(joint[answers].values())
    assert position.belief == pytest.approx([joint[answers][cause] / total for cause in case.causes], abs=1e-12)


@given(symptoms, st.integers(0, 10**9))
@settings(max_examples=40, deadline=None)
def test_order_of_independent_answers_does_not_matter(symptom: str, seed: int) -> None:
    case, rng = SCOPES[symptom], random.Random(seed)
    answers = [(check, rng.choice(list(MODEL.checks[check].outcomes))) for check in distinct_checks(case, rng, 4)]
    beliefs = []
    for order in (answers, answers[::-1]):
        position = start(case)
        for check, outcome in order:
            position = answered(case, position, check, outcome)
        beliefs.append(position.belief)
    assert beliefs[0] == pytest.approx(beliefs[1], rel=1e-9)


@pytest.mark.parametrize("symptom", SCOPES)
def test_one_answer_rules_nothing_out(symptom: str) -> None:
    case = SCOPES[symptom]
    for check in case.rows:
        for outcome in MODEL.checks[check].outcomes:
            belief = answered(case, start(case), check, outcome).belief
            assert min(belief) > 0
            assert sum(belief) == pytest.approx(1)


def test_likelihoods_are_the_words_as_shares() -> None:
    """almost-always 0.95 beside three almost-never 0.03: 0.95/1.04, by hand 0.9135."""
    case = likelihood(MODEL, "port-pressures-ab", "no-system-pressure")
    assert case == pytest.approx((0.0288, 0.9135, 0.0288, 0.0288), abs=5e-5)


def test_a_further_answer_of_one_group_counts_less() -> None:
    assert discounted((0.8, 0.2), 0.5) == pytest.approx((2 / 3, 1 / 3))  # by hand: 0.894 against 0.447
    case = SCOPES["dead-on-both-sides"]
    first = answered(case, start(case), "listen-click", "silent")
    second = answered(case, first, "command-lamps", "none")
    alone = answered(case, start(case), "command-lamps", "none")
    place = case.causes.index("no-supply-voltage")
    lift = alone.belief[place] / (1 - alone.belief[place]) / (case.prior[place] / (1 - case.prior[place]))
    again = second.belief[place] / (1 - second.belief[place]) / (first.belief[place] / (1 - first.belief[place]))
    assert 1 < again < lift * 1.5


def test_counts_of_the_shop() -> None:
    """The file weighs 30 cases: 12 of 100 make 3.6 of 30; with 10 own cases of it, (3.6 + 10)/40."""
    tags = frozenset(MODEL.rules.tags)
    mixed = prior(MODEL, "dead-on-both-sides", tags, {"no-supply-voltage": 10})
    assert mixed["no-supply-voltage"] == pytest.approx(13.6 / 40)
    assert mixed["coil-open"] == pytest.approx(0.08 * 30 / 40)
    own = prior(MODEL, "dead-on-both-sides", tags, {"wrong-spring": 6})  # no candidate of the file, but seen here
    assert own["wrong-spring"] == pytest.approx(6 / 36)


def test_profile_drops_what_cannot_be() -> None:
    case = scope(MODEL, "coil-burns", ["dc", "double-solenoid"])
    assert "armature-not-seating" not in case.causes and "ac-hum-bench" not in case.rows
    assert sum(case.prior) == pytest.approx(1)
    unknown = scope(MODEL, "coil-burns", ["ac", "dc", "double-solenoid"])
    assert "armature-not-seating" in unknown.causes and "current-trace" in unknown.rows


@pytest.mark.parametrize(
    ("symptom", "profile", "situation", "counts", "said"),
    [
        ("coil-burnt", None, AT_MACHINE, None, "coil-burns"),
        ("coil-burns", ["acdc"], AT_MACHINE, None, "profile"),
        ("coil-burns", None, "bench", None, BENCH_ONLY),
        ("coil-burns", None, AT_MACHINE, {"coil-opened": 2}, "coil-open"),
        ("coil-burns", None, AT_MACHINE, {"coil-open": -2}, "0 or more"),
        ("coil-burns", None, AT_MACHINE, {"coil-open": True}, "0 or more"),
        ("coil-burns", None, AT_MACHINE, {"coil-open": float("nan")}, "0 or more"),
        ("coil-hums", ["dc"], AT_MACHINE, None, "AC coil hums"),
    ],
)
def test_bad_input_is_named(symptom: str, profile: object, situation: str, counts: object, said: str) -> None:
    with pytest.raises(InputError, match=said):
        scope(MODEL, symptom, profile, situation, counts)  # type: ignore[arg-type]


def test_every_wrong_entry_at_once() -> None:
    with pytest.raises(InputError) as fault:
        scope(MODEL, "leaks", ["oil"], "shed", {"gremlin": 1})
    assert [trouble.entry for trouble in fault.value.troubles] == ["symptom", "profile", "situation", "counts"]
