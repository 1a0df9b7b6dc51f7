"""What condemns a winding by itself: an open one shows no value, one that leaks to its case too little of it."""

from collections.abc import Iterator
from typing import NamedTuple

from valvecalc.job.read import Job
from valvecalc.job.readings import as_read
from valvecalc.job.risk import risk
from valvecalc.judge import limit_of
from valvecalc.quantities import VOCABULARY
from valvecalc.uncertainty import decide
from valvecalc.units import show


class Winding(NamedTuple):
    """One verdict on a winding: of which coil, on what, and why in figures."""

    coil: str
    key: str
    subject: str
    verdict: str
    sentence: str


def windings(job: Job) -> Iterator[Winding]:
    """Each coil's insulation against the least that is allowed, and whether the meter showed a value at all."""
    least = limit_of("insulation-least", dict(job.shop.limits))
    factor = limit_of("decision-factor", dict(job.shop.limits))
    coils = job.tables.get("coil", [])
    for row in coils:
        if "insulation" not in row:
            continue
        entry = row["insulation"].entry
        u = sum(one * one for one, _ in entry.spreads) ** 0.5
        subject = f"coil {row['name']}: {VOCABULARY['insulation_resistance'].meaning}"
        doubt = "" if u else ", uncertainty not known"
        text = f"{as_read(entry)}{doubt}; wanted at least {show(least, 'resistance', 'MΩ', 3)}."
        verdict = decide(entry.si, u, ">=", least, factor)
        yield Winding(str(row["name"]), "insulation", subject, verdict, text + risk(verdict, entry.si, u, low=least))
    for row in coils:
        if "open" in row:
            name, is_open = str(row["name"]), bool(row["open"])
            text = f"{'Open' if is_open else 'Closed'}; wanted closed."
            yield Winding(name, "open", f"coil {name}: winding", "reject" if is_open else "accept", text)
