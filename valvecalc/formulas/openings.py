"""Openings of a spool and what limits them: notches, holes, thick oil, openings one after or beside the other."""

from valvecalc.formula import Value, formula
from valvecalc.formulas import spool
from valvecalc.maths import acos, maximum, sqrt, tan, tanh

_LENGTH = "> 0 mm, <= 200 mm"
_OPENING = ">= 0 mm, <= 100 mm"
_COUNT = ">= 1, <= 100"
_AREA = "> 0 mm², <= 100000 mm²"
_PRESSURE = ">= 0 bar, <= 1000 bar"
_FLOW_LIMITS = {
    "discharge_coefficient": "> 0, <= 1",
    "pressure_drop": _PRESSURE,
    "kinematic_viscosity": "> 0.1 mm²/s, <= 100000 mm²/s",
    "density": "> 0 kg/m³, <= 2000 kg/m³",
    "transition_number": "> 1, <= 10000",
}
_TRUSTED = {
    "transition_number": (
        ">= 50, <= 1000",
        "Measured openings lie between 50 (very sharp edges) and 1000 (long passages).",
    ),
    "discharge_coefficient": (">= 0.6, <= 0.75", "Turbulent coefficients of sharp edges lie between 0.60 and 0.75."),
}
_COLD = ("How round the edge is decides when it is cold: 65 for 300 gives up to 4.6 times the flow of thick oil.",)
_NOTCH = (
    "A notch opened so far that the ring round the spool is smaller: then the ring's area counts.",
    "A shallow notch: near its end the depth limits the flow, not the area seen from above.",
)


@formula(
    "Flow through an orifice, thick oil too",
    result="flow",
    sources=(("jelali-kroll-2003", "ch. 3.3.2"),),
    limits={**_FLOW_LIMITS, "hydraulic_diameter": _LENGTH, "area": ">= 0 mm², <= 100000 mm²"},
    trusted=_TRUSTED,
    origins={"transition_number": ("judgement", "")},
    labels={"discharge_coefficient": "discharge coefficient when the oil is thin"},
    chart="pressure_drop",
    example={
        "discharge_coefficient": "0.61",
        "hydraulic_diameter": "0.9 mm",
        "area": "0.636 mm²",
        "pressure_drop": "60 bar",
        "kinematic_viscosity": "320 mm²/s",
        "density": "872 kg/m³",
    },
    cautions=("jet",),
    distrust=_COLD,
)
def orifice_flow_laminar(
    *,
    discharge_coefficient: Value,
    hydraulic_diameter: Value,
    area: Value,
    pressure_drop: Value,
    kinematic_viscosity: Value,
    density: Value,
    transition_number: Value = 300.0,
) -> Value:
    """Flow through a small hole or edge when the oil is cold: what the plain orifice law leaves out.

    With thin oil it is the plain law. With thick oil the flow goes with the pressure itself and falls with the
    viscosity; between the two the law is smooth (hyperbolic tangent). The transition number says where: about 50 to
    65 for very sharp edges, 260 to 300 for slightly rounded ones, 1000 for long passages.
    """
    jet_speed = sqrt(2 * pressure_drop / density)
    flow_number = hydraulic_diameter * jet_speed / kinematic_viscosity
    laminar_factor = tanh(2 * flow_number / transition_number)
    return discharge_coefficient * laminar_factor * area * jet_speed


@formula(
    "Flow over a metering edge, thick oil too",
    result="flow",
    sources=(("jelali-kroll-2003", "ch. 3.3"),),
    limits={
        **_FLOW_LIMITS,
        "spool_diameter": "> 0 mm, <= 200 mm",
        "opening": _OPENING,
        "clearance": "> 0 mm, <= 1 mm",
        "open_circumference": "> 0, <= 1",
    },
    trusted=_TRUSTED,
    origins={"transition_number": ("judgement", ""), "open_circumference": ("judgement", "")},
    labels={"discharge_coefficient": "discharge coefficient when the oil is thin"},
    chart="opening",
    example={
        "discharge_coefficient": "0.65",
        "spool_diameter": "14 mm",
        "opening": "0.12 mm",
        "clearance": "5 µm",
        "pressure_drop": "55 bar",
        "kinematic_viscosity": "320 mm²/s",
        "density": "872 kg/m³",
    },
    cautions=("jet",),
    distrust=(*_COLD, "An edge with notches: take the notch's area and the flow through an orifice."),
)
def metering_edge_flow(
    *,
    discharge_coefficient: Value,
    spool_diameter: Value,
    opening: Value,
    clearance: Value,
    pressure_drop: Value,
    kinematic_viscosity: Value,
    density: Value,
    transition_number: Value = 300.0,
    open_circumference: Value = 1.0,
) -> Value:
    """Flow over one edge at a given opening, warm or cold: why a valve is slow in the morning.

    Area and hydraulic diameter come from the gap between the edges of land and bore.
    """
    area = spool.metering_area(
        spool_diameter=spool_diameter, opening=opening, clearance=clearance, open_circumference=open_circumference
    )
    hydraulic_diameter = 2 * sqrt(opening**2 + clearance**2)
    jet_speed = sqrt(2 * pressure_drop / density)
    flow_number = hydraulic_diameter * jet_speed / kinematic_viscosity
    laminar_factor = tanh(2 * flow_number / transition_number)
    return discharge_coefficient * laminar_factor * area * jet_speed


@formula(
    "Area of rectangular notches",
    result="area",
    limits={"notch_count": _COUNT, "notch_width": _LENGTH, "opening": _OPENING},
    example={"notch_count": "4", "notch_width": "2.5 mm", "opening": "0.6 mm"},
    distrust=_NOTCH,
)
def rectangular_notch_area(*, notch_count: Value, notch_width: Value, opening: Value) -> Value:
    """Area that straight-sided notches open: it grows evenly with the travel."""
    return notch_count * notch_width * opening


@formula(
    "Area of V notches",
    result="area",
    limits={"notch_count": _COUNT, "half_angle": "> 0 °, <= 80 °", "opening": _OPENING},
    chart="opening",
    example={"notch_count": "2", "half_angle": "30°", "opening": "0.6 mm"},
    distrust=_NOTCH,
)
def vee_notch_area(*, notch_count: Value, half_angle: Value, opening: Value) -> Value:
    """Area that V notches open: a quarter of it at half the travel, so the valve starts softly."""
    return notch_count * opening**2 * tan(half_angle)


@formula(
    "Area of round holes or notch ends",
    result="area",
    limits={"notch_count": _COUNT, "notch_radius": _LENGTH, "opening": _OPENING},
    chart="opening",
    example={"notch_count": "4", "notch_radius": "1.2 mm", "opening": "0.6 mm"},
    distrust=(*_NOTCH, "A slot with a round end opened beyond its radius: from there on it is a rectangle."),
)
def round_notch_area(*, notch_count: Value, notch_radius: Value, opening: Value) -> Value:
    """Area that an edge has opened of drilled holes, or of slots with a round end up to their radius.

    A sector of the circle less the triangle that is still covered. A hole opened over its whole diameter stays open.
    """
    edge_cosine = maximum(1 - opening / notch_radius, -1)
    segment_angle = acos(edge_cosine)
    sector_area = notch_count * notch_radius**2 * segment_angle
    triangle_area = notch_count * notch_radius**2 * edge_cosine * sqrt(1 - edge_cosine**2)
    return sector_area - triangle_area


@formula(
    "Two openings one after the other",
    result="effective_area",
    limits={"effective_area_1": _AREA, "effective_area_2": _AREA},
    example={"effective_area_1": "3.1 mm²", "effective_area_2": "5.2 mm²"},
    distrust=("Openings so close that the jet of the first runs into the second: less is lost than here.",),
)
def series_openings(*, effective_area_1: Value, effective_area_2: Value) -> Value:
    """One opening that passes as much as two in a row: a choke before a valve, inlet and return edge.

    Each is its area times its discharge coefficient. The smaller one decides: two equal ones pass 71 % of one.
    """
    return effective_area_1 * effective_area_2 / sqrt(effective_area_1**2 + effective_area_2**2)


@formula(
    "Two openings side by side",
    result="effective_area",
    limits={"effective_area_1": _AREA, "effective_area_2": _AREA},
    example={"effective_area_1": "3.1 mm²", "effective_area_2": "5.2 mm²"},
    distrust=("A pump that does not deliver that much: then the pressure falls, not the flow rises.",),
)
def parallel_openings(*, effective_area_1: Value, effective_area_2: Value) -> Value:
    """One opening that passes as much as two beside each other: a bypass past a choke, two edges of one port."""
    return effective_area_1 + effective_area_2


@formula(
    "Cavitation index",
    result="cavitation_index",
    limits={
        "upstream_pressure": ">= -1 bar, <= 1000 bar",
        "downstream_pressure": ">= -1 bar, <= 1000 bar",
        "vapour_pressure_abs": ">= 0 bar, <= 1 bar",
        "atmospheric_pressure_abs": "> 0.3 bar, <= 1.2 bar",
    },
    origins={"vapour_pressure_abs": ("judgement", ""), "atmospheric_pressure_abs": ("common-practice", "")},
    part=True,
)
def cavitation_index(
    *,
    upstream_pressure: Value,
    downstream_pressure: Value,
    vapour_pressure_abs: Value = 0.0,
    atmospheric_pressure_abs: Value = 101325.0,
) -> Value:
    """What presses the bubbles shut behind an opening, over the pressure that makes them."""
    return (downstream_pressure + atmospheric_pressure_abs - vapour_pressure_abs) / (
        upstream_pressure - downstream_pressure
    )
