"""Three readings at the machine or the stand, each judged on its own: stroke time, drift, pressure loss."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, cylinder, drift, paths
from valvecalc.primitives import using
from valvecalc.sheet import sheet

_BORE = "> 4 mm, <= 1000 mm"
_ROD = ">= 0 mm, < 1000 mm"


class Stroke(NamedTuple):
    """Time of one full stroke, the cylinder, the flow into it; SI."""

    measured_time: Value
    bore_diameter: Value
    stroke_length: Value
    pump_flow: Value
    rod_diameter: Value = 0.0


@sheet(
    "Seconds of a cylinder's stroke",
    results=("time_deviation", "expected_time", "flow"),
    judged={"time_deviation": ("within", "stroke-time-deviation")},
    limits={
        "measured_time": "> 0 s, <= 3600 s",
        "bore_diameter": _BORE,
        "stroke_length": "> 0 mm, <= 20 m",
        "pump_flow": "> 0 L/min, <= 2000 L/min",
        "rod_diameter": _ROD,
    },
    labels={
        "rod_diameter": "rod diameter, only for a stroke inwards; left empty: a stroke outwards",
        "pump_flow": "flow into the cylinder at the working pressure",
        "flow": "flow that the time speaks for",
    },
    origins={"rod_diameter": ("judgement", "")},
    chart="pump_flow",
    example={"measured_time": "4.6 s", "bore_diameter": "50 mm", "stroke_length": "420 mm", "pump_flow": "13 L/min"},
    cautions=("falling-load", "test-stand"),
    sources=(("esposito", "example 3-8"),),
    distrust=(
        "Pump flow drops with pressure: measure the flow at the working pressure.",
        "Cushions at the ends: time the plain part of the stroke.",
        "A pulling load, or a circuit that feeds the rod side's oil back: faster than the pump alone can make it.",
        "A time that fits shows that the spool opens; it does not show full stroke nor the duty.",
    ),
)
def stroke_seconds(stroke: Stroke) -> Value:
    """Is the cylinder slow? The time taken against what flow and areas give."""
    annulus_area = using(stroke, cylinder.annulus_area)
    expected_time = using(stroke, cylinder.stroke_time, area=annulus_area, flow=stroke.pump_flow)
    time_deviation = budget.time_deviation(measured_time=stroke.measured_time, expected_time=expected_time)
    flow = using(stroke, cylinder.flow_for_time, area=annulus_area, stroke_time=stroke.measured_time)
    return {"time_deviation": time_deviation, "expected_time": expected_time, "flow": flow}


class Drifted(NamedTuple):
    """Way and time of a drift, the cylinder, what the machine's documents allow; SI."""

    drift_distance: Value
    drift_time: Value
    bore_diameter: Value
    allowed_drift: Value = None
    rod_diameter: Value = 0.0


@sheet(
    "Drift of a cylinder",
    results=("drift_share", "drift_speed", "leakage"),
    judged={"drift_share": ("<=", "drift-allowed")},
    limits={
        "drift_distance": ">= 0 mm, <= 20 m",
        "drift_time": "> 0 s, <= 1000000 s",
        "bore_diameter": _BORE,
        "allowed_drift": "> 0 mm/min, <= 1 m/s",
        "rod_diameter": _ROD,
    },
    labels={
        "drift_distance": "way drifted, valve in centre, pump off",
        "rod_diameter": "rod diameter, only where the rod side holds the load; left empty: the piston side does",
        "leakage": "oil that must leave the cylinder for this drift",
    },
    origins={"rod_diameter": ("judgement", "")},
    chart="drift_time",
    example={
        "drift_distance": "9 mm",
        "drift_time": "4 min",
        "bore_diameter": "63 mm",
        "allowed_drift": "1.5 mm/min",
    },
    cautions=("falling-load", "trapped-volume", "stored-pressure"),
    sources=(("sullivan", "example 8.2"),),
    distrust=(
        "Oil that cools shrinks, and the rod moves: test when its temperature stands.",
        "A leaking piston seal alone: with both ports truly shut the rod of a pushed-in load stops again.",
        "A check or counterbalance valve on the cylinder: then that valve holds the load, not the spool valve.",
    ),
)
def drift_rate(held: Drifted) -> Value:
    """Does it drift too much, and how much oil is that? A spool valve always lets some past."""
    annulus_area = using(held, cylinder.annulus_area)
    drift_speed = using(held, drift.drift_from_distance)
    leakage = drift.leakage_for_drift(drift_speed=drift_speed, area=annulus_area)
    drift_share = drift.drift_ratio(drift_speed=drift_speed, reference_drift=held.allowed_drift)
    return {"drift_share": drift_share, "drift_speed": drift_speed, "leakage": leakage}


class Loss(NamedTuple):
    """A measured loss at its flow, and the one point that is known of the path; SI."""

    measured_drop: Value
    flow: Value
    rated_drop: Value
    rated_flow: Value


@sheet(
    "Pressure loss through a valve",
    results=("loss_deviation", "pressure_drop", "heat"),
    judged={"loss_deviation": ("<=", "path-loss")},
    limits={
        "measured_drop": ">= 0 bar, <= 1000 bar",
        "flow": "> 0 L/min, <= 10000 L/min",
        "rated_drop": "> 0 bar, <= 1000 bar",
        "rated_flow": "> 0 L/min, <= 10000 L/min",
    },
    labels={
        "measured_drop": "pressure lost between the two ports of one path",
        "rated_drop": "loss of that path in the valve's documents, or of a new sister valve",
        "rated_flow": "flow that this loss belongs to",
        "pressure_drop": "loss expected at the flow of the reading",
        "heat": "heat that the measured loss makes",
    },
    chart="flow",
    example={"measured_drop": "11.5 bar", "flow": "44 L/min", "rated_drop": "5.8 bar", "rated_flow": "40 L/min"},
    cautions=("stored-pressure", "jet"),
    sources=(("esposito", "examples 8-2 and 3-15"),),
    distrust=(
        "Less than 0.6 or more than 1.1 times the known flow: take a point nearer to the reading.",
        "Cold oil: part of the loss goes with its viscosity. Read with warm oil.",
        "Gauges of other fittings and hoses between: their loss is in the reading, not the valve's.",
        "Two gauges of full scale 400 bar for a difference of 10: their errors are as large as the loss.",
    ),
)
def path_loss(loss: Loss) -> Value:
    """Does the valve lose too much pressure? A loss at its flow, against the one point that is known of the path."""
    pressure_drop = using(loss, paths.one_point_drop)
    loss_deviation = using(loss, paths.loss_deviation, pressure_drop=pressure_drop)
    heat = paths.throttle_heat(flow=loss.flow, pressure_drop=loss.measured_drop)
    return {"loss_deviation": loss_deviation, "pressure_drop": pressure_drop, "heat": heat}
