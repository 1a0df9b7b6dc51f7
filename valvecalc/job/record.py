"""The record of a job as plain data: what was asked, seen, found, decided, done, sent, and what to measure next."""

from collections.abc import Mapping
from typing import Any

from valvecalc.answer import Entry
from valvecalc.facts import load_toml
from valvecalc.job.between import names_of
from valvecalc.job.fields import BELOW_COIL, fields, many, record_tables
from valvecalc.job.read import Job
from valvecalc.job.readings import as_read
from valvecalc.job.verdict import say
from valvecalc.units import from_si

Rows = list[dict[str, Any]]

#: Fields whose words may be names of the fault finder.
NAMED = {"killer": "causes", "also": "causes", "victims": "causes", "root": "roots"}
PORTS = ("p", "a", "b", "t")
#: What the outside look has to say before pressure: field -> the answer that lets it through.
SOUND = {"tube": "sound", "crack": False, "threads_damaged": False, "screws": "complete"}


def record(job: Job) -> Rows:
    """Every table of the record that the job fills in: title, part of the report, and rows of name, label and text."""
    sections = []
    for name, head in record_tables().items():
        if name == "photo":
            continue
        rows = job.tables.get(name)
        told = [_row(name, row, job) for row in (rows if isinstance(rows, list) else [rows or {}])]
        if any(told):
            row = {"table": name, "title": head["title"], "part": head["part"], "many": many("job", name)}
            sections.append(row | {"rows": [one for one in told if one]})
    return sections


def _row(table: str, row: Mapping[str, Any], job: Job) -> Rows:
    """The cells of one row in the order of the fields, not of the file."""
    known = {**fields("job", table), **job.shop.fields.get(table, {})}
    cells = [
        {"name": key, "label": _label(key), "text": _text(key, row[key], one.kind)}
        for key, one in known.items()
        if key in row
    ]
    if table == "times" and cells:
        total = sum(value.si for value in row.values() if isinstance(value, Entry))
        cells.append({"name": "total", "label": "total", "text": f"{round(from_si(total, 'min', 'time'))} min"})
    return [cell for cell in cells if cell["text"]]


def _label(key: str) -> str:
    """A field in words; a port is its capital letter. A few of the file's names say little to a customer."""
    told = load_toml("words/report.toml")["record_labels"].get(key)
    if told:
        return str(told)
    *words, last = key.split("_")
    return " ".join([*words, last.upper() if len(last) == 1 else last])


def _text(key: str, value: Any, kind: str = "") -> str:
    if isinstance(value, Entry):
        return as_read(value)
    if isinstance(value, list):
        return "; ".join(_text(key, one) for one in value)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if kind == "choice":
        return str(value).replace("-", " ")
    known = names_of(NAMED[key]).get(value) if key in NAMED else None
    return str(known["title"] if known else value)


def photos(job: Job) -> Rows:
    """The photographs by caption; a file that is not there is told. Apart from the record: it asks the disk."""
    rows = []
    for row in job.tables.get("photo", []):
        told = {"file": row.get("file", ""), "caption": row.get("caption", "")}
        told["stage"] = str(row.get("stage", "")).replace("-", " ")
        note = "" if told["file"] and _there(job, told["file"]) else say("record", "no_photo")
        rows.append(told | {"note": note})
    return rows


def _there(job: Job, name: str) -> bool:
    try:
        return (job.path.parent / name).is_file()
    except (OSError, ValueError):  # a name that no system takes
        return False


def gate(job: Job) -> dict[str, Any]:
    """Whether the outside look lets pressure in: nothing where no look is recorded, else the reasons against it.

    What was not looked at and a rating that is not known count as reasons.
    """
    look = job.tables.get("outside", {})
    if not look:
        return {}
    reasons = [
        say("gate", f"{key}_unknown" if key not in look else key, what=str(look.get(key, "")))
        for key, sound in SOUND.items()
        if look.get(key) != sound
    ]
    unknown = [port.upper() for port in PORTS if f"rated_{port}" not in look]
    reasons += [say("gate", "rating", ports=", ".join(unknown))] if unknown else []
    ran = job.tables.get("as_received", {}).get("reproduced") in ("yes", "no")
    reasons += [say("gate", "ran")] if reasons and ran else []
    ratings = ", ".join(f"{port.upper()} {look[f'rated_{port}'].text}" for port in PORTS if f"rated_{port}" in look)
    told = {"closed": bool(reasons), "reasons": reasons}
    return told if reasons else told | {"ratings": say("gate", "open", ratings=ratings)}


def pressed(job: Job) -> bool:
    """Whether the record tells of a run or of a reading under pressure, as found."""
    if job.tables.get("as_received", {}).get("reproduced") in ("yes", "no") or job.tables.get("leakage"):
        return True
    trials = [one for row in job.tables.get("coil", []) for key in BELOW_COIL for one in row.get(key, [])]
    return any(one.get("state", "no-pressure") != "no-pressure" for one in trials)


def replaced(job: Job) -> bool:
    """Whether another valve left the shop than the one that came."""
    return job.tables.get("decision", {}).get("what") in ("exchange", "replace")


def warnings(job: Job) -> list[str]:
    """What keeps the machine or the valve out of service by the record."""
    look = job.tables.get("outside", {})
    of_valve = [say("warnings", "crack")] if look.get("crack") else []
    of_valve += [say("warnings", "tube", what=look["tube"])] if look.get("tube", "sound") != "sound" else []
    if replaced(job):
        of_valve = [say("warnings", "old_valve", text=text) for text in of_valve]
    texts = [*job.head.get("out_of_service", []), *of_valve]
    scrap = [row for row in job.tables.get("part", []) if row.get("verdict") == "scrap"]
    if job.tables.get("decision", {}).get("what") == "declined" and scrap:
        texts.append(say("warnings", "declined", parts=", ".join(row.get("name", "a part") for row in scrap)))
    return texts


def not_tested(job: Job) -> list[str]:
    """What was not tested: as written, and every run that the record says was left out."""
    texts = list(job.head.get("not_tested", []))
    run = job.tables.get("as_received", {})
    if run.get("reproduced") == "not-run":
        texts.append(say("record", "not_run", test=say("record", "as_received"), why=run["why"]))
    for row in job.tables.get("acceptance", []):
        if row.get("result") == "not-run":
            texts.append(say("record", "not_run", test=row.get("test", say("record", "a_line")), why=row["why"]))
    return texts


def measure(job: Job) -> list[str]:
    """What the customer is asked to measure: as written, and what shows the root on the machine."""
    root = names_of("roots").get(job.tables.get("cause", {}).get("root", ""))
    texts = list(job.tables.get("feedback", {}).get("measure", []))
    return texts + ([f"{root['title']}: {root['measure']}."] if root else [])


def doubts(job: Job) -> list[str]:
    """What the record leaves open: zero not proved everywhere, a cause without evidence, a decision without a cause."""
    texts = []
    isolation, cause = job.tables.get("isolation", {}), job.tables.get("cause", {})
    if isolation:
        ports = [port.upper() for port in PORTS if f"gauge_{port}" not in isolation]
        texts += [say("record", "zero_open", ports=", ".join(ports))] if ports else []
        texts += [] if isolation.get("dead_proved") else [say("record", "dead_open")]
    run = job.tables.get("as_received", {})
    if "outside" not in job.tables and (run.get("reproduced") in ("yes", "no") or "pressure" in run):
        texts.append(say("record", "no_look"))
    killer = cause.get("killer", "")
    if killer and killer != "unknown" and not cause.get("evidence"):
        texts.append(say("record", "no_evidence"))
    if cause and cause.get("root", "unknown") == "unknown":
        texts.append(say("record", "no_root"))
    if ("decision" in job.tables or "dispatch" in job.tables) and killer in ("", "unknown"):
        texts.append(say("record", "no_cause"))
    return texts
