"""What time and iron add: fine dirt in the gaps, magnetism left in the core."""

from valvecalc.formula import Value, formula
from valvecalc.maths import exp


@formula(
    "Silt force after standing under pressure",
    result="silt_force",
    limits={
        "silt_limit": ">= 0 N, <= 10000 N",
        "hold_time": ">= 0 s, <= 1000000 s",
        "silt_time_constant": "> 0 s, <= 1000000 s",
        "breakaway": ">= 0, <= 1",
    },
    origins={"breakaway": ("judgement", "")},
    chart="hold_time",
    example={"silt_limit": "12 N", "hold_time": "600 s", "silt_time_constant": "300 s"},
    cautions=("test-stand",),
    distrust=(
        "Limit and time constant from anywhere but this valve: measure the force after 0, 1, 5, 10 and 30 minutes.",
        "Varnish: it does not follow this curve and does not go away by cycling.",
    ),
)
def silt_force(*, silt_limit: Value, hold_time: Value, silt_time_constant: Value, breakaway: Value = 1.0) -> Value:
    """Extra force to move a spool that stood still under pressure in dirty oil.

    Only pressurised spools silt. It grows for minutes, and the first tenths of a millimetre break most of it.
    """
    return silt_limit * (1 - exp(-hold_time / silt_time_constant)) * breakaway


@formula(
    "Residual magnetism at a position",
    result="residual_force",
    limits={
        "residual_at_end": ">= 0 N, <= 1000 N",
        "position": ">= 0 mm, <= 100 mm",
        "stroke": "> 0 mm, <= 100 mm",
    },
    example={"residual_at_end": "1.5 N", "position": "2 mm", "stroke": "2.5 mm"},
    distrust=("The square of the position is a rule of the house: only the force at the closed gap is measured.",),
)
def residual_force(*, residual_at_end: Value, position: Value, stroke: Value) -> Value:
    """Force that still holds the armature after switching off: full at the closed gap, none in centre."""
    return residual_at_end * (position / stroke) ** 2
