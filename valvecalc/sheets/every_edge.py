"""Oil at every listed edge in a shift budget: pressures at the ports that fit cylinder and pump, then the forces."""

from valvecalc.formula import Value
from valvecalc.formulas import orifice, spool
from valvecalc.primitives import solve, total, using
from valvecalc.sheet import sheet
from valvecalc.sheets.edge_oil import RESULTS
from valvecalc.sheets.open_edges import edge_opening, one_edge
from valvecalc.sheets.valve import CHOICES, LIMITS, LISTS, Valve


@sheet(
    "Oil that the edges pass at given pressures",
    results=("driven_flow", "taken_flow", "flow_imbalance"),
    rows=LISTS,
    choices=CHOICES,
    limits=LIMITS,
    part=True,
)
def passed_flow(
    valve: Valve,
    *,
    inlet_area: Value,
    return_area: Value,
    opposite_inlet_area: Value,
    opposite_return_area: Value,
    bypass_area: Value,
    port_pressure: Value,
    driven_pressure: Value,
    return_pressure: Value,
) -> Value:
    """Into the driven port, out of P, and what the areas of the cylinder do not account for: nothing once it moves."""
    inlet_flow = using(
        valve, orifice.signed_flow, area=inlet_area, upper_pressure=port_pressure, lower_pressure=driven_pressure
    )
    opposite_inlet_flow = using(
        valve,
        orifice.signed_flow,
        area=opposite_inlet_area,
        upper_pressure=port_pressure,
        lower_pressure=return_pressure,
    )
    from_tank = using(
        valve,
        orifice.signed_flow,
        area=opposite_return_area,
        upper_pressure=valve.tank_pressure,
        lower_pressure=driven_pressure,
    )
    to_tank = using(
        valve,
        orifice.signed_flow,
        area=return_area,
        upper_pressure=return_pressure,
        lower_pressure=valve.tank_pressure,
    )
    bypass_flow = using(
        valve, orifice.signed_flow, area=bypass_area, upper_pressure=port_pressure, lower_pressure=valve.tank_pressure
    )
    driven_flow = inlet_flow + from_tank
    return_flow = using(valve, spool.return_flow, flow=driven_flow)
    return {
        "driven_flow": driven_flow,
        "taken_flow": inlet_flow + opposite_inlet_flow + bypass_flow,
        "flow_imbalance": return_flow + opposite_inlet_flow - to_tank,
    }


@sheet(
    "Pressures that the edges settle with a pressure at P",
    results=("driven_pressure", "return_pressure", "driven_flow", "taken_flow"),
    rows=LISTS,
    choices=CHOICES,
    limits=LIMITS,
    part=True,
)
def settled_ports(
    valve: Valve,
    *,
    inlet_area: Value,
    return_area: Value,
    opposite_inlet_area: Value,
    opposite_return_area: Value,
    bypass_area: Value,
    port_pressure: Value,
) -> Value:
    """Flow: the cylinder gives back by its areas what it takes, load included. Blocked: neither port passes any.

    A port with every edge shut stands midway between P and T, as in the plain budget.
    """
    driven_area = inlet_area + opposite_return_area
    other_area = return_area + opposite_inlet_area
    is_moving = valve.state == "flow" and driven_area + other_area > 0.0
    shut_pressure = spool.mean_pressure(supply_pressure=port_pressure, tank_pressure=valve.tank_pressure)
    upper_pressure = port_pressure if port_pressure > valve.tank_pressure else valve.tank_pressure
    lower_pressure = valve.tank_pressure if port_pressure > valve.tank_pressure else port_pressure
    return_pressure = (
        solve(
            lambda trial: passed_flow(
                valve,
                inlet_area=inlet_area,
                return_area=return_area,
                opposite_inlet_area=opposite_inlet_area,
                opposite_return_area=opposite_return_area,
                bypass_area=bypass_area,
                port_pressure=port_pressure,
                driven_pressure=using(valve, spool.driven_pressure, return_pressure=trial),
                return_pressure=trial,
            )["flow_imbalance"],
            using(valve, spool.lowest_return, port_pressure=lower_pressure),
            using(valve, spool.highest_return, port_pressure=upper_pressure),
        )
        if is_moving
        else (
            using(
                valve,
                orifice.pressure_between,
                port_pressure=port_pressure,
                inlet_area=opposite_inlet_area,
                return_area=return_area,
            )
            if other_area > 0.0
            else shut_pressure
        )
    )
    driven_pressure = (
        using(valve, spool.driven_pressure, return_pressure=return_pressure)
        if is_moving
        else (
            using(
                valve,
                orifice.pressure_between,
                port_pressure=port_pressure,
                inlet_area=inlet_area,
                return_area=opposite_return_area,
            )
            if driven_area > 0.0
            else shut_pressure
        )
    )
    passed = passed_flow(
        valve,
        inlet_area=inlet_area,
        return_area=return_area,
        opposite_inlet_area=opposite_inlet_area,
        opposite_return_area=opposite_return_area,
        bypass_area=bypass_area,
        port_pressure=port_pressure,
        driven_pressure=driven_pressure,
        return_pressure=return_pressure,
    )
    driven_flow = passed["driven_flow"] if is_moving else 0.0
    taken_flow = passed["taken_flow"]
    return {
        "driven_pressure": driven_pressure,
        "return_pressure": return_pressure,
        "driven_flow": driven_flow,
        "taken_flow": taken_flow,
    }


@sheet(
    "Oil at every listed edge",
    results=RESULTS,
    rows=LISTS,
    choices=CHOICES,
    limits=LIMITS,
    part=True,
)
def every_edge(valve: Valve, *, listed_edges: Value, position: Value) -> Value:
    """Flow, pressures and the sum of the flow forces; P falls below the supply once the edges take all of the pump."""
    edge_areas = [
        {
            "from_port": edge["from_port"],
            "to_port": edge["to_port"],
            "opens": edge["opens"],
            "area": edge_opening(
                valve,
                position=position,
                opens=edge["opens"],
                edge_overlap=edge["edge_overlap"],
                open_circumference=edge["open_circumference"],
            )["area"],
        }
        for edge in listed_edges
    ]
    other_port = "A" if valve.driven_port == "B" else "B"
    inlet_area = total(
        [each["area"] for each in edge_areas if each["from_port"] == "P" and each["to_port"] == valve.driven_port]
    )
    return_area = total(
        [each["area"] for each in edge_areas if each["from_port"] == "T" and each["to_port"] == other_port]
    )
    opposite_inlet_area = total(
        [each["area"] for each in edge_areas if each["from_port"] == "P" and each["to_port"] == other_port]
    )
    opposite_return_area = total(
        [each["area"] for each in edge_areas if each["from_port"] == "T" and each["to_port"] == valve.driven_port]
    )
    bypass_area = total([each["area"] for each in edge_areas if each["from_port"] == "P" and each["to_port"] == "T"])
    at_supply = settled_ports(
        valve,
        inlet_area=inlet_area,
        return_area=return_area,
        opposite_inlet_area=opposite_inlet_area,
        opposite_return_area=opposite_return_area,
        bypass_area=bypass_area,
        port_pressure=valve.supply_pressure,
    )
    tank_side_pressure = using(valve, spool.driven_pressure, return_pressure=valve.tank_pressure)
    lower_pressure = tank_side_pressure if tank_side_pressure < valve.tank_pressure else valve.tank_pressure
    port_pressure = (
        solve(
            lambda trial: (
                settled_ports(
                    valve,
                    inlet_area=inlet_area,
                    return_area=return_area,
                    opposite_inlet_area=opposite_inlet_area,
                    opposite_return_area=opposite_return_area,
                    bypass_area=bypass_area,
                    port_pressure=trial,
                )["taken_flow"]
                - valve.pump_flow
            ),
            lower_pressure,
            valve.supply_pressure,
        )
        if at_supply["taken_flow"] > valve.pump_flow
        else valve.supply_pressure
    )
    settled = settled_ports(
        valve,
        inlet_area=inlet_area,
        return_area=return_area,
        opposite_inlet_area=opposite_inlet_area,
        opposite_return_area=opposite_return_area,
        bypass_area=bypass_area,
        port_pressure=port_pressure,
    )
    driven_pressure = settled["driven_pressure"]
    return_pressure = settled["return_pressure"]
    flow = settled["driven_flow"]
    ports = {
        "P": port_pressure,
        "T": valve.tank_pressure,
        "A": driven_pressure if valve.driven_port == "A" else return_pressure,
        "B": driven_pressure if valve.driven_port == "B" else return_pressure,
    }
    flow_force = total(
        [
            one_edge(
                valve,
                opens=each["opens"],
                area=each["area"],
                upper_pressure=ports[each["from_port"]],
                lower_pressure=ports[each["to_port"]],
            )["edge_force"]
            for each in edge_areas
        ]
    )
    return {
        "flow": flow,
        "drop_in": port_pressure - driven_pressure if flow > 0.0 else 0.0,
        "drop_out": return_pressure - valve.tank_pressure if flow > 0.0 else 0.0,
        "port_pressure": port_pressure,
        "driven_pressure": driven_pressure,
        "return_pressure": return_pressure,
        "flow_force": flow_force,
    }
