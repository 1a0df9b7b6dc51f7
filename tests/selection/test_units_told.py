"""The answer of the sizing in US units: figures by hand, the same valves in the same order, no metric unit left."""

import json
import re
from typing import Any

import pytest

from tests.selection.conftest import press, valve_of
from valvecalc.cli import main
from valvecalc.demo import SIZE
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import changed, read_duty
from valvecalc.selection.ranking import flips, judge, rank
from valvecalc.selection.stock import read_stock
from valvecalc.selection.tell import told, told_request
from valvecalc.selection.words import sentence
from valvecalc.units import to_si

DUTIES = ("baler", "press", "tipping-trailer")
METRIC = re.compile(r"[0-9] (bar|L/min|mL/min|°C)\b")
#: Kind of each unit that the figures of a rule may stand in.
KINDS = {
    "bar": "pressure", "psi": "pressure", "L/min": "flow", "gpm": "flow", "mL/min": "flow", "in³/min": "flow",
    "°C": "temperature", "°F": "temperature", "mm²/s": "kinematic_viscosity", "%": "ratio",
}  # fmt: skip


def answer(name: str, system: str) -> dict[str, Any]:
    valves, problems = read_stock(SIZE / "stock.csv")
    duty = read_duty(SIZE / f"{name}.toml")
    before, after = demand(duty), demand(changed(duty, "pump.flow", "80 L/min"))
    return told(after, rank(valves, after), problems, flips(valves, before, after), None, system)


def test_figures_by_hand() -> None:
    """160 bar are 2320.6 psi; 30 L/min are 7.925 gpm, twice as much comes back, 1.2 times that is 72 L/min: 19.02 gpm;
    55 °C are 131 °F."""
    asked = demand(press())
    rules = {rule.rule: sentence(rule, "us") for rule in judge(valve_of(), asked).rules}
    assert rules["pressure-p"] == "P bears 4570 psi, 2320 psi is needed."
    assert "19.0 gpm is wanted, the largest flow of 15.9 gpm" in rules["shift"]
    assert rules["hottest"] == "The oil reaches 131 °F, 176 °F are allowed."
    figures = {line["what"]: line["figure"] for line in told_request(asked, "us")["request"]}
    assert figures["Rating of P, at least"] == "2320 psi"
    assert figures["Air round it, at its hottest"] == "95.0 °F"
    nearest = told(asked, rank([valve_of(name="x", pressure_t="20 bar")], asked), system="us")["headline"]
    assert nearest == "None fits. Nearest: x misses by pressure at T (needs 624 psi, has 290 psi)."


@pytest.mark.parametrize("name", DUTIES)
def test_the_same_answer_in_both_systems(name: str) -> None:
    metric, us = answer(name, "metric"), answer(name, "us")
    assert [one["id"] for one in us["candidates"]] == [one["id"] for one in metric["candidates"]]
    compared = 0
    for ours, theirs in zip(us["candidates"], metric["candidates"], strict=True):
        assert (ours["loss_unit"], theirs["loss_unit"]) == ("psi", "bar")
        for rule, other in zip(ours["rules"], theirs["rules"], strict=True):
            for key in ("rule", "verdict", "margin"):
                assert rule[key] == other[key]
            for key in ("need", "has") if "figures" in rule else ():
                one, two = rule["figures"], other["figures"]
                assert KINDS[one["unit"]] == KINDS[two["unit"]]
                if one[key] is not None:
                    si = [to_si(row[key], row["unit"], KINDS[row["unit"]]) for row in (one, two)]
                    assert si[0] == pytest.approx(si[1], rel=1e-12)
                    compared += 1
        for move, same in zip(ours["movements"], theirs["movements"], strict=True):
            assert (move["flow_unit"], move["pressure_unit"], move["heat_unit"]) == ("gpm", "psi", "W")
            assert move["heat"] == same["heat"]
            assert to_si(move["warm"]["felt"], "psi", "pressure_difference") == pytest.approx(
                to_si(same["warm"]["felt"], "bar", "pressure_difference"), rel=1e-12
            )
    assert compared > 100


@pytest.mark.parametrize("name", DUTIES)
def test_no_metric_unit_is_left(name: str) -> None:
    """But where it is told how something is found out: there units are examples."""
    us = answer(name, "us")
    texts = [us["headline"], *us["notes"]]
    for one in us["candidates"]:
        for rule in one["rules"]:
            texts += [rule["need"] or "", rule["has"] or ""]
            texts += [rule["sentence"]] if "lacks" not in rule else []
    texts += [line["figure"] for line in told_request(demand(read_duty(SIZE / f"{name}.toml")), "us")["request"]]
    assert not [text for text in texts if METRIC.search(text)]
    assert any("psi" in text for text in texts) and any("gpm" in text for text in texts)


def test_the_command(capsys: pytest.CaptureFixture[str]) -> None:
    call = ["size", str(SIZE / "baler.toml"), "--stock", str(SIZE / "stock.csv"), "--us"]
    assert main(call) == 0
    text = " ".join(capsys.readouterr().out.split())
    assert "costs the pump 266.5 psi" in text and "508 psi are allowed" in text
    assert main([*call, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["candidates"][0]["loss_unit"] == "psi"
    assert main([*call[:2], "--us"]) == 0
    assert "Rating of P, at least: 2610 psi" in capsys.readouterr().out
