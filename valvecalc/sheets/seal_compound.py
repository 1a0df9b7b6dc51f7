"""Which rubber for this fluid and heat, and how long may a ring lie in the drawer?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import seals
from valvecalc.primitives import fact, known, least, using
from valvecalc.sheet import sheet


class Service(NamedTuple):
    """Fluid, temperatures at the seal, and the rubber that is asked about; SI."""

    fluid: Value
    highest_temperature: Value = None
    lowest_temperature: Value = None
    compound: Value = None


#: The words of data/seal_fluids.csv and data/seal_compounds.csv.
FLUIDS = ("HL", "HLP", "HVLP", "HETG", "HEES", "HEPG", "HFA", "HFB", "HFC", "HFDR", "HFDU")
COMPOUNDS = ("NBR", "HNBR", "FKM", "EPDM")


@sheet(
    "Rubber for this fluid and temperature",
    results=("compound_word", "compound_reason", "mixing_note", "compound_rows"),
    rows={"compound_rows": ("compound", "compound_word", "compound_reason", "compound_cold", "compound_hot")},
    choices={"fluid": FLUIDS, "compound": COMPOUNDS},
    limits={"highest_temperature": ">= -60 °C, <= 300 °C", "lowest_temperature": ">= -60 °C, <= 300 °C"},
    labels={
        "fluid": "HL, HLP, HVLP mineral oil; HETG plant oil; HEES ester; HEPG polyglycol; HFA, HFB, HFC with water;"
        " HFDR phosphate ester; HFDU other without water",
        "highest_temperature": "highest temperature at the seal: under a coil it is warmer than the oil",
        "lowest_temperature": "lowest temperature at which it must seal, on a cold morning",
    },
    example={"fluid": "HLP", "highest_temperature": "75 °C", "lowest_temperature": "-10 °C", "compound": "NBR"},
    cautions=("wrong-rubber", "burnt-seal"),
    sources=(("rubber-ranges", ""),),
    distrust=(
        "Judgement, not a release: most of the table is common practice. The documents of fluid and seal decide.",
        "Ask means: soak a ring in the fluid, a week, as hot as in service; over 15 % swell or 5 % shrinkage is a no.",
        "Colour tells no rubber. An unknown ring is an ask, an unknown fluid too.",
        "Back-up rings of PTFE stand all of these fluids.",
    ),
)
def seal_compound(service: Service) -> Value:
    """Yes, ask or no for each rubber, with the reason: first the fluid, then heat, then cold."""
    fluid_row = least(
        [
            {"fluid_order": 0.0, "NBR": row["NBR"], "HNBR": row["HNBR"], "FKM": row["FKM"], "EPDM": row["EPDM"]}
            for row in fact("seal-fluids")
            if row["fluid"] == service.fluid
        ],
        "fluid_order",
    )
    hot_reading = known(service.highest_temperature, fact("room-temperature"))
    cold_reading = known(service.lowest_temperature, fact("room-temperature"))
    is_watery = service.fluid == "HFA" or service.fluid == "HFB" or service.fluid == "HFC"
    boils_dry = is_watery and hot_reading > fact("water-fluid-limit")
    compound_words = [
        {
            "compound": row["compound"],
            "compound_cold": row["compound_cold"],
            "compound_hot": row["compound_hot"],
            "fluid_word": fluid_row[row["compound"]],
        }
        for row in fact("seal-compounds")
    ]
    compound_rows = [
        {
            "compound": row["compound"],
            "compound_word": (
                "no"
                if row["fluid_word"] == "no" or hot_reading > row["compound_hot"]
                else (
                    "ask" if row["fluid_word"] == "ask" or boils_dry or cold_reading < row["compound_cold"] else "yes"
                )
            ),
            "compound_reason": (
                "the fluid destroys it"
                if row["fluid_word"] == "no"
                else (
                    "too hot for it"
                    if hot_reading > row["compound_hot"]
                    else (
                        "depends on the make of the fluid: its documents, or a soak test"
                        if row["fluid_word"] == "ask"
                        else (
                            "too stiff in the cold: a grade for cold"
                            if cold_reading < row["compound_cold"]
                            else ("too hot for a fluid with water" if boils_dry else "fluid and temperature suit")
                        )
                    )
                )
            ),
            "compound_cold": row["compound_cold"],
            "compound_hot": row["compound_hot"],
        }
        for row in compound_words
    ]
    your_row = least([row for row in compound_rows if row["compound"] == service.compound], "compound_hot")
    mixing_note = (
        "Phosphate ester destroys NBR and HNBR; mineral oil left in the valve destroys EPDM. Own parts, own stand."
        if service.fluid == "HFDR"
        else (
            "The fluid loses its water above 60 °C: it is too hot before the rubber is."
            if boils_dry
            else (
                "EPDM suits, but mineral oil left in the valve destroys it. Flush first; no mineral grease."
                if service.fluid == "HFC"
                else "EPDM swells in this fluid, or may: no ring from a mixed drawer, none of unknown rubber."
            )
        )
    )
    return {
        "compound_word": your_row["compound_word"],
        "compound_reason": your_row["compound_reason"],
        "mixing_note": mixing_note,
        "compound_rows": compound_rows,
    }


class Stored(NamedTuple):
    """Rubber, quarter of cure and now."""

    compound: Value
    cure_quarter: Value = None
    cure_year: Value = None
    now_quarter: Value = None
    now_year: Value = None


_QUARTER, _YEAR = ">= 1, <= 4", ">= 1950, <= 2100"


@sheet(
    "Ring from the drawer: too old",
    results=("storage_word", "storage_reserve", "ring_age", "first_years", "longest_years", "aerospace_years"),
    choices={"compound": COMPOUNDS},
    judged={"storage_reserve": (">=", "ring-reserve")},
    limits={"cure_quarter": _QUARTER, "cure_year": _YEAR, "now_quarter": _QUARTER, "now_year": _YEAR},
    labels={"cure_quarter": "quarter of cure on the bag: of 2Q19 the 2", "cure_year": "year of cure, four figures"},
    example={
        "compound": "NBR",
        "cure_quarter": "2",
        "cure_year": "2017",
        "now_quarter": "4",
        "now_year": "2025",
    },
    cautions=("wrong-rubber",),
    sources=(("ring-storage-2230", ""), ("ring-storage-5316", "")),
    distrust=(
        "The two rules disagree: ISO 2230 gives NBR 7 years and 3 more, ARP5316 gives 15, and FKM and EPDM no limit."
        " Judged is by ISO 2230, which is shorter. Neither was read itself.",
        "The years hold in the sealed bag: dark, dry, below 25 °C, far from motors. On a hook in the sun: months.",
        "It says nothing of rings built in: there the oldest ring's date counts from its cure on all the same.",
    ),
)
def seal_age(stored: Stored) -> Value:
    """May this ring still be fitted? Its age from the quarter of cure against the storage periods of its rubber."""
    storage_row = least([row for row in fact("seal-compounds") if row["compound"] == stored.compound], "first_years")
    ring_age = using(stored, seals.ring_age)
    first_years = storage_row["first_years"]
    longest_years = storage_row["first_years"] + storage_row["further_years"]
    storage_reserve = longest_years - ring_age
    storage_word = (
        "fit it, if bag and ring are whole"
        if ring_age <= first_years
        else (
            "look at it first: bend it double, no cracks, not sticky, right size"
            if ring_age <= longest_years
            else "past both periods of ISO 2230: a new ring"
        )
    )
    return {
        "storage_word": storage_word,
        "storage_reserve": storage_reserve,
        "ring_age": ring_age,
        "first_years": first_years,
        "longest_years": longest_years,
        "aerospace_years": storage_row["aerospace_years"],
    }
