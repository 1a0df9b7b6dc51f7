"""Heat of the oil: what goes in, what tank and cooler take, where the temperature settles and how soon."""

from valvecalc.formula import Value, formula
from valvecalc.maths import exp, log, power

_POWER = ">= 0 kW, <= 10000 kW"
_TEMPERATURE = ">= -60 °C, <= 200 °C"
_ROOM = ">= -60 °C, <= 100 °C"
_AREA = "> 0 m², <= 1000 m²"
_TRANSFER = "> 0 W/(m²·K), <= 100 W/(m²·K)"
_COOLER = ">= 0 W/K, <= 100000 W/K"
_TAU = "> 0 min, <= 100000 min"
_SHED = {"heat_transfer": ("handbook", "tank-heat-article"), "cooler_conductance": ("judgement", "")}
_AIR = (
    "How well air passes is a guess: public figures run from 6 W/(m²·K) in a corner to 24 with a fan; 12 is taken.",
    "Paint of silver, dust, a wall close by, sun: each moves it by a third.",
)


@formula(
    "Heat that a pump makes",
    result="pump_heat",
    sources=(("esposito", "worked example 11-4, p. 425"),),
    limits={
        "pump_flow": ">= 0 L/min, <= 10000 L/min",
        "supply_pressure": ">= 0 bar, <= 1000 bar",
        "overall_efficiency": "> 0, <= 1",
    },
    origins={"overall_efficiency": ("judgement", "")},
    labels={"supply_pressure": "pressure that the pump works against, mean over the time"},
    chart="overall_efficiency",
    example={"pump_flow": "36 L/min", "supply_pressure": "120 bar", "overall_efficiency": "0.82"},
    cautions=("hot-oil",),
    distrust=(
        "A worn pump: its loss shows as less flow and more heat; measure the case drain.",
        "Part of the loss leaves through the pump's own case and never reaches the tank.",
    ),
)
def pump_loss_heat(*, pump_flow: Value, supply_pressure: Value, overall_efficiency: Value = 0.85) -> Value:
    """What the pump takes from its motor and does not bring into the pressure: it warms the oil."""
    return pump_flow * supply_pressure * (1 / overall_efficiency - 1)


@formula(
    "Surface of a tank that cools",
    result="tank_area",
    limits=dict.fromkeys(("tank_length", "tank_width", "tank_height"), "> 0 m, <= 20 m"),
    example={"tank_length": "0.8 m", "tank_width": "0.5 m", "tank_height": "0.4 m"},
    distrust=(
        "A bottom close to the floor, a side against a wall and a top with motor and plate cool little: take them off.",
    ),
)
def tank_surface(*, tank_length: Value, tank_width: Value, tank_height: Value) -> Value:
    """Four walls as high as the oil wets them, and the top; the bottom is not counted."""
    return 2 * (tank_length + tank_width) * tank_height + tank_length * tank_width


@formula(
    "Heat that a tank sheds",
    result="tank_heat",
    sources=(("tank-heat-article", ""), ("tank-heat-lexicon", ""), ("thermal-chart", "")),
    limits={
        "oil_temperature": _TEMPERATURE,
        "room_temperature": _ROOM,
        "tank_area": _AREA,
        "heat_transfer": _TRANSFER,
    },
    origins={"heat_transfer": ("handbook", "tank-heat-article")},
    chart="oil_temperature",
    example={"oil_temperature": "58 °C", "room_temperature": "24 °C", "tank_area": "1.4 m²"},
    cautions=("hot-oil",),
    distrust=_AIR,
)
def tank_heat(
    *, oil_temperature: Value, room_temperature: Value, tank_area: Value, heat_transfer: Value = 12.0
) -> Value:
    """How much heat the bare tank gets rid of: little, a square metre at 25 K no more than a third of a kilowatt.

    Turned round it tells from a steady temperature how much heat goes in.
    """
    return heat_transfer * tank_area * (oil_temperature - room_temperature)


_BALANCE = {
    "tank_area": _AREA,
    "heat_transfer": _TRANSFER,
    "cooler_conductance": _COOLER,
}


@formula(
    "Temperature at which the oil settles",
    result="settled_oil_temperature",
    limits={"total_heat": _POWER, "room_temperature": _ROOM, **_BALANCE},
    origins=_SHED,
    chart="total_heat",
    example={"total_heat": "1.1 kW", "room_temperature": "24 °C", "tank_area": "1.4 m²"},
    cautions=("hot-oil",),
    distrust=(
        *_AIR,
        "A figure above 80 °C is no temperature to run at: seals and oil are finished before it settles.",
        "The cooler counts from the air of the room; water or air of another temperature: enter what it gives.",
    ),
)
def settled_temperature(
    *,
    total_heat: Value,
    room_temperature: Value,
    tank_area: Value,
    heat_transfer: Value = 12.0,
    cooler_conductance: Value = 0.0,
) -> Value:
    """Where does the temperature of the tank end? Where tank and cooler shed as much as comes in."""
    return room_temperature + total_heat / (heat_transfer * tank_area + cooler_conductance)


@formula(
    "Time constant of a tank",
    result="tank_time_constant",
    limits={
        "oil_volume": "> 0 L, <= 100000 L",
        **_BALANCE,
        "density": "> 0 kg/m³, <= 2000 kg/m³",
        "specific_heat": "> 0 kJ/(kg·K), <= 10 kJ/(kg·K)",
    },
    origins={**_SHED, "density": ("common-practice", ""), "specific_heat": ("common-practice", "")},
    labels={"oil_volume": "oil in the tank"},
    chart="oil_volume",
    example={"oil_volume": "120 L", "tank_area": "1.4 m²"},
    cautions=("hot-oil",),
    distrust=("Steel of the tank, lines and cylinders warms too: in truth it takes 10 to 30 % longer.",),
)
def tank_time_constant(
    *,
    oil_volume: Value,
    tank_area: Value,
    heat_transfer: Value = 12.0,
    cooler_conductance: Value = 0.0,
    density: Value = 870.0,
    specific_heat: Value = 1900.0,
) -> Value:
    """How slow the tank is: after this time it has gone 63 % of the way, after three times 95 %."""
    return oil_volume * density * specific_heat / (heat_transfer * tank_area + cooler_conductance)


_WAY = {"start_oil_temperature": _TEMPERATURE, "settled_oil_temperature": ">= -60 °C, <= 2000 °C"}


@formula(
    "Oil temperature after a time",
    result="oil_temperature",
    sources=(("machine-heating", "example 4.17, p. 4.24"),),
    limits={**_WAY, "running_time": ">= 0 min, <= 100000 min", "tank_time_constant": _TAU},
    chart="running_time",
    example={
        "start_oil_temperature": "18 °C",
        "settled_oil_temperature": "82 °C",
        "running_time": "45 min",
        "tank_time_constant": "200 min",
    },
    cautions=("hot-oil",),
    distrust=(
        "Oil that lies still in a corner of the tank stays cold; the oil that runs is warmer than this at first.",
        "The law is that of any warm body; the case it is checked with is one of a machine's winding.",
    ),
)
def oil_temperature_after(
    *,
    start_oil_temperature: Value,
    settled_oil_temperature: Value,
    running_time: Value,
    tank_time_constant: Value,
) -> Value:
    """How warm is the tank after an hour? From a cold start up, or from hot down, along one curve."""
    return settled_oil_temperature + (start_oil_temperature - settled_oil_temperature) * exp(
        -running_time / tank_time_constant
    )


@formula(
    "Time until the oil has a temperature",
    result="running_time",
    sources=(("machine-heating", "example 4.17, p. 4.24"),),
    limits={**_WAY, "wanted_oil_temperature": _TEMPERATURE, "tank_time_constant": _TAU},
    example={
        "start_oil_temperature": "5 °C",
        "settled_oil_temperature": "82 °C",
        "wanted_oil_temperature": "30 °C",
        "tank_time_constant": "200 min",
    },
    cautions=("hot-oil",),
    distrust=(
        "A temperature beyond where it settles is never reached: no value.",
        "Warming over the relief valve: stay below its setting for long, and never with cold thick oil at full speed.",
    ),
)
def time_to_oil_temperature(
    *,
    start_oil_temperature: Value,
    settled_oil_temperature: Value,
    wanted_oil_temperature: Value,
    tank_time_constant: Value,
) -> Value:
    """How long to warm up before readings count, or how long until it is too hot."""
    return tank_time_constant * log(
        (settled_oil_temperature - start_oil_temperature) / (settled_oil_temperature - wanted_oil_temperature)
    )


@formula(
    "Heat left for a cooler",
    result="cooler_heat",
    limits={
        "total_heat": _POWER,
        "wanted_oil_temperature": _TEMPERATURE,
        "room_temperature": _ROOM,
        "tank_area": _AREA,
        "heat_transfer": _TRANSFER,
    },
    origins={"heat_transfer": ("handbook", "tank-heat-article")},
    chart="wanted_oil_temperature",
    example={
        "total_heat": "2.6 kW",
        "wanted_oil_temperature": "50 °C",
        "room_temperature": "24 °C",
        "tank_area": "1.4 m²",
    },
    cautions=("hot-oil",),
    distrust=("Minus says that the tank alone holds it there.", *_AIR),
)
def heat_for_cooler(
    *,
    total_heat: Value,
    wanted_oil_temperature: Value,
    room_temperature: Value,
    tank_area: Value,
    heat_transfer: Value = 12.0,
) -> Value:
    """What a cooler has to take so that the oil stays at a temperature: heat in less what the tank sheds there."""
    return total_heat - heat_transfer * tank_area * (wanted_oil_temperature - room_temperature)


@formula(
    "Size of a cooler",
    result="wanted_conductance",
    limits={
        "cooler_heat": _POWER,
        "wanted_oil_temperature": _TEMPERATURE,
        "coolant_temperature": ">= -30 °C, <= 100 °C",
    },
    example={"cooler_heat": "2.2 kW", "wanted_oil_temperature": "50 °C", "coolant_temperature": "24 °C"},
    cautions=("hot-oil",),
    distrust=(
        "Papers of coolers state it at a given oil flow: with less flow, or thick oil, it is less.",
        "Fins full of dust and scale in the tubes: a third more than needed is no luxury.",
    ),
)
def cooler_size(*, cooler_heat: Value, wanted_oil_temperature: Value, coolant_temperature: Value) -> Value:
    """Heat for each K between oil and coolant: the figure that coolers are compared by, whatever the season."""
    return cooler_heat / (wanted_oil_temperature - coolant_temperature)


@formula(
    "Life of the oil at a temperature",
    result="oil_life_share",
    limits={
        "oil_temperature": _TEMPERATURE,
        "compared_temperature": _TEMPERATURE,
        "halving_difference": ">= 6 K, <= 15 K",
    },
    origins={"compared_temperature": ("common-practice", ""), "halving_difference": ("common-practice", "")},
    labels={"halving_difference": "how many K more make the life half: 10 by common practice, without a source"},
    chart="oil_temperature",
    example={"oil_temperature": "72 °C"},
    cautions=("hot-oil",),
    distrust=(
        "Half the life for every 10 K is common practice; no source for it was found. It is a caution, not a plan.",
        "Below 60 °C water, dirt and air end the oil first; a hot spot ends it long before the tank shows it.",
        "When to change it says a sample, not this figure.",
    ),
)
def oil_life(
    *, oil_temperature: Value, compared_temperature: Value = 333.15, halving_difference: Value = 10.0
) -> Value:
    """What heat costs the oil, against its life at 60 °C: a caution by a rule of thumb, no figure to plan with."""
    return power(2.0, (compared_temperature - oil_temperature) / halving_difference)
