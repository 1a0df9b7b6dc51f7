"""The fault finder's pages against the knowledge that they are made of, and against the house's safety rules."""

import re
from collections.abc import Iterator
from html import unescape
from html.parser import HTMLParser

import pytest

from valvecalc.diagnosis.advice import advise, question
from valvecalc.diagnosis.belief import AT_MACHINE, BENCH_ONLY, scope
from valvecalc.diagnosis.knowledge import Symptom, knowledge
from valvecalc.diagnosis.repair import MACHINE_CARD
from valvecalc.diagnosis.tree import QUESTIONS, Node, cut, minutes, nodes, pruned, tree
from valvecalc.diagnosis.walk import replay
from valvecalc.sitegen.fault_pages import fault_pages
from valvecalc.sitegen.fault_parts import page_of
from valvecalc.sitegen.fault_tree import CAME_IN, TEXT, main_situation, text_bytes

MODEL = knowledge()
PAGES = fault_pages()
TALKS = {
    **{page_of("symptom", row.id): (row, main_situation(row)) for row in MODEL.symptoms.values()},
    **{
        page_of("symptom", f"{row.id}/bench"): (row, BENCH_ONLY)
        for row in MODEL.symptoms.values()
        if row.id not in CAME_IN
    },
}
RECORDS = {
    "symptom": MODEL.symptoms,
    "check": MODEL.checks,
    "cause": MODEL.causes,
    "root": MODEL.roots,
}


def plain(html: str) -> str:
    """Text of a page as it is read, blanks made one."""
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", html)).split())


@pytest.mark.parametrize("kind", RECORDS)
def test_every_record_has_its_page_and_an_index_leads_to_it(kind: str) -> None:
    index = {"symptom": "fault", "check": "do", "cause": "fault/causes", "root": "fault/roots"}[kind]
    listed = set(re.findall(r"page:([\w/-]+\.md)", PAGES[f"{index}/index.md"]))
    for name, record in RECORDS[kind].items():
        page = page_of(kind, name)
        assert page in PAGES and page in listed, name
        assert f"\n# {record.title.replace('&', '&amp;')}" in unescape(PAGES[page]).replace("&", "&amp;"), name


def test_six_groups_hold_every_complaint_once() -> None:
    page = PAGES["fault/index.md"]
    assert len(re.findall(r"^## .* \{ #[\w-]+ \}$", page, re.MULTILINE)) == 6
    for row in MODEL.symptoms.values():
        assert page.count(f"page:{page_of('symptom', row.id)}") == 1
        assert f"“{row.customer_says}”" in unescape(page)


@pytest.mark.parametrize("name", MODEL.checks)
def test_check_page_says_caution_then_gates_then_how(name: str) -> None:
    """safety.md, 1: the caution stands before the instruction, preconditions are ticked one by one before it."""
    check = MODEL.checks[name]
    text = plain(PAGES[page_of("check", name)])
    places = [text.index(plain_text(check.caution))]
    for need in check.needs:
        gate = MODEL.rules.gates[need]
        places += [text.index(plain_text(step)) for step in gate.steps[:1]]
        assert all(plain_text(step) in text for step in gate.steps), need
    # A sentence of `how` may be quoted in the caution: the instruction is the one under its heading.
    how = text.index("## How")
    assert places[0] == min(places) and max(places) < how
    for told in (*check.steps, check.how):
        assert text.index(plain_text(told), how) > how
    if check.at_bench:
        assert plain_text(check.at_bench) in text[how:]
    assert all(plain_text(outcome) in text for outcome in check.outcomes.values())
    if check.judged_by:
        assert re.search(rf"page:(judge|calc)/{check.judged_by}\.md", PAGES[page_of("check", name)])


def plain_text(text: str) -> str:
    """A text of the knowledge as a page prints it, but for its capital and its full stop."""
    return " ".join(text.split())[1:].rstrip(".")


@pytest.mark.parametrize("name", MODEL.causes)
def test_cause_page_says_caution_before_remedy_and_the_rest(name: str) -> None:
    cause = MODEL.causes[name]
    page = PAGES[page_of("cause", name)]
    text = plain(page)
    assert text.index(plain_text(cause.caution)) < text.index(plain_text(cause.remedy), text.index("Remedy"))
    for told in (cause.mechanism, cause.confirmed_by, cause.tell_the_customer, cause.compute):
        assert plain_text(told) in text
    for root in cause.roots:
        assert f"page:{page_of('root', root)}" in page
    for chain in MODEL.chains:
        if name in (chain.killer, chain.victim):
            other = chain.victim if name == chain.killer else chain.killer
            assert f"page:{page_of('cause', other)}" in page
    assert "Basis:" in text and "judgement" in text


@pytest.mark.parametrize("name", MODEL.roots)
def test_root_page_says_how_it_kills_and_what_to_measure(name: str) -> None:
    root = MODEL.roots[name]
    text = plain(PAGES[page_of("root", name)])
    caution = text.index("Nothing is opened or loosened")
    for told in (root.how_it_kills, root.measure, root.tell_the_customer):
        assert text.index(plain_text(told)) > caution


class Cards(HTMLParser):
    """The cards of a conversation: ids, links, and the texts of caution and answers in their order."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.jumps: list[str] = []
        self.order: list[str] = []
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = dict(attrs)
        if given.get("id"):
            self.ids.append(str(given["id"]))
        if tag == "a" and str(given.get("href", "")).startswith("#"):
            self.jumps.append(str(given["href"])[1:])
        classes = (given.get("class") or "").split()
        self.order += [word for word in classes if word in ("step", "caution", "do", "door")]


@pytest.mark.parametrize("path", TALKS)
def test_talk_leads_from_the_first_check_to_an_end(path: str) -> None:
    """Every answer has its card, every card an answer that leads to it, every way ends."""
    cards = Cards(PAGES[path])
    assert len(cards.ids) == len(set(cards.ids))
    assert set(cards.jumps) <= set(cards.ids)
    questions = {one for one in cards.ids if re.fullmatch(r"[qs]\d+", one)} - {"q1"}
    assert questions <= set(cards.jumps)
    ends = {one for one in cards.ids if one.startswith("e-")}
    assert ends
    if questions:
        assert ends <= set(cards.jumps)


@pytest.mark.parametrize("path", TALKS)
def test_talk_says_the_caution_first(path: str) -> None:
    """safety.md, 1.5: a symptom shows its caution before the first question, a cause before the remedy."""
    symptom, _ = TALKS[path]
    page = PAGES[path]
    text = plain(page)
    told = text.index(plain_text(symptom.caution))
    assert told < text.index("Not cured, or no answer")
    first = re.search(r'<section class="step', page)
    assert first is not None and page.index('class="caution"') < first.start()
    order = Cards(page).order
    assert order[0] == "caution"
    for place, word in enumerate(order):
        if word == "step":
            assert order[place + 1] == "caution", place
    if symptom.out_of_service:
        assert text[told - 40 :].index("Out of service") < 40
        for end in re.findall(r'<section class="step end.*?</section>', page):
            assert "Out of service until explained." in end


@pytest.mark.parametrize("path", TALKS)
def test_cards_hold_the_caution_of_their_check_and_their_outcomes(path: str) -> None:
    symptom, situation = TALKS[path]
    case = scope(MODEL, symptom.id, None, situation)
    asked = re.findall(r'<section class="step ask.*?</section>', PAGES[path])
    for card in asked:
        name = re.search(r"page:do/([\w-]+)\.md", card)
        assert name is not None
        check = MODEL.checks[name[1]]
        text = plain(card)
        assert plain_text(check.caution) in text or (check.at_bench and plain_text(check.at_bench) in text)
        if situation == BENCH_ONLY and check.where == "on-machine":
            assert plain_text(check.at_bench) in text and "Only with" not in text
        for way in re.findall(r'<div class="way.*?<p class="quiet">', card):
            assert way.count('class="door"') == len(check.outcomes)
            assert all(plain_text(outcome) in plain(way) for outcome in check.outcomes.values())
        assert check.id in case.rows


@pytest.mark.parametrize("path", TALKS)
def test_text_of_a_talk_stays_small(path: str) -> None:
    assert text_bytes(PAGES[path]) <= TEXT == 50_000


@pytest.mark.parametrize("name", ("coil-burns", "actuator-drifts", "fuse-blows"))
def test_tree_ends_within_seven_and_loses_no_case(name: str) -> None:
    case = scope(MODEL, name, None, AT_MACHINE)
    root = tree(case)
    ends = [node for node in nodes(root) if not node.check]
    assert sum(node.reach for node in ends) == pytest.approx(1, rel=1e-12)
    assert max(len(node.path) for node in ends) <= QUESTIONS == 7
    assert minutes(case, root) <= minutes(case, pruned(root, 0.5)) <= root.choice.now


def some(root: Node) -> Iterator[Node]:
    """The likeliest way and one node in twenty."""
    for place, node in enumerate(nodes(root)):
        if place % 20 == 0 or place < 5:
            yield node


@pytest.mark.parametrize("name", ("coil-hums", "wont-return", "oil-spray-or-mist"))
def test_tree_asks_what_the_walk_asks(name: str) -> None:
    """The page, the command line and the record of a job lead the same way."""
    case = scope(MODEL, name, None, AT_MACHINE)
    for node in some(tree(case)):
        steps = [{"check": check, "outcome": outcome} for check, outcome in node.path]
        walked = replay(MODEL, {"symptom": name, "steps": steps}, case)
        told = advise(walked)
        assert node.position == walked.position
        if node.check:
            assert told.question is not None and told.question.check == node.check
        elif not cut(case, node):
            assert told.question is None


def test_on_the_bench_nothing_of_the_machine_is_asked_but_put_on_its_card() -> None:
    for path, (symptom, situation) in TALKS.items():
        if situation != BENCH_ONLY:
            continue
        case = scope(MODEL, symptom.id, None, situation)
        for node in nodes(tree(case)):
            if node.check:
                walked = replay(MODEL, {"symptom": symptom.id, "situation": situation}, case)
                assert question(walked, node.check).place != "on-machine"
        if f'id="e-{MACHINE_CARD}' in PAGES[path]:
            assert "Back with the valve: measure on the machine" in PAGES[path]


# safety.md, 3: key words of the twenty sentences. A sentence that forbids ("never", "not", "no") may name them.
FORBIDDEN = (
    r"loosen\w* .*\b(see|find out|check) .*pressure",
    r"\b(feel|run a hand|hand|finger|rag|glove|card\w*) along\b",
    r"tighten\w* .*under pressure",
    r"gauge reads zero, so",
    r"(centre|cylinder|check valve|pump) (will|can) hold the load",
    r"push the override and see",
    r"(run|keep running) .*on the override",
    r"turn (up the relief|the relief .*up)",
    r"bridg\w+ (the|an|a)? ?(switch|emergency|guard|interlock)",
    r"larger fuse",
    r"coil .*(beside|off) (the valve|its tube|the tube).*(switch|energis|power)\w*",
    r"insulation tester across",
    r"\bharmless\b",
    r"only oil\b",
    r"blow\w* .*shop air",
    r"(petrol|thinner|brake cleaner)",
    r"\b(straighten|weld|braze|peen) (the|a|it|up)\b",
    r"top up the accumulator",
    r"one and a half times",
    r"\b(is|are|now) safe\b|\bsafe now\b|guaranteed|cannot fail|no risk",
)
FORBIDS = re.compile(r"\b(never|not|no|nothing|nobody|don't|without|cannot|instead)\b|n't\b", re.IGNORECASE)


def test_none_of_the_forbidden_sentences_is_printed() -> None:
    found = []
    for path, page in PAGES.items():
        if not path.endswith(".md"):
            continue
        for part in re.split(r"(?<=[.?!:;])\s|</[a-z0-9]+>", page):
            text = plain(part)
            for words in FORBIDDEN:
                if re.search(words, text, re.IGNORECASE) and not FORBIDS.search(text):
                    found.append((path, text))
    assert found == []


def test_the_search_for_forbidden_sentences_finds_them() -> None:
    """The net has no holes: the sentences themselves are caught."""
    sentences = (
        "Loosen the fitting a little to see if there is pressure.",
        "Feel along the hose for the leak.",
        "Tighten it while it is under pressure.",
        "The gauge reads zero, so you can open it.",
        "The valve in centre will hold the load.",
        "Push the override and see what moves.",
        "Run it on the override until the part comes.",
        "Turn the relief valve up until it shifts.",
        "Bridge the emergency stop to test it.",
        "Fit a larger fuse and try again.",
        "Hang the coil beside the valve and switch it on.",
        "Put the insulation tester across the plug.",
        "24 V is harmless.",
        "It is only oil, wipe it off and go on.",
        "Blow it out with shop air.",
        "Wash it with petrol, thinner or brake cleaner.",
        "Straighten the tube.",
        "Top up the accumulator with air.",
        "Test it at one and a half times, it will take it.",
        "The valve is safe now.",
    )
    for sentence in sentences:
        caught = any(re.search(words, sentence, re.IGNORECASE) for words in FORBIDDEN)
        assert caught and not FORBIDS.search(sentence), sentence


def test_a_complaint_that_came_without_its_machine_is_met_on_the_bench() -> None:
    symptom: Symptom = MODEL.symptoms["exchange-no-detail"]
    assert main_situation(symptom) == BENCH_ONLY
    assert "page:do/outside-look.md" in PAGES[page_of("symptom", symptom.id)].partition("</section>")[0]
