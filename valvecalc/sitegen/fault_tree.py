"""The page of one complaint: the computed conversation as cards that work without script.

A check has one card, its caution first, however many ways lead to it; each answer links to the next way. An end is the
card of a cause. Of a card's ways the style sheet shows the one that the address names.
"""

from collections.abc import Iterable
from re import sub

from valvecalc.diagnosis import why
from valvecalc.diagnosis.advice import Question, offer
from valvecalc.diagnosis.belief import AT_MACHINE, BENCH_ONLY, Scope, scope
from valvecalc.diagnosis.knowledge import Model, Symptom
from valvecalc.diagnosis.policy import hazard_of, leading
from valvecalc.diagnosis.repair import STAGES
from valvecalc.diagnosis.tree import SAVES, Node, nodes, pruned, tree
from valvecalc.sitegen import fault_parts as parts
from valvecalc.sitegen import marks
from valvecalc.sitegen.fault_ends import (
    MEASURE,
    Page,
    at,
    end_cards,
    end_id,
    first_cause,
    in_order,
    title,
    way_out,
)

CAME_IN = ("exchange-no-detail",)  # complaints of a valve that came without its machine
#: Wakes the element "finder": the same conversation in free order.
SCRIPTS = tuple(f"assets/{name}.js" for name in ("finder-data", "finder", "finder-counts", "finder-ui"))
TEXT = 50_000  # bytes of text on a page: what a phone on a bad line gets in a few seconds

_TAKE_OFF = (
    "Load lowered or mechanically held, pump and power locked off, accumulators drained, zero read at P, A, B, T, X "
    "and Y on gauges that were seen to move, plug proved dead: then the first bolt. No point to read at: stop, call "
    "the responsible person of the site."
)
_OPEN = (
    "Drained, zero proved, glasses on, over a tray: springs and balls fly, trapped oil drives a cap. Covers held "
    "square and away from the face. Opened once, its first state is gone: look before anything is washed."
)
STAGE_CARDS = {
    STAGES[1]: ("The valve comes off the machine", _TAKE_OFF, "It is off and on the bench"),
    STAGES[2]: ("The valve is opened", _OPEN, "It is open on the bench"),
}


def symptom_page(model: Model, symptom: Symptom, situation: str) -> str:
    """The whole page as Markdown."""
    return fitted(scope(model, symptom.id, None, situation), symptom)[1]


def fitted(case: Scope, symptom: Symptom) -> tuple[Node, str]:
    """The largest conversation that keeps the page within `TEXT`, and the page."""
    whole, saves = tree(case), SAVES
    root, text = whole, _page(case, symptom, whole)
    while text_bytes(text) > TEXT:
        saves *= 1.1
        root = pruned(whole, saves)
        text = _page(case, symptom, root)
    return root, text


def main_situation(symptom: Symptom) -> str:
    """Where a complaint is met: at the machine, unless it came in without its machine."""
    return BENCH_ONLY if symptom.id in CAME_IN else AT_MACHINE


def text_bytes(page: str) -> int:
    """Bytes of a page that are text, not marks."""
    return len(" ".join(sub("<[^>]*>", " ", page).split()).encode())


def _finder(symptom: Symptom, situation: str) -> str:
    """Where the finder wakes (finder-ui.js): by this link, or by a link that carries a case."""
    ask = '<a class="door door--small" id="ask" href="#ask">Ask step by step, in any order</a>'
    where = f'data-symptom="{symptom.id}" data-situation="{situation}"'
    return f'<div id="finder" class="finder with-script" {where}>{ask}</div>'


def _page(case: Scope, symptom: Symptom, root: Node) -> str:
    asked = [node for node in nodes(root) if node.check]
    page = Page(case, symptom, root, {node.path: place for place, node in enumerate(asked, 1)})
    out = [parts.OUT_OF_SERVICE] if symptom.out_of_service else []
    other = case.situation == BENCH_ONLY and symptom.id not in CAME_IN
    lines = [
        marks.head(f"{symptom.title}: valve on the bench") if other else marks.head(symptom.title, SCRIPTS),
        f'<p class="says">“{marks.esc(symptom.customer_says)}”</p>',
        parts.warning(" ".join([*out, symptom.caution])),
        "" if other else _finder(symptom, case.situation),
        '<nav class="talk" aria-label="Checks and answers">',
        *(_card(page, ways) for ways in _by_card(page, asked).values()),
        *_stage_cards(page, asked),
        *end_cards(page),
        "</nav>",
        in_order(page),
        "## Ask the customer",
        marks.bullets(symptom.ask_first),
        _elsewhere(symptom, case.situation),
    ]
    return "\n\n".join(line for line in lines if line) + "\n"


def _elsewhere(symptom: Symptom, situation: str) -> str:
    """The same complaint in the other situation."""
    if symptom.id in CAME_IN:
        return ""
    if situation == BENCH_ONLY:
        told = marks.door(parts.page_of("symptom", symptom.id), "At the machine", "The same complaint, all checks.")
    else:
        told = marks.door(
            parts.page_of("symptom", f"{symptom.id}/bench"), "Valve on the bench", "The machine is out of reach."
        )
    return marks.doors([told])


def _asked(page: Page, node: Node) -> Question:
    """The check as it is offered there: on the bench it may have another caution and no gates."""
    return offer(at(page, node.position), node.check)


def _by_card(page: Page, asked: Iterable[Node]) -> dict[tuple[str, str], list[Node]]:
    """The ways by card: one for each check and place it is done at."""
    found: dict[tuple[str, str], list[Node]] = {}
    for node in asked:
        found.setdefault((node.check, _asked(page, node).place), []).append(node)
    return found


def _card(page: Page, asked: list[Node]) -> str:
    """One check, once, however many ways lead to it: caution, gates, then for each way its answers."""
    check, told = page.case.model.checks[asked[0].check], _asked(page, asked[0])
    needs = f"<p>Only with: {marks.esc(parts.need_line(told.needs))}.</p>" if told.needs else ""
    first = " first" if not asked[0].path else ""
    return (
        f'<section class="step ask{first}"><h2>{parts.check_link(check)}</h2>{parts.warning(told.caution)}'
        f'<div class="do">{needs}{"".join(_way(page, node) for node in asked)}'
        f'<div class="doors answers">{way_out("Not possible here, or I will not do it")}'
        f'</div><p class="quiet">{check.minutes:g} min, {parts.PLACES[told.place]}, '
        f"{parts.hazard(told.hazard)}</p></div></section>"
    )


def _way(page: Page, node: Node) -> str:
    """What belongs to one way to a check: where one stands, why it is asked, the answers."""
    answers = "".join(_answer(page, node, outcome, below) for outcome, below in node.branches)
    first = "" if node.path else " first"
    here = _trail(page, node) + _now(page, node) or "First check:"
    return (
        f'<div class="way{first}"><p class="here" id="q{page.numbers[node.path]}">{here}</p>'
        f'<div class="doors answers">{answers}</div><p class="quiet">{_why(page, node)}</p></div>'
    )


def _answer(page: Page, node: Node, outcome: str, below: Node) -> str:
    """One answer: what was found, and what comes next with minutes and hazard."""
    model = page.case.model
    told = marks.esc(model.checks[node.check].outcomes[outcome])
    if below.check:
        check = model.checks[below.check]
        target = f"{'s' if _changes(page, below) else 'q'}{page.numbers[below.path]}"
        more = f"then {check.minutes:g} min {parts.hazard(hazard_of(page.case, check.id))}"
    else:
        target = end_id(page, below)
        first = title(model, first_cause(page, below))
        more = first if first == MEASURE else f"repair first: {first}"
    return f'<a class="door" href="#{target}"><strong>{told}</strong><small>{more}</small></a>'


def _trail(page: Page, node: Node) -> str:
    """The answers so far, each a link back to its question."""
    model = page.case.model
    steps = []
    for place, (check, outcome) in enumerate(node.path):
        number = page.numbers[node.path[:place]]
        steps.append(f'<a href="#q{number}">{marks.esc(model.checks[check].outcomes[outcome])}</a>')
    return f'<span class="trail">{" › ".join(steps)}</span>' if steps else ""


def _now(page: Page, node: Node) -> str:
    """The leading causes that are at least possible, three at most, in words."""
    if not node.path:
        return ""
    case, model = at(page, node.position), page.case.model
    causes: dict[str, list[str]] = {}
    top = leading(page.case, node.position.belief)
    for cause, chance in [pair for pair in top if pair[1] >= why.POSSIBLE] or top:
        causes.setdefault(why.strength(case, chance), []).append(marks.within(model.causes[cause].title))
    told = " ".join(f"{word.capitalize()}: {', '.join(titles)}." for word, titles in causes.items())
    return f'<span class="now">{marks.esc(told)}</span>'


def _why(page: Page, node: Node) -> str:
    """What the check parts from what."""
    case = at(page, node.position)
    model, table = page.case.model, why.words()["why"]
    option = node.choice.option
    toward = option.check if option and option.check != node.check else ""
    left, right = why.parted(case, toward or node.check)
    sides = {"left": why.causes(model, left[:1]), "right": why.causes(model, right[:1])}
    if toward:
        return str(table["way"].format(title=model.checks[toward].title, **sides))
    return str(table["first" if right else "one"].format(**sides))


def _changes(page: Page, node: Node) -> bool:
    """Whether the check needs the valve further than it has come."""
    where = page.case.model.checks[node.check].where
    return STAGES.index(where) > STAGES.index(node.position.stage)


def _stage_cards(page: Page, asked: list[Node]) -> list[str]:
    """The cards before the valve comes off or is opened: one a stage, on its own, with its ways."""
    cards: dict[tuple[str, str], list[Node]] = {}
    for node in asked:
        if _changes(page, node):
            cards.setdefault((node.position.stage, page.case.model.checks[node.check].where), []).append(node)
    return [_stage_card(page, stage, where, changing) for (stage, where), changing in cards.items()]


def _stage_card(page: Page, stage: str, where: str, changing: list[Node]) -> str:
    head, caution, done = STAGE_CARDS[where]
    off = where == STAGES[2] and stage == STAGES[0]
    ways = "".join(
        f'<div class="way"><p class="here" id="s{page.numbers[node.path]}">{_trail(page, node)}{_now(page, node)}</p>'
        f'<div class="doors answers"><a class="door" href="#q{page.numbers[node.path]}"><strong>{done}</strong></a>'
        "</div></div>"
        for node in changing
    )
    return (
        f'<section class="step stage"><h2>{head}</h2>{parts.warning(_TAKE_OFF if off else "", caution)}'
        f'<div class="do">{ways}<div class="doors answers">{way_out("Not now")}</div></div></section>'
    )
