"""Readings against what they should be: the ratios behind the small sheets."""

from valvecalc.formula import Value, formula
from valvecalc.maths import maximum, minimum, power, sqrt

_VOLTAGE = "> 0 V, <= 1000 V"
_RATIO = "> 0, <= 10"


@formula(
    "Voltage lost from off load to on load",
    result="supply_sag",
    limits={"off_load_voltage": _VOLTAGE, "plug_voltage": ">= 0 V, <= 1000 V"},
    part=True,
)
def supply_sag(*, off_load_voltage: Value, plug_voltage: Value) -> Value:
    """What wiring and supply lose as soon as the coil draws its current, as a share of the voltage off load."""
    return (off_load_voltage - plug_voltage) / off_load_voltage


@formula(
    "Current beyond what the winding can draw",
    result="current_deviation",
    limits={
        "current": ">= 0 A, <= 100 A",
        "largest_current": "> 0 A, <= 1000 A",
        "smallest_current": "> 0 A, <= 1000 A",
    },
    part=True,
)
def current_beyond(*, current: Value, largest_current: Value, smallest_current: Value) -> Value:
    """Nothing between the current of the hot and of the cold winding; outside, how far beyond the nearer one."""
    return maximum(current / largest_current - 1, 0) + minimum(current / smallest_current - 1, 0)


@formula(
    "Ratio of two winding resistances",
    result="resistance_ratio_read",
    limits={"hot_resistance": "> 0 Ω, <= 100 kΩ", "pickup_resistance": "> 0 Ω, <= 100 kΩ"},
    part=True,
)
def read_ratio(*, hot_resistance: Value, pickup_resistance: Value) -> Value:
    """Hot in service over that at the trial, both read."""
    return hot_resistance / pickup_resistance


@formula(
    "Ratio of the resistance of copper at two temperatures",
    result="resistance_ratio_copper",
    limits={
        "winding_temperature": ">= -60 °C, <= 300 °C",
        "coil_temperature": ">= -60 °C, <= 300 °C",
        "copper_coefficient": "> 0 1/K, <= 0.01 1/K",
        "reference_temperature": ">= -20 °C, <= 40 °C",
    },
    origins={
        "copper_coefficient": ("handbook", "temperature-rise-page"),
        "reference_temperature": ("standard", "iec-60228"),
    },
    part=True,
)
def copper_ratio(
    *,
    winding_temperature: Value,
    coil_temperature: Value,
    copper_coefficient: Value = 0.00393,
    reference_temperature: Value = 293.15,
) -> Value:
    """Hot in service over that at the trial, for a winding of copper."""
    return (1 + copper_coefficient * (winding_temperature - reference_temperature)) / (
        1 + copper_coefficient * (coil_temperature - reference_temperature)
    )


@formula(
    "Share in hand from a pick-up voltage",
    result="margin_share",
    limits={"pickup_voltage": _VOLTAGE, "minimum_voltage": _VOLTAGE, "resistance_ratio": _RATIO},
    part=True,
)
def share_at_ratio(*, pickup_voltage: Value, minimum_voltage: Value, resistance_ratio: Value) -> Value:
    """The square of current at pick-up over the current hot at the lowest voltage is the share that is used."""
    return 1 - (pickup_voltage / minimum_voltage * resistance_ratio) ** 2


@formula(
    "Largest pick-up voltage of this trial",
    result="largest_pickup_voltage",
    limits={"minimum_voltage": _VOLTAGE, "resistance_ratio": _RATIO, "wanted_share": ">= 0 %, < 100 %"},
    part=True,
)
def largest_pickup(*, minimum_voltage: Value, resistance_ratio: Value, wanted_share: Value) -> Value:
    """Shifts at this voltage or less in the trial, and the wanted share stays in hand hot at the lowest voltage."""
    return minimum_voltage / resistance_ratio * sqrt(1 - wanted_share)


@formula(
    "Drop-out voltage as a share",
    result="drop_out_share",
    limits={"drop_out_voltage": ">= 0 V", "nominal_voltage": _VOLTAGE},
    part=True,
)
def drop_out_share(*, drop_out_voltage: Value, nominal_voltage: Value) -> Value:
    """How much of the nominal voltage is left when the spring wins."""
    return drop_out_voltage / nominal_voltage


@formula(
    "Deviation of a shift time",
    result="shift_time_deviation",
    limits={"measured_shift_time": "> 0 s", "rated_shift_time": "> 0 s"},
    part=True,
)
def shift_time_deviation(*, measured_shift_time: Value, rated_shift_time: Value) -> Value:
    """How far a shift time lies off the one it should have, as a share of it."""
    return (measured_shift_time - rated_shift_time) / rated_shift_time


@formula(
    "Growth of the clearance from the growth of the leakage",
    result="clearance_growth",
    limits={"wear_ratio": ">= 0, <= 10000"},
    part=True,
)
def growth_from_leakage(*, wear_ratio: Value) -> Value:
    """Leakage goes with the cube of the clearance: eight times the oil is twice the gap."""
    return power(wear_ratio, 1 / 3)


@formula(
    "Clearance against the loosest new fit",
    result="growth_least",
    limits={"clearance": ">= 0 µm, <= 1 mm", "largest_new_clearance": "> 0 µm, <= 1 mm"},
    part=True,
)
def growth_at_least(*, clearance: Value, largest_new_clearance: Value) -> Value:
    """How much a clearance has grown if it was as loose as a new fit may be."""
    return clearance / largest_new_clearance


@formula(
    "Clearance against the tightest new fit",
    result="growth_most",
    limits={"clearance": ">= 0 µm, <= 1 mm", "smallest_new_clearance": "> 0 µm, <= 1 mm"},
    part=True,
)
def growth_at_most(*, clearance: Value, smallest_new_clearance: Value) -> Value:
    """How much a clearance has grown if it was as tight as a new fit may be."""
    return clearance / smallest_new_clearance
