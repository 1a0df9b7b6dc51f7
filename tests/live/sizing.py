"""The script of the sizing pages in node, with the functions inside it that a test wants to ask."""

import json
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

from tests.node import ask_node
from valvecalc.sitegen.sizing import sizing_script

_FRONT = "// What the pages may use."
_DRIVER = """
const fs = require("fs");
const lines = fs.readFileSync(process.argv[2], "utf-8").split("\\n").filter(Boolean).map((line) => JSON.parse(line));
const plain = (key, value) =>
  value === undefined ? null : value instanceof Set ? [...value] : value === Infinity ? "inf" : value;
const told = lines.map(([name, ...given]) => {
  try { return JSON.stringify({ value: inner[name](...given) }, plain); } catch (fault) {
    if (fault instanceof inner.Refused) return JSON.stringify({ refused: { need: fault.need, do: fault.do } });
    if (fault instanceof inner.InputError) return JSON.stringify({ troubles: fault.troubles });
    if (fault instanceof inner.NoValue) return JSON.stringify({ none: true });
    throw fault;
  }
});
fs.writeFileSync(process.argv[3], told.join("\\n"));
"""


def ask_inner(folder: Path, names: Sequence[str], asked: Iterable[Sequence[Any]], more: str = "") -> list[Any]:
    """What functions inside the script answer: each question is [name, argument …], each answer {"value": …} or
    {"refused": …} or {"troubles": …} or {"none": true}. `more` is JavaScript that may define further functions from
    those inside (list their names too)."""
    head, mark, front = sizing_script().rpartition(_FRONT)
    assert mark, "live/sizing/front.js no longer begins with its line"
    inner = f"{more}\nglobalThis.inner = {{ {', '.join(('Refused', 'InputError', 'NoValue', *names))} }};\n"
    return [json.loads(line) for line in ask_node(folder, head + inner + mark + front + _DRIVER, asked)]
