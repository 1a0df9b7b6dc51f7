"""Does the joint hold? And one torque, found or set, against what holds and what the screws bear."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import joint, screw, tightening
from valvecalc.primitives import fact, known, least
from valvecalc.sheet import sheet
from valvecalc.sheets.screw_pull import CLASSES, LUBRICATIONS, OILED, THREADS, screw_pull

#: The words of data/thread_engagement.csv.
MATERIALS = ("steel", "cast iron", "aluminium")

_LIMITS = {
    "tightening_torque": "> 0 N·m, <= 2000 N·m",
    "bolt_count": ">= 1, <= 24",
    "ports_pressure": "> 0 bar, <= 1000 bar",
    "ring_diameter": "> 0 mm, <= 200 mm",
    "ring_count": ">= 1, <= 12",
}
_LABELS = {
    "bolt_count": "screws of this size; smaller ones beside them are left out",
    "ports_pressure": "highest pressure in P, A and B, peaks too; a rod side may exceed the relief setting",
    "ring_count": "ports under this pressure at one time: P, A and B are three",
}
_CAUTIONS = ("never-under-pressure", "jet", "makers-torque")
_RING = "Count the ring's outside, in its counterbore: the port's bore in its place gives half the force."


class Joint(NamedTuple):
    """Screws, torque, ports; and what is known of grip and engaged thread; SI."""

    thread: Value
    bolt_count: Value
    tightening_torque: Value
    lubrication: Value = OILED
    ports_pressure: Value = None
    ring_diameter: Value = None
    ring_count: Value = 3.0
    tank_pressure: Value = None
    tank_ring_count: Value = 1.0
    grip_length: Value = None
    clamped_modulus: Value = 1.1e11
    hole_material: Value = None
    engagement_length: Value = None


@sheet(
    "Does the joint hold",
    results=(
        "clamp_ratio",
        "opening_pressure",
        "clamp_force",
        "separating_force",
        "least_preload",
        "preload",
        "largest_preload",
        "joint_share",
        "residual_clamp",
        "engagement_use",
        "engagement_wanted",
        "engagement_note",
    ),
    judged={"clamp_ratio": (">=", "clamp-ratio"), "engagement_use": ("<=", "engagement-use")},
    choices={"thread": THREADS, "lubrication": LUBRICATIONS, "hole_material": MATERIALS},
    limits=_LIMITS
    | {
        "tank_pressure": ">= 0 bar, <= 700 bar",
        "tank_ring_count": ">= 0, <= 12",
        "grip_length": "> 0 mm, <= 1 m",
        "clamped_modulus": "> 1 GPa, <= 1000 GPa",
        "engagement_length": "> 0 mm, <= 500 mm",
    },
    labels=_LABELS
    | {
        "tank_pressure": "pressure in the tank ports, where it is more than a trace: peaks, a shut tank line",
        "clamped_modulus": "stiffness of the body: cast iron 110 GPa, steel 210, aluminium 70",
    },
    origins={
        "ring_count": ("common-practice", ""),
        "tank_ring_count": ("common-practice", ""),
        "clamped_modulus": ("common-practice", ""),
    },
    chart="ports_pressure",
    example={
        "thread": "M6",
        "bolt_count": "4",
        "tightening_torque": "11.5 N·m",
        "ports_pressure": "280 bar",
        "ring_diameter": "16.6 mm",
        "grip_length": "34 mm",
        "hole_material": "cast iron",
        "engagement_length": "11 mm",
    },
    cautions=_CAUTIONS,
    sources=(("wentzell", "worked example 6.4, p. 124"), ("vdi-2230-reprint", "")),
    distrust=(
        _RING,
        "A ratio of 1.5 is a judgement of these pages. The valve's own torque and pressure rating win.",
        "A bowed or dirty face, a ring that is too hard or too thick, screws that bottom: the clamp is then elsewhere.",
        "A stack of modules: the long screws give way more, and every face between has its own rings.",
    ),
)
def joint_hold(hold: Joint) -> Value:
    """Clamp of all the screws against the push of all the ports, judged at the most friction.

    A joint that lifts on peaks cuts its rings and jets; extrusion marks on a port's ring tell that it has.
    """
    pull = screw_pull(hold)
    clamp_force = joint.group_clamp(bolt_count=hold.bolt_count, preload=pull["least_preload"])
    ports_force = joint.separating_force(
        ports_pressure=hold.ports_pressure, ring_diameter=hold.ring_diameter, ring_count=hold.ring_count
    )
    tank_force = joint.separating_force(
        ports_pressure=hold.tank_pressure, ring_diameter=hold.ring_diameter, ring_count=hold.tank_ring_count
    )
    tank_part = known(tank_force, 0.0)
    separating_force = ports_force + tank_part
    clamp_ratio = joint.clamp_ratio(clamp_force=clamp_force, separating_force=separating_force)
    opening_pressure = joint.opening_pressure(
        clamp_force=clamp_force - tank_part, ring_diameter=hold.ring_diameter, ring_count=hold.ring_count
    )
    screw_stiffness = joint.screw_stiffness(
        screw_diameter=pull["screw_diameter"], thread_pitch=pull["thread_pitch"], grip_length=hold.grip_length
    )
    clamped_stiffness = joint.clamped_stiffness(
        head_diameter=pull["head_diameter"],
        hole_diameter=pull["hole_diameter"],
        grip_length=hold.grip_length,
        clamped_modulus=hold.clamped_modulus,
    )
    joint_share = joint.joint_share(screw_stiffness=screw_stiffness, clamped_stiffness=clamped_stiffness)
    residual_clamp = joint.residual_clamp(
        clamp_force=clamp_force, separating_force=separating_force, joint_share=joint_share
    )
    material_row = least(
        [row for row in fact("thread-engagement") if row["hole_material"] == hold.hole_material], "least_turns"
    )
    engagement_wanted = joint.engagement_wanted(
        screw_diameter=pull["screw_diameter"], least_turns=material_row["least_turns"]
    )
    engagement_use = joint.engagement_use(engagement_wanted=engagement_wanted, engagement_length=hold.engagement_length)
    return {
        "clamp_ratio": clamp_ratio,
        "opening_pressure": opening_pressure,
        "clamp_force": clamp_force,
        "separating_force": separating_force,
        "least_preload": pull["least_preload"],
        "preload": pull["preload"],
        "largest_preload": pull["largest_preload"],
        "joint_share": joint_share,
        "residual_clamp": residual_clamp,
        "engagement_use": engagement_use,
        "engagement_wanted": engagement_wanted,
        "engagement_note": material_row["engagement_note"],
    }


class Found(NamedTuple):
    """A torque as found or set, the screw, the torque of the documents, and the ports; SI."""

    tightening_torque: Value
    thread: Value
    lubrication: Value = OILED
    maker_torque: Value = None
    screw_class: Value = None
    proof_stress: Value = None
    bolt_count: Value = None
    ports_pressure: Value = None
    ring_diameter: Value = None
    ring_count: Value = 3.0


@sheet(
    "Torque",
    results=(
        "torque_deviation",
        "proof_verdict",
        "clamp_ratio",
        "least_torque",
        "largest_torque",
        "least_proof_share",
        "largest_proof_share",
        "proof_share_limit",
        "preload",
        "opening_pressure",
    ),
    judged={
        "torque_deviation": ("within", "maker-torque-tolerance"),
        "proof_verdict": ("within-range", "least_proof_share", "largest_proof_share", "proof_share_limit"),
        "clamp_ratio": (">=", "clamp-ratio"),
    },
    choices={"thread": THREADS, "lubrication": LUBRICATIONS, "screw_class": CLASSES},
    limits=_LIMITS | {"maker_torque": "> 0 N·m, <= 2000 N·m", "proof_stress": "> 0 MPa, <= 2000 MPa"},
    labels=_LABELS
    | {
        "tightening_torque": "torque as set, or as read when the screw just moved on",
        "proof_stress": "proof stress, where the class is none of the list",
    },
    origins={"ring_count": ("common-practice", "")},
    example={
        "tightening_torque": "9 N·m",
        "thread": "M6",
        "maker_torque": "11.5 N·m",
        "screw_class": "10.9",
        "bolt_count": "4",
        "ports_pressure": "280 bar",
        "ring_diameter": "16.6 mm",
    },
    cautions=_CAUTIONS,
    sources=(("iso-898-1", ""), ("vdi-2230-reprint", "")),
    distrust=(
        "Torque read while easing a screw: it may lie 30 % off what was set. Read it moving on, tightening.",
        "One screw says nothing of the others: read each, and write down which.",
        _RING,
        "The torque of the valve's documents wins; the range here is only what thread, class and friction allow.",
    ),
)
def torque_check(found: Found) -> Value:
    """Is this torque right? Against the valve's documents, against what the screws bear, against what the ports push.

    Too low and the joint lifts on peaks, too high and screw, thread or body gives way: the body bends long before a
    screw breaks.
    """
    pull = screw_pull(found)
    torque_deviation = tightening.torque_deviation(
        tightening_torque=found.tightening_torque, maker_torque=found.maker_torque
    )
    screw_row = least([row for row in fact("screw-classes") if row["screw_class"] == found.screw_class], "proof_stress")
    class_proof_stress = screw_row["proof_stress"]
    proof_stress = known(found.proof_stress, class_proof_stress)
    proof_load = screw.proof_load(
        screw_diameter=pull["screw_diameter"], thread_pitch=pull["thread_pitch"], proof_stress=proof_stress
    )
    least_proof_share = tightening.preload_share(preload=pull["least_preload"], proof_load=proof_load)
    largest_proof_share = tightening.preload_share(preload=pull["largest_preload"], proof_load=proof_load)
    clamp_force = joint.group_clamp(bolt_count=found.bolt_count, preload=pull["least_preload"])
    separating_force = joint.separating_force(
        ports_pressure=found.ports_pressure, ring_diameter=found.ring_diameter, ring_count=found.ring_count
    )
    clamp_ratio = joint.clamp_ratio(clamp_force=clamp_force, separating_force=separating_force)
    opening_pressure = joint.opening_pressure(
        clamp_force=clamp_force, ring_diameter=found.ring_diameter, ring_count=found.ring_count
    )
    wanted_preload = joint.wanted_preload(
        separating_force=separating_force, clamp_ratio_wanted=fact("clamp-ratio"), bolt_count=found.bolt_count
    )
    least_torque = tightening.torque_in_proportion(
        tightening_torque=found.tightening_torque, preload=pull["least_preload"], wanted_preload=wanted_preload
    )
    largest_torque = tightening.torque_in_proportion(
        tightening_torque=found.tightening_torque, preload=pull["largest_preload"], wanted_preload=proof_load
    )
    proof_verdict = (
        "kept"
        if largest_proof_share <= fact("proof-share-limit")
        else ("exceeded" if least_proof_share > fact("proof-share-limit") else "cannot tell")
    )
    return {
        "torque_deviation": torque_deviation,
        "proof_verdict": proof_verdict,
        "clamp_ratio": clamp_ratio,
        "least_torque": least_torque,
        "largest_torque": largest_torque,
        "least_proof_share": least_proof_share,
        "largest_proof_share": largest_proof_share,
        "proof_share_limit": fact("proof-share-limit"),
        "preload": pull["preload"],
        "opening_pressure": opening_pressure,
    }
