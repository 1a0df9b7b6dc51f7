"""The joint between valve and plate: what presses it open, what holds it shut, and where it lifts."""

from valvecalc.formula import Value, formula
from valvecalc.formulas import thread
from valvecalc.maths import log, pi

_FORCE = ">= 0 N, <= 20000 kN"
_PRESSURE = ">= 0 bar, <= 1500 bar"
_RING = "> 0 mm, <= 1 m"
_COUNT = ">= 0, <= 24"
_STIFFNESS = "> 0 N/mm, <= 1000000000 N/mm"
_MODULUS = "> 1 GPa, <= 1000 GPa"
_STEEL = ("common-practice", "")
_CAUTIONS = ("never-under-pressure", "jet")


@formula(
    "Force that presses the valve off its plate",
    result="separating_force",
    sources=(("wentzell", "worked example 6.4, p. 124"),),
    limits={"ports_pressure": _PRESSURE, "ring_diameter": _RING, "ring_count": _COUNT},
    chart="ports_pressure",
    example={"ports_pressure": "250 bar", "ring_diameter": "16 mm", "ring_count": "3"},
    cautions=_CAUTIONS,
    distrust=(
        "The bore of the port, or the ring's inside, in place of its outside: that is up to half the force.",
        "Pressure peaks and a rod side that is pressed above the relief setting: take the highest that comes.",
        "A ring that is pinched or a plate with a scratch: oil gets between the faces and presses on all of them.",
    ),
)
def separating_force(*, ports_pressure: Value, ring_diameter: Value, ring_count: Value) -> Value:
    """Pressure on the whole area inside the O-rings of all ports that can have it at one time.

    P, A and B can all be pressed at once: count three. The tank ports count where their pressure is more than a trace.
    """
    return ring_count * ports_pressure * pi / 4 * ring_diameter**2


@formula(
    "Pressure at which the joint lifts",
    result="opening_pressure",
    limits={"clamp_force": _FORCE, "ring_diameter": _RING, "ring_count": "> 0, <= 24"},
    example={"clamp_force": "38 kN", "ring_diameter": "16 mm", "ring_count": "3"},
    cautions=_CAUTIONS,
    distrust=("No pressure to work at: well below it the ring begins to be pinched, and peaks go higher than gauges.",),
)
def opening_pressure(*, clamp_force: Value, ring_diameter: Value, ring_count: Value) -> Value:
    """The pressure in all these ports that equals the clamp: from here on the faces part and the rings are cut.

    The screws' own spring is left out, so the true figure lies up to a fifth higher.
    """
    return clamp_force / (ring_count * pi / 4 * ring_diameter**2)


@formula(
    "Clamp of the screws of one size",
    result="group_clamp",
    limits={"bolt_count": "> 0, <= 24", "preload": _FORCE},
    part=True,
)
def group_clamp(*, bolt_count: Value, preload: Value) -> Value:
    """All of them alike."""
    return bolt_count * preload


@formula(
    "Clamp against separating force",
    result="clamp_ratio",
    limits={"clamp_force": _FORCE, "separating_force": "> 0 N, <= 20000 kN"},
    part=True,
)
def clamp_ratio(*, clamp_force: Value, separating_force: Value) -> Value:
    """1 is the joint that just lifts."""
    return clamp_force / separating_force


@formula(
    "Preload for a clamp",
    result="wanted_preload",
    limits={"separating_force": _FORCE, "clamp_ratio_wanted": "> 0, <= 20", "bolt_count": "> 0, <= 24"},
    part=True,
)
def wanted_preload(*, separating_force: Value, clamp_ratio_wanted: Value, bolt_count: Value) -> Value:
    """Each screw takes its part of the clamp."""
    return clamp_ratio_wanted * separating_force / bolt_count


@formula(
    "Least preload from the largest",
    result="least_preload",
    sources=(("vdi-2230-reprint", "worked example M12 x 40"),),
    limits={"largest_preload": _FORCE, "tightening_factor": ">= 1, <= 20"},
    example={"largest_preload": "30 kN", "tightening_factor": "1.6"},
    cautions=("makers-torque",),
    distrust=("By hand without a torque wrench the factor is 4 and more: then nothing is known of the preload.",),
)
def least_preload(*, largest_preload: Value, tightening_factor: Value) -> Value:
    """What may be left of the preload a table promises: the tightening factor tells how far tool and friction scatter.

    1.4 to 1.6 for a torque wrench where the friction is known, up to 1.8 and more where it is not.
    """
    return largest_preload / tightening_factor


@formula(
    "Tightening factor",
    result="tightening_factor",
    limits={"largest_preload": _FORCE, "least_preload": "> 0 N, <= 20000 kN"},
    part=True,
)
def tightening_factor(*, largest_preload: Value, least_preload: Value) -> Value:
    """By friction alone; the wrench's own error comes on top."""
    return largest_preload / least_preload


@formula(
    "Stiffness of a screw",
    result="screw_stiffness",
    sources=(("wentzell", "worked examples 6.2 and 6.4, pp. 121, 124"),),
    limits={
        "screw_diameter": "> 0.9 mm, <= 100 mm",
        "thread_pitch": "> 0.1 mm, <= 6 mm",
        "grip_length": "> 0 mm, <= 2 m",
        "elastic_modulus": _MODULUS,
    },
    origins={"elastic_modulus": _STEEL},
    chart="grip_length",
    example={"screw_diameter": "6 mm", "thread_pitch": "1 mm", "grip_length": "34 mm"},
    distrust=("Head and engaged thread give way too: a short screw is softer than this by a fifth or so.",),
)
def screw_stiffness(
    *, screw_diameter: Value, thread_pitch: Value, grip_length: Value, elastic_modulus: Value = 2.1e11
) -> Value:
    """How stiff one screw is over the length it clamps: long thin screws give way and keep their preload.

    By its stress area all along, as for a screw threaded up to its head.
    """
    stress_area = thread.stress_area(screw_diameter=screw_diameter, thread_pitch=thread_pitch)
    return stress_area * elastic_modulus / grip_length


@formula(
    "Stiffness of what a screw clamps",
    result="clamped_stiffness",
    limits={
        "head_diameter": "> 0 mm, <= 300 mm",
        "hole_diameter": "> 0 mm, <= 300 mm",
        "grip_length": "> 0 mm, <= 2 m",
        "clamped_modulus": _MODULUS,
    },
    origins={"clamped_modulus": _STEEL},
    chart="grip_length",
    example={"head_diameter": "10 mm", "hole_diameter": "6.6 mm", "grip_length": "34 mm"},
    distrust=(
        "A narrow body: the cone ends where the body ends, and it is softer.",
        "A head that is no wider than its hole: there is no cone.",
    ),
)
def clamped_stiffness(
    *, head_diameter: Value, hole_diameter: Value, grip_length: Value, clamped_modulus: Value = 1.1e11
) -> Value:
    """How stiff the body is under one head: a cone of 30° that widens from the head down to the joint.

    For a screw that is threaded into the plate. 110 GPa stands for cast iron, 210 for steel, 70 for aluminium.
    """
    cone_growth = 2 * 0.577350 * grip_length
    return (
        pi
        * clamped_modulus
        * hole_diameter
        * 0.577350
        / log(
            (cone_growth + head_diameter - hole_diameter)
            / (cone_growth + head_diameter + hole_diameter)
            * ((head_diameter + hole_diameter) / (head_diameter - hole_diameter))
        )
    )


@formula(
    "Share that the screws feel",
    result="joint_share",
    limits={"screw_stiffness": _STIFFNESS, "clamped_stiffness": _STIFFNESS},
    part=True,
)
def joint_share(*, screw_stiffness: Value, clamped_stiffness: Value) -> Value:
    """The stiffer the body, the less of the ports' push arrives in the screws, and the more comes off the clamp."""
    return screw_stiffness / (screw_stiffness + clamped_stiffness)


@formula(
    "Pull in the screws under pressure",
    result="screw_load",
    sources=(("wentzell", "worked example 6.4, p. 124"),),
    limits={
        "clamp_force": _FORCE,
        "separating_force": _FORCE,
        "screw_stiffness": _STIFFNESS,
        "clamped_stiffness": _STIFFNESS,
    },
    labels={
        "screw_stiffness": "stiffness of all screws together",
        "clamped_stiffness": "stiffness of all they clamp together",
    },
    chart="separating_force",
    example={
        "clamp_force": "46.8 kN",
        "separating_force": "18 kN",
        "screw_stiffness": "500000 N/mm",
        "clamped_stiffness": "1400000 N/mm",
    },
    cautions=_CAUTIONS,
    distrust=("A joint that has lifted: from there on the screws bear all of it.",),
)
def screw_load(
    *, clamp_force: Value, separating_force: Value, screw_stiffness: Value, clamped_stiffness: Value
) -> Value:
    """What pulls in the screws while the ports press: the preload, and only a share of the push.

    A screw that is tight enough hardly feels the pressure; one that is loose feels every stroke of it and breaks.
    """
    joint_share = screw_stiffness / (screw_stiffness + clamped_stiffness)
    return clamp_force + joint_share * separating_force


@formula(
    "Clamp left under pressure",
    result="residual_clamp",
    limits={"clamp_force": _FORCE, "separating_force": _FORCE, "joint_share": ">= 0, <= 1"},
    part=True,
)
def residual_clamp(*, clamp_force: Value, separating_force: Value, joint_share: Value) -> Value:
    """What the screws do not feel comes off between the faces; below nothing they have parted."""
    return clamp_force - (1 - joint_share) * separating_force


@formula(
    "Thread that should engage",
    result="engagement_wanted",
    limits={"screw_diameter": "> 0.9 mm, <= 100 mm", "least_turns": "> 0, <= 10"},
    part=True,
)
def engagement_wanted(*, screw_diameter: Value, least_turns: Value) -> Value:
    """Diameters of the screw, by the material of the hole."""
    return least_turns * screw_diameter


@formula(
    "Thread wanted over thread there",
    result="engagement_use",
    limits={"engagement_wanted": "> 0 mm, <= 1 m", "engagement_length": "> 0 mm, <= 1 m"},
    part=True,
)
def engagement_use(*, engagement_wanted: Value, engagement_length: Value) -> Value:
    """Above 1 the thread is too short."""
    return engagement_wanted / engagement_length
