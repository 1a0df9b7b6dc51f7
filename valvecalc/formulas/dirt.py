"""Dirt in the oil: what a filter keeps, how fast a tank gets clean, and what stays."""

from valvecalc.formula import Value, formula
from valvecalc.maths import exp, log, pi, power

_COUNT = "> 0 1/mL, <= 100000000 1/mL"
_RATIO = "> 1, <= 1000000"
_FLOW = "> 0 L/min, <= 10000 L/min"
_VOLUME = "> 0 L, <= 100000 L"
_TANK = {"filter_flow": _FLOW, "filtration_ratio": _RATIO, "mixing_factor": "> 0, <= 1"}
_MIXING = {"mixing_factor": ("judgement", "")}
_MIXED = {"mixing_factor": (">= 0.3, <= 1", "Tanks usually mix so well that 0.3 to 0.8 of the filter's flow counts.")}
_TANK_DISTRUST = (
    "A count of one size only: the filter has another ratio, and the dirt another number, at every size.",
    "The ratio of the catalogue is of a steady stand. Surges, cold starts and an open bypass let far more through.",
    "Dirt that lies in pipes and dead ends comes loose later: the count rises again when the machine works.",
)


@formula(
    "Filter: ratio beta from two counts",
    result="filtration_ratio",
    sources=(("beta-example", "example"), ("iso-16889", "")),
    limits={"upstream_count": _COUNT, "downstream_count": _COUNT},
    example={"upstream_count": "7200 1/mL", "downstream_count": "48 1/mL"},
    cautions=("jet",),
    distrust=(
        "Bottles filled by hand: behind a good filter the bottle's own dirt is most of the count.",
        "Fewer than 20 particles counted behind the filter: the ratio is hardly known.",
        "An answer below 1: the filter sheds, its bypass is open, or the samples were exchanged.",
    ),
)
def filtration_ratio(*, upstream_count: Value, downstream_count: Value) -> Value:
    """Is the filter still filtering? Particles of a size and more before it over those behind it."""
    return upstream_count / downstream_count


@formula(
    "Filter efficiency from the ratio beta",
    result="filter_efficiency",
    sources=(("beta-example", ""), ("beta-page", ""), ("iso-16889", "")),
    limits={"filtration_ratio": ">= 1, <= 1000000"},
    chart="filtration_ratio",
    example={"filtration_ratio": "100"},
    distrust=("A ratio without its size: beta 200 at 10 µm keeps far less of 5 µm.",),
)
def filter_efficiency(*, filtration_ratio: Value) -> Value:
    """What a beta means: the share of the particles that the filter keeps in one pass.

    75 keeps 98.7 %, 200 keeps 99.5 %, 1000 keeps 99.9 %. What gets through is what counts: of 1000 particles 13, 5
    and 1.
    """
    return 1 - 1 / filtration_ratio


@formula(
    "Ratio beta from the efficiency",
    result="filtration_ratio",
    sources=(("beta-example", "example"), ("iso-16889", "")),
    limits={"filter_efficiency": ">= 0 %, < 100 %"},
    example={"filter_efficiency": "98 %"},
    distrust=('A nominal rating ("10 micron") without ratio or share: it says nothing that can be calculated with.',),
)
def ratio_from_efficiency(*, filter_efficiency: Value) -> Value:
    """Turns the share that a filter keeps, as a leaflet prints it, into the ratio beta."""
    return 1 / (1 - filter_efficiency)


@formula(
    "Particles behind a filter",
    result="downstream_count",
    sources=(("beta-example", "example"), ("iso-16889", "")),
    limits={"upstream_count": _COUNT, "filtration_ratio": ">= 1, <= 1000000"},
    example={"upstream_count": "5400 1/mL", "filtration_ratio": "75"},
    cautions=("jet",),
    distrust=("A bypass that is open, a torn element, a seal that was left out: then the count behind hardly falls.",),
)
def downstream_count(*, upstream_count: Value, filtration_ratio: Value) -> Value:
    """What one pass leaves: particles of the filter's size and more, behind it."""
    return upstream_count / filtration_ratio


@formula(
    "Filtering: time for one code",
    result="halving_time",
    limits={"system_volume": _VOLUME, **_TANK},
    trusted=_MIXED,
    origins=_MIXING,
    chart="filter_flow",
    example={"system_volume": "160 L", "filter_flow": "25 L/min", "filtration_ratio": "75"},
    distrust=_TANK_DISTRUST,
)
def halving_time(
    *, system_volume: Value, filter_flow: Value, filtration_ratio: Value, mixing_factor: Value = 0.5
) -> Value:
    """How long the filter takes to halve the particles, which is one code, as long as no new ones come in."""
    filter_efficiency = 1 - 1 / filtration_ratio
    return log(2) * system_volume / (filter_flow * filter_efficiency * mixing_factor)


@formula(
    "Filtering: the floor that ingress sets",
    result="settled_count",
    limits={"ingress_rate": ">= 0 1/min, <= 1e14 1/min", **_TANK},
    trusted=_MIXED,
    origins=_MIXING,
    chart="filter_flow",
    example={"ingress_rate": "2e7 1/min", "filter_flow": "30 L/min", "filtration_ratio": "75"},
    distrust=(
        *_TANK_DISTRUST[:2],
        "The ingress of a machine is rarely known: work it out from a steady count (ingress from a steady count).",
    ),
)
def settled_count(
    *, ingress_rate: Value, filter_flow: Value, filtration_ratio: Value, mixing_factor: Value = 0.5
) -> Value:
    """How clean can it get? As many particles come in as the filter takes; no flushing time gets below that.

    Then only less ingress helps (breather, rod wipers, filling through a filter), or more flow, or a finer filter.
    """
    filter_efficiency = 1 - 1 / filtration_ratio
    return ingress_rate / (filter_flow * filter_efficiency * mixing_factor)


@formula(
    "Ingress from a steady count",
    result="ingress_rate",
    limits={"settled_count": ">= 0 1/mL, <= 100000000 1/mL", **_TANK},
    trusted=_MIXED,
    origins=_MIXING,
    labels={"settled_count": "particles of the filter's size and more, the same in two samples a day apart"},
    example={"settled_count": "1150 1/mL", "filter_flow": "30 L/min", "filtration_ratio": "75"},
    cautions=("jet",),
    distrust=(*_TANK_DISTRUST[:2], "Counts that still fall or rise: then it is not the steady state."),
)
def ingress_from_count(
    *, settled_count: Value, filter_flow: Value, filtration_ratio: Value, mixing_factor: Value = 0.5
) -> Value:
    """How much dirt comes into this machine? Where the count stays the same, as much as the filter takes out."""
    filter_efficiency = 1 - 1 / filtration_ratio
    return settled_count * filter_flow * filter_efficiency * mixing_factor


@formula(
    "Filtering: particles after a time",
    result="cleaned_count",
    limits={
        "start_count": _COUNT,
        "settled_count": ">= 0 1/mL, <= 100000000 1/mL",
        "cleaning_time": ">= 0 min, <= 10000 h",
        "system_volume": _VOLUME,
        **_TANK,
    },
    trusted=_MIXED,
    origins=_MIXING,
    labels={"settled_count": "floor that the ingress sets; 0 where nothing comes in"},
    chart="cleaning_time",
    example={
        "start_count": "20000 1/mL",
        "settled_count": "320 1/mL",
        "cleaning_time": "60 min",
        "system_volume": "160 L",
        "filter_flow": "25 L/min",
        "filtration_ratio": "75",
    },
    distrust=_TANK_DISTRUST,
)
def cleaned_count(
    *,
    start_count: Value,
    settled_count: Value,
    cleaning_time: Value,
    system_volume: Value,
    filter_flow: Value,
    filtration_ratio: Value,
    mixing_factor: Value = 0.5,
) -> Value:
    """How clean is the oil after an hour of filtering? Down by half, and half again, towards the floor."""
    filter_efficiency = 1 - 1 / filtration_ratio
    return settled_count + (start_count - settled_count) * exp(
        -filter_flow * filter_efficiency * mixing_factor * cleaning_time / system_volume
    )


@formula(
    "Filtering: time down to a count",
    result="cleaning_time",
    limits={
        "start_count": _COUNT,
        "wanted_count": _COUNT,
        "settled_count": ">= 0 1/mL, <= 100000000 1/mL",
        "system_volume": _VOLUME,
        **_TANK,
    },
    trusted=_MIXED,
    origins=_MIXING,
    labels={"settled_count": "floor that the ingress sets; 0 where nothing comes in"},
    chart="wanted_count",
    example={
        "start_count": "20000 1/mL",
        "wanted_count": "1300 1/mL",
        "settled_count": "320 1/mL",
        "system_volume": "160 L",
        "filter_flow": "25 L/min",
        "filtration_ratio": "75",
    },
    distrust=(*_TANK_DISTRUST, "A count wanted at or below the floor: it is never reached, and there is no answer."),
)
def cleaning_time(
    *,
    start_count: Value,
    wanted_count: Value,
    settled_count: Value,
    system_volume: Value,
    filter_flow: Value,
    filtration_ratio: Value,
    mixing_factor: Value = 0.5,
) -> Value:
    """How long to filter until a count is reached, against what comes in meanwhile. A sample decides, not the clock."""
    filter_efficiency = 1 - 1 / filtration_ratio
    return (
        system_volume
        / (filter_flow * filter_efficiency * mixing_factor)
        * log((start_count - settled_count) / (wanted_count - settled_count))
    )


@formula(
    "Particles above a size, between two counted sizes",
    result="count_at_size",
    limits={
        "particle_size": ">= 1 µm, <= 100 µm",
        "first_size": ">= 1 µm, <= 100 µm",
        "second_size": ">= 1 µm, <= 100 µm",
        "first_count": _COUNT,
        "second_count": _COUNT,
    },
    chart="particle_size",
    example={
        "particle_size": "9 µm",
        "first_size": "6 µm",
        "second_size": "14 µm",
        "first_count": "900 1/mL",
        "second_count": "60 1/mL",
    },
    distrust=(
        "A straight line between two counts, both scales logarithmic: a way to read between them, no law of dirt.",
        "Outside the two sizes: the line is drawn on, not counted.",
        "Wear that makes one size only, and air or water drops taken for particles by the counter.",
    ),
)
def count_at_size(
    *, particle_size: Value, first_size: Value, second_size: Value, first_count: Value, second_count: Value
) -> Value:
    """How many particles of a size that was not counted? Read between two sizes that were."""
    return first_count * power(
        particle_size / first_size, log(second_count / first_count) / log(second_size / first_size)
    )


@formula(
    "Flow that makes a line turbulent",
    result="turbulent_flow",
    sources=(("flushing-article", "page 2"), ("jelali-kroll-2003", "ch. 3.3.1")),
    limits={
        "tube_bore": "> 1 mm, <= 500 mm",
        "kinematic_viscosity": "> 0.6 mm²/s, <= 5000 mm²/s",
        "wanted_reynolds": ">= 2000, <= 1000000",
    },
    trusted={"wanted_reynolds": (">= 3000, <= 1000000", "Below 3000 the flow may still be smooth: it washes nothing.")},
    origins={"wanted_reynolds": ("handbook", "jelali-kroll-2003")},
    chart="tube_bore",
    example={"tube_bore": "20 mm", "kinematic_viscosity": "14 mm²/s"},
    cautions=("jet", "stored-pressure"),
    distrust=(
        "The widest bore of the run decides; hoses and fittings of another bore are not flushed by the same flow.",
        "Turbulent is the least. One article asks for 25 000 before the wall of a drawn tube feels the flow.",
    ),
)
def turbulent_flow(*, tube_bore: Value, kinematic_viscosity: Value, wanted_reynolds: Value = 4000.0) -> Value:
    """How much flow does flushing this line take? As much as makes the flow tumble and lift what lies there.

    Warm oil helps: with half the viscosity half the flow is enough.
    """
    return pi / 4 * wanted_reynolds * kinematic_viscosity * tube_bore


@formula(
    "Flow for a speed in the line",
    result="velocity_flow",
    limits={"tube_bore": "> 1 mm, <= 500 mm", "wanted_velocity": "> 0 m/s, <= 100 m/s"},
    part=True,
)
def velocity_flow(*, tube_bore: Value, wanted_velocity: Value) -> Value:
    """Speed times the area of the bore."""
    return pi / 4 * tube_bore**2 * wanted_velocity
