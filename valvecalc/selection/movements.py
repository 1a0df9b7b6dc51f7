"""The duty points of a duty: which path of the valve carries how much in each movement, and what the load asks.

What is not known stays None, and the entries that are lacking stand beside it. Here the areas of a cylinder come in:
going in, the return flow is the pump's times the area ratio; its loss goes with the square of that, what the pump feels
of it and the heat with the cube.
"""

import math
from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from valvecalc.formulas import cylinder, cylinder_load, paths
from valvecalc.selection.duty import Duty
from valvecalc.selection.function import Position

Lacks = tuple[str, ...]


class Movement(NamedTuple):
    """One duty point: which paths carry how much, and what the load asks; SI.

    inlet, outlet  path of the valve, "pa"; "" where none of the valve's paths is used
    load           pressure at the inlet port for the load alone; below zero the load runs ahead
    weight_in, weight_out, tank_weight   how the two losses and the tank pressure add up to the pressure at P
    unsure         entries that could make the flow larger
    """

    name: str
    inlet: str
    outlet: str
    inlet_flow: float | None
    return_flow: float | None
    load: float | None
    weight_in: float
    weight_out: float
    tank_weight: float
    return_ratio: float
    lacks_flow: Lacks
    lacks_load: Lacks
    unsure: Lacks


def movements(duty: Duty) -> tuple[Movement, ...]:
    """Every movement of every cylinder and motor."""
    found: list[Movement] = []
    for number, row in enumerate(duty.cylinders, 1):
        found += _cylinder(duty, f"cylinder {number}", row)
    for number, row in enumerate(duty.motors, 1):
        found += _motor(duty, f"motor {number}", row)
    return tuple(found)


def is_joined(duty: Duty, row: Mapping[str, Any]) -> bool | None:
    """Whether the rod side's oil joins the pump's in the valve: said, or told by the old valve's positions."""
    said = row.get("regenerative")
    if said is not None:
        return bool(said)
    working = [duty.get("old", key) for key in ("on_a", "on_b")]
    known = [position for position in working if isinstance(position, Position)]
    if any(position.joins("P", "A", "B") for position in known):
        return True
    return None if any(position is None for position in working) else False


def areas_of(row: Mapping[str, Any]) -> tuple[float, float] | None:
    """Piston and ring area of a cylinder, None if one diameter is not known."""
    bore, rod = row.get("bore_diameter"), row.get("rod_diameter")
    if bore is None or rod is None:
        return None
    return (
        cylinder.piston_area(bore_diameter=bore),
        cylinder.annulus_area(bore_diameter=bore, rod_diameter=rod),
    )


def holding_sides(row: Mapping[str, Any]) -> str:
    """The ports whose oil may hold the load: one, where the signs of the loads tell, else both."""
    cap = row.get("cap_port") or "A"
    rod = "B" if cap == "A" else "A"
    out, back = row.get("extend_load"), row.get("retract_load")
    if out is not None and out < 0 <= (back or 0.0):
        return rod
    if back is not None and back < 0 <= (out or 0.0):
        return cap
    return "AB"


def _pump_flow(duty: Duty) -> tuple[float | None, Lacks, Lacks]:
    """Flow of pump and accumulator, what is lacking for it, and what could make it larger."""
    flow = duty.get("pump", "flow")
    present, peak = duty.get("accumulator", "present"), duty.get("accumulator", "peak_flow")
    if flow is None:
        return None, ("pump.flow",), ()
    if present is False:
        return flow, (), ()
    if peak is not None:
        return flow + peak, (), ()
    return flow, (), ("accumulator.peak_flow",) if present else ("accumulator.present",)


def _speed(row: Mapping[str, Any], way: str) -> float | None:
    speed, time, stroke = row.get(f"{way}_speed"), row.get(f"{way}_time"), row.get("stroke_length")
    if speed is not None:
        return float(speed)
    return stroke / time if time is not None and stroke is not None else None


def _cylinder(duty: Duty, name: str, row: Mapping[str, Any]) -> list[Movement]:
    cap = row.get("cap_port") or "A"
    rod = "B" if cap == "A" else "A"
    plugged = duty.get("ports", "plugged")
    areas = areas_of(row)
    lacks_areas = tuple(f"{name}.{key}" for key in ("bore_diameter", "rod_diameter") if row.get(key) is None)
    joined = is_joined(duty, row) if plugged != rod else False
    unsure = (f"{name}.regenerative",) if joined is None else ()
    found = [_out(duty, name, row, cap, rod if plugged != rod else "", bool(joined), areas, lacks_areas, unsure)]
    found.append(_in(duty, name, row, cap, rod if plugged != rod else "", areas, lacks_areas))
    return found


def _flows(
    duty: Duty, name: str, row: Mapping[str, Any], way: str, area: float | None
) -> tuple[float | None, Lacks, Lacks]:
    """Flow into the side that is filled: from the speed if that is known, else the pump's."""
    speed = _speed(row, way)
    if speed is not None and area is not None:
        return speed * area, (), ()
    flow, lacks, unsure = _pump_flow(duty)
    return flow, (*lacks, f"{name}.{way}_speed") if lacks else (), unsure


def _load(name: str, row: Mapping[str, Any], way: str, area: float | None) -> tuple[float | None, Lacks]:
    force = row.get(f"{way}_load")
    if force is None:
        return None, (f"{name}.{way}_load",)
    if area is None:
        return None, ()
    share = (cylinder_load.pressure_to_push.__kwdefaults__ or {})["mechanical_efficiency"]
    # Friction helps to hold a load that runs ahead, so it is taken off there.
    friction = share if force >= 0 else 1 / share
    return cylinder_load.pressure_on_area(load_force=force, mechanical_efficiency=friction, area=area), ()


def _out(
    duty: Duty, name: str, row: Mapping[str, Any], cap: str, rod: str, joined: bool,
    areas: tuple[float, float] | None, lacks_areas: Lacks, unsure: Lacks,
) -> Movement:  # fmt: skip
    piston, ring = areas if areas else (None, None)
    inlet, outlet = f"p{cap.lower()}", f"{rod.lower()}t" if rod else ""
    if joined and piston is not None and ring is not None:
        rod_area = piston - ring
        flow, lacks, more = _flows(duty, name, row, "extend", rod_area)
        filled = None if flow is None else paths.joined_flow(pump_flow=flow, piston_area=piston, rod_area=rod_area)
        back = None if filled is None or flow is None else filled - flow
        load, lacks_load = _load(name, row, "extend", rod_area)
        return Movement(
            f"{name} going out, both sides joined", inlet, f"p{rod.lower()}", filled, back, load, piston / rod_area,
            ring / rod_area, 0.0, ring / piston, lacks, lacks_load, more,
        )  # fmt: skip
    flow, lacks, more = _flows(duty, name, row, "extend", piston)
    load, lacks_load = _load(name, row, "extend", piston)
    if not rod:
        return Movement(
            f"{name} going out",
            inlet,
            "",
            flow,
            0.0,
            load,
            1.0,
            0.0,
            0.0,
            0.0,
            lacks,
            (*lacks_load, *lacks_areas),
            more,
        )
    back = None
    if flow is not None and piston is not None and ring is not None:
        back = paths.return_going_out(pump_flow=flow, piston_area=piston, annulus_area=ring)
    ratio = ring / piston if piston and ring else 1.0
    return Movement(
        f"{name} going out", inlet, outlet, flow, back, load, 1.0, ratio, ratio, ratio, (*lacks, *lacks_areas),
        (*lacks_load, *lacks_areas), (*more, *unsure),
    )  # fmt: skip


def _in(
    duty: Duty, name: str, row: Mapping[str, Any], cap: str, rod: str,
    areas: tuple[float, float] | None, lacks_areas: Lacks,
) -> Movement:  # fmt: skip
    piston, ring = areas if areas else (None, None)
    outlet = f"{cap.lower()}t"
    if not rod:  # its load drives it in, through one path
        speed, area = _speed(row, "retract"), piston
        flow = speed * area if speed is not None and area is not None else None
        lacks: Lacks = () if speed is not None else (f"{name}.retract_speed",)
        return Movement(
            f"{name} going in, by its load", "", outlet, 0.0, flow, 0.0, 0.0, 0.0, 0.0, 0.0,
            (*lacks, *(one for one in lacks_areas if "bore" in one)), (), (),
        )  # fmt: skip
    flow, lacks, more = _flows(duty, name, row, "retract", ring)
    back = None
    if flow is not None and piston is not None and ring is not None:
        back = paths.return_going_in(pump_flow=flow, piston_area=piston, annulus_area=ring)
    load, lacks_load = _load(name, row, "retract", ring)
    ratio = piston / ring if piston and ring else 1.0
    return Movement(
        f"{name} going in", f"p{rod.lower()}", outlet, flow, back, load, 1.0, ratio, ratio, ratio,
        (*lacks, *lacks_areas), (*lacks_load, *lacks_areas), more,
    )  # fmt: skip


def _motor(duty: Duty, name: str, row: Mapping[str, Any]) -> list[Movement]:
    size, speed, torque = row.get("displacement"), row.get("speed"), row.get("torque")
    if size is not None and speed is not None:
        known: tuple[float | None, Lacks, Lacks] = (size * speed, (), ())
    else:
        known = _pump_flow(duty)
    flow, lacks, more = known
    if flow is None:
        lacks = (*lacks, *(f"{name}.{key}" for key in ("displacement", "speed") if row.get(key) is None))
    share = (cylinder_load.pressure_to_push.__kwdefaults__ or {})["mechanical_efficiency"]
    load = 2 * math.pi * torque / (size * share) if torque is not None and size is not None else None
    lacks_load = tuple(f"{name}.{key}" for key in ("displacement", "torque") if row.get(key) is None)
    return [
        Movement(f"{name} going {way}", inlet, outlet, flow, flow, load, 1.0, 1.0, 1.0, 1.0, lacks, lacks_load, more)
        for way, inlet, outlet in (("one way", "pa", "bt"), ("the other way", "pb", "at"))
    ]


def too_fast(duty: Duty, found: Iterable[Movement]) -> list[str]:
    """Movements that want more flow than pump and accumulator give."""
    flow, lacks, unsure = _pump_flow(duty)
    if flow is None or lacks or unsure:
        return []
    taken = [(one.name, one.inlet_flow - (one.return_flow or 0.0) if "joined" in one.name else one.inlet_flow)
             for one in found if one.inlet_flow is not None]  # fmt: skip
    return [name for name, needed in taken if needed > flow * 1.05]
