"""The knowledge files: whole as shipped, and every fault of a broken one named."""

import re
from collections.abc import Callable
from copy import deepcopy
from typing import Any

import pytest

from valvecalc.diagnosis.knowledge import FILES, build, from_texts, knowledge
from valvecalc.door import find
from valvecalc.errors import DataError
from valvecalc.facts import data_path, load_toml
from valvecalc.quantities import VOCABULARY

MODEL = knowledge()


def parsed() -> dict[str, Any]:
    return deepcopy({name: load_toml(f"faults/{name}.toml") for name in FILES})


def row(files: dict[str, Any], file: str, key: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for one in files[file][file] if one["id"] == key)
    return found


def test_shipped_knowledge_is_whole() -> None:
    assert (len(MODEL.symptoms), len(MODEL.causes), len(MODEL.checks)) == (29, 82, 72)
    assert build(parsed()) == MODEL


def test_texts_give_the_same_model() -> None:
    texts = {}
    for name in FILES:
        with open(data_path(f"faults/{name}.toml"), encoding="utf-8") as file:
            texts[name] = file.read()
    assert from_texts(texts) == MODEL


def test_readings_and_judges_exist() -> None:
    """A number that a check gives is a name of the vocabulary; who judges it is a sheet or a formula."""
    for record in (*MODEL.checks.values(), *MODEL.causes.values()):
        if record.judged_by:
            assert find(record.judged_by).id == record.judged_by
        numbers = getattr(record, "numbers", ())
        assert [find(name).id for name in numbers] == list(numbers)
        assert record.judged_by not in numbers
        reading = getattr(record, "reading", "")
        assert not reading or reading in VOCABULARY, f"{record.id}: {reading}"
        assert not reading or record.judged_by, f"{record.id} gives a number that nobody judges"


def drop(file: str, key: str, field: str) -> Callable[[dict[str, Any]], None]:
    return lambda files: row(files, file, key).pop(field)


def put(file: str, key: str, field: str, value: Any) -> Callable[[dict[str, Any]], None]:
    return lambda files: row(files, file, key).update({field: value})


def link(check: str, cause: str, words: Any) -> Callable[[dict[str, Any]], None]:
    return lambda files: files["links"][check].update({cause: words})


BROKEN: list[tuple[str, Callable[[dict[str, Any]], None], str]] = [
    ("no file", lambda files: files.pop("chains"), r"chains\.toml: the file: missing"),
    ("other schema", lambda files: files["rules"].update(schema=2), r"schema: got 2, need 1"),
    ("field gone", drop("causes", "coil-open", "remedy"), r"coil-open: remedy is missing"),
    ("field unknown", put("checks", "coil-fit", "hazrds", []), r"hazrds is no field of it; nearest: hazards"),
    ("wrong kind", put("checks", "coil-fit", "minutes", "four"), r"coil-fit: minutes: got 'four', need a number"),
    ("boolean as number", put("checks", "coil-fit", "minutes", True), r"minutes: got 'True', need a number"),
    ("text as list", put("checks", "coil-fit", "needs", "dead"), r"coil-fit: needs: got 'dead', need a list"),
    ("not a number", put("causes", "coil-open", "remedy_minutes", float("nan")), r"remedy_minutes: got 'nan'"),
    (
        "double id",
        lambda files: files["causes"]["causes"].append(row(files, "causes", "coil-open")),
        r"stands there twice",
    ),
    ("no kebab", put("roots", "oil-dirty", "id", "Oil dirty"), r"lower-case words joined by hyphens"),
    ("id of another kind", put("roots", "oil-dirty", "id", "coil-open"), r"is an id in causes\.toml already"),
    (
        "sum",
        lambda files: row(files, "symptoms", "coil-burns")["candidates"].update({"over-voltage": 10}),
        r"add to 101",
    ),
    (
        "unknown candidate",
        lambda files: row(files, "symptoms", "coil-burns")["candidates"].update({"coil-opn": 1}),
        r"'coil-opn' is unknown; nearest: coil-open",
    ),
    ("unknown group", put("symptoms", "coil-burns", "group", "hot"), r"coil-burns group: 'hot' is unknown"),
    (
        "known outcome",
        put("symptoms", "coil-burns", "already_known", {"coil-fit": "tight"}),
        r"already_known\.coil-fit: 'tight'",
    ),
    (
        "outcome without default",
        put("checks", "coil-fit", "default", {"sound": "likely"}),
        r"default must give a word for each",
    ),
    (
        "word",
        put("checks", "coil-fit", "default", {"sound": "sometimes", "loose": "likely", "wet": "likely"}),
        r"'sometimes' is unknown",
    ),
    ("level below floor", put("checks", "coil-fit", "hazard", "none"), r"hazard none is below low, the floor of"),
    ("level unknown", put("checks", "coil-fit", "hazard", "huge"), r"hazard 'huge' is none of"),
    ("empty caution", put("causes", "coil-open", "caution", "None."), r"caution must stand alone"),
    (
        "leaning caution",
        put("checks", "coil-fit", "caution", "As above, and mind the hot coil and the tube."),
        r"caution must stand alone",
    ),
    (
        "need without gate",
        lambda files: files["rules"]["needs"].update({"luck": "some"}),
        r"\[needs\]: 'luck' is unknown",
    ),
    ("gate without steps", lambda files: files["rules"]["gates"][0].update(steps=[]), r"has no steps"),
    ("seven groups", lambda files: files["rules"]["groups"].append({"id": "rest", "title": "Rest"}), r"need six"),
    ("unknown need", put("checks", "coil-fit", "needs", ["ded"]), r"'ded' is unknown; nearest: dead"),
    ("unknown root", put("causes", "coil-open", "roots", ["oil-dirt"]), r"'oil-dirt' is unknown; nearest: oil-dirty"),
    ("after itself", put("checks", "bench-shift", "after", ["spool-look"]), r"comes after itself"),
    ("short link", link("coil-fit", "coil-open", ["likely"]), r"\[coil-fit\] coil-open: got 1 words, need 3"),
    ("link to nothing", link("coil-fit", "coil-opne", ["likely"] * 3), r"'coil-opne' is unknown"),
    ("link no list", link("coil-fit", "coil-open", "likely"), r"\[coil-fit\]: need lists of words"),
    (
        "outcomes differ",
        lambda files: files["links"]["coil-fit"].update(outcomes=["loose", "sound", "wet"]),
        r"as in checks\.toml",
    ),
    ("check without link", lambda files: files["links"].pop("load-free"), r"\[load-free\]: the check has no link"),
    ("chain to nothing", lambda files: files["chains"]["chains"][0].update(killer="silt"), r"'silt' is unknown"),
    (
        "chain without proof",
        lambda files: files["chains"]["chains"][0].update(proven_by=[]),
        r"needs an outcome that proves it",
    ),
    (
        "certain word",
        lambda files: files["rules"]["scale"]["likelihood"].update({"almost-always": 1}),
        r"one answer rules nothing out",
    ),
    ("scale gone", lambda files: files["rules"]["scale"].pop("repair"), r"\[scale\.repair\]: missing"),
    (
        "figure as text",
        lambda files: files["rules"]["scale"]["repair"].update(retest_minutes="ten"),
        r"\[scale\.repair\]: need numbers",
    ),
]


@pytest.mark.parametrize(("change", "said"), [pytest.param(change, said, id=name) for name, change, said in BROKEN])
def test_broken_knowledge_is_named(change: Callable[[dict[str, Any]], None], said: str) -> None:
    files = parsed()
    change(files)
    with pytest.raises(DataError, match=said):
        build(files)


def test_unreachable_cause_and_same_evidence() -> None:
    files = parsed()
    twin = dict(row(files, "causes", "coil-open"), id="coil-gone")
    files["causes"]["causes"].append(twin)
    for table in files["links"].values():
        if "coil-open" in table:
            table["coil-gone"] = table["coil-open"]
    with pytest.raises(DataError) as fault:
        build(files)
    assert re.search(r"coil-gone: no symptom leads to it", str(fault.value))
    assert re.search(r"coil-gone: shows the same evidence as coil-open", str(fault.value))


def test_every_fault_at_once() -> None:
    files = parsed()
    put("checks", "coil-fit", "hazard", "none")(files)
    put("causes", "coil-open", "roots", ["oil-dirt"])(files)
    link("coil-fit", "coil-open", ["likely"])(files)
    with pytest.raises(DataError) as fault:
        build(files)
    assert len(str(fault.value).splitlines()) >= 3


def test_broken_toml_names_file_and_line() -> None:
    texts = dict.fromkeys(FILES, "schema = 1") | {"checks": "a = 1\nb = = 2"}
    with pytest.raises(DataError, match=r"checks\.toml.*line 2"):
        from_texts(texts)
