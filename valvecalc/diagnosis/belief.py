"""What is believed about the cause: prior from the complaint, words as numbers, one answer at a time.

Bayes' rule under the single-fault assumption. A killer behind the victim is asked afterwards, see chains.py.
"""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from valvecalc.diagnosis.knowledge import Model
from valvecalc.errors import InputError, Trouble, nearest

AT_MACHINE = "at-machine"
BENCH_ONLY = "bench-only"  # the valve is on the bench and the machine out of reach
Belief = tuple[float, ...]  # one probability a cause, in the order of Scope.causes
Rows = tuple[tuple[float, ...], ...]  # P(outcome | cause): one row an outcome, one column a cause


class Scope(NamedTuple):
    """One complaint, ready for arithmetic: the causes and checks that apply to the valve in hand.

    rows     P(outcome | cause) of each check
    again    the same, discounted: for a second and later answer of one evidence group
    telling  the checks whose answer depends on the cause; the others cannot say anything here
    """

    model: Model
    symptom: str
    situation: str
    profile: frozenset[str]
    causes: tuple[str, ...]
    prior: Belief
    rows: Mapping[str, Rows]
    again: Mapping[str, Rows]
    telling: tuple[str, ...]


def scope(
    model: Model,
    symptom: str,
    profile: Iterable[str] | None = None,
    situation: str = AT_MACHINE,
    counts: Mapping[str, float] | None = None,
) -> Scope:
    """The model cut down to one complaint and one valve.

    profile    every tag that may be true of the valve ("ac", "double-solenoid" …): a tag left out is ruled out,
               both of a pair mean "don't know", None means "not described yet". Tags: rules.toml [tags]
    situation  "at-machine" or "bench-only"
    counts     the shop's own cases of this complaint by cause; the file weighs as much as scale.repair.file_cases
    Raises InputError for an unknown symptom, tag, situation or cause, all at once.
    """
    _known(model, symptom, profile, situation, counts)
    tags = frozenset(model.rules.tags) if profile is None else frozenset(profile) | {"all"}
    weights = prior(model, symptom, tags, counts)
    causes = tuple(weights)
    rows, again = {}, {}
    factor = model.rules.scale["same_group_discount"]["factor"]
    for check in model.checks.values():
        if tags.intersection(check.applies_to) and check.id not in model.symptoms[symptom].already_known:
            columns = [likelihood(model, check.id, cause) for cause in causes]
            rows[check.id] = tuple(zip(*columns, strict=True))
            again[check.id] = tuple(zip(*(discounted(column, factor) for column in columns), strict=True))
    telling = tuple(check for check, found in rows.items() if any(len(set(row)) > 1 for row in found))
    return Scope(model, symptom, situation, tags, causes, tuple(weights.values()), rows, again, telling)


def prior(
    model: Model, symptom: str, tags: frozenset[str], counts: Mapping[str, float] | None = None
) -> dict[str, float]:
    """P(cause | complaint) of the causes that apply, the shop's own cases counted in."""
    weights = dict(model.symptoms[symptom].candidates)
    if counts:
        share = model.rules.scale["repair"]["file_cases"] / 100
        weights = {cause: weight * share for cause, weight in weights.items()}
        for cause, cases in counts.items():
            weights[cause] = weights.get(cause, 0.0) + cases
    fitting = {cause: weight for cause, weight in weights.items() if tags.intersection(model.causes[cause].applies_to)}
    total = sum(fitting.values())
    return {cause: weight / total for cause, weight in fitting.items()}


def likelihood(model: Model, check: str, cause: str) -> tuple[float, ...]:
    """P(outcome | cause) for each outcome of a check: the words as numbers, normalised."""
    numbers = [float(model.rules.scale["likelihood"][word]) for word in model.words(check, cause)]
    total = sum(numbers)
    return tuple(number / total for number in numbers)


def discounted(column: tuple[float, ...], factor: float) -> tuple[float, ...]:
    """The likelihoods of a further check of one evidence group: it repeats part of what the first one said."""
    powers = [number**factor for number in column]
    total = sum(powers)
    return tuple(power / total for power in powers)


def outcome_row(case: Scope, check: str, outcome: str, repeats: bool) -> tuple[float, ...]:
    """P(outcome | cause) by cause; `repeats` when the check's evidence group has an answer already."""
    rows = (case.again if repeats else case.rows)[check]
    return rows[list(case.model.checks[check].outcomes).index(outcome)]


def updated(belief: Belief, row: tuple[float, ...]) -> Belief:
    """The belief after one answer. A cause already struck out stays out; all struck out gives zeros."""
    weights = [probability * chance for probability, chance in zip(belief, row, strict=True)]
    return normalised(weights)


def near(figure: float) -> float:
    """A figure to nine digits, for ranking and printing: languages differ in the last bits, and equals are common."""
    return float(f"{figure:.9g}")


def normalised(weights: Iterable[float]) -> Belief:
    """Weights as probabilities; zeros stay zeros when nothing is left."""
    weights = tuple(weights)
    total = sum(weights)
    return tuple(weight / total for weight in weights) if total > 0 else weights


def confirmed(case: Scope, probability: float) -> bool:
    """Whether a cause of this probability is called confirmed rather than repaired first."""
    return bool(probability >= case.model.rules.scale["repair"]["confirmed"])


def _known(
    model: Model,
    symptom: str,
    profile: Iterable[str] | None,
    situation: str,
    counts: Mapping[str, float] | None,
) -> None:
    troubles = []
    if symptom not in model.symptoms:
        troubles.append(unknown("symptom", symptom, model.symptoms))
    troubles += [unknown("profile", tag, model.rules.tags) for tag in profile or () if tag not in model.rules.tags]
    if situation not in (AT_MACHINE, BENCH_ONLY):
        troubles.append(unknown("situation", situation, (AT_MACHINE, BENCH_ONLY)))
    for cause, cases in (counts or {}).items():
        if cause not in model.causes:
            troubles.append(unknown("counts", cause, model.causes))
        elif not isinstance(cases, (int, float)) or isinstance(cases, bool) or not 0 <= cases < 1e6:
            troubles.append(
                Trouble(f"counts.{cause}", repr(cases), "a number of cases, 0 or more", "Correct the count.")
            )
    if not troubles and profile is not None:
        tags = frozenset(profile) | {"all"}
        record = model.symptoms[symptom]
        if not tags.intersection(record.applies_to) or not prior_fits(model, symptom, tags):
            troubles.append(
                Trouble(
                    "profile", ", ".join(sorted(tags)), f"a valve that can show '{record.title}'", "Correct the valve."
                )
            )
    if troubles:
        raise InputError(troubles)


def prior_fits(model: Model, symptom: str, tags: frozenset[str]) -> bool:
    """Whether any candidate of the complaint applies to such a valve."""
    return any(tags.intersection(model.causes[cause].applies_to) for cause in model.symptoms[symptom].candidates)


def unknown(entry: str, got: str, known: Iterable[str]) -> Trouble:
    """The trouble of an unknown id, with the nearest known ones."""
    near = nearest(str(got), known)
    return Trouble(entry, repr(got), "a known id" + (f": {', '.join(near)}?" if near else ""), "Correct the spelling.")
