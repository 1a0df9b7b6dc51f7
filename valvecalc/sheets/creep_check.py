"""The pump stands under pressure, the valve in centre, and the rod creeps out: how fast, how hard?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import buckling, budget, cylinder, drift, gaps
from valvecalc.primitives import using
from valvecalc.sheet import sheet


class Creep(NamedTuple):
    """The cylinder, the pressure that stands, and the leakage of the valve as collected on the bench; SI."""

    bore_diameter: Value
    rod_diameter: Value
    supply_pressure: Value
    leakage: Value = None
    pressure_drop: Value = None
    load_force: Value = 0.0
    tank_pressure: Value = 0.0
    lands_in_series: Value = 2.0
    parallel_paths: Value = 2.0


@sheet(
    "Creep check: a rod that moves out under standing pressure",
    results=("stall_force", "creep_speed", "worst_stall_force", "shut_pressure", "land_leakage", "land_drop"),
    limits={
        "bore_diameter": "> 4 mm, <= 1000 mm",
        "rod_diameter": "> 0 mm, < 1000 mm",
        "supply_pressure": "> 0 bar, <= 1000 bar",
        "tank_pressure": ">= 0 bar, <= 1000 bar",
        "leakage": ">= 0 mL/min, <= 100 L/min",
        "pressure_drop": "> 0 bar, <= 1000 bar",
        "load_force": ">= -10000000 N, <= 10000000 N",
        "lands_in_series": ">= 1, <= 10",
        "parallel_paths": ">= 1, <= 10",
    },
    origins={
        "load_force": ("judgement", ""),
        "tank_pressure": ("judgement", ""),
        "lands_in_series": ("judgement", ""),
        "parallel_paths": ("judgement", ""),
    },
    labels={
        "supply_pressure": "pressure that stands at port P while the spool is in centre",
        "leakage": "oil collected at T on the bench, spool in centre, A and B plugged",
        "pressure_drop": "pressure difference from P to T in that test",
        "load_force": "load that pushes the rod in; minus where it pulls the rod out",
    },
    chart="supply_pressure",
    example={
        "bore_diameter": "63 mm",
        "rod_diameter": "36 mm",
        "supply_pressure": "160 bar",
        "leakage": "36 mL/min",
        "pressure_drop": "160 bar",
    },
    cautions=("creep", "falling-load", "stored-pressure"),
    distrust=(
        "Lands worn unlike: take the force of the worst case for every guard and stop.",
        "Oil thinner on the machine than on the bench: it creeps faster, with the same force.",
        "A centre that lets A, B and T together, or check valves behind the valve: another circuit than this.",
    ),
)
def creep_check(cylinder_held: Creep) -> Value:
    """Force and speed of a rod that creeps out because a closed centre is not tight, and what the worst wear gives.

    The force comes from the pump's pressure and the rod's area alone: a tight valve only makes it slower. Where one
    land is worn, P to the piston side, and the other lets the rod side drain, it is the full push.
    """
    piston_area = using(cylinder_held, cylinder.piston_area)
    land_drop = using(cylinder_held, gaps.series_land_drop)
    land_leakage = using(cylinder_held, budget.path_leakage_of)
    stall_force = using(cylinder_held, drift.creep_stall_force)
    creep_speed = using(cylinder_held, drift.creep_out_speed, land_leakage=land_leakage, pressure_drop=land_drop)
    worst_stall_force = buckling.push_of_pressure(
        cap_side_pressure=cylinder_held.supply_pressure, piston_area=piston_area
    )
    shut_pressure = using(cylinder_held, drift.middle_pressure)
    return {
        "stall_force": stall_force,
        "creep_speed": creep_speed,
        "worst_stall_force": worst_stall_force,
        "shut_pressure": shut_pressure,
        "land_leakage": land_leakage,
        "land_drop": land_drop,
    }
