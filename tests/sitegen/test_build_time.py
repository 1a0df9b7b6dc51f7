"""What keeps a build short gives the same as what it replaces."""

from concurrent.futures import Future
from functools import cache

import pytest

from valvecalc.diagnosis.belief import BENCH_ONLY, scope
from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.diagnosis.policy import TIE, bits, choose
from valvecalc.diagnosis.tree import QUESTIONS, REACH, cut, nodes, pruned, tree
from valvecalc.door import load
from valvecalc.errors import DataError
from valvecalc.formula import REGISTER
from valvecalc.sitegen import calls, fault_pages
from valvecalc.source import body

load()
MODEL = knowledge()


def test_users_are_those_whose_body_calls_the_card() -> None:
    for card in list(REGISTER.values())[::9]:
        callers = [
            other
            for other in REGISTER.values()
            if any(card in calls.called_in(other, statement) for statement in body(other.function))
        ]
        direct = [other for other in callers if not other.part]
        assert [user for user in calls.users(card) if user in direct] == [user for user in direct if user is not card]


@pytest.mark.parametrize("situation", ["at-machine", BENCH_ONLY])
@pytest.mark.parametrize("name", list(MODEL.symptoms)[::6])
def test_a_check_that_is_not_telling_says_nothing_of_the_cause(name: str, situation: str) -> None:
    case = scope(MODEL, name, None, situation)
    silent = [check for check in case.rows if check not in case.telling]
    assert silent and case.telling == tuple(check for check in case.rows if check in case.telling)
    for check in silent:
        assert bits(case.prior, case.rows[check]) <= TIE and bits(case.prior, case.again[check]) <= TIE
    assert all(bits(case.prior, case.rows[check]) > TIE for check in case.telling[:5])


def test_a_branch_is_cut_where_a_check_would_have_paid() -> None:
    case = scope(MODEL, "coil-hums", None)
    whole = tree(case)
    ends = [node for node in nodes(whole) if not node.check]
    found = [cut(case, node) for node in ends]
    assert any(found) and not all(found)
    for node, told in zip(ends, found, strict=True):
        seldom = node.reach < REACH or len(node.path) >= QUESTIONS
        assert told == (choose(case, node.position, 1 if seldom else 2).option is not None)
    assert not cut(case, whole) and cut(case, pruned(whole, 1e9))


def test_where_the_rest_fails_the_other_cores_stop(monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[Future[str]] = []

    @cache
    def begin() -> dict[str, Future[str]]:
        begun.append(Future())
        return {"fault/one.md": begun[-1]}

    monkeypatch.setattr(fault_pages, "_begun", begin)
    with pytest.raises(DataError), fault_pages.other_cores():
        raise DataError("a sheet is wrong")
    assert begun[0].cancelled()
    with fault_pages.other_cores():
        assert len(begun) == 2 and not begun[1].cancelled(), "the next build begins anew"
    with fault_pages.other_cores():
        assert len(begun) == 2, "once in a run"
