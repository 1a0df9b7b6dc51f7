"""Water hammer in oil lines: the wave, the step of pressure as a valve shuts, and the wall it falls on."""

from valvecalc.formula import Value, formula
from valvecalc.maths import sqrt, where

_DENSITY = "> 0 kg/m³, <= 2000 kg/m³"
_WAVE = "> 1 m/s, <= 3000 m/s"
_SPEED = ">= 0 m/s, <= 200 m/s"
_STEP = ">= 0 bar, <= 5000 bar"
_TIME = "> 0 ms, <= 100 s"
_OIL = {"density": ("common-practice", "")}
_AIR = "Free air slows the wave and softens the step, but only while the pressure is low: never count on it."


@formula(
    "Speed of a pressure wave in a line",
    result="wave_speed",
    sources=(("subramanya", "worked examples 14.11 and 14.15, p. 358"),),
    limits={"effective_bulk_modulus": "> 0.001 GPa, <= 20 GPa", "density": _DENSITY},
    origins=_OIL,
    labels={"effective_bulk_modulus": "stiffness of the oil, its air and the wall together"},
    chart="effective_bulk_modulus",
    example={"effective_bulk_modulus": "1.4 GPa"},
    cautions=("jet",),
    distrust=(
        "A hose counts with its own figure, a third of that of steel tube: measured, not worked out.",
        _AIR,
    ),
)
def wave_speed(*, effective_bulk_modulus: Value, density: Value = 870.0) -> Value:
    """How fast news of a shut valve travels along the line: 1200 to 1400 m/s in steel tube, half of it in hose."""
    return sqrt(effective_bulk_modulus / density)


@formula(
    "Pressure step of oil that is stopped at once",
    result="surge_difference",
    sources=(("daugherty-franzini", "worked example 13.4, p. 462"), ("subramanya", "worked example 14.15, p. 358")),
    limits={"wave_speed": _WAVE, "velocity_change": _SPEED, "density": _DENSITY},
    origins=_OIL,
    chart="velocity_change",
    example={"wave_speed": "1270 m/s", "velocity_change": "4.5 m/s"},
    cautions=("jet", "test-stand"),
    distrust=(
        "The step comes on top of the pressure that stands there already.",
        "A dead end reflects it: at a shut branch the step can be twice as high.",
        "A cylinder that stops with its load: the mass of the load makes its own peak, larger than this.",
    ),
)
def surge_pressure(*, wave_speed: Value, velocity_change: Value, density: Value = 870.0) -> Value:
    """What a valve that shuts in no time does to the pressure before it: about 11 bar for each m/s (Joukowsky)."""
    return density * wave_speed * velocity_change


@formula(
    "Time of a wave to the far end and back",
    result="reflection_time",
    limits={"line_length": "> 0 m, <= 10000 m", "wave_speed": _WAVE},
    labels={"line_length": "length from the valve to the next large volume: pump, accumulator, cylinder, tank"},
    chart="line_length",
    example={"line_length": "6 m", "wave_speed": "1270 m/s"},
    cautions=("jet",),
    distrust=("Branches and changes of bore on the way send part of the wave back earlier.",),
)
def reflection_time(*, line_length: Value, wave_speed: Value) -> Value:
    """How long the step stands before relief comes back: a valve slower than this makes a lower step."""
    return 2 * line_length / wave_speed


@formula(
    "Pressure step with the time of the valve",
    result="real_surge_difference",
    limits={"surge_difference": _STEP, "reflection_time": _TIME, "closing_time": "> 0 ms, <= 100 s"},
    chart="closing_time",
    example={"surge_difference": "50 bar", "reflection_time": "9.4 ms", "closing_time": "40 ms"},
    cautions=("jet", "test-stand"),
    distrust=(
        "Taken for a flow that falls evenly. A spool takes most of the flow away in the last part of its stroke:"
        " a third of the shift time is nearer the truth.",
        "It may come out too low where the wave runs to and fro a few times only: between one and three times 2l/a.",
    ),
)
def slow_surge(*, surge_difference: Value, reflection_time: Value, closing_time: Value) -> Value:
    """The step of a valve that takes its time: whole up to 2l/a, from there it falls as the time grows (Michaud)."""
    return where(closing_time <= reflection_time, surge_difference, surge_difference * reflection_time / closing_time)


@formula(
    "Closing time that keeps a step small",
    result="quiet_closing_time",
    limits={
        "surge_difference": _STEP,
        "reflection_time": _TIME,
        "wanted_surge_difference": "> 0 bar, <= 1000 bar",
    },
    chart="wanted_surge_difference",
    example={"surge_difference": "50 bar", "reflection_time": "9.4 ms", "wanted_surge_difference": "10 bar"},
    cautions=("jet",),
    distrust=(
        "It is the time in which the flow goes, not the shift time on a data sheet.",
        "A wanted step above that of a sudden stop needs no time at all; the figure is then shorter than 2l/a.",
    ),
)
def quiet_closing_time(*, surge_difference: Value, reflection_time: Value, wanted_surge_difference: Value) -> Value:
    """How slowly a valve has to take the flow away for the step to stay under a figure: soft-shift, orifice, ramp."""
    return reflection_time * surge_difference / wanted_surge_difference


@formula(
    "Pull in the wall of a tube",
    result="wall_stress",
    sources=(("barlow-pages", ""),),
    limits={
        "line_pressure": ">= 0 bar, <= 10000 bar",
        "tube_outside_diameter": "> 0 mm, <= 1 m",
        "wall_thickness": "> 0 mm, <= 100 mm",
    },
    labels={"line_pressure": "highest pressure in the tube, steps included"},
    chart="line_pressure",
    example={"line_pressure": "160 bar", "tube_outside_diameter": "16 mm", "wall_thickness": "2 mm"},
    cautions=("tube-rating", "jet"),
    distrust=(
        "It allows no pressure. What is rated decides: tube, hose, fitting, each by its own mark and papers.",
        "Rust, a dent, a kink, a scratch, a thinned bend, a weld: the real pull is higher and the tube is scrap.",
        "Fittings and hose ends give way before the tube; pressure that pulses breaks far below a steady one.",
    ),
)
def wall_stress(*, line_pressure: Value, tube_outside_diameter: Value, wall_thickness: Value) -> Value:
    """How hard the pressure pulls at a tube's wall (Barlow, on the outside diameter): for seeing a danger, no more."""
    return line_pressure * tube_outside_diameter / (2 * wall_thickness)


@formula(
    "Outside of a tube from its bore and its wall",
    result="tube_outside_diameter",
    limits={"tube_bore": "> 0 mm, <= 2 m", "wall_thickness": "> 0 mm, <= 100 mm"},
    part=True,
)
def outside_of_tube(*, tube_bore: Value, wall_thickness: Value) -> Value:
    """Bore and twice the wall."""
    return tube_bore + 2 * wall_thickness
