"""Seal list and torque sheet of a job: what to pick, which torque in which round, what is not settled."""

import copy
import math
from collections.abc import Callable
from typing import Any

import pytest

from valvecalc.door import calc, find
from valvecalc.errors import InputError
from valvecalc.job.fields import choices, fields
from valvecalc.report import html, text

Table = dict[str, Any]
Work = Callable[..., tuple[Any, Table]]

#: A counterbore of an invented valve; ring 012 lies 9.25 mm wide and 1.78 mm thick.
RING = {"place": "P", "groove_depth": "1.33 mm", "groove_diameter": "12.7 mm", "port_diameter": "7.6 mm"}
JOB: Table = {
    "ring": [
        RING | {"number": "4"},
        {"place": "plug", "groove_kind": "static, groove on the plug", "groove_depth": "1.35 mm",
         "groove_width": "2.4 mm", "groove_diameter": "9.5 mm", "groove_error": "0.05 mm", "diametral_gap": "0.1 mm"},
    ],
    "seals": {"fluid": "HLP", "compound": "NBR", "highest_temperature": "75 °C", "lowest_temperature": "-10 °C",
              "pressure": "100 bar"},
    "mounting": {"mounting_face": "ISO 4401-07 / NG16 / D07", "screw_class": "10.9", "maker_torque": "50 N·m",
                 "small_maker_torque": "10 N·m", "ports_pressure": "350 bar", "ring_diameter": "26 mm",
                 "ring_count": "3", "tank_pressure": "10 bar", "lubrication": "oiled on thread and head"},
    "torque_done": [{"what": "four M10", "torque": "50 N·m", "tool": "W1", "by": "R. T."}],
}  # fmt: skip


@pytest.fixture
def job() -> Table:
    return copy.deepcopy(JOB)


def words(page: str) -> str:
    return " ".join(page.replace("\n! ", " ").split())


def test_what_to_pick(job: Table, work: Work) -> None:
    """1.78 mm in 1.33 mm deep: 1 - 1.33/1.78 = 25.3 % squeezed."""
    told = work(job)[1]["seal_list"]
    port, plug = told["rows"]
    assert (port["place"], port["number"], port["size"], port["backup"]) == (
        "P",
        "4",
        "012",
        "none while the joint stays shut",
    )
    assert (port["inside"], port["section"], port["squeeze"]) == ("9.25 mm", "1.78 mm", "25.3 %")
    assert plug["size"] == "012"
    assert plug["backup"] not in ("", port["backup"], "gap and pressure not read")
    assert told["pick"] == ["Pick 5 of size 012, NBR."]
    assert told["rubber"].startswith("NBR: yes")


def test_what_is_not_settled_is_not_picked(job: Table, work: Work) -> None:
    job["ring"] = [RING | {"groove_depth": "2.3 mm"}, {"place": "T"}]
    report = work(job)[1]
    told = report["seal_list"]
    assert told["pick"] == []
    assert [row["size"] for row in told["rows"]] == ["none of them", "not read"]
    assert told["open"][1].startswith("T: no ring is settled.")
    (lack,) = [row for row in report["not_computed"] if "ring 2, T" in row["what"]]
    assert "groove_depth" in {need["entry"] for need in lack["needs"]}


def test_a_ring_of_which_nothing_is_written_yet_is_open(job: Table, work: Work) -> None:
    job["ring"] = [RING, {}]
    told = work(job)[1]["seal_list"]
    assert [row["size"] for row in told["rows"]] == ["012", "not read"]
    assert [row.partition(":")[0] for row in told["open"]] == ["2"]


def test_the_wrong_rubber_is_a_no(job: Table, work: Work) -> None:
    job["seals"] |= {"fluid": "HFDR"}
    assert work(job)[1]["seal_list"]["rubber"] == "NBR: no, the fluid destroys it."
    del job["seals"]["fluid"]
    assert "no rubber is said to suit" in work(job)[1]["seal_list"]["rubber"]


def test_the_torque_sheet(job: Table, work: Work) -> None:
    """Rounds of 30 and 70 %: 15 and 35 of 50 N·m, 3 and 7 of 10 N·m; what was applied stands beside it."""
    told = work(job)[1]["torque_sheet"]
    assert [(row["screws"], row["first_torque"], row["second_torque"], row["torque"]) for row in told["rows"]] == [
        ("4 × M10", "15.0 N·m", "35.0 N·m", "50.0 N·m"),
        ("2 × M6", "3.00 N·m", "7.00 N·m", "10.0 N·m"),
    ]
    assert {row["origin"] for row in told["rows"]} == {"the valve's documents"}
    assert told["applied"] == [{"what": "four M10", "tool": "W1", "by": "R. T.", "torque": "50 N·m"}]


def test_without_documents_the_torque_says_that_it_is_computed(job: Table, work: Work) -> None:
    del job["mounting"]["maker_torque"]
    assert work(job)[1]["torque_sheet"]["rows"][0]["origin"] == "computed"
    job["mounting"] = {"ports_pressure": "350 bar"}
    assert work(job)[1]["torque_sheet"] == {}


def test_own_thread_and_proof_stress(work: Work) -> None:
    """0.7 × 600 MPa on M8 (36.61 mm²) is 15.4 kN; the sheet alone says the same."""
    own = {"thread": "M8", "bolt_count": "6", "proof_stress": "600 MPa"}
    (row,) = work({"mounting": own})[1]["torque_sheet"]["rows"]
    assert (row["screws"], row["class"]) == ("6 × M8", "by proof stress")
    alone = calc("torque-sheet", **own).results["tightening_torque"]
    assert row["torque"] == f"{alone:.1f} N·m"


def test_a_us_shop_reads_inches(job: Table, work: Work) -> None:
    told = work(job, 'units = "us"')[1]
    assert told["seal_list"]["rows"][0]["inside"].endswith(" in")
    assert told["torque_sheet"]["rows"][0]["torque"] == f"{50 / 1.35581795:.1f} lbf·ft"


def test_each_is_judged_and_cited(job: Table, work: Work) -> None:
    """Clamp over separating force by hand: 3 × 350 bar and 1 × 10 bar on 26 mm."""
    report = work(job)[1]
    ids = [row["id"] for row in report["answers"]]
    assert ids == ["groove-ring", "groove-ring", "extrusion-check", "seal-compound", "torque-sheet"]
    (answer,) = [row for row in report["answers"] if row["id"] == "torque-sheet"]
    values = {row["name"]: row.get("value") for row in answer["results"]}
    push = (3 * 350e5 + 10e5) * math.pi / 4 * 0.026**2 / 1e3
    assert values["separating_force"] == pytest.approx(push, rel=1e-9)
    assert values["clamp_ratio"] == pytest.approx(values["clamp_force"] / push, rel=1e-9)
    assert len([row for row in report["verdicts"] if row["subject"].startswith(("ring", "mounting"))]) == 5


@pytest.mark.parametrize("render", (html.render, text.render))
def test_cautions_stand_before_rings_and_screws(job: Table, work: Work, render: Callable[[Any], str]) -> None:
    told = work(job)[1]
    page = words(render(told).replace("&#x27;", "'"))
    assert page.index("No pressure on a seal whose rubber") < page.index("Pick 5 of size 012")
    assert page.index("Never turn a screw of a joint") < page.index("35.0 N·m")
    assert page.index("Pick 5") < page.index("4 × M10")
    assert "None" not in page


#: Each reading with another value: (table, row or None, key, value).
MOVES = (
    ("ring", 1, "number", "3"), ("ring", 1, "groove_depth", "1.4 mm"), ("ring", 1, "groove_diameter", "10.5 mm"),
    ("ring", 1, "groove_width", "2.7 mm"), ("ring", 1, "groove_error", "0.1 mm"), ("ring", 0, "port_diameter", "8 mm"),
    ("ring", 1, "diametral_gap", "0.9 mm"), ("ring", 1, "groove_kind", "static, groove in the bore"),
    ("seals", None, "fluid", "HFC"), ("seals", None, "compound", "EPDM"), ("seals", None, "pressure", "300 bar"),
    ("seals", None, "highest_temperature", "130 °C"), ("seals", None, "lowest_temperature", "-45 °C"),
    ("mounting", None, "mounting_face", "ISO 4401-08 / NG25 / D08"), ("mounting", None, "screw_class", "8.8"),
    ("mounting", None, "thread", "M12"), ("mounting", None, "proof_stress", "600 MPa"),
    ("mounting", None, "lubrication", "not known"), ("mounting", None, "maker_torque", "55 N·m"),
    ("mounting", None, "small_maker_torque", "11 N·m"), ("mounting", None, "ports_pressure", "300 bar"),
    ("mounting", None, "ring_diameter", "25 mm"), ("mounting", None, "ring_count", "2"),
    ("mounting", None, "tank_pressure", "20 bar"),
)  # fmt: skip


def test_every_reading_moves_what_is_told(job: Table, work: Work) -> None:
    before = told(work(job)[1])
    for name, row, key, value in MOVES:
        other = copy.deepcopy(job)
        (other[name] if row is None else other[name][row])[key] = value
        if key == "thread":
            other[name]["bolt_count"] = "4"
        assert told(work(other)[1]) != before, (name, key)
    keys = {(name, key) for name in ("ring", "seals", "mounting") for key in fields("job", name)}
    assert keys - {(name, key) for name, _, key, _ in MOVES} == {("ring", "place"), ("mounting", "bolt_count")}


def told(report: Table) -> list[Any]:
    return [report["seal_list"], report["torque_sheet"], [row["results"] for row in report["answers"]]]


def test_words_are_those_of_the_sheets_and_others_are_refused(job: Table, read: Callable[..., Any]) -> None:
    for name, card in (("ring", "groove-ring"), ("seals", "seal-compound"), ("mounting", "torque-sheet")):
        for field in fields("job", name).values():
            if field.kind == "word":
                assert choices(field) == tuple(find(card).choices[field.key])
    job["mounting"]["thread"] = "M7"
    job["seals"]["fluid"] = "HPL"
    with pytest.raises(InputError) as fault:
        read(job)
    assert {one.entry for one in fault.value.troubles} == {"mounting.thread", "seals.fluid"}


def test_limits_of_the_sheets_hold(job: Table, work: Work) -> None:
    job["mounting"]["ports_pressure"] = "3000 bar"
    job["ring"][1]["groove_depth"] = "50 mm"
    job["seals"]["pressure"] = "4000 bar"
    with pytest.raises(InputError) as fault:
        work(job)
    assert {one.entry for one in fault.value.troubles} == {
        "mounting.ports_pressure", "ring 2.groove_depth", "ring 2.ring_pressure",
    }  # fmt: skip
