"""The blank bench sheet of a job as plain data: which test comes when, at what, and what its reading is held against.

The order and the words are data/bench.toml and the checks of data/faults/checks.toml. Nothing is assumed without
saying: a figure carries whose it is, what cannot be worked says what it needs, what is read already stands in its
place.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from valvecalc.answer import Entry
from valvecalc.door import calc
from valvecalc.facts import caution, load_toml
from valvecalc.job.bench_limits import fact_origin, held
from valvecalc.job.bench_setup import FIGURES, Lacking, basis, place, set_up, shown
from valvecalc.job.fields import BELOW_COIL, Field, choices, fields
from valvecalc.job.function import symbol
from valvecalc.job.joints import seal_list, torque_sheet
from valvecalc.job.left import PLATE
from valvecalc.job.own import Check
from valvecalc.job.read import Job
from valvecalc.job.reader import Repeats
from valvecalc.job.readings import as_read
from valvecalc.job.record import PORTS, gate
from valvecalc.job.spots import spots
from valvecalc.judge import limit_of
from valvecalc.quantities import VOCABULARY
from valvecalc.version import VERSION, data_version

Row = Mapping[str, Any]
Rows = list[dict[str, Any]]

#: Tables that come several times and are printed line by line.
LINED = ("coil", "leakage", "drift", "loss")


def bench_sheet(job: Job) -> dict[str, Any]:
    """The sheet as plain data, in the order in which it is printed."""
    words = load_toml("bench.toml")["words"]
    reasons = closed(job)
    stages = []
    for key, stage in load_toml("bench.toml")["stages"].items():
        steps = _own(job) if key == "own" else [step for spec in _specs(key) for step in _step(spec, job)]
        if steps:
            shut = reasons if stage.get("pressure") else []
            stages.append({"id": key, "title": stage["title"], "about": stage["about"], "closed": shut, "steps": steps})
    head = {key: job.head.get(key, "") for key in ("title", "customer", "machine", "valve_words", "complaint")}
    return {
        "schema": 1,
        "kind": "bench-sheet",
        "ok": True,
        "version": VERSION,
        "data_version": data_version(),
        "title": words["title"],
        "about": words["about"],
        "shop": {"name": job.shop.name, "address": job.shop.address, "paper": job.shop.paper, "units": job.shop.units},
        "job": {"id": job.head.get("id", job.path.stem)} | {key: text for key, text in head.items() if text},
        "gate": {"closed": bool(reasons), "title": words["closed"], "reasons": reasons},
        "assumed": _assumed(job, words),
        "stages": stages,
        **_joints(job),
        "written": [_written(row) for row in job.tables.get("acceptance", [])],
        "instruments": [tool._asdict() for tool in job.shop.instruments.values()],
        "once_more": words["once_more"],
    }


def closed(job: Job) -> list[str]:
    """Why there is no pressure on the stand yet; nothing where zero was proved and the outside lets it in."""
    words = load_toml("bench.toml")["words"]
    isolation, look = job.tables.get("isolation", {}), gate(job)
    reasons = [] if isolation else [words["no_isolation"]]
    if isolation:
        ports = [port.upper() for port in PORTS if f"gauge_{port}" not in isolation]
        reasons += [words["zero_open"].format(ports=", ".join(ports))] if ports else []
        reasons += [] if isolation.get("dead_proved") else [words["dead_open"]]
    return reasons + (look["reasons"] if look else [words["no_look"]])


def _specs(stage: str) -> list[dict[str, Any]]:
    return [spec for spec in load_toml("bench.toml")["steps"] if spec["stage"] == stage]


def _assumed(job: Job, words: Mapping[str, str]) -> list[str]:
    coils = job.tables.get("coil", [])
    texts = [] if coils else [words["no_coil"]]
    texts += [words["kind"].format(name=row["name"]) for row in coils if "kind" not in row]
    function = job.tables.get("function", {})
    texts += [words["one_stage"]] if function and "stage" not in function else []
    return texts + ([] if "supply_pressure" in job.tables.get("duty", {}) else [words["no_pressure"]])


def _step(spec: Row, job: Job) -> Iterator[dict[str, Any]]:
    """One step with its cautions first; none where no coil of its kind is there."""
    check: Row = _checks()[spec["check"]] if "check" in spec else {}
    subjects = _subjects(spec, job)
    if not subjects or (spec.get("stages") and spec["stages"] != _stages(job)):
        return
    of_check = [check["at_bench" if spec.get("bench") else "caution"]] if check else []
    readings = [line for line in spec.get("readings", ()) for line in _lines(line, subjects, job)]
    yield {
        "id": spec["id"],
        "title": spec.get("title") or check["title"],
        "check": spec.get("check", ""),
        "cautions": [*(caution(key) for key in spec.get("cautions", ())), *of_check],
        "how": _how(spec, check),
        "tool": check.get("tool", ""),
        "acceptance": list(spec.get("acceptance", ())),
        "at": [line for one in spec.get("at", ()) for line in _at(one, subjects, job)],
        "readings": readings,
    }


def _stages(job: Job) -> str:
    """Stages of the valve as the job says; where it says nothing at all of the function the sheet stands for both."""
    function = job.tables.get("function", {})
    return str(function.get("stage", "direct")) if function else "two-stage"


def _how(spec: Row, check: Row) -> list[str]:
    gates = {row["id"]: row for row in load_toml("faults/rules.toml")["gates"]}
    texts = gates[spec["gate"]]["steps"] if "gate" in spec else [spec.get("how") or check["how"]]
    return [f"{text.rstrip('.')}." for text in texts]


def _checks() -> dict[str, Row]:
    return {row["id"]: row for row in load_toml("faults/checks.toml")["checks"]}


def _subjects(spec: Row, job: Job) -> list[tuple[str, Row, Row]]:
    """What the step is done to: (name, as found, as left); a blank line where the job names none."""
    each = spec.get("each", "")
    if not each:
        return [("", {}, {})]
    rows, again = job.tables.get(each, []), job.left.get(each, [])
    if each == "coil":
        if not rows:
            return [(load_toml("bench.toml")["words"]["any_coil"], {}, {})]
        left = {row["name"]: row for row in again}
        kept = [row for row in rows if _suits(spec, row)]
        return [(f"coil {row['name']}", row, left.get(row["name"], {})) for row in kept]
    by_path = {row.get("path"): row for row in again}
    named = [
        (str(row.get("path", f"{each} {n}")), row, by_path.get(row.get("path"), {})) for n, row in enumerate(rows, 1)
    ]
    return named or [("", {}, {})]


def _suits(spec: Row, coil: Row) -> bool:
    return not coil or "kind" not in spec or spec["kind"] == coil.get("kind", "dc")


def _tables(each: str, row: Row, state: str, job: Job) -> dict[str, Row]:
    """What a line may draw on: the tables that come once, its own row, and the trial of its state."""
    tables: dict[str, Row] = {name: table for name, table in job.tables.items() if isinstance(table, dict)}
    tables |= {name: {} for name in LINED} | {each: row}
    return tables | {name: _trials(row, name, state)[0] for name in BELOW_COIL}


def _trials(row: Row, name: str, state: str) -> list[Row]:
    return [trial for trial in row.get(name, []) if trial.get("state") == state] or [{}]


def _at(spec: Row, subjects: list[tuple[str, Row, Row]], job: Job) -> Iterator[dict[str, Any]]:
    """A line of the set-up, once where all coils have the same."""
    told = []
    for name, row, _ in subjects:
        each = "coil" if name.startswith("coil ") else ""
        told.append({"subject": name} | set_up(spec, job, row, _tables(each, row, "", job)))
    plain = [{key: value for key, value in row.items() if key != "subject"} for row in told]
    if "from" in spec and spec["from"].startswith("coil.") and subjects == [("", {}, {})] and job.tables.get("coil"):
        for row in job.tables["coil"]:
            yield {"subject": f"coil {row['name']}"} | set_up(spec, job, row, _tables("coil", row, "", job))
    elif all(row == plain[0] for row in plain):
        yield {"subject": ""} | plain[0]
    else:
        yield from told


def _lines(spec: Row, subjects: list[tuple[str, Row, Row]], job: Job) -> Iterator[dict[str, Any]]:
    """The lines on which a reading is written, one for each coil or path."""
    *path, key = spec["field"].split(".")
    table = path[-1]
    field, each = fields("job", table)[key], path[0]
    for name, row, left in subjects:
        if not _suits(spec, row):
            continue
        tables = _tables(each if row else "", row, spec.get("state", ""), job)
        again = _tables(each if left else "", left, spec.get("state", ""), job._replace(tables=job.left))
        told = {"subject": name, "field": spec["field"], "state": spec.get("state", "")}
        told |= {"what": spec.get("what") or named(field), "unit": unit_of(field, job)}
        told |= {"choices": " · ".join(choices(field)) if field.kind in ("choice", "yes-no") else ""}
        told |= {"twice": twice(path[0], key), "found": None, "left": None}
        if table not in ("acceptance", "part", "torque_done"):
            told["found"] = _read(tables.get(table, {}).get(key), job)
            new = again.get(table, {}).get(key)
            told["left"] = _read(new, job) if new is not tables.get(table, {}).get(key) else None
        yield (
            told
            | {"limits": [], "expected": "", "whose": "", "with": [], "needs": []}
            | _against(spec, row, tables, job)
        )


def twice(table: str, key: str) -> bool:
    """Whether it is written as received and again as left; the lines of the acceptance run are tried both times."""
    return table == "acceptance" or ("when" in fields("job", table) and key not in PLATE)


def named(field: Field) -> str:
    """A field in words: its key, and its meaning; a quantity that has no words of its own by the vocabulary's."""
    key = field.key.replace("_", " ")
    if field.kind in ("quantity", "repeats") and field.meaning == VOCABULARY[field.words[0]].meaning:
        return field.meaning
    return f"{key}: {field.meaning}" if field.meaning else key


def unit_of(field: Field, job: Job) -> str:
    """The unit in which a reading is written down, by the shop's units; "" for words."""
    if field.kind not in ("quantity", "repeats"):
        return ""
    quantity = VOCABULARY[field.words[0]]
    return quantity.us if job.shop.units == "us" else quantity.metric


def _against(spec: Row, row: Row, tables: Mapping[str, Row], job: Job) -> dict[str, Any]:
    """What a reading is held against: a sheet solved backwards, a fact, a figure, the function, or words."""
    own = job.shop.limits
    if "accept" in spec:
        return {"expected": spec["accept"], "whose": basis(spec["basis"])}
    if "place" in spec:
        return _by_function(spec["place"], job)
    if "fact" in spec:
        name = fields("job", "coil")["insulation"].words[0]
        limit = limit_of(spec["fact"], dict(own))
        return {"limits": [_least(limit, shown(name, limit, job))], "whose": fact_origin(spec["fact"], own)}
    if "figure" in spec:
        try:
            told = FIGURES[spec["figure"]](job, row)
        except Lacking as lack:
            return {"needs": [place(one) for one in lack.places]}
        return {"limits": [_least(told["value"], told["text"])], "whose": told["whose"]}
    judges = [judge for judge in spec.get("judge", ()) if _suits(judge, row)]
    return held(judges, tables, own, job.shop.units) if judges else {}


def _least(value: float, text: str) -> dict[str, Any]:
    return {"word": "at least", "value": value, "text": text, "says": "good", "above": True}


def _by_function(where: str, job: Job) -> dict[str, Any]:
    drawn, key = symbol(job), where.split(".")[1]
    told = drawn.get("operator") if key == "operator" else drawn.get("function", {}).get(key)
    if told is None:
        return {"needs": [place(where)]}
    return {"expected": told or "no such position", "whose": "the job file"}


def _read(value: Any, job: Job) -> dict[str, str] | None:
    """What is read already, with its instrument and the day to which that is calibrated."""
    if value is None or value == [] or value == "":
        return None
    if isinstance(value, Entry | Repeats):
        entry = value.entry if isinstance(value, Repeats) else value
        tool = job.shop.instruments.get(entry.source)
        text = value.text if isinstance(value, Repeats) else as_read(entry)
        return {"text": text, "instrument": entry.source, "until": tool.calibrated_until if tool else ""}
    if isinstance(value, bool):
        return {"text": "yes" if value else "no", "instrument": "", "until": ""}
    text = "; ".join(map(str, value)) if isinstance(value, list) else str(value)
    return {"text": text, "instrument": "", "until": ""}


def _own(job: Job) -> Rows:
    """The shop's own checks as steps of the sheet."""
    answered = [
        (when, row) for when, rows in (("found", job.tables), ("left", job.left)) for row in rows.get("check", [])
    ]
    return [_own_step(check, answered, job) for check in job.shop.checks.values()]


def _own_step(check: Check, answered: list[tuple[str, Row]], job: Job) -> dict[str, Any]:
    words = load_toml("bench.toml")["words"]
    told: dict[str, Any] = {"found": None, "left": None}
    for when, row in answered:
        if row["id"] == check.id:
            told[when] = _read(row.get("reading", row.get("answer")), job)
    limits = []
    for word, limit in (("at least", check.at_least), ("at most", check.at_most)):
        if limit is not None:
            row = {"word": word, "value": limit[1], "text": limit[0], "says": "good", "above": word == "at least"}
            limits.append(row)
    wanted = {None: "", True: "yes", False: "no"}[check.good]
    line: dict[str, Any] = {
        "subject": "", "field": "check.reading" if check.unit else "check.answer", "state": "", "what": check.title,
        "unit": check.unit, "choices": "" if check.unit else "yes · no", "twice": True, **told, "limits": limits,
        "expected": wanted, "whose": "the shop's own" if limits or wanted else "", "with": [], "needs": [],
    }  # fmt: skip
    return {
        "id": check.id, "title": check.title, "check": check.id, "cautions": [check.caution or words["no_caution"]],
        "how": [words["shop_how"]], "tool": "", "acceptance": [], "at": [], "readings": [line],
    }  # fmt: skip


class _Spots:
    """The part of the findings that seal list and torque sheet are made from, without working the whole job."""

    def __init__(self, job: Job) -> None:
        self.spots = [(name, calc(card, **given)) for card, name, given, _ in spots(job)]


def _joints(job: Job) -> dict[str, Any]:
    if not any(name in job.tables for name in ("ring", "seals", "mounting")):
        return {"seal_list": {}, "torque_sheet": {}}
    found: Any = _Spots(job)
    return {"seal_list": seal_list(job, found), "torque_sheet": torque_sheet(job, found)}


def _written(row: Row) -> str:
    cells = [f"{key} {row[key]}" if key in ("at", "limit", "by") else str(row[key]) for key in row]
    return "; ".join(cells)
