"""The oil at the driven edge and its return, both alike: what the shift budget takes while no edges are listed.

And where listed edges bend the forces, so that the budget's places of the stroke hold them.
"""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import orifice, spool
from valvecalc.primitives import fact, using
from valvecalc.sheet import sheet
from valvecalc.sheets.valve import CHOICES, LIMITS, LISTS, Valve


class Source(NamedTuple):
    """What feeds an edge, and the spool it is on; SI."""

    spool_diameter: Value
    clearance: Value
    density: Value
    supply_pressure: Value
    tank_pressure: Value
    pump_flow: Value
    discharge_coefficient: Value = 0.65


RESULTS = ("flow", "drop_in", "drop_out", "port_pressure", "driven_pressure", "return_pressure", "flow_force")


@sheet(
    "Oil at the driven edge and its return",
    results=RESULTS,
    rows=LISTS,
    choices=CHOICES,
    limits=LIMITS,
    part=True,
)
def edge_pair(valve: Valve, *, position: Value, available_drop: Value) -> Value:
    """Flow, pressures and flow force where P opens to the driven port and the other port to T, both alike."""
    opening = position - valve.overlap
    area = using(valve, spool.metering_area, opening=opening) if opening > 0.0 else 0.0
    flow = (
        using(valve, spool.edge_flow, area=area, available_drop=available_drop)
        if valve.state == "flow" and opening > 0.0
        else 0.0
    )
    return_flow = using(valve, spool.return_flow, flow=flow)
    drop_in = using(valve, orifice.orifice_drop, flow=flow, area=area) if flow > 0.0 else 0.0
    drop_out = using(valve, orifice.orifice_drop, flow=return_flow, area=area) if flow > 0.0 else 0.0
    shut_pressure = spool.mean_pressure(supply_pressure=valve.supply_pressure, tank_pressure=valve.tank_pressure)
    return_pressure = valve.tank_pressure + drop_out if opening > 0.0 else shut_pressure
    driven_pressure = (
        using(valve, spool.driven_pressure, return_pressure=return_pressure)
        if flow > 0.0
        else (valve.supply_pressure if opening > 0.0 else shut_pressure)
    )
    port_pressure = driven_pressure + drop_in if flow > 0.0 else valve.supply_pressure
    flow_force = (
        using(valve, spool.flow_force, flow=flow, pressure_drop=drop_in)
        + using(valve, spool.flow_force, flow=return_flow, pressure_drop=drop_out)
        if flow > 0.0
        else 0.0
    )
    return {
        "flow": flow,
        "drop_in": drop_in,
        "drop_out": drop_out,
        "port_pressure": port_pressure,
        "driven_pressure": driven_pressure,
        "return_pressure": return_pressure,
        "flow_force": flow_force,
    }


@sheet(
    "Places of the stroke where an edge bends the forces",
    results=("opening_position", "leaking_position", "corner_position"),
    choices={"opens": CHOICES["opens"]},
    part=True,
)
def edge_bends(valve: Source, *, opens: Value, edge_overlap: Value, open_circumference: Value) -> Value:
    """Where it opens, where it just leaks, and where it alone would just pass the pump flow at full pressure."""
    whole_drop = valve.supply_pressure - valve.tank_pressure
    corner_opening = (
        using(
            valve,
            spool.corner_opening,
            available_drop=whole_drop,
            return_ratio=0.0,
            open_circumference=open_circumference,
        )
        if whole_drop > 0.0
        else 0.0
    )
    leaking_place = edge_overlap + fact("just-beyond")
    corner_place = edge_overlap + corner_opening
    return {
        "opening_position": edge_overlap if opens == "forth" else -edge_overlap,
        "leaking_position": leaking_place if opens == "forth" else -leaking_place,
        "corner_position": corner_place if opens == "forth" else -corner_place,
    }
