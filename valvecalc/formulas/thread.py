"""A thread of 60°: the area that bears, and what friction leaves of a torque."""

from valvecalc.formula import Value, formula
from valvecalc.maths import pi

_DIAMETER = "> 0.9 mm, <= 100 mm"
_PITCH = "> 0.1 mm, <= 6 mm"
_FRICTION = ">= 0, <= 0.6"
_HEAD = "> 0.9 mm, <= 300 mm"
_TRUSTED_PITCH = {"thread_pitch": (">= 0.35 mm, <= 6 mm", "No usual screw has such a pitch: is it threads an inch?")}


@formula(
    "Stress area of a thread",
    result="stress_area",
    sources=(("iso-898-1", ""),),
    limits={"screw_diameter": _DIAMETER, "thread_pitch": _PITCH},
    trusted=_TRUSTED_PITCH,
    example={"screw_diameter": "6 mm", "thread_pitch": "1 mm"},
    distrust=("A screw with a shank thinner than its thread: the shank breaks first.",),
)
def stress_area(*, screw_diameter: Value, thread_pitch: Value) -> Value:
    """Area of a metric thread that bears the pull, from its diameter and its pitch.

    It lies between the core and the flank diameter, for a thread is no plain rod.
    """
    stress_diameter = screw_diameter - 0.938194 * thread_pitch
    return pi / 4 * stress_diameter**2


@formula(
    "Stress area of an inch thread",
    result="stress_area",
    sources=(("wentzell", "worked example 6.1 (table 6.1), p. 120"),),
    limits={"screw_diameter": _DIAMETER, "thread_pitch": _PITCH},
    trusted=_TRUSTED_PITCH,
    labels={"thread_pitch": "pitch: 1 in over the threads an inch, 0.05 in for 20 of them"},
    example={"screw_diameter": "0.25 in", "thread_pitch": "0.05 in"},
    distrust=("A screw with a shank thinner than its thread: the shank breaks first.",),
)
def inch_stress_area(*, screw_diameter: Value, thread_pitch: Value) -> Value:
    """Area of a unified (UNC, UNF) thread that bears the pull, by the rule of the inch standards.

    They take a little more off the diameter than ISO does: 1 % less area for the same thread.
    """
    stress_diameter = screw_diameter - 0.974279 * thread_pitch
    return pi / 4 * stress_diameter**2


@formula(
    "Nut factor from thread and friction",
    result="nut_factor",
    sources=(("jis-b-1083-extract", "equation 2"), ("vdi-2230-reprint", "")),
    limits={
        "screw_diameter": _DIAMETER,
        "thread_pitch": _PITCH,
        "head_diameter": _HEAD,
        "hole_diameter": _HEAD,
        "thread_friction": _FRICTION,
        "head_friction": _FRICTION,
    },
    trusted=_TRUSTED_PITCH,
    origins={"thread_friction": ("handbook", "vdi-2230-reprint"), "head_friction": ("handbook", "vdi-2230-reprint")},
    chart="thread_friction",
    example={
        "screw_diameter": "6 mm",
        "thread_pitch": "1 mm",
        "head_diameter": "10 mm",
        "hole_diameter": "6.6 mm",
        "thread_friction": "0.12",
    },
    cautions=("makers-torque",),
    distrust=(
        "The friction is a guess until it was measured: work with its least and its most.",
        "Countersunk heads, flange screws, locking screws and nuts with a clamp: they rub in more places.",
    ),
)
def nut_factor(
    *,
    screw_diameter: Value,
    thread_pitch: Value,
    head_diameter: Value,
    hole_diameter: Value,
    thread_friction: Value = 0.12,
    head_friction: Value = 0.12,
) -> Value:
    """How much of a torque becomes pull, from the thread's rise and the friction in thread and under the head.

    Of the torque an eighth or so stretches the screw; half of it is rubbed away under the head, the rest in the
    thread. Friction 0.12 gives about 0.17 on coarse screws, 0.09 gives 0.13, 0.14 gives 0.20.
    """
    pitch_diameter = screw_diameter - 0.649519 * thread_pitch
    thread_slope = thread_pitch / (pi * pitch_diameter)
    thread_slip = 1.154701 * thread_friction
    head_friction_diameter = (head_diameter + hole_diameter) / 2
    return (
        pitch_diameter * (thread_slope + thread_slip) / (1 - thread_slope * thread_slip)
        + head_friction * head_friction_diameter
    ) / (2 * screw_diameter)
