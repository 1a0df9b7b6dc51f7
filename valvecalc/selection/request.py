"""Without a stock list: the smallest mounting surface and the figures to ask any supplier for; one page, no maker."""

from typing import NamedTuple

from valvecalc.facts import fact_value
from valvecalc.selection import function
from valvecalc.selection.demand import Demand, Need
from valvecalc.selection.words import lack_text, named_text


class Line(NamedTuple):
    """One thing to ask for: what, the figure, and the entries that are lacking for it."""

    what: str
    figure: str
    lacks: tuple[str, ...] = ()


def smallest_interface(flow: float) -> str | None:
    """The smallest mounting surface whose valves mostly carry this flow; None beyond the largest."""
    return next((str(row["interface"]) for row in fact_value("size-interfaces") if row["flow"] >= flow), None)


def request(asked: Demand, system: str = "metric") -> list[Line]:
    """The page, line by line; what is not known yet stands with what would tell it."""
    return [
        *_mounting(asked, system), *_function(asked), *_flows(asked, system), *_pressures(asked, system),
        *_oil(asked, system), *_coil(asked, system),
    ]  # fmt: skip


def _known(what: str, figure: str | None, *lacks: str) -> Line:
    return Line(what, figure or "to be found out", () if figure else lacks)


def _mounting(asked: Demand, system: str) -> list[Line]:
    old = asked.duty.get("old", "interface")
    flow = asked.largest_flow
    small = None if flow is None else smallest_interface(flow)
    if flow is not None:
        told = f"{small or 'larger than ISO 4401-10'}, for {named_text('flow', flow, system)} in its fullest path"
    if flow is None:
        return [_known("Mounting surface", old, "old.interface", *asked.lacks_flow)]
    if old is None:
        return [Line("Smallest mounting surface", told, ("old.interface",))]
    sizes = [row["interface"] for row in fact_value("size-interfaces")]
    tight = small is None or (old in sizes and sizes.index(old) < sizes.index(small))
    tail = f"; its valves mostly end below that flow ({told}): ask for the limit at this pressure" if tight else ""
    return [Line("Mounting surface", f"{old}, as the plate of the old one{tail}")]


def _function(asked: Demand) -> list[Line]:
    found = []
    for name, what in (
        ("rest", "At rest"), ("on_a", "Coil a on"), ("on_b", "Coil b on"), ("crossing_a", "On the way to a"),
        ("crossing_b", "On the way to b"),
    ):  # fmt: skip
        position = getattr(asked.old, name)
        if position != "":
            words = None if position is None else f"{function.words(position)} ({function.text(position)})"
            found.append(_known(what, words, f"old.{name}"))
    found.append(_known("Spool without power", asked.duty.get("old", "operator"), "old.operator"))
    found.append(_known("When the power goes, the cylinder has to", asked.duty.get("safety", "fail_safe"),
                        "safety.fail_safe"))  # fmt: skip
    hanging = [row.get("hanging") for row in (*asked.duty.cylinders, *asked.duty.motors)]
    if any(one is not False for one in hanging):
        told = "yes: A and B not joined to T or P at rest" if any(hanging) else None
        found.append(_known("A load hangs on it", told, "cylinder 1.hanging"))
    return found


def _flows(asked: Demand, system: str) -> list[Line]:
    found = []
    for one in asked.movements:
        paths = [
            f"{path[0].upper()} to {path[1].upper()} " + named_text("flow", flow, system)
            for path, flow in ((one.inlet, one.inlet_flow), (one.outlet, one.return_flow))
            if path and flow is not None
        ]
        found.append(_known(f"Flow, {one.name}", ", ".join(paths) or None, *one.lacks_flow))
    if asked.largest_flow is not None and asked.relief is not None:
        need = named_text("flow", fact_value("size-limit-reserve") * asked.largest_flow, system)
        plugged = asked.duty.get("ports", "plugged")
        use = f"with {plugged} plugged" if plugged in ("A", "B") else "with oil flowing in and back"
        at = named_text("pressure", asked.relief, system)
        found.append(Line("Has to shift", f"up to {need} at {at}, {use}, at 90 % of the voltage and a hot winding"))
    else:
        found.append(_known("Has to shift", None, *asked.lacks_flow, "pump.relief_pressure"))
    loss = asked.duty.get("allowed", "loss")
    told = None if loss is None else "at most " + named_text("loss", loss, system) + ", as the pump feels it"
    found.append(_known("Loss at these flows", told, "allowed.loss"))
    return found


def _bearing(need: Need, system: str) -> str | None:
    return named_text("pressure", need.high, system) if need.high < float("inf") else None


def _pressures(asked: Demand, system: str) -> list[Line]:
    found = [_known(f"Rating of {port.upper()}, at least", _bearing(need, system), *need.lacks)
             for port, need in asked.ports.items()]  # fmt: skip
    found.append(_known("Rating of T, at least", _bearing(asked.tank, system), *asked.tank.lacks))
    if asked.duty.get("old", "stage") == "two-stage":
        for key in ("pilot", "drain"):
            found.append(_known(key.capitalize(), asked.duty.get("old", key), f"old.{key}"))
    return found


def _oil(asked: Demand, system: str) -> list[Line]:
    found = [_known("Fluid, and seals that bear it", asked.duty.get("oil", "fluid"), "oil.fluid")]
    for what, state, lacks in (("hottest", asked.hot, asked.lacks_hot), ("coldest", asked.cold, asked.lacks_cold)):
        told = None
        if state is not None:
            at = named_text("temperature", state.temperature, system)
            told = f"{at}, {named_text('viscosity', state.viscosity, system)}"
        found.append(_known(f"Oil at its {what}", told, *lacks))
    drift = asked.duty.get("allowed", "drift")
    if drift is not None and asked.holding and asked.holding[0][0] is not None:
        most = min(drift * area for area, _, _ in asked.holding if area is not None)
        found.append(Line("Leakage from a working port at rest, at most", named_text("leakage", most, system)))
    return found


def _coil(asked: Demand, system: str) -> list[Line]:
    volts = None if asked.volts is None else named_text("supply", asked.volts, system)
    found = [_known("Coil", f"{volts} {asked.kind}" if volts and asked.kind else None, "supply.voltage", "supply.kind")]
    for what, table, key in (("Plug", "old", "connector"), ("Protection, plug fitted", "supply", "protection")):
        found.append(_known(what, asked.duty.get(table, key), f"{table}.{key}"))
    ambient = asked.duty.get("supply", "ambient")
    told = None if ambient is None else named_text("temperature", ambient, system)
    found.append(_known("Air round it, at its hottest", told, "supply.ambient"))
    hazardous = asked.duty.get("safety", "hazardous_area")
    words = {True: "yes: the responsible person of the site names the marking", False: "no", None: None}[hazardous]
    found.append(_known("Hazardous area", words, "safety.hazardous_area"))
    return found


def find_out(lines: list[Line]) -> list[str]:
    """What is still lacking, in words, each once."""
    return list(dict.fromkeys(lack_text(entry) for line in lines for entry in line.lacks))
