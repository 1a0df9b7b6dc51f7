"""Bad input: one clear sentence for each fault, all faults at once, exit 2, nothing on stdout, nothing written."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Run = Callable[..., Any]

LAND = (
    "annular-leakage",
    "diameter=12 mm",
    "clearance=5 um",
    "length=4 mm",
    "viscosity=30 mPa*s",
    "pressure_drop=160 bar",
)


def refused(run: Run, *arguments: str) -> str:
    told = run(*arguments)
    assert (told.code, told.out) == (2, "")
    as_json = run(*arguments, "--json")
    data = json.loads(as_json.out)
    assert (as_json.code, as_json.err, data["ok"]) == (2, "", False)
    assert all(row["entry"] and row["got"] and row["need"] and row["do"] for row in data["errors"])
    assert len(data["errors"]) == len(told.err.strip().splitlines())
    return str(told.err)


@pytest.mark.parametrize(
    ("entry", "sentence"),
    [
        ("pressure_drop=160", "pressure_drop: got '160', need a unit as well. 160 what? For example"),
        ("pressure_drop=160 L/min", "need a pressure difference. L/min is a flow"),
        ("pressure_drop=1,500 psi", "need a number that can be read one way only: 1500 or 1.500"),
        ("pressure_drop=5 psia", "A difference has no reference: write psi."),
        ("pressure_drop=-3 bar", "need >= 0 bar, <= 1000 bar"),
        ("pressure_drop=nan bar", "need a finite number"),
        ("pressure_drop=inf bar", "need a finite number"),
        ("pressure_drop=160 mpa", "MPa"),
        ("diameter=5 mil", "need thou or µm"),
        ("diameter=0 mm", "need > 0 mm"),
        ("diameter=", "need a number"),
        ("viscosity=30 cSt", "cSt is a kinematic viscosity: multiply mm²/s by the density"),
        ("diamter=5 mm", "need an entry of annular-leakage. Nearest: diameter."),
        ("diameter", "need name='value unit'"),
    ],
)
def test_one_sentence_for_each_fault(entry: str, sentence: str, run: Run) -> None:
    name = entry.partition("=")[0]
    others = [one for one in LAND if not one.startswith(f"{name}=")]
    told = refused(run, "calc", *others, entry)
    assert sentence in told
    assert told.count("\n") == 1


def test_a_gauge_pressure_given_absolute_names_the_gauge_figure(run: Run) -> None:
    """5 psia less one standard atmosphere of 14.696 psi (ISO 2533) is -9.7 psi gauge; 200 psia is 185.3."""
    told = refused(run, "calc", "push-force", "bore_diameter=63 mm", "rod_diameter=36 mm", "cap_side_pressure=200 psia")
    assert "185.3" in told
    told = refused(run, "calc", "push-force", "bore_diameter=63 mm", "rod_diameter=36 mm", "cap_side_pressure=5 psia")
    assert "got '5 psia'" in told


def test_a_flow_in_megalitres_is_refused(run: Run) -> None:
    told = refused(run, "calc", "cylinder-speed", "flow=3 ML/min", "area=20 cm2")
    assert "mL/min" in told


def test_all_faults_at_once(run: Run) -> None:
    told = refused(run, "calc", "annular-leakage", "diamter=5 mm", "clearance=5 bar", "length=4", "viscosity=30 cSt")
    assert [line.partition(":")[0] for line in told.splitlines()] == ["diamter", "clearance", "length", "viscosity"]


def test_an_unknown_formula_names_the_nearest(run: Run) -> None:
    assert "Nearest: annular-leakage" in refused(run, "calc", "anular-leakage", "diameter=5 mm")
    assert "Nearest: annular-leakage" in refused(run, "show", "annular-leakag")


def test_commands_and_options(run: Run) -> None:
    assert "Nearest: report" in refused(run, "repot", "x")
    assert "valvecalc calc --help" in refused(run, "calc")
    assert "one value" in refused(run, "calc", "piston-area", "bore_diameter=5 mm", "bore_diameter=6 mm")
    assert "--solve NAME beside it" in refused(run, "calc", *LAND, "--between", "1 um", "2 um")
    assert "Give diameter too." in refused(run, "calc", "annular-leakage", "--uncertainty", "diameter=1 mm")
    assert "need a flow" in refused(run, "calc", *LAND, "--in", "bar")
    assert "one result as an entry: leakage" in refused(run, "calc", *LAND[:3], "--solve", "length")
    assert run("calc", *LAND, "--js").code == 2  # options are written out, else --js would fail without JSON


def test_rows_of_a_sheet(run: Run) -> None:
    assert "5 values with units in each row" in refused(run, "calc", "shift-budget", "lands=5 mm")
    assert "need a row" in refused(run, "calc", "shift-budget", "force_curve=[1]")
    told = refused(run, "calc", "shift-budget", "force_curve=0 mm 52 N; 1 mm")
    assert "2 values with units in each row: position, curve_force" in told
    assert "nested too deep" in refused(run, "calc", "shift-budget", "force_curve=" + "[" * 100_000)
    assert "a list in JSON" in refused(run, "calc", "shift-budget", "force_curve=[1")
    told = refused(run, "calc", "shift-budget", "force_curve=0 mm | 52 N; 1 mm |")
    assert "force_curve 2 curve_force: got an empty cell" in told
    told = refused(run, "calc", "shift-budget", "force_curve=0 mm | 52 N; 2 mm | 60 N; 1 mm | 55 N")
    assert "got rows out of order, need position rising from row to row" in told
    assert "lands 2 taper: got an empty cell" in refused(run, "calc", "shift-budget", "lands=P|A|A|0 µm|3; P|B|B||3")


JOB = """
id = "X-1"
[valve]
spool_diametre = "14 mm"
diametral_clearance = "10 um"
[duty]
supply_pressure = "5 psia"
pump_flow = "3 ML/min"
tank_pressure = "6"
[[coil]]
name = "a"
resistance = { value = "63 ohm", instrument = "M9" }
nominal_voltage = "-48 V"
pickup = [{ state = "warm", voltage = "27 V" }, 5]
[[coil]]
name = "a"
force_curve = [["0 mm", "44 N"], ["0 mm"]]
[[repair]]
coil = "c"
changes = { lands = "old" }
[valves]
x = "1"
"""


def test_a_job_file_tells_every_fault_with_its_place(run: Run, tmp_path: Path) -> None:
    job = tmp_path / "faulty.toml"
    job.write_text(JOB, "utf-8")
    told = refused(run, "report", str(job))
    for sentence in (
        "valve.spool_diametre: got a key of this name, need a key of valve. Nearest: spool_diameter",
        "duty.supply_pressure: got '5 psia'",
        "duty.pump_flow: got '3 ML/min'",
        "duty.tank_pressure: got '6', need a unit as well",
        "coil a.resistance: got instrument 'M9', need an instrument of shop.toml",
        "coil a.pickup 1.state: got 'warm', need one of no-pressure, blocked, dwell, flow, duty",
        "coil a.pickup: got 5, need rows of keys and values",
        "coil a.force_curve row 2",
        "coil.name: got 2 coils called 'a', need a name of its own for each coil",
        "repair 1.changes.lands: got 'old', need \"new\"",
        "valves: got a table of this name, need a table of a job file. Nearest: valve, seals, loss.",
    ):
        assert sentence in told, told
    assert all(line.startswith("faulty.toml: ") for line in told.splitlines())
    assert [path.name for path in tmp_path.iterdir()] == ["faulty.toml"]


def test_limits_are_held_against_a_job_too(run: Run, tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_text(
        '[[coil]]\nname = "a"\nresistance = "0 ohm"\nnominal_voltage = "-48 V"\n[valve]\nstroke = "-1 mm"\n', "utf-8"
    )
    told = refused(run, "report", str(job))
    assert "coil a.resistance: got 0 ohm, need > 0 Ω" in told
    assert "coil a.nominal_voltage: got -48 V, need > 0 V" in told
    assert "valve.stroke: got -1 mm, need > 0 mm" in told


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "the file: got nothing, need a job file"),
        (b"\x89PNG\r\n\x1a\n\x00\x00", "bytes that are no text (byte 1)"),
        (b"id = 5 5", "need TOML"),
        (b"[valve\n", "need TOML"),
        (b"valve = " + b"[" * 50_000, "nested too deep"),
        (b'valve = "14 mm"', "one table [valve]"),
        (b'coil = ["a"]', "tables [[coil]]"),
    ],
)
def test_files_that_are_no_job(content: bytes, sentence: str, run: Run, tmp_path: Path) -> None:
    job = tmp_path / "job.toml"
    job.write_bytes(content)
    told = refused(run, "report", str(job))
    assert sentence in told
    assert told.count("\n") == 1
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


def test_places_that_cannot_be_read_or_written(run: Run, tmp_path: Path) -> None:
    assert "got no file, need a job file" in refused(run, "report", str(tmp_path / "none.toml"))
    assert "job file that can be read" in refused(run, "report", str(tmp_path))
    assert "no file" in refused(run, "report", "x.toml", "--shop", str(tmp_path / "none.toml"))
    job = tmp_path / "job.toml"
    job.write_text('id = "X"\n', "utf-8")
    (tmp_path / "taken").write_text("a file of the user's", "utf-8")
    told = refused(run, "report", str(job), "--to", str(tmp_path / "taken"))
    assert "need a place that can be read or written" in told
    assert (tmp_path / "taken").read_text("utf-8") == "a file of the user's"


def test_a_faulty_shop_file(run: Run, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text('id = "X"\n', "utf-8")
    (tmp_path / "shop.toml").write_text(
        'units = "imperial"\n[[instrument]]\nid = "V1"\nacuracy = "1 %"\n'
        '[limits]\nmargin-sign-of = "25 %"\nsupply-below = "5 V"\n',
        "utf-8",
    )
    told = refused(run, "report", str(tmp_path / "job.toml"))
    assert "units: got 'imperial', need one of metric, us" in told
    assert "instrument 1.acuracy: got a key of this name" in told
    assert "limits.margin-sign-of: got 25 %, need a limit that the project has. Nearest: margin-sign-off" in told
    assert "limits.supply-below: got '5 V'" in told
