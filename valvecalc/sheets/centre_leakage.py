"""What does a valve leak with A and B plugged, wherever its spool stands?"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, gaps, overlap
from valvecalc.primitives import fact, known, using
from valvecalc.sheet import sheet
from valvecalc.sheets.oil import oil_state


class Centre(NamedTuple):
    """The spool, its overlaps, where it stands, the pressure, the oil and a reading; SI."""

    spool_diameter: Value
    diametral_clearance: Value
    overlap: Value
    supply_pressure: Value
    viscosity_40: Value
    oil_temperature: Value
    travel: Value = 0.0
    overlap_pa: Value = None
    overlap_pb: Value = None
    overlap_at: Value = None
    overlap_bt: Value = None
    leakage: Value = None
    tank_pressure: Value = 0.0
    discharge_coefficient: Value = 0.65
    viscosity_index: Value = 100.0
    viscosity_100: Value = None
    density_15: Value = 875.0
    thermal_expansion: Value = 6.5e-4


_OVERLAP = ">= -5 mm, <= 50 mm"


@sheet(
    "From P past one plugged port to T",
    results=("path_leakage_centred", "path_leakage_touching", "shut_pressure"),
    part=True,
)
def past_plugged_port(
    centre: Centre, *, overlap_in: Value, overlap_out: Value, viscosity: Value, density: Value
) -> Value:
    """One side of the closed centre: two lands in series, for a centred spool and for one that touches."""
    clearance = using(centre, gaps.radial_clearance)
    pressure_drop = centre.supply_pressure - centre.tank_pressure
    path_leakage_centred = using(
        centre,
        overlap.two_land_leakage,
        diameter=centre.spool_diameter,
        clearance=clearance,
        overlap_in=overlap_in,
        overlap_out=overlap_out,
        pressure_drop=pressure_drop,
        viscosity=viscosity,
        density=density,
    )
    path_leakage_touching = using(
        centre,
        overlap.two_land_leakage,
        diameter=centre.spool_diameter,
        clearance=clearance,
        overlap_in=overlap_in,
        overlap_out=overlap_out,
        pressure_drop=pressure_drop,
        viscosity=viscosity,
        density=density,
        eccentricity=fact("touching"),
    )
    shut_pressure = using(
        centre,
        overlap.plugged_port_pressure,
        path_leakage=path_leakage_centred,
        diameter=centre.spool_diameter,
        clearance=clearance,
        overlap_out=overlap_out,
        viscosity=viscosity,
        density=density,
    )
    return {
        "path_leakage_centred": path_leakage_centred,
        "path_leakage_touching": path_leakage_touching,
        "shut_pressure": shut_pressure,
    }


@sheet(
    "Leakage where the spool stands, A and B plugged",
    results=(
        "expected_leakage_centred",
        "expected_leakage_touching",
        "path_a_leakage",
        "path_b_leakage",
        "port_a",
        "port_b",
        "leakage_over_expected",
        "viscosity",
    ),
    limits={
        "spool_diameter": "> 1 mm, <= 200 mm",
        "diametral_clearance": "> 0 µm, <= 1 mm",
        "overlap": _OVERLAP,
        "overlap_pa": _OVERLAP,
        "overlap_pb": _OVERLAP,
        "overlap_at": _OVERLAP,
        "overlap_bt": _OVERLAP,
        "travel": ">= -5 mm, <= 5 mm",
        "supply_pressure": "> 0 bar, <= 700 bar",
        "tank_pressure": ">= 0 bar, <= 700 bar",
        "leakage": ">= 0 mL/min, <= 100 L/min",
        "discharge_coefficient": "> 0, <= 1",
        "viscosity_40": "> 2 mm²/s, <= 3500 mm²/s",
        "viscosity_index": ">= 0, <= 400",
        "viscosity_100": "> 2 mm²/s, <= 70 mm²/s",
        "oil_temperature": ">= -40 °C, <= 150 °C",
        "density_15": ">= 700 kg/m³, <= 1500 kg/m³",
        "thermal_expansion": ">= 0 1/K, <= 0.002 1/K",
    },
    origins={
        "travel": ("judgement", ""),
        "tank_pressure": ("judgement", ""),
        "discharge_coefficient": ("handbook", "jelali-kroll-2003"),
        "viscosity_index": ("common-practice", ""),
        "density_15": ("common-practice", ""),
        "thermal_expansion": ("handbook", "jelali-kroll-2003"),
    },
    labels={
        "overlap": "overlap of all four lands in centre; single lands below where they differ",
        "travel": "way of the spool out of centre, towards P to A; minus towards P to B",
        "leakage": "oil collected at T in this position",
    },
    chart="travel",
    example={
        "spool_diameter": "16 mm",
        "diametral_clearance": "12 µm",
        "overlap": "1.4 mm",
        "supply_pressure": "160 bar",
        "viscosity_40": "32 mm²/s",
        "oil_temperature": "44 °C",
        "travel": "0.8 mm",
        "leakage": "60 mL/min",
    },
    cautions=("jet", "test-stand"),
    sources=(("rabie-2009", "eq. 2.19"), ("tao-donovan-1955", ""), ("jelali-kroll-2003", "ch. 3.3")),
    distrust=(
        "Wear sits mostly on one edge: take the reading in every position, and each path by itself where you can.",
        "Notches and bleed slots of the spool: they join ports before the edge opens.",
        "The temperature in the tank is not the temperature in the land: 1 K is 4 % of the reading.",
    ),
)
def centre_leakage(centre: Centre) -> Value:
    """Leakage of a closed centre by A and by B, in centre or on the way, for a centred spool and for one that touches.

    Two lands in series on either side. Moving the spool shortens one and lengthens the other by as much: the leakage
    hardly changes, but the pressures at the plugged ports part, one towards P, the other towards T. They show where the
    spool stands.
    """
    oil_now = oil_state(centre)
    viscosity = oil_now["viscosity"]
    density = oil_now["density"]
    land_pa = known(centre.overlap_pa, centre.overlap) - centre.travel
    land_pb = known(centre.overlap_pb, centre.overlap) + centre.travel
    land_at = known(centre.overlap_at, centre.overlap) + centre.travel
    land_bt = known(centre.overlap_bt, centre.overlap) - centre.travel
    past_a = past_plugged_port(centre, overlap_in=land_pa, overlap_out=land_at, viscosity=viscosity, density=density)
    past_b = past_plugged_port(centre, overlap_in=land_pb, overlap_out=land_bt, viscosity=viscosity, density=density)
    path_a_leakage = past_a["path_leakage_centred"]
    path_b_leakage = past_b["path_leakage_centred"]
    path_a_touching = past_a["path_leakage_touching"]
    path_b_touching = past_b["path_leakage_touching"]
    expected_leakage_centred = path_a_leakage + path_b_leakage
    expected_leakage_touching = path_a_touching + path_b_touching
    port_a = past_a["shut_pressure"]
    port_b = past_b["shut_pressure"]
    leakage_over_expected = budget.leakage_ratio(
        reference_leakage=centre.leakage, new_leakage=expected_leakage_touching
    )
    return {
        "expected_leakage_centred": expected_leakage_centred,
        "expected_leakage_touching": expected_leakage_touching,
        "path_a_leakage": path_a_leakage,
        "path_b_leakage": path_b_leakage,
        "port_a": port_a,
        "port_b": port_b,
        "leakage_over_expected": leakage_over_expected,
        "viscosity": viscosity,
    }
