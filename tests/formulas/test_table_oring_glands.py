"""Grooves, gaps and rubbers against their own arithmetic."""

from itertools import pairwise

import pytest

from valvecalc.door import calc
from valvecalc.facts import load_table
from valvecalc.formulas import seals

GLANDS = load_table("oring_glands_inch.csv")
METRIC = load_table("oring_glands_metric.csv")
GAPS = load_table("oring_extrusion_gap.csv")
RUBBERS = load_table("seal_compounds.csv")
INCH = 25.4e-3
#: Section of the size code in mm: as the gland table prints it, and its tolerance in AS568, both in inches.
SECTIONS = {
    1.78: (0.070, 0.003),
    2.62: (0.103, 0.003),
    3.53: (0.139, 0.004),
    5.33: (0.210, 0.005),
    6.99: (0.275, 0.006),
}


@pytest.mark.parametrize("row", GLANDS, ids=lambda row: f"{row['seal_use']}-{row['ring_section'] * 1e3:.2f}")
def test_the_printed_squeeze_follows_from_depth_and_tolerance(row: dict[str, float]) -> None:
    """Least: thin ring, deep groove; most: thick ring, shallow groove. 15 grooves, 30 figures; within 0.6 points,
    since some are printed to whole and some to half per cent."""
    section, tolerance = SECTIONS[round(row["ring_section"] * 1e3, 2)]
    low = seals.ring_squeeze(ring_section=(section - tolerance) * INCH, groove_depth=row["depth_high"])
    high = seals.ring_squeeze(ring_section=(section + tolerance) * INCH, groove_depth=row["depth_low"])
    assert row["squeeze_low"] == pytest.approx(low, abs=0.006)
    assert row["squeeze_high"] == pytest.approx(high, abs=0.006)


def test_three_uses_of_five_sections_each() -> None:
    assert len(GLANDS) == 15
    for use in ("radial_static", "dynamic", "face"):
        rows = [row for row in GLANDS if row["seal_use"] == use]
        assert [round(row["ring_section"] * 1e3, 2) for row in rows] == list(SECTIONS)
        for one, other in pairwise(rows):
            assert one["depth_low"] < one["depth_high"] < other["depth_low"]
            assert one["groove_width"] < other["groove_width"]


def test_a_moving_seal_is_squeezed_less_than_a_static_one() -> None:
    by_use = {
        use: {r["ring_section"]: r for r in GLANDS if r["seal_use"] == use} for use in ("radial_static", "dynamic")
    }
    for section, moving in by_use["dynamic"].items():
        still = by_use["radial_static"][section]
        assert moving["squeeze_high"] < still["squeeze_high"] and moving["squeeze_low"] < still["squeeze_low"]


def test_every_inch_groove_leaves_room_for_the_ring() -> None:
    for row in GLANDS:
        full = seals.gland_fill(
            ring_section=row["ring_section"], groove_depth=row["depth_low"], groove_width=row["groove_width"]
        )
        assert 0.55 < full < 0.85, row


def test_metric_grooves_rise_and_fill_as_stated() -> None:
    assert len(METRIC) == 17
    for one, other in pairwise(METRIC):
        assert one["ring_section"] < other["ring_section"] and one["depth_static"] < other["depth_static"]
    for row in METRIC:
        fill = seals.gland_fill(
            ring_section=row["ring_section"], groove_depth=row["depth_face"], groove_width=row["width_face"]
        )
        assert 0.675 <= fill <= 0.835, row
        assert row["depth_dynamic"] is None or row["depth_dynamic"] > row["depth_static"]
    assert [row["depth_dynamic"] for row in METRIC[:2]] == [None, None]  # not printed: unknown, not zero


@pytest.mark.parametrize(
    ("section", "moving", "static"), [(1.78, 19, 27), (2.62, 14, 24), (3.53, 12, 24), (5.33, 12, 19), (6.99, 13, 17)]
)
def test_metric_squeeze(section: float, moving: int, static: int) -> None:
    row = next(row for row in METRIC if row["ring_section"] == pytest.approx(section * 1e-3))
    for depth, percent in ((row["depth_dynamic"], moving), (row["depth_static"], static)):
        found = seals.ring_squeeze(ring_section=row["ring_section"], groove_depth=depth)
        assert found == pytest.approx(percent / 100, abs=0.0051)


def test_the_series_of_a_section_is_that_of_the_sizes() -> None:
    inch = {round(row["ring_section"] * 1e3, 2) for row in load_table("oring_sizes.csv")}
    for row in METRIC:
        assert (row["section_series"] == "inch") == (round(row["ring_section"] * 1e3, 2) in inch)


def test_gaps_fall_with_pressure_and_rise_with_hardness() -> None:
    soft, hard = ([row for row in GAPS if row["ring_hardness"].startswith(shore)] for shore in ("70", "90"))
    assert len(soft) == len(hard) == 5
    for rows in (soft, hard):
        for one, other in pairwise(rows):
            assert one["largest_ring_pressure"] == other["least_ring_pressure"]
            assert one["allowed_gap"] > other["allowed_gap"]
    assert all(h["allowed_gap"] > s["allowed_gap"] for s, h in zip(soft, hard, strict=True))


@pytest.mark.parametrize(
    ("bar", "soft", "hard"),
    [(30, 0.40, 0.70), (60, 0.25, 0.60), (100, 0.15, 0.50), (130, 0.10, 0.40), (200, 0.05, 0.25)],
)
def test_gaps_in_mm(bar: int, soft: float, hard: float) -> None:
    """The round figures in mm of a handbook, 35/70/100/140/210 bar, against the inches that they stand for."""
    for hardness, gap in (("70 Shore A", soft), ("90 Shore A", hard)):
        found = calc("extrusion-check", ring_pressure=f"{bar} bar", diametral_gap="0.1 mm", ring_hardness=hardness)
        assert found.results["allowed_gap"] == pytest.approx(gap * 1e-3, abs=0.012e-3)


def test_rubbers_are_ordered_and_named_as_in_the_table_of_fluids() -> None:
    fluids = load_table("seal_fluids.csv")
    assert [row["compound"] for row in RUBBERS] == list(fluids[0])[2:]
    for row in RUBBERS:
        assert row["compound_cold"] < 273.15 < row["compound_hot"]
        assert row["first_years"] + row["further_years"] == {"B": 10, "C": 15}[row["storage_group"]]
    assert max(RUBBERS, key=lambda row: row["compound_hot"])["compound"] == "FKM"
    assert min(RUBBERS, key=lambda row: row["compound_cold"])["compound"] == "EPDM"


def test_what_destroys_a_rubber_is_a_no() -> None:
    fluids = {row["fluid"]: row for row in load_table("seal_fluids.csv")}
    for mineral in ("HL", "HLP", "HVLP"):
        assert fluids[mineral]["EPDM"] == "no" and fluids[mineral]["NBR"] == "yes"
    assert fluids["HFDR"]["NBR"] == fluids["HFDR"]["HNBR"] == "no"
