"""What a supply gives a coil: means behind diodes and switches, the wrong voltage, coils that share, AC."""

from valvecalc.formula import Value, formula
from valvecalc.maths import pi, power, sqrt, where

_VOLTAGE = "> 0 V, <= 1000 V"
_RESISTANCE = "> 0 Ω, <= 100 kΩ"
_DROP = ">= 0 V, <= 5 V"
_DROP_ORIGIN = {"diode_drop": ("judgement", "")}
_FREQUENCY = "> 0 Hz, <= 1000 Hz"


@formula(
    "Mean voltage behind one diode (half wave)",
    result="mean_voltage",
    sources=(("malvino", "example 4-2, p. 95"),),
    limits={"rms_voltage": _VOLTAGE, "diode_drop": _DROP},
    origins=_DROP_ORIGIN,
    chart="rms_voltage",
    example={"rms_voltage": "42 V", "diode_drop": "0.7 V"},
    cautions=("live-circuit",),
    distrust=(
        "A capacitor behind the diode: the mean then climbs towards the peak.",
        "A diode across the coil keeps the current going in the gaps; without one the mean falls below this.",
    ),
)
def half_wave_mean(*, rms_voltage: Value, diode_drop: Value = 0.0) -> Value:
    """What a DC coil gets from AC through one diode: 0.45 of the RMS voltage, less the diode's share.

    A bridge of which one diode is open gives this too: half the volts, a quarter of the force.
    """
    return (sqrt(2.0) * rms_voltage - diode_drop) / pi


@formula(
    "Mean voltage behind a bridge (full wave)",
    result="mean_voltage",
    limits={"rms_voltage": _VOLTAGE, "diode_drop": _DROP},
    origins=_DROP_ORIGIN,
    chart="rms_voltage",
    example={"rms_voltage": "42 V", "diode_drop": "1.4 V"},
    cautions=("live-circuit",),
    distrust=("A capacitor behind the bridge: the mean then climbs towards the peak, 1.4 of the RMS voltage.",),
)
def full_wave_mean(*, rms_voltage: Value, diode_drop: Value = 0.0) -> Value:
    """What a DC coil gets from AC through a bridge: 0.9 of the RMS voltage, less the drop of two diodes.

    That is why a coil for 205 V DC belongs behind a bridge on 230 V AC, and one for 98 V on 110 V.
    """
    return 2 * (sqrt(2.0) * rms_voltage - diode_drop) / pi


@formula(
    "Voltage behind a bridge with a capacitor",
    result="peak_voltage",
    sources=(("malvino", "example 4-2, p. 95"),),
    limits={"rms_voltage": _VOLTAGE, "diode_drop": _DROP},
    origins=_DROP_ORIGIN,
    example={"rms_voltage": "42 V", "diode_drop": "1.4 V"},
    cautions=("live-circuit",),
    distrust=("Under load the capacitor sags between the peaks: a DC meter then shows less than this.",),
)
def rectified_peak(*, rms_voltage: Value, diode_drop: Value = 0.0) -> Value:
    """Peak of the rectified wave: what a smoothing capacitor charges to when hardly anything is drawn.

    1.4 times the RMS voltage: a coil for the transformer's nominal voltage gets twice its heat here.
    """
    return sqrt(2.0) * rms_voltage - diode_drop


@formula(
    "Mean voltage of a pulsed output (PWM, reduced hold)",
    result="mean_voltage",
    limits={"rail_voltage": _VOLTAGE, "on_share": ">= 0 %, <= 100 %", "diode_drop": _DROP},
    origins=_DROP_ORIGIN,
    chart="on_share",
    example={"rail_voltage": "46 V", "on_share": "40 %", "diode_drop": "0.7 V"},
    cautions=("live-circuit",),
    distrust=(
        "A meter's AC range: it shows neither the mean nor the true RMS of pulses.",
        "Pulses slower than about 100 a second: the coil's current follows them and the armature hums.",
    ),
)
def pulsed_mean(*, rail_voltage: Value, on_share: Value, diode_drop: Value = 0.0) -> Value:
    """What drives a DC coil at an output that switches fast: on-share times voltage, less the diode in the gaps."""
    return on_share * rail_voltage - (1 - on_share) * diode_drop


@formula(
    "True RMS behind one diode",
    result="effective_voltage",
    limits={"rms_voltage": _VOLTAGE},
    part=True,
)
def half_wave_effective(*, rms_voltage: Value) -> Value:
    """Half the time nothing: the square halves."""
    return rms_voltage / sqrt(2.0)


@formula(
    "True RMS of pulses",
    result="effective_voltage",
    limits={"rail_voltage": _VOLTAGE, "on_share": ">= 0 %, <= 100 %"},
    part=True,
)
def pulsed_effective(*, rail_voltage: Value, on_share: Value) -> Value:
    """The square is there for the share of the time."""
    return rail_voltage * sqrt(on_share)


@formula(
    "Voltage that the supply really gives",
    result="rail_voltage",
    limits={"supply_voltage": _VOLTAGE, "voltage_factor": "> 0, <= 2"},
    part=True,
)
def rail(*, supply_voltage: Value, voltage_factor: Value) -> Value:
    """A battery on its charger stands above its name."""
    return supply_voltage * voltage_factor


@formula(
    "Deviation of a reading at the plug",
    result="reading_deviation",
    limits={"plug_voltage": ">= 0 V", "expected_voltage": "> 0 V"},
    part=True,
)
def reading_deviation(*, plug_voltage: Value, expected_voltage: Value) -> Value:
    """How far the reading lies from what the supply should give, as a share of that."""
    return (plug_voltage - expected_voltage) / expected_voltage


@formula(
    "Heat of a coil at another voltage",
    result="heat_ratio",
    limits={"coil_voltage": ">= 0 V, <= 1000 V", "nominal_voltage": _VOLTAGE},
    trusted={"coil_voltage": (">= 0 V, <= 400 V", "No coil of a valve is made for this.")},
    chart="coil_voltage",
    example={"coil_voltage": "96 V", "nominal_voltage": "48 V"},
    cautions=("hot-coil", "live-circuit"),
    distrust=("AC coils: there the current follows the reactance and the gap.",),
)
def wrong_voltage_heat(*, coil_voltage: Value, nominal_voltage: Value) -> Value:
    """How many times its own heat a DC coil makes at a voltage it is not made for, winding still cold.

    Twice the voltage is four times the heat and burns the coil, half the voltage a quarter of the force.
    """
    return (coil_voltage / nominal_voltage) ** 2


@formula(
    "Force share at another voltage",
    result="force_ratio",
    limits={
        "coil_voltage": ">= 0 V, <= 1000 V",
        "nominal_voltage": _VOLTAGE,
        "exponent_below": ">= 1, <= 2",
        "exponent_above": ">= 0, <= 2",
    },
    origins={"exponent_below": ("common-practice", ""), "exponent_above": ("judgement", "")},
    part=True,
)
def force_at_voltage(
    *, coil_voltage: Value, nominal_voltage: Value, exponent_below: Value = 2.0, exponent_above: Value = 1.2
) -> Value:
    """The square below nominal; above it the iron fills up and less is credited."""
    voltage_ratio = coil_voltage / nominal_voltage
    return where(voltage_ratio <= 1, power(voltage_ratio, exponent_below), power(voltage_ratio, exponent_above))


@formula(
    "Voltage over one of two coils in series",
    result="coil_voltage",
    limits={"source_voltage": _VOLTAGE, "first_resistance": _RESISTANCE, "second_resistance": _RESISTANCE},
    example={"source_voltage": "46 V", "first_resistance": "92 Ω", "second_resistance": "92 Ω"},
    cautions=("live-circuit",),
    distrust=("One coil warmer than the other takes the larger share.",),
)
def series_coil_voltage(*, source_voltage: Value, first_resistance: Value, second_resistance: Value) -> Value:
    """What each coil gets when two were wired one behind the other by mistake: half, so a quarter of the force."""
    return source_voltage * first_resistance / (first_resistance + second_resistance)


@formula(
    "What an ohmmeter reads over two coils side by side",
    result="resistance",
    limits={"first_resistance": _RESISTANCE, "second_resistance": _RESISTANCE},
    example={"first_resistance": "92 Ω", "second_resistance": "92 Ω"},
    cautions=("live-circuit",),
    distrust=("Electronics or a diode in the plug: then the ohmmeter reads those as well.",),
)
def parallel_coils(*, first_resistance: Value, second_resistance: Value) -> Value:
    """Half of one coil's ohms is no shorted winding where both coils hang on the same wires: unplug one, read again."""
    return first_resistance * second_resistance / (first_resistance + second_resistance)


@formula(
    "Current of a coil on AC",
    result="current",
    sources=(("bird-circuit", "problem 15.07"),),
    limits={
        "rms_voltage": _VOLTAGE,
        "resistance": _RESISTANCE,
        "inductance": "> 0 H, <= 1000 H",
        "frequency": _FREQUENCY,
    },
    chart="inductance",
    example={"rms_voltage": "110 V", "resistance": "45 Ω", "inductance": "0.9 H", "frequency": "50 Hz"},
    cautions=("live-circuit", "hot-coil"),
    distrust=("Inductance follows the gap: a closed armature has several times that of an open one.",),
)
def ac_current(*, rms_voltage: Value, resistance: Value, inductance: Value, frequency: Value) -> Value:
    """What an AC coil draws: its ohms alone would let many times as much through."""
    reactance = 2 * pi * frequency * inductance
    impedance = sqrt(resistance**2 + reactance**2)
    return rms_voltage / impedance


@formula(
    "Inductance from volts, amps and ohms on AC",
    result="inductance",
    limits={
        "rms_voltage": _VOLTAGE,
        "current": "> 0 A, <= 100 A",
        "resistance": _RESISTANCE,
        "frequency": _FREQUENCY,
    },
    labels={"rms_voltage": "AC voltage at the coil", "current": "AC current that flows then"},
    example={"rms_voltage": "12.0 V", "current": "94 mA", "resistance": "92 Ω", "frequency": "50 Hz"},
    cautions=("live-circuit", "hot-coil"),
    distrust=(
        "A DC coil with solid iron: eddy currents make it read too small, by up to half. Good to compare two coils.",
        "Volts over amps hardly above the ohms: then a small difference decides.",
    ),
)
def inductance_from_ac(*, rms_voltage: Value, current: Value, resistance: Value, frequency: Value) -> Value:
    """Inductance of a coil, from a few volts AC and the current they drive; armature open or held closed.

    Low AC voltage from a transformer is enough, coil on its tube. With shorted turns it is far below its sister's.
    """
    return sqrt((rms_voltage / current) ** 2 - resistance**2) / (2 * pi * frequency)


@formula(
    "Heat of an AC coil whose armature stays open",
    result="heat_ratio",
    limits={"inrush_current": "> 0 A, <= 100 A", "holding_current": "> 0 A, <= 100 A"},
    labels={
        "inrush_current": "AC current with the armature held open (or VA at inrush over volts)",
        "holding_current": "AC current with the armature closed (or VA holding over volts)",
    },
    chart="inrush_current",
    example={"inrush_current": "1.30 A", "holding_current": "0.38 A"},
    cautions=("hot-coil", "live-circuit"),
    distrust=("A thermal fuse in the coil ends the story earlier.",),
)
def stuck_open_heat(*, inrush_current: Value, holding_current: Value) -> Value:
    """How many times its steady heat an AC coil makes while its spool sticks half way: it burns in seconds to minutes.

    So an AC coil found burnt speaks of a stuck spool, of both coils on at once, or of power on without its tube.
    A DC coil draws the same current whatever its armature does; burnt it speaks of voltage or heat round it.
    """
    return (inrush_current / holding_current) ** 2


@formula(
    "Force of an AC coil at another frequency or voltage",
    result="force_ratio",
    limits={
        "rms_voltage": _VOLTAGE,
        "nominal_voltage": _VOLTAGE,
        "frequency": _FREQUENCY,
        "nominal_frequency": _FREQUENCY,
    },
    chart="frequency",
    example={"rms_voltage": "110 V", "nominal_voltage": "110 V", "frequency": "60 Hz", "nominal_frequency": "50 Hz"},
    cautions=("hot-coil", "live-circuit"),
    distrust=("Above 1 the iron fills up: the force gains less than this, the current gains more.",),
)
def frequency_force(*, rms_voltage: Value, nominal_voltage: Value, frequency: Value, nominal_frequency: Value) -> Value:
    """What is left of the pull when a 50 Hz coil meets 60 Hz: flux goes with volts over hertz, pull with its square.

    A 60 Hz coil on 50 Hz pulls harder, but draws at least a fifth more current: it overheats.
    """
    return (rms_voltage / nominal_voltage * nominal_frequency / frequency) ** 2


@formula(
    "AC current between closed and open armature",
    result="open_share",
    limits={
        "current": ">= 0 A, <= 100 A",
        "inrush_current": "> 0 A, <= 100 A",
        "holding_current": "> 0 A, <= 100 A",
    },
    part=True,
)
def open_share(*, current: Value, inrush_current: Value, holding_current: Value) -> Value:
    """0 where it draws its holding current, 1 where it draws its inrush current."""
    return (current - holding_current) / (inrush_current - holding_current)
