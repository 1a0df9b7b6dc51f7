"""What the shape of a land does to the pressure round it."""

from valvecalc.formula import Value, formula
from valvecalc.maths import pi, sqrt


@formula(
    "Sideways coefficient of a tapered land",
    result="taper_factor",
    sources=(("merritt-1967", ""), ("blackburn-1953", "")),
    limits={
        "taper": "> 0 µm, <= 1 mm",
        "clearance": "> 0 µm, <= 1 mm",
        "offset": "> 0 µm, <= 1 mm",
    },
    labels={"clearance": "smallest radial clearance, at the large end of the land"},
    distrust=("Long lands (length over half the diameter): the true force is two to three times smaller.",),
    part=True,
)
def taper_factor(*, taper: Value, clearance: Value, offset: Value) -> Value:
    """Sideways force over length x diameter x pressure difference, large end of the taper at the high pressure.

    Oil flowing lengthwise only. Largest (0.27) when the spool touches and the taper is 0.83 of the clearance. At
    contact it is pessimistic below a taper of a tenth of the clearance, where it rises with the root of the taper.
    The sources' (pi/4) (t/e) ((2c + t)/root - 1) multiplied out: that difference loses up to nine digits at a
    small offset or taper.
    """
    return (
        pi
        * taper
        * offset
        / sqrt((2 * clearance + taper - 2 * offset) * (2 * clearance + taper + 2 * offset))
        / (2 * clearance + taper + sqrt((2 * clearance + taper - 2 * offset) * (2 * clearance + taper + 2 * offset)))
    )
