"""What does a path lose at another flow, where its data give one point only?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import paths
from valvecalc.primitives import fact, using
from valvecalc.sheet import sheet


class Point(NamedTuple):
    """The known point, the flow asked for, and how the oil differs from the oil of the point; SI."""

    rated_flow: Value
    rated_drop: Value
    flow: Value
    laminar_share: Value = 0.1
    viscosity: Value = 0.04
    reference_viscosity: Value = 0.04
    density: Value = 870.0
    reference_density: Value = 870.0


@sheet(
    "Pressure loss from one known point",
    results=("pressure_drop", "lowest_drop", "highest_drop", "flow_ratio", "heat"),
    limits={
        "rated_flow": "> 0 L/min, <= 10000 L/min",
        "rated_drop": "> 0 bar, <= 1000 bar",
        "flow": ">= 0 L/min, <= 10000 L/min",
        "laminar_share": ">= 0, <= 1",
        "viscosity": "> 0.5 mPa·s, <= 100000 mPa·s",
        "reference_viscosity": "> 0.5 mPa·s, <= 100000 mPa·s",
        "density": ">= 700 kg/m³, <= 1500 kg/m³",
        "reference_density": ">= 700 kg/m³, <= 1500 kg/m³",
    },
    trusted={"laminar_share": (">= 0, <= 0.25", "Paths of spool valves have a laminar share of 0 to 25 %.")},
    origins={
        "laminar_share": ("judgement", ""),
        "viscosity": ("judgement", ""),
        "reference_viscosity": ("judgement", ""),
        "density": ("judgement", ""),
        "reference_density": ("judgement", ""),
    },
    labels={
        "flow": "flow asked for",
        "reference_viscosity": "dynamic viscosity of the oil that the loss was taken with",
    },
    chart="flow",
    example={"rated_flow": "40 L/min", "rated_drop": "4.2 bar", "flow": "44 L/min", "viscosity": "95 mPa·s"},
    cautions=("test-stand",),
    distrust=(
        "Less than 0.6 or more than 1.1 times the known flow; even between them 20 % either way is left.",
        "Cold oil: the share that goes with viscosity is assumed, and then it decides. Take more points.",
    ),
)
def rated_point(point: Point) -> Value:
    """Loss at another flow and oil from one point: ten percent of it are taken to go with viscosity.

    The lowest and the highest figure say what that share alone can do: none of the loss, or a quarter of it.
    """
    pressure_drop = using(point, paths.one_point_drop)
    lowest_drop = using(point, paths.one_point_drop, laminar_share=fact("least-laminar-share"))
    highest_drop = using(point, paths.one_point_drop, laminar_share=fact("largest-laminar-share"))
    flow_ratio = using(point, paths.share_of_flow)
    heat = using(point, paths.throttle_heat, pressure_drop=pressure_drop)
    return {
        "pressure_drop": pressure_drop,
        "lowest_drop": lowest_drop,
        "highest_drop": highest_drop,
        "flow_ratio": flow_ratio,
        "heat": heat,
    }
