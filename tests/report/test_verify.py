"""`valvecalc verify`: what was changed is found, an unchanged report is the same, another version is told apart."""

import json
import random
from collections.abc import Callable
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

from valvecalc.job.publish import publish, work_job
from valvecalc.report import html, pdf, pdf_pages
from valvecalc.report.digest import as_file, digest
from valvecalc.report.verify import verify

Table = dict[str, Any]
Run = Callable[..., Any]

#: A small job with a reading that feeds no calculation: the overlap, without a force curve and a duty.
JOB = """
id = "V-1"
title = "Sorting gate: sluggish when hot"
customer = "Amberholt Sawmill"
received = 2026-09-14
not_tested = ["Above 100 bar."]
[valve]
overlap = "1.3 mm ± 0.05 mm"
[oil]
viscosity_40 = "46 mm²/s"
[supply]
minimum_voltage = "21.6 V"
[[coil]]
name = "b"
nominal_voltage = "24 V"
nominal_power = "30 W"
resistance = { value = "19.4 ohm", instrument = "R1" }
coil_temperature = "22 °C ± 1 K"
hot_resistance = "25.1 ohm"
pickup = [
  { state = "no-pressure", voltage = "12.1 V", resistance = "19.8 ohm" },
  { state = "blocked", voltage = "14.0 V", resistance = "20.0 ohm" },
]
"""
SHOP = """
name = "Amberholt Bench"
paper = "Letter"
site = "https://shop.example/valves"
[[instrument]]
id = "R1"
kind = "ohmmeter"
accuracy = "0.5 % of reading"
calibrated_until = 2027-01-31
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The job worked once, with its files."""
    place = tmp_path_factory.mktemp("a-place-of-its-own")
    (place / "job.toml").write_text(JOB, "utf-8")
    (place / "shop.toml").write_text(SHOP, "utf-8")
    publish(work_job(place / "job.toml"), place / "report", place)
    return place / "report"


@pytest.fixture
def told(folder: Path) -> Table:
    """The report as data; every test gets a copy of its own."""
    found: Table = json.loads((folder / "V-1.json").read_text("utf-8"))
    return found


def write(told: Table, place: Path) -> str:
    file = place / "report.json"
    file.write_text(json.dumps(told, ensure_ascii=False), "utf-8")
    return str(file)


def reading(told: Table, word: str) -> Table:
    found: Table = next(row for row in told["readings"] if word in row["entry"])
    return found


def coil(told: Table) -> Table:
    found: Table = next(row for row in told["answers"] if row["id"] == "coil-check")
    return found


def nudge(row: Table, key: str, factor: float = 1.001) -> None:
    row[key] *= factor


CHANGES: dict[str, Callable[[Table], Any]] = {
    "a reading that feeds no calculation": lambda told: reading(told, "overlap").update(text="1.4 mm ± 0.05 mm"),
    "that reading in the job that travels": lambda told: told["made_from"]["job"]["valve"].update(overlap="1.4 mm"),
    "a result": lambda told: nudge(coil(told)["results"][0], "value"),
    "an uncertainty": lambda told: nudge(coil(told)["results"][0], "uncertainty", 0.5),
    "a verdict": lambda told: told["verdicts"][0].update(verdict="accept*"),
    "the headline": lambda told: told["headline"].update(sentence="All is well."),
    "what was not tested": lambda told: told["not_tested"].clear(),
    "the day": lambda told: told.update(made="2026-09-15"),
    "the customer": lambda told: told["job"].update(customer="Amberholt Sawmills"),
    "a calibration date": lambda told: told["instruments"][0].update(calibrated_until="2029-01-31"),
    "a worked line": lambda told: coil(told)["steps"][0].update(substituted="19.4 Ω"),
    "the version": lambda told: told.update(version="9.9.9"),
    "a part more": lambda told: told.update(praise="Nothing better anywhere."),
    "a part less": lambda told: told.pop("not_computed"),
    "a trailing blank": lambda told: told["now"].update(sentence=told["now"]["sentence"] + " "),
    "a unit": lambda told: coil(told)["results"][0].update(unit="kΩ"),
    "an edition": lambda told: coil(told).update(edition=coil(told)["edition"] + 1),
    "the shop": lambda told: told["shop"].update(name="Amberholt Benches"),
    "the order of rows": lambda told: told["readings"].reverse(),
    "the digest": lambda told: told.update(digest="sha256:" + "0" * 64),
}


def test_an_unchanged_report_is_the_same(folder: Path, run: Run) -> None:
    for name in ("V-1.json", "V-1.pdf"):
        done = run("verify", str(folder / name))
        assert (done.code, done.err) == (0, "")
        assert done.out.startswith("SAME: report V-1.")
        assert "Not compared" not in done.out


@pytest.mark.parametrize("change", CHANGES)
def test_a_planted_change_is_found(change: str, told: Table, tmp_path: Path, run: Run) -> None:
    CHANGES[change](told)
    done = run("verify", write(told, tmp_path), "--json")
    assert done.code == 3
    found = json.loads(done.out)
    assert (found["ok"], found["kind"], found["answer"]) == (True, "verification", "altered")
    (tmp_path / "report.pdf").write_bytes(pdf.render(told))
    assert run("verify", str(tmp_path / "report.pdf")).code == 3
    (tmp_path / "report.html").write_text(html.render(told), "utf-8")
    assert run("verify", str(tmp_path / "report.html")).code == 3


def test_a_changed_figure_is_named_with_what_it_should_be(told: Table, tmp_path: Path, run: Run) -> None:
    row = coil(told)["results"][0]
    was = row["value"]
    nudge(row, "value")
    out = " ".join(run("verify", write(told, tmp_path)).out.split())
    assert f"(resistance_20) › value: {row['value']} in the report, {was} worked anew" in out


def test_a_figure_that_does_not_follow_from_its_job_is_found_under_a_new_seal(told: Table) -> None:
    for change in ("a result", "a verdict", "what was not tested", "a reading that feeds no calculation"):
        other = deepcopy(told)
        CHANGES[change](other)
        other["digest"] = digest(other)
        assert verify(other).answer == "altered", change


def test_pages_that_are_not_those_of_the_data_are_found(told: Table, tmp_path: Path, run: Run) -> None:
    """The data inside are whole, what a reader sees is not."""
    other = deepcopy(told)
    other["now"]["sentence"] = "Signed off without reserve."
    data = {"doc": json.dumps(pdf_pages.document(other, {})), "report": as_file(told)}
    (tmp_path / "report.pdf").write_bytes(pdf._set(data, tmp_path))
    done = run("verify", str(tmp_path / "report.pdf"))
    assert done.code == 3
    assert "The pages of the PDF are not those that its data give." in " ".join(done.out.split())


def test_a_page_that_is_not_that_of_its_data_is_found(folder: Path, tmp_path: Path, run: Run) -> None:
    page = (folder / "V-1.html").read_text("utf-8")
    assert run("verify", str(folder / "V-1.html")).code == 0
    shown, mark, data = page.partition('<template id="report-data">')
    for was, now in (("Sorting gate", "Sorting gates"), ("Ω", "kΩ"), ("</main>", "<p>Signed off.</p></main>")):
        assert was in shown
        (tmp_path / "report.html").write_text(shown.replace(was, now, 1) + mark + data, "utf-8")
        done = run("verify", str(tmp_path / "report.html"))
        assert done.code == 3
        assert "The page is not the one that its data give." in " ".join(done.out.split())


def test_what_was_typed_cannot_leave_the_data_of_the_page(tmp_path: Path, run: Run) -> None:
    hostile = "</template><script>alert(1)</script><template id='report-data'>&amp;"
    (tmp_path / "job.toml").write_text(f'id = "H-1"\ncustomer = """{hostile}"""\n', "utf-8")
    publish(work_job(tmp_path / "job.toml"), tmp_path, tmp_path)
    page = (tmp_path / "H-1.html").read_text("utf-8")
    assert page.count("<template") == page.count("</template>") == 1
    assert "<script" not in page
    assert run("verify", str(tmp_path / "H-1.html")).code == 0


def test_a_caption_changed_under_a_new_seal_does_not_follow_from_the_job(tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text('id = "P-2"\n[[photo]]\nfile = "a.jpg"\ncaption = "whole"\n', "utf-8")
    told = work_job(tmp_path / "job.toml")
    assert verify(told).answer == "same"
    told["photos"][0]["caption"] = "cracked"
    told["digest"] = digest(told)
    assert verify(told).answer == "altered"


def test_a_photograph_put_in_place_of_another_is_found(tmp_path: Path, run: Run) -> None:
    """JPEG files lie in the PDF as they were taken, their digests in the data."""
    from PIL import Image

    (tmp_path / "shots").mkdir()
    for name, grey in (("a", 40), ("b", 90)):
        Image.new("L", (64, 48), grey).save(tmp_path / "shots" / f"{name}.jpg")
    job = 'id = "P-1"\n' + "".join(f'[[photo]]\nfile = "shots/{one}.jpg"\ncaption = "{one}"\n' for one in "ab")
    (tmp_path / "job.toml").write_text(job, "utf-8")
    told = work_job(tmp_path / "job.toml")
    publish(told, tmp_path, tmp_path)
    done = run("verify", str(tmp_path / "P-1.pdf"))
    assert (done.code, "Not compared" in done.out) == (0, False)
    (tmp_path / "shots" / "a.jpg").write_bytes((tmp_path / "shots" / "b.jpg").read_bytes())
    (tmp_path / "P-1.pdf").write_bytes(pdf.render(told, tmp_path))
    done = run("verify", str(tmp_path / "P-1.pdf"))
    assert done.code == 3
    assert "not in the PDF as they were: shots/a.jpg" in " ".join(done.out.split())


def test_another_version_that_gives_the_same_is_the_same(told: Table) -> None:
    told |= {"version": "0.0.9", "data_version": "0123456789ab"}
    told["headline"]["sentence"] = "Put in other words then."
    told["digest"] = digest(told)
    found = verify(told)
    assert (found.answer, found.changes, found.calculations) == ("same", [], [])


def test_another_version_that_gives_another_figure_names_it(told: Table, tmp_path: Path, run: Run) -> None:
    told |= {"version": "0.0.9", "data_version": "0123456789ab"}
    nudge(coil(told)["results"][0], "value")
    told["made_from"]["editions"]["resistance-at-20"] = 0
    told["made_from"]["data"]["coil_supplies.csv"] = "0" * 12
    told["digest"] = digest(told)
    done = run("verify", write(told, tmp_path))
    assert done.code == 4
    out = " ".join(done.out.split())
    assert out.startswith("DIFFERS BY VERSION: report V-1. Written by valvecalc 0.0.9")
    assert "resistance-at-20: edition 0 then, edition 1 now" in out
    assert "coil_supplies.csv" in out
    assert "resistance_20 › value" in out
    told["job"]["customer"] = "Someone else"
    assert run("verify", write(told, tmp_path)).code == 3, "altered is told before the version"


def test_what_travels_holds_no_path_of_this_computer(folder: Path, told: Table) -> None:
    text = (folder / "V-1.json").read_text("utf-8")
    assert "a-place-of-its-own" not in text
    assert told["made_from"]["file"] == "job.toml"
    assert b"a-place-of-its-own" not in (folder / "V-1.pdf").read_bytes()


def test_the_digest_stands_in_every_form(folder: Path, told: Table) -> None:
    from pypdf import PdfReader

    assert told["digest"] == digest(told)
    assert told["digest"] in (folder / "V-1.html").read_text("utf-8")
    text = "".join("".join(page.extract_text().split()) for page in PdfReader(folder / "V-1.pdf").pages)
    assert told["digest"] in text


def test_a_report_is_made_again_byte_for_byte_on_another_day(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import datetime

    class Later(datetime.date):
        @classmethod
        def today(cls) -> "Later":
            return cls(2031, 3, 4)

    monkeypatch.setattr(datetime, "date", Later)
    files = publish(work_job(folder.parent / "job.toml"), tmp_path, folder.parent)
    assert {file.name: file.read_bytes() for file in files} == {
        file.name: file.read_bytes() for file in folder.iterdir()
    }


def test_a_report_is_of_the_last_day_that_its_job_tells_of(tmp_path: Path) -> None:
    """Days to come and those of rubber are none; without a day no calibration is judged, and that is said."""
    (tmp_path / "shop.toml").write_text(SHOP, "utf-8")
    file = tmp_path / "job.toml"
    days = "received = 2026-09-14\n[dispatch]\nsent = 2026-09-18\noldest_seal = 2026-12-01\n"
    file.write_text(f"{days}[feedback]\ncall_back = 2027-02-01\n", "utf-8")
    assert work_job(file)["made"] == "2026-09-18"
    file.write_text('title = "no day"\n', "utf-8")
    told = work_job(file)
    assert told["made"] == ""
    assert any("names no day" in text for text in told["assumed"])


def test_hostile_files_are_refused_in_one_sentence(folder: Path, told: Table, tmp_path: Path, run: Run) -> None:
    from pypdf import PdfWriter

    (tmp_path / "junk.pdf").write_bytes(b"%PDF-1.7\n\xff\xfe junk")
    bare = PdfWriter()
    bare.add_blank_page(100, 100)
    bare.write(tmp_path / "bare.pdf")
    two = PdfWriter(clone_from=folder / "V-1.pdf")
    two.add_attachment("report.json", b"{}")
    two.write(tmp_path / "two.pdf")
    page = (folder / "V-1.html").read_text("utf-8")
    (tmp_path / "cut.pdf").write_bytes((folder / "V-1.pdf").read_bytes()[:-2000])
    (tmp_path / "cut.html").write_text(page[:-500], "utf-8")
    (tmp_path / "twice.html").write_text(page + page, "utf-8")
    (tmp_path / "foreign.html").write_text("<!DOCTYPE html><p>A report.", "utf-8")
    (tmp_path / "list.json").write_text("[]", "utf-8")
    (tmp_path / "deep.json").write_text("[" * 200_000, "utf-8")
    (tmp_path / "bytes.json").write_bytes(b"\xff\x00\xfe")
    (tmp_path / "other.json").write_text('{"kind": "answer"}', "utf-8")
    for name in (
        "junk.pdf",
        "bare.pdf",
        "two.pdf",
        "cut.pdf",
        "cut.html",
        "twice.html",
        "foreign.html",
        "list.json",
        "deep.json",
        "bytes.json",
        "other.json",
        "gone.json",
    ):
        done = run("verify", str(tmp_path / name))
        assert (done.code, done.out) == (2, ""), name
        assert done.err.count("\n") == 1, name
    told["made_from"]["job"] = {"photo": [{"file": "/etc/hostname"}], "coil": "none", "replacement": {"duty": "/etc/x"}}
    told["digest"] = digest(told)
    assert run("verify", write(told, tmp_path)).code == 3


def test_data_without_the_shape_of_a_report_are_altered_whatever_they_are(told: Table) -> None:
    """Every part in turn replaced by something else and sealed again: an answer each time, no fault."""
    dice = random.Random(8)
    for key in told:
        for other in ("text", 7, None, [1], {"a": []}, [{"id": [], "kind": "x", "results": 3}]):
            if dice.random() < 0.5 and key not in ("kind", "digest"):
                changed = {**told, key: other}
                changed["digest"] = digest(changed)
                found = verify(changed)
                assert found.answer in ("altered", "cannot tell", "same", "differs by version"), key
                assert found.answer != "same" or key in ("photos", "replacement", "version", "data_version"), key


def test_an_older_report_cannot_be_held_against_anything(told: Table, tmp_path: Path, run: Run) -> None:
    for key in ("digest", "made_from"):
        older = {name: one for name, one in told.items() if name != key}
        assert run("verify", write(older, tmp_path)).code == 1
