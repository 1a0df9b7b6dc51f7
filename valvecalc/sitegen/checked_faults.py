"""The fault finder's knowledge held against fault tables of public documents: the page /checked/faults/.

The documents' facts lie in tests/diagnosis/outside.toml; what agrees is worked out here, never typed.
"""

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from valvecalc.diagnosis.knowledge import Model, knowledge
from valvecalc.facts import parse_toml
from valvecalc.sitegen import fault_parts as parts
from valvecalc.sitegen import marks

Table = Mapping[str, Any]
_ABSENT = "The outside tables lie in tests/diagnosis/ of the source tree, and these pages were built without it."


class Named(NamedTuple):
    """A cause that an outside table names.

    ours     causes of the knowledge that mean it, all candidates of the complaint; empty where it differs
    differs  why the complaint has no such candidate here
    """

    says: str
    ours: tuple[str, ...] = ()
    differs: str = ""


class Row(NamedTuple):
    """One complaint of a document with the causes it names, beside our complaint."""

    document: str
    locator: str
    complaint: str
    symptom: str
    causes: tuple[Named, ...]


def rows(data: Table) -> list[Row]:
    """The rows of outside.toml."""
    return [
        Row(**{**row, "causes": tuple(Named(**{**one, "ours": tuple(one.get("ours", ()))}) for one in row["causes"])})
        for row in data["row"]
    ]


def own(model: Model, symptom: str, found: Iterable[Row]) -> list[str]:
    """Candidates of a complaint that no outside row names."""
    named = {name for row in found if row.symptom == symptom for cause in row.causes for name in cause.ours}
    return [name for name in model.symptoms[symptom].candidates if name not in named]


#: The page, and what it is called.
PAGE, TITLE = "checked/faults.md", "Fault knowledge against outside tables"


def faults_page(folder: Path) -> str:
    """The whole page. `folder` holds outside.toml; without it the page says so."""
    path = folder / "outside.toml"
    found = _found(path) if path.exists() else [f"<p>{_ABSENT}</p>"]
    return "\n\n".join([marks.head(TITLE), *found]) + "\n"


def _found(path: Path) -> list[str]:
    data, model = parse_toml(path.read_bytes(), path.name), knowledge()
    documents = {row["id"]: row for row in data["document"]}
    found = rows(data)
    causes = [cause for row in found for cause in row.causes]
    agreed = sum(bool(cause.ours) for cause in causes)
    return [
        f"<p>Public documents name {len(causes)} times a cause for a complaint that is also one of ours: "
        f"<strong>{agreed} are among our candidates, {len(causes) - agreed} are not</strong>, each with the reason. "
        "How often a cause occurs is in none of them: our weights stay judgement.</p>",
        *(block for symptom in model.symptoms for block in _complaint(model, documents, found, symptom)),
        "## What an overhaul looks at",
        *(_inspection(model, documents, one) for one in data["inspection"]),
        "## Order of isolation",
        *(_sequence(model, documents, one) for one in data["sequence"]),
        "## Documents",
        parts.listed(map(_document, documents.values())),
        "## Looked for, not found",
        parts.listed(marks.esc(one["text"]) for one in data["missing"]),
    ]


def _complaint(model: Model, documents: Mapping[str, Table], found: Sequence[Row], symptom: str) -> list[str]:
    mine = [row for row in found if row.symptom == symptom]
    if not mine:
        return []
    title = model.symptoms[symptom].title
    cells = [
        [
            f'<p>{marks.esc(row.complaint)}</p><p class="quiet">{_place(documents, row.document, row.locator)}</p>',
            "".join(f"<p>{marks.esc(one.says)}: {_links(model, one.ours)}</p>" for one in row.causes if one.ours),
            "".join(f"<p>{marks.esc(one.says)}. {marks.esc(one.differs)}</p>" for one in row.causes if one.differs),
        ]
        for row in mine
    ]
    alone = own(model, symptom, mine)
    return [
        f"## {marks.esc(title)}",
        marks.table(("There", "Named by both", "Named there, not here"), cells),
        marks.details(f"Here only: {len(alone)}", f"<p>{_links(model, alone)}</p>"),
    ]


def _links(model: Model, names: Iterable[str]) -> str:
    return ", ".join(parts.cause_link(model, name) for name in names)


def _place(documents: Mapping[str, Table], document: str, locator: str) -> str:
    """Document and place in it; what the document's own text says already is not said twice."""
    text = documents[document]["text"]
    return marks.esc(text.rpartition(", table")[0] or text if locator.startswith("table") else text) + (
        f", {marks.esc(locator)}"
    )


def _inspection(model: Model, documents: Mapping[str, Table], one: Table) -> str:
    cells = [
        [
            marks.esc(row["says"]),
            parts.check_link(model.checks[row["check"]]),
            parts.cause_link(model, row["cause"]),
        ]
        for row in one["rows"]
    ]
    told = f"<p>{_place(documents, one['document'], one['locator'])}: each item has a check here that shows it.</p>"
    return told + marks.table(("There", "Check here", "Cause it shows"), cells)


def _sequence(model: Model, documents: Mapping[str, Table], one: Table) -> str:
    steps = model.rules.gates[one["gate"]].steps
    cells = [
        [
            marks.esc(step["says"]),
            "".join(f"<p>{marks.esc(parts.sentence(text))}</p>" for text in steps if _does(text, step["words"])),
        ]
        for step in one["steps"]
    ]
    told = (
        f"<p>{_place(documents, one['document'], one['locator'])}: the steps of our card "
        f"“{marks.esc(model.rules.gates[one['gate']].title)}” keep its order; a test holds it.</p>"
    )
    return told + marks.table(("There", "Steps here"), cells)


def _does(step: str, words: Iterable[str]) -> bool:
    return any(word in step.lower() for word in words)


def _document(row: Table) -> str:
    told = f'{marks.esc(row["text"])}. <span class="seen">{marks.esc(marks.SEEN[row["seen"]].capitalize())}.</span>'
    return f"{told} {marks.esc(row['note'])}"
