"""The script of the sizing pages, assets/size.js: the formulas it calls, its data, and the twins of `selection/`.

Put together like the calculators' script, and self-contained: the pages load it at the first touch as `sizing`.
"""

from functools import cache
from pathlib import Path
from typing import Any

from valvecalc import live
from valvecalc.door import load
from valvecalc.facts import caution, fact_value, load_table, load_toml
from valvecalc.formula import REGISTER
from valvecalc.printing.javascript import functions_text, runtime_names, runtime_text
from valvecalc.selection.cells import UNKNOWN, Field, columns, duty_fields, duty_tables
from valvecalc.sitegen.calculators import script_json
from valvecalc.units import table_for_javascript
from valvecalc.version import VERSION, data_version

#: The pieces in their order: a later one calls earlier ones by name. The first are the calculators' own.
PIECES = (
    *("units.js", "drawing.js"),
    *(f"sizing/{name}.js" for name in ("data", "function", "cells", "duty", "table", "toml", "stock")),
    *(f"sizing/{name}.js" for name in ("movements", "demand", "judging", "flow_rules", "match_rules", "other_rules")),
    *(f"sizing/{name}.js" for name in ("rules", "ranking", "words", "request", "tell", "charts", "symbol", "front")),
)
#: The calculations that the twins call, by id.
CALLED = (
    *("annulus-area", "blocked-side-pressure", "cable-resistance", "joined-flow", "leakage-for-drift"),
    *("nominal-resistance", "oil-state", "one-way-limit", "piston-area", "plug-voltage", "pressure-on-area"),
    *("pressure-to-push", "one-point-drop", "return-going-in", "return-going-out", "steady-winding-temperature"),
    "throttle-heat",
)
#: The facts that they ask for; `fact("id")` of any other throws.
FACTS = (
    *("decision-factor", "grade-tolerance", "largest-laminar-share", "path-reach", "reference-ambient"),
    *("relief-reserve", "size-curve-spread", "size-interfaces", "size-leakage-spread", "size-limit-reserve"),
    *("size-one-way-least", "size-point-spread", "size-thermal-spread", "thermal-resistance"),
)
TABLES = ("cable.csv", "seal_fluids.csv", "thermal_classes.csv")


@cache
def sizing_script() -> str:
    """One classic script that leaves `sizing` behind."""
    load()
    folder = Path(live.__file__).parent
    pieces = "\n".join((folder / piece).read_text("utf-8") for piece in PIECES)
    carried = (folder / "sizing/smol-toml.js").read_text("utf-8")  # unchanged: it knows only `exports`
    pieces = f"const TOML = (() => {{\nconst exports = {{}};\n{carried}\nreturn exports;\n}})();\n{pieces}"
    shared = f"const SITE = {script_json({'units': table_for_javascript()})};\nconst DATA = {script_json(_data())};"
    cards = [REGISTER[name] for name in CALLED]
    return (
        f'globalThis.sizing = (() => {{\n"use strict";\n{runtime_text()}\n'
        f"const RUNTIME = {{ {', '.join(runtime_names())} }};\n{shared}\n{functions_text(cards)}\n{pieces}\n}})();\n"
    )


def _data() -> dict[str, Any]:
    """What the twins read: columns and entries, words, facts, tables; all numbers in SI."""
    words = load_toml("words/size.toml")
    named = {words["common"][key] for key in ("hold-first", "zero-first")}
    named |= {row["caution"] for row in words["rules"].values() if "caution" in row}
    return {
        "version": VERSION,
        "data_version": data_version(),
        "columns": {key: _field(field) for key, field in columns().items()},
        "duty": {table: {key: _field(field) for key, field in duty_fields(table).items()} for table in duty_tables()},
        "about": {table: load_toml("duty_fields.toml")[table]["about"] for table in duty_tables()},
        "unknown": list(UNKNOWN),
        "words": words,
        "cautions": {key: caution(key) for key in sorted(named)},
        "facts": {key: fact_value(key) for key in FACTS},
        "tables": {name: load_table(name) for name in TABLES},
    }


def _field(field: Field) -> dict[str, Any]:
    return field._asdict()
