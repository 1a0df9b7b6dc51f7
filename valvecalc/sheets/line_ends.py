"""The two ends that a pump and a valve feel: pressure at the pump's inlet, pressure at the valve's port T."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import lines
from valvecalc.primitives import known, using, vary
from valvecalc.sheet import sheet
from valvecalc.sheets.line_drops import DISTRUST, LABELS, LIMITS, ORIGINS, SOURCES, line_drops
from valvecalc.sheets.oil import oil_state


class Suction(NamedTuple):
    """The suction line, the height of the pump, the oil warm and cold, the air; SI."""

    flow: Value
    tube_bore: Value
    line_length: Value
    viscosity_40: Value
    oil_temperature: Value
    cold_oil_temperature: Value = None
    height: Value = 0.0
    component_drop: Value = 0.0
    bend_count: Value = 0.0
    elbow_count: Value = 0.0
    tee_count: Value = 0.0
    extra_coefficient: Value = 1.5
    atmospheric_pressure_abs: Value = 101325.0
    wall_roughness: Value = 2e-6
    viscosity_index: Value = 100.0
    density_15: Value = 875.0
    thermal_expansion: Value = 6.5e-4
    viscosity_100: Value = None


@sheet(
    "Pressure at the pump's inlet",
    results=(
        "inlet_pressure_abs",
        "cold_inlet_pressure_abs",
        "inlet_pressure",
        "lift_drop",
        "cold_lift_drop",
        "line_velocity",
        "line_reynolds_number",
        "kinematic_viscosity",
        "cold_viscosity",
    ),
    judged={
        "inlet_pressure_abs": (">=", "suction-least-pressure"),
        "cold_inlet_pressure_abs": (">=", "suction-least-pressure"),
    },
    limits={
        **{name: LIMITS[name] for name in Suction._fields if name in LIMITS},
        "atmospheric_pressure_abs": ">= 0.5 bar, <= 1.2 bar",
    },
    origins={**ORIGINS, "atmospheric_pressure_abs": ("standard", "standard-atmosphere")},
    labels={
        **LABELS,
        "height": "how high the pump's inlet lies above the oil in the tank; below the oil: minus",
        "component_drop": "loss of the strainer, by its papers, at this flow",
        "extra_coefficient": "1.5 stands for the sharp inlet (0.5) and the speed itself (1); add what else there is",
        "atmospheric_pressure_abs": "pressure of the air: 1 bar at the sea, 0.9 at 1000 m, 0.8 at 2000 m",
    },
    chart="oil_temperature",
    example={
        "flow": "36 L/min",
        "tube_bore": "32 mm",
        "line_length": "0.9 m",
        "viscosity_40": "46 mm²/s",
        "oil_temperature": "45 °C",
        "cold_oil_temperature": "2 °C",
        "height": "0.4 m",
        "component_drop": "0.05 bar",
        "bend_count": "1",
    },
    cautions=("no-suction",),
    sources=SOURCES,
    distrust=(
        "The pump's own papers decide: some bear 0.7 bar absolute, many ask for 0.8, some for more than the air gives.",
        "Oil gives off its air long before it boils: foam, noise and eaten parts begin above the vapour pressure.",
        "A strainer half blocked or full of cold oil: its loss grows many times; only a vacuum gauge tells.",
        "An answer near or below zero has no meaning but this: the pump does not fill.",
        *DISTRUST,
    ),
)
def suction_check(line: Suction) -> Value:
    """Does the pump get its oil, warm and at a cold start? Air pressure less height, line, strainer and speed."""
    warm_oil = oil_state(line)
    kinematic_viscosity = warm_oil["kinematic_viscosity"]
    line_state = line_drops(line, kinematic_viscosity=kinematic_viscosity, density=warm_oil["density"])
    lift_drop = line_state["line_drop"]
    inlet_pressure_abs = line.atmospheric_pressure_abs - lift_drop
    inlet_pressure = inlet_pressure_abs - line.atmospheric_pressure_abs
    cold_oil = oil_state(vary(line, oil_temperature=line.cold_oil_temperature))
    cold_line_state = line_drops(line, kinematic_viscosity=cold_oil["kinematic_viscosity"], density=cold_oil["density"])
    cold_lift_drop = cold_line_state["line_drop"]
    cold_inlet_pressure_abs = line.atmospheric_pressure_abs - cold_lift_drop
    return {
        "inlet_pressure_abs": inlet_pressure_abs,
        "cold_inlet_pressure_abs": cold_inlet_pressure_abs,
        "inlet_pressure": inlet_pressure,
        "lift_drop": lift_drop,
        "cold_lift_drop": cold_lift_drop,
        "line_velocity": line_state["line_velocity"],
        "line_reynolds_number": line_state["line_reynolds_number"],
        "kinematic_viscosity": kinematic_viscosity,
        "cold_viscosity": cold_oil["kinematic_viscosity"],
    }


class TankLine(NamedTuple):
    """The tank line, what sits in it, the oil warm and cold, what the valve allows at T; SI."""

    flow: Value
    tube_bore: Value
    line_length: Value
    viscosity_40: Value
    oil_temperature: Value
    cold_oil_temperature: Value = None
    component_drop: Value = 0.0
    end_pressure: Value = 0.0
    tank_port_limit: Value = None
    bend_count: Value = 0.0
    elbow_count: Value = 0.0
    tee_count: Value = 0.0
    height: Value = 0.0
    extra_coefficient: Value = 1.0
    wall_roughness: Value = 2e-6
    viscosity_index: Value = 100.0
    density_15: Value = 875.0
    thermal_expansion: Value = 6.5e-4
    viscosity_100: Value = None


@sheet(
    "Pressure at the valve's port T",
    results=(
        "back_pressure",
        "cold_back_pressure",
        "back_pressure_share",
        "line_drop",
        "cold_line_drop",
        "line_velocity",
        "line_reynolds_number",
    ),
    judged={"back_pressure_share": ("<=", "back-pressure-most")},
    limits={
        **{name: LIMITS[name] for name in TankLine._fields if name in LIMITS},
        "end_pressure": ">= -0.5 bar, <= 500 bar",
        "tank_port_limit": "> 0 bar, <= 1000 bar",
    },
    origins={**ORIGINS, "end_pressure": ("judgement", "")},
    labels={
        **LABELS,
        "flow": "flow that comes back: while a cylinder goes in, the pump's flow times the area ratio",
        "component_drop": "loss of return filter and cooler, by their papers, at this flow; a dirty filter: its bypass",
        "end_pressure": "pressure at the far end: 0 for a tank that breathes, more for a manifold that others use",
        "extra_coefficient": "1 stands for the speed that is lost in the tank; add what else there is",
        "back_pressure_share": "the higher of warm and cold over what the valve's own papers allow at T",
    },
    chart="flow",
    example={
        "flow": "54 L/min",
        "tube_bore": "19 mm",
        "line_length": "7 m",
        "viscosity_40": "46 mm²/s",
        "oil_temperature": "45 °C",
        "cold_oil_temperature": "0 °C",
        "component_drop": "1.2 bar",
        "tank_port_limit": "60 bar",
        "bend_count": "3",
        "elbow_count": "1",
    },
    cautions=("test-stand", "jet"),
    sources=SOURCES,
    distrust=(
        "Surges are not in it: a second valve that shuts or a load that drops sends a step of 20 to 50 bar into T.",
        "The armature tube stands under this pressure: what it bears, steps included, is in the valve's papers for T.",
        "A pressure at T pushes at the override and at a sealed push pin: see the tank pressure's own force.",
        *DISTRUST,
    ),
)
def tank_line_pressure(line: TankLine) -> Value:
    """How much pressure stands at T while oil goes back, warm and cold, against what the valve bears there?"""
    warm_oil = oil_state(line)
    line_state = line_drops(line, kinematic_viscosity=warm_oil["kinematic_viscosity"], density=warm_oil["density"])
    line_drop = line_state["line_drop"]
    back_pressure = line.end_pressure + line_drop
    cold_oil = oil_state(vary(line, oil_temperature=line.cold_oil_temperature))
    cold_line_state = line_drops(line, kinematic_viscosity=cold_oil["kinematic_viscosity"], density=cold_oil["density"])
    cold_line_drop = cold_line_state["line_drop"]
    cold_back_pressure = line.end_pressure + cold_line_drop
    highest_back_pressure = known(cold_back_pressure, back_pressure)
    back_pressure_share = using(line, lines.back_pressure_share, back_pressure=highest_back_pressure)
    return {
        "back_pressure": back_pressure,
        "cold_back_pressure": cold_back_pressure,
        "back_pressure_share": back_pressure_share,
        "line_drop": line_drop,
        "cold_line_drop": cold_line_drop,
        "line_velocity": line_state["line_velocity"],
        "line_reynolds_number": line_state["line_reynolds_number"],
    }
