"""The limit curve from the whole budget, and the flow-force factor from one known limit point."""

from valvecalc.formula import Value
from valvecalc.primitives import fact, grid, sweep, threshold, vary
from valvecalc.sheet import sheet
from valvecalc.sheets.example_valve import EXAMPLE
from valvecalc.sheets.shift import shift_budget
from valvecalc.sheets.valve import CHOICES, LABELS, LIMITS, LISTS, ORIGINS, Valve

_DISTRUST = (
    "One port plugged: the limit of that use is lower and has to be read or tested in that use.",
    "An accumulator on the line: the pressure does not collapse, and the limit is lower.",
)


@sheet(
    "Limit curve: the largest flow that still shifts, against pressure",
    results=("limit_flow", "margin", "limit_rows"),
    rows={
        **LISTS,
        "limit_rows": ("supply_pressure", "limit_flow", "margin"),
    },
    choices=CHOICES,
    limits=LIMITS,
    labels={**LABELS, "margin": "least force in hand at the flow entered"},
    chart="limit_rows",
    example=EXAMPLE,
    origins=ORIGINS,
    cautions=("test-stand",),
    distrust=(*_DISTRUST, "An empty limit with a force in hand: flow alone does not stop it below 2000 L/min."),
)
def limit_curve(valve: Valve) -> Value:
    """How much flow the valve, as it is, still shifts against at each pressure: its own limit curve.

    At each pressure the pump flow is sought at which the least force in hand over the stroke is nothing. No limit
    and no force in hand: it does not shift there at all.
    """
    energised = vary(valve, direction="energise", state="flow")
    limit_flow = threshold(shift_budget, energised, "pump_flow", "margin")
    limit_rows = sweep(
        lambda supply_pressure: {
            "supply_pressure": supply_pressure,
            "limit_flow": threshold(
                shift_budget, vary(energised, supply_pressure=supply_pressure), "pump_flow", "margin"
            ),
            "margin": shift_budget(vary(energised, supply_pressure=supply_pressure))["margin"],
        },
        grid(fact("limit-curve-low"), fact("limit-curve-high"), 5, [valve.supply_pressure]),
    )
    return {"limit_flow": limit_flow, "margin": shift_budget(energised)["margin"], "limit_rows": limit_rows}


@sheet(
    "Flow-force factor from a limit point, whole budget",
    results=("calibrated_factor",),
    rows=LISTS,
    choices=CHOICES,
    limits=LIMITS,
    labels={
        **LABELS,
        "pump_flow": "flow at the limit point",
        "supply_pressure": "supply pressure at the limit point",
        "coil_voltage": "voltage at the coil at the limit point",
        "winding_temperature": "winding temperature at the limit point",
    },
    example=EXAMPLE,
    origins=ORIGINS,
    cautions=("test-stand",),
    distrust=(*_DISTRUST, "The limit of a worn valve: silt and friction of that day stand in the factor."),
)
def limit_point(valve: Valve) -> Value:
    """The flow-force factor of this spool from one point at which it just shifts: flow, pressure, voltage, heat.

    The factor is sought at which the least force in hand over the whole stroke is nothing there. No factor within
    0 to 2: the forces entered do not fit that limit point.
    """
    energised = vary(valve, direction="energise", state="flow")
    calibrated_factor = threshold(shift_budget, energised, "flow_force_factor", "margin")
    return {"calibrated_factor": calibrated_factor}
