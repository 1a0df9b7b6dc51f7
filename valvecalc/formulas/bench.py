"""The test stand: power and heat, how long to collect, and what a test at less than the duty shows."""

from valvecalc.formula import Value, formula
from valvecalc.maths import log, sqrt

_FLOW = "> 0 L/min, <= 10000 L/min"
_PRESSURE = "> 0 bar, <= 1000 bar"
_LEAKAGE = "> 0 mL/min, <= 100 L/min"
_VOLUME = "> 0 mL, <= 100000 L"
_MODULUS = ">= 0.1 GPa, <= 10 GPa"
_TIME = "> 0 s, <= 1000000 s"
_HOSE = "A hose or an accumulator in the shut volume: it gives way far more than the oil does."


@formula(
    "Power that a pump takes from its motor",
    result="drive_power",
    sources=(("esposito", "example 3-8"), ("sullivan", "example 2.7")),
    limits={"pump_flow": _FLOW, "supply_pressure": _PRESSURE, "overall_efficiency": "> 0, <= 1"},
    origins={"overall_efficiency": ("judgement", "")},
    chart="supply_pressure",
    example={"pump_flow": "24 L/min", "supply_pressure": "180 bar"},
    cautions=("test-stand",),
    distrust=(
        "A worn pump, cold oil, a motor far below its rated speed: the efficiency is lower.",
        "A pump whose displacement follows the pressure: enter the flow at that pressure.",
    ),
)
def pump_power(*, pump_flow: Value, supply_pressure: Value, overall_efficiency: Value = 0.85) -> Value:
    """What the motor of the stand has to give for a flow at a pressure: bar times L/min over 600 is kW in the oil."""
    return pump_flow * supply_pressure / overall_efficiency


@formula(
    "Time until the tank is too warm",
    result="warming_time",
    limits={
        "oil_volume": _VOLUME,
        "warming": "> 0 K, <= 100 K",
        "heat": "> 0 W, <= 1000 kW",
        "density": "> 0 kg/m³, <= 2000 kg/m³",
        "specific_heat": "> 0 kJ/(kg·K), <= 10 kJ/(kg·K)",
    },
    labels={
        "oil_volume": "oil in the tank",
        "warming": "how much warmer the oil may get",
        "heat": "power that turns into heat: all of the pump's while it blows over the relief valve",
    },
    origins={"density": ("handbook", "jelali-kroll-2003"), "specific_heat": ("common-practice", "")},
    chart="heat",
    example={"oil_volume": "80 L", "warming": "15 K", "heat": "5.4 kW"},
    cautions=("test-stand",),
    distrust=(
        "A cooler, or an hour and more: the tank sheds heat by then, about 10 to 15 W per m² and K.",
        "A tank in which the return falls back into the suction: only a part of the oil takes the heat.",
    ),
)
def warming_time(
    *, oil_volume: Value, warming: Value, heat: Value, density: Value = 875.0, specific_heat: Value = 1900.0
) -> Value:
    """How long a stand can stay on its relief valve before the oil is another one: warm oil changes every reading.

    Nothing is taken off for cooling, so the real time is longer. Unload the pump between readings.
    """
    return oil_volume * density * specific_heat * warming / heat


@formula(
    "How long to collect a leakage",
    result="collection_time",
    limits={
        "glass_resolution": "> 0 mL, <= 1 L",
        "resolution_share": "> 0 %, <= 100 %",
        "leakage": _LEAKAGE,
    },
    labels={"leakage": "leakage to be expected"},
    chart="leakage",
    example={"glass_resolution": "0.5 mL", "resolution_share": "2 %", "leakage": "12 mL/min"},
    cautions=("jet", "test-stand"),
    distrust=(
        "Oil at another temperature at the end than at the start: 1 K is 4 % of a leakage past a land.",
        "The first half minute after the pressure comes on: let it settle, then start.",
    ),
)
def collection_time(*, glass_resolution: Value, resolution_share: Value, leakage: Value) -> Value:
    """Time to collect until one mark of the measuring glass is only the wanted share of the reading."""
    collected_volume = glass_resolution / resolution_share
    return collected_volume / leakage


@formula(
    "Time to half the pressure",
    result="half_time",
    limits={
        "oil_volume": _VOLUME,
        "pressure_drop": _PRESSURE,
        "leakage": _LEAKAGE,
        "bulk_modulus": _MODULUS,
    },
    labels={"pressure_drop": "pressure difference at the start", "leakage": "leakage at that pressure difference"},
    origins={"bulk_modulus": ("handbook", "jelali-kroll-2003")},
    chart="leakage",
    example={"oil_volume": "220 mL", "pressure_drop": "120 bar", "leakage": "6 mL/min"},
    cautions=("trapped-volume", "test-stand"),
    distrust=("A leak through a hole: it goes with the root of the pressure and empties in a finite time.", _HOSE),
)
def half_time(*, oil_volume: Value, pressure_drop: Value, leakage: Value, bulk_modulus: Value = 1.43e9) -> Value:
    """How fast a shut volume loses half its pressure past a land: seconds, so a hold test says nothing of a spool."""
    return log(2) * oil_volume * pressure_drop / (bulk_modulus * leakage)


@formula(
    "Time to half the pressure, from a fall",
    result="half_time",
    limits={"pressure_drop": _PRESSURE, "pressure_change_difference": _PRESSURE, "fall_time": _TIME},
    example={"pressure_drop": "120 bar", "pressure_change_difference": "9 bar", "fall_time": "5 min"},
    part=True,
)
def half_time_from_fall(*, pressure_drop: Value, pressure_change_difference: Value, fall_time: Value) -> Value:
    """Time to half of the pressure past a land: it dies away by the same share in equal times."""
    return -log(2) * fall_time / log(1 - pressure_change_difference / pressure_drop)


@formula(
    "Leakage that cooling pretends",
    result="false_leakage",
    limits={
        "oil_volume": _VOLUME,
        "cooling": ">= 0 K, <= 50 K",
        "fall_time": _TIME,
        "thermal_expansion": ">= 0 1/K, <= 0.002 1/K",
    },
    labels={"fall_time": "time in which it cooled"},
    origins={"thermal_expansion": ("handbook", "jelali-kroll-2003")},
    chart="cooling",
    example={"oil_volume": "220 mL", "cooling": "0.3 K", "fall_time": "2 min"},
    cautions=("trapped-volume",),
    distrust=(
        "Warming: it hides a leak, and in a volume that is shut tight it raises the pressure by 9 bar for each K.",
    ),
)
def false_leakage(*, oil_volume: Value, cooling: Value, fall_time: Value, thermal_expansion: Value = 6.5e-4) -> Value:
    """Oil that cools in a shut volume shrinks, and the gauge falls as if it leaked this much."""
    return oil_volume * thermal_expansion * cooling / fall_time


@formula(
    "Share of the duty's flow force that a test reaches",
    result="flow_force_cover",
    sources=(("jelali-kroll-2003", "eq. 3.88, p. 50"),),
    limits={
        "test_flow": ">= 0 L/min, <= 10000 L/min",
        "duty_flow": _FLOW,
        "test_drop": ">= 0 bar, <= 1000 bar",
        "duty_drop": _PRESSURE,
    },
    chart="test_drop",
    example={"test_flow": "28 L/min", "test_drop": "90 bar", "duty_flow": "32 L/min", "duty_drop": "160 bar"},
    distrust=(
        "Another path than that of the duty, or a return flow that only the machine's cylinder makes.",
        "The pressure of the pump with the relief valve blowing: the drop over the spool counts, while it opens.",
    ),
)
def flow_force_cover(*, test_flow: Value, duty_flow: Value, test_drop: Value, duty_drop: Value) -> Value:
    """Flow force goes with the flow and the root of the pressure: what a test below the duty's figures has proved."""
    return test_flow / duty_flow * sqrt(test_drop / duty_drop)


@formula(
    "Share of the duty's sideways force that a test reaches",
    result="lateral_cover",
    limits={"test_drop": ">= 0 bar, <= 1000 bar", "duty_drop": _PRESSURE},
    part=True,
)
def lateral_cover(*, test_drop: Value, duty_drop: Value) -> Value:
    """The force that presses a spool sideways goes with the pressure itself."""
    return test_drop / duty_drop


@formula(
    "Drive power against the motor's",
    result="motor_share",
    limits={"drive_power": "> 0 W", "motor_power": "> 0 W"},
    part=True,
)
def motor_share(*, drive_power: Value, motor_power: Value) -> Value:
    """How much of the motor's rated power the pump takes."""
    return drive_power / motor_power


@formula(
    "Share of a reading that cooling pretends",
    result="false_share",
    limits={"false_leakage": ">= 0 mL/min", "leakage": "> 0 mL/min"},
    part=True,
)
def false_share(*, false_leakage: Value, leakage: Value) -> Value:
    """How much of the leakage read may be nothing but cooling."""
    return false_leakage / leakage
