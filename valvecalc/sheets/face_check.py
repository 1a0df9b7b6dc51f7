"""What bends or pinches a body that was good on the bench: its face, heat, and the nut of its coil."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import face, gaps, screw
from valvecalc.primitives import fact, known, using
from valvecalc.sheet import sheet

_CLEARANCE = "> 0 µm, <= 1 mm"
_TEMPERATURE = ">= -60 °C, <= 250 °C"


class Flatness(NamedTuple):
    """Gap under a straight edge, the length it was read over, the foot, and the clearance; SI."""

    face_error: Value
    face_length: Value
    foot_length: Value = None
    diametral_clearance: Value = None


@sheet(
    "Flatness of a face",
    results=("flatness_share", "face_bend", "face_bow", "bend_share", "bow_share", "clearance"),
    judged={"flatness_share": ("<=", "flatness-share")},
    limits={
        "face_error": ">= 0 µm, <= 10 mm",
        "face_length": "> 0 mm, <= 2 m",
        "foot_length": "> 0 mm, <= 2 m",
        "diametral_clearance": _CLEARANCE,
    },
    chart="face_error",
    example={
        "face_error": "15 µm",
        "face_length": "120 mm",
        "foot_length": "54 mm",
        "diametral_clearance": "11 µm",
    },
    cautions=("stored-pressure", "falling-load"),
    distrust=(
        "A bound, not the bend: a stiff body follows its plate only in part.",
        "A straight edge of the workshop is good to 5 µm or so: read both diagonals, and turn the edge round.",
        "Dirt, paint or a burr under the foot: it counts in full, whatever the edge said. Stone and wipe first.",
        "Read the plate and the valve's own foot: a bowed foot on a flat plate bends as much.",
    ),
)
def flatness_check(flatness: Flatness) -> Value:
    """Is the face flat enough, and how much of the spool's clearance can it take when the screws draw down?

    A valve that sticks when it is bolted down and moves when its screws are eased is bent by its face.
    """
    face_slope = using(flatness, face.face_slope)
    flatness_share = face.flatness_share(face_slope=face_slope, face_slope_allowed=fact("face-slope"))
    face_bend = using(flatness, face.face_bend)
    face_bow = using(flatness, face.face_bow)
    clearance = using(flatness, gaps.radial_clearance)
    bend_share = face.bend_share(face_bend=face_bend, clearance=clearance)
    bow_share = face.bow_share(face_bow=face_bow, clearance=clearance)
    return {
        "flatness_share": flatness_share,
        "face_bend": face_bend,
        "face_bow": face_bow,
        "bend_share": bend_share,
        "bow_share": bow_share,
        "clearance": clearance,
    }


class Shock(NamedTuple):
    """Spool, clearance as measured, both temperatures and both materials; SI."""

    spool_diameter: Value
    diametral_clearance: Value
    spool_temperature: Value
    body_temperature: Value
    spool_expansion: Value = 1.15e-5
    body_expansion: Value = 1.15e-5
    clearance_temperature: Value = 293.15


@sheet(
    "Hot oil, cold valve: clearance left",
    results=("lost_share", "clearance_left", "clearance_lost", "clearance"),
    judged={"lost_share": ("<=", "clearance-lost")},
    limits={
        "spool_diameter": "> 0 mm, <= 200 mm",
        "diametral_clearance": _CLEARANCE,
        "spool_temperature": _TEMPERATURE,
        "body_temperature": _TEMPERATURE,
        "spool_expansion": ">= 0 µm/(m·K), <= 100 µm/(m·K)",
        "body_expansion": ">= 0 µm/(m·K), <= 100 µm/(m·K)",
        "clearance_temperature": _TEMPERATURE,
    },
    labels={"body_expansion": "growth of the body by heat: steel 11.5 µm/(m·K), cast iron 10.5, aluminium 23"},
    origins={
        "spool_expansion": ("common-practice", ""),
        "body_expansion": ("common-practice", ""),
        "clearance_temperature": ("common-practice", ""),
    },
    chart="spool_temperature",
    example={
        "spool_diameter": "14 mm",
        "diametral_clearance": "11 µm",
        "spool_temperature": "65 °C",
        "body_temperature": "35 °C",
    },
    cautions=("hot-coil", "stored-pressure"),
    distrust=(
        "Seconds after hot oil meets a cold valve nobody has both temperatures: take the oil's for the spool.",
        "Free growth of two rings: a body hot on one side bends besides, a body in a cold plate is held back.",
        "Clearance measured with parts of unlike temperature: let both lie together first.",
    ),
)
def thermal_shock(shock: Shock) -> Value:
    """How much clearance heat takes when the spool is hotter than its body, or of another material.

    It sticks for a minute after the start and is free when you look: warm the valve with the oil, and it is gone.
    """
    clearance = using(shock, gaps.radial_clearance)
    clearance_lost = using(shock, face.clearance_lost)
    clearance_left = clearance - clearance_lost
    lost_share = face.lost_share(clearance_lost=clearance_lost, clearance=clearance)
    return {
        "lost_share": lost_share,
        "clearance_left": clearance_left,
        "clearance_lost": clearance_lost,
        "clearance": clearance,
    }


class TubeNut(NamedTuple):
    """Torque of the coil's nut as it was set, its thread, and the tube where it is thinnest; SI."""

    nut_torque: Value
    nut_thread_diameter: Value
    tube_diameter: Value
    tube_inside: Value
    tube_pressure: Value = None
    nut_factor: Value = 0.13


@sheet(
    "Coil nut: what a torque does to the tube",
    results=("tube_stress", "pull_stress", "pressure_stress", "nut_pull"),
    limits={
        "nut_torque": "> 0 N·m, <= 500 N·m",
        "nut_thread_diameter": "> 3 mm, <= 100 mm",
        "tube_diameter": "> 0 mm, <= 200 mm",
        "tube_inside": "> 0 mm, <= 200 mm",
        "tube_pressure": ">= 0 bar, <= 700 bar",
        "nut_factor": "> 0.01, <= 1",
    },
    labels={
        "nut_torque": "torque that was put on the coil's nut",
        "nut_factor": "nut factor; the lowest usual one is taken, for it pulls most",
    },
    origins={"nut_factor": ("handbook", "vdi-2230-reprint")},
    example={
        "nut_torque": "6 N·m",
        "nut_thread_diameter": "18 mm",
        "tube_diameter": "17 mm",
        "tube_inside": "13.5 mm",
        "tube_pressure": "160 bar",
    },
    cautions=("tube-nut", "stored-pressure", "hot-coil"),
    distrust=(
        "It allows no torque, and solving it for one gives none: weld seams, undercuts and thread roots raise the"
        " stress two to four times, and the tube is proved by pressure, not by arithmetic.",
        "The tube's own joint in the body: its torque is in the valve's documents and nowhere else.",
        "A twist or a bend by a spanner on the tube is not in it: counter-hold the tube.",
    ),
)
def tube_nut(nut: TubeNut) -> Value:
    """Shows what a torque on the nut already does to a thin tube that also bears pressure: a warning, not a limit.

    The nut only has to keep the coil from rocking. Hand, then the torque in the valve's documents.
    """
    nut_pull = screw.preload_from_torque(
        tightening_torque=nut.nut_torque, screw_diameter=nut.nut_thread_diameter, nut_factor=nut.nut_factor
    )
    tube_area = using(nut, face.tube_area)
    pull_stress = face.pull_stress(nut_pull=nut_pull, tube_area=tube_area)
    pressure_stress = using(nut, face.pressure_stress, tube_area=tube_area)
    pressure_part = known(pressure_stress, 0.0)
    tube_stress = pull_stress + pressure_part
    return {
        "tube_stress": tube_stress,
        "pull_stress": pull_stress,
        "pressure_stress": pressure_stress,
        "nut_pull": nut_pull,
    }
