"""Metering edges and flow force: definitions, limits, and figures that are only remembered."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import orifice, spool

EDGE = {"spool_diameter": 0.014, "clearance": 5e-6}
PUMP = {"pump_flow": 25 / 60_000, "discharge_coefficient": 0.65, "available_drop": 1.1e7, "density": 857.0}


def test_area_of_an_edge_wide_open_and_shut() -> None:
    assert spool.metering_area(opening=0.001, **EDGE) == pytest.approx(math.pi * 0.014 * 0.001, rel=2e-5)
    assert spool.metering_area(opening=0.0, **EDGE) == pytest.approx(math.pi * 0.014 * 5e-6, rel=1e-12)
    assert spool.metering_area(opening=0.001, open_circumference=0.25, **EDGE) == pytest.approx(
        spool.metering_area(opening=0.001, **EDGE) / 4, rel=1e-12
    )


@given(st.floats(0.3, 3.0))
def test_at_the_corner_the_pump_flow_just_passes(ratio: float) -> None:
    corner = spool.corner_opening(return_ratio=ratio, **EDGE, **PUMP)
    for opening, full in ((corner * 0.99, False), (corner * 1.01, True)):
        area = spool.metering_area(opening=opening, **EDGE)
        flow = spool.edge_flow(area=area, return_ratio=ratio, **PUMP)
        assert (flow == PUMP["pump_flow"]) is full


def test_no_corner_where_the_clearance_passes_the_pump() -> None:
    assert spool.corner_opening(return_ratio=1.0, **EDGE, **PUMP | {"pump_flow": 1e-9}) == 0.0


@given(st.floats(0.3, 3.0), st.floats(1e-7, 5e-6))
def test_both_edges_together_use_up_the_available_drop(ratio: float, area: float) -> None:
    """Inlet drop plus the return's, seen from the pump through the cylinder's areas, make the available drop."""
    flow = spool.edge_flow(area=area, return_ratio=ratio, **PUMP | {"pump_flow": 1.0})
    edge = {"discharge_coefficient": 0.65, "area": area, "density": 857.0}
    inlet = orifice.orifice_drop(flow=flow, **edge)
    outlet = orifice.orifice_drop(flow=spool.return_flow(flow=flow, return_ratio=ratio), **edge)
    driven = spool.driven_pressure(load_pressure_difference=0.0, return_ratio=ratio, return_pressure=outlet)
    assert inlet + driven == pytest.approx(1.1e7, rel=1e-9)


def test_nothing_is_available_against_a_load_above_the_supply() -> None:
    entries = {"supply_pressure": 1e7, "return_ratio": 1.5, "tank_pressure": 2e5}
    assert spool.available_pressure(load_pressure_difference=1.2e7, **entries) == 0
    assert spool.available_pressure(load_pressure_difference=4e6, **entries) == pytest.approx(5.7e6)
    assert spool.mean_pressure(supply_pressure=1e7, tank_pressure=2e5) == pytest.approx(5.1e6)


def test_cosine_of_the_jet_angle() -> None:
    """0.358 printed for 69 degrees (jelali-kroll-2003, p. 50): with everything else 1 the force is the cosine."""
    force = spool.flow_force(flow=1.0, pressure_drop=1.0, density=0.5, flow_force_factor=1.0, velocity_coefficient=1.0)
    assert force == pytest.approx(0.358, abs=5e-4)


@given(st.floats(1e5, 3e7), st.floats(1e-5, 1e-3), st.floats(750, 950))
def test_two_forms_of_the_flow_force(drop: float, opening: float, density: float) -> None:
    """Density x flow x speed x cosine equals 2 C_d C_v A Δp cosine: two forms of the momentum theorem."""
    area = 0.02 * opening
    flow = orifice.orifice_flow(discharge_coefficient=0.61, area=area, pressure_drop=drop, density=density)
    force = spool.flow_force(flow=flow, pressure_drop=drop, density=density, flow_force_factor=1.0)
    assert force == pytest.approx(2 * 0.61 * 0.98 * area * drop * math.cos(math.radians(69)), rel=1e-12)


def test_coefficient_043_from_memory() -> None:
    """0.43 (recalled from merritt-1967, not found in print) is 2 x 0.61 x 0.98 x cos 69° = 0.4285."""
    flow = orifice.orifice_flow(discharge_coefficient=0.61, area=1e-5, pressure_drop=1e7, density=850.0)
    force = spool.flow_force(flow=flow, pressure_drop=1e7, density=850.0, flow_force_factor=1.0)
    assert force / (1e-5 * 1e7) == pytest.approx(0.43, abs=0.005)


@given(st.floats(0.3, 3.0))
def test_peak_is_the_sum_of_both_edges_at_the_corner(ratio: float) -> None:
    corner = spool.corner_opening(return_ratio=ratio, **EDGE, **PUMP)
    edge = {"discharge_coefficient": 0.65, "area": spool.metering_area(opening=corner, **EDGE), "density": 857.0}
    total = 0.0
    for flow in (PUMP["pump_flow"], spool.return_flow(flow=PUMP["pump_flow"], return_ratio=ratio)):
        drop = orifice.orifice_drop(flow=flow, **edge)
        total += spool.flow_force(flow=flow, pressure_drop=drop, density=857.0, flow_force_factor=0.25)
    peak = spool.peak_flow_force(
        pump_flow=PUMP["pump_flow"], available_drop=1.1e7, density=857.0, flow_force_factor=0.25, return_ratio=ratio
    )
    assert total == pytest.approx(peak, rel=1e-9)


def test_pin_force_of_a_healthy_valve_stopped_by_its_tank_line() -> None:
    """A sealed 6 mm pin feels 2.83 N for each bar: arithmetic on the circle's area."""
    assert spool.tank_pin_force(tank_pressure=1e5, pin_area=math.pi / 4 * 0.006**2) == pytest.approx(2.827, abs=5e-4)
