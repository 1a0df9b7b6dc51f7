"""What was read at less than the machine asks: named as an extrapolation, with what a straight line makes of it."""

from collections.abc import Iterator, Mapping
from typing import Any

from valvecalc.answer import Entry
from valvecalc.job.read import Job
from valvecalc.job.spots import entry_of
from valvecalc.job.verdict import say
from valvecalc.judge import limit_of
from valvecalc.quantities import VOCABULARY
from valvecalc.units import show

Row = Mapping[str, Any]


def extrapolations(job: Job) -> list[str]:
    """A sentence for each reading under pressure that lies below the duty, as found and as left."""
    return list(dict.fromkeys([*_told(job, job.tables), *_told(job, job.left)]))


def _told(job: Job, tables: Row) -> Iterator[str]:
    duty, least = job.tables.get("duty", {}), limit_of("test-cover-least", dict(job.shop.limits))
    supply, tank = duty.get("supply_pressure"), duty.get("tank_pressure")
    if supply is None:
        return
    ran = tables.get("as_received", {}).get("pressure")
    if ran is not None and ran.si < least * supply.si:
        yield say("extrapolated", "run", at=ran.text, duty=supply.text)
    wanted = supply.si - (tank.si if tank is not None else 0.0)
    for number, row in enumerate(tables.get("leakage", []), 1):
        drop, leakage = row.get("pressure_drop"), entry_of(row.get("leakage"))
        if drop is not None and leakage is not None and 0.0 < drop.si < least * wanted:
            texts = {"path": row.get("path", str(number)), "at": drop.text, "read": leakage.text}
            texts |= {"duty": _shown("pressure_drop", wanted, drop), "factor": f"{wanted / drop.si:.2g}"}
            yield say(
                "extrapolated", "leakage", **texts, there=_shown("leakage", leakage.si * wanted / drop.si, leakage)
            )


def _shown(name: str, si: float, like: Entry) -> str:
    """A figure in the unit of the reading that it stands beside."""
    return show(si, VOCABULARY[name].dimension, like.unit, 3)
