"""The gas of an accumulator: its pressure with temperature, the oil it gives, the energy it holds."""

from valvecalc.formula import Value, formula
from valvecalc.maths import log, maximum, power

_PRESSURE = "> 0 bar, <= 1000 bar"
_VOLUME = "> 0 L, <= 10000 L"
_TEMPERATURE = ">= -60 °C, <= 200 °C"
_EXPONENT = ">= 1, <= 2"
_AIR = ">= 0.5 bar, <= 1.2 bar"
_AIR_ORIGIN = {"atmospheric_pressure_abs": ("standard", "standard-atmosphere")}
_TO_200 = (
    "> 0 bar, <= 200 bar",
    "Nitrogen above 200 bar is not quite the gas of this law: some per cent off, more in fast changes.",
)
_CAUTIONS = ("accumulator", "stored-pressure")


@formula(
    "Precharge at another temperature",
    result="gas_pressure",
    sources=(("precharge-page", ""),),
    limits={
        "precharge_pressure": _PRESSURE,
        "precharge_temperature": _TEMPERATURE,
        "gas_temperature": _TEMPERATURE,
        "atmospheric_pressure_abs": _AIR,
    },
    trusted={"precharge_pressure": _TO_200},
    origins={"precharge_temperature": ("common-practice", ""), **_AIR_ORIGIN},
    chart="gas_temperature",
    example={"precharge_pressure": "80 bar", "gas_temperature": "8 °C"},
    cautions=_CAUTIONS,
    distrust=(
        "The gas takes the temperature of its shell only after an hour or more: right after filling it is warm.",
    ),
)
def precharge_at_temperature(
    *,
    precharge_pressure: Value,
    gas_temperature: Value,
    precharge_temperature: Value = 293.15,
    atmospheric_pressure_abs: Value = 101325.0,
) -> Value:
    """What the gauge on the gas side is to show when the shell is not at the temperature of the plate.

    The oil side is empty and at zero for this reading. About 1 % for each 3 K.
    """
    precharge_pressure_abs = precharge_pressure + atmospheric_pressure_abs
    return precharge_pressure_abs * gas_temperature / precharge_temperature - atmospheric_pressure_abs


@formula(
    "Pressure of a gas after its volume and temperature changed",
    result="gas_pressure",
    sources=(("navedtra-14105-5", "question 5-22"), ("boyle-page", "")),
    limits={
        "first_gas_pressure": ">= 0 bar, <= 1000 bar",
        "first_gas_volume": _VOLUME,
        "second_gas_volume": _VOLUME,
        "first_gas_temperature": _TEMPERATURE,
        "second_gas_temperature": _TEMPERATURE,
        "atmospheric_pressure_abs": _AIR,
    },
    trusted={"first_gas_pressure": (">= 0 bar, <= 200 bar", _TO_200[1])},
    origins=_AIR_ORIGIN,
    chart="second_gas_volume",
    example={
        "first_gas_pressure": "80 bar",
        "first_gas_volume": "10 L",
        "second_gas_volume": "6.5 L",
        "first_gas_temperature": "20 °C",
        "second_gas_temperature": "45 °C",
    },
    cautions=_CAUTIONS,
    distrust=("A change within seconds: the gas warms as it is squeezed, measure its temperature or wait.",),
)
def gas_law_pressure(
    *,
    first_gas_pressure: Value,
    first_gas_volume: Value,
    second_gas_volume: Value,
    first_gas_temperature: Value,
    second_gas_temperature: Value,
    atmospheric_pressure_abs: Value = 101325.0,
) -> Value:
    """Pressure that a shut-in gas settles at once it has taken its new temperature."""
    first_gas_pressure_abs = first_gas_pressure + atmospheric_pressure_abs
    return (
        first_gas_pressure_abs
        * (first_gas_volume / second_gas_volume)
        * (second_gas_temperature / first_gas_temperature)
        - atmospheric_pressure_abs
    )


_USE_LIMITS = {
    "precharge_pressure": _PRESSURE,
    "lowest_working_pressure": _PRESSURE,
    "highest_working_pressure": _PRESSURE,
    "polytropic_exponent": _EXPONENT,
    "atmospheric_pressure_abs": _AIR,
}
_USE_ORIGINS = {"polytropic_exponent": ("judgement", ""), **_AIR_ORIGIN}
_BELOW_PRECHARGE = "A lower pressure below the precharge: the accumulator is empty at the precharge already."


@formula(
    "Oil that an accumulator gives",
    result="usable_volume",
    sources=(("sullivan", "examples 12.4 and 12.5"),),
    limits={"gas_volume": _VOLUME, **_USE_LIMITS},
    trusted={"highest_working_pressure": _TO_200},
    origins=_USE_ORIGINS,
    chart="lowest_working_pressure",
    example={
        "gas_volume": "10 L",
        "precharge_pressure": "80 bar",
        "lowest_working_pressure": "90 bar",
        "highest_working_pressure": "160 bar",
    },
    cautions=_CAUTIONS,
    distrust=(
        "Exponent 1 where charging and giving both take minutes, 1.4 where both take seconds; real use lies between.",
        _BELOW_PRECHARGE,
    ),
)
def accumulator_volume(
    *,
    gas_volume: Value,
    precharge_pressure: Value,
    lowest_working_pressure: Value,
    highest_working_pressure: Value,
    polytropic_exponent: Value = 1.0,
    atmospheric_pressure_abs: Value = 101325.0,
) -> Value:
    """How much oil comes out between the upper and the lower pressure, and how much goes in."""
    precharge_pressure_abs = precharge_pressure + atmospheric_pressure_abs
    lowest_working_pressure_abs = maximum(lowest_working_pressure, precharge_pressure) + atmospheric_pressure_abs
    highest_working_pressure_abs = maximum(highest_working_pressure, precharge_pressure) + atmospheric_pressure_abs
    return gas_volume * (
        power(precharge_pressure_abs / lowest_working_pressure_abs, 1 / polytropic_exponent)
        - power(precharge_pressure_abs / highest_working_pressure_abs, 1 / polytropic_exponent)
    )


@formula(
    "Size of an accumulator",
    result="gas_volume",
    sources=(("sullivan", "examples 12.4 and 12.5"),),
    limits={"usable_volume": _VOLUME, **_USE_LIMITS},
    trusted={"highest_working_pressure": _TO_200},
    origins=_USE_ORIGINS,
    chart="highest_working_pressure",
    example={
        "usable_volume": "2 L",
        "precharge_pressure": "80 bar",
        "lowest_working_pressure": "90 bar",
        "highest_working_pressure": "160 bar",
        "polytropic_exponent": "1.4",
    },
    cautions=_CAUTIONS,
    distrust=(_BELOW_PRECHARGE, "For comparing with the one fitted: rating, approval and relief valve are not in it."),
)
def accumulator_size(
    *,
    usable_volume: Value,
    highest_working_pressure: Value,
    lowest_working_pressure: Value,
    precharge_pressure: Value,
    polytropic_exponent: Value = 1.0,
    atmospheric_pressure_abs: Value = 101325.0,
) -> Value:
    """Gas volume that it takes to give a volume of oil, to compare with the one that is fitted."""
    precharge_pressure_abs = precharge_pressure + atmospheric_pressure_abs
    lowest_working_pressure_abs = maximum(lowest_working_pressure, precharge_pressure) + atmospheric_pressure_abs
    highest_working_pressure_abs = maximum(highest_working_pressure, precharge_pressure) + atmospheric_pressure_abs
    return usable_volume / (
        power(precharge_pressure_abs / lowest_working_pressure_abs, 1 / polytropic_exponent)
        - power(precharge_pressure_abs / highest_working_pressure_abs, 1 / polytropic_exponent)
    )


@formula(
    "Energy in the gas of an accumulator",
    result="gas_energy",
    limits={
        "gas_volume": _VOLUME,
        "precharge_pressure": _PRESSURE,
        "oil_pressure": ">= 0 bar, <= 1000 bar",
        "atmospheric_pressure_abs": _AIR,
    },
    trusted={"oil_pressure": (">= 0 bar, <= 200 bar", _TO_200[1])},
    origins=_AIR_ORIGIN,
    chart="oil_pressure",
    example={"gas_volume": "10 L", "precharge_pressure": "80 bar", "oil_pressure": "160 bar"},
    cautions=("stored-energy", "accumulator", "stored-pressure"),
    distrust=(
        "Down to the precharge only. The gas itself stays under its precharge when the oil is at zero.",
        "Given out within seconds it is somewhat less: the gas cools.",
    ),
)
def accumulator_energy(
    *,
    gas_volume: Value,
    precharge_pressure: Value,
    oil_pressure: Value,
    atmospheric_pressure_abs: Value = 101325.0,
) -> Value:
    """The most that the gas puts behind the oil as it drives it out, from the oil's pressure to the precharge."""
    precharge_pressure_abs = precharge_pressure + atmospheric_pressure_abs
    highest_working_pressure_abs = maximum(oil_pressure, precharge_pressure) + atmospheric_pressure_abs
    return precharge_pressure_abs * gas_volume * log(highest_working_pressure_abs / precharge_pressure_abs)


@formula(
    "Deviation of a precharge",
    result="precharge_deviation",
    limits={"precharge_read": _PRESSURE, "precharge_pressure": _PRESSURE},
    part=True,
)
def precharge_off(*, precharge_read: Value, precharge_pressure: Value) -> Value:
    """Precharge as read against the wanted one."""
    return (precharge_read - precharge_pressure) / precharge_pressure


@formula(
    "Precharge over the lowest working pressure",
    result="precharge_share",
    limits={"working_precharge": _PRESSURE, "lowest_working_pressure": _PRESSURE},
    part=True,
)
def share_of_lower(*, working_precharge: Value, lowest_working_pressure: Value) -> Value:
    """Precharge at the temperature of work over the lowest working pressure."""
    return working_precharge / lowest_working_pressure


@formula(
    "Highest working pressure over precharge",
    result="charging_ratio",
    limits={"working_precharge": _PRESSURE, "highest_working_pressure": _PRESSURE},
    part=True,
)
def charging_ratio(*, working_precharge: Value, highest_working_pressure: Value) -> Value:
    """How far the gas is squeezed at work."""
    return highest_working_pressure / working_precharge
