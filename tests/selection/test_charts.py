"""The charts of the sizing: that they show what the rules judge, tell it in words too, and hold nothing of markup."""

from xml.etree import ElementTree

import pytest

from tests.selection.conftest import press, valve_of
from valvecalc.demo import SIZE
from valvecalc.drawing import svg
from valvecalc.selection.charts import LEADERS, charts, leaders, limit_spec, loss_spec
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import read_duty
from valvecalc.selection.flow_rules import work_of
from valvecalc.selection.ranking import judge, rank
from valvecalc.selection.stock import read_stock

DUTIES = ("baler", "press", "tipping-trailer")
NAME = "{http://www.w3.org/2000/svg}"


def test_the_loss_is_that_of_the_rules() -> None:
    """30 L/min from the pump, 60 come back from the piston's side at 2:1: A to T carries most."""
    valve, asked = valve_of(), demand(press())
    spec = loss_spec(asked, [valve], "metric")
    assert spec is not None
    assert spec["y"] == {"label": "loss of path A-T with oil at 55.0\N{NO-BREAK SPACE}°C", "unit": "bar"}
    (line,), (place,) = spec["lines"], spec["places"]
    ((flow, drop),) = line["dots"]
    lost = next(one for one in work_of(valve, asked).warm if one.movement.outlet == "at")
    assert (flow, place["y"]) == (pytest.approx(60.0), None) and place["x"] == flow
    assert drop == pytest.approx(lost.drop_out / 1e5, rel=1e-12)
    assert line["points"][0] == (0.0, 0.0) and line["points"][-1][0] == pytest.approx(72.0)
    assert line["label"].startswith(f"fits: ({drop:.2f}\N{NO-BREAK SPACE}±")


def test_a_curve_ends_where_its_points_carry_no_further() -> None:
    """Its last point lies at 50 L/min: a tenth more is drawn, and 60 are not told."""
    spec = loss_spec(demand(press()), [valve_of(drop_at="20 L/min 0.7 bar; 50 L/min 3.5 bar")], "metric")
    assert spec is not None
    (line,) = spec["lines"]
    assert line["points"][-1][0] == pytest.approx(55.0) and line["dots"] == []
    assert line["label"].replace("\N{NO-BREAK SPACE}", " ") == "fits: its points end at 50.0 L/min, short of the duty"


def test_the_limit_is_that_of_the_rules() -> None:
    """At 160 bar, between 120 L/min at 100 bar and 100 at 210: 109.1; 1.2 times 60 L/min is wanted."""
    asked = demand(press())
    spec = limit_spec(asked, [valve_of()], "metric")
    assert spec is not None
    (line,), (place,) = spec["lines"], spec["places"]
    assert [point == pytest.approx(want) for point, want in zip(
        line["points"], [(120, 0), (120, 100), (100, 210), (80, 315)], strict=True
    )] == [True] * 4  # fmt: skip
    assert "109\N{NO-BREAK SPACE}L/min" in line["label"]
    assert (place["x"], place["y"]) == (pytest.approx(72.0), pytest.approx(160.0))
    us = limit_spec(asked, [valve_of()], "us")
    assert us is not None and us["y"]["unit"] == "psi" and us["places"][0]["y"] == pytest.approx(2320.6, abs=0.1)


def test_with_one_port_plugged_what_that_leaves_is_drawn() -> None:
    asked = demand(press({"ports": {"plugged": "B"}}))
    drawn = limit_spec(asked, [valve_of(), valve_of(name="own", limit_ports="one")], "metric")
    assert drawn is not None
    both, own = (line["points"][0][0] for line in drawn["lines"])
    rule = next(rule for rule in judge(valve_of(), asked).rules if rule.rule == "shift")
    at_relief = drawn["lines"][0]["label"].partition("up to ")[2].partition("\N{NO-BREAK SPACE}")[0]
    assert both < own == pytest.approx(120.0)
    assert float(at_relief) == pytest.approx(rule.has * 60000, rel=0.01)
    assert any("plugged" in note for note in drawn["notes"])


def test_what_is_not_known_is_said_and_nothing_is_drawn_of_nothing() -> None:
    bare = valve_of(name="bare", drop_viscosity=None, shift_limit=None)
    asked = demand(press())
    for make in (loss_spec, limit_spec):
        assert make(asked, [bare], "metric") is None
        spec = make(asked, [valve_of(), bare], "metric")
        assert spec is not None and any("bare" in note and "not known" in note for note in spec["notes"])
    unknown = demand(press({"pump": {"flow": None, "relief_pressure": None}, "oil": {"hottest": None}}))
    assert charts(unknown, rank([valve_of()], unknown)) == ["", ""]
    assert charts(asked, []) == ["", ""]


def test_the_leaders() -> None:
    asked = demand(press())
    bad = [valve_of(name=f"bad {number}", pressure_t="20 bar") for number in range(5)]
    assert [one.name for one in leaders(rank([*bad, valve_of()], asked))] == ["fits"]
    assert len(leaders(rank(bad, asked))) == LEADERS


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", DUTIES)
def test_both_drawings_tell_what_they_show(name: str, system: str) -> None:
    asked = demand(read_duty(SIZE / f"{name}.toml"))
    ranked = rank(read_stock(SIZE / "stock.csv")[0], asked)
    for drawn in charts(asked, ranked, system):
        root = ElementTree.fromstring(drawn)
        assert root.get("role") == "img" and "style" not in drawn and "class" in root.attrib
        said = (root.findtext(f"{NAME}desc") or "").replace("\N{NO-BREAK SPACE}", " ")
        for one in leaders(ranked):
            assert f"{one.name}: " in said
        texts = [one.text or "" for one in root.iter(f"{NAME}text")]
        assert all(svg.room(text) <= svg.WIDTH for text in texts)
        assert ("psi" if system == "us" else "bar") in said


def test_lines_are_told_apart_by_their_dashes_and_a_name_is_no_markup() -> None:
    asked = demand(press())
    valves = [valve_of(name=name) for name in ("<b>one", "two & " + "x" * 90, "three")]
    for drawn in charts(asked, rank(valves, asked)):
        ElementTree.fromstring(drawn)
        assert "&lt;b&gt;one: " in drawn and "x" * 31 not in drawn
        assert 'stroke-dasharray="11 6"' in drawn and 'stroke-dasharray="2.5 7"' in drawn
