"""Flow paths of a valve: what they lose warm and cold, what becomes of it at a cylinder, and the heat."""

from valvecalc.formula import Value, formula

_FLOW = ">= 0 L/min, <= 10000 L/min"
_DROP = ">= 0 bar, <= 1000 bar"
_VISCOSITY = "> 0 mPa·s, <= 100000 mPa·s"
_DENSITY = "> 0 kg/m³, <= 2000 kg/m³"
_AREA = "> 0 mm², <= 4000000 mm²"
_OIL = {"viscosity": _VISCOSITY, "reference_viscosity": _VISCOSITY, "density": _DENSITY, "reference_density": _DENSITY}


@formula(
    "Pressure loss of a flow path, warm or cold",
    result="pressure_drop",
    limits={
        "flow": _FLOW,
        "laminar_resistance": ">= 0 bar/(L/min), <= 1000 bar/(L/min)",
        "turbulent_resistance": ">= 0 bar/(L/min)², <= 1000 bar/(L/min)²",
        **_OIL,
    },
    labels={"reference_viscosity": "dynamic viscosity of the oil that the loss was taken with"},
    chart="flow",
    example={
        "flow": "35 L/min",
        "laminar_resistance": "0.024 bar/(L/min)",
        "turbulent_resistance": "0.0021 bar/(L/min)²",
        "viscosity": "180 mPa·s",
        "reference_viscosity": "40 mPa·s",
        "density": "872 kg/m³",
        "reference_density": "862 kg/m³",
    },
    distrust=(
        "Flows far beyond those that the two figures were found with.",
        "The whole loss multiplied by the viscosity: only the first part goes with it.",
    ),
)
def path_drop(
    *,
    flow: Value,
    laminar_resistance: Value,
    turbulent_resistance: Value,
    viscosity: Value,
    reference_viscosity: Value,
    density: Value,
    reference_density: Value,
) -> Value:
    """Loss of a valve's path with the oil as it is, from the two figures that its curve gives.

    One part goes with flow and viscosity, the other with the square of the flow and the density. Each path is its
    own: P to A, P to B, A to T and B to T differ.
    """
    laminar_drop = laminar_resistance * flow * viscosity / reference_viscosity
    turbulent_drop = turbulent_resistance * flow**2 * density / reference_density
    return laminar_drop + turbulent_drop


@formula(
    "Pressure loss from one known point",
    result="pressure_drop",
    limits={
        "flow": _FLOW,
        "rated_flow": "> 0 L/min, <= 10000 L/min",
        "rated_drop": _DROP,
        "laminar_share": ">= 0, <= 1",
        **_OIL,
    },
    origins={
        "laminar_share": ("judgement", ""),
        "viscosity": ("judgement", ""),
        "reference_viscosity": ("judgement", ""),
        "density": ("judgement", ""),
        "reference_density": ("judgement", ""),
    },
    part=True,
)
def one_point_drop(
    *,
    flow: Value,
    rated_flow: Value,
    rated_drop: Value,
    laminar_share: Value = 0.1,
    viscosity: Value = 0.04,
    reference_viscosity: Value = 0.04,
    density: Value = 870.0,
    reference_density: Value = 870.0,
) -> Value:
    """Loss of a path at another flow where only one point of its curve is known.

    Ten percent of the known loss are taken to go with viscosity, the rest with the square of the flow.
    """
    flow_ratio = flow / rated_flow
    laminar_drop = laminar_share * rated_drop * flow_ratio * viscosity / reference_viscosity
    turbulent_drop = (1 - laminar_share) * rated_drop * flow_ratio**2 * density / reference_density
    return laminar_drop + turbulent_drop


@formula(
    "Return loss as the pump feels it",
    result="reflected_drop",
    limits={"pressure_drop": _DROP, "return_ratio": ">= 0, <= 10"},
    labels={"pressure_drop": "loss of the return path if the pump flow itself went through it"},
    chart="return_ratio",
    example={"pressure_drop": "3.4 bar", "return_ratio": "1.48"},
    distrust=(
        "Cold thick oil: then it is the square of the ratio, not the cube.",
        "The two losses of the curve simply added: with a ratio of 2 the return loss counts eightfold going in.",
    ),
)
def reflected_return_drop(*, pressure_drop: Value, return_ratio: Value) -> Value:
    """What the return path adds to the pump pressure of a single-rod cylinder.

    Going in, the return flow is the pump flow times the area ratio, its loss goes with the square of that, and the
    areas carry it over once more: the cube. Going out, the cube of the inverse.
    """
    return pressure_drop * return_ratio**3


@formula(
    "Speed of a regenerative cylinder",
    result="cylinder_speed",
    sources=(("esposito", "example 9-1"),),
    limits={"pump_flow": _FLOW, "rod_area": _AREA},
    example={"pump_flow": "25 L/min", "rod_area": "1018 mm²"},
    cautions=("falling-load",),
    distrust=("A valve that cannot pass the joined flow: piston over rod area times the pump flow goes through it.",),
)
def regenerative_speed(*, pump_flow: Value, rod_area: Value) -> Value:
    """Speed of the rod on its way out when the rod side's oil joins the pump's: as if only the rod were filled."""
    return pump_flow / rod_area


@formula(
    "Pump pressure of a regenerative cylinder",
    result="port_pressure",
    sources=(("esposito", "example 9-1"),),
    limits={
        "load_force": ">= 0 N, <= 10000000 N",
        "mechanical_efficiency": "> 0, <= 1",
        "path_in_drop": _DROP,
        "path_out_drop": _DROP,
        "piston_area": _AREA,
        "annulus_area": _AREA,
    },
    labels={
        "path_in_drop": "loss of the path into the piston side, at the joined flow",
        "path_out_drop": "loss of the path from the rod side back to the inlet",
    },
    origins={"mechanical_efficiency": ("judgement", "")},
    chart="load_force",
    example={
        "load_force": "4 kN",
        "path_in_drop": "12 bar",
        "path_out_drop": "6 bar",
        "piston_area": "3117 mm²",
        "annulus_area": "2099 mm²",
    },
    cautions=("falling-load",),
    distrust=("Breaking loose from rest: seals take 10 to 20 % then.",),
)
def regenerative_pressure(
    *,
    load_force: Value,
    path_in_drop: Value,
    path_out_drop: Value,
    piston_area: Value,
    annulus_area: Value,
    mechanical_efficiency: Value = 0.95,
) -> Value:
    """Pressure that the pump needs while both sides are joined: the load rests on the rod area alone.

    The losses count many times over, because they act on the large areas and the pump on the small one.
    """
    return (load_force / mechanical_efficiency + path_in_drop * piston_area + path_out_drop * annulus_area) / (
        piston_area - annulus_area
    )


@formula(
    "Heat of a pressure loss",
    result="heat",
    sources=(("esposito", "examples 8-2 and 3-15"), ("sullivan", "example 2.7")),
    limits={"flow": _FLOW, "pressure_drop": _DROP},
    example={"flow": "40 L/min", "pressure_drop": "30 bar"},
    distrust=("Pressure that does work behind the valve: only what is lost in it becomes heat.",),
)
def throttle_heat(*, flow: Value, pressure_drop: Value) -> Value:
    """Power that a valve or a relief turns into heat: bar times L/min over 600 is kW."""
    return flow * pressure_drop


@formula(
    "Warming of the oil in one pass",
    result="temperature_rise",
    sources=(("esposito", "example 11-2"),),
    limits={
        "pressure_drop": _DROP,
        "density": _DENSITY,
        "specific_heat": "> 0 kJ/(kg·K), <= 10 kJ/(kg·K)",
    },
    origins={"specific_heat": ("common-practice", "")},
    example={"pressure_drop": "160 bar", "density": "862 kg/m³"},
    distrust=("A body that is still cold takes part of the heat; the oil leaves less warm at first.",),
)
def pass_temperature_rise(*, pressure_drop: Value, density: Value, specific_heat: Value = 1900.0) -> Value:
    """How much warmer oil leaves a valve than it came: about 0.6 K for each 10 bar lost in it.

    Felt by hand or read with a thermometer it shows which of several valves leaks inside.
    """
    return pressure_drop / (density * specific_heat)


_PUMPED = {"pump_flow": _FLOW, "piston_area": "> 0 mm²", "annulus_area": "> 0 mm²"}


@formula(
    "Flow that comes back while the rod goes out",
    result="return_flow",
    limits=_PUMPED,
    part=True,
)
def return_going_out(*, pump_flow: Value, piston_area: Value, annulus_area: Value) -> Value:
    """Less than the pump's, by the areas."""
    return pump_flow * annulus_area / piston_area


@formula(
    "Flow that comes back while the rod goes in",
    result="return_flow",
    limits=_PUMPED,
    part=True,
)
def return_going_in(*, pump_flow: Value, piston_area: Value, annulus_area: Value) -> Value:
    """More than the pump's, by the areas."""
    return pump_flow * piston_area / annulus_area


@formula(
    "Joined flow of a regenerative cylinder",
    result="inlet_flow",
    limits={"pump_flow": _FLOW, "piston_area": "> 0 mm²", "rod_area": "> 0 mm²"},
    part=True,
)
def joined_flow(*, pump_flow: Value, piston_area: Value, rod_area: Value) -> Value:
    """Pump flow and what the rod side gives back, both through the path into the piston side."""
    return pump_flow * piston_area / rod_area


@formula(
    "Flow over a known flow",
    result="flow_ratio",
    limits={"flow": _FLOW, "rated_flow": "> 0 L/min"},
    part=True,
)
def share_of_flow(*, flow: Value, rated_flow: Value) -> Value:
    """How far a flow lies beyond the one that is known."""
    return flow / rated_flow


@formula(
    "Deviation of a measured loss",
    result="loss_deviation",
    limits={"measured_drop": _DROP, "pressure_drop": "> 0 bar"},
    part=True,
)
def loss_deviation(*, measured_drop: Value, pressure_drop: Value) -> Value:
    """How far a measured loss lies above the expected one, as a share of it."""
    return (measured_drop - pressure_drop) / pressure_drop
