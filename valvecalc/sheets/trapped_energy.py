"""How much energy stands behind this fitting?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import accumulator, orifice, trapped
from valvecalc.primitives import known, using
from valvecalc.sheet import sheet


class Trapped(NamedTuple):
    """The pressure, the oil shut in with it, and an accumulator on the same line; SI."""

    oil_pressure: Value
    oil_volume: Value = None
    gas_volume: Value = None
    precharge_pressure: Value = None
    bulk_modulus: Value = 1.43e9
    density: Value = 875.0
    atmospheric_pressure_abs: Value = 101325.0


@sheet(
    "Energy behind a fitting",
    results=(
        "stored_energy",
        "oil_energy",
        "gas_energy",
        "decompression_volume",
        "usable_volume",
        "jet_speed",
    ),
    limits={
        "oil_pressure": "> 0 bar, <= 1000 bar",
        "oil_volume": "> 0 mL, <= 100000 L",
        "gas_volume": "> 0 L, <= 10000 L",
        "precharge_pressure": "> 0 bar, <= 1000 bar",
        "bulk_modulus": ">= 0.1 GPa, <= 10 GPa",
        "density": "> 0 kg/m³, <= 2000 kg/m³",
        "atmospheric_pressure_abs": ">= 0.5 bar, <= 1.2 bar",
    },
    trusted={
        "oil_pressure": (
            "> 0 bar, <= 700 bar",
            "Above 700 bar the oil is stiffer and the gas another than this reckons with.",
        )
    },
    origins={
        "bulk_modulus": ("handbook", "jelali-kroll-2003"),
        "density": ("handbook", "jelali-kroll-2003"),
        "atmospheric_pressure_abs": ("standard", "standard-atmosphere"),
    },
    labels={
        "oil_pressure": "highest pressure that may stand on this side",
        "oil_volume": "oil shut in on this side: cylinder, line, block",
    },
    chart="oil_pressure",
    example={
        "oil_pressure": "170 bar",
        "oil_volume": "8 L",
        "gas_volume": "4 L",
        "precharge_pressure": "70 bar",
    },
    cautions=("stored-energy", "stored-pressure", "accumulator", "jet", "falling-load"),
    sources=(("esposito", "examples 2.11 and 2.17"), ("jelali-kroll-2003", "ch. 3.1.2")),
    distrust=(
        "A load on the rod, a spring, hoses that give way and a second pump are not in it; each can hold far more.",
        "An accumulator that was not entered: the figure tells of the oil alone.",
        "A small figure: it judges a danger and allows nothing.",
    ),
)
def trapped_energy(state: Trapped) -> Value:
    """What comes out of a joint that is opened under pressure, how fast, and with how much energy behind it.

    For judging a danger before the work is planned. Zero is proved at a gauge, not worked out.
    """
    oil_energy = using(state, trapped.compression_energy, pressure_change_difference=state.oil_pressure)
    decompression_volume = using(state, trapped.decompression_volume, pressure_change_difference=state.oil_pressure)
    gas_energy = using(state, accumulator.accumulator_energy)
    usable_volume = using(
        state,
        accumulator.accumulator_volume,
        lowest_working_pressure=state.precharge_pressure,
        highest_working_pressure=state.oil_pressure,
    )
    jet_speed = using(state, orifice.jet_speed, pressure_drop=state.oil_pressure)
    both_energies = oil_energy + gas_energy
    stored_energy = known(both_energies, gas_energy, oil_energy)
    return {
        "stored_energy": stored_energy,
        "oil_energy": oil_energy,
        "gas_energy": gas_energy,
        "decompression_volume": decompression_volume,
        "usable_volume": usable_volume,
        "jet_speed": jet_speed,
    }
