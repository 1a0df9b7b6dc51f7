"""A duty file: what the machine asks of the valve. Every entry may be missing; what is there must be right."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

from valvecalc.errors import InputError, Trouble, nearest
from valvecalc.facts import load_table, parse_toml
from valvecalc.numbers import Refused, visible
from valvecalc.selection.cells import duty_fields, duty_tables, is_unknown, read_cell

#: Tables that may come several times.
REPEATED = ("cylinder", "motor")
Table = Mapping[str, Any]


class Duty(NamedTuple):
    """A duty as read: tables of entries in SI; an entry that is not known is not there."""

    tables: Mapping[str, Table]
    cylinders: tuple[Table, ...] = ()
    motors: tuple[Table, ...] = ()

    def get(self, table: str, key: str) -> Any:
        """An entry, None if it is not known."""
        return self.tables.get(table, {}).get(key)


def read_duty(path: Path) -> Duty:
    """Read a duty file. Raises InputError with every fault in it."""
    try:
        data = path.read_bytes()
    except OSError as fault:
        why = "no file" if isinstance(fault, FileNotFoundError) else fault.strerror or "no access"
        raise InputError(Trouble(str(path), why, "a duty file", "Check the name, the folder and its rights.")) from None
    return duty_from(parse_toml(data, path.name), path.name)


def duty_from(raw: Mapping[str, Any], file: str = "duty") -> Duty:
    """A duty from plain data: tables of texts, as a duty file or a form gives them."""
    troubles: list[Trouble] = []
    tables: dict[str, Table] = {}
    repeated: dict[str, list[Table]] = {name: [] for name in REPEATED}
    for name, value in raw.items():
        if name not in duty_tables():
            near = nearest(name, duty_tables(), 1)
            do = f"Did you mean [{near[0]}]?" if near else f"The tables: {', '.join(duty_tables())}."
            troubles.append(Trouble(name, "a table of this name", "a table of a duty file", do, file))
        elif name in REPEATED:
            rows = value if isinstance(value, list) else [value]
            for number, row in enumerate(rows, 1):
                repeated[name].append(_table(name, f"{name} {number}", row, file, troubles))
        else:
            tables[name] = _table(name, name, value, file, troubles)
    found = Duty(tables, *(tuple(repeated[name]) for name in REPEATED))
    troubles.extend(_contradictions(found, file))
    if not raw:
        do = "Start from one of the demo's duties."
        troubles.append(Trouble("the file", "nothing", "a duty file", do, file))
    if troubles:
        raise InputError(troubles)
    return found


def _table(name: str, label: str, value: Any, file: str, troubles: list[Trouble]) -> Table:
    if not isinstance(value, Mapping):
        troubles.append(Trouble(label, repr(value)[:60], f"a table [{name}]", f"Write [{name}] before it.", file))
        return {}
    known = duty_fields(name)
    found: dict[str, Any] = {}
    for key, given in value.items():
        field = known.get(key)
        if field is None:
            near = nearest(key, known, 1)
            do = f"Did you mean {near[0]}?" if near else f"Its entries: {', '.join(known)}."
            troubles.append(Trouble(f"{label}.{key}", "an entry of this name", f"an entry of [{name}]", do, file))
            continue
        text = {True: "yes", False: "no"}.get(given, str(given)) if isinstance(given, bool) else str(given)
        if isinstance(given, dict | list) or is_unknown(text):
            if isinstance(given, dict | list):
                do = "Write it as one text with its unit."
                troubles.append(Trouble(f"{label}.{key}", repr(given)[:60], "one value", do, file))
            continue
        try:
            found[key] = read_cell(field, text.strip())
        except Refused as refused:
            troubles.append(Trouble(f"{label}.{key}", visible(text), refused.need, refused.do, file))
    return found


def _contradictions(duty: Duty, file: str) -> list[Trouble]:
    found = []

    def fault(entry: str, got: str, need: str, do: str) -> None:
        found.append(Trouble(entry, got, need, do, file))

    for number, cylinder in enumerate(duty.cylinders, 1):
        name = f"cylinder {number}"
        bore, rod = cylinder.get("bore_diameter"), cylinder.get("rod_diameter")
        if bore is not None and rod is not None and rod >= bore:
            fault(f"{name}.rod_diameter", "a rod as thick as the bore", "a rod thinner than the bore", "Measure again.")
        for way in ("extend", "retract"):
            if f"{way}_speed" in cylinder and f"{way}_time" in cylinder:
                fault(f"{name}.{way}_time", "speed and time", "one of them", "Leave the less certain one out.")
    coldest, hottest = duty.get("oil", "coldest"), duty.get("oil", "hottest")
    if coldest is not None and hottest is not None and coldest > hottest:
        fault("oil.coldest", "a coldest oil above the hottest", "the colder of the two", "Exchange them.")
    if duty.get("oil", "grade") is not None and duty.get("oil", "viscosity_40") is not None:
        fault("oil.viscosity_40", "grade and viscosity", "one of them", "Keep the viscosity of its data sheet.")
    area = duty.get("supply", "cable_area")
    if area is not None and loop_per_length(area) is None:
        sizes = ", ".join(f"{row['cable_area'] * 1e6:g}" for row in load_table("cable.csv"))
        fault("supply.cable_area", f"{area * 1e6:g} mm²", "a size of the table", f"The sizes: {sizes} mm².")
    return found


def loop_per_length(area: float) -> float | None:
    """Largest resistance per length of one flexible core of this size, from the cable table; None if it has no row."""
    for row in load_table("cable.csv"):
        if abs(row["cable_area"] - area) < 1e-12:
            found = row["class_5_plain"]
            return None if found is None else float(found)
    return None


def entries(duty: Duty) -> dict[str, Any]:
    """Every entry that is known, as "table.key" or "cylinder 1.key"."""
    named = [*duty.tables.items()]
    named += [(f"cylinder {number}", row) for number, row in enumerate(duty.cylinders, 1)]
    named += [(f"motor {number}", row) for number, row in enumerate(duty.motors, 1)]
    return {f"{name}.{key}": value for name, row in named for key, value in row.items()}


def changed(duty: Duty, entry: str, text: str | None) -> Duty:
    """The duty with one entry changed, or taken out (None). Raises InputError."""
    label, dot, key = entry.partition(".")
    kind, _, number = label.partition(" ")
    rows = {"cylinder": duty.cylinders, "motor": duty.motors}.get(kind)
    place = int(number) - 1 if number.isdecimal() else 0
    if not dot or kind not in duty_tables() or (rows is not None and not 0 <= place < len(rows)):
        need = 'an entry as "pump.flow" or "cylinder 1.extend_load"'
        raise InputError(Trouble("entry", entry, need, f"The tables: {', '.join(duty_tables())}."))
    troubles: list[Trouble] = []
    table = duty.tables.get(kind, {}) if rows is None else rows[place]
    new = _table(kind, label, {key: "unknown" if text is None else text}, "", troubles)
    if troubles:
        raise InputError([one._replace(where=None) for one in troubles])
    made = {**{name: value for name, value in table.items() if name != key}, **new}
    if rows is None:
        turned = duty._replace(tables={**duty.tables, kind: made})
    else:
        found = tuple(made if at == place else row for at, row in enumerate(rows))
        turned = duty._replace(cylinders=found) if kind == "cylinder" else duty._replace(motors=found)
    troubles = _contradictions(turned, "")
    if troubles:
        raise InputError([one._replace(where=None) for one in troubles])
    return turned


def meaning(entry: str) -> tuple[str, str]:
    """What an entry is and how it is found out."""
    label, _, key = entry.partition(".")
    field = duty_fields(label.partition(" ")[0])[key]
    return field.meaning or key.replace("_", " "), field.how
