"""Every formula against figures printed by somebody else: tests/published/*.toml, source beside each value."""

from pathlib import Path

import pytest

from valvecalc.checked import Case, cases, check, left_out, tolerance

FOLDER = Path(__file__).parent / "published"
CASES = cases(FOLDER)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.id)
def test_published_value(case: Case) -> None:
    checked = check(case)
    assert abs(checked.ours - checked.expected) <= checked.tolerance, case.why
    assert checked.holds


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.id)
def test_published_value_can_fail(case: Case) -> None:
    """The tolerance is finer than 2 % of the value, so an error worth finding is found."""
    checked = check(case)
    assert 0 < checked.tolerance < 0.02 * abs(checked.expected)


def test_a_wrong_figure_is_told() -> None:
    case = next(case for case in CASES if case.id == "d341-32-54")
    assert not check(case._replace(expect="8.6 mm²/s")).holds


def test_ids_are_given_once() -> None:
    ids = [case.id for case in CASES] + [row.id for row in left_out(FOLDER)]
    assert len(ids) == len(set(ids))


def test_a_library_case_says_which_library() -> None:
    for case in CASES:
        assert case.status in ("seen", "library")
        assert case.source and case.why
        assert (case.status == "library") == (case.source == "chemicals-1-5-2")


def test_tolerances_read_in_the_unit_of_the_value() -> None:
    assert tolerance("0.5 gpm", "flow", "gpm") == pytest.approx(0.5)
    assert tolerance("0.05 K", "winding_temperature", "°C") == 0.05
