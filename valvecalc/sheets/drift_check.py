"""The load drifts: how much oil is that, is it too much, and is it the valve or the cylinder?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import cylinder, drift
from valvecalc.primitives import fact, using
from valvecalc.sheet import sheet

LOAD_SIDES = ("piston side", "rod side")


class Drift(NamedTuple):
    """The cylinder, the side that holds the load, the drift as taken, and once more with the ports shut; SI."""

    load_side: Value
    bore_diameter: Value
    rod_diameter: Value
    drift_distance: Value
    drift_time: Value
    allowed_drift: Value = None
    shut_distance: Value = None
    shut_time: Value = None
    holding_pressure: Value = None
    cap_side_volume: Value = None
    rod_side_volume: Value = None
    effective_modulus: Value = 1.4e9


_WAY = ">= 0 mm, <= 20 m"
_TIME = "> 0 s, <= 1000000 s"
_VOLUME = ">= 0 mL, <= 10000 L"


@sheet(
    "Drift check: how much oil, and is it the valve or the cylinder",
    results=(
        "drift_leakage",
        "drift_verdict",
        "next_step",
        "drift_speed",
        "drift_share",
        "allowed_leakage",
        "shut_drift_speed",
        "shut_share",
        "load_force",
        "equalised_pressure",
        "sinking_distance",
    ),
    judged={"drift_share": ("<=", "drift-allowed")},
    choices={"load_side": LOAD_SIDES},
    limits={
        "bore_diameter": "> 4 mm, <= 1000 mm",
        "rod_diameter": "> 0 mm, < 1000 mm",
        "drift_distance": "> 0 mm, <= 20 m",
        "drift_time": _TIME,
        "allowed_drift": "> 0 mm/min, <= 1 m/s",
        "shut_distance": _WAY,
        "shut_time": _TIME,
        "holding_pressure": ">= 0 bar, <= 1000 bar",
        "cap_side_volume": _VOLUME,
        "rod_side_volume": _VOLUME,
        "effective_modulus": "> 10 MPa, <= 5000 MPa",
    },
    origins={"effective_modulus": ("judgement", "")},
    labels={
        "drift_distance": "way drifted, valve in centre, pump off",
        "shut_distance": "way drifted with both ports shut at the cylinder, after the first settling",
        "shut_time": "time of that second test",
        "holding_pressure": "gauge on the side that holds the load, the other side at zero",
        "cap_side_volume": "oil shut in on the piston side, line included",
        "rod_side_volume": "oil shut in on the rod side, line included",
    },
    chart="drift_time",
    example={
        "load_side": "piston side",
        "bore_diameter": "63 mm",
        "rod_diameter": "36 mm",
        "drift_distance": "21 mm",
        "drift_time": "5 min",
        "allowed_drift": "2 mm/min",
        "shut_distance": "0.5 mm",
        "shut_time": "10 min",
        "holding_pressure": "29 bar",
        "cap_side_volume": "700 mL",
        "rod_side_volume": "450 mL",
    },
    cautions=("drift-test", "trapped-volume", "stored-pressure"),
    sources=(("drift-article", ""),),
    distrust=(
        "Oil that cools shrinks, and the rod moves: test when its temperature stands, or let it stand longer.",
        "A rod through both ends: a leaking piston seal alone lets it drift, whichever way the load acts.",
        "A check or counterbalance valve on the cylinder: the oil passes that valve first, the spool only after it.",
        "Shut-off valves that leak themselves: what the second test blames on the cylinder may be theirs.",
    ),
)
def drift_check(held: Drift) -> Value:
    """Turns a drift into the oil behind it, holds it against what the machine allows, and names who lets it go.

    With both ports shut at the cylinder the oil cannot reach the valve. A load that pushes the rod in comes to rest
    then, even with a bad piston seal: after it has sunk a little the pressure is even on both sides, and higher. If it
    goes on, oil leaves the cylinder. A load that pulls the rod out drifts on past a bad piston seal.
    """
    piston_area = using(held, cylinder.piston_area)
    annulus_area = using(held, cylinder.annulus_area)
    holding_area = piston_area if held.load_side == "piston side" else annulus_area
    drift_speed = using(held, drift.drift_from_distance)
    drift_leakage = drift.leakage_for_drift(drift_speed=drift_speed, area=holding_area)
    allowed_leakage = drift.leakage_for_drift(drift_speed=held.allowed_drift, area=holding_area)
    drift_share = drift.drift_ratio(drift_speed=drift_speed, reference_drift=held.allowed_drift)
    shut_drift_speed = drift.drift_from_distance(drift_distance=held.shut_distance, drift_time=held.shut_time)
    shut_share = drift.drift_ratio(drift_speed=shut_drift_speed, reference_drift=drift_speed)
    drift_verdict = (
        "valve or line"
        if shut_share <= fact("drift-stopped")
        else (
            "valve and cylinder both"
            if shut_share < fact("drift-unchanged")
            else ("rod seal or port" if held.load_side == "piston side" else "piston seal, rod seal or port")
        )
    )
    next_step = (
        "valve to the bench: leakage in every position"
        if shut_share <= fact("drift-stopped")
        else (
            "cylinder first, then the drift once more"
            if shut_share < fact("drift-unchanged")
            else "cylinder: look for oil outside, then its seals"
        )
    )
    load_force = drift.held_load(holding_pressure=held.holding_pressure, area=holding_area)
    equalised_pressure = (
        drift.equalised_pressure(load_force=load_force, rod_diameter=held.rod_diameter)
        if held.load_side == "piston side"
        else None
    )
    sinking_distance = (
        using(held, drift.sinking_distance, load_force=load_force) if held.load_side == "piston side" else None
    )
    return {
        "drift_leakage": drift_leakage,
        "drift_verdict": drift_verdict,
        "next_step": next_step,
        "drift_speed": drift_speed,
        "drift_share": drift_share,
        "allowed_leakage": allowed_leakage,
        "shut_drift_speed": shut_drift_speed,
        "shut_share": shut_share,
        "load_force": load_force,
        "equalised_pressure": equalised_pressure,
        "sinking_distance": sinking_distance,
    }
