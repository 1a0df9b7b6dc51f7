"""The ring sizes against their own arithmetic, against a second list, and against a list that is wrong."""

from itertools import pairwise

import pytest

from valvecalc.facts import fact_value, load_table

SIZES = {row["ring_size"]: row for row in load_table("oring_sizes.csv")}
MM = 1e-3


def series(first: int, last: int) -> list[str]:
    return [f"{number:03d}" for number in range(first, last + 1)]


def test_the_list_is_whole_and_no_code_stands_twice() -> None:
    codes = series(1, 50) + series(102, 178) + series(201, 284) + series(309, 395) + series(425, 475)
    rows = load_table("oring_sizes.csv")
    assert [row["ring_size"] for row in rows] == codes
    assert len(rows) == 349
    assert fact_value("oring-sizes") == rows


@pytest.mark.parametrize("row", SIZES.values(), ids=lambda row: str(row["ring_size"]))
def test_inside_and_two_sections_are_the_outside(row: dict[str, float]) -> None:
    assert row["ring_inside"] + 2 * row["ring_section"] == pytest.approx(row["ring_outside"], abs=1e-9)


def test_every_inside_and_section_is_a_whole_thousandth_of_an_inch() -> None:
    for row in SIZES.values():
        for name in ("ring_inside", "ring_section"):
            thousandths = row[name] / 25.4e-6
            assert abs(thousandths - round(thousandths)) * 25.4e-6 <= 0.0051 * MM, (row["ring_size"], name)


def test_inside_rises_and_tolerance_never_falls_within_a_section() -> None:
    for section, tolerance in ((1.78, 0.08), (2.62, 0.08), (3.53, 0.10), (5.33, 0.13), (6.99, 0.15)):
        rows = [row for row in SIZES.values() if row["ring_section"] == pytest.approx(section * MM)]
        assert len(rows) > 40
        for one, other in pairwise(rows):
            assert one["ring_inside"] < other["ring_inside"]
            assert one["inside_tolerance"] <= other["inside_tolerance"]
        assert {round(row["section_tolerance"] / MM, 3) for row in rows} == {tolerance}


@pytest.mark.parametrize(
    ("code", "inside", "section"),
    [
        ("012", 9.25, 1.78),  # these five from a public code table of AS568 sizes
        ("110", 9.19, 2.62),
        ("116", 18.72, 2.62),
        ("210", 18.64, 3.53),
        ("212", 21.82, 3.53),
        ("214", 24.99, 3.53),  # these three from a summary of the standard
        ("325", 37.47, 5.33),
        ("440", 170.82, 6.99),
    ],
)
def test_sizes_that_another_list_prints(code: str, inside: float, section: float) -> None:
    assert SIZES[code]["ring_inside"] == pytest.approx(inside * MM, abs=0.006 * MM)
    assert SIZES[code]["ring_section"] == pytest.approx(section * MM, abs=0.006 * MM)


@pytest.mark.parametrize(
    ("code", "wrong", "right"),
    [
        ("104", 0.139, 0.112),
        ("312", 0.612, 0.600),
        ("318", 0.987, 0.975),
        ("325", 1.487, 1.475),
        ("335", 2.987, 2.725),
        ("345", 4.487, 3.975),
        ("440", 6.975, 6.725),
    ],
)
def test_the_wrong_list_is_not_ours(code: str, wrong: float, right: float) -> None:
    """A public list with these figures breaks the steps of the series."""
    inches = SIZES[code]["ring_inside"] / 25.4e-3
    assert inches == pytest.approx(right, abs=0.0006)
    assert abs(inches - wrong) > 0.01


def test_there_is_no_size_200() -> None:
    assert "200" not in SIZES
