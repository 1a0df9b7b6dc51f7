"""Oil in a line: its speed, what the line and its fittings take, what height adds."""

from valvecalc.formula import Value, formula
from valvecalc.maths import log, pi, power, sqrt

_FLOW = ">= 0 L/min, <= 10000 L/min"
_BORE = "> 0 mm, <= 2 m"
_SPEED = ">= 0 m/s, <= 200 m/s"
_LENGTH = ">= 0 m, <= 10000 m"
_DENSITY = "> 0 kg/m³, <= 2000 kg/m³"
_VISCOSITY = "> 0.1 mm²/s, <= 100000 mm²/s"
_REYNOLDS = ">= 0.001, <= 1000000000"
_ROUGHNESS = ">= 0 µm, <= 5 mm"
_K = ">= 0, <= 10000"
_SMOOTH = {"wall_roughness": ("judgement", "")}
_ROUND = "A round bore, full of oil: no figure for a flat hose, a kink or half-full drain."


@formula(
    "Speed of the oil in a line",
    result="line_velocity",
    sources=(("cengel-cimbala", "worked example 8-3, p. 360"), ("esposito", "worked example 10-1, p. 367")),
    limits={"flow": _FLOW, "tube_bore": _BORE},
    chart="tube_bore",
    example={"flow": "36 L/min", "tube_bore": "13 mm"},
    distrust=(
        "The size of a hose or thread taken for its bore: measure it inside.",
        "The return line of a cylinder that goes in: it carries more than the pump gives, by the area ratio.",
    ),
)
def line_velocity(*, flow: Value, tube_bore: Value) -> Value:
    """Is the line wide enough? The mean speed of the oil, to hold against the guides for that kind of line."""
    return 4 * flow / (pi * tube_bore**2)


@formula(
    "Smallest bore for a speed",
    result="least_bore",
    sources=(("esposito", "worked example 10-1, p. 367"),),
    limits={"flow": _FLOW, "wanted_velocity": "> 0 m/s, <= 200 m/s"},
    chart="flow",
    example={"flow": "36 L/min", "wanted_velocity": "4 m/s"},
    distrust=(
        "It says nothing of pressure: what tube, hose and fitting bear stands on them and in their papers.",
        "Cold thick oil: a suction line that is fast enough warm may starve the pump cold.",
    ),
)
def bore_for_velocity(*, flow: Value, wanted_velocity: Value) -> Value:
    """The bore that a line has to have so that the oil in it does not pass a speed."""
    return sqrt(4 * flow / (pi * wanted_velocity))


@formula(
    "Reynolds number of a line",
    result="line_reynolds_number",
    sources=(("esposito", "worked examples 4-1 and 4-2, p. 132"), ("massey-ward-smith", "worked example 6.1, p. 196")),
    limits={"line_velocity": _SPEED, "tube_bore": _BORE, "kinematic_viscosity": _VISCOSITY},
    chart="kinematic_viscosity",
    example={"line_velocity": "4.5 m/s", "tube_bore": "13 mm", "kinematic_viscosity": "32 mm²/s"},
    distrust=(
        "Between 2000 and 4000 nobody can tell which way it flows; a bend or a valve close by stirs it earlier.",
    ),
)
def line_reynolds(*, line_velocity: Value, tube_bore: Value, kinematic_viscosity: Value) -> Value:
    """Does the oil run calm or turbulent? Calm below about 2000: there the loss goes with viscosity and flow."""
    return line_velocity * tube_bore / kinematic_viscosity


@formula(
    "Friction factor of a line",
    result="friction_factor",
    sources=(("churchill-1977", ""), ("fluids-1-3-1", "friction.Churchill_1977"), ("cengel-cimbala", "example 8-3")),
    limits={"line_reynolds_number": _REYNOLDS, "wall_roughness": _ROUGHNESS, "tube_bore": _BORE},
    origins=_SMOOTH,
    chart="line_reynolds_number",
    example={"line_reynolds_number": "6500", "tube_bore": "13 mm"},
    distrust=(
        "Between 2000 and 4000 it draws one smooth line through a range in which real lines jump up and down.",
        _ROUND,
    ),
)
def friction_factor(*, line_reynolds_number: Value, tube_bore: Value, wall_roughness: Value = 2e-6) -> Value:
    """One formula from creeping cold oil to full turbulence, smooth wall or rough (Churchill 1977).

    It is 64 over the Reynolds number in calm flow; in turbulent flow it lies within 3.2 % of the implicit formula
    of Colebrook, and it needs no trial.
    """
    laminar_term = 8 / line_reynolds_number
    rough_term = -2.457 * log(power(7 / line_reynolds_number, 0.9) + 0.27 * wall_roughness / tube_bore)
    transition_term = 37530 / line_reynolds_number
    turbulent_term = power(rough_term**16 + transition_term**16, -1 / 8)
    return 8 * laminar_term * power(1 + (turbulent_term / laminar_term) ** 12, 1 / 12)


@formula(
    "Pressure loss from a friction factor",
    result="pipe_drop",
    sources=(("sullivan", "worked example 5.1, p. 82"),),
    limits={
        "friction_factor": "> 0, <= 1000000",
        "line_length": _LENGTH,
        "tube_bore": _BORE,
        "density": _DENSITY,
        "line_velocity": _SPEED,
    },
    part=True,
)
def darcy_drop(
    *, friction_factor: Value, line_length: Value, tube_bore: Value, density: Value, line_velocity: Value
) -> Value:
    """The loss of a straight length, by Darcy and Weisbach."""
    return friction_factor * line_length / tube_bore * density * line_velocity**2 / 2


@formula(
    "Pressure lost in a fitting",
    result="fitting_drop",
    sources=(("esposito", "worked example 4-6, p. 142"),),
    limits={"loss_coefficient": _K, "line_velocity": _SPEED, "density": _DENSITY},
    origins={"density": ("common-practice", "")},
    chart="line_velocity",
    example={"loss_coefficient": "1.5", "line_velocity": "4.5 m/s"},
    cautions=("jet",),
    distrust=(
        "A coefficient of a handbook is one of fast thin oil; thick oil takes several times as much.",
        "The speed belongs to the bore that the coefficient was stated for; a drilled fitting is often narrower.",
    ),
)
def fitting_loss(*, loss_coefficient: Value, line_velocity: Value, density: Value = 870.0) -> Value:
    """What a bend, an elbow or a fitting takes: so many times the dynamic pressure of the oil in the line."""
    return loss_coefficient * density * line_velocity**2 / 2


@formula(
    "Loss coefficient of a fitting, thick oil too",
    result="loss_coefficient",
    sources=(("fluids-1-3-1", "fittings.Hooper2K, examples"), ("hooper-1981", "")),
    limits={
        "laminar_coefficient": ">= 0, <= 100000",
        "turbulent_coefficient": ">= 0, <= 1000",
        "line_reynolds_number": _REYNOLDS,
        "tube_bore": _BORE,
        "reference_bore": ">= 25 mm, <= 26 mm",
    },
    origins={"reference_bore": ("handbook", "hooper-1981")},
    chart="line_reynolds_number",
    example={
        "laminar_coefficient": "1000",
        "turbulent_coefficient": "1.15",
        "line_reynolds_number": "600",
        "tube_bore": "13 mm",
    },
    distrust=(
        "Made for pipe fittings of 1 in and more: for narrow hydraulic fittings it is an estimate, half to double.",
        "A fitting with its own curve of loss against flow: the curve wins.",
    ),
)
def fitting_coefficient(
    *,
    laminar_coefficient: Value,
    turbulent_coefficient: Value,
    line_reynolds_number: Value,
    tube_bore: Value,
    reference_bore: Value = 0.0254,
) -> Value:
    """The two-K form: what a fitting takes in thick cold oil and in thin warm oil, from two figures of a table."""
    return laminar_coefficient / line_reynolds_number + turbulent_coefficient * (1 + reference_bore / tube_bore)


_COUNT = ">= 0, <= 1000"
_TABLE = dict.fromkeys(
    (
        "bend_laminar",
        "bend_turbulent",
        "elbow_laminar",
        "elbow_turbulent",
        "tee_laminar",
        "tee_turbulent",
    ),
    ("handbook", "hooper-1981"),
)


@formula(
    "Laminar coefficients of counted fittings",
    result="laminar_coefficient",
    limits={
        **dict.fromkeys(("bend_count", "elbow_count", "tee_count"), _COUNT),
        **dict.fromkeys(("bend_laminar", "elbow_laminar", "tee_laminar"), _K),
    },
    origins={name: origin for name, origin in _TABLE.items() if name.endswith("laminar")},
    part=True,
)
def counted_laminar(
    *,
    bend_count: Value,
    elbow_count: Value,
    tee_count: Value,
    bend_laminar: Value = 800.0,
    elbow_laminar: Value = 1000.0,
    tee_laminar: Value = 500.0,
) -> Value:
    """Of all bends, drilled elbows and tees together: rows of the table of fittings."""
    return bend_count * bend_laminar + elbow_count * elbow_laminar + tee_count * tee_laminar


@formula(
    "Turbulent coefficients of counted fittings",
    result="turbulent_coefficient",
    limits={
        **dict.fromkeys(("bend_count", "elbow_count", "tee_count"), _COUNT),
        **dict.fromkeys(("bend_turbulent", "elbow_turbulent", "tee_turbulent"), _K),
    },
    origins={name: origin for name, origin in _TABLE.items() if name.endswith("turbulent")},
    part=True,
)
def counted_turbulent(
    *,
    bend_count: Value,
    elbow_count: Value,
    tee_count: Value,
    bend_turbulent: Value = 0.2,
    elbow_turbulent: Value = 1.15,
    tee_turbulent: Value = 0.7,
) -> Value:
    """Of all bends, drilled elbows and tees together: rows of the table of fittings."""
    return bend_count * bend_turbulent + elbow_count * elbow_turbulent + tee_count * tee_turbulent


@formula(
    "Pressure of a column of oil",
    result="column_difference",
    sources=(("army-qm5203", "Mathematics-Cont-22 and Practice-Exercise-Cont-27"),),
    limits={"height": ">= -1000 m, <= 1000 m", "density": _DENSITY, "gravity": ">= 9.7 m/s², <= 9.9 m/s²"},
    origins={"density": ("common-practice", ""), "gravity": ("standard", "si-brochure")},
    labels={"height": "how high the oil stands above the point"},
    chart="height",
    example={"height": "2.5 m"},
    cautions=("stored-pressure",),
    distrust=("Air or foam in a riser: the column is lighter than oil.",),
)
def height_pressure(*, height: Value, density: Value = 870.0, gravity: Value = 9.80665) -> Value:
    """What height does: about 0.085 bar for each metre, more pressure below, less above, whether it flows or not."""
    return density * gravity * height


@formula(
    "Speed over the end of the guides",
    result="velocity_share",
    limits={"line_velocity": _SPEED, "guide_most": "> 0 m/s, <= 200 m/s"},
    part=True,
)
def velocity_share(*, line_velocity: Value, guide_most: Value) -> Value:
    """How much of the highest speed of both guides the oil has."""
    return line_velocity / guide_most


@formula(
    "Pressure at T over what the papers allow",
    result="back_pressure_share",
    limits={"back_pressure": ">= -1 bar, <= 1000 bar", "tank_port_limit": "> 0 bar, <= 1000 bar"},
    part=True,
)
def back_pressure_share(*, back_pressure: Value, tank_port_limit: Value) -> Value:
    """How much of the pressure that the valve's papers allow at T is used."""
    return back_pressure / tank_port_limit
