"""The test-stand cylinder: what its stroke times should be, and what a measured time proves."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, cylinder, spool
from valvecalc.primitives import using
from valvecalc.sheet import sheet


class Stand(NamedTuple):
    """The cylinder of the stand, the flow into it, the times taken; SI."""

    bore_diameter: Value
    rod_diameter: Value
    stroke_length: Value
    pump_flow: Value
    extend_time: Value = None
    retract_time: Value = None


@sheet(
    "Test-stand cylinder: stroke times and what they prove",
    results=(
        "extend_time_expected",
        "retract_time_expected",
        "area_ratio",
        "retract_return_flow",
        "extend_deviation",
        "retract_deviation",
        "extend_flow",
        "retract_flow",
        "time_ratio",
        "time_ratio_deviation",
    ),
    judged={
        "extend_deviation": ("<=", "stroke-time-deviation"),
        "retract_deviation": ("<=", "stroke-time-deviation"),
        "time_ratio_deviation": ("within", "stroke-time-deviation"),
    },
    limits={
        "bore_diameter": "> 4 mm, <= 1000 mm",
        "rod_diameter": ">= 0 mm, < 1000 mm",
        "stroke_length": "> 0 mm, <= 20 m",
        "pump_flow": "> 0 L/min, <= 2000 L/min",
        "extend_time": "> 0 s, <= 3600 s",
        "retract_time": "> 0 s, <= 3600 s",
    },
    labels={"pump_flow": "flow into the cylinder, measured at the test pressure"},
    chart="pump_flow",
    example={
        "bore_diameter": "40 mm",
        "rod_diameter": "22 mm",
        "stroke_length": "250 mm",
        "pump_flow": "16 L/min",
        "extend_time": "1.21 s",
        "retract_time": "0.86 s",
    },
    cautions=("test-stand", "falling-load"),
    sources=(("esposito", "example 3-8"),),
    distrust=(
        "Pump flow drops with pressure: measure the flow at the test pressure.",
        "Cushions at the ends: time the plain part of the stroke.",
        "A time that fits shows the spool reaches an open position; it does not show full stroke nor the duty.",
    ),
)
def test_cylinder(stand: Stand) -> Value:
    """Stroke times both ways from flow and areas, and the flow that a measured time speaks for.

    Out and in differ by the area ratio: both slower by the same share is the pump or the flow
    reading, one way slower alone is the spool or its path.
    """
    piston_area = using(stand, cylinder.piston_area)
    annulus_area = using(stand, cylinder.annulus_area)
    area_ratio = using(stand, cylinder.area_ratio)
    extend_time_expected = using(stand, cylinder.stroke_time, area=piston_area, flow=stand.pump_flow)
    retract_time_expected = using(stand, cylinder.stroke_time, area=annulus_area, flow=stand.pump_flow)
    retract_return_flow = spool.return_flow(flow=stand.pump_flow, return_ratio=area_ratio)
    extend_deviation = budget.time_deviation(measured_time=stand.extend_time, expected_time=extend_time_expected)
    retract_deviation = budget.time_deviation(measured_time=stand.retract_time, expected_time=retract_time_expected)
    extend_flow = using(stand, cylinder.flow_for_time, area=piston_area, stroke_time=stand.extend_time)
    retract_flow = using(stand, cylinder.flow_for_time, area=annulus_area, stroke_time=stand.retract_time)
    time_ratio = using(stand, budget.stroke_time_ratio)
    time_ratio_deviation = budget.time_ratio_deviation(time_ratio=time_ratio, area_ratio=area_ratio)
    return {
        "extend_time_expected": extend_time_expected,
        "retract_time_expected": retract_time_expected,
        "area_ratio": area_ratio,
        "retract_return_flow": retract_return_flow,
        "extend_deviation": extend_deviation,
        "retract_deviation": retract_deviation,
        "extend_flow": extend_flow,
        "retract_flow": retract_flow,
        "time_ratio": time_ratio,
        "time_ratio_deviation": time_ratio_deviation,
    }
