"""A shift budget worked by hand, step after step, for an invented valve: what the sheet is held to."""

import math
from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from valvecalc.compiled import fast
from valvecalc.door import find
from valvecalc.sheets.valve import Valve

MM, BAR, LPM, UM = 1e-3, 1e5, 1 / 60000, 1e-6

CURVE = [(-0.1, 46.0), (0.0, 47.0), (0.8, 54.5), (1.6, 66.0), (2.4, 82.0), (3.0, 97.0)]  # mm, N
LANDS = [("P", "A", "A", 2.0, 1.0), ("P", "B", "B", 1.5, 3.0), ("A", "T", "B", 1.0, 2.0), ("B", "T", "A", 2.5, 0.0)]
PLAIN: dict[str, Any] = {
    "direction": "energise",
    "state": "flow",
    "driven_port": "B",
    "spool_diameter": 13 * MM,
    "clearance": 5 * UM,
    "stroke": 2.8 * MM,
    "overlap": 1.1 * MM,
    "spring_preload": 16.0,
    "spring_rate": 5300.0,
    "coil_voltage": 32.4,
    "winding_temperature": 273.15 + 95,
    "resistance_20": 61.0,
    "force_curve": tuple({"position": s * MM, "curve_force": f} for s, f in CURVE),
    "curve_voltage": 33.0,
    "curve_temperature": 273.15 + 90,
    "curve_resistance_20": 61.5,
    "lands": tuple(
        {"high_port": high, "low_port": low, "opens_for": opens, "taper": taper * UM, "live_grooves": grooves}
        for high, low, opens, taper, grooves in LANDS
    ),
    "density": 857.0,
    "supply_pressure": 180 * BAR,
    "tank_pressure": 5 * BAR,
    "pump_flow": 38 * LPM,
    "return_ratio": 1.45,
    "dry_friction": 2.2,
    "load_pressure_difference": 22 * BAR,
    "silt_at_start": 5.0,
    "residual_at_end": 1.8,
    "flow_force_factor": 0.19,
    "friction_coefficient": 0.13,
    "discharge_coefficient": 0.66,
    "open_circumference": 0.75,
    "pin_area": 4e-6,
    "pin_error": 0.05 * MM,
    "detent_force": 0.7,
    "lateral_scale": 1.2,
    "force_scale": 1.05,
    "added_taper": 0.5 * UM,
}
BUDGET = fast(find("shift-budget"))


def valve(**changes: Any) -> Valve:
    return Valve(**PLAIN | changes)


def line(points: list[tuple[float, float]], x: float) -> float:
    """Straight line between points."""
    for (x0, y0), (x1, y1) in pairwise(points):
        if x0 <= x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    raise ArithmeticError("outside")


def ohms(at_20: float, kelvin: float) -> float:
    """Copper: 0.393 % of its 20 °C resistance for each kelvin."""
    return at_20 * (1 + 0.00393 * (kelvin - 293.15))


def hand(v: Mapping[str, Any], s: float) -> dict[str, float]:
    """Every force at the place `s` (m) of the stroke."""
    flowing, dead = v["state"] == "flow", v["state"] == "no-pressure"
    energise = v["direction"] == "energise"
    p_r, p_t, r = v["supply_pressure"], v["tank_pressure"], v["return_ratio"]
    x = s - v["overlap"]
    rho = v["density"]
    # oil: opened edges of equal area, the return edge takes r times the flow
    q = drop_in = drop_out = 0.0
    if flowing and x > 0:
        area = v["open_circumference"] * math.pi * v["spool_diameter"] * math.hypot(x, v["clearance"])
        left = max(p_r - v["load_pressure_difference"] - r * p_t, 0.0)
        orifice = v["discharge_coefficient"] * area
        q = min(v["pump_flow"], orifice * math.sqrt(2 * left / (rho * (1 + r**3))))
        drop_in = rho / 2 * (q / orifice) ** 2
        drop_out = r * r * drop_in
    if q > 0:
        back = p_t + drop_out
        driven = v["load_pressure_difference"] + r * back
        port_p = driven + drop_in
    elif x > 0:
        port_p, driven, back = p_r, p_r, p_t
    else:
        port_p, driven, back = p_r, (p_r + p_t) / 2, (p_r + p_t) / 2
    other = "A" if v["driven_port"] == "B" else "B"
    p = {"P": port_p, "T": p_t, v["driven_port"]: driven, other: back}
    if dead:
        p = dict.fromkeys("PTAB", 0.0)
    # sideways: tapered land touching, large end at the high pressure; grooves 1, 0.40, 0.06, 0.027 in the logarithm
    lateral = 0.0
    for land in v["lands"]:
        t, c = land["taper"] + v["added_taper"], v["clearance"]
        sealing = v["overlap"] + (-s if land["opens_for"] == v["driven_port"] else s)
        drop = p[land["high_port"]] - p[land["low_port"]]
        if t > 0 and sealing > 0 and drop > 0:
            k = math.pi / 4 * (t / c) * ((2 * c + t) / math.sqrt((2 * c + t) ** 2 - 4 * c * c) - 1)
            logs = [(n, math.log(share)) for n, share in ((0, 1.0), (1, 0.40), (3, 0.06), (7, 0.027))]
            lateral += k * math.exp(line(logs, land["live_grooves"])) * sealing * v["spool_diameter"] * drop
    friction = v["lateral_scale"] * v["friction_coefficient"] * lateral
    # solenoid: force with the square of the current up to the curve's, 1.2 above
    i = (v["coil_voltage"] / ohms(v["resistance_20"], v["winding_temperature"])) / (
        v["curve_voltage"] / ohms(v["curve_resistance_20"], v["curve_temperature"])
    )
    curve = [(row["position"], row["curve_force"]) for row in v["force_curve"]]
    solenoid = line(curve, s - v["pin_error"]) * i ** (2 if i <= 1 else 1.2) * v["force_scale"] if energise else 0.0
    spring = v["spring_preload"] + v["spring_rate"] * s
    jet = v["flow_force_factor"] * 0.98 * math.cos(math.radians(69))
    flow_force = jet * q * math.sqrt(2 * rho * drop_in) + jet * r * q * math.sqrt(2 * rho * drop_out)
    pin = p["T"] * v["pin_area"]
    went = s if energise else v["stroke"] - s
    silt = v["silt_at_start"] * line([(0, 1), (0.1 * MM, 1), (0.3 * MM, 0.15), (1, 0.15)], went)
    residual = 0.0 if energise else v["residual_at_end"] * (s / v["stroke"]) ** 2
    drive = solenoid if energise else spring + flow_force + pin
    against = spring + flow_force + pin if energise else residual
    margin = drive - against - friction - silt - v["dry_friction"] - v["detent_force"]
    return {
        "position": s,
        "flow": q,
        "drop_in": drop_in,
        "drop_out": drop_out,
        "port_p": p["P"],
        "port_a": p["A"],
        "port_b": p["B"],
        "solenoid_force": solenoid,
        "spring_force": spring,
        "flow_force": flow_force,
        "pin_force": pin,
        "lateral_friction": friction,
        "silt_force": silt,
        "dry_friction": v["dry_friction"],
        "detent_force": v["detent_force"],
        "residual_force": residual,
        "drive": drive,
        "margin": margin,
        "margin_share": margin / drive,
    }


def hand_corner(v: Mapping[str, Any]) -> float:
    """Opening at which the pump flow just passes, by halving: no formula turned round."""
    flat = [{"position": place, "curve_force": 1.0} for place in (-1, 1)]
    unlimited = v | {"state": "flow", "direction": "energise", "pump_flow": 1e9, "force_curve": flat}
    low, high = 0.0, 0.1
    for _ in range(200):
        middle = (low + high) / 2
        passes = hand(unlimited, v["overlap"] + middle)["flow"]
        low, high = (middle, high) if passes < v["pump_flow"] else (low, middle)
    return high


def hand_least(v: Mapping[str, Any], steps: int = 720) -> dict[str, float]:
    """The row with the least margin, on a fine grid with the places where something bends."""
    stroke = v["stroke"]
    places = [stroke * i / steps for i in range(steps)] + [stroke, v["overlap"], v["overlap"] + 1e-9]
    places += [v["overlap"] + hand_corner(v)] if v["state"] == "flow" else []
    bends = (0.1 * MM, 0.3 * MM)
    places += [place if v["direction"] == "energise" else stroke - place for place in bends]
    places += [row["position"] + v["pin_error"] for row in v["force_curve"]]
    return min((hand(v, s) for s in places if 0 <= s <= stroke), key=lambda row: row["margin"])


CASES = [
    {"direction": direction, "state": state, "driven_port": port, **more}
    for direction in ("energise", "release")
    for state in ("flow", "blocked", "no-pressure")
    for port, more in (("B", {}), ("A", {"return_ratio": 1 / 1.45}))
]
