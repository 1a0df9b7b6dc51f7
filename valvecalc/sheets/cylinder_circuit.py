"""Valve and cylinder together: pump pressure, return flow and heat, out, in and with both sides joined."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import cylinder, cylinder_load, paths
from valvecalc.primitives import using
from valvecalc.sheet import sheet


class Circuit(NamedTuple):
    """The cylinder, its loads, the pump, and what each path of the valve loses at one known flow; SI."""

    bore_diameter: Value
    rod_diameter: Value
    pump_flow: Value
    rated_flow: Value
    path_pa_drop: Value
    path_bt_drop: Value
    path_pb_drop: Value
    path_at_drop: Value
    push_load: Value = None
    pull_load: Value = None
    supply_pressure: Value = None
    tank_pressure: Value = 0.0
    mechanical_efficiency: Value = 0.95
    laminar_share: Value = 0.1
    viscosity: Value = 0.04
    reference_viscosity: Value = 0.04
    density: Value = 870.0
    reference_density: Value = 870.0


_DROP = "> 0 bar, <= 1000 bar"
_LOAD = ">= 0 N, <= 10000000 N"


@sheet(
    "Valve and cylinder: pressures, return flow and heat",
    results=(
        "extend_pump_pressure",
        "retract_pump_pressure",
        "regenerative_pump_pressure",
        "extend_reserve",
        "retract_reserve",
        "regenerative_reserve",
        "retract_return_flow",
        "extend_return_flow",
        "regenerative_inlet_flow",
        "regenerative_return_flow",
        "extend_speed",
        "retract_speed",
        "regenerative_speed",
        "extend_drop_in",
        "extend_drop_out",
        "retract_drop_in",
        "retract_drop_out",
        "regenerative_drop_in",
        "regenerative_drop_out",
        "extend_cap_pressure",
        "extend_rod_pressure",
        "retract_cap_pressure",
        "retract_rod_pressure",
        "regenerative_rod_pressure",
        "blocked_rod_pressure",
        "extend_heat",
        "retract_heat",
        "regenerative_heat",
    ),
    judged={
        "extend_reserve": (">=", "relief-reserve"),
        "retract_reserve": (">=", "relief-reserve"),
        "regenerative_reserve": (">=", "relief-reserve"),
    },
    limits={
        "bore_diameter": "> 4 mm, <= 1000 mm",
        "rod_diameter": "> 0 mm, < 1000 mm",
        "pump_flow": "> 0 L/min, <= 2000 L/min",
        "rated_flow": "> 0 L/min, <= 10000 L/min",
        "path_pa_drop": _DROP,
        "path_bt_drop": _DROP,
        "path_pb_drop": _DROP,
        "path_at_drop": _DROP,
        "push_load": _LOAD,
        "pull_load": _LOAD,
        "supply_pressure": ">= 0 bar, <= 1000 bar",
        "tank_pressure": ">= 0 bar, <= 1000 bar",
        "mechanical_efficiency": "> 0, <= 1",
        "laminar_share": ">= 0, <= 1",
        "viscosity": "> 0.5 mPa·s, <= 100000 mPa·s",
        "reference_viscosity": "> 0.5 mPa·s, <= 100000 mPa·s",
        "density": ">= 700 kg/m³, <= 1500 kg/m³",
        "reference_density": ">= 700 kg/m³, <= 1500 kg/m³",
    },
    origins={
        "tank_pressure": ("judgement", ""),
        "mechanical_efficiency": ("judgement", ""),
        "laminar_share": ("judgement", ""),
        "viscosity": ("judgement", ""),
        "reference_viscosity": ("judgement", ""),
        "density": ("judgement", ""),
        "reference_density": ("judgement", ""),
    },
    labels={
        "rated_flow": "flow at which the four losses are known",
        "retract_return_flow": "flow from A to T on the way in: the one to choose the valve by",
        "reference_viscosity": "dynamic viscosity of the oil that the losses were taken with",
    },
    chart="pump_flow",
    example={
        "bore_diameter": "63 mm",
        "rod_diameter": "36 mm",
        "pump_flow": "28 L/min",
        "rated_flow": "40 L/min",
        "path_pa_drop": "4.0 bar",
        "path_bt_drop": "4.4 bar",
        "path_pb_drop": "4.0 bar",
        "path_at_drop": "4.6 bar",
        "push_load": "9 kN",
        "pull_load": "6 kN",
        "supply_pressure": "160 bar",
        "tank_pressure": "2 bar",
    },
    cautions=("falling-load", "stored-pressure", "trapped-volume"),
    sources=(("esposito", "example 9-1"), ("navedtra-14105", "assignment 1, question 1-31")),
    distrust=(
        "A load that pulls the way the rod moves: the return side has to hold it back, and none of this counts it.",
        "Losses of valve data simply added: the return flow is not the pump flow, and the areas carry its loss over.",
        "Lines, hoses and couplings are not in it.",
        "Flows far from the known one: the losses are drawn on from one point.",
        "An accumulator: its flow comes on top of the pump's.",
    ),
)
def cylinder_circuit(circuit: Circuit) -> Value:
    """Each direction with its own return flow: less than the pump's going out, more going in.

    Joined means that the rod side's oil goes back to the inlet: faster, but the load rests on the rod's area alone
    and the path into the cylinder carries much more than the pump flow. Shut means that the rod side cannot empty
    while the pump pushes: its pressure then stands above the relief setting by the area ratio.
    """
    piston_area = using(circuit, cylinder.piston_area)
    annulus_area = using(circuit, cylinder.annulus_area)
    rod_area = piston_area - annulus_area
    extend_speed = cylinder.cylinder_speed(flow=circuit.pump_flow, area=piston_area)
    extend_return_flow = using(circuit, paths.return_going_out, piston_area=piston_area, annulus_area=annulus_area)
    extend_drop_in = using(circuit, paths.one_point_drop, flow=circuit.pump_flow, rated_drop=circuit.path_pa_drop)
    extend_drop_out = using(circuit, paths.one_point_drop, flow=extend_return_flow, rated_drop=circuit.path_bt_drop)
    extend_rod_pressure = circuit.tank_pressure + extend_drop_out
    extend_cap_pressure = using(
        circuit,
        cylinder_load.pressure_to_push,
        load_force=circuit.push_load,
        rod_side_pressure=extend_rod_pressure,
    )
    extend_pump_pressure = extend_cap_pressure + extend_drop_in
    extend_reserve = circuit.supply_pressure - extend_pump_pressure
    extend_heat = paths.throttle_heat(flow=circuit.pump_flow, pressure_drop=extend_drop_in) + paths.throttle_heat(
        flow=extend_return_flow, pressure_drop=extend_drop_out
    )
    retract_speed = cylinder.cylinder_speed(flow=circuit.pump_flow, area=annulus_area)
    retract_return_flow = using(circuit, paths.return_going_in, piston_area=piston_area, annulus_area=annulus_area)
    retract_drop_in = using(circuit, paths.one_point_drop, flow=circuit.pump_flow, rated_drop=circuit.path_pb_drop)
    retract_drop_out = using(circuit, paths.one_point_drop, flow=retract_return_flow, rated_drop=circuit.path_at_drop)
    retract_cap_pressure = circuit.tank_pressure + retract_drop_out
    retract_rod_pressure = using(
        circuit,
        cylinder_load.pressure_to_pull,
        load_force=circuit.pull_load,
        cap_side_pressure=retract_cap_pressure,
    )
    retract_pump_pressure = retract_rod_pressure + retract_drop_in
    retract_reserve = circuit.supply_pressure - retract_pump_pressure
    retract_heat = paths.throttle_heat(flow=circuit.pump_flow, pressure_drop=retract_drop_in) + paths.throttle_heat(
        flow=retract_return_flow, pressure_drop=retract_drop_out
    )
    regenerative_speed = using(circuit, paths.regenerative_speed, rod_area=rod_area)
    regenerative_inlet_flow = using(circuit, paths.joined_flow, piston_area=piston_area, rod_area=rod_area)
    regenerative_return_flow = regenerative_inlet_flow - circuit.pump_flow
    regenerative_drop_in = using(
        circuit, paths.one_point_drop, flow=regenerative_inlet_flow, rated_drop=circuit.path_pa_drop
    )
    regenerative_drop_out = using(
        circuit, paths.one_point_drop, flow=regenerative_return_flow, rated_drop=circuit.path_pb_drop
    )
    regenerative_pump_pressure = using(
        circuit,
        paths.regenerative_pressure,
        load_force=circuit.push_load,
        path_in_drop=regenerative_drop_in,
        path_out_drop=regenerative_drop_out,
        piston_area=piston_area,
        annulus_area=annulus_area,
    )
    regenerative_rod_pressure = regenerative_pump_pressure + regenerative_drop_out
    regenerative_reserve = circuit.supply_pressure - regenerative_pump_pressure
    regenerative_heat = paths.throttle_heat(
        flow=regenerative_inlet_flow, pressure_drop=regenerative_drop_in
    ) + paths.throttle_heat(flow=regenerative_return_flow, pressure_drop=regenerative_drop_out)
    blocked_rod_pressure = cylinder.blocked_side_pressure(
        cap_side_pressure=circuit.supply_pressure, piston_area=piston_area, annulus_area=annulus_area
    )
    return {
        "extend_pump_pressure": extend_pump_pressure,
        "retract_pump_pressure": retract_pump_pressure,
        "regenerative_pump_pressure": regenerative_pump_pressure,
        "extend_reserve": extend_reserve,
        "retract_reserve": retract_reserve,
        "regenerative_reserve": regenerative_reserve,
        "retract_return_flow": retract_return_flow,
        "extend_return_flow": extend_return_flow,
        "regenerative_inlet_flow": regenerative_inlet_flow,
        "regenerative_return_flow": regenerative_return_flow,
        "extend_speed": extend_speed,
        "retract_speed": retract_speed,
        "regenerative_speed": regenerative_speed,
        "extend_drop_in": extend_drop_in,
        "extend_drop_out": extend_drop_out,
        "retract_drop_in": retract_drop_in,
        "retract_drop_out": retract_drop_out,
        "regenerative_drop_in": regenerative_drop_in,
        "regenerative_drop_out": regenerative_drop_out,
        "extend_cap_pressure": extend_cap_pressure,
        "extend_rod_pressure": extend_rod_pressure,
        "retract_cap_pressure": retract_cap_pressure,
        "retract_rod_pressure": retract_rod_pressure,
        "regenerative_rod_pressure": regenerative_rod_pressure,
        "blocked_rod_pressure": blocked_rod_pressure,
        "extend_heat": extend_heat,
        "retract_heat": retract_heat,
        "regenerative_heat": regenerative_heat,
    }
