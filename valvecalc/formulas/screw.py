"""Screws: proof load, torque and preload by a nut factor and by thread and friction."""

from valvecalc.formula import Value, formula
from valvecalc.formulas import thread
from valvecalc.maths import pi, sqrt

_DIAMETER = "> 0.9 mm, <= 100 mm"
_PITCH = "> 0.1 mm, <= 6 mm"
_TORQUE = ">= 0 N·m, <= 20000 N·m"
_PRELOAD = ">= 0 N, <= 2000 kN"
_FACTOR = "> 0.01, <= 1"
_FRICTION = ">= 0, <= 0.6"
_HEAD = "> 0.9 mm, <= 300 mm"
_STRESS = "> 0 MPa, <= 2000 MPa"
_CAUTIONS = ("never-under-pressure", "makers-torque")
_GUESS = (
    "The friction is a guess: the same torque gives a third less preload dry than oiled. Tell the range, not a figure.",
    "Damaged or dirty threads, a screw that bottoms in its hole, paint under the head: the torque says nothing then.",
)
_TRUSTED_PITCH = {"thread_pitch": (">= 0.35 mm, <= 6 mm", "No usual screw has such a pitch: is it threads an inch?")}


@formula(
    "Proof load of a screw",
    result="proof_load",
    sources=(("iso-898-1", ""),),
    limits={"screw_diameter": _DIAMETER, "thread_pitch": _PITCH, "proof_stress": _STRESS},
    trusted=_TRUSTED_PITCH,
    example={"screw_diameter": "6 mm", "thread_pitch": "1 mm", "proof_stress": "830 MPa"},
    cautions=("makers-torque",),
    distrust=(
        "The table of the standard is a little off area times stress, by up to 0.6 %: where it is to be cited, the"
        " table counts.",
        "A stainless screw, a screw without a mark on its head, a stretched or reused screw: no such load is known.",
    ),
)
def proof_load(*, screw_diameter: Value, thread_pitch: Value, proof_stress: Value) -> Value:
    """The pull that a screw must bear without a lasting stretch: what its preload is judged against.

    Proof stress 580 MPa for class 8.8 (600 above M16), 830 MPa for 10.9, 970 MPa for 12.9.
    """
    stress_area = thread.stress_area(screw_diameter=screw_diameter, thread_pitch=thread_pitch)
    return stress_area * proof_stress


@formula(
    "Torque for a preload",
    result="tightening_torque",
    sources=(("wentzell", "worked examples 6.1 and 6.4, pp. 120, 124"),),
    limits={"preload": _PRELOAD, "screw_diameter": _DIAMETER, "nut_factor": _FACTOR},
    origins={"nut_factor": ("handbook", "vdi-2230-reprint")},
    chart="nut_factor",
    example={"preload": "11.7 kN", "screw_diameter": "6 mm", "nut_factor": "0.17"},
    cautions=_CAUTIONS,
    distrust=_GUESS,
)
def torque_from_preload(*, preload: Value, screw_diameter: Value, nut_factor: Value = 0.17) -> Value:
    """The torque that gives one screw its preload, by the nut factor K.

    K 0.17 stands for friction 0.12, oiled. Plain 0.14 or 0.15 from a table gives too little for a joint that has to
    stay shut under pressure.
    """
    return nut_factor * preload * screw_diameter


@formula(
    "Preload from a torque",
    result="preload",
    sources=(("wentzell", "worked example 6.1, p. 120"),),
    limits={"tightening_torque": _TORQUE, "screw_diameter": _DIAMETER, "nut_factor": _FACTOR},
    origins={"nut_factor": ("handbook", "vdi-2230-reprint")},
    chart="nut_factor",
    example={"tightening_torque": "11.5 N·m", "screw_diameter": "6 mm", "nut_factor": "0.17"},
    cautions=_CAUTIONS,
    distrust=(*_GUESS, "A break-loose torque is no tightening torque: it may lie 30 % below or above it."),
)
def preload_from_torque(*, tightening_torque: Value, screw_diameter: Value, nut_factor: Value = 0.17) -> Value:
    """The pull that one screw has after a torque, by the nut factor K."""
    return tightening_torque / (nut_factor * screw_diameter)


@formula(
    "Torque for a preload by thread and friction",
    result="tightening_torque",
    sources=(("jis-b-1083-extract", "equations 1 and 2"), ("vdi-2230-reprint", "")),
    limits={
        "preload": _PRELOAD,
        "screw_diameter": _DIAMETER,
        "thread_pitch": _PITCH,
        "head_diameter": _HEAD,
        "hole_diameter": _HEAD,
        "thread_friction": _FRICTION,
        "head_friction": _FRICTION,
    },
    trusted=_TRUSTED_PITCH,
    origins={"thread_friction": ("handbook", "vdi-2230-reprint"), "head_friction": ("handbook", "vdi-2230-reprint")},
    chart="preload",
    example={
        "preload": "8.3 kN",
        "screw_diameter": "5 mm",
        "thread_pitch": "0.8 mm",
        "head_diameter": "8.5 mm",
        "hole_diameter": "5.5 mm",
    },
    cautions=_CAUTIONS,
    distrust=_GUESS,
)
def torque_by_friction(
    *,
    preload: Value,
    screw_diameter: Value,
    thread_pitch: Value,
    head_diameter: Value,
    hole_diameter: Value,
    thread_friction: Value = 0.12,
    head_friction: Value = 0.12,
) -> Value:
    """The torque for a preload where thread and head rub differently, or the screw is no usual one.

    With all the published fine-thread rows it agrees to their last printed digit or 0.7 %.
    """
    nut_factor = thread.nut_factor(
        screw_diameter=screw_diameter,
        thread_pitch=thread_pitch,
        head_diameter=head_diameter,
        hole_diameter=hole_diameter,
        thread_friction=thread_friction,
        head_friction=head_friction,
    )
    return nut_factor * preload * screw_diameter


@formula(
    "Preload from a torque by thread and friction",
    result="preload",
    sources=(("jis-b-1083-extract", "equations 1 and 2"), ("vdi-2230-reprint", "")),
    limits={
        "tightening_torque": _TORQUE,
        "screw_diameter": _DIAMETER,
        "thread_pitch": _PITCH,
        "head_diameter": _HEAD,
        "hole_diameter": _HEAD,
        "thread_friction": _FRICTION,
        "head_friction": _FRICTION,
    },
    trusted=_TRUSTED_PITCH,
    origins={"thread_friction": ("handbook", "vdi-2230-reprint"), "head_friction": ("handbook", "vdi-2230-reprint")},
    chart="head_friction",
    example={
        "tightening_torque": "7 N·m",
        "screw_diameter": "5 mm",
        "thread_pitch": "0.8 mm",
        "head_diameter": "8.5 mm",
        "hole_diameter": "5.5 mm",
        "head_friction": "0.12",
    },
    cautions=_CAUTIONS,
    distrust=_GUESS,
)
def preload_by_friction(
    *,
    tightening_torque: Value,
    screw_diameter: Value,
    thread_pitch: Value,
    head_diameter: Value,
    hole_diameter: Value,
    thread_friction: Value = 0.12,
    head_friction: Value = 0.12,
) -> Value:
    """The pull in one screw after a torque, from thread and friction: the way back from the torque."""
    nut_factor = thread.nut_factor(
        screw_diameter=screw_diameter,
        thread_pitch=thread_pitch,
        head_diameter=head_diameter,
        hole_diameter=hole_diameter,
        thread_friction=thread_friction,
        head_friction=head_friction,
    )
    return tightening_torque / (nut_factor * screw_diameter)


@formula(
    "Largest preload while the wrench turns",
    result="preload_limit",
    sources=(("vdi-2230-reprint", ""), ("bolt-torque-tables", "")),
    limits={
        "screw_diameter": _DIAMETER,
        "thread_pitch": _PITCH,
        "yield_strength": _STRESS,
        "thread_friction": _FRICTION,
        "yield_share": "> 0, <= 1",
    },
    trusted=_TRUSTED_PITCH,
    origins={
        "thread_friction": ("handbook", "vdi-2230-reprint"),
        "yield_share": ("handbook", "vdi-2230-reprint"),
    },
    labels={"yield_strength": "yield strength: 640 MPa for 8.8 (660 above M16), 940 for 10.9, 1100 for 12.9"},
    chart="thread_friction",
    example={"screw_diameter": "6 mm", "thread_pitch": "1 mm", "yield_strength": "940 MPa", "thread_friction": "0.12"},
    cautions=_CAUTIONS,
    distrust=(
        "A limit for the screw alone: the thread in the plate or the body may give way long before.",
        "Many printed tables rest on an older form, with the twist reckoned harder, and allow 10 to 19 % less: of"
        " two figures take the smaller.",
    ),
)
def preload_limit(
    *,
    screw_diameter: Value,
    thread_pitch: Value,
    yield_strength: Value,
    thread_friction: Value = 0.12,
    yield_share: Value = 0.9,
) -> Value:
    """The pull at which a screw being tightened uses 90 % of its yield strength: pull and twist together.

    The twist goes when the wrench comes off; while it turns, a dry thread uses up strength that a smooth one has left.
    """
    pitch_diameter = screw_diameter - 0.649519 * thread_pitch
    stress_diameter = screw_diameter - 0.938194 * thread_pitch
    stress_area = thread.stress_area(screw_diameter=screw_diameter, thread_pitch=thread_pitch)
    thread_slope = thread_pitch / (pi * pitch_diameter)
    thread_slip = 1.154701 * thread_friction
    twist_ratio = 2 * pitch_diameter / stress_diameter * (thread_slope + thread_slip)
    return yield_share * yield_strength * stress_area / sqrt(1 + 3 * (0.75 * twist_ratio) ** 2)
