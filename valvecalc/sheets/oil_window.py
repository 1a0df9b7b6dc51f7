"""Which temperatures is this oil good for? And the figures of its card turned into each other."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import oil, saybolt
from valvecalc.primitives import fact, known, solve, table, using
from valvecalc.sheet import sheet
from valvecalc.sheets.oil import index_at

_LIMITS = {
    "viscosity_40": "> 2 mm²/s, <= 3500 mm²/s",
    "viscosity_index": ">= 0, <= 400",
    "viscosity_100": "> 2 mm²/s, <= 70 mm²/s",
    "oil_temperature": ">= -40 °C, <= 150 °C",
}
_WATER = "Water-based fluids do not follow these lines."


class Card(NamedTuple):
    """Both viscosities of the data sheet; SI."""

    viscosity_40: Value
    viscosity_100: Value


class Grade(NamedTuple):
    """Viscosity at 40 °C and the index; SI."""

    viscosity_40: Value
    viscosity_index: Value


class Window(NamedTuple):
    """The oil, and the temperature it has now if that is to be judged; SI."""

    viscosity_40: Value
    viscosity_index: Value = 100.0
    viscosity_100: Value = None
    oil_temperature: Value = None


class Reading(NamedTuple):
    """A viscosity read at a temperature, and the index; SI."""

    kinematic_viscosity: Value
    oil_temperature: Value
    viscosity_index: Value = 100.0


class Index(NamedTuple):
    """The index alone; SI."""

    viscosity_index: Value


class Sample(NamedTuple):
    """Viscosity of the sample at 40 °C and the grade that the plate asks for; SI."""

    viscosity_40: Value
    grade_viscosity: Value


class Saybolt(NamedTuple):
    """Seconds and the temperature they belong to; SI."""

    saybolt_time: Value
    oil_temperature: Value = 310.9277777777778


@sheet(
    "Viscosity index from two viscosities",
    results=("viscosity_index",),
    limits={name: _LIMITS[name] for name in ("viscosity_40", "viscosity_100")},
    example={"viscosity_40": "46 mm²/s", "viscosity_100": "6.8 mm²/s"},
    sources=(("astm-d2270", "procedures A and B"),),
    distrust=("Both figures from one sample: 1 % in one of them moves the index by 1.5 to 3.",),
)
def index_of_oil(state: Card) -> Value:
    """Is it the oil that the plate asks for? The index from both data sheet figures, or from two of a laboratory.

    The references come from the standard's table; below 100 its first procedure holds, above the second.
    """
    oil_now = index_at(state, viscosity_100=state.viscosity_100)
    viscosity_index = oil_now["viscosity_index"]
    return {"viscosity_index": viscosity_index}


@sheet(
    "Viscosity at 100 °C from the index",
    results=("viscosity_100",),
    limits={name: _LIMITS[name] for name in ("viscosity_40", "viscosity_index")},
    chart="viscosity_index",
    example={"viscosity_40": "46 mm²/s", "viscosity_index": "140"},
    sources=(("astm-d2270", "procedures A and B"),),
    distrust=(_WATER, "An index on a drum is often a least value: the oil may be thicker when hot."),
)
def viscosity_100_from_index(state: Grade) -> Value:
    """What a drum that names only grade and index makes of the oil at 100 °C."""
    viscosity_100 = solve(
        lambda trial: index_at(state, viscosity_100=trial)["viscosity_index"] - state.viscosity_index,
        fact("least-viscosity-100"),
        state.viscosity_40 if state.viscosity_40 < fact("largest-viscosity-100") else fact("largest-viscosity-100"),
    )
    return {"viscosity_100": viscosity_100}


@sheet(
    "Viscosity from Saybolt seconds",
    results=("kinematic_viscosity",),
    limits={"saybolt_time": ">= 32 s, <= 20000 s", "oil_temperature": ">= -40 °C, <= 150 °C"},
    trusted={
        "saybolt_time": (">= 32 s, <= 2316 s", "The standard's equation was made for 32 to 2316 seconds at 100 °F.")
    },
    origins={"oil_temperature": ("standard", "astm-d2161")},
    labels={"oil_temperature": "temperature at which the seconds were taken"},
    chart="saybolt_time",
    example={"saybolt_time": "150 s"},
    sources=(("astm-d2161", ""),),
    distrust=("The answer belongs to the same temperature: 150 s at 100 °F are no ISO VG grade, that is at 40 °C.",),
)
def viscosity_from_saybolt(state: Saybolt) -> Value:
    """Turns the Saybolt Universal seconds (SUS) of an old oil card into mm²/s at the same temperature."""
    kinematic_viscosity = solve(
        lambda trial: using(state, saybolt.saybolt_seconds, kinematic_viscosity=trial) - state.saybolt_time,
        fact("least-saybolt-viscosity"),
        fact("largest-saybolt-viscosity"),
    )
    return {"kinematic_viscosity": kinematic_viscosity}


@sheet(
    "Temperatures an oil is good for",
    results=(
        "best_from_temperature",
        "best_to_temperature",
        "coldest_temperature",
        "hottest_temperature",
        "cold_start_temperature",
        "window_word",
        "kinematic_viscosity",
        "viscosity_100",
    ),
    limits=_LIMITS,
    origins={"viscosity_index": ("common-practice", "")},
    labels={"oil_temperature": "temperature of the oil now, if it is to be judged"},
    example={"viscosity_40": "46 mm²/s", "viscosity_index": "100", "oil_temperature": "62 °C"},
    sources=(("astm-d341", ""), ("astm-d2270", "procedures A and B")),
    distrust=(
        "The pump's own documents decide: many allow less than 500 mm²/s at start and ask for more than 10 when hot.",
        "A grade is a band: 10 % either way in viscosity is 2 K either way in temperature.",
        "Answers below the pour point or above 80 °C: seals and the oil's life end before its viscosity does.",
        _WATER,
    ),
)
def oil_window(state: Window) -> Value:
    """From which temperature an oil may be started, worked and is at its best, and where it gets too thin.

    Start up to 500 mm²/s, steady work between 100 and 10, best between 36 and 16.
    """
    viscosity_100 = known(
        state.viscosity_100,
        solve(
            lambda trial: index_at(state, viscosity_100=trial)["viscosity_index"] - state.viscosity_index,
            fact("least-viscosity-100"),
            state.viscosity_40 if state.viscosity_40 < fact("largest-viscosity-100") else fact("largest-viscosity-100"),
        ),
    )
    cold_start_temperature = using(
        state,
        oil.temperature_for_viscosity,
        viscosity_100=viscosity_100,
        kinematic_viscosity=fact("viscosity-start-high"),
    )
    coldest_temperature = using(
        state,
        oil.temperature_for_viscosity,
        viscosity_100=viscosity_100,
        kinematic_viscosity=fact("viscosity-working-high"),
    )
    best_from_temperature = using(
        state,
        oil.temperature_for_viscosity,
        viscosity_100=viscosity_100,
        kinematic_viscosity=fact("viscosity-best-high"),
    )
    best_to_temperature = using(
        state,
        oil.temperature_for_viscosity,
        viscosity_100=viscosity_100,
        kinematic_viscosity=fact("viscosity-best-low"),
    )
    hottest_temperature = using(
        state,
        oil.temperature_for_viscosity,
        viscosity_100=viscosity_100,
        kinematic_viscosity=fact("viscosity-working-low"),
    )
    kinematic_viscosity = using(state, oil.kinematic_viscosity, viscosity_100=viscosity_100)
    window_word = (
        "too thick"
        if state.oil_temperature < cold_start_temperature
        else (
            "thick"
            if state.oil_temperature < best_from_temperature
            else (
                "best"
                if state.oil_temperature <= best_to_temperature
                else ("thin" if state.oil_temperature <= hottest_temperature else "too thin")
            )
        )
    )
    return {
        "best_from_temperature": best_from_temperature,
        "best_to_temperature": best_to_temperature,
        "coldest_temperature": coldest_temperature,
        "hottest_temperature": hottest_temperature,
        "cold_start_temperature": cold_start_temperature,
        "window_word": window_word,
        "kinematic_viscosity": kinematic_viscosity,
        "viscosity_100": viscosity_100,
    }


@sheet(
    "Oil sample against its grade",
    results=("grade_deviation",),
    judged={"grade_deviation": ("within", "grade-tolerance")},
    limits={"viscosity_40": "> 2 mm²/s, <= 3500 mm²/s", "grade_viscosity": ">= 2.2 mm²/s, <= 3200 mm²/s"},
    labels={"viscosity_40": "viscosity of the sample at 40 °C, from the laboratory or a viscometer"},
    example={"viscosity_40": "41 mm²/s ± 1 mm²/s", "grade_viscosity": "46 mm²/s"},
    sources=(("iso-3448", ""),),
    distrust=(
        "Inside the band is not the same as good: water, dirt and age do not show in the viscosity.",
        "10 % is the band of new oil. Many shops change it at 10 to 15 % beyond what it was when new.",
        "Thinner: the wrong oil, a mixture or worn-out thickener. Thicker: aged, overheated or mixed.",
    ),
)
def grade_check(state: Sample) -> Value:
    """Is it still the oil that it should be? A sample's viscosity at 40 °C against the middle of the ISO VG grade."""
    grade_deviation = using(state, oil.grade_deviation)
    return {"grade_deviation": grade_deviation}


@sheet(
    "Viscosity at 40 °C of an oil of known index with a trial viscosity at 100 °C",
    results=("viscosity_40",),
    limits={name: _LIMITS[name] for name in ("viscosity_index", "viscosity_100")},
    part=True,
)
def viscosity_40_at(state: Index, *, viscosity_100: Value) -> Value:
    """ASTM D2270 turned round: procedure A up to 100, procedure B above."""
    viscosity_40_vi_0 = table(fact("viscosity-index-basis"), "viscosity_100", "viscosity_40_vi_0", viscosity_100)
    viscosity_40_vi_100 = table(fact("viscosity-index-basis"), "viscosity_100", "viscosity_40_vi_100", viscosity_100)
    viscosity_40 = (
        oil.viscosity_40_low(
            viscosity_index=state.viscosity_index,
            viscosity_40_vi_0=viscosity_40_vi_0,
            viscosity_40_vi_100=viscosity_40_vi_100,
        )
        if state.viscosity_index <= fact("index-of-both-procedures")
        else oil.viscosity_40_high(
            viscosity_index=state.viscosity_index,
            viscosity_100=viscosity_100,
            viscosity_40_vi_100=viscosity_40_vi_100,
        )
    )
    return {"viscosity_40": viscosity_40}


@sheet(
    "Grade from a viscosity at any temperature",
    results=("viscosity_40", "viscosity_100"),
    limits={
        "kinematic_viscosity": "> 2 mm²/s, <= 20000 mm²/s",
        "oil_temperature": ">= -10 °C, <= 120 °C",
        "viscosity_index": _LIMITS["viscosity_index"],
    },
    trusted={
        "oil_temperature": (
            ">= 10 °C, <= 110 °C",
            "So far from 40 and 100 °C the line is drawn on: take the sample's viscosity nearer to 40 °C.",
        )
    },
    origins={"viscosity_index": ("common-practice", "")},
    labels={"kinematic_viscosity": "viscosity of the sample at its temperature"},
    chart="kinematic_viscosity",
    example={"kinematic_viscosity": "61 mm²/s", "oil_temperature": "32 °C"},
    sources=(("astm-d341", ""), ("astm-d2270", "procedures A and B")),
    distrust=(
        "The temperature of the sample: 1 K is 2.5 to 7 % of the viscosity, most when cold.",
        "The index of an unknown oil: the nearer the reading to 40 °C, the less it matters.",
        _WATER,
    ),
)
def viscosity_40_from_reading(state: Reading) -> Value:
    """Which grade is in this tank? Turns a reading at the temperature of the sample to 40 °C, where grades are told."""
    viscosity_100 = solve(
        lambda trial: (
            oil.kinematic_viscosity(
                viscosity_40=viscosity_40_at(state, viscosity_100=trial)["viscosity_40"],
                viscosity_100=trial,
                oil_temperature=state.oil_temperature,
            )
            - state.kinematic_viscosity
        ),
        fact("least-viscosity-100"),
        fact("largest-viscosity-100"),
    )
    oil_at_40 = viscosity_40_at(state, viscosity_100=viscosity_100)
    viscosity_40 = oil_at_40["viscosity_40"]
    return {"viscosity_40": viscosity_40, "viscosity_100": viscosity_100}
