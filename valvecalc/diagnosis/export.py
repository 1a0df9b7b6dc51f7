"""The knowledge for the browser: one compact JSON, likelihoods as numbers, texts that the finder shows on a phone."""

import json
from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from valvecalc.diagnosis import advice, chains, policy, walk, why
from valvecalc.diagnosis.belief import discounted, likelihood
from valvecalc.diagnosis.knowledge import Model, knowledge
from valvecalc.door import load
from valvecalc.formula import REGISTER

SCALES = ("hazard_minutes", "penalty_minutes", "stage_minutes", "part_minutes", "repair", "frequency")
# The figures of the policy are sent, so that both languages work with the same ones.
FIGURES = {
    policy: "TIE PAYS SCREENED DEEPENED FOLLOWERS LIKE_WORTH",
    walk: "CONTRADICTS",
    chains: "SHOWS CLEAR ENOUGH MOST_CHECKS",
    advice: "RETAKE MOSTLY CARD_CHECKS",
    why: "LIKELY POSSIBLE SPLIT",
}
# Fields that the finder reads, by kind. What it does not show stands on the pages of the symptom, check or cause.
FIELDS = {
    "symptoms": "title applies_to already_known candidates look_first out_of_service",
    "causes": "title side applies_to frequency confirmed_by caution remedy repair_class remedy_minutes roots"
    " repair_group opened judged_by tell_the_customer",
    "checks": "title where tool minutes hazard hazards needs caution how outcomes evidence_group applies_to after"
    " may_be_missed never_first at_bench steps reading judged_by no_pressure_after intrusive destroys_evidence",
    "roots": "title measure tell_the_customer",
    "hazards": "title stop",
    "gates": "title steps",
    "repair_groups": "title",
}


def packed(records: Mapping[str, NamedTuple], fields: str) -> dict[str, Any]:
    """Records as {"fields": …, "rows": {id: values in that order}}: the names are sent once, empty ends not at all."""
    names = fields.split()
    rows = {}
    for key, record in records.items():
        row = [_sent(record, name) for name in names]
        while row and row[-1] in ("", (), False):
            row.pop()
        rows[key] = [int(value) if isinstance(value, (bool, float)) and value == int(value) else value for value in row]
    empty = {name: () if "tuple" in str(kind) else "" for name, kind in _kinds(records).items() if name in names}
    return {"fields": names, "empty": [empty[name] for name in names], "rows": rows}


def _sent(record: NamedTuple, name: str) -> Any:
    """A field as the phone needs it: a page for what judges a reading, no `how` where there are steps."""
    value: Any = getattr(record, name)
    steps: Any = getattr(record, "steps", None)
    if name == "judged_by":
        return _page(value)
    return "" if name == "how" and steps else value


def _page(card: str) -> str:
    """The page of a sheet or formula: "judge/coil-check", "calc/jet-speed"."""
    return card and f"{'calc' if REGISTER[card].kind == 'formula' else 'judge'}/{card}"


def _kinds(records: Mapping[str, NamedTuple]) -> Mapping[str, Any]:
    return type(next(iter(records.values()))).__annotations__


def browser_model(model: Model | None = None) -> dict[str, Any]:
    """The knowledge as plain data for finder.js.

    numbers      every P(outcome | cause) that occurs
    patterns     [places in numbers of the outcomes, the same discounted for a further check of one evidence group]
    likelihoods  by check: [its default's pattern, {place in causes: pattern of the link}]
    """
    load()
    model = model or knowledge()
    rules = model.rules
    factor = rules.scale["same_group_discount"]["factor"]
    numbers: dict[float, int] = {}
    patterns: dict[tuple[float, ...], int] = {}
    places = {cause: place for place, cause in enumerate(model.causes)}

    def pattern(check: str, cause: str) -> int:
        return patterns.setdefault(likelihood(model, check, cause), len(patterns))

    def indices(column: Sequence[float]) -> list[int]:
        return [numbers.setdefault(number, len(numbers)) for number in column]

    # No cause bears the empty id: what comes back for it is the check's default.
    likelihoods = {
        check: [pattern(check, ""), {places[cause]: pattern(check, cause) for cause in model.links[check]}]
        for check in model.checks
    }
    written = [[indices(column), indices(discounted(column, factor))] for column in patterns]
    tables: dict[str, Mapping[str, NamedTuple]] = {
        "symptoms": model.symptoms,
        "causes": model.causes,
        "checks": model.checks,
        "roots": model.roots,
        "hazards": rules.hazards,
        "gates": rules.gates,
        "repair_groups": rules.repair_groups,
    }
    return {
        "schema": 1,
        "basis": rules.basis,
        "scale": {name: rules.scale[name] for name in SCALES},
        "tags": rules.tags,
        "needs": rules.needs,
        "pressure": rules.pressure,
        "clears": rules.clears,
        **{name: packed(records, FIELDS[name]) for name, records in tables.items()},
        "chains": [chain._asdict() for chain in model.chains],
        "words": why.words(),
        "figures": {name.lower(): getattr(module, name) for module, names in FIGURES.items() for name in names.split()},
        "numbers": list(numbers),
        "patterns": written,
        "likelihoods": likelihoods,
    }


def script(model: Model | None = None) -> str:
    """The model as a classic script that sets `finderModel`; `<` is escaped: no text can end a script element."""
    text = json.dumps(browser_model(model), ensure_ascii=False, separators=(",", ":"))
    return "const finderModel=" + text.replace("<", "\\u003c") + ";\n"
