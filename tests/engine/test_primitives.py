"""The primitives: the same vectors through Python and node, with what must come out worked by hand."""

import json
import math
from typing import Any

import pytest

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
    ("rank", [ROWS, "v"], [ROWS[0], ROWS[3], ROWS[2], ROWS[4], ROWS[1]]),  # None last, equals keep their order
    ("rank", [EMPTY, "v"], EMPTY),
    ("total", [[0.1, 0.2, 0.3]], (0.1 + 0.2) + 0.3),  # from left to right, to the last bit
    ("total", [[1e16, 1.0, -1e16]], 0.0),
    ("total", [[]], 0.0),
]

CALL = "const answer = ([name, given]) => attempt(() => valvecalc.primitives[name](...given));"


def python(name: str, given: list[Any]) -> Any:
    try:
        return getattr(primitives, name)(*given)
    except (NoValue, ValueError):
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
