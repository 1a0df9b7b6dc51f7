"""For each single cause the value that alone would stop the valve; or alone would make it shift."""

from valvecalc.formula import Value
from valvecalc.primitives import fact, threshold, vary
from valvecalc.sheet import sheet
from valvecalc.sheets.example_valve import EXAMPLE
from valvecalc.sheets.shift import shift_budget
from valvecalc.sheets.valve import CHOICES, LABELS, LIMITS, LISTS, ORIGINS, Valve


@sheet(
    "The value of each cause that alone would turn the verdict",
    results=("single_causes",),
    rows={**LISTS, "single_causes": ("cause", "threshold")},
    choices=CHOICES,
    limits=LIMITS,
    labels=LABELS,
    origins=ORIGINS,
    part=True,
)
def each_cause(valve: Valve) -> Value:
    """Solves the budget for one entry after another; an entry without a value in its limits stays empty."""
    single_causes = (
        [
            {"cause": "coil_voltage", "threshold": threshold(shift_budget, valve, "coil_voltage", "margin")},
            {"cause": "resistance_20", "threshold": threshold(shift_budget, valve, "resistance_20", "margin")},
            {
                "cause": "winding_temperature",
                "threshold": threshold(shift_budget, valve, "winding_temperature", "margin"),
            },
            {"cause": "pump_flow", "threshold": threshold(shift_budget, valve, "pump_flow", "margin")},
            {"cause": "supply_pressure", "threshold": threshold(shift_budget, valve, "supply_pressure", "margin")},
            {"cause": "tank_pressure", "threshold": threshold(shift_budget, valve, "tank_pressure", "margin")},
            {"cause": "flow_force_factor", "threshold": threshold(shift_budget, valve, "flow_force_factor", "margin")},
            {"cause": "spring_preload", "threshold": threshold(shift_budget, valve, "spring_preload", "margin")},
            {"cause": "spring_rate", "threshold": threshold(shift_budget, valve, "spring_rate", "margin")},
            {"cause": "dry_friction", "threshold": threshold(shift_budget, valve, "dry_friction", "margin")},
            {"cause": "silt_at_start", "threshold": threshold(shift_budget, valve, "silt_at_start", "margin")},
            {"cause": "added_taper", "threshold": threshold(shift_budget, valve, "added_taper", "margin")},
        ]
        if valve.direction == "energise"
        else [
            {"cause": "spring_preload", "threshold": threshold(shift_budget, valve, "spring_preload", "margin")},
            {"cause": "spring_rate", "threshold": threshold(shift_budget, valve, "spring_rate", "margin")},
            {"cause": "dry_friction", "threshold": threshold(shift_budget, valve, "dry_friction", "margin")},
            {"cause": "silt_at_start", "threshold": threshold(shift_budget, valve, "silt_at_start", "margin")},
            {"cause": "added_taper", "threshold": threshold(shift_budget, valve, "added_taper", "margin")},
            {"cause": "residual_at_end", "threshold": threshold(shift_budget, valve, "residual_at_end", "margin")},
        ]
    )
    return {"single_causes": single_causes}


@sheet(
    "Single causes: the value that alone would stop the valve",
    results=("pickup_hot", "pickup_cold", "single_causes"),
    rows={
        **LISTS,
        "single_causes": ("cause", "threshold"),
    },
    choices=CHOICES,
    limits=LIMITS,
    labels=LABELS,
    example=EXAMPLE,
    origins=ORIGINS,
    cautions=("test-stand",),
    distrust=("One quantity moves at a time; two faults together stop a valve earlier than either alone.",),
)
def single_causes(valve: Valve) -> Value:
    """Tells each cause alone, and the volts at which it picks up.

    Pick-up voltage: the voltage at the coil at which the least margin is zero, with the winding as it
    is and with a winding of 20 °C.
    """
    energised = vary(valve, direction="energise")
    pickup_hot = threshold(shift_budget, energised, "coil_voltage", "margin")
    pickup_cold = threshold(
        shift_budget, vary(energised, winding_temperature=fact("reference-temperature")), "coil_voltage", "margin"
    )
    return {
        "pickup_hot": pickup_hot,
        "pickup_cold": pickup_cold,
        "single_causes": each_cause(valve)["single_causes"],
    }
