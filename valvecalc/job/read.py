"""Reads a job file and shop.toml: every field checked against data/job_fields.toml, all faults at once.

A reading that is not there is no fault. What is there must be right: unit, dimension, spelling of the
key, the instrument it names.
"""

from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from valvecalc.errors import InputError, Trouble, nearest
from valvecalc.facts import parse_toml
from valvecalc.job.between import faults
from valvecalc.job.fields import BELOW_COIL, fields, tables
from valvecalc.job.left import parted
from valvecalc.job.own import own_checks, own_fields
from valvecalc.job.reader import Reader, Table, read_answers
from valvecalc.job.shop import Instrument, Shop, own_limits

#: Tables of shop.toml that are no keys of its head.
OF_SHOP = ("instrument", "limits", "check", "field")


class Job(NamedTuple):
    """A job file as read: words as they are, quantities as Entries (SI with origin and uncertainty).

    tables       as found
    left         the same tables after the work, as far as anything was read again; empty without such a reading
    corrections  what stood in the file before: entry, now, earlier, why, by
    """

    head: Table
    tables: Mapping[str, Any]
    shop: Shop
    path: Path
    left: Mapping[str, Any] = {}
    corrections: tuple[Table, ...] = ()


def read_job(path: Path, shop_path: Path | None = None) -> Job:
    """Read a job file and the shop.toml beside it (or the one given). Raises InputError with every fault."""
    troubles: list[Trouble] = []
    shop = _read_shop(shop_path or path.parent / "shop.toml", shop_path is not None, troubles)
    raw = _load(path)
    reader = Reader("job", path.name, shop, troubles)
    known = [one for one in tables("job") if one not in ("job", *BELOW_COIL)]
    of_head = {
        key: value
        for key, value in raw.items()
        if key in fields("job", "job") or not (isinstance(value, dict | list) or key in tables("job"))
    }
    head = reader.table("job", of_head, "")
    found: Table = {}
    for name, value in raw.items():
        if name in fields("job", "job"):
            continue
        if name in known:
            found[name] = reader.tables(name, value)
        elif isinstance(value, dict | list):
            near = ", ".join(nearest(name, known))
            advice = f"Nearest: {near}." if near else "See the guide."
            troubles.append(Trouble(name, "a table of this name", "a table of a job file", advice, path.name))
    read_answers(reader, found.get("check", []))
    troubles.extend(faults(head, found, path.name))
    if not raw:
        do = "Start from the demo: valvecalc demo --no-serve --to somewhere."
        troubles.append(Trouble("the file", "nothing", "a job file", do, path.name))
    if troubles:
        raise InputError(troubles)
    as_found, left = parted(found)
    return Job(head, as_found, shop, path, left, tuple(reader.corrections))


def _load(path: Path) -> Table:
    try:
        data = path.read_bytes()
    except FileNotFoundError:
        raise InputError(Trouble(str(path), "no file", "a job file", "Check the name and the folder.")) from None
    except (OSError, ValueError) as fault:  # a folder, no rights, a name that no system takes
        why = getattr(fault, "strerror", None) or "no access"
        do = "Check the name and its rights."
        raise InputError(Trouble(str(path), why, "a job file that can be read", do)) from None
    return parse_toml(data, path.name)


def read_shop(path: Path) -> Shop:
    """A shop.toml by itself. Raises InputError with everything that is wrong in it."""
    troubles: list[Trouble] = []
    shop = _read_shop(path, True, troubles)
    if troubles:
        raise InputError(troubles)
    return shop


def _read_shop(path: Path, asked: bool, troubles: list[Trouble]) -> Shop:
    if not asked and not path.exists():
        return Shop()
    try:
        raw = _load(path)
    except InputError as fault:
        troubles.extend(fault.troubles)
        return Shop()
    reader = Reader("shop", path.name, Shop(), troubles)
    head = reader.table("shop", {key: value for key, value in raw.items() if key not in OF_SHOP}, "")
    rows = {name: reader.tables(name, raw.get(name, [])) for name in ("instrument", "check", "field")}
    instruments = {
        row["id"]: Instrument(
            row["id"],
            row.get("kind", ""),
            row.get("range", ""),
            row.get("accuracy", ""),
            str(row.get("calibrated_until", "")),
        )
        for row in rows["instrument"]
        if row.get("id")
    }
    limits, of_limits = own_limits(raw.get("limits", {}), path.name)
    checks, of_checks = own_checks(rows["check"], path.name)
    added, of_fields = own_fields(rows["field"], path.name)
    troubles.extend([*of_limits, *of_checks, *of_fields])
    return Shop(instruments=instruments, limits=limits, checks=checks, fields=added, **head)
