"""Columns by period: heights in proportion, every figure told in words, labels that do not run into each other."""

import re
from itertools import pairwise
from typing import Any
from xml.etree import ElementTree

from valvecalc.drawing import chart

NAME = "{http://www.w3.org/2000/svg}"


def drawn(columns: list[tuple[str, int, int]], **more: Any) -> ElementTree.Element:
    """The drawing of (label, value, part)."""
    rows = [{"label": label, "value": value, "part": part} for label, value, part in columns]
    spec = {"kind": "columns", "title": "Jobs", "y": {"label": "jobs", "unit": ""}, "columns": rows, "part": "back"}
    return ElementTree.fromstring(chart(spec | {"notes": []} | more))


def heights(svg: ElementTree.Element) -> list[float]:
    """Of the boxes of columns, left to right, without tiles and the legend's box."""
    boxes = [box for box in svg.iter(f"{NAME}rect") if "x" in box.attrib][:-1]
    assert all(float(box.attrib["height"]) >= 0 and float(box.attrib["width"]) > 0 for box in boxes)
    return [float(box.attrib["height"]) for box in boxes]


def test_heights_are_in_proportion() -> None:
    plain, rest, part, whole = heights(drawn([("a", 4, 0), ("b", 10, 4), ("none", 0, 0), ("c", 8, 0)]))
    assert abs(rest / plain - 6 / 4) < 1e-3 and abs(part / plain - 1) < 1e-3 and abs(whole / plain - 2) < 1e-3


def test_every_figure_stands_in_the_description() -> None:
    svg = drawn([("2026 Q1", 17, 3), ("<&>", 5, 0)], notes=["A note."])
    said = svg.findtext(f"{NAME}desc") or ""
    assert "2026 Q1: 17, of these 3" in said and "<&>: 5, of these 0" in said and "A note." in said


def test_labels_keep_apart() -> None:
    svg = drawn([(f"2026-{place:02}", place, 0) for place in range(24)])
    places = [float(one.attrib["x"]) for one in svg.iter(f"{NAME}text") if re.match("2026-", one.text or "")]
    assert 3 <= len(places) < 24
    assert all(after - before > 55 for before, after in pairwise(places))


def test_nothing_to_draw_and_noughts() -> None:
    for columns in ([], [("a", 0, 0)]):
        assert heights(drawn(columns)) == []
