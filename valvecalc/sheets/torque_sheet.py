"""Which torque? The torque sheet of a valve: every size of screw with its torque, rounds, order, and what it holds."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import joint, screw, tightening
from valvecalc.primitives import fact, known, least, most, total, using
from valvecalc.sheet import sheet
from valvecalc.sheets.screw_pull import CLASSES, LUBRICATIONS, OILED, THREADS

#: The faces of data/screw_groups.csv.
FACES = (
    "ISO 4401-03 / NG6 / D03",
    "ISO 4401-05 / NG10 / D05",
    "ISO 4401-07 / NG16 / D07",
    "ISO 4401-08 / NG25 / D08",
    "ISO 4401-10 / NG32 / D10",
)


class Mounting(NamedTuple):
    """Face, or thread and number; class, lubrication, the documents' torque; ports and pressure; SI."""

    mounting_face: Value = None
    thread: Value = None
    bolt_count: Value = None
    screw_class: Value = None
    proof_stress: Value = None
    lubrication: Value = OILED
    maker_torque: Value = None
    small_maker_torque: Value = None
    preload_share: Value = 0.7
    ports_pressure: Value = None
    ring_diameter: Value = None
    ring_count: Value = 3.0
    tank_pressure: Value = None
    tank_ring_count: Value = 1.0


@sheet(
    "Torque sheet: which torque, in which order",
    results=(
        "tightening_torque",
        "torque_origin",
        "screw_groups",
        "proof_verdict",
        "clamp_ratio",
        "least_proof_share",
        "largest_proof_share",
        "proof_share_limit",
        "clamp_force",
        "separating_force",
        "lubrication_note",
    ),
    rows={
        "screw_groups": (
            "thread",
            "bolt_count",
            "class_word",
            "first_torque",
            "second_torque",
            "tightening_torque",
            "torque_origin",
            "tightening_order",
            "least_preload",
            "preload",
            "largest_preload",
        )
    },
    judged={
        "proof_verdict": ("within-range", "least_proof_share", "largest_proof_share", "proof_share_limit"),
        "clamp_ratio": (">=", "clamp-ratio"),
    },
    choices={"mounting_face": FACES, "thread": THREADS, "lubrication": LUBRICATIONS, "screw_class": CLASSES},
    limits={
        "bolt_count": ">= 1, <= 24",
        "proof_stress": "> 0 MPa, <= 2000 MPa",
        "maker_torque": "> 0 N·m, <= 2000 N·m",
        "small_maker_torque": "> 0 N·m, <= 2000 N·m",
        "preload_share": "> 0, <= 0.9",
        "ports_pressure": "> 0 bar, <= 1000 bar",
        "ring_diameter": "> 0 mm, <= 200 mm",
        "ring_count": ">= 1, <= 12",
        "tank_pressure": ">= 0 bar, <= 700 bar",
        "tank_ring_count": ">= 0, <= 12",
    },
    labels={
        "thread": "thread, where the face is none of the list or the valve has other screws; it wins over the face",
        "bolt_count": "number of screws of that thread; left empty, as many as the face has",
        "proof_stress": "proof stress, where the class is none of the list",
        "tightening_torque": "torque of the largest screws, last round",
        "preload_share": "share of the proof load that a computed torque aims at",
        "ports_pressure": "highest pressure in P, A and B, peaks too; a rod side may exceed the relief setting",
        "ring_count": "ports under this pressure at one time: P, A and B are three",
        "tank_pressure": "pressure in the tank ports, where it is more than a trace",
        "least_proof_share": "preload over proof load at the most friction, of the size of screw that has the most",
        "largest_proof_share": "preload over proof load at the least friction, of the size of screw that has the most",
    },
    origins={
        "preload_share": ("judgement", ""),
        "ring_count": ("common-practice", ""),
        "tank_ring_count": ("common-practice", ""),
    },
    example={
        "mounting_face": "ISO 4401-05 / NG10 / D05",
        "screw_class": "10.9",
        "maker_torque": "11.5 N·m",
        "ports_pressure": "280 bar",
        "ring_diameter": "16.6 mm",
    },
    cautions=("never-under-pressure", "makers-torque", "falling-load"),
    sources=(("dcv-sizes", "table of sizes and mounting patterns"), ("iso-898-1", ""), ("vdi-2230-reprint", "")),
    distrust=(
        "A computed torque is what the screw allows, aimed at 70 % of its proof load at friction 0.12. Body, plate and"
        " tube may ask for less: the valve's documents win, always.",
        "A thread in aluminium, a worn thread, an insert: the thread gives way before the screw.",
        "Screws of a face as one public article has them. Count yours, and enter thread and number where they differ.",
        "A ratio of 1.5 is a judgement of these pages, not a rule of a standard.",
    ),
)
def torque_sheet(mounting: Mounting) -> Value:
    """Torque, rounds and order for each size of screw, whether the screws bear it, and whether the joint then holds.

    What the valve's documents say is entered and wins; without it the torque is worked out. The range of preload is
    that of the friction.
    """
    named_screws = [
        {"thread": row["thread"], "bolt_count": row["bolt_count"]}
        for row in fact("screw-groups")
        if row["mounting_face"] == mounting.mounting_face
    ]
    face_count = total([row["bolt_count"] for row in named_screws])
    own_count = known(mounting.bolt_count, face_count)
    own_screws = [
        {"thread": row["thread"], "bolt_count": own_count}
        for row in fact("screw-threads")
        if row["thread"] == mounting.thread
    ]
    screws = known(own_screws, named_screws)
    screw_row = least(
        [row for row in fact("screw-classes") if row["screw_class"] == mounting.screw_class], "proof_stress"
    )
    class_proof_stress = screw_row["proof_stress"]
    proof_stress = known(mounting.proof_stress, class_proof_stress)
    class_word = known(mounting.screw_class, "by proof stress")
    friction_row = least(
        [row for row in fact("screw-friction") if row["lubrication"] == mounting.lubrication], "friction"
    )
    friction = friction_row["friction"]
    least_friction = friction_row["least_friction"]
    largest_friction = friction_row["largest_friction"]
    sized_screws = [
        {
            "thread": row["thread"],
            "bolt_count": row["bolt_count"],
            "thread_row": least(
                [each for each in fact("screw-threads") if each["thread"] == row["thread"]], "screw_diameter"
            ),
            "order_row": most(
                [each for each in fact("tightening-order") if each["bolt_count"] <= row["bolt_count"]], "bolt_count"
            ),
        }
        for row in screws
    ]
    computed_screws = [
        {
            "thread": row["thread"],
            "bolt_count": row["bolt_count"],
            "thread_row": row["thread_row"],
            "order_row": row["order_row"],
            "screw_diameter": row["thread_row"]["screw_diameter"],
            "computed_torque": tightening.torque_at_share(
                proof_stress=proof_stress,
                preload_share=mounting.preload_share,
                screw_diameter=row["thread_row"]["screw_diameter"],
                thread_pitch=row["thread_row"]["thread_pitch"],
                head_diameter=row["thread_row"]["head_diameter"],
                hole_diameter=row["thread_row"]["hole_diameter"],
                friction=friction,
            ),
        }
        for row in sized_screws
    ]
    largest_row = most(computed_screws, "screw_diameter")
    largest_screw = largest_row["screw_diameter"]
    maker_word = "the valve's documents" if mounting.maker_torque > 0.0 else "computed"
    small_maker_word = "the valve's documents" if mounting.small_maker_torque > 0.0 else "computed"
    torqued_screws = [
        {
            "thread": row["thread"],
            "bolt_count": row["bolt_count"],
            "thread_row": row["thread_row"],
            "order_row": row["order_row"],
            "tightening_torque": (
                known(mounting.maker_torque, row["computed_torque"])
                if row["screw_diameter"] >= largest_screw
                else known(mounting.small_maker_torque, row["computed_torque"])
            ),
            "torque_origin": (
                known(maker_word, "computed")
                if row["screw_diameter"] >= largest_screw
                else known(small_maker_word, "computed")
            ),
            "screw_diameter": row["screw_diameter"],
        }
        for row in computed_screws
    ]
    screw_groups = [
        {
            "thread": row["thread"],
            "bolt_count": row["bolt_count"],
            "class_word": class_word,
            "first_torque": tightening.step_torque(
                tightening_torque=row["tightening_torque"], step_share=fact("first-round")
            ),
            "second_torque": tightening.step_torque(
                tightening_torque=row["tightening_torque"], step_share=fact("second-round")
            ),
            "tightening_torque": row["tightening_torque"],
            "torque_origin": row["torque_origin"],
            "tightening_order": row["order_row"]["tightening_order"],
            "least_preload": screw.preload_by_friction(
                tightening_torque=row["tightening_torque"],
                screw_diameter=row["screw_diameter"],
                thread_pitch=row["thread_row"]["thread_pitch"],
                head_diameter=row["thread_row"]["head_diameter"],
                hole_diameter=row["thread_row"]["hole_diameter"],
                thread_friction=largest_friction,
                head_friction=largest_friction,
            ),
            "preload": screw.preload_by_friction(
                tightening_torque=row["tightening_torque"],
                screw_diameter=row["screw_diameter"],
                thread_pitch=row["thread_row"]["thread_pitch"],
                head_diameter=row["thread_row"]["head_diameter"],
                hole_diameter=row["thread_row"]["hole_diameter"],
                thread_friction=friction,
                head_friction=friction,
            ),
            "largest_preload": screw.preload_by_friction(
                tightening_torque=row["tightening_torque"],
                screw_diameter=row["screw_diameter"],
                thread_pitch=row["thread_row"]["thread_pitch"],
                head_diameter=row["thread_row"]["head_diameter"],
                hole_diameter=row["thread_row"]["hole_diameter"],
                thread_friction=least_friction,
                head_friction=least_friction,
            ),
            "proof_load": screw.proof_load(
                screw_diameter=row["screw_diameter"],
                thread_pitch=row["thread_row"]["thread_pitch"],
                proof_stress=proof_stress,
            ),
        }
        for row in torqued_screws
    ]
    judged_screws = [
        {
            "least_proof_share": tightening.preload_share(preload=row["least_preload"], proof_load=row["proof_load"]),
            "largest_proof_share": tightening.preload_share(
                preload=row["largest_preload"], proof_load=row["proof_load"]
            ),
            "group_clamp": joint.group_clamp(bolt_count=row["bolt_count"], preload=row["least_preload"]),
        }
        for row in screw_groups
    ]
    least_share_row = most(judged_screws, "least_proof_share")
    least_proof_share = least_share_row["least_proof_share"]
    largest_share_row = most(judged_screws, "largest_proof_share")
    largest_proof_share = largest_share_row["largest_proof_share"]
    proof_verdict = (
        "kept"
        if largest_proof_share <= fact("proof-share-limit")
        else ("exceeded" if least_proof_share > fact("proof-share-limit") else "cannot tell")
    )
    clamp_force = total([row["group_clamp"] for row in judged_screws])
    ports_force = using(mounting, joint.separating_force)
    tank_force = joint.separating_force(
        ports_pressure=mounting.tank_pressure,
        ring_diameter=mounting.ring_diameter,
        ring_count=mounting.tank_ring_count,
    )
    tank_part = known(tank_force, 0.0)
    separating_force = ports_force + tank_part
    clamp_ratio = joint.clamp_ratio(clamp_force=clamp_force, separating_force=separating_force)
    first_row = most(torqued_screws, "screw_diameter")
    return {
        "tightening_torque": first_row["tightening_torque"],
        "torque_origin": first_row["torque_origin"],
        "screw_groups": screw_groups,
        "proof_verdict": proof_verdict,
        "clamp_ratio": clamp_ratio,
        "least_proof_share": least_proof_share,
        "largest_proof_share": largest_proof_share,
        "proof_share_limit": fact("proof-share-limit"),
        "clamp_force": clamp_force,
        "separating_force": separating_force,
        "lubrication_note": friction_row["lubrication_note"],
    }
