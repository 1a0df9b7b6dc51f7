"""The record of a job: every field told, the gate before pressure, contradictions, corrections, hostile texts."""

import json
import tomllib
from collections.abc import Callable, Iterator
from html.parser import HTMLParser
from pathlib import Path
from re import DOTALL, sub
from typing import Any

import pytest

from tests.job.record_base import RECORD
from valvecalc.errors import InputError
from valvecalc.job.fields import fields, record_tables
from valvecalc.report import html, text

Table = dict[str, Any]
Work = Callable[..., tuple[Any, Table]]
Read = Callable[..., Any]


@pytest.fixture
def record() -> Table:
    """A job that is nothing but its record, every key of it once."""
    return {"complaint": "w", "received": "2026-10-01"} | tomllib.loads(RECORD)


def words(page: str) -> str:
    """The text of a page without markup, blanks evened out."""
    return " ".join(sub(r"<style>.*?</style>|<[^>]*>", " ", page, flags=DOTALL).split())


def troubles(read: Read, job: Table | str, shop: str | None = None) -> dict[str, str]:
    with pytest.raises(InputError) as fault:
        read(job, shop)
    return {trouble.entry: trouble.do for trouble in fault.value.troubles}


def test_every_key_of_the_record_is_in_the_job_of_this_test(record: Table) -> None:
    for name in record_tables():
        row = record[name][0] if isinstance(record[name], list) else record[name]
        assert set(row) == set(fields("job", name)), name


@pytest.mark.parametrize("render", (html.render, text.render))
def test_every_word_of_the_record_is_printed(record: Table, work: Work, render: Callable[[Any], str]) -> None:
    page = words(render(work(record)[1]))
    for name in record_tables():
        row = record[name][0] if isinstance(record[name], list) else record[name]
        for key, value in row.items():
            if key in ("killer", "root"):
                continue  # by the titles of the fault finder, see below
            for one in value if isinstance(value, list) else [value]:
                said = {True: "yes", False: "no"}[one] if isinstance(one, bool) else str(one)
                said = said.replace("-", " ") if fields("job", name)[key].kind == "choice" else said
                assert said in page, (name, key)
    for said in ("os-1", "Spool silt-locked after standing", "Oil dirtier than the valve can stand", "198 min"):
        assert said in page


def test_the_order_a_customer_reads(record: Table, work: Work) -> None:
    """Out of service, complaint, as found, cause, decision, work done, as left, not tested, what to measure."""
    record["work_done"] = ["wd-1"]
    page = words(html.render(work(record)[1]))
    order = [
        *("os-1", "Complaint w", "ar-2", "pa-2", "in-1", "Spool silt-locked", "de-1", "wd-1", "pu-1", "ac-4"),
        *("Not tested", "ac-1: not run, ac-5.", "Load held and zero proved before a measuring point", "fe-1", "di-1"),
    ]
    places = []
    for said in order:
        places.append(page.index(said, places[-1] if places else 0))
    assert places == sorted(places)


def test_times_add_up(record: Table, work: Work) -> None:
    (row,) = [row for row in work(record)[1]["record"] if row["table"] == "times"]
    assert row["rows"][0][-1]["text"] == f"{sum(range(11, 23))} min"


# ---- the gate


def test_a_sound_outside_with_every_rating_opens_the_gate(record: Table, work: Work) -> None:
    gate = work(record)[1]["gate"]
    assert (gate["closed"], gate["reasons"]) == (False, [])
    assert "P 315 bar, A 314 bar, B 313 bar, T 160 bar" in gate["ratings"]


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [("tube", "dented", "tube is dented"), ("tube", None, "how the armature tube looks"), ("crack", True, "cracked"),
     ("crack", None, "no crack"), ("threads_damaged", True, "thread"), ("threads_damaged", None, "threads are whole"),
     ("screws", "mixed", "mixed"), ("screws", None, "screws are complete"), ("rated_t", None, "for T.")],
)  # fmt: skip
def test_each_reason_keeps_pressure_off(record: Table, work: Work, key: str, value: Any, said: str) -> None:
    """Not looked at and not known count as reasons: each alone shuts the gate."""
    if value is None:
        del record["outside"][key]
    else:
        record["outside"][key] = value
    del record["as_received"]
    told = work(record)[1]
    (reason,) = told["gate"]["reasons"]
    assert said in reason
    for page in (html.render(told), text.render(told)):
        assert "no pressure on the stand" in page.lower()


def test_a_run_behind_a_shut_gate_is_told(record: Table, work: Work) -> None:
    record["outside"]["tube"] = "bent"
    told = work(record)[1]
    assert "run on the stand all the same" in told["gate"]["reasons"][-1]
    assert [one for one in told["warnings"] if "armature tube came in bent" in one]


def test_without_a_look_nothing_is_said_of_a_gate(record: Table, work: Work) -> None:
    del record["outside"]
    assert work(record)[1]["gate"] == {}


def test_a_crack_stands_first(record: Table, work: Work) -> None:
    record["outside"]["crack"] = True
    assert words(html.render(work(record)[1])).index("body is cracked") < 600


# ---- contradictions, all at once


def test_contradictions_are_told_together(record: Table, read: Read) -> None:
    record["cause"] = {"victims": ["coil-open"]}
    record["decision"] |= {"agreed_on": "2026-09-01"}
    record["as_received"] = {"reproduced": "not-run"}
    record["acceptance"][0]["why"] = " "
    record["feedback"]["outcome"] = "held"
    record["part"].append({"name": "pa-1", "verdict": "scrap"})
    record["dispatch"]["tag"] = "Safe to run."
    told = troubles(read, record)
    assert set(told) == {
        "cause.killer", "decision.agreed_on", "as_received.why", "acceptance 1.why", "feedback.outcome",
        "part.verdict", "dispatch.tag",
    }  # fmt: skip
    assert "never closed on a victim alone" in told["cause.killer"]


def test_a_killer_that_is_not_known_is_an_answer(record: Table, work: Work) -> None:
    record["cause"] = {"killer": "unknown", "victims": ["coil-open"]}
    told = work(record)[1]["assumed"]
    assert any("What killed the valve is not known" in one for one in told)
    assert any("What on the machine began it is not known" in one for one in told)


def test_a_second_fault_stands_beside_the_first(record: Table, read: Read, work: Work) -> None:
    record["cause"] = {"killer": "spool-silted", "also": ["coil-open"], "evidence": ["both seen"]}
    assert "Coil winding open" in words(html.render(work(record)[1]))
    for fault in (
        {"also": ["coil-open"]},
        {"killer": "unknown", "also": ["coil-open"]},
        {"killer": "a b", "also": ["a b"]},
    ):
        assert "cause.also" in troubles(read, record | {"cause": fault}), fault
    del record["cause"]
    twice = "".join(f'[[cause]]\nkiller = "{one}"\n' for one in ("spool-silted", "coil-open"))
    with pytest.raises(InputError, match="A second fault stands under also"):
        read(twice)


def test_a_cause_of_the_valve_is_no_missing_fault(record: Table, read: Read, work: Work) -> None:
    record["decision"]["what"] = "no-fault-found"
    assert "decision.what" in troubles(read, record)
    record["cause"]["killer"] = "no-supply-voltage"
    assert work(record)[1]["record"]


def test_a_misspelt_name_is_told_with_the_nearest(record: Table, read: Read) -> None:
    record["cause"] |= {"killer": "spool-silded", "root": "oil-drity"}
    told = troubles(read, record)
    assert "spool-silted" in told["cause.killer"]
    assert "oil-dirty" in told["cause.root"]
    record["cause"] |= {"killer": "a nick from a screwdriver", "root": "nobody knows"}
    read(record)


def test_declined_with_a_scrapped_part_warns(record: Table, work: Work) -> None:
    record["decision"]["what"] = "declined"
    record["part"].append({"name": "tube b", "verdict": "scrap"})
    assert any("tube b" in one and "declined" in one for one in work(record)[1]["warnings"])


def test_customers_words_stand_as_they_were_said(record: Table, work: Work) -> None:
    record["complaint"] = "Is it safe to run?"
    record["intake"]["fails"] = "feels not safe"
    assert work(record)[1]["job"]["complaint"] == "Is it safe to run?"


# ---- halves, photos, corrections


def leaves(value: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    if isinstance(value, dict):
        for key, one in value.items():
            yield (*path, key)
            yield from leaves(one, (*path, key))
    elif isinstance(value, list):
        for place, one in enumerate(value):
            yield from leaves(one, (*path, place))


def test_a_half_finished_record_is_never_an_error(record: Table, work: Work) -> None:
    """Any key taken away, save the killer of a victim and the reason for what was not run."""
    for path in leaves(record):
        if path in (("cause", "killer"), ("acceptance", 0, "why")):
            continue
        job = json.loads(json.dumps(record, default=str))
        at = job
        for key in path[:-1]:
            at = at[key]
        del at[path[-1]]
        told = work(job)[1]
        assert "None" not in words(html.render(told)), path
        assert "None" not in text.render(told), path


def test_a_photo_that_is_not_there_is_told(record: Table, work: Work, tmp_path: Path) -> None:
    (tmp_path / "six-sides.jpg").write_bytes(b"\xff\xd8")
    record["photo"] += [{"file": "six-sides.jpg", "caption": "c"}, {"caption": "no file"}, {"file": "a\x00b" * 200}]
    told = work(record)[1]
    assert [bool(row["note"]) for row in told["photos"]] == [True, False, True, True]
    assert "file not found beside the job file" in words(html.render(told))


def test_a_correction_keeps_the_earlier_value(work: Work, read: Read) -> None:
    fixed = {"value": "63 ohm", "earlier": ["68 ohm", "67"], "why": "leads not subtracted", "by": "R. T."}
    coil = {"name": "a", "resistance": [fixed, "63.2 ohm"], "coil_temperature": "20 °C"}
    job = {
        "complaint": {"value": "does not open", "earlier": "does not shut", "why": "misheard"},
        "coil": [coil | {"nominal_voltage": "48 V", "nominal_power": "37 W"}],
    }
    findings, told = work(job)
    assert findings.coils["a"].entries["resistance"].si == pytest.approx(63.1)
    assert told["job"]["complaint"] == "does not open"
    assert {(row["entry"], row["now"], tuple(row["earlier"])) for row in told["corrections"]} == {
        ("complaint", "does not open", ("does not shut",)),
        ("coil a resistance", "63 ohm", ("68 ohm", "67")),
    }
    for page in (html.render(told), text.render(told)):
        for said in ("68 ohm; 67", "leads not subtracted, R. T.", "does not shut"):
            assert said in words(page)
    del fixed["why"]
    assert set(troubles(read, job)) == {"coil a.resistance.why"}
    del fixed["value"]
    assert set(troubles(read, job)) == {"coil a.resistance"}


# ---- hostile texts, any script

HOSTILE = "</dd><script>alert(1)</script>\"'&\x1b[2J"
SCRIPTS = "ابن خلدون · 山田 · Đặng · Ωμέγα · 🛠"


class _Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()

    def handle_starttag(self, tag: str, attrs: Any) -> None:
        self.tags.add(tag)


def flooded(record: Table, extra: str) -> Table:
    """The record with something more in every text field."""
    job = json.loads(json.dumps(record, default=str))
    for name in record_tables():
        for row in job[name] if isinstance(job[name], list) else [job[name]]:
            for key, field in fields("job", name).items():
                if field.kind in ("text", "words"):
                    row[key] = [one + extra for one in row[key]] if field.kind == "words" else row[key] + extra
    return job


def test_whatever_was_typed_is_shown_and_not_obeyed(record: Table, work: Work) -> None:
    told = work(flooded(record, HOSTILE))[1]
    page = html.render(told)
    tags = _Tags()
    tags.feed(page)
    assert "script" not in tags.tags
    assert "\x1b" not in page + text.render(told) + json.dumps(told, ensure_ascii=False)
    assert page.count("&lt;script&gt;alert(1)") >= 40


def test_names_in_any_script(record: Table, work: Work) -> None:
    told = work(flooded(record, SCRIPTS))[1]
    for page in (html.render(told), text.render(told)):
        assert words(page).count("山田") >= 40
    assert f"<bdi>in-1{SCRIPTS}</bdi>" in html.render(told)


def test_our_own_words_promise_nothing(record: Table, work: Work) -> None:
    record["outside"] = {"leak": "wet"}
    told = work(record)[1]
    for page in (html.render(told), text.render(told)):
        for word in ("safe", "harmless", "guarantee", "cannot fail", "no risk", "will hold"):
            assert word not in words(page).lower()
