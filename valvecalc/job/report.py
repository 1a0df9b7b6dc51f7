"""The report of a job as plain data: what was found, what eats the force, what is not known."""

import datetime
import hashlib
import json
from collections.abc import Mapping
from typing import Any

from valvecalc.answer import Answer, Entry
from valvecalc.facts import caution, source
from valvecalc.formula import REGISTER
from valvecalc.job.charts import charts, margin_chart
from valvecalc.job.compute import Budget, Findings
from valvecalc.job.read import Job, Repeats
from valvecalc.job.verdict import ERRATIC, FAILS, band, headline, label, length, newton, place, say, word_of
from valvecalc.judge import verdicts
from valvecalc.limits import limits_of
from valvecalc.quantities import VOCABULARY
from valvecalc.units import from_si, show
from valvecalc.version import VERSION, data_version

Rows = list[dict[str, Any]]


def report(job: Job, found: Findings, today: datetime.date | None = None) -> dict[str, Any]:
    """The report contract. `today` is the date printed; without it the clock's."""
    own = job.shop.limits
    head = headline(found, own)
    cautions = [caution(key) for key in ("stored-pressure", "falling-load", "live-circuit")]
    answers = _answers(found, set(cautions))
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
        "warnings": _warnings(found, own),
        "cautions": cautions,
        "answers": answers,
        "charts": [chart for budget in found.budgets.values() for chart in charts(budget, own)]
        + [margin_chart(f"Share in hand by the pick-up readings, coil {name}", bench, own) for name, bench in found.benches.items() if "margin_share" in bench.results],
        "thresholds": [row for budget in found.budgets.values() for row in _thresholds(budget)],
        "repairs": [_repair(row, found, own) for row in found.repairs],
        "verdicts": _verdicts(found, own),
        "assumed": notes(found, job, str(today or datetime.date.today())),
        "not_computed": _not_computed(found),
        "not_tested": list(job.head.get("not_tested", [])),
        "readings": _readings(job),
        "instruments": [tool._asdict() for tool in job.shop.instruments.values()],
        "sources": _sources(found),
    }
    told["digest"] = digest(told)
    return told


def digest(told: Mapping[str, Any]) -> str:
    """SHA-256 over the report without its digest: the same job and data give the same text."""
    plain = {key: value for key, value in told.items() if key != "digest"}
    return "sha256:" + hashlib.sha256(json.dumps(plain, sort_keys=True, ensure_ascii=False).encode()).hexdigest()


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


def _warnings(found: Findings, own: Mapping[str, float]) -> list[str]:
    texts = []
    for name, budget in found.budgets.items():
        if budget.release.results["margin"] < 0.0:
            texts.append(say("warnings", "release_fails", coil=name))
        if word_of(budget, own) in (FAILS, ERRATIC):
            texts.append(say("warnings", "will_not_shift", coil=name))
    return texts


def _answers(found: Findings, told: set[str]) -> Rows:
    """Every answer with its question. A caution is told once, before the first answer it belongs to; what is
    missing stands under "not computed"."""
    rows: Rows = []

    def add(card: str, answer: Answer, sentences: list[str], **fields: str) -> None:
        row = answer.to_json()
        row["cautions"] = [text for text in row["cautions"] if text not in told]
        told.update(row["cautions"])
        row["missing"] = []
        # the whole stroke is in the chart and its table
        row["results"] = [result for result in row["results"] if result["name"] != "stroke_rows"]
        for result in row["results"]:
            result["label"] = VOCABULARY[result["name"]].meaning
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
    return rows


def _halved(answer: Answer) -> list[str]:
    if "clearance" not in answer.results:
        return []
    diametral = answer.entries["diametral_clearance"].text
    radial = show(answer.results["clearance"], "length", answer.unit("clearance"), 3)
    return [say("notes", "halved", diametral=diametral, radial=radial)]


def _budget_sentences(budget: Budget) -> list[str]:
    answer = budget.energise
    worst = answer.results["worst"][0]
    terms = [term for term in ("spring_force", "flow_force", "pin_force", "lateral_friction", "silt_force", "dry_friction", "detent_force") if worst[term] > 0.0]
    terms.sort(key=lambda term: -worst[term])
    eaten = ", ".join(f"{label(term)} {newton(answer, worst[term])}" for term in terms)
    texts = [say("eats", "first", place=place(budget), position=length(answer, worst["position"]), drive=newton(answer, worst["drive"]), terms=eaten)]
    spread = answer.spreads.get("margin")
    if spread is not None and spread.contributions:
        texts.append(say("eats", "measure", entry=spread.contributions[0].label.replace("_", " ")))
    return [text[0].upper() + text[1:] for text in texts]


def _thresholds(budget: Budget) -> Rows:
    rows: Rows = []
    for direction, causes in (("energise", budget.causes), ("release", budget.release_causes)):
        valve = budget.case.valve
        answer = budget.energise if direction == "energise" else budget.release
        shifts = answer.results["margin"] >= 0.0
        for row in causes["single_causes"]:
            name = row["cause"]
            now, there = getattr(valve, name), row["threshold"]
            limit = limits_of(REGISTER["shift-budget"])[name].text
            rows.append(
                {
                    "coil": budget.coil,
                    "direction": direction,
                    "entry": name,
                    "label": label(name),
                    "as_is": _figure(answer, name, now),
                    "value": None if there is None else _figure(answer, name, there),
                    "sentence": _threshold_words(answer, name, now, there, shifts, limit),
                }
            )
    return rows


def _threshold_words(answer: Answer, name: str, now: float, there: float | None, shifts: bool, limit: str) -> str:
    if there is None:
        return f"Alone it {'does not stop the valve' if shifts else 'does not make it shift'} within {limit}."
    shown = show(there, VOCABULARY[name].dimension, answer.unit(name), 3)
    if shifts:
        return f"{'Above' if there > now else 'Below'} {shown} it alone stops the valve."
    return f"{'From' if there > now else 'Down to'} {shown} it alone would make the valve shift."


def _figure(answer: Answer, name: str, si: float) -> dict[str, Any]:
    return {"value": from_si(si, answer.unit(name), VOCABULARY[name].dimension), "unit": answer.unit(name)}


def _repair(row: Mapping[str, Any], found: Findings, own: Mapping[str, float]) -> dict[str, Any]:
    answer = found.budgets[row["coil"]].energise
    share = row["energise"]["margin_share"]
    return {
        "name": row["name"] if len(found.budgets) == 1 else f"{row['name']} (coil {row['coil']})",
        "coil": row["coil"],
        "margin": _figure(answer, "margin", row["energise"]["margin"]),
        "share": share,
        "band": band(share, own),
        "release_margin": _figure(answer, "margin", row["release"]["margin"]),
    }


def _verdicts(found: Findings, own: Mapping[str, float]) -> Rows:
    rows: Rows = []
    named: list[tuple[str, Answer]] = [(f"coil {name}, force budget", budget.energise) for name, budget in found.budgets.items()]
    named += [(f"coil {name}, pick-up readings", bench) for name, bench in found.benches.items()]
    named += [(f"coil {name}", answer) for name, answer in found.coils.items()]
    named += [(f"leakage {path}", answer) for path, answer in found.leaks.items()]
    named += [("stand cylinder", found.stand)] if found.stand is not None else []
    for subject, answer in named:
        for name, verdict in verdicts(answer, dict(own)).items():
            if name not in answer.results:
                continue
            rows.append({"subject": f"{subject}: {VOCABULARY[name].meaning}", "verdict": verdict, "sentence": _why(answer, name)})
    for row in found.go:
        rows.append({"subject": f"coil {row['coil']}, {row['state']}, {row['voltage']}", "verdict": "accept" if row["shifted"] else "reject", "sentence": "Go or no-go at this voltage; an AC coil tells no share."})
    return rows


def _why(answer: Answer, name: str) -> str:
    value = answer.results[name]
    if not isinstance(value, float):
        return f"It reads as {value}."
    dimension, unit = VOCABULARY[name].dimension, answer.unit(name)
    expanded = answer.expanded(name)
    known = f" ± {show(expanded, dimension, unit, 2)}" if expanded else ", uncertainty not known"
    return f"{show(value, dimension, unit, 3)}{known}."


def _not_computed(found: Findings) -> Rows:
    """What was not computed and the readings it needs; readings that unlock several results are told once."""
    rows: Rows = []
    for what, coil, names in found.lacking:
        rows.append({"what": say("needs", what, coil=coil), "needs": [_need(name) for name in names]})
    for title, group in (("Coil", found.coils), ("Pick-up readings, coil", found.benches), ("Leakage", found.leaks)):
        for name, answer in group.items():
            wanted: dict[str, list[str]] = {}
            for lack in answer.missing:
                wanted.setdefault(lack.why, []).append(lack.entry)
            by_needs: dict[tuple[str, ...], list[str]] = {}
            for why, entries in wanted.items():
                by_needs.setdefault(tuple(entries), []).append(why)
            for entries_, whys in by_needs.items():
                rows.append({"what": f"{title} {name}: {'; '.join(whys)}", "needs": [_need(entry) for entry in entries_]})
    if found.stand is not None:
        rows += [{"what": f"Stand cylinder: {lack.why}", "needs": [_need(lack.entry)]} for lack in found.stand.missing]
    return rows


def _need(name: str) -> dict[str, str]:
    """A reading that is wanted, in the words of the job file."""
    if name not in VOCABULARY:
        return {"entry": name, "label": name, "why": "", "how": ""}
    state, _, kind = name.rpartition("_")
    states = {"no_pressure": "no-pressure", "blocked": "blocked", "dwell": "dwell", "flow": "flow", "duty": "duty"}
    where = ""
    if state in states and kind in ("voltage", "resistance"):
        where = f'{kind} in [[coil.pickup]] with state = "{states[state]}"'
    elif state in states and kind == "push":
        where = f'force in [[coil.push]] with state = "{states[state]}"'
    return {"entry": name, "label": where or label(name), "why": VOCABULARY[name].meaning, "how": ""}


def notes(found: Findings, job: Job, today: str) -> list[str]:
    """What was assumed on the way, and instruments past their date."""
    texts = [say("notes", key, **fields) for key, fields in found.notes]
    used = {row["instrument"] for row in _readings(job) if "instrument" in row}
    for tool in job.shop.instruments.values():
        if tool.id in used and tool.calibrated_until and tool.calibrated_until < today:
            texts.append(say("notes", "overdue", id=tool.id, until=tool.calibrated_until))
    return texts


def _readings(job: Job) -> Rows:
    rows: Rows = []

    def take(where: str, table: Mapping[str, Any]) -> None:
        for key, value in table.items():
            if isinstance(value, Entry | Repeats):
                rows.append(_reading(f"{where} {key}".replace("_", " "), value))
            elif key == "force_curve":
                points = "; ".join(f"{point['position'].text} {point['curve_force'].text}" for point in value)
                rows.append({"entry": f"{where} force curve", "text": points, "origin": value[0]["curve_force"].origin if value else "user"})
            elif isinstance(value, list) and key in ("pickup", "push"):
                for reading in value:
                    take(f"{where} {key} {reading.get('state', '')}", reading)

    for name, table in job.tables.items():
        if name == "repair":
            continue
        for number, row in enumerate(table if isinstance(table, list) else [table], 1):
            take(f"{name} {row.get('name', number)}" if isinstance(table, list) else name, row)
    return rows


def _reading(label_: str, value: Entry | Repeats) -> dict[str, Any]:
    entry = value.entry if isinstance(value, Repeats) else value
    row: dict[str, Any] = {"entry": label_, "text": entry.text, "origin": entry.origin}
    if entry.spreads and "±" not in entry.text:
        u = sum(one * one for one, _ in entry.spreads) ** 0.5
        row["uncertainty"] = f"{2.0 * u / _scale(entry):.2g} {entry.unit}".strip()
    if entry.source:
        row["instrument"] = entry.source
    return row


def _scale(entry: Entry) -> float:
    """SI for one printed unit, from the unit's own row."""
    from valvecalc.units import dimension_of, to_si

    dimension = dimension_of(entry.unit) if entry.unit else "ratio"
    return to_si(1.0, entry.unit, dimension) - to_si(0.0, entry.unit, dimension)


def _sources(found: Findings) -> Rows:
    cards = [answer.card for answer in (*found.coils.values(), *found.benches.values(), *found.leaks.values())]
    cards += [budget.energise.card for budget in found.budgets.values()]
    cards += [found.stand.card] if found.stand is not None else []
    rows = {(key, locator): {"key": key, "text": source(key)["text"], "locator": locator} for card in cards for key, locator in card.sources}
    return list(rows.values())


