"""What does my valve lose at this flow, warm and cold? From the points of its curve, or of the bench."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import oil, paths
from valvecalc.primitives import fit, using, vary
from valvecalc.sheet import sheet
from valvecalc.sheets.oil import oil_state


class Path(NamedTuple):
    """The points and the oil they were taken with, the flow asked for, the oil at work and cold; SI."""

    path_points: Value
    flow: Value
    curve_viscosity: Value
    viscosity_40: Value
    oil_temperature: Value
    cold_oil_temperature: Value = None
    measured_drop: Value = None
    reference_density: Value = 870.0
    viscosity_index: Value = 100.0
    viscosity_100: Value = None
    density_15: Value = 875.0
    thermal_expansion: Value = 6.5e-4


@sheet(
    "Pressure loss of a valve's path, warm and cold",
    results=(
        "warm_drop",
        "cold_drop",
        "curve_drop",
        "loss_deviation",
        "laminar_resistance",
        "turbulent_resistance",
        "fit_error",
        "flow_reach",
        "warm_heat",
        "kinematic_viscosity",
        "cold_viscosity",
        "path_rows",
    ),
    rows={
        "path_points": ("flow", "pressure_drop"),
        "path_rows": ("flow", "pressure_drop", "curve_drop", "warm_drop", "cold_drop"),
    },
    judged={
        "loss_deviation": ("<=", "path-loss-deviation"),
        "fit_error": ("<=", "path-fit-error"),
        "flow_reach": ("<=", "path-reach"),
    },
    limits={
        "flow": "> 0 L/min, <= 10000 L/min",
        "pressure_drop": "> 0 bar, <= 1000 bar",
        "curve_viscosity": "> 2 mm²/s, <= 10000 mm²/s",
        "viscosity_40": "> 2 mm²/s, <= 3500 mm²/s",
        "viscosity_index": ">= 0, <= 400",
        "viscosity_100": "> 2 mm²/s, <= 70 mm²/s",
        "oil_temperature": ">= -40 °C, <= 150 °C",
        "cold_oil_temperature": ">= -40 °C, <= 150 °C",
        "measured_drop": ">= 0 bar, <= 1000 bar",
        "reference_density": ">= 700 kg/m³, <= 1500 kg/m³",
        "density_15": ">= 700 kg/m³, <= 1500 kg/m³",
        "thermal_expansion": ">= 0 1/K, <= 0.002 1/K",
    },
    origins={
        "reference_density": ("common-practice", ""),
        "viscosity_index": ("common-practice", ""),
        "density_15": ("common-practice", ""),
        "thermal_expansion": ("handbook", "jelali-kroll-2003"),
    },
    labels={
        "flow": "flow through this path",
        "pressure_drop": "pressure loss of the path",
        "oil_temperature": "temperature of the oil at work",
        "measured_drop": "loss measured at this flow with the oil at work, the rig's own taken off",
    },
    chart="flow",
    example={
        "path_points": "12 L/min 0.6 bar; 24 L/min 1.8 bar; 36 L/min 3.6 bar; 48 L/min 6.1 bar",
        "flow": "40 L/min",
        "curve_viscosity": "46 mm²/s",
        "viscosity_40": "46 mm²/s",
        "oil_temperature": "50 °C",
        "cold_oil_temperature": "5 °C",
        "measured_drop": "5.1 bar",
    },
    cautions=("test-stand", "jet"),
    sources=(("astm-d341", ""),),
    distrust=(
        "Two points only: the fit goes through both and tells nothing of their error; take four or more.",
        "A flow beyond the points: the curve is drawn on, not measured.",
        "Hoses, couplings and the plate counted with the valve: measure them without the valve and take them off.",
        "Another path: P to A, P to B, A to T and B to T differ; each has its own points.",
    ),
)
def path_fit(path: Path) -> Value:
    """Two figures from the points: one goes with viscosity, the other with the square of the flow.

    With them the loss follows for any flow and oil. Multiplying the whole loss by the viscosity would be wrong warm
    and cold. A measured loss far above the expected one is dirt, a spool that does not open fully, or colder oil.
    """
    fitted = fit(path.path_points, "flow", "pressure_drop")
    laminar_resistance = fitted["linear"]
    turbulent_resistance = fitted["square"]
    fit_error = fitted["error"]
    largest_flow = fitted["largest"]
    flow_reach = paths.share_of_flow(flow=path.flow, rated_flow=largest_flow)
    reference_viscosity = oil.dynamic_viscosity(
        kinematic_viscosity=path.curve_viscosity, density=path.reference_density
    )
    warm_oil = oil_state(path)
    viscosity = warm_oil["viscosity"]
    density = warm_oil["density"]
    cold_oil = oil_state(vary(path, oil_temperature=path.cold_oil_temperature))
    curve_drop = using(
        path,
        paths.path_drop,
        laminar_resistance=laminar_resistance,
        turbulent_resistance=turbulent_resistance,
        viscosity=reference_viscosity,
        reference_viscosity=reference_viscosity,
        density=path.reference_density,
    )
    warm_drop = using(
        path,
        paths.path_drop,
        laminar_resistance=laminar_resistance,
        turbulent_resistance=turbulent_resistance,
        viscosity=viscosity,
        reference_viscosity=reference_viscosity,
        density=density,
    )
    cold_drop = using(
        path,
        paths.path_drop,
        laminar_resistance=laminar_resistance,
        turbulent_resistance=turbulent_resistance,
        viscosity=cold_oil["viscosity"],
        reference_viscosity=reference_viscosity,
        density=cold_oil["density"],
    )
    loss_deviation = using(path, paths.loss_deviation, pressure_drop=warm_drop)
    warm_heat = using(path, paths.throttle_heat, pressure_drop=warm_drop)
    path_rows = [
        {
            "flow": point["flow"],
            "pressure_drop": point["pressure_drop"],
            "curve_drop": using(
                path,
                paths.path_drop,
                flow=point["flow"],
                laminar_resistance=laminar_resistance,
                turbulent_resistance=turbulent_resistance,
                viscosity=reference_viscosity,
                reference_viscosity=reference_viscosity,
                density=path.reference_density,
            ),
            "warm_drop": using(
                path,
                paths.path_drop,
                flow=point["flow"],
                laminar_resistance=laminar_resistance,
                turbulent_resistance=turbulent_resistance,
                viscosity=viscosity,
                reference_viscosity=reference_viscosity,
                density=density,
            ),
            "cold_drop": using(
                path,
                paths.path_drop,
                flow=point["flow"],
                laminar_resistance=laminar_resistance,
                turbulent_resistance=turbulent_resistance,
                viscosity=cold_oil["viscosity"],
                reference_viscosity=reference_viscosity,
                density=cold_oil["density"],
            ),
        }
        for point in path.path_points
    ]
    return {
        "warm_drop": warm_drop,
        "cold_drop": cold_drop,
        "curve_drop": curve_drop,
        "loss_deviation": loss_deviation,
        "laminar_resistance": laminar_resistance,
        "turbulent_resistance": turbulent_resistance,
        "fit_error": fit_error,
        "flow_reach": flow_reach,
        "warm_heat": warm_heat,
        "kinematic_viscosity": warm_oil["kinematic_viscosity"],
        "cold_viscosity": cold_oil["kinematic_viscosity"],
        "path_rows": path_rows,
    }
