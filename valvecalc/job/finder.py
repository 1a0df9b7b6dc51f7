"""How the fault was found, from the [finder] table of a job file, with the titles of the fault knowledge."""

from collections.abc import Mapping
from typing import Any

from valvecalc.diagnosis.knowledge import Model, knowledge


def finder_path(table: Mapping[str, Any]) -> dict[str, Any]:
    """The complaint, each step in words, and the result; what the knowledge does not know is shown as it stands."""
    if not table:
        return {}
    model = knowledge()
    symptom = str(table.get("symptom", ""))
    title = model.symptoms[symptom].title if symptom in model.symptoms else symptom
    basis = "The order of the checks rests on judgement, not on counted cases."
    if own := table.get("own_cases"):
        weight = model.rules.scale["repair"]["file_cases"]
        basis = f"The order of the checks rests on the shop's own cases ({own}) and on judgement as {weight:g} cases."
    return {
        "symptom": title,
        "steps": [_step(model, str(step)) for step in table.get("steps", ())],
        "result": str(table.get("result", "")),
        "basis": basis,
    }


def _step(model: Model, step: str) -> str:
    name, equals, outcome = step.partition("=")
    record = model.checks.get(name)
    if equals and record is not None:
        return f"{record.title}: {record.outcomes.get(outcome, outcome)}"
    name, colon, said = step.partition(": ")
    group = model.rules.repair_groups.get(name)
    known = model.checks.get(name) or model.causes.get(name)
    title = group.title if group else known.title if known else name
    if name == "killer" and said in model.causes:
        return f"What killed it: {model.causes[said].title}"
    return f"{title}{colon}{said}"
