"""The oil at its temperature, from what a drum says: viscosity grade, viscosity index, density."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import oil
from valvecalc.primitives import fact, known, solve, table, using
from valvecalc.sheet import sheet


class Oil(NamedTuple):
    """Grade (viscosity at 40 °C), index or viscosity at 100 °C, density at 15 °C, temperature; SI."""

    viscosity_40: Value
    oil_temperature: Value
    viscosity_index: Value = 100.0
    density_15: Value = 875.0
    thermal_expansion: Value = 6.5e-4
    viscosity_100: Value = None


class Trial(NamedTuple):
    """What the index needs besides the viscosity at 100 °C on trial; SI."""

    viscosity_40: Value


_LIMITS = {
    "viscosity_40": "> 2 mm²/s, <= 3500 mm²/s",
    "viscosity_index": ">= 0, <= 400",
    "oil_temperature": ">= -40 °C, <= 150 °C",
    "density_15": ">= 700 kg/m³, <= 1500 kg/m³",
    "thermal_expansion": ">= 0 1/K, <= 0.002 1/K",
    "viscosity_100": "> 2 mm²/s, <= 70 mm²/s",
}


@sheet(
    "Viscosity index of an oil with a trial viscosity at 100 °C",
    results=("viscosity_index",),
    limits={name: _LIMITS[name] for name in ("viscosity_40", "viscosity_100")},
    part=True,
)
def index_at(state: Trial, *, viscosity_100: Value) -> Value:
    """ASTM D2270: procedure A up to 100, procedure B from 100, with L and H from the standard's table."""
    viscosity_40_vi_0 = table(fact("viscosity-index-basis"), "viscosity_100", "viscosity_40_vi_0", viscosity_100)
    viscosity_40_vi_100 = table(fact("viscosity-index-basis"), "viscosity_100", "viscosity_40_vi_100", viscosity_100)
    viscosity_index = (
        oil.viscosity_index_low(
            viscosity_40=state.viscosity_40,
            viscosity_40_vi_0=viscosity_40_vi_0,
            viscosity_40_vi_100=viscosity_40_vi_100,
        )
        if state.viscosity_40 >= viscosity_40_vi_100
        else oil.viscosity_index_high(
            viscosity_40=state.viscosity_40, viscosity_100=viscosity_100, viscosity_40_vi_100=viscosity_40_vi_100
        )
    )
    return {"viscosity_index": viscosity_index}


@sheet(
    "Oil at its temperature",
    results=("viscosity", "kinematic_viscosity", "density", "viscosity_100"),
    limits=_LIMITS,
    origins={
        "viscosity_index": ("common-practice", ""),
        "density_15": ("common-practice", ""),
        "thermal_expansion": ("handbook", "jelali-kroll-2003"),
    },
    chart="oil_temperature",
    example={"viscosity_40": "46 mm²/s", "oil_temperature": "50 °C"},
    sources=(("astm-d341", ""), ("astm-d2270", "procedures A and B")),
    distrust=(
        "A grade is a band: the standard allows 10 % either way, and oil in service drifts further.",
        "Water-based fluids do not follow these lines.",
    ),
)
def oil_state(state: Oil) -> Value:
    """What the grade and the index make of the oil at a temperature: viscosity both ways and density.

    The viscosity at 100 °C is taken if it is known, else found from the index.
    """
    viscosity_100 = known(
        state.viscosity_100,
        solve(
            lambda trial: index_at(state, viscosity_100=trial)["viscosity_index"] - state.viscosity_index,
            fact("least-viscosity-100"),
            state.viscosity_40 if state.viscosity_40 < fact("largest-viscosity-100") else fact("largest-viscosity-100"),
        ),
    )
    kinematic_viscosity = using(state, oil.kinematic_viscosity, viscosity_100=viscosity_100)
    density = using(state, oil.density_at)
    viscosity = oil.dynamic_viscosity(kinematic_viscosity=kinematic_viscosity, density=density)
    return {
        "viscosity": viscosity,
        "kinematic_viscosity": kinematic_viscosity,
        "density": density,
        "viscosity_100": viscosity_100,
    }
