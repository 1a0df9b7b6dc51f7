"""What is in hand, from pick-up readings on the bench: the volts at which the spool just shifts, state by state."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, solenoid
from valvecalc.primitives import known, least
from valvecalc.sheet import sheet


class PickUp(NamedTuple):
    """Volts and ohms at pick-up in each state, the hot coil and the lowest voltage; push forces; SI.

    no_pressure: just cycled, no pressure. blocked: test pressure, ports plugged, just cycled.
    dwell: the same after a hold. flow: with flow, just cycled. duty: with flow after a hold.
    """

    hot_resistance: Value
    minimum_voltage: Value
    no_pressure_voltage: Value = None
    no_pressure_resistance: Value = None
    blocked_voltage: Value = None
    blocked_resistance: Value = None
    dwell_voltage: Value = None
    dwell_resistance: Value = None
    flow_voltage: Value = None
    flow_resistance: Value = None
    duty_voltage: Value = None
    duty_resistance: Value = None
    no_pressure_push: Value = None
    blocked_push: Value = None
    dwell_push: Value = None


_VOLTS = "> 0 V, <= 400 V"
_OHMS = "> 0 Ω, <= 100 kΩ"
_PUSH = ">= 0 N, <= 5000 N"


@sheet(
    "Bench margin from pick-up readings",
    results=(
        "margin_share",
        "weakest_state",
        "proved_share",
        "share_no_pressure",
        "share_blocked",
        "share_dwell",
        "share_flow",
        "share_duty",
        "used_spring_and_dry",
        "added_lateral",
        "added_silt",
        "added_flow",
        "push_added_lateral",
        "push_added_silt",
        "offered_force",
        "margin_force",
        "states",
    ),
    rows={"states": ("tested_state", "margin_share")},
    judged={"proved_share": (">=", "margin-sign-off")},
    limits={
        "hot_resistance": _OHMS,
        "minimum_voltage": _VOLTS,
        **{f"{state}_voltage": _VOLTS for state in ("no_pressure", "blocked", "dwell", "flow", "duty")},
        **{f"{state}_resistance": _OHMS for state in ("no_pressure", "blocked", "dwell", "flow", "duty")},
        **{f"{state}_push": _PUSH for state in ("no_pressure", "blocked", "dwell")},
    },
    labels={"hot_resistance": "winding resistance at the steady hot state of the duty"},
    chart="minimum_voltage",
    example={
        "hot_resistance": "118 Ω",
        "minimum_voltage": "43.2 V",
        "no_pressure_voltage": "21.4 V",
        "no_pressure_resistance": "92.8 Ω",
        "blocked_voltage": "24.6 V",
        "blocked_resistance": "93.7 Ω",
        "dwell_voltage": "29.9 V",
        "dwell_resistance": "94.1 Ω",
        "flow_voltage": "27.0 V",
        "flow_resistance": "95.6 Ω",
        "no_pressure_push": "24 N",
    },
    cautions=("test-stand", "live-circuit", "hot-coil", "falling-load"),
    distrust=(
        "Full stroke: a spool may pick up and stop half way; watch the current dip or the cylinder.",
        "AC coils draw inrush current below pick-up and burn: only go or no-go, one to two seconds on, then cool.",
        "Above the current at which the iron fills up the share is too good.",
        "Other pressure, flow, hold or oil than in the reading: a share found without flow says nothing about flow.",
        "After a hold every trial needs a new hold: the first stroke destroys the state.",
    ),
)
def bench_margin(bench: PickUp) -> Value:
    """Margin share 1 - (V_pu/R_pu)²·(R_hot/V_min)² in every state read, and what each state adds.

    The share used without pressure is spring and dry friction; what the blocked state adds is
    lateral force and tank pressure; what the hold adds is silt; what flow adds is flow force.
    Newtons follow only where one push at the override was measured without pressure.
    """
    share_no_pressure = solenoid.pickup_share(
        pickup_voltage=bench.no_pressure_voltage,
        pickup_resistance=bench.no_pressure_resistance,
        hot_resistance=bench.hot_resistance,
        minimum_voltage=bench.minimum_voltage,
    )
    share_blocked = solenoid.pickup_share(
        pickup_voltage=bench.blocked_voltage,
        pickup_resistance=bench.blocked_resistance,
        hot_resistance=bench.hot_resistance,
        minimum_voltage=bench.minimum_voltage,
    )
    share_dwell = solenoid.pickup_share(
        pickup_voltage=bench.dwell_voltage,
        pickup_resistance=bench.dwell_resistance,
        hot_resistance=bench.hot_resistance,
        minimum_voltage=bench.minimum_voltage,
    )
    share_flow = solenoid.pickup_share(
        pickup_voltage=bench.flow_voltage,
        pickup_resistance=bench.flow_resistance,
        hot_resistance=bench.hot_resistance,
        minimum_voltage=bench.minimum_voltage,
    )
    share_duty = solenoid.pickup_share(
        pickup_voltage=bench.duty_voltage,
        pickup_resistance=bench.duty_resistance,
        hot_resistance=bench.hot_resistance,
        minimum_voltage=bench.minimum_voltage,
    )
    states = [
        {"tested_state": "no pressure", "margin_share": known(share_no_pressure, None)},
        {"tested_state": "blocked", "margin_share": known(share_blocked, None)},
        {"tested_state": "after dwell", "margin_share": known(share_dwell, None)},
        {"tested_state": "flow", "margin_share": known(share_flow, None)},
        {"tested_state": "flow after dwell", "margin_share": known(share_duty, None)},
    ]
    weakest = least(states, "margin_share")
    margin_share = weakest["margin_share"]
    # a share counts for the duty only if flow and a hold were both met, together or one after the other
    proved_share = known(
        least([{"margin_share": share_duty}, {"margin_share": margin_share}], "margin_share")["margin_share"],
        least(
            [{"margin_share": share_dwell}, {"margin_share": share_flow}, {"margin_share": margin_share}],
            "margin_share",
        )["margin_share"],
    )
    used_spring_and_dry = 1.0 - share_no_pressure
    added_lateral = share_no_pressure - share_blocked
    added_silt = share_blocked - share_dwell
    added_flow = share_blocked - share_flow
    push_added_lateral = bench.blocked_push - bench.no_pressure_push
    push_added_silt = bench.dwell_push - bench.blocked_push
    offered_force = budget.offered_from_push(push_force_start=bench.no_pressure_push, used_share=used_spring_and_dry)
    margin_force = budget.force_of_share(offered_force=offered_force, share=margin_share)
    return {
        "margin_share": margin_share,
        "weakest_state": weakest["tested_state"],
        "proved_share": proved_share,
        "share_no_pressure": share_no_pressure,
        "share_blocked": share_blocked,
        "share_dwell": share_dwell,
        "share_flow": share_flow,
        "share_duty": share_duty,
        "used_spring_and_dry": used_spring_and_dry,
        "added_lateral": added_lateral,
        "added_silt": added_silt,
        "added_flow": added_flow,
        "push_added_lateral": push_added_lateral,
        "push_added_silt": push_added_silt,
        "offered_force": offered_force,
        "margin_force": margin_force,
        "states": states,
    }
