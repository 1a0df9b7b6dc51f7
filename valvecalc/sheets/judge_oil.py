"""Two readings of the oil, each judged on its own: its viscosity against the grade, its water."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import oil, oil_code
from valvecalc.primitives import fact, least, using
from valvecalc.sheet import sheet
from valvecalc.sheets.oil_window import viscosity_40_from_reading


class Viscosity(NamedTuple):
    """A viscosity read at a temperature, the grade it should be, the index; SI."""

    kinematic_viscosity: Value
    oil_temperature: Value
    grade_viscosity: Value = None
    viscosity_index: Value = 100.0


class Water(NamedTuple):
    """Water in the oil, and what it can dissolve."""

    water_content: Value
    saturation_content: Value = 200e-6


@sheet(
    "Is this the right oil",
    results=("grade_deviation", "viscosity_40", "nearest_grade", "grade_misfit"),
    judged={"grade_deviation": ("within", "grade-tolerance")},
    limits={
        "kinematic_viscosity": "> 2 mm²/s, <= 20000 mm²/s",
        "oil_temperature": ">= -10 °C, <= 120 °C",
        "grade_viscosity": ">= 2.2 mm²/s, <= 3200 mm²/s",
        "viscosity_index": ">= 0, <= 400",
    },
    trusted={
        "oil_temperature": (
            ">= 10 °C, <= 110 °C",
            "So far from 40 and 100 °C the line is drawn on: take the sample's viscosity nearer to 40 °C.",
        )
    },
    origins={"viscosity_index": ("common-practice", "")},
    labels={
        "kinematic_viscosity": "viscosity read, at the temperature of the sample",
        "oil_temperature": "temperature of the sample while it was read",
        "grade_viscosity": "grade that plate or drum asks for: 46 mm²/s for ISO VG 46",
        "grade_misfit": "distance from the middle of the nearest grade",
    },
    example={"kinematic_viscosity": "74 mm²/s ± 2 mm²/s", "oil_temperature": "28 °C", "grade_viscosity": "46 mm²/s"},
    cautions=("jet",),
    sources=(("iso-3448", ""), ("astm-d341", ""), ("astm-d2270", "procedures A and B")),
    distrust=(
        "The temperature of the sample: 1 K is 2.5 to 7 % of the viscosity. Read near 40 °C.",
        "The index of an unknown oil: near 40 °C it hardly matters, far from it it decides.",
        "In the band is not the same as good: water, dirt and age do not show in the viscosity.",
        "Water-based fluids do not follow these lines.",
    ),
)
def oil_grade(read: Viscosity) -> Value:
    """Is it the grade on the plate? A viscosity at the temperature it has, turned to 40 °C and held against the grade.

    Without a grade it says only which one comes nearest.
    """
    oil_at_40 = viscosity_40_from_reading(read)
    viscosity_40 = oil_at_40["viscosity_40"]
    grade_deviation = using(read, oil.grade_deviation, viscosity_40=viscosity_40)
    grade_rows = [
        {
            "nearest_grade": row["viscosity_40"],
            "grade_misfit": oil_code.grade_misfit(viscosity_40=viscosity_40, grade_viscosity=row["viscosity_40"]),
        }
        for row in fact("viscosity-grades")
    ]
    nearest_row = least(grade_rows, "grade_misfit")
    return {
        "grade_deviation": grade_deviation,
        "viscosity_40": viscosity_40,
        "nearest_grade": nearest_row["nearest_grade"],
        "grade_misfit": nearest_row["grade_misfit"],
    }


@sheet(
    "Water in an oil sample",
    results=("saturation_share",),
    judged={"saturation_share": ("<=", "water-allowed")},
    limits={"water_content": ">= 0 ppm, <= 20 %", "saturation_content": ">= 10 ppm, <= 5 %"},
    origins={"saturation_content": ("handbook", "water-article")},
    labels={"saturation_content": "water that the oil dissolves when coldest: mineral oil 200 to 300 ppm at 20 °C"},
    chart="water_content",
    example={"water_content": "420 ppm"},
    sources=(("water-article", ""), ("crackle-article", "")),
    distrust=(
        "What an oil dissolves differs several times over from oil to oil: the supplier knows it.",
        "Warm oil dissolves more: clear at work and milky in the morning is water near the limit.",
        "A crackle test shows nothing below about 500 ppm: no crackle is no proof of dry oil.",
        "Water-glycol and emulsions are water by design: this is for mineral oil.",
    ),
)
def oil_water(read: Water) -> Value:
    """Is the water free? What the laboratory found against what the oil can dissolve; beyond that it is drops or milk.

    Free water rusts, feeds growth, freezes in pilot bores and takes the film from between the spool and its bore.
    """
    saturation_share = using(read, oil_code.saturation_share)
    return {"saturation_share": saturation_share}
