"""What the reader tells of a job that a technician typed for the first time; all of it at once."""

import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from valvecalc.errors import InputError
from valvecalc.facts import parse_toml
from valvecalc.job.read import Job
from valvecalc.job.reader import is_day

Table = dict[str, Any]
Read = Callable[[Table], Job]


def faults(read: Read, job: Table) -> list[str]:
    with pytest.raises(InputError) as caught:
        read(job)
    return [str(one) for one in caught.value.troubles]


@pytest.mark.parametrize(
    "text", ["2026-05-04", "2026-05-04 07:40:00", "2026-05-04T07:40", "2026-05", "2026", "2Q2026", "3Q24", "2026-Q1"]
)
def test_a_day_a_month_a_year_and_a_seals_quarter_are_days(text: str) -> None:
    assert is_day(text)


@pytest.mark.parametrize("text", ["last week", "4.5.2026", "2026-02-30", "2026-5-4", "5Q2026", "07:40:00", ""])
def test_anything_else_is_none(text: str, read: Read) -> None:
    assert not is_day(text)
    (told,) = faults(read, {"id": "1", "received": text})
    assert "need a day" in told and "2026-05-04" in told


def test_every_trial_that_cannot_be_read_is_told(read: Read) -> None:
    told = faults(read, {"coil": [{"name": "a", "resistance": ["19 ohm", 20, "x", "19.2 ohm"]}]})
    assert len(told) == 2 and "trial 2: '20'" in told[0] and "trial 3: 'x'" in told[1]


def test_a_guessed_key_of_a_correction_is_told_with_the_right_ones(read: Read) -> None:
    value = {"value": "19 ohm", "corrected": "18 ohm", "reason": "slip"}
    told = faults(read, {"coil": [{"name": "a", "resistance": value}]})
    assert len(told) == 2 and all("earlier, why, by" in one for one in told)


def test_a_word_in_capitals_is_told_with_the_one_to_write(read: Read) -> None:
    (told,) = faults(read, {"coil": [{"name": "a", "kind": "DC"}]})
    assert told.endswith("need one of dc, ac. Write dc.")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('[duty]\npump_flow = "3 L/min"\n[duty]\n', "line 3, column 6): [duty], need TOML. It stands there already"),
        ("[duty]\npump_flow = 3 L/min\n", 'pump_flow = 3 L/min, need TOML. Correct that line: a text, and a value'),
    ],
)  # fmt: skip
def test_a_file_that_is_no_toml_is_told_with_its_line(text: str, said: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_toml(text.encode(), "job.toml")
    assert said in str(caught.value)


def test_a_limit_by_a_wrong_name_is_told_where_the_names_stand(tmp_path: Path) -> None:
    from valvecalc.job.read import read_shop

    path = tmp_path / "shop.toml"
    path.write_text("[limits]\nzzz = 1\n", "utf-8")
    with pytest.raises(InputError, match="bench sheet prints each limit's name"):
        read_shop(path)


@pytest.mark.parametrize("arguments", [["list"], ["report", "no-such.toml", "--json"]])
def test_a_reader_that_goes_away_leaves_no_traceback(arguments: list[str]) -> None:
    with subprocess.Popen([sys.executable, "-m", "valvecalc", *arguments], stdout=-1, stderr=-1) as run:
        assert run.stdout is not None and run.stderr is not None
        run.stdout.close()  # before the first word
        told = run.stderr.read()
    assert told == b""


def test_an_open_or_leaking_winding_is_the_first_thing_to_do(work: Callable[..., Any]) -> None:
    coils = [
        {"name": "a", "kind": "ac", "open": True},
        {"name": "b", "kind": "ac", "insulation": "0.3 MΩ", "open": False},
    ]
    report = work({"id": "1", "coil": coils})[1]
    told = {row["subject"]: row["verdict"] for row in report["verdicts"]}
    assert told["coil a: winding"] == "reject" and told["coil b: winding"] == "accept"
    actions = report["headline"]["actions"]
    assert "Coil a is open" in actions[0] and "0.3 MΩ" in actions[1]
    assert "holding current" in actions[2]  # an AC coil is not asked for its pick-up volts


def test_an_ac_coil_tells_by_its_amps_whether_it_closed(work: Callable[..., Any]) -> None:
    """(0.56 - 0.38) / (1.30 - 0.38) = 19.6 % of the way to inrush: closed, and 0.58 A is not; the limit is 20 %."""
    for amps, verdict in (("0.56 A", "accept"), ("0.58 A", "reject")):
        coil = {"name": "b", "kind": "ac", "current": amps, "inrush_current": "1.30 A", "holding_current": "0.38 A"}
        told = {row["subject"]: row["verdict"] for row in work({"id": "1", "coil": [coil]})[1]["verdicts"]}
        assert [one for name, one in told.items() if name.startswith("coil b: ")] == [verdict], amps


def test_a_run_without_a_look_before_it_is_doubted(work: Callable[..., Any]) -> None:
    job = {"id": "1", "as_received": {"pressure": "1200 psi"}}
    said = "nobody has written down how its outside looked before"
    assert any(said in text for text in work(job)[1]["assumed"])
    assert not any(said in text for text in work(job | {"outside": {"crack": False}})[1]["assumed"])
