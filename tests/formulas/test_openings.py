"""Openings: limits of the laws, areas by integration, an independent calculation's figures."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from valvecalc.formulas import openings, orifice
from valvecalc.sheets.cavitation_check import Opening, cavitation_check

L_MIN = 1e-3 / 60
EDGE = {
    "discharge_coefficient": 0.65,
    "spool_diameter": 0.012,
    "opening": 1e-4,
    "clearance": 5e-6,
    "density": 856.6,
}
HOLE = {"discharge_coefficient": 0.61, "hydraulic_diameter": 1e-3, "area": math.pi / 4 * 1e-6, "density": 860.0}


@pytest.mark.parametrize(
    ("viscosity", "drop", "flow"),
    [
        (46, 1, 0.94),
        (46, 5, 3.81),
        (46, 20, 9.68),
        (46, 83, 20.48),
        (500, 1, 0.09),
        (500, 5, 0.46),
        (500, 20, 1.81),
        (500, 83, 7.28),
    ],
)
def test_an_edge_warm_and_cold(viscosity: float, drop: float, flow: float) -> None:
    """Independent calculation, no published source: D 12, opening 0.1 mm; its clearance is 5 µm."""
    found = openings.metering_edge_flow(**EDGE, kinematic_viscosity=viscosity * 1e-6, pressure_drop=drop * 1e5)
    assert found / L_MIN == pytest.approx(flow, abs=0.0151)


@given(st.floats(1e5, 3e7))
def test_thin_oil_is_the_plain_law_and_thick_oil_goes_with_the_pressure(drop: float) -> None:
    plain = orifice.orifice_flow(
        discharge_coefficient=0.61, area=HOLE["area"], pressure_drop=drop, density=HOLE["density"]
    )
    thin = openings.orifice_flow_laminar(**HOLE, pressure_drop=drop, kinematic_viscosity=1e-6)
    assert thin == pytest.approx(plain, rel=1e-9)
    thick = openings.orifice_flow_laminar(**HOLE, pressure_drop=drop, kinematic_viscosity=0.05)
    twice = openings.orifice_flow_laminar(**HOLE, pressure_drop=2 * drop, kinematic_viscosity=0.05)
    thicker = openings.orifice_flow_laminar(**HOLE, pressure_drop=drop, kinematic_viscosity=0.1)
    assert twice == pytest.approx(2 * thick, rel=0.01)
    assert thicker == pytest.approx(thick / 2, rel=0.01)


@given(st.floats(1e4, 4e7), st.floats(5e-6, 3e-3))
def test_colder_oil_never_flows_faster(drop: float, viscosity: float) -> None:
    warm = openings.orifice_flow_laminar(**HOLE, pressure_drop=drop, kinematic_viscosity=viscosity)
    cold = openings.orifice_flow_laminar(**HOLE, pressure_drop=drop, kinematic_viscosity=1.5 * viscosity)
    assert cold <= warm


@pytest.mark.parametrize(("delta", "number"), [(0.157, 50), (0.2, 30.6)])
def test_the_link_to_the_root_law(delta: float, number: float) -> None:
    """At small Reynolds numbers C_d = δ·√Re (Wuest's 0.157 of a slit, 0.2 of a round hole, Jelali and Kroll 3.3.2.4)
    and ours are one law with λ_c = 2·C_d/δ², Re being the hydraulic diameter times the mean speed over ν."""
    slow = {**HOLE, "discharge_coefficient": 0.611, "pressure_drop": 10.0, "kinematic_viscosity": 1e-3}
    assert 2 * 0.611 / delta**2 == pytest.approx(number, rel=0.01)
    flow = openings.orifice_flow_laminar(**slow, transition_number=2 * 0.611 / delta**2)
    reynolds = HOLE["hydraulic_diameter"] * (flow / HOLE["area"]) / 1e-3
    coefficient = flow / (HOLE["area"] * math.sqrt(2 * 10.0 / HOLE["density"]))
    assert coefficient == pytest.approx(delta * math.sqrt(reynolds), rel=1e-3)


def test_notches_of_an_independent_calculation() -> None:
    """At 0.5 mm: four half circles of 1 mm 2.457 mm², four V of twice 30° 0.577 mm². No published source."""
    assert openings.round_notch_area(notch_count=4, notch_radius=1e-3, opening=5e-4) * 1e6 == pytest.approx(
        2.457, abs=5e-4
    )
    vees = openings.vee_notch_area(notch_count=4, half_angle=math.radians(30), opening=5e-4)
    assert vees * 1e6 == pytest.approx(0.577, abs=5e-4)


@settings(deadline=None)  # numerical integration
@given(st.floats(0.01, 1.99), st.floats(2e-4, 5e-3))
def test_areas_are_the_integral_of_the_width(share: float, radius: float) -> None:
    """Round: chord 2·√(r² − (r − y)²) over the depth y. V: 2·y·tanβ. Rectangle: the width."""
    opening = share * radius
    round_, _ = quad(lambda y: 2 * math.sqrt(max(radius**2 - (radius - y) ** 2, 0.0)), 0.0, opening, epsabs=0.0)
    assert openings.round_notch_area(notch_count=3, notch_radius=radius, opening=opening) == pytest.approx(
        3 * round_, rel=1e-6
    )
    vee, _ = quad(lambda y: 2 * y * math.tan(0.4), 0.0, opening, epsabs=0.0)
    assert openings.vee_notch_area(notch_count=3, half_angle=0.4, opening=opening) == pytest.approx(3 * vee, rel=1e-9)
    assert openings.rectangular_notch_area(notch_count=3, notch_width=radius, opening=opening) == pytest.approx(
        3 * radius * opening, rel=1e-12
    )


def test_a_hole_opened_right_over_stays_open() -> None:
    whole = openings.round_notch_area(notch_count=1, notch_radius=1e-3, opening=2e-3)
    assert whole == pytest.approx(math.pi * 1e-6, rel=1e-12)
    assert openings.round_notch_area(notch_count=1, notch_radius=1e-3, opening=9e-3) == whole
    assert openings.round_notch_area(notch_count=1, notch_radius=1e-3, opening=0.0) == 0.0


@given(st.floats(1e-8, 1e-4), st.floats(1e-8, 1e-4), st.floats(1e-5, 1e-3))
def test_openings_in_a_row_share_the_pressure_and_beside_each_other_the_flow(a: float, b: float, flow: float) -> None:
    def drop(area: float) -> float:
        return orifice.orifice_drop(flow=flow, discharge_coefficient=1.0, area=area, density=870.0)

    row = openings.series_openings(effective_area_1=a, effective_area_2=b)
    assert drop(row) == pytest.approx(drop(a) + drop(b), rel=1e-9)
    assert row < min(a, b)
    beside = openings.parallel_openings(effective_area_1=a, effective_area_2=b)
    one = {"discharge_coefficient": 1.0, "pressure_drop": 1e6, "density": 870.0}
    flows = [orifice.orifice_flow(area=area, **one) for area in (a, b, beside)]
    assert flows[2] == pytest.approx(flows[0] + flows[1], rel=1e-12)


@pytest.mark.parametrize(
    ("down", "index", "verdict"), [(2, 0.037, "expected"), (30, 0.585, "none"), (20, 0.33354, "possible")]
)
def test_cavitation(down: float, index: float, verdict: str) -> None:
    """83 bar before it: 0.037 and 0.585 of an independent calculation; 21.01325 / 63 = 0.33354 by hand."""
    found = cavitation_check(Opening(upstream_pressure=83e5, downstream_pressure=down * 1e5))
    assert found["cavitation_index"] == pytest.approx((down + 1.01325) / (83 - down), rel=1e-12)
    assert found["cavitation_index"] == pytest.approx(index, abs=5e-4)
    assert found["cavitation_verdict"] == verdict


def test_no_flow_from_the_low_to_the_high_side() -> None:
    found = cavitation_check(Opening(upstream_pressure=5e5, downstream_pressure=9e5))
    assert found["cavitation_verdict"] == "no flow this way"
