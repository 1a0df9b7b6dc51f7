"""What state the valve is in now: the first thing that a report tells. What was found stays history below it.

A warning of the as-found state is dropped only where the same coil was read again after the work and shifts with force
in hand. What was not read again still counts, and it is said that it was not.
"""

from collections.abc import Iterator, Mapping
from typing import Any

from valvecalc.job.compute import Findings
from valvecalc.job.read import Job
from valvecalc.job.record import replaced
from valvecalc.job.verdict import ERRATIC, FAILS, SIGN_OFF, WORKS, percent, say, words_by_coil
from valvecalc.judge import limit_of

#: Decisions after which the valve goes back as it came.
_AS_IT_CAME = ("no-fault-found", "declined")
#: Tables that say that something was done to the valve.
_WORK = ("part_used", "torque_done", "acceptance")


def warnings(job: Job, found: Findings, own: Mapping[str, float]) -> list[str]:
    """What the readings warn of now, coil by coil."""
    again = {} if found.left is None else words_by_coil(found.left, own)
    texts = []
    for key, coil in _found(found, own):
        told = say("warnings", key, coil=coil)
        if replaced(job):
            texts.append(say("warnings", "old_valve", text=told))
        elif found.left is None:
            texts.append(told)
        elif key != "will_not_shift" or again.get(coil) not in (SIGN_OFF, WORKS, ERRATIC, FAILS):
            texts.append(say("warnings", "not_again", text=told))
    bad = [coil for coil, word in again.items() if word in (ERRATIC, FAILS)]
    return texts + [say("warnings", "as_left", text=say("warnings", "will_not_shift", coil=coil)) for coil in bad]


def _found(found: Findings, own: Mapping[str, float]) -> Iterator[tuple[str, str]]:
    for name, budget in found.budgets.items():
        if budget.release.results["margin"] < 0.0:
            yield "release_fails", name
    for name, word in words_by_coil(found, own).items():
        if word in (FAILS, ERRATIC):
            yield "will_not_shift", name


def now(job: Job, found: Findings, head: Mapping[str, Any], left: Mapping[str, Any]) -> dict[str, Any]:
    """Heading, verdict, sentence and remarks on the state in which the valve is now."""
    own = job.shop.limits
    decided = job.tables.get("decision", {}).get("what", "")
    worked_on = bool(job.head.get("work_done")) and any(job.tables.get(name) for name in _WORK)
    if left:
        state, told = "other" if replaced(job) else "left", left
    elif decided in _AS_IT_CAME:
        state, told = "as_it_came", head
    elif decided == "scrap":
        state, told = "scrap", {"verdict": "reject", "sentence": say("now", "scrapped")}
    elif worked_on or replaced(job):
        state, told = "unread", {"verdict": "unknown", "sentence": say("now", "unread_sentence")}
    else:
        state, told = "unworked", head
    remarks = [*_unread(job, found, own, left), *_acceptance(job), *_share(found, own)]
    title = say("now", state, verdict=str(told["verdict"]).replace("cannot-tell", "cannot tell"))
    return {"title": title, "verdict": told["verdict"], "sentence": told["sentence"], "remarks": remarks}


def _unread(job: Job, found: Findings, own: Mapping[str, float], left: Mapping[str, Any]) -> list[str]:
    if not left or found.left is None or replaced(job):
        return []
    again = words_by_coil(found.left, own)
    lacking = [coil for coil in words_by_coil(found, own) if coil not in again]
    return [say("now", "coil_unread", coils=" and ".join(lacking))] if lacking else []


def _acceptance(job: Job) -> list[str]:
    """The acceptance run in one line: how many of its tests were passed, failed, not run."""
    results = [row.get("result", "") for row in job.tables.get("acceptance", [])]
    counted = [(results.count(key), key) for key in ("pass", "fail", "not-run")]
    told = [f"{number} {say('now', key)}" for number, key in counted if number]
    return [say("now", "acceptance", counts=", ".join(told))] if told else []


def _share(found: Findings, own: Mapping[str, float]) -> list[str]:
    """What a share in hand is, where one is told."""
    every = [found] if found.left is None else [found, found.left]
    if not any(one.budgets or one.benches for one in every):
        return []
    want, least = (percent(limit_of(f"margin-{key}", dict(own))) for key in ("sign-off", "works"))
    return [say("now", "share", want=want, least=least)]
