"""The override check: figures worked by hand, and the verdict on each side of its limit."""

import math

import pytest

from valvecalc.door import calc
from valvecalc.judge import verdicts

PUSH = {"spring_preload": "20 N", "override_diameter": "5 mm", "dry_friction": "2 N"}


def test_a_push_that_the_tank_line_explains_by_hand() -> None:
    """20 N spring, 2 N friction and 20 bar on 19.63 mm², 39.27 N: 61.27 N expected; 65 N read are 6 % over it."""
    answer = calc("override-check", **PUSH, tank_pressure="20 bar", measured_push="65 N")
    found = answer.results
    assert found["pin_force"] == pytest.approx(39.27, abs=0.005)
    assert found["override_force"] == pytest.approx(61.27, abs=0.005)
    assert found["unexplained_force"] == pytest.approx(65 - 22 - 20e5 * math.pi / 4 * 0.005**2, rel=1e-9)
    assert found["push_excess"] == pytest.approx(0.0609, abs=1e-4)
    assert found["override_verdict"] == "back pressure"
    assert verdicts(answer)["push_excess"] == "accept"


def test_the_same_push_without_tank_pressure_is_the_spool() -> None:
    answer = calc("override-check", **PUSH, tank_pressure="0 bar", measured_push="65 N")
    assert answer.results["override_verdict"] == "the spool itself holds"
    assert verdicts(answer)["push_excess"] == "reject"


@pytest.mark.parametrize(
    ("push", "told"), [("22 N", "as it should be"), ("28.5 N", "as it should be"), ("29 N", "the spool itself holds")]
)
def test_the_limit_lies_at_thirty_percent(push: str, told: str) -> None:
    """22 N expected; 28.6 N are 30 % over."""
    assert calc("override-check", **PUSH, tank_pressure="0 bar", measured_push=push).results["override_verdict"] == told
