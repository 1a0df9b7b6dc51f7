"""Duties and stock lists in TOML on the phone against Python, and the reader that is carried for them."""

import csv
import hashlib
import json
import random
import re
from pathlib import Path
from typing import Any

from tests.live.sizing import ask_inner
from tests.live.sizing_plain import plainly, same, told
from tests.live.texts import one_language, spoilt
from valvecalc import live
from valvecalc.demo import SIZE
from valvecalc.facts import parse_toml
from valvecalc.selection.duty import duty_from, read_duty
from valvecalc.selection.stock import read_stock

FOLDER = Path(live.__file__).parent / "sizing"
ASSETS = Path(__file__).parent.parent.parent / "site/pages/assets"
DUTIES = [(SIZE / f"{name}.toml").read_text("utf-8") for name in ("baler", "press", "tipping-trailer")]
#: Whatever TOML can say where the form says a text.
VALUES = [
    "45", "45.0", "4_5", "-7", "0x2d", "1e2", "1e16", "1.5e22", "2.5", "1e-5", "-0.0", "inf", "-inf", "nan", "true",
    "false", "2026-11-27", "2026-11-27T10:00:00", "2026-11-27 10:00:00.25Z", "2026-11-27T10:00:00+02:00", "10:00:00",
    "07:32:00.5", "'45 L/min'", '"45 L/min"', '"""\n45\n  L/min"""', "'''45 L/min'''", '"4\\u0035 L/min"',
    '"\\t\\"45\\" L/min"', '""', '"?"', "[]", "[1, 'a', true]", '{ value = "45 L/min", x = [1e-5, 2] }',
    "9007199254740993", "99999999999999999999",
]  # fmt: skip
FAULTY = [
    "", "# only words\n", "flow", "flow = ", "[pump", "[pump]\nflow = 45 L/min\n", '[pump]\nflow = "45\n',
    "[pump]\n[pump]\n", '[pump]\nflow = "1"\nflow = "2"\n', "[[pump]]\n", "pump = 3\n", "[[oil]]\ngrade = '46'\n",
    "a\x00 = 1\n", "= 1\n", "[x]\ry = 1\n",
]  # fmt: skip


def agree(answer: dict[str, Any], expected: dict[str, Any]) -> bool:
    """The same; where the text is no TOML, each reader has words of its own for why."""
    if "troubles" in expected and expected["troubles"][0]["need"] == "TOML":
        (mine,), (theirs,) = answer["troubles"], expected["troubles"]
        placed = re.search(r"\(at line [0-9]+, column [0-9]+\)$", mine["got"])
        return bool(placed) and {**mine, "got": ""} == {**theirs, "got": ""}
    return same(answer, expected)


def test_duty_files_are_read_as_one(tmp_path: Path) -> None:
    dice = random.Random(9)
    written = [*DUTIES, *(f"\ufeff{text}".replace("\n", "\r\n") for text in DUTIES), *FAULTY]
    written += [f"[pump]\nflow = {value}\n[duty]\ntitle = {value}\n" for value in VALUES]
    written += [
        f"duty.title = {value}\n[pump]\nrelief_pressure = {value}\n[[motor]]\nspeed = {value}\n" for value in VALUES
    ]
    for _ in range(300):
        lines = dice.choice(DUTIES).splitlines(keepends=True)
        at = dice.randrange(len(lines))
        pick = dice.randrange(3)
        lines[at] = (
            spoilt(dice, lines[at])
            if pick == 0
            else ""
            if pick == 1
            else f"{lines[at].split('=')[0]}= {dice.choice(VALUES)}\n"
        )
        written.append("".join(lines))
    written = [text for text in written if one_language(text) and not any("\ud800" <= one <= "\udfff" for one in text)]
    more = """const dutyOf = (text) => {
      const { duty, troubles } = dutyFrom(readDutyFile(text, "duty"), "duty");
      if (troubles.length) throw new InputError(troubles);
      return duty;
    };"""
    answers = ask_inner(tmp_path, ["dutyOf"], [("dutyOf", text) for text in written], more)
    path = tmp_path / "duty"
    sorts = {"value": 0, "TOML": 0, "other": 0}
    for text, answer in zip(written, answers, strict=True):
        path.write_bytes(text.encode())
        expected = told(read_duty, path)
        assert agree(answer, expected), (text, answer, expected)
        sorts["value" if "value" in expected else "TOML" if expected["troubles"][0]["need"] == "TOML" else "other"] += 1
    assert min(sorts.values()) > 60, sorts


def test_a_file_written_on_the_phone_is_read_on_the_phone(tmp_path: Path) -> None:
    raws = [parse_toml(text.encode(), "duty") for text in DUTIES]
    more = 'const back = (raw) => dutyFrom(readDutyFile(dutyToml(raw)), "").duty;'
    answers = ask_inner(tmp_path, ["back"], [("back", raw) for raw in raws], more)
    assert same(answers, [{"value": plainly(duty_from(raw))} for raw in raws])


def listed(dice: random.Random, rows: list[dict[str, str]]) -> str:
    """Rows of a list in TOML, some with keys and values of other kinds."""
    told = []
    for row in rows:
        cells = {key: json.dumps(text, ensure_ascii=False) for key, text in row.items() if text and dice.random() < 0.9}
        if dice.random() < 0.5:
            cells[dice.choice([*row, "colour", "pressure", "nme", "constructor"])] = dice.choice(VALUES)
        if dice.random() < 0.3:
            cells["fluids"] = dice.choice(['["HLP", "HVLP"]', '["HLP", 3, 2.0, true]', "[[1.5], {a = 'x'}]"])
        told.append("[[valve]]\n" + "".join(f"{key} = {cell}\n" for key, cell in cells.items()))
    return "\n".join(told)


def test_stock_lists_are_read_as_one(tmp_path: Path) -> None:
    dice = random.Random(10)
    lines = [line for line in (SIZE / "stock.csv").read_text("utf-8").splitlines() if not line.startswith("#")]
    rows = list(csv.DictReader(lines))
    written = ["", "valve = 3\n", "[valve]\nname = 'x'\n", "valve = [1]\n", "valve = []\n", "[[valve]]\n", "[[valve]\n"]
    written += [listed(dice, dice.sample(rows, 3)) for _ in range(150)]
    answers = ask_inner(tmp_path, ["readStock"], [("readStock", text, "List.TOML") for text in written])
    path = tmp_path / "List.TOML"
    problems = set()
    for text, answer in zip(written, answers, strict=True):
        path.write_text(text, "utf-8")
        expected = told(read_stock, path)
        if "value" in expected:
            valves, found = expected["value"]
            expected = {"value": {"valves": valves, "problems": found}}
            problems |= {(one["need"], one["do"]) for one in found}
        assert agree(answer, expected), (text, answer, expected)
    assert len(problems) > 20


def test_bytes_that_are_no_text(tmp_path: Path) -> None:
    for asked in (("readDutyFile", "x", "duty.toml", True), ("readStock", "x", "list.toml", True)):
        ((trouble,),) = (answer["troubles"] for answer in ask_inner(tmp_path, [asked[0]], [asked]))
        assert (trouble["got"], trouble["where"]) == ("bytes that are no text", asked[2])


def test_the_reader_is_the_one_that_was_published() -> None:
    head = (FOLDER / "toml.js").read_text("utf-8")
    (written,) = re.findall(r"sha256 is ([0-9a-f]{64})\.", head)
    assert hashlib.sha256((FOLDER / "smol-toml.js").read_bytes()).hexdigest() == written
    licence = (ASSETS / "toml-licence.txt").read_text("utf-8")
    (version,) = re.findall(r"smol-toml ([0-9.]+) \(BSD-3-Clause", head)
    assert f"smol-toml {version}." in licence
    assert "Redistributions in binary form must reproduce" in licence
