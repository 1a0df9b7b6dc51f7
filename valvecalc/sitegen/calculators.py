"""The scripts of the calculator pages: one for all (assets/calculator.js), and one for each card with its data.

Both are put together from the files of `live/` and printed from the formulas; nothing in them is written by hand here.
"""

import json
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from typing import Any

from valvecalc import live
from valvecalc.facts import fact_value
from valvecalc.formula import Card
from valvecalc.live.card_data import card_data
from valvecalc.meaning import kept
from valvecalc.printing.javascript import functions_text, runtime_names, runtime_text
from valvecalc.report import words
from valvecalc.sitegen.answer_part import rules
from valvecalc.sitegen.curves import stroke_terms
from valvecalc.units import table_for_javascript
from valvecalc.version import VERSION, data_version

#: The pieces of assets/calculator.js in their order: a later one calls earlier ones by name.
PIECES = (
    *("units.js", "worked.js", "door.js", "meaning.js", "answer.js", "solving.js"),
    *("drawing.js", "curve.js", "stroke.js", "show.js", "cite.js", "front.js"),
)


def scripts(card: Card) -> list[str]:
    """What the page of a card loads at the first touch, in order."""
    pieces = (
        "calculator",
        f"calc/{card.id}",
        "fields",
        "form",
        "cite-ui",
        *(("job-kept", "keep-ui") if kept(card) else ()),
    )
    return [f"assets/{piece}.js" for piece in pieces]


def calculator_scripts(cards: Iterable[Card], address: str = "") -> dict[str, str]:
    """Every script: path under the pages folder -> text. `address` is where others can reach the shop's pages."""
    return {"assets/calculator.js": calculator(address)} | {
        f"assets/calc/{card.id}.js": card_script(card) for card in cards
    }


def calculator(address: str = "") -> str:
    """The engine of all calculator pages as one classic script; form.js and the like find it as `valvecalc`."""
    pieces = "\n".join(_text(Path(live.__file__).parent / piece) for piece in PIECES)
    shared = f"const RUNTIME = {{ {', '.join(runtime_names())} }};\nconst SITE = {script_json(_site(address))};"
    return f'globalThis.valvecalc = (() => {{\n"use strict";\n{runtime_text()}\n{shared}\n{pieces}\n}})();\n'


def card_script(card: Card) -> str:
    """The data and the printed functions of one card, filed with the engine."""
    data = card_data(card) | {"rules": list(rules(card)), "stroke_terms": stroke_terms(card)}
    return (
        f'valvecalc.file({script_json(data)}, (runtime) => {{\n"use strict";\n'
        f"const {{ {', '.join(runtime_names())} }} = runtime;\n{functions_text([card])}\nreturn {{ register }};\n}});\n"
    )


def _site(address: str) -> dict[str, Any]:
    """What all cards share."""
    return {
        "version": VERSION,
        "data_version": data_version(),
        "factor": fact_value("decision-factor"),
        "origins": words.ORIGINS,
        "coverage": words.COVERAGE,
        "address": address,
        "units": table_for_javascript(),
    }


@cache
def _text(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def script_json(value: Any) -> str:
    """JSON inside a script: no `</` that a page could end at."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":")).replace("</", "<\\/")
