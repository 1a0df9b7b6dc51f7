"""Rules on what must match: mounting, what the ports do at rest, on each side and on the way, and without power."""

from collections.abc import Mapping
from typing import Any

from valvecalc.selection import function
from valvecalc.selection.demand import Demand
from valvecalc.selection.flow_rules import Work
from valvecalc.selection.function import DIFFERENT, EQUAL, HOSES, PLUGS, UNKNOWN, Function, Position
from valvecalc.selection.judging import ACCEPT, ASK, REJECT, Lacks, Rule, ask, same
from valvecalc.selection.movements import holding_sides
from valvecalc.selection.stock import StockValve


def interface(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Mounting surface."""
    return same("interface", asked.duty.get("old", "interface"), valve.interface, "old.interface", "interface")


def operator(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """What the spool does without power."""
    return same("operator", asked.duty.get("old", "operator"), valve.operator, "old.operator", "operator")


def _unknown(old: Function, has: Function, positions: tuple[str, ...]) -> Lacks:
    lacks = [f"old.{name}" for name in positions if getattr(old, name) is None]
    return (*lacks, *(f"stock.{name}" for name in positions if getattr(has, name) is None))


def ports(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """What each port does at rest, on a and on b, against the old valve."""
    return _ports(asked.old, valve.function)


def _ports(old: Function, has: Function) -> Rule:
    outcome = function.compare(old, has)
    if outcome == UNKNOWN:
        return ask("function", _unknown(old, has, ("rest", "on_a", "on_b")))
    if outcome in (EQUAL, PLUGS, HOSES):
        about = {"positions": _told(has)}
        return Rule("function", ASK if outcome == HOSES else ACCEPT, outcome, _told(old), _told(has), about=about)
    found: list[str] = []
    first = ""
    for name in ("rest", "on_a", "on_b"):
        need, there = getattr(old, name), getattr(has, name)
        if isinstance(need, Position) and isinstance(there, Position):
            hazards = function.hazards(need, there)
        else:
            hazards = ["no-position"] if need is not None and there is not None and need != there else []
        if hazards and not found:
            found, first = hazards, name
    need, there = (_one(getattr(one, first)) if first else _told(one) for one in (old, has))
    return Rule("function", REJECT, REJECT, need, there, about={"position": first, "hazards": tuple(found)})


def _one(position: Position | str | None) -> str:
    return "not known" if position is None else function.text(position)


def _told(has: Function) -> str:
    return "; ".join(f"{name}: {_one(getattr(has, name))}" for name in ("rest", "on_a", "on_b"))


def crossing(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """What is joined for a moment on the way, against the old valve."""
    return _crossing(asked.old, valve.function)


def _crossing(old: Function, has: Function) -> Rule:
    outcome = function.compare(old, has)
    turned = function.as_it_fits(has, outcome if outcome not in (DIFFERENT, UNKNOWN) else EQUAL)
    sides = [side for side in "ab" if getattr(old, f"on_{side}") != "" and getattr(has, f"on_{side}") != ""]
    pairs = [(getattr(old, f"crossing_{side}"), getattr(turned, f"crossing_{side}")) for side in sides]
    for need, there in pairs:
        if isinstance(need, Position) and isinstance(there, Position) and need != there:
            hazards = tuple(function.hazards(need, there))
            return Rule("crossing", REJECT, REJECT, _one(need), _one(there), about={"hazards": hazards})
    lacks = _unknown(old, has, tuple(f"crossing_{side}" for side in sides))
    if lacks:
        return ask("crossing", lacks)
    return Rule("crossing", ACCEPT, ACCEPT, _one(pairs[0][0]) if pairs else "", _one(pairs[0][1]) if pairs else "")


def movements(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Whether there is a position for every movement that the duty asks."""
    wanted = tuple(dict.fromkeys((one.inlet, one.outlet) for one in asked.movements))
    return _movements(wanted, valve.function) if wanted else ask("movements", ("cylinder 1.bore_diameter",))


def _movements(wanted: tuple[tuple[str, str], ...], has: Function) -> Rule:
    positions = [position for position in (has.rest, has.on_a, has.on_b) if isinstance(position, Position)]
    lacks = tuple(f"stock.{name}" for name in ("rest", "on_a", "on_b") if getattr(has, name) is None)
    for inlet, outlet in wanted:
        groups = [tuple(path.upper()) for path in (inlet, outlet) if path]
        if not any(
            all(position.joins(*group) for group in groups) and (not inlet or not position.joins("P", "T"))
            for position in positions
        ):
            need = ", ".join("-".join(group) for group in groups)
            return ask("movements", lacks, need) if lacks else Rule("movements", REJECT, REJECT, need, _told(has))
    return Rule("movements", ACCEPT, ACCEPT)


def load(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Whether the spool at rest lets go of a load that hangs."""
    rows: list[tuple[str, Mapping[str, Any]]] = [
        *((f"cylinder {number}", row) for number, row in enumerate(asked.duty.cylinders, 1)),
        *((f"motor {number}", row) for number, row in enumerate(asked.duty.motors, 1)),
    ]
    rest = valve.function.rest
    unsure: list[str] = []
    hangs = False
    for name, row in rows:
        hanging = row.get("hanging")
        if hanging is False:
            continue
        hangs = hangs or hanging is True
        if rest is None or rest == "":
            if hanging is True:
                return ask("load", ("stock.rest",)) if rest is None else ask("load", (), None, "none", "stays")
            unsure.append(f"{name}.hanging")
            continue
        open_to_tank = any(rest.joins(port, "T") for port in holding_sides(row))
        driven = any(rest.joins("P", port) for port in "AB")
        if hanging is True and open_to_tank:
            return Rule("load", REJECT, "float", "shut", function.text(rest), about={"load": name})
        if hanging is True and driven:
            return Rule("load", REJECT, "driven", "shut", function.text(rest), about={"load": name})
        if hanging is None and (open_to_tank or driven):
            unsure.append(f"{name}.hanging")
    if unsure or not rows:
        return ask("load", tuple(unsure) or ("cylinder 1.hanging",))
    return Rule("load", ACCEPT, "shut" if hangs else ACCEPT, None, _one(rest))


def unloads(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Whether the pump runs to tank at rest, as the machine needs it."""
    need = asked.duty.get("pump", "unloads")
    if need is None and isinstance(asked.old.rest, Position):
        need = asked.old.rest.joins("P", "T")
    rest = valve.function.rest
    if need is None or rest is None:
        lacks = (("pump.unloads",) if need is None else ()) + (("stock.rest",) if rest is None else ())
        return ask("unloads", lacks)
    has = isinstance(rest, Position) and rest.joins("P", "T")
    words = ("open" if has else "shut") if need == has else ("holds-pressure" if need else "unloads")
    return Rule("unloads", ACCEPT if need == has else REJECT, words, "P-T" if need else "no P-T", _one(rest))


def fail_safe(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """What the cylinder does when the power goes."""
    need, rest = asked.duty.get("safety", "fail_safe"), valve.function.rest
    if need is None:
        return ask("fail-safe", ("safety.fail_safe",))
    if valve.operator is None:
        return ask("fail-safe", ("stock.operator",), need)
    if need == "stay" or valve.operator == "detent":
        verdict = ACCEPT if need == "stay" and valve.operator == "detent" else REJECT
        return Rule("fail-safe", verdict, verdict, need, valve.operator)
    if rest is None:
        return ask("fail-safe", ("stock.rest",), need)
    if not isinstance(rest, Position):
        return Rule("fail-safe", REJECT, REJECT, need, "none")
    cap = (asked.duty.cylinders[0].get("cap_port") if asked.duty.cylinders else None) or "A"
    rod = "B" if cap == "A" else "A"
    fits = {
        "hold": not any(rest.joins(port, other) for port in "AB" for other in "PT"),
        "free": rest.joins("A", "T") and rest.joins("B", "T"),
        "extend": rest.joins("P", cap) and rest.joins(rod, "T") and not rest.joins("P", "T"),
        "retract": rest.joins("P", rod) and rest.joins(cap, "T") and not rest.joins("P", "T"),
    }[need]
    return Rule("fail-safe", ACCEPT if fits else REJECT, ACCEPT if fits else REJECT, need, function.text(rest))
