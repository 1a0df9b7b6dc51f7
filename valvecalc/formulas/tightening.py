"""Torques of a sheet: at a share of the proof load, in rounds, in proportion, against the documents. Parts only."""

from valvecalc.formula import Value, formula
from valvecalc.formulas import screw, thread

_FORCE = ">= 0 N, <= 20000 kN"


@formula(
    "Torque at a share of the proof load",
    result="computed_torque",
    limits={
        "proof_stress": "> 0 MPa, <= 2000 MPa",
        "preload_share": "> 0, <= 1",
        "screw_diameter": "> 0.9 mm, <= 100 mm",
        "thread_pitch": "> 0.1 mm, <= 6 mm",
        "head_diameter": "> 0.9 mm, <= 300 mm",
        "hole_diameter": "> 0.9 mm, <= 300 mm",
        "friction": ">= 0, <= 0.6",
    },
    part=True,
)
def torque_at_share(
    *,
    proof_stress: Value,
    preload_share: Value,
    screw_diameter: Value,
    thread_pitch: Value,
    head_diameter: Value,
    hole_diameter: Value,
    friction: Value,
) -> Value:
    """The same friction in the thread and under the head."""
    proof_load = screw.proof_load(screw_diameter=screw_diameter, thread_pitch=thread_pitch, proof_stress=proof_stress)
    target_preload = preload_share * proof_load
    nut_factor = thread.nut_factor(
        screw_diameter=screw_diameter,
        thread_pitch=thread_pitch,
        head_diameter=head_diameter,
        hole_diameter=hole_diameter,
        thread_friction=friction,
        head_friction=friction,
    )
    return nut_factor * target_preload * screw_diameter


@formula(
    "Share of a preload",
    result="preload_share",
    limits={"preload": _FORCE, "proof_load": "> 0 N, <= 20000 kN"},
    part=True,
)
def preload_share(*, preload: Value, proof_load: Value) -> Value:
    """Preload over the proof load."""
    return preload / proof_load


@formula(
    "Torque of a round",
    result="step_torque",
    limits={"tightening_torque": ">= 0 N·m, <= 20000 N·m", "step_share": "> 0, <= 1"},
    part=True,
)
def step_torque(*, tightening_torque: Value, step_share: Value) -> Value:
    """A share of the last torque."""
    return step_share * tightening_torque


@formula(
    "Torque that gives another preload",
    result="computed_torque",
    limits={
        "tightening_torque": ">= 0 N·m, <= 20000 N·m",
        "preload": "> 0 N, <= 20000 kN",
        "wanted_preload": _FORCE,
    },
    part=True,
)
def torque_in_proportion(*, tightening_torque: Value, preload: Value, wanted_preload: Value) -> Value:
    """At one friction torque and preload go together."""
    return tightening_torque * wanted_preload / preload


@formula(
    "Torque against that of the documents",
    result="torque_deviation",
    limits={"tightening_torque": ">= 0 N·m, <= 20000 N·m", "maker_torque": "> 0 N·m, <= 20000 N·m"},
    part=True,
)
def torque_deviation(*, tightening_torque: Value, maker_torque: Value) -> Value:
    """Below nothing: too loose."""
    return tightening_torque / maker_torque - 1
