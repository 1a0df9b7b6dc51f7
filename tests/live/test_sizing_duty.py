"""Duties on the phone against Python: the same entries, the same troubles in the same order, the same file."""

import json
import random
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from tests.live.sizing import ask_inner
from tests.live.sizing_plain import Case, agree, plainly, told
from tests.live.sizing_texts import cell_texts, typed
from tests.live.texts import nonsense, one_language
from valvecalc.demo import SIZE
from valvecalc.errors import InputError, Trouble
from valvecalc.facts import load_table, load_toml
from valvecalc.selection.cells import duty_fields, duty_tables
from valvecalc.selection.duty import REPEATED, changed, duty_from, entries, loop_per_length, meaning, read_duty

DEMOS = {
    name: tomllib.loads((SIZE / f"{name}.toml").read_text("utf-8")) for name in ("baler", "press", "tipping-trailer")
}


def spoilt_duty(dice: random.Random) -> Any:
    """A duty of the demo with some of its tables and entries changed, taken out, or of a wrong kind."""
    raw: dict[str, Any] = {
        name: [dict(one) for one in table] if isinstance(table, list) else dict(table)
        for name, table in dice.choice(list(DEMOS.values())).items()
    }
    odd = [5, 2.5, True, False, None, [], ["a's"], {"value": "3 bar", "x": [1, 1e-5, None]}, "it's", 0.00001]
    for _ in range(dice.randrange(6)):
        name = dice.choice([*duty_tables(), *(known for known in raw if known in duty_tables())])
        rows = raw.setdefault(name, [{}] if name in REPEATED else {})
        row = dice.choice(rows) if isinstance(rows, list) and rows else rows
        pick = dice.random()
        if pick < 0.06 or not isinstance(row, dict):
            raw[name] = dice.choice(odd)
        elif pick < 0.12:
            raw[typed(dice, name)] = row
        elif pick < 0.2 and name in REPEATED and isinstance(rows, list):
            rows.append(dice.choice([dict(row), {}, 3, "x"]))
        elif pick < 0.3:
            raw.pop(name)
        else:
            key = dice.choice(list(duty_fields(name)))
            texts = [*cell_texts(dice, duty_fields(name)[key]), "unknown"]
            texts += [str(row.get(key, "")), typed(dice, str(row.get(key, "")))]
            row[typed(dice, key) if dice.random() < 0.1 else key] = (
                dice.choice(odd) if pick > 0.9 else dice.choice(texts)
            )
    return raw


def read_apart(raw: Mapping[str, Any]) -> dict[str, Any]:
    """What Python makes of a duty, with what is wrong in it left out entry by entry."""
    kept: dict[str, Any] = {}
    for name, table in raw.items():
        if name not in duty_tables():
            continue
        rows = table if isinstance(table, list) and name in REPEATED else [table]
        good = [
            {key: value for key, value in (row if isinstance(row, dict) else {}).items() if reads(name, key, value)}
            for row in rows
        ]
        kept[name] = good if name in REPEATED else good[0]
    try:
        return plainly(duty_from(kept))
    except InputError:
        return {}


def reads(table: str, key: str, value: Any) -> bool:
    try:
        duty_from({table: {key: value}})
    except InputError as fault:
        return fault.troubles[0].need == "a size of the table"
    return True


def test_duties_are_read_and_refused_as_one(tmp_path: Path) -> None:
    dice = random.Random(4)
    raws: list[Any] = [*DEMOS.values(), {}]
    raws += [
        {"supply": {"cable_area": text}}
        for text in ("1.4 mm²", "12345.65 mm²", "100000.5 mm²", "0.00001 mm²", "4e7 mm²")
    ]
    raws += [spoilt_duty(dice) for _ in range(600)]
    cases: list[Case] = []
    faults: list[Trouble] = []
    for raw in raws:
        if not one_language(json.dumps(raw, ensure_ascii=False)):
            continue
        try:
            duty, troubles = duty_from(raw, "a duty.toml"), ()
        except InputError as fault:
            duty, troubles = None, fault.troubles
        faults += troubles
        cases.append(("troublesOf", (raw, "a duty.toml"), {"value": [one._asdict() for one in troubles]}))
        expected = read_apart(raw) if duty is None else plainly(duty)
        if expected:  # entries that contradict each other are kept on the phone and named
            cases.append(("dutyOf", (raw,), {"value": expected}))
    assert len(cases) > 800
    assert len({(one.need, one.do) for one in faults}) > 100
    more = (
        "const troublesOf = (...given) => dutyFrom(...given).troubles; const dutyOf = (raw) => dutyFrom(raw, '').duty;"
    )
    agree(tmp_path, cases, more)


def test_entries_are_changed_and_explained_as_one(tmp_path: Path) -> None:
    dice = random.Random(5)
    cases: list[Case] = []
    named = [f"{table}.{key}" for table in duty_tables() for key in duty_fields(table)]
    named += [f"cylinder 1.{key}" for key in duty_fields("cylinder")] + ["cylinder 2.stroke_length", "motor 1.speed"]
    named += [
        "pump",
        "pump.",
        ".flow",
        "pomp.flow",
        "cylinder 0.stroke_length",
        "cylinder x.stroke_length",
        "oil 3.grade",
        "pump.flow.x",
    ]
    for name, raw in DEMOS.items():
        duty = read_duty(SIZE / f"{name}.toml")
        cases.append(("entriesOf", (raw,), {"value": plainly(entries(duty))}))
        for entry in named:
            label, _, key = entry.partition(".")
            field = duty_fields(label.partition(" ")[0]).get(key) if label.partition(" ")[0] in duty_tables() else None
            texts = [None, "unknown", dice.choice(cell_texts(dice, field))] if field else ["5 bar"]
            cases += [("changedOf", (raw, entry, text), told(changed, duty, entry, text)) for text in texts]
        for entry, text in (("cylinder 1.rod_diameter", "900 mm"), ("oil.coldest", "95 °C"), ("oil.hottest", "-30 °C")):
            expected = told(changed, duty, entry, text)
            assert "troubles" in expected
            cases.append(("changedOf", (raw, entry, text), expected))
    cases += [("dutyMeaning", (entry,), {"value": list(meaning(entry))}) for entry in named if told_of(entry)]
    areas = [row["cable_area"] for row in load_table("cable.csv")] + [0.0, 1.4e-6]
    cases += [("loopPerLength", (area,), {"value": loop_per_length(area)}) for area in areas]
    assert sum("troubles" in expected for *_, expected in cases) > 50
    more = """
    const entriesOf = (raw) => dutyEntries(dutyFrom(raw, "").duty);
    const changedOf = (raw, entry, text) => changedDuty(dutyFrom(raw, "").duty, entry, text);
    """
    agree(tmp_path, cases, more)


def told_of(entry: str) -> bool:
    table, _, key = entry.partition(".")
    return key in load_toml("duty_fields.toml").get(table.partition(" ")[0], {}) and bool(key)


def of_texts(raw: Mapping[str, Any]) -> dict[str, Any]:
    """The duty as a form holds it: tables of texts that are not blank, and lists where tables may repeat."""
    kept: dict[str, Any] = {}
    for name, table in raw.items():
        rows = table if isinstance(table, list) else [table]
        good = [
            {
                key: value
                for key, value in row.items()
                if not isinstance(value, dict | list | type(None)) and str(value).strip()
            }
            for row in rows
            if isinstance(row, dict)
        ]
        if good:
            kept[name] = good if name in REPEATED else good[0]
    return kept


def in_utf_8(text: str) -> bool:
    return one_language(text) and not any("\ud800" <= letter <= "\udfff" for letter in text)


def test_a_duty_written_as_a_file_is_read_back_by_python(tmp_path: Path) -> None:
    dice = random.Random(8)
    odd = ['"', "\\", "\n", "\r\n", "\t", "\x7f", "\0", "\u2028", "é", "#", "'''", "\\u0041", "a", " "]
    raws: list[Any] = [*DEMOS.values(), *(of_texts(spoilt_duty(dice)) for _ in range(300))]
    raws += [{"duty": {"title": "".join(dice.choices(odd, k=12))}, "motor": [{}, {}]} for _ in range(60)]
    raws += [{"old": {"connector": f"a{nonsense(dice)}", "": "1", "a.b": "2", 'q"': "3"}, "x y": {}} for _ in range(60)]
    raws = [raw for raw in raws if raw and in_utf_8(json.dumps(raw, ensure_ascii=False))]
    answers = ask_inner(tmp_path, ["dutyToml"], [("dutyToml", raw) for raw in raws])
    assert len(raws) > 350
    kinds = set()
    for raw, answer in zip(raws, answers, strict=True):
        path = tmp_path / "duty"
        path.write_bytes(answer["value"].encode())
        expected = told(duty_from, raw, "duty")
        kinds.update(expected)
        assert told(read_duty, path) == expected, (raw, answer["value"])
    assert kinds == {"value", "troubles"}
    assert ' = "unknown"' in str([answer["value"] for answer in answers])


def test_six_figures(tmp_path: Path) -> None:
    values = [
        0.0,
        1.5,
        2.5e-6,
        100000.5,
        100001.5,
        999999.5,
        1e6,
        123456.5,
        1.0000005,
        3e-5,
        1e-4,
        -7.25,
        1e300,
        5e-324,
    ]
    agree(tmp_path, [("textFigures", (value,), {"value": f"{value:g}"}) for value in values])
