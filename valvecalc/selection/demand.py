"""A duty into what each path, port and coil of a valve has to do: flows, pressures, oil, volts."""

import math
from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from valvecalc.errors import NoValue
from valvecalc.formulas import coil, cylinder
from valvecalc.selection.duty import Duty, loop_per_length
from valvecalc.selection.function import Function, completed
from valvecalc.selection.movements import Lacks, Movement, areas_of, holding_sides, movements, too_fast
from valvecalc.sheets.oil import Oil, oil_state


class Need(NamedTuple):
    """A pressure that a port has to bear: surely at least `low`, at the worst `high`; what would tell between them."""

    low: float
    high: float
    lacks: Lacks = ()


class OilState(NamedTuple):
    """The oil at one temperature: kinematic viscosity, density, dynamic viscosity."""

    temperature: float
    viscosity: float
    density: float
    dynamic: float


class Demand(NamedTuple):
    """All that a duty asks, SI; None is not known."""

    duty: Duty
    old: Function
    movements: tuple[Movement, ...]
    largest_flow: float | None
    lacks_flow: Lacks
    lacks_load: Lacks
    unsure: Lacks
    ports: Mapping[str, Need]
    path_flows: Mapping[str, float]
    tank: Need
    tank_pressure: float | None
    hot: OilState | None
    cold: OilState | None
    lacks_hot: Lacks
    lacks_cold: Lacks
    relief: float | None
    idle_flow: float | None
    volts: float | None
    kind: str | None
    loop: float | None
    lacks_loop: Lacks
    holding: tuple[tuple[float | None, float | None, Lacks], ...]
    too_fast: tuple[str, ...]


def demand(duty: Duty) -> Demand:
    """What the duty asks of a valve."""
    found = movements(duty)
    relief = duty.get("pump", "relief_pressure")
    volts = duty.get("supply", "voltage")
    kind = duty.get("supply", "kind")
    loop, lacks_loop = _loop(duty)
    hot, lacks_hot = _oil(duty, "hottest")
    cold, lacks_cold = _oil(duty, "coldest")
    plate = duty.get("old", "coil_kind")
    return Demand(
        duty=duty,
        old=_old(duty),
        movements=found,
        largest_flow=max((flow for one in found for flow in (one.inlet_flow, one.return_flow) if flow), default=None),
        lacks_flow=_all(one.lacks_flow for one in found),
        lacks_load=_all(one.lacks_load for one in found if one.inlet),
        unsure=_all(one.unsure for one in found),
        ports=_ports(duty, relief),
        path_flows=_path_flows(found),
        tank=_tank(duty),
        tank_pressure=duty.get("lines", "tank_pressure"),
        hot=hot,
        cold=cold,
        lacks_hot=lacks_hot,
        lacks_cold=lacks_cold,
        relief=relief,
        idle_flow=duty.get("pump", "flow"),
        volts=volts if volts is not None else duty.get("old", "coil_voltage"),
        kind=kind if kind is not None else plate if plate in ("DC", "AC 50 Hz", "AC 60 Hz") else None,
        loop=loop,
        lacks_loop=lacks_loop,
        holding=tuple(_holding(duty, f"cylinder {number}", row) for number, row in enumerate(duty.cylinders, 1)),
        too_fast=tuple(too_fast(duty, found)),
    )


def _all(lacks: Iterable[Lacks]) -> Lacks:
    return tuple(dict.fromkeys(entry for one in lacks for entry in one))


def _path_flows(found: Iterable[Movement]) -> dict[str, float]:
    """Every path that some movement uses, with the largest flow that is known of it."""
    flows: dict[str, float] = {}
    for one in found:
        for path, flow in ((one.inlet, one.inlet_flow), (one.outlet, one.return_flow)):
            if path:
                flows[path] = max(flows.get(path, 0.0), flow or 0.0)
    return flows


def _old(duty: Duty) -> Function:
    positions = Function(*(duty.get("old", name) for name in Function._fields))
    return completed(positions, duty.get("old", "operator"))


def _tank(duty: Duty) -> Need:
    steady, surge = duty.get("lines", "tank_pressure"), duty.get("lines", "tank_surge")
    lacks = tuple(f"lines.{key}" for key in ("tank_pressure", "tank_surge") if duty.get("lines", key) is None)
    low = (steady or 0.0) + (surge or 0.0)
    return Need(low, math.inf if lacks else low, lacks)


def _ports(duty: Duty, relief: float | None) -> dict[str, Need]:
    if relief is None:
        return {port: Need(0.0, math.inf, ("pump.relief_pressure",)) for port in "pab"}
    found = {port: Need(relief, relief) for port in "pab"}
    for number, row in enumerate(duty.cylinders, 1):
        name = f"cylinder {number}"
        cap = (row.get("cap_port") or "A").lower()
        rod = "b" if cap == "a" else "a"
        if duty.get("ports", "plugged") == rod.upper():
            continue
        throttled = row.get("return_throttled")
        areas = areas_of(row)
        # A load that pulls the rod out adds to what the pump makes on a shut rod side.
        out = row.get("extend_load")
        lacks_load: Lacks = ()
        if out is None and row.get("hanging") is not False:
            lacks_load = (f"{name}.extend_load",)
        lacks: Lacks = () if throttled is not None else (f"{name}.return_throttled",)
        if throttled is False:
            continue
        if areas is None:
            missing = tuple(f"{name}.{key}" for key in ("bore_diameter", "rod_diameter") if row.get(key) is None)
            found[rod] = Need(found[rod].low, math.inf, (*found[rod].lacks, *lacks, *missing))
            continue
        shut = cylinder.blocked_side_pressure(
            cap_side_pressure=relief, piston_area=areas[0], annulus_area=areas[1], load_force=min(out or 0.0, 0.0)
        )
        low = max(found[rod].low, relief if lacks else shut)
        high = math.inf if lacks_load else max(found[rod].high, shut)
        found[rod] = Need(low, high, (*found[rod].lacks, *lacks, *lacks_load) if high > low else found[rod].lacks)
    return found


def _oil(duty: Duty, end: str) -> tuple[OilState | None, Lacks]:
    grade, at = duty.get("oil", "viscosity_40"), duty.get("oil", end)
    if grade is None and duty.get("oil", "grade") is not None:
        grade = float(duty.get("oil", "grade")) * 1e-6
    lacks = (*(("oil.grade",) if grade is None else ()), *((f"oil.{end}",) if at is None else ()))
    if grade is None or at is None:
        return None, lacks
    given = {key: duty.get("oil", key) for key in ("viscosity_index", "density_15")}
    known = {key: value for key, value in given.items() if value is not None}
    try:
        state = oil_state(Oil(viscosity_40=grade, oil_temperature=at, **known))
    except NoValue:
        return None, (f"oil.{end}",)
    return OilState(at, state["kinematic_viscosity"], state["density"], state["viscosity"]), ()


def _loop(duty: Duty) -> tuple[float | None, Lacks]:
    length, area = duty.get("supply", "cable_length"), duty.get("supply", "cable_area")
    if length == 0:
        return 0.0, ()
    lacks = tuple(f"supply.{key}" for key in ("cable_length", "cable_area") if duty.get("supply", key) is None)
    per_length = None if lacks else loop_per_length(area)
    if per_length is None:
        return None, lacks or ("supply.cable_area",)
    return coil.cable_resistance(cable_length=length, resistance_per_length=per_length), ()


def _holding(duty: Duty, name: str, row: Mapping[str, Any]) -> tuple[float | None, float | None, Lacks]:
    """Area whose oil holds the load, and the load's pressure on it; the smaller area where either side may hold it."""
    areas = areas_of(row)
    cap = row.get("cap_port") or "A"
    sides = holding_sides(row).replace(duty.get("ports", "plugged") or "", "", 1)
    known = [abs(load) for key in ("extend_load", "retract_load") if (load := row.get(key)) is not None]
    needed = ("bore_diameter", "rod_diameter", "extend_load", "retract_load")
    lacks = tuple(f"{name}.{key}" for key in needed if row.get(key) is None)
    if areas is None:
        return None, None, lacks
    area = areas[0] if sides == cap else areas[1]
    return area, max(known) / area if known else None, lacks
