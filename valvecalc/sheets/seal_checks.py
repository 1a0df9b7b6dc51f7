"""Two looks at a seal that came out: was it pressed into a gap, and has it lost its squeeze?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import seals
from valvecalc.primitives import fact, total, using
from valvecalc.sheet import sheet


class Gap(NamedTuple):
    """Pressure, gap and hardness; SI."""

    ring_pressure: Value = None
    diametral_gap: Value = None
    ring_hardness: Value = "70 Shore A"
    rubber_kind: Value = "not silicone"
    joint_kind: Value = "round a plug, rod or piston"
    pressure_side: Value = "one side"


HARDNESSES = ("70 Shore A", "90 Shore A")
RUBBERS = ("not silicone", "silicone")
JOINTS = ("round a plug, rod or piston", "face, metal on metal")
SIDES = ("one side", "both sides")


@sheet(
    "Gap behind a ring: will it be pressed out",
    results=("backup_word", "gap_reserve", "allowed_gap"),
    choices={"ring_hardness": HARDNESSES, "rubber_kind": RUBBERS, "joint_kind": JOINTS, "pressure_side": SIDES},
    judged={"gap_reserve": (">=", "ring-gap-reserve")},
    limits={"ring_pressure": "> 0 bar, <= 1000 bar", "diametral_gap": ">= 0 mm, <= 5 mm"},
    trusted={
        "ring_pressure": (
            "<= 206.8 bar",
            "The table ends at 3000 psi: above it a back-up ring, whatever the gap.",
        )
    },
    labels={
        "diametral_gap": "gap behind the ring, as the difference of the two diameters",
    },
    example={"ring_pressure": "120 bar", "diametral_gap": "0.14 mm", "ring_hardness": "70 Shore A"},
    cautions=("opened-joint", "jet"),
    sources=(("ring-gap-table", ""),),
    distrust=(
        "At a face there is no gap while the screws hold: a ring nibbled there says that the joint opened, or that its"
        " counterbore is too wide. A harder ring hides that, it does not heal it.",
        "Pressure peaks count, not the gauge; heat softens the rubber and breathing bores open the gap.",
    ),
)
def extrusion_check(gap: Gap) -> Value:
    """Does the ring need a back-up ring? The gap, against the largest that such rubber bears at this pressure."""
    table_gap = total(
        [
            row["allowed_gap"]
            for row in fact("oring-gaps")
            if row["ring_hardness"] == gap.ring_hardness
            and gap.ring_pressure > row["least_ring_pressure"]
            and gap.ring_pressure <= row["largest_ring_pressure"]
        ]
    )
    allowed_gap = seals.halved_gap(table_gap=table_gap) if gap.rubber_kind == "silicone" else table_gap
    gap_reserve = allowed_gap - gap.diametral_gap
    backup_word = (
        (
            "the joint opens: screws, torque, flatness first"
            if gap.joint_kind == "face, metal on metal" and gap.diametral_gap > 0.0
            else "no back-up ring needed"
        )
        if (gap_reserve >= 0.0 and table_gap > 0.0) or gap.joint_kind == "face, metal on metal"
        else (
            "back-up ring on both sides of the ring"
            if gap.pressure_side == "both sides"
            else "back-up ring on the side away from the pressure"
        )
    )
    return {"backup_word": backup_word, "gap_reserve": gap_reserve, "allowed_gap": allowed_gap}


class Old(NamedTuple):
    """Section when new, height now, and depth of its groove; SI."""

    ring_section: Value = None
    ring_height: Value = None
    groove_depth: Value = None


@sheet(
    "Old ring: how much squeeze has it lost",
    results=("compression_set", "remaining_squeeze", "ring_note"),
    judged={"compression_set": ("<=", "ring-set-limit")},
    limits={
        "ring_section": "> 0 mm, <= 20 mm",
        "ring_height": "> 0 mm, <= 20 mm",
        "groove_depth": "> 0 mm, <= 20 mm",
    },
    labels={
        "ring_section": "section of the new ring, from its size",
        "ring_height": "smallest thickness of the old ring, the way it was squeezed, half an hour after it came out",
        "ring_note": "what the old ring says",
    },
    chart="ring_height",
    example={"ring_section": "1.78 mm", "ring_height": "1.5 mm", "groove_depth": "1.35 mm"},
    cautions=("stored-pressure", "burnt-seal"),
    sources=(("astm-d395-page", "method B"),),
    distrust=(
        "An old ring goes to waste whatever it reads: the figure tells of the heat in the valve, no more.",
        "A swollen ring hides its set.",
        "0.05 mm of reading is a tenth of the set on the smallest sections: take the mean of four places.",
    ),
)
def ring_set(old: Old) -> Value:
    """Was the valve too hot for its rings? Lost squeeze over squeeze when new; half of it gone says heat or age."""
    compression_set = using(old, seals.compression_set)
    remaining_squeeze = seals.ring_squeeze(ring_section=old.ring_height, groove_depth=old.groove_depth)
    ring_note = (
        "it grew: swollen by the fluid, ask which fluid and which rubber"
        if old.ring_height > old.ring_section
        else (
            "it no longer presses at all"
            if old.ring_height <= old.groove_depth
            else (
                "half gone: heat or age, look at coil, oil temperature and relief"
                if compression_set > fact("ring-set-limit")
                else "usual for its age; a new ring all the same"
            )
        )
    )
    return {"compression_set": compression_set, "remaining_squeeze": remaining_squeeze, "ring_note": ring_note}
