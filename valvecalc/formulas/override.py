"""The manual override: what it takes to push it, and what part of that is back pressure."""

from valvecalc.formula import Value, formula
from valvecalc.maths import pi

_FORCE = ">= 0 N, <= 5000 N"


@formula(
    "Push at the manual override",
    result="override_force",
    limits={
        "spring_preload": _FORCE,
        "dry_friction": _FORCE,
        "tank_pressure": ">= 0 bar, <= 350 bar",
        "override_diameter": ">= 0 mm, <= 30 mm",
        "lateral_friction": _FORCE,
        "silt_at_start": _FORCE,
        "detent_force": _FORCE,
    },
    origins={
        "lateral_friction": ("judgement", ""),
        "silt_at_start": ("judgement", ""),
        "detent_force": ("judgement", ""),
    },
    chart="tank_pressure",
    example={"spring_preload": "18 N", "dry_friction": "2 N", "tank_pressure": "12 bar", "override_diameter": "5 mm"},
    cautions=("falling-load", "test-stand"),
    distrust=(
        "A screwdriver at the pin: it gives many times the force of the coil, bends the pin and proves nothing.",
        "The first push only: it destroys the silt state that was to be read.",
    ),
)
def override_force(
    *,
    spring_preload: Value,
    dry_friction: Value,
    tank_pressure: Value,
    override_diameter: Value,
    lateral_friction: Value = 0.0,
    silt_at_start: Value = 0.0,
    detent_force: Value = 0.0,
) -> Value:
    """Whether an override that will not push is a stuck spool or only back pressure in the tank line.

    Tank pressure pushes on the pin: 2 N for each bar on a pin of 5 mm. What a gauge reads beyond this figure is
    the spool's own: burr, lateral force, silt.
    """
    opposed = spring_preload + dry_friction + lateral_friction + silt_at_start + detent_force
    return opposed + tank_pressure * (pi / 4) * override_diameter**2


@formula(
    "End area of the override pin",
    result="pin_area",
    limits={"override_diameter": ">= 0 mm, <= 30 mm"},
    part=True,
)
def pin_area(*, override_diameter: Value) -> Value:
    """What the tank pressure pushes on."""
    return pi / 4 * override_diameter**2
