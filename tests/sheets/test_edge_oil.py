"""Listed edges in the shift budget: held to the plain pair, to figures by hand, and to a network solved by halving."""

import math
from collections.abc import Callable
from typing import Any

import pytest

from tests.sheets.hand_budget import BAR, BUDGET, CASES, LPM, MM, PLAIN, valve
from valvecalc.door import calc, find
from valvecalc.errors import InputError

JET = 0.98 * math.cos(math.radians(69))
Listed = tuple[dict[str, Any], ...]


def listed(*edges: tuple[str, str, str, float, float]) -> Listed:
    """Edges from ports, way, overlap in mm, share of the circumference."""
    names = ("from_port", "to_port", "opens", "edge_overlap", "open_circumference")
    return tuple(dict(zip(names, (a, b, way, x * MM, share), strict=True)) for a, b, way, x, share in edges)


def pair(case: dict[str, Any]) -> Listed:
    """The two edges that the plain budget knows."""
    driven = case["driven_port"]
    other = "A" if driven == "B" else "B"
    return listed(("P", driven, "forth", 1.1, 0.75), ("T", other, "forth", 1.1, 0.75))


TANDEM = (*pair(PLAIN), *listed(("P", "T", "back", -0.9, 0.5)))
#: Centre with everything joined, each edge by itself.
OPEN_CENTRE = listed(
    ("P", "A", "back", -0.5, 0.75), ("P", "B", "forth", -0.4, 0.75),
    ("T", "A", "forth", -0.3, 0.6), ("T", "B", "back", -0.6, 0.6),
)  # fmt: skip
#: No lateral force: then ports that stand otherwise move nothing but the flow force.
SLIPPERY = {"lateral_scale": 0.0}


def row_at(place: float, **changes: Any) -> dict[str, float]:
    rows = BUDGET(valve(**changes))["stroke_rows"]
    return min(rows, key=lambda row: abs(row["position"] - place))


def area(share: float, opening: float) -> float:
    return share * math.pi * PLAIN["spool_diameter"] * math.hypot(opening, PLAIN["clearance"]) if opening > 0 else 0.0


def flow(area: float, above: float, below: float) -> float:
    size = PLAIN["discharge_coefficient"] * area * math.sqrt(2 * abs(above - below) / PLAIN["density"])
    return math.copysign(size, above - below)


def force(area: float, above: float, below: float) -> float:
    """Of one edge, from its own flow and pressure difference."""
    jet = math.sqrt(2 * PLAIN["density"] * abs(above - below))
    return PLAIN["flow_force_factor"] * JET * abs(flow(area, above, below)) * jet


def halved(falls: Callable[[float], float], low: float, high: float) -> float:
    """Where a falling function is zero."""
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if falls(middle) > 0 else (low, middle)
    return (low + high) / 2


@pytest.mark.parametrize("case", CASES, ids=lambda case: " ".join(map(str, case.values())))
def test_the_driven_edge_and_its_return_listed_give_the_plain_budget(case: dict[str, Any]) -> None:
    plain, found = BUDGET(valve(**case)), BUDGET(valve(**case, edges=pair(PLAIN | case)))
    at = {row["position"]: row for row in found["stroke_rows"]}
    for row in plain["stroke_rows"]:
        for name, value in row.items():
            scale = row["drive"] if name == "margin" else 1.0 if name == "margin_share" else 0.0
            assert at[row["position"]][name] == pytest.approx(value, rel=1e-10, abs=1e-12 * scale), name
    assert found["margin"] <= plain["margin"] + 1e-9
    assert found["margin"] == pytest.approx(plain["margin"], abs=0.005)


@pytest.mark.parametrize(("place", "throttled"), [(0.0, True), (0.5, True), (0.75, False), (0.85, False)])
def test_p_to_t_closing_by_hand(place: float, throttled: bool) -> None:
    """A and B shut. First the pump flow goes to T whole, then over the relief; the force helps the travel."""
    row = row_at(place * MM, edges=TANDEM, **SLIPPERY)
    opening = 0.9 * MM - row["position"]
    through = PLAIN["pump_flow"] / (PLAIN["discharge_coefficient"] * area(0.5, opening))
    at_p = PLAIN["tank_pressure"] + PLAIN["density"] / 2 * through**2
    assert (at_p < PLAIN["supply_pressure"]) == throttled
    at_p = min(at_p, PLAIN["supply_pressure"])
    helps = force(area(0.5, opening), at_p, PLAIN["tank_pressure"])
    assert row["port_p"] == pytest.approx(at_p, rel=1e-9)
    assert row["port_a"] == row["port_b"] == pytest.approx((at_p + PLAIN["tank_pressure"]) / 2, rel=1e-9)
    assert row["flow_force"] == pytest.approx(-helps, rel=1e-9) and helps > 0.5
    plain = row_at(row["position"], **SLIPPERY)
    if plain["position"] == row["position"]:
        assert row["margin"] == pytest.approx(plain["margin"] + helps, rel=1e-9)


@pytest.mark.parametrize("place", [0.35, 0.6, 1.05, 1.3, 1.6])
def test_two_edges_that_open_one_after_the_other_by_hand(place: float) -> None:
    """P to B from 0.2 mm on, A to T from 0.5 mm on: before that A is shut in and carries what B has over."""
    edges = listed(("P", "B", "forth", 0.2, 0.75), ("T", "A", "forth", 0.5, 0.3))
    row = row_at(place * MM, edges=edges, **SLIPPERY)
    into, out = area(0.75, row["position"] - 0.2 * MM), area(0.3, row["position"] - 0.5 * MM)
    p_r, p_t, p_l, r = (
        PLAIN[x] for x in ("supply_pressure", "tank_pressure", "load_pressure_difference", "return_ratio")
    )
    if not out:
        assert row["port_b"] == pytest.approx(p_r, rel=1e-9)
        assert row["port_a"] == pytest.approx((p_r - p_l) / r, rel=1e-9)
        assert row["flow"] == pytest.approx(0, abs=1e-9) and row["flow_force"] == pytest.approx(0, abs=1e-6)
        return
    # r·q leaves through `out` what q brings in through `into`: both pressure differences add, r cubed from the rod side
    ratio = (r * into / out) ** 2
    drop = (p_r - p_l - r * p_t) / (1 + r * ratio)
    most = flow(into, drop, 0.0)
    drop *= min(1.0, PLAIN["pump_flow"] / most) ** 2
    assert row["flow"] == pytest.approx(min(most, PLAIN["pump_flow"]), rel=1e-9)
    assert row["drop_in"] == pytest.approx(drop, rel=1e-8)
    assert row["drop_out"] == pytest.approx(ratio * drop, rel=1e-8)
    assert row["flow_force"] == pytest.approx(force(into, drop, 0) + force(out, ratio * drop, 0), rel=1e-8)


@pytest.mark.parametrize("edges", [TANDEM, OPEN_CENTRE], ids=["tandem", "open centre"])
@pytest.mark.parametrize("load", [22 * BAR, -30 * BAR])
@pytest.mark.parametrize("place", [0.05, 0.25, 0.38, 0.45, 0.7, 1.2, 2.0])
def test_a_network_solved_by_halving(place: float, load: float, edges: Listed) -> None:
    """Two unknown pressures, nested halving, nothing shared with the sheet but the question."""
    row = row_at(place * MM, edges=edges, load_pressure_difference=load, **SLIPPERY)
    s, p_t, r, pump = row["position"], PLAIN["tank_pressure"], PLAIN["return_ratio"], PLAIN["pump_flow"]
    open_now = []
    for edge in edges:
        way = 1 if edge["opens"] == "forth" else -1
        size = area(edge["open_circumference"], way * s - edge["edge_overlap"])
        open_now.append((edge["from_port"], edge["to_port"], way, size))

    def ports(at_p: float) -> dict[str, float]:
        def left(at_a: float) -> float:
            at = {"P": at_p, "T": p_t, "A": at_a, "B": load + r * at_a}
            inward = {x: sum(flow(size, at[a], at[b]) for a, b, _, size in open_now if b == x) for x in "AB"}
            return r * inward["B"] + inward["A"]

        at_a = halved(left, -900 * BAR, 900 * BAR)
        return {"P": at_p, "T": p_t, "A": at_a, "B": load + r * at_a}

    def spare(at_p: float) -> float:
        at = ports(at_p)
        return pump - sum(flow(size, at[a], at[b]) for a, b, _, size in open_now if a == "P")

    if not any(size for _, b, _, size in open_now if b != "T"):
        return
    at_p = PLAIN["supply_pressure"]
    if spare(at_p) < 0:
        at_p = halved(spare, -900 * BAR, at_p)
    at = ports(at_p)
    assert row["port_p"] == pytest.approx(at_p, rel=1e-7)
    assert row["port_a"] == pytest.approx(at["A"], rel=1e-7, abs=1.0)
    assert row["port_b"] == pytest.approx(at["B"], rel=1e-7, abs=1.0)
    expected = sum(way * force(size, at[a], at[b]) for a, b, way, size in open_now)
    assert row["flow_force"] == pytest.approx(expected, rel=1e-6, abs=1e-6)


@pytest.mark.parametrize("place", [0.0, 0.1, 0.25])
def test_plugged_ports_stand_between_by_the_squares_of_the_areas(place: float) -> None:
    row = row_at(place * MM, edges=OPEN_CENTRE, state="blocked", **SLIPPERY)
    s = row["position"]
    p_a, p_b = area(0.75, 0.5 * MM - s), area(0.75, 0.4 * MM + s)
    t_a, t_b = area(0.6, 0.3 * MM + s), area(0.6, 0.6 * MM - s)
    whole = sum(1 / math.sqrt(1 / x**2 + 1 / y**2) for x, y in ((p_a, t_a), (p_b, t_b)))
    over = PLAIN["density"] / 2 * (PLAIN["pump_flow"] / PLAIN["discharge_coefficient"] / whole) ** 2
    over = min(over, PLAIN["supply_pressure"] - PLAIN["tank_pressure"])
    for name, x, y in (("port_a", p_a, t_a), ("port_b", p_b, t_b)):
        assert row[name] == pytest.approx(PLAIN["tank_pressure"] + over * x**2 / (x**2 + y**2), rel=1e-8)
    assert row["port_p"] == pytest.approx(PLAIN["tank_pressure"] + over, rel=1e-8)
    assert row["flow"] == 0.0


def test_a_tandem_centre_may_hang_on_its_way_back() -> None:
    """The edge from P to T throttles the whole pump flow as it opens, and its force is against the spring."""
    plain = BUDGET(valve(direction="release", **SLIPPERY))
    found = BUDGET(valve(direction="release", edges=TANDEM, **SLIPPERY))
    assert found["margin"] < plain["margin"] - 3.0
    assert 0.6 * MM < found["margin_position"] < 0.75 * MM
    worst = found["worst"][0]
    # the hardest place is where the pump flow just passes at full pressure, and that is a place of the grid
    assert worst["port_p"] == pytest.approx(PLAIN["supply_pressure"], rel=1e-6)
    through = force(area(0.5, 0.9 * MM - worst["position"]), worst["port_p"], PLAIN["tank_pressure"])
    jet = PLAIN["flow_force_factor"] * JET * PLAIN["pump_flow"]
    most = jet * math.sqrt(2 * PLAIN["density"] * (PLAIN["supply_pressure"] - PLAIN["tank_pressure"]))
    assert through == pytest.approx(most, rel=1e-6)


def test_without_pressure_listed_edges_do_nothing() -> None:
    assert BUDGET(valve(state="no-pressure", edges=TANDEM))["margin"] == BUDGET(valve(state="no-pressure"))["margin"]


def test_listed_edges_through_the_door() -> None:
    told = dict(find("shift-budget").example)
    edges = "P | A | forth | 1.2 mm | 1; T | B | forth | 1.2 mm | 1; P | T | back | -0.8 mm | 0.4"
    plain, found = (calc("shift-budget", **told, **more) for more in ({}, {"edges": edges}))
    assert found.results["margin"] is not None and not found.missing
    assert found.results["start_margin"] > plain.results["start_margin"]
    assert calc("limit-point", **told, edges=edges).results["calibrated_factor"] is not None
    with pytest.raises(InputError, match="from_port"):
        calc("shift-budget", **told, edges=edges.replace("T | B", "B | T"))


@pytest.mark.parametrize("pump", [20, 38, 60])
def test_more_pump_flow_pulls_a_tandem_edge_harder(pump: float) -> None:
    at = [row_at(0.4 * MM, edges=TANDEM, pump_flow=q * LPM)["flow_force"] for q in (pump, pump * 1.1)]
    assert at[1] < at[0] < 0
