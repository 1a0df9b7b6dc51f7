"""What one valve adds to the heat of the oil: flow times loss on each path, and what leaks past its spool."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import heat_parts, paths
from valvecalc.primitives import using
from valvecalc.sheet import sheet


class Valve(NamedTuple):
    """Flow and loss of each path, the share of the time, the leakage past the spool; SI."""

    in_flow: Value
    in_drop: Value
    out_flow: Value
    out_drop: Value
    flow_share: Value = 1.0
    leakage: Value = 0.0
    supply_pressure: Value = 0.0
    density: Value = 870.0
    specific_heat: Value = 1900.0


@sheet(
    "Heat of one valve",
    results=("mean_heat", "in_heat", "out_heat", "leak_heat", "temperature_rise"),
    limits={
        "in_flow": ">= 0 L/min, <= 10000 L/min",
        "in_drop": ">= 0 bar, <= 1000 bar",
        "out_flow": ">= 0 L/min, <= 10000 L/min",
        "out_drop": ">= 0 bar, <= 1000 bar",
        "flow_share": ">= 0 %, <= 100 %",
        "leakage": ">= 0 mL/min, <= 100 L/min",
        "supply_pressure": ">= 0 bar, <= 1000 bar",
        "density": "> 0 kg/m³, <= 2000 kg/m³",
        "specific_heat": "> 0 kJ/(kg·K), <= 10 kJ/(kg·K)",
    },
    origins={
        "flow_share": ("judgement", ""),
        "leakage": ("judgement", ""),
        "supply_pressure": ("judgement", ""),
        "density": ("common-practice", ""),
        "specific_heat": ("common-practice", ""),
    },
    labels={
        "leakage": "oil that slips past the spool from P to T, always",
        "supply_pressure": "pressure that this leakage loses",
        "temperature_rise": "how much warmer the oil leaves the inlet path than it came",
    },
    chart="in_flow",
    example={
        "in_flow": "36 L/min",
        "in_drop": "5.5 bar",
        "out_flow": "54 L/min",
        "out_drop": "8 bar",
        "flow_share": "60 %",
        "leakage": "180 mL/min",
        "supply_pressure": "140 bar",
    },
    cautions=("hot-oil", "hot-coil"),
    sources=(("esposito", "worked examples 8-2 and 11-2, pp. 299 and 424"),),
    distrust=(
        "The coil adds its 30 W to the body; most of it goes into the air.",
        "A valve that throttles a load going down turns the load's own work into heat as well.",
    ),
)
def valve_heat(valve: Valve) -> Value:
    """How much heat does this valve make: flow times loss on each path, and what leaks through it all day?"""
    in_heat = paths.throttle_heat(flow=valve.in_flow, pressure_drop=valve.in_drop)
    out_heat = paths.throttle_heat(flow=valve.out_flow, pressure_drop=valve.out_drop)
    leak_heat = paths.throttle_heat(flow=valve.leakage, pressure_drop=valve.supply_pressure)
    mean_heat = using(valve, heat_parts.valve_mean_heat, in_heat=in_heat, out_heat=out_heat, leak_heat=leak_heat)
    temperature_rise = using(valve, paths.pass_temperature_rise, pressure_drop=valve.in_drop)
    return {
        "mean_heat": mean_heat,
        "in_heat": in_heat,
        "out_heat": out_heat,
        "leak_heat": leak_heat,
        "temperature_rise": temperature_rise,
    }
