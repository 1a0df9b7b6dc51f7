"""The cylinder behind the valve: areas, forces, speeds, and the pressure that a blocked side can reach."""

from valvecalc.formula import Value, formula
from valvecalc.maths import pi

_DIAMETER = "> 0 mm, <= 2 m"
_ROD = ">= 0 mm, < 2 m"
_PRESSURE = ">= 0 bar, <= 1000 bar"
_AREA = "> 0 mm², <= 4000000 mm²"
_FLOW = "> 0 L/min, <= 10000 L/min"
_EFFICIENCY = "> 0, <= 1"
_ROD_TOO_THICK = "A rod entered as thick as the bore: there is no ring left to push on."


@formula(
    "Piston area",
    result="piston_area",
    limits={"bore_diameter": _DIAMETER},
    example={"bore_diameter": "63 mm"},
)
def piston_area(*, bore_diameter: Value) -> Value:
    """Full area of the piston, on the side without the rod."""
    return pi / 4 * bore_diameter**2


@formula(
    "Ring area on the rod side",
    result="annulus_area",
    limits={"bore_diameter": _DIAMETER, "rod_diameter": _ROD},
    example={"bore_diameter": "63 mm", "rod_diameter": "36 mm"},
    distrust=(_ROD_TOO_THICK,),
)
def annulus_area(*, bore_diameter: Value, rod_diameter: Value) -> Value:
    """Area that the oil pushes on when the rod goes in."""
    return pi / 4 * (bore_diameter**2 - rod_diameter**2)


@formula(
    "Area ratio of a cylinder",
    result="area_ratio",
    limits={"bore_diameter": _DIAMETER, "rod_diameter": _ROD},
    example={"bore_diameter": "63 mm", "rod_diameter": "36 mm"},
    distrust=(_ROD_TOO_THICK,),
)
def area_ratio(*, bore_diameter: Value, rod_diameter: Value) -> Value:
    """Piston area over ring area: by this factor more oil comes back than goes in when the rod retracts."""
    return bore_diameter**2 / (bore_diameter**2 - rod_diameter**2)


_FORCE_LIMITS = {
    "bore_diameter": _DIAMETER,
    "rod_diameter": _ROD,
    "cap_side_pressure": _PRESSURE,
    "rod_side_pressure": _PRESSURE,
    "mechanical_efficiency": _EFFICIENCY,
}


@formula(
    "Force of the rod on its way out",
    result="push_force",
    sources=(("sullivan", "example 8.1"),),
    limits=_FORCE_LIMITS,
    origins={"rod_side_pressure": ("judgement", ""), "mechanical_efficiency": ("judgement", "")},
    example={"bore_diameter": "63 mm", "rod_diameter": "36 mm", "cap_side_pressure": "140 bar"},
    cautions=("falling-load", "stored-pressure"),
    distrust=("Breaking loose from rest: seals take 10 to 20 % then.",),
)
def push_force(
    *,
    bore_diameter: Value,
    rod_diameter: Value,
    cap_side_pressure: Value,
    rod_side_pressure: Value = 0.0,
    mechanical_efficiency: Value = 0.95,
) -> Value:
    """What a cylinder pushes, return pressure and seal friction taken off."""
    piston_area = pi / 4 * bore_diameter**2
    annulus_area = pi / 4 * (bore_diameter**2 - rod_diameter**2)
    return mechanical_efficiency * (cap_side_pressure * piston_area - rod_side_pressure * annulus_area)


@formula(
    "Force of the rod on its way in",
    result="pull_force",
    sources=(("cylinder-exercise", ""),),
    limits=_FORCE_LIMITS,
    origins={"cap_side_pressure": ("judgement", ""), "mechanical_efficiency": ("judgement", "")},
    example={"bore_diameter": "63 mm", "rod_diameter": "36 mm", "rod_side_pressure": "140 bar"},
    cautions=("falling-load", "stored-pressure"),
    distrust=("Breaking loose from rest: seals take 10 to 20 % then.", _ROD_TOO_THICK),
)
def pull_force(
    *,
    bore_diameter: Value,
    rod_diameter: Value,
    rod_side_pressure: Value,
    cap_side_pressure: Value = 0.0,
    mechanical_efficiency: Value = 0.95,
) -> Value:
    """What a cylinder pulls, return pressure and seal friction taken off."""
    piston_area = pi / 4 * bore_diameter**2
    annulus_area = pi / 4 * (bore_diameter**2 - rod_diameter**2)
    return mechanical_efficiency * (rod_side_pressure * annulus_area - cap_side_pressure * piston_area)


@formula(
    "Stroke time of a cylinder",
    result="stroke_time",
    sources=(("esposito", "example 3-8"),),
    limits={"area": _AREA, "stroke_length": "> 0 mm, <= 20 m", "flow": _FLOW},
    labels={"area": "area that the incoming oil pushes on"},
    chart="flow",
    example={"area": "3117 mm²", "stroke_length": "400 mm", "flow": "25 L/min"},
    cautions=("falling-load",),
    distrust=("Relief valve blowing, air in the oil, cushions at the end: slower. A pulling load: faster.",),
)
def stroke_time(*, area: Value, stroke_length: Value, flow: Value) -> Value:
    """How long a full stroke takes. More than 10 % slower on the bench: measure the flow."""
    return area * stroke_length / flow


@formula(
    "Flow that a stroke time speaks for",
    result="flow",
    sources=(("esposito", "example 3-8"),),
    limits={"area": _AREA, "stroke_length": "> 0 mm, <= 20 m", "stroke_time": "> 0 s, <= 3600 s"},
    labels={"area": "area that the incoming oil pushes on"},
    chart="stroke_time",
    example={"area": "3117 mm²", "stroke_length": "400 mm", "stroke_time": "2.99 s"},
    cautions=("falling-load",),
    distrust=("Cushions, air in the oil, a relief valve that blows: the flow into the cylinder is not the pump's.",),
)
def flow_for_time(*, area: Value, stroke_length: Value, stroke_time: Value) -> Value:
    """Flow into a cylinder from the time of a full stroke; against the pump's flow it shows what goes elsewhere."""
    return area * stroke_length / stroke_time


@formula(
    "Speed of a cylinder, or its drift",
    result="cylinder_speed",
    sources=(("sullivan", "example 8.2"), ("cylinder-exercise", "")),
    limits={"flow": ">= 0 L/min, <= 10000 L/min", "area": _AREA},
    labels={"area": "area that the incoming oil pushes on", "flow": "flow into the cylinder, or leakage out of it"},
    example={"flow": "25 L/min", "area": "3117 mm²"},
    cautions=("falling-load",),
    distrust=(
        "Drift from a leaking piston seal alone: with both ports truly shut a rod that its load pushes in stops again.",
    ),
)
def cylinder_speed(*, flow: Value, area: Value) -> Value:
    """Speed of the rod from the flow; with the leakage of a valve for flow it is the drift."""
    return flow / area


@formula(
    "Pressure of a blocked rod side",
    result="rod_side_pressure",
    sources=(("navedtra-14105", "assignment 1, question 1-31"), ("esposito", "example 11-1")),
    limits={
        "cap_side_pressure": _PRESSURE,
        "piston_area": _AREA,
        "annulus_area": _AREA,
        "load_force": ">= -10000000 N, <= 10000000 N",
    },
    origins={"load_force": ("judgement", "")},
    chart="cap_side_pressure",
    example={"cap_side_pressure": "160 bar", "piston_area": "3117 mm²", "annulus_area": "2099 mm²"},
    cautions=("stored-pressure", "trapped-volume", "jet"),
    distrust=("A load that pulls the rod out: enter it with a minus sign, it adds to the pressure.",),
)
def blocked_side_pressure(
    *, cap_side_pressure: Value, piston_area: Value, annulus_area: Value, load_force: Value = 0.0
) -> Value:
    """How high the rod side goes when its way out is shut while the pump pushes the piston side.

    It rises above the relief valve's setting by the area ratio: hoses, seals and gauge on that side have to bear it.
    """
    return (cap_side_pressure * piston_area - load_force) / annulus_area
