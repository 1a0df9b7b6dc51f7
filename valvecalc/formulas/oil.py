"""The oil: viscosity at a temperature and the temperature for a viscosity, viscosity index, density."""

from valvecalc.formula import Value, formula
from valvecalc.maths import log10, power

_KINEMATIC = "> 0.6 mm²/s, <= 1000000 mm²/s"
_TEMPERATURE = ">= -60 °C, <= 200 °C"
_WALTHER_LIMITS = {
    "temperature_40": ">= 313 K, <= 314 K",
    "temperature_100": ">= 373 K, <= 374 K",
    "walther_constant": "> 0 mm²/s, <= 1 mm²/s",
    "viscosity_unit": "> 0 mm²/s, <= 1 mm²/s",
}
_WALTHER_ORIGINS = dict.fromkeys(_WALTHER_LIMITS, ("standard", "astm-d341"))


@formula(
    "Viscosity at a temperature",
    result="kinematic_viscosity",
    sources=(("astm-d341", "two-constant form"), ("d341-worked-sheet", "")),
    limits={
        "viscosity_40": "> 2 mm²/s, <= 100000 mm²/s",
        "viscosity_100": "> 2 mm²/s, <= 10000 mm²/s",
        "oil_temperature": _TEMPERATURE,
        **_WALTHER_LIMITS,
    },
    trusted={
        "oil_temperature": (">= -10 °C, <= 120 °C", "So far from 40 and 100 °C the line is drawn on, not measured.")
    },
    origins=_WALTHER_ORIGINS,
    chart="oil_temperature",
    example={"viscosity_40": "46 mm²/s", "viscosity_100": "6.8 mm²/s", "oil_temperature": "50 °C"},
    distrust=("Water-based fluids and mixtures; oil below its pour point; answers below 2 mm²/s.",),
)
def kinematic_viscosity(
    *,
    viscosity_40: Value,
    viscosity_100: Value,
    oil_temperature: Value,
    temperature_40: Value = 313.15,
    temperature_100: Value = 373.15,
    walther_constant: Value = 0.7e-6,
    viscosity_unit: Value = 1e-6,
) -> Value:
    """Viscosity of an oil when warm or cold, from its two data sheet figures at 40 and 100 °C."""
    walther_40 = log10(log10((viscosity_40 + walther_constant) / viscosity_unit))
    walther_100 = log10(log10((viscosity_100 + walther_constant) / viscosity_unit))
    walther_slope = (walther_40 - walther_100) / log10(temperature_100 / temperature_40)
    walther_value = walther_40 - walther_slope * log10(oil_temperature / temperature_40)
    return viscosity_unit * power(10, power(10, walther_value)) - walther_constant


@formula(
    "Temperature at which an oil has a viscosity",
    result="oil_temperature",
    sources=(("astm-d341", "two-constant form"), ("d341-worked-sheet", "")),
    limits={
        "viscosity_40": "> 2 mm²/s, <= 100000 mm²/s",
        "viscosity_100": "> 2 mm²/s, <= 1000 mm²/s",
        "kinematic_viscosity": "> 2 mm²/s, <= 100000 mm²/s",
        **_WALTHER_LIMITS,
    },
    origins=_WALTHER_ORIGINS,
    labels={"kinematic_viscosity": "viscosity that is wanted, or that is the limit"},
    chart="kinematic_viscosity",
    example={"viscosity_40": "46 mm²/s", "viscosity_100": "6.8 mm²/s", "kinematic_viscosity": "16 mm²/s"},
    distrust=(
        "Answers below -10 °C or above 120 °C: the line is drawn on there, not measured.",
        "Water-based fluids and mixtures; oil below its pour point.",
    ),
)
def temperature_for_viscosity(
    *,
    viscosity_40: Value,
    viscosity_100: Value,
    kinematic_viscosity: Value,
    temperature_40: Value = 313.15,
    temperature_100: Value = 373.15,
    walther_constant: Value = 0.7e-6,
    viscosity_unit: Value = 1e-6,
) -> Value:
    """How warm the oil has to be to have a viscosity: when a start is allowed, when it gets too thin."""
    walther_40 = log10(log10((viscosity_40 + walther_constant) / viscosity_unit))
    walther_100 = log10(log10((viscosity_100 + walther_constant) / viscosity_unit))
    walther_slope = (walther_40 - walther_100) / log10(temperature_100 / temperature_40)
    walther_value = log10(log10((kinematic_viscosity + walther_constant) / viscosity_unit))
    return temperature_40 * power(10, (walther_40 - walther_value) / walther_slope)


@formula(
    "Dynamic viscosity",
    result="viscosity",
    sources=(("esposito", "examples 2.12 and 2.13"),),
    limits={"kinematic_viscosity": _KINEMATIC, "density": "> 0 kg/m³, <= 2000 kg/m³"},
    example={"kinematic_viscosity": "32 mm²/s", "density": "857 kg/m³"},
    distrust=("High pressure: at 200 bar mineral oil is half as thick again.",),
)
def dynamic_viscosity(*, kinematic_viscosity: Value, density: Value) -> Value:
    """Viscosity as gaps feel it, from the kinematic figure of the oil card and the density."""
    return kinematic_viscosity * density


@formula(
    "Density at a temperature",
    result="density",
    sources=(("jelali-kroll-2003", "ch. 3.1.2"),),
    limits={
        "density_15": ">= 500 kg/m³, <= 2000 kg/m³",
        "oil_temperature": _TEMPERATURE,
        "thermal_expansion": ">= 0 1/K, <= 0.002 1/K",
        "density_reference_temperature": ">= 0 °C, <= 40 °C",
    },
    origins={
        "thermal_expansion": ("handbook", "jelali-kroll-2003"),
        "density_reference_temperature": ("common-practice", ""),
    },
    example={"density_15": "875 kg/m³", "oil_temperature": "50 °C"},
    distrust=("High pressure: 200 bar add about 1 %.",),
)
def density_at(
    *,
    density_15: Value,
    oil_temperature: Value,
    thermal_expansion: Value = 6.5e-4,
    density_reference_temperature: Value = 288.15,
) -> Value:
    """Density of the warm oil. Mineral oil loses about 0.65 % for every 10 K."""
    return density_15 * (1 - thermal_expansion * (oil_temperature - density_reference_temperature))


@formula(
    "Viscosity index up to 100",
    result="viscosity_index",
    sources=(("astm-d2270", "procedure A, 5.1"),),
    limits={
        "viscosity_40": _KINEMATIC,
        "viscosity_40_vi_0": _KINEMATIC,
        "viscosity_40_vi_100": _KINEMATIC,
    },
    example={"viscosity_40": "73.30 mm²/s", "viscosity_40_vi_0": "119.94 mm²/s", "viscosity_40_vi_100": "69.48 mm²/s"},
    distrust=("An answer above 100: then the other procedure holds.",),
)
def viscosity_index_low(*, viscosity_40: Value, viscosity_40_vi_0: Value, viscosity_40_vi_100: Value) -> Value:
    """How little the oil thins when it warms, for indices up to 100.

    The two reference viscosities belong to the oil's viscosity at 100 °C and stand in the table of viscosity
    index references (2 to 70 mm²/s).
    """
    return 100 * (viscosity_40_vi_0 - viscosity_40) / (viscosity_40_vi_0 - viscosity_40_vi_100)


@formula(
    "Viscosity index from 100 up",
    result="viscosity_index",
    sources=(("astm-d2270", "procedure B, 6.1"),),
    limits={
        "viscosity_40": _KINEMATIC,
        "viscosity_100": ">= 2 mm²/s, <= 70 mm²/s",
        "viscosity_40_vi_100": _KINEMATIC,
        "viscosity_unit": "> 0 mm²/s, <= 1 mm²/s",
    },
    origins={"viscosity_unit": ("standard", "astm-d2270")},
    example={"viscosity_40": "22.83 mm²/s", "viscosity_100": "5.05 mm²/s", "viscosity_40_vi_100": "28.97 mm²/s"},
    distrust=("An answer below 100: then the other procedure holds.",),
)
def viscosity_index_high(
    *, viscosity_40: Value, viscosity_100: Value, viscosity_40_vi_100: Value, viscosity_unit: Value = 1e-6
) -> Value:
    """How little the oil thins when it warms, for indices from 100 up."""
    viscosity_index_exponent = log10(viscosity_40_vi_100 / viscosity_40) / log10(viscosity_100 / viscosity_unit)
    return (power(10, viscosity_index_exponent) - 1) / 0.00715 + 100


@formula(
    "Viscosity at 40 °C from an index up to 100",
    result="viscosity_40",
    sources=(("astm-d2270", "procedure A, 5.1, turned round"),),
    limits={
        "viscosity_index": ">= 0, <= 100",
        "viscosity_40_vi_0": _KINEMATIC,
        "viscosity_40_vi_100": _KINEMATIC,
    },
    example={"viscosity_index": "95", "viscosity_40_vi_0": "119.94 mm²/s", "viscosity_40_vi_100": "69.48 mm²/s"},
    distrust=("An index above 100: then the other procedure holds.",),
)
def viscosity_40_low(*, viscosity_index: Value, viscosity_40_vi_0: Value, viscosity_40_vi_100: Value) -> Value:
    """Viscosity at 40 °C of an oil whose index and viscosity at 100 °C are known, for indices up to 100.

    The two reference viscosities belong to the viscosity at 100 °C.
    """
    return viscosity_40_vi_0 - viscosity_index / 100 * (viscosity_40_vi_0 - viscosity_40_vi_100)


@formula(
    "Viscosity at 40 °C from an index of 100 up",
    result="viscosity_40",
    sources=(("astm-d2270", "procedure B, 6.1, turned round"),),
    limits={
        "viscosity_index": ">= 100, <= 400",
        "viscosity_100": ">= 2 mm²/s, <= 70 mm²/s",
        "viscosity_40_vi_100": _KINEMATIC,
        "viscosity_unit": "> 0 mm²/s, <= 1 mm²/s",
    },
    origins={"viscosity_unit": ("standard", "astm-d2270")},
    example={"viscosity_index": "150", "viscosity_100": "5.05 mm²/s", "viscosity_40_vi_100": "28.97 mm²/s"},
    distrust=("An index below 100: then the other procedure holds.",),
)
def viscosity_40_high(
    *, viscosity_index: Value, viscosity_100: Value, viscosity_40_vi_100: Value, viscosity_unit: Value = 1e-6
) -> Value:
    """Viscosity at 40 °C of an oil whose index and viscosity at 100 °C are known, for indices from 100 up."""
    viscosity_index_exponent = log10(0.00715 * (viscosity_index - 100) + 1)
    return viscosity_40_vi_100 / power(viscosity_100 / viscosity_unit, viscosity_index_exponent)


@formula(
    "Pressure coefficient of viscosity",
    result="viscosity_pressure_coefficient",
    sources=(("wooster", ""), ("jelali-kroll-2003", "table 3.1")),
    limits={
        "viscosity": "> 0.1 mPa·s, <= 100000 mPa·s",
        "wooster_constant": ">= 0 1/GPa, <= 100 1/GPa",
        "wooster_slope": ">= 0 1/GPa, <= 100 1/GPa",
        "dynamic_viscosity_unit": "> 0 mPa·s, <= 1 mPa·s",
    },
    origins={
        "wooster_constant": ("handbook", "wooster"),
        "wooster_slope": ("handbook", "wooster"),
        "dynamic_viscosity_unit": ("handbook", "wooster"),
    },
    labels={"viscosity": "dynamic viscosity of the oil without pressure, at its temperature"},
    example={"viscosity": "29 mPa·s"},
    distrust=(
        "Mineral oil only. Water glycol has about a sixth of it.",
        "The measured coefficient of a mineral oil lay 5 to 9 % higher between 0 and 100 °C.",
    ),
)
def pressure_coefficient(
    *,
    viscosity: Value,
    wooster_constant: Value = 0.6e-8,
    wooster_slope: Value = 0.965e-8,
    dynamic_viscosity_unit: Value = 1e-3,
) -> Value:
    """How fast pressure thickens a mineral oil, estimated from how thick it is."""
    return wooster_constant + wooster_slope * log10(viscosity / dynamic_viscosity_unit)


@formula(
    "Deviation from the grade",
    result="grade_deviation",
    limits={"viscosity_40": _KINEMATIC, "grade_viscosity": _KINEMATIC},
    part=True,
)
def grade_deviation(*, viscosity_40: Value, grade_viscosity: Value) -> Value:
    """Viscosity at 40 °C against the middle of the grade."""
    return (viscosity_40 - grade_viscosity) / grade_viscosity
