"""A cylinder of the machine: will it move its load, how fast, and at which pressure?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import cylinder, cylinder_load, spool
from valvecalc.primitives import fact, using
from valvecalc.sheet import sheet


class Cylinder(NamedTuple):
    """The cylinder, the flow and the pressure it gets, its loads both ways; SI."""

    bore_diameter: Value
    rod_diameter: Value
    stroke_length: Value = None
    pump_flow: Value = None
    supply_pressure: Value = None
    push_load: Value = None
    pull_load: Value = None
    moved_mass: Value = None
    acceleration_time: Value = None
    return_pressure: Value = 0.0
    mechanical_efficiency: Value = 0.95


_LOAD = ">= 0 N, <= 10000000 N"


@sheet(
    "Cylinder check: force, speed, time and pressure",
    results=(
        "push_share",
        "pull_share",
        "extend_pressure",
        "retract_pressure",
        "push_force",
        "pull_force",
        "breakaway_push",
        "breakaway_pull",
        "extend_speed",
        "retract_speed",
        "extend_time_expected",
        "retract_time_expected",
        "retract_return_flow",
        "acceleration_pressure",
        "peak_pressure",
        "intensified_pressure",
    ),
    judged={"push_share": ("<=", "cylinder-load"), "pull_share": ("<=", "cylinder-load")},
    limits={
        "bore_diameter": "> 4 mm, <= 1000 mm",
        "rod_diameter": ">= 0 mm, < 1000 mm",
        "stroke_length": "> 0 mm, <= 20 m",
        "pump_flow": "> 0 L/min, <= 2000 L/min",
        "supply_pressure": "> 0 bar, <= 1000 bar",
        "return_pressure": ">= 0 bar, <= 1000 bar",
        "push_load": _LOAD,
        "pull_load": _LOAD,
        "moved_mass": ">= 0 kg, <= 1000000 kg",
        "acceleration_time": "> 0 s, <= 60 s",
        "mechanical_efficiency": "> 0, <= 1",
    },
    origins={"return_pressure": ("judgement", ""), "mechanical_efficiency": ("judgement", "")},
    labels={
        "pump_flow": "flow into the cylinder",
        "supply_pressure": "pressure that reaches the cylinder with the relief valve as set",
        "mechanical_efficiency": "efficiency of the cylinder while it runs",
        "acceleration_time": "time from rest to full speed, on the way out",
    },
    chart="push_load",
    example={
        "bore_diameter": "63 mm",
        "rod_diameter": "36 mm",
        "stroke_length": "400 mm",
        "pump_flow": "25 L/min",
        "supply_pressure": "140 bar",
        "return_pressure": "6 bar",
        "push_load": "30 kN",
        "pull_load": "14 kN",
        "moved_mass": "600 kg",
        "acceleration_time": "0.1 s",
    },
    cautions=("falling-load", "stored-pressure", "trapped-volume"),
    sources=(("sullivan", "example 8.1"), ("cylinder-exercise", ""), ("esposito", "examples 3-8 and 6-4")),
    distrust=(
        "A load that pulls the way the rod moves: the return side has to hold it, or the rod runs ahead of the oil.",
        "A load on a lever: its force at the rod changes over the stroke, take the worst place.",
        "The relief valve opens before its setting: close to it the pump's flow goes there and the rod slows.",
        "A long rod that pushes can buckle before the cylinder is at its force: see the rod's own sheet.",
    ),
)
def cylinder_check(frame: Cylinder) -> Value:
    """Force both ways running and from rest, speed and time both ways, and the pressure that each load needs.

    The share compares a load with the force from rest: breaking loose takes more than running. The rod side shut
    while the pump pushes out goes above the relief setting by the area ratio.
    """
    piston_area = using(frame, cylinder.piston_area)
    annulus_area = using(frame, cylinder.annulus_area)
    area_ratio = using(frame, cylinder.area_ratio)
    extend_pressure = using(
        frame, cylinder_load.pressure_to_push, load_force=frame.push_load, rod_side_pressure=frame.return_pressure
    )
    retract_pressure = using(
        frame, cylinder_load.pressure_to_pull, load_force=frame.pull_load, cap_side_pressure=frame.return_pressure
    )
    push_force = using(
        frame, cylinder.push_force, cap_side_pressure=frame.supply_pressure, rod_side_pressure=frame.return_pressure
    )
    pull_force = using(
        frame, cylinder.pull_force, rod_side_pressure=frame.supply_pressure, cap_side_pressure=frame.return_pressure
    )
    breakaway_push = using(
        frame,
        cylinder.push_force,
        cap_side_pressure=frame.supply_pressure,
        rod_side_pressure=frame.return_pressure,
        mechanical_efficiency=fact("breakaway-efficiency"),
    )
    breakaway_pull = using(
        frame,
        cylinder.pull_force,
        rod_side_pressure=frame.supply_pressure,
        cap_side_pressure=frame.return_pressure,
        mechanical_efficiency=fact("breakaway-efficiency"),
    )
    push_share = cylinder_load.load_over_force(load_force=frame.push_load, force=breakaway_push)
    pull_share = cylinder_load.load_over_force(load_force=frame.pull_load, force=breakaway_pull)
    extend_speed = cylinder.cylinder_speed(flow=frame.pump_flow, area=piston_area)
    retract_speed = cylinder.cylinder_speed(flow=frame.pump_flow, area=annulus_area)
    extend_time_expected = using(frame, cylinder.stroke_time, area=piston_area, flow=frame.pump_flow)
    retract_time_expected = using(frame, cylinder.stroke_time, area=annulus_area, flow=frame.pump_flow)
    retract_return_flow = spool.return_flow(flow=frame.pump_flow, return_ratio=area_ratio)
    acceleration_pressure = using(
        frame, cylinder_load.acceleration_pressure, cylinder_speed=extend_speed, area=piston_area
    )
    peak_pressure = extend_pressure + acceleration_pressure
    intensified_pressure = cylinder.blocked_side_pressure(
        cap_side_pressure=frame.supply_pressure, piston_area=piston_area, annulus_area=annulus_area
    )
    return {
        "push_share": push_share,
        "pull_share": pull_share,
        "extend_pressure": extend_pressure,
        "retract_pressure": retract_pressure,
        "push_force": push_force,
        "pull_force": pull_force,
        "breakaway_push": breakaway_push,
        "breakaway_pull": breakaway_pull,
        "extend_speed": extend_speed,
        "retract_speed": retract_speed,
        "extend_time_expected": extend_time_expected,
        "retract_time_expected": retract_time_expected,
        "retract_return_flow": retract_return_flow,
        "acceleration_pressure": acceleration_pressure,
        "peak_pressure": peak_pressure,
        "intensified_pressure": intensified_pressure,
    }
