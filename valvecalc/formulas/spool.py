"""The spool's metering edges: opening, flow, and the force of the streaming oil."""

from valvecalc.formula import Value, formula
from valvecalc.formulas import orifice
from valvecalc.maths import cos, maximum, minimum, pi, sqrt

_PRESSURE = ">= -1 bar, <= 1000 bar"
_DROP = ">= 0 bar, <= 1000 bar"
_FLOW = ">= 0 L/min, <= 10000 L/min"
_DENSITY = "> 0 kg/m³, <= 2000 kg/m³"
_RATIO = ">= 0, <= 10"
_DIAMETER = "> 0 mm, <= 200 mm"
_CLEARANCE = ">= 0 mm, <= 1 mm"
_CIRCUMFERENCE = "> 0, <= 1"
_COEFFICIENT = "> 0, <= 1"
_FACTOR = ">= 0, <= 2"
_ANGLE = ">= 0 °, <= 90 °"
_JET_ORIGINS = {"velocity_coefficient": ("handbook", "merritt-1967"), "jet_angle": ("handbook", "jelali-kroll-2003")}
_UNCALIBRATED = (
    "A flow-force factor of 1 that was not found on this spool: that is the plain theory, and it condemns good valves.",
    "One port plugged, or a four-way valve used three-way: the true force is often larger.",
)


@formula(
    "Flow area of a metering edge",
    result="area",
    sources=(("jelali-kroll-2003", "ch. 3.3"),),
    limits={
        "spool_diameter": _DIAMETER,
        "opening": ">= 0 mm, <= 100 mm",
        "clearance": _CLEARANCE,
        "open_circumference": _CIRCUMFERENCE,
    },
    origins={"open_circumference": ("judgement", "")},
    example={"spool_diameter": "14 mm", "opening": "0.3 mm", "clearance": "5 µm"},
    distrust=("Notches: they open less than the share of the circumference that they take up.",),
)
def metering_area(*, spool_diameter: Value, opening: Value, clearance: Value, open_circumference: Value = 1.0) -> Value:
    """Area between the edges of land and bore; the clearance keeps a leak open when they just meet."""
    return open_circumference * pi * spool_diameter * sqrt(opening**2 + clearance**2)


@formula(
    "Pressure left for the metering edges",
    result="available_drop",
    limits={
        "supply_pressure": _PRESSURE,
        "load_pressure_difference": "> -1000 bar, <= 1000 bar",
        "return_ratio": _RATIO,
        "tank_pressure": _PRESSURE,
    },
    part=True,
)
def available_pressure(
    *, supply_pressure: Value, load_pressure_difference: Value, return_ratio: Value, tank_pressure: Value
) -> Value:
    """What supply, load and tank line leave for both edges. The cylinder carries the tank pressure over by areas."""
    return maximum(supply_pressure - load_pressure_difference - return_ratio * tank_pressure, 0)


@formula(
    "Flow through the spool's open edges",
    result="flow",
    sources=(("jelali-kroll-2003", "ch. 3.3"),),
    limits={
        "pump_flow": _FLOW,
        "discharge_coefficient": _COEFFICIENT,
        "area": ">= 0 mm², <= 100000 mm²",
        "available_drop": _DROP,
        "density": _DENSITY,
        "return_ratio": _RATIO,
    },
    labels={"area": "flow area of each of the two open edges"},
    chart="area",
    example={
        "pump_flow": "25 L/min",
        "discharge_coefficient": "0.65",
        "area": "4 mm²",
        "available_drop": "110 bar",
        "density": "857 kg/m³",
        "return_ratio": "1",
    },
    distrust=("An accumulator on the line: then the pump does not limit the flow.",),
)
def edge_flow(
    *,
    pump_flow: Value,
    discharge_coefficient: Value,
    area: Value,
    available_drop: Value,
    density: Value,
    return_ratio: Value,
) -> Value:
    """Flow into the cylinder while the spool opens: the edges limit it first, then the pump does.

    Both edges have the same area; the return edge takes return ratio cubed of the inlet's pressure difference,
    seen from the pump.
    """
    pressure_drop = available_drop / (1 + return_ratio**3)
    edge_capacity = orifice.orifice_flow(
        discharge_coefficient=discharge_coefficient, area=area, pressure_drop=pressure_drop, density=density
    )
    return minimum(pump_flow, edge_capacity)


@formula(
    "Opening at which the pump flow just passes",
    result="corner_opening",
    limits={
        "pump_flow": _FLOW,
        "discharge_coefficient": _COEFFICIENT,
        "spool_diameter": _DIAMETER,
        "clearance": _CLEARANCE,
        "available_drop": "> 0 bar, <= 1000 bar",
        "density": _DENSITY,
        "return_ratio": _RATIO,
        "open_circumference": _CIRCUMFERENCE,
    },
    origins={"open_circumference": ("judgement", "")},
    example={
        "pump_flow": "25 L/min",
        "discharge_coefficient": "0.65",
        "spool_diameter": "14 mm",
        "clearance": "5 µm",
        "available_drop": "110 bar",
        "density": "857 kg/m³",
        "return_ratio": "1",
    },
    distrust=("An accumulator on the line: then there is no such place and the flow force keeps growing.",),
)
def corner_opening(
    *,
    pump_flow: Value,
    discharge_coefficient: Value,
    spool_diameter: Value,
    clearance: Value,
    available_drop: Value,
    density: Value,
    return_ratio: Value,
    open_circumference: Value = 1.0,
) -> Value:
    """Where the flow force peaks: before it the flow grows with the opening, after it the pressure collapses."""
    corner_area = pump_flow / (discharge_coefficient * sqrt(2 * available_drop / (density * (1 + return_ratio**3))))
    return sqrt(maximum((corner_area / (open_circumference * pi * spool_diameter)) ** 2 - clearance**2, 0))


@formula(
    "Flow that comes back from the cylinder",
    result="return_flow",
    limits={"flow": _FLOW, "return_ratio": _RATIO},
    part=True,
)
def return_flow(*, flow: Value, return_ratio: Value) -> Value:
    """Return flow: more than the pump's when the rod goes in, less when it goes out."""
    return return_ratio * flow


@formula(
    "Pressure on the driven side",
    result="driven_pressure",
    limits={
        "load_pressure_difference": "> -1000 bar, <= 1000 bar",
        "return_ratio": _RATIO,
        "return_pressure": _PRESSURE,
    },
    part=True,
)
def driven_pressure(*, load_pressure_difference: Value, return_ratio: Value, return_pressure: Value) -> Value:
    """Load plus what the return pressure adds through the cylinder's areas."""
    return load_pressure_difference + return_ratio * return_pressure


@formula(
    "Highest pressure of the return side",
    result="return_pressure",
    limits={
        "port_pressure": _PRESSURE,
        "load_pressure_difference": "> -1000 bar, <= 1000 bar",
        "return_ratio": "> 0, <= 10",
    },
    part=True,
)
def highest_return(*, port_pressure: Value, load_pressure_difference: Value, return_ratio: Value) -> Value:
    """With this return pressure neither side of the cylinder lies below `port_pressure`."""
    return maximum(port_pressure, (port_pressure - load_pressure_difference) / return_ratio)


@formula(
    "Lowest pressure of the return side",
    result="return_pressure",
    limits={
        "port_pressure": _PRESSURE,
        "load_pressure_difference": "> -1000 bar, <= 1000 bar",
        "return_ratio": "> 0, <= 10",
    },
    part=True,
)
def lowest_return(*, port_pressure: Value, load_pressure_difference: Value, return_ratio: Value) -> Value:
    """With this return pressure neither side of the cylinder lies above `port_pressure`."""
    return minimum(port_pressure, (port_pressure - load_pressure_difference) / return_ratio)


@formula(
    "Pressure at a shut port",
    result="mean_pressure",
    limits={"supply_pressure": _PRESSURE, "tank_pressure": _PRESSURE},
    part=True,
)
def mean_pressure(*, supply_pressure: Value, tank_pressure: Value) -> Value:
    """Where a plugged port settles between two equally leaking lands."""
    return (supply_pressure + tank_pressure) / 2


@formula(
    "Flow force of one metering edge",
    result="flow_force",
    sources=(("jelali-kroll-2003", "eq. 3.88, p. 50"), ("feigel-1992", ""), ("vacca-franzoni-2021", "sec. 3.8.1")),
    limits={
        "flow": _FLOW,
        "pressure_drop": _DROP,
        "density": _DENSITY,
        "flow_force_factor": _FACTOR,
        "velocity_coefficient": _COEFFICIENT,
        "jet_angle": _ANGLE,
    },
    labels={"pressure_drop": "pressure difference over this one edge"},
    origins=_JET_ORIGINS,
    chart="pressure_drop",
    example={"flow": "25 L/min", "pressure_drop": "55 bar", "density": "857 kg/m³", "flow_force_factor": "0.25"},
    distrust=(
        *_UNCALIBRATED,
        "The supply pressure entered as the edge's own: the force peaks just after the edge cracks open.",
    ),
)
def flow_force(
    *,
    flow: Value,
    pressure_drop: Value,
    density: Value,
    flow_force_factor: Value,
    velocity_coefficient: Value = 0.98,
    jet_angle: Value = 69 * pi / 180,
) -> Value:
    """Force with which the oil streaming over an edge tries to shut it, whichever way it flows.

    Add the force of every open edge, each with its own flow and pressure difference.
    """
    return flow_force_factor * velocity_coefficient * cos(jet_angle) * flow * sqrt(2 * density * pressure_drop)


@formula(
    "Largest flow force on the way",
    result="peak_flow_force",
    sources=(("jelali-kroll-2003", "eq. 3.88, p. 50"), ("feigel-1992", "")),
    limits={
        "pump_flow": _FLOW,
        "available_drop": _DROP,
        "density": _DENSITY,
        "flow_force_factor": _FACTOR,
        "return_ratio": _RATIO,
        "velocity_coefficient": _COEFFICIENT,
        "jet_angle": _ANGLE,
    },
    labels={"return_ratio": "return flow over inlet flow; 0 for one edge alone"},
    origins=_JET_ORIGINS,
    chart="available_drop",
    example={
        "pump_flow": "25 L/min",
        "available_drop": "110 bar",
        "density": "857 kg/m³",
        "flow_force_factor": "0.25",
        "return_ratio": "1",
    },
    distrust=(*_UNCALIBRATED, "An accumulator or long pipes: the pressure does not collapse and the force grows on."),
)
def peak_flow_force(
    *,
    pump_flow: Value,
    available_drop: Value,
    density: Value,
    flow_force_factor: Value,
    return_ratio: Value,
    velocity_coefficient: Value = 0.98,
    jet_angle: Value = 69 * pi / 180,
) -> Value:
    """Flow force of inlet and return edge together at the opening where the pump flow just passes.

    It grows with flow and with the root of the pressure; the width of the edges does not matter.
    """
    return (
        flow_force_factor
        * velocity_coefficient
        * cos(jet_angle)
        * pump_flow
        * (1 + return_ratio**2)
        * sqrt(2 * density * available_drop / (1 + return_ratio**3))
    )


@formula(
    "Force of the tank pressure on a sealed push pin",
    result="pin_force",
    limits={"tank_pressure": _PRESSURE, "pin_area": ">= 0 mm², <= 1000 mm²"},
    example={"tank_pressure": "6 bar", "pin_area": "28.3 mm²"},
    cautions=("stored-pressure",),
    distrust=("Wet pins, with the tube at tank pressure: there this force is nil.",),
)
def tank_pin_force(*, tank_pressure: Value, pin_area: Value) -> Value:
    """Why a valve with sealed pins, or its override, does not move against a high tank line."""
    return tank_pressure * pin_area
