"""What travels with a report so that anyone can work it anew: the job and the shop as read, editions, data, digest.

No path of this computer is among it: files are named by their last part, and what a job names beside itself (duty and
stock list of a replacement, photos) stays in the shop.
"""

import json
import os
from collections.abc import Iterator, Mapping
from datetime import date
from functools import cache
from pathlib import Path
from re import fullmatch
from tempfile import TemporaryDirectory
from typing import Any

from valvecalc.facts import data_path, parse_toml
from valvecalc.formula import REGISTER
from valvecalc.report.digest import digest

Table = dict[str, Any]

#: What stays in the shop: nothing of it moves a figure that is worked anew.
_OF_THE_SHOP_ONLY = ("rates",)
#: Days to come, and those of a seal's rubber: they do not tell when the report was made.
_NO_DAY_OF_WORK = ("call_back", "cure_date", "oldest_seal")


def made_from(job_path: Path, shop_path: Path | None = None) -> Table:
    """The job file and its shop.toml as plain data."""
    shop = shop_path or job_path.parent / "shop.toml"
    told: Table = {"file": job_path.name, "job": _plain(parse_toml(job_path.read_bytes(), job_path.name))}
    if shop.exists():
        raw = _plain(parse_toml(shop.read_bytes(), shop.name))
        told["shop"] = {key: value for key, value in raw.items() if key not in _OF_THE_SHOP_ONLY}
    return told


def seal(told: Table, source: Table) -> Table:
    """The report with what it was made from, the editions and data it rests on, and its digest over all of it."""
    rests_on = {"made_from": {**source, "editions": editions(told), "data": data_files()}}
    told = {**told, **rests_on}
    return {**told, "digest": digest(told)}


def last_day(source: Mapping[str, Any]) -> date | None:
    """The last day that the job tells of: a report is of that day, whenever it is printed."""
    days = [day for day in _days(source["job"], "") if day is not None]
    return max(days, default=None)


def _days(node: Any, key: str) -> Iterator[date]:
    if isinstance(node, Mapping):
        for name, one in node.items():
            yield from _days(one, str(name))
    elif isinstance(node, list):
        for one in node:
            yield from _days(one, key)
    elif isinstance(node, str) and key not in _NO_DAY_OF_WORK and fullmatch(r"\d{4}-\d\d-\d\d([T ].*)?", node):
        try:
            yield date.fromisoformat(node[:10])
        except ValueError:
            return


def editions(told: Mapping[str, Any]) -> dict[str, int]:
    """The edition of every calculation of a report, those inside other ones too."""
    names: set[str] = set()

    def walk(steps: Any) -> None:
        for step in steps:
            if step.get("of"):
                names.add(step["of"])
            walk(step.get("steps", ()))

    for row in told.get("answers", ()):
        names.add(row["id"])
        walk(row.get("steps", ()))
    return {name: REGISTER[name].edition for name in sorted(names) if name in REGISTER}


@cache
def data_files() -> dict[str, str]:
    """Each file of data with the beginning of its content hash, as it was when the program began."""
    import hashlib

    root = data_path("")
    found = {}
    for folder, _, files in os.walk(root):
        for name in files:
            if name.endswith((".toml", ".csv")):
                path = os.path.join(folder, name)
                with open(path, "rb") as file:
                    text = file.read().replace(b"\r\n", b"\n")
                place = os.path.relpath(path, root).replace(os.sep, "/")
                found[place] = hashlib.sha256(text).hexdigest()[:12]
    return dict(sorted(found.items()))


def work_anew(told: Mapping[str, Any]) -> Table:
    """The report that this version makes of the job that travelled in `told`. Raises InputError where it cannot."""
    from valvecalc.job.publish import work_job

    source = told["made_from"]
    with TemporaryDirectory() as folder:
        place = Path(folder)
        job = {key: one for key, one in source["job"].items() if key != "replacement"}
        (place / "job").mkdir()
        path = place / "job" / (Path(str(source.get("file", ""))).name or "job.toml")
        path.write_text(as_toml(job), encoding="utf-8")
        shop = None
        if isinstance(source.get("shop"), dict):
            shop = place / "shop.toml"
            shop.write_text(as_toml(source["shop"]), encoding="utf-8")
        return work_job(path, shop)


def as_toml(table: Mapping[str, Any]) -> str:
    """Plain data as a TOML file, a line for each key of the head; only for files that are read back at once."""
    return "".join(f"{_text(key)} = {_inline(one)}\n" for key, one in table.items())


def _inline(one: Any) -> str:
    if isinstance(one, Mapping):
        return "{" + ", ".join(f"{_text(str(key))} = {_inline(value)}" for key, value in one.items()) + "}"
    if isinstance(one, list):
        return "[" + ", ".join(map(_inline, one)) + "]"
    if isinstance(one, bool):
        return "true" if one else "false"
    return repr(one) if isinstance(one, int | float) else _text(str(one))


def _text(words: str) -> str:
    """A TOML string; JSON escapes all that TOML wants escaped, save DEL and lone surrogates."""
    quoted = json.dumps(words, ensure_ascii=False).replace("\x7f", "\\u007f")
    return quoted.encode("utf-8", "replace").decode()


def _plain(node: Any) -> Any:
    """TOML as JSON can carry it: days as texts."""
    if isinstance(node, dict):
        return {key: _plain(one) for key, one in node.items()}
    if isinstance(node, list):
        return [_plain(one) for one in node]
    return node if isinstance(node, str | bool | int | float) else str(node)
