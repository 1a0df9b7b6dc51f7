"""Counts of particles and codes: ISO 4406 both ways, and the older classes."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import oil_code
from valvecalc.primitives import fact, known, least
from valvecalc.sheet import sheet

CODE = ">= 0, <= 28"
CODES = {"code_4": CODE, "code_6": CODE, "code_14": CODE}
CLASSES = ("000", "00", "0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11", "12")
_COUNT = ">= 0 1/mL, <= 2500000 1/mL"
_LARGE = ">= 0 per 100 mL, <= 100000000 per 100 mL"
_SIZES = (
    "Counters since 1999 size by area, µm(c): 4, 6 and 14. Before that, and by microscope, 5 and 15 stood for 6 and 14;"
    " the counts agree roughly, not particle by particle."
)


class Counts(NamedTuple):
    """Particles of three sizes and more, and how much oil was looked at; SI."""

    count_4: Value = None
    count_6: Value = None
    count_14: Value = None
    counted_volume: Value = None


class Code(NamedTuple):
    """The three numbers."""

    code_4: Value = None
    code_6: Value = None
    code_14: Value = None


class Cumulative(NamedTuple):
    """Particles above six sizes; SI."""

    count_above_4: Value = None
    count_above_6: Value = None
    count_above_14: Value = None
    count_above_21: Value = None
    count_above_38: Value = None
    count_above_70: Value = None


class Bands(NamedTuple):
    """Particles in five bands of size; SI."""

    band_5_15: Value = None
    band_15_25: Value = None
    band_25_50: Value = None
    band_50_100: Value = None
    band_over_100: Value = None


class Class(NamedTuple):
    """A class of the older scales."""

    cleanliness_class: Value


@sheet(
    "ISO 4406 code from particle counts",
    results=("code_4", "code_6", "code_14", "particles_counted", "code_note"),
    limits={"count_4": _COUNT, "count_6": _COUNT, "count_14": _COUNT, "counted_volume": "> 0 mL, <= 10 L"},
    labels={"counted_volume": "oil that ran through the counter or the patch, if the report says it"},
    example={"count_4": "3600 1/mL", "count_6": "870 1/mL", "count_14": "58 1/mL", "counted_volume": "10 mL"},
    cautions=("jet",),
    sources=(("iso-4406-reprint", ""), ("iso-4406-article", "")),
    distrust=(
        _SIZES,
        "Air bubbles and water drops count as particles in a counter: warm, degassed, or by patch instead.",
        "Fewer than 20 particles counted: the number is only a least one and is written with >= in front.",
        "A bottle, a tap or a hose that was not flushed: their dirt is one or two codes.",
    ),
)
def oil_code_from_counts(counts: Counts) -> Value:
    """Which code is that? Three counts, in 1 mL or 100 mL, to the three numbers of ISO 4406: 4, 6, 14 µm(c) and more.

    A count exactly on a limit belongs to the lower number. One count alone gives its own number.
    """
    code_4 = least([row for row in fact("iso4406-codes") if counts.count_4 <= row["most_particles"]], "iso_code")[
        "iso_code"
    ]
    code_6 = least([row for row in fact("iso4406-codes") if counts.count_6 <= row["most_particles"]], "iso_code")[
        "iso_code"
    ]
    code_14 = least([row for row in fact("iso4406-codes") if counts.count_14 <= row["most_particles"]], "iso_code")[
        "iso_code"
    ]
    particles_counted = oil_code.particles_counted(
        particle_concentration=counts.count_14, counted_volume=counts.counted_volume
    )
    code_note = (
        "too few counted: write >= before the third number"
        if particles_counted < fact("least-counted")
        else "enough counted"
    )
    return {
        "code_4": code_4,
        "code_6": code_6,
        "code_14": code_14,
        "particles_counted": particles_counted,
        "code_note": code_note,
    }


@sheet(
    "Particle counts of a code",
    results=("most_count_4", "least_count_4", "most_count_6", "least_count_6", "most_count_14", "least_count_14"),
    limits=CODES,
    example={"code_4": "19", "code_6": "17", "code_14": "13"},
    sources=(("iso-4406-reprint", ""),),
    distrust=(_SIZES, "A code is a range of two to one: two samples of one code may differ by a factor of two."),
)
def counts_of_code(code: Code) -> Value:
    """How many particles is that? Each number of a code as the range of counts that it stands for."""
    row_4 = least([row for row in fact("iso4406-codes") if row["iso_code"] >= code.code_4], "iso_code")
    row_6 = least([row for row in fact("iso4406-codes") if row["iso_code"] >= code.code_6], "iso_code")
    row_14 = least([row for row in fact("iso4406-codes") if row["iso_code"] >= code.code_14], "iso_code")
    return {
        "most_count_4": row_4["most_particles"],
        "least_count_4": row_4["least_particles"],
        "most_count_6": row_6["most_particles"],
        "least_count_6": row_6["least_particles"],
        "most_count_14": row_14["most_particles"],
        "least_count_14": row_14["least_particles"],
    }


@sheet(
    "AS4059 class from particle counts",
    results=("cleanliness_class", "class_of_4", "class_of_6", "class_of_14"),
    limits=dict.fromkeys(Cumulative._fields, _LARGE),
    labels={"cleanliness_class": "class that none of the counts goes beyond"},
    example={
        "count_above_4": "41000 per 100 mL",
        "count_above_6": "15500 per 100 mL",
        "count_above_14": "2900 per 100 mL",
        "count_above_21": "270 per 100 mL",
    },
    sources=(("as4059", ""),),
    distrust=(
        _SIZES,
        "A report may give a class by size, such as 6B/6C, or the worst of them: say which was meant.",
        "Dirtier than class 12: the table ends, and there is no answer.",
    ),
)
def as4059_class(counts: Cumulative) -> Value:
    """Which AS4059 class is that? Cumulative counts in 100 mL; the worst of the sizes that were counted decides."""
    any_reading = known(
        counts.count_above_4,
        counts.count_above_6,
        counts.count_above_14,
        counts.count_above_21,
        counts.count_above_38,
        counts.count_above_70,
    )
    reading_4 = known(counts.count_above_4, 0.0)
    reading_6 = known(counts.count_above_6, 0.0)
    reading_14 = known(counts.count_above_14, 0.0)
    reading_21 = known(counts.count_above_21, 0.0)
    reading_38 = known(counts.count_above_38, 0.0)
    reading_70 = known(counts.count_above_70, 0.0)
    fitting_classes = [
        row
        for row in fact("as4059-classes")
        if any_reading >= 0.0
        and reading_4 <= row["limit_above_4"]
        and reading_6 <= row["limit_above_6"]
        and reading_14 <= row["limit_above_14"]
        and reading_21 <= row["limit_above_21"]
        and reading_38 <= row["limit_above_38"]
        and reading_70 <= row["limit_above_70"]
    ]
    class_of_4 = least(
        [row for row in fact("as4059-classes") if counts.count_above_4 <= row["limit_above_4"]], "class_rank"
    )["cleanliness_class"]
    class_of_6 = least(
        [row for row in fact("as4059-classes") if counts.count_above_6 <= row["limit_above_6"]], "class_rank"
    )["cleanliness_class"]
    class_of_14 = least(
        [row for row in fact("as4059-classes") if counts.count_above_14 <= row["limit_above_14"]], "class_rank"
    )["cleanliness_class"]
    return {
        "cleanliness_class": least(fitting_classes, "class_rank")["cleanliness_class"],
        "class_of_4": class_of_4,
        "class_of_6": class_of_6,
        "class_of_14": class_of_14,
    }


@sheet(
    "NAS 1638 class from particle counts",
    results=("cleanliness_class",),
    limits=dict.fromkeys(Bands._fields, _LARGE),
    labels={"cleanliness_class": "class that none of the bands goes beyond"},
    example={
        "band_5_15": "13200 per 100 mL",
        "band_15_25": "2100 per 100 mL",
        "band_25_50": "300 per 100 mL",
        "band_50_100": "40 per 100 mL",
    },
    sources=(("nas-1638", ""),),
    distrust=(
        'Bands of size, not "and more": subtract neighbouring counts first, else the class comes out too dirty.',
        _SIZES,
        "The standard is withdrawn and never said how to quote a class; the worst band is the usual way.",
        "Dirtier than class 12: the table ends, and there is no answer.",
    ),
)
def nas1638_class(counts: Bands) -> Value:
    """Which NAS class is that? Counts in bands of size in 100 mL; the worst band that was counted decides."""
    any_reading = known(
        counts.band_5_15, counts.band_15_25, counts.band_25_50, counts.band_50_100, counts.band_over_100
    )
    reading_6 = known(counts.band_5_15, 0.0)
    reading_14 = known(counts.band_15_25, 0.0)
    reading_21 = known(counts.band_25_50, 0.0)
    reading_38 = known(counts.band_50_100, 0.0)
    reading_70 = known(counts.band_over_100, 0.0)
    fitting_classes = [
        row
        for row in fact("nas1638-classes")
        if any_reading >= 0.0
        and reading_6 <= row["limit_5_15"]
        and reading_14 <= row["limit_15_25"]
        and reading_21 <= row["limit_25_50"]
        and reading_38 <= row["limit_50_100"]
        and reading_70 <= row["limit_over_100"]
    ]
    return {"cleanliness_class": least(fitting_classes, "class_rank")["cleanliness_class"]}
