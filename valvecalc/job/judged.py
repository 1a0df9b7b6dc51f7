"""What was judged, as the report lists it: results of the sheets, plain readings against their limits, own checks."""

from collections.abc import Mapping
from math import inf
from typing import Any

from valvecalc.answer import Answer
from valvecalc.drawing.rounding import MINUS, quantity
from valvecalc.job.compute import Findings
from valvecalc.job.own import verdict_rows as own_rows
from valvecalc.job.read import Job
from valvecalc.job.readings import as_read
from valvecalc.job.risk import risk
from valvecalc.job.verdict import at_volts, state_words
from valvecalc.job.windings import windings
from valvecalc.judge import limit_of, verdicts
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_si, show

Rows = list[dict[str, Any]]


def verdict_rows(job: Job, found: Findings) -> Rows:
    """Each reading and result that is held against a limit: subject, verdict, and why in figures."""
    own = job.shop.limits
    rows: Rows = []
    named: list[tuple[str, Answer]] = [
        (f"coil {name}, force budget", budget.energise) for name, budget in found.budgets.items()
    ]
    named += [(f"coil {name}, pick-up readings", bench) for name, bench in found.benches.items()]
    named += [(f"coil {name}", answer) for name, answer in found.coils.items()]
    named += [(f"leakage {path}", answer) for path, answer in found.leaks.items()]
    named += [("stand cylinder", found.stand)] if found.stand is not None else []
    named += found.spots
    for subject, answer in named:
        for name, verdict in verdicts(answer, dict(own)).items():
            if name not in answer.results:
                continue
            rows.append(
                {
                    "subject": f"{subject}: {VOCABULARY[name].meaning}",
                    "verdict": verdict,
                    "sentence": _why(answer, name, own, verdict),
                }
            )
    if found.fit is not None:
        read, new, verdict, doubt = found.fit
        told = as_read(read)
        rows.append(
            {
                "subject": "spool and bore: diametral clearance as the gauges read it",
                "verdict": verdict,
                "sentence": f"{told}, a new fit {new.text} at most.{doubt}",
            }
        )
    rows += [{"subject": one.subject, "verdict": one.verdict, "sentence": one.sentence} for one in windings(job)]
    rows += own_rows(job.tables.get("check", []), job.shop.checks, own)
    for row in found.go:
        rows.append(
            {
                "subject": f"coil {row['coil']} {state_words(row['state'])}",
                "verdict": "accept" if row["shifted"] else "reject",
                "sentence": f"{'Shifted' if row['shifted'] else 'Did not shift'}{at_volts(row)}.",
            }
        )
    return rows


def _why(answer: Answer, name: str, own: Mapping[str, float], verdict: str) -> str:
    """The result, what it was held against, and the risk of the verdict."""
    value, dimension, unit = answer.results[name], VOCABULARY[name].dimension, answer.unit(name)
    if isinstance(value, str):
        low, high, limit = _range(answer, name)
        radial, new = (" radial", "new ") if name == "wear_verdict" else ("", "")
        return f"{low} to {high}{radial}, {new}at most {limit}: {value}."
    if answer.card.judged[name][0] == "within-range":
        low, high, limit = _range(answer, name)
        return f"{low} to {high}; wanted at most {limit}.".replace("-", MINUS)
    u = answer.expanded(name)
    spread = from_si(u, unit, dimension) - from_si(0.0, unit, dimension) if u else None
    told = quantity(from_si(value, unit, dimension), unit, spread)
    rule, *keys = answer.card.judged[name]
    at = [limit_of(key, dict(own)) for key in keys]
    limits = [quantity(from_si(one, unit, dimension), unit) for one in at]
    least, most = {">=": (at[0], inf), "<=": (-inf, at[0]), "within": (-at[0], at[0]), "band": (-at[0], at[-1])}[rule]
    allowed = {">=": "at least {}", "<=": "at most {}", "within": "within ± {}", "band": "from −{} to {}"}[rule]
    doubt = "" if u else ", uncertainty not known"
    return f"{told}{doubt}; wanted {allowed.format(*limits)}.{risk(verdict, value, (u or 0.0) / 2.0, least, most)}"


def _range(answer: Answer, name: str) -> list[str]:
    """The ends of a result that is a range, and its limit."""
    keys = answer.card.judged[name][1:]
    return [show(answer.results[key], VOCABULARY[key].dimension, answer.unit(key), 3) for key in keys]


def side_by_side(job: Job, found: Findings) -> Rows:
    """What was judged again after the work: the verdict and the figures as left, beside those as found."""
    if found.left is None:
        return []
    before = {row["subject"]: row for row in verdict_rows(job, found)}
    rows = []
    for row in verdict_rows(job._replace(tables=job.left), found.left):
        first = before.get(row["subject"], {})
        rows.append(row | {"found": first.get("sentence", ""), "found_verdict": first.get("verdict", "")})
    return rows
