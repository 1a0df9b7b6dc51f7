"""The coil: resistance, temperature, current, and what the cable takes away."""

from valvecalc.formula import Value, formula

_RESISTANCE = "> 0 Ω, <= 100 kΩ"
_VOLTAGE = "> 0 V, <= 1000 V"
_TEMPERATURE = ">= -60 °C, <= 300 °C"
_COPPER_LIMITS = {"copper_coefficient": "> 0 1/K, <= 0.01 1/K", "reference_temperature": ">= -20 °C, <= 40 °C"}
_COPPER_ORIGINS = {
    "copper_coefficient": ("handbook", "temperature-rise-page"),
    "reference_temperature": ("standard", "iec-60228"),
}


@formula(
    "Winding resistance at a temperature",
    result="resistance",
    sources=(("patil", "example 1.3"),),
    limits={"resistance_20": _RESISTANCE, "winding_temperature": _TEMPERATURE, **_COPPER_LIMITS},
    trusted={
        "winding_temperature": ("<= 180 °C", "Above 180 °C no usual insulation lasts: the coil is on its way out.")
    },
    origins=_COPPER_ORIGINS,
    chart="winding_temperature",
    example={"resistance_20": "92.2 Ω", "winding_temperature": "100 °C"},
    cautions=("hot-coil",),
    distrust=("A coil with a rectifier or electronics in series: an ohmmeter does not see its winding.",),
)
def winding_resistance(
    *,
    resistance_20: Value,
    winding_temperature: Value,
    copper_coefficient: Value = 0.00393,
    reference_temperature: Value = 293.15,
) -> Value:
    """Resistance of a copper winding when warm or cold, from its 20 °C value.

    Use it to see what current is left hot: from 20 to 105 °C copper gains a third.
    """
    return resistance_20 * (1 + copper_coefficient * (winding_temperature - reference_temperature))


@formula(
    "Winding resistance turned to 20 °C",
    result="resistance_20",
    sources=(("patil", "example 1.4"),),
    limits={"resistance": _RESISTANCE, "coil_temperature": _TEMPERATURE, **_COPPER_LIMITS},
    origins=_COPPER_ORIGINS,
    chart="coil_temperature",
    example={"resistance": "98.4 Ω", "coil_temperature": "37 °C"},
    cautions=("hot-coil", "live-circuit"),
    distrust=(
        "A coil that has just worked: it is hotter inside than outside. Let it lie for two hours.",
        "A coil with a rectifier or electronics in series: an ohmmeter does not see its winding.",
    ),
)
def resistance_at_20(
    *,
    resistance: Value,
    coil_temperature: Value,
    copper_coefficient: Value = 0.00393,
    reference_temperature: Value = 293.15,
) -> Value:
    """What the coil would read at 20 °C: the figure to hold against the nameplate.

    Measure off the machine, dead, both pins off. Too low means shorted turns, no reading an open winding, about
    four times or a quarter the coil of another voltage.
    """
    return resistance / (1 + copper_coefficient * (coil_temperature - reference_temperature))


@formula(
    "Winding temperature from two resistance readings",
    result="winding_temperature",
    sources=(("temperature-rise-page", ""), ("kulshreshtha", "example 2.18"), ("iec-60034-1", "resistance method")),
    limits={
        "cold_resistance": _RESISTANCE,
        "hot_resistance": _RESISTANCE,
        "cold_temperature": ">= -40 °C, <= 80 °C",
        "copper_constant": ">= 200 K, <= 300 K",
        "ice_point": ">= 273 K, <= 274 K",
    },
    origins={"copper_constant": ("handbook", "temperature-rise-page"), "ice_point": ("standard", "si-brochure")},
    example={"cold_resistance": "92.2 Ω", "hot_resistance": "121.7 Ω", "cold_temperature": "20 °C"},
    cautions=("hot-coil", "live-circuit"),
    distrust=(
        "A hot reading later than a second after switching off: read at 10, 20 and 30 s and run the line back to 0.",
        "The answer is the mean of the winding; its inside is hotter.",
    ),
)
def winding_temperature_from_resistance(
    *,
    cold_resistance: Value,
    hot_resistance: Value,
    cold_temperature: Value,
    copper_constant: Value = 234.5,
    ice_point: Value = 273.15,
) -> Value:
    """How hot the winding is, with an ohmmeter as the thermometer.

    Copper only. One standard for machines works with 235 instead of 234.5: 0.1 K in a rise of 60 K.
    """
    return (
        hot_resistance / cold_resistance * (copper_constant + cold_temperature - ice_point)
        - copper_constant
        + ice_point
    )


@formula(
    "Coil current",
    result="current",
    limits={"coil_voltage": ">= 0 V, <= 1000 V", "resistance": _RESISTANCE},
    example={"coil_voltage": "44 V", "resistance": "115 Ω"},
    cautions=("live-circuit",),
    distrust=("AC coils: there the reactance limits the current, not the resistance.",),
)
def coil_current(*, coil_voltage: Value, resistance: Value) -> Value:
    """Steady current of a DC coil (Ohm's law). Take the resistance at the winding's own temperature."""
    return coil_voltage / resistance


@formula(
    "Coil power",
    result="power",
    limits={"coil_voltage": ">= 0 V, <= 1000 V", "resistance": _RESISTANCE},
    chart="coil_voltage",
    example={"coil_voltage": "48 V", "resistance": "121.7 Ω"},
    cautions=("hot-coil", "live-circuit"),
    distrust=("AC coils: there the power factor comes in.",),
)
def coil_power(*, coil_voltage: Value, resistance: Value) -> Value:
    """Heat that a DC coil makes. Twice the voltage is four times the heat: the wrong coil burns."""
    return coil_voltage**2 / resistance


@formula(
    "Coil resistance expected from the nameplate",
    result="resistance_20",
    limits={"nominal_voltage": _VOLTAGE, "nominal_power": "> 0 W, <= 1000 W"},
    example={"nominal_voltage": "48 V", "nominal_power": "25 W"},
    distrust=(
        "AC coils, and coils with a rectifier: the nameplate's power is not voltage squared over resistance.",
        "A nameplate that gives the power of the hot coil: then the resistance is the hot one.",
    ),
)
def nominal_resistance(*, nominal_voltage: Value, nominal_power: Value) -> Value:
    """What a DC coil ought to read at 20 °C when its plate gives voltage and power."""
    return nominal_voltage**2 / nominal_power


@formula(
    "Resistance of a supply cable",
    result="loop_resistance",
    sources=(("iec-60228", "maximum resistance at 20 °C"), ("beiser", "example 5.15")),
    limits={
        "cable_length": ">= 0 m, <= 10000 m",
        "resistance_per_length": "> 0 Ω/km, <= 1000 Ω/km",
        "cable_cores": ">= 1, <= 4",
    },
    origins={"cable_cores": ("common-practice", "")},
    example={"cable_length": "30 m", "resistance_per_length": "26.0 Ω/km"},
    distrust=("A warm cable: at 50 °C it has 12 % more. Broken strands and poor joints are not in the table.",),
)
def cable_resistance(*, cable_length: Value, resistance_per_length: Value, cable_cores: Value = 2.0) -> Value:
    """Resistance of the whole loop, there and back. The cable table gives each size's largest allowed value."""
    return cable_cores * cable_length * resistance_per_length


@formula(
    "Voltage left at the coil's plug",
    result="coil_voltage",
    limits={
        "source_voltage": ">= 0 V, <= 1000 V",
        "resistance": _RESISTANCE,
        "loop_resistance": ">= 0 Ω, <= 10 kΩ",
        "contact_resistance": ">= 0 Ω, <= 10 kΩ",
    },
    labels={"resistance": "resistance of the coil at its temperature"},
    origins={"contact_resistance": ("judgement", "")},
    chart="loop_resistance",
    example={"source_voltage": "46 V", "resistance": "115 Ω", "loop_resistance": "1.56 Ω"},
    cautions=("live-circuit",),
    distrust=("Several coils on one cable: their currents add. A reading at the plug under load decides.",),
)
def plug_voltage(
    *, source_voltage: Value, resistance: Value, loop_resistance: Value, contact_resistance: Value = 0.0
) -> Value:
    """What reaches the coil after cable and contacts have taken their share."""
    return source_voltage * resistance / (resistance + loop_resistance + contact_resistance)


@formula(
    "Voltage lost in a cable",
    result="voltage_drop",
    limits={"current": ">= 0 A, <= 100 A", "loop_resistance": ">= 0 Ω, <= 10 kΩ"},
    example={"current": "0.52 A", "loop_resistance": "1.56 Ω"},
    cautions=("live-circuit",),
    distrust=("AC: the cable's reactance comes on top.",),
)
def cable_drop(*, current: Value, loop_resistance: Value) -> Value:
    """Voltage that stays in the cable at this current."""
    return current * loop_resistance


@formula(
    "Winding temperature from the power",
    result="winding_temperature",
    limits={
        "ambient_temperature": ">= -60 °C, <= 150 °C",
        "thermal_resistance": "> 0 K/W, <= 100 K/W",
        "power": ">= 0 W, <= 1000 W",
    },
    example={"ambient_temperature": "45 °C", "thermal_resistance": "2.6 K/W", "power": "18.9 W"},
    cautions=("hot-coil",),
    distrust=(
        "The power falls as the coil warms: power and temperature have to be found together.",
        "A thermal resistance not measured on this coil on this valve: good for a guess only.",
    ),
)
def thermal_winding_temperature(*, ambient_temperature: Value, thermal_resistance: Value, power: Value) -> Value:
    """Where the winding settles after an hour or so of steady power."""
    return ambient_temperature + thermal_resistance * power


@formula(
    "Current against the force curve's current",
    result="current_ratio",
    limits={
        "coil_voltage": ">= 0 V, <= 1000 V",
        "resistance": _RESISTANCE,
        "curve_voltage": _VOLTAGE,
        "curve_resistance": _RESISTANCE,
    },
    part=True,
)
def current_ratio(*, coil_voltage: Value, resistance: Value, curve_voltage: Value, curve_resistance: Value) -> Value:
    """Coil current over the current of the force curve. A curve taken hot at 90 % is not derated again."""
    return (coil_voltage / resistance) / (curve_voltage / curve_resistance)
