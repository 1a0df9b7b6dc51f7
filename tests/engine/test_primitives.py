"""The primitives: the same vectors through Python and node, with what must come out worked by hand."""

import json
import math
import random
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import nnls

from valvecalc import primitives
from valvecalc.errors import NoValue

CURVE = [{"x": 0.0, "y": 10.0}, {"x": 1.0, "y": 20.0}, {"x": 4.0, "y": 5.0}]
ONE = [{"x": 2.0, "y": 7.0}]
SHARES = [{"n": 0.0, "k": 1.0}, {"n": 1.0, "k": 0.4}, {"n": 3.0, "k": 0.06}]
ROWS = [
    {"name": "first", "v": 3.0},
    {"name": "empty", "v": None},
    {"name": "second", "v": -1.0},
    {"name": "equal", "v": 3.0},
    {"name": "also least", "v": -1.0},
]
EMPTY = [{"v": None}, {"v": None}]
NONE = "no value"
EVEN = {"linear": 0.0, "square": 0.0, "error": 0.0}

# primitive, arguments, what comes out (worked by hand)
VECTORS: list[tuple[str, list[Any], Any]] = [
    ("table", [CURVE, "x", "y", 0.0], 10.0),  # the ends belong to the table
    ("table", [CURVE, "x", "y", 4.0], 5.0),
    ("table", [CURVE, "x", "y", 1.0], 20.0),  # a point itself
    ("table", [CURVE, "x", "y", 0.25], 12.5),
    ("table", [CURVE, "x", "y", 2.5], 12.5),
    ("table", [CURVE, "x", "y", -1e-9], NONE),
    ("table", [CURVE, "x", "y", 4.0000001], NONE),
    ("table", [ONE, "x", "y", 2.0], 7.0),
    ("table", [ONE, "x", "y", 2.1], NONE),
    ("log_table", [SHARES, "n", "k", 2.0], math.sqrt(0.4 * 0.06)),  # half way in the logarithm
    ("log_table", [SHARES, "n", "k", 3.0], 0.06),
    ("log_table", [SHARES, "n", "k", 3.5], NONE),
    ("log_table", [[{"n": 0.0, "k": 0.0}, {"n": 1.0, "k": 1.0}], "n", "k", 0.5], NONE),
    ("grid", [0.0, 1.0, 4], [0.0, 0.25, 0.5, 0.75, 1.0]),
    ("grid", [0.0, 1.0, 2, [0.3, 0.5, 1.2, -0.1], [0.3, 1.0]], [0.0, 0.3, 0.5, 1.0]),
    ("grid", [0.0, 10.0, 1, [9.0, 2.0]], [0.0, 2.0, 9.0, 10.0]),  # by size, not as text
    ("least", [ROWS, "v"], {"name": "second", "v": -1.0}),  # of equals the first
    ("least", [EMPTY, "v"], NONE),
    ("most", [ROWS, "v"], {"name": "first", "v": 3.0}),  # of equals the first
    ("most", [EMPTY, "v"], NONE),
    ("rank", [ROWS, "v"], [ROWS[0], ROWS[3], ROWS[2], ROWS[4], ROWS[1]]),  # None last, equals keep their order
    ("rank", [EMPTY, "v"], EMPTY),
    # through 2x and through 3x²: nothing is left over
    ("fit", [[{"x": 1.0, "y": 2.0}, {"x": 2.0, "y": 4.0}], "x", "y"], {**EVEN, "linear": 2.0, "largest": 2.0}),
    ("fit", [[{"x": 1.0, "y": 3.0}, {"x": 2.0, "y": 12.0}], "x", "y"], {**EVEN, "square": 3.0, "largest": 2.0}),
    ("fit", [[{"x": 1.0, "y": 0.0}, {"x": 2.0, "y": 4.0}], "x", "y"], NONE),  # no share of nothing
    ("fit", [[{"x": 1.0, "y": 2.0}], "x", "y"], NONE),  # one point
    ("fit", [[{"x": 2.0, "y": 4.0}, {"x": 2.0, "y": 4.0}], "x", "y"], NONE),  # one place twice
    ("total", [[0.1, 0.2, 0.3]], (0.1 + 0.2) + 0.3),  # from left to right, to the last bit
    ("total", [[1e16, 1.0, -1e16]], 0.0),
    ("total", [[]], 0.0),
]

CALL = "const answer = ([name, given]) => attempt(() => valvecalc.primitives[name](...given));"


def python(name: str, given: list[Any]) -> Any:
    try:
        return getattr(primitives, name)(*given)
    except (NoValue, ArithmeticError, ValueError):
        return NONE


@pytest.fixture(scope="module")
def told(node) -> list[Any]:
    return node(CALL, [[name, given] for name, given, _ in VECTORS])


@pytest.mark.parametrize("index", range(len(VECTORS)), ids=lambda i: f"{VECTORS[i][0]}-{i}")
def test_vectors(index: int, told: list[Any]) -> None:
    name, given, expected = VECTORS[index]
    ours, theirs = python(name, given), told[index]
    if isinstance(theirs, dict) and "none" in theirs:
        theirs = NONE
    if name == "log_table" and expected != NONE:
        assert ours == pytest.approx(expected, rel=1e-14, abs=0.0)
        assert theirs == pytest.approx(expected, rel=1e-14, abs=0.0)
    else:
        assert ours == expected
        assert theirs == expected


def test_sweep_gives_a_row_for_each_place_in_order(node) -> None:
    assert primitives.sweep(lambda x: {"x": x, "y": x * x}, [3.0, 1.0]) == [{"x": 3.0, "y": 9.0}, {"x": 1.0, "y": 1.0}]
    answer = "const answer = (places) => valvecalc.primitives.sweep((x) => ({ x, y: x * x }), places);"
    assert node(answer, [[3.0, 1.0]]) == [[{"x": 3.0, "y": 9.0}, {"x": 1.0, "y": 1.0}]]


def curve(points: list[tuple[float, float]]) -> list[dict[str, float]]:
    return [{"x": x, "y": y} for x, y in points]


def test_fit_of_measured_points() -> None:
    """Six points of an independent calculation, no published source: 0.02271, 0.002236, 0.2 % left over."""
    found = primitives.fit(curve([(10, 0.45), (20, 1.35), (30, 2.7), (40, 4.5), (50, 6.7), (60, 9.4)]), "x", "y")
    assert found["linear"] == pytest.approx(0.02271, abs=5e-6)
    assert found["square"] == pytest.approx(0.002236, abs=5e-7)
    assert found["error"] == pytest.approx(0.002, abs=5e-4)
    assert found["largest"] == 60.0


def test_fit_does_not_go_below_zero() -> None:
    """By hand. (1, 4) (2, 20) bends more than a square: (1/4 + 4/20) / (1/16 + 1/25) = 180/41. (1, 4) (2, 6) bends
    the other way: (1/4 + 1/3) / (1/16 + 1/9) = 3.36, which leaves 0.16 and 0.12: 0.1414 in the mean."""
    found = primitives.fit(curve([(1, 4), (2, 20)]), "x", "y")
    assert (found["linear"], found["square"]) == (0.0, pytest.approx(180 / 41, rel=1e-14))
    found = primitives.fit(curve([(1, 4), (2, 6)]), "x", "y")
    assert (found["linear"], found["square"]) == (pytest.approx(3.36, rel=1e-14), 0.0)
    assert found["error"] == pytest.approx(math.sqrt((0.16**2 + 0.12**2) / 2), rel=1e-12)


def test_fit_against_non_negative_least_squares_of_another_library(node) -> None:
    """Random points, straight, bent, and bent more than a square; and JavaScript to the last bit."""
    dice = random.Random(71)
    asked, edges = [], 0
    for _ in range(200):
        power, count = dice.uniform(0.6, 2.4), dice.choice((2, 3, 5, 9))
        places = sorted(dice.uniform(1.0, 90.0) for _ in range(count))
        asked.append(curve([(x, 0.01 * x**power * dice.uniform(0.8, 1.25)) for x in places]))
    answer = "const answer = (rows) => valvecalc.primitives.fit(rows, 'x', 'y');"
    for rows, theirs in zip(asked, node(answer, asked), strict=True):
        ours = primitives.fit(rows, "x", "y")
        assert theirs == ours
        columns = np.array([[row["x"] / row["y"], row["x"] ** 2 / row["y"]] for row in rows])
        scale = np.linalg.norm(columns, axis=0)
        found, left = nnls(columns / scale, np.ones(len(rows)))
        assert [ours["linear"], ours["square"]] == pytest.approx(list(found / scale), rel=1e-7, abs=1e-12)
        assert ours["error"] == pytest.approx(left / math.sqrt(len(rows)), rel=1e-7, abs=1e-9)
        edges += ours["linear"] == 0.0 or ours["square"] == 0.0
    assert 20 < edges < 180


def test_known_takes_the_first_that_is_there() -> None:
    """In JavaScript it is printed as `??`: tests/engine/test_sheet_forms.py and test_javascript.py."""
    assert primitives.known(None, 0.0, 5.0) == 0.0
    assert primitives.known(None, None) is None


# function in both languages, bracket, root (exact or to the last bits)
ROOTS: list[tuple[str, Any, str, float, float, float]] = [
    ("x - 0.1", lambda x: x - 0.1, "x - 0.1", 0.0, 1.0, 0.1),
    ("0.1 - x", lambda x: 0.1 - x, "0.1 - x", 0.0, 1.0, 0.1),
    ("x² - 2", lambda x: x * x - 2.0, "x * x - 2", 0.0, 2.0, math.sqrt(2.0)),
    ("x³ - 5", lambda x: x * x * x - 5.0, "x * x * x - 5", -10.0, 10.0, 5.0 ** (1.0 / 3.0)),
    ("1/x - 4", lambda x: 1.0 / x - 4.0, "1 / x - 4", 1e-6, 1e6, 0.25),
    ("far bracket", lambda x: x - 3e-9, "x - 3e-9", 0.0, 1e12, 3e-9),
    ("root at the low end", lambda x: x, "x", 0.0, 1.0, 0.0),
    ("root at the high end", lambda x: x - 1.0, "x - 1", 0.0, 1.0, 1.0),
    ("step", lambda x: 1.0 if x > 0.3 else -1.0, "x > 0.3 ? 1 : -1", 0.0, 1.0, 0.3),
    ("flat then steep", lambda x: max(x - 2.0, -1e-3), "Math.max(x - 2, -1e-3)", 0.0, 100.0, 2.0),
    ("ninth power", lambda x: (x - 1.0) ** 9, "Math.pow(x - 1, 9)", 0.0, 3.5, 1.0),
]


@pytest.mark.parametrize(("name", "f", "text", "low", "high", "root"), ROOTS, ids=[row[0] for row in ROOTS])
def test_solve_works_to_the_last_bit(name, f, text, low, high, root, node) -> None:
    """At the answer the function is zero, or it changes sign within one step of a float."""
    found = primitives.solve(f, low, high)
    answer = f"const answer = ([low, high]) => valvecalc.primitives.solve((x) => {text}, low, high);"
    theirs = node(answer, [[low, high]])
    for one in (found, theirs[0]):
        value = f(one)
        beside = [f(math.nextafter(one, -math.inf)), f(math.nextafter(one, math.inf))]
        assert value == 0.0 or any((value > 0.0) != (other > 0.0) for other in beside), name
        if name != "ninth power":  # there a wide stretch is zero in floats
            assert one == pytest.approx(root, rel=1e-15, abs=0.0 if root else 1e-300)
    assert theirs[0] == found


@pytest.mark.parametrize(("low", "high"), [(1.0, 2.0), (-2.0, -1.0)])
def test_solve_without_a_change_of_sign_has_no_value(low: float, high: float, node) -> None:
    with pytest.raises(NoValue):
        primitives.solve(lambda x: x, low, high)
    answer = "const answer = ([low, high]) => attempt(() => valvecalc.primitives.solve((x) => x, low, high));"
    assert "none" in node(answer, [[low, high]])[0]


# function, the same in JavaScript (null throws), start, ends, the nearest crossing
CROSSINGS: list[tuple[str, Any, str, float, float, float, float | None]] = [
    ("above only", lambda x: x - 7.0, "x - 7", 5.0, 0.0, 10.0, 7.0),
    ("below only", lambda x: x - 3.0, "x - 3", 5.0, 0.0, 10.0, 3.0),
    ("nearer above", lambda x: (x - 1.0) * (x - 6.0), "(x - 1) * (x - 6)", 5.0, 0.0, 10.0, 6.0),
    ("nearer below", lambda x: (x - 4.5) * (x - 9.0), "(x - 4.5) * (x - 9)", 5.0, 0.0, 10.0, 4.5),
    ("equal distance takes the lower", lambda x: (x - 4.0) * (x - 6.0), "(x - 4) * (x - 6)", 5.0, 0.0, 10.0, 4.0),
    ("none", lambda x: x + 1.0, "x + 1", 5.0, 0.0, 10.0, None),
    ("at a crossing", lambda x: x - 5.0, "x - 5", 5.0, 0.0, 10.0, 5.0),
    ("start on an end", lambda x: x - 2.0, "x - 2", 0.0, 0.0, 10.0, 2.0),
    ("a dip before the end", lambda x: (x - 6.0) * (x - 8.0), "(x - 6) * (x - 8)", 5.0, 5.0, 12.0, 6.0),
]


@pytest.mark.parametrize(("name", "f", "text", "at", "low", "high", "root"), CROSSINGS, ids=[c[0] for c in CROSSINGS])
def test_crossing_takes_the_nearest(name, f, text, at, low, high, root, node) -> None:
    found = primitives.crossing(f, at, low, high)
    answer = f"const answer = ([at, low, high]) => valvecalc.primitives.crossing((x) => {text}, at, low, high);"
    theirs = node(answer, [[at, low, high]])[0]
    assert found == theirs
    assert found == (root if root is None else pytest.approx(root, rel=1e-15, abs=0.0))


def test_crossing_ends_its_walk_where_there_is_no_value(node) -> None:
    """A root, a table or a division outside its range is no crossing and no failure."""

    def f(x: float) -> float:
        if x > 5.5:
            raise NoValue("outside")
        return math.sqrt(x) - 2.0  # below zero Python raises ValueError

    assert primitives.crossing(f, 5.0, -3.0, 10.0) == 4.0
    assert primitives.crossing(lambda x: math.sqrt(x) + 1.0, 5.0, -3.0, 10.0) is None
    body = """
    const answer = ([shift]) => crossing((x) => {
      if (x > 5.5) none("outside");
      return sqrt(x) + shift;
    }, 5, -3, 10);
    """
    assert node(body, [[-2.0], [1.0]], open_runtime=True) == [4.0, None]


def test_vectors_are_plain_json() -> None:
    """So that node and Python start from the same figures."""
    assert json.loads(json.dumps([given for _, given, _ in VECTORS])) == [given for _, given, _ in VECTORS]


# ---- march: rates in both languages, start, end, rows, steps, and what another library makes of them
MARCHES: list[tuple[str, Any, str, dict[str, float], float]] = [
    ("decay", lambda r: {"a": -3.0 * r["a"]}, "({ a: -3 * r.a })", {"a": 2.0}, 1.5),
    ("swing", lambda r: {"a": r["b"], "b": -25.0 * r["a"]}, "({ a: r.b, b: -25 * r.a })", {"a": 1.0, "b": 0.0}, 2.0),
    ("along", lambda r: {"a": r["t"] * r["t"]}, "({ a: r.t * r.t })", {"a": 0.5}, 3.0),
    ("growth", lambda r: {"a": r["a"] * (1.0 - r["a"])}, "({ a: r.a * (1 - r.a) })", {"a": 0.01}, 8.0),
]


@pytest.mark.parametrize(("name", "rates", "text", "start", "end"), MARCHES, ids=[row[0] for row in MARCHES])
def test_march_against_another_librarys_solver(name, rates, text, start, end, node) -> None:
    """scipy's solve_ivp to 1e-12; and JavaScript to the last bit, for the rates hold arithmetic only."""
    rows = primitives.march(rates, start, "t", end, 10, 40)
    assert [row["t"] for row in rows] == pytest.approx([end * i / 10 for i in range(11)])

    def slopes(t: float, y: Any) -> list[float]:
        return list(rates({"t": t, **dict(zip(start, y, strict=True))}).values())

    found = solve_ivp(slopes, (0.0, end), list(start.values()), rtol=1e-12, atol=1e-14, t_eval=[r["t"] for r in rows])
    for index, row in enumerate(rows):
        assert [row[key] for key in start] == pytest.approx(list(found.y[:, index]), rel=1e-6, abs=1e-7), name
    answer = f"const answer = ([s, end]) => valvecalc.primitives.march((r) => {text}, s, 't', end, 10, 40);"
    assert node(answer, [[start, end]])[0] == rows


def test_half_the_step_is_a_sixteenth_of_the_error() -> None:
    """The order of the method: exp(-3) after one unit of time."""

    def off(steps: int) -> float:
        rows = primitives.march(lambda r: {"a": -3.0 * r["a"]}, {"a": 1.0}, "t", 1.0, 1, steps)
        return abs(rows[-1]["a"] - math.exp(-3.0))

    assert off(20) / off(40) == pytest.approx(16.0, rel=0.1)


def test_a_march_that_runs_away_has_no_value(node) -> None:
    with pytest.raises(NoValue, match="run away"):
        primitives.march(lambda r: {"a": -1e9 * r["a"]}, {"a": 1.0}, "t", 1.0, 10, 10)
    answer = """const answer = () => attempt(() =>
      valvecalc.primitives.march((r) => ({ a: -1e9 * r.a }), { a: 1 }, "t", 1, 10, 10));"""
    assert "run away" in node(answer, [0])[0]["none"]
