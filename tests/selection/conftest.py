"""A duty and a valve that fit each other, to change one thing at a time."""

from collections.abc import Callable, Mapping
from copy import deepcopy
from typing import Any

import pytest

from valvecalc.selection.cells import columns, read_cell
from valvecalc.selection.duty import Duty, duty_from
from valvecalc.selection.stock import StockValve, prepared

#: An invented bale press: one cylinder of 100 mm whose rod halves the area (rod = bore / √2).
PRESS: dict[str, Any] = {
    "old": {
        "interface": "NG10", "stage": "direct", "operator": "spring-centred", "rest": "shut", "on_a": "P-A, B-T",
        "on_b": "P-B, A-T", "crossing_a": "shut", "crossing_b": "shut", "coil_voltage": "24 V", "coil_kind": "DC",
        "connector": "three flat pins", "seals": "NBR",
    },
    "cylinder": [
        {
            "bore_diameter": "100 mm", "rod_diameter": "70.71067811865476 mm", "stroke_length": "600 mm",
            "extend_load": "60 kN", "retract_load": "10 kN", "hanging": "no", "held_back": "no",
            "return_throttled": "no", "regenerative": "no",
        }
    ],
    "pump": {"flow": "30 L/min", "relief_pressure": "160 bar", "unloads": "no"},
    "accumulator": {"present": "no"},
    "lines": {"tank_pressure": "3 bar", "tank_surge": "40 bar"},
    "oil": {"grade": "46", "coldest": "15 °C", "hottest": "55 °C", "fluid": "HLP"},
    "ports": {"plugged": "none"},
    "supply": {
        "voltage": "24 V", "kind": "DC", "cable_length": "10 m", "cable_area": "1.5 mm²", "ambient": "35 °C",
        "protection": "IP54",
    },
    "safety": {"fail_safe": "hold", "hazardous_area": "no"},
    "allowed": {"loss": "60 bar", "drift": "20 mm/min"},
}  # fmt: skip

#: A valve that fits it.
FITS = {
    "name": "fits", "shelf": "A1", "quantity": "2", "price": "140", "condition": "new", "interface": "NG10",
    "stage": "direct", "operator": "spring-centred", "rest": "shut", "on_a": "P-A, B-T", "on_b": "P-B, A-T",
    "crossing_a": "shut", "crossing_b": "shut", "pressure_p": "315 bar", "pressure_a": "315 bar",
    "pressure_b": "315 bar", "pressure_t": "160 bar", "flow_nominal": "100 L/min",
    "drop_pa": "30 L/min 1.2 bar; 60 L/min 4 bar; 100 L/min 10.6 bar",
    "drop_pb": "30 L/min 1.2 bar; 60 L/min 4 bar; 100 L/min 10.6 bar",
    "drop_at": "30 L/min 1.4 bar; 60 L/min 4.8 bar; 100 L/min 12.8 bar",
    "drop_bt": "30 L/min 1.4 bar; 60 L/min 4.8 bar; 100 L/min 12.8 bar",
    "drop_viscosity": "36 mm²/s", "drop_density": "870 kg/m³",
    "shift_limit": "120 L/min 100 bar; 100 L/min 210 bar; 80 L/min 315 bar", "limit_voltage": "90 %",
    "limit_winding": "110 °C", "limit_ports": "both", "coil_voltage": "24 V", "coil_kind": "DC", "coil_power": "28 W",
    "voltage_tolerance": "10 %", "connector": "three flat pins", "protection": "IP65", "winding_class": "H",
    "seals": "NBR", "fluids": "HL, HLP, HVLP", "viscosity_min": "10 mm²/s", "viscosity_max": "500 mm²/s",
    "oil_temperature_min": "-20 °C", "oil_temperature_max": "80 °C", "leakage": "30 mL/min",
    "leakage_pressure": "210 bar", "leakage_viscosity": "36 mm²/s", "area": "ordinary",
}  # fmt: skip

#: What a two-stage valve has beside that.
TWO_STAGE = {
    "stage": "two-stage", "pilot": "internal", "drain": "internal", "pilot_pressure_min": "12 bar",
    "pilot_pressure_max": "250 bar", "drain_pressure_max": "70 bar",
}  # fmt: skip


def valve_of(**changes: str | None) -> StockValve:
    """The valve that fits, with some cells changed (None: blank)."""
    cells = {key: text for key, text in {**FITS, **changes}.items() if text is not None}
    return prepared(StockValve(**{key: read_cell(columns()[key], text) for key, text in cells.items()}))


def press(changes: Mapping[str, Mapping[str, str | None]] | None = None) -> Duty:
    """The press, with some entries changed (None: not known); `cylinder` is its only one."""
    raw = deepcopy(PRESS)
    for table, entries in (changes or {}).items():
        target = raw["cylinder"][0] if table == "cylinder" else raw.setdefault(table, {})
        target.update(entries)
    return duty_from(
        {
            name: [_known(row) for row in table] if isinstance(table, list) else _known(table)
            for name, table in raw.items()
        }
    )


def _known(row: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in row.items() if value is not None}


@pytest.fixture
def make_valve() -> Callable[..., StockValve]:
    """`valve_of`."""
    return valve_of


@pytest.fixture
def make_duty() -> Callable[..., Duty]:
    """`press`."""
    return press
