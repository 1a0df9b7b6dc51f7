"""The shop's own checks on the phone: asked, judged and refused as at the desk; the numbers are invented."""

from pathlib import Path
from typing import Any

import pytest

from tests.live.job import SHOP, ask_job, tools, written
from valvecalc.errors import InputError
from valvecalc.facts import parse_toml
from valvecalc.job.compute import compute
from valvecalc.job.judged import verdict_rows
from valvecalc.job.read import read_job

CHECKS: list[dict[str, Any]] = [
    {"id": "nut", "title": "Torque of the coil nut", "unit": "N·m", "at_least": "4 N·m", "at_most": "6 N·m"},
    {"id": "gasket", "title": "Gasket of the plug is whole", "good": True, "caution": "Supply off, proved dead."},
    {"id": "rust", "title": "Rust on the face", "good": False},
    {"id": "tag", "title": "Tag of the stand is read"},
    {"id": "gap", "unit": "µm", "at_most": "30 µm"},
    {"id": "drain", "title": "Pressure in the drain", "unit": "psi", "at_most": "29 psi"},
    {"id": "warm", "title": "Body after the run", "unit": "°C", "at_least": "40 °C"},
]
SOME = [
    {"id": "nut", "reading": "5.0 N·m ± 0.3 N·m"}, {"id": "gasket", "answer": True}, {"id": "rust", "answer": True},
    {"id": "tag", "answer": False}, {"id": "gap", "reading": ["31 µm", "34 µm", "30,5 µm"]},
    {"id": "drain", "reading": {"value": "1.9 bar", "instrument": "P4"}}, {"id": "warm", "reading": "41 °C"},
]  # fmt: skip
OTHER = [
    {"id": "nut", "reading": "44 lbf·in", "note": "with the shop's own spanner"}, {"id": "gasket", "answer": False},
    {"id": "rust", "answer": False}, {"id": "gap", "reading": "1.1 thou ± 0.1 thou"},
    {"id": "drain", "reading": "28 psi ± 2 %"}, {"id": "warm", "reading": "102 °F ± 2 K"},
    {"id": "nut", "reading": "6.1 N·m ± 0.2 N·m", "when": "as-left"},
    {"id": "gasket", "answer": True, "when": "as-left"},
]  # fmt: skip


@pytest.fixture
def shop(tmp_path: Path) -> Path:
    path = tmp_path / "shop.toml"
    path.write_text(SHOP.read_text("utf-8") + "".join(f"\n[[check]]\n{written(row)}" for row in CHECKS), "utf-8")
    return path


@pytest.fixture
def kept(shop: Path) -> list[dict[str, str]]:
    """The checks as the device keeps them, those of the demo's shop first."""
    rows = parse_toml(shop.read_bytes(), "shop.toml")["check"]
    word = {True: "yes", False: "no"}
    keys = ("id", "title", "unit", "at_least", "at_most", "good", "caution")
    return [{key: word.get(row.get(key), row.get(key, "")) for key in keys} for row in rows]


def job(answers: list[dict[str, Any]]) -> str:
    return 'id = "7"\n' + "".join(f"\n[[check]]\n{written(row)}" for row in answers)


def test_own_checks_are_judged_as_at_the_desk(tmp_path: Path, shop: Path, kept: list[dict[str, str]]) -> None:
    texts = [job(SOME), job(OTHER)]
    for text, told in zip(
        texts, ask_job(tmp_path, (["judged", text, tools(), {}, kept] for text in texts)), strict=True
    ):
        path = tmp_path / "job.toml"
        path.write_text(text, "utf-8")
        read = read_job(path, shop)
        found = compute(read)
        rows = verdict_rows(read, found)
        assert [tuple(row) for row in told["verdicts"]] == [(row["subject"], row["verdict"]) for row in rows]
        assert told["faults"] == []
        for mine, row in zip(told["told"], rows, strict=True):  # the desk adds the risk before what was noted
            assert row["sentence"].startswith(mine.partition(". ")[0].rstrip(".")), mine
        if found.left is not None:
            later = verdict_rows(read._replace(tables=read.left), found.left)
            assert [tuple(row) for row in told["left"]] == [(row["subject"], row["verdict"]) for row in later]
            assert len(later) == 2
    verdicts = {
        verdict
        for told in ask_job(tmp_path, [["judged", job(SOME), tools(), {}, kept]])
        for _, verdict in told["verdicts"]
    }
    assert verdicts == {"accept", "reject", "unknown", "cannot-tell"}


def test_the_shops_own_decision_rule_turns_its_checks(tmp_path: Path, kept: list[dict[str, str]]) -> None:
    """1.9 bar ± its gauge against 29 psi, 2.0 bar: within the guard band at 1.645 u, accepted at 0."""
    answers = [
        dict(map(tuple, told["verdicts"]))["Pressure in the drain"]
        for told in ask_job(
            tmp_path, (["judged", job(SOME), tools(), own, kept] for own in ({}, {"decision-factor": "0"}))
        )
    ]
    assert answers == ["cannot-tell", "accept"]


@pytest.mark.parametrize(
    "wrong",
    [
        {"id": "nut", "reading": "5 mm"}, {"id": "nut", "reading": "5"}, {"id": "nut", "answer": True},
        {"id": "gasket", "reading": "5 mm"}, {"id": "gasket", "answer": "perhaps"}, {"id": "warm", "reading": "hot"},
    ],
)  # fmt: skip
def test_what_the_desk_refuses_is_a_fault_on_the_phone(
    tmp_path: Path, shop: Path, kept: list[dict[str, str]], wrong: dict[str, Any]
) -> None:
    text = job([wrong, {"id": "rust", "answer": False}])
    (told,) = ask_job(tmp_path, [["judged", text, tools(), {}, kept]])
    (key,) = [key for key in wrong if key != "id"]
    assert told["faults"] == [["check", 0, key]]
    assert told["verdicts"] == [["Rust on the face", "accept"]]
    path = tmp_path / "job.toml"
    path.write_text(text, "utf-8")
    with pytest.raises(InputError):
        read_job(path, shop)


def test_answers_stand_by_the_id_of_their_check(tmp_path: Path) -> None:
    puts: list[list[Any]] = [
        ["check.reading", {"named": "nut"}, "5 N·m"], ["check.answer", {"named": "gasket"}, True],
        ["check.reading", {"named": "nut", "left": True}, "6 N·m"], ["check.answer", {"named": "gasket"}, None],
    ]  # fmt: skip
    (text,) = ask_job(tmp_path, [["put", 'id = "7"\n', puts]])
    rows = parse_toml(text.encode(), "job")["check"]
    assert rows == [{"id": "nut", "reading": "5 N·m"}, {"id": "nut", "when": "as-left", "reading": "6 N·m"}]
