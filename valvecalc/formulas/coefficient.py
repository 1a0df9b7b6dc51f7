"""Flow coefficients Kv and Cv: one quantity in two units, and its openings in area."""

from valvecalc.formula import Value, formula
from valvecalc.maths import pi, sqrt

_FLOW = ">= 0 L/min, <= 10000 L/min"
_COEFFICIENT = "> 0 Kv, <= 1000 Kv"
_DENSITY = "> 0 kg/m³, <= 2000 kg/m³"
_WATER = {"water_density": ("standard", "iec-60534")}
_SOURCES = (("iec-60534", "form for liquids, turbulent"), ("esposito", "examples 8-6 and 9-4"))
_THICK = (
    "Thick cold oil or small valves: below a valve Reynolds number of about 10 000 less flows than this, and the"
    " standard puts a factor to it.",
    "Cavitation in the valve: beyond it the flow no longer rises with the pressure difference.",
)


@formula(
    "Flow coefficient from a measured flow",
    result="flow_coefficient",
    sources=_SOURCES,
    limits={
        "flow": _FLOW,
        "pressure_drop": "> 0 bar, <= 1000 bar",
        "density": _DENSITY,
        "water_density": "> 900 kg/m³, <= 1100 kg/m³",
    },
    origins=_WATER,
    example={"flow": "40 L/min", "pressure_drop": "4.2 bar", "density": "862 kg/m³"},
    distrust=_THICK,
)
def flow_coefficient(*, flow: Value, pressure_drop: Value, density: Value, water_density: Value = 1000.0) -> Value:
    """Kv or Cv of a valve from one flow and the pressure it takes: two valves compared by one figure.

    Kv is the water in m³/h that 1 bar drives through, Cv the water in gpm that 1 psi drives through; Cv is 1.156
    times Kv. In metric units the answer is Kv, in US units Cv.
    """
    return flow * sqrt(density / (water_density * pressure_drop))


@formula(
    "Flow from a flow coefficient",
    result="flow",
    sources=_SOURCES,
    limits={
        "flow_coefficient": _COEFFICIENT,
        "pressure_drop": ">= 0 bar, <= 1000 bar",
        "density": _DENSITY,
        "water_density": "> 900 kg/m³, <= 1100 kg/m³",
    },
    origins=_WATER,
    chart="pressure_drop",
    example={"flow_coefficient": "1.2 Kv", "pressure_drop": "5 bar", "density": "862 kg/m³"},
    distrust=_THICK,
)
def flow_by_coefficient(
    *, flow_coefficient: Value, pressure_drop: Value, density: Value, water_density: Value = 1000.0
) -> Value:
    """What flows through a valve whose Kv or Cv is printed. Oil is lighter than water, so a little more flows."""
    return flow_coefficient * sqrt(pressure_drop * water_density / density)


@formula(
    "Pressure loss from a flow coefficient",
    result="pressure_drop",
    sources=_SOURCES,
    limits={
        "flow": _FLOW,
        "flow_coefficient": _COEFFICIENT,
        "density": _DENSITY,
        "water_density": "> 900 kg/m³, <= 1100 kg/m³",
    },
    origins=_WATER,
    chart="flow",
    example={"flow": "40 L/min", "flow_coefficient": "1.2 Kv", "density": "862 kg/m³"},
    distrust=_THICK,
)
def drop_by_coefficient(
    *, flow: Value, flow_coefficient: Value, density: Value, water_density: Value = 1000.0
) -> Value:
    """Pressure that a valve takes whose Kv or Cv is printed. Twice the flow, four times the pressure."""
    return (flow / flow_coefficient) ** 2 * density / water_density


@formula(
    "Opening that a flow coefficient stands for",
    result="effective_area",
    sources=(("iec-60534", "form for liquids, turbulent"),),
    limits={"flow_coefficient": _COEFFICIENT, "water_density": "> 900 kg/m³, <= 1100 kg/m³"},
    origins=_WATER,
    example={"flow_coefficient": "1.2 Kv"},
    distrust=("Long passages and bends: the figure is one opening that loses as much, not a measure to be found.",),
)
def area_by_coefficient(*, flow_coefficient: Value, water_density: Value = 1000.0) -> Value:
    """Area times discharge coefficient of the one opening that passes as much: to put a valve beside a choke."""
    return flow_coefficient * sqrt(water_density / 2)


@formula(
    "Reynolds number of a valve",
    result="reynolds_number",
    sources=(("iec-60534", "valve Reynolds number, form and recovery factor 1"),),
    limits={
        "flow": _FLOW,
        "flow_coefficient": _COEFFICIENT,
        "kinematic_viscosity": "> 0.1 mm²/s, <= 100000 mm²/s",
        "water_density": "> 900 kg/m³, <= 1100 kg/m³",
    },
    origins=_WATER,
    chart="kinematic_viscosity",
    example={"flow": "40 L/min", "flow_coefficient": "1.2 Kv", "kinematic_viscosity": "46 mm²/s"},
    distrust=("Narrow slots and notches: the true figure is smaller, and the laminar part begins sooner.",),
)
def valve_reynolds_number(
    *, flow: Value, flow_coefficient: Value, kinematic_viscosity: Value, water_density: Value = 1000.0
) -> Value:
    """Whether a printed Kv or Cv still holds for thick oil: above about 10 000 it does.

    Below, less flows than the coefficient says and the loss grows with the viscosity: then take the loss of the path
    warm and cold. It is the Reynolds number of the one round opening that the coefficient stands for.
    """
    effective_area = area_by_coefficient(flow_coefficient=flow_coefficient, water_density=water_density)
    return 2 * flow / (kinematic_viscosity * sqrt(pi * effective_area))
