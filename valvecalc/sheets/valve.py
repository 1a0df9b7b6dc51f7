"""The record of the shift budget: one coil in one state and direction, with limits, origins and words."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.sheets.open_edges import EDGE


class Valve(NamedTuple):
    """What the budget of one coil in one state needs; SI."""

    direction: Value
    state: Value
    driven_port: Value
    spool_diameter: Value
    clearance: Value
    stroke: Value
    overlap: Value
    spring_preload: Value
    spring_rate: Value
    coil_voltage: Value
    winding_temperature: Value
    resistance_20: Value
    force_curve: Value
    curve_voltage: Value
    curve_temperature: Value
    curve_resistance_20: Value
    lands: Value
    density: Value
    supply_pressure: Value
    tank_pressure: Value
    pump_flow: Value
    return_ratio: Value
    dry_friction: Value
    load_pressure_difference: Value = 0.0
    silt_at_start: Value = 0.0
    residual_at_end: Value = 0.0
    flow_force_factor: Value = 1.0
    lateral_scale: Value = 1.0
    force_scale: Value = 1.0
    added_taper: Value = 0.0
    friction_coefficient: Value = 0.12
    discharge_coefficient: Value = 0.65
    open_circumference: Value = 1.0
    pin_area: Value = 0.0
    pin_error: Value = 0.0
    detent_force: Value = 0.0
    edges: Value = None


STATES = ("no-pressure", "blocked", "flow")
DIRECTIONS = ("energise", "release")
LAND = ("high_port", "low_port", "opens_for", "taper", "live_grooves")

LIMITS = {
    "spool_diameter": "> 1 mm, <= 200 mm",
    "clearance": "> 0 µm, <= 1 mm",
    "stroke": "> 0 mm, <= 100 mm",
    "overlap": ">= 0 mm, < 100 mm",
    "spring_preload": ">= 0 N, <= 2000 N",
    "spring_rate": ">= 0 N/mm, <= 500 N/mm",
    "coil_voltage": "> 0 V, <= 400 V",
    "winding_temperature": ">= -40 °C, <= 300 °C",
    "resistance_20": "> 0 Ω, <= 20 kΩ",
    "curve_voltage": "> 0 V, <= 400 V",
    "curve_temperature": ">= -40 °C, <= 300 °C",
    "curve_resistance_20": "> 0 Ω, <= 20 kΩ",
    "density": ">= 700 kg/m³, <= 1500 kg/m³",
    "supply_pressure": ">= 0 bar, <= 700 bar",
    "tank_pressure": ">= 0 bar, <= 350 bar",
    "load_pressure_difference": ">= -350 bar, <= 700 bar",
    "pump_flow": "> 0 L/min, <= 2000 L/min",
    "return_ratio": "> 0.1, <= 10",
    "dry_friction": ">= 0 N, <= 500 N",
    "silt_at_start": ">= 0 N, <= 1000 N",
    "residual_at_end": ">= 0 N, <= 500 N",
    "flow_force_factor": ">= 0, <= 2",
    "lateral_scale": ">= 0, <= 20",
    "force_scale": "> 0, <= 5",
    "added_taper": ">= 0 µm, <= 100 µm",
    "taper": ">= 0 µm, <= 100 µm",
    "live_grooves": ">= 0, <= 7",
    "friction_coefficient": ">= 0, <= 1",
    "discharge_coefficient": "> 0.3, <= 1",
    "open_circumference": "> 0, <= 1",
    "edge_overlap": ">= -50 mm, <= 50 mm",
    "pin_area": ">= 0 mm², <= 2000 mm²",
    "pin_error": ">= -3 mm, <= 3 mm",
    "detent_force": ">= 0 N, <= 500 N",
    "position": ">= -10 mm, <= 100 mm",
    "curve_force": ">= 0 N, <= 5000 N",
}

ORIGINS = {
    "load_pressure_difference": ("judgement", ""),
    "silt_at_start": ("judgement", ""),
    "residual_at_end": ("judgement", ""),
    "flow_force_factor": ("judgement", ""),
    "lateral_scale": ("judgement", ""),
    "force_scale": ("judgement", ""),
    "added_taper": ("judgement", ""),
    "friction_coefficient": ("common-practice", ""),
    "discharge_coefficient": ("handbook", "jelali-kroll-2003"),
    "open_circumference": ("judgement", ""),
    "pin_area": ("judgement", ""),
    "pin_error": ("judgement", ""),
    "detent_force": ("judgement", ""),
}

CHOICES = {
    "direction": DIRECTIONS,
    "state": STATES,
    "driven_port": ("A", "B"),
    "high_port": ("P", "A", "B"),
    "low_port": ("A", "B", "T"),
    "opens_for": ("A", "B"),
    "from_port": ("P", "T"),
    "to_port": ("A", "B", "T"),
    "opens": ("forth", "back"),
}

#: The list entries of the record, and the labels of those that may be left out.
LISTS = {"force_curve": ("position", "curve_force"), "lands": LAND, "edges": EDGE}
LABELS = {
    "edges": "every edge, where all are to count (forth: with this coil's travel); else P to driven port, other to T"
}

#: Columns of the stroke's rows, as `shift_balance` returns them.
TERMS = (
    "position",
    "flow",
    "drop_in",
    "drop_out",
    "port_p",
    "port_a",
    "port_b",
    "solenoid_force",
    "spring_force",
    "flow_force",
    "pin_force",
    "lateral_friction",
    "silt_force",
    "dry_friction",
    "detent_force",
    "residual_force",
    "drive",
    "margin",
    "margin_share",
)
