"""The charts of the pages: which card has one, and that it tells the card's own figures."""

import re
from typing import Any

import pytest

from valvecalc.door import calc, load
from valvecalc.formula import REGISTER, Card
from valvecalc.limits import limits_of
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen.curves import curve_spec, figure, stroke_terms
from valvecalc.units import to_si

load()
CARDS = [card for card in REGISTER.values() if not card.part]
DRAWN = [card for card in CARDS if card.chart in card.entries]


def by_id(card: Card) -> str:
    return card.id


def spec_of(name: str, **given: Any) -> dict[str, Any]:
    spec = curve_spec(calc(name, **{**REGISTER[name].example, **given}))
    assert spec is not None
    return spec


@pytest.mark.parametrize("card", [card for card in REGISTER.values() if card.chart in card.entries], ids=by_id)
def test_the_entry_of_a_chart_is_a_number_of_its_card(card: Card) -> None:
    assert not card.part
    assert card.chart in card.entries
    assert card.chart not in card.rows and card.chart not in card.choices
    assert card.chart in card.limits and card.chart in card.example


@pytest.mark.parametrize("card", DRAWN, ids=by_id)
def test_every_point_of_the_example_is_the_answer_there(card: Card) -> None:
    answer = calc(card.id, **card.example)
    spec = spec_of(card.id)
    xs, ys = spec["x"]["values"], spec["y"]["values"]
    assert len(xs) > 55 and xs == sorted(xs)
    assert ys[xs.index(spec["here"]["x"])] == pytest.approx(spec["here"]["y"], rel=1e-12)
    names = card.results or (card.result,)
    (result,) = (name for name in names if (card.labels.get(name) or VOCABULARY[name].meaning) == spec["y"]["label"])
    assert answer.printed(result) == spec["here"]["y"]
    entry, limit = str(card.chart), limits_of(card)[str(card.chart)]
    seen = 0
    for x, y in list(zip(xs, ys, strict=True))[::9]:
        si = to_si(x, spec["x"]["unit"], VOCABULARY[entry].dimension)
        if limit.holds(si):  # an end of the limits may have moved out of them on its way through the unit
            there = calc(card.id, **{**card.example, entry: si}).printed(result)
            assert there == (None if y is None else pytest.approx(y, rel=1e-9, abs=1e-9))
            seen += 1
    assert seen >= 6


def test_the_span() -> None:
    assert spec_of("annular-leakage")["x"]["values"][::63] == [0.0, 10.0]
    assert spec_of("stroke-time")["x"]["values"][0] == pytest.approx(12.5)  # zero flow has no time
    assert spec_of("coil-power", coil_voltage="900 V")["x"]["values"][-1] == pytest.approx(1000.0)  # the card's limit
    assert spec_of("coil-power", coil_voltage="0 V")["x"]["values"][-1] == pytest.approx(96.0)  # round its example
    oil = spec_of("oil-state")["x"]["values"]
    assert (oil[0], oil[-1]) == pytest.approx((0.0, 120.0))
    assert spec_of("oil-state", oil_temperature="-15 °C")["x"]["values"][0] == pytest.approx(-35.0)


def test_figures_follow_the_units_of_the_answer() -> None:
    answer = calc("annular-leakage", **REGISTER["annular-leakage"].example)
    answer.system, answer.units = "us", {"clearance": "thou"}
    spec = curve_spec(answer)
    assert spec is not None
    assert (spec["x"]["unit"], spec["y"]["unit"]) == ("thou", "in³/min")
    assert spec["here"]["x"] == pytest.approx(5 / 25.4)
    assert spec["trusted"]["high"] == pytest.approx(15 / 25.4)


def test_the_uncertainty_stands_at_the_place() -> None:
    given = {**REGISTER["annular-leakage"].example, "clearance": "5 µm ± 0.5 µm"}
    answer = calc("annular-leakage", **given)
    (row,) = answer.to_json()["results"]
    spec = curve_spec(answer)
    assert spec is not None
    assert spec["here"]["high"] - spec["here"]["y"] == pytest.approx(row["uncertainty"])
    assert spec["here"]["y"] - spec["here"]["low"] == pytest.approx(row["uncertainty"])


def test_a_judged_result_is_drawn_with_its_limit() -> None:
    spec = spec_of("bench-margin")
    assert spec["limits"] == [{"y": pytest.approx(25.0), "label": "at least"}]
    answer = calc("bench-margin", **REGISTER["bench-margin"].example)
    assert spec["here"]["y"] == answer.printed("proved_share")


def test_a_list_is_drawn_as_it_stands() -> None:
    answer = calc("limit-curve", **REGISTER["limit-curve"].example)
    rows, spec = answer.results["limit_rows"], spec_of("limit-curve")
    assert spec["x"]["values"] == pytest.approx([row["supply_pressure"] / 1e5 for row in rows])
    assert spec["y"]["values"] == [row["limit_flow"] and pytest.approx(row["limit_flow"] * 60_000) for row in rows]
    assert spec["here"]["x"] == pytest.approx(120.0)
    assert spec["here"]["y"] == answer.printed("limit_flow")
    assert spec["here"]["x"] in spec["x"]["values"]


def test_nothing_is_drawn_of_what_is_not_there() -> None:
    assert curve_spec(calc("annular-leakage", clearance="5 µm")) is None
    assert curve_spec(calc("coil-current", **REGISTER["coil-current"].example)) is None
    assert figure(calc("coil-current", **REGISTER["coil-current"].example)) == ""
    assert REGISTER["coil-current"].chart is None


def test_a_shift_budget_shows_its_stroke() -> None:
    card = REGISTER["shift-budget"]
    drawn = figure(calc("shift-budget", **card.example))
    assert re.match(r'<figure class="chart"><svg [^>]*class="drawing"', drawn)
    assert "spring" in drawn and "silt" in drawn
    assert set(stroke_terms(card)) == {"energise", "release"}
    assert stroke_terms(REGISTER["coil-check"]) == {}


@pytest.mark.parametrize("card", CARDS, ids=by_id)
def test_no_chart_carries_a_style_or_a_script(card: Card) -> None:
    drawn = figure(calc(card.id, **card.example))
    assert not re.search(r"\sstyle=|<style|<script|\son\w+=", drawn)
