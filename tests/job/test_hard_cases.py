"""Whole jobs that are hard: half-finished, many photographs, two faults, declined, units mixed, names in any script."""

import copy
import struct
import tomllib
import zlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.job.conftest import toml
from valvecalc.demo import JOBS
from valvecalc.job.publish import publish, work_job
from valvecalc.report import pdf

Table = dict[str, Any]
Work = Callable[..., tuple[Any, Table]]
LIFT = tomllib.loads((JOBS / "carton-lift.toml").read_text("utf-8"))
HEAD = (
    "schema",
    "id",
    "title",
    "customer",
    "machine",
    "valve_words",
    "complaint",
    "received",
    "work_done",
    "not_tested",
)
NAMES = ["वाल्व मरम्मत", "油圧バルブ 弁", "صمام هيدروليكي", "שסתום", "Śliwa ğ ñ ø", "Клапан Ω", "გ ა", "👷\u200d♀️ ok"]


def png(shade: int) -> bytes:
    """A grey square of 24 by 24."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = b"".join(b"\0" + bytes([shade]) * 24 for _ in range(24))
    head = struct.pack(">IIBBBBB", 24, 24, 8, 0, 0, 0, 0)
    parts = chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows)) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + parts


def test_a_job_is_worked_at_every_stage_on_the_way(work: Work) -> None:
    """One table more each time, as a shop fills it in; nothing but what is there is told."""
    tables = [key for key in LIFT if key not in HEAD and key != "out_of_service"]
    for count in range(len(tables) + 1):
        job = {key: LIFT[key] for key in LIFT if key in (*HEAD, *tables[:count])}
        _, report = work(job)
        told = {row["table"] for row in report["record"]}
        assert told <= set(tables[:count]), count
        if count == 0:
            assert (report["answers"], report["verdicts"]) == ([], [])
            assert report["headline"]["verdict"] == "cannot tell"
        decided = [row for row in report["record"] if row["table"] == "decision"]
        assert bool(decided) is ("decision" in job)


def test_sixty_photographs(tmp_path: Path) -> None:
    from pypdf import PdfReader

    rows = []
    for number in range(60):
        (tmp_path / f"p{number}.png").write_bytes(png(4 * number))
        rows.append(f'[[photo]]\nfile = "p{number}.png"\ncaption = "picture {number} {NAMES[number % 8]}"\n')
    rows[7] = rows[7].replace("p7.png", "gone.png")
    (tmp_path / "job.toml").write_text('id = "P-60"\n' + "".join(rows), "utf-8")
    report = work_job(tmp_path / "job.toml")
    assert [place for place, row in enumerate(report["photos"]) if row["note"]] == [7]
    files = {path.suffix: path for path in publish(report, tmp_path / "out", tmp_path)}
    reader = PdfReader(files[".pdf"])
    pictures = sum(len(page.images) for page in reader.pages)
    assert pictures == 59
    words = "".join(page.extract_text() for page in reader.pages)
    assert all(f"picture {number} " in words.replace("\n", " ") for number in range(60))
    assert "gone.png" in words


def test_names_in_any_script_stand_in_every_form(tmp_path: Path) -> None:
    from pypdf import PdfReader

    job = copy.deepcopy(LIFT) | {"id": NAMES[1], "customer": NAMES[2], "title": NAMES[0], "machine": " / ".join(NAMES)}
    for table, key in (("decision", "agreed_by"), ("cause", "by"), ("outside", "by")):
        job[table][key] = NAMES[3]
    (tmp_path / "ジョブ.toml").write_text("\n".join(f"{key} = {toml(value)}" for key, value in job.items()), "utf-8")
    shop = (JOBS / "shop.toml").read_text("utf-8").replace("Lindgrove Bench Hydraulics", NAMES[5])
    (tmp_path / "shop.toml").write_text(shop, "utf-8")
    files = publish(work_job(tmp_path / "ジョブ.toml"), tmp_path / "बाहर")
    assert {path.parent.name for path in files} == {"बाहर"}
    told = {path.suffix: path.read_bytes() for path in files}
    for form in (".html", ".json", ".txt"):
        words = told[form].decode()
        assert all(name.split()[0] in words for name in (*NAMES[:4], NAMES[5])), form
    if pdf.available():
        words = "".join(page.extract_text() for page in PdfReader(next(p for p in files if p.suffix == ".pdf")).pages)
        assert "Клапан" in words and "Śliwa" in words


def test_two_faults_are_both_told(work: Work) -> None:
    """A coil of half the voltage (a quarter of the ohms) and a leakage four times that of a new valve."""
    job = copy.deepcopy(LIFT)
    job["coil"][1] |= {"resistance": "4.8 Ω", "hot_resistance": "6.25 Ω"}
    job["valve"] |= {"diametral_clearance": "20 µm ± 1 µm", "new_diametral_clearance": "9 µm"}
    job["leakage"][0]["leakage"] = "90 mL/min ± 2 %"
    job["decision"]["what"], job["cause"] = (
        "repair",
        {"killer": "wrong-coil-fitted", "evidence": ["a quarter of the ohms"]},
    )
    actions = " ".join(work(job)[1]["headline"]["actions"])
    assert "Coil b reads" in actions and "near four times or a quarter" in actions
    assert "Leakage on P to T" in actions and "worn" in actions


def test_declined_is_recorded_and_nothing_is_released(work: Work) -> None:
    job = copy.deepcopy(LIFT)
    job["decision"] = {"what": "declined", "why": "too dear", "agreed_by": "owner"}
    job["part"] = [{"name": "tube b", "verdict": "scrap", "finding": "dented"}]
    report = work(job)[1]
    assert any("declined" in one and "tube b" in one for one in report["warnings"])
    assert any(cell["text"] == "declined" for row in report["record"] for line in row["rows"] for cell in line)


def test_units_may_be_mixed_and_the_answer_is_the_same(work: Work) -> None:
    """The job as it is, in inches and pounds beside litres and metres, against the same readings all metric."""
    metric = copy.deepcopy(LIFT)
    metric["supply"]["cable_length"] = "57.912 m"
    metric["leakage"][0]["pressure_drop"]["value"] = "89.6318448112 bar"
    line = metric["line"][0]
    line["measured_drop"]["value"], line["component_drop"] = "2.48211262554 bar", "0.482633010522 bar"
    line |= {"flow": "18.92705892 L/min ± 3 %", "tube_bore": "10.922 mm", "line_length": "4.8768 m"}
    mixed, plain = work(LIFT)[1], work(metric)[1]
    assert [(row["subject"], row["verdict"]) for row in mixed["verdicts"]] == [
        (row["subject"], row["verdict"]) for row in plain["verdicts"]
    ]
    for one, other in zip(mixed["answers"], plain["answers"], strict=True):
        for left, right in zip(one["results"], other["results"], strict=True):
            if isinstance(left["value"], float):
                assert left["value"] == pytest.approx(right["value"], rel=1e-9, abs=1e-9), left["name"]
