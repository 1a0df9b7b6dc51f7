"""Flow coefficients and flow paths: definitions, another library, an independent calculation's figures."""

import math

import pytest
from fluids.control_valve import Cv_to_Kv, Reynolds_valve, size_control_valve_l
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import coefficient, orifice, paths
from valvecalc.units import from_si, to_si

L_MIN, BAR, CENTIPOISE = 1e-3 / 60, 1e5, 1e-3


def kv(value: float) -> float:
    return to_si(value, "Kv", "flow_coefficient")


def test_one_kv_is_one_cubic_metre_of_water_an_hour_at_one_bar() -> None:
    flow = coefficient.flow_by_coefficient(flow_coefficient=kv(1.0), pressure_drop=BAR, density=1000.0)
    assert flow * 3600 == pytest.approx(1.0, rel=1e-12)


def test_cv_and_kv_are_one_quantity() -> None:
    """fluids 1.3.1: 0.8649777 Kv for 1 Cv."""
    one = to_si(1.0, "Cv", "flow_coefficient")
    assert from_si(one, "Kv", "flow_coefficient") == pytest.approx(Cv_to_Kv(1.0), rel=1e-9)
    assert from_si(one, "Kv", "flow_coefficient") == pytest.approx(0.8649776554423, rel=1e-12)


def test_the_plain_law_against_the_standards_equations_of_another_library() -> None:
    """Hot water, 680 to 220 kPa, 360 m³/h: their figure counts pipe fittings and recovery, 0.1 % is left for them."""
    other = size_control_valve_l(
        rho=965.4, Psat=70.1e3, Pc=22120e3, mu=3.1472e-4, P1=680e3, P2=220e3, Q=0.1, D1=0.15, D2=0.15, d=0.15,
        FL=0.9, Fd=0.46,
    )  # fmt: skip
    ours = coefficient.flow_coefficient(flow=0.1, pressure_drop=460e3, density=965.4)
    assert from_si(ours, "Kv", "flow_coefficient") == pytest.approx(other, rel=1e-3)
    assert from_si(ours, "Kv", "flow_coefficient") == pytest.approx(360 * math.sqrt(0.9654 / 4.6), rel=1e-12)


def test_a_path_of_60_litres_at_5_bar() -> None:
    """By hand: 3.6 m³/h · √(0.87 / 5) = 1.50168 Kv, over 0.864978 that is 1.73609 Cv."""
    found = coefficient.flow_coefficient(flow=60 * L_MIN, pressure_drop=5 * BAR, density=870.0)
    assert from_si(found, "Kv", "flow_coefficient") == pytest.approx(1.50168, abs=5e-6)
    assert from_si(found, "Cv", "flow_coefficient") == pytest.approx(1.73609, abs=5e-6)


def test_figures_of_an_independent_calculation() -> None:
    """Kv 1 at 7 bar and 860 kg/m³: 47.5 L/min; area times discharge coefficient 19.64 mm². No published source."""
    flow = coefficient.flow_by_coefficient(flow_coefficient=kv(1.0), pressure_drop=7 * BAR, density=860.0)
    assert flow / L_MIN == pytest.approx(47.5, abs=0.06)
    assert coefficient.area_by_coefficient(flow_coefficient=kv(1.0)) * 1e6 == pytest.approx(19.64, abs=5e-3)


@given(st.floats(1.0, 300.0), st.floats(0.05, 20.0), st.floats(5.0, 2000.0))
def test_the_reynolds_number_against_the_standards_equation_of_another_library(
    flow: float, value: float, viscosity: float
) -> None:
    """With form and recovery factor 1 and a pipe so wide that the approach speed does not count."""
    ours = coefficient.valve_reynolds_number(
        flow=flow * L_MIN, flow_coefficient=kv(value), kinematic_viscosity=viscosity * 1e-6
    )
    other = Reynolds_valve(nu=viscosity * 1e-6, Q=flow * L_MIN * 3600, D1=5000.0, FL=1.0, Fd=1.0, C=value)
    assert ours == pytest.approx(other, rel=1e-3)  # the standard prints its constant to three digits


@given(st.floats(0.01, 100.0), st.floats(1e4, 3e7), st.floats(700, 1200))
def test_coefficient_flow_loss_and_opening_agree(value: float, drop: float, density: float) -> None:
    flow = coefficient.flow_by_coefficient(flow_coefficient=kv(value), pressure_drop=drop, density=density)
    back = coefficient.flow_coefficient(flow=flow, pressure_drop=drop, density=density)
    assert back == pytest.approx(kv(value), rel=1e-12)
    loss = coefficient.drop_by_coefficient(flow=flow, flow_coefficient=kv(value), density=density)
    assert loss == pytest.approx(drop, rel=1e-12)
    hole = coefficient.area_by_coefficient(flow_coefficient=kv(value))
    through = orifice.orifice_flow(discharge_coefficient=1.0, area=hole, pressure_drop=drop, density=density)
    assert through == pytest.approx(flow, rel=1e-12)


@pytest.mark.parametrize(
    ("flow", "losses"), [(10, (0.46, 0.98, 2.72)), (30, (2.72, 4.28, 9.53)), (60, (9.52, 12.64, 23.13))]
)
def test_a_path_at_three_viscosities(flow: float, losses: tuple[float, ...]) -> None:
    """Independent calculation, no published source: a 0.02271 bar/(L/min), b 0.002236 bar/(L/min)² at µ 46 mm²/s and
    860 kg/m³, the oil 870 kg/m³; its last digit and the density it rounds leave 0.4 %."""
    for viscosity, loss in zip((46, 150, 500), losses, strict=True):
        found = paths.path_drop(
            flow=flow * L_MIN,
            laminar_resistance=0.02271 * BAR / L_MIN,
            turbulent_resistance=0.002236 * BAR / L_MIN**2,
            viscosity=viscosity * 1e-6 * 870,
            reference_viscosity=46e-6 * 860,
            density=870.0,
            reference_density=860.0,
        )
        assert found / BAR == pytest.approx(loss, rel=4e-3, abs=0.01)


POINT = {"rated_flow": 30 * L_MIN, "rated_drop": 2.7 * BAR}


def test_one_point_drawn_on() -> None:
    """0.1 · 2.7 · 2 + 0.9 · 2.7 · 4 = 10.26 bar at twice the flow."""
    assert paths.one_point_drop(flow=60 * L_MIN, **POINT) == pytest.approx(10.26 * BAR, rel=1e-12)
    assert paths.one_point_drop(flow=30 * L_MIN, **POINT) == pytest.approx(2.7 * BAR, rel=1e-12)


@given(st.floats(0.0, 100.0), st.floats(0.005, 1.0))
def test_more_flow_and_thicker_oil_lose_more(flow: float, viscosity: float) -> None:
    less = paths.one_point_drop(flow=flow * L_MIN, viscosity=viscosity, **POINT)
    assert paths.one_point_drop(flow=(flow + 1) * L_MIN, viscosity=viscosity, **POINT) > less
    assert paths.one_point_drop(flow=flow * L_MIN, viscosity=2 * viscosity, **POINT) >= less


@given(st.floats(1.0, 60.0), st.floats(1.05, 3.0))
def test_the_return_loss_goes_with_the_cube(flow: float, ratio: float) -> None:
    """By the long way: the return path at its own flow, its pressure carried over by the areas."""
    turbulent = {"rated_flow": 30 * L_MIN, "rated_drop": 2.7 * BAR, "laminar_share": 0.0}
    at_pump_flow = paths.one_point_drop(flow=flow * L_MIN, **turbulent)
    for r in (ratio, 1 / ratio):
        carried = r * paths.one_point_drop(flow=r * flow * L_MIN, **turbulent)
        found = paths.reflected_return_drop(pressure_drop=at_pump_flow, return_ratio=r)
        assert found == pytest.approx(carried, rel=1e-12)
    assert paths.reflected_return_drop(pressure_drop=1e5, return_ratio=2.0) == 8e5


@given(st.floats(0, 1e5), st.floats(1e-3, 1e-2), st.floats(0.2, 0.9))
def test_joined_sides_balance(load: float, piston: float, share: float) -> None:
    """Force balance: piston side pushes with p − Δp_in, rod side holds with p + Δp_out."""
    ring = share * piston
    found = paths.regenerative_pressure(
        load_force=load,
        mechanical_efficiency=1.0,
        path_in_drop=8e5,
        path_out_drop=3e5,
        piston_area=piston,
        annulus_area=ring,
    )
    assert (found - 8e5) * piston - (found + 3e5) * ring == pytest.approx(load, rel=1e-9, abs=1e-3)


def test_heat_and_warming() -> None:
    """1 bar · L/min / 600 is 1/600 kW; 100 bar lost warm oil of 870 kg/m³ and 1.9 kJ/(kg·K) by 6.05 K."""
    assert paths.throttle_heat(flow=60 * L_MIN, pressure_drop=100 * BAR) == pytest.approx(10_000.0, rel=1e-12)
    assert paths.pass_temperature_rise(pressure_drop=100 * BAR, density=870.0) == pytest.approx(6.0496, abs=5e-5)
    flow, drop = 40 * L_MIN, 55 * BAR
    rise = paths.pass_temperature_rise(pressure_drop=drop, density=862.0)
    assert flow * 862.0 * 1900.0 * rise == pytest.approx(paths.throttle_heat(flow=flow, pressure_drop=drop), rel=1e-12)
