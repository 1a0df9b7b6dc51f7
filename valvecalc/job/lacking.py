"""What was not computed, and the readings it needs, in the words of the job file."""

from collections.abc import Sequence
from typing import Any

from valvecalc.answer import Lack
from valvecalc.job.compute import Findings
from valvecalc.job.verdict import label, say
from valvecalc.quantities import VOCABULARY

Rows = list[dict[str, Any]]

#: States of pick-up and push readings: name in an entry -> word in the job file.
STATES = {"no_pressure": "no-pressure", "blocked": "blocked", "dwell": "dwell", "flow": "flow", "duty": "duty"}

#: Entries of a sheet that a job file gives under another name.
KEYS = {"resistance_per_length": "cable_area"}


def not_computed(found: Findings) -> Rows:
    """Each result that is missing with what it needs. What two other rows ask for together is not asked again."""
    rows: Rows = [{"what": say("needs", what, coil=coil), "needs": needs(names)} for what, coil, names in found.lacking]
    groups = (("Coil", found.coils), ("Pick-up readings, coil", found.benches), ("Leakage", found.leaks))
    subjects = [(f"{title} {name}", answer) for title, group in groups for name, answer in group.items()]
    subjects += [("Stand cylinder", found.stand)] if found.stand is not None else []
    subjects += [(f"{answer.card.title}, {name}", answer) for name, answer in found.spots]
    for subject, answer in subjects:
        for entries, results in _grouped(answer.missing):
            rows.append({"what": f"{subject}: {'; '.join(results)}", "needs": needs(entries)})
    return rows


def _grouped(lacks: Sequence[Lack]) -> list[tuple[list[str], list[str]]]:
    """Readings that unlock the same results stand together, the fewest first."""
    wanted: dict[str, list[str]] = {}
    for lack in lacks:
        wanted.setdefault(lack.why, []).append(lack.entry)
    by_entries: dict[frozenset[str], tuple[list[str], list[str]]] = {}
    for result, entries in wanted.items():
        by_entries.setdefault(frozenset(entries), (entries, []))[1].append(result)
    told: list[tuple[list[str], list[str]]] = []
    asked: list[frozenset[str]] = []
    for names in sorted(by_entries, key=len):
        if names != frozenset().union(*(other for other in asked if other < names)):
            told.append(by_entries[names])
        asked.append(names)
    return told


def needs(names: Sequence[str]) -> list[dict[str, str]]:
    """The readings wanted; volts and ohms of one pick-up in one, a lone reading with its meaning."""
    rows = []
    for name in names:
        key = KEYS.get(name, name)
        state, _, kind = key.rpartition("_")
        if state in STATES and kind == "resistance" and f"{state}_voltage" in names:
            continue
        told = label(key)
        if state in STATES and kind in ("voltage", "resistance"):
            both = kind == "voltage" and f"{state}_resistance" in names
            word = STATES[state]
            told = f"{'voltage and resistance' if both else kind} at which it just shifts {say('states', word)}"
            told += f' ([[coil.pickup]], state = "{word}")'
        elif state in STATES and kind == "push":
            word = STATES[state]
            told = f'push at the override {say("states", word)} ([[coil.push]], state = "{word}")'
        alone = len(names) <= 2 and told == label(key) and key in VOCABULARY
        rows.append({"entry": key, "label": told, "why": VOCABULARY[key].meaning if alone else "", "how": ""})
    return rows
