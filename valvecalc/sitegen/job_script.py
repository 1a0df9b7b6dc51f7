"""The script that judges a job on the phone, assets/job.js: the twins of `job/` with their data; a reader of TOML.

It leaves `benchJob` behind and calls the calculators' engine (`valvecalc`), which the page loads before it.
"""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from valvecalc import live
from valvecalc.door import find, load
from valvecalc.facts import fact_value, load_table, load_toml
from valvecalc.formula import REGISTER
from valvecalc.job.bench_limits import fact_origin
from valvecalc.job.fields import BELOW_COIL, about, fields, many
from valvecalc.job.left import CARRIED, PLATE, TWICE
from valvecalc.job.reader import DO
from valvecalc.job.record import SOUND
from valvecalc.job.verdict import label
from valvecalc.printing.javascript import functions_text, runtime_names, runtime_text
from valvecalc.quantities import VOCABULARY
from valvecalc.report.words import ORIGINS
from valvecalc.sitegen.calculators import script_json
from valvecalc.unit_table import dimension_names, dimension_row

#: The pieces in their order: a later one calls earlier ones by name.
PIECES = ("readings.js", "checks.js", "own.js", "stand.js", "limits.js", "front.js")
#: The calculations that they call, by id, beside the sheets that the engine works.
CALLED = ("area-ratio", "lowest-voltage", "nominal-resistance", "resistance-at-20", "winding-resistance")
FACTS = (
    *("decision-factor", "dwell-time", "hot-winding", "insulation-least", "static-test-share"),
    *("supply-below", "test-relief-above"),
)
#: The tables of the job file in which the form has a reading: for a check, for the gate, or for the record.
ONCE = ("valve", "spring", "oil", "supply", "duty", "main_stage", "stand", "isolation", "outside", "as_received")
MANY = ("coil", "leakage", "drift", "loss", "torque_done")
#: The sheets that judge them, each with the script of its card.
SHEETS = (
    *("ac-armature", "bench-margin", "coil-amps", "coil-check", "drift-rate", "leak-check", "main-stage-drag"),
    *("path-loss", "release-volts", "shift-seconds", "test-cylinder", "two-stage-shift"),
)
#: A figure of the set-up that a reading is held against, and the limit behind it.
LIMIT_OF = {"drop_out": "drop-out-least"}
#: Quantities that are told and stand in no field of these tables.
_TOLD = ("resistance_per_length",)


@cache
def job_script() -> str:
    """One classic script that leaves `benchJob` behind."""
    load()
    folder = Path(live.__file__).parent / "job"
    pieces = "\n".join((folder / piece).read_text("utf-8") for piece in PIECES)
    return (
        f'globalThis.benchJob = (() => {{\n"use strict";\n{runtime_text()}\n'
        f"const RUNTIME = {{ {', '.join(runtime_names())} }};\nconst DATA = {script_json(_data())};\n"
        f"{functions_text([REGISTER[name] for name in CALLED])}\n{pieces}\n}})();\n"
    )


@cache
def toml_script() -> str:
    """The reader of TOML that the sizing pages carry, by itself: `tomlReader`."""
    carried = (Path(live.__file__).parent / "sizing" / "smol-toml.js").read_text("utf-8")
    return f"globalThis.tomlReader = (() => {{\nconst exports = {{}};\n{carried}\nreturn exports;\n}})();\n"


def _data() -> dict[str, Any]:
    """What the twins read: fields, words, facts, the cable table; all numbers in SI."""
    known = {table: _fields(table) for table in ("job", *ONCE, *MANY, *BELOW_COIL)}
    names = {row[1] for table in known.values() for row in table.values() if row[0] in ("quantity", "repeats")}
    words = load_toml("words/report.toml")
    return {
        "once": [table for table in ONCE if not many("job", table)],
        "many": list(MANY),
        "twice": list(TWICE),
        "plate": list(PLATE),
        "carried": CARRIED,
        "fields": known,
        "day": DO["date"],
        "yesNo": DO["yes-no"],
        "spelled": _spelled(),
        "words": {name: _word(name) for name in sorted({*names, *_TOLD})},
        "facts": {key: fact_value(key) for key in FACTS},
        "cable": load_table("cable.csv"),
        "say": {"gate": words["gate"], "sheet": load_toml("bench.toml")["words"]},
        "sound": SOUND,
        "states": words["states"],
        "origins": ORIGINS,
        "rules": _rules(),
        "own": {key: load_toml("defaults.toml")[key]["dimension"] for key in _own_keys()},
        "labels": {name: label(name) for sheet in sorted(judging()) for name in find(sheet).entries},
        "lines": _lines(),
        "places": {
            f"{table}.{key}": f"{field.meaning or key} ({table}.{key})"
            for table in ("outside", "duty", "supply", "coil", "oil", "stand")
            for key, field in fields("job", table).items()
        },
    }


def _spelled() -> dict[str, list[str]]:
    """The spellings of units by dimension, each where the table has it first: what the unit of a shop's check means."""
    found: dict[str, list[str]] = {}
    seen: set[str] = set()
    for name in dimension_names():
        found[name] = [one for one in dimension_row(name).names if one not in seen]
        seen.update(found[name])
    return found


def _rules() -> dict[str, dict[str, list[Any]]]:
    """How the results of each sheet are judged, the limits by their names."""
    return {
        name: {key: list(rule) for key, rule in find(name).judged.items()} for name in sorted({*SHEETS, *judging()})
    }


def _own_keys() -> list[str]:
    """The limits that a shop may set and that the phone judges by."""
    rules = [rule for rows in _rules().values() for rule in rows.values()]
    named = {key for kind, *keys in rules if kind != "within-range" for key in keys}
    return sorted(named | {"decision-factor", "insulation-least"})


def judging() -> set[str]:
    """The sheets that say what a reading of the bench sheet is held against."""
    lines = [line for rows in _lines().values() for line in rows]
    return {judge["sheet"] for line in lines for judge in line.get("judge", ())}


@cache
def _lines() -> dict[str, list[dict[str, Any]]]:
    """The readings of data/bench.toml that are held against a figure of the job, by step; with whose the limit is."""
    found: dict[str, list[dict[str, Any]]] = {}
    for step in load_toml("bench.toml")["steps"]:
        for line in step.get("readings", ()):
            told: dict[str, Any] = {"field": line["field"], "state": line.get("state", "")}
            if "judge" in line:
                told["judge"] = [judge | {"facts": _facts(judge)} for judge in line["judge"]]
            elif "figure" in line:
                told |= {"figure": line["figure"], "whose": fact_origin(LIMIT_OF[line["figure"]], {})}
            elif "fact" in line:
                table, key = line["field"].split(".")
                told |= {"fact": line["fact"], "name": fields("job", table)[key].words[0]}
                told |= {"whose": fact_origin(line["fact"], {})}
            else:
                continue
            found.setdefault(step["id"], []).append(told)
    return found


def _facts(judge: Mapping[str, Any]) -> list[list[str]]:
    """Where the limits of a judging sheet come from: each by its name and in words."""
    rule, *keys = find(judge["sheet"]).judged[judge["result"]]
    facts = [judge["limit_fact"]] if "limit_fact" in judge else [] if rule == "within-range" else keys
    return [[key, fact_origin(key, {})] for key in facts]


def _fields(table: str) -> dict[str, list[str]]:
    assert about("job", table)
    return {key: [field.kind, *field.words[:1]] for key, field in fields("job", table).items() if key != "when"}


def _word(name: str) -> list[str]:
    quantity = VOCABULARY[name]
    return [quantity.symbol, quantity.dimension, quantity.metric, quantity.meaning, quantity.us]
