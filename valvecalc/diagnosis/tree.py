"""The whole conversation of one complaint, computed beforehand: what a page without script and a printed tree show.

Branches that are not worth a page end early, in repairs by their order. Pure: the same knowledge gives the same tree.
"""

from collections.abc import Iterator
from typing import NamedTuple

from valvecalc.diagnosis.belief import Scope
from valvecalc.diagnosis.policy import Choice, Position, choose, rows_of, way_minutes
from valvecalc.diagnosis.repair import expected_minutes, opening_minutes, prices
from valvecalc.diagnosis.walk import answered, start

REACH = 0.004  # branches that fewer cases reach end in the order of repair
SAVES = 0.08  # as do those where asking on saves fewer minutes than this, spread over all cases of the complaint
QUESTIONS = 7  # the deepest way to an end


class Node(NamedTuple):
    """One point of the conversation.

    path      answers so far: (check, outcome)
    reach     share of the cases that come here
    check     the question, or "" where the conversation ends in choice.order
    branches  by outcome, the likeliest first
    """

    path: tuple[tuple[str, str], ...]
    reach: float
    position: Position
    choice: Choice
    check: str
    branches: tuple[tuple[str, "Node"], ...]


def tree(case: Scope, reach: float = REACH, saves: float = SAVES, questions: int = QUESTIONS) -> Node:
    """The conversation of one complaint; `reach`, `saves` and `questions` say where branches are cut.

    Cutting by what a question saves gives smaller trees than cutting by reach alone. Over all complaints, against the
    uncut policy: 942 questions and 1.8 % dearer with reach 0.006 and 0.12 min, 1 001 and 2.3 % with reach 0.01.
    """
    return _node(case, start(case), (), 1.0, (reach, saves, questions))


def _node(
    case: Scope, position: Position, path: tuple[tuple[str, str], ...], share: float, cuts: tuple[float, float, int]
) -> Node:
    reach, saves, questions = cuts
    seldom = share < reach or len(path) >= questions
    choice = choose(case, position, steps=0 if seldom else 2)
    option = choice.option
    if option is None or share * (choice.now - option.expected) < saves:
        return Node(path, share, position, choice, "", ())
    check = option.way[0]
    branches = []
    for outcome, row in zip(case.model.checks[check].outcomes, rows_of(case, position, check), strict=True):
        chance = sum(probability * likely for probability, likely in zip(position.belief, row, strict=True))
        below = answered(case, position, check, outcome)
        branches.append((outcome, _node(case, below, (*path, (check, outcome)), share * chance, cuts)))
    branches.sort(key=lambda branch: -branch[1].reach)
    return Node(path, share, position, choice, check, tuple(branches))


def pruned(node: Node, saves: float) -> Node:
    """The tree cut harder: without the questions that save fewer minutes than `saves`, spread over all cases."""
    if not node.check:
        return node
    option = node.choice.option
    if option is None or node.reach * (node.choice.now - option.expected) < saves:
        return node._replace(check="", branches=())
    return node._replace(branches=tuple((outcome, pruned(below, saves)) for outcome, below in node.branches))


def cut(case: Scope, node: Node) -> bool:
    """Whether the conversation ends here only because the branch is seldom or long: a further check would pay."""
    return not node.check and (node.choice.option or choose(case, node.position, 1).option) is not None


def nodes(root: Node) -> Iterator[Node]:
    """Every node, parents first, the likeliest branch first."""
    yield root
    for _, below in root.branches:
        yield from nodes(below)


def minutes(case: Scope, root: Node) -> float:
    """Expected minutes of a case that is led by the tree, then repaired in the order of its end until cured."""
    total = 0.0
    for node in nodes(root):
        if node.check:
            total += node.reach * way_minutes(case, (node.check,), node.position.stage)[0]
        else:
            price = prices(node.position.todo, len(case.causes))
            opening = opening_minutes(case, node.position.stage)
            total += node.reach * expected_minutes(node.position.belief, price, opening)
    return total
