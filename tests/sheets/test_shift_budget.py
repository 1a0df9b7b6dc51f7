"""The shift budget of an invented valve against a calculation written out by hand in this file, with `math` only.

No published case covers the whole budget; the pieces have theirs beside the formulas. What is tested here is that
the sheet puts them together as the force balance of a spool says. The hand calculation shares no code with it.
"""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.sheets.hand_budget import (
    BAR,
    BUDGET,
    CASES,
    CURVE,
    LANDS,
    LPM,
    MM,
    PLAIN,
    UM,
    hand,
    hand_corner,
    hand_least,
    ohms,
    valve,
)
from valvecalc.compiled import fast
from valvecalc.door import calc, find
from valvecalc.primitives import grid, threshold_between
from valvecalc.sheets import shift
from valvecalc.sheets.valve import Valve


def names(case: dict[str, Any]) -> str:
    return f"{case['direction']} {case['state']} {case['driven_port']}"


@pytest.mark.parametrize("case", CASES, ids=names)
def test_every_row_of_the_stroke_is_the_hand_calculation(case: dict[str, Any]) -> None:
    rows = BUDGET(valve(**case))["stroke_rows"]
    assert len(rows) >= 64
    for row in rows:
        expected = hand(PLAIN | case, row["position"])
        assert set(row) == set(expected)
        force = max(abs(expected[name]) for name in expected if name.endswith("_force") or name == "drive")
        for name, value in expected.items():
            scale = force if name == "margin" else 1.0 if name == "margin_share" else 0.0
            assert row[name] == pytest.approx(value, rel=1e-11, abs=1e-11 * scale), (name, row["position"])


def dips(case: dict[str, Any]) -> bool:
    """On release with flow the margin dips smoothly within one radial clearance of the overlap, between two places
    of the grid: the gap does not yet open, the growing lands already press. The grid misses it by millinewtons."""
    return case["direction"] == "release" and case["state"] == "flow" and case["driven_port"] == "B"


@pytest.mark.parametrize("case", CASES, ids=names)
def test_the_least_margin_is_the_hand_calculations(case: dict[str, Any]) -> None:
    """The sheet's places against 720 and more by hand: the same minimum, since every bend is a place."""
    found, expected = BUDGET(valve(**case)), hand_least(PLAIN | case)
    if dips(case):
        expected = hand_least(PLAIN | case, 7200)
        assert expected["margin"] < found["margin"] < expected["margin"] + 0.005
        assert PLAIN["overlap"] < expected["position"] < PLAIN["overlap"] + PLAIN["clearance"]
    else:
        assert found["margin"] == pytest.approx(expected["margin"], rel=1e-9)
        assert found["margin_position"] == pytest.approx(expected["position"], abs=2e-9)
    assert found["worst"][0]["margin"] == found["margin"]


@pytest.mark.parametrize("case", CASES, ids=names)
def test_a_coarse_grid_gives_the_figures_of_a_fine_one(case: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    coarse = shift.shift_budget(valve(**case))
    monkeypatch.setattr(shift, "grid", lambda low, high, steps, *more: grid(low, high, 720, *more))
    fine = shift.shift_budget(valve(**case))
    assert len(fine["stroke_rows"]) > 720 > len(coarse["stroke_rows"])
    for name in ("margin", "margin_share", "start_margin", "end_margin", "after_opening_margin"):
        missed = {"margin": 0.005, "after_opening_margin": 0.005, "margin_share": 2e-4}.get(name, 0.0)
        assert coarse[name] == pytest.approx(fine[name], rel=1e-9, abs=missed if dips(case) else 0.0), name


def test_the_corner_is_where_the_pump_flow_just_passes() -> None:
    found = BUDGET(valve())
    assert found["corner_opening"] == pytest.approx(hand_corner(PLAIN), rel=1e-12)
    at = min(found["stroke_rows"], key=lambda row: abs(row["position"] - PLAIN["overlap"] - found["corner_opening"]))
    assert at["flow"] == pytest.approx(PLAIN["pump_flow"], rel=1e-12)
    assert at["flow_force"] == max(row["flow_force"] for row in found["stroke_rows"])
    assert 0 < found["corner_opening"] < PLAIN["stroke"] - PLAIN["overlap"]


def test_start_opening_and_end_are_told_apart() -> None:
    energise, release = BUDGET(valve()), BUDGET(valve(direction="release"))
    at = {s: hand(PLAIN, s)["margin"] for s in (0.0, PLAIN["stroke"])}
    assert energise["start_margin"] == pytest.approx(at[0.0], rel=1e-9)
    assert energise["end_margin"] == pytest.approx(at[PLAIN["stroke"]], rel=1e-9)
    back = {s: hand(PLAIN | {"direction": "release"}, s)["margin"] for s in (0.0, PLAIN["stroke"])}
    assert release["start_margin"] == pytest.approx(back[PLAIN["stroke"]], rel=1e-9)
    assert release["end_margin"] == pytest.approx(back[0.0], rel=1e-9)
    opened = [row for row in energise["stroke_rows"] if row["position"] > PLAIN["overlap"]]
    assert energise["after_opening_margin"] == min(row["margin"] for row in opened)
    assert energise["after_opening_position"] > PLAIN["overlap"]


def test_a_stroke_that_opens_no_edge_still_has_an_answer() -> None:
    found = BUDGET(valve(overlap=3.2 * MM, state="blocked"))
    assert found["after_opening_margin"] == found["margin"]


# ---------------------------------------------------------------- solved backwards


def test_the_flow_force_factor_from_one_limit_point() -> None:
    """New valve, 52 L/min at 210 bar just passes at the curve's own current: the factor at which nothing is left."""
    limit = {
        "coil_voltage": 33.0,
        "winding_temperature": 273.15 + 90,
        "resistance_20": 61.5,
        "pump_flow": 52 * LPM,
        "supply_pressure": 210 * BAR,
        "tank_pressure": 0.0,
        "load_pressure_difference": 0.0,
        "return_ratio": 1.0,
        "silt_at_start": 0.0,
    }
    kappa = threshold_between(BUDGET, valve(**limit, flow_force_factor=1.0), "flow_force_factor", "margin", 0.0, 2.0)
    assert kappa is not None and 0.1 < kappa < 1.0
    nothing_left = hand_least(PLAIN | limit | {"flow_force_factor": kappa})
    assert nothing_left["margin"] == pytest.approx(0.0, abs=1e-9)
    # flow force is the only force that the factor scales: at that place it is all that the rest leaves
    without = hand(PLAIN | limit | {"flow_force_factor": 0.0}, nothing_left["position"])["margin"]
    unit = hand(PLAIN | limit | {"flow_force_factor": 1.0}, nothing_left["position"])["flow_force"]
    assert kappa == pytest.approx(without / unit, rel=1e-9)


SINGLE = [
    PLAIN,
    PLAIN | {"direction": "release", "state": "no-pressure", "silt_at_start": 1.0},
    PLAIN | {"state": "blocked", "silt_at_start": 9.0},
]


@pytest.mark.parametrize("case", SINGLE, ids=names)
def test_each_single_cause_is_where_nothing_is_left(case: dict[str, Any]) -> None:
    found = fast(find("single-causes"))(Valve(**case))
    causes = {row["cause"]: row["threshold"] for row in found["single_causes"]}
    values = {name: value for name, value in causes.items() if value is not None}
    assert len(values) >= 4
    for name, value in values.items():
        assert hand_least(case | {name: value})["margin"] == pytest.approx(0.0, abs=2e-8), name
        assert value != case[name]
    # friction adds newton for newton: what is left is what it may grow by
    least = hand_least(case)["margin"]
    assert causes["dry_friction"] == pytest.approx(case["dry_friction"] + least, rel=1e-9)


def test_no_threshold_within_the_limits_stays_empty() -> None:
    """Without oil pressure neither tank line nor taper stops the spool, whatever they are."""
    found = fast(find("single-causes"))(valve(state="no-pressure"))
    causes = {row["cause"]: row["threshold"] for row in found["single_causes"]}
    for name in ("tank_pressure", "added_taper", "pump_flow", "supply_pressure", "flow_force_factor"):
        assert causes[name] is None, name
    assert causes["spring_preload"] is not None


@pytest.mark.parametrize("state", ["flow", "blocked", "no-pressure"])
def test_the_pick_up_voltage_tells_the_smallest_share(state: str) -> None:
    """Force goes with voltage squared below the curve's current, so 1 - (U_pu/U)² is the smallest share in hand."""
    record = valve(state=state)
    found = BUDGET(record)
    assert found["current_ratio"] <= 1.0
    pickup = fast(find("single-causes"))(record)["pickup_hot"]
    assert 1 - (pickup / PLAIN["coil_voltage"]) ** 2 == pytest.approx(found["margin_share"], rel=1e-9)


def test_a_cold_coil_picks_up_lower_by_its_resistance() -> None:
    """Same force, same current: the voltages go as the resistances, hot over 20 °C."""
    found = fast(find("single-causes"))(valve())
    ratio = ohms(61.0, PLAIN["winding_temperature"]) / 61.0
    assert found["pickup_hot"] / found["pickup_cold"] == pytest.approx(ratio, rel=1e-12)


def test_through_the_door_in_shop_units() -> None:
    """The same valve as texts and rows; a few figures by hand."""
    told: dict[str, Any] = {
        "direction": "energise", "state": "flow", "driven_port": "B", "spool_diameter": "13 mm",
        "clearance": "5 µm", "stroke": "2.8 mm", "overlap": "1.1 mm", "spring_preload": "16 N",
        "spring_rate": "5.3 N/mm", "coil_voltage": "32.4 V", "winding_temperature": "95 °C", "resistance_20": "61 Ω",
        "force_curve": "; ".join(f"{s} mm {f} N" for s, f in CURVE), "curve_voltage": "33 V",
        "curve_temperature": "90 °C", "curve_resistance_20": "61.5 Ω",
        "lands": [
            {"high_port": h, "low_port": low, "opens_for": o, "taper": f"{t} µm", "live_grooves": f"{int(g)}"}
            for h, low, o, t, g in LANDS
        ],
        "density": "857 kg/m³", "supply_pressure": "180 bar", "tank_pressure": "5 bar", "pump_flow": "38 L/min",
        "return_ratio": "1.45", "dry_friction": "2.2 N", "load_pressure_difference": "22 bar", "silt_at_start": "5 N",
        "residual_at_end": "1.8 N", "flow_force_factor": "0.19", "friction_coefficient": "0.13",
        "discharge_coefficient": "0.66", "open_circumference": "0.75", "pin_area": "4 mm²", "pin_error": "0.05 mm",
        "detent_force": "0.7 N", "lateral_scale": "1.2", "force_scale": "1.05", "added_taper": "0.5 µm",
    }  # fmt: skip
    answer = calc("shift-budget", **told)
    assert answer.results["margin"] == pytest.approx(hand_least(PLAIN)["margin"], rel=1e-9)
    assert answer.headline == "margin_share"
    less = calc("shift-budget", **{name: value for name, value in told.items() if name != "dry_friction"})
    assert "dry_friction" in {lack.entry for lack in less.missing}


# ---------------------------------------------------------------- what more of a thing does

ENERGISE_LESS = ["dry_friction", "silt_at_start", "spring_preload", "spring_rate", "detent_force", "flow_force_factor",
                 "friction_coefficient", "winding_temperature", "resistance_20", "added_taper", "pin_area"]  # fmt: skip
ENERGISE_MORE = ["coil_voltage", "force_scale"]
RELEASE_LESS = ["dry_friction", "silt_at_start", "detent_force", "residual_at_end", "friction_coefficient"]
RELEASE_MORE = ["spring_preload", "spring_rate", "flow_force_factor", "pin_area"]
WAYS = [
    *[("energise", name, -1) for name in ENERGISE_LESS],
    *[("energise", name, +1) for name in ENERGISE_MORE],
    *[("release", name, -1) for name in RELEASE_LESS],
    *[("release", name, +1) for name in RELEASE_MORE],
]


@given(
    way=st.sampled_from(WAYS),
    state=st.sampled_from(["flow", "blocked", "no-pressure"]),
    port=st.sampled_from("AB"),
    start=st.floats(0.5, 1.5),
    step=st.floats(1e-3, 0.5),
)
@settings(max_examples=150, deadline=None, derandomize=True)
def test_more_of_a_thing_never_moves_the_margin_the_wrong_way(
    way: tuple[str, str, int], state: str, port: str, start: float, step: float
) -> None:
    """More friction, silt, spring or heat leaves less; more voltage leaves more; on release the spring helps."""
    direction, name, sign = way
    # the taper only up to its largest coefficient (0.83 of the clearance); the widest land has 2.5 µm already
    base = 0.5 * UM if name == "added_taper" else PLAIN[name]
    before = BUDGET(valve(direction=direction, state=state, driven_port=port, **{name: base * start}))
    after = BUDGET(valve(direction=direction, state=state, driven_port=port, **{name: base * start * (1 + step)}))
    change = after["margin"] - before["margin"]
    assert sign * change >= -1e-9
    assert sign * (after["start_margin"] - before["start_margin"]) >= -1e-9


@given(flow=st.floats(5, 120), step=st.floats(0.01, 1.0))
@settings(max_examples=60, deadline=None, derandomize=True)
def test_more_pump_flow_never_helps_the_coil(flow: float, step: float) -> None:
    """The corner moves out and its peak grows; before the corner nothing changes."""
    less, more = (BUDGET(valve(pump_flow=q * LPM))["margin"] for q in (flow, flow * (1 + step)))
    assert more <= less + 1e-9


def test_a_curve_shorter_than_the_stroke_is_told_in_shop_units() -> None:
    card = find("shift-budget")
    (lack, *_) = calc(card.id, **{**card.example, "stroke": "4 mm"}).missing
    assert lack.why.endswith("position 3.06667 mm lies outside the table of curve_force (0 mm to 3.00000 mm)")
