"""Viscosity in the seconds of the Saybolt Universal viscometer."""

from valvecalc.formula import Value, formula


@formula(
    "Saybolt seconds of an oil",
    result="saybolt_time",
    sources=(("astm-d2161", ""),),
    limits={
        "kinematic_viscosity": ">= 1 mm²/s, <= 20000 mm²/s",
        "oil_temperature": ">= -40 °C, <= 150 °C",
        "saybolt_temperature": ">= 310 K, <= 312 K",
        "saybolt_correction": ">= 0 1/K, <= 0.001 1/K",
        "viscosity_unit": "> 0 mm²/s, <= 1 mm²/s",
        "saybolt_unit": "> 0 s, <= 1 s",
    },
    trusted={
        "kinematic_viscosity": (
            ">= 1.81 mm²/s, <= 500 mm²/s",
            "The standard's equation was made for 1.81 to 500 mm²/s.",
        )
    },
    origins={
        "saybolt_temperature": ("standard", "astm-d2161"),
        "saybolt_correction": ("standard", "astm-d2161"),
        "viscosity_unit": ("standard", "astm-d2161"),
        "saybolt_unit": ("standard", "astm-d2161"),
    },
    labels={"oil_temperature": "temperature at which the oil has this viscosity"},
    example={"kinematic_viscosity": "32 mm²/s", "oil_temperature": "40 °C"},
    distrust=("Both figures belong to one temperature: seconds at 100 °F against mm²/s at 40 °C differ by a tenth.",),
)
def saybolt_seconds(
    *,
    kinematic_viscosity: Value,
    oil_temperature: Value,
    saybolt_temperature: Value = 310.9277777777778,
    saybolt_correction: Value = 1.098e-4,
    viscosity_unit: Value = 1e-6,
    saybolt_unit: Value = 1.0,
) -> Value:
    """Turns a viscosity in mm²/s into the Saybolt Universal seconds (SUS) of older oil cards and pump sheets.

    It is no plain factor: from 75 mm²/s up it is nearly 4.63, below it grows.
    """
    viscosity_number = kinematic_viscosity / viscosity_unit
    saybolt_time_38 = saybolt_unit * (
        4.6324 * viscosity_number
        + (1 + 0.03264 * viscosity_number)
        * 100000
        / (3930.2 + 262.7 * viscosity_number + 23.97 * viscosity_number**2 + 1.646 * viscosity_number**3)
    )
    return saybolt_time_38 * (1 + saybolt_correction * (oil_temperature - saybolt_temperature))
