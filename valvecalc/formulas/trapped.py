"""Oil shut in under pressure: what comes out, the energy behind it, and what warming does."""

from valvecalc.formula import Value, formula

_VOLUME = "> 0 mL, <= 100000 L"
_DIFFERENCE = ">= 0 bar, <= 1000 bar"
_MODULUS = ">= 0.1 GPa, <= 10 GPa"
_MODULUS_ORIGIN = {"bulk_modulus": ("handbook", "jelali-kroll-2003")}
_HOSES = "Hoses and accumulators on the line: they hold far more than the oil does."


@formula(
    "Oil that comes out as the pressure falls",
    result="decompression_volume",
    sources=(("esposito", "examples 2.11 and 2.17"), ("sullivan", "example 6.2")),
    limits={"oil_volume": _VOLUME, "pressure_change_difference": _DIFFERENCE, "bulk_modulus": _MODULUS},
    origins=_MODULUS_ORIGIN,
    chart="pressure_change_difference",
    example={"oil_volume": "6 L", "pressure_change_difference": "180 bar"},
    cautions=("stored-pressure", "jet", "trapped-volume"),
    distrust=(_HOSES, "Air in the oil: more comes out, and for longer."),
)
def decompression_volume(
    *, oil_volume: Value, pressure_change_difference: Value, bulk_modulus: Value = 1.43e9
) -> Value:
    """How much oil a bleed point has to take before a shut line is at zero, or how much a pump must add to fill it."""
    return oil_volume * pressure_change_difference / bulk_modulus


@formula(
    "Energy stored in squeezed oil",
    result="oil_energy",
    limits={"oil_volume": _VOLUME, "pressure_change_difference": _DIFFERENCE, "bulk_modulus": _MODULUS},
    origins=_MODULUS_ORIGIN,
    labels={"pressure_change_difference": "pressure of the oil shut in, down to zero"},
    chart="pressure_change_difference",
    example={"oil_volume": "6 L", "pressure_change_difference": "180 bar"},
    cautions=("stored-energy", "stored-pressure", "jet"),
    distrust=(_HOSES, "A small figure is no leave to open a joint: a jet needs next to no energy to go through skin."),
)
def compression_energy(*, oil_volume: Value, pressure_change_difference: Value, bulk_modulus: Value = 1.43e9) -> Value:
    """What the oil alone lets loose as a joint opens: it grows with the square of the pressure."""
    return oil_volume * pressure_change_difference**2 / (2 * bulk_modulus)


@formula(
    "Pressure that shut-in oil gains as it warms",
    result="pressure_rise",
    sources=(("closed-heating-page", ""),),
    limits={
        "warming": ">= 0 K, <= 150 K",
        "bulk_modulus": _MODULUS,
        "thermal_expansion": ">= 0 1/K, <= 0.002 1/K",
        "vessel_expansion": ">= 0 1/K, <= 0.0002 1/K",
    },
    trusted={"warming": (">= 0 K, <= 50 K", "Long before so much warming something gives way: seal, hose or joint.")},
    origins={
        "bulk_modulus": ("handbook", "jelali-kroll-2003"),
        "thermal_expansion": ("handbook", "jelali-kroll-2003"),
        "vessel_expansion": ("judgement", ""),
    },
    chart="warming",
    example={"warming": "12 K"},
    cautions=("trapped-volume", "stored-pressure"),
    distrust=(
        "A real shut volume gains less: walls give way, a little air is in it, a seat leaks. Never count on that.",
        "A pressure-hold test: 1 K of cooling looks like a leak.",
    ),
)
def sealed_pressure_rise(
    *,
    warming: Value,
    bulk_modulus: Value = 1.43e9,
    thermal_expansion: Value = 6.5e-4,
    vessel_expansion: Value = 0.0,
) -> Value:
    """What a line or cylinder shut full of oil gains in the sun or beside a hot pump: about 9 bar for each K."""
    return bulk_modulus * (thermal_expansion - vessel_expansion) * warming


@formula(
    "Leakage that a falling pressure speaks for",
    result="leakage",
    limits={
        "oil_volume": _VOLUME,
        "pressure_change_difference": _DIFFERENCE,
        "fall_time": "> 0 s, <= 24 h",
        "bulk_modulus": _MODULUS,
    },
    origins=_MODULUS_ORIGIN,
    labels={"pressure_change_difference": "fall of the pressure in the shut volume"},
    chart="pressure_change_difference",
    example={"oil_volume": "3 L", "pressure_change_difference": "25 bar", "fall_time": "5 min"},
    cautions=("test-stand", "trapped-volume", "jet"),
    distrust=(
        "Cooling: 1 K takes about 9 bar off, whatever the valve leaks. Let it stand until its temperature does.",
        "Air or a hose in the shut volume: the pressure falls more slowly, the leakage is larger than told.",
    ),
)
def leakage_from_pressure_fall(
    *, oil_volume: Value, pressure_change_difference: Value, fall_time: Value, bulk_modulus: Value = 1.43e9
) -> Value:
    """Mean leakage of a pressure-hold test: the gauge falls, and the shut volume tells how much went out."""
    return oil_volume * pressure_change_difference / (bulk_modulus * fall_time)
