"""Forces that press the spool sideways."""

from valvecalc.formula import Value, formula
from valvecalc.formulas import lands


@formula(
    "Sideways force on a tapered land",
    result="lateral_force",
    sources=(("merritt-1967", ""), ("blackburn-1953", ""), ("weber-1951", "")),
    limits={
        "spool_diameter": "> 0 mm, <= 200 mm",
        "length": ">= 0 mm, <= 200 mm",
        "pressure_drop": ">= 0 bar, <= 1000 bar",
        "taper": "> 0 µm, <= 1 mm",
        "clearance": "> 0 µm, <= 1 mm",
        "groove_factor": ">= 0, <= 1",
    },
    labels={"length": "length of the land that seals", "clearance": "smallest radial clearance"},
    trusted={"taper": (">= 0.5 µm", "Below about a tenth of the clearance the formula gives too much force.")},
    origins={"groove_factor": ("judgement", "")},
    chart="taper",
    example={
        "spool_diameter": "14 mm",
        "length": "4 mm",
        "pressure_drop": "150 bar",
        "taper": "3 µm",
        "clearance": "5 µm",
    },
    distrust=(
        "Lands longer than half their diameter: an upper bound, two to three times too high.",
        "The small end at the high pressure: such a land centres itself.",
        "A flat, a score or a dent: they press too, and this formula does not know them.",
    ),
)
def lateral_force(
    *,
    spool_diameter: Value,
    length: Value,
    pressure_drop: Value,
    taper: Value,
    clearance: Value,
    groove_factor: Value = 1.0,
) -> Value:
    """Force that holds a tapered land against its bore once it lies there: the hydraulic lock.

    Spool touching, large end of the taper at the high pressure. Live grooves let the pressure even out.
    """
    taper_factor = lands.taper_factor(taper=taper, clearance=clearance, offset=clearance)
    return groove_factor * taper_factor * length * spool_diameter * pressure_drop
