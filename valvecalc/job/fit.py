"""Spool and bore as the gauges read them, against the largest clearance of a new fit."""

from collections.abc import Mapping
from typing import NamedTuple

from valvecalc.answer import Entry
from valvecalc.job.read import Job
from valvecalc.job.risk import risk
from valvecalc.judge import limit_of
from valvecalc.uncertainty import decide


class Fit(NamedTuple):
    """The diametral clearance read, the largest of a new fit, and the verdict between the two, its risk in words."""

    read: Entry
    new: Entry
    verdict: str
    risk: str


def fit(job: Job, own: Mapping[str, float]) -> Fit | None:
    """The verdict on the clearance that was measured; None where either figure is missing."""
    valve = job.tables.get("valve", {})
    if "diametral_clearance" not in valve or "new_diametral_clearance" not in valve:
        return None
    read, new = valve["diametral_clearance"], valve["new_diametral_clearance"]
    u = sum(u * u for entry in (read, new) for u, _ in entry.spreads) ** 0.5
    verdict = decide(read.si, u, "<=", new.si, limit_of("decision-factor", dict(own)))
    return Fit(read, new, verdict, risk(verdict, read.si - new.si, u, high=0.0))
