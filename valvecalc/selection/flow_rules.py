"""Rules that follow the oil: losses warm and cold, pump pressure, shift limit, load that runs ahead, pilot pressure."""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from valvecalc.facts import fact_value
from valvecalc.formulas import limit, paths
from valvecalc.selection.demand import Demand, OilState
from valvecalc.selection.function import Position
from valvecalc.selection.judging import ACCEPT, ASK, REJECT, Lacks, Rule, ask, at_least, at_most, lacking, rating
from valvecalc.selection.movements import Movement
from valvecalc.selection.stock import Curve, StockValve

_ROOT_3 = math.sqrt(3.0)


class Loss(NamedTuple):
    """What one movement costs in one valve with oil of one temperature; SI.

    `pump` is the pressure at P; `into` and `out` are the curves of its two paths in that oil."""

    movement: Movement
    drop_in: float
    drop_out: float
    felt: float
    pump: float | None
    into: Curve
    out: Curve

    @property
    def u(self) -> float:
        """Standard uncertainty of `felt` and `pump`. Both curves come from one sheet of papers: they err together."""
        one = self.movement
        u_in = path_loss(self.into, one.inlet_flow or 0.0)[1]
        return one.weight_in * u_in + one.weight_out * path_loss(self.out, one.return_flow or 0.0)[1]

    @property
    def heat(self) -> float:
        """Power that both paths turn into heat."""
        one = self.movement
        into: float = paths.throttle_heat(flow=one.inlet_flow or 0.0, pressure_drop=self.drop_in)
        out: float = paths.throttle_heat(flow=one.return_flow or 0.0, pressure_drop=self.drop_out)
        return into + out


class Work(NamedTuple):
    """The losses of a valve in every movement of the duty, warm and cold, and what was lacking for the rest."""

    warm: list[Loss]
    cold: list[Loss]
    lacks: Lacks
    reach: float


def in_oil(curve: Curve, state: OilState, viscosity: float, density: float) -> Curve:
    """The curve with the machine's oil. `viscosity` (kinematic) and `density` are those of the oil of its points.

    What `paths.path_drop` does at every flow is done once here, so that thousands of valves are judged in a second; a
    test holds the two to each other.
    """
    thin = state.dynamic / (viscosity * density)
    dense = state.density / density
    return Curve(
        curve.linear * thin, curve.square * dense, curve.thick_linear * thin, curve.thick_square * dense, curve.spread,
        curve.largest,
    )  # fmt: skip


#: No path at all: nothing flows in the valve, nothing is lost.
_NO_PATH = Curve(0.0, 0.0, 0.0, 0.0, 0.0, math.inf)


def path_loss(curve: Curve, flow: float) -> tuple[float, float]:
    """Loss of a path whose curve is `in_oil`, and its standard uncertainty."""
    linear, square, thick_linear, thick_square, spread, _ = curve
    drop = flow * (linear + square * flow)
    half = spread * drop
    if thick_linear != linear:  # one point: how much goes with viscosity is not known
        half = max(half, abs(flow * (thick_linear + thick_square * flow) - drop))
    return drop, half / _ROOT_3


def work_of(valve: StockValve, asked: Demand) -> Work:
    """Every movement through this valve."""
    curves, viscosity = valve.curves, valve.drop_viscosity
    known: Sequence[Movement] = asked.movements
    lacks: Lacks = asked.lacks_flow
    reach = 0.0
    for path, flow in asked.path_flows.items():
        curve = curves.get(path)
        if curve is None:
            lacks = (*lacks, f"stock.drop_{path}")
        elif flow > reach * curve.largest:
            reach = flow / curve.largest
    if viscosity is None:
        lacks = (*lacks, "stock.drop_viscosity") if curves else lacks
        known = ()
    elif lacks:
        known = [
            one
            for one in known
            if not one.lacks_flow and all(path in curves for path in (one.inlet, one.outlet) if path)
        ]
    warm = _losses(valve, known, asked.hot, asked.tank_pressure)
    return Work(warm, _losses(valve, known, asked.cold, asked.tank_pressure), lacks, reach)


def _losses(valve: StockValve, known: Sequence[Movement], state: OilState | None, tank: float | None) -> list[Loss]:
    if state is None or not known:
        return []
    density = valve.drop_density or state.density
    curves = {path: in_oil(curve, state, valve.drop_viscosity, density) for path, curve in valve.curves.items()}
    curves[""] = _NO_PATH
    found = []
    for one in known:
        into, out = curves[one.inlet], curves[one.outlet]
        flow_in, flow_out = one.inlet_flow or 0.0, one.return_flow or 0.0
        drop_in = flow_in * (into.linear + into.square * flow_in)
        drop_out = flow_out * (out.linear + out.square * flow_out)
        felt_in, felt_out = one.weight_in * drop_in, one.weight_out * drop_out
        pump = None
        if one.load is not None and tank is not None and one.inlet:
            pump = one.load + one.tank_weight * tank + felt_out
            pump = (pump if pump > 0.0 else 0.0) + felt_in
        found.append(Loss(one, drop_in, drop_out, felt_in + felt_out, pump, into, out))
    return found


def _felt(one: Loss) -> float:
    return one.felt


def _unsure(rule: Rule, asked: Demand) -> Rule:
    """Accepted with the flow that is known: what could make it larger is asked for."""
    if asked.unsure and rule.verdict == ACCEPT:
        return rule._replace(verdict=ASK, words="more-flow", lacks=asked.unsure)
    return rule


def loss(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """What the valve takes of the pump's pressure, warm, against what is allowed."""
    lacks = (*work.lacks, *asked.lacks_hot)
    allowed = asked.duty.get("allowed", "loss")
    if not asked.movements:
        return ask("loss", ("cylinder 1.bore_diameter",))
    if not work.warm:
        return ask("loss", lacks, allowed)
    worst = max(work.warm, key=_felt)
    if allowed is None:
        if asked.relief is None or lacks:
            wanted = ("allowed.loss", "pump.relief_pressure") if asked.relief is None else ()
            return ask("loss", (*lacks, *wanted), None, worst.felt)
        return _unsure(Rule("loss", ACCEPT, "no-limit", None, worst.felt, None, 0.0, (), worst), asked)
    found = at_most("loss", allowed, worst.felt, worst.u, worst)
    if lacks and found.verdict != REJECT:
        return ask("loss", lacks, allowed, worst.felt)
    return _unsure(found, asked)


def pump(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Pressure at P with warm oil against the relief valve, with its reserve."""
    return _pump("pump", work.warm, (*work.lacks, *asked.lacks_hot), asked, fact_value("relief-reserve"))


def cold(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """The same with the coldest oil and no reserve: beyond it the machine is slow until it has warmed."""
    found = _pump("cold", work.cold, (*work.lacks, *asked.lacks_cold), asked, 0.0)
    return found._replace(verdict=ASK, words="slow") if found.verdict == REJECT else found


def _pump(rule: str, losses: list[Loss], lacks: Lacks, asked: Demand, reserve: float) -> Rule:
    lacks = (*lacks, *asked.lacks_load)
    if asked.tank_pressure is None:
        lacks = (*lacks, "lines.tank_pressure")
    if asked.relief is None:
        lacks = (*lacks, "pump.relief_pressure")
    worst, highest = None, -1.0
    for one in losses:
        if one.pump is not None and one.pump > highest:
            worst, highest = one, one.pump
    if worst is None or asked.relief is None:
        if not lacks and asked.movements and not any(one.inlet for one in asked.movements):
            return Rule(rule, ACCEPT, "no-pump")
        return ask(rule, tuple(dict.fromkeys(lacks)) or ("cylinder 1.extend_load",), asked.relief)
    found = at_most(rule, asked.relief - reserve, highest, worst.u, worst)
    if lacks and found.verdict != REJECT:
        return ask(rule, tuple(dict.fromkeys(lacks)), found.need, found.has)
    return _unsure(found, asked)


def reach(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """How far beyond the last point of its curve the valve is used."""
    if not work.reach:
        return ask("reach", work.lacks or ("pump.flow",), fact_value("path-reach"))
    found = at_most("reach", fact_value("path-reach"), work.reach)
    return found._replace(verdict=ASK, words="near", margin=None) if found.verdict == REJECT else found


def limit_at(points: tuple[tuple[float, float], ...], pressure: float) -> float | None:
    """Flow of the shift limit at a pressure: straight between its points, level below the first, unknown above."""
    if pressure <= points[0][1]:
        return points[0][0]
    for (flow, low), (next_flow, high) in pairwise(points):
        if pressure <= high:
            return flow + (next_flow - flow) * (pressure - low) / (high - low)
    return None


def shift(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Flow at which it still shifts at the relief pressure, against the largest flow in any path."""
    lacks = (*asked.lacks_flow, *(("pump.relief_pressure",) if asked.relief is None else ()))
    lacks += lacking(valve, "shift_limit")
    need = None if asked.largest_flow is None else fact_value("size-limit-reserve") * asked.largest_flow
    if need is None or asked.relief is None or valve.shift_limit is None:
        return ask("shift", lacks or ("pump.flow",), need)
    has = limit_at(valve.shift_limit, asked.relief)
    if has is None:
        return ask("shift", ("stock.shift_limit",), need, None, "beyond")
    plugged = asked.duty.get("ports", "plugged")
    about = {"flow": asked.largest_flow, "pressure": asked.relief}
    if plugged == "none" or valve.limit_ports == "one":
        found = at_least("shift", need, has, 0.0, about)
    else:
        least = fact_value("size-one-way-least")
        one_way = limit.one_way_limit(limit_flow=has)
        half = one_way - limit.one_way_limit(limit_flow=has, one_way_share=least)
        found = at_least("shift", need, one_way, half / _ROOT_3, about)
        if plugged is None:
            if found.verdict != ACCEPT and has >= need:
                return ask("shift", ("ports.plugged",), need, has)
        else:
            found = found._replace(words="one-way-" + found.words)
            if found.verdict != ACCEPT and valve.limit_ports is None:
                return ask("shift", ("stock.limit_ports",), need, one_way)
    if lacks and found.verdict != REJECT:
        return ask("shift", lacks, need, found.has)
    return _unsure(found, asked)


_NOTHING_AHEAD = Rule("runaway", ACCEPT, ACCEPT)


def runaway(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """A load that runs ahead of the oil has to be held back: this valve's own return loss is no brake."""
    for one in asked.movements:
        if one.load is not None and one.load >= 0.0:
            continue
        name = one.name.partition(" going")[0]
        number = name.rpartition(" ")[2]
        rows = asked.duty.cylinders if name.startswith("cylinder") else asked.duty.motors
        row = rows[int(number) - 1] if number.isdecimal() and int(number) <= len(rows) else {}
        if one.load is None and row.get("hanging") is not False and row.get("held_back") is not True and one.lacks_load:
            return ask("runaway", one.lacks_load)
        if one.load is None:
            continue
        need = -one.load / one.return_ratio if one.return_ratio else -one.load
        held = row.get("held_back")
        if held is True:
            continue
        if held is None:
            return ask("runaway", (f"{name}.held_back",), need)
        has = next((lost.drop_out for lost in work.warm if lost.movement is one), None)
        if has is None or has < need:
            return Rule("runaway", REJECT, REJECT, need, has, None, 0.0, (), {"movement": one.name})
    return _NOTHING_AHEAD


def pilot(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Pilot pressure that is there at rest and in every movement, over that of the drain."""
    if valve.stage is None:
        return ask("pilot", ("stock.stage",))
    if valve.stage == "direct":
        return Rule("pilot", ACCEPT, "direct")
    missing = lacking(valve, "pilot", "drain", "pilot_pressure_min")
    if missing:
        return ask("pilot", missing)
    if valve.pilot == "external":
        if asked.duty.get("old", "pilot") == "external":
            return Rule("pilot", ACCEPT, "external", valve.pilot_pressure_min)
        if asked.duty.get("old", "pilot") is None:
            return ask("pilot", ("old.pilot",), valve.pilot_pressure_min)
        return ask("pilot", (), valve.pilot_pressure_min, None, "no-line")
    back = asked.tank if valve.drain == "internal" else None
    lacks: Lacks = (*(back.lacks if back else ()), *(("pump.relief_pressure",) if asked.relief is None else ()))
    if valve.rest is None:
        lacks = (*lacks, "stock.rest")
    if lacks or asked.relief is None:
        return ask("pilot", lacks, valve.pilot_pressure_min)
    against = back.high if back else 0.0
    place, least, u = "at rest", asked.relief, 0.0
    if isinstance(valve.rest, Position) and valve.rest.joins("P", "T"):
        curve, state = valve.curves.get("pt"), asked.hot
        lacks = (
            *(() if curve else ("stock.drop_pt",)), *lacking(valve, "drop_viscosity"),
            *(() if asked.idle_flow is not None else ("pump.flow",)), *asked.lacks_hot,
            *(() if asked.tank_pressure is not None else ("lines.tank_pressure",)),
        )  # fmt: skip
        if lacks or curve is None or state is None or asked.idle_flow is None or asked.tank_pressure is None:
            return ask("pilot", lacks, valve.pilot_pressure_min)
        density = valve.drop_density or state.density
        centre, u = path_loss(in_oil(curve, state, valve.drop_viscosity, density), asked.idle_flow)
        least = asked.tank_pressure + centre
        place = "at rest, with its centre open to the tank"
    for one in work.warm:
        if one.pump is not None and one.pump < least:
            least, u, place = one.pump, one.u, one.movement.name
    found = at_least("pilot", valve.pilot_pressure_min, least - against, u, {"place": place, "drain": against})
    if found.verdict != REJECT:
        lacks = (*work.lacks, *asked.lacks_load, *asked.lacks_hot)
        if lacks:
            return ask("pilot", lacks, found.need, found.has)
        if valve.pilot_pressure_max is None:
            return ask("pilot", ("stock.pilot_pressure_max",), found.need, found.has)
        if asked.relief > valve.pilot_pressure_max:
            return Rule("pilot", REJECT, "too-high", valve.pilot_pressure_max, asked.relief)
    return found


def drain(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Where the pilot oil leaves, and the pressure that stands against it there."""
    if valve.stage is None:
        return ask("drain", ("stock.stage",))
    if valve.stage == "direct":
        return Rule("drain", ACCEPT, "direct")
    if valve.drain is None:
        return ask("drain", ("stock.drain",))
    old = asked.duty.get("old", "drain")
    if valve.drain == "external":
        if old == "external":
            return Rule("drain", ACCEPT, "external")
        return ask("drain", ("old.drain",) if old is None else (), None, None, "ask" if old is None else "no-line")
    found = rating("drain", asked.tank, valve.drain_pressure_max, "drain_pressure_max")
    if found.verdict == ACCEPT and old != "internal":
        return found._replace(verdict=ASK, words="had-line", lacks=("old.drain",) if old is None else ())
    return found
