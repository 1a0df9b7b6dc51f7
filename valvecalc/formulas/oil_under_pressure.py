"""The oil under pressure: thicker, denser, and how stiff it is with and without air."""

from valvecalc.formula import Value, formula
from valvecalc.formulas import oil
from valvecalc.maths import exp, log10, power

_PRESSURE = ">= 0 bar, <= 1000 bar"
_VISCOSITY = "> 0.1 mPa·s, <= 100000 mPa·s"
_COEFFICIENT = ">= 0 1/GPa, <= 100 1/GPa"
_MODULUS = ">= 0.1 GPa, <= 10 GPa"
_TO_350 = (">= 0 bar, <= 350 bar", "Above 350 bar the oil no longer thickens by this law.")
_UNPRESSED = {"viscosity": "dynamic viscosity of the oil without pressure, at its temperature"}
_GAP = "A gap: its mean pressure counts, half of the pressure difference over it."


@formula(
    "Viscosity at pressure",
    result="viscosity_under_pressure",
    sources=(("wooster", ""), ("jelali-kroll-2003", "ch. 3.1.1")),
    limits={
        "viscosity": _VISCOSITY,
        "oil_pressure": _PRESSURE,
        "wooster_constant": _COEFFICIENT,
        "wooster_slope": _COEFFICIENT,
        "dynamic_viscosity_unit": "> 0 mPa·s, <= 1 mPa·s",
    },
    trusted={"oil_pressure": _TO_350},
    origins=dict.fromkeys(("wooster_constant", "wooster_slope", "dynamic_viscosity_unit"), ("handbook", "wooster")),
    labels=_UNPRESSED,
    chart="oil_pressure",
    example={"viscosity": "29 mPa·s", "oil_pressure": "180 bar"},
    distrust=(_GAP, "Mineral oil only: water glycol thickens by a sixth of this."),
)
def viscosity_at_pressure(
    *,
    viscosity: Value,
    oil_pressure: Value,
    wooster_constant: Value = 0.6e-8,
    wooster_slope: Value = 0.965e-8,
    dynamic_viscosity_unit: Value = 1e-3,
) -> Value:
    """How thick the oil is in a gap under pressure. At 200 bar a mineral oil is half as thick again."""
    viscosity_pressure_coefficient = oil.pressure_coefficient(
        viscosity=viscosity,
        wooster_constant=wooster_constant,
        wooster_slope=wooster_slope,
        dynamic_viscosity_unit=dynamic_viscosity_unit,
    )
    return viscosity * exp(viscosity_pressure_coefficient * oil_pressure)


@formula(
    "Viscosity at pressure, coefficient known",
    result="viscosity_under_pressure",
    sources=(("jelali-kroll-2003", "ch. 3.1.1"),),
    limits={
        "viscosity": _VISCOSITY,
        "oil_pressure": _PRESSURE,
        "viscosity_pressure_coefficient": _COEFFICIENT,
    },
    trusted={"oil_pressure": _TO_350},
    labels=_UNPRESSED,
    chart="oil_pressure",
    example={"viscosity": "29 mPa·s", "oil_pressure": "180 bar", "viscosity_pressure_coefficient": "21.2 1/GPa"},
    distrust=(_GAP,),
)
def viscosity_from_coefficient(
    *, viscosity: Value, oil_pressure: Value, viscosity_pressure_coefficient: Value
) -> Value:
    """Viscosity of the oil under pressure, from the pressure coefficient of its data sheet."""
    return viscosity * exp(viscosity_pressure_coefficient * oil_pressure)


@formula(
    "Density at pressure",
    result="density_under_pressure",
    limits={"density": "> 0 kg/m³, <= 2000 kg/m³", "oil_pressure": _PRESSURE, "bulk_modulus": _MODULUS},
    trusted={"oil_pressure": (">= 0 bar, <= 700 bar", "Above 700 bar the stiffness itself is not known well enough.")},
    labels={"density": "density of the oil without pressure, at its temperature"},
    example={"density": "853 kg/m³", "oil_pressure": "250 bar", "bulk_modulus": "1.5 GPa"},
    distrust=("Air in the oil: the stiffness of oil without air does not tell its density.",),
)
def density_at_pressure(*, density: Value, oil_pressure: Value, bulk_modulus: Value) -> Value:
    """How much heavier a litre of oil is under pressure: about 1 % for 150 bar."""
    return density / (1 - oil_pressure / bulk_modulus)


_HAYWARD_LIMITS = {
    "viscosity_20": "> 1 mm²/s, <= 100000 mm²/s",
    "oil_temperature": ">= -40 °C, <= 150 °C",
    "oil_pressure": _PRESSURE,
    "base_modulus": _MODULUS,
    "decade_modulus": ">= 0 GPa, <= 1 GPa",
    "modulus_exponent": ">= 0 1/K, <= 0.01 1/K",
    "modulus_temperature": ">= 10 °C, <= 30 °C",
    "viscosity_unit": "> 0 mm²/s, <= 1 mm²/s",
}
_HAYWARD_ORIGINS = dict.fromkeys(
    ("base_modulus", "decade_modulus", "modulus_exponent", "modulus_temperature", "viscosity_unit"),
    ("handbook", "hayward-1970"),
)
_HAYWARD_TRUSTED = {
    "oil_temperature": (">= 0 °C, <= 100 °C", "Beyond 0 to 100 °C the estimate is drawn on, not measured."),
    "oil_pressure": (">= 0 bar, <= 700 bar", "Above 700 bar the estimate is drawn on, not measured."),
}


@formula(
    "Stiffness of oil without air, squeezed fast",
    result="fast_bulk_modulus",
    sources=(("hayward-1970", ""), ("jelali-kroll-2003", "eq. 3.11")),
    limits=_HAYWARD_LIMITS,
    trusted=_HAYWARD_TRUSTED,
    origins=_HAYWARD_ORIGINS,
    chart="oil_pressure",
    example={"viscosity_20": "135 mm²/s", "oil_temperature": "50 °C", "oil_pressure": "160 bar"},
    distrust=("Mineral oil only. Water glycol is about twice as stiff.", "Air in the oil: see the stiffness with air."),
)
def isentropic_bulk_modulus(
    *,
    viscosity_20: Value,
    oil_temperature: Value,
    oil_pressure: Value,
    base_modulus: Value = 1.57e9,
    decade_modulus: Value = 0.15e9,
    modulus_exponent: Value = 0.0024,
    modulus_temperature: Value = 293.15,
    viscosity_unit: Value = 1e-6,
) -> Value:
    """Bulk modulus (secant, isentropic) for what is over in less than a second: shifting, surges, chatter."""
    return (base_modulus + decade_modulus * log10(viscosity_20 / viscosity_unit)) * power(
        10, modulus_exponent * (modulus_temperature - oil_temperature)
    ) + 5.6 * oil_pressure


@formula(
    "Stiffness of oil without air, squeezed slowly",
    result="slow_bulk_modulus",
    sources=(("hayward-1970", ""), ("jelali-kroll-2003", "ch. 3.1.2")),
    limits=_HAYWARD_LIMITS,
    trusted=_HAYWARD_TRUSTED,
    origins=_HAYWARD_ORIGINS,
    chart="oil_pressure",
    example={"viscosity_20": "135 mm²/s", "oil_temperature": "50 °C", "oil_pressure": "160 bar"},
    distrust=("Mineral oil only. Water glycol is about twice as stiff.", "Air in the oil: see the stiffness with air."),
)
def isothermal_bulk_modulus(
    *,
    viscosity_20: Value,
    oil_temperature: Value,
    oil_pressure: Value,
    base_modulus: Value = 1.30e9,
    decade_modulus: Value = 0.15e9,
    modulus_exponent: Value = 0.0023,
    modulus_temperature: Value = 293.15,
    viscosity_unit: Value = 1e-6,
) -> Value:
    """Bulk modulus (secant, isothermal) for what takes minutes: a pressure-hold test, oil that warms while shut in.

    It is 15 to 20 % softer than when squeezed fast.
    """
    return (base_modulus + decade_modulus * log10(viscosity_20 / viscosity_unit)) * power(
        10, modulus_exponent * (modulus_temperature - oil_temperature)
    ) + 5.6 * oil_pressure


@formula(
    "Stiffness of oil with air in it",
    result="effective_bulk_modulus",
    sources=(("rabie-2009", ""),),
    limits={
        "bulk_modulus": _MODULUS,
        "oil_pressure": _PRESSURE,
        "air_share": ">= 0 %, <= 50 %",
        "polytropic_exponent": ">= 1, <= 2",
        "atmospheric_pressure_abs": ">= 0.5 bar, <= 1.2 bar",
    },
    trusted={"air_share": (">= 0 %, <= 20 %", "More free air than 20 % is foam: the oil is no longer one liquid.")},
    origins={
        "air_share": ("judgement", ""),
        "polytropic_exponent": ("judgement", ""),
        "atmospheric_pressure_abs": ("standard", "standard-atmosphere"),
    },
    labels={"bulk_modulus": "stiffness of the oil without air"},
    chart="oil_pressure",
    example={"bulk_modulus": "1.6 GPa", "oil_pressure": "20 bar", "air_share": "1 %"},
    distrust=(
        "The share of free air is a guess until it is measured: 0.1 to 5 % is usual, foam holds more.",
        "Air goes into solution under pressure within seconds: it is then stiffer than this.",
        "Hoses: their walls give way more than the oil.",
    ),
)
def bulk_modulus_with_air(
    *,
    bulk_modulus: Value,
    oil_pressure: Value,
    air_share: Value = 0.005,
    polytropic_exponent: Value = 1.4,
    atmospheric_pressure_abs: Value = 101325.0,
) -> Value:
    """How much softer free air makes the oil: hardly above 80 bar, most of it below 20 bar."""
    oil_pressure_abs = oil_pressure + atmospheric_pressure_abs
    air_volume_ratio = (
        air_share / (1 - air_share) * power(atmospheric_pressure_abs / oil_pressure_abs, 1 / polytropic_exponent)
    )
    oil_volume_ratio = 1 - oil_pressure / bulk_modulus
    return (oil_volume_ratio + air_volume_ratio) / (
        oil_volume_ratio / bulk_modulus + air_volume_ratio / (polytropic_exponent * oil_pressure_abs)
    )


@formula(
    "Stiffness of the oil in a working cylinder, low estimate",
    result="effective_bulk_modulus",
    sources=(("jelali-kroll-2003", "eq. 3.21"),),
    limits={"oil_pressure": _PRESSURE, "limit_modulus": _MODULUS, "full_pressure": "> 1 bar, <= 1000 bar"},
    trusted={"oil_pressure": ("<= 280 bar, >= 0 bar", "The formula was made for pressures up to 280 bar.")},
    origins={"limit_modulus": ("handbook", "jelali-kroll-2003"), "full_pressure": ("handbook", "jelali-kroll-2003")},
    chart="oil_pressure",
    example={"oil_pressure": "90 bar"},
    distrust=("A hint only: oil, temperature, air and hoses do not enter it.",),
)
def cylinder_bulk_modulus(*, oil_pressure: Value, limit_modulus: Value = 1.8e9, full_pressure: Value = 280e5) -> Value:
    """A low figure for the stiffness of oil, its usual air and the walls of a cylinder together (Lee 1977)."""
    return 0.5 * limit_modulus * log10(90 * oil_pressure / full_pressure + 3)


_WALL = ">= 0.01 GPa, <= 300 GPa"


@formula(
    "Stiffness of a tube's wall",
    result="wall_modulus",
    sources=(("fluid-properties-chapter", "example 2.2.1"),),
    limits={
        "elastic_modulus": "> 0.01 GPa, <= 500 GPa",
        "wall_thickness": "> 0 mm, <= 100 mm",
        "tube_bore": "> 0 mm, <= 2 m",
    },
    origins={"elastic_modulus": ("common-practice", "")},
    chart="wall_thickness",
    example={"wall_thickness": "1.5 mm", "tube_bore": "12 mm"},
    distrust=(
        "A wall thicker than a tenth of the bore: really a little softer than this thin-wall figure.",
        "Hoses: only a measured figure serves, a small part of what steel has.",
        "It tells how far a wall gives way, not what it bears.",
    ),
)
def tube_wall_modulus(*, wall_thickness: Value, tube_bore: Value, elastic_modulus: Value = 210e9) -> Value:
    """How little a tube widens under pressure, in the same measure as the stiffness of the oil in it."""
    return elastic_modulus * wall_thickness / tube_bore


@formula(
    "Stiffness of oil and wall together",
    result="effective_bulk_modulus",
    sources=(("bulk-course-page", ""),),
    limits={"bulk_modulus": _MODULUS, "wall_modulus": _WALL},
    labels={"bulk_modulus": "stiffness of the oil, its air included"},
    chart="wall_modulus",
    example={"bulk_modulus": "1.5 GPa", "wall_modulus": "0.8 GPa"},
    distrust=("A line of tube and hose: the softer piece decides, weighed with its volume.",),
)
def line_bulk_modulus(*, bulk_modulus: Value, wall_modulus: Value) -> Value:
    """What a line feels like to a pressure step: steel tube hardly softens it, a hose does so by half and more."""
    return 1 / (1 / bulk_modulus + 1 / wall_modulus)
