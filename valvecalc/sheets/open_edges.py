"""Flow and flow force of every edge of a spool at one place of its stroke, whatever its function."""

from typing import NamedTuple

from valvecalc.formula import Value
from valvecalc.formulas import limit, orifice, spool
from valvecalc.primitives import total, using
from valvecalc.sheet import sheet


class Spool(NamedTuple):
    """The edges, where the spool stands, the pressures at the ports; SI."""

    edges: Value
    position: Value
    spool_diameter: Value
    clearance: Value
    port_p: Value
    port_a: Value
    port_b: Value
    port_t: Value
    density: Value
    flow_force_factor: Value = 1.0
    discharge_coefficient: Value = 0.65


class Edge(NamedTuple):
    """What is common to all edges of a spool; SI."""

    spool_diameter: Value
    clearance: Value
    density: Value
    flow_force_factor: Value = 1.0
    discharge_coefficient: Value = 0.65


EDGE = ("from_port", "to_port", "opens", "edge_overlap", "open_circumference")
PORTS = ("P", "A", "B", "T")
WAYS = ("forth", "back")
LIMITS = {
    "position": ">= -100 mm, <= 100 mm",
    "spool_diameter": "> 1 mm, <= 200 mm",
    "clearance": ">= 0 µm, <= 1 mm",
    "port_p": ">= 0 bar, <= 700 bar",
    "port_a": ">= 0 bar, <= 700 bar",
    "port_b": ">= 0 bar, <= 700 bar",
    "port_t": ">= 0 bar, <= 700 bar",
    "density": ">= 700 kg/m³, <= 1500 kg/m³",
    "flow_force_factor": ">= 0, <= 2",
    "discharge_coefficient": "> 0.3, <= 1",
    "edge_overlap": ">= -50 mm, <= 50 mm",
    "open_circumference": "> 0, <= 1",
}


@sheet("Opening of one edge of a spool", results=("opening", "area"), choices={"opens": WAYS}, part=True)
def edge_opening(
    valve: Edge, *, position: Value, opens: Value, edge_overlap: Value, open_circumference: Value
) -> Value:
    """How far the edge is open where the spool stands, and the area it leaves."""
    opening = position - edge_overlap if opens == "forth" else -position - edge_overlap
    area = (
        using(valve, spool.metering_area, opening=opening, open_circumference=open_circumference)
        if opening > 0.0
        else 0.0
    )
    return {"opening": opening if opening > 0.0 else 0.0, "area": area}


@sheet("One edge of a spool", results=("edge_force",), choices={"opens": WAYS}, part=True)
def one_edge(valve: Edge, *, opens: Value, area: Value, upper_pressure: Value, lower_pressure: Value) -> Value:
    """Flow and force of one edge; an edge that opens forth is shut by its force backwards."""
    pressure_drop = limit.unsigned_drop(upper_pressure=upper_pressure, lower_pressure=lower_pressure)
    flow = using(valve, orifice.orifice_flow, area=area, pressure_drop=pressure_drop)
    flow_force = using(valve, spool.flow_force, flow=flow, pressure_drop=pressure_drop)
    edge_force = flow_force if opens == "forth" else -flow_force
    return {
        "pressure_drop": pressure_drop,
        "flow": flow,
        "edge_force": edge_force,
    }


@sheet(
    "Open edges of a spool: flow and flow force of each",
    results=("net_edge_force", "taken_flow", "edge_rows"),
    rows={"edges": EDGE, "edge_rows": ("from_port", "to_port", "opening", "pressure_drop", "flow", "edge_force")},
    choices={"from_port": PORTS, "to_port": PORTS, "opens": WAYS},
    limits=LIMITS,
    labels={"position": "travel of the spool from centre; negative: the other way"},
    origins={
        "flow_force_factor": ("judgement", ""),
        "discharge_coefficient": ("handbook", "jelali-kroll-2003"),
    },
    chart="position",
    example={
        "edges": [
            {"from_port": "P", "to_port": "A", "opens": "forth", "edge_overlap": "0.8 mm", "open_circumference": "1"},
            {"from_port": "B", "to_port": "T", "opens": "forth", "edge_overlap": "0.5 mm", "open_circumference": "1"},
            {"from_port": "P", "to_port": "T", "opens": "back", "edge_overlap": "-1 mm", "open_circumference": "0.4"},
        ],
        "position": "0.9 mm",
        "spool_diameter": "13 mm",
        "clearance": "5 µm",
        "port_p": "42 bar",
        "port_a": "30 bar",
        "port_b": "9 bar",
        "port_t": "4 bar",
        "density": "857 kg/m³",
        "flow_force_factor": "0.3",
    },
    cautions=("test-stand", "falling-load"),
    sources=(("jelali-kroll-2003", "eq. 3.88, p. 50"),),
    distrust=(
        "Pressures read at another place of the stroke: they change as the edges open.",
        "Flows that do not add up to the pump's: a pressure or an overlap is misread.",
        "The flow-force factor: 1 is the plain theory and pessimistic.",
    ),
)
def open_edges(valve: Spool) -> Value:
    """What each open edge of any spool function passes and pushes, P to T and crossing edges included.

    An edge opens forth, with the travel, or back, against it; a negative overlap is open in centre. Each force
    acts towards shut: of an edge that opens forth against the travel, of one that opens back with it.
    """
    ports = {"P": valve.port_p, "A": valve.port_a, "B": valve.port_b, "T": valve.port_t}
    edge_areas = [
        {
            "from_port": edge["from_port"],
            "to_port": edge["to_port"],
            "opens": edge["opens"],
            "open_now": edge_opening(
                valve,
                position=valve.position,
                opens=edge["opens"],
                edge_overlap=edge["edge_overlap"],
                open_circumference=edge["open_circumference"],
            ),
        }
        for edge in valve.edges
    ]
    edge_states = [
        {
            "from_port": each["from_port"],
            "to_port": each["to_port"],
            "opening": each["open_now"]["opening"],
            "state": one_edge(
                valve,
                opens=each["opens"],
                area=each["open_now"]["area"],
                upper_pressure=ports[each["from_port"]],
                lower_pressure=ports[each["to_port"]],
            ),
        }
        for each in edge_areas
    ]
    net_edge_force = total([each["state"]["edge_force"] for each in edge_states])
    taken_flow = total([each["state"]["flow"] for each in edge_states if each["from_port"] == "P"])
    edge_rows = [
        {
            "from_port": each["from_port"],
            "to_port": each["to_port"],
            "opening": each["opening"],
            "pressure_drop": each["state"]["pressure_drop"],
            "flow": each["state"]["flow"],
            "edge_force": each["state"]["edge_force"],
        }
        for each in edge_states
    ]
    return {"net_edge_force": net_edge_force, "taken_flow": taken_flow, "edge_rows": edge_rows}
