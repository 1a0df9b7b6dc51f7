"""The invented valve that the pages of the shift budget and of the single causes are worked with."""

_CURVE = (("0", "46"), ("0.5", "48"), ("1", "51"), ("1.5", "56"), ("2", "64"), ("2.5", "78"), ("3", "102"))

#: An invented valve: plenty in hand at the start and at the end, too little just after the edges open.
EXAMPLE = {
    "direction": "energise",
    "state": "flow",
    "driven_port": "A",
    "spool_diameter": "12 mm",
    "clearance": "5 µm",
    "stroke": "3 mm",
    "overlap": "1.2 mm",
    "spring_preload": "16 N",
    "spring_rate": "4.8 N/mm",
    "coil_voltage": "21.6 V",
    "winding_temperature": "104 °C",
    "resistance_20": "19.2 Ω",
    "force_curve": [{"position": f"{place} mm", "curve_force": f"{force} N"} for place, force in _CURVE],
    "curve_voltage": "21.6 V",
    "curve_temperature": "90 °C",
    "curve_resistance_20": "19.2 Ω",
    "lands": [
        {"high_port": "P", "low_port": "A", "opens_for": "A", "taper": "1.5 µm", "live_grooves": "3"},
        {"high_port": "P", "low_port": "B", "opens_for": "B", "taper": "2 µm", "live_grooves": "1"},
        {"high_port": "A", "low_port": "T", "opens_for": "B", "taper": "0 µm", "live_grooves": "3"},
        {"high_port": "B", "low_port": "T", "opens_for": "A", "taper": "0 µm", "live_grooves": "3"},
    ],
    "density": "852 kg/m³",
    "supply_pressure": "120 bar",
    "tank_pressure": "6 bar",
    "pump_flow": "32 L/min",
    "return_ratio": "1.4",
    "load_pressure_difference": "20 bar",
    "dry_friction": "2 N",
    "silt_at_start": "4 N",
    "residual_at_end": "2 N",
    "flow_force_factor": "0.35",
}
