"""The heat of the oil: what a tank settles at, and what its temperature tells."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import heat, heat_parts
from valvecalc.primitives import fact, grid, known, most, sweep, using
from valvecalc.sheet import sheet
from valvecalc.sheets.oil import oil_state

_LIMITS = {
    "room_temperature": ">= -40 °C, <= 80 °C",
    "tank_area": "> 0 m², <= 200 m²",
    "heat_transfer": "> 0 W/(m²·K), <= 100 W/(m²·K)",
    "cooler_conductance": ">= 0 W/K, <= 100000 W/K",
}
_ORIGINS = {"heat_transfer": ("handbook", "tank-heat-article"), "cooler_conductance": ("judgement", "")}
_LABELS = {
    "tank_area": "walls wet with oil, and the top; not the bottom",
    "heat_transfer": "12 in an aired room, 6 in a corner, 24 with a fan; other public figures 5.8 to 11.6 and 11.4",
    "cooler_conductance": "heat of an air cooler for each K between oil and room, by its papers; none: 0",
}
_SOURCES = (("tank-heat-article", ""), ("tank-heat-lexicon", ""), ("thermal-chart", ""))
_AIR = "How well the air passes is a guess of a factor of two either way; so is every figure of heat from it."


class Balance(NamedTuple):
    """What goes in, the tank, the cooler, the room, and the temperatures asked for; SI."""

    room_temperature: Value
    tank_area: Value
    pump_flow: Value = None
    supply_pressure: Value = None
    relief_flow: Value = None
    relief_share: Value = 1.0
    other_heat: Value = 0.0
    oil_volume: Value = None
    start_oil_temperature: Value = None
    wanted_oil_temperature: Value = None
    coolant_temperature: Value = None
    running_time: Value = None
    overall_efficiency: Value = 0.85
    heat_transfer: Value = 12.0
    cooler_conductance: Value = 0.0
    density: Value = 870.0
    specific_heat: Value = 1900.0


@sheet(
    "Heat balance of a tank",
    results=(
        "settled_oil_temperature",
        "total_heat",
        "pump_heat",
        "relief_heat",
        "tank_time_constant",
        "oil_temperature",
        "warm_up_time",
        "cooler_heat",
        "wanted_conductance",
        "tank_rows",
    ),
    rows={"tank_rows": ("running_time", "oil_temperature")},
    judged={"settled_oil_temperature": ("<=", "tank-temperature-high")},
    limits={
        **_LIMITS,
        "pump_flow": ">= 0 L/min, <= 10000 L/min",
        "supply_pressure": ">= 0 bar, <= 1000 bar",
        "relief_flow": ">= 0 L/min, <= 10000 L/min",
        "relief_share": ">= 0 %, <= 100 %",
        "other_heat": ">= 0 kW, <= 1000 kW",
        "oil_volume": "> 0 L, <= 100000 L",
        "start_oil_temperature": ">= -40 °C, <= 120 °C",
        "wanted_oil_temperature": ">= -40 °C, <= 120 °C",
        "coolant_temperature": ">= -30 °C, <= 80 °C",
        "running_time": ">= 0 min, <= 10000 min",
        "overall_efficiency": "> 0, <= 1",
        "density": "> 0 kg/m³, <= 2000 kg/m³",
        "specific_heat": "> 0 kJ/(kg·K), <= 10 kJ/(kg·K)",
    },
    origins={
        **_ORIGINS,
        "relief_share": ("judgement", ""),
        "other_heat": ("judgement", ""),
        "overall_efficiency": ("judgement", ""),
        "density": ("common-practice", ""),
        "specific_heat": ("common-practice", ""),
    },
    labels={
        **_LABELS,
        "supply_pressure": "pressure that the pump works against, mean over the time; the relief valve's when it blows",
        "oil_volume": "oil in the tank",
        "oil_temperature": "oil temperature after the running time",
        "start_oil_temperature": "oil temperature at the start; left empty: that of the room",
        "wanted_oil_temperature": "temperature to warm up to, or to be held by a cooler",
    },
    chart="tank_rows",
    example={
        "room_temperature": "24 °C",
        "tank_area": "1.4 m²",
        "pump_flow": "36 L/min",
        "supply_pressure": "60 bar",
        "relief_flow": "36 L/min",
        "relief_share": "5 %",
        "other_heat": "0.2 kW",
        "oil_volume": "120 L",
        "wanted_oil_temperature": "50 °C",
        "coolant_temperature": "24 °C",
        "running_time": "60 min",
    },
    cautions=("hot-oil",),
    sources=(("esposito", "worked examples 11-4 and 11-5, pp. 425 and 426"), *_SOURCES),
    distrust=(
        _AIR,
        "Lines, cylinders and blocks shed heat too, sun and engine add some: a mobile machine is another matter.",
        "A temperature above 80 °C that it settles at only says: it must not come to that.",
        "It takes 10 to 30 % longer than told, for the steel warms with the oil.",
    ),
)
def tank_balance(tank: Balance) -> Value:
    """Where does the oil settle, how soon, and how large a cooler holds it where it is wanted?

    In go the pump's loss, what blows over the relief valve and the rest; out go tank surface and cooler.
    """
    pump_heat = using(tank, heat.pump_loss_heat)
    relief_heat = using(tank, heat_parts.relief_mean_heat)
    all_heat = pump_heat + relief_heat + tank.other_heat
    without_relief = pump_heat + tank.other_heat
    without_pump = relief_heat + tank.other_heat
    total_heat = known(all_heat, without_relief, without_pump, tank.other_heat)
    settled_oil_temperature = using(tank, heat.settled_temperature, total_heat=total_heat)
    tank_time_constant = using(tank, heat.tank_time_constant)
    start_temperature_taken = known(tank.start_oil_temperature, tank.room_temperature)
    oil_temperature = using(
        tank,
        heat.oil_temperature_after,
        start_oil_temperature=start_temperature_taken,
        settled_oil_temperature=settled_oil_temperature,
        tank_time_constant=tank_time_constant,
    )
    is_reached = (
        settled_oil_temperature > tank.wanted_oil_temperature and tank.wanted_oil_temperature > start_temperature_taken
    )
    warm_up_time = (
        using(
            tank,
            heat.time_to_oil_temperature,
            start_oil_temperature=start_temperature_taken,
            settled_oil_temperature=settled_oil_temperature,
            tank_time_constant=tank_time_constant,
        )
        if is_reached
        else None
    )
    cooler_heat = using(tank, heat.heat_for_cooler, total_heat=total_heat)
    wanted_conductance = using(tank, heat.cooler_size, cooler_heat=cooler_heat)
    last_time = tank_time_constant + tank_time_constant + tank_time_constant
    tank_rows = sweep(
        lambda time: {
            "running_time": time,
            "oil_temperature": heat.oil_temperature_after(
                start_oil_temperature=start_temperature_taken,
                settled_oil_temperature=settled_oil_temperature,
                running_time=time,
                tank_time_constant=tank_time_constant,
            ),
        },
        grid(0.0, last_time, 24),
    )
    return {
        "settled_oil_temperature": settled_oil_temperature,
        "total_heat": total_heat,
        "pump_heat": pump_heat,
        "relief_heat": relief_heat,
        "tank_time_constant": tank_time_constant,
        "oil_temperature": oil_temperature,
        "warm_up_time": warm_up_time,
        "cooler_heat": cooler_heat,
        "wanted_conductance": wanted_conductance,
        "tank_rows": tank_rows,
    }


class Read(NamedTuple):
    """A temperature read, the room, and what is known of oil and tank; SI."""

    oil_temperature: Value
    room_temperature: Value = None
    viscosity_40: Value = None
    tank_area: Value = None
    total_heat: Value = None
    heat_transfer: Value = 12.0
    cooler_conductance: Value = 0.0
    viscosity_index: Value = 100.0
    density_15: Value = 875.0
    thermal_expansion: Value = 6.5e-4
    viscosity_100: Value = None


@sheet(
    "Temperature of the oil in the tank",
    results=(
        "tank_temperature",
        "touch_word",
        "kinematic_viscosity",
        "shown_heat",
        "heat_share",
        "settled_oil_temperature",
        "oil_life_share",
    ),
    judged={
        "tank_temperature": ("<=", "tank-temperature-high"),
        "kinematic_viscosity": (">=", "viscosity-working-low"),
        "heat_share": ("<=", "tank-heat-share"),
    },
    limits={
        **_LIMITS,
        "oil_temperature": ">= -40 °C, <= 150 °C",
        "viscosity_40": "> 2 mm²/s, <= 3500 mm²/s",
        "total_heat": "> 0 kW, <= 1000 kW",
        "viscosity_index": ">= 0, <= 400",
        "density_15": ">= 700 kg/m³, <= 1500 kg/m³",
        "thermal_expansion": ">= 0 1/K, <= 0.002 1/K",
        "viscosity_100": "> 2 mm²/s, <= 70 mm²/s",
    },
    origins={
        **_ORIGINS,
        "viscosity_index": ("common-practice", ""),
        "density_15": ("common-practice", ""),
        "thermal_expansion": ("handbook", "jelali-kroll-2003"),
    },
    labels={
        **_LABELS,
        "oil_temperature": "temperature of the oil in the tank, steady for half an hour, read with a thermometer",
        "total_heat": "heat that should go in: pump, relief valve and lines, from the heat balance",
        "settled_oil_temperature": "temperature that this heat should settle at",
        "oil_life_share": "life of the oil against 60 °C, by a rule of thumb without a source: a caution",
    },
    chart="oil_temperature",
    example={
        "oil_temperature": "68 °C",
        "room_temperature": "24 °C",
        "viscosity_40": "46 mm²/s",
        "tank_area": "1.4 m²",
        "total_heat": "0.5 kW",
    },
    cautions=("hot-oil",),
    sources=(*_SOURCES, ("iec-62368-1", "table 42"), ("astm-d341", "")),
    distrust=(
        "A temperature that still climbs: heat goes into oil and steel, and the tank sheds less than comes in.",
        "A hand is no thermometer: from 48 °C on a longer touch burns it.",
        "Where it is hottest is at the relief valve or the leak, not at the gauge of the tank.",
        _AIR,
    ),
)
def tank_reading(read: Read) -> Value:
    """Is the tank too hot, is its oil too thin now, and does the heat fit what should go in?"""
    tank_temperature = read.oil_temperature
    touch_rows = [row for row in fact("touch-limits") if row["metal_limit"] < read.oil_temperature]
    touch_word = (
        most(touch_rows, "metal_limit")["touch_word"]
        if read.oil_temperature > fact("touch-least")
        else "below the limits for a touch of minutes"
    )
    oil_now = oil_state(read)
    shown_heat = using(read, heat_parts.shown_heat)
    heat_share = using(read, heat_parts.heat_share, shown_heat=shown_heat)
    settled_oil_temperature = using(read, heat.settled_temperature)
    oil_life_share = using(read, heat.oil_life)
    return {
        "tank_temperature": tank_temperature,
        "touch_word": touch_word,
        "kinematic_viscosity": oil_now["kinematic_viscosity"],
        "shown_heat": shown_heat,
        "heat_share": heat_share,
        "settled_oil_temperature": settled_oil_temperature,
        "oil_life_share": oil_life_share,
    }
