"""The three jobs of the demo: repaired, replaced, no fault found; what each says, by hand and as a whole."""

import json
import math
import shutil
from pathlib import Path
from typing import Any

import pytest

from valvecalc.demo import JOB, JOBS, SIZE
from valvecalc.job.estimate import estimate
from valvecalc.job.publish import publish, work_job
from valvecalc.job.read import read_job
from valvecalc.report import html, pdf_pages, text
from valvecalc.report.verify import verify

Table = dict[str, Any]
REPLACED, NO_FAULT = JOBS / "plate-press.toml", JOBS / "carton-lift.toml"


@pytest.fixture(scope="module")
def told() -> dict[str, Table]:
    return {path.stem: work_job(path) for path in (REPLACED, NO_FAULT)}


def cells(report: Table, table: str) -> dict[str, str]:
    section = next(row for row in report["record"] if row["table"] == table)
    return {cell["name"]: cell["text"] for cell in section["rows"][0]}


def test_each_job_ends_in_another_way() -> None:
    assert sorted(path.name for path in JOBS.glob("*.toml")) == sorted(
        ("shop.toml", JOB.name, REPLACED.name, NO_FAULT.name)
    )
    ends = {path.stem: read_job(path).tables["decision"]["what"] for path in (JOB, REPLACED, NO_FAULT)}
    assert ends == {"clamp-press": "repair", "plate-press": "replace", "carton-lift": "no-fault-found"}
    ids = {read_job(path).head["id"] for path in (JOB, REPLACED, NO_FAULT)}
    assert len(ids) == 3


def test_a_cracked_valve_gets_no_pressure_and_no_advice_that_needs_any(told: dict[str, Table]) -> None:
    report = told["plate-press"]
    assert report["gate"]["closed"]
    assert report["headline"]["verdict"] == "cannot tell"
    assert "got no pressure" in report["headline"]["sentence"]
    words = json.dumps(report["headline"], ensure_ascii=False)
    assert "with flow" not in words and "Try coil" not in words and "Scrap: main body, main spool." in words
    assert [text for text in report["warnings"] if text.startswith("The old valve.")]
    assert report["headline_left"]["verdict"] == "works"
    assert report["headline_left"]["sentence"].startswith("Another valve is in its place")


def test_the_valve_from_the_shelf_is_the_one_that_was_sent(told: dict[str, Table]) -> None:
    """160 mm and 110 mm: B stands at 160·160²/(160² − 110²) = 303 bar, as the evidence and the acceptance run say."""
    (best, *others) = told["plate-press"]["replacement"]["candidates"]
    assert (best["id"], best["verdict"]) == ("bin 17", "accept")
    assert not [row for row in others if row["verdict"] == "accept"]
    assert round(160 * 160**2 / (160**2 - 110**2)) == 303
    text_ = REPLACED.read_text("utf-8")
    assert "303 bar of" in text_ and "P A B at 303 bar" in text_


def test_the_cable_takes_the_missing_volts(told: dict[str, Table]) -> None:
    """190 ft there and back of 0.5 mm², 39.0 Ω/km (IEC 60228, class 5); the coil hot at 25.2 Ω."""
    ohms = 2 * 190 * 0.3048 / 1000 * 39.0
    assert ohms == pytest.approx(4.5, abs=0.05)
    assert 24.1 * 25.2 / (25.2 + ohms) == pytest.approx(20.3, abs=0.2)
    row = next(row for row in told["carton-lift"]["answers"] if row["question"].startswith("Is coil a"))
    result = {one["name"]: one for one in row["results"]}
    assert result["loop_resistance"]["value"] == pytest.approx(ohms, rel=1e-3)
    assert result["supply_deviation"]["verdict"] == "reject"


def test_no_fault_found_is_a_finding(told: dict[str, Table]) -> None:
    """Weakest in flow: 1 − (12.7/21.0)²·(25.2/21.6)², at 21.6 V, the nominal 24 V less 10 %."""
    report = told["carton-lift"]
    share = 1 - (12.7 / 21.0) ** 2 * (25.2 / 21.6) ** 2
    row = next(row for row in report["answers"] if row["question"].startswith("What has coil a"))
    assert row["results"][0]["value"] == pytest.approx(100 * share, rel=1e-12)
    assert report["headline"]["verdict"] == "sign-off"
    assert [row["subject"].split(":")[0] for row in report["verdicts"] if row["verdict"] == "reject"] == [
        "coil a",
        "coil b",
    ]
    assert cells(report, "decision")["what"] == "no fault found"
    assert report["warnings"][0].startswith("The lift may stay")
    names = {one["text"].split()[1] for one in report["readings"] if "pressure" in one["entry"]}
    assert any("psi" in one["text"] for one in report["readings"]), names
    assert any("mL/min" in one["text"] for one in report["readings"])


def test_the_estimate_before_the_work_by_hand() -> None:
    """2.5 h at 55 EUR and 438 EUR are 575.50 EUR; 5 % of 2 600 EUR make 705.50 EUR."""
    told = estimate(read_job(REPLACED))
    assert [row["cost"] for row in told["options"]] == ["575.50 EUR", "1222.50 EUR", "0 EUR"]
    assert told["options"][0]["expected"] == "705.50 EUR"
    assert "main valve of bin 17" in told["least"]
    assert "got no pressure" in told["found"][0] and "cracked" in " ".join(told["found"])
    assert sum("cracked" in one for one in told["found"]) == 1


@pytest.mark.parametrize("name", ["plate-press", "carton-lift"])
def test_it_is_published_and_verified(name: str, told: dict[str, Table], tmp_path: Path) -> None:
    files = {path.suffix: path for path in publish(told[name], tmp_path, JOBS)}
    again = json.loads(files[".json"].read_text("utf-8"))
    assert again == json.loads(json.dumps(told[name]))
    found = verify(again, files[".pdf"].read_bytes())
    assert (found.answer, found.changes) == ("same", [])
    assert found.unchecked == (
        ["the replacement: its duty and stock list stay in the shop"] if again["replacement"] else []
    )
    for told_ in (html.render(again), text.render(again)):
        assert "Traceback" not in told_ and again["job"]["title"] in told_


def test_the_photographs_are_there_and_a_missing_one_is_told(told: dict[str, Table], tmp_path: Path) -> None:
    assert [row["note"] for row in told["plate-press"]["photos"]] == ["", ""]
    shutil.copytree(JOBS, tmp_path / "jobs")
    shutil.copytree(SIZE, tmp_path / "size")
    (tmp_path / "jobs" / "photos" / "plate-press-crack.jpg").unlink()
    report = work_job(tmp_path / "jobs" / REPLACED.name)
    assert [bool(row["note"]) for row in report["photos"]] == [False, True]


def test_the_first_page_tells_the_decision_and_not_every_option(told: dict[str, Table]) -> None:
    blocks = pdf_pages.document(told["plate-press"], {})["blocks"]
    first = json.dumps(blocks[: next(place for place, one in enumerate(blocks) if one["kind"] == "page")])
    rest = json.dumps(blocks)
    assert "5 %, 2 600 EUR" in rest and "5 %, 2 600 EUR" not in first
    assert "576 EUR" in first and math.isclose(576, 575.5, abs_tol=1)
