"""For which supply may this coil be wound, as far as its ohms and its plug can tell?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import coil, identity
from valvecalc.primitives import fact, known, least, using
from valvecalc.sheet import sheet


class Winding(NamedTuple):
    """Ohms at the winding's own pins, its temperature, and what is in the plug; SI."""

    resistance: Value = None
    coil_temperature: Value = None
    plug_kind: Value = "not known"


#: The words of data/coil_supplies.csv, and one for who cannot see it.
KINDS = ("not known", "plain", "with rectifier")


@sheet(
    "Coil without a plate: for which supply",
    results=(
        "settled_supply",
        "coil_verdict",
        "likely_supply",
        "likely_power",
        "second_supply",
        "resistance_20",
        "coil_rows",
    ),
    rows={"coil_rows": ("supply_name", "fit_word", "candidate_power", "usual_range_misfit")},
    choices={"plug_kind": KINDS},
    limits={"resistance": "> 0 Ω, <= 100 kΩ", "coil_temperature": ">= -40 °C, <= 200 °C"},
    labels={
        "resistance": "resistance at the winding's own pins, plug off, leads subtracted",
        "coil_temperature": "temperature of the winding; left empty, the ohms are taken as they are",
        "plug_kind": "what is in the plug; not known where a bridge may sit in the cabinet",
    },
    example={"resistance": "81.6 Ω", "coil_temperature": "24 °C", "plug_kind": "not known"},
    cautions=("live-circuit", "hot-coil", "falling-load"),
    sources=(("dcv-sizes", "table of solenoids"),),
    distrust=(
        "AC cannot be told by ohms alone: a 24 V DC coil and one for 110 to 120 V AC, or a 48 V DC coil and one for 220"
        " to 240 V AC, may have the same ohms. Look into the machine's diagram and read the volts at the plug before a"
        " coil is switched on.",
        "A DC coil on AC of the same volts hardly pulls; an AC coil on DC of the same volts burns.",
        "A rectifier, diode or electronics inside the coil: ohms through it say nothing.",
        "Shorted turns, or coils of unusual power: the ohms then name the wrong supply. Two coils of one valve agree.",
        "A coil for explosion-protected areas goes by its own marking alone; never by a reading.",
    ),
)
def coil_identity(winding: Winding) -> Value:
    """The power that the ohms would make at each usual supply, and whether coils of such valves usually have it.

    Double the voltage has four times the ohms, so 12, 24 and 48 V DC are far apart; what lies between them may be an AC
    coil, a coil behind a rectifier, or a faulty winding. A supply is accepted only where every other lies well away.
    """
    resistance_20 = using(winding, coil.resistance_at_20)
    reading_resistance_20 = known(resistance_20, winding.resistance)
    supply_candidates = [
        {
            "supply_name": row["supply_name"],
            "coil_kind": row["coil_kind"],
            "winding_voltage": row["winding_voltage"],
            "least_resistance_20": (
                row["least_resistance_20"]
                if row["coil_kind"] == "AC"
                else coil.nominal_resistance(
                    nominal_voltage=row["winding_voltage"], nominal_power=fact("usual-coil-power-high")
                )
            ),
            "largest_resistance_20": (
                row["largest_resistance_20"]
                if row["coil_kind"] == "AC"
                else coil.nominal_resistance(
                    nominal_voltage=row["winding_voltage"], nominal_power=fact("usual-coil-power-low")
                )
            ),
        }
        for row in fact("coil-supplies")
        if winding.plug_kind == "not known" or row["plug_kind"] == winding.plug_kind
    ]
    coil_rows = [
        {
            "supply_name": row["supply_name"],
            "candidate_power": (
                coil.coil_power(coil_voltage=row["winding_voltage"], resistance=reading_resistance_20)
                if row["coil_kind"] == "DC"
                else None
            ),
            "usual_range_misfit": identity.usual_range_misfit(
                resistance_20=reading_resistance_20,
                least_resistance_20=row["least_resistance_20"],
                largest_resistance_20=row["largest_resistance_20"],
            ),
            "fit_word": (
                "may be"
                if identity.usual_range_misfit(
                    resistance_20=reading_resistance_20,
                    least_resistance_20=row["least_resistance_20"],
                    largest_resistance_20=row["largest_resistance_20"],
                )
                <= 0.0
                else (
                    "above the usual ohms"
                    if reading_resistance_20 > row["largest_resistance_20"]
                    else "below the usual ohms"
                )
            ),
        }
        for row in supply_candidates
    ]
    likely_coil = least(coil_rows, "usual_range_misfit")
    likely_supply = likely_coil["supply_name"]
    other_coils = [row for row in coil_rows if row["supply_name"] != likely_supply]
    next_coil = least(other_coils, "usual_range_misfit")
    coil_verdict = (
        "none is usual"
        if likely_coil["usual_range_misfit"] > 0.0
        else ("accept" if next_coil["usual_range_misfit"] > fact("coil-clear") else "cannot tell")
    )
    settled_supply = likely_supply if coil_verdict == "accept" else coil_verdict
    return {
        "settled_supply": settled_supply,
        "coil_verdict": coil_verdict,
        "likely_supply": likely_supply,
        "likely_power": likely_coil["candidate_power"],
        "second_supply": next_coil["supply_name"],
        "resistance_20": reading_resistance_20,
        "coil_rows": coil_rows,
    }
