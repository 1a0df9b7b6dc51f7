"""Where a conversation ends on the page of a complaint: the cards of the causes, and the list that goes on."""

from collections.abc import Iterable
from typing import NamedTuple

from valvecalc.diagnosis import why
from valvecalc.diagnosis.advice import MOSTLY, OTHER, machine_card
from valvecalc.diagnosis.belief import Scope, confirmed
from valvecalc.diagnosis.knowledge import Model, Symptom
from valvecalc.diagnosis.policy import Position, hazard_of
from valvecalc.diagnosis.repair import MACHINE_CARD, Job, opening_minutes, repair_order
from valvecalc.diagnosis.tree import Node, nodes
from valvecalc.diagnosis.walk import Case, start
from valvecalc.sitegen import fault_parts as parts
from valvecalc.sitegen import marks

MEASURE = "measure on the machine"
ORDERED = 3  # repairs named at an end
LISTED = 8  # checks named in the list of those worth doing


class Page(NamedTuple):
    """What the cards of a page share: the case, and the number of each node by its path."""

    case: Scope
    symptom: Symptom
    root: Node
    numbers: dict[tuple[tuple[str, str], ...], int]


def at(page: Page, position: Position) -> Case:
    """The case as the words need it: a position without the steps that led to it."""
    return Case(page.case, position, frozenset(), (), (), (), "", None)


def way_out(words: str) -> str:
    """The way out of a card: to the list that goes on without an answer or a cure."""
    return f'<a class="door no" href="#in-order"><strong>{words}</strong></a>'


def _order(position: Position, order: Iterable[Job]) -> list[Job]:
    """The repairs to name; what is listed goes before "something else", while it may be that."""
    ranked = list(order)
    if len(ranked) > 1 and ranked[0].id == OTHER and _weight(position, ranked[0]) < MOSTLY:
        ranked[:2] = ranked[1::-1]
    return ranked


def _weight(position: Position, job: Job) -> float:
    return sum(position.belief[place] for place in job.causes)


def _lead(page: Page, position: Position, job: Job) -> str:
    """The likeliest cause that a repair cures; the card for the machine stands for itself."""
    if job.id == MACHINE_CARD:
        return MACHINE_CARD
    return page.case.causes[max(job.causes, key=lambda place: position.belief[place])]


def first_cause(page: Page, node: Node) -> str:
    """The cause whose repair an end names first."""
    first = _order(node.position, node.choice.order)[0]
    return _lead(page, node.position, first)


def _plan(page: Page, node: Node) -> tuple[str, ...]:
    """What an end names: the first cause, whether it is confirmed, the repairs after it."""
    ranked = _order(node.position, node.choice.order)[:ORDERED]
    first = _lead(page, node.position, ranked[0])
    if first == MACHINE_CARD:
        return (first, "", *machine_card(at(page, node.position)))
    sure = confirmed(page.case, node.position.belief[page.case.causes.index(first)])
    return (first, "confirmed" if sure else "", *(_lead(page, node.position, job) for job in ranked[1:]))


def _plans(page: Page) -> dict[tuple[str, ...], list[Node]]:
    """The ends of the page by what they name, likeliest first."""
    found: dict[tuple[str, ...], list[Node]] = {}
    for node in sorted(nodes(page.root), key=lambda node: -node.reach):
        if not node.check:
            found.setdefault(_plan(page, node), []).append(node)
    return found


def end_id(page: Page, node: Node) -> str:
    """The anchor of the line that belongs to an end."""
    return "e-" + "-".join(part for part in _plan(page, node) if part)


def end_cards(page: Page) -> list[str]:
    """The cards of the causes that a way ends at."""
    by_cause: dict[str, list[str]] = {}
    for plan, ends in _plans(page).items():
        by_cause.setdefault(plan[0], []).append(_way_line(page, plan, ends))
    return [
        _machine(page, ways) if cause == MACHINE_CARD else _end(page, cause, ways) for cause, ways in by_cause.items()
    ]


def _way_line(page: Page, plan: tuple[str, ...], ends: list[Node]) -> str:
    """What a way says on the card where it ends: how sure, and what comes after."""
    model = page.case.model
    if plan[0] == MACHINE_CARD:
        told = "Measure: " + "; ".join(marks.esc(marks.within(model.checks[check].title)) for check in plan[2:])
    else:
        rest = [title(model, cause) for cause in plan[2:]]
        told = f"<strong>{'Confirmed' if plan[1] else 'Repair first'}</strong>"
        told += f", then: {'; then: '.join(rest)}" if rest else ""
    asked = sorted({page.numbers[node.path[:-1]] for node in ends if node.path})
    back = ", ".join(f'<a href="#q{number}">{number}</a>' for number in asked)
    key = "e-" + "-".join(part for part in plan if part)
    return f'<li id="{key}">{told}.{f" Back to question {back}" if back else ""}</li>'


def title(model: Model, name: str) -> str:
    """A cause, or the card for the machine, within a sentence."""
    return MEASURE if name == MACHINE_CARD else marks.esc(marks.within(model.causes[name].title))


def _machine(page: Page, ways: list[str]) -> str:
    """The card that goes back with the valve: what to measure on the machine, each with its caution first."""
    model = page.case.model
    measures = dict.fromkeys(check for plan in _plans(page) if plan[0] == MACHINE_CARD for check in plan[2:])
    cards = "".join(
        f'<section class="step"><h3>{parts.check_link(check)}</h3>{parts.warning(check.caution)}'
        f'<div class="do"><p>{marks.esc(parts.sentence(check.how))}</p>'
        f"<p>Write down which: {marks.esc('; '.join(check.outcomes.values()))}.</p></div></section>"
        for check in map(model.checks.__getitem__, measures)
    )
    return (
        f'<section class="step end{_first(page)}"><h2>Back with the valve: measure on the machine</h2>'
        f'<ul class="ways">{"".join(ways)}</ul>{parts.warning(_SENT, *_out(page))}'
        f'<div class="do"><p>No check left on the bench pays for itself; what is left is on the machine. The card goes '
        f"to whoever works there.</p>{cards}"
        f'<div class="doors answers">{way_out("Measured, and nothing found")}</div></div></section>'
    )


_SENT = (
    "Only by people who may work on that machine, by its own isolation rules: load held, area clear, one person "
    "commands. A jet goes through the glove. Nothing is loosened to find out whether there is pressure."
)


def _out(page: Page) -> list[str]:
    return [parts.OUT_OF_SERVICE] if page.symptom.out_of_service else []


def _first(page: Page) -> str:
    """The class of the card that is shown before any answer: an end only where nothing is asked."""
    return "" if page.root.check else " first"


def _end(page: Page, name: str, ways: list[str]) -> str:
    """The end card: caution, remedy, proof, root, what to tell, what to compute, its killer."""
    model = page.case.model
    cause = model.causes[name]
    roots = ", ".join(parts.root_link(model, root) for root in cause.roots)
    compute = f"<p><b>Compute:</b> {parts.compute(cause)}</p>" if parts.compute(cause) else ""
    tell = f"<p><b>Tell the customer:</b> {marks.esc(cause.tell_the_customer)}</p>" if cause.tell_the_customer else ""
    group = (
        f" ({marks.esc(marks.within(model.rules.repair_groups[cause.repair_group].title))})"
        if cause.repair_group
        else ""
    )
    killers = "; ".join(
        f"{parts.cause_link(model, row.killer)}, shown by {parts.check_link(model.checks[row.prove])}"
        for row in model.chains
        if row.victim == name
    )
    killed = f"<p><b>After the cure, what killed it?</b> {killers}; none shown: write “unknown”.</p>" if killers else ""
    return (
        f'<section class="step end{_first(page)}"><h2>{parts.cause_link(model, name)}</h2>'
        f'<ul class="ways">{"".join(ways)}</ul>'
        f'{parts.warning(" ".join([*_out(page), cause.caution]))}<div class="do">'
        f"<p>{marks.esc(parts.sentence(cause.remedy))} About {cause.remedy_minutes:g} min{group}.</p>"
        f"<p><b>Proof:</b> {marks.esc(parts.sentence(cause.confirmed_by))}</p>"
        f"<p><b>On the machine:</b> {roots}.</p>{tell}{compute}{killed}"
        f'<div class="doors answers">{way_out("This did not cure it")}</div></div></section>'
    )


def _worth(checks: str) -> str:
    return f"<p>Checks worth doing from the start, best first:</p><ol>{checks}</ol>" if checks else ""


def in_order(page: Page) -> str:
    """Where a way ends without a cure: every repair and the checks worth doing, best first."""
    model, case = page.case.model, page.case
    position = start(case)
    repairs = []
    for job in repair_order(position.belief, position.todo, opening_minutes(case, position.stage)):
        causes = sorted(job.causes, key=lambda place: -position.belief[place])
        names = [case.causes[place] for place in causes]
        links = ", ".join(parts.cause_link(model, name) for name in names)
        named = MEASURE.capitalize() if job.id == MACHINE_CARD else marks.esc(why.job_title(model, job.id))
        named = "" if len(names) == 1 and job.id == names[0] else f"<b>{named}:</b> "
        repairs.append(f"<li>{named}{links}</li>")
    first = list(dict.fromkeys(option.way[0] for option in page.root.choice.options))[:LISTED]
    checks = "".join(
        f"<li>{parts.check_link(model.checks[name])} {model.checks[name].minutes:g} min "
        f"{parts.hazard(hazard_of(case, name))}</li>"
        for name in first
    )
    return (
        '<section class="step" id="in-order"><h2>Not cured, or no answer: in this order</h2>'
        f"{parts.warning(_AGAIN)}"
        f'<div class="do">{_worth(checks)}'
        f"<p>Repairs, by how likely they cure for the minutes they cost; each page says its caution "
        f"and its proof. Take the most surprising answer once more before the second one.</p>"
        f"<ol>{''.join(repairs)}</ol>"
        f"<p>Leaving it here: say what is still under pressure, live or held up. "
        f"{marks.link('fault/index.md', 'Another complaint')}</p></div></section>"
    )


_AGAIN = (
    "Not cured is unexplained: load held, people out of reach, one person commands. Power back on takes every tick "
    "away: zero and dead are proved anew before the next joint, plug or cover."
)
