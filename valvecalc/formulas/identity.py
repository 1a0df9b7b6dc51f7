"""How far readings of an unknown valve lie from what is usual: face, coil, flow. Nothing here is looked up alone."""

from valvecalc.formula import Value, formula
from valvecalc.maths import log, maximum, where

_LENGTH = ">= 0 mm, <= 500 mm"
_FACE = "> 0 mm, <= 500 mm"
_SHARE = ">= 0, <= 1000"
_OHMS = "> 0 Ω, <= 1000 kΩ"
_FLOW = "> 0 L/min, <= 100000 L/min"


@formula(
    "Screw against that of a face",
    result="bolt_misfit",
    limits={"bolt_diameter": _LENGTH, "nominal_bolt_diameter": _FACE},
    part=True,
)
def bolt_misfit(*, bolt_diameter: Value, nominal_bolt_diameter: Value) -> Value:
    """Deviation either way; a screw that was not read (0) speaks against no face."""
    signed_deviation = bolt_diameter / nominal_bolt_diameter - 1
    return where(bolt_diameter > 0, maximum(signed_deviation, -signed_deviation), 0.0)


@formula(
    "Number of screws against that of a face",
    result="count_misfit",
    limits={"bolt_count": ">= 0, <= 100", "nominal_bolt_count": "> 0, <= 100"},
    part=True,
)
def count_misfit(*, bolt_count: Value, nominal_bolt_count: Value) -> Value:
    """Deviation either way; screws that were not counted (0) speak against no face."""
    signed_deviation = bolt_count / nominal_bolt_count - 1
    return where(bolt_count > 0, maximum(signed_deviation, -signed_deviation), 0.0)


@formula(
    "Ports against those of a face",
    result="port_misfit",
    limits={"port_diameter": _LENGTH, "least_port_diameter": _FACE, "largest_port_diameter": _FACE},
    part=True,
)
def port_misfit(*, port_diameter: Value, least_port_diameter: Value, largest_port_diameter: Value) -> Value:
    """Nothing within the figures found, the deviation beyond them; ports that were not read (0) speak against none."""
    above_range = port_diameter / largest_port_diameter - 1
    below_range = 1 - port_diameter / least_port_diameter
    return where(port_diameter > 0, maximum(maximum(above_range, below_range), 0.0), 0.0)


@formula(
    "Largest deviation of a face",
    result="misfit",
    limits={"bolt_misfit": _SHARE, "count_misfit": _SHARE, "port_misfit": _SHARE},
    part=True,
)
def largest_misfit(*, bolt_misfit: Value, count_misfit: Value, port_misfit: Value) -> Value:
    """One reading that does not fit is enough: a valve has one face."""
    return maximum(maximum(bolt_misfit, count_misfit), port_misfit)


@formula(
    "Ohms against the usual range",
    result="usual_range_misfit",
    limits={"resistance_20": _OHMS, "least_resistance_20": _OHMS, "largest_resistance_20": _OHMS},
    part=True,
)
def usual_range_misfit(*, resistance_20: Value, least_resistance_20: Value, largest_resistance_20: Value) -> Value:
    """Place on the logarithm: -1 in the middle of the range, 0 at its ends, above 0 outside."""
    usual_range_place = log(resistance_20**2 / (least_resistance_20 * largest_resistance_20)) / log(
        largest_resistance_20 / least_resistance_20
    )
    return maximum(usual_range_place, -usual_range_place) - 1


@formula(
    "Flow that the body leaves",
    result="least_flow",
    limits={"edge_flow": _FLOW, "body_share": "> 0, <= 1"},
    part=True,
)
def flow_left(*, edge_flow: Value, body_share: Value) -> Value:
    """The edge's flow, less what bends and bores of the body take."""
    return body_share * edge_flow


@formula(
    "Flow against what is usual for a face",
    result="flow_misfit",
    limits={"edge_flow": _FLOW, "least_usual_flow": _FLOW, "largest_usual_flow": _FLOW},
    part=True,
)
def flow_misfit(*, edge_flow: Value, least_usual_flow: Value, largest_usual_flow: Value) -> Value:
    """Nothing within the usual flow, else how many times it lies beyond it, less one."""
    return maximum(maximum(edge_flow / largest_usual_flow - 1, least_usual_flow / edge_flow - 1), 0.0)
