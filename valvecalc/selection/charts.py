"""What the charts of the sizing show, as plain data for drawing/lines.py: the loss of the fullest path, and the shift
limits with the duty in them; of the leaders only."""

from collections.abc import Sequence
from typing import Any

from valvecalc.drawing import chart
from valvecalc.drawing.rounding import quantity
from valvecalc.facts import fact_value, load_toml
from valvecalc.formulas import limit
from valvecalc.selection.demand import Demand
from valvecalc.selection.flow_rules import in_oil, limit_at, path_loss
from valvecalc.selection.judging import REJECT
from valvecalc.selection.ranking import Candidate
from valvecalc.selection.stock import Curve, StockValve
from valvecalc.selection.words import named_figure, named_text, named_unit

LEADERS = 3
_STEPS = 40
#: How far beyond the duty a loss is drawn, so that the reader sees where it goes.
_BEYOND = 1.2
_LONGEST_NAME = 30


def charts(asked: Demand, candidates: Sequence[Candidate], system: str = "metric") -> list[str]:
    """Both charts as SVG; an empty text stands for one that has nothing to show."""
    valves = leaders(candidates)
    specs = (loss_spec(asked, valves, system), limit_spec(asked, valves, system))
    return [chart(spec) if spec else "" for spec in specs]


def leaders(candidates: Sequence[Candidate]) -> list[StockValve]:
    """The first few that are not refused; if all are, the first few."""
    standing = [one for one in candidates if one.verdict != REJECT]
    return [one.valve for one in (standing or candidates)[:LEADERS]]


def _words() -> dict[str, str]:
    words: dict[str, str] = load_toml("words/size.toml")["charts"]
    return words


def _name(valve: StockValve) -> str:
    return valve.name if len(valve.name) <= _LONGEST_NAME else valve.name[: _LONGEST_NAME - 1] + "…"


def _held(figure: str) -> str:
    """A figure that is not parted from its unit at the end of a line."""
    return figure.replace(" ", "\N{NO-BREAK SPACE}")


def _text(name: str, value: float, system: str) -> str:
    return _held(named_text(name, value, system))


def loss_spec(asked: Demand, valves: Sequence[StockValve], system: str) -> dict[str, Any] | None:
    """Loss over flow in the path that carries most, with the hottest oil; None where that is not known."""
    words, oil = _words(), asked.hot
    path, fullest = "", 0.0
    for name, carried in asked.path_flows.items():
        if carried > fullest:
            path, fullest = name, carried
    if oil is None or not path:
        return None
    flow_unit, loss_unit = named_unit("flow", system)[1], named_unit("loss", system)[1]
    passing = [
        (one.name, carried)
        for one in asked.movements
        for way, carried in ((one.inlet, one.inlet_flow), (one.outlet, one.return_flow))
        if way == path and carried
    ]
    lines, notes = [], []
    for valve in valves:
        curve = valve.curves.get(path)
        if curve is None or valve.drop_viscosity is None:
            notes.append(words["no-loss"].format(name=_name(valve)))
            continue
        warm = in_oil(curve, oil, valve.drop_viscosity, valve.drop_density or oil.density)
        end = min(_BEYOND * fullest, fact_value("path-reach") * curve.largest)
        drop, u = path_loss(warm, fullest)
        loss = _held(quantity(named_figure("loss", drop, system), loss_unit, named_figure("loss", 2 * u, system)))
        label = words["loss"] if fullest <= end else words["short"]
        lines.append(
            {
                "label": label.format(
                    name=_name(valve), loss=loss, flow=_text("flow", fullest, system),
                    end=_text("flow", curve.largest, system),
                ),
                "points": [_point(warm, end * step / _STEPS, system) for step in range(_STEPS + 1)],
                "dots": [_point(warm, carried, system) for _, carried in passing if carried <= end],
            }
        )  # fmt: skip
    if not lines:
        return None
    return {
        "kind": "lines",
        "title": words["loss-title"],
        "x": {"label": words["loss-x"], "unit": flow_unit},
        "y": {
            "label": words["loss-y"].format(
                path="-".join(path.upper()), temperature=_text("temperature", oil.temperature, system)
            ),
            "unit": loss_unit,
        },
        "lines": lines,
        "places": [
            {
                "x": named_figure("flow", carried, system),
                "y": None,
                "label": words["duty"].format(movement=name, flow=_text("flow", carried, system)),
            }
            for name, carried in passing
        ],
        "notes": notes,
    }


def _point(warm: Curve, carried: float, system: str) -> tuple[float | None, float | None]:
    return named_figure("flow", carried, system), named_figure("loss", path_loss(warm, carried)[0], system)


def limit_spec(asked: Demand, valves: Sequence[StockValve], system: str) -> dict[str, Any] | None:
    """The flow up to which each still shifts, against the pressure, and what the duty wants of it."""
    words = _words()
    if asked.largest_flow is None or asked.relief is None:
        return None
    need, at = fact_value("size-limit-reserve") * asked.largest_flow, _text("pressure", asked.relief, system)
    plugged = asked.duty.get("ports", "plugged")
    lines, notes, halved = [], [], False
    for valve in valves:
        if valve.shift_limit is None:
            notes.append(words["no-limit"].format(name=_name(valve)))
            continue
        points = valve.shift_limit
        if plugged in ("A", "B") and valve.limit_ports != "one":
            points = tuple((limit.one_way_limit(limit_flow=flow), pressure) for flow, pressure in points)
            halved = True
        has = limit_at(points, asked.relief)
        label = words["beyond"] if has is None else words["limit"]
        flow = "" if has is None else _text("flow", has, system)
        lines.append(
            {
                "label": label.format(name=_name(valve), flow=flow, pressure=at),
                "points": [
                    (named_figure("flow", flow, system), named_figure("pressure", pressure, system))
                    for flow, pressure in ((points[0][0], 0.0), *points)
                ],
                "dots": [],
            }
        )
    if not lines:
        return None
    return {
        "kind": "lines",
        "title": words["limit-title"],
        "x": {"label": words["limit-x"], "unit": named_unit("flow", system)[1]},
        "y": {"label": words["limit-y"], "unit": named_unit("pressure", system)[1]},
        "lines": lines,
        "places": [
            {
                "x": named_figure("flow", need, system),
                "y": named_figure("pressure", asked.relief, system),
                "label": words["wanted"].format(flow=_text("flow", need, system), pressure=at),
            }
        ],
        "notes": [words["limit-note"], *([words["one-way"]] if halved else []), *notes],
    }
