"""How long does it take to shift, and to come back? Coil, spring and spool stepped through in time."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import coil, delay, motion, spring
from valvecalc.primitives import known, least, march, most, table, using, vary
from valvecalc.sheet import sheet


class Armature(NamedTuple):
    """Coil, force curve, spring, spool, what is across the coil, and the oil around the spool where it is known; SI."""

    coil_voltage: Value
    resistance: Value
    open_inductance: Value
    force_curve: Value
    curve_current: Value
    stroke: Value
    spring_preload: Value
    spring_rate: Value
    moving_mass: Value
    dry_friction: Value = 1.5
    flow_force: Value = 0.0
    overlap: Value = 0.0
    damping: Value = 10.0
    clamp_voltage: Value = 0.8
    stop_time: Value = 0.0005
    window: Value = 0.15
    time: Value = None
    spool_diameter: Value = None
    passage_diameter: Value = None
    density: Value = 870.0
    discharge_coefficient: Value = 0.61
    viscosity: Value = None
    gap_length: Value = None
    clearance: Value = None


LIMITS = {
    "coil_voltage": "> 0 V, <= 400 V",
    "resistance": "> 0 Ω, <= 20 kΩ",
    "open_inductance": "> 1 mH, <= 100 H",
    "curve_current": "> 0 A, <= 20 A",
    "position": ">= 0 mm, <= 100 mm",
    "curve_force": ">= 0 N, <= 5000 N",
    "stroke": "> 0 mm, <= 50 mm",
    "spring_preload": ">= 0 N, <= 2000 N",
    "spring_rate": ">= 0 N/mm, <= 500 N/mm",
    "moving_mass": ">= 5 g, <= 5 kg",
    "dry_friction": "> 0 N, <= 500 N",
    "flow_force": ">= 0 N, <= 500 N",
    "overlap": ">= 0 mm, <= 50 mm",
    "damping": ">= 0 N·s/m, <= 1000 N·s/m",
    "clamp_voltage": ">= 0 V, <= 1000 V",
    "stop_time": ">= 0.2 ms, <= 5 ms",
    "window": ">= 10 ms, <= 300 ms",
    "time": ">= 0 ms, <= 300 ms",
    "spool_diameter": "> 1 mm, <= 200 mm",
    "passage_diameter": ">= 0.3 mm, <= 50 mm",
    "density": ">= 700 kg/m³, <= 1500 kg/m³",
    "discharge_coefficient": "> 0.3, <= 1",
    "viscosity": "> 0 mPa·s, <= 100 Pa·s",
    "gap_length": "> 0 mm, <= 1 m",
    "clearance": "> 0 µm, <= 1 mm",
}
CURVE = {"force_curve": ("position", "curve_force")}


@sheet(
    "Slope of the inductance at one place",
    results=("inductance",),
    rows=CURVE,
    limits=LIMITS,
    part=True,
)
def gap_slope(stage: Armature, *, position: Value) -> Value:
    """How fast the inductance grows with the stroke, from the force curve."""
    place = stage.stroke if position > stage.stroke else position
    inductance_slope = using(
        stage, motion.inductance_slope, curve_force=table(stage.force_curve, "position", "curve_force", place)
    )
    return {"inductance": inductance_slope}


@sheet(
    "Rates of current, travel, speed and inductance",
    results=("current", "position", "armature_speed", "inductance", "early_time", "late_time"),
    rows=CURVE,
    limits=LIMITS,
    part=True,
)
def armature_rates(
    stage: Armature, *, current: Value, position: Value, armature_speed: Value, inductance: Value, drag_area: Value
) -> Value:
    """How fast each changes at one moment. A stop takes the force that presses the spool to it, and its speed."""
    place = 0.0 if position < 0.0 else (stage.stroke if position > stage.stroke else position)
    curve_force = table(stage.force_curve, "position", "curve_force", place)
    solenoid_force = using(stage, motion.pull, curve_force=curve_force, current=current)
    spring_force = using(stage, spring.spring_force, position=place)
    flow_force = stage.flow_force if place > stage.overlap else 0.0
    slide_friction = using(stage, motion.slide_friction, armature_speed=armature_speed)
    oil_drag = using(stage, motion.drag, armature_speed=armature_speed)
    exchange_drag = using(stage, motion.exchange_drag, drag_area=drag_area, armature_speed=armature_speed)
    net_force = solenoid_force - spring_force - flow_force - slide_friction - oil_drag - exchange_drag
    is_pressed = (position >= stage.stroke and net_force > 0.0) or (position <= 0.0 and net_force < 0.0)
    at_stop = (position >= stage.stroke and armature_speed > 0.0) or (position <= 0.0 and armature_speed < 0.0)
    travel_rate = 0.0 if at_stop else armature_speed
    free_acceleration = 0.0 if is_pressed else using(stage, motion.acceleration, net_force=net_force)
    stop_acceleration = using(stage, motion.braking, armature_speed=armature_speed) if at_stop else 0.0
    armature_acceleration = free_acceleration + stop_acceleration
    inductance_slope = using(stage, motion.inductance_slope, curve_force=curve_force)
    inductance_rate = motion.inductance_rate(inductance_slope=inductance_slope, armature_speed=travel_rate)
    back_emf = motion.back_emf(current=current, inductance_rate=inductance_rate)
    current_rate = (
        using(stage, motion.current_rate, current=current, back_emf=back_emf, inductance=inductance)
        if current > 0.0 or stage.coil_voltage > 0.0
        else using(stage, motion.run_out, current=current)
    )
    return {
        "current": current_rate,
        "position": travel_rate,
        "armature_speed": armature_acceleration,
        "inductance": inductance_rate,
        "early_time": 1.0 if position < motion.early_place(stroke=stage.stroke) else 0.0,
        "late_time": 1.0 if position < motion.late_place(stroke=stage.stroke) else 0.0,
    }


@sheet(
    "Shift time: switching on and off",
    results=(
        "arrival_time",
        "start_time",
        "motion_verdict",
        "release_time",
        "release_start_time",
        "start_current",
        "pull_in_delay",
        "trace_peak_current",
        "dip_current",
        "full_current",
        "closed_inductance",
        "current",
        "film_damping",
        "drag_area",
        "trace",
        "release_trace",
    ),
    rows={
        **CURVE,
        "trace": ("time", "current", "position"),
        "release_trace": ("time", "current", "position"),
    },
    limits=LIMITS,
    origins={
        "dry_friction": ("judgement", ""),
        "flow_force": ("judgement", ""),
        "overlap": ("judgement", ""),
        "damping": ("judgement", ""),
        "clamp_voltage": ("common-practice", ""),
        "stop_time": ("judgement", ""),
        "window": ("judgement", ""),
        "density": ("common-practice", ""),
        "discharge_coefficient": ("handbook", "rabie-2009"),
    },
    trusted={
        "passage_diameter": (
            ">= 0.6 mm",
            "In so narrow a hole, and in thick oil, the flow turns laminar: the drag is larger and the spool later.",
        )
    },
    labels={
        "resistance": "winding resistance as warm as it is, cable included",
        "open_inductance": "inductance with the armature at rest, found with a few volts AC and the current they drive",
        "flow_force": "flow force once an edge is open, taken as constant",
        "damping": "drag that grows with the speed, all but film and passage below: 0 where both are told there",
        "clamp_voltage": "voltage of the suppressor across the coil: diode 0.8 V, open contact some 400 V",
        "window": "time that is looked at, for each way",
        "time": "moment after switching on at which the current is told, and marked in the chart",
        "current": "current at that moment",
        "spool_diameter": "diameter of the spool, for the oil that changes ends and for the film",
        "passage_diameter": "narrowest hole between the end chambers; left empty: the oil changes ends freely",
        "viscosity": "viscosity of the oil around the spool, as cold as it is; left empty: no film",
    },
    example={
        "coil_voltage": "46 V",
        "resistance": "115 Ω",
        "open_inductance": "1.1 H",
        "force_curve": "0 mm | 31 N; 0.8 mm | 34 N; 1.6 mm | 38 N; 2.4 mm | 46 N; 3.2 mm | 67 N",
        "curve_current": "0.36 A",
        "stroke": "3.2 mm",
        "spring_preload": "14 N",
        "spring_rate": "3.8 N/mm",
        "moving_mass": "120 g",
        "dry_friction": "2 N",
        "damping": "12 N·s/m",
        "time": "20 ms",
    },
    chart="trace",
    cautions=("live-circuit", "falling-load", "test-stand"),
    sources=(
        ("bird-circuit", "problems 17.09 to 17.11"),
        ("rabie-2009", "eq. 2.39"),
        ("jelali-kroll-2003", "ch. 3.3"),
        ("shaft-exercise", ""),
    ),
    distrust=(
        "Order of size, good to ±50 %: use it to compare (before and after, diode or none), not as a promised time.",
        "Eddy currents in solid iron are left out: they add 5 to 20 ms each way.",
        "AC coils, two-stage valves and drivers with a hold: not this calculation.",
        "Film and passage come on top of the damping: where it is left as it stands, the film counts twice.",
        "The pull goes with the square of the current all the way: far above the curve's current it is too strong.",
    ),
)
def shift_time(stage: Armature) -> Value:
    """Current, travel and speed step by step, from the force curve and one inductance; then the way back.

    The dip in the current comes out by itself, for the curve that pulls also makes the voltage against the supply.
    Film and passage, where they are told, hold the moving spool: the one with its speed, the other with the square of
    it. A time that is missing was not reached within the time looked at.
    """
    full_current = using(stage, coil.coil_current)
    first_force = table(stage.force_curve, "position", "curve_force", 0.0)
    start_current = using(stage, motion.start_current, curve_force=first_force)
    pull_in_delay = (
        using(stage, delay.pull_in_delay, inductance=stage.open_inductance, start_current=start_current)
        if full_current > start_current
        else None
    )
    early_place = using(stage, motion.early_place)
    late_place = using(stage, motion.late_place)
    gap_rows = march(
        lambda row: gap_slope(stage, position=row["position"]),
        {"inductance": stage.open_inductance},
        "position",
        stage.stroke,
        10,
        10,
    )
    closed_row = most(gap_rows, "position")
    closed_inductance = closed_row["inductance"]
    drag_area = using(stage, motion.drag_area)
    film_damping = using(stage, motion.film_damping)
    told_area = known(drag_area, 0.0)
    told_damping = known(film_damping, 0.0)
    strongest_row = most(stage.force_curve, "curve_force")
    solenoid_force = using(stage, motion.pull, curve_force=strongest_row["curve_force"], current=full_current)
    spring_force = using(stage, spring.spring_force, position=stage.stroke)
    stepped_mass = using(
        stage,
        motion.stepped_mass,
        film_damping=told_damping,
        drag_area=told_area,
        solenoid_force=solenoid_force,
        spring_force=spring_force,
    )
    oiled = vary(stage, damping=stage.damping + told_damping, moving_mass=stepped_mass)
    trace = march(
        lambda row: armature_rates(
            oiled,
            current=row["current"],
            position=row["position"],
            armature_speed=row["armature_speed"],
            inductance=row["inductance"],
            drag_area=told_area,
        ),
        {
            "current": 0.0,
            "position": 0.0,
            "armature_speed": 0.0,
            "inductance": stage.open_inductance,
            "early_time": 0.0,
            "late_time": 0.0,
        },
        "time",
        stage.window,
        60,
        25,
    )
    final_row = most(trace, "time")
    has_arrived = final_row["position"] >= late_place
    has_started = final_row["position"] >= early_place
    trace_peak_current = most([row for row in trace if row["position"] < late_place], "current")["current"]
    dip_current = (
        least([row for row in trace if row["position"] >= late_place], "current")["current"] if has_arrived else None
    )
    moment = stage.time if stage.time < final_row["time"] else final_row["time"]
    current = table(trace, "time", "current", moment)
    switched_off = vary(oiled, coil_voltage=0.0 - stage.clamp_voltage)
    release_trace = march(
        lambda row: armature_rates(
            switched_off,
            current=row["current"],
            position=row["position"],
            armature_speed=row["armature_speed"],
            inductance=row["inductance"],
            drag_area=told_area,
        ),
        {
            "current": full_current,
            "position": stage.stroke,
            "armature_speed": 0.0,
            "inductance": closed_inductance,
            "early_time": 0.0,
            "late_time": 0.0,
        },
        "time",
        stage.window,
        60,
        25,
    )
    final_release = most(release_trace, "time")
    return {
        "arrival_time": final_row["late_time"] if has_arrived else None,
        "start_time": final_row["early_time"] if has_started else None,
        "motion_verdict": "moved" if has_arrived else ("did not arrive" if has_started else "did not move"),
        "release_time": stage.window - final_release["early_time"] if final_release["position"] < early_place else None,
        "release_start_time": stage.window - final_release["late_time"]
        if final_release["position"] < late_place
        else None,
        "start_current": start_current,
        "pull_in_delay": pull_in_delay,
        "trace_peak_current": trace_peak_current,
        "dip_current": dip_current,
        "full_current": full_current,
        "closed_inductance": closed_inductance,
        "current": current,
        "film_damping": film_damping,
        "drag_area": drag_area,
        "trace": trace,
        "release_trace": release_trace,
    }
