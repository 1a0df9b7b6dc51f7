"""The estimate before the work: sums by hand, money as typed, what is not known told, nothing of a file obeyed."""

import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from valvecalc.cli import main
from valvecalc.demo import JOB
from valvecalc.facts import load_toml
from valvecalc.job.estimate import estimate
from valvecalc.job.money import money
from valvecalc.job.read import Job
from valvecalc.report import pdf, pdf_estimate
from valvecalc.report.estimate import page, text

Table = dict[str, Any]
Read = Callable[..., Job]
RATE = {"name": "Shop", "hourly_rate": "60 EUR"}
REPAIR = {"name": "clean", "what": "repair", "hours": "150 min", "parts": "22 EUR"}
RISK = {"comeback_share": "20 %", "comeback_cost": "400 EUR"}
NEW = {"name": "new", "what": "replace", "cost": "520 EUR", "comeback_share": "15 %", "comeback_cost": "400 EUR"}


def job(*options: Table, **more: Any) -> Table:
    return {"schema": 1, "id": "E-1", "option": list(options)} | more


@pytest.mark.parametrize(
    ("typed", "said"),
    [("190 EUR", "190 EUR"), ("EUR 190", "EUR 190"), ("$190.50", "$190.50"), ("1 250,50 €", "1250.50 €"),
     ("1.234,50 EUR", "1234.50 EUR"), ("£0", "£0"), ("US$ 5", "US$5"), ("1 200 kr", "1200 kr")],
)  # fmt: skip
def test_money_is_read_and_written_as_typed(typed: str, said: str) -> None:
    found = money(typed)
    assert found is not None and found.text == said


@pytest.mark.parametrize(
    "typed",
    [
        "",
        "190",
        "about 200 EUR",
        "about 200",
        "ca 200",
        "~200",
        "200 hours",
        "1,500 EUR",
        "-5 EUR",
        "EUR",
        "$5 EUR",
        "5 EUR 3",
        "1e400 EUR",
    ],
)
def test_what_is_no_plain_amount_is_not_reckoned_with(typed: str) -> None:
    assert money(typed) is None


def test_sums_worked_by_hand(read: Read) -> None:
    """2.5 h × 60 + 22 = 172, + 20 % of 400 = 252; 520 + 15 % of 400 = 580."""
    told = estimate(read(job(REPAIR | RISK, NEW), RATE))
    assert [row["cost"] for row in told["options"]] == ["172 EUR", "520 EUR"]
    assert [row["expected"] for row in told["options"]] == ["252 EUR", "580 EUR"]
    assert "clean" in told["least"] and "252 EUR" in told["least"]


def test_a_typed_cost_wins_over_hours_and_parts(read: Read) -> None:
    (row,) = estimate(read(job(REPAIR | {"cost": "200 EUR"}), RATE))["options"]
    assert row["cost"] == "200 EUR" and not row["expected"] and row["needs"]


@pytest.mark.parametrize(
    ("option", "shop", "said"),
    [
        (REPAIR, {"name": "Shop"}, "hourly_rate"),
        ({"name": "x"}, RATE, "cost, or hours, or parts"),
        (REPAIR | {"parts": "22 USD"}, RATE, "more than one currency"),
        (REPAIR | {"parts": "a few"}, RATE, "no amount"),
        (NEW | {"comeback_cost": "400 USD"}, RATE, "more than one currency"),
    ],
)
def test_what_cannot_be_reckoned_is_told(read: Read, option: Table, shop: Table, said: str) -> None:
    told = estimate(read(job(option, NEW), shop))
    assert said in text(told, 10000) and said in page(told)
    assert not told["options"][0]["expected"] and not told["least"]


def test_nothing_is_known_of_a_half_empty_job_and_that_is_said(read: Read) -> None:
    told = estimate(read({"schema": 1, "id": "E-2"}))
    assert told["options"] == [] and "[[option]]" in " ".join(told["open"])
    assert "not known" in told["cause"][0] and "not known" in told["nothing"][0]
    assert "______" in told["answer"][0]


def test_the_machines_share_is_in_the_words_of_its_root_with_the_caution_first(read: Read) -> None:
    cause = {"killer": "spool-silted", "root": "oil-dirty", "evidence": ["paste in the clearance"]}
    told = estimate(read(job(NEW, cause=cause), RATE))
    root = next(one for one in load_toml("faults/roots.toml")["roots"] if one["id"] == "oil-dirty")
    assert told["nothing"][0] == root["how_it_kills"]
    first, measured = told["nothing"][-2:]
    assert "zero proved" in first and root["measure"] in measured
    assert "Spool silt-locked" in told["cause"][0] and "paste" in " ".join(told["cause"])


def test_accepted_or_declined_stands_as_the_decision_records_it(read: Read) -> None:
    yes = {"what": "repair", "price": "172 EUR", "agreed_by": "office", "agreed_on": "2026-11-17"}
    assert estimate(read(job(NEW, decision={"what": "declined", "why": "too dear"})))["answer"][0] == "Declined."
    told = estimate(read(job(NEW, decision=yes)))["answer"]
    assert told[0] == "Accepted: repair." and "By office." in told and "Price agreed: 172 EUR." in told
    assert "______" in estimate(read(job(NEW, decision={"what": "repair"})))["answer"][0]


def test_what_keeps_the_machine_out_of_service_stands_first(read: Read) -> None:
    told = estimate(read(job(NEW, outside={"crack": True}), RATE))
    assert told["warnings"]
    for printed in (text(told, 10000), page(told)):
        assert printed.index(told["warnings"][0]) < printed.index("What can be done")
        assert printed.index("Pump off is not zero") < printed.index("What can be done")


def test_hostile_words_are_shown_and_not_obeyed(read: Read) -> None:
    bad = "<script>alert(1)</script>\"'&"
    option = {"name": bad, "parts": bad, "cost": bad, "ready": bad, "comeback_cost": bad, "why": bad}
    told = estimate(read(job(option, title=bad, customer=bad), {"name": bad, "hourly_rate": bad}))
    assert "<script" not in page(told) and "&lt;script&gt;" in page(told)
    assert json.loads(json.dumps(told))["options"][0]["name"] == bad


@pytest.mark.parametrize(("paper", "height"), [("A4", 842), ("Letter", 792)])
def test_the_pdf_is_one_sheet_to_sign(paper: str, height: int, read: Read) -> None:
    pytest.importorskip("typst")
    shop = JOB.with_name("shop.toml").read_text("utf-8").replace('paper = "A4"', f'paper = "{paper}"')
    told = estimate(read(JOB.read_text("utf-8"), shop))
    (page,) = PdfReader(io.BytesIO(pdf_estimate.render(told))).pages
    words = " ".join(page.extract_text().split())
    assert round(float(page.mediabox.height)) == height
    for said in ("Before any work", "370 EUR (190 EUR + 20 % of 900 EUR)", "(nothing)", "For the customer, date"):
        assert said in words, said
    assert words.index("Before any work") < words.index("What can be done") < words.index("Answer of the customer")


def test_the_command_writes_whole_files(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "job.toml"
    file.write_text('id = "E-3"\n[[option]]\nname = "new"\ncost = "520 EUR"\n', "utf-8")
    assert main(["report", str(file), "--estimate", "--to", str(tmp_path / "out"), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["kind"] == "estimate"
    assert sorted(one.name for one in (tmp_path / "out").iterdir()) == [
        f"E-3-estimate.{e}" for e in ("html", "json", *(["pdf"] if pdf.available() else []), "txt")
    ]
    file.write_text('id = "E-3"\n', "utf-8")
    assert main(["report", str(file), "--estimate", "--to", str(tmp_path / "out")]) == 1
