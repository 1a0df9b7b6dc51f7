"""Will it shift? The force budget of one coil, in one state and one direction, over the whole stroke.

Energise: margin = solenoid - spring - flow force - lateral friction - silt - dry friction - detent
- tank pressure on a sealed pin. Release: spring, flow force and pin drive; residual magnetism resists.
The stroke coordinate is 0 in centre (or at the spring-offset end) and `stroke` fully shifted.
Quasi-static: viscous drag and the transient flow force slow a spool, they cannot stall it.
"""

from valvecalc.formula import Value
from valvecalc.formulas import budget, coil, silt, solenoid, spool, spring
from valvecalc.primitives import fact, grid, known, least, log_table, sweep, table, total, using, vary
from valvecalc.sheet import sheet
from valvecalc.sheets.edge_oil import edge_bends, edge_pair
from valvecalc.sheets.every_edge import every_edge
from valvecalc.sheets.example_valve import EXAMPLE
from valvecalc.sheets.valve import CHOICES, LABELS, LIMITS, LISTS, ORIGINS, TERMS, Valve


@sheet(
    "Forces on the spool at one place of the stroke",
    results=("margin",),
    rows={**LISTS, "lands": ("high_port", "low_port", "opens_for", "side_factor")},
    choices=CHOICES,
    limits=LIMITS,
    origins=ORIGINS,
    part=True,
)
def shift_balance(valve: Valve, *, position: Value, current_ratio: Value, available_drop: Value) -> Value:
    """One row of the budget: the state of the oil, every force, and what is left of the drive."""
    travel = position if valve.direction == "energise" else valve.stroke - position
    edges = known(valve.edges, [])
    edge_count = total([1.0 for edge in edges])
    edge_oil = (
        every_edge(valve, listed_edges=edges, position=position)
        if edge_count > 0.0 and valve.state != "no-pressure"
        else edge_pair(valve, position=position, available_drop=available_drop)
    )
    flow = edge_oil["flow"]
    drop_in = edge_oil["drop_in"]
    drop_out = edge_oil["drop_out"]
    driven_pressure = edge_oil["driven_pressure"]
    return_pressure = edge_oil["return_pressure"]
    port_pressure = edge_oil["port_pressure"]
    ports = {
        "P": 0.0 if valve.state == "no-pressure" else port_pressure,
        "T": 0.0 if valve.state == "no-pressure" else valve.tank_pressure,
        "A": 0.0
        if valve.state == "no-pressure"
        else (driven_pressure if valve.driven_port == "A" else return_pressure),
        "B": 0.0
        if valve.state == "no-pressure"
        else (driven_pressure if valve.driven_port == "B" else return_pressure),
    }
    lateral_force = total(
        [
            budget.land_side_force(
                spool_diameter=valve.spool_diameter,
                length=valve.overlap - position if land["opens_for"] == valve.driven_port else valve.overlap + position,
                pressure_drop=ports[land["high_port"]] - ports[land["low_port"]],
                side_factor=land["side_factor"],
            )
            for land in valve.lands
        ]
    )
    solenoid_force = (
        using(
            valve,
            solenoid.solenoid_force,
            curve_force=table(valve.force_curve, "position", "curve_force", position - valve.pin_error),
            current_ratio=current_ratio,
        )
        if valve.direction == "energise"
        else 0.0
    )
    spring_force = using(valve, spring.spring_force, position=position)
    flow_force = edge_oil["flow_force"]
    pin_force = spool.tank_pin_force(tank_pressure=ports["T"], pin_area=valve.pin_area)
    lateral_friction = using(valve, budget.land_friction, lateral_force=lateral_force)
    silt_force = budget.silt_on_the_way(
        silt_at_start=valve.silt_at_start, breakaway=table(fact("silt-breakaway"), "position", "breakaway", travel)
    )
    residual_force = using(valve, silt.residual_force, position=position) if valve.direction == "release" else 0.0
    drive = solenoid_force if valve.direction == "energise" else spring_force + flow_force + pin_force
    opposed = spring_force + flow_force + pin_force if valve.direction == "energise" else residual_force
    resistance_force = opposed + lateral_friction + silt_force + valve.dry_friction + valve.detent_force
    margin = drive - resistance_force
    return {
        "position": position,
        "flow": flow,
        "drop_in": drop_in,
        "drop_out": drop_out,
        "port_p": ports["P"],
        "port_a": ports["A"],
        "port_b": ports["B"],
        "solenoid_force": solenoid_force,
        "spring_force": spring_force,
        "flow_force": flow_force,
        "pin_force": pin_force,
        "lateral_friction": lateral_friction,
        "silt_force": silt_force,
        "dry_friction": valve.dry_friction,
        "detent_force": valve.detent_force,
        "residual_force": residual_force,
        "drive": drive,
        "margin": margin,
        "margin_share": budget.share_in_hand(margin=margin, drive=drive) if drive > 0.0 else None,
    }


@sheet(
    "Shift budget: will it shift, with what in hand, and what eats the force",
    results=(
        "margin_share",
        "share_position",
        "margin",
        "margin_position",
        "start_margin",
        "after_opening_margin",
        "after_opening_position",
        "end_margin",
        "current_ratio",
        "corner_opening",
        "worst",
        "stroke_rows",
    ),
    rows={**LISTS, "worst": TERMS, "stroke_rows": TERMS},
    choices=CHOICES,
    judged={"margin_share": (">=", "margin-sign-off")},
    limits=LIMITS,
    labels=LABELS,
    example=EXAMPLE,
    origins=ORIGINS,
    cautions=("test-stand", "falling-load", "hot-coil"),
    sources=(("jelali-kroll-2003", "eq. 3.88, p. 50"), ("merritt-1967", ""), ("patil", "example 1.3")),
    distrust=(
        "The flow-force factor: 1 is the plain theory and pessimistic; calibrate it with one limit point of the valve.",
        "Silting: there is no general law; only a pull after a hold on this valve tells.",
        "One-way use (A or B plugged): the partial compensation of the other chamber is lost; test that use.",
        "AC coils: the force follows the current, which follows the gap; only go or no-go can be said.",
        "Listed edges: a plain pump with its relief valve stands at P; an accumulator or a check valve is not in it.",
    ),
)
def shift_budget(valve: Valve) -> Value:
    """Walks the stroke, finds where the least is in hand, and tells start, opening and end apart.

    The places hold every break point (overlap, the corner where the pump flow is just passed, the
    ends of the silt ramp, the points of the force curve), so that 60 steps find the true minimum.
    With a list of edges the flow force is the sum over all of them, at the port pressures that fit cylinder and pump.
    """
    resistance = using(valve, coil.winding_resistance)
    curve_resistance = coil.winding_resistance(
        resistance_20=valve.curve_resistance_20, winding_temperature=valve.curve_temperature
    )
    current_ratio = using(valve, coil.current_ratio, resistance=resistance, curve_resistance=curve_resistance)
    available_drop = using(valve, spool.available_pressure)
    corner_opening = using(valve, spool.corner_opening, available_drop=available_drop) if available_drop > 0.0 else 0.0
    prepared = vary(
        valve,
        lands=[
            {
                "high_port": land["high_port"],
                "low_port": land["low_port"],
                "opens_for": land["opens_for"],
                "side_factor": budget.side_factor(
                    taper=land["taper"] + valve.added_taper,
                    clearance=valve.clearance,
                    groove_factor=log_table(
                        fact("groove-factors"), "live_grooves", "groove_factor", land["live_grooves"]
                    ),
                ),
            }
            for land in valve.lands
        ],
    )
    edges = known(valve.edges, [])
    edge_count = total([1.0 for edge in edges])
    bends = [
        edge_bends(
            valve,
            opens=edge["opens"],
            edge_overlap=edge["edge_overlap"],
            open_circumference=edge["open_circumference"],
        )
        for edge in edges
    ]
    places = grid(
        0.0,
        valve.stroke,
        120 if edge_count > 0.0 else 60,
        [valve.overlap, valve.overlap + fact("just-beyond"), valve.overlap + corner_opening],
        [
            row["position"] if valve.direction == "energise" else valve.stroke - row["position"]
            for row in fact("silt-breakaway")
        ],
        [row["position"] + valve.pin_error for row in valve.force_curve],
        [bend["opening_position"] for bend in bends],
        [bend["leaking_position"] for bend in bends],
        [bend["corner_position"] for bend in bends],
    )
    stroke_rows = sweep(
        lambda position: shift_balance(
            prepared, position=position, current_ratio=current_ratio, available_drop=available_drop
        ),
        places,
    )
    worst = least(stroke_rows, "margin")
    tightest = least(stroke_rows, "margin_share")
    opened = (
        least([row for row in stroke_rows if row["position"] > valve.overlap], "margin")
        if valve.stroke > valve.overlap
        else worst
    )
    first = shift_balance(prepared, position=0.0, current_ratio=current_ratio, available_drop=available_drop)
    last = shift_balance(prepared, position=valve.stroke, current_ratio=current_ratio, available_drop=available_drop)
    return {
        "margin_share": tightest["margin_share"],
        "share_position": tightest["position"],
        "margin": worst["margin"],
        "margin_position": worst["position"],
        "start_margin": first["margin"] if valve.direction == "energise" else last["margin"],
        "after_opening_margin": opened["margin"],
        "after_opening_position": opened["position"],
        "end_margin": last["margin"] if valve.direction == "energise" else first["margin"],
        "current_ratio": current_ratio,
        "corner_opening": corner_opening,
        "worst": [worst],
        "stroke_rows": stroke_rows,
    }
