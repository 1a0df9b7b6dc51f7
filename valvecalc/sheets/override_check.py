"""The override will not push: is the spool stuck, or is it the tank line?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, override, spool
from valvecalc.primitives import fact, using
from valvecalc.sheet import sheet


class Push(NamedTuple):
    """A push read at the override, and what it should be; SI."""

    measured_push: Value
    spring_preload: Value
    tank_pressure: Value
    override_diameter: Value
    dry_friction: Value = 1.5
    detent_force: Value = 0.0


@sheet(
    "Override check: a stuck spool, or back pressure",
    results=("override_verdict", "push_excess", "unexplained_force", "override_force", "pin_force"),
    judged={"push_excess": ("<=", "override-excess")},
    limits={
        "measured_push": ">= 0 N, <= 5000 N",
        "spring_preload": "> 0 N, <= 2000 N",
        "tank_pressure": ">= 0 bar, <= 350 bar",
        "override_diameter": ">= 0 mm, <= 30 mm",
        "dry_friction": ">= 0 N, <= 500 N",
        "detent_force": ">= 0 N, <= 500 N",
    },
    origins={"dry_friction": ("judgement", ""), "detent_force": ("judgement", "")},
    labels={
        "tank_pressure": "pressure in the tank line at the valve, read while the push is read",
        "override_force": "push expected: spring, friction, detent, and tank pressure on the pin",
        "pin_force": "share of it that the tank pressure makes",
    },
    chart="measured_push",
    example={
        "measured_push": "74 N",
        "spring_preload": "18 N",
        "tank_pressure": "22 bar",
        "override_diameter": "5 mm",
    },
    cautions=("falling-load", "test-stand", "stored-pressure"),
    distrust=(
        "Working pressure on while it is read: lateral force comes on top and is the spool's own.",
        "A second push: the first one has moved the silt; only the first tells of it.",
        "A push by thumb or screwdriver without a gauge: no figure, no proof.",
    ),
)
def override_check(push: Push) -> Value:
    """Tells a push that the tank line explains from one that only the spool can explain.

    The push read is set against spring, friction and tank pressure on the pin. What is left is the spool's own:
    burr, silt, lateral force, a bent pin.
    """
    pin_area = using(push, override.pin_area)
    pin_force = using(push, spool.tank_pin_force, pin_area=pin_area)
    override_force = using(push, override.override_force)
    unexplained_force = push.measured_push - override_force
    push_excess = budget.share_in_hand(margin=unexplained_force, drive=override_force)
    override_verdict = (
        ("back pressure" if pin_force > push.spring_preload else "as it should be")
        if push_excess <= fact("override-excess")
        else "the spool itself holds"
    )
    return {
        "override_verdict": override_verdict,
        "push_excess": push_excess,
        "unexplained_force": unexplained_force,
        "override_force": override_force,
        "pin_force": pin_force,
    }
