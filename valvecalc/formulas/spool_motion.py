"""The moving spool: oil that has to change ends, drag, the jolt of the flow, and the detent that holds it."""

from valvecalc.formula import Value, formula
from valvecalc.formulas import orifice
from valvecalc.maths import cos, pi, sqrt

_DIAMETER = "> 1 mm, <= 200 mm"
_DENSITY = ">= 700 kg/m³, <= 1500 kg/m³"
_SPEED = ">= 0 m/s, <= 10 m/s"
_COEFFICIENT = "> 0.3, <= 1"


@formula(
    "Force of the oil that changes ends while the spool moves",
    result="end_chamber_force",
    sources=(("rabie-2009", "eq. 2.39"), ("jelali-kroll-2003", "ch. 3.3")),
    limits={
        "spool_diameter": _DIAMETER,
        "spool_speed": _SPEED,
        "passage_diameter": "> 0.1 mm, <= 50 mm",
        "density": _DENSITY,
        "discharge_coefficient": _COEFFICIENT,
    },
    labels={"passage_diameter": "narrowest hole between the end chambers: tube vent, damping screw, drilling"},
    origins={"discharge_coefficient": ("handbook", "rabie-2009")},
    chart="passage_diameter",
    example={
        "spool_diameter": "13 mm",
        "spool_speed": "100 mm/s",
        "passage_diameter": "1.2 mm",
        "density": "857 kg/m³",
    },
    cautions=("trapped-volume",),
    distrust=(
        "A long narrow drilling or thick cold oil: the flow turns laminar and the force is larger.",
        "It slows the spool and cannot stall it: at rest there is none, unless the passage is shut.",
    ),
)
def end_chamber_force(
    *,
    spool_diameter: Value,
    spool_speed: Value,
    passage_diameter: Value,
    density: Value,
    discharge_coefficient: Value = 0.61,
) -> Value:
    """How much a damping screw or a half blocked vent holds the spool back at a given speed.

    The spool pushes its own end area of oil from one end to the other. Half the hole, sixteen times the force.
    """
    spool_area = pi / 4 * spool_diameter**2
    hole_area = pi / 4 * passage_diameter**2
    flow = spool_area * spool_speed
    end_chamber_drop = orifice.orifice_drop(
        flow=flow, discharge_coefficient=discharge_coefficient, area=hole_area, density=density
    )
    return end_chamber_drop * spool_area


@formula(
    "Stiffness of a shut end chamber",
    result="block_rate",
    limits={
        "spool_diameter": _DIAMETER,
        "trapped_volume": "> 0 mL, <= 1 L",
        "bulk_modulus": "> 0.01 GPa, <= 5 GPa",
    },
    origins={"bulk_modulus": ("judgement", "")},
    chart="trapped_volume",
    example={"spool_diameter": "13 mm", "trapped_volume": "2.5 mL"},
    cautions=("trapped-volume", "stored-pressure"),
    distrust=("Air in the chamber: then the spool moves and springs back, and the stiffness is far smaller.",),
)
def trapped_stiffness(*, spool_diameter: Value, trapped_volume: Value, bulk_modulus: Value = 1.6e9) -> Value:
    """Why a spool with a plugged vent or drain feels welded in: the oil shut in at its end is a hydraulic block.

    10 000 N/mm are 10 N for each µm: neither coil nor thumb moves the spool by more than a few µm.
    """
    spool_area = pi / 4 * spool_diameter**2
    return bulk_modulus * spool_area**2 / trapped_volume


@formula(
    "Transient flow force of a moving spool",
    result="transient_force",
    sources=(("jelali-kroll-2003", "eq. 3.91 and 3.92"),),
    limits={
        "damping_length": ">= 0 mm, <= 200 mm",
        "spool_diameter": _DIAMETER,
        "spool_speed": _SPEED,
        "pressure_drop": ">= 0 bar, <= 1000 bar",
        "density": _DENSITY,
        "discharge_coefficient": _COEFFICIENT,
        "open_circumference": "> 0, <= 1",
    },
    labels={"pressure_drop": "pressure difference over the moving edge"},
    origins={
        "discharge_coefficient": ("handbook", "jelali-kroll-2003"),
        "open_circumference": ("judgement", ""),
    },
    chart="spool_speed",
    example={
        "damping_length": "14 mm",
        "spool_diameter": "13 mm",
        "spool_speed": "150 mm/s",
        "pressure_drop": "90 bar",
        "density": "857 kg/m³",
    },
    cautions=("test-stand",),
    distrust=(
        "The pressure at the edge changes while it opens: that part is not in it.",
        "Whether it brakes or drives turns with the way of the oil through the chamber; two chambers cancel in part.",
    ),
)
def transient_force(
    *,
    damping_length: Value,
    spool_diameter: Value,
    spool_speed: Value,
    pressure_drop: Value,
    density: Value,
    discharge_coefficient: Value = 0.65,
    open_circumference: Value = 1.0,
) -> Value:
    """How large the jolt is that the oil in the spool's chamber gives as the flow grows: mostly small, rarely a cause.

    Density times damping length times the growth of the flow, while the edge opens at the spool's speed.
    """
    return (
        damping_length
        * discharge_coefficient
        * open_circumference
        * pi
        * spool_diameter
        * spool_speed
        * sqrt(2 * density * pressure_drop)
    )


@formula(
    "Drag of the oil film on a moving spool",
    result="drag_force",
    sources=(("shaft-exercise", ""),),
    limits={
        "viscosity": "> 0 mPa·s, <= 100 Pa·s",
        "spool_diameter": _DIAMETER,
        "gap_length": "> 0 mm, <= 1 m",
        "spool_speed": _SPEED,
        "clearance": "> 0 µm, <= 1 mm",
    },
    chart="viscosity",
    example={
        "viscosity": "30 mPa·s",
        "spool_diameter": "13 mm",
        "gap_length": "42 mm",
        "spool_speed": "200 mm/s",
        "clearance": "5 µm",
    },
    distrust=(
        "A spool that lies on one side of its bore: the drag is larger.",
        "It slows a cold spool and cannot stall it: without speed there is none.",
    ),
)
def viscous_drag(
    *, viscosity: Value, spool_diameter: Value, gap_length: Value, spool_speed: Value, clearance: Value
) -> Value:
    """What cold oil takes from a moving spool: the film between land and bore is sheared.

    Ten times the viscosity, ten times the drag: it stretches the shift time on a cold morning.
    """
    return viscosity * pi * spool_diameter * gap_length * spool_speed / clearance


@formula(
    "Holding force of a ball detent",
    result="detent_force",
    limits={
        "ball_count": ">= 1, <= 20",
        "ball_force": ">= 0 N, <= 2000 N",
        "flank_angle": "> 0 °, <= 70 °",
        "friction_coefficient": ">= 0, <= 0.3",
    },
    labels={"friction_coefficient": "friction between ball and flank"},
    origins={"friction_coefficient": ("common-practice", "")},
    chart="flank_angle",
    example={"ball_count": "2", "ball_force": "9 N", "flank_angle": "45°"},
    cautions=("spring",),
    distrust=(
        "Worn flanks and flattened balls: they lie flatter and hold less than the drawing says.",
        "A ball that jams in its bore: it holds more, or nothing at all.",
    ),
)
def detent_force(
    *, ball_count: Value, ball_force: Value, flank_angle: Value, friction_coefficient: Value = 0.12
) -> Value:
    """What a detent holds the spool with, coil off: too little lets go under vibration, too much stops the coil.

    Balls pressed into a groove climb its flank: a steeper flank and more friction hold harder.
    """
    flank_tangent = sqrt(1 - cos(flank_angle) ** 2) / cos(flank_angle)
    return ball_count * ball_force * (flank_tangent + friction_coefficient) / (1 - friction_coefficient * flank_tangent)
