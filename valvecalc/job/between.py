"""What no single key of a job file shows: twins, two readings of one state, changes that are none."""

from collections import Counter
from collections.abc import Mapping
from typing import Any

from valvecalc.errors import Trouble
from valvecalc.job.fields import BELOW_COIL


def faults(found: Mapping[str, Any], where: str) -> list[Trouble]:
    """The faults of a job file that has been read key by key; coils without a name get their number."""
    coils = found.get("coil", [])
    for number, coil in enumerate(coils, 1):
        coil.setdefault("name", str(number))
    troubles = _twins(coils) + [trouble for coil in coils for trouble in _states(coil)] + _repairs(found)
    return [trouble._replace(where=where) for trouble in troubles]


def _twins(coils: list[dict[str, Any]]) -> list[Trouble]:
    names = Counter(coil["name"] for coil in coils)
    need, do = "a name of its own for each coil", "Call them a and b."
    return [Trouble("coil.name", f"{n} coils called {name!r}", need, do) for name, n in names.items() if n > 1]


def _states(coil: Mapping[str, Any]) -> list[Trouble]:
    """Two readings of one state: which one counts? An AC coil is tried at several voltages in one state."""
    troubles = []
    for key in BELOW_COIL:
        states = Counter(row["state"] for row in coil.get(key, []) if "state" in row)
        for state, n in states.items():
            if n > 1 and not (key == "pickup" and coil.get("kind", "dc") == "ac"):
                got, need = f'{n} of state = "{state}"', "one for each state"
                do = 'Write trials as a list: ["29.0 V", "29.3 V"].'
                troubles.append(Trouble(f"coil {coil['name']}.{key}", got, need, do))
    return troubles


def _repairs(found: Mapping[str, Any]) -> list[Trouble]:
    troubles = []
    for number, repair in enumerate(found.get("repair", []), 1):
        lands = repair.get("changes", {}).get("lands", "new")
        if lands != "new":
            do = "It takes all taper away; leave it out to keep the lands."
            troubles.append(Trouble(f"repair {number}.changes.lands", repr(lands)[:60], '"new"', do))
    return troubles
