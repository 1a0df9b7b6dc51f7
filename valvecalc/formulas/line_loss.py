"""What a straight line loses: speed, Reynolds number, friction factor and loss in one."""

from valvecalc.formula import Value, formula
from valvecalc.formulas import lines


@formula(
    "Pressure loss of a straight line",
    result="pipe_drop",
    sources=(
        ("esposito", "worked examples 4-3 and 4-4, pp. 132 and 134"),
        ("massey-ward-smith", "worked example 6.1, p. 196"),
        ("sullivan", "worked example 5.2, p. 84"),
        ("cengel-cimbala", "worked examples 8-1 and 8-3, pp. 349 and 360"),
        ("churchill-1977", ""),
    ),
    limits={
        "flow": "> 0 L/min, <= 20000 L/min",
        "tube_bore": "> 0.1 mm, <= 2 m",
        "line_length": ">= 0 m, <= 10000 m",
        "kinematic_viscosity": "> 0.1 mm²/s, <= 100000 mm²/s",
        "density": "> 0 kg/m³, <= 2000 kg/m³",
        "wall_roughness": ">= 0 µm, <= 5 mm",
    },
    origins={"density": ("common-practice", ""), "wall_roughness": ("judgement", "")},
    chart="flow",
    example={"flow": "36 L/min", "tube_bore": "13 mm", "line_length": "9 m", "kinematic_viscosity": "32 mm²/s"},
    cautions=("jet",),
    distrust=(
        "Bends, fittings, couplings and hose ends: on a short line they take more than the tube itself.",
        "Cold oil: in calm flow the loss goes with the viscosity, ten times as thick is ten times the loss.",
        "A round bore, full of oil: no figure for a flat hose, a kink or a half-full drain.",
    ),
)
def line_loss(
    *,
    flow: Value,
    tube_bore: Value,
    line_length: Value,
    kinematic_viscosity: Value,
    density: Value = 870.0,
    wall_roughness: Value = 2e-6,
) -> Value:
    """What a straight tube or hose takes from the pressure, thick oil or thin: the bore counts to the fourth power."""
    line_velocity = lines.line_velocity(flow=flow, tube_bore=tube_bore)
    line_reynolds_number = lines.line_reynolds(
        line_velocity=line_velocity, tube_bore=tube_bore, kinematic_viscosity=kinematic_viscosity
    )
    friction_factor = lines.friction_factor(
        line_reynolds_number=line_reynolds_number, tube_bore=tube_bore, wall_roughness=wall_roughness
    )
    return friction_factor * line_length / tube_bore * density * line_velocity**2 / 2
