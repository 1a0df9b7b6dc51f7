"""Readings at less than the machine's pressure are called extrapolated, with what a straight line makes of them."""

from collections.abc import Callable
from typing import Any

DUTY = {"supply_pressure": "250 bar", "tank_pressure": "1 bar"}


def told(work: Callable[..., Any], **job: Any) -> list[str]:
    return [text for text in work({"id": "1", **job})[1]["assumed"] if text.startswith("Extrapolated")]


def test_leakage_at_a_third_of_the_pressure(work: Callable[..., Any]) -> None:
    """83 bar to 249 bar is three times (laminar): 20 mL/min is 60 mL/min there."""
    row = {"path": "P to T", "leakage": "20 mL/min", "pressure_drop": "83 bar"}
    (text,) = told(work, duty=DUTY, leakage=[row])
    assert "read at 83 bar" in text and "249 bar" in text and "60.0 mL/min there (3 times)" in text


def test_a_run_below_the_duty_in_other_units(work: Callable[..., Any]) -> None:
    (text,) = told(work, duty=DUTY, as_received={"reproduced": "no", "pressure": "1200 psi"}, outside={"crack": False})
    assert "the run was at 1200 psi, the machine has 250 bar" in text


def test_near_the_duty_and_without_a_duty_nothing_is_said(work: Callable[..., Any]) -> None:
    row = {"path": "P to T", "leakage": "20 mL/min", "pressure_drop": "230 bar"}
    assert told(work, duty=DUTY, leakage=[row]) == []
    assert told(work, leakage=[row | {"pressure_drop": "30 bar"}]) == []
