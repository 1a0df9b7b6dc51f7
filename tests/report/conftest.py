"""An invented job with every part that a report may have."""

from math import exp
from typing import Any

import pytest

STROKES = [round(0.1 * place, 2) for place in range(41)]


def _rounded(values: Any) -> list[float]:
    return [round(value, 3) for value in values]


def _flow(x: float) -> float:
    return 0.0 if x < 1.8 else 17.5 * (x - 1.8) / 0.4 if x < 2.2 else 17.5 * exp(-(x - 2.2) / 0.8)


STROKE_CHART = {
    "kind": "stroke",
    "title": "Coil b, energise, after a 25 min hold",
    "coil": "b",
    "direction": "energise",
    "unit_x": "mm",
    "unit_y": "N",
    "x": STROKES,
    "drive": {
        "label": "coil force at 176 V, winding 109\N{NO-BREAK SPACE}°C",
        "y": _rounded(41 + 1.2 * x + 1.6 * x * x for x in STROKES),
    },
    "terms": [
        {"label": "centring spring", "y": _rounded(19 + 5.2 * x for x in STROKES)},
        {"label": "silt in the clearance after the hold", "y": _rounded(16 * max(0, 1 - x / 0.5) for x in STROKES)},
        {"label": "lateral force of tapered lands", "y": _rounded(3.0 * max(0, 1 - x / 1.8) for x in STROKES)},
        {"label": "dry friction", "y": [4.5] * len(STROKES)},
        {"label": "flow force", "y": _rounded(_flow(x) for x in STROKES)},
    ],
    "worst": {"x": 0.0, "margin": -1.5, "label": "at the start, before the silt is broken loose"},
    "marks": [{"x": 1.8, "label": "ports open"}, {"x": 2.2, "label": "flow force peak"}],
}

BAR_CHART = {
    "kind": "bars",
    "title": "What eats the coil force at the start",
    "unit": "N",
    "rows": [
        {"label": "centring spring", "value": 19.0, "basis": "measured"},
        {"label": "silt in the clearance after the hold", "value": 16.0, "basis": "calculated"},
        {"label": "dry friction", "value": 4.5, "basis": "default"},
        {"label": "lateral force of tapered lands", "value": 3.0, "basis": "calculated"},
        {"label": "push pin", "value": None, "basis": "measured"},
    ],
}

MARGIN_CHART = {
    "kind": "margin",
    "title": "Share of the coil force in hand, coil b",
    "value": -0.037,
    "half_width": 0.08,
    "bands": [
        {"to": -0.1, "label": "will not shift"},
        {"to": 0.1, "label": "erratic"},
        {"to": 0.25, "label": "works, say so"},
        {"to": 1.0, "label": "sign-off"},
    ],
}

ANSWER: dict[str, Any] = {
    "schema": 1,
    "kind": "answer",
    "ok": True,
    "id": "annular-leakage",
    "title": "Leakage past a spool land",
    "question": "Is the leakage past the middle land normal slip or wear?",
    "sentences": ["The clearance read on the bench explains what the measuring glass shows."],
    "edition": 1,
    "version": "0.1.0",
    "data_version": "5c1d09aa",
    "inputs": {
        "diameter": {"text": "16 mm", "value": 16.0, "unit": "mm", "si": 0.016, "origin": "measured"},
        "clearance": {
            "text": "5 µm",
            "value": 5.0,
            "unit": "µm",
            "si": 5e-6,
            "uncertainty": 0.5,
            "origin": "measured",
            "label": "radial clearance",
        },
        "pressure_drop": {"text": "140 bar", "value": 140.0, "unit": "bar", "si": 14e6, "origin": "nameplate"},
        "viscosity": {"text": "32 mPa·s", "value": 32.0, "unit": "mPa·s", "si": 0.032, "origin": "handbook"},
        "eccentricity": {"text": "0.5", "value": 0.5, "unit": "", "si": 0.5, "origin": "judgement"},
    },
    "result": {"name": "leakage", "value": 5.2612, "unit": "mL/min", "uncertainty": 1.638},
    "results": [
        {"name": "leakage", "value": 5.2612, "unit": "mL/min", "uncertainty": 1.638, "verdict": "accept"},
        {"name": "leakage_limit", "value": 12.0, "unit": "mL/min"},
        {
            "name": "leakage_by_pressure",
            "columns": [{"name": "pressure_drop", "unit": "bar"}, {"name": "leakage", "unit": "mL/min"}],
            "rows": [[70.0, 2.6306], [140.0, 5.2612]],
        },
    ],
    "steps": [
        {
            "name": "leakage",
            "symbol": "Q_L",
            "value": 5.2612,
            "unit": "mL/min",
            "symbolic": "π·d·c³·Δp·(1 + 1.5·ε²)/(12·µ·L)",
            "substituted": "π·16 mm·(5 µm)³·140 bar·(1 + 1.5·0.5²)/(12·32 mPa·s·3.6 mm)",
            "of": "annular-leakage",
            "steps": [{"name": "width", "symbol": "b", "value": 50.265, "unit": "mm", "symbolic": "b = π·d"}],
        }
    ],
    "limits": [
        {"entry": "diameter", "low": 0.0, "high": 1.0, "unit": "m", "state": "inside"},
        {"entry": "clearance", "low": None, "high": 4.0, "unit": "µm", "state": "outside"},
    ],
    "missing": [{"entry": "oil_temperature", "why": "the viscosity rests on it", "how": "read it at the tank return"}],
    "sources": [{"key": "rabie-2009", "text": "Rabie, Fluid Power Engineering, 2009", "locator": "eq. 2.19"}],
    "cautions": ["Hold the hand away from the joint. Oil at this pressure goes through a glove."],
    "link": "/calc/annular-leakage/#e=1&clearance=5um",
}

REPORT: dict[str, Any] = {
    "schema": 1,
    "kind": "report",
    "ok": True,
    "version": "0.1.0",
    "data_version": "5c1d09aa",
    "made": "2026-11-24",
    "shop": {"name": "Millrace Fluid Bench", "address": "Tannery Yard 4, Oakenford"},
    "job": {
        "id": "MF-0417",
        "title": "Press return line valve stays in centre after the night shift",
        "customer": "Oakenford Board Works",
        "machine": "baling press 2, return line",
        "valve": "four ways, three positions, all ports closed in centre, 205 V DC coils at both ends",
        "complaint": "After a pause the ram does not come back. A second try often works.",
        "received": "2026-11-19, no pressure held, plug b loose",
        "work_done": ["flushed", "plug b replaced"],
    },
    "headline": {
        "verdict": "erratic",
        "sentence": "After a pause of 25 minutes coil b is 1.5 N too weak to start the spool, give or take 3 N. "
        "Dirt in the oil and low voltage at plug b take the force.",
        "actions": [
            "Bring plug b to 190 V or more with the coil hot.",
            "Clean the oil to the class that the press needs.",
        ],
    },
    "warnings": [
        "The press stays out of service: the ram can start late, after the operator has let go of the button."
    ],
    "cautions": [
        "Hold the ram on its props and prove zero at A and B before a plug is opened. A raised ram falls.",
        "205 V DC kills. Lock off and prove dead at both coils.",
    ],
    "answers": [ANSWER],
    "charts": [MARGIN_CHART, BAR_CHART, STROKE_CHART],
    "thresholds": [
        {
            "coil": "b",
            "direction": "energise",
            "entry": "voltage",
            "label": "voltage at the plug",
            "as_is": {"value": 176.0, "unit": "V"},
            "value": {"value": 179.3, "unit": "V"},
            "sentence": "Below 179 V alone it does not start after the hold.",
        },
        {
            "coil": "b",
            "direction": "energise",
            "entry": "flow",
            "label": "flow of the pump",
            "as_is": {"value": 42.0, "unit": "L/min"},
            "value": None,
            "sentence": "No flow up to 300 L/min changes the start.",
        },
        {
            "coil": "b",
            "direction": "release",
            "entry": "silt_force",
            "label": "silt force in the starting position",
            "as_is": {"value": 16.0, "unit": "N"},
            "value": {"value": 38.0, "unit": "N"},
            "sentence": "Above 38 N the spring does not bring it back.",
        },
    ],
    "repairs": [
        {
            "name": "plug b repaired",
            "margin": {"value": 5.1, "unit": "N"},
            "share": 0.107,
            "band": "works, say so",
            "release_margin": {"value": 14.0, "unit": "N"},
            "sentence": "Voltage alone leaves less than 25 %.",
        },
        {"name": "clean oil", "margin": {"value": 8.9, "unit": "N"}, "share": 0.21, "band": "works, say so"},
        {"name": "plug b and clean oil", "margin": {"value": 15.7, "unit": "N"}, "share": 0.33, "band": "sign-off"},
    ],
    "verdicts": [
        {"subject": "shift, coil b, after hold", "verdict": "reject", "sentence": "−4 % in hand, 25 % asked."},
        {"subject": "leakage P to A", "verdict": "accept", "sentence": "5.3 mL/min, limit 12 mL/min."},
        {"subject": "coil b winding", "verdict": "cannot-tell", "sentence": "The limit lies within the uncertainty."},
        {"subject": "return from b", "verdict": "unknown", "sentence": "No reading of the spring on that side."},
    ],
    "not_computed": [
        {
            "what": "drift of the ram in centre",
            "needs": [{"entry": "bore_diameter", "why": "the cylinder is not named", "how": "read its plate"}],
        }
    ],
    "not_tested": ["Shift at the flow of the press: the stand gives 30 L/min.", "Anything above 200 bar."],
    "readings": [
        {"entry": "voltage_plug_b", "text": "176 V ± 1 V", "instrument": "M2", "origin": "measured"},
        {"entry": "spring_preload", "text": "19 N", "instrument": "F1", "uncertainty": "0.4 N", "origin": "measured"},
        {"entry": "rated_voltage", "text": "205 V", "origin": "nameplate"},
    ],
    "instruments": [
        {"id": "M2", "kind": "multimeter", "accuracy": "0.5 % of reading", "calibrated_until": "2027-03-31"},
        {"id": "F1", "kind": "force gauge", "accuracy": "0.2 % of full scale", "calibrated_until": "2027-01-15"},
    ],
    "sources": [{"key": "rabie-2009", "text": "Rabie, Fluid Power Engineering, 2009", "locator": "eq. 2.19"}],
    "digest": "sha256:8f3c0000000000000000000000000000000000000000000000000000000a41d2",
}


@pytest.fixture
def report() -> dict[str, Any]:
    """The whole report; every test gets a copy of its own."""
    from copy import deepcopy

    return deepcopy(REPORT)


@pytest.fixture
def answer() -> dict[str, Any]:
    """The single answer of that report."""
    from copy import deepcopy

    return deepcopy(ANSWER)


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Any:
    """One command in this process: exit code, stdout, stderr."""
    from types import SimpleNamespace

    from valvecalc.cli import main

    def told(*arguments: str) -> SimpleNamespace:
        code = main(arguments)
        out, err = capsys.readouterr()
        assert "Traceback" not in out + err
        assert "valvecalc itself" not in out + err, "the last net was needed"
        return SimpleNamespace(code=code, out=out, err=err)

    return told
