"""The report of a job as plain data: what was found, what eats the force, what is not known."""

import datetime
from collections.abc import Mapping
from typing import Any

from valvecalc.answer import Answer
from valvecalc.answer_json import exact_link
from valvecalc.facts import caution, source
from valvecalc.formula import Card
from valvecalc.job import record
from valvecalc.job.charts import charts, margin_chart
from valvecalc.job.compute import Budget, Findings
from valvecalc.job.extrapolated import extrapolations
from valvecalc.job.finder import finder_path
from valvecalc.job.joints import seal_list, torque_sheet
from valvecalc.job.judged import side_by_side, verdict_rows
from valvecalc.job.lacking import not_computed
from valvecalc.job.now import now, warnings
from valvecalc.job.own import cautions_of
from valvecalc.job.read import Job
from valvecalc.job.readings import readings
from valvecalc.job.thresholds import figure, thresholds
from valvecalc.job.verdict import (
    band,
    headline,
    label,
    length,
    newton,
    place,
    say,
    without_pressure,
)
from valvecalc.judge import verdicts
from valvecalc.quantities import VOCABULARY
from valvecalc.report.digest import digest
from valvecalc.units import show
from valvecalc.version import VERSION, data_version

Rows = list[dict[str, Any]]


def report(job: Job, found: Findings, today: datetime.date | None = None) -> dict[str, Any]:
    """The report contract. `today` is the date printed; without it the clock's."""
    own = job.shop.limits
    head, left = head_of(job, found), _headline_left(job, found)
    cautions = [caution(key) for key in ("stored-pressure", "falling-load", "live-circuit")]
    answered = [*job.tables.get("check", []), *job.left.get("check", [])]
    cautions += cautions_of(answered, job.shop.checks)
    seals, torque = seal_list(job, found), torque_sheet(job, found)
    told_cautions = {*cautions, *seals.get("cautions", ()), *torque.get("cautions", ())}
    answers = _answers(found, told_cautions, own)
    if found.left is not None:
        answers += [
            row | {"when": "as-left", "question": f"As left. {row['question']}"}
            for row in _answers(found.left, told_cautions, own)
        ]
    told: dict[str, Any] = {
        "schema": 1,
        "kind": "report",
        "ok": True,
        "version": VERSION,
        "data_version": data_version(),
        "made": str(today or datetime.date.today()),
        "shop": {key: value for key, value in (("name", job.shop.name), ("address", job.shop.address)) if value},
        "job": {key: value for key, value in _head(job).items() if value},
        "headline": head,
        "warnings": record.warnings(job) + warnings(job, found, own),
        "now": now(job, found, head, left),
        "cautions": cautions,
        "record": record.record(job),
        "photos": record.photos(job),
        "gate": record.gate(job),
        "as_left": side_by_side(job, found),
        "headline_left": left,
        "measure": record.measure(job),
        "seal_list": seals,
        "torque_sheet": torque,
        "answers": answers,
        "charts": [chart for budget in found.budgets.values() for chart in charts(budget, own)]
        + [
            margin_chart(f"Share in hand by the pick-up readings, coil {name}", bench, own)
            for name, bench in found.benches.items()
            if "proved_share" in bench.results
        ],
        "thresholds": [row for budget in found.budgets.values() for row in thresholds(budget)],
        "repairs": [_repair(row, found, own) for row in found.repairs],
        "replacement": found.replacement or {},
        "verdicts": verdict_rows(job, found),
        "finder": finder_path(job.tables.get("finder", {})),
        "assumed": [*extrapolations(job), *notes(found, job, str(today or datetime.date.today())), *record.doubts(job)],
        "not_computed": not_computed(found) + _left_open(found),
        "not_tested": record.not_tested(job),
        "readings": readings(job),
        "corrections": list(job.corrections),
        "instruments": [tool._asdict() for tool in job.shop.instruments.values()],
        "sources": _sources(found),
    }
    told["digest"] = digest(told)
    return told


def _head(job: Job) -> dict[str, Any]:
    head = job.head
    return {
        "id": head.get("id", job.path.stem),
        "title": head.get("title", ""),
        "customer": head.get("customer", ""),
        "machine": head.get("machine", ""),
        "valve": head.get("valve_words", ""),
        "complaint": head.get("complaint", ""),
        "received": head.get("received", ""),
        "work_done": head.get("work_done", []),
    }


def head_of(job: Job, found: Findings) -> dict[str, Any]:
    """The headline as found; where the outside look shuts out pressure, that comes first."""
    head, gate = headline(found, job.shop.limits), record.gate(job)
    if not gate.get("closed") or record.pressed(job):
        return head
    scrap = [row.get("name", "a part") for row in job.tables.get("part", []) if row.get("verdict") == "scrap"]
    return without_pressure(head, found, gate["reasons"], ", ".join(scrap))


def _headline_left(job: Job, found: Findings) -> dict[str, Any]:
    """The verdict on shifting by what was read again; nothing where no such reading was taken again."""
    left = found.left
    if left is None or not (left.benches or left.go):
        return {}
    head = headline(left, job.shop.limits)
    return head | {"sentence": f"{say('verdict', 'another')} {head['sentence']}"} if record.replaced(job) else head


def _left_open(found: Findings) -> Rows:
    rows = not_computed(found.left) if found.left is not None else []
    return [row | {"what": f"As left, {row['what'][:1].lower()}{row['what'][1:]}"} for row in rows]


def _answers(found: Findings, told: set[str], own: Mapping[str, float]) -> Rows:
    """Every answer with its question. A caution is told once, before the first answer it belongs to; what is
    missing stands under "not computed"."""
    rows: Rows = []

    def add(card: str, answer: Answer, sentences: list[str], **fields: str) -> None:
        if not answer.results:
            return
        row = answer.to_json()
        row["link"] = exact_link(answer)
        row["cautions"] = [text for text in row["cautions"] if text not in told]
        told.update(row["cautions"])
        row["missing"] = []
        # the whole stroke is in the chart and its table
        row["results"] = [result for result in row["results"] if result["name"] != "stroke_rows"]
        judged = verdicts(answer, dict(own))
        for result in row["results"]:
            result["label"] = VOCABULARY[result["name"]].meaning
            if result["name"] in judged:
                result["verdict"] = judged[result["name"]]
        for one in row.get("meaning", ()):
            one["label"] = VOCABULARY[one["result"]].meaning
        for name, entry in row["inputs"].items():
            entry["label"] = VOCABULARY[name].meaning
        rows.append(row | {"question": say("questions", card, **fields), "sentences": sentences})

    for name, budget in found.budgets.items():
        add("shift-budget", budget.energise, _budget_sentences(budget), coil=name, direction="energise")
        back = say("verdict", "release", coil=name, margin=newton(budget.release, budget.release.results["margin"]))
        add("shift-budget", budget.release, [back], coil=name, direction="release")
    for name, bench in found.benches.items():
        add("bench-margin", bench, [], coil=name)
    for name, answer in found.coils.items():
        add("coil-check", answer, [], coil=name)
    for path, answer in found.leaks.items():
        add("leak-check", answer, _halved(answer), path=path)
    if found.stand is not None:
        add("test-cylinder", found.stand, [])
    for name, answer in found.spots:
        add(answer.card.id, answer, [], subject=name)
    return rows


def _halved(answer: Answer) -> list[str]:
    if "clearance" not in answer.results:
        return []
    diametral = answer.entries["diametral_clearance"].text
    radial = show(answer.results["clearance"], "length", answer.unit("clearance"), 3)
    texts = [say("notes", "halved", diametral=diametral, radial=radial)]
    least, read = answer.results.get("clearance_touching"), answer.results["clearance"]
    if (
        least is not None
        and least - read > 2.0 * sum(_u(answer, key) ** 2 for key in ("clearance_touching", "clearance")) ** 0.5
    ):
        shown = show(least, "length", answer.unit("clearance_touching"), 3)
        texts.append(say("notes", "more_leakage", least=shown, read=radial))
    return texts


def _u(answer: Answer, name: str) -> float:
    spread = answer.spreads.get(name)
    return 0.0 if spread is None else spread.u


def _budget_sentences(budget: Budget) -> list[str]:
    answer = budget.energise
    worst = answer.results["worst"][0]
    terms = [
        term
        for term in (
            "spring_force",
            "flow_force",
            "pin_force",
            "lateral_friction",
            "silt_force",
            "dry_friction",
            "detent_force",
        )
        if worst[term] > 0.0
    ]
    terms.sort(key=lambda term: -worst[term])
    eaten = ", ".join(f"{label(term)} {newton(answer, worst[term])}" for term in terms)
    texts = [
        say(
            "eats",
            "first",
            place=place(budget),
            position=length(answer, worst["position"]),
            drive=newton(answer, worst["drive"]),
            terms=eaten,
        )
    ]
    spread = answer.spreads.get("margin")
    if spread is not None and spread.contributions:
        texts.append(say("eats", "measure", entry=label(spread.contributions[0].label)))
    return [text[0].upper() + text[1:] for text in texts]


def _repair(row: Mapping[str, Any], found: Findings, own: Mapping[str, float]) -> dict[str, Any]:
    answer = found.budgets[row["coil"]].energise
    share = row["energise"]["margin_share"]
    return {
        "name": row["name"] if len(found.budgets) == 1 else f"{row['name']} (coil {row['coil']})",
        "coil": row["coil"],
        "margin": figure(answer, "margin", row["energise"]["margin"]),
        "share": share,
        "band": band(share, own),
        "release_margin": figure(answer, "margin", row["release"]["margin"]),
    }


def notes(found: Findings, job: Job, today: str) -> list[str]:
    """What was assumed on the way, and instruments past their date."""
    texts = [say("notes", key, **fields) for key, fields in found.notes]
    used = {row["instrument"] for row in readings(job) if "instrument" in row}
    for tool in job.shop.instruments.values():
        last = f"{tool.calibrated_until}-99-99"[:10]  # a month or a year holds to its end
        if tool.id in used and tool.calibrated_until and last < today:
            texts.append(say("notes", "overdue", id=tool.id, until=tool.calibrated_until))
    return texts


def _sources(found: Findings) -> Rows:
    every = [found] if found.left is None else [found, found.left]
    rows = {
        (key, locator): {"key": key, "text": source(key)["text"], "locator": locator}
        for one in every
        for card in _cards(one)
        for key, locator in card.sources
    }
    return list(rows.values())


def _cards(found: Findings) -> list[Card]:
    cards = [answer.card for answer in (*found.coils.values(), *found.benches.values(), *found.leaks.values())]
    cards += [budget.energise.card for budget in found.budgets.values()]
    cards += [found.stand.card] if found.stand is not None else []
    cards += [answer.card for _, answer in found.spots]
    return cards
