"""How long to filter, does the flushing flow wash, and which particles meet a gap?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import dirt, lines, oil_code
from valvecalc.primitives import fact, grid, known, least, sweep, using
from valvecalc.sheet import sheet
from valvecalc.sheets.oil_counts import CODES

_CODE = ">= 0, <= 28"


class Flush(NamedTuple):
    """Codes of one size at start and end, tank, filter, what comes in; SI."""

    start_code: Value
    wanted_code: Value
    system_volume: Value
    filter_flow: Value
    filtration_ratio: Value
    mixing_factor: Value = 0.5
    ingress_rate: Value = None
    elapsed_time: Value = 3600.0


class Line(NamedTuple):
    """The line to be flushed and the oil in it; SI."""

    flow: Value
    tube_bore: Value
    kinematic_viscosity: Value


class Gap(NamedTuple):
    """A clearance, the code of the oil, and what leaks through; SI."""

    clearance: Value
    code_4: Value
    code_6: Value
    code_14: Value
    leakage: Value = None


@sheet(
    "Filtering: how long from one code to another",
    results=(
        "cleaning_time",
        "flush_word",
        "halving_time",
        "settled_count",
        "settled_code",
        "cleaned_count",
        "flush_rows",
    ),
    rows={"flush_rows": ("elapsed_time", "cleaned_count")},
    limits={
        "start_code": _CODE,
        "wanted_code": _CODE,
        "system_volume": "> 0 L, <= 100000 L",
        "filter_flow": "> 0 L/min, <= 10000 L/min",
        "filtration_ratio": "> 1, <= 1000000",
        "mixing_factor": "> 0, <= 1",
        "ingress_rate": ">= 0 1/min, <= 1e12 1/min",
        "elapsed_time": ">= 0 min, <= 1000 h",
    },
    trusted={
        "mixing_factor": (">= 0.3, <= 1", "Tanks usually mix so well that 0.3 to 0.8 of the filter's flow counts.")
    },
    origins={"mixing_factor": ("judgement", ""), "elapsed_time": ("judgement", "")},
    labels={
        "elapsed_time": "time that is asked about besides: how clean is it then?",
        "start_code": "number of the code now, one of the three",
        "wanted_code": "number wanted, of the same size",
        "filtration_ratio": "beta of the filter at that size",
        "ingress_rate": "particles that come in each minute; left empty: none, the best that can be",
    },
    chart="flush_rows",
    example={
        "start_code": "21",
        "wanted_code": "17",
        "system_volume": "160 L",
        "filter_flow": "25 L/min",
        "filtration_ratio": "75",
        "ingress_rate": "2e6 1/min",
    },
    cautions=("stored-pressure",),
    sources=(("iso-4406-reprint", ""),),
    distrust=(
        "Good for planning, not for signing: three samples in a row on target end a flushing, not the clock.",
        "Beta of another size than the number that is counted: take the ratio at 4, 6 or 14 µm(c).",
        "Oil in dead ends, cylinders and hoses that does not go round: it is not in the volume, and it comes later.",
    ),
)
def flush_time(flush: Flush) -> Value:
    """From 21 to 17 in this tank: how long? Each code takes the same time, until what comes in sets the floor.

    Reckoned from the upper end of the number now to the upper end of the number wanted.
    """
    start_row = least([row for row in fact("iso4406-codes") if row["iso_code"] >= flush.start_code], "iso_code")
    wanted_row = least([row for row in fact("iso4406-codes") if row["iso_code"] >= flush.wanted_code], "iso_code")
    start_count = start_row["most_particles"]
    wanted_count = wanted_row["most_particles"]
    halving_time = using(flush, dirt.halving_time)
    settled_by_ingress = using(flush, dirt.settled_count)
    settled_count = known(settled_by_ingress, 0.0)
    settled_code = least([row for row in fact("iso4406-codes") if settled_count <= row["most_particles"]], "iso_code")[
        "iso_code"
    ]
    flush_word = (
        "it is there already"
        if start_count <= wanted_count
        else ("never: what comes in keeps it dirtier" if settled_count >= wanted_count else "filtering gets there")
    )
    cleaning_time = (
        using(
            flush, dirt.cleaning_time, start_count=start_count, wanted_count=wanted_count, settled_count=settled_count
        )
        if start_count > wanted_count and settled_count < wanted_count
        else None
    )
    cleaned_count = using(
        flush,
        dirt.cleaned_count,
        start_count=start_count,
        settled_count=settled_count,
        cleaning_time=flush.elapsed_time,
    )
    longest_time = oil_code.halvings(halving_time=halving_time, halving_number=fact("shown-halvings"))
    flush_rows = sweep(
        lambda elapsed_time: {
            "elapsed_time": elapsed_time,
            "cleaned_count": using(
                flush,
                dirt.cleaned_count,
                start_count=start_count,
                settled_count=settled_count,
                cleaning_time=elapsed_time,
            ),
        },
        grid(0.0, longest_time, 24),
    )
    return {
        "cleaning_time": cleaning_time,
        "flush_word": flush_word,
        "halving_time": halving_time,
        "settled_count": settled_count,
        "settled_code": settled_code,
        "cleaned_count": cleaned_count,
        "flush_rows": flush_rows,
    }


@sheet(
    "Does the flushing flow wash this line",
    results=("line_reynolds_number", "line_velocity", "turbulent_flow", "velocity_flow"),
    judged={
        "line_reynolds_number": (">=", "flushing-reynolds"),
        "line_velocity": (">=", "flushing-velocity"),
    },
    limits={
        "flow": "> 0 L/min, <= 10000 L/min",
        "tube_bore": "> 1 mm, <= 500 mm",
        "kinematic_viscosity": "> 0.6 mm²/s, <= 5000 mm²/s",
    },
    labels={
        "flow": "flow of the flushing pump through this line",
        "tube_bore": "inside diameter of the widest place of the run",
        "kinematic_viscosity": "viscosity of the flushing oil at its temperature",
    },
    chart="flow",
    example={"flow": "75 L/min", "tube_bore": "16 mm", "kinematic_viscosity": "18 mm²/s"},
    cautions=("stored-pressure", "jet"),
    sources=(("flushing-guide", ""), ("flushing-article", "page 2")),
    distrust=(
        "Valves, cylinders and motors are bypassed with plates or hoses first; what is in them is not washed.",
        "Two sources ask for different things: turbulent flow, or 4.6 m/s (15 ft/s). Both are judged here.",
        "Turbulent alone may not do: one article doubts that anything below 25 000 reaches the wall of drawn tube.",
        "The flushing filter: 10 µm absolute or finer on the way back, and the samples decide, not the hours.",
    ),
)
def flush_flow(line: Line) -> Value:
    """Does it tumble, and is it fast enough? Against turbulent flow, and against the speed of a guide specification."""
    line_velocity = using(line, lines.line_velocity)
    line_reynolds_number = using(line, lines.line_reynolds, line_velocity=line_velocity)
    turbulent_flow = using(line, dirt.turbulent_flow, wanted_reynolds=fact("flushing-reynolds"))
    velocity_flow = using(line, dirt.velocity_flow, wanted_velocity=fact("flushing-velocity"))
    return {
        "line_reynolds_number": line_reynolds_number,
        "line_velocity": line_velocity,
        "turbulent_flow": turbulent_flow,
        "velocity_flow": velocity_flow,
    }


@sheet(
    "Which dirt meets this clearance",
    results=("gap_count", "gap_rate", "count_at_clearance", "count_at_twice", "twice_clearance"),
    limits={"clearance": "> 1 µm, <= 50 µm", **CODES, "leakage": ">= 0 mL/min, <= 100 L/min"},
    trusted={
        "clearance": (
            ">= 4 µm, <= 7 µm",
            "A code counts 4, 6 and 14 µm: below and above them the line between the counts is drawn on.",
        )
    },
    labels={"leakage": "oil that slips through the gap, if it is known"},
    chart="clearance",
    example={"clearance": "5 µm", "code_4": "20", "code_6": "18", "code_14": "14", "leakage": "12 mL/min"},
    cautions=("stored-pressure",),
    sources=(("iso-4406-reprint", ""),),
    distrust=(
        "The counts are the upper ends of the numbers, and between them a straight line on paper with both scales"
        " logarithmic: an order of size, no more.",
        "How much of it stays in the gap is not known: silting is measured as the force after standing, not reckoned.",
        "Varnish and soft stuff are in no count, and stick all the same.",
    ),
)
def gap_dirt(gap: Gap) -> Value:
    """Which particles can wedge here? Between once and twice the clearance: small enough to enter, too large to pass.

    A spool pressed to one side leaves twice the clearance on the other. What is larger stays outside, what is smaller
    passes. Under pressure the leakage brings them one by one; they are what silts a spool that stands still.
    """
    row_4 = least([row for row in fact("iso4406-codes") if row["iso_code"] >= gap.code_4], "iso_code")
    row_6 = least([row for row in fact("iso4406-codes") if row["iso_code"] >= gap.code_6], "iso_code")
    row_14 = least([row for row in fact("iso4406-codes") if row["iso_code"] >= gap.code_14], "iso_code")
    twice_clearance = oil_code.widest_gap(clearance=gap.clearance)
    count_at_clearance = (
        dirt.count_at_size(
            particle_size=gap.clearance,
            first_size=fact("counted-size-4"),
            second_size=fact("counted-size-6"),
            first_count=row_4["most_particles"],
            second_count=row_6["most_particles"],
        )
        if gap.clearance < fact("counted-size-6")
        else dirt.count_at_size(
            particle_size=gap.clearance,
            first_size=fact("counted-size-6"),
            second_size=fact("counted-size-14"),
            first_count=row_6["most_particles"],
            second_count=row_14["most_particles"],
        )
    )
    count_at_twice = (
        dirt.count_at_size(
            particle_size=twice_clearance,
            first_size=fact("counted-size-4"),
            second_size=fact("counted-size-6"),
            first_count=row_4["most_particles"],
            second_count=row_6["most_particles"],
        )
        if twice_clearance < fact("counted-size-6")
        else dirt.count_at_size(
            particle_size=twice_clearance,
            first_size=fact("counted-size-6"),
            second_size=fact("counted-size-14"),
            first_count=row_6["most_particles"],
            second_count=row_14["most_particles"],
        )
    )
    gap_count = count_at_clearance - count_at_twice
    gap_rate = oil_code.carried(gap_count=gap_count, leakage=gap.leakage)
    return {
        "gap_count": gap_count,
        "gap_rate": gap_rate,
        "count_at_clearance": count_at_clearance,
        "count_at_twice": count_at_twice,
        "twice_clearance": twice_clearance,
    }
