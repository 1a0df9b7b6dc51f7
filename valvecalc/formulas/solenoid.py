"""The solenoid: force at a current, and the force in hand told from the pick-up voltage."""

from valvecalc.formula import Value, formula
from valvecalc.maths import power, sqrt, where

_RESISTANCE = "> 0 Ω, <= 100 kΩ"
_VOLTAGE = "> 0 V, <= 1000 V"


@formula(
    "Solenoid force at another current",
    result="solenoid_force",
    limits={
        "curve_force": ">= 0 N, <= 10000 N",
        "current_ratio": ">= 0, <= 10",
        "force_scale": "> 0, <= 2",
        "exponent_below": ">= 1, <= 2",
        "exponent_above": ">= 0, <= 2",
    },
    trusted={"current_ratio": (">= 0.3, <= 1.5", "So far from the curve's own current the force is a guess.")},
    origins={
        "force_scale": ("judgement", ""),
        "exponent_below": ("common-practice", ""),
        "exponent_above": ("judgement", ""),
    },
    chart="current_ratio",
    example={"curve_force": "72 N", "current_ratio": "0.94"},
    distrust=(
        "A curve whose own voltage and winding temperature are not known.",
        "A curve taken at 90 % voltage and hot: enter that state as its reference, never derate it again.",
    ),
)
def solenoid_force(
    *,
    curve_force: Value,
    current_ratio: Value,
    force_scale: Value = 1.0,
    exponent_below: Value = 2.0,
    exponent_above: Value = 1.2,
) -> Value:
    """Pull of the solenoid at this place when the current is not that of its force curve.

    Up to the curve's current the force goes with the square of the current; above it the iron fills up and less
    is credited: 1.2, on the cautious side of the 1.2 to 1.6 that is met near the closed gap.
    """
    return (
        force_scale
        * curve_force
        * where(current_ratio <= 1, power(current_ratio, exponent_below), power(current_ratio, exponent_above))
    )


@formula(
    "Force in hand from the pick-up voltage",
    result="margin_share",
    limits={
        "pickup_voltage": "> 0 V, <= 1000 V",
        "pickup_resistance": _RESISTANCE,
        "hot_resistance": _RESISTANCE,
        "minimum_voltage": _VOLTAGE,
    },
    chart="pickup_voltage",
    example={
        "pickup_voltage": "28.3 V",
        "pickup_resistance": "97 Ω",
        "hot_resistance": "121.7 Ω",
        "minimum_voltage": "43.2 V",
    },
    cautions=("live-circuit", "test-stand"),
    distrust=(
        "A pick-up voltage read without flow says nothing about flow; one read after cycling nothing about a hold.",
        "The current at the lowest voltage is above the one where the iron fills up: the share is too good then.",
    ),
)
def pickup_share(
    *, pickup_voltage: Value, pickup_resistance: Value, hot_resistance: Value, minimum_voltage: Value
) -> Value:
    """How much of the force is to spare at the lowest voltage with a hot coil, from one bench reading.

    The square of the two currents is the ratio of the two forces at the same place of the stroke. Step the voltage
    up from 0 for every trial, coil on its tube; after a hold every trial needs a new hold.
    """
    return 1 - (pickup_voltage / pickup_resistance) ** 2 * (hot_resistance / minimum_voltage) ** 2


@formula(
    "Largest pick-up voltage allowed cold",
    result="pickup_voltage",
    limits={
        "minimum_voltage": _VOLTAGE,
        "resistance_20": _RESISTANCE,
        "hot_resistance": _RESISTANCE,
        "wanted_share": ">= 0 %, < 100 %",
    },
    labels={"resistance_20": "winding resistance at the cold test (20 °C)"},
    chart="wanted_share",
    example={
        "minimum_voltage": "43.2 V",
        "resistance_20": "92.2 Ω",
        "hot_resistance": "121.7 Ω",
        "wanted_share": "25 %",
    },
    cautions=("live-circuit", "test-stand"),
    distrust=("A test without the duty's pressure, flow, hold and oil.",),
)
def largest_cold_pickup(
    *, minimum_voltage: Value, resistance_20: Value, hot_resistance: Value, wanted_share: Value
) -> Value:
    """The cold bench limit: shifts at this voltage or less, and hot at the lowest voltage enough stays in hand."""
    return minimum_voltage * resistance_20 / hot_resistance * sqrt(1 - wanted_share)
