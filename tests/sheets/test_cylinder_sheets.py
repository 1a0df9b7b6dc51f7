"""Drift check and cylinder check: figures worked by hand beside each test."""

import math

import pytest

from valvecalc.door import calc, find
from valvecalc.judge import verdicts

CAP = math.pi / 4 * 63**2  # mm²
RING = math.pi / 4 * (63**2 - 36**2)
ROD = CAP - RING
ML_MIN = 1e-6 / 60

DRIFT = dict(find("drift-check").example)
FRAME = dict(find("cylinder-check").example)


# ---------------------------------------------------------------- drift


def test_the_oil_behind_a_drift() -> None:
    """21 mm in 5 min are 4.2 mm/min; times 3117 mm² that is 13.1 mL/min; 2 mm/min allowed are 6.2 mL/min."""
    answer = calc("drift-check", **DRIFT)
    found = answer.results
    assert found["drift_speed"] * 60e3 == pytest.approx(4.2, rel=1e-12)
    assert found["drift_leakage"] / ML_MIN == pytest.approx(4.2 * CAP / 1000, rel=1e-12)
    assert found["drift_leakage"] / ML_MIN == pytest.approx(13.1, abs=0.05)
    assert found["allowed_leakage"] / ML_MIN == pytest.approx(2 * CAP / 1000, rel=1e-12)
    assert found["drift_share"] == pytest.approx(2.1, rel=1e-12)
    assert verdicts(answer)["drift_share"] == "reject"


def test_the_shut_cylinder_of_the_example() -> None:
    """29 bar on 3117 mm² are 9040 N, on 1018 mm² of rod 88.8 bar. By hand 5.74 mm: 0.7 L squeezed by 59.8 bar
    and 0.45 L by 88.8, of 14 000 bar stiffness, over the rod's area."""
    found = calc("drift-check", **DRIFT).results
    assert found["load_force"] == pytest.approx(2.9 * CAP, rel=1e-12)
    assert found["equalised_pressure"] / 1e5 == pytest.approx(29 * CAP / ROD, rel=1e-12)
    squeezed = (0.7e6 * (29 * CAP / ROD - 29) + 0.45e6 * 29 * CAP / ROD) / 14000
    assert found["sinking_distance"] * 1000 == pytest.approx(squeezed / ROD, rel=1e-12)
    assert found["sinking_distance"] * 1000 == pytest.approx(5.74, abs=0.01)


@pytest.mark.parametrize(
    ("side", "shut", "verdict", "step"),
    [
        ("piston side", "0.5 mm", "valve or line", "valve"),
        ("rod side", "0.5 mm", "valve or line", "valve"),
        ("piston side", "20 mm", "valve and cylinder both", "cylinder first"),
        ("piston side", "41 mm", "rod seal or port", "cylinder: look"),
        ("rod side", "41 mm", "piston seal, rod seal or port", "cylinder: look"),
    ],
)
def test_who_lets_the_load_go(side: str, shut: str, verdict: str, step: str) -> None:
    """42 mm would be the same drift in 10 min. A piston seal is named only where the load pulls the rod out."""
    found = calc("drift-check", **DRIFT | {"load_side": side, "shut_distance": shut}).results
    assert found["drift_verdict"] == verdict
    assert found["next_step"].startswith(step)


def test_a_load_that_pulls_the_rod_out_never_evens_out() -> None:
    found = calc("drift-check", **DRIFT | {"load_side": "rod side"}).results
    assert found["drift_leakage"] / ML_MIN == pytest.approx(4.2 * RING / 1000, rel=1e-12)
    assert found["load_force"] == pytest.approx(2.9 * RING, rel=1e-12)
    assert found.get("equalised_pressure") is None and found.get("sinking_distance") is None


def test_one_drift_alone_gives_the_oil_and_no_culprit() -> None:
    given = {
        name: DRIFT[name] for name in ("load_side", "bore_diameter", "rod_diameter", "drift_distance", "drift_time")
    }
    answer = calc("drift-check", **given)
    assert answer.value is not None
    assert "drift_verdict" not in answer.results and "drift_share" not in answer.results
    assert verdicts(answer)["drift_share"] == "unknown"


# ---------------------------------------------------------------- cylinder


def test_forces_and_pressures_of_the_example() -> None:
    """140 bar on 3117 mm² less 6 bar on 2099 mm² are 42.4 kN: 0.95 of it running, 0.85 from rest."""
    answer = calc("cylinder-check", **FRAME)
    found = answer.results
    plain = 14.0 * CAP - 0.6 * RING
    assert found["push_force"] == pytest.approx(0.95 * plain, rel=1e-12)
    assert found["push_force"] == pytest.approx(40263, abs=1)
    assert found["breakaway_push"] == pytest.approx(0.85 * plain, rel=1e-12)
    assert found["push_share"] == pytest.approx(30000 / (0.85 * plain), rel=1e-12)
    assert found["pull_force"] == pytest.approx(0.95 * (14.0 * RING - 0.6 * CAP), rel=1e-12)
    assert found["extend_pressure"] / 1e6 == pytest.approx((30000 / 0.95 + 0.6 * RING) / CAP, rel=1e-12)
    assert found["retract_pressure"] / 1e6 == pytest.approx((14000 / 0.95 + 0.6 * CAP) / RING, rel=1e-12)
    assert found["intensified_pressure"] / 1e5 == pytest.approx(140 * CAP / RING, rel=1e-12)
    assert verdicts(answer) == {"push_share": "accept", "pull_share": "accept"}


def test_speeds_times_and_the_peak_of_the_example() -> None:
    """25 L/min on 3117 mm² are 133.7 mm/s and 400 mm take 2.99 s; 600 kg in 0.1 s ask for 802 N, which is 2.6 bar."""
    found = calc("cylinder-check", **FRAME).results
    speed = 25e6 / 60 / CAP
    assert found["extend_speed"] * 1000 == pytest.approx(speed, rel=1e-12)
    assert found["extend_speed"] * 1000 == pytest.approx(133.7, abs=0.05)
    assert found["extend_time_expected"] == pytest.approx(400 / speed, rel=1e-12)
    assert found["retract_time_expected"] / found["extend_time_expected"] == pytest.approx(RING / CAP, rel=1e-12)
    assert found["retract_return_flow"] * 60000 == pytest.approx(25 * CAP / RING, rel=1e-12)
    peak = 600 * speed / 1000 / 0.1 / CAP
    assert found["acceleration_pressure"] / 1e6 == pytest.approx(peak, rel=1e-12)
    assert found["acceleration_pressure"] / 1e6 == pytest.approx(0.257, abs=0.001)
    assert found["peak_pressure"] == pytest.approx(found["extend_pressure"] + found["acceleration_pressure"], rel=1e-12)


def test_a_load_beyond_the_force_from_rest_is_refused() -> None:
    answer = calc("cylinder-check", **FRAME | {"push_load": "38 kN"})
    assert answer.results["push_share"] > 1
    assert verdicts(answer)["push_share"] == "reject"


# ---------------------------------------------------------------- rod

BUCKLING = dict(find("rod-buckling").example)


def test_the_rod_of_the_example() -> None:
    """36 mm, 1100 mm pinned: I = 82 448 mm⁴, 141.2 kN by Euler, against 140 bar on 3117 mm², 43.6 kN: 3.24 times."""
    answer = calc("rod-buckling", **BUCKLING)
    found = answer.results
    inertia = math.pi * 36**4 / 64
    load = math.pi**2 * 210e3 * inertia / 1100**2
    assert inertia == pytest.approx(82448, abs=1)
    assert found["buckling_load"] == pytest.approx(load, rel=1e-12)
    assert found["pushing_force"] == pytest.approx(14.0 * CAP, rel=1e-12)
    assert found["buckling_safety"] == pytest.approx(load / (14.0 * CAP), rel=1e-12)
    assert found["buckling_safety"] == pytest.approx(3.24, abs=0.005)
    assert found["allowed_load"] == pytest.approx(load / 3.5, rel=1e-12)
    assert found["allowed_pressure"] / 1e6 == pytest.approx(load / 3.5 / CAP, rel=1e-12)
    assert found["slenderness"] == pytest.approx(4 * 1100 / 36, rel=1e-12)
    assert found["buckling_rule"] == "Euler"
    assert verdicts(answer)["buckling_safety"] == "reject"


@pytest.mark.parametrize(
    ("ends", "factor"),
    [("both pinned", 1), ("one fixed, one pinned", 0.7), ("both fixed", 0.5), ("one fixed, one free", 2)],
)
def test_the_ends_of_the_rod(ends: str, factor: float) -> None:
    found = calc("rod-buckling", **BUCKLING | {"rod_ends": ends}).results
    assert found["buckling_length"] == pytest.approx(1.1 * factor, rel=1e-12)
    assert found["buckling_rule"] == ("Euler" if factor >= 1 else "Johnson")


def test_a_known_push_wins_over_bore_and_pressure_and_either_is_enough() -> None:
    found = calc("rod-buckling", **BUCKLING | {"load_force": "20 kN"}).results
    assert found["pushing_force"] == 20000
    alone = {name: BUCKLING[name] for name in ("rod_ends", "rod_diameter", "mounted_length")} | {"load_force": "20 kN"}
    answer = calc("rod-buckling", **alone)
    assert answer.results["buckling_safety"] == pytest.approx(found["buckling_safety"], rel=1e-12)
    assert "allowed_pressure" not in answer.results
    assert verdicts(answer)["buckling_safety"] == "accept"


# ---------------------------------------------------------------- creep


def test_the_creep_of_the_example() -> None:
    """80 bar on a rod of 1018 mm² are 8.14 kN. 36 mL/min are 18 past each land at 80 bar: by hand 2.59 mm/min."""
    found = calc("creep-check", **find("creep-check").example).results
    assert found["stall_force"] == pytest.approx(8.0 * ROD, rel=1e-12)
    speed = 18e3 / 80 * 160 * ROD / (CAP**2 + RING**2)
    assert found["creep_speed"] * 60e3 == pytest.approx(speed, rel=1e-12)
    assert found["creep_speed"] * 60e3 == pytest.approx(2.59, abs=0.005)
    assert found["worst_stall_force"] == pytest.approx(16.0 * CAP, rel=1e-12)
    assert found["shut_pressure"] == pytest.approx(80e5, rel=1e-12)


def test_the_force_is_told_without_any_leakage_reading() -> None:
    found = calc("creep-check", bore_diameter="63 mm", rod_diameter="36 mm", supply_pressure="160 bar").results
    assert found["stall_force"] == pytest.approx(8.0 * ROD, rel=1e-12)
    assert "creep_speed" not in found


# ---------------------------------------------------------------- leakage where the spool stands

CENTRE = dict(find("centre-leakage").example)


def test_leakage_of_a_closed_centre_hardly_moves_with_the_spool_but_the_ports_do() -> None:
    """1.4 mm overlap each: 2.8 mm in series wherever it stands. 0.8 mm out: 2.2 and 0.6 of 2.8 of 160 bar."""
    middle = calc("centre-leakage", **CENTRE | {"travel": "0 mm"}).results
    moved = calc("centre-leakage", **CENTRE).results
    assert moved["expected_leakage_centred"] == pytest.approx(middle["expected_leakage_centred"], rel=1e-12)
    assert middle["port_a"] == pytest.approx(80e5, rel=1e-9)
    assert moved["port_a"] / 1e5 == pytest.approx(160 * 2.2 / 2.8, rel=0.01)
    assert moved["port_b"] / 1e5 == pytest.approx(160 * 0.6 / 2.8, rel=0.01)


def test_leakage_of_the_example_is_that_of_the_leakage_check() -> None:
    """Two paths of two equal lands, 80 bar each: the leakage check's own figure, less the entrance (under 1 %)."""
    found = calc("centre-leakage", **CENTRE | {"travel": "0 mm"}).results
    plain = calc(
        "leak-check", leakage="1 mL/min", spool_diameter="16 mm", land_length="1.4 mm", pressure_drop="160 bar",
        lands_in_series="2", parallel_paths="2", viscosity_40="32 mm²/s", oil_temperature="44 °C",
        diametral_clearance="12 µm",
    ).results  # fmt: skip
    for name in ("expected_leakage_centred", "expected_leakage_touching"):
        assert 0.98 * plain[name] < found[name] < plain[name], name
    assert found["leakage_over_expected"] == pytest.approx(60 * ML_MIN / found["expected_leakage_touching"], rel=1e-12)


def test_one_short_land_shows_on_its_own_path() -> None:
    """0.2 mm in place of 1.4 between A and T: path A seals over 1.6 mm instead of 2.8."""
    worn = calc("centre-leakage", **CENTRE | {"travel": "0 mm", "overlap_at": "0.2 mm"}).results
    assert worn["path_a_leakage"] / worn["path_b_leakage"] == pytest.approx(2.8 / 1.6, rel=0.02)
    assert worn["port_a"] < worn["port_b"]


# ---------------------------------------------------------------- size


def test_bore_and_rod_of_the_example() -> None:
    """38 kN at 125 bar and 0.85 ask for 67.5 mm: 80. 1300 mm and 133 kN: 40 mm bears 154 kN by Euler, 36 mm 101."""
    found = calc("cylinder-size", **find("cylinder-size").example).results
    assert found["needed_bore"] * 1000 == pytest.approx(math.sqrt(38000 * 4 / (math.pi * 0.85 * 12.5)), rel=1e-12)
    assert found["needed_bore"] * 1000 == pytest.approx(67.5, abs=0.05)
    assert found["series_bore"] == pytest.approx(0.08, rel=1e-12)
    assert found["extend_pressure"] / 1e6 == pytest.approx(38000 / 0.85 / (math.pi / 4 * 80**2), rel=1e-12)
    assert found["needed_load"] == pytest.approx(3.5 * 38000, rel=1e-12)
    bears = {rod: math.pi**3 * 210e3 * rod**4 / (64 * 1300**2) for rod in (36, 40)}
    assert bears[36] < 3.5 * 38000 < bears[40]
    assert found["series_rod"] == pytest.approx(0.04, rel=1e-12)
    assert found["buckling_load"] == pytest.approx(bears[40], rel=1e-9)


def test_a_bore_that_is_just_enough_is_taken_and_a_load_beyond_the_series_has_no_answer() -> None:
    just = math.pi / 4 * 0.08**2 * 125e5 * (1 - 1e-9)
    given = {"load_force": just, "supply_pressure": "125 bar", "mechanical_efficiency": "1"}
    assert calc("cylinder-size", **given).results["series_bore"] == pytest.approx(0.08, rel=1e-12)
    assert calc("cylinder-size", **given | {"load_force": 1.01 * just}).results["series_bore"] == pytest.approx(0.1)
    assert calc("cylinder-size", **given | {"load_force": "2000 kN"}).value is None
