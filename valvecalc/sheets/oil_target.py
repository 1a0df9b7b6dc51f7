"""How clean has the oil to be, and how far is it off?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import oil_code as code
from valvecalc.primitives import fact, known, least, most
from valvecalc.sheet import sheet

#: The words of data/cleanliness_targets.csv.
COMPONENTS = (
    "fixed gear or vane pump",
    "fixed piston pump",
    "variable vane pump",
    "variable piston pump",
    "check valve",
    "solenoid directional valve",
    "flow control valve",
    "cartridge valve",
    "proportional valve",
    "servo valve",
    "cylinder",
    "vane or gear motor",
    "piston motor",
    "test stand",
)
DUTIES = (
    "ordinary",
    "fluid other than mineral oil",
    "frequent cold starts",
    "shock or vibration",
    "a failure endangers people",
)
_CODE = ">= 0, <= 28"


class Wanted(NamedTuple):
    """The most sensitive component, its pressure, what makes it harder; SI."""

    component: Value
    supply_pressure: Value
    duty_kind: Value = "ordinary"


class Sample(NamedTuple):
    """The code of a sample, the target, and how far sampling may err."""

    code_4: Value = None
    code_6: Value = None
    code_14: Value = None
    target_4: Value = 18.0
    target_6: Value = 16.0
    target_14: Value = 13.0
    code_error: Value = 1.0


@sheet(
    "Target cleanliness for a component",
    results=("target_4", "target_6", "target_14", "target_word", "target_rows"),
    rows={"target_rows": ("target_set", "target_4", "target_6", "target_14", "target_note")},
    choices={"component": COMPONENTS, "duty_kind": DUTIES},
    limits={"supply_pressure": ">= 0 bar, < 1000 bar"},
    origins={"duty_kind": ("judgement", "")},
    labels={
        "component": "most sensitive component of the circuit",
        "supply_pressure": "highest pressure there: what the relief valve is set to",
    },
    example={
        "component": "solenoid directional valve",
        "supply_pressure": "160 bar",
        "duty_kind": "frequent cold starts",
    },
    sources=(("cleanliness-targets", ""),),
    distrust=(
        "Guidelines of filter makers, no standard: the papers of the component, and of the machine, win.",
        "The most sensitive component of the circuit decides, not the valve that has just failed.",
        "New oil from the drum is often 20/18/15: fill through a filter.",
        "A variable vane pump above 212 bar: no figure was found, and there is no answer.",
    ),
)
def cleanliness_target(wanted: Wanted) -> Value:
    """How clean has this oil to be? The published targets for a component at its pressure, all of them shown.

    Where two sets differ the cleaner is taken. Water-glycol, cold starts, shock and danger to people ask for one
    number less in each place.
    """
    target_rows = [
        row
        for row in fact("cleanliness-targets")
        if row["component"] == wanted.component
        and wanted.supply_pressure >= row["from_pressure"]
        and wanted.supply_pressure < row["below_pressure"]
    ]
    set_rows = [row for row in target_rows if row["target_kind"] == "set"]
    printed_4 = least(set_rows, "target_4")["target_4"]
    printed_6 = least(set_rows, "target_6")["target_6"]
    printed_14 = least(set_rows, "target_14")["target_14"]
    dirtiest_4 = most(set_rows, "target_4")["target_4"]
    dirtiest_6 = most(set_rows, "target_6")["target_6"]
    dirtiest_14 = most(set_rows, "target_14")["target_14"]
    target_word = (
        "the sets agree"
        if dirtiest_4 == printed_4 and dirtiest_6 == printed_6 and dirtiest_14 == printed_14
        else "the sets differ: the cleaner is taken"
    )
    harder_by = fact("no-harder") if wanted.duty_kind == "ordinary" else fact("one-harder")
    return {
        "target_4": code.harder_target(printed_4=printed_4, harder_by=harder_by),
        "target_6": code.harder_target(printed_4=printed_6, harder_by=harder_by),
        "target_14": code.harder_target(printed_4=printed_14, harder_by=harder_by),
        "target_word": target_word,
        "target_rows": target_rows,
    }


@sheet(
    "How far off is this oil",
    results=(
        "codes_over",
        "times_dirtier",
        "codes_over_4",
        "codes_over_6",
        "codes_over_14",
        "worst_size",
        "least_codes_over",
        "most_codes_over",
        "codes_limit",
    ),
    judged={"codes_over": ("within-range", "least_codes_over", "most_codes_over", "codes_limit")},
    limits={
        **dict.fromkeys(("code_4", "code_6", "code_14"), _CODE),
        **dict.fromkeys(("target_4", "target_6", "target_14"), _CODE),
        "code_error": ">= 0, <= 5",
    },
    origins={
        "target_4": ("handbook", "cleanliness-targets"),
        "target_6": ("handbook", "cleanliness-targets"),
        "target_14": ("handbook", "cleanliness-targets"),
        "code_error": ("common-practice", ""),
    },
    labels={
        "target_4": "target, first number; 18/16/13 is a solenoid directional valve above 210 bar",
        "code_error": "codes that sampling may err: 1 with a sampling valve and a clean bottle, 2 from a tap",
    },
    example={"code_4": "21", "code_6": "19", "code_14": "15"},
    cautions=("jet",),
    sources=(("cleanliness-targets", ""),),
    distrust=(
        "A sample from the tank, or taken with the machine standing: dirt has sunk, and the code looks too good.",
        "A bottle that is not clean shows the bottle, not the machine: bottles err by 1 to 2 codes.",
        "The first number high and the third right: fine silt, varnish or water drops. The third alone: wear, or a torn"
        " filter.",
    ),
)
def oil_code(sample: Sample) -> Value:
    """Is the oil clean enough? The three numbers against the target: each code above it is twice the dirt.

    Clean only if it would still be so with the sampling error against it, dirty only if even with it in favour.
    Take the target of your component and pressure from the sheet of targets.
    """
    codes_over_4 = code.codes_above(iso_code=sample.code_4, target_4=sample.target_4)
    codes_over_6 = code.codes_above(iso_code=sample.code_6, target_4=sample.target_6)
    codes_over_14 = code.codes_above(iso_code=sample.code_14, target_4=sample.target_14)
    first_over = known(codes_over_4, codes_over_6, codes_over_14)
    second_over = known(codes_over_6, codes_over_14, codes_over_4)
    third_over = known(codes_over_14, codes_over_4, codes_over_6)
    codes_over = code.worst_over(first_over=first_over, second_over=second_over, third_over=third_over)
    worst_size = (
        "14 µm and more" if codes_over_14 >= codes_over else ("6 µm and more" if codes_over_6 >= codes_over else "4 µm")
    )
    return {
        "codes_over": codes_over,
        "times_dirtier": code.times_dirtier(codes_over=codes_over),
        "codes_over_4": codes_over_4,
        "codes_over_6": codes_over_6,
        "codes_over_14": codes_over_14,
        "worst_size": worst_size if codes_over > fact("codes-allowed") else "none is above",
        "least_codes_over": codes_over - sample.code_error,
        "most_codes_over": codes_over + sample.code_error,
        "codes_limit": fact("codes-allowed"),
    }
