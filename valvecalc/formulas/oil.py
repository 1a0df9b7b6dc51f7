"""The oil: viscosity at a temperature, viscosity index, density."""

from valvecalc.formula import Value, formula
from valvecalc.maths import log10, power

_KINEMATIC = "> 0.6 mm²/s, <= 1000000 mm²/s"
_TEMPERATURE = ">= -60 °C, <= 200 °C"


@formula(
    "Viscosity at a temperature",
    result="kinematic_viscosity",
    sources=(("astm-d341", "two-constant form"), ("d341-worked-sheet", "")),
    limits={
        "viscosity_40": "> 2 mm²/s, <= 100000 mm²/s",
        "viscosity_100": "> 2 mm²/s, <= 10000 mm²/s",
        "oil_temperature": _TEMPERATURE,
        "temperature_40": ">= 313 K, <= 314 K",
        "temperature_100": ">= 373 K, <= 374 K",
        "walther_constant": "> 0 mm²/s, <= 1 mm²/s",
        "viscosity_unit": "> 0 mm²/s, <= 1 mm²/s",
    },
    trusted={
        "oil_temperature": (">= -10 °C, <= 120 °C", "So far from 40 and 100 °C the line is drawn on, not measured.")
    },
    origins={
        "temperature_40": ("standard", "astm-d341"),
        "temperature_100": ("standard", "astm-d341"),
        "walther_constant": ("standard", "astm-d341"),
        "viscosity_unit": ("standard", "astm-d341"),
    },
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
