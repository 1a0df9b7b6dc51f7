"""Three readings of spool and springs, each judged on its own: leakage, clearance, spring load."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, gaps, reading, spring
from valvecalc.primitives import fact, known, using, vary
from valvecalc.sheet import sheet
from valvecalc.sheets.leak_check import LIMITS
from valvecalc.sheets.oil import oil_state


class Collected(NamedTuple):
    """Leakage with its pressure and oil temperature, the new valve's leakage, the oil; SI."""

    leakage: Value
    pressure_drop: Value
    oil_temperature: Value
    new_leakage: Value
    viscosity_40: Value = 46e-6
    reference_oil_temperature: Value = 313.15
    reference_pressure_drop: Value = None
    viscosity_index: Value = 100.0
    viscosity_100: Value = None
    density_15: Value = 875.0
    thermal_expansion: Value = 6.5e-4


@sheet(
    "Leakage against that of a new valve",
    results=("wear_ratio", "clearance_growth", "reference_leakage", "viscosity"),
    judged={"wear_ratio": ("<=", "leakage-usable")},
    limits={name: LIMITS[name] for name in Collected._fields},
    labels={
        "leakage": "oil collected in a minute, one port pair",
        "pressure_drop": "pressure difference during the reading",
        "new_leakage": "leakage of a new sister valve, same port pair, at the reference oil and pressure",
        "reference_pressure_drop": "pressure at which the new valve was read; left empty: the same",
        "reference_oil_temperature": "oil temperature at which the new valve was read",
    },
    origins={
        "viscosity_40": ("common-practice", ""),
        "reference_oil_temperature": ("common-practice", ""),
        "viscosity_index": ("common-practice", ""),
        "density_15": ("common-practice", ""),
        "thermal_expansion": ("handbook", "jelali-kroll-2003"),
    },
    chart="leakage",
    example={
        "leakage": "64 mL/min",
        "pressure_drop": "140 bar",
        "oil_temperature": "47 °C",
        "new_leakage": "21 mL/min",
    },
    cautions=("jet", "test-stand"),
    sources=(("rabie-2009", "eq. 2.19"),),
    distrust=(
        "Wear sits mostly on one edge: test every position and every path; A against B more than two to one shows it.",
        "A tank line shared with a solenoid drain: split them first.",
        "The temperature in the tank is not the temperature in the land: 1 K is 4 % of the reading.",
        "A leak through a hole, a damaged seal or an edge that stands open hardly feels the viscosity.",
    ),
)
def spool_leakage(leak: Collected) -> Value:
    """Is the leakage wear? The reading is turned to the oil and pressure of the new valve's reading first."""
    oil_now = oil_state(leak)
    reference_oil = oil_state(vary(leak, oil_temperature=leak.reference_oil_temperature))
    viscosity = oil_now["viscosity"]
    reference_viscosity = reference_oil["viscosity"]
    reference_pressure_drop = known(leak.reference_pressure_drop, leak.pressure_drop)
    reference_leakage = gaps.leakage_at_reference(
        leakage=leak.leakage,
        viscosity=viscosity,
        reference_viscosity=reference_viscosity,
        pressure_drop=leak.pressure_drop,
        reference_pressure_drop=reference_pressure_drop,
    )
    wear_ratio = using(leak, budget.leakage_ratio, reference_leakage=reference_leakage)
    clearance_growth = reading.growth_from_leakage(wear_ratio=wear_ratio)
    return {
        "wear_ratio": wear_ratio,
        "clearance_growth": clearance_growth,
        "reference_leakage": reference_leakage,
        "viscosity": viscosity,
    }


class Fit(NamedTuple):
    """Bore minus spool as read, and the largest of a new fit if it is known; SI."""

    diametral_clearance: Value
    new_diametral_clearance: Value = None


@sheet(
    "Clearance of a spool",
    results=("clearance", "growth_least", "growth_most", "growth_limit"),
    judged={"clearance": ("within-range", "growth_least", "growth_most", "growth_limit")},
    limits={"diametral_clearance": "> 0 µm, <= 1 mm", "new_diametral_clearance": "> 0 µm, <= 1 mm"},
    labels={
        "diametral_clearance": "bore diameter minus spool diameter, largest of the places measured",
        "new_diametral_clearance": "largest diametral clearance of the new fit; left empty: 6 to 26 µm",
    },
    chart="diametral_clearance",
    example={"diametral_clearance": "17 µm", "new_diametral_clearance": "10 µm"},
    cautions=("stored-pressure", "spring"),
    sources=(("rabie-2009", "eq. 2.19"),),
    distrust=(
        "Spool and bore at different temperatures: let both lie together for two hours.",
        "Two instruments good to 1 µm each are good to about 1.4 µm together: a fifth of the fit.",
        "A land worn at one edge: the clearance in its middle is still that of a new valve; the leakage is not.",
    ),
)
def spool_clearance(fit: Fit) -> Value:
    """Is the fit worn? Half of the diametral reading, against the new fit.

    Where the new fit is not known, the reading is held against the tightest and the loosest that are usual: worn only
    if it is too much even for the loosest, good only if it is right even for the tightest.
    """
    clearance = using(fit, gaps.radial_clearance)
    new_clearance = gaps.radial_clearance(diametral_clearance=fit.new_diametral_clearance)
    largest_new_clearance = known(new_clearance, fact("new-clearance-high"))
    smallest_new_clearance = known(new_clearance, fact("new-clearance-low"))
    growth_least = reading.growth_at_least(clearance=clearance, largest_new_clearance=largest_new_clearance)
    growth_most = reading.growth_at_most(clearance=clearance, smallest_new_clearance=smallest_new_clearance)
    growth_limit = fact("clearance-growth")
    return {
        "clearance": clearance,
        "growth_least": growth_least,
        "growth_most": growth_most,
        "growth_limit": growth_limit,
    }


class Loads(NamedTuple):
    """Load at the fitted length, free length, and what they should be; the other spring of the pair; SI."""

    spring_preload: Value
    nominal_preload: Value = None
    partner_preload: Value = None
    free_length: Value = None
    nominal_free_length: Value = None


_LOAD = "> 0 N, <= 10000 N"
_LENGTH = "> 0 mm, <= 1 m"


@sheet(
    "Load of a spring",
    results=("preload_deviation", "pair_difference", "set_share"),
    judged={
        "preload_deviation": ("within", "spring-load"),
        "pair_difference": ("within", "spring-pair"),
        "set_share": ("<=", "spring-set"),
    },
    limits={
        "spring_preload": _LOAD,
        "nominal_preload": _LOAD,
        "partner_preload": _LOAD,
        "free_length": _LENGTH,
        "nominal_free_length": _LENGTH,
    },
    labels={
        "spring_preload": "load of the spring pressed to its fitted length",
        "nominal_preload": "load that the valve's documents, or a new spring, give at that length",
        "partner_preload": "load of the other centring spring at the same length",
        "nominal_free_length": "free length of a new spring",
        "preload_deviation": "load against what it should be",
        "pair_difference": "difference of the two springs of the pair",
    },
    example={"spring_preload": "16.9 N", "nominal_preload": "19 N", "partner_preload": "18.4 N"},
    cautions=("spring",),
    distrust=(
        "Two springs that are unlike by design: ask the valve's documents before you match them.",
        "A kitchen scale or a hand-held gauge: friction of the guide alone can be a tenth of the load.",
    ),
)
def spring_load(read: Loads) -> Value:
    """Is the spring good? Its load against what belongs to the length, against its partner, and the length it lost."""
    preload_deviation = using(read, spring.preload_deviation)
    pair_difference = using(read, spring.pair_difference)
    set_share = using(read, spring.set_share)
    return {
        "preload_deviation": preload_deviation,
        "pair_difference": pair_difference,
        "set_share": set_share,
    }
