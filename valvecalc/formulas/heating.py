"""Heat in the winding: where it settles, how fast, what a duty with pauses allows, what it costs in life."""

from valvecalc.formula import Value, formula
from valvecalc.formulas import coil
from valvecalc.maths import exp, log, power, sqrt

_TEMPERATURE = ">= -60 °C, <= 400 °C"
_AMBIENT = ">= -60 °C, <= 150 °C"
_VOLTAGE = ">= 0 V, <= 1000 V"
_RESISTANCE = "> 0 Ω, <= 100 kΩ"
_THERMAL = "> 0 K/W, <= 100 K/W"
_SHARE = "> 0 %, <= 100 %"
_TAU = ">= 1 min, <= 120 min"
_COPPER_LIMITS = {"copper_coefficient": "> 0 1/K, <= 0.01 1/K", "reference_temperature": ">= -20 °C, <= 40 °C"}
_ORIGINS = {
    "copper_coefficient": ("handbook", "temperature-rise-page"),
    "reference_temperature": ("standard", "iec-60228"),
    "thermal_resistance": ("judgement", ""),
}
_GUESS = "A thermal resistance not measured on this coil on this valve: 2 to 4 K/W for a moulded coil of about 30 W."


@formula(
    "Winding temperature that a DC coil settles at",
    result="winding_temperature",
    limits={
        "coil_voltage": _VOLTAGE,
        "resistance_20": _RESISTANCE,
        "ambient_temperature": _AMBIENT,
        "thermal_resistance": _THERMAL,
        "on_share": _SHARE,
        **_COPPER_LIMITS,
    },
    origins={**_ORIGINS, "on_share": ("judgement", "")},
    chart="coil_voltage",
    example={"coil_voltage": "46 V", "resistance_20": "92 Ω", "ambient_temperature": "45 °C"},
    cautions=("hot-coil",),
    distrust=(
        _GUESS,
        "Pauses longer than a few minutes: the coil is hotter than this mean at the end of each on-time.",
        "AC coils: their heat follows the gap.",
    ),
)
def steady_winding_temperature(
    *,
    coil_voltage: Value,
    resistance_20: Value,
    ambient_temperature: Value,
    thermal_resistance: Value = 2.6,
    on_share: Value = 1.0,
    copper_coefficient: Value = 0.00393,
    reference_temperature: Value = 293.15,
) -> Value:
    """Where power and temperature meet: a coil that warms draws less, so it limits itself.

    Settled after an hour or so. The power is that of the warm winding, found in one step, not by trial.
    """
    resistance = coil.winding_resistance(
        resistance_20=resistance_20,
        winding_temperature=ambient_temperature,
        copper_coefficient=copper_coefficient,
        reference_temperature=reference_temperature,
    )
    cold_rise = thermal_resistance * on_share * coil_voltage**2 / resistance
    return ambient_temperature + 2 * cold_rise / (
        1 + sqrt(1 + 4 * copper_coefficient * cold_rise * resistance_20 / resistance)
    )


@formula(
    "Share of the time that a coil may be on",
    result="on_share",
    limits={
        "limit_temperature": ">= 0 °C, <= 250 °C",
        "coil_voltage": "> 0 V, <= 1000 V",
        "resistance_20": _RESISTANCE,
        "ambient_temperature": _AMBIENT,
        "thermal_resistance": _THERMAL,
        **_COPPER_LIMITS,
    },
    origins=_ORIGINS,
    chart="limit_temperature",
    example={
        "limit_temperature": "120 °C",
        "coil_voltage": "53 V",
        "resistance_20": "60 Ω",
        "ambient_temperature": "45 °C",
    },
    cautions=("hot-coil",),
    distrust=(
        _GUESS,
        "Cycles longer than a few minutes: the coil passes the limit within each on-time.",
        "More than 100 % says that it may stay on; nothing is gained beyond.",
    ),
)
def allowed_on_share(
    *,
    limit_temperature: Value,
    coil_voltage: Value,
    resistance_20: Value,
    ambient_temperature: Value,
    thermal_resistance: Value = 2.6,
    copper_coefficient: Value = 0.00393,
    reference_temperature: Value = 293.15,
) -> Value:
    """Largest on-share at which the mean temperature of the winding stays at its limit: the coil's duty cycle."""
    resistance = coil.winding_resistance(
        resistance_20=resistance_20,
        winding_temperature=limit_temperature,
        copper_coefficient=copper_coefficient,
        reference_temperature=reference_temperature,
    )
    return (limit_temperature - ambient_temperature) * resistance / (thermal_resistance * coil_voltage**2)


@formula(
    "Thermal resistance from a soak test",
    result="thermal_resistance",
    sources=(("machine-heating", "example 4.12, p. 4.21"),),
    limits={
        "winding_temperature": _TEMPERATURE,
        "ambient_temperature": _AMBIENT,
        "power": "> 0 W, <= 1000 W",
    },
    labels={"power": "power in the hot winding at the end of the soak"},
    example={"winding_temperature": "96 °C", "ambient_temperature": "24 °C", "power": "18.4 W"},
    cautions=("hot-coil",),
    distrust=("A coil off its valve, or a valve without oil and plate: it cools otherwise.",),
)
def thermal_resistance_from_soak(*, winding_temperature: Value, ambient_temperature: Value, power: Value) -> Value:
    """How many K this coil on this valve warms for each watt: one hot resistance measures it, and replaces the guess.

    Settled means less than 1 K in an hour.
    """
    return (winding_temperature - ambient_temperature) / power


@formula(
    "Warming: winding temperature after a time",
    result="winding_temperature",
    sources=(("machine-heating", "example 4.17, p. 4.24"),),
    limits={
        "start_temperature": _TEMPERATURE,
        "steady_temperature": _TEMPERATURE,
        "on_time": ">= 0 min, <= 1440 min",
        "thermal_time_constant": _TAU,
    },
    chart="on_time",
    example={
        "start_temperature": "22 °C",
        "steady_temperature": "104 °C",
        "on_time": "15 min",
        "thermal_time_constant": "22 min",
    },
    cautions=("hot-coil",),
    distrust=(
        "The first minute: the wire is hotter than this, the mass of the coil has not followed yet.",
        "Cooling off works the same with the temperature of the air as the steady one.",
    ),
)
def warming(
    *, start_temperature: Value, steady_temperature: Value, on_time: Value, thermal_time_constant: Value
) -> Value:
    """How warm the winding is after a time, on its way to where it settles; cooling is the same backwards."""
    return steady_temperature + (start_temperature - steady_temperature) * exp(-on_time / thermal_time_constant)


@formula(
    "Time until a winding reaches a temperature",
    result="on_time",
    sources=(("machine-heating", "example 4.17, p. 4.24"),),
    limits={
        "start_temperature": _TEMPERATURE,
        "steady_temperature": ">= -60 °C, <= 2000 °C",
        "limit_temperature": _TEMPERATURE,
        "thermal_time_constant": _TAU,
    },
    example={
        "start_temperature": "22 °C",
        "steady_temperature": "210 °C",
        "limit_temperature": "155 °C",
        "thermal_time_constant": "22 min",
    },
    cautions=("hot-coil",),
    distrust=(
        "It gives no time to wait: a coil that smells or smokes goes off at once.",
        "A limit above where the winding settles is never reached: no value.",
    ),
)
def time_to_temperature(
    *, start_temperature: Value, steady_temperature: Value, limit_temperature: Value, thermal_time_constant: Value
) -> Value:
    """How long a coil on the wrong voltage lasts to the limit of its insulation: often no more than minutes."""
    return thermal_time_constant * log(
        (steady_temperature - start_temperature) / (steady_temperature - limit_temperature)
    )


@formula(
    "Hottest moment of a coil that is switched on and off",
    result="peak_temperature",
    limits={
        "ambient_temperature": _AMBIENT,
        "steady_temperature": _TEMPERATURE,
        "on_time": ">= 0.1 min, <= 1440 min",
        "off_time": ">= 0 min, <= 1440 min",
        "thermal_time_constant": _TAU,
    },
    labels={"steady_temperature": "temperature that it would settle at if it stayed on"},
    chart="on_time",
    example={
        "ambient_temperature": "40 °C",
        "steady_temperature": "130 °C",
        "on_time": "4 min",
        "off_time": "6 min",
        "thermal_time_constant": "22 min",
    },
    cautions=("hot-coil",),
    distrust=("Cooling without power may be slower than warming: then it is hotter than this.",),
)
def cycle_peak(
    *,
    ambient_temperature: Value,
    steady_temperature: Value,
    on_time: Value,
    off_time: Value,
    thermal_time_constant: Value,
) -> Value:
    """Winding temperature at the end of each on-time once the cycles repeat.

    Short cycles come down to on-share times rise; on-times of hours reach the steady temperature.
    """
    return ambient_temperature + (steady_temperature - ambient_temperature) * (
        1 - exp(-on_time / thermal_time_constant)
    ) / (1 - exp(-(on_time + off_time) / thermal_time_constant))


@formula(
    "Life of insulation at a temperature",
    result="life_share",
    sources=(("kosow", "example 13-1"), ("iec-60085", "")),
    limits={
        "class_temperature": ">= 80 °C, <= 250 °C",
        "winding_temperature": ">= 0 °C, <= 400 °C",
        "halving_difference": ">= 6 K, <= 15 K",
    },
    origins={"halving_difference": ("common-practice", "")},
    labels={"winding_temperature": "temperature of the hottest place in the winding"},
    chart="winding_temperature",
    example={"class_temperature": "155 °C", "winding_temperature": "172 °C"},
    cautions=("hot-coil",),
    distrust=(
        "The mean from ohms: the inside of the winding is hotter by 5 to 15 K.",
        "As a promise of years: it compares two temperatures of the same coil, no more.",
    ),
)
def insulation_life(*, class_temperature: Value, winding_temperature: Value, halving_difference: Value = 10.0) -> Value:
    """What heat costs: 10 K more is half the life of the winding, as a rule of thumb; 1 is the life at the limit."""
    return power(2.0, (class_temperature - winding_temperature) / halving_difference)
