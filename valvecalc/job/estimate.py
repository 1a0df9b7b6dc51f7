"""The estimate before the work as plain data: cause so far, options with cost and come-back risk, the machine."""

from collections.abc import Mapping
from typing import Any

from valvecalc.facts import caution, load_toml
from valvecalc.job import record
from valvecalc.job.between import names_of
from valvecalc.job.compute import compute
from valvecalc.job.judged import verdict_rows
from valvecalc.job.money import Money, alike, money, together
from valvecalc.job.read import Job
from valvecalc.job.report import head_of
from valvecalc.job.verdict import say as told
from valvecalc.units import from_si
from valvecalc.version import VERSION, data_version

Row = Mapping[str, Any]
Rows = list[dict[str, Any]]

#: Fields of an option that are amounts.
AMOUNTS = ("cost", "parts", "comeback_cost")


def say(group: str, key: str, **fields: str) -> str:
    """A sentence of the estimate."""
    return str(load_toml("words/estimate.toml")[group][key]).format(**fields)


def estimate(job: Job) -> dict[str, Any]:
    """The page as plain data. Raises InputError with every reading outside its limits."""
    found = compute(job)
    options = [_option(number, row, job.shop.hourly_rate) for number, row in enumerate(job.tables.get("option", []), 1)]
    gate, head_found = record.gate(job), head_of(job, found)["sentence"]
    rows = verdict_rows(job, found._replace(budgets={}))  # what the budgets say stands in the headline
    rejected = [f"{row['subject']}: {row['sentence']}" for row in rows if row["verdict"] == "reject"]
    head = {key: job.head.get(key, "") for key in ("title", "customer", "machine", "valve_words", "complaint")}
    return {
        "schema": 1,
        "kind": "estimate",
        "ok": True,
        "version": VERSION,
        "data_version": data_version(),
        "shop": {"name": job.shop.name, "address": job.shop.address, "paper": job.shop.paper},
        "job": {"id": job.head.get("id", job.path.stem)} | {key: text for key, text in head.items() if text},
        "warnings": record.warnings(job),
        "cautions": [caution(key) for key in ("stored-pressure", "falling-load", "live-circuit")],
        "found": [head_found, *(one for one in gate.get("reasons", []) if one not in head_found), *rejected],
        "cause": _cause(job),
        "options": options,
        "least": _least(options),
        "nothing": _nothing(job),
        "answer": _answer(job.tables.get("decision", {})),
        "open": ([] if options else [say("options", "none")]) + record.doubts(job),
    }


def _cause(job: Job) -> list[str]:
    cause = job.tables.get("cause", {})
    killer, path = cause.get("killer", "unknown"), job.tables.get("finder", {})
    if killer == "unknown":
        return [say("cause", "unknown"), *([path["result"]] if path.get("result") else [])]
    texts = [say("cause", "killer", text=_title("causes", killer))]
    texts += [say("cause", "also", text=_title("causes", one)) for one in cause.get("also", [])]
    victims = [_title("causes", one) for one in cause.get("victims", [])]
    texts += [say("cause", "victims", text=", ".join(victims))] if victims else []
    evidence = cause.get("evidence", [])
    texts.append(say("cause", "evidence", text="; ".join(evidence)) if evidence else say("cause", "no_evidence"))
    root = cause.get("root", "unknown")
    return texts + ([say("cause", "root", text=_title("roots", root))] if root != "unknown" else [])


def _title(kind: str, name: str) -> str:
    known = names_of(kind).get(name)
    return str(known["title"]) if known else name


def _nothing(job: Job) -> list[str]:
    """What the machine does to the next valve, in the words of its root; that it is not known is a sentence too."""
    root = names_of("roots").get(job.tables.get("cause", {}).get("root", ""))
    if root is None:
        return [say("nothing", "unknown")]
    return [
        say("nothing", "kills", text=root["how_it_kills"]),
        say("nothing", "tell", text=_sentence(root["tell_the_customer"])),
        told("record", "measure_first"),
        say("nothing", "measure", text=root["measure"].rstrip(".")),
    ]


def _sentence(text: str) -> str:
    return text if text.endswith((".", "?")) else f"{text}."


def _option(number: int, row: Row, rate: str) -> dict[str, Any]:
    """One option: cost with how it was reckoned, what it needs, and the cost with the come-backs counted."""
    read = {key: money(row[key]) for key in AMOUNTS if key in row}
    unread = [say("options", "unread", text=str(row[key])) for key, one in read.items() if one is None]
    texts = {key: str(row.get(key, "")) for key in ("what", "parts", "ready", "why")}
    texts |= {"name": str(row.get("name", f"option {number}")), "hours": "", "comeback": ""}
    texts |= {"hours": row["hours"].text} if "hours" in row else {}
    texts |= {"comeback": row["comeback_share"].text} if "comeback_share" in row else {}
    cost, how, needs = _cost(row, read, rate)
    expected = None
    if cost is not None and "comeback_share" in row and (back := read.get("comeback_cost")) is not None:
        if alike(cost, back):
            expected = together(cost, back._replace(amount=back.amount * row["comeback_share"].si))
            fields = {"cost": cost.text, "share": row["comeback_share"].text, "comeback_cost": back.text}
            texts["expected_how"] = say("options", "expected", **fields)
        else:
            unread.append(say("options", "mixed"))
    elif cost is not None:
        needs.append(say("options", "comeback"))
    shown = cost.text if cost is not None else str(row.get("cost", ""))
    return {
        **texts,
        "cost": shown,
        "cost_how": how,
        "expected": expected.text if expected else "",
        "expected_how": texts.get("expected_how", ""),
        "amount": None if expected is None else [expected.amount, expected.before, expected.behind],
        "needs": needs,
        "notes": unread,
    }


def _cost(row: Row, read: Mapping[str, Money | None], rate: str) -> tuple[Money | None, str, list[str]]:
    """The cost as typed, else hours at the shop's rate and parts."""
    if "cost" in row:
        return read["cost"], say("options", "typed"), []
    if "hours" not in row and "parts" not in row:
        return None, "", [say("options", "cost")]
    amounts, how = [], []
    if "hours" in row:
        by_hour, hours = money(rate), from_si(row["hours"].si, "h", "time")
        if by_hour is None:
            return None, "", [say("options", "rate")]
        amounts.append(by_hour._replace(amount=by_hour.amount * hours))
        how.append(say("options", "work", hours=f"{hours:.4g}", rate=by_hour.text))
    if "parts" in row:
        parts = read["parts"]
        if parts is None:
            return None, "", []
        amounts.append(parts)
        how.append(say("options", "parts", parts=parts.text))
    return (together(*amounts), " + ".join(how), []) if alike(*amounts) else (None, say("options", "mixed"), [])


def _least(options: Rows) -> str:
    """The cheapest with come-backs counted; nothing where one of several could not be reckoned in the same currency."""
    known = [(row["amount"], row) for row in options if row["amount"] is not None]
    if len(known) != len(options) or len(options) < 2 or len({tuple(amount[1:]) for amount, _ in known}) > 1:
        return ""
    _, row = min(known, key=lambda pair: pair[0][0])
    return say("options", "least", name=row["name"], text=row["expected"])


def _answer(decision: Row) -> list[str]:
    """What the customer said; a blank line to sign where nothing is recorded."""
    what = decision.get("what")
    if not what or (what != "declined" and not decision.get("agreed_by")):
        return [say("answer", "blank")]
    texts = [
        say("answer", "declined") if what == "declined" else say("answer", "accepted", what=what.replace("-", " "))
    ]
    for key, name in (("price", "price"), ("agreed_by", "by"), ("agreed_on", "on")):
        texts += [say("answer", name, text=str(decision[key]))] if decision.get(key) else []
    return texts
