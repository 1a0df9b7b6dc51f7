"""Leakage of lands where the spool stands: sealed over some length, just at the edge, or open."""

from valvecalc.formula import Value, formula
from valvecalc.maths import maximum, pi, power, sqrt

_OVERLAP = ">= -10 mm, <= 100 mm"
_LIMITS = {
    "diameter": "> 0 mm, <= 1 m",
    "clearance": "> 0 mm, <= 1 mm",
    "pressure_drop": "> 0 bar, <= 1000 bar",
    "viscosity": "> 0 mPa·s, <= 100 Pa·s",
    "density": "> 0 kg/m³, <= 2000 kg/m³",
    "discharge_coefficient": "> 0, <= 1",
    "eccentricity": ">= 0, <= 1",
}
_ORIGINS = {"discharge_coefficient": ("handbook", "jelali-kroll-2003"), "eccentricity": ("judgement", "")}
_OVERLAP_LABEL = "length that still seals where the spool stands; minus where the edge is open by so much"
_DISTRUST = (
    "An edge that is chipped or rounded: it opens earlier than the drawing says.",
    "A notch or bleed slot in the land: it joins the ports long before the edge does.",
)


@formula(
    "Leakage of a land at its overlap",
    result="leakage",
    sources=(("rabie-2009", "eq. 2.19"), ("jelali-kroll-2003", "ch. 3.3")),
    limits={"overlap": _OVERLAP, **_LIMITS},
    origins=_ORIGINS,
    labels={"overlap": _OVERLAP_LABEL},
    chart="overlap",
    example={
        "diameter": "16 mm",
        "clearance": "6 µm",
        "overlap": "0.2 mm",
        "pressure_drop": "80 bar",
        "viscosity": "30 mPa·s",
        "density": "857 kg/m³",
    },
    cautions=("jet",),
    distrust=_DISTRUST,
)
def leakage_by_overlap(
    *,
    diameter: Value,
    clearance: Value,
    overlap: Value,
    pressure_drop: Value,
    viscosity: Value,
    density: Value,
    discharge_coefficient: Value = 0.65,
    eccentricity: Value = 0.0,
) -> Value:
    """Oil past one land in any position of the spool, from well sealed over the edge to open.

    The pressure difference pays for the drag along the sealed length and for the jet at the edge. Well covered, the
    drag decides and it is the plain leakage of a gap; at the edge and beyond, the jet decides and it is an orifice.
    """
    sealed_length = maximum(overlap, 0.0)
    opening = maximum(-overlap, 0.0)
    edge_area = pi * diameter * sqrt(clearance**2 + opening**2)
    free_flow = discharge_coefficient * edge_area * sqrt(2 * pressure_drop / density)
    drag_ratio = (
        12
        * viscosity
        * sealed_length
        * free_flow
        / (pi * diameter * clearance**3 * pressure_drop * (1 + 1.5 * eccentricity**2))
    )
    return 2 * free_flow / (drag_ratio + sqrt(drag_ratio**2 + 4))


@formula(
    "Leakage past two lands to a plugged port and on",
    result="path_leakage",
    sources=(("rabie-2009", "eq. 2.19"), ("jelali-kroll-2003", "ch. 3.3")),
    limits={"overlap_in": _OVERLAP, "overlap_out": _OVERLAP, **_LIMITS},
    origins=_ORIGINS,
    labels={"pressure_drop": "pressure difference over both lands together"},
    chart="overlap_out",
    example={
        "diameter": "16 mm",
        "clearance": "6 µm",
        "overlap_in": "1.4 mm",
        "overlap_out": "1.4 mm",
        "pressure_drop": "160 bar",
        "viscosity": "30 mPa·s",
        "density": "857 kg/m³",
    },
    cautions=("jet",),
    distrust=_DISTRUST,
)
def two_land_leakage(
    *,
    diameter: Value,
    clearance: Value,
    overlap_in: Value,
    overlap_out: Value,
    pressure_drop: Value,
    viscosity: Value,
    density: Value,
    discharge_coefficient: Value = 0.65,
    eccentricity: Value = 0.0,
) -> Value:
    """Oil from P past one land to a plugged port and past the next land to T: one side of a closed centre.

    A closed centre has two such ways, one by A and one by B, and leaks the sum of both.
    """
    sealed_length = maximum(overlap_in, 0.0) + maximum(overlap_out, 0.0)
    opening_in = maximum(-overlap_in, 0.0)
    opening_out = maximum(-overlap_out, 0.0)
    edge_area = pi * diameter / sqrt(1 / (clearance**2 + opening_in**2) + 1 / (clearance**2 + opening_out**2))
    free_flow = discharge_coefficient * edge_area * sqrt(2 * pressure_drop / density)
    drag_ratio = (
        12
        * viscosity
        * sealed_length
        * free_flow
        / (pi * diameter * clearance**3 * pressure_drop * (1 + 1.5 * eccentricity**2))
    )
    return 2 * free_flow / (drag_ratio + sqrt(drag_ratio**2 + 4))


@formula(
    "Pressure of a plugged port between two lands",
    result="shut_pressure",
    limits={
        "path_leakage": ">= 0 mL/min, <= 10000 L/min",
        "overlap_out": _OVERLAP,
        "tank_pressure": ">= 0 bar, <= 1000 bar",
        **{name: _LIMITS[name] for name in _LIMITS if name != "pressure_drop"},
    },
    origins=_ORIGINS,
    part=True,
)
def plugged_port_pressure(
    *,
    path_leakage: Value,
    diameter: Value,
    clearance: Value,
    overlap_out: Value,
    tank_pressure: Value,
    viscosity: Value,
    density: Value,
    discharge_coefficient: Value = 0.65,
    eccentricity: Value = 0.0,
) -> Value:
    """Tank pressure and what the oil takes past the land to T."""
    sealed_length = maximum(overlap_out, 0.0)
    opening_out = maximum(-overlap_out, 0.0)
    edge_area = pi * diameter * sqrt(clearance**2 + opening_out**2)
    drag_drop = (
        12 * viscosity * sealed_length * path_leakage / (pi * diameter * clearance**3 * (1 + 1.5 * eccentricity**2))
    )
    return tank_pressure + drag_drop + density / 2 * (path_leakage / (discharge_coefficient * edge_area)) ** 2


@formula(
    "Clearance against a sister valve",
    result="clearance_ratio",
    sources=(("rabie-2009", "eq. 2.19"),),
    limits={"leakage": ">= 0 mL/min, <= 100 L/min", "sister_leakage": "> 0 mL/min, <= 100 L/min"},
    labels={
        "leakage": "leakage of the valve in hand",
        "sister_leakage": "leakage of a new valve of the same kind, same stand, oil, temperature and pressure",
    },
    chart="leakage",
    example={"leakage": "96 mL/min", "sister_leakage": "22 mL/min"},
    cautions=("jet", "test-stand"),
    distrust=(
        "Oil a few degrees warmer between the two tests: turn both to one temperature first, 1 K is 4 %.",
        "Wear on one edge or a score: the figure is an even ring that would leak as much.",
    ),
)
def clearance_over_sister(*, leakage: Value, sister_leakage: Value) -> Value:
    """How many times the clearance of a new sister valve this one has: no length, no viscosity, no eccentricity needed.

    Leakage goes with the cube of the clearance, everything else is the same on both: eight times the oil is twice the
    gap.
    """
    return power(leakage / sister_leakage, 1 / 3)
