"""Oil formulas, and the table of viscosity index references."""

import csv
from bisect import bisect_left
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.facts import data_path
from valvecalc.formulas import oil

MM2_S = 1e-6


def references(viscosity_100: float) -> tuple[float, float]:
    """L and H at a viscosity at 100 °C in mm²/s, straight lines between the rows."""
    with open(data_path("viscosity_index.csv"), encoding="utf-8") as file:
        rows = [tuple(map(float, row)) for row in list(csv.reader(x for x in file if x[0] != "#"))[1:]]
    at = max(1, bisect_left(rows, (viscosity_100,)))
    (y0, low0, high0), (y1, low1, high1) = rows[at - 1], rows[at]
    share = (viscosity_100 - y0) / (y1 - y0)
    return low0 + share * (low1 - low0), high0 + share * (high1 - high0)


def test_table_gives_the_standards_worked_references() -> None:
    """ASTM D2270, 5.1.4 and 6.1.4: L 119.94 and H 69.48 at 8.86 mm²/s, H 28.97 at 5.05 (interpolated, to 0.01)."""
    low, high = references(8.86)
    assert low == pytest.approx(119.94, abs=0.0051)
    assert high == pytest.approx(69.48, abs=0.0051)
    assert references(5.05)[1] == pytest.approx(28.97, abs=0.0051)


def test_table_rises_and_meets_the_formula_above_it() -> None:
    """Above 70 mm²/s ASTM D2270, 5.1.2, has L = 0.8353 Y² + 14.67 Y - 216 and H = 0.1684 Y² + 11.85 Y - 97."""
    with open(data_path("viscosity_index.csv"), encoding="utf-8") as file:
        rows = [tuple(map(float, row)) for row in list(csv.reader(x for x in file if x[0] != "#"))[1:]]
    assert len(rows) == 311
    assert all(b > a for before, after in pairwise(rows) for a, b in zip(before, after, strict=True))
    assert rows[-1][1] == pytest.approx(0.8353 * 70**2 + 14.67 * 70 - 216, rel=5e-4)
    assert rows[-1][2] == pytest.approx(0.1684 * 70**2 + 11.85 * 70 - 97, rel=5e-4)


@given(st.floats(10, 500), st.floats(2.5, 9))
def test_the_line_goes_through_both_data_sheet_points(at_40: float, at_100: float) -> None:
    oil_points = {"viscosity_40": at_40 * MM2_S, "viscosity_100": at_100 * MM2_S}
    assert oil.kinematic_viscosity(oil_temperature=313.15, **oil_points) == pytest.approx(at_40 * MM2_S, rel=1e-9)
    assert oil.kinematic_viscosity(oil_temperature=373.15, **oil_points) == pytest.approx(at_100 * MM2_S, rel=1e-9)


def test_an_oil_of_46_at_20_and_60_degrees() -> None:
    """Definition (two-constant form of ASTM D341, worked by two algebraic routes): 133.838 and 20.623 mm²/s."""
    points = {"viscosity_40": 46 * MM2_S, "viscosity_100": 6.8 * MM2_S}
    assert oil.kinematic_viscosity(oil_temperature=293.15, **points) / MM2_S == pytest.approx(133.838, abs=0.005)
    assert oil.kinematic_viscosity(oil_temperature=333.15, **points) / MM2_S == pytest.approx(20.623, abs=0.005)


def test_both_procedures_meet_at_100() -> None:
    """Definition: an oil whose viscosity at 40 °C is H has the index 100 by either procedure."""
    assert oil.viscosity_index_low(viscosity_40=69.48, viscosity_40_vi_0=119.94, viscosity_40_vi_100=69.48) == 100
    assert oil.viscosity_index_low(viscosity_40=119.94, viscosity_40_vi_0=119.94, viscosity_40_vi_100=69.48) == 0
    assert (
        oil.viscosity_index_high(
            viscosity_40=69.48 * MM2_S, viscosity_100=8.86 * MM2_S, viscosity_40_vi_100=69.48 * MM2_S
        )
        == 100
    )


def test_density_at_its_own_temperature_and_ten_kelvin_on() -> None:
    """6.5e-4 per K for mineral oil (jelali-kroll-2003, ch. 3.1.2): 0.65 % for 10 K."""
    assert oil.density_at(density_15=875.0, oil_temperature=288.15) == 875.0
    assert oil.density_at(density_15=1000.0, oil_temperature=298.15) == pytest.approx(993.5, rel=1e-9)
