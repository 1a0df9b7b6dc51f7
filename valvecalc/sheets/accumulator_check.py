"""Is the precharge right at this temperature, and right for the work?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import accumulator
from valvecalc.primitives import fact, using
from valvecalc.sheet import sheet


class Precharge(NamedTuple):
    """The reading with the gas temperature, the plate, and the pressures and temperature of the work; SI."""

    gas_pressure: Value = None
    gas_temperature: Value = None
    precharge_pressure: Value = None
    precharge_temperature: Value = 293.15
    working_temperature: Value = None
    lowest_working_pressure: Value = None
    highest_working_pressure: Value = None
    gas_volume: Value = None
    atmospheric_pressure_abs: Value = 101325.0


_PRESSURE = "> 0 bar, <= 1000 bar"
_TEMPERATURE = ">= -40 °C, <= 120 °C"


@sheet(
    "Accumulator check: precharge",
    results=(
        "precharge_deviation",
        "expected_gas_pressure",
        "precharge_read",
        "working_precharge",
        "precharge_share",
        "charging_ratio",
        "usable_volume",
        "usable_volume_fast",
    ),
    judged={
        "precharge_deviation": ("within", "precharge-deviation"),
        "precharge_share": ("<=", "precharge-share-most"),
        "charging_ratio": ("<=", "charging-ratio-most"),
    },
    limits={
        "gas_pressure": _PRESSURE,
        "gas_temperature": _TEMPERATURE,
        "precharge_pressure": _PRESSURE,
        "precharge_temperature": _TEMPERATURE,
        "working_temperature": _TEMPERATURE,
        "lowest_working_pressure": _PRESSURE,
        "highest_working_pressure": _PRESSURE,
        "gas_volume": "> 0 L, <= 10000 L",
        "atmospheric_pressure_abs": ">= 0.5 bar, <= 1.2 bar",
    },
    trusted={
        "highest_working_pressure": (
            "> 0 bar, <= 200 bar",
            "Nitrogen above 200 bar is not quite the gas of this law: some per cent off, more in fast changes.",
        )
    },
    origins={
        "precharge_temperature": ("common-practice", ""),
        "atmospheric_pressure_abs": ("standard", "standard-atmosphere"),
    },
    labels={
        "gas_pressure": "pressure read on the gas side, oil side open to tank and at zero",
        "gas_temperature": "temperature of the gas at the reading: of the shell, if it has stood for hours",
        "precharge_pressure": "precharge that the plate or the circuit diagram asks for",
        "precharge_temperature": "temperature that the plate's precharge belongs to",
    },
    example={
        "gas_pressure": "71 bar",
        "gas_temperature": "12 °C",
        "precharge_pressure": "80 bar",
        "working_temperature": "48 °C",
        "lowest_working_pressure": "95 bar",
        "highest_working_pressure": "160 bar",
        "gas_volume": "10 L",
    },
    cautions=("accumulator", "stored-pressure"),
    sources=(("precharge-page", ""), ("sullivan", "examples 12.4 and 12.5")),
    distrust=(
        "A reading with oil behind the bladder or piston is the oil's pressure, never the precharge.",
        "A shell still warm from work or from filling: an error of 10 K is 3 % of the precharge.",
        "Precharge lost twice within a short time: bladder, piston seal or gas valve, no matter of refilling.",
    ),
)
def accumulator_check(state: Precharge) -> Value:
    """Turns a precharge reading to the plate's temperature and to that of the work, and judges it there.

    At work the precharge is to lie below the lowest working pressure, and the gas is not to be squeezed too far.
    """
    expected_gas_pressure = using(state, accumulator.precharge_at_temperature)
    precharge_read = accumulator.precharge_at_temperature(
        precharge_pressure=state.gas_pressure,
        gas_temperature=state.precharge_temperature,
        precharge_temperature=state.gas_temperature,
        atmospheric_pressure_abs=state.atmospheric_pressure_abs,
    )
    precharge_deviation = using(state, accumulator.precharge_off, precharge_read=precharge_read)
    working_precharge = accumulator.precharge_at_temperature(
        precharge_pressure=state.gas_pressure,
        gas_temperature=state.working_temperature,
        precharge_temperature=state.gas_temperature,
        atmospheric_pressure_abs=state.atmospheric_pressure_abs,
    )
    precharge_share = using(state, accumulator.share_of_lower, working_precharge=working_precharge)
    charging_ratio = using(state, accumulator.charging_ratio, working_precharge=working_precharge)
    usable_volume = using(state, accumulator.accumulator_volume, precharge_pressure=working_precharge)
    usable_volume_fast = using(
        state,
        accumulator.accumulator_volume,
        precharge_pressure=working_precharge,
        polytropic_exponent=fact("fast-gas-exponent"),
    )
    return {
        "precharge_deviation": precharge_deviation,
        "expected_gas_pressure": expected_gas_pressure,
        "precharge_read": precharge_read,
        "working_precharge": working_precharge,
        "precharge_share": precharge_share,
        "charging_ratio": charging_ratio,
        "usable_volume": usable_volume,
        "usable_volume_fast": usable_volume_fast,
    }
