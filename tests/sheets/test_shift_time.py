"""Shift time, drop-out and current trace: closed forms, an outside solver, and what a technician knows."""

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from valvecalc.compiled import fast
from valvecalc.door import calc, find
from valvecalc.formulas import motion, spool_motion

CURVE = [(0.0, 31.0), (0.8e-3, 34.0), (1.6e-3, 38.0), (2.4e-3, 46.0), (3.2e-3, 67.0)]
VALVE: dict[str, Any] = {
    "coil_voltage": 46.0, "resistance": 115.0, "open_inductance": 1.1, "curve_current": 0.36, "stroke": 3.2e-3,
    "force_curve": [{"position": s, "curve_force": f} for s, f in CURVE], "spring_preload": 14.0,
    "spring_rate": 3800.0, "moving_mass": 0.12, "dry_friction": 2.0, "damping": 12.0,
}  # fmt: skip


#: The oil around its spool: a hole of 1.2 mm between the ends, 42 mm of lands with 5 µm and oil of 200 mPa·s.
PASSAGE = {"spool_diameter": 13e-3, "passage_diameter": 1.2e-3, "density": 860.0}
FILM = {"spool_diameter": 13e-3, "viscosity": 0.2, "gap_length": 42e-3, "clearance": 5e-6}


def shift(**changes: Any) -> dict[str, Any]:
    return dict(calc("shift-time", **VALVE | changes).results)


def test_a_spool_that_is_held_leaves_the_plain_curve_of_the_current() -> None:
    """A spring far too strong: i = U/R · (1 - exp(-t·R/L)), no dip, no arrival."""
    found = shift(spring_preload=500.0)
    for row in found["trace"]:
        plain = 46 / 115 * (1 - math.exp(-row["time"] * 115 / 1.1))
        assert row["current"] == pytest.approx(plain, rel=1e-7, abs=1e-12)
        assert row["position"] == 0.0
    assert found["motion_verdict"] == "did not move"
    assert not {"arrival_time", "start_time", "dip_current", "pull_in_delay"} & set(found)


def test_the_inductance_holds_the_energy_of_the_curve() -> None:
    """By hand: the area under the curve, 0.8 mm each: 0.8e-3 · (31/2 + 34 + 38 + 46 + 67/2) J; L grows by twice that
    over the square of the current."""
    work = 0.8e-3 * (15.5 + 34 + 38 + 46 + 33.5)
    assert shift()["closed_inductance"] == pytest.approx(1.1 + 2 * work / 0.36**2, rel=1e-4)


def test_the_start_is_what_the_closed_form_says() -> None:
    """Pull at rest 31 N · (i/0.36)² against 14 + 2 N: i = 0.2586 A."""
    found = shift()
    current = 0.36 * math.sqrt(16 / 31)
    assert found["start_current"] == pytest.approx(current, rel=1e-12)
    assert found["pull_in_delay"] == pytest.approx(1.1 / 115 * math.log(46 / (46 - current * 115)), rel=1e-12)
    assert found["pull_in_delay"] < found["start_time"] < found["arrival_time"]


def by_the_square(passage_diameter: float) -> float:
    """Drag over the square of the speed, by hand: what the end pushes passes the hole, p = ρ/2 · (v·A / (C·a))²."""
    end, hole = math.pi / 4 * 13e-3**2, math.pi / 4 * passage_diameter**2
    return 860.0 / 2 * (end / (0.61 * hole)) ** 2 * end


def outside(volts: float, start: list[float], end: float, square: float = 0.0, straight: float = 12.0) -> Any:
    """The same motion by an outside solver, its own way: stops as events, friction by the sign of the speed."""
    places, forces = np.array(CURVE).T

    def rates(_: float, y: Any) -> list[float]:
        i, s, v, henry = y
        place = min(max(s, 0.0), 3.2e-3)
        curve = float(np.interp(place, places, forces))
        friction = 2.0 * v / (abs(v) + 2.0 * 5e-4 / 0.12)
        force = curve * (i / 0.36) ** 2 - 14.0 - 3800.0 * place - friction - straight * v - square * v * abs(v)
        if (s <= 0.0 and force < 0.0) or (s >= 3.2e-3 and force > 0.0):
            force, v = 0.0, 0.0
        slope = 2 * curve / 0.36**2 * v
        return [(volts - 115.0 * i - i * slope) / henry, v, force / 0.12, slope]

    class AtTheEnd:
        """Where the spool arrives; scipy stops there because of `terminal`."""

        terminal = True

        def __call__(self, _: float, y: Any) -> float:
            return float(y[1] - 3.2e-3) if volts > 0.0 else float(y[1])

    return solve_ivp(rates, (0.0, end), start, max_step=2e-5, rtol=1e-9, atol=1e-12, events=AtTheEnd())


def crossing(found: Any, place: float) -> float:
    s, t = found.y[1], found.t
    index = int(np.argmax(s >= place)) if s[0] < place else int(np.argmax(s <= place))
    return float(t[index])


def test_against_an_outside_solver() -> None:
    """scipy's solve_ivp, steps a fifth of ours, up to the end stop: times to 0.2 ms, currents to 1 %."""
    found = shift()
    on = outside(46.0, [0.0, 0.0, 0.0, 1.1], 0.15)
    assert found["start_time"] == pytest.approx(crossing(on, 0.05 * 3.2e-3), abs=2e-4)
    assert found["arrival_time"] == pytest.approx(crossing(on, 0.95 * 3.2e-3), abs=2e-4)
    for row in found["trace"]:
        if row["time"] < on.t[-1]:
            assert row["current"] == pytest.approx(float(np.interp(row["time"], on.t, on.y[0])), rel=0.01, abs=1e-4)
            assert row["position"] == pytest.approx(float(np.interp(row["time"], on.t, on.y[1])), abs=3e-5)
    # a current that runs out before the spool is back stops at zero: up to there the two agree
    off = outside(-0.8, [46 / 115, 3.2e-3, 0.0, found["closed_inductance"]], 0.15)
    assert found["release_start_time"] == pytest.approx(crossing(off, 0.95 * 3.2e-3), abs=3e-4)


@pytest.mark.parametrize(
    ("oil", "square", "straight"),
    [(PASSAGE, by_the_square(1.2e-3), 12.0), (FILM, 0.0, 12.0 + 0.2 * math.pi * 13e-3 * 42e-3 / 5e-6),
     (PASSAGE | FILM, by_the_square(1.2e-3), 12.0 + 0.2 * math.pi * 13e-3 * 42e-3 / 5e-6)],
)  # fmt: skip
def test_the_oil_against_an_outside_solver(oil: dict[str, float], square: float, straight: float) -> None:
    """Passage, film and both, switched on and off: times to 0.2 ms, places to 0.03 mm."""
    found = shift(**oil)
    on = outside(46.0, [0.0, 0.0, 0.0, 1.1], 0.15, square, straight)
    assert found["start_time"] == pytest.approx(crossing(on, 0.05 * 3.2e-3), abs=2e-4)
    assert found["arrival_time"] == pytest.approx(crossing(on, 0.95 * 3.2e-3), abs=2e-4)
    for row in found["trace"]:
        if row["time"] < on.t[-1]:
            assert row["position"] == pytest.approx(float(np.interp(row["time"], on.t, on.y[1])), abs=3e-5)
    off = outside(-0.8, [46 / 115, 3.2e-3, 0.0, found["closed_inductance"]], 0.15, square, straight)
    assert found["release_start_time"] == pytest.approx(crossing(off, 0.95 * 3.2e-3), abs=3e-4)


def test_a_spool_in_a_narrow_passage_runs_as_fast_as_its_drag_lets_it() -> None:
    """By hand, on the way back with the current gone: a spring of 20 N all the way, hardly any friction, a hole of
    0.5 mm. Drag equals spring at v = √(20 N / k) = 17 mm/s."""
    change = {
        "force_curve": [{"position": 0.0, "curve_force": 60.0}, {"position": 20e-3, "curve_force": 60.0}],
        "stroke": 20e-3, "spring_preload": 20.0, "spring_rate": 0.0, "dry_friction": 1e-4, "damping": 0.0,
        "open_inductance": 0.02, "clamp_voltage": 400.0, "window": 0.3,
    }  # fmt: skip
    found = shift(**change, **PASSAGE | {"passage_diameter": 0.5e-3})
    back = [row for row in found["release_trace"] if row["time"] > 0.1]
    assert abs(back[0]["current"]) < 1e-9 and back[-1]["position"] > 0.0
    speed = (back[0]["position"] - back[-1]["position"]) / (back[-1]["time"] - back[0]["time"])
    assert speed == pytest.approx(math.sqrt(20.0 / by_the_square(0.5e-3)), rel=1e-4)


def test_the_drag_is_that_of_the_formulas_for_one_speed_and_turns_with_it() -> None:
    entries = {name: value for name, value in PASSAGE.items() if name != "density"}
    area = motion.drag_area(**entries, discharge_coefficient=0.61)
    one_way = motion.exchange_drag(density=860.0, drag_area=area, armature_speed=0.3)
    assert one_way == pytest.approx(spool_motion.end_chamber_force(**PASSAGE, spool_speed=0.3), rel=1e-12)
    assert motion.exchange_drag(density=860.0, drag_area=area, armature_speed=-0.3) == -one_way
    assert motion.film_damping(**FILM) * 0.3 == pytest.approx(spool_motion.viscous_drag(**FILM, spool_speed=0.3))


def test_what_oil_does_to_the_time() -> None:
    """Thicker oil and a smaller passage shift later, both ways; a wide passage and a loose film do nothing."""
    for name in ("arrival_time", "release_time"):
        usual = shift()[name]
        thin, thick = (shift(**FILM | {"viscosity": viscosity})[name] for viscosity in (0.03, 0.3))
        wide, narrow = (shift(**PASSAGE | {"passage_diameter": hole})[name] for hole in (1.5e-3, 0.9e-3))
        assert usual < thin < thick
        assert usual < wide < narrow
        open_passage = PASSAGE | {"passage_diameter": 13e-3}
        assert shift(**open_passage)[name] == pytest.approx(usual, abs=1e-4)
        assert shift(**FILM | {"clearance": 1e-3})[name] == pytest.approx(usual, abs=2e-4)


def test_oil_that_is_told_in_part_is_left_out_and_said() -> None:
    part = calc("shift-time", **VALVE, spool_diameter=13e-3, viscosity=0.2, gap_length=42e-3)
    assert part.results == calc("shift-time", **VALVE).results
    told = {one["entry"]: one["why"] for one in part.to_json()["missing"]}
    assert "film" in told["clearance"] and "changes ends" in told["passage_diameter"]
    assert "film_damping" in shift(**FILM) and "drag_area" in shift(**PASSAGE)


@pytest.mark.parametrize("window", [0.01, 0.15, 0.3])
@pytest.mark.parametrize("moving_mass", [0.005, 0.12, 5.0])
def test_the_steps_hold_in_every_passage_that_is_let_in(moving_mass: float, window: float) -> None:
    """Slope of the drag at the speed where it takes all the force, times the step, over the mass that is stepped with:
    1 at most, and Runge-Kutta of the fourth order holds to 2.78. The spool neither runs away nor swings back."""
    force = max(67.0 * (0.4 / 0.36) ** 2, 14.0 + 3800.0 * 3.2e-3)
    for end in (2e-3, 13e-3, 50e-3, 200e-3):
        for hole in (0.3e-3, 0.5e-3, 1e-3, 3e-3, 50e-3):
            area = motion.drag_area(spool_diameter=end, passage_diameter=hole, discharge_coefficient=0.61)
            mass = motion.stepped_mass(
                moving_mass=moving_mass, film_damping=0.0, density=860.0, drag_area=area, solenoid_force=force,
                spring_force=0.0, window=window,
            )  # fmt: skip
            assert 2 * math.sqrt(860.0 / 2 * area * force) / mass * window / 1500 <= 1.0 + 1e-12
    narrow = {"spool_diameter": 13e-3, "moving_mass": moving_mass, "window": window, "density": 860.0}
    for hole in (0.3e-3, 0.7e-3):
        found = shift(**narrow, passage_diameter=hole)
        places = [row["position"] for row in found["trace"]]
        assert all(before <= after + 1e-6 for before, after in pairwise(places))
        assert all(-5e-5 < place < 3.2e-3 + 5e-5 for place in places)


def test_a_creeping_spool_has_no_use_for_its_mass() -> None:
    """A hole of 0.6 mm, so narrow that the steps ask for more mass: against the outside solver with the mass it has,
    1 % of the time."""
    oil = PASSAGE | {"passage_diameter": 0.6e-3}
    on = outside(46.0, [0.0, 0.0, 0.0, 1.1], 0.15, by_the_square(0.6e-3))
    assert shift(**oil)["arrival_time"] == pytest.approx(crossing(on, 0.95 * 3.2e-3), rel=0.01)


def test_half_the_step_changes_nothing_that_matters() -> None:
    """The same window in half the time steps the same way: a shorter window is a shorter step."""
    long, short = shift(window=0.15), shift(window=0.08)
    for name in ("start_time", "arrival_time", "release_start_time"):
        assert short[name] == pytest.approx(long[name], abs=2e-4)
    assert short["dip_current"] == pytest.approx(long["dip_current"], rel=0.02)


def test_what_every_technician_knows() -> None:
    usual = shift()
    assert usual["motion_verdict"] == "moved"
    # the dip is there and deep enough to be told, and the current climbs again afterwards
    assert usual["dip_current"] < 0.95 * usual["trace_peak_current"]
    assert usual["trace"][-1]["current"] > usual["trace_peak_current"]
    # hot and at low voltage: later; thick oil: later; more volts: sooner
    assert shift(coil_voltage=43.2, resistance=121.7)["arrival_time"] > usual["arrival_time"]
    assert shift(damping=60.0)["arrival_time"] > usual["arrival_time"]
    assert shift(coil_voltage=52.0)["arrival_time"] < usual["arrival_time"]
    # with a diode the way back starts later than with 47 V, and that later than with an open contact
    starts = [shift(clamp_voltage=volts)["release_start_time"] for volts in (0.8, 47.0, 400.0)]
    assert starts[0] > 2 * starts[1] > 2 * starts[2]
    # a stronger spring shifts later and comes back sooner
    strong = shift(spring_preload=17.0)
    assert strong["arrival_time"] > usual["arrival_time"]
    assert strong["release_start_time"] < usual["release_start_time"]


def test_beside_another_calculation() -> None:
    """Independent calculation, no published source, 24 V coil of 19.2 Ω, 0.25 H open and 0.57 H closed; its curve and
    mass are not told, so a curve of that energy (0.25 J at 1.25 A over 3 mm) stands in, and 25 % are left for it."""
    curve = [(0.0, 60.0), (1e-3, 70.0), (2e-3, 85.0), (3e-3, 120.0)]
    coil = {
        "coil_voltage": 24.0, "resistance": 19.2, "open_inductance": 0.25, "curve_current": 1.25, "stroke": 3e-3,
        "force_curve": [{"position": s, "curve_force": f} for s, f in curve], "spring_preload": 14.0,
        "spring_rate": 5590.0, "moving_mass": 0.05, "dry_friction": 1.5, "damping": 15.0,
    }  # fmt: skip
    cold = calc("shift-time", **coil).results
    hot = calc("shift-time", **coil | {"coil_voltage": 21.6, "resistance": 25.6}).results
    zener = calc("shift-time", **coil | {"clamp_voltage": 47.0}).results
    told = [
        (cold, "start_time", 12), (cold, "arrival_time", 29), (hot, "start_time", 17), (hot, "arrival_time", 57),
        (cold, "release_start_time", 27), (cold, "release_time", 40), (zener, "release_start_time", 8),
        (zener, "release_time", 14),
    ]  # fmt: skip
    for found, name, milliseconds in told:
        assert found[name] * 1000 == pytest.approx(milliseconds, rel=0.25), name
    assert cold["closed_inductance"] == pytest.approx(0.57, rel=0.05)
    currents = (cold["trace_peak_current"], cold["dip_current"], cold["full_current"])
    assert currents == pytest.approx((0.75, 0.65, 1.25), rel=0.1)


def test_a_flow_force_that_is_too_strong_stops_it_half_way() -> None:
    stuck = shift(flow_force=35.0, overlap=1.5e-3)
    assert stuck["motion_verdict"] == "did not arrive"
    assert "arrival_time" not in stuck and "start_time" in stuck
    assert 1.3e-3 < stuck["trace"][-1]["position"] < 1.9e-3


def test_a_curve_that_ends_before_the_stroke_has_no_value() -> None:
    answer = calc("shift-time", **VALVE | {"force_curve": VALVE["force_curve"][:-1]})
    assert answer.value is None and "outside the table" in answer.reason


def test_the_current_at_a_moment_is_that_of_the_trace() -> None:
    """And beyond the time looked at it is the last one."""
    found = shift(time=0.02)
    assert found["current"] == next(row["current"] for row in found["trace"] if abs(row["time"] - 0.02) < 1e-9)
    assert shift(time=0.25)["current"] == found["trace"][-1]["current"]
    assert "current" not in shift()


def test_the_spool_stays_within_its_stops() -> None:
    for row in (*shift()["trace"], *shift()["release_trace"]):
        assert -5e-5 < row["position"] < 3.2e-3 + 5e-5


def test_the_compiled_copy_equals_the_plain_function() -> None:
    card = find("shift-time")
    record = card.record(**card.defaults | VALVE | PASSAGE | FILM | {"time": 0.02})
    assert fast(card)(record) == card.function(record)


def test_javascript_steps_alike(tmp_path) -> None:
    from tests.node import ask_node, need_node
    from valvecalc.printing.javascript import module_text

    need_node()
    script = (
        module_text([find("shift-time")])
        + """
    const fs = require("fs");
    const lines = fs.readFileSync(process.argv[2], "utf8").split("\\n").filter(Boolean);
    const told = lines.map((line) => JSON.stringify(valvecalc.run("shift-time", JSON.parse(line))));
    fs.writeFileSync(process.argv[3], told.join("\\n"));
    """
    )
    import json

    changes: list[dict[str, Any]] = [{}, {"flow_force": 35.0, "overlap": 1.5e-3}, {"spring_preload": 500.0}]
    changes += [PASSAGE, FILM, PASSAGE | FILM | {"passage_diameter": 0.3e-3}]
    for change, line in zip(changes, ask_node(tmp_path, script, [VALVE | change for change in changes]), strict=True):
        theirs, ours = json.loads(line), shift(**change)
        assert {name for name, value in theirs.items() if value is not None} == set(ours)
        for name, value in ours.items():
            if name in ("trace", "release_trace"):
                for one, other in zip(value, theirs[name], strict=True):
                    assert other == pytest.approx(one, rel=1e-9, abs=1e-12)
            else:
                assert theirs[name] == (value if isinstance(value, str) else pytest.approx(value, rel=1e-9))


# ---------------------------------------------------------------- drop-out
