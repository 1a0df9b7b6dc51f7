"""Speed, as ratios measured in one run: `python -m tests.benchmarks` prints each with its goal.

Ratios, because machines differ; both sides of a ratio are measured in turn and the medians divided.
The few absolute goals are waits that a person notices. Exit code 1 if one goal is missed. Not a test:
a busy machine must not turn the tests red.
"""

import json
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping
from functools import partial
from itertools import cycle
from pathlib import Path
from time import perf_counter
from typing import Any

import numpy as np

import valvecalc
from tests.benchmark_sizing import sizing
from tests.benchmark_table import Table, medians
from valvecalc.compiled import fast
from valvecalc.door import load
from valvecalc.formula import REGISTER
from valvecalc.formulas import coil, gaps, orifice, solenoid, spool
from valvecalc.limits import bracket
from valvecalc.maths import pi
from valvecalc.primitives import rank, threshold_between
from valvecalc.printing.javascript import module_text
from valvecalc.sheets.valve import TERMS, Valve
from valvecalc.units import registry

HEAVY = ("pint", "numpy", "scipy", "fluids", "mkdocs")
TEXTS = {
    "diameter": "12 mm", "clearance": "5 µm", "length": "4 mm", "pressure_drop": "160 bar", "viscosity": "30 mPa·s"
}  # fmt: skip
LEAK = {"diameter": 0.012, "clearance": 5e-6, "length": 0.004, "pressure_drop": 160e5, "viscosity": 0.03}
EDGE = {
    "pump_flow": 5e-4, "discharge_coefficient": 0.65, "area": 4e-6, "available_drop": 110e5, "density": 857.0,
    "return_ratio": 1.3,
}  # fmt: skip
ORIFICE = {"discharge_coefficient": 0.61, "area": 7.85e-7, "pressure_drop": 1e7, "density": 857.0}
PULL = {"curve_force": 72.0, "current_ratio": 0.94}

#: An invented valve of size 10 on direct current, both coils alike but for supply and winding.
VALVE = Valve(
    direction="energise", state="flow", driven_port="A", spool_diameter=0.016, clearance=6.5e-6, stroke=4.2e-3,
    overlap=1.7e-3, spring_preload=31.0, spring_rate=7400.0, coil_voltage=44.0, winding_temperature=369.0,
    resistance_20=61.0,
    force_curve=tuple(
        {"position": place * 1e-3, "curve_force": force}
        for place, force in (
            (-0.2, 91.0), (0.7, 97.0), (1.4, 105.0), (2.1, 118.0), (2.8, 138.0), (3.5, 171.0), (4.4, 246.0)
        )
    ),
    curve_voltage=44.0, curve_temperature=363.0, curve_resistance_20=61.0,
    lands=tuple(
        {"high_port": high, "low_port": low, "opens_for": opens, "taper": taper, "live_grooves": grooves}
        for high, low, opens, taper, grooves in (
            ("P", "A", "A", 1.2e-6, 3.0), ("P", "B", "B", 2.5e-6, 1.0), ("A", "T", "B", 0.0, 3.0),
            ("B", "T", "A", 0.4e-6, 3.0),
        )
    ),
    density=861.0, supply_pressure=185e5, tank_pressure=7e5, pump_flow=72 / 60000, return_ratio=1.55, dry_friction=3.2,
    load_pressure_difference=24e5, silt_at_start=6.0, residual_at_end=4.0, flow_force_factor=0.3, pin_error=0.1e-3,
    friction_coefficient=0.13,
)  # fmt: skip

#: Coil a and coil b, energised and released.
STROKES = [
    VALVE._replace(**side, direction=direction)
    for side in ({}, {"driven_port": "B", "coil_voltage": 42.5, "winding_temperature": 374.0, "return_ratio": 1 / 1.55})
    for direction in ("energise", "release")
]
CAUSES = {
    "energise": (
        "coil_voltage", "resistance_20", "winding_temperature", "pump_flow", "supply_pressure", "tank_pressure",
        "flow_force_factor", "spring_preload", "spring_rate", "dry_friction", "silt_at_start", "added_taper",
    ),
    "release": (
        "pump_flow", "supply_pressure", "tank_pressure", "load_pressure_difference", "flow_force_factor",
        "spring_preload", "spring_rate", "dry_friction", "silt_at_start", "added_taper", "residual_at_end",
        "friction_coefficient",
    ),
}  # fmt: skip
REPAIRS: tuple[dict[str, Any], ...] = (
    {"dry_friction": 1.5},
    {"silt_at_start": 0.0},
    {"spring_preload": 28.0},
    {"coil_voltage": 47.0},
    {"lands": tuple({**land, "taper": 0.0} for land in VALVE.lands)},
    {"tank_pressure": 2e5, "residual_at_end": 1.5},
)
FORCES = tuple(name for name in TERMS if name.endswith(("_force", "_friction")))


def ratio(call: Callable[[], Any], by_hand: Callable[[], Any], rounds: int = 15) -> float:
    """How many times as long a call takes as the same written by hand."""
    ours, theirs = medians(call, by_hand, rounds=rounds)
    return ours / theirs


def start(*command: str, caches: str) -> Callable[[], Any]:
    """A call that runs a Python process with nothing printed, its byte code in `caches` (as when installed)."""
    around = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    around["PYTHONPYCACHEPREFIX"] = caches
    return lambda: subprocess.run([sys.executable, *command], check=True, stdout=subprocess.DEVNULL, env=around)


def processes(told: Table) -> None:
    """What a person waits for at the command line."""
    calc = ["-m", "valvecalc", "calc", "annular-leakage", *(f"{name}={text}" for name, text in TEXTS.items())]
    commands = (["-c", "pass"], ["-c", "import valvecalc"], ["-m", "valvecalc", "--help"], calc, [*calc, "--json"])
    with tempfile.TemporaryDirectory() as folder:
        bare, imported, helped, text, as_json = medians(*(start(*command, caches=folder) for command in commands))
    beside = f"  bare Python {bare * 1e3:.1f} ms"
    told.line("import valvecalc, above bare Python", (imported - bare) * 1e3, 60, "ms", beside)
    told.line("valvecalc --help, whole process over bare Python", helped / bare, 8)
    for option, taken in (("", text), (" --json", as_json)):
        beside = f"  {taken * 1e3:.0f} ms"
        told.line(f"valvecalc calc{option}, whole process over bare Python", taken / bare, 8, beside=beside)
    for what, given in (("--help", ["--help"]), ("calc", calc[2:]), ("calc --json", [*calc[2:], "--json"])):
        code = f"import sys, valvecalc.cli\ntry: valvecalc.cli.main({given!r})\nexcept SystemExit: pass"
        told.none(f"heavy libraries that valvecalc {what} loads", loaded(code))
    told.none("heavy libraries that import valvecalc loads", loaded("import sys, valvecalc"))


def loaded(code: str) -> list[str]:
    """The heavy libraries that a fresh process has loaded after `code`."""
    listed = f"{code}\nprint('loaded', *sys.modules)"
    done = subprocess.run([sys.executable, "-c", listed], check=True, capture_output=True, text=True)
    return [name for name in HEAVY if name in done.stdout.splitlines()[-1].split()]


def leak_by_hand(
    *, diameter: Any, clearance: Any, length: Any, pressure_drop: Any, viscosity: Any, eccentricity: Any = 0.0
) -> Any:
    """Leakage past a land, written without the house."""
    return pi * diameter * clearance**3 * pressure_drop * (1 + 1.5 * eccentricity**2) / (12 * viscosity * length)


def orifice_by_hand(*, discharge_coefficient: float, area: float, pressure_drop: float, density: float) -> float:
    """Flow through an orifice, written without the house."""
    return discharge_coefficient * area * (2 * pressure_drop / density) ** 0.5


def pull_by_hand(
    *, curve_force: float, current_ratio: float, force_scale: float = 1.0, below: float = 2.0, above: float = 1.2
) -> float:
    """Solenoid force at another current, with if and else."""
    return force_scale * curve_force * (current_ratio**below if current_ratio <= 1 else current_ratio**above)


def edge_by_hand(
    *, pump_flow: Any, discharge_coefficient: Any, area: Any, available_drop: Any, density: Any, return_ratio: Any
) -> Any:
    """Flow through the open edges on arrays, written without the house."""
    drop = available_drop / (1 + return_ratio**3)
    return np.minimum(pump_flow, discharge_coefficient * area * np.sqrt(2 * drop / density))


def calls(told: Table) -> None:
    """Formulas on floats and arrays, and the door."""
    many = {**LEAK, "clearance": np.linspace(1e-6, 2e-5, 1_000_000)}
    wide = {**EDGE, "area": np.linspace(0.0, 2e-5, 1_000_000)}
    for what, ours, theirs, given, goal in (
        ("annular_leakage, floats, over plain Python", gaps.annular_leakage, leak_by_hand, LEAK, 1.5),
        ("orifice_flow, floats, over plain Python", orifice.orifice_flow, orifice_by_hand, ORIFICE, 1.5),
        ("solenoid_force (where), floats, over if and else", solenoid.solenoid_force, pull_by_hand, PULL, 3.5),
        ("annular_leakage, a million, over NumPy by hand", gaps.annular_leakage, leak_by_hand, many, 1.3),
        ("edge_flow (minimum), a million, over NumPy by hand", spool.edge_flow, edge_by_hand, wide, 1.3),
    ):
        told.line(what, ratio(partial(ours, **given), partial(theirs, **given)), goal)
    quantity = registry().Quantity
    typed = [(name, (f"{text.split()[0]}.", text.split()[1])) for name, text in TEXTS.items()]
    quantities = {name: quantity(*_split(text)) for name, text in TEXTS.items()}
    # More texts than the reader remembers, so that it meets each of them anew.
    rows = [{name: f"{number}{place:06} {unit}" for name, (number, unit) in typed} for place in range(2000)]
    fresh = cycle(rows)
    with_quantities, with_texts, with_fresh = medians(
        lambda: valvecalc.calc("annular-leakage", **quantities), lambda: valvecalc.calc("annular-leakage", **TEXTS),
        lambda: valvecalc.calc("annular-leakage", **next(fresh)),
    )  # fmt: skip
    told.line("calc with five Quantities", with_quantities * 1e6, 20, "µs")
    told.line("calc with five texts read before", with_texts * 1e6, 40, "µs")
    told.line("calc with five texts never read before", with_fresh * 1e6, 40, "µs")


def _split(text: str) -> tuple[float, str]:
    number, unit = text.split(" ")
    return float(number), unit.replace("µ", "u").replace("·", "*")


def stroke(budget: Callable[..., Mapping[str, Any]], valve: Valve) -> dict[str, Any]:
    """Margin, its place, and the terms at that place, largest first."""
    found = budget(valve)
    worst = found["worst"][0]
    terms = [{"term": name, "force": abs(worst[name])} for name in FORCES]
    return {"margin": found["margin"], "place": found["margin_position"], "terms": rank(terms, "force")}


def whole_study(budget: Callable[..., Mapping[str, Any]], ends: Mapping[str, tuple[float, float]]) -> list[Any]:
    """Four strokes, twelve thresholds on each, and the four strokes again after each of six repairs."""
    found: list[Any] = [stroke(budget, valve) for valve in STROKES]
    for valve in STROKES:
        found += [threshold_between(budget, valve, name, "margin", *ends[name]) for name in CAUSES[valve.direction]]
    for repair in REPAIRS:
        found += [stroke(budget, valve._replace(**repair)) for valve in STROKES]
    return found


STUDY_IN_JAVASCRIPT = """
const { performance } = require("node:perf_hooks");
const began = performance.now();
const valvecalc = new Function(require("node:fs").readFileSync(process.argv[2], "utf8") + "; return valvecalc;")();
const { strokes, causes, repairs, forces, ends } = JSON.parse(require("node:fs").readFileSync(process.argv[3], "utf8"));
const { rank, crossing } = valvecalc.primitives;
const budget = (valve) => valvecalc.run("shift-budget", valve);
const stroke = (valve) => {
  const { margin, margin_position: place, worst: [worst] } = budget(valve);
  return { margin, place, terms: rank(forces.map((term) => ({ term, force: Math.abs(worst[term]) })), "force") };
};
const found = strokes.map(stroke);
for (const valve of strokes) for (const name of causes[valve.direction])
  found.push(crossing((value) => budget({ ...valve, [name]: value }).margin, valve[name], ...ends[name]));
for (const repair of repairs) found.push(...strokes.map((valve) => stroke({ ...valve, ...repair })));
process.stdout.write(JSON.stringify({ took: performance.now() - began, found }));
"""


def in_javascript(ends: Mapping[str, tuple[float, float]]) -> tuple[float, float, list[Any]]:
    """Seconds inside and of a whole cold node process for the same study, and what it found."""
    node = shutil.which("node")
    if node is None:
        raise SystemExit("node is needed for the last figures")
    with tempfile.TemporaryDirectory() as folder:
        module, study, data = (Path(folder) / name for name in ("valvecalc.js", "study.js", "study.json"))
        module.write_text(module_text([REGISTER["shift-budget"]]), encoding="utf-8")
        study.write_text(STUDY_IN_JAVASCRIPT, encoding="utf-8")
        strokes = [valve._asdict() for valve in STROKES]
        asked = {"strokes": strokes, "causes": CAUSES, "repairs": REPAIRS, "forces": FORCES, "ends": ends}
        data.write_text(json.dumps(asked), encoding="utf-8")
        command = [node, str(study), str(module), str(data)]
        inside, whole = [], []
        for _ in range(5):
            began = perf_counter()
            done = subprocess.run(command, check=True, capture_output=True, text=True)
            whole.append(perf_counter() - began)
            told = json.loads(done.stdout)
            inside.append(told["took"] / 1e3)
    return statistics.median(inside), statistics.median(whole), told["found"]


def differences(ours: Any, theirs: Any) -> int:
    """How many values of two findings differ by more than 1e-9 of the larger (a root counts as its own scale)."""
    if isinstance(ours, Mapping):
        return sum(differences(ours[key], theirs[key]) for key in ours)
    if isinstance(ours, list | tuple):
        return abs(len(ours) - len(theirs)) + sum(map(differences, ours, theirs))
    if isinstance(ours, float) and isinstance(theirs, int | float):
        return abs(ours - theirs) > 1e-9 * max(abs(ours), abs(theirs), 1e-3)
    return ours != theirs


def studies(told: Table) -> None:
    """The shift budget of the invented valve, as the report and the phone work it."""
    budget, balance = fast(REGISTER["shift-budget"]), fast(REGISTER["shift-balance"])
    ends = {name: bracket(REGISTER["shift-budget"], name) for causes in CAUSES.values() for name in causes}
    current_ratio = coil.current_ratio(
        coil_voltage=VALVE.coil_voltage, resistance=80.0, curve_voltage=VALVE.curve_voltage, curve_resistance=78.0
    )
    prepared = VALVE._replace(lands=tuple({**land, "side_factor": 0.02} for land in VALVE.lands))
    place = {"position": 0.6 * VALVE.stroke, "current_ratio": current_ratio, "available_drop": 150e5}
    one, four, study = medians(
        lambda: balance(prepared, **place),
        lambda: [stroke(budget, valve) for valve in STROKES],
        lambda: whole_study(budget, ends),
        rounds=7,
    )
    places = sum(len(budget(valve)["stroke_rows"]) for valve in STROKES)
    beside = f"  {four * 1e3:.2f} ms, {places} places, one balance {one * 1e6:.2f} µs"
    told.line("four strokes with margin, place, ranking, over one balance", four / one, 400, beside=beside)
    told.line("and 48 thresholds, 24 repaired strokes, over one balance", study / one, 60_000)
    told.line("the same in milliseconds", study * 1e3, 1000, "ms")
    inside, whole, theirs = in_javascript(ends)
    told.line("the same in JavaScript, cold, from loading the text", inside * 1e3, 500, "ms")
    told.line("the same in JavaScript, whole cold process", whole * 1e3, 500, "ms")
    ours = whole_study(budget, ends)
    solved = sum(value is not None for value in ours[4:52])
    differ = differences(ours, theirs)
    told.over += bool(differ)
    print(f"{len(ours)} findings, {solved} of 48 thresholds inside their limits; {differ} values differ in JavaScript")


def main() -> int:
    """Print every figure with its goal; 1 if one is missed."""
    load()
    told = Table()
    processes(told)
    calls(told)
    studies(told)
    sizing(told)
    print(f"{told.over or 'no'} goal{'s' if told.over != 1 else ''} missed")
    return 1 if told.over else 0


if __name__ == "__main__":
    raise SystemExit(main())
