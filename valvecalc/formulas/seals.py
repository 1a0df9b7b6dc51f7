"""Rings in grooves: squeeze, stretch, fill, set, swell, and the film that a rod carries out."""

from valvecalc.formula import Value, formula
from valvecalc.maths import maximum, minimum, pi, power, sqrt

_SECTION = "> 0 mm, <= 20 mm"
_DEPTH = "> 0 mm, <= 20 mm"
_WIDTH = "> 0 mm, <= 50 mm"
_DIAMETER = "> 0 mm, <= 1 m"
_OFF = ">= -2 m, <= 2 m"
_SHARE = ">= 0, <= 1000000"


@formula(
    "Squeeze of a ring",
    result="squeeze",
    sources=(("ring-gland-tables", "table of dynamic, static radial and face glands"),),
    limits={"ring_section": _SECTION, "groove_depth": _DEPTH},
    trusted={"groove_depth": (">= 0.5 mm, <= 10 mm", "A scratch or a groove of another kind: measure again.")},
    example={"ring_section": "1.78 mm", "groove_depth": "1.35 mm"},
    chart="groove_depth",
    cautions=("stored-pressure",),
    distrust=(
        "Depth is from the floor to the other metal face: in a bore the gap belongs to it.",
        "A stretched ring is thinner than one lying free: put its thinned section in.",
    ),
)
def ring_squeeze(*, ring_section: Value, groove_depth: Value) -> Value:
    """Tells how much a ring is pressed in its groove, as a share of its section.

    Below zero the ring does not touch the other face at all.
    """
    return 1 - groove_depth / ring_section


@formula(
    "Stretch of a ring on its seat",
    result="stretch",
    sources=(("ring-stretch-guide", ""),),
    limits={"groove_diameter": _DIAMETER, "ring_inside": _DIAMETER},
    labels={"groove_diameter": "diameter that the ring sits on: floor of the groove"},
    example={"groove_diameter": "14.4 mm", "ring_inside": "14.0 mm"},
    chart="groove_diameter",
    cautions=("stored-pressure",),
    distrust=(
        "Past 5 % the ring thins, hardens and cracks earlier; below zero it lies loose and may be pinched.",
        "A ring that was stretched for years keeps part of it: read a new one.",
    ),
)
def ring_stretch(*, groove_diameter: Value, ring_inside: Value) -> Value:
    """Tells how much wider a ring sits than it lies free: 1 to 5 % is usual, about 2 % is wanted."""
    return groove_diameter / ring_inside - 1


@formula(
    "Section of a stretched ring",
    result="thinned_section",
    limits={"ring_section": _SECTION, "stretch": ">= -50 %, <= 300 %"},
    trusted={"stretch": (">= 0 %, <= 10 %", "Rubber stretched so far is not round any more, and soon cracks.")},
    example={"ring_section": "1.78 mm", "stretch": "2.9 %"},
    chart="stretch",
    cautions=("stored-pressure",),
    distrust=("Rubber keeps its volume, not its shape: a ring stretched far lies flat on its seat.",),
)
def stretched_section(*, ring_section: Value, stretch: Value) -> Value:
    """Tells how thick a ring still is where it sits: its volume stays, so it loses half of the stretch in section."""
    return ring_section / sqrt(1 + stretch)


@formula(
    "How full a ring makes its groove",
    result="gland_fill",
    limits={"ring_section": _SECTION, "groove_depth": _DEPTH, "groove_width": _WIDTH},
    example={"ring_section": "1.78 mm", "groove_depth": "1.35 mm", "groove_width": "2.5 mm"},
    chart="groove_width",
    cautions=("stored-pressure",),
    distrust=(
        "Rubber cannot be squeezed smaller: a groove filled to the brim bursts the ring or bends the part.",
        "Radii and slanted walls take some of the groove away.",
    ),
)
def gland_fill(*, ring_section: Value, groove_depth: Value, groove_width: Value) -> Value:
    """Tells which share of a groove the ring fills: up to 85 %, so that heat and swelling have room."""
    ring_area = pi / 4 * ring_section**2
    return ring_area / (groove_depth * groove_width)


@formula(
    "Groove floor for a wanted squeeze",
    result="groove_floor",
    sources=(("sullivan", "worked example 11.1, p. 269"),),
    limits={"bore_opposite": _DIAMETER, "ring_section": _SECTION, "squeeze": ">= 0 %, <= 50 %"},
    example={"bore_opposite": "40 mm", "ring_section": "3.53 mm", "squeeze": "18 %"},
    chart="squeeze",
    cautions=("stored-pressure",),
    distrust=("Nothing is cut deeper by this figure alone: tolerances of bore, floor and ring come off the squeeze.",),
)
def groove_floor(*, bore_opposite: Value, ring_section: Value, squeeze: Value) -> Value:
    """Tells what diameter the floor of a groove should have for a ring to be squeezed as wanted in its bore.

    Held against the floor that is there, it shows whether the ring that was in it can have been the right one.
    """
    return bore_opposite - 2 * ring_section * (1 - squeeze)


@formula(
    "Compression set of an old ring",
    result="compression_set",
    sources=(("astm-d395-page", "method B"),),
    limits={"ring_section": _SECTION, "ring_height": _SECTION, "groove_depth": _DEPTH},
    labels={"ring_section": "section of the new ring, from its size"},
    example={"ring_section": "1.78 mm", "ring_height": "1.55 mm", "groove_depth": "1.35 mm"},
    chart="ring_height",
    cautions=("stored-pressure",),
    distrust=(
        "Read it half an hour after the joint was opened, at room temperature: a cold ring comes back late.",
        "A swollen ring hides its set: it is thick and still does not press.",
    ),
)
def compression_set(*, ring_section: Value, ring_height: Value, groove_depth: Value) -> Value:
    """Tells how much of its squeeze a ring has lost for good: 0 % springs back like new, 100 % not at all."""
    return (ring_section - ring_height) / (ring_section - groove_depth)


@formula(
    "Section of a swollen ring",
    result="swollen_section",
    limits={"ring_section": _SECTION, "volume_swell": "> -90 %, <= 300 %"},
    example={"ring_section": "2.62 mm", "volume_swell": "15 %"},
    chart="volume_swell",
    cautions=("stored-pressure",),
    distrust=("In a groove the rubber can only grow where there is room: what it fills it then bursts.",),
)
def swollen_section(*, ring_section: Value, volume_swell: Value) -> Value:
    """Tells how thick a ring gets that the fluid swells: a third of the gain in volume, for small ones."""
    return ring_section * power(1 + volume_swell, 1 / 3)


@formula(
    "Oil film that a rod carries out",
    result="film_thickness",
    sources=(("sullivan", "worked example 11.2, p. 272"),),
    limits={
        "leaked_volume": "> 0 mL, <= 1000 L",
        "strokes_counted": ">= 1, <= 1000000000",
        "rod_diameter": "> 0 mm, <= 1 m",
        "stroke_length": "> 0 mm, <= 20 m",
    },
    trusted={"leaked_volume": (">= 1 mL, <= 100 L", "Of a drop nobody can tell the volume: count more strokes.")},
    example={"leaked_volume": "60 mL", "strokes_counted": "5000", "rod_diameter": "36 mm", "stroke_length": "400 mm"},
    cautions=("jet", "falling-load"),
    distrust=("Oil that wets the rod and goes back in is not lost: only what is collected counts.",),
)
def rod_film(*, leaked_volume: Value, strokes_counted: Value, rod_diameter: Value, stroke_length: Value) -> Value:
    """Tells how thick an oil film a rod seal lets out: below a micrometre is what any moving seal needs.

    It tells a seal that weeps as it must from one that leaks.
    """
    return leaked_volume / (strokes_counted * pi * rod_diameter * stroke_length)


@formula(
    "Round section of a flattened ring",
    result="round_section",
    limits={"ring_height": _SECTION, "ring_breadth": _SECTION},
    part=True,
)
def round_section(*, ring_height: Value, ring_breadth: Value) -> Value:
    """A ring pressed to an oval keeps its area."""
    return sqrt(ring_height * ring_breadth)


@formula(
    "Half of the difference of two diameters",
    result="half_gap",
    limits={"outside_diameter": _DIAMETER, "inside_diameter": _DIAMETER},
    part=True,
)
def half_difference(*, outside_diameter: Value, inside_diameter: Value) -> Value:
    """Section of a ring, or width of a groove, from two diameters."""
    return (outside_diameter - inside_diameter) / 2


@formula(
    "Deviation over what is allowed",
    result="share_off",
    limits={"length_off": _OFF, "allowance": "> 0 mm, <= 1 m"},
    part=True,
)
def share_off(*, length_off: Value, allowance: Value) -> Value:
    """Either way; up to 1 fits."""
    return maximum(length_off, -length_off) / allowance


@formula(
    "Largest of three shares",
    result="ring_misfit",
    limits={"first_share": _SHARE, "second_share": _SHARE, "third_share": _SHARE},
    part=True,
)
def largest_share(*, first_share: Value, second_share: Value, third_share: Value) -> Value:
    """One reading that does not fit is enough."""
    return maximum(maximum(first_share, second_share), third_share)


@formula(
    "Squeeze against the usual range",
    result="squeeze_misfit",
    limits={
        "squeeze": ">= -1000, <= 1",
        "squeeze_low": ">= 0 %, <= 60 %",
        "squeeze_high": "> 0 %, <= 60 %",
        "groove_error": ">= 0 mm, <= 2 mm",
        "ring_section": _SECTION,
    },
    part=True,
)
def squeeze_misfit(
    *, squeeze: Value, squeeze_low: Value, squeeze_high: Value, groove_error: Value, ring_section: Value
) -> Value:
    """0 in the middle, 1 at the ends, which a doubtful depth moves outwards."""
    squeeze_middle = (squeeze_low + squeeze_high) / 2
    squeeze_half = (squeeze_high - squeeze_low) / 2 + groove_error / ring_section
    return maximum(squeeze - squeeze_middle, squeeze_middle - squeeze) / squeeze_half


@formula(
    "Stretch or oversize against what is wanted",
    result="seat_misfit",
    limits={
        "seat_tightness": ">= -1, <= 10000",
        "seat_low": ">= -20 %, <= 20 %",
        "seat_high": ">= -20 %, <= 20 %",
        "allowance": ">= 0 mm, <= 50 mm",
        "groove_diameter": _DIAMETER,
    },
    part=True,
)
def seat_misfit(
    *, seat_tightness: Value, seat_low: Value, seat_high: Value, allowance: Value, groove_diameter: Value
) -> Value:
    """0 in the middle, 1 at the ends, which the ring's tolerance and the error of reading move outwards."""
    seat_middle = (seat_low + seat_high) / 2
    seat_half = (seat_high - seat_low) / 2 + allowance / groove_diameter
    return maximum(seat_tightness - seat_middle, seat_middle - seat_tightness) / seat_half


@formula(
    "Oversize of a ring against the outer wall",
    result="seat_tightness",
    limits={"ring_outside": _DIAMETER, "groove_diameter": _DIAMETER},
    part=True,
)
def wall_oversize(*, ring_outside: Value, groove_diameter: Value) -> Value:
    """How much larger the ring lies free than its groove is."""
    return ring_outside / groove_diameter - 1


@formula(
    "Share within a range",
    result="range_reserve",
    limits={"range_value": ">= -1000, <= 10000", "range_low": ">= -1, <= 1", "range_high": ">= -1, <= 1"},
    part=True,
)
def range_reserve(*, range_value: Value, range_low: Value, range_high: Value) -> Value:
    """Distance to the nearer end; below zero outside."""
    return minimum(range_value - range_low, range_high - range_value)


@formula(
    "Section of a ring swollen and hot",
    result="hot_section",
    limits={
        "swollen_section": _SECTION,
        "rubber_expansion": ">= 0 1/K, <= 0.001 1/K",
        "seal_warming": ">= -150 K, <= 250 K",
    },
    part=True,
)
def hot_section(*, swollen_section: Value, rubber_expansion: Value, seal_warming: Value) -> Value:
    """Rubber grows ten times as much as the steel round it; the groove is taken as it is."""
    return swollen_section * (1 + rubber_expansion * seal_warming)


@formula(
    "Share of a groove that may be filled",
    result="share_off",
    limits={"gland_fill": ">= 0, <= 1000", "fill_limit": "> 0 %, <= 100 %"},
    part=True,
)
def fill_share(*, gland_fill: Value, fill_limit: Value) -> Value:
    """Fill over the largest that is usual."""
    return gland_fill / fill_limit


@formula("Half of a gap", result="allowed_gap", limits={"table_gap": ">= 0 mm, <= 5 mm"}, part=True)
def halved_gap(*, table_gap: Value) -> Value:
    """Silicone is weak: it bears half of the gap."""
    return table_gap / 2


@formula(
    "Age of a ring by quarters",
    result="ring_age",
    limits={
        "cure_quarter": ">= 1, <= 4",
        "cure_year": ">= 1950, <= 2100",
        "now_quarter": ">= 1, <= 4",
        "now_year": ">= 1950, <= 2100",
    },
    part=True,
)
def ring_age(*, cure_quarter: Value, cure_year: Value, now_quarter: Value, now_year: Value) -> Value:
    """Years from the end of one quarter to the end of the other."""
    return now_year - cure_year + (now_quarter - cure_quarter) / 4
