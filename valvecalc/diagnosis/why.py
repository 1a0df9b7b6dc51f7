"""The finder's figures in words, from the sentences of data/faults/words.toml."""

from collections.abc import Iterable
from typing import Any

from valvecalc.diagnosis.advice import CLOSED, KILLER, MACHINE, NOTHING, REPAIR, Advice
from valvecalc.diagnosis.belief import confirmed, near
from valvecalc.diagnosis.knowledge import Model
from valvecalc.diagnosis.walk import Case

LIKELY = 0.4
POSSIBLE = 0.12
SPLIT = 2  # causes named on each side of a check


def words() -> dict[str, Any]:
    """The sentences, by table and id."""
    from valvecalc.facts import load_toml

    return load_toml("faults/words.toml")


def strength(case: Case, probability: float) -> str:
    """A belief in a word; figures with decimals are kept from the reader."""
    table = words()["strength"]
    if confirmed(case.scope, probability):
        return str(table["confirmed"])
    return str(table["likely" if probability >= LIKELY else "possible" if probability >= POSSIBLE else "unlikely"])


def why_check(case: Case, advice: Advice) -> str:
    """Why this check comes next: what it parts from what, and what it is worth in minutes."""
    asked, choice = advice.question, advice.choice
    if asked is None or choice is None or choice.option is None:
        return ""
    model, table = case.scope.model, words()["why"]
    left, right = parted(case, asked.toward or asked.check)
    sides = {"left": causes(model, left), "right": causes(model, right)}
    if asked.toward:
        sentences = [table["way"].format(title=model.checks[asked.toward].title, **sides)]
    elif right:
        sentences = [table["first"].format(**sides)]
    else:
        sentences = [table["one"].format(**sides)]
    sentences.append(table["worth"].format(now=whole(choice.now), expected=whole(choice.option.expected)))
    return " ".join(sentences)


def whole(minutes: float) -> int:
    """Minutes as printed; half to even, and alike in both languages."""
    return round(near(minutes))


def parted(case: Case, check: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The causes that a check parts: those that its likeliest outcome lifts, and those that the others lift."""
    from valvecalc.diagnosis.policy import rows_of

    belief = case.position.belief
    rows = rows_of(case.scope, case.position, check)
    chances = [sum(part * given for part, given in zip(belief, row, strict=True)) for row in rows]
    main = rows[max(range(len(rows)), key=lambda place: chances[place])]
    average = max(chances)
    moved = sorted(range(len(belief)), key=lambda place: near(belief[place] * (main[place] - average)))
    names = case.scope.causes
    right = tuple(names[place] for place in moved[:SPLIT] if belief[place] > 0 and main[place] < average)
    left = tuple(names[place] for place in reversed(moved[-SPLIT:]) if belief[place] > 0 and main[place] > average)
    return (left or right, right if left else ())


def headline(case: Case, advice: Advice) -> str:
    """The sentence at the end of a case, or "" while it goes on."""
    model, table = case.scope.model, words()["end"]
    if advice.kind == REPAIR:
        first = advice.repairs[0]
        sure = first.causes[0]
        if confirmed(case.scope, sure[1]):
            return str(table["confirmed"].format(title=model.causes[sure[0]].title))
        return str(table["repair-first"].format(title=job_title(model, first.job)))
    if advice.kind == MACHINE:
        return str(table["machine-card"])
    if advice.kind == NOTHING:
        return str(table["unlisted" if advice.leading else "nothing-fits"])
    if advice.kind not in (KILLER, CLOSED) or advice.killers is None:
        return ""
    title = model.causes[case.cured].title
    if advice.kind == KILLER:
        return str(table["ask-killer"].format(title=title, killer=model.causes[advice.killers.about].title))
    killer = case.killer or (advice.killers.shown[0][0] if advice.killers.shown and case.killer is None else "")
    if killer:
        return str(table["closed-named"].format(title=title, killer=model.causes[killer].title))
    return str(table["closed-unknown" if advice.killers.chains else "closed-none"].format(title=title))


def notes(case: Case, advice: Advice) -> list[str]:
    """The notes of an advice as sentences: service, pressure, contradictions, an answer to take again."""
    model, table = case.scope.model, words()["note"]
    said = [str(table[note]) for note in advice.notes]
    for template, pairs in (
        ("contradicts", advice.contradicts),
        ("retake", (advice.retake,) if advice.retake else ()),
    ):
        for check, outcome in pairs:
            record = model.checks[check]
            said.append(str(table[template].format(title=record.title, outcome=record.outcomes[outcome])))
    return said


def job_title(model: Model, job: str) -> str:
    """What a repair job is called: its group's title, or its cause's."""
    group = model.rules.repair_groups.get(job)
    return group.title if group else model.causes[job].title


def causes(model: Model, names: Iterable[str]) -> str:
    """Causes by title, quoted, for a sentence."""
    return " / ".join(f"'{model.causes[name].title}'" for name in names)
