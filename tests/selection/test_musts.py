"""Musts of the sizing by hand: pilot, drain, supply, seals, ratings, and the load that must not fall."""

import math

import pytest

from tests.selection.conftest import TWO_STAGE, press, valve_of
from tests.selection.test_rules import BAR, said
from valvecalc.selection import flow_rules
from valvecalc.selection.demand import demand
from valvecalc.selection.ranking import judge
from valvecalc.selection.words import cautions_of, sentence


def test_pilot_pressure_lost_with_an_open_centre() -> None:
    """Two stages, P open to T at rest: the centre loses 2 bar at 30 L/min, the tank line has 3: 5 bar against the
    drain's 43 in the peak leave nothing. With a closed centre the relief valve's 160 bar stand there."""
    open_centre = valve_of(**{**TWO_STAGE, "rest": "P-T", "drop_pt": "30 L/min 2 bar; 60 L/min 8 bar"})
    rule = said("pilot", open_centre)
    assert rule.verdict == "reject" and "open to the tank" in sentence(rule)
    own_line = press({"old": {"drain": "external"}})
    rule = said("pilot", open_centre._replace(drain="external"), own_line)
    assert rule.verdict == "reject"
    assert rule.has == pytest.approx(5 * BAR, rel=0.03)
    closed = valve_of(**TWO_STAGE, drop_pt=None)._replace(drain="external")
    assert said("pilot", closed, own_line).verdict == "accept"


def test_pilot_pressure_is_counted_over_the_drain() -> None:
    """Closed centre, internal drain: at least the pump pressure of the easiest movement less the peak of 43 bar."""
    old = press({"old": {"drain": "internal", "stage": "two-stage"}})
    valve = valve_of(**TWO_STAGE)
    rule = said("pilot", valve, old)
    least = min(one.pump or math.inf for one in flow_rules.work_of(valve, demand(old)).warm)
    assert rule.has == pytest.approx(least - 43 * BAR)
    # 10 kN in, 26.8 bar, the tank's 3 bar twice, about 10 bar of loss: the drain's peak leaves next to nothing.
    assert least == pytest.approx(43 * BAR, abs=0.5 * BAR)
    assert rule.verdict == "reject" and "cylinder 1 going in" in sentence(rule)


def test_internal_drain_against_tank_pressure() -> None:
    """3 bar and a jump of 40 in the tank line: 43 bar. A drain for 30 is refused, one for 70 is not."""
    old = press({"old": {"drain": "internal", "stage": "two-stage"}})
    assert said("drain", valve_of(**{**TWO_STAGE, "drain_pressure_max": "30 bar"}), old).verdict == "reject"
    assert said("drain", valve_of(**TWO_STAGE), old).verdict == "accept"
    had_line = said("drain", valve_of(**TWO_STAGE), press({"old": {"drain": "external"}}))
    assert (had_line.verdict, had_line.words) == ("ask", "had-line")


def test_long_thin_cable() -> None:
    """24 V, 28 W: 20.57 Ω. 0.75 mm² flexible has 26.0 Ω/km (IEC 60228): 80 m twice are 4.16 Ω, so 83.2 % arrive."""
    duty = press({"supply": {"cable_length": "80 m", "cable_area": "0.75 mm²"}})
    rule = said("volts", None, duty)
    assert (rule.verdict, rule.has) == ("reject", pytest.approx(0.832, abs=5e-4))
    assert said("limit-volts", None, duty).verdict == "reject"


def test_dc_coil_on_ac_and_the_other_way() -> None:
    rule = said("kind", None, press({"supply": {"kind": "AC 50 Hz"}}))
    assert rule.verdict == "reject" and "does not pull" in sentence(rule)
    ac = valve_of(coil_kind="AC 50 Hz")
    assert "burns" in sentence(said("kind", ac))
    assert said("kind", ac, press({"supply": {"kind": "AC 60 Hz"}})).verdict == "reject"
    assert said("kind", valve_of(coil_kind="rectified"), press({"supply": {"kind": "AC 60 Hz"}})).verdict == "accept"


def test_seals_against_phosphate_ester() -> None:
    duty = press({"oil": {"fluid": "HFDR"}})
    rule = said("seals", None, duty)
    assert rule.verdict == "reject" and "swell" in sentence(rule)
    assert said("seals", valve_of(seals="EPDM", fluids="HFDR"), duty).verdict == "accept"
    assert said("seals", valve_of(seals="EPDM")).verdict == "reject"
    assert said("seals", valve_of(seals="FKM", fluids=None), duty).verdict == "ask"
    # Papers that name the fluid do not save a rubber that cannot bear it.
    assert said("seals", valve_of(seals="NBR", fluids="HFDR"), duty).verdict == "reject"


def test_tank_port_over_its_rating_by_a_surge() -> None:
    """3 bar steady would be borne by 30 bar; with a jump of 40 it is not."""
    assert said("pressure-t", valve_of(pressure_t="30 bar")).verdict == "reject"
    no_surge = said("pressure-t", valve_of(pressure_t="30 bar"), press({"lines": {"tank_surge": "0 bar"}}))
    assert no_surge.verdict == "accept"
    unknown = said("pressure-t", valve_of(pressure_t="500 bar"), press({"lines": {"tank_surge": None}}))
    assert (unknown.verdict, unknown.lacks) == ("ask", ("lines.tank_surge",))


def test_intensified_rod_side_over_its_rating() -> None:
    """2:1 at 160 bar: 320 bar on a throttled rod side, over 315."""
    duty = press({"cylinder": {"return_throttled": "yes"}})
    assert said("pressure-b", None, duty).verdict == "reject"
    assert said("pressure-b", valve_of(pressure_b="350 bar"), duty).verdict == "accept"
    assert said("pressure-b", None, press({"cylinder": {"return_throttled": None}})).verdict == "ask"


def test_hanging_load_with_a_float_centre_is_refused_first_and_loudly() -> None:
    duty = press({"cylinder": {"hanging": "yes"}})
    candidate = judge(valve_of(rest="A-B-T"), demand(duty))
    first = candidate.rejected[0]
    assert first is candidate.rules[0]
    assert sentence(first).startswith("REFUSED: with this valve the load on cylinder 1 FALLS")
    assert cautions_of([first])[0].startswith("Hold the load on a mechanical stop")
    assert judge(valve_of(), demand(duty)).rules[0].verdict == "accept"
    assert "no prop" in sentence(judge(valve_of(), demand(duty)).rules[0])
    driven = judge(valve_of(rest="P-A-B"), demand(duty)).rules[0]
    assert (driven.verdict, driven.words) == ("reject", "driven")
    # Only the side that holds: the load pushes the rod in, the piston side is on A.
    one_sided = press({"cylinder": {"hanging": "yes", "retract_load": "-10 kN"}})
    assert judge(valve_of(rest="B-T"), demand(one_sided)).rules[0].verdict == "accept"
    assert judge(valve_of(rest="A-T"), demand(one_sided)).rules[0].verdict == "reject"
    asked = judge(valve_of(rest="A-B-T"), demand(press({"cylinder": {"hanging": None}}))).rules[0]
    assert (asked.verdict, asked.lacks) == ("ask", ("cylinder 1.hanging",))
