"""Springs of the valve: force, rate, preload."""

from valvecalc.formula import Value, formula

_LENGTH = "> 0 mm, <= 1 m"


@formula(
    "Spring force at a position",
    result="spring_force",
    sources=(("esposito", "example 8-1"),),
    limits={
        "spring_preload": ">= 0 N, <= 100000 N",
        "spring_rate": ">= 0 N/mm, <= 10000 N/mm",
        "position": ">= 0 mm, <= 100 mm",
    },
    chart="position",
    example={"spring_preload": "18 N", "spring_rate": "5.2 N/mm", "position": "2.5 mm"},
    cautions=("spring",),
    distrust=("Both centring springs on the spool at once: with captive washers only the far one works.",),
)
def spring_force(*, spring_preload: Value, spring_rate: Value, position: Value) -> Value:
    """Force of the spring that works against the shifting spool."""
    return spring_preload + spring_rate * position


@formula(
    "Spring rate from loads at two lengths",
    result="spring_rate",
    sources=(("esposito", "example 9-3"),),
    limits={
        "load_1": ">= 0 N, <= 100000 N",
        "load_2": ">= 0 N, <= 100000 N",
        "length_1": _LENGTH,
        "length_2": _LENGTH,
    },
    example={"load_1": "18 N", "load_2": "31 N", "length_1": "22 mm", "length_2": "19.5 mm"},
    cautions=("spring",),
    distrust=("Two lengths close together: the reading errors of both loads go into a small difference.",),
)
def spring_rate_from_loads(*, load_1: Value, load_2: Value, length_1: Value, length_2: Value) -> Value:
    """The measured rate: press to two lengths, read both loads. Better than any rate from the wire."""
    return (load_2 - load_1) / (length_1 - length_2)


@formula(
    "Spring rate from the wire",
    result="spring_rate",
    sources=(("bhavikatti", "example 6.22"), ("levinson", "example 10.9")),
    limits={
        "wire_diameter": "> 0 mm, <= 100 mm",
        "mean_diameter": "> 0 mm, <= 1 m",
        "active_coils": "> 0, <= 1000",
        "shear_modulus": "> 0 MPa, <= 200000 MPa",
    },
    chart="wire_diameter",
    example={
        "wire_diameter": "1.4 mm",
        "mean_diameter": "10 mm",
        "active_coils": "7",
        "shear_modulus": "81500 MPa",
    },
    distrust=(
        "As an acceptance figure: 1 % more wire is 4 % more rate. It tells only whether the spring can be right.",
        "Wire other than round, coils that touch.",
    ),
)
def spring_rate_from_wire(
    *, wire_diameter: Value, mean_diameter: Value, active_coils: Value, shear_modulus: Value
) -> Value:
    """Rate of a round-wire compression spring, to tell a mixed-up spring from the right one."""
    return shear_modulus * wire_diameter**4 / (8 * mean_diameter**3 * active_coils)


@formula(
    "Spring preload at the fitted length",
    result="spring_preload",
    limits={"free_length": _LENGTH, "installed_length": _LENGTH, "spring_rate": "> 0 N/mm, <= 10000 N/mm"},
    example={"free_length": "25.5 mm", "installed_length": "22 mm", "spring_rate": "5.2 N/mm"},
    cautions=("spring",),
    distrust=("A spring that has set: measure its free length now, not on the drawing.",),
)
def preload_at_length(*, free_length: Value, installed_length: Value, spring_rate: Value) -> Value:
    """Force of the spring with the valve at rest. Half a millimetre of set can be a fifth of it."""
    return spring_rate * (free_length - installed_length)
