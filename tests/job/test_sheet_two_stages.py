"""The bench sheet of a two-stage valve: pilot and main stage apart."""

from collections.abc import Callable
from typing import Any

import pytest

from tests.job.test_sheet import FULL, lines, steps
from valvecalc.job.bench import bench_sheet
from valvecalc.job.read import Job

Table = dict[str, Any]
Read = Callable[..., Job]


def test_a_main_stage_is_held_against_its_spring_and_its_pilot(read: Read) -> None:
    """90 N and 8 mm of 9 N/mm on a round end of 26 mm (530.93 mm²): 3.051 bar moves it to its end, without friction.

    From 1 / 1.1 of it (10 % less) to 1 / 0.75 of it (25 % of the force is friction): 2.774 to 4.068 bar. With 10 N
    of friction and nothing at the drain 172 N, a quarter in hand: 4.319 bar of pilot pressure.
    """
    sheet = bench_sheet(read(FULL))
    (step,) = [one for one in steps(sheet) if one["id"] == "main-stage"]
    assert step["cautions"][-1].startswith("Hands out and guard shut before any pressure")
    (free,), (pilot,) = lines(sheet, "main_stage.full_stroke_difference"), lines(sheet, "main_stage.pilot_pressure")
    assert free["expected"] == "3.05 bar" and "main-drag 25 %" in free["whose"]
    assert [limit["value"] for limit in free["limits"]] == pytest.approx([2.774e5, 4.068e5], rel=2e-4)
    assert pilot["limits"][0]["word"] == "at least" and pilot["limits"][0]["text"].startswith("4.319 bar")
    assert "assumed on a blank sheet" in " ".join(pilot["with"])  # the drain


@pytest.mark.parametrize(
    ("function", "there", "said"),
    [
        ({}, True, False),
        ({"rest": "shut"}, False, True),
        ({"stage": "direct"}, False, False),
        ({"stage": "two-stage"}, True, False),
    ],
)
def test_the_step_for_two_stages_stands_where_there_may_be_two(
    function: Table, there: bool, said: bool, read: Read
) -> None:
    sheet = bench_sheet(read(FULL | ({"function": function} if function else {})))
    assert any(step["id"] == "main-stage" for step in steps(sheet)) is there
    assert any("one stage or two" in text for text in sheet["assumed"]) is said
