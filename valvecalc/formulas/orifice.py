"""Flow through holes and open edges: turbulent, so density counts and viscosity hardly does."""

from valvecalc.formula import Value, formula
from valvecalc.maths import maximum, sqrt

_LIMITS = {
    "discharge_coefficient": "> 0, <= 1",
    "area": "> 0 mm², <= 100000 mm²",
    "pressure_drop": ">= 0 bar, <= 1000 bar",
    "density": "> 0 kg/m³, <= 2000 kg/m³",
}


@formula(
    "Flow through an orifice",
    result="flow",
    sources=(("esposito", "example 8-4"), ("schaschke", "example 6.6"), ("jelali-kroll-2003", "ch. 3.3")),
    limits={**_LIMITS, "area": ">= 0 mm², <= 100000 mm²"},
    chart="pressure_drop",
    example={"discharge_coefficient": "0.61", "area": "0.785 mm²", "pressure_drop": "100 bar", "density": "857 kg/m³"},
    cautions=("jet",),
    distrust=("Thick cold oil in a small opening: the flow turns laminar and is smaller than this.",),
)
def orifice_flow(*, discharge_coefficient: Value, area: Value, pressure_drop: Value, density: Value) -> Value:
    """Flow through a sharp-edged hole or metering edge. Four times the pressure difference, twice the flow."""
    return discharge_coefficient * area * sqrt(2 * pressure_drop / density)


@formula(
    "Flow through an edge, either way",
    result="flow",
    limits={
        "discharge_coefficient": _LIMITS["discharge_coefficient"],
        "area": ">= 0 mm², <= 100000 mm²",
        "upper_pressure": "> -1 bar, <= 1000 bar",
        "lower_pressure": "> -1 bar, <= 1000 bar",
        "density": _LIMITS["density"],
    },
    part=True,
)
def signed_flow(
    *, discharge_coefficient: Value, area: Value, upper_pressure: Value, lower_pressure: Value, density: Value
) -> Value:
    """Positive from the upper to the lower side, negative where the lower one has the higher pressure."""
    forward_drop = maximum(upper_pressure - lower_pressure, 0)
    backward_drop = maximum(lower_pressure - upper_pressure, 0)
    return discharge_coefficient * area * (sqrt(2 * forward_drop / density) - sqrt(2 * backward_drop / density))


@formula(
    "Pressure between two openings in a row",
    result="shut_pressure",
    limits={
        "port_pressure": "> -1 bar, <= 1000 bar",
        "tank_pressure": "> -1 bar, <= 1000 bar",
        "inlet_area": ">= 0 mm², <= 100000 mm²",
        "return_area": ">= 0 mm², <= 100000 mm²",
    },
    part=True,
)
def pressure_between(*, port_pressure: Value, tank_pressure: Value, inlet_area: Value, return_area: Value) -> Value:
    """Where a plugged port stands that is joined to P and to T: the pressure differences go against areas squared."""
    return tank_pressure + (port_pressure - tank_pressure) * inlet_area**2 / (inlet_area**2 + return_area**2)


@formula(
    "Pressure difference over an orifice",
    result="pressure_drop",
    sources=(("esposito", "example 8-4"), ("jelali-kroll-2003", "ch. 3.3")),
    limits={
        "flow": ">= 0 L/min, <= 10000 L/min",
        "discharge_coefficient": _LIMITS["discharge_coefficient"],
        "area": _LIMITS["area"],
        "density": _LIMITS["density"],
    },
    chart="flow",
    example={"flow": "30 L/min", "discharge_coefficient": "0.65", "area": "9 mm²", "density": "857 kg/m³"},
    distrust=("Thick cold oil in a small opening: the pressure difference is larger than this.",),
)
def orifice_drop(*, flow: Value, discharge_coefficient: Value, area: Value, density: Value) -> Value:
    """Pressure that a hole or metering edge takes at this flow. Twice the flow, four times the pressure."""
    return density / 2 * (flow / (discharge_coefficient * area)) ** 2


@formula(
    "Speed of an oil jet",
    result="jet_speed",
    limits={"pressure_drop": _LIMITS["pressure_drop"], "density": _LIMITS["density"]},
    labels={"pressure_drop": "pressure behind the leak"},
    chart="pressure_drop",
    example={"pressure_drop": "160 bar", "density": "857 kg/m³"},
    cautions=("jet",),
    distrust=("Reading a low figure as leave to go near: skin is pierced from about 7 bar.",),
)
def jet_speed(*, pressure_drop: Value, density: Value) -> Value:
    """How fast oil leaves a pinhole or a loose joint: the figure that shows why a glove does not stop it."""
    return sqrt(2 * pressure_drop / density)
