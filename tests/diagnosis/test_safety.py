"""Safety of the fault finder: what its texts say, and what it never offers."""

import random
import re
from collections.abc import Iterator
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from valvecalc.diagnosis.advice import CHECK, advise, question
from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.diagnosis.policy import Position, bits, choose, hazard_of, offered, rows_of
from valvecalc.diagnosis.walk import replay
from valvecalc.facts import load_toml

MODEL = knowledge()
# The order of 29 CFR 1910.147(d): (1) preparation, (2) shutdown, (3) isolation, (4) lockout or tagout,
# (5) stored energy, (6) verification of isolation.
LOCKOUT = (
    (r"\btell everybody\b",),
    (r"\bstop the machine\b",),
    (r"\bswitch off the main switches\b",),
    (r"\block and tag\b",),
    (r"\bdrain .* accumulator\b", r"\bso that a and b can empty\b"),
    (r"\bread zero\b", r"\btry the start button\b"),
)
NEVER = ("safe", "harmless", "no risk", "will hold", "guaranteed", "cannot fail")
TONE = ("should", "please", "be careful", "take care", "if possible")


def texts() -> Iterator[tuple[str, str]]:
    """Every text of data/faults/ with its place."""

    def walk(place: str, value: object) -> Iterator[tuple[str, str]]:
        if isinstance(value, str):
            yield place, value
        elif isinstance(value, dict):
            for key, one in value.items():
                yield from walk(f"{place}.{key}", one)
        elif isinstance(value, list):
            for one in value:
                yield from walk(f"{place}.{one['id']}" if isinstance(one, dict) and "id" in one else place, one)

    for name in ("rules", "symptoms", "causes", "checks", "roots", "chains", "words"):
        yield from walk(name, load_toml(f"faults/{name}.toml"))


def test_isolation_goes_in_the_order_of_the_standard() -> None:
    steps = [step.lower() for step in MODEL.rules.gates["isolated"].steps]
    found = []
    for group in LOCKOUT:
        places = [place for pattern in group for place, step in enumerate(steps) if re.search(pattern, step)]
        assert len(places) == len(group), f"{group} not in the gate"
        found.append(places)
    for before, after in pairwise(found):
        assert max(before) < min(after)


def test_texts_promise_nothing() -> None:
    for place, text in texts():
        for word in NEVER + TONE:
            assert not re.search(rf"\b{word}\b", text, re.IGNORECASE), f"{place}: {text}"


@pytest.mark.parametrize(
    "pattern",
    [
        r"loosen .*(to see|to find out) if there is pressure",
        r"tighten (it|them|the \w+) (while|with) .*pressure",
        r"\blarger fuse\b",
        r"straighten the tube",
        r"with shop air\b",
        r"\bpush the override and see\b",
        r"\bturn the relief\b.* up until\b",
        r"1\.5 times, it will\b",
    ],
)
def test_forbidden_sentences_are_not_there(pattern: str) -> None:
    """Key words of the forbidden sentences; a text that forbids the act in its own words ("never …") may name it."""
    for place, text in texts():
        for sentence in re.split(r"[.;:]", text):
            if re.search(pattern, sentence, re.IGNORECASE):
                assert re.search(r"\b(never|not|no|nothing|instead)\b", sentence, re.IGNORECASE), f"{place}: {sentence}"


def test_above_50_volts_what_is_live_is_high() -> None:
    """29 CFR 1910.333(a)(1): from 50 V on, live parts are made dead or worked on by the qualified only."""
    for check in MODEL.checks.values():
        if "live" in check.hazards:
            case = replay(MODEL, {"symptom": "dead-on-both-sides", "profile": ["ac", "above-50-v"]})
            assert hazard_of(case.scope, check.id) == "high"


def random_case(rng: random.Random) -> dict[str, object]:
    """A case led by the finder or by whim, with answers at random, refusals and needs that cannot be had."""
    symptom = rng.choice(list(MODEL.symptoms))
    profile = (
        None
        if "detented" in MODEL.symptoms[symptom].applies_to
        else rng.choice(
            (None, ["ac", "double-solenoid", "wet-armature"], ["ac", "above-50-v", "double-solenoid", "pilot-operated"])
        )
    )
    return {"symptom": symptom, "profile": profile, "situation": rng.choice(("at-machine", "bench-only")), "steps": []}


@given(st.integers(0, 10**9))
@settings(max_examples=40, deadline=None)
def test_no_offer_breaks_a_rule(seed: int) -> None:
    rng = random.Random(seed)
    state = random_case(rng)
    steps: list[dict[str, object]] = state["steps"]  # type: ignore[assignment]
    for _ in range(9):
        case = replay(MODEL, state)
        assert_offers_keep_the_rules(case.scope, case.position)
        options = offered(case.scope, case.position)
        if not options:
            return
        choice = choose(case.scope, case.position)
        option = choice.option if choice.option and rng.random() < 0.6 else rng.choice(options)
        check = option.way[0]
        if rng.random() < 0.15:
            steps.append({"check": check, "skipped": rng.choice(("not-possible", "declined"))})
        elif rng.random() < 0.1 and MODEL.checks[check].needs:
            steps.append({"need": rng.choice(MODEL.checks[check].needs), "missing": True})
        else:
            steps.append({"check": check, "outcome": rng.choice(list(MODEL.checks[check].outcomes))})


def assert_offers_keep_the_rules(case, position: Position) -> None:  # type: ignore[no-untyped-def]
    known = MODEL.symptoms[case.symptom].already_known
    done = position.answered | known.keys()
    under_pressure = {"hydraulic-power", "stand"}
    options = offered(case, position)
    for option in options:
        record = MODEL.checks[option.way[0]]
        assert record.id not in position.answered and record.id not in known, "no check twice"
        assert record.id not in position.skipped
        assert not position.unmet.intersection(record.needs), "no check whose needs cannot be had"
        assert case.profile.intersection(record.applies_to)
        if not position.answered:
            assert not record.never_first
        if position.no_pressure:
            assert not under_pressure.intersection(record.needs), "a valve that failed its outside look"
        if case.situation == "bench-only":
            assert record.where != "on-machine" or record.at_bench
        if "stand" in record.needs:
            assert "outside-look" in done, "outside look before the stand"
        if record.id in ("residue-patch", "clearance", "spool-slide"):
            assert "spool-look" in done, "look before wash"
        if record.where == "disassembled" and "bench-shift" not in done:
            missed = "bench-shift" in position.skipped or "stand" in position.unmet or position.no_pressure
            assert missed or "outside-look" in position.skipped, "as-received run before opening"
        if case.symptom == "oil-spray-or-mist" and not done & {"outside-look", "leak-look-off"}:
            assert "hydraulic-power" not in record.needs
        if hazard_of(case, record.id) == "high":
            for other in case.rows:
                gentle = hazard_of(case, other) != "high" and any(one.way == (other,) for one in options)
                if gentle:
                    assert bits(position.belief, rows_of(case, position, other)) < option.bits / 2


def test_a_failed_outside_look_ends_all_pressure() -> None:
    for outcome in ("tube", "crack", "bolts"):
        state = {"symptom": "external-leak", "steps": [{"check": "outside-look", "outcome": outcome}]}
        advice = advise(replay(MODEL, state))
        assert "no-pressure" in advice.notes
        case = replay(MODEL, state)
        for option in offered(case.scope, case.position):
            assert not {"hydraulic-power", "stand"} & {need for name in option.way for need in MODEL.checks[name].needs}


def test_power_takes_the_ticks_of_isolation_away() -> None:
    ticked = [{"need": need, "ticked": True} for need in ("isolated", "dead", "area-clear", "hydraulic-power")]
    state = {"symptom": "self-shifts", "steps": [*ticked, {"check": "function-alone", "outcome": "same"}]}
    case = replay(MODEL, state)
    assert case.ticks == {"area-clear", "hydraulic-power"}
    assert question(case, "override-pressure-off").unticked == ("isolated", "load-held")


def test_every_offer_carries_its_caution() -> None:
    for symptom in MODEL.symptoms:
        for situation in ("at-machine", "bench-only"):
            advice = advise(replay(MODEL, {"symptom": symptom, "situation": situation}))
            if advice.kind == CHECK:
                assert advice.question is not None and len(advice.question.caution) > 20


def test_out_of_service_comes_first() -> None:
    for symptom in ("self-shifts", "wont-return", "wrong-direction", "detent-lets-go", "actuator-drifts"):
        assert advise(replay(MODEL, {"symptom": symptom})).notes[0] == "out-of-service"
