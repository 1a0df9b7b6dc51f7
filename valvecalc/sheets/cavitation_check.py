"""Does this opening cavitate: noise, foam, eaten edges?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import openings
from valvecalc.primitives import fact, using
from valvecalc.sheet import sheet


class Opening(NamedTuple):
    """The pressures before and behind the opening, of the oil's vapour and of the air; SI."""

    upstream_pressure: Value
    downstream_pressure: Value
    vapour_pressure_abs: Value = 0.0
    atmospheric_pressure_abs: Value = 101325.0


@sheet(
    "Cavitation behind an opening",
    results=("cavitation_verdict", "cavitation_index"),
    judged={"cavitation_index": (">=", "cavitation-possible")},
    limits={
        "upstream_pressure": ">= -1 bar, <= 1000 bar",
        "downstream_pressure": ">= -1 bar, <= 1000 bar",
        "vapour_pressure_abs": ">= 0 bar, <= 1 bar",
        "atmospheric_pressure_abs": "> 0.3 bar, <= 1.2 bar",
    },
    origins={"vapour_pressure_abs": ("judgement", ""), "atmospheric_pressure_abs": ("common-practice", "")},
    chart="downstream_pressure",
    example={"upstream_pressure": "160 bar", "downstream_pressure": "4 bar"},
    cautions=("jet",),
    distrust=(
        "The limits scatter widely with the shape of the edge: listen, and look for eaten edges.",
        "Mineral oil gives off its air before it boils: foam and noise come earlier than vapour.",
        "A spool passes this with every shift: a short hiss at small openings is normal, at full stroke not.",
        "Water-based fluids: enter their vapour pressure, at 50 °C about 0.12 bar absolute for water.",
    ),
)
def cavitation_check(opening: Opening) -> Value:
    """Index of an edge or choke from the pressures on both sides, and what it means in words.

    More back pressure or a second choke in a row raises it. Once it cavitates the flow no longer rises when the
    pressure behind falls.
    """
    cavitation_index = using(opening, openings.cavitation_index)
    cavitation_verdict = (
        "no flow this way"
        if opening.upstream_pressure < opening.downstream_pressure
        else "expected"
        if cavitation_index < fact("cavitation-expected")
        else "possible"
        if cavitation_index < fact("cavitation-possible")
        else "none"
    )
    return {"cavitation_verdict": cavitation_verdict, "cavitation_index": cavitation_index}
