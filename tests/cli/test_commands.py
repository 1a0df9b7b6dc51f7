"""Every command by the contract: stdout is the answer, stderr the trouble, exit 0, 1 or 2, JSON also on failure."""

import json
import math
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from valvecalc.cli import LATER

Run = Callable[..., Any]

LAND = ("diameter=12 mm", "length=4 mm", "pressure_drop=160 bar", "viscosity=30 mPa*s")
ANSWER = {
    "schema", "kind", "ok", "id", "title", "edition", "version", "data_version", "inputs", "result", "results", "steps",
    "limits", "missing", "sources", "cautions", "link",
}  # fmt: skip


def by_hand(clearance: float = 5e-6, pressure: float = 160e5) -> float:
    """Leakage past a centred spool in m³/s: π·d·c³·Δp/(12·µ·L) (annular gap, laminar: any text on fluid power)."""
    return math.pi * 12e-3 * clearance**3 * pressure / (12 * 0.030 * 4e-3)


def answer(run: Run, *arguments: str) -> dict[str, Any]:
    told = run("calc", *arguments, "--json")
    assert (told.code, told.err) == (0, "")
    data: dict[str, Any] = json.loads(told.out)
    assert set(data) >= ANSWER
    return data


def test_calc_by_hand(run: Run) -> None:
    result = answer(run, "annular-leakage", *LAND, "clearance=5 um")["result"]
    assert result["unit"] == "mL/min"
    assert result["value"] == pytest.approx(by_hand() * 60e6, rel=1e-12)


def test_calc_as_text_brings_the_caution_first_and_the_result(run: Run) -> None:
    told = run("calc", "annular-leakage", *LAND, "clearance=5 um")
    assert (told.code, told.err) == (0, "")
    assert told.out.startswith("! ")
    assert told.out.index("goes through glove") < told.out.index(f"{by_hand() * 60e6:.3f}"[:5])


def test_units_of_the_result(run: Run) -> None:
    """1 US gallon is 231 in³ of 25.4 mm (NIST Handbook 44, Appendix C)."""
    gallon = 231 * 0.0254**3
    result = answer(run, "annular-leakage", *LAND, "clearance=5 um", "--in", "gpm")["result"]
    assert result["unit"] == "gpm"
    assert result["value"] == pytest.approx(by_hand() * 60 / gallon, rel=1e-12)
    us = answer(run, "push-force", "bore_diameter=63 mm", "rod_diameter=36 mm", "cap_side_pressure=100 bar", "--us")
    assert us["result"]["unit"] == "lbf"


def test_uncertainty_by_hand(run: Run) -> None:
    """Leakage goes with c³ and Δp: a limit of error of 0.2 % on c, 2 % on Δp, rectangular (JCGM 100:2008, 4.3.7)."""
    given = ("annular-leakage", *LAND, "clearance=5 um", "--uncertainty", "pressure_drop=3.2 bar")
    u = 0.02 / math.sqrt(3)
    result = answer(run, *given)["result"]
    assert result["uncertainty"] == pytest.approx(2 * u * result["value"], rel=1e-9)
    both = answer(run, *given, "--uncertainty", "clearance=0.01 um")["result"]
    u = math.hypot(u, 3 * 0.002 / math.sqrt(3))
    assert both["uncertainty"] == pytest.approx(2 * u * both["value"], rel=1e-4)  # c³ is not straight over ± u


def test_solve_turns_the_formula_round(run: Run) -> None:
    leakage = f"leakage={by_hand() * 60e6!r} mL/min"
    result = answer(run, "annular-leakage", *LAND, leakage, "--solve", "clearance")["result"]
    assert (result["name"], result["unit"]) == ("clearance", "µm")
    assert result["value"] == pytest.approx(5.0, rel=1e-9)
    bounded = ("--solve", "clearance", "--between", "1 um", "20 um")
    assert answer(run, "annular-leakage", *LAND, leakage, *bounded)["result"]["value"] == pytest.approx(5.0, rel=1e-9)


def test_two_solutions_are_both_named(run: Run) -> None:
    """The sideways force on a tapered land grows with the clearance, then falls: one force, two clearances."""
    given = ("spool_diameter=14 mm", "length=5 mm", "pressure_drop=120 bar", "taper=3 um")
    command = ("calc", "lateral-force", *given, "lateral_force=215 N", "--solve", "clearance")
    found = json.loads(run(*command, "--json").out)
    assert (found["schema"], found["kind"], found["ok"]) == (1, "answers", True)
    first, second = (one["result"]["value"] for one in found["answers"])
    assert first < 3.5 < second
    for clearance in (first, second):
        force = answer(run, "lateral-force", *given, f"clearance={clearance!r} um")["result"]["value"]
        assert force == pytest.approx(215, rel=1e-9)
    assert run(*command).out.startswith("2 values of clearance give this lateral_force:")


def test_solve_without_a_solution(run: Run) -> None:
    told = run("calc", "annular-leakage", *LAND, "leakage=1 L/min", "--solve", "clearance", "--between", "1 um", "2 um")
    assert (told.code, told.out) == (1, "")
    assert "no clearance between 1.000 µm and 2.000 µm gives this leakage" in " ".join(told.err.split())
    told = run(
        "calc",
        "annular-leakage",
        *LAND,
        "leakage=1 L/min",
        "--solve",
        "clearance",
        "--between",
        "1 um",
        "2 um",
        "--json",
    )
    data = json.loads(told.out)
    assert (told.code, data["ok"], told.err) == (1, False, "")
    assert set(data["errors"][0]) >= {"entry", "got", "need", "do"}


def test_a_missing_entry_is_no_error(run: Run) -> None:
    told = run("calc", "annular-leakage", "diameter=12 mm", "--json")
    data = json.loads(told.out)
    assert (told.code, data["ok"], data["result"]) == (1, True, None)
    assert {row["entry"] for row in data["missing"]} == {"clearance", "length", "pressure_drop", "viscosity"}
    assert all(row["why"] and row["how"] for row in data["missing"])


def test_list(run: Run) -> None:
    told = run("list")
    rows = told.out.splitlines()
    assert (told.code, told.err) == (0, "")
    assert len(rows) > 30
    items = json.loads(run("list", "leak", "--json").out)["items"]
    assert {"annular-leakage", "leak-check"} <= {item["id"] for item in items}
    assert all(set(item) >= {"id", "kind", "title", "entries"} for item in items)
    leakage = next(item for item in items if item["id"] == "annular-leakage")
    assert leakage["entries"]["diameter"].keys() >= {"unit", "meaning"}
    none = run("list", "zzz")
    assert (none.code, none.out) == (1, "")
    assert "valvecalc list" in none.err
    assert json.loads(run("list", "zzz", "--json").out) == {"items": []}


def test_show_names_entries_limits_sources(run: Run) -> None:
    told = run("show", "annular-leakage")
    assert (told.code, told.err) == (0, "")
    for word in ("clearance", "[bar]", "Sources", "Example", "valvecalc calc annular-leakage"):
        assert word in told.out
    assert json.loads(run("show", "annular-leakage", "--json").out)["id"] == "annular-leakage"


@pytest.mark.parametrize("sheet", ["shift-budget", "single-causes", "leak-check", "coil-check", "oil-state"])
def test_show_of_a_sheet(sheet: str, run: Run) -> None:
    assert run("show", sheet).code == 0


def test_no_command_shows_help_and_version_names_the_data(run: Run) -> None:
    told = run()
    assert (told.code, told.err) == (0, "")
    assert "COMMAND" in told.out
    version = run("--version")
    assert version.code == 0
    assert version.out.startswith("valvecalc ")
    assert ", data " in version.out


def test_commands_that_come_later_say_so(run: Run) -> None:
    for command in LATER:
        told = run(command)
        assert (told.code, told.out) == (2, "")
        assert f"{command} comes later" in told.err


def test_report_writes_its_files_beside_the_job(run: Run, tmp_path: Path) -> None:
    job = tmp_path / "small.toml"
    job.write_text('id = "S-1"\n[[coil]]\nname = "a"\nresistance = "63 ohm"\ncoil_temperature = "23 °C"\n', "utf-8")
    told = run("report", str(job))
    assert told.code == 0
    written = sorted(path.name for path in (tmp_path / "small-report").iterdir())
    assert written == ["S-1.html", "S-1.json", "S-1.pdf", "S-1.txt"]
    assert "S-1.html" in told.out
    assert all(line.startswith("…") for line in told.err.splitlines())
    as_json = run("report", str(job), "--json", "--to", str(tmp_path / "else"))
    data = json.loads(as_json.out)
    assert (data["kind"], data["ok"]) == ("report", True)
    assert data == json.loads((tmp_path / "else" / "S-1.json").read_text("utf-8"))


def test_a_job_that_answers_nothing_is_exit_1(run: Run, tmp_path: Path) -> None:
    job = tmp_path / "bare.toml"
    job.write_text('id = "B"\ntitle = "nothing read yet"\n', "utf-8")
    told = run("report", str(job))
    assert told.code == 1
    assert "CANNOT TELL" in told.out
    assert "Read first" in told.out


def test_the_program_itself(tmp_path: Path) -> None:
    """As a user starts it, on a console that knows no µ."""
    command = [sys.executable, "-m", "valvecalc", "calc"]
    poor = {"PYTHONIOENCODING": "ascii", "PYTHONPATH": str(Path(__file__).parents[2])}
    for arguments, code in ((["nothing-known"], 2), (["annular-leakage", *LAND, "clearance=5 um"], 0)):
        done = subprocess.run([*command, *arguments], capture_output=True, check=False, cwd=tmp_path, env=poor)
        assert done.returncode == code
        assert bool(done.stdout) is (code == 0)
        assert b"Traceback" not in done.stderr
