"""Every key of data/job_fields.toml is taken, and every reading tells somewhere: moved, it moves the report.

Nothing from outside stands here: these are rules of the project about itself (no key is decoration).
"""

import copy
import json
import tomllib
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from tests.job.fields_base import BASE
from tests.job.record_base import RECORD
from valvecalc.job.fields import fields, many, record_tables, tables

Table = dict[str, Any]

CURVE = [
    ["-0.5 mm", "42 N"],
    ["0 mm", "44 N"],
    ["0.6 mm", "47 N"],
    ["1.4 mm", "55 N"],
    ["2.4 mm", "78 N"],
    ["3.2 mm", "124 N"],
]

LOADS = {"load_1": "19 N", "length_1": "24 mm", "load_2": "55 N", "length_2": "19 mm", "installed_length": "24 mm"}
LIMIT = {
    "pump_flow": "60 L/min",
    "supply_pressure": "200 bar",
    "coil_voltage": "43.2 V",
    "winding_temperature": "95 °C",
}
PUSHES = [
    {"state": "no-pressure", "force": "22 N"},
    {"state": "blocked", "force": "26 N"},
    {"state": "dwell", "force": "34 N", "hold_time": "10 min"},
]
AC = {"kind": "ac", "inrush_current": "1.3 A", "holding_current": "0.38 A"}
JOINTS = ("ring", "seals", "mounting")
NO_FLOW = ("coil", 0, "pickup", 3)

#: Keys that another key shuts out or that a calibration cancels: what to take away and what to put there first.
#: The path of the key -> (paths taken away, path and value put there).
ROOM: dict[tuple[Any, ...], tuple[list[tuple[Any, ...]], list[tuple[tuple[Any, ...], Any]]]] = {
    **{("spring", key): ([("spring",)], [(("spring",), LOADS)]) for key in LOADS},
    **{("limit_point", key): ([NO_FLOW], [(("limit_point",), LIMIT)]) for key in LIMIT},
    ("valve", "friction_coefficient"): ([("coil", 0, "pickup", 1)], []),
    ("valve", "flow_force_factor"): ([], [(("valve", "flow_force_factor"), "0.4")]),
    ("valve", "dry_friction"): ([], [(("valve", "dry_friction"), "3 N")]),
    ("oil", "viscosity_100"): ([("oil", "viscosity_index")], [(("oil", "viscosity_100"), "6.8 mm²/s")]),
    ("oil", "oil_temperature"): ([("leakage", 0, "oil_temperature")], []),
    ("coil", 0, "nominal_resistance_20"): ([], [(("coil", 0, "nominal_resistance_20"), "62 ohm")]),
    **{("coil", 0, key): ([], [(("coil", 0, one), value) for one, value in AC.items()]) for key in list(AC)[1:]},
    ("coil", 0, "contact_resistance"): ([("coil", 0, "plug_voltage")], []),
    **{("coil", 0, "push", row, key): ([], [(("coil", 0, "push"), PUSHES)]) for row in range(3) for key in PUSHES[row]},
}


def keys() -> Iterator[tuple[Any, ...]]:
    """The path of every quantity of a job file."""
    for table in tables("job"):
        if table in JOINTS:
            continue  # test_joints.py
        for key, field in fields("job", table).items():
            if field.kind not in ("quantity", "repeats"):
                continue
            if table == "pickup":
                state = {"voltage": 1, "resistance": 1, "hold_time": 2}[key]
                yield ("coil", 0, "pickup", state, key)
            elif table == "push":
                yield ("coil", 0, "push", {"force": 1, "hold_time": 2}[key], key)
            elif table == "coil":
                yield ("coil", 0, key)
            elif many("job", table):
                yield (table, 0, key)
            else:
                yield (table, key)


def prepared(path: tuple[Any, ...]) -> Table:
    job = tomllib.loads(BASE)
    coil = job["coil"][0]
    coil["force_curve"] = CURVE
    if path[:1] and path[0] in record_tables():
        job |= tomllib.loads(RECORD)
    taken, put = ROOM.get(path, ([], []))
    for away in taken:
        at: Any = job
        for key in away[:-1]:
            at = at[key]
        del at[away[-1]]
    for there, value in put:
        at = job
        for key in there[:-1]:
            at = at[key]
        at[there[-1]] = copy.deepcopy(value)
    return job


def moved(text: str) -> str:
    """The same reading a little larger; a whole number one more, a cable the next size."""
    if text.isdecimal():
        return str(int(text) + 1)
    number, _, unit = text.partition(" ")
    sizes = {"0.75 mm²": "1.5 mm²"}
    return sizes.get(text) or f"{float(number) * 1.06:.6g} {unit}".strip()


def told(report: Table) -> Table:
    """What the report says, without the list of readings and entries, where every key shows anyway."""
    left = {key: value for key, value in report.items() if key not in ("readings", "digest", "made")}
    left["answers"] = [[row["results"], row["sentences"]] for row in report["answers"]]
    return left


@pytest.mark.parametrize("path", list(keys()), ids=lambda path: ".".join(str(part) for part in path if part != 0))
def test_a_moved_reading_moves_the_report(path: tuple[Any, ...], work_once: Callable[..., Any]) -> None:
    job = prepared(path)
    before = told(work_once(job)[1])
    at: Any = job
    for key in path[:-1]:
        at = at[key]
    at[path[-1]] = moved(at[path[-1]])
    assert told(work_once(job)[1]) != before, f"{path[-1]} changes nothing"


def test_every_key_of_the_file_stands_in_the_job_of_this_test() -> None:
    """So that a new key cannot slip past: it must be given here, or be one of those made room for."""
    job = tomllib.loads(BASE)
    coil = job["coil"][0]
    coil["force_curve"] = CURVE
    given = {
        "job": set(job) | {"schema"},
        "pickup": {key for row in coil["pickup"] for key in row} | {"shifted"},
        "push": {key for row in PUSHES for key in row},
        "finder": {"symptom", "situation", "steps", "result", "own_cases"},  # cli/test_diagnose.py, history/
        "replacement": {"duty", "stock"},  # test_replacement.py
        **{
            name: set(job[name][0] if isinstance(job[name], list) else job[name])
            for name in tables("job")[1:]
            if name in job
        },
    }
    for path in ROOM:
        given.setdefault(path[0], set()).add(path[-1])
    for table in tables("job"):
        if table in record_tables() or table in (*JOINTS, "check"):
            continue  # test_record.py, test_joints.py, test_own.py
        assert set(fields("job", table)) - {"when", "out_of_service"} <= given[table], table  # test_left.py


def test_every_word_is_taken(work_once: Callable[..., Any]) -> None:
    """Texts, dates and choices: each shows in the report or changes it."""
    report = work_once(prepared(()))[1]
    assert report["job"] == {
        "id": "F-1", "title": "t", "customer": "c", "machine": "m", "valve": "v", "complaint": "w",
        "received": "2026-10-01", "work_done": ["d"],
    }  # fmt: skip
    assert report["not_tested"] == ["n"]
    for path, word in (
        (("land", 0, "high_port"), "B"),
        (("land", 0, "low_port"), "T"),
        (("land", 0, "opens_for"), "B"),
        (("coil", 0, "driven_port"), "B"),
        (("coil", 0, "cylinder_side"), "rod"),
        (("coil", 0, "kind"), "ac"),
        (("supply", "cable_kind"), "stranded"),
    ):
        job = prepared(())
        at: Any = job
        for key in path[:-1]:
            at = at[key]
        at[path[-1]] = word
        assert told(work_once(job)[1]) != told(report), path


def leaves(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The path of every key that can be taken away."""
    if isinstance(value, dict):
        for key, one in value.items():
            yield (*path, key)
            yield from leaves(one, (*path, key))
    elif isinstance(value, list):
        for place, one in enumerate(value):
            yield from leaves(one, (*path, place))


@pytest.mark.usefixtures("without_causes")
def test_a_missing_key_is_never_an_error(work: Callable[..., Any]) -> None:
    """Taken away one by one: no trouble; what is left is answered, or it stands under what is not computed."""
    for path in leaves(prepared(())):
        job = prepared(())
        at: Any = job
        for key in path[:-1]:
            at = at[key]
        del at[path[-1]]
        findings, report = work(job)
        assert report["answers"], path
        assert (
            findings.budgets
            or any(row["what"].startswith("Force budget") for row in report["not_computed"])
            or (path == ("coil",))
        ), path
        json.dumps(report, allow_nan=False)
