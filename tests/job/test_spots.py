"""Readings that stand alone in a job: judged each by its small sheet, told with its question, kept from the phone."""

import tomllib
from collections.abc import Callable
from typing import Any

import pytest

from tests.job.test_fields import prepared
from valvecalc.door import calc, find

KEPT = {
    "coil-amps": "coil",
    "drift-rate": "drift",
    "path-loss": "loss",
    "groove-ring": "ring",
    "oil-code": "sample",
    "oil-water": "sample",
    "oil-grade": "sample",
    "line-loss-check": "line",
    "tank-reading": "tank",
}


@pytest.mark.usefixtures("without_causes")
def test_each_is_judged_with_its_question(work: Callable[..., Any]) -> None:
    """9 mm in 4 min is 2.25 mm/min, 150 % of the 1.5 allowed.

    48²/37 = 62.27 Ω at 20 °C let 45.8 V drive 0.735 A, a hot winding less: 0.7 A is right, 0.9 A is not.
    """
    job = prepared(())
    told = {row["subject"]: row["verdict"] for row in work(job)[1]["verdicts"]}
    by_name = {name.partition(":")[0]: verdict for name, verdict in told.items()}
    of_current = [verdict for name, verdict in told.items() if "current beyond" in name]
    assert of_current == ["accept"]
    assert by_name["drift 1, boom, sinking"] == "reject"
    assert by_name["loss 1, P to A"] == "reject"
    job["coil"][0]["current"] = ["0.9 A", "0.91 A"]
    del job["drift"][0]["allowed_drift"]
    report = work(job)[1]
    verdicts = {row["subject"]: row["verdict"] for row in report["verdicts"]}
    assert [one for name, one in verdicts.items() if "current beyond" in name] == ["reject"]
    questions = [row["question"] for row in report["answers"]]
    assert "drift 1, boom, sinking: does it drift more than is allowed?" in questions
    (lack,) = [row for row in report["not_computed"] if row["what"].startswith("Drift of a cylinder")]
    assert [need["entry"] for need in lack["needs"]] == ["allowed_drift"]


@pytest.mark.usefixtures("without_causes")
@pytest.mark.parametrize("name", KEPT)
def test_what_the_phone_keeps_is_read_by_the_job(name: str, work: Callable[..., Any]) -> None:
    """Value and limit of error come back; only the instrument, which the reader fills in, is left out here."""
    typed = calc(name, **find(name).example)
    job, row = prepared(()), {}
    for key, value in tomllib.loads(typed.to_json()["keep"]).items():
        if isinstance(value, dict):
            row[key] = {part: one for part, one in value.items() if part != "instrument"}
        else:
            row[key] = "a" if value == "?" else value
    job[KEPT[name]] = [job.get(KEPT[name], [{}])[0] | row]
    findings, _ = work(job)
    (answer,) = [answer for _, answer in findings.spots if answer.card.id == name]
    for entry, text in find(name).example.items():
        read = answer.entries[entry]
        assert (read.text, *text.split(" ± ")[1:]) == tuple(text.split(" ± ")), entry
        assert [u for u, _ in read.spreads] == [u for u, _ in typed.entries[entry].spreads], entry


def test_each_stage_of_a_valve_is_asked_only_where_it_was_read(work: Callable[..., Any]) -> None:
    """Drop-out 2.1 of 48 V is 4.4 %, under 5; a main stage of which the pilot alone was read is not asked for drag."""
    job = prepared(())
    job["coil"][0]["drop_out"] = "2.1 V"
    del job["main_stage"]["full_stroke_difference"]
    report = work(job)[1]
    told = {row["subject"]: row["verdict"] for row in report["verdicts"]}
    assert [one for name, one in told.items() if "drop-out voltage over" in name] == ["reject"]
    assert any(one.startswith("Coil a: It hangs on almost to zero") for one in report["headline"]["actions"])
    assert [name for name in told if name.startswith("main stage: ")] == [
        "main stage: force in hand as a share of the driving force"
    ]
    questions = [row["question"] for row in report["answers"]]
    assert "coil a: does the coil let go?" in questions
    assert "Main stage: does the pilot pressure move the main spool?" in questions
    assert not any("Main stage apart" in row["what"] for row in report["not_computed"])
