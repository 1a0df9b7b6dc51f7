"""What a line loses with an oil of known viscosity: the sheets about lines stand on it."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import line_loss, lines
from valvecalc.primitives import using
from valvecalc.sheet import sheet


class Line(NamedTuple):
    """The line, what sits in it, how much higher its end lies; SI."""

    flow: Value
    tube_bore: Value
    line_length: Value
    bend_count: Value
    elbow_count: Value
    tee_count: Value
    extra_coefficient: Value
    component_drop: Value
    height: Value
    wall_roughness: Value


#: Limits, origins and words of the entries that the sheets about lines have in common.
LIMITS = {
    "flow": "> 0 L/min, <= 10000 L/min",
    "tube_bore": "> 0.5 mm, <= 1 m",
    "line_length": ">= 0 m, <= 1000 m",
    "viscosity_40": "> 2 mm²/s, <= 3500 mm²/s",
    "oil_temperature": ">= -40 °C, <= 150 °C",
    "cold_oil_temperature": ">= -40 °C, <= 150 °C",
    "bend_count": ">= 0, <= 100",
    "elbow_count": ">= 0, <= 100",
    "tee_count": ">= 0, <= 100",
    "extra_coefficient": ">= 0, <= 1000",
    "component_drop": ">= 0 bar, <= 500 bar",
    "height": ">= -100 m, <= 100 m",
    "wall_roughness": ">= 0 µm, <= 1 mm",
    "viscosity_index": ">= 0, <= 400",
    "density_15": ">= 700 kg/m³, <= 1500 kg/m³",
    "thermal_expansion": ">= 0 1/K, <= 0.002 1/K",
    "viscosity_100": "> 2 mm²/s, <= 70 mm²/s",
}
ORIGINS = {
    **dict.fromkeys(
        ("bend_count", "elbow_count", "tee_count", "extra_coefficient", "component_drop", "height"), ("judgement", "")
    ),
    "wall_roughness": ("judgement", ""),
    "viscosity_index": ("common-practice", ""),
    "density_15": ("common-practice", ""),
    "thermal_expansion": ("handbook", "jelali-kroll-2003"),
}
LABELS = {
    "oil_temperature": "temperature of the oil in the line at work",
    "component_drop": "loss of filter, cooler, check valve or valve in this line, by its papers, at this flow",
    "wall_roughness": "unevenness inside: 2 µm drawn tube and hose, 50 µm rusty or hot-finished pipe",
}
SOURCES = (("churchill-1977", ""), ("hooper-1981", ""), ("astm-d341", ""))
DISTRUST = (
    "The size of a hose, tube or thread taken for the bore: 10 % in the bore is half the loss again.",
    "Fittings of hydraulics are narrow: their loss is an estimate, half to double.",
    "Between Reynolds numbers of 2000 and 4000 the real loss jumps between two laws; one smooth line is drawn.",
)


@sheet(
    "Loss of a line with an oil of known viscosity",
    results=(
        "line_drop",
        "flow_drop",
        "pipe_drop",
        "fitting_drop",
        "column_difference",
        "line_velocity",
        "line_reynolds_number",
    ),
    limits={
        **{name: LIMITS[name] for name in Line._fields},
        "kinematic_viscosity": "> 0.1 mm²/s, <= 100000 mm²/s",
        "density": "> 0 kg/m³, <= 2000 kg/m³",
    },
    part=True,
)
def line_drops(line: Line, *, kinematic_viscosity: Value, density: Value) -> Value:
    """Straight length, bends and fittings, components and height, one after the other."""
    line_velocity = using(line, lines.line_velocity)
    line_reynolds_number = using(
        line, lines.line_reynolds, line_velocity=line_velocity, kinematic_viscosity=kinematic_viscosity
    )
    pipe_drop = using(line, line_loss.line_loss, kinematic_viscosity=kinematic_viscosity, density=density)
    laminar_coefficient = using(line, lines.counted_laminar)
    turbulent_coefficient = using(line, lines.counted_turbulent)
    counted_coefficient = using(
        line,
        lines.fitting_coefficient,
        laminar_coefficient=laminar_coefficient,
        turbulent_coefficient=turbulent_coefficient,
        line_reynolds_number=line_reynolds_number,
    )
    loss_coefficient = counted_coefficient + line.extra_coefficient
    fitting_drop = lines.fitting_loss(loss_coefficient=loss_coefficient, line_velocity=line_velocity, density=density)
    flow_drop = pipe_drop + fitting_drop + line.component_drop
    column_difference = using(line, lines.height_pressure, density=density)
    line_drop = flow_drop + column_difference
    return {
        "line_drop": line_drop,
        "flow_drop": flow_drop,
        "pipe_drop": pipe_drop,
        "fitting_drop": fitting_drop,
        "column_difference": column_difference,
        "line_velocity": line_velocity,
        "line_reynolds_number": line_reynolds_number,
    }
