"""The scripts that keep and judge a job on the phone, in node; and jobs to try them on."""

import json
import random
from collections.abc import Iterable, Sequence
from copy import deepcopy
from pathlib import Path
from typing import Any

from tests.node import ask_node
from valvecalc.demo import JOB
from valvecalc.facts import parse_toml
from valvecalc.formula import REGISTER
from valvecalc.job.between import QUOTED
from valvecalc.sitegen.calculators import calculator, card_script
from valvecalc.sitegen.job_script import SHEETS, job_script, judging, toml_script

ASSETS = Path(__file__).parent.parent.parent / "site/pages/assets"
SHOP = JOB.with_name("shop.toml")
#: What the page's scripts find on a page, as far as they ask for it while they are loaded.
_PAGE = """
globalThis.shop = { kept: () => null, keep: () => true };
shop.bench = { WORDS: { unread: "left out", quoted: QUOTED } };
"""
_DRIVER = """
const fs = require("fs");
const { toToml, fromToml, exported } = shop.bench;
const asked = {
  again: (text) => toToml(fromToml(text)),
  exported: (text) => exported(fromToml(text)),
  judged(text, tools, own, checks) {
    const tables = benchJob.read(fromToml(text), tools, own, checks);
    const judged = (side) => benchJob.judged(side).filter((row) => row.verdict);
    const verdicts = (side) => judged(side).map((row) => [row.subject, row.verdict]);
    return {
      faults: tables.faults.map(({ table, row, key }) => [table, row, key]),
      wants: benchJob.wants(tables),
      verdicts: verdicts(tables),
      told: judged(tables).filter((row) => row.sheet.startsWith("own ")).map((row) => row.text),
      refused: benchJob.judged(tables).filter((row) => row.errors).map((row) => row.sheet),
      closed: benchJob.closed(tables),
      left: tables.left && verdicts(tables.left),
      leftRefused: tables.left ? benchJob.judged(tables.left).filter((row) => row.errors).map((row) => row.sheet) : [],
    };
  },
  figure(text, tools, name, coil, system) {
    const tables = benchJob.read(fromToml(text), tools);
    return benchJob.figure(name, tables, tables.many.coil[coil], system);
  },
  held(text, tools, places, system, own) {
    const tables = benchJob.read(fromToml(text), tools, own);
    return places.map(([step, field, state, each, number]) =>
      benchJob.held(step, { field, state }, tables, { each, row: each ? tables.many[each][number] : null, system }));
  },
  put(text, puts) {
    const raw = fromToml(text);
    puts.forEach(([field, at, value]) => shop.jobs.put(raw, field, at, value === null ? undefined : value));
    return toToml(raw);
  },
};
const lines = fs.readFileSync(process.argv[2], "utf-8").split("\\n").filter(Boolean).map((line) => JSON.parse(line));
fs.writeFileSync(process.argv[3], lines.map(([name, ...given]) => JSON.stringify(asked[name](...given))).join("\\n"));
"""


def ask_job(folder: Path, asked: Iterable[Sequence[Any]]) -> list[Any]:
    """What the scripts answer: each question is [name of _DRIVER, argument …]."""
    own = [ASSETS.joinpath(f"{name}.js").read_text("utf-8") for name in ("job-kept", "job-file")]
    cards = [card_script(REGISTER[name]) for name in sorted({*SHEETS, *judging()})]
    page = f"const QUOTED = {json.dumps(QUOTED)};{_PAGE}"
    code = "\n".join([page, calculator(), *cards, job_script(), toml_script(), *own, _DRIVER])
    return [json.loads(line) for line in ask_node(folder, code, asked)]


def tools() -> list[dict[str, str]]:
    """The instruments of the demo's shop.toml, as the device keeps them."""
    rows = parse_toml(SHOP.read_bytes(), "shop.toml")["instrument"]
    return [{key: row.get(key, "") for key in ("id", "range", "accuracy")} for row in rows]


def toml(value: Any) -> str:
    """Plain data as one value of a TOML file."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {toml(one)}" for key, one in value.items()) + " }"
    if isinstance(value, list):
        return f"[{', '.join(map(toml, value))}]"
    return json.dumps(value, ensure_ascii=False) if isinstance(value, str) else str(value)


def written(raw: dict[str, Any]) -> str:
    """A job file of plain data: each table in one line."""
    return "".join(f"{key} = {toml(value)}\n" for key, value in raw.items())


#: Tables of the demo that the phone judges, the gate and the set-up included.
KEPT = (
    *("schema", "id", "valve", "oil", "supply", "duty", "coil", "leakage", "stand", "isolation", "outside"),
    *("as_received", "complaint"),
)
_CURVE = ("force_curve", "curve_voltage", "curve_temperature", "force_scale")
_MAIN = {"full_stroke_difference": "4.1 bar ± 0.1 bar", "pilot_pressure": "9 bar ± 2 %", "drain_pressure": "1 bar"}
_MAIN |= {"spool_diameter": "26 mm", "stroke": "8 mm", "spring_preload": "90 N", "spring_rate": "9 N/mm"}
_DRIFT = {"path": "clamp, closing", "drift_distance": "3.1 mm", "drift_time": "5 min", "bore_diameter": "63 mm"}
_LOSS = {"path": "P to A", "measured_drop": "6.2 bar ± 2 %", "flow": "38 L/min", "rated_drop": "4 bar"}


def base() -> dict[str, Any]:
    """The demo's job without its force curves, with a drift, a loss, a current, an insulation and an AC coil."""
    raw = {key: value for key, value in parse_toml(JOB.read_bytes(), "job").items() if key in KEPT}
    raw["isolation"] = raw["isolation"] | {"proved_at": "2026-11-16 07:40"}
    raw["as_received"] = {"reproduced": "yes"}
    raw["coil"] = [{key: one for key, one in coil.items() if key not in _CURVE} for coil in raw["coil"]]
    raw["coil"][0] |= {"current": ["0.559 A", "0.561 A"], "insulation": "1.4 MΩ ± 20 %"}
    trials = [{"state": "blocked", "voltage": "104 V", "shifted": False}, {"state": "duty", "shifted": True}]
    raw["coil"][1] |= {"drop_out": ["2.5 V", "2.3 V"], "shift_time": "47 ms ± 1 ms", "rated_shift_time": "40 ms"}
    plate = {"kind": "ac", "nominal_voltage": "110 V", "inrush_current": "1.3 A", "holding_current": "0.38 A"}
    raw["coil"].append({"name": "c", "resistance": "41 Ω", "current": "0.55 A ± 3 %", "pickup": trials} | plate)
    raw["coil"].append({"name": "d", "open": True, "nominal_voltage": "48 V"})
    raw["main_stage"] = dict(_MAIN)
    raw["drift"] = [_DRIFT | {"allowed_drift": "5 mm/min"}]
    raw["loss"] = [_LOSS | {"rated_flow": "35 L/min"}]
    return raw


def varied(dice: random.Random) -> dict[str, Any]:
    """Another job: fields taken out, figures moved, words changed, rows doubled or gone."""
    raw = deepcopy(base())
    for name in ("valve", "oil", "supply", "duty", "main_stage", "stand", "isolation", "outside"):
        if dice.random() < 0.1:
            del raw[name]
        elif dice.random() < 0.6:
            _vary(dice, raw[name])
    for name in ("coil", "leakage", "drift", "loss"):
        for row in raw[name]:
            _vary(dice, row)
            for trial in (*row.get("pickup", ()), *row.get("push", ())):
                _vary(dice, trial, most=1)
    if dice.random() < 0.3:
        raw["leakage"].append(deepcopy(raw["leakage"][0]))
    if dice.random() < 0.2:
        raw["coil"] = raw["coil"][:1]
    if dice.random() < 0.1:
        del raw["as_received"]
    return raw


def read_again(dice: random.Random) -> dict[str, Any]:
    """Another job with readings taken again after the work: rows of their own, and trials of a coil by themselves."""
    raw = varied(dice)
    for name in ("valve", "spring", "oil", "supply", "stand"):
        if dice.random() < 0.4:
            whole = deepcopy(base().get(name, {"spring_rate": "7 N/mm"}))
            kept = {key: _moved(dice, whole[key]) for key in dice.sample(sorted(whole), dice.randrange(len(whole) + 1))}
            raw[name] = [*([raw[name]] if name in raw else []), {"when": "as-left"} | kept]
    for coil in raw["coil"]:
        for name in ("pickup", "push"):
            if name in coil and dice.random() < 0.4:
                trial = deepcopy(dice.choice(coil[name] or [{"state": "blocked"}]))
                _vary(dice, trial, most=1)
                coil[name] = [*coil[name], trial | {"when": "as-left"}]
    for name in ("coil", "leakage", "drift", "loss", "oil", "valve"):
        for row in raw[name] if isinstance(raw.get(name), list) else [raw.get(name, {})]:
            _correct(dice, row)
    for name in ("coil", "leakage", "drift", "loss"):
        raw[name] = [row for row in raw[name] if "when" not in row]
        for row in [one for one in raw[name] if dice.random() < 0.6]:
            later = deepcopy(row) | {"when": "as-left"}
            later |= {
                key: [one for one in later[key] if "when" not in one] for key in ("pickup", "push") if key in later
            }
            _vary(dice, later, most=6)
            raw[name].append(later)
    return raw


def _correct(dice: random.Random, row: dict[str, Any]) -> None:
    """A value of a row that was another before."""
    for key in dice.sample(sorted(row), min(len(row), dice.randrange(3))):
        if key in ("name", "path", "kind", "when", "pickup", "push"):
            continue
        whole = row[key] if isinstance(row[key], dict) else {"value": row[key]}
        row[key] = whole | {"earlier": ["1 of 2", "7"], "why": "read from the wrong scale"}


def _vary(dice: random.Random, row: dict[str, Any], most: int = 3) -> None:
    for key in dice.sample(sorted(row), min(len(row), dice.randrange(most + 1))):
        if key in ("name", "kind", "state", "proved_at", "pickup", "push", "when"):
            continue
        pick = dice.randrange(3)
        if pick == 0:
            del row[key]
        elif key in ("tube", "screws"):
            row[key] = {"tube": "dented", "screws": "missing"}[key]
        elif isinstance(row[key], bool):
            row[key] = not row[key]
        elif pick == 1:
            row[key] = _moved(dice, row[key])


def _moved(dice: random.Random, value: Any) -> Any:
    """A figure a little up or down; a list of trials loses its first or moves it."""
    if isinstance(value, list):
        return [_moved(dice, value[0]), *value[1:]] if dice.random() < 0.5 or len(value) < 2 else value[1:]
    if isinstance(value, dict):
        return value | {"value": _moved(dice, value["value"])}
    if not isinstance(value, str) or not value[:1].isdigit() or " " not in value:
        return value
    number, _, rest = value.partition(" ")
    return f"{float(number) * dice.choice((0.7, 0.9, 1.1, 1.4)):.4g} {rest}"
