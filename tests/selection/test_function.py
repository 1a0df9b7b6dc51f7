"""What the ports do: the fifteen partitions of four ports, read and printed, compared, and what a mismatch does."""

import pytest

from valvecalc.numbers import Refused
from valvecalc.selection.function import (
    ALL_SHUT,
    Function,
    Position,
    all_positions,
    compare,
    exchanged,
    hazards,
    mirrored,
    read_position,
    text,
    turned,
    words,
)


def at(given: str) -> Position:
    position = read_position(given)
    assert isinstance(position, Position)
    return position


CLOSED = Function(ALL_SHUT, at("P-A, B-T"), at("P-B, A-T"))


def test_four_ports_have_fifteen_partitions() -> None:
    """Bell's number of 4."""
    assert len(set(all_positions())) == len(all_positions()) == 15


@pytest.mark.parametrize("position", all_positions(), ids=text)
def test_every_partition_comes_back_from_its_text(position: Position) -> None:
    assert read_position(text(position)) == position
    assert mirrored(mirrored(position)) == position
    assert words(position)


@pytest.mark.parametrize(
    ("given", "printed", "in_words"),
    [
        ("b-t,  p-a", "P-A, B-T", "P joined to A, B joined to T"),
        ("A-T, P-B", "P-B, A-T", "P joined to B, A joined to T"),
        ("P, A, B, T", "shut", "P, A, B and T shut"),
        ("shut", "shut", "P, A, B and T shut"),
        ("T-P", "P-T", "P joined to T, A and B shut"),
        ("T-B-A", "A-B-T", "A joined to B and T, P shut"),
        ("A-B-T restricted", "A-B-T restricted", "A joined to B and T through a notch, P shut"),
        ("P-A-B-T", "P-A-B-T", "P joined to A and B and T"),
        ("none", "none", "no such position"),
    ],
)
def test_text_in_any_order_is_one_position(given: str, printed: str, in_words: str) -> None:
    assert text(read_position(given)) == printed
    assert words(read_position(given)) == in_words


@pytest.mark.parametrize(
    ("given", "need"),
    [
        ("P-C", "the ports P, A, B and T"),
        ("P-A, A-T", "each port once"),
        ("P to A", "groups of ports"),
        ("P-A;B-T", "the ports P, A, B and T"),
        ("", "groups of ports"),
        ("T restricted", "two ports at least"),
        ("PA, BT", "the ports P, A, B and T"),
    ],
)
def test_a_text_that_names_no_position_is_refused(given: str, need: str) -> None:
    with pytest.raises(Refused, match=need):
        read_position(given)


def test_equal_by_plugs_by_hoses_and_different() -> None:
    assert compare(CLOSED, CLOSED) == "equal"
    assert compare(CLOSED, exchanged(CLOSED)) == "plugs"
    # One side drained in the middle: turned about it drains the other.
    drained = Function(at("A-T"), at("P-A, B-T"), at("P-B, A-T"))
    other = Function(at("B-T"), at("P-A, B-T"), at("P-B, A-T"))
    assert compare(drained, other) == "hoses"
    assert turned(other) == drained
    assert compare(CLOSED, CLOSED._replace(rest=at("P-T"))) == "different"
    assert compare(CLOSED, CLOSED._replace(rest=at("A-B-T restricted"))) == "different"


def test_unknown_is_told_only_where_it_decides() -> None:
    assert compare(CLOSED, CLOSED._replace(on_b=None)) == "unknown"
    assert compare(CLOSED._replace(rest=None), CLOSED) == "unknown"
    assert compare(CLOSED, Function(at("P-T"), None, None)) == "different"
    # "No such position" is known: a two-position valve is no three-position one.
    assert compare(CLOSED, CLOSED._replace(on_b="")) == "different"


@pytest.mark.parametrize(
    ("need", "has", "found"),
    [
        ("shut", "A-B-T", ["opened-to-tank"]),
        ("shut", "P-T", ["unloads"]),
        ("P-T", "shut", ["holds-pressure"]),
        ("A-B-T", "shut", ["shut-from-tank"]),
        ("shut", "P-A-B-T", ["opened-to-tank", "joined-to-pump", "unloads"]),
        ("P-A-B", "shut", ["cut-from-pump"]),
        ("A-B-T", "A-B-T restricted", ["notch"]),
        ("shut", "A-B", ["joined-otherwise"]),
        ("shut", "shut", []),
    ],
)
def test_what_a_mismatch_does(need: str, has: str, found: list[str]) -> None:
    assert hazards(at(need), at(has)) == found
    assert bool(found) == (at(need) != at(has))


def test_every_two_different_positions_have_a_hazard() -> None:
    for need in all_positions():
        for has in all_positions():
            assert bool(hazards(need, has)) == (need != has)
