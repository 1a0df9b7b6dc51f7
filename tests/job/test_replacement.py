"""A job that names a duty: the report carries what `valvecalc size` says of it."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.job.conftest import toml
from valvecalc.demo import SIZE
from valvecalc.drawing.symbol import draw_known
from valvecalc.errors import InputError
from valvecalc.job.compute import compute
from valvecalc.job.read import read_job
from valvecalc.job.report import report
from valvecalc.report import html, text
from valvecalc.selection.console import size
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import read_duty
from valvecalc.selection.stock import read_stock

Told = Callable[..., dict[str, Any]]


@pytest.fixture
def told(tmp_path: Path) -> Told:
    """The report of a job whose [replacement] is given, beside a copy of the demo's duties and list."""
    shutil.copytree(SIZE, tmp_path / "size")

    def run(**replacement: str) -> dict[str, Any]:
        job = tmp_path / "job.toml"
        rows = "".join(f"{key} = {toml(value)}\n" for key, value in replacement.items())
        job.write_text(f'id = "1"\n[replacement]\n{rows}', "utf-8")
        read = read_job(job)
        return report(read, compute(read))

    return run


def test_the_report_says_what_the_command_says(told: Told) -> None:
    duty, stock = "size/baler.toml", "size/stock.csv"
    row = told(duty=duty, stock=stock)["replacement"]
    data, _ = size(str(SIZE / "baler.toml"), str(SIZE / "stock.csv"), None)
    assert row["headline"] == data["headline"]
    assert [one["id"] for one in row["candidates"]] == [one["id"] for one in data["candidates"][:3]]
    assert row["judged"] == data["judged"] == 20


@pytest.mark.parametrize("render", (html.render, text.render))
def test_headline_leaders_and_reasons_are_printed(told: Told, render: Callable[[Any], str]) -> None:
    whole = told(duty="size/tipping-trailer.toml", stock="size/stock.csv")
    row = whole["replacement"]
    page = " ".join(render(whole).replace("&#x27;", "'").split())
    assert row["headline"] in page
    assert "Duty size/tipping-trailer.toml, stock list size/stock.csv: 20 valves judged." in page
    for one in row["candidates"]:
        assert one["id"] in page
        for rule in one["rules"]:
            if one["verdict"] != "accept" and rule["verdict"] == one["verdict"]:
                assert " ".join(rule["sentence"].split()) in page


@pytest.mark.parametrize("render", (html.render, text.render))
def test_without_a_list_the_request_is_printed(told: Told, render: Callable[[Any], str]) -> None:
    whole = told(duty="size/press.toml")
    page = " ".join(render(whole).split())
    for line in whole["replacement"]["request"]:
        assert line["what"] in page and line["figure"] in page


def test_leaders_are_drawn_with_the_duty(told: Told) -> None:
    whole = told(duty="size/baler.toml", stock="size/stock.csv")
    page = html.render(whole)
    drawn = whole["replacement"]["charts"]
    assert [spec["title"] for spec in drawn] == [
        "Loss of the leaders on the fullest path", "Shift limits of the leaders, and the duty among them",
    ]  # fmt: skip
    for spec in drawn:
        assert f"<figcaption>{spec['title']}</figcaption><svg" in page


def test_what_the_ports_do_is_drawn_of_the_old_valve_and_of_the_leader(told: Told) -> None:
    whole = told(duty="size/baler.toml", stock="size/stock.csv")
    row = whole["replacement"]
    assert json.loads(json.dumps(row["old"])) == row["old"]
    old = read_duty(SIZE / "baler.toml")
    drawn = draw_known(demand(old).old, old.get("old", "operator"), old.get("old", "stage"))
    valves, _ = read_stock(SIZE / "stock.csv")
    leader = next(valve for valve in valves if valve.name == row["candidates"][0]["id"])
    assert html.render(whole).count(drawn) == 1 and drawn.startswith("<svg")
    assert draw_known(leader.function, leader.operator, leader.stage) in html.render(whole)
    assert html.render(told(duty="size/baler.toml")).count(drawn) == 1
    row["old"]["function"] = dict.fromkeys(row["old"]["function"])
    assert "The old valve</figcaption>" not in html.render(whole)


def test_units_are_those_of_the_shop(told: Told, tmp_path: Path) -> None:
    (tmp_path / "shop.toml").write_text('units = "us"\n', "utf-8")
    page = text.render(told(duty="size/press.toml"))
    assert " psi" in page and " gpm" in page and " L/min" not in page


def test_without_a_duty_nothing_is_said(told: Told) -> None:
    assert told()["replacement"] == {}


def test_cautions_stand_before_the_headline(told: Told) -> None:
    whole = told(duty="size/tipping-trailer.toml", stock="size/stock.csv")
    page = html.render(whole)
    for caution in whole["replacement"]["cautions"]:
        assert page.index(caution) < page.index(whole["replacement"]["headline"])


@pytest.mark.parametrize(
    ("named", "entry"),
    (
        ({"stock": "size/stock.csv"}, "replacement.duty"),
        ({"duty": "size/none.toml"}, "none.toml"),
        ({"duty": "size/baler.toml", "stock": "size/none.csv"}, "none.csv"),
    ),
)
def test_a_file_that_is_not_there_is_named(told: Told, named: dict[str, str], entry: str) -> None:
    with pytest.raises(InputError) as refused:
        told(**named)
    assert entry in refused.value.troubles[0].entry


def test_what_a_list_brings_is_text(told: Told, tmp_path: Path) -> None:
    stock = (SIZE / "stock.csv").read_text("utf-8")
    lines = [line for line in stock.splitlines() if not line.startswith("#")]
    (tmp_path / "size" / "bad.csv").write_text("\n".join((lines[0], "<script>alert(1)</script>" + lines[1])), "utf-8")
    page = html.render(told(duty="size/baler.toml", stock="size/bad.csv"))
    assert "<script" not in page and "&lt;script&gt;alert(1)" in page
