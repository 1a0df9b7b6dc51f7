"""An older class told as an ISO 4406 code, and a code told as an older class."""

from valvecalc.formula import Value
from valvecalc.primitives import fact, known, least
from valvecalc.sheet import sheet
from valvecalc.sheets.oil_counts import CLASSES, CODES, Class, Code

_DISTRUST = (
    "A class fixes how many particles there may be of every size; real oil has another mixture. Only the counts tell.",
    "NAS 1638 and AS4059 have the same limits; NAS counts in bands by microscope, AS4059 what lies above each size.",
    "Numbers in trade tables differ by one code from these: they round, or take the old sizes.",
)


@sheet(
    "Older class as a code, with its limits",
    results=(
        "code_4",
        "code_6",
        "code_14",
        "limit_above_4",
        "limit_above_6",
        "limit_above_14",
        "limit_5_15",
        "limit_15_25",
        "limit_25_50",
        "limit_50_100",
        "limit_over_100",
    ),
    choices={"cleanliness_class": CLASSES},
    labels={"cleanliness_class": "class of AS4059 or NAS 1638: 000 (AS4059 only), 00, 0 to 12"},
    example={"cleanliness_class": "7"},
    sources=(("as4059", ""), ("nas-1638", ""), ("iso-4406-reprint", "")),
    distrust=_DISTRUST,
)
def class_limits(old: Class) -> Value:
    """The customer wants NAS 7, the counter shows ISO. The class's limits, and the code that they make.

    The code is that of oil which just reaches the class's limit at every size.
    """
    class_row = least(
        [row for row in fact("as4059-classes") if row["cleanliness_class"] == old.cleanliness_class], "class_rank"
    )
    code_4 = least(
        [row for row in fact("iso4406-codes") if class_row["limit_above_4"] <= row["most_particles"]], "iso_code"
    )["iso_code"]
    code_6 = least(
        [row for row in fact("iso4406-codes") if class_row["limit_above_6"] <= row["most_particles"]], "iso_code"
    )["iso_code"]
    code_14 = least(
        [row for row in fact("iso4406-codes") if class_row["limit_above_14"] <= row["most_particles"]], "iso_code"
    )["iso_code"]
    nas_row = least(
        [row for row in fact("nas1638-classes") if row["class_rank"] >= class_row["class_rank"]], "class_rank"
    )
    limit_5_15 = nas_row["limit_5_15"] if old.cleanliness_class != "000" else None
    limit_15_25 = nas_row["limit_15_25"] if old.cleanliness_class != "000" else None
    limit_25_50 = nas_row["limit_25_50"] if old.cleanliness_class != "000" else None
    limit_50_100 = nas_row["limit_50_100"] if old.cleanliness_class != "000" else None
    limit_over_100 = nas_row["limit_over_100"] if old.cleanliness_class != "000" else None
    return {
        "code_4": code_4,
        "code_6": code_6,
        "code_14": code_14,
        "limit_above_4": class_row["limit_above_4"],
        "limit_above_6": class_row["limit_above_6"],
        "limit_above_14": class_row["limit_above_14"],
        "limit_5_15": limit_5_15,
        "limit_15_25": limit_15_25,
        "limit_25_50": limit_25_50,
        "limit_50_100": limit_50_100,
        "limit_over_100": limit_over_100,
    }


@sheet(
    "Code as an older class",
    results=("cleanliness_class", "class_of_4", "class_of_6", "class_of_14"),
    limits=CODES,
    labels={"cleanliness_class": "class that the whole range of each number stays within"},
    example={"code_4": "18", "code_6": "16", "code_14": "13"},
    sources=(("as4059", ""), ("iso-4406-reprint", "")),
    distrust=(*_DISTRUST, "Dirtier than class 12: the table ends, and there is no answer."),
)
def class_of_code(code: Code) -> Value:
    """Which class is 18/16/13? By the upper end of each number: the oil is at least as clean as that class."""
    row_4 = least([row for row in fact("iso4406-codes") if row["iso_code"] >= code.code_4], "iso_code")
    row_6 = least([row for row in fact("iso4406-codes") if row["iso_code"] >= code.code_6], "iso_code")
    row_14 = least([row for row in fact("iso4406-codes") if row["iso_code"] >= code.code_14], "iso_code")
    most_count_4 = row_4["most_particles"]
    most_count_6 = row_6["most_particles"]
    most_count_14 = row_14["most_particles"]
    any_reading = known(most_count_4, most_count_6, most_count_14)
    reading_4 = known(most_count_4, 0.0)
    reading_6 = known(most_count_6, 0.0)
    reading_14 = known(most_count_14, 0.0)
    fitting_classes = [
        row
        for row in fact("as4059-classes")
        if any_reading >= 0.0
        and reading_4 <= row["limit_above_4"]
        and reading_6 <= row["limit_above_6"]
        and reading_14 <= row["limit_above_14"]
    ]
    class_of_4 = least([row for row in fact("as4059-classes") if most_count_4 <= row["limit_above_4"]], "class_rank")[
        "cleanliness_class"
    ]
    class_of_6 = least([row for row in fact("as4059-classes") if most_count_6 <= row["limit_above_6"]], "class_rank")[
        "cleanliness_class"
    ]
    class_of_14 = least(
        [row for row in fact("as4059-classes") if most_count_14 <= row["limit_above_14"]], "class_rank"
    )["cleanliness_class"]
    return {
        "cleanliness_class": least(fitting_classes, "class_rank")["cleanliness_class"],
        "class_of_4": class_of_4,
        "class_of_6": class_of_6,
        "class_of_14": class_of_14,
    }
