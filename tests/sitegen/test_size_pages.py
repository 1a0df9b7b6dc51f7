"""The duty as questions: its data, the page that is read without script, the examples, the request."""

import json
import re
from collections.abc import Callable
from copy import deepcopy
from html import unescape
from typing import Any

import pytest

from valvecalc.demo import SIZE
from valvecalc.errors import DataError
from valvecalc.facts import caution, load_table, load_toml
from valvecalc.selection.cells import duty_fields, duty_tables, fluids
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import duty_from, loop_per_length, read_duty
from valvecalc.selection.function import all_positions, text
from valvecalc.selection.questions import FILE, field_of, questions, read_questions, usual_positions
from valvecalc.selection.tell import told_request
from valvecalc.sitegen.size_pages import demo_script, machine_page, request_page
from valvecalc.units import read

ENTRIES = [f"{table}.{key}" for table in duty_tables() for key in duty_fields(table)]
PAGE = machine_page()
SECTIONS = dict(re.findall(r'<section class="ask[^"]*" data-id="([^"]+)"(.*?)</section>', PAGE))

#: What reading it can do, by a word of how it is found out: one of these cautions stands before it.
HURTS = {
    r"\bgauge": {"stored-pressure", "accumulator"},
    r"\bhoses?\b|\bline\b|at the cylinder": {"jet", "falling-load", "stored-pressure", "accumulator"},
    r"\bblow\b": {"blown-air"},
    r"coil's plate": {"hot-coil"},
    r"electrician|cable's sheath|at the plug": {"live-circuit"},
    r"stroke|the rod|what falls|winch|count turns": {"falling-load"},
    r"old one over": {"drift-test"},
    r"the pressure at both ports": {"stored-pressure"},
    r"a gas valve": {"accumulator"},
    r"under it": {"stored-pressure"},
}


def plain(html: str) -> str:
    return unescape(re.sub(r"<[^>]+>", " ", html))


def broken(change: Callable[[dict[str, Any]], Any]) -> str:
    """What the loader says of the file with one thing changed."""
    data = deepcopy(load_toml(FILE))
    change(data)
    with pytest.raises(DataError) as told:
        read_questions(data)
    return str(told.value)


def question(data: dict[str, Any], entry: str) -> dict[str, Any]:
    found: dict[str, Any] = next(
        one for group in data["group"] for one in group["question"] if entry in one.get("entries", ())
    )
    return found


def test_every_entry_is_asked_exactly_once() -> None:
    assert sorted(entry for one in questions() for entry in one.entries) == sorted(ENTRIES)


@pytest.mark.parametrize(
    ("change", "named"),
    [
        (lambda data: question(data, "pump.flow")["entries"].clear(), "pump.flow is asked 0 times"),
        (lambda data: question(data, "pump.flow")["entries"].append("oil.grade"), "oil.grade is asked 2 times"),
        (lambda data: question(data, "pump.flow")["entries"].append("pump.flaw"), "pump.flaw, which is no entry"),
        (lambda data: question(data, "old.pilot").update(when={"old.stag": "direct"}), "when old.stag: no entry"),
        (lambda data: question(data, "old.pilot").update(when={"old.stage": "two"}), "when old.stage is two"),
        (lambda data: question(data, "old.pilot").update(unless={"pump.flow": "yes"}), "unless pump.flow is yes"),
        (lambda data: question(data, "old.pilot").update(when={"cylinder.hanging": "yes"}), "which of the rows"),
        (lambda data: question(data, "old.rest").update(cautions=["none"]), "none is no caution"),
        (lambda data: question(data, "old.stage")["buttons"].pop("direct"), "its buttons are not direct, two-stage"),
        (lambda data: question(data, "old.interface")["buttons"].update(NG7=""), "'NG7' cannot be read"),
        (lambda data: question(data, "old.stage").update(ask="Say it."), "asks no question"),
        (lambda data: question(data, "old.stage").update(how="look"), "has how, which no question has"),
        (lambda data: question(data, "old.stage").update(labels={"pump.flow": "x"}), "labels pump.flow"),
        (lambda data: data["group"][0]["question"].pop(0), "moves stands 0 times"),
        (lambda data: data["positions"]["rest"].append("T-P"), "'T-P' is not written as it is printed"),
        (lambda data: data["positions"].pop("on_a"), "positions: on_a"),
    ],
)
def test_a_fault_of_the_file_is_named(change: Callable[[dict[str, Any]], Any], named: str) -> None:
    told = broken(change)
    assert named in told
    assert f"data/{FILE}: " in told


def test_what_can_hurt_comes_first() -> None:
    first = [one.id for one in questions()][:6]
    assert first[0] == "moves"
    assert {"cylinder.hanging", "cylinder.held_back", "safety.fail_safe", "safety.hazardous_area"} < set(first)


@pytest.mark.parametrize("one", questions(), ids=lambda one: one.id)
def test_a_caution_stands_before_a_reading_that_can_hurt(one: Any) -> None:
    hows = " ".join(field_of(entry).how for entry in one.entries)
    for pattern, cautions in HURTS.items():
        if re.search(pattern, hows):
            assert cautions & set(one.cautions), f"{one.id}: {pattern}"
    section = unescape(SECTIONS[one.id])
    for key in one.cautions:
        assert section.index(caution(key)) < section.index("To find out:")


@pytest.mark.parametrize("one", questions(), ids=lambda one: one.id)
def test_how_to_find_out_stands_before_the_entry(one: Any) -> None:
    """And every entry by its name, with its answers, for who reads without script."""
    section = SECTIONS[one.id]
    assert f'<h2 tabindex="-1">{one.ask}</h2>' in unescape(section)
    for entry in one.entries:
        field = field_of(entry)
        place = section.index(f'data-entry="{entry}"')
        assert f'<p class="plain-only"><code>{entry}</code>' in section[place:]
        if field.how:
            assert field.how in unescape(section[:place])
        if field.kind == "choice":
            assert all(word in plain(section[section.index(f"<code>{entry}</code>") :]) for word in field.words)


def test_nothing_that_only_works_with_script_is_seen_without() -> None:
    """Each button, field and choice stands inside something that has the mark, or has it itself."""
    inside = 0
    tags = re.findall(r"<(/?)(div|section|details|p|button|input|select|ul)\b([^>]*)>", PAGE)
    depth: list[bool] = []
    for close, tag, attributes in tags:
        if close:
            depth.pop()
            continue
        hidden = "with-script" in attributes or any(depth)
        if tag in ("button", "input", "select"):
            assert hidden, attributes
            inside += 1
        if tag != "input":
            depth.append(hidden)
    assert inside > 100


def test_all_fifteen_positions_can_be_reached_and_are_drawn() -> None:
    every = sorted(map(text, all_positions()))
    assert len(every) == 15
    for key in ("rest", "on_a", "on_b", "crossing_a", "crossing_b"):
        usual, others = usual_positions(key)
        assert sorted([*usual, *others]) == every
        offered = re.findall(r'data-boxes="([^"]*)"', SECTIONS[f"old.{key}"])
        assert sorted(";".join(offered).replace(";none", "").split(";")) == every
    drawn = re.findall(r'<li data-position="([^"]+)"><svg.*?</svg><span>([^<]+)</span>', PAGE)
    assert sorted(position for position, _ in drawn) == every
    assert dict(drawn)["P-A, B-T"] == "P joined to A, B joined to T"


def test_buttons_offer_what_the_tables_hold() -> None:
    by_entry = {one.entries[0]: one for one in questions() if one.entries}
    assert set(by_entry["oil.fluid"].buttons) == set(fluids())
    about = {row["fluid"]: row["about"] for row in load_table("seal_fluids.csv")}
    assert all(
        told.startswith(about[fluid]) for fluid, told in by_entry["oil.fluid"].buttons.items() if fluid != "HVLP"
    )
    for size in by_entry["supply.cable_area"].buttons:
        assert loop_per_length(read(size, "cable_area", "area").si) is not None


def test_the_examples_are_the_demo() -> None:
    told = json.loads(demo_script().removeprefix("globalThis.sizeDemo = ").rstrip(";\n"))
    assert told["stock"] == {"name": "stock.csv", "text": (SIZE / "stock.csv").read_text("utf-8")}
    assert sorted(told["duties"]) == ["baler", "press", "tipping-trailer"]
    for name, raw in told["duties"].items():
        assert duty_from(raw) == read_duty(SIZE / f"{name}.toml")


def test_the_request_of_the_example_is_that_of_the_desk() -> None:
    page = plain(request_page())
    told = told_request(demand(read_duty(SIZE / "baler.toml")))
    places = [page.index(one) for one in (*told["cautions"], *(f"{row['what']}:" for row in told["request"]))]
    assert places == sorted(places)
    assert all(row["figure"] in page for row in told["request"])
