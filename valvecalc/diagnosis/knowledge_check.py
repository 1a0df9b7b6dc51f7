"""Does the knowledge make sense? One line a fault: unknown ids, wrong sums, unreachable causes, empty cautions …"""

import re
from collections.abc import Iterable, Iterator

from valvecalc.diagnosis.knowledge import Check, Model
from valvecalc.errors import nearest

LEVELS = ("none", "low", "medium", "high")
STAGES = ("on-machine", "on-bench", "disassembled")
SIDES = ("machine", "valve")
# A caution that leans on another one leaves the reader of a single card without it.
LEANS = re.compile(r"\b(as above|see above|see there|usual precautions|ditto|as before)\b", re.IGNORECASE)
KEBAB = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def faults(model: Model) -> Iterator[str]:
    """Every fault of the knowledge, as "file: place: what"."""
    yield from _rules(model)
    yield from _symptoms(model)
    yield from _causes(model)
    yield from _checks(model)
    yield from _links(model)
    yield from _chains(model)
    yield from _same_evidence(model)


def _say(file: str, place: str, what: str) -> str:
    return f"data/faults/{file}.toml: {place}: {what}"


def _unknown(file: str, place: str, names: Iterable[str], known: Iterable[str]) -> Iterator[str]:
    known = tuple(known)
    for name in names:
        if name not in known:
            yield _say(file, place, f"{name!r} is unknown; nearest: {', '.join(nearest(name, known)) or '-'}")


def _caution(file: str, place: str, text: str) -> Iterator[str]:
    words = text.strip().lower().rstrip(".")
    if len(words) < 20 or words in ("none", "n/a") or LEANS.search(text):
        yield _say(file, place, f"caution must stand alone and say what can hurt, got {text[:50]!r}")


def _rules(model: Model) -> Iterator[str]:
    rules, scale = model.rules, model.rules.scale
    for table in (
        "likelihood",
        "frequency",
        "hazard_minutes",
        "penalty_minutes",
        "stage_minutes",
        "part_minutes",
        "repair",
    ):
        entries = scale.get(table, {})
        if not isinstance(entries, dict) or not entries:
            yield _say("rules", f"[scale.{table}]", "missing or empty")
        elif not all(isinstance(value, (int, float)) and value >= 0 for value in entries.values()):
            yield _say("rules", f"[scale.{table}]", "need numbers, 0 or more")
    for word, value in scale.get("likelihood", {}).items():
        if not 0 < value < 1:
            yield _say(
                "rules",
                f"[scale.likelihood] {word}",
                f"got {value}, need above 0 and below 1: one answer rules nothing out",
            )
    for table, keys in (
        ("hazard_minutes", LEVELS),
        ("stage_minutes", STAGES),
        ("penalty_minutes", ("intrusive", "destroys_evidence")),
        ("repair", ("retest_minutes", "machine_card_minutes", "file_cases", "confirmed")),
        ("same_group_discount", ("factor",)),
    ):
        yield from (
            _say("rules", f"[scale.{table}]", f"{key} is missing") for key in keys if key not in scale.get(table, {})
        )
    if len(rules.groups) != 6:
        yield _say("rules", "[[groups]]", f"need six, one screen of them; got {len(rules.groups)}")
    yield from _unknown("rules", "[needs]", rules.needs, rules.gates)
    yield from _unknown("rules", "[[gates]]", rules.gates, rules.needs)
    yield from _unknown("rules", "[pressure]", rules.pressure, rules.needs)
    for need, cleared in rules.clears.items():
        yield from _unknown("rules", "[clears]", (need, *cleared), rules.needs)
    for hazard in rules.hazards.values():
        yield from _unknown("rules", f"[[hazards]] {hazard.id}", (hazard.floor,), LEVELS)
    for gate in rules.gates.values():
        if not gate.steps:
            yield _say("rules", f"[[gates]] {gate.id}", "has no steps")
    seen: dict[str, str] = {}
    tables: tuple[tuple[str, Iterable[str]], ...] = (
        ("symptoms", model.symptoms),
        ("causes", model.causes),
        ("checks", model.checks),
        ("roots", model.roots),
    )
    for file, ids in tables:
        for key in ids:
            if not KEBAB.fullmatch(key):
                yield _say(file, key, "an id is lower-case words joined by hyphens")
            if key in seen:
                yield _say(file, key, f"is an id in {seen[key]}.toml already")
            seen[key] = file


def _symptoms(model: Model) -> Iterator[str]:
    for symptom in model.symptoms.values():
        place = f"[[symptoms]] {symptom.id}"
        yield from _caution("symptoms", place, symptom.caution)
        yield from _unknown("symptoms", f"{place} group", (symptom.group,), model.rules.groups)
        yield from _unknown("symptoms", f"{place} applies_to", symptom.applies_to, model.rules.tags)
        yield from _unknown("symptoms", f"{place} candidates", symptom.candidates, model.causes)
        yield from _unknown("symptoms", f"{place} already_known", symptom.already_known, model.checks)
        yield from _unknown("symptoms", f"{place} look_first", symptom.look_first, model.checks)
        total = sum(symptom.candidates.values())
        if abs(total - 100) > 1e-9:
            yield _say("symptoms", f"{place} candidates", f"add to {total:g}, need 100")
        yield from (
            _say("symptoms", f"{place} candidates", f"{cause} has 0: leave it out")
            for cause, cases in symptom.candidates.items()
            if not cases
        )
        for check, outcome in symptom.already_known.items():
            if check in model.checks:
                yield from _unknown(
                    "symptoms", f"{place} already_known.{check}", (outcome,), model.checks[check].outcomes
                )
    for group in model.rules.groups:
        if not any(symptom.group == group for symptom in model.symptoms.values()):
            yield _say("rules", f"[[groups]] {group}", "has no symptom")


def _causes(model: Model) -> Iterator[str]:
    candidates = {cause for symptom in model.symptoms.values() for cause in symptom.candidates}
    for cause in model.causes.values():
        place = f"[[causes]] {cause.id}"
        yield from _caution("causes", place, cause.caution)
        yield from _unknown("causes", f"{place} side", (cause.side,), SIDES)
        yield from _unknown("causes", f"{place} frequency", (cause.frequency,), model.rules.scale.get("frequency", {}))
        yield from _unknown("causes", f"{place} applies_to", cause.applies_to, model.rules.tags)
        yield from _unknown("causes", f"{place} hazards", cause.hazards, model.rules.hazards)
        yield from _unknown("causes", f"{place} roots", cause.roots, model.roots)
        if cause.repair_group:
            yield from _unknown("causes", f"{place} repair_group", (cause.repair_group,), model.rules.repair_groups)
        if not cause.remedy_minutes:
            yield _say("causes", place, "remedy_minutes must be above 0")
        if not cause.roots:
            yield _say("causes", place, "has no root")
        if cause.id not in candidates:
            yield _say("causes", place, "no symptom leads to it")


def _checks(model: Model) -> Iterator[str]:
    for check in model.checks.values():
        place = f"[[checks]] {check.id}"
        yield from _caution("checks", place, check.caution)
        if check.at_bench:
            yield from _caution("checks", f"{place} at_bench", check.at_bench)
        yield from _unknown("checks", f"{place} where", (check.where,), STAGES)
        yield from _unknown("checks", f"{place} applies_to", check.applies_to, model.rules.tags)
        yield from _unknown("checks", f"{place} needs", check.needs, model.rules.needs)
        yield from _unknown("checks", f"{place} after", check.after, model.checks)
        yield from _unknown("checks", f"{place} no_pressure_after", check.no_pressure_after, check.outcomes)
        yield from _unknown(
            "checks", f"{place} default", check.default.values(), model.rules.scale.get("likelihood", {})
        )
        yield from _unknown("checks", f"{place} hazards", check.hazards, model.rules.hazards)
        if len(check.outcomes) < 2 or tuple(check.default) != tuple(check.outcomes):
            yield _say("checks", place, "default must give a word for each of two or more outcomes, in their order")
        if not check.minutes:
            yield _say("checks", place, "minutes must be above 0")
        yield from _level(model, check, place)
        if check.id in _before(model, check):
            yield _say("checks", f"{place} after", "comes after itself")


def _level(model: Model, check: Check, place: str) -> Iterator[str]:
    if check.hazard not in LEVELS:
        yield _say("checks", place, f"hazard {check.hazard!r} is none of {', '.join(LEVELS)}")
        return
    for name in check.hazards:
        floor = model.rules.hazards[name].floor if name in model.rules.hazards else "none"
        if floor in LEVELS and LEVELS.index(check.hazard) < LEVELS.index(floor):
            yield _say("checks", place, f"hazard {check.hazard} is below {floor}, the floor of {name}")


def _before(model: Model, check: Check) -> set[str]:
    """Everything that comes before a check, through any number of steps."""
    found: set[str] = set()
    left = [*check.after]
    while left:
        name = left.pop()
        if name not in found and name in model.checks:
            found.add(name)
            left += model.checks[name].after
    return found


def _links(model: Model) -> Iterator[str]:
    words = model.rules.scale.get("likelihood", {})
    yield from _unknown("links", "tables", model.links, model.checks)
    for check in model.checks.values():
        if not model.links.get(check.id):
            yield _say("links", f"[{check.id}]", "the check has no link: it tells nothing")
        for cause, row in model.links.get(check.id, {}).items():
            yield from _unknown("links", f"[{check.id}]", (cause,), model.causes)
            yield from _unknown("links", f"[{check.id}] {cause}", row, words)
            if len(row) != len(check.outcomes):
                yield _say("links", f"[{check.id}] {cause}", f"got {len(row)} words, need {len(check.outcomes)}")


def _chains(model: Model) -> Iterator[str]:
    for chain in model.chains:
        place = f"[[chains]] {chain.killer}/{chain.victim}"
        yield from _unknown("chains", place, (chain.killer, chain.victim), model.causes)
        yield from _unknown("chains", f"{place} prove", (chain.prove,), model.checks)
        yield from _unknown("chains", f"{place} applies_to", chain.applies_to, model.rules.tags)
        if chain.prove in model.checks:
            yield from _unknown("chains", f"{place} proven_by", chain.proven_by, model.checks[chain.prove].outcomes)
        if not chain.proven_by or chain.killer == chain.victim:
            yield _say("chains", place, "needs an outcome that proves it, and two different causes")


def _same_evidence(model: Model) -> Iterator[str]:
    """Two causes that no check tells apart are one cause."""
    seen: dict[tuple[tuple[str, ...], ...], str] = {}
    for cause in model.causes:
        pattern = tuple(
            model.links.get(check, {}).get(cause) or tuple(record.default.values())
            for check, record in model.checks.items()
        )
        if pattern in seen:
            yield _say("links", cause, f"shows the same evidence as {seen[pattern]}: no check tells them apart")
        seen[pattern] = cause
