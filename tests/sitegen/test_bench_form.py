"""The bench sheet on the phone: every step of the sheet on paper, its cautions first, fields of the job file."""

import re
from html import unescape
from pathlib import Path

from valvecalc.facts import load_toml
from valvecalc.job.bench import bench_sheet
from valvecalc.job.fields import BELOW_COIL, fields
from valvecalc.job.read import Job
from valvecalc.job.shop import Shop
from valvecalc.sitegen.bench_form import PAGE, form_pages
from valvecalc.sitegen.job_script import MANY, ONCE, SHEETS

TEXT = form_pages()[PAGE]
STEPS = {row["id"]: row for row in load_toml("bench.toml")["steps"]}
WORDS = load_toml("words/phone.toml")


def test_every_step_of_the_sheet_with_its_cautions_before_it_and_its_readings_after_it() -> None:
    at = 0
    for stage in bench_sheet(Job({}, {}, Shop(), Path("blank.toml")))["stages"]:
        assert f'data-id="{stage["id"]}"' in TEXT
        for step in stage["steps"]:
            found = re.search(
                rf'<div class="step" data-step="{step["id"]}".*?<div class="step__fields">.*?</div>', TEXT
            )
            assert found, step["id"]
            assert at < found.start()
            at = found.start()
            told = unescape(found[0])
            places = [told.index(text) for text in (*step["cautions"], *step["how"])]
            assert places == sorted(places), step["id"]
            assert step["cautions"], step["id"]
            assert places[-1] < told.index('<div class="step__fields">')
            read = re.findall(r'data-field="([\w.]+)"', told)
            assert read[len(read) - len(step["readings"]) :] == [row["field"] for row in step["readings"]]


def test_every_field_is_one_of_the_job_file_and_asked_in_one_place() -> None:
    asked = re.findall(r'data-field="([\w.]+)"[^>]*', TEXT)
    for name in asked:
        *path, key = name.split(".")
        assert key in fields("job", path[-1]), name
    places = re.findall(r'data-field="[^>]*', TEXT)
    twice = {one for one in places if places.count(one) > 1}
    assert not twice, twice


def test_every_reading_is_one_that_the_script_reads() -> None:
    kinds = re.findall(r'data-field="([\w.]+)" data-kind="(?:quantity|repeats)"', TEXT)
    assert {name.split(".")[-2] for name in kinds} <= {*ONCE, *MANY, *BELOW_COIL}
    assert len(kinds) > 60


def test_the_words_of_the_phone_name_steps_and_checks_that_exist() -> None:
    for part in ("more", "named", "sheets"):
        assert set(WORDS[part]) <= set(STEPS), part
    named = {sheet for row in WORDS["sheets"].values() for sheet in row}
    assert named == {*SHEETS, "fit", "insulation", "open", "shifted"}


def test_the_gate_stands_before_the_first_test_under_pressure() -> None:
    shut = TEXT.index("bench__shut")
    assert TEXT.index('data-id="stand"') < shut < TEXT.index('data-step="stand-ready"')
    assert TEXT.count("bench__shut") == 1
    assert "bench__stage--gated" in TEXT[: TEXT.index('data-id="stand"')].rpartition("<section")[2]


def test_no_promise_is_made() -> None:
    assert not re.search(r"\bsafe(ly)?\b", re.sub(r"safe(ty)? (data|circuit)\w*", "", TEXT), re.IGNORECASE)
