"""Products and ratios of heat that nobody would look up: parts of the sheets about tank and valve."""

from valvecalc.formula import Value, formula

_POWER = ">= 0 kW, <= 10000 kW"
_TEMPERATURE = ">= -60 °C, <= 200 °C"
_ROOM = ">= -60 °C, <= 100 °C"
_BALANCE = {
    "tank_area": "> 0 m², <= 1000 m²",
    "heat_transfer": "> 0 W/(m²·K), <= 100 W/(m²·K)",
    "cooler_conductance": ">= 0 W/K, <= 100000 W/K",
}
_SHED = {"heat_transfer": ("handbook", "tank-heat-article"), "cooler_conductance": ("judgement", "")}


@formula(
    "Heat of a relief valve, mean over the time",
    result="relief_heat",
    limits={
        "relief_flow": ">= 0 L/min, <= 10000 L/min",
        "supply_pressure": ">= 0 bar, <= 1000 bar",
        "relief_share": ">= 0 %, <= 100 %",
    },
    part=True,
)
def relief_mean_heat(*, relief_flow: Value, supply_pressure: Value, relief_share: Value) -> Value:
    """Flow times pressure, for the share of the time."""
    return relief_flow * supply_pressure * relief_share


@formula(
    "Heat shown over heat worked out",
    result="heat_share",
    limits={"shown_heat": ">= -1000 kW, <= 10000 kW", "total_heat": "> 0 kW, <= 10000 kW"},
    part=True,
)
def heat_share(*, shown_heat: Value, total_heat: Value) -> Value:
    """How much of the heat that is worked out the temperature speaks for."""
    return shown_heat / total_heat


@formula(
    "Mean over the time",
    result="mean_heat",
    limits={
        "in_heat": ">= 0 W, <= 10000 kW",
        "out_heat": ">= 0 W, <= 10000 kW",
        "flow_share": ">= 0 %, <= 100 %",
        "leak_heat": ">= 0 W, <= 10000 kW",
    },
    part=True,
)
def valve_mean_heat(*, in_heat: Value, out_heat: Value, flow_share: Value, leak_heat: Value) -> Value:
    """Both paths for the share of the time, the leakage always."""
    return (in_heat + out_heat) * flow_share + leak_heat


@formula(
    "Heat that the temperature of a tank speaks for",
    result="shown_heat",
    limits={
        "oil_temperature": _TEMPERATURE,
        "room_temperature": _ROOM,
        **_BALANCE,
    },
    origins=_SHED,
    part=True,
)
def shown_heat(
    *,
    oil_temperature: Value,
    room_temperature: Value,
    tank_area: Value,
    heat_transfer: Value = 12.0,
    cooler_conductance: Value = 0.0,
) -> Value:
    """What tank and cooler shed at this temperature, and so what goes in once it stands still."""
    return (heat_transfer * tank_area + cooler_conductance) * (oil_temperature - room_temperature)
