"""Drawings: well-formed, readable, the same every time, and never a colour alone."""

from copy import deepcopy
from itertools import pairwise
from re import findall
from typing import Any
from xml.etree import ElementTree

import pytest

from valvecalc.drawing import chart, svg
from valvecalc.drawing.rounding import full_quantity, percent, quantity, shown
from valvecalc.drawing.shapes import FORMS, SIGNS, form, symbol
from valvecalc.errors import DataError

SVG = "{http://www.w3.org/2000/svg}"

STROKE: dict[str, Any] = {
    "kind": "stroke",
    "title": "Coil a <b> & release",
    "unit_x": "mm",
    "unit_y": "N",
    "x": [0.0, 1.0, 2.0, 3.0],
    "drive": {"label": "return spring", "y": [30.0, 28.0, 26.0, 24.0]},
    "terms": [
        {"label": "dry friction", "y": [4.0, 4.0, 4.0, 4.0]},
        {"label": "flow force", "y": [0.0, -6.0, 30.0, 2.0]},
    ],
    "worst": {"x": 2.0, "margin": -8.0, "label": "at the flow force peak"},
    "marks": [{"x": 1.0, "label": "ports open"}, {"x": 3.0, "label": "a rather long name for the end of the stroke"}],
}
BARS = {
    "kind": "bars",
    "title": "What eats the force",
    "unit": "N",
    "rows": [
        {"label": "spring", "value": 20.0, "basis": "measured"},
        {"label": "flow force", "value": -5.0, "basis": "calculated"},
        {"label": "silt", "value": None, "basis": "default"},
    ],
}
MARGIN = {
    "kind": "margin",
    "title": "Share in hand",
    "value": 0.22,
    "half_width": 0.05,
    "bands": [
        {"to": -0.1, "label": "will not shift"},
        {"to": 0.1, "label": "erratic"},
        {"to": 0.25, "label": "works, say so"},
        {"to": 1.0, "label": "sign-off"},
    ],
}
CURVE: dict[str, Any] = {
    "kind": "curve",
    "title": "Leakage <past> a land",
    "x": {"label": "radial clearance", "unit": "µm", "values": [0.0, 5.0, 10.0, 15.0, 20.0]},
    "y": {"label": "leakage", "unit": "mL/min", "values": [0.0, 5.0, 40.0, 135.0, 320.0]},
    "here": {"x": 10.0, "y": 40.0, "low": 28.0, "high": 52.0},
    "trusted": {"low": None, "high": 15.0},
    "limits": [{"y": 100.0, "label": "at most"}],
}
ALL = [STROKE, BARS, MARGIN, CURVE]


def _texts(drawing: str) -> list[str]:
    return [node.text or "" for node in ElementTree.fromstring(drawing).iter(f"{SVG}text")]


@pytest.mark.parametrize("spec", ALL, ids=lambda spec: spec["kind"])
def test_well_formed_and_told_in_words(spec: dict[str, Any]) -> None:
    root = ElementTree.fromstring(chart(spec))
    names = root.attrib["aria-labelledby"].split()
    told = [node for node in root if node.attrib.get("id") in names]
    assert [node.tag for node in told] == [f"{SVG}title", f"{SVG}desc"]
    assert told[0].text == spec["title"]
    assert "viewBox" in root.attrib
    assert "width" not in root.attrib


@pytest.mark.parametrize("spec", ALL, ids=lambda spec: spec["kind"])
def test_same_bytes_for_the_same_figures(spec: dict[str, Any]) -> None:
    assert chart(spec) == chart(deepcopy(spec))


@pytest.mark.parametrize("spec", ALL, ids=lambda spec: spec["kind"])
def test_every_reference_inside_is_kept(spec: dict[str, Any]) -> None:
    drawing = chart(spec)
    ids = findall(r'\bid="([^"]+)"', drawing)
    assert len(ids) == len(set(ids))
    assert set(findall(r"url\(#([^)]+)\)", drawing)) <= set(ids)


@pytest.mark.parametrize("spec", ALL, ids=lambda spec: spec["kind"])
def test_letters_stay_readable_at_320_px(spec: dict[str, Any]) -> None:
    # A phone of 320 px leaves 288 px between the margins of 16 px: 14 units of 360 are then 11 px. No text is smaller.
    root = ElementTree.fromstring(chart(spec))
    assert float(root.attrib["font-size"]) * 288 / svg.WIDTH > 11
    assert not any("font-size" in node.attrib for node in root.iter(f"{SVG}text"))


@pytest.mark.parametrize("spec", ALL, ids=lambda spec: spec["kind"])
def test_paper_version_has_no_custom_properties(spec: dict[str, Any]) -> None:
    drawing = svg.for_paper(chart(spec))
    ElementTree.fromstring(drawing)
    assert "var(" not in drawing
    assert "currentColor" not in drawing


def test_fillings_differ_in_hatching_not_only_in_tone() -> None:
    tiles = ElementTree.fromstring(svg.hatches("p", 8))
    drawn = ["".join(path.attrib["d"] for path in tile.iter("path")) for tile in tiles]
    assert len(set(drawn)) == 8


def test_weakest_place_is_marked_where_it_is_and_in_words() -> None:
    told = _texts(chart(STROKE))
    assert "weakest: −8 N left at 2 mm" in told
    assert "weakest place: at the flow force peak" in " ".join(told)
    assert "force that is missing" in told


def test_no_missing_force_where_the_drive_is_above() -> None:
    spec = deepcopy(STROKE)
    spec["drive"]["y"] = [90.0] * 4
    assert "force that is missing" not in _texts(chart(spec))


def test_a_force_that_is_not_known_leaves_a_hole_and_is_not_zero() -> None:
    spec = deepcopy(STROKE)
    spec["terms"][0]["y"][1] = None
    whole, holed = (ElementTree.fromstring(chart(s)) for s in (STROKE, spec))
    areas = [[p for p in root.iter(f"{SVG}path") if p.attrib["fill"].startswith("url")] for root in (whole, holed)]
    assert len(areas[0]) == 2
    assert len(areas[1]) == 4  # both layers are broken at that place: the pile above it is not known either


def test_bars_have_the_length_of_their_value() -> None:
    root = ElementTree.fromstring(chart(BARS))
    widths = [float(r.attrib["width"]) for r in root.findall(f"{SVG}rect")]
    assert len(widths) == 2  # nothing is drawn for what is not known
    assert widths[0] / widths[1] == pytest.approx(4, rel=1e-3)
    assert "not known" in _texts(chart(BARS))


@pytest.mark.parametrize(
    ("value", "here", "touched"),
    [(0.22, "works, say so", ["sign-off"]), (-0.1, "erratic", ["will not shift"]), (0.6, "sign-off", [])],
)
def test_margin_names_its_band_and_those_the_uncertainty_touches(value: float, here: str, touched: list[str]) -> None:
    told = _texts(chart({**MARGIN, "value": value}))
    assert [text.split(":")[0] for text in told if text.endswith("here")] == [here]
    assert [text.split(":")[0] for text in told if text.endswith("(within ±)")] == touched


def test_margin_without_a_value_points_nowhere() -> None:
    told = _texts(chart({**MARGIN, "value": None, "half_width": None}))
    assert not any("here" in text for text in told)


def _paths(drawing: str, width: str) -> list[list[tuple[float, float]]]:
    """The points of the lines of one width."""
    root = ElementTree.fromstring(drawing)
    lines = [path.attrib["d"] for path in root.iter(f"{SVG}path") if path.attrib.get("stroke-width") == width]
    return [[(float(x), float(y)) for x, y in findall(r"([-\d.]+) ([-\d.]+)", line)] for line in lines]


def _dots(drawing: str) -> list[tuple[float, float]]:
    root = ElementTree.fromstring(drawing)
    return [(float(dot.attrib["cx"]), float(dot.attrib["cy"])) for dot in root.iter(f"{SVG}circle")]


def test_curve_marks_the_place_on_the_line_and_says_it() -> None:
    drawing = chart(CURVE)
    (trusted, _, _), (_, place) = _paths(drawing, "3"), _dots(drawing)
    assert place == trusted[2]
    assert (
        "here: (40\N{NO-BREAK SPACE}±\N{NO-BREAK SPACE}12)\N{NO-BREAK SPACE}mL/min at 10\N{NO-BREAK SPACE}µm"
        in _texts(drawing)
    )
    assert "here (40 ± 12) mL/min at 10 µm; at most 100 mL/min." in drawing


def test_curve_is_dashed_where_it_is_not_trusted_and_says_so() -> None:
    drawing = chart(CURVE)
    solid, dashed, _ = _paths(drawing, "3")
    assert (len(solid), len(dashed)) == (4, 2)
    assert solid[-1] == dashed[0]
    assert drawing.count('stroke-dasharray="7 5"') == 2
    assert "outside the range in which the" in _texts(drawing)
    everywhere = chart({**CURVE, "trusted": None})
    assert "7 5" not in everywhere and "trusted" not in everywhere


def test_curve_breaks_where_there_is_no_value() -> None:
    spec = deepcopy(CURVE) | {"trusted": None}
    spec["y"]["values"] = [0.0, 5.0, None, 135.0, 320.0]
    assert [len(points) for points in _paths(chart(spec), "3")] == [2, 2]


def test_curve_holds_its_whisker_and_its_limit() -> None:
    spec = deepcopy(CURVE) | {"trusted": None, "limits": [{"y": 900.0, "label": "at most"}]}
    spec["here"] |= {"low": -260.0, "high": 340.0}
    drawing = chart(spec)
    # marks stand at the left: -400, -200 … 1000
    assert [text for text in _texts(drawing) if text in ("−400", "1000", "1200")] == ["−400", "1000"]
    whisker = next(line for line in _paths(drawing, "2") if line[0][0] == line[1][0])
    assert whisker[0][1] - whisker[1][1] == pytest.approx(600 / 1400 * 210, abs=0.02)


def test_curve_over_more_than_two_decades_has_a_logarithmic_scale_and_says_so() -> None:
    spec = deepcopy(CURVE) | {"trusted": None, "limits": []}
    spec["y"]["values"] = [1.0, 10.0, 100.0, 1000.0, 10000.0]
    spec["here"] = {"x": 10.0, "y": 100.0, "low": -5.0, "high": 205.0}
    drawing = chart(spec)
    assert "leakage,\N{NO-BREAK SPACE}mL/min, logarithmic" in _texts(drawing)
    (line,) = _paths(drawing, "3")
    steps = [before[1] - after[1] for before, after in pairwise(line)]
    assert steps == pytest.approx([210 / 4] * 4, abs=0.02)
    assert "logarithmic" not in chart({**spec, "y": {**spec["y"], "values": [100.0, 200.0, 300.0, 400.0, 9000.0]}})


def test_curve_starts_at_zero_unless_it_lies_far_from_it() -> None:
    spec = deepcopy(CURVE) | {"trusted": None, "limits": [], "here": {"x": 10.0, "y": 90.0}}
    for values, zero in (([50.0, 60.0, 90.0, 95.0, 101.0], True), ([80.0, 85.0, 90.0, 95.0, 99.0], False)):
        spec["y"]["values"] = values
        left = [
            text
            for text in ElementTree.fromstring(chart(spec)).iter(f"{SVG}text")
            if text.attrib["text-anchor"] == "end"
        ]
        assert ("0" in [text.text for text in left]) is zero


def test_marks_of_a_logarithmic_scale_hold_the_range() -> None:
    assert svg.decades(3, 900) == [2, 5, 10, 20, 50, 100, 200, 500, 1000]
    assert svg.decades(0.004, 700) == [0.001, 0.01, 0.1, 1, 10, 100, 1000]
    assert svg.decades(1, 100) == [1, 2, 5, 10, 20, 50, 100]


def test_rounding_goes_half_away_from_zero_like_the_figures() -> None:
    assert [shown(x, 10.0) for x in (2.5, -2.5, 3.5)] == ["3 ± 10", "−3 ± 10", "4 ± 10"]
    assert shown(0.125, 0.10) == "0.13 ± 0.10"
    assert [shown(x, 250.0) for x in (4.0, 5.0, -1245.0)] == ["0 ± 250", "10 ± 250", "−1250 ± 250"]


def test_an_unknown_kind_is_named() -> None:
    with pytest.raises(DataError, match="'pie'"):
        chart({"kind": "pie"})


@pytest.mark.parametrize("verdict", [*FORMS, "cannot-tell", "unknown"])
def test_verdict_shapes_are_well_formed(verdict: str) -> None:
    ElementTree.fromstring(symbol(verdict))
    assert form(verdict) in SIGNS


def test_opposite_verdicts_have_different_shapes() -> None:
    assert len({symbol(word) for word in ("accept", "works", "erratic", "reject", "cannot-tell")}) == 5
    assert form("works, say so") == form("works") == "fair"
    assert form("cannot-tell") == form("") == "open"


def test_value_ends_where_its_uncertainty_ends() -> None:
    # NIST, "Examples of uncertainty statements", example 2 (physics.nist.gov/cuu/Uncertainty/examples.html):
    # a mass standard, printed there as (100.021 47 ± 0.000 70) g.
    assert quantity(100.02147, "g", 0.00070) == "(100.02147 ± 0.00070) g"


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (None, "no value"),
        (float("nan"), "no value"),
        (0.0, "0"),
        (-0.0, "0"),
        (-1.2512, "−1.25"),
        (12.0, "12"),
        (108.83, "109"),
        (12345.6, "12346"),
        (0.00123456, "0.00123"),
        (1.234e-9, "1.23e-9"),
        (-2.5e9, "−2.50e9"),
        (7, "7"),
        (True, "yes"),
        ("ISO VG 46", "ISO VG 46"),
    ],
)
def test_rounding_for_the_eye(value: object, text: str) -> None:
    assert shown(value) == text


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (5.2612, "mL/min", "5.261 mL/min"),
        (12.0, "mL/min", "12.00 mL/min"),
        (-0.25, "", "−0.2500"),
        (3.0, "", "3"),
        (None, "N", "no value"),
        ("laminar", "text", "laminar"),
    ],
)
def test_results_keep_the_digits_of_the_worked_lines(value: object, unit: str, text: str) -> None:
    assert full_quantity(value, unit) == text


def test_rounding_of_the_uncertainty_moves_up_a_decade() -> None:
    assert shown(12.341, 0.0996) == "12.34 ± 0.10"
    assert shown(1234.5, 123.0) == "1230 ± 120"


def test_per_cent() -> None:
    assert percent(-0.004) == "0 %"
    assert percent(0.22, 0.05) == "(22 ± 5) %"
    assert percent(None) == "no value"


def test_ticks_are_round_and_hold_the_range() -> None:
    assert svg.ticks(0, 4, 5) == [0, 1, 2, 3, 4]
    assert svg.ticks(-5, 62)[0] <= -5
    assert svg.ticks(-5, 62)[-1] >= 62
    assert len(svg.ticks(0, 0)) >= 2
