"""The finder in the terminal: a suggestion, a cause or a tree as text, cautions before instructions."""

from collections.abc import Iterator
from textwrap import wrap

from valvecalc.diagnosis import why
from valvecalc.diagnosis.advice import CHECK, CLOSED, KILLER, MACHINE, REPAIR, Advice, Question
from valvecalc.diagnosis.belief import Scope
from valvecalc.diagnosis.knowledge import Model
from valvecalc.diagnosis.tree import Node, cut
from valvecalc.diagnosis.walk import Case

_WIDTH = 80
_PLACES = {"on-machine": "at the machine", "on-bench": "on the bench", "disassembled": "valve opened"}


def fit(text: str, indent: str = "", mark: str = "") -> str:
    """A paragraph in the width of a terminal; `mark` stands before every line."""
    lines = wrap(text, _WIDTH - len(mark), initial_indent=indent, subsequent_indent=indent + ("  " if indent else ""))
    return "\n".join(f"{mark}{line}" for line in lines)


def symptom_list(model: Model) -> str:
    """All complaints by group, each with what the customer says."""
    lines: list[str] = []
    for group in model.rules.groups.values():
        lines += ["", group.title]
        for symptom in model.symptoms.values():
            if symptom.group == group.id:
                lines += [f"  {symptom.id:<32} {symptom.title}"]
    return "\n".join(lines).lstrip()


def start_text(model: Model, symptom: str) -> str:
    """The complaint: its caution first, then what to ask."""
    record = model.symptoms[symptom]
    asked = "\n".join(fit(f"- {text}", "  ") for text in record.ask_first)
    return f"{fit(record.caution, mark='! ')}\n\n{record.title}\n{asked}\n"


def question_text(case: Case, asked: Question, reason: str) -> str:
    """A check: where it is done and what it costs, its caution, its gates, then how, then the answers."""
    model = case.scope.model
    record = model.checks[asked.check]
    place = _PLACES.get(asked.place, asked.place)
    lines = [f"Next check: {record.title}  [{asked.check}]"]
    lines += [f"  {place}, {record.minutes:g} min, hazard {asked.hazard}, with: {record.tool}"]
    lines += [fit(reason, "  ")] if reason else []
    lines += ["", fit(asked.caution, mark="! ")]
    for need in asked.needs:
        lines += ["", *_gate(model, need, need in asked.unticked)]
    lines += ["", "How"]
    lines += [fit(f"{number}. {step}", "  ") for number, step in enumerate(record.steps or (record.how,), 1)]
    if record.reading or record.judged_by:
        judged = f"judged by valvecalc calc {record.judged_by}" if record.judged_by else ""
        lines += [fit("Reading: " + ", ".join(part for part in (record.reading, judged) if part), "  ")]
    lines += ["", "What did you find?"]
    outcomes = [outcome for outcome, _, _ in asked.outcomes] or list(record.outcomes)
    lines += [fit(f"{asked.check}={outcome}: {record.outcomes[outcome]}", "  ") for outcome in outcomes]
    return "\n".join(lines)


def _gate(model: Model, need: str, open_: bool) -> Iterator[str]:
    gate = model.rules.gates.get(need)
    head = "Before this, one by one" if open_ else "Ticked"
    if gate is None:
        yield fit(f"{head}: {model.rules.needs[need]}", mark="! ")
        return
    yield f"! {head}: {gate.title}"
    yield from (fit(f"[ ] {step}", mark="!   ") for step in gate.steps)


def advice_text(case: Case, advice: Advice) -> str:
    """What to do next, with the leading causes in words."""
    parts = [fit(text, mark="! ") for text in why.notes(case, advice)]
    parts += [_leading(case, advice)]
    headline = why.headline(case, advice)
    if headline:
        parts += [fit(headline)]
    if advice.question is not None and advice.kind in (CHECK, KILLER):
        parts += [question_text(case, advice.question, why.why_check(case, advice))]
    elif advice.kind == REPAIR:
        parts += [_repair(case, advice)]
    elif advice.kind == MACHINE:
        parts += [machine_card(case, advice)]
    elif advice.kind == CLOSED:
        parts += [_closing(case)]
    return "\n\n".join(part for part in parts if part)


def _leading(case: Case, advice: Advice) -> str:
    if case.cured:
        return ""
    model = case.scope.model
    rows = [f"  {why.strength(case, chance)}: {model.causes[cause].title}" for cause, chance in advice.leading]
    return "\n".join(["It may be", *rows]) if rows else ""


def _repair(case: Case, advice: Advice) -> str:
    model = case.scope.model
    first = advice.repairs[0]
    cause = model.causes[first.causes[0][0]]
    lines = [fit(cause.caution, mark="! ")]
    if advice.before:
        lines += ["", "Before it is opened, since afterwards it cannot be done any more"]
        lines += [f"  - {model.checks[check].title}  [{check}]" for check in advice.before]
    lines += ["", f"Repair first: {why.job_title(model, first.job)}  [{first.job}], about {first.minutes:.0f} min"]
    lines += [fit(cause.remedy, "  "), fit(f"Proof: {cause.confirmed_by}", "  ")]
    if cause.compute:
        lines += [fit(f"Compute: {cause.compute}", "  ")]
    for place, repair in enumerate(advice.repairs[1:3], 2):
        lines += [fit(f"{place}. then: {why.job_title(model, repair.job)}  [{repair.job}]", "  ")]
    for root in cause.roots:
        lines += [fit(f"On the machine: {model.roots[root].title}. Measure: {model.roots[root].measure}", "  ")]
    if cause.tell_the_customer:
        lines += [fit(f"Tell the customer: {cause.tell_the_customer}", "  ")]
    lines += ["", fit(f"Did it cure? --cured {first.job}, or --not-cured {first.job} to ask on.")]
    return "\n".join(lines)


def machine_card(case: Case, advice: Advice) -> str:
    """The card for the customer: three things to measure on the machine, each with its caution."""
    model = case.scope.model
    lines = ["Card for the machine: measure these"]
    for number, check in enumerate(advice.measure, 1):
        record = model.checks[check]
        lines += ["", fit(record.caution, mark="! "), fit(f"{number}. {record.title}: {record.how}", "  ")]
        lines += [fit("write down which: " + "; ".join(record.outcomes.values()), "     ")]
    return "\n".join(lines)


def _closing(case: Case) -> str:
    model = case.scope.model
    cause = model.causes[case.cured]
    lines = [
        fit(f"On the machine: {model.roots[root].title}. Measure: {model.roots[root].measure}") for root in cause.roots
    ]
    lines += [fit(f"Tell the customer: {model.roots[root].tell_the_customer}") for root in cause.roots]
    return "\n".join(lines)


def cause_text(model: Model, name: str) -> str:
    """One cause: what it is, its proof, the caution before the remedy, roots, chains; all of it judgement."""
    cause = model.causes[name]
    lines = [f"{cause.title}  [{cause.id}]", fit(cause.mechanism), "", fit(f"Proof: {cause.confirmed_by}")]
    lines += ["", fit(cause.caution, mark="! "), "", fit(f"Remedy, about {cause.remedy_minutes:g} min: {cause.remedy}")]
    if cause.compute:
        lines += [fit(f"Compute: {cause.compute}")]
    lines += [fit(f"valvecalc calc {name}", "  ") for name in cause.computed_by]
    for root in cause.roots:
        lines += [fit(f"On the machine: {model.roots[root].title}. {model.roots[root].how_it_kills}", "  ")]
    for chain in model.chains:
        if name == chain.victim:
            lines += [fit(f"Often killed by '{model.causes[chain.killer].title}': {chain.note}", "  ")]
        if name == chain.killer:
            lines += [fit(f"Often kills, and leaves '{model.causes[chain.victim].title}': {chain.note}", "  ")]
    lines += ["", fit(f"How often: {cause.frequency} ({cause.frequency_source}).")]
    return "\n".join(lines)


def tree_text(case: Scope, node: Node, indent: str = "") -> str:
    """A computed tree, one line an answer; where a branch ends, what to repair in which order."""
    model = case.model
    if not node.check:
        order = " > ".join(why.job_title(model, job.id) for job in node.choice.order[:3])
        return f"{indent}{'(cut) ' if cut(case, node) else ''}repair: {order}"
    record = model.checks[node.check]
    lines = [f"{indent}{record.title}? ({record.minutes:g} min, hazard {record.hazard})"]
    for outcome, branch in node.branches:
        lines += [f"{indent}  {record.outcomes[outcome]}  ({100 * branch.reach:.0f} % of all)"]
        lines += [tree_text(case, branch, indent + "    ")]
    return "\n".join(lines)


def own_cases(cases: float, weight: float) -> str:
    """How far the order rests on the shop's own counts."""
    if not cases:
        return fit("No own case of this complaint: the order rests on the coarse weights alone.")
    return fit(f"{cases:g} own cases of this complaint are weighed in; the coarse weights count as {weight:g} cases.")
