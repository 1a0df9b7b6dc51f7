"""What a reading is held against before it is taken: the phone says what the sheet on paper says."""

import random
from pathlib import Path
from typing import Any

import pytest

from tests.live.job import SHOP, ask_job, base, read_again, tools, varied, written
from valvecalc.errors import InputError
from valvecalc.facts import load_toml
from valvecalc.job.bench import LINED, bench_sheet
from valvecalc.job.compute import compute
from valvecalc.job.judged import verdict_rows
from valvecalc.job.read import Job, read_job, read_shop

STEPS = {row["id"]: row for row in load_toml("bench.toml")["steps"]}
TOLD = ("expected", "whose", "with", "needs")


def shop_with(folder: Path, own: dict[str, str]) -> Path:
    """The demo's shop with limits of its own."""
    path = folder / "shop.toml"
    path.write_text(written({"limits": own}) + SHOP.read_text("utf-8"), "utf-8")
    return path


def places(job: Job) -> list[tuple[list[Any], dict[str, Any]]]:
    """The readings that the phone works a limit for: where each stands, and what the sheet on paper says of it."""
    found = []
    for stage in bench_sheet(job)["stages"]:
        for step in stage["steps"]:
            spec = STEPS.get(step["id"], {})
            worked = [line for line in spec.get("readings", ()) if {"judge", "figure", "fact"} & set(line)]
            each = spec.get("each", "")
            for row in step["readings"]:
                if not any((line["field"], line.get("state", "")) == (row["field"], row["state"]) for line in worked):
                    continue
                same = [one for one in step["readings"] if (one["field"], one["state"]) == (row["field"], row["state"])]
                names = [f"coil {coil['name']}" for coil in job.tables.get("coil", [])]
                number = names.index(row["subject"]) if each == "coil" and names else same.index(row)
                if row["field"] == "acceptance.reading" and not any("figure" in line for line in worked):
                    continue
                there = each and job.tables.get(each)
                found.append(([step["id"], row["field"], row["state"], each if there else "", number], row))
    return found


#: Limits of a shop of its own; one that the phone does not judge by is no trouble.
OWN = {
    "coil-resistance-tolerance": "2 %", "decision-factor": "0.5", "insulation-least": "2 MΩ", "leakage-usable": "1.2",
    "margin-sign-off": "8 %", "path-loss": "5 %", "stroke-time-deviation": "2 %", "supply-above": "-8 %",
    "supply-below": "4 %", "drift-allowed": "0.5", "clearance-growth": "1.1",
}  # fmt: skip


@pytest.mark.parametrize(("system", "own"), [("metric", {}), ("us", {}), ("metric", OWN)])
def test_the_limits_of_the_phone_are_those_of_the_paper(tmp_path: Path, system: str, own: dict[str, str]) -> None:
    dice = random.Random(28)
    texts = ['schema = 1\nid = "1"\n', written(base()), *(written(varied(dice)) for _ in range(14))]
    asked, expected = [], []
    for text in texts:
        path = tmp_path / "job.toml"
        path.write_text(text, "utf-8")
        job = read_job(path, shop_with(tmp_path, own))
        rows = places(job._replace(shop=job.shop._replace(units=system)))
        asked.append(["held", text, tools(), [place for place, _ in rows], system, own])
        expected.append([row for _, row in rows])
    seen = {"limits": 0, "expected": 0, "with": 0, "needs": 0}
    steps = set()
    for question, answers, rows in zip(asked, ask_job(tmp_path, asked), expected, strict=True):
        for place, answer, row in zip(question[3], answers, rows, strict=True):
            if answer is None:  # no judging sheet for a coil of this kind
                assert not row["limits"] and not row["expected"], (place, row)
                continue
            assert [(one["word"], one["text"]) for one in answer["limits"]] == [
                (one["word"], one["text"]) for one in row["limits"]
            ], (place, question[1])
            assert {key: answer[key] for key in TOLD} == {key: row[key] for key in TOLD}, (place, question[1])
            steps.add(place[0])
            for key in seen:
                seen[key] += bool(answer[key])
    assert min(seen.values()) > 10, seen
    assert {"ohms", "pick-up-dry", "shift", "leakage", "hold", "loss", "fit", "duty"} <= steps
    assert set(LINED) <= {place[3] for question in asked for place in question[3]}


def test_a_shop_with_its_own_limits_is_judged_alike(tmp_path: Path) -> None:
    dice = random.Random(38)
    texts = [written(base()), *(written(read_again(dice)) for _ in range(60))]
    shop = shop_with(tmp_path, OWN)
    turned = 0
    for text, answer in zip(texts, ask_job(tmp_path, (["judged", text, tools(), OWN] for text in texts)), strict=True):
        path = tmp_path / "job.toml"
        path.write_text(text, "utf-8")
        try:
            job = read_job(path, shop)
            found = compute(job)
        except InputError:
            continue
        plain = {row["subject"]: row["verdict"] for row in verdict_rows(job._replace(shop=read_shop(SHOP)), found)}
        rows = [(row["subject"], row["verdict"]) for row in verdict_rows(job, found)]
        left = job._replace(tables=job.left)
        again = [(row["subject"], row["verdict"]) for row in verdict_rows(left, found.left)] if found.left else []
        for told, desk in ((answer["verdicts"], rows), (answer["left"] or [], again)):
            assert [tuple(row) for row in told] == [row for row in desk if "force budget" not in row[0]], text
        turned += sum(plain[subject] != verdict for subject, verdict in rows)
    assert turned > 30
