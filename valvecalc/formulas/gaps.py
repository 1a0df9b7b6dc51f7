"""Flow through thin clearances: spool lands, pins, pistons."""

from valvecalc.formula import Value, formula
from valvecalc.maths import pi, power

_LIMITS = {
    "diameter": "> 0 mm, <= 1 m",
    "clearance": ">= 0 mm, <= 1 mm",
    "length": "> 0 mm, <= 1 m",
    "pressure_drop": ">= 0 bar, <= 1000 bar",
    "viscosity": "> 0 mPa·s, <= 100 Pa·s",
    "eccentricity": ">= 0, <= 1",
}


@formula(
    "Leakage past a spool land",
    result="leakage",
    sources=(
        ("rabie-2009", "eq. 2.19"),
        ("tao-donovan-1955", ""),
        ("massey-ward-smith", "example 6.4"),
        ("clearance-article", ""),
    ),
    limits=_LIMITS,
    trusted={
        "clearance": ("<= 15 µm", "Above 15 µm the entrance loss begins to hold oil back; the true leakage is lower.")
    },
    origins={"eccentricity": ("judgement", "")},
    chart="clearance",
    example={
        "diameter": "12 mm",
        "clearance": "5 µm",
        "length": "4 mm",
        "pressure_drop": "160 bar",
        "viscosity": "30 mPa·s",
    },
    cautions=("jet",),
    distrust=("Turbulent or very short gaps; a land with a score right across it.",),
)
def annular_leakage(
    *,
    diameter: Value,
    clearance: Value,
    length: Value,
    pressure_drop: Value,
    viscosity: Value,
    eccentricity: Value = 0.0,
) -> Value:
    """Oil that slips lengthwise through the ring between a spool land and its bore.

    Use it to tell normal slip from wear. Laminar flow; viscosity at the oil's temperature in the gap.
    Leakage grows with the cube of the clearance: 10 % more gap is a third more oil.
    """
    return pi * diameter * clearance**3 * pressure_drop * (1 + 1.5 * eccentricity**2) / (12 * viscosity * length)


@formula(
    "Clearance from the leakage past a land",
    result="clearance",
    sources=(("rabie-2009", "eq. 2.19"), ("tao-donovan-1955", "")),
    limits={
        "leakage": ">= 0 mL/min, <= 100 L/min",
        "diameter": _LIMITS["diameter"],
        "length": _LIMITS["length"],
        "pressure_drop": "> 0 bar, <= 1000 bar",
        "viscosity": _LIMITS["viscosity"],
        "eccentricity": _LIMITS["eccentricity"],
    },
    origins={"eccentricity": ("judgement", "")},
    chart="leakage",
    example={
        "leakage": "6 mL/min",
        "diameter": "12 mm",
        "length": "1.6 mm",
        "pressure_drop": "80 bar",
        "viscosity": "30 mPa·s",
    },
    cautions=("jet",),
    distrust=(
        "One figure alone: give the range from eccentricity 0 (largest clearance) to 1 (smallest).",
        "A land that is scored, chipped or worn on one side: the figure is an equal ring, not the wear.",
    ),
)
def clearance_from_leakage(
    *,
    leakage: Value,
    diameter: Value,
    length: Value,
    pressure_drop: Value,
    viscosity: Value,
    eccentricity: Value = 0.0,
) -> Value:
    """Radial clearance that would leak as much as was measured: wear without stripping the valve.

    The inverse of the leakage past a spool land, for the flow and pressure difference of ONE land. Two lands in
    series share the pressure. Not knowing where the spool lies changes the answer by a factor of up to 1.36.
    """
    return power(
        12 * viscosity * length * leakage / (pi * diameter * pressure_drop * (1 + 1.5 * eccentricity**2)), 1 / 3
    )


@formula(
    "Leakage turned to a reference oil and pressure",
    result="reference_leakage",
    sources=(("rabie-2009", "eq. 2.19"),),
    limits={
        "leakage": ">= 0 mL/min, <= 100 L/min",
        "viscosity": _LIMITS["viscosity"],
        "reference_viscosity": _LIMITS["viscosity"],
        "pressure_drop": "> 0 bar, <= 1000 bar",
        "reference_pressure_drop": ">= 0 bar, <= 1000 bar",
    },
    labels={"leakage": "leakage as read", "viscosity": "dynamic viscosity of the oil during the test"},
    example={
        "leakage": "100 mL/min",
        "viscosity": "40 mPa·s",
        "reference_viscosity": "28 mPa·s",
        "pressure_drop": "150 bar",
        "reference_pressure_drop": "150 bar",
    },
    distrust=("A leak through a hole or an open edge: that one hardly feels the viscosity.",),
)
def leakage_at_reference(
    *,
    leakage: Value,
    viscosity: Value,
    reference_viscosity: Value,
    pressure_drop: Value,
    reference_pressure_drop: Value,
) -> Value:
    """What the same gap would leak with another oil, temperature or pressure: compare before with after.

    Laminar gaps keep leakage x viscosity / pressure difference. At 50 °C one degree is about 4 % of the reading.
    """
    return leakage * (viscosity / reference_viscosity) * (reference_pressure_drop / pressure_drop)


@formula(
    "Radial clearance from the diametral reading",
    result="clearance",
    limits={"diametral_clearance": ">= 0 mm, <= 2 mm"},
    part=True,
)
def radial_clearance(*, diametral_clearance: Value) -> Value:
    """Half of bore diameter minus spool diameter. Taking one for the other is a factor 8 in leakage."""
    return diametral_clearance / 2


@formula(
    "Pressure difference over one of several equal lands",
    result="land_drop",
    limits={"pressure_drop": ">= 0 bar, <= 1000 bar", "lands_in_series": ">= 1, <= 10"},
    part=True,
)
def series_land_drop(*, pressure_drop: Value, lands_in_series: Value) -> Value:
    """Equal lands that the oil passes one after the other share the pressure difference equally."""
    return pressure_drop / lands_in_series
