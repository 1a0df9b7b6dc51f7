"""Rings told by readings with the errors that soft rubber has; grooves; gap, set, rubber and age. Figures by hand."""

import pytest

from valvecalc.door import calc
from valvecalc.facts import load_table
from valvecalc.judge import verdicts

SIZES = {row["ring_size"]: row for row in load_table("oring_sizes.csv")}
MM = 1e-3


def by_size(rows: object) -> dict[str, dict[str, float]]:
    assert isinstance(rows, list)
    return {row["ring_size"]: row for row in rows}


# ---------------------------------------------------------------- which ring


@pytest.mark.parametrize(
    ("code", "section_error", "inside_error"),
    [
        ("010", -0.05, 0.10),
        ("012", -0.04, 0.10),
        ("014", 0.05, -0.10),
        ("111", 0.06, 0.12),
        ("116", -0.05, -0.10),
        ("210", -0.10, 0.15),
        ("214", 0.10, -0.10),
        ("325", -0.10, 0.20),
    ],
)
def test_rings_are_told_from_readings_with_typical_errors(code: str, section_error: float, inside_error: float) -> None:
    ring = SIZES[code]
    section, inside = ring["ring_section"] / MM + section_error, ring["ring_inside"] / MM + inside_error
    answer = calc("which-ring", ring_height=f"{section:.2f} mm", inside_diameter=f"{inside:.2f} mm")
    found = answer.results
    assert (found["settled_ring"], found["ring_verdict"]) == (code, "settled")
    assert verdicts(answer) == {"ring_misfit": "accept"}
    assert found["section_off"] == pytest.approx(section_error * MM, abs=6e-6)
    assert found["diameter_off"] == pytest.approx(inside_error * MM, abs=6e-6)
    rows = by_size(found["ring_rows"])
    below, above = f"{int(code) - 1:03d}", f"{int(code) + 1:03d}"
    assert rows[code]["fit_word"] == "fits"
    assert rows[below]["fit_word"] == "the ring is wider" and rows[above]["fit_word"] == "the ring is narrower"
    assert rows[below]["diameter_off"] == pytest.approx(inside * MM - SIZES[below]["ring_inside"])


@pytest.mark.parametrize(("one", "other"), [("012", "013"), ("116", "117")])
def test_a_reading_between_two_sizes_is_told_so(one: str, other: str) -> None:
    """Old and stretched, half way to the next size: no size is within its tolerance and 0.1 mm."""
    inside = (SIZES[one]["ring_inside"] + SIZES[other]["ring_inside"]) / 2 / MM
    section = SIZES[one]["ring_section"] / MM
    answer = calc("which-ring", ring_height=f"{section:.2f} mm", inside_diameter=f"{inside:.3f} mm")
    found = answer.results
    assert found["settled_ring"] == found["ring_verdict"] == "between two sizes"
    assert {found["nearest_ring"], found["second_ring"]} == {one, other}
    assert verdicts(answer) == {"ring_misfit": "reject"}


def test_two_sizes_that_both_fit_a_poor_reading_are_not_settled() -> None:
    """With 1 mm of doubt 10.0 mm is within 0.13 + 1 of both 9.25 and 10.82."""
    found = calc("which-ring", ring_height="1.78 mm", inside_diameter="10.0 mm", reading_error="1 mm").results
    assert found["ring_verdict"] == "between two sizes"


def test_the_outside_diameter_serves_instead() -> None:
    """9.25 + 2·1.78 = 12.81; tolerance 0.13 + 2·0.08 = 0.29; 12.9 is 0.09 off of 0.39 allowed."""
    found = calc("which-ring", ring_height="1.8 mm", outside_diameter="12.9 mm").results
    assert found["settled_ring"] == "012"
    assert found["diameter_off"] == pytest.approx(0.09 * MM)
    assert found["ring_misfit"] == pytest.approx(0.09 / 0.39)
    both = calc("which-ring", inside_diameter="9.3 mm", outside_diameter="12.9 mm").results  # section 1.8 from the two
    assert both["settled_ring"] == "012" and both["section_off"] == pytest.approx(0.02 * MM)


def test_a_flattened_ring_is_turned_round_again() -> None:
    """1.45 by 2.19 mm has the area of 1.782; the small reading alone would name no standard section."""
    given = {"ring_height": "1.45 mm", "inside_diameter": "9.35 mm", "ring_state": "flattened"}
    whole = calc("which-ring", **given, ring_breadth="2.19 mm").results
    assert whole["settled_ring"] == "012"
    assert "heat or age" in whole["ring_note"]
    assert calc("which-ring", **given).results["settled_ring"] != "012"


@pytest.mark.parametrize("section", ["2.4 mm", "3.0 mm", "2.5 mm", "5.7 mm"])
def test_a_metric_section_is_not_taken_for_an_inch_one(section: str) -> None:
    found = calc("which-ring", ring_height=section, inside_diameter="21.9 mm").results
    assert found["settled_ring"] == "perhaps a metric ring"
    assert found["metric_section"] == pytest.approx(float(section.split()[0]) * MM)


def test_what_lies_beyond_the_list_is_none_of_them() -> None:
    found = calc("which-ring", ring_height="6.99 mm", inside_diameter="760 mm").results
    assert found["ring_verdict"] == "none of them"
    assert calc("which-ring", ring_height="9.5 mm", inside_diameter="50 mm").results["settled_ring"] != "settled"


def test_a_swollen_ring_says_that_the_groove_decides() -> None:
    found = calc("which-ring", ring_height="1.9 mm", inside_diameter="9.9 mm", ring_state="swollen or sticky").results
    assert "groove" in found["ring_note"] and found["ring_verdict"] != "settled"


@pytest.mark.parametrize("given", [{}, {"ring_height": "1.78 mm"}, {"inside_diameter": "9.25 mm"}])
def test_one_reading_names_no_ring(given: dict[str, str]) -> None:
    assert "settled_ring" not in calc("which-ring", **given).results


# ---------------------------------------------------------------- which ring into this groove

FACE, PLUG, PISTON = "face, pressure inside", "static, groove on the plug", "moving, groove on the piston"


@pytest.mark.parametrize(
    ("kind", "depth", "width", "diameter", "code"),
    [
        (FACE, "1.33 mm", "2.5 mm", "12.7 mm", "012"),
        (FACE, "1.30 mm", "2.6 mm", "15.8 mm", "014"),
        (FACE, "1.98 mm", "3.7 mm", "23.7 mm", "116"),
        ("face, pressure outside", "1.98 mm", "3.8 mm", "19.1 mm", "116"),
        (PLUG, "1.35 mm", "2.4 mm", "9.5 mm", "012"),
        (PLUG, "2.85 mm", "4.8 mm", "19.0 mm", "210"),
        (PISTON, "3.05 mm", "4.8 mm", "25.5 mm", "214"),
        (PISTON, "2.26 mm", "3.7 mm", "18.95 mm", "116"),
    ],
)
def test_grooves_name_their_ring(kind: str, depth: str, width: str, diameter: str, code: str) -> None:
    """Grooves by the gland table, each reading off by up to 0.1 mm."""
    answer = calc("groove-ring", groove_kind=kind, groove_depth=depth, groove_width=width, groove_diameter=diameter)
    assert (answer.results["settled_ring"], answer.results["ring_verdict"]) == (code, "settled")
    assert verdicts(answer) == {"ring_misfit": "accept"}
    rows = by_size(answer.results["groove_rows"])
    assert [name for name, row in rows.items() if row["fit_word"] == "fits"] == [code]
    assert len(rows) > 2


def test_squeeze_seat_and_fill_of_a_counterbore_by_hand() -> None:
    """012: 1 - 1.35/1.78 = 24.2 %; 12.81/12.7 - 1 = 0.87 %; width (12.7 - 7.6)/2 = 2.55; fill 72.3 %."""
    given = {"groove_depth": "1.35 mm", "groove_diameter": "12.7 mm", "port_diameter": "7.6 mm"}
    found = calc("groove-ring", **given).results
    assert found["squeeze"] == pytest.approx(1 - 1.35 / 1.78)
    assert found["seat_tightness"] == pytest.approx(12.81 / 12.7 - 1)
    assert found["gland_fill"] == pytest.approx(0.7854 * 1.78**2 / (1.35 * 2.55), rel=1e-4)
    rows = by_size(found["groove_rows"])
    assert rows["011"]["fit_word"] == "ring too small" and rows["013"]["fit_word"] == "ring too large"
    assert rows["109"]["fit_word"] == "squeezed too much"


def test_a_wide_floor_bears_two_sizes() -> None:
    """On 64.5 mm the rings of 61.60 and 63.22 mm stretch 4.7 % and 2.0 %: both fit, so it is not settled."""
    answer = calc(
        "groove-ring", groove_kind=PLUG, groove_depth="2.1 mm", groove_width="3.7 mm", groove_diameter="64.5 mm"
    )
    found = answer.results
    assert found["settled_ring"] == found["ring_verdict"] == "between two sizes"
    assert found["second_ring_misfit"] <= 1.0


def test_a_groove_for_another_section_fits_none() -> None:
    """2.3 mm deep for a face: too deep for 2.62 (12 %), too shallow for 3.53 (35 %); 3.0 mm would have 23 %."""
    given = {"groove_depth": "2.3 mm", "groove_width": "4.0 mm", "groove_diameter": "24 mm"}
    answer = calc("groove-ring", **given)
    assert answer.results["settled_ring"] == "none of them"
    assert verdicts(answer) == {"ring_misfit": "reject"}


def test_a_groove_too_narrow_is_too_full() -> None:
    given = {"groove_depth": "1.35 mm", "groove_diameter": "12.7 mm"}
    rows = by_size(calc("groove-ring", **given, groove_width="1.9 mm").results["groove_rows"])
    assert rows["012"]["fit_word"] == "groove too full"
    assert calc("groove-ring", **given).results["settled_ring"] == "012"  # without a width the fill is not judged
    assert "gland_fill" not in calc("groove-ring", **given).results


# ---------------------------------------------------------------- a ring in its groove


def test_worst_cases_by_hand() -> None:
    """Least 1 - 1.38/1.70, most 1 - 1.32/1.86; heat 40 K · 1.6e-4 = 0.64 %, swell 1.1^(1/3) = 3.23 %."""
    given = {"groove_kind": FACE, "ring_section": "1.78 mm", "groove_depth": "1.35 mm", "groove_width": "2.5 mm"}
    found = calc("ring-check", **given, seal_warming="40 K", volume_swell="10 %").results
    assert found["least_squeeze"] == pytest.approx(1 - 1.38 / 1.70)
    assert found["most_squeeze"] == pytest.approx(1 - 1.32 / 1.86)
    hot = 1.78 * 1.1 ** (1 / 3) * 1.0064
    assert found["hot_section"] == pytest.approx(hot * MM)
    assert found["hot_squeeze"] == pytest.approx(1 - 1.35 / hot)
    assert found["service_fill"] == pytest.approx(0.785398 * (hot + 0.08) ** 2 / (1.32 * 2.5), rel=1e-5)
    assert (found["squeeze_low"], found["squeeze_high"]) == (0.19, 0.33)
    assert found["squeeze_reserve"] == pytest.approx(1 - 1.35 / 1.78 - 0.19)


def test_a_stretched_ring_is_squeezed_less() -> None:
    given = {"groove_kind": PLUG, "ring_section": "1.78 mm", "groove_depth": "1.45 mm", "ring_inside": "14 mm"}
    found = calc("ring-check", **given, groove_diameter="14.4 mm").results
    assert found["squeeze"] == pytest.approx(0.174, abs=5e-4)
    assert found["seat_tightness"] == pytest.approx(0.4 / 14)
    assert calc("ring-check", **given).results["squeeze"] == pytest.approx(1 - 1.45 / 1.78)  # diameter not read


@pytest.mark.parametrize(
    ("kind", "depth", "expected"),
    [
        (FACE, "1.35 mm", "accept"),
        (PISTON, "1.35 mm", "accept"),
        (FACE, "1.5 mm", "reject"),
        (PISTON, "1.6 mm", "reject"),
    ],
)
def test_squeeze_is_judged_by_the_kind_of_seal(kind: str, depth: str, expected: str) -> None:
    """24.2 % suits a face (19 to 33) and just a moving seal (15 to 25); 15.7 % is too little for a face."""
    answer = calc("ring-check", groove_kind=kind, ring_section="1.78 mm", groove_depth=depth)
    assert verdicts(answer)["squeeze_reserve"] == expected


# ---------------------------------------------------------------- gap, set, rubber, age


def test_a_back_up_ring_above_the_gap_of_the_table() -> None:
    given = {"ring_pressure": "120 bar", "diametral_gap": "0.14 mm"}
    soft = calc("extrusion-check", **given).results
    assert soft["allowed_gap"] == pytest.approx(0.1016 * MM)
    assert soft["backup_word"] == "back-up ring on the side away from the pressure"
    assert calc("extrusion-check", **given, ring_hardness="90 Shore A").results["backup_word"].startswith("no back-up")
    assert "both sides" in calc("extrusion-check", **given, pressure_side="both sides").results["backup_word"]
    half = calc("extrusion-check", **given, rubber_kind="silicone").results
    assert half["allowed_gap"] == pytest.approx(0.0508 * MM)


def test_above_the_table_there_is_no_gap_without_a_back_up_ring() -> None:
    found = calc("extrusion-check", ring_pressure="250 bar", diametral_gap="0 mm", ring_hardness="90 Shore A").results
    assert found["allowed_gap"] == 0.0 and "side away" in found["backup_word"]


def test_a_gap_at_a_face_says_that_the_joint_opens() -> None:
    face = {"ring_pressure": "200 bar", "joint_kind": "face, metal on metal"}
    assert "joint opens" in calc("extrusion-check", **face, diametral_gap="0.04 mm").results["backup_word"]
    assert calc("extrusion-check", **face, diametral_gap="0 mm").results["backup_word"] == "no back-up ring needed"


@pytest.mark.parametrize(
    ("height", "lost", "verdict"), [("1.70 mm", 0.08 / 0.43, "accept"), ("1.5 mm", 0.28 / 0.43, "reject")]
)
def test_set_of_an_old_ring(height: str, lost: float, verdict: str) -> None:
    answer = calc("ring-set", ring_section="1.78 mm", ring_height=height, groove_depth="1.35 mm")
    assert answer.results["compression_set"] == pytest.approx(lost)
    assert verdicts(answer) == {"compression_set": verdict}


def test_a_ring_lower_than_its_groove_and_one_that_grew() -> None:
    given = {"ring_section": "1.78 mm", "groove_depth": "1.35 mm"}
    assert "no longer presses" in calc("ring-set", **given, ring_height="1.34 mm").results["ring_note"]
    assert "swollen" in calc("ring-set", **given, ring_height="1.9 mm").results["ring_note"]


@pytest.mark.parametrize(
    ("fluid", "rubber", "hot", "word"),
    [
        ("HLP", "NBR", "75 °C", "yes"),
        ("HLP", "EPDM", "40 °C", "no"),  # the mix-ups that destroy a seal
        ("HFDR", "NBR", "40 °C", "no"),
        ("HFDR", "EPDM", "40 °C", "yes"),
        ("HLP", "NBR", "120 °C", "no"),
        ("HLP", "FKM", "120 °C", "yes"),
        ("HEES", "NBR", "40 °C", "ask"),
        ("HFC", "EPDM", "40 °C", "yes"),
    ],
)
def test_rubber_for_fluid_and_heat(fluid: str, rubber: str, hot: str, word: str) -> None:
    found = calc("seal-compound", fluid=fluid, compound=rubber, highest_temperature=hot).results
    assert found["compound_word"] == word
    assert len(found["compound_rows"]) == 4 and found["mixing_note"]


def test_a_rubber_that_is_not_named_gets_no_yes() -> None:
    found = calc("seal-compound", fluid="HLP").results
    assert "compound_word" not in found and len(found["compound_rows"]) == 4


def test_a_groove_of_unknown_kind_is_not_judged() -> None:
    found = calc("ring-check", ring_section="1.78 mm", groove_depth="1.35 mm", groove_width="2.5 mm").results
    assert not {"squeeze_low", "squeeze_reserve", "seat_reserve"} & set(found) and found["squeeze"] > 0.2


def test_cold_makes_an_ask_and_water_boils_off_first() -> None:
    cold = calc("seal-compound", fluid="HLP", compound="FKM", lowest_temperature="-25 °C").results
    assert cold["compound_word"] == "ask" and "cold" in cold["compound_reason"]
    hot = calc("seal-compound", fluid="HFC", compound="NBR", highest_temperature="70 °C").results
    assert hot["compound_word"] == "ask" and "water" in hot["mixing_note"]


@pytest.mark.parametrize(
    ("rubber", "quarter", "year", "age", "verdict"),
    [("NBR", "2", "2017", 8.5, "accept"), ("NBR", "1", "2015", 10.75, "reject"), ("FKM", "1", "2015", 10.75, "accept")],
)
def test_age_of_a_ring_in_the_drawer(rubber: str, quarter: str, year: str, age: float, verdict: str) -> None:
    """Q4 of 2025. ISO 2230: NBR 7 + 3 years, FKM 10 + 5; ARP5316: 15 years and no limit."""
    now = {"now_quarter": "4", "now_year": "2025"}
    answer = calc("seal-age", compound=rubber, cure_quarter=quarter, cure_year=year, **now)
    assert answer.results["ring_age"] == pytest.approx(age)
    assert verdicts(answer) == {"storage_reserve": verdict}
    assert answer.results["aerospace_years"] == ("15 years" if rubber == "NBR" else "unlimited")
