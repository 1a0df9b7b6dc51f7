"""What a shop adds in its shop.toml without code: checks that a job answers, fields of the record."""

from collections.abc import Callable
from typing import Any

import pytest

from valvecalc.errors import InputError
from valvecalc.report import html, text

Table = dict[str, Any]

SHOP = """
name = "Bench"
[[instrument]]
id = "F2"
range = "100 N"
accuracy = "1 % of range"
[[check]]
id = "override-warm"
title = "Push at the override, oil warm"
unit = "N"
at_least = "20 N"
at_most = "40 N"
caution = "Push with the test pin, never with a screwdriver: it slips into the hand."
[[check]]
id = "plug-gasket"
title = "Plug gasket new"
good = true
[[check]]
id = "label"
title = "Label read"
[[field]]
table = "intake"
key = "pallet"
kind = "text"
meaning = "number of the pallet"
[[field]]
table = "part"
key = "shelf"
"""


def judged(work: Callable[..., Any], *answers: Table) -> dict[str, tuple[str, str]]:
    rows = work({"check": list(answers)}, SHOP)[1]["verdicts"]
    return {row["subject"]: (row["verdict"], row["sentence"]) for row in rows}


@pytest.mark.parametrize(
    ("reading", "verdict"),
    [
        ("30 N", "accept"),
        ("39.2 N", "cannot-tell"),
        ("40.5 N", "cannot-tell"),
        ("41.1 N", "reject"),
        ("18 N", "reject"),
    ],
)
def test_a_reading_is_judged_with_the_guard_band(reading: str, verdict: str, work: Callable[..., Any]) -> None:
    """1 % of 100 N is 1 N: u = 1/√3 = 0.577 N, guard band 1.645 u = 0.95 N inside and outside of each limit."""
    told = judged(work, {"id": "override-warm", "reading": {"value": reading, "instrument": "F2"}})
    assert told["Push at the override, oil warm"][0] == verdict
    assert "wanted at least 20 N and at most 40 N" in told["Push at the override, oil warm"][1]


def test_trials_and_another_unit(work: Callable[..., Any]) -> None:
    """7 lbf are 31.1 N; 30, 32 and 34 N are 32 N with u = 2/√3 N, 40 N clears it by more than 1.645 u."""
    told = judged(work, {"id": "override-warm", "reading": "7 lbf"})
    assert told["Push at the override, oil warm"][0] == "accept"
    assert "uncertainty not known" in told["Push at the override, oil warm"][1]
    told = judged(work, {"id": "override-warm", "reading": ["30 N", "32 N", "34 N"]})
    assert told["Push at the override, oil warm"][0] == "accept"
    assert told["Push at the override, oil warm"][1].startswith("32.0000 N ± 2.3 N")


def test_yes_or_no(work: Callable[..., Any]) -> None:
    told = judged(work, {"id": "plug-gasket", "answer": False, "note": "Torn."}, {"id": "label", "answer": True})
    assert told == {"Plug gasket new": ("reject", "No; wanted yes. Torn."), "Label read": ("unknown", "Yes.")}


def test_as_left_stands_beside_as_found(work: Callable[..., Any]) -> None:
    report = work(
        {"check": [{"id": "plug-gasket", "answer": False}, {"id": "plug-gasket", "answer": True, "when": "as-left"}]},
        SHOP,
    )[1]
    (row,) = report["as_left"]
    assert (row["found_verdict"], row["verdict"]) == ("reject", "accept")


def test_the_caution_stands_first(work: Callable[..., Any]) -> None:
    report = work({"check": [{"id": "override-warm", "reading": "30 N"}]}, SHOP)[1]
    assert any("never with a screwdriver" in one for one in report["cautions"])
    page = html.render(report)
    assert page.index("never with a screwdriver") < page.index("Push at the override")


def test_fields_of_the_shop_are_printed(work: Callable[..., Any]) -> None:
    report = work({"intake": {"pallet": "P-7"}, "part": [{"name": "spool", "shelf": "S-9"}]}, SHOP)[1]
    for page in (html.render(report), text.render(report)):
        assert "P-7" in page
        assert "S-9" in page


def faults(read: Callable[..., Any], job: Table, shop: str = SHOP) -> set[str]:
    with pytest.raises(InputError) as fault:
        read(job, shop)
    return {one.entry for one in fault.value.troubles}


def test_answers_that_do_not_fit_are_told_together(read: Callable[..., Any]) -> None:
    rows = [
        {"id": "overide-warm", "reading": "3 N"}, {"id": "override-warm", "answer": True},
        {"id": "override-warm", "reading": "3 bar"}, {"id": "plug-gasket", "reading": "3 N"}, {"answer": True},
        {"id": "override-warm", "reading": {"value": "3 N", "instrument": "F9"}},
        {"id": "override-warm", "reading": []}, {"id": "override-warm", "reading": 3},
    ]  # fmt: skip
    places = {"1.id", "2.answer", "3.reading", "4.reading", "5.id", "6.reading", "7.reading", "8.reading"}
    assert faults(read, {"check": rows}) == {f"check {one}" for one in places}


@pytest.mark.parametrize(
    ("lines", "entry"),
    [
        ('[[check]]\ntitle = "x"', "check 1.id"),
        ('[[check]]\nid = "a"\n[[check]]\nid = "a"', "check 2.id"),
        ('[[check]]\nid = "a"\nat_most = "3 N"', "check 1.at_most"),
        ('[[check]]\nid = "a"\nunit = "N"\nat_most = "3 bar"', "check 1.at_most"),
        ('[[check]]\nid = "a"\nunit = "wubbles"', "check 1.unit"),
        ('[[check]]\nid = "a"\nunit = "N"\ngood = true', "check 1.good"),
        ('[[field]]\ntable = "coil"\nkey = "x"', "field 1.table"),
        ('[[field]]\ntable = "intake"\nkey = "fails"', "field 1.key"),
        ('[[field]]\ntable = "intake"\nkey = "Pallet no"', "field 1.key"),
        ('[[field]]\ntable = "intake"\nkey = "x"\nkind = "number"', "field 1.kind"),
    ],
)
def test_faults_of_the_shop_are_told(lines: str, entry: str, read: Callable[..., Any]) -> None:
    assert entry in faults(read, {"id": "1"}, lines)
