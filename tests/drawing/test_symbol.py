"""The symbol of a valve: what is joined is one line, what is shut has a bar, and nothing leaves the drawing."""

from itertools import combinations, pairwise
from math import dist
from re import findall
from xml.etree import ElementTree

import pytest

from valvecalc.drawing import symbol
from valvecalc.drawing.symbol import Square, Symbol, draw, symbol_of
from valvecalc.errors import DataError
from valvecalc.selection.function import (
    PORTS,
    Function,
    Position,
    all_positions,
    mirrored,
    read_position,
    text,
    words,
)

SVG = "{http://www.w3.org/2000/svg}"
USUAL = ["shut", "P-A-B-T", "P-T", "A-B-T", "P-A-B", "P-A-T", "A-T", "B-T", "A-B", "P-A, B-T", "P-B, A-T", "P-T, A-B"]
Point = tuple[float, float]
Segment = tuple[Point, Point]


def position(words_of_it: str) -> Position:
    found = read_position(words_of_it)
    assert isinstance(found, Position)
    return found


def centre(one: Position) -> Symbol:
    """A spring-centred valve with this at rest."""
    return symbol_of(Function(one, position("P-A, B-T"), position("P-B, A-T")), "spring-centred")


def tree(drawn: Symbol) -> ElementTree.Element:
    return ElementTree.fromstring(draw(drawn))


def points(path: ElementTree.Element) -> list[Point]:
    found = findall(r"-?[\d.]+", path.attrib["d"])
    return [(float(x), float(y)) for x, y in zip(found[::2], found[1::2], strict=True)]


def segments(group: ElementTree.Element) -> list[Segment]:
    """The straight lines of a part; arrow heads are filled and no lines, throttles are marked."""
    lines = [
        path for path in group.iter(f"{SVG}path") if path.get("fill") == "none" and "data-notch" not in path.attrib
    ]
    return [pair for path in lines for pair in pairwise(points(path))]


def parts(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [group for group in root.iter(f"{SVG}g") if name in group.attrib]


def on(point: Point, segment: Segment) -> bool:
    a, b = segment
    return abs(dist(a, point) + dist(point, b) - dist(a, b)) < 0.02


def touch(one: Segment, other: Segment) -> bool:
    """An end of one lies on the other: joined. Lines that merely cross have no end there."""
    return any(on(end, other) for end in one) or any(on(end, one) for end in other)


def is_one_piece(lines: list[Segment]) -> bool:
    reached, waiting = {0}, [0]
    while waiting:
        here = waiting.pop()
        for other in range(len(lines)):
            if other not in reached and touch(lines[here], lines[other]):
                reached.add(other)
                waiting.append(other)
    return len(reached) == len(lines)


def square_of(root: ElementTree.Element, label: str) -> tuple[ElementTree.Element, list[Point]]:
    (found,) = [group for group in parts(root, "data-square") if group.attrib["data-square"] == label]
    outline = next(found.iter(f"{SVG}path"))
    return found, points(outline)


def place(corners: list[Point], port: str) -> Point:
    x, y = symbol.PLACES[port]
    (x0, y0), side = corners[0], corners[1][0] - corners[0][0]
    return x0 + x * side, y0 + y * side


@pytest.mark.parametrize("one", all_positions(), ids=text)
def test_a_joined_group_is_one_drawing_and_touches_its_ports_alone(one: Position) -> None:
    inside, corners = square_of(tree(centre(one)), "0")
    groups = {group.attrib["data-ports"]: segments(group) for group in parts(inside, "data-ports")}
    assert {frozenset(name.split("-")) for name in groups} == one.groups
    for name, lines in groups.items():
        assert is_one_piece(lines), name
        touched = {port for port in PORTS if any(on(place(corners, port), line) for line in lines)}
        assert touched == set(name.split("-"))
    for mine, other in combinations(groups.values(), 2):
        assert not any(touch(a, b) for a in mine for b in other)


@pytest.mark.parametrize("one", all_positions(), ids=text)
def test_a_shut_port_has_a_bar_that_touches_nothing_else(one: Position) -> None:
    inside, corners = square_of(tree(centre(one)), "0")
    shut = {group.attrib["data-shut"]: segments(group) for group in parts(inside, "data-shut")}
    assert set(shut) == {port for port in PORTS if one.is_shut(port)}
    lines = [line for group in parts(inside, "data-ports") for line in segments(group)]
    for port, (stub, bar) in shut.items():
        assert on(place(corners, port), stub)
        assert stub[0][0] == stub[1][0] and bar[0][1] == bar[1][1]  # upright, and level across its end
        assert stub[1][1] == bar[0][1] and (bar[0][0] + bar[1][0]) / 2 == pytest.approx(stub[0][0], abs=0.02)
        others = lines + [each for name, pair in shut.items() if name != port for each in pair]
        assert not any(touch(a, b) or crossed(a, b) for a in (stub, bar) for b in others)


def crossed(one: Segment, other: Segment) -> bool:
    def turn(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    (a, b), (c, d) = one, other
    return turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0


@pytest.mark.parametrize("one", all_positions(), ids=text)
def test_groups_cross_only_where_both_run_from_face_to_face(one: Position) -> None:
    inside, _ = square_of(tree(centre(one)), "0")
    groups = [segments(group) for group in parts(inside, "data-ports")]
    crossings = sum(crossed(a, b) for mine, other in combinations(groups, 2) for a in mine for b in other)
    assert crossings == (1 if text(one) == "P-B, A-T" else 0)


@pytest.mark.parametrize("rest", USUAL)
@pytest.mark.parametrize("crossing", [None, "P-A-B-T"])
def test_squares_are_equal_and_stand_side_by_side(rest: str, crossing: str | None) -> None:
    way = position(crossing) if crossing else None
    valve = Function(position(rest), position("P-A, B-T"), position("P-B, A-T"), way, way)
    root = tree(symbol_of(valve, "spring-centred", "two-stage"))
    outlines = [points(next(group.iter(f"{SVG}path"))) for group in parts(root, "data-square")]
    assert len(outlines) == (5 if crossing else 3)
    sides = set()
    for (x0, y0), (x1, _), (_, y2), *_ in outlines:
        sides |= {round(x1 - x0, 1), round(y2 - y0, 1)}
    assert max(sides) - min(sides) <= 0.11
    for left, right in pairwise(outlines):
        assert left[1][0] == pytest.approx(right[0][0], abs=0.02) and left[0][1] == right[0][1]


@pytest.mark.parametrize("operator", ["spring-centred", "spring-offset", "detent", None])
@pytest.mark.parametrize("stage", ["direct", "two-stage"])
def test_nothing_leaves_the_drawing(operator: str | None, stage: str) -> None:
    way = position("A-B-T restricted")
    for valve in (
        Function(position("shut"), position("P-A, B-T"), position("P-B, A-T"), way, way),
        Function(position("P-B, A-T"), position("P-A, B-T"), ""),
        Function("", position("P-A, B-T"), position("P-B, A-T")),
        Function(),
    ):
        root = tree(symbol_of(valve, operator, stage))
        _, _, width, height = map(float, root.attrib["viewBox"].split())
        assert width == 360
        found = [point for path in root.iter(f"{SVG}path") for point in points(path)]
        for words_at in root.iter(f"{SVG}text"):
            x, y = float(words_at.attrib["x"]), float(words_at.attrib["y"])
            found += [(x - 5, y - 12), (x + 5, y + 3)]
        assert all(0 <= x <= width and 0 <= y <= height for x, y in found)


def test_the_outside_ports_stand_at_the_square_of_rest() -> None:
    for valve, rest in (
        (Function(position("P-T"), position("P-A, B-T"), position("P-B, A-T")), "0"),
        (Function("", position("P-A, B-T"), position("P-B, A-T")), "a"),
    ):
        root = tree(symbol_of(valve))
        _, corners = square_of(root, rest)
        outside = {group.attrib["data-port"]: segments(group) for group in parts(root, "data-port")}
        assert set(outside) == set(PORTS)
        for port, (line,) in outside.items():
            assert dist(line[0], place(corners, port)) < 0.02


def test_a_coil_stands_at_its_square_and_a_spring_at_the_one_it_brings_back() -> None:
    """Spring-offset to the left: coil a at the left end, square 0 and the spring at the right."""
    root = tree(symbol_of(Function(position("P-B, A-T"), position("P-A, B-T"), ""), "spring-offset"))
    assert [group.attrib["data-square"] for group in parts(root, "data-square")] == ["a", "0"]
    places = {group.attrib["data-operator"]: segments(group)[0][0][0] for group in parts(root, "data-operator")}
    _, first = square_of(root, "a")
    _, last = square_of(root, "0")
    assert places["solenoid"] <= first[0][0] and places["spring"] >= last[1][0] - 0.02


def test_a_solenoid_has_one_slanted_line_and_a_pilot_a_triangle() -> None:
    root = tree(symbol_of(Function(position("shut"), position("P-A, B-T"), position("P-B, A-T")), None, "two-stage"))
    for group in parts(root, "data-operator"):
        slanted = [(a, b) for a, b in segments(group) if a[0] != b[0] and a[1] != b[1]]
        filled = [path for path in group.iter(f"{SVG}path") if path.get("fill") != "none"]
        assert (len(slanted), len(filled)) == ((1, 0) if group.attrib["data-operator"] == "solenoid" else (0, 1))
    assert [group.attrib["data-operator"] for group in parts(root, "data-operator")] == ["pilot", "solenoid"] * 2


@pytest.mark.parametrize("positions", [2, 3])
def test_a_detent_has_a_notch_for_each_position(positions: int) -> None:
    squares = tuple(Square(str(k), position("shut")) for k in range(positions))
    (found,) = parts(tree(Symbol(squares, 0, right=(("detent",),))), "data-operator")
    rod = points(next(found.iter(f"{SVG}path")))
    level = rod[0][1]
    assert sum(y != level for _, y in rod) == positions


def test_arrows_point_from_the_pump_and_into_the_tank() -> None:
    ends = {
        way.ports: way.arrow
        for one in ("P-A, B-T", "P-B, A-T", "P-T")
        for way in symbol.ways(position(one))
        if way.arrow
    }
    for name, (start, end) in ends.items():
        first, last = name.split("-")
        assert end == symbol.PLACES[last]
        assert start == symbol.PLACES[first] or name == "P-T"
    assert symbol.ways(position("A-B"))[0].arrow is symbol.ways(position("P-A-B-T"))[0].arrow is None


def test_a_notch_is_drawn_where_it_is_and_nowhere_else() -> None:
    root = tree(centre(position("A-B-T restricted")))
    counts = [
        sum("data-notch" in path.attrib for path in group.iter(f"{SVG}path")) for group in parts(root, "data-square")
    ]
    assert counts == [0, 1, 0]


def length(one: Position) -> float:
    return sum(dist(a, b) for way in symbol.ways(one) for line in way.lines for a, b in pairwise(line))


@pytest.mark.parametrize("one", all_positions(), ids=text)
def test_the_mirrored_function_has_lines_of_its_own(one: Position) -> None:
    """Straight and diagonal change places; all else keeps its lines, left for right."""
    swapped = mirrored(one)
    assert isinstance(swapped, Position)
    across = text(one).split(", ")
    straight = sum(group in ("P-A", "B-T") for group in across)
    diagonal = sum(group in ("P-B", "A-T") for group in across)
    gained = (straight - diagonal) * (dist((0, 0), (0.5, 1)) - 1)
    assert length(swapped) == pytest.approx(length(one) + gained)


@pytest.mark.parametrize("rest", USUAL)
def test_the_drawing_says_in_words_what_it_shows(rest: str) -> None:
    one = position(rest)
    root = tree(centre(one))
    assert root.attrib["role"] == "img"
    title, description = root.findtext(f"{SVG}title"), root.findtext(f"{SVG}desc")
    assert title == f"4/3 valve. Position 0 (rest): {words(one)}."
    assert description is not None and f"Position 0 (rest): {words(one)}." in description
    assert "Position a: P joined to A, B joined to T." in description
    assert "At the left end: solenoid and spring." in description
    title = root.find(f"{SVG}title")
    assert title is not None and root.attrib["aria-labelledby"].split()[0] == title.attrib["id"]


def test_what_is_not_known_is_a_question_mark_and_not_an_empty_square() -> None:
    root = tree(symbol_of(Function(None, position("P-A, B-T"), None), "spring-centred"))
    asked = {group.attrib["data-square"]: "?" in "".join(group.itertext()) for group in parts(root, "data-square")}
    assert asked == {"a": False, "0": True, "b": True}
    assert "Position 0 (rest): not known." in str(root.findtext(f"{SVG}title"))


def test_the_same_valve_is_the_same_text_and_unlike_valves_are_not() -> None:
    drawn = [draw(centre(one)) for one in all_positions()]
    assert drawn == [draw(centre(one)) for one in all_positions()]
    assert len(set(drawn)) == 15


def test_an_unknown_operator_or_no_rest_is_refused() -> None:
    with pytest.raises(DataError, match="lever"):
        draw(Symbol((Square("0", position("shut")),), 0, left=(("lever",),)))
    with pytest.raises(DataError, match="rest"):
        draw(Symbol((), 0))
