"""What a torque makes of one screw: preload over the range of friction. An inner sheet, and the page that compares."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import joint, screw, thread, tightening
from valvecalc.primitives import fact, known, least
from valvecalc.sheet import sheet

#: The words of data/screw_threads.csv, screw_classes.csv, screw_friction.csv.
THREADS = (
    *("M4", "M5", "M6", "M8", "M10", "M12", "M14", "M16", "M20", "M24"),
    *("10-24 UNC", "1/4-20 UNC", "5/16-18 UNC", "3/8-16 UNC", "1/2-13 UNC", "5/8-11 UNC", "3/4-10 UNC"),
)
CLASSES = ("8.8", "10.9", "12.9", "SAE grade 5", "SAE grade 8")
LUBRICATIONS = (
    "oiled on thread and head",
    "dry: zinc plated or bare",
    "paste with MoS2 or graphite",
    "not known",
)
OILED = LUBRICATIONS[0]


class Pull(NamedTuple):
    """One screw and its torque; SI."""

    thread: Value
    lubrication: Value
    tightening_torque: Value


@sheet(
    "Pull of one screw",
    results=("preload", "least_preload", "largest_preload", "screw_diameter", "nut_factor", "lubrication_note"),
    choices={"thread": THREADS, "lubrication": LUBRICATIONS},
    limits={"tightening_torque": "> 0 N·m, <= 2000 N·m"},
    part=True,
)
def screw_pull(pull: Pull) -> Value:
    """Preload at the friction taken, at the most and at the least of this lubrication."""
    thread_row = least([row for row in fact("screw-threads") if row["thread"] == pull.thread], "screw_diameter")
    friction_row = least([row for row in fact("screw-friction") if row["lubrication"] == pull.lubrication], "friction")
    nut_factor = thread.nut_factor(
        screw_diameter=thread_row["screw_diameter"],
        thread_pitch=thread_row["thread_pitch"],
        head_diameter=thread_row["head_diameter"],
        hole_diameter=thread_row["hole_diameter"],
        thread_friction=friction_row["friction"],
        head_friction=friction_row["friction"],
    )
    least_nut_factor = thread.nut_factor(
        screw_diameter=thread_row["screw_diameter"],
        thread_pitch=thread_row["thread_pitch"],
        head_diameter=thread_row["head_diameter"],
        hole_diameter=thread_row["hole_diameter"],
        thread_friction=friction_row["least_friction"],
        head_friction=friction_row["least_friction"],
    )
    largest_nut_factor = thread.nut_factor(
        screw_diameter=thread_row["screw_diameter"],
        thread_pitch=thread_row["thread_pitch"],
        head_diameter=thread_row["head_diameter"],
        hole_diameter=thread_row["hole_diameter"],
        thread_friction=friction_row["largest_friction"],
        head_friction=friction_row["largest_friction"],
    )
    preload = screw.preload_from_torque(
        tightening_torque=pull.tightening_torque,
        screw_diameter=thread_row["screw_diameter"],
        nut_factor=nut_factor,
    )
    least_preload = screw.preload_from_torque(
        tightening_torque=pull.tightening_torque,
        screw_diameter=thread_row["screw_diameter"],
        nut_factor=largest_nut_factor,
    )
    largest_preload = screw.preload_from_torque(
        tightening_torque=pull.tightening_torque,
        screw_diameter=thread_row["screw_diameter"],
        nut_factor=least_nut_factor,
    )
    return {
        "preload": preload,
        "least_preload": least_preload,
        "largest_preload": largest_preload,
        "screw_diameter": thread_row["screw_diameter"],
        "thread_pitch": thread_row["thread_pitch"],
        "head_diameter": thread_row["head_diameter"],
        "hole_diameter": thread_row["hole_diameter"],
        "nut_factor": nut_factor,
        "lubrication_note": friction_row["lubrication_note"],
    }


class Torque(NamedTuple):
    """A torque on one thread, what is on it, and the strength if it is known; SI."""

    tightening_torque: Value
    thread: Value
    lubrication: Value = OILED
    screw_class: Value = None
    proof_stress: Value = None


@sheet(
    "Dry or oiled: what a torque gives",
    results=(
        "preload",
        "least_preload",
        "largest_preload",
        "tightening_factor",
        "nut_factor",
        "proof_load",
        "preload_share",
        "lubrication_note",
        "friction_rows",
    ),
    rows={"friction_rows": ("lubrication", "least_preload", "preload", "largest_preload")},
    choices={"thread": THREADS, "lubrication": LUBRICATIONS, "screw_class": CLASSES},
    limits={"tightening_torque": "> 0 N·m, <= 2000 N·m", "proof_stress": "> 0 MPa, <= 2000 MPa"},
    labels={"proof_stress": "proof stress, where the class is none of the list"},
    chart="tightening_torque",
    example={"tightening_torque": "11.5 N·m", "thread": "M6", "screw_class": "10.9"},
    cautions=("never-under-pressure", "makers-torque"),
    sources=(("vdi-2230-reprint", ""), ("jis-b-1083-extract", "equation 2"), ("nut-factor-tables", "")),
    distrust=(
        "Friction classes of a guideline, not a measurement: tables of nut factors by finish go further still, from"
        " 0.09 to 0.5.",
        "Countersunk heads, flange screws, locking screws, damaged threads.",
        "The wrench's own error comes on top, and an impact driver gives nothing to reckon with.",
    ),
)
def preload_range(torque: Torque) -> Value:
    """How far apart the pull of a screw may lie after one and the same torque, by what is on thread and head.

    The torque says little by itself: an eighth of it stretches the screw, the rest is friction.
    """
    pull = screw_pull(torque)
    screw_row = least(
        [row for row in fact("screw-classes") if row["screw_class"] == torque.screw_class], "proof_stress"
    )
    class_proof_stress = screw_row["proof_stress"]
    proof_stress = known(torque.proof_stress, class_proof_stress)
    proof_load = screw.proof_load(
        screw_diameter=pull["screw_diameter"], thread_pitch=pull["thread_pitch"], proof_stress=proof_stress
    )
    preload_share = tightening.preload_share(preload=pull["preload"], proof_load=proof_load)
    tightening_factor = joint.tightening_factor(
        largest_preload=pull["largest_preload"], least_preload=pull["least_preload"]
    )
    friction_rows = [
        {
            "lubrication": row["lubrication"],
            "least_preload": screw.preload_by_friction(
                tightening_torque=torque.tightening_torque,
                screw_diameter=pull["screw_diameter"],
                thread_pitch=pull["thread_pitch"],
                head_diameter=pull["head_diameter"],
                hole_diameter=pull["hole_diameter"],
                thread_friction=row["largest_friction"],
                head_friction=row["largest_friction"],
            ),
            "preload": screw.preload_by_friction(
                tightening_torque=torque.tightening_torque,
                screw_diameter=pull["screw_diameter"],
                thread_pitch=pull["thread_pitch"],
                head_diameter=pull["head_diameter"],
                hole_diameter=pull["hole_diameter"],
                thread_friction=row["friction"],
                head_friction=row["friction"],
            ),
            "largest_preload": screw.preload_by_friction(
                tightening_torque=torque.tightening_torque,
                screw_diameter=pull["screw_diameter"],
                thread_pitch=pull["thread_pitch"],
                head_diameter=pull["head_diameter"],
                hole_diameter=pull["hole_diameter"],
                thread_friction=row["least_friction"],
                head_friction=row["least_friction"],
            ),
        }
        for row in fact("screw-friction")
    ]
    return {
        "preload": pull["preload"],
        "least_preload": pull["least_preload"],
        "largest_preload": pull["largest_preload"],
        "tightening_factor": tightening_factor,
        "nut_factor": pull["nut_factor"],
        "proof_load": proof_load,
        "preload_share": preload_share,
        "lubrication_note": pull["lubrication_note"],
        "friction_rows": friction_rows,
    }
