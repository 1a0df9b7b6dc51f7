"""Is the leakage wear or warm oil? A collected reading against the lands it came past."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import budget, gaps
from valvecalc.primitives import fact, known, using, vary
from valvecalc.sheet import sheet
from valvecalc.sheets.oil import oil_state


class Leak(NamedTuple):
    """The lands, the pressure, the oil, the reading and what is known of the new part; SI."""

    leakage: Value
    spool_diameter: Value
    land_length: Value
    pressure_drop: Value
    viscosity_40: Value
    oil_temperature: Value
    lands_in_series: Value = 1.0
    parallel_paths: Value = 1.0
    diametral_clearance: Value = None
    new_diametral_clearance: Value = None
    new_leakage: Value = None
    viscosity_index: Value = 100.0
    viscosity_100: Value = None
    density_15: Value = 875.0
    thermal_expansion: Value = 6.5e-4
    reference_oil_temperature: Value = 313.15
    reference_pressure_drop: Value = None


LIMITS = {
    "leakage": ">= 0 mL/min, <= 100 L/min",
    "spool_diameter": "> 1 mm, <= 200 mm",
    "land_length": "> 0 mm, <= 200 mm",
    "pressure_drop": "> 0 bar, <= 700 bar",
    "reference_pressure_drop": "> 0 bar, <= 700 bar",
    "viscosity_40": "> 2 mm²/s, <= 3500 mm²/s",
    "viscosity_index": ">= 0, <= 400",
    "viscosity_100": "> 2 mm²/s, <= 70 mm²/s",
    "oil_temperature": ">= -40 °C, <= 150 °C",
    "reference_oil_temperature": ">= -40 °C, <= 150 °C",
    "density_15": ">= 700 kg/m³, <= 1500 kg/m³",
    "thermal_expansion": ">= 0 1/K, <= 0.002 1/K",
    "lands_in_series": ">= 1, <= 10",
    "parallel_paths": ">= 1, <= 10",
    "diametral_clearance": "> 0 µm, <= 1 mm",
    "new_diametral_clearance": "> 0 µm, <= 1 mm",
    "new_leakage": "> 0 mL/min, <= 100 L/min",
}


@sheet(
    "Leakage check: wear or warm oil",
    results=(
        "wear_verdict",
        "clearance_touching",
        "clearance_centred",
        "new_clearance",
        "clearance",
        "viscosity",
        "expected_leakage_centred",
        "expected_leakage_touching",
        "reference_leakage",
        "wear_ratio",
    ),
    judged={"wear_verdict": ("within-range", "clearance_touching", "clearance_centred", "new_clearance")},
    limits=LIMITS,
    origins={
        "viscosity_index": ("common-practice", ""),
        "density_15": ("common-practice", ""),
        "thermal_expansion": ("handbook", "jelali-kroll-2003"),
        "lands_in_series": ("judgement", ""),
        "parallel_paths": ("judgement", ""),
        "reference_oil_temperature": ("common-practice", ""),
    },
    labels={
        "leakage": "oil collected, all paths together",
        "pressure_drop": "pressure difference over the whole path, all lands in series",
        "land_length": "length of one land that seals: the overlap",
    },
    example={
        "leakage": "26 mL/min",
        "spool_diameter": "14 mm",
        "land_length": "1.8 mm",
        "pressure_drop": "150 bar",
        "lands_in_series": "2",
        "parallel_paths": "2",
        "viscosity_40": "32 mm²/s",
        "oil_temperature": "44 °C",
        "diametral_clearance": "11 µm",
        "new_diametral_clearance": "10 µm",
    },
    cautions=("jet", "test-stand"),
    sources=(("rabie-2009", "eq. 2.19"), ("tao-donovan-1955", ""), ("astm-d341", "")),
    distrust=(
        "Wear sits mostly on one edge: test every position and every path; A against B more than two to one shows it.",
        "A tank line shared with a solenoid drain: split them first.",
        "The temperature in the tank is not the temperature in the land: 1 K is 4 % of the reading.",
    ),
)
def leak_check(leak: Leak) -> Value:
    """Turns a reading into the clearance it came past, and into what it would be with reference oil.

    Where the spool lies in its bore is not known, so the clearance is a range: from touching
    (smallest) to centred (largest). "new" only if even the largest is within the new fit, "worn"
    only if even the smallest is beyond it; else it cannot be told.
    """
    oil_now = oil_state(leak)
    reference_oil = oil_state(vary(leak, oil_temperature=leak.reference_oil_temperature))
    viscosity = oil_now["viscosity"]
    reference_viscosity = reference_oil["viscosity"]
    clearance = using(leak, gaps.radial_clearance)
    new_clearance = gaps.radial_clearance(diametral_clearance=leak.new_diametral_clearance)
    land_drop = using(leak, gaps.series_land_drop)
    path_leakage = using(leak, budget.path_leakage_of)
    clearance_centred = gaps.clearance_from_leakage(
        leakage=path_leakage,
        diameter=leak.spool_diameter,
        length=leak.land_length,
        pressure_drop=land_drop,
        viscosity=viscosity,
    )
    clearance_touching = gaps.clearance_from_leakage(
        leakage=path_leakage,
        diameter=leak.spool_diameter,
        length=leak.land_length,
        pressure_drop=land_drop,
        viscosity=viscosity,
        eccentricity=fact("touching"),
    )
    path_leakage_centred = gaps.annular_leakage(
        diameter=leak.spool_diameter,
        clearance=clearance,
        length=leak.land_length,
        pressure_drop=land_drop,
        viscosity=viscosity,
    )
    path_leakage_touching = gaps.annular_leakage(
        diameter=leak.spool_diameter,
        clearance=clearance,
        length=leak.land_length,
        pressure_drop=land_drop,
        viscosity=viscosity,
        eccentricity=fact("touching"),
    )
    expected_leakage_centred = budget.all_paths_leakage(
        path_leakage=path_leakage_centred, parallel_paths=leak.parallel_paths
    )
    expected_leakage_touching = budget.all_paths_leakage(
        path_leakage=path_leakage_touching, parallel_paths=leak.parallel_paths
    )
    reference_pressure_drop = known(leak.reference_pressure_drop, leak.pressure_drop)
    reference_leakage = gaps.leakage_at_reference(
        leakage=leak.leakage,
        viscosity=viscosity,
        reference_viscosity=reference_viscosity,
        pressure_drop=leak.pressure_drop,
        reference_pressure_drop=reference_pressure_drop,
    )
    wear_ratio = using(leak, budget.leakage_ratio, reference_leakage=reference_leakage)
    wear_verdict = (
        "new"
        if clearance_centred <= new_clearance
        else ("worn" if clearance_touching > new_clearance else "cannot tell")
    )
    return {
        "wear_verdict": wear_verdict,
        "clearance_touching": clearance_touching,
        "clearance_centred": clearance_centred,
        "new_clearance": new_clearance,
        "clearance": clearance,
        "viscosity": viscosity,
        "expected_leakage_centred": expected_leakage_centred,
        "expected_leakage_touching": expected_leakage_touching,
        "reference_leakage": reference_leakage,
        "wear_ratio": wear_ratio,
    }
