"""Edges one by one: figures worked by hand, and the shift budget's own rows."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.sheets.hand_budget import PLAIN, hand
from valvecalc.door import calc

EDGES = [("P", "A", "forth", 0.8), ("B", "T", "forth", 0.5), ("P", "T", "back", -1.0)]
AT: dict[str, Any] = {
    "position": 0.9e-3, "spool_diameter": 0.013, "clearance": 0.0, "port_p": 42e5, "port_a": 30e5, "port_b": 9e5,
    "port_t": 4e5, "density": 857.0, "flow_force_factor": 1.0, "discharge_coefficient": 0.65,
}  # fmt: skip


def rows(edges: list[tuple[str, str, str, float]]) -> list[dict[str, str]]:
    return [
        {"from_port": a, "to_port": b, "opens": way, "edge_overlap": f"{x} mm", "open_circumference": "1"}
        for a, b, way, x in edges
    ]


def by_hand(opening: float, drop: float) -> tuple[float, float]:
    """Flow and force of one edge of 13 mm."""
    flow = 0.65 * math.pi * 0.013 * opening * math.sqrt(2 * drop / 857)
    return flow, 0.98 * math.cos(math.radians(69)) * flow * math.sqrt(2 * 857 * drop)


def test_three_edges_by_hand() -> None:
    """P to A open by 0.1 mm, B to T by 0.4 mm, P to T still by 0.1 mm: its force helps the travel."""
    found = calc("open-edges", **AT, edges=rows(EDGES)).results
    expected = [by_hand(0.1e-3, 12e5), by_hand(0.4e-3, 5e5), by_hand(0.1e-3, 38e5)]
    for row, (flow, force), sign in zip(found["edge_rows"], expected, (1, 1, -1), strict=True):
        assert row["flow"] == pytest.approx(flow, rel=1e-9)
        assert row["edge_force"] == pytest.approx(sign * force, rel=1e-9)
    assert found["net_edge_force"] == pytest.approx(expected[0][1] + expected[1][1] - expected[2][1], rel=1e-9)
    assert found["taken_flow"] == pytest.approx(expected[0][0] + expected[2][0], rel=1e-9)


@pytest.mark.parametrize("place", [0.7, 0.85, 1.0])
def test_the_two_edges_of_a_shift_budget(place: float) -> None:
    """The ports of a row of the hand budget, its two edges: the same flow force."""
    at = hand(PLAIN, PLAIN["stroke"] * place)
    driven, other = PLAIN["driven_port"], "A" if PLAIN["driven_port"] == "B" else "B"
    overlap = PLAIN["overlap"] * 1e3
    edges = [("P", driven, "forth", overlap), (other, "T", "forth", overlap)]
    given = {name: PLAIN[name] for name in ("spool_diameter", "clearance", "density", "flow_force_factor")}
    found = calc(
        "open-edges",
        edges=[row | {"open_circumference": f"{PLAIN['open_circumference']}"} for row in rows(edges)],
        position=PLAIN["stroke"] * place,
        port_p=at["port_p"], port_a=at["port_a"], port_b=at["port_b"], port_t=PLAIN["tank_pressure"],
        discharge_coefficient=PLAIN["discharge_coefficient"], **given,
    ).results  # fmt: skip
    assert found["net_edge_force"] == pytest.approx(at["flow_force"], rel=1e-6)
    assert found["taken_flow"] == pytest.approx(at["flow"], rel=1e-6)


@given(st.floats(-3, 3), st.floats(-2, 2))
def test_an_edge_that_opens_back_is_the_mirror_of_one_that_opens_forth(position: float, overlap: float) -> None:
    forth, back = (
        calc("open-edges", **AT | {"position": sign * position * 1e-3}, edges=rows([("P", "T", way, overlap)])).results
        for way, sign in (("forth", 1), ("back", -1))
    )
    assert forth["net_edge_force"] == pytest.approx(-back["net_edge_force"], rel=1e-12, abs=1e-12)
    assert forth["taken_flow"] == pytest.approx(back["taken_flow"], rel=1e-12, abs=1e-18)


def test_which_way_the_oil_streams_does_not_matter() -> None:
    one = calc("open-edges", **AT, edges=rows([("P", "A", "forth", 0.5)])).results
    other = calc("open-edges", **AT, edges=rows([("A", "P", "forth", 0.5)])).results
    assert one["net_edge_force"] == other["net_edge_force"] > 0


def test_a_shut_spool_has_no_force() -> None:
    found = calc("open-edges", **AT | {"position": 0.0}, edges=rows(EDGES[:2])).results
    assert found["net_edge_force"] == 0 and found["taken_flow"] == 0
