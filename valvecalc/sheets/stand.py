"""Three questions of the test stand: does it bear the test, what does a hold test show, what did a test cover."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import bench, paths, trapped
from valvecalc.primitives import using
from valvecalc.sheet import sheet


class Power(NamedTuple):
    """Flow and pressure of the test, motor and tank of the stand; SI."""

    pump_flow: Value
    supply_pressure: Value
    motor_power: Value = None
    oil_volume: Value = None
    warming: Value = 10.0
    overall_efficiency: Value = 0.85


@sheet(
    "Test stand: motor, relief valve and tank",
    results=("drive_power", "motor_share", "heat", "warming_time"),
    judged={"motor_share": ("<=", "motor-share")},
    limits={
        "pump_flow": "> 0 L/min, <= 10000 L/min",
        "supply_pressure": "> 0 bar, <= 1000 bar",
        "motor_power": "> 0 kW, <= 1000 kW",
        "oil_volume": "> 0 L, <= 100000 L",
        "warming": "> 0 K, <= 100 K",
        "overall_efficiency": "> 0, <= 1",
    },
    origins={"warming": ("judgement", ""), "overall_efficiency": ("judgement", "")},
    labels={
        "oil_volume": "oil in the tank",
        "warming": "how much warmer the oil may get during the test",
        "heat": "heat while all of the flow goes over the relief valve",
    },
    chart="supply_pressure",
    example={"pump_flow": "24 L/min", "supply_pressure": "180 bar", "motor_power": "11 kW", "oil_volume": "80 L"},
    cautions=("test-stand", "hot-coil"),
    sources=(("esposito", "examples 8-2 and 3-15"),),
    distrust=(
        "A motor rated for short duty, or a weak supply: its plate says how long it may give its power.",
        "Nothing is taken off for cooling: with a cooler the time is longer.",
    ),
)
def stand_power(stand: Power) -> Value:
    """Does the stand bear this test, and how long before its oil is too warm to compare readings?"""
    drive_power = using(stand, bench.pump_power)
    motor_share = using(stand, bench.motor_share, drive_power=drive_power)
    heat = paths.throttle_heat(flow=stand.pump_flow, pressure_drop=stand.supply_pressure)
    warming_time = using(stand, bench.warming_time, heat=heat)
    return {"drive_power": drive_power, "motor_share": motor_share, "heat": heat, "warming_time": warming_time}


class Hold(NamedTuple):
    """A shut volume, its pressure at the start, how far it fell in which time, and how much the oil cooled; SI."""

    oil_volume: Value
    pressure_drop: Value
    pressure_change_difference: Value
    fall_time: Value
    cooling: Value = None
    bulk_modulus: Value = 1.43e9
    thermal_expansion: Value = 6.5e-4


@sheet(
    "Pressure-hold test: leakage, and whether it shows anything",
    results=("leakage", "half_time", "false_leakage", "false_share"),
    judged={"half_time": (">=", "hold-half-time"), "false_share": ("<=", "hold-false-share")},
    limits={
        "oil_volume": "> 0 mL, <= 1000 L",
        "pressure_drop": "> 0 bar, <= 1000 bar",
        "pressure_change_difference": "> 0 bar, <= 1000 bar",
        "fall_time": "> 0 s, <= 24 h",
        "cooling": ">= 0 K, <= 50 K",
        "bulk_modulus": ">= 0.1 GPa, <= 10 GPa",
        "thermal_expansion": ">= 0 1/K, <= 0.002 1/K",
    },
    origins={"bulk_modulus": ("handbook", "jelali-kroll-2003"), "thermal_expansion": ("handbook", "jelali-kroll-2003")},
    labels={
        "oil_volume": "oil shut in, lines included",
        "pressure_drop": "pressure difference over the leak at the start",
        "pressure_change_difference": "how far the pressure fell",
        "fall_time": "time in which it fell",
        "cooling": "how much the oil cooled in that time, or may have",
        "half_time": "time in which half of the pressure goes past a land",
    },
    chart="fall_time",
    example={
        "oil_volume": "220 mL",
        "pressure_drop": "120 bar",
        "pressure_change_difference": "9 bar",
        "fall_time": "5 min",
        "cooling": "0.1 K",
    },
    cautions=("trapped-volume", "test-stand", "jet"),
    distrust=(
        "Half of the pressure gone within a minute: collect the oil instead. A hold test is for seats and seals.",
        "Volume and stiffness guessed: bleed a measured amount of oil and read the pressure fall.",
        "A fall of more than a third: the leakage is the mean over it; at the start it was larger.",
        "All of the pressure gone: the half is gone sooner than told, for nobody saw when.",
        "A hose or an accumulator in the shut volume: it gives way far more than the oil does.",
        "Pump still on, or a shut-off valve that leaks itself: it feeds or empties the volume.",
    ),
)
def pressure_hold(hold: Hold) -> Value:
    """How much leaks when a shut volume loses pressure, and is the test fit to show it?

    Two things spoil it: a leak so large that the pressure is gone before it can be read, and oil that cools.
    """
    leakage = using(hold, trapped.leakage_from_pressure_fall)
    half_time = (
        using(hold, bench.half_time_from_fall)
        if hold.pressure_change_difference < hold.pressure_drop
        else hold.fall_time
    )
    false_leakage = using(hold, bench.false_leakage)
    false_share = bench.false_share(false_leakage=false_leakage, leakage=leakage)
    return {"leakage": leakage, "half_time": half_time, "false_leakage": false_leakage, "false_share": false_share}


class Cover(NamedTuple):
    """Flow and pressure of a test beside those of the duty; SI."""

    test_drop: Value
    duty_drop: Value
    test_flow: Value = None
    duty_flow: Value = None


@sheet(
    "What a test below the duty has proved",
    results=("lateral_cover", "flow_force_cover"),
    limits={
        "test_drop": ">= 0 bar, <= 1000 bar",
        "duty_drop": "> 0 bar, <= 1000 bar",
        "test_flow": ">= 0 L/min, <= 10000 L/min",
        "duty_flow": "> 0 L/min, <= 10000 L/min",
    },
    chart="test_drop",
    example={"test_drop": "90 bar", "duty_drop": "160 bar", "test_flow": "28 L/min", "duty_flow": "32 L/min"},
    cautions=("test-stand",),
    sources=(("jelali-kroll-2003", "eq. 3.88, p. 50"),),
    distrust=(
        "Ports plugged: no flow, no flow force. Such a test shows shifting under sideways load, and leakage.",
        "Oil thicker or cleaner than the machine's, no hold before the shift: silt and drag are not in these shares.",
        "A valve that shifts at a part of the load: what it has in hand at the whole of it is another question.",
    ),
)
def test_cover(cover: Cover) -> Value:
    """Tested at less pressure or flow than the machine has: what share of each force did the test reach?"""
    lateral_cover = using(cover, bench.lateral_cover)
    flow_force_cover = using(cover, bench.flow_force_cover)
    return {"lateral_cover": lateral_cover, "flow_force_cover": flow_force_cover}
