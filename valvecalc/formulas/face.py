"""What bends or warms a body round its spool: the face it is bolted to, heat, and the nut on its tube."""

from valvecalc.formula import Value, formula
from valvecalc.maths import pi

_GAP = ">= 0 µm, <= 10 mm"
_LENGTH = "> 0 mm, <= 2 m"
_TEMPERATURE = ">= -60 °C, <= 250 °C"
_GROWTH = ">= 0 µm/(m·K), <= 100 µm/(m·K)"
_FACE_CAUTIONS = ("stored-pressure", "falling-load")


@formula(
    "Bend of a foot on a face that is not flat",
    result="face_bend",
    limits={"face_error": _GAP, "face_length": _LENGTH, "foot_length": _LENGTH},
    chart="face_error",
    example={"face_error": "15 µm", "face_length": "120 mm", "foot_length": "54 mm"},
    cautions=_FACE_CAUTIONS,
    distrust=(
        "A bound, not the bend: a stiff body follows its plate only in part, and a thin plate follows the body.",
        "Dirt or a burr under the foot: it counts in full, whatever the straight edge said.",
    ),
)
def face_bend(*, face_error: Value, face_length: Value, foot_length: Value) -> Value:
    """How far a body may be drawn out of line by its screws, from the gap under a straight edge: at the most.

    The error is taken in proportion to the length. One even bow would bend a short foot less, with the square of it.
    """
    return face_error * foot_length / face_length


@formula(
    "Bend of a foot on an even bow",
    result="face_bow",
    limits={"face_error": _GAP, "face_length": _LENGTH, "foot_length": _LENGTH},
    part=True,
)
def face_bow(*, face_error: Value, face_length: Value, foot_length: Value) -> Value:
    """An arc's height goes with the square of its chord."""
    return face_error * (foot_length / face_length) ** 2


@formula(
    "Gap over length",
    result="face_slope",
    limits={"face_error": _GAP, "face_length": _LENGTH},
    part=True,
)
def face_slope(*, face_error: Value, face_length: Value) -> Value:
    """10 µm over 100 mm is a ten-thousandth."""
    return face_error / face_length


@formula(
    "Gap against what a face may have",
    result="flatness_share",
    limits={"face_slope": ">= 0, <= 1", "face_slope_allowed": "> 0, <= 1"},
    part=True,
)
def flatness_share(*, face_slope: Value, face_slope_allowed: Value) -> Value:
    """Above 1 the face is worse than that."""
    return face_slope / face_slope_allowed


@formula(
    "Bend against the clearance",
    result="bend_share",
    limits={"face_bend": _GAP, "clearance": "> 0 µm, <= 1 mm"},
    part=True,
)
def bend_share(*, face_bend: Value, clearance: Value) -> Value:
    """At 1 the spool touches in the middle and at both ends."""
    return face_bend / clearance


@formula(
    "Bow against the clearance",
    result="bow_share",
    limits={"face_bow": _GAP, "clearance": "> 0 µm, <= 1 mm"},
    part=True,
)
def bow_share(*, face_bow: Value, clearance: Value) -> Value:
    """As an even bow."""
    return face_bow / clearance


@formula(
    "Clearance lost by heat",
    result="clearance_lost",
    limits={
        "spool_diameter": "> 0 mm, <= 200 mm",
        "spool_temperature": _TEMPERATURE,
        "body_temperature": _TEMPERATURE,
        "spool_expansion": _GROWTH,
        "body_expansion": _GROWTH,
        "clearance_temperature": _TEMPERATURE,
    },
    origins={
        "spool_expansion": ("common-practice", ""),
        "body_expansion": ("common-practice", ""),
        "clearance_temperature": ("common-practice", ""),
    },
    labels={"body_expansion": "growth of the body by heat: steel 11.5 µm/(m·K), cast iron 10.5, aluminium 23"},
    chart="spool_temperature",
    example={
        "spool_diameter": "14 mm",
        "spool_temperature": "65 °C",
        "body_temperature": "35 °C",
        "body_expansion": "10.5 µm/(m·K)",
    },
    cautions=("hot-coil", "stored-pressure"),
    distrust=(
        "A few seconds after hot oil meets a cold valve nobody has both temperatures: take the oil's for the spool.",
        "It is the free growth of two rings. A body that is hot on one side bends besides.",
    ),
)
def clearance_lost(
    *,
    spool_diameter: Value,
    spool_temperature: Value,
    body_temperature: Value,
    spool_expansion: Value = 1.15e-5,
    body_expansion: Value = 1.15e-5,
    clearance_temperature: Value = 293.15,
) -> Value:
    """Radial clearance that is gone because the spool is hotter than the body, or of another material.

    Hot oil into a cold valve heats the spool first: 40 K on 12 mm cost 2.8 µm of perhaps 5. An aluminium body with a
    steel spool is tighter cold and looser hot.
    """
    return (
        spool_diameter
        / 2
        * (
            spool_expansion * (spool_temperature - clearance_temperature)
            - body_expansion * (body_temperature - clearance_temperature)
        )
    )


@formula(
    "Clearance lost over clearance",
    result="lost_share",
    limits={"clearance_lost": ">= -1 mm, <= 1 mm", "clearance": "> 0 µm, <= 1 mm"},
    part=True,
)
def lost_share(*, clearance_lost: Value, clearance: Value) -> Value:
    """At 1 the spool is held fast; below 0 it has become looser."""
    return clearance_lost / clearance


@formula(
    "Ring of metal of a tube",
    result="tube_area",
    limits={"tube_diameter": "> 0 mm, <= 200 mm", "tube_inside": ">= 0 mm, <= 200 mm"},
    part=True,
)
def tube_area(*, tube_diameter: Value, tube_inside: Value) -> Value:
    """Outer circle less inner circle."""
    return pi / 4 * (tube_diameter**2 - tube_inside**2)


@formula(
    "Stress along a tube by its nut",
    result="pull_stress",
    limits={"nut_pull": ">= 0 N, <= 2000 kN", "tube_area": "> 0 mm², <= 20000 mm²"},
    part=True,
)
def pull_stress(*, nut_pull: Value, tube_area: Value) -> Value:
    """The nut pulls the tube against the coil and the body."""
    return nut_pull / tube_area


@formula(
    "Stress along a tube by the oil",
    result="pressure_stress",
    limits={
        "tube_pressure": ">= 0 bar, <= 700 bar",
        "tube_inside": ">= 0 mm, <= 200 mm",
        "tube_area": "> 0 mm², <= 20000 mm²",
    },
    part=True,
)
def pressure_stress(*, tube_pressure: Value, tube_inside: Value, tube_area: Value) -> Value:
    """The oil presses on the tube's end and stretches its wall."""
    return tube_pressure * pi / 4 * tube_inside**2 / tube_area
