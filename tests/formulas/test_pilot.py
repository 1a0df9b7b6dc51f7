"""Two-stage valves and the manual override: limits, round trips and figures worked by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.door import calc
from valvecalc.formulas import orifice, override, pilot

BAR, MM, LPM = 1e5, 1e-3, 1e-3 / 60
AREA = math.pi / 4 * 0.022**2


def test_what_back_pressure_takes_of_a_small_pilot_pressure() -> None:
    """Independent calculation, no published source: 4.5 bar on 22 mm is 171 N, with 3 bar in the drain 57 N."""
    full = pilot.pilot_force(pilot_pressure=4.5 * BAR, drain_pressure=0.0, spool_diameter=0.022)
    left = pilot.pilot_force(pilot_pressure=4.5 * BAR, drain_pressure=3 * BAR, spool_diameter=0.022)
    assert full == pytest.approx(171, abs=0.5)
    assert left == pytest.approx(57, abs=0.5)
    assert left == pytest.approx(full / 3, rel=1e-12)


def test_a_drain_above_the_pilot_pushes_back() -> None:
    assert pilot.pilot_force(pilot_pressure=3 * BAR, drain_pressure=4 * BAR, spool_diameter=0.022) < 0


@given(st.floats(0, 100), st.floats(0, 400), st.floats(0, 300), st.floats(0, 50))
def test_at_the_required_pressure_drive_and_resistance_are_equal(
    drain: float, spring: float, flow: float, dry: float
) -> None:
    needed = pilot.required_pilot_pressure(
        drain_pressure=drain * BAR, spring_force=spring, flow_force=flow, dry_friction=dry, spool_diameter=0.022
    )
    drive = pilot.pilot_force(pilot_pressure=needed, drain_pressure=drain * BAR, spool_diameter=0.022)
    assert drive == pytest.approx(spring + flow + dry, rel=1e-9, abs=1e-6)


def test_the_centre_loses_with_the_square_of_the_flow() -> None:
    """At the reference flow its own loss; at half the flow a quarter; standing still tank and check valve alone."""
    given = {"tank_pressure": 2 * BAR, "centre_drop": 4 * BAR, "reference_flow": 200 * LPM, "check_drop": 5 * BAR}
    assert pilot.idle_pilot_pressure(pump_flow=200 * LPM, **given) == pytest.approx(11 * BAR)
    assert pilot.idle_pilot_pressure(pump_flow=100 * LPM, **given) == pytest.approx(8 * BAR)
    assert pilot.idle_pilot_pressure(pump_flow=0.0, **given) == pytest.approx(7 * BAR)


CHOKE = {"spool_diameter": 0.022, "stroke": 7 * MM, "choke_diameter": 1 * MM, "density": 857.0}


def test_an_even_pressure_gives_volume_over_flow() -> None:
    flow = orifice.orifice_flow(
        discharge_coefficient=0.61, area=math.pi / 4 * 1e-6, pressure_drop=10 * BAR, density=857.0
    )
    found = pilot.pilot_shift_time(start_drop=10 * BAR, end_drop=10 * BAR, **CHOKE)
    assert found == pytest.approx(AREA * 7 * MM / flow, rel=1e-12)


@given(st.floats(2, 40), st.floats(0.05, 0.99))
def test_against_a_spring_the_time_is_the_integral_along_the_stroke(start: float, left: float) -> None:
    """The closed form against 2000 slices of the stroke, each with the pressure that the spring leaves there."""
    end = start * left
    slices = 2000
    whole = 0.0
    for i in range(slices):
        drop = start + (end - start) * (i + 0.5) / slices
        flow = orifice.orifice_flow(
            discharge_coefficient=0.61, area=math.pi / 4 * 1e-6, pressure_drop=drop * BAR, density=857.0
        )
        whole += AREA * 7 * MM / slices / flow
    found = pilot.pilot_shift_time(start_drop=start * BAR, end_drop=end * BAR, **CHOKE)
    assert found == pytest.approx(whole, rel=1e-4)


def test_a_choke_twice_as_wide_takes_a_quarter_of_the_time() -> None:
    drops = {"start_drop": 12 * BAR, "end_drop": 7 * BAR}
    narrow = pilot.pilot_shift_time(**CHOKE, **drops)
    wide = pilot.pilot_shift_time(**CHOKE | {"choke_diameter": 2 * MM}, **drops)
    assert wide == pytest.approx(narrow / 4, rel=1e-12)


def test_what_forces_leave_of_the_pressure() -> None:
    assert pilot.remaining_drop(pilot_difference=5 * BAR, force=100.0, spool_diameter=0.022) == pytest.approx(
        5 * BAR - 100 / AREA
    )
    assert pilot.remaining_drop(pilot_difference=5 * BAR, force=1000.0, spool_diameter=0.022) == 0


def test_pressure_centring_is_pressure_on_the_ring() -> None:
    ring = math.pi * 0.026 * 0.002  # mean diameter 26 mm, width 2 mm
    found = pilot.centring_force(pilot_pressure=20 * BAR, outer_diameter=0.028, inner_diameter=0.024)
    assert found == pytest.approx(20 * BAR * ring, rel=1e-12)
    assert pilot.centring_force(pilot_pressure=20 * BAR, outer_diameter=0.024, inner_diameter=0.024) == 0


# ---- the manual override

PUSH = {"spring_preload": 22.0, "override_diameter": 0.005}


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ({"dry_friction": 5.0, "tank_pressure": 0.0}, 27.00),
        ({"dry_friction": 5.0, "tank_pressure": 4 * BAR, "lateral_friction": 2.01}, 36.86),
        ({"dry_friction": 5.0, "tank_pressure": 4 * BAR, "lateral_friction": 2.01, "silt_at_start": 16.97}, 53.83),
        ({"dry_friction": 1.5, "tank_pressure": 0.0}, 23.50),
        ({"dry_friction": 1.5, "tank_pressure": 4 * BAR}, 31.35),
    ],
)
def test_push_of_the_worked_valve(given: dict[str, float], expected: float) -> None:
    """Independent calculation, no published source: a 16 mm valve as found and repaired, pin of 5 mm."""
    assert override.override_force(**PUSH, **given) == pytest.approx(expected, abs=0.1)


def test_two_newtons_for_each_bar_on_a_pin_of_five_millimetres() -> None:
    """By hand: 0.7854 · 25 mm² · 0.1 N/mm² = 1.9635 N; 50 bar alone are 98 N."""
    alone = {"spring_preload": 0.0, "dry_friction": 0.0, "override_diameter": 0.005}
    assert override.override_force(tank_pressure=BAR, **alone) == pytest.approx(1.9635, abs=1e-4)
    assert override.override_force(tank_pressure=50 * BAR, **alone) == pytest.approx(98, abs=0.5)


def test_pilot_pages_refuse_what_cannot_be_and_doubt_what_is_far_off() -> None:
    example = {
        "spool_diameter": "24 mm", "stroke": "8 mm", "choke_diameter": "4 mm", "start_drop": "14 bar",
        "end_drop": "9 bar", "density": "857 kg/m³",
    }  # fmt: skip
    assert "chokes little" in str(calc("pilot-shift-time", **example).to_json()["limits"])
