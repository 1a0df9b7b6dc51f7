"""The tables of lines, cylinders and hot metal against their own arithmetic."""

import inspect
from itertools import pairwise
from typing import Any

import pytest

from valvecalc.facts import load_table
from valvecalc.formulas import lines, oil_under_pressure
from valvecalc.sheets.line_check import KINDS


def test_speeds_in_feet_and_metres() -> None:
    """The m/s figures noted beside the ft/s figures, to 0.01 m/s; high over low; every kind is in the sheet."""
    rows = load_table("line_velocities.csv")
    assert tuple(row["line_kind"] for row in rows) == KINDS
    noted = [(0.61, 1.22), (3.05, 4.57), (3.05, 4.57), (4.57, 6.10), (6.10, 7.62)]
    for row, (low, high) in zip(rows, noted, strict=True):
        assert row["first_guide_low"] == pytest.approx(low, abs=5.1e-3)
        assert row["first_guide_high"] == pytest.approx(high, abs=5.1e-3)
        assert row["second_guide_low"] < row["second_guide_high"]


def test_stiffness_of_tube_and_hose() -> None:
    """The tube loses to its wall what the formulas say: the oil behind its figures rises from 1.53 to 2.0 GPa."""
    wall = oil_under_pressure.tube_wall_modulus(wall_thickness=1.75e-3, tube_bore=12.5e-3)
    behind = []
    for row in load_table("bulk_modulus_lines.csv"):
        behind.append(1 / (1 / row["tube_stiffness"] - 1 / wall))
        assert row["hose_stiffness"] is None or 0.33 < row["hose_stiffness"] / row["tube_stiffness"] < 0.37
    assert all(b > a for a, b in pairwise(behind))
    assert 1.50e9 < behind[0] < 1.60e9 and 1.9e9 < behind[-1] < 2.05e9


def test_bores_and_rods_rise_by_their_series() -> None:
    """R 10 is 1.259, R 20 is 1.122, each rounded to whole millimetres; every rod fits a bore."""
    rows = load_table("cylinder_series.csv")
    bores = [row["diameter"] for row in rows if row["kind"] == "bore"]
    rods = [row["diameter"] for row in rows if row["kind"] == "rod"]
    assert len(bores) == 12 and len(rods) == 22 and len(rows) == 34
    assert all(1.24 < b / a < 1.29 for a, b in pairwise(bores))
    assert all(1.09 < b / a < 1.18 for a, b in pairwise(rods))
    assert max(rods) < max(bores)


def test_fittings_are_the_librarys() -> None:
    hooper = pytest.importorskip("fluids").fittings.Hooper
    names = {
        "tube bend 90°": "Elbow, 90°, Long-radius (R/D = 1.5), All types",
        "elbow 90° rounded": "Elbow, 90°, Standard (R/D = 1), Screwed",
        "elbow 90° drilled sharp": "Elbow, 90°, Mitered (R/D = 1.5), 1 weld (90° angle)",
        "elbow 45°": "Elbow, 45°, Standard (R/D = 1), All types",
        "tee straight through": "Tee, Run, Screwed",
        "tee into the branch": "Elbow, Used as, Standard, Screwed",
        "ball valve full open": "Valve, Ball, Reduced trim, Beta = 0.9",
        "gate valve full open": "Valve, Gate, Full line size, Beta = 1",
        "globe or needle valve full open": "Valve, Globe, Standard",
        "check valve with lift plug": "Valve, Check, Lift",
        "check valve with flap": "Valve, Check, Swing",
    }
    rows = load_table("fitting_losses.csv")
    assert [row["fitting"] for row in rows] == list(names)
    for row in rows:
        assert (row["laminar_coefficient"], row["turbulent_coefficient"]) == hooper[names[row["fitting"]]]


def defaults(function: Any) -> dict[str, float]:
    return {name: entry.default for name, entry in inspect.signature(function).parameters.items()}


def test_counted_fittings_take_the_rows_of_the_table() -> None:
    rows = {row["fitting"]: row for row in load_table("fitting_losses.csv")}
    laminar, turbulent = defaults(lines.counted_laminar), defaults(lines.counted_turbulent)
    for name, fitting in (
        ("bend", "tube bend 90°"),
        ("elbow", "elbow 90° drilled sharp"),
        ("tee", "tee into the branch"),
    ):
        assert laminar[f"{name}_laminar"] == rows[fitting]["laminar_coefficient"]
        assert turbulent[f"{name}_turbulent"] == rows[fitting]["turbulent_coefficient"]


def test_touch_limits_fall_as_the_touch_gets_longer() -> None:
    rows = load_table("touch_limits.csv")
    assert all(a["metal_limit"] < b["metal_limit"] for a, b in pairwise(rows))
    assert all(a["plastic_limit"] <= b["plastic_limit"] for a, b in pairwise(rows))
    assert all(row["metal_limit"] <= row["plastic_limit"] for row in rows)


def test_serious_burns_lie_above_the_touch_limits() -> None:
    """A burn after 1.5 to 2 min, 30 s, 10 s, 5 s, 3 s, 1.5 s, 1 s: never under the limit for a touch of that time."""
    burns = [row["metal_temperature"] - 273.15 for row in load_table("burn_time.csv")]
    limits = [48, 48, 51, 51, 60, 60, 60, 60]
    assert len(burns) == len(limits) and all(b > a for a, b in pairwise(burns))
    assert all(burn >= limit for burn, limit in zip(burns, limits, strict=True))
