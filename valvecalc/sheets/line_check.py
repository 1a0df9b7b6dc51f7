"""Is a line wide enough, what does it lose warm and cold, and does a measured loss fit a clean line?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import lines, paths
from valvecalc.primitives import fact, least, using, vary
from valvecalc.sheet import sheet
from valvecalc.sheets.line_drops import DISTRUST, LABELS, LIMITS, ORIGINS, SOURCES, line_drops
from valvecalc.sheets.oil import oil_state

#: The words of data/line_velocities.csv.
KINDS = ("suction", "return", "pressure up to 35 bar", "pressure up to 210 bar", "pressure above 210 bar")


class Speed(NamedTuple):
    """Flow, bore and kind of the line, and the oil if the kind of flow is asked; SI."""

    flow: Value
    tube_bore: Value
    line_kind: Value
    viscosity_40: Value = None
    oil_temperature: Value = None
    viscosity_index: Value = 100.0
    density_15: Value = 875.0
    thermal_expansion: Value = 6.5e-4
    viscosity_100: Value = None


_OIL = ("viscosity_40", "oil_temperature", "viscosity_index", "density_15", "thermal_expansion", "viscosity_100")


@sheet(
    "Speed in a line against the guides",
    results=(
        "line_velocity",
        "velocity_share",
        "speed_word",
        "first_guide_low",
        "first_guide_high",
        "second_guide_low",
        "second_guide_high",
        "least_bore",
        "line_reynolds_number",
        "flow_word",
    ),
    choices={"line_kind": KINDS},
    judged={"velocity_share": ("<=", "line-velocity-share")},
    limits={name: LIMITS[name] for name in ("flow", "tube_bore", *_OIL)},
    origins={name: ORIGINS[name] for name in ("viscosity_index", "density_15", "thermal_expansion")},
    labels={
        "flow": "flow through this line; in the return of a cylinder that goes in it is more than the pump's",
        "least_bore": "bore that just keeps the highest end of both guides",
        "oil_temperature": LABELS["oil_temperature"],
    },
    chart="tube_bore",
    example={
        "flow": "36 L/min",
        "tube_bore": "13 mm",
        "line_kind": "return",
        "viscosity_40": "46 mm²/s",
        "oil_temperature": "45 °C",
    },
    cautions=("jet",),
    sources=(("velocity-guides-us", ""), ("velocity-guides-de", ""), ("esposito", "worked example 4-1, p. 132")),
    distrust=(
        "The guides are habit and disagree; what the line really costs says its loss, warm and cold.",
        "Suction lines: thick cold oil starves a pump at a speed that is fine warm. Work out its inlet pressure.",
        "The size printed on a hose or thread is not its bore.",
    ),
)
def line_speed(state: Speed) -> Value:
    """Is this line wide enough for its flow? The speed, held against two guides that disagree, both shown."""
    guide_row = least(
        [row for row in fact("line-velocities") if row["line_kind"] == state.line_kind], "first_guide_low"
    )
    first_guide_low = guide_row["first_guide_low"]
    first_guide_high = guide_row["first_guide_high"]
    second_guide_low = guide_row["second_guide_low"]
    second_guide_high = guide_row["second_guide_high"]
    guide_most = first_guide_high if first_guide_high > second_guide_high else second_guide_high
    guide_least = first_guide_low if first_guide_low < second_guide_low else second_guide_low
    line_velocity = using(state, lines.line_velocity)
    velocity_share = lines.velocity_share(line_velocity=line_velocity, guide_most=guide_most)
    least_bore = using(state, lines.bore_for_velocity, wanted_velocity=guide_most)
    speed_word = (
        "slower than both guides"
        if line_velocity < guide_least
        else (
            "faster than both guides"
            if line_velocity > guide_most
            else (
                "inside the second guide alone"
                if line_velocity < first_guide_low or line_velocity > first_guide_high
                else (
                    "inside the first guide alone"
                    if line_velocity < second_guide_low or line_velocity > second_guide_high
                    else "inside both guides"
                )
            )
        )
    )
    oil_now = oil_state(state)
    line_reynolds_number = using(
        state,
        lines.line_reynolds,
        line_velocity=line_velocity,
        kinematic_viscosity=oil_now["kinematic_viscosity"],
    )
    flow_word = (
        "calm (laminar)"
        if line_reynolds_number < fact("laminar-end")
        else ("turbulent" if line_reynolds_number > fact("turbulent-start") else "changing over, either may be")
    )
    return {
        "line_velocity": line_velocity,
        "velocity_share": velocity_share,
        "speed_word": speed_word,
        "first_guide_low": first_guide_low,
        "first_guide_high": first_guide_high,
        "second_guide_low": second_guide_low,
        "second_guide_high": second_guide_high,
        "least_bore": least_bore,
        "line_reynolds_number": line_reynolds_number,
        "flow_word": flow_word,
    }


class Loss(NamedTuple):
    """The line, what sits in it, the oil warm and cold; SI."""

    flow: Value
    tube_bore: Value
    line_length: Value
    viscosity_40: Value
    oil_temperature: Value
    cold_oil_temperature: Value = None
    bend_count: Value = 0.0
    elbow_count: Value = 0.0
    tee_count: Value = 0.0
    component_drop: Value = 0.0
    height: Value = 0.0
    extra_coefficient: Value = 0.0
    wall_roughness: Value = 2e-6
    viscosity_index: Value = 100.0
    density_15: Value = 875.0
    thermal_expansion: Value = 6.5e-4
    viscosity_100: Value = None


@sheet(
    "Pressure loss of a line, warm and cold",
    results=(
        "line_drop",
        "cold_line_drop",
        "pipe_drop",
        "fitting_drop",
        "column_difference",
        "line_velocity",
        "line_reynolds_number",
        "cold_reynolds_number",
        "kinematic_viscosity",
        "cold_viscosity",
        "heat",
    ),
    limits={name: LIMITS[name] for name in Loss._fields},
    origins=ORIGINS,
    labels=LABELS,
    chart="flow",
    example={
        "flow": "36 L/min",
        "tube_bore": "13 mm",
        "line_length": "9 m",
        "viscosity_40": "46 mm²/s",
        "oil_temperature": "45 °C",
        "cold_oil_temperature": "5 °C",
        "bend_count": "4",
        "elbow_count": "2",
    },
    cautions=("jet",),
    sources=SOURCES,
    distrust=DISTRUST,
)
def line_pressure_loss(line: Loss) -> Value:
    """What does this line take from the pressure: tube, fittings, components and height, with warm and with cold oil?

    One law holds from creeping cold oil to full turbulence. Cold oil loses with its viscosity, warm oil hardly.
    """
    warm_oil = oil_state(line)
    kinematic_viscosity = warm_oil["kinematic_viscosity"]
    line_state = line_drops(line, kinematic_viscosity=kinematic_viscosity, density=warm_oil["density"])
    cold_oil = oil_state(vary(line, oil_temperature=line.cold_oil_temperature))
    cold_line_state = line_drops(line, kinematic_viscosity=cold_oil["kinematic_viscosity"], density=cold_oil["density"])
    heat = using(line, paths.throttle_heat, pressure_drop=line_state["flow_drop"])
    return {
        "line_drop": line_state["line_drop"],
        "cold_line_drop": cold_line_state["line_drop"],
        "pipe_drop": line_state["pipe_drop"],
        "fitting_drop": line_state["fitting_drop"],
        "column_difference": line_state["column_difference"],
        "line_velocity": line_state["line_velocity"],
        "line_reynolds_number": line_state["line_reynolds_number"],
        "cold_reynolds_number": cold_line_state["line_reynolds_number"],
        "kinematic_viscosity": kinematic_viscosity,
        "cold_viscosity": cold_oil["kinematic_viscosity"],
        "heat": heat,
    }


class Measured(NamedTuple):
    """A loss measured between two gauges, the line between them and the oil; SI."""

    measured_drop: Value
    flow: Value
    tube_bore: Value
    line_length: Value
    viscosity_40: Value
    oil_temperature: Value
    bend_count: Value = 0.0
    elbow_count: Value = 0.0
    tee_count: Value = 0.0
    component_drop: Value = 0.0
    height: Value = 0.0
    extra_coefficient: Value = 0.0
    wall_roughness: Value = 2e-6
    viscosity_index: Value = 100.0
    density_15: Value = 875.0
    thermal_expansion: Value = 6.5e-4
    viscosity_100: Value = None


@sheet(
    "Pressure loss of a line, as read",
    results=("loss_deviation", "line_drop", "pipe_drop", "fitting_drop", "line_velocity", "line_reynolds_number"),
    judged={"loss_deviation": ("within", "line-loss-deviation")},
    limits={**{name: LIMITS[name] for name in Measured._fields[1:]}, "measured_drop": ">= 0 bar, <= 1000 bar"},
    origins=ORIGINS,
    labels={
        **LABELS,
        "measured_drop": "pressure at the first gauge less that at the second, at this flow",
        "line_drop": "loss that the clean line has at this flow with this oil",
    },
    chart="flow",
    example={
        "measured_drop": "9.5 bar",
        "flow": "36 L/min",
        "tube_bore": "13 mm",
        "line_length": "9 m",
        "viscosity_40": "46 mm²/s",
        "oil_temperature": "45 °C",
        "bend_count": "4",
        "elbow_count": "2",
    },
    cautions=("jet", "stored-pressure"),
    sources=SOURCES,
    distrust=(
        *DISTRUST,
        "Two gauges of 400 bar for a difference of 5: their errors are as large as the loss. One gauge, both points.",
        "The temperature of the tank: oil in a long cold line is colder and thicker than that.",
    ),
)
def line_loss_check(read: Measured) -> Value:
    """Does the line lose more than a clean one: a blocked filter, a kinked or swollen hose, oil too thick?"""
    oil_now = oil_state(read)
    line_state = line_drops(read, kinematic_viscosity=oil_now["kinematic_viscosity"], density=oil_now["density"])
    line_drop = line_state["line_drop"]
    loss_deviation = using(read, paths.loss_deviation, pressure_drop=line_drop)
    return {
        "loss_deviation": loss_deviation,
        "line_drop": line_drop,
        "pipe_drop": line_state["pipe_drop"],
        "fitting_drop": line_state["fitting_drop"],
        "line_velocity": line_state["line_velocity"],
        "line_reynolds_number": line_state["line_reynolds_number"],
    }
