"""The fault knowledge against fault tables of public documents; outside.toml names document, page and what was read."""

from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.facts import parse_toml
from valvecalc.sitegen.checked_faults import faults_page, own, rows
from valvecalc.sitegen.marks import SEEN

FOLDER = Path(__file__).parent
DATA: dict[str, Any] = parse_toml((FOLDER / "outside.toml").read_bytes(), "outside.toml")
MODEL = knowledge()
NAMED = [
    pytest.param(row["symptom"], cause, id=f"{row['document']}: {row['complaint']}: {cause['says']}")
    for row in DATA["row"]
    for cause in row["causes"]
]


@pytest.mark.parametrize(("symptom", "cause"), NAMED)
def test_what_a_table_names_is_a_candidate_or_has_its_reason(symptom: str, cause: dict[str, Any]) -> None:
    ours, differs = cause.get("ours", []), cause.get("differs", "")
    assert bool(ours) != bool(differs), "either among the candidates or a disagreement with its reason"
    assert set(ours) <= MODEL.symptoms[symptom].candidates.keys()
    assert not differs or len(differs) > 40


@pytest.mark.parametrize("row", DATA["inspection"][0]["rows"], ids=lambda row: row["says"])
def test_what_an_overhaul_looks_at_has_a_check_that_shows_it(row: dict[str, Any]) -> None:
    """The cause must speak otherwise than a sound valve does on that check."""
    check = MODEL.checks[row["check"]]
    assert MODEL.words(row["check"], row["cause"]) != tuple(check.default.values())


def test_isolation_goes_in_the_order_of_the_paragraph() -> None:
    """Every element of 29 CFR 1910.147(d) is a step of the gate, and none comes before the element ahead of it."""
    (one,) = DATA["sequence"]
    steps = [step.lower() for step in MODEL.rules.gates[one["gate"]].steps]
    places = []
    for element in one["steps"]:
        found = [place for word in element["words"] for place, step in enumerate(steps) if word in step]
        assert len(found) == len(element["words"]), f"{element['says']}: {element['words']}"
        places.append(found)
    for before, after in pairwise(places):
        assert max(before) < min(after)


def test_every_row_names_a_document_that_says_how_it_was_read() -> None:
    documents = {row["id"]: row for row in DATA["document"]}
    used = {row["document"] for kind in ("row", "inspection", "sequence") for row in DATA[kind]}
    assert used == documents.keys()
    for row in documents.values():
        assert row["seen"] in SEEN and row["note"]


def test_page_shows_agreement_disagreement_and_ours_alone() -> None:
    text = faults_page(FOLDER)
    for row in rows(DATA):
        assert MODEL.symptoms[row.symptom].title in text
        for cause in row.causes:
            assert cause.says.replace("'", "&#x27;") in text
            for name in cause.ours:
                assert f"fault/causes/{name}.md" in text
    for row in DATA["missing"]:
        assert row["text"][:40] in text
    for name in own(MODEL, "coil-hums", rows(DATA)):
        assert f"fault/causes/{name}.md" in text
    assert "shading-ring-broken" not in own(MODEL, "coil-hums", rows(DATA))


def test_page_without_the_source_tree_says_so(tmp_path: Path) -> None:
    assert "built without it" in faults_page(tmp_path)
