"""What does a shifting valve do to the line before it: the step of pressure, and the shift time that keeps it small?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import hammer, lines, oil_under_pressure
from valvecalc.primitives import known, using
from valvecalc.sheet import sheet


class Surge(NamedTuple):
    """The flow that is stopped, the line, the oil, the valve's time, the pressure that stands there; SI."""

    flow: Value
    tube_bore: Value
    line_length: Value
    closing_time: Value = None
    line_pressure: Value = None
    wall_thickness: Value = None
    effective_bulk_modulus: Value = None
    wanted_surge_difference: Value = None
    bulk_modulus: Value = 1.5e9
    elastic_modulus: Value = 210e9
    density: Value = 870.0


@sheet(
    "Water hammer from a shifting valve",
    results=(
        "surge_difference",
        "real_surge_difference",
        "surge_peak_pressure",
        "reflection_time",
        "quiet_closing_time",
        "wave_speed",
        "line_velocity",
        "wall_stress",
        "peak_wall_stress",
    ),
    limits={
        "flow": "> 0 L/min, <= 10000 L/min",
        "tube_bore": "> 0.5 mm, <= 1 m",
        "line_length": "> 0 m, <= 1000 m",
        "closing_time": "> 0 ms, <= 100 s",
        "line_pressure": ">= 0 bar, <= 1000 bar",
        "wall_thickness": "> 0 mm, <= 100 mm",
        "effective_bulk_modulus": "> 0.01 GPa, <= 10 GPa",
        "wanted_surge_difference": "> 0 bar, <= 1000 bar",
        "bulk_modulus": ">= 0.1 GPa, <= 10 GPa",
        "elastic_modulus": "> 0.01 GPa, <= 500 GPa",
        "density": "> 0 kg/m³, <= 2000 kg/m³",
    },
    origins={
        "bulk_modulus": ("handbook", "jelali-kroll-2003"),
        "elastic_modulus": ("common-practice", ""),
        "density": ("common-practice", ""),
    },
    labels={
        "flow": "flow that the valve stops",
        "line_length": "length from the valve to the next large volume: pump, accumulator, cylinder, tank",
        "closing_time": "time in which the flow goes: of a spool about a third of its shift time",
        "wall_thickness": "wall of a steel tube; left empty: a wall that does not give",
        "effective_bulk_modulus": "measured stiffness of oil and wall together, for a hose: 0.5 to 0.57 GPa",
        "bulk_modulus": "stiffness of the oil with its air",
    },
    chart="flow",
    example={
        "flow": "36 L/min",
        "tube_bore": "13 mm",
        "line_length": "6 m",
        "closing_time": "15 ms",
        "line_pressure": "140 bar",
        "wall_thickness": "1.5 mm",
        "wanted_surge_difference": "15 bar",
    },
    cautions=("tube-rating", "test-stand", "jet"),
    sources=(
        ("subramanya", "worked examples 14.11 and 14.15, p. 358"),
        ("daugherty-franzini", "worked example 13.4, p. 462"),
        ("viersma-1980", ""),
    ),
    distrust=(
        "A load that is stopped: its mass drives the pressure higher than the oil's own speed does.",
        "Dead branches double the step, free air softens it, changes of bore send back part of it.",
        "A relief valve is too slow: it opens in 10 to 50 ms, the step is there in one or two.",
        "The pull in the wall allows nothing: tube, hose, fitting and valve bear what their own papers say.",
    ),
)
def water_hammer(line: Surge) -> Value:
    """How high jumps the pressure as the valve shuts, on top of what stands there, and how slow would be quiet?

    A valve that takes the flow away in less than 2l/a makes the whole step; slower ones make less.
    """
    line_velocity = using(line, lines.line_velocity)
    wall_modulus = using(line, oil_under_pressure.tube_wall_modulus)
    with_wall_modulus = using(line, oil_under_pressure.line_bulk_modulus, wall_modulus=wall_modulus)
    effective_bulk_modulus = known(line.effective_bulk_modulus, with_wall_modulus, line.bulk_modulus)
    wave_speed = using(line, hammer.wave_speed, effective_bulk_modulus=effective_bulk_modulus)
    surge_difference = using(line, hammer.surge_pressure, wave_speed=wave_speed, velocity_change=line_velocity)
    reflection_time = using(line, hammer.reflection_time, wave_speed=wave_speed)
    slow_surge = using(line, hammer.slow_surge, surge_difference=surge_difference, reflection_time=reflection_time)
    real_surge_difference = known(slow_surge, surge_difference)
    surge_peak_pressure = line.line_pressure + real_surge_difference
    quiet_closing_time = using(
        line, hammer.quiet_closing_time, surge_difference=surge_difference, reflection_time=reflection_time
    )
    tube_outside_diameter = using(line, hammer.outside_of_tube)
    wall_stress = using(line, hammer.wall_stress, tube_outside_diameter=tube_outside_diameter)
    peak_wall_stress = using(
        line, hammer.wall_stress, line_pressure=surge_peak_pressure, tube_outside_diameter=tube_outside_diameter
    )
    return {
        "surge_difference": surge_difference,
        "real_surge_difference": real_surge_difference,
        "surge_peak_pressure": surge_peak_pressure,
        "reflection_time": reflection_time,
        "quiet_closing_time": quiet_closing_time,
        "wave_speed": wave_speed,
        "line_velocity": line_velocity,
        "wall_stress": wall_stress,
        "peak_wall_stress": peak_wall_stress,
    }
