"""Every formula against figures printed by somebody else: tests/published/*.toml, source beside each value."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from valvecalc.door import calc, find
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_si, read

FOLDER = Path(__file__).parent / "published"


def cases() -> list[dict[str, Any]]:
    """All cases of all topics."""
    found: list[dict[str, Any]] = []
    for path in sorted(FOLDER.glob("*.toml")):
        found += tomllib.loads(path.read_text("utf-8")).get("case", [])
    return found


CASES = cases()


def tolerance(within: str, name: str, unit: str) -> float:
    """The tolerance in the unit of the expected value; one in K serves a temperature."""
    dimension = VOCABULARY[name].dimension
    if dimension == "temperature":
        return read(within, name, "temperature_difference").si
    return from_si(read(within, name, dimension).si, unit, dimension)


@pytest.mark.parametrize("case", CASES, ids=lambda case: str(case["id"]))
def test_published_value(case: dict[str, Any]) -> None:
    card = find(case["formula"])
    expected = read(case["expect"], card.result, VOCABULARY[card.result].dimension)
    answer = calc(card.id, **case["given"])
    got = from_si(answer.results[card.result], expected.unit, VOCABULARY[card.result].dimension)
    assert abs(got - expected.value) <= tolerance(case["within"], card.result, expected.unit), case["why"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: str(case["id"]))
def test_published_value_can_fail(case: dict[str, Any]) -> None:
    """The tolerance is finer than 2 % of the value, so an error worth finding is found."""
    name = find(case["formula"]).result
    expected = read(case["expect"], name, VOCABULARY[name].dimension)
    assert 0 < tolerance(case["within"], name, expected.unit) < 0.02 * abs(expected.value)


def test_ids_are_given_once() -> None:
    ids = [case["id"] for case in CASES]
    left = [row["id"] for row in tomllib.loads((FOLDER / "left_out.toml").read_text("utf-8"))["left"]]
    assert len(ids + left) == len(set(ids + left))


def test_a_library_case_says_which_library() -> None:
    for case in CASES:
        assert case["status"] in ("seen", "library")
        assert case["source"] and case["why"] and "locator" in case
        assert (case["status"] == "library") == (case["source"] == "chemicals-1-5-2")


def test_tolerances_read_in_the_unit_of_the_value() -> None:
    assert tolerance("0.5 gpm", "flow", "gpm") == pytest.approx(0.5)
    assert tolerance("0.05 K", "winding_temperature", "°C") == 0.05
