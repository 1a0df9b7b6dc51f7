"""What a duty asks of each path and port, against figures worked by hand."""

import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from valvecalc.errors import InputError
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import changed, duty_from, entries, meaning, read_duty
from valvecalc.selection.movements import Movement
from valvecalc.units import to_si

MakeDuty = Callable[..., Any]
LITRES, BAR = 1 / 60000, 1e5


def movement(duty: Any, name: str) -> Movement:
    return next(one for one in demand(duty).movements if one.name == name)


def test_two_to_one_retracting_brings_back_twice_the_flow(make_duty: MakeDuty) -> None:
    """Areas 7854 and 3927 mm²: 30 L/min into the ring side push 60 L/min out of the piston side."""
    back = movement(make_duty(), "cylinder 1 going in")
    assert (back.inlet, back.outlet) == ("pb", "at")
    assert back.inlet_flow == pytest.approx(30 * LITRES)
    assert back.return_flow == pytest.approx(60 * LITRES)
    assert (back.return_ratio, back.weight_out) == pytest.approx((2.0, 2.0))
    # 10 kN on 3927 mm² with 95 %: 26.8 bar
    assert back.load == pytest.approx(26.8 * BAR, rel=2e-3)
    out = movement(make_duty(), "cylinder 1 going out")
    assert (out.inlet, out.outlet) == ("pa", "bt")
    assert out.return_flow == pytest.approx(15 * LITRES)
    # 60 kN on 7854 mm² with 95 %: 80.4 bar
    assert out.load == pytest.approx(80.4 * BAR, rel=1e-3)


def test_a_speed_wins_over_the_pump_and_a_time_over_a_stroke_is_a_speed(make_duty: MakeDuty) -> None:
    """100 mm/s on 7854 mm² is 47.1 L/min; 600 mm in 6 s the same."""
    for given in ({"extend_speed": "100 mm/s"}, {"extend_time": "6 s"}):
        out = movement(make_duty({"cylinder": given}), "cylinder 1 going out")
        assert out.inlet_flow == pytest.approx(47.12 * LITRES, rel=1e-3)
    assert demand(make_duty({"cylinder": {"extend_speed": "100 mm/s"}})).too_fast == ("cylinder 1 going out",)


def test_regenerative_esposito_9_1() -> None:
    """Esposito, Fluid Power with Applications, worked example 9-1 (p. 331): piston 25 in², rod 7 in², pump 20 gpm.

    Printed: 11.0 in/s going out joined, load 7000 lb at 1000 psi. Through P-A then flow 20·25/7 = 71.4 gpm.
    """
    bore, rod = (4 * 25 / math.pi) ** 0.5, (4 * 7 / math.pi) ** 0.5
    duty = duty_from(
        {
            "cylinder": {
                "bore_diameter": f"{bore:.12g} in", "rod_diameter": f"{rod:.12g} in", "extend_load": "7000 lbf",
                "regenerative": "yes",
            },
            "pump": {"flow": "20 gpm"},
            "accumulator": {"present": "no"},
        }
    )  # fmt: skip
    out = movement(duty, "cylinder 1 going out, both sides joined")
    gpm = to_si(1, "gpm", "flow")
    assert out.inlet_flow == pytest.approx(20 * 25 / 7 * gpm)
    assert out.return_flow == pytest.approx(20 * 18 / 7 * gpm)
    assert (out.inlet, out.outlet) == ("pa", "pb")
    speed = (out.inlet_flow or 0.0) / (25 * 0.0254**2)
    assert speed / 0.0254 == pytest.approx(11.0, abs=0.05)
    assert (out.load or 0.0) * 0.95 == pytest.approx(to_si(1000, "psi", "pressure"), rel=1e-6)


def test_esposito_3_8_time_to_flow() -> None:
    """Worked example 3-8 (p. 99): 8 in², 10 ft in 10 s needs 24.9 gpm (printed); 8000 lb on it are 1000 psi."""
    bore = (4 * 8 / math.pi) ** 0.5
    cylinder = {
        "bore_diameter": f"{bore:.12g} in", "rod_diameter": "1 in", "stroke_length": "10 ft", "extend_time": "10 s",
        "extend_load": "8000 lbf", "regenerative": "no",
    }  # fmt: skip
    out = movement(duty_from({"cylinder": cylinder}), "cylinder 1 going out")
    assert (out.inlet_flow or 0) / to_si(1, "gpm", "flow") == pytest.approx(24.9, abs=0.06)
    assert (out.load or 0) * 0.95 / to_si(1, "psi", "pressure") == pytest.approx(1000, abs=0.1)


def test_intensified_rod_side_navy() -> None:
    """NAVEDTRA 14105, assignment 1, question 1-31: 200 psi on 25 in² stand against 250 psi on 20 in²."""
    bore, rod = (4 * 25 / math.pi) ** 0.5, (4 * 5 / math.pi) ** 0.5
    raw = {
        "cylinder": {
            "bore_diameter": f"{bore:.12g} in", "rod_diameter": f"{rod:.12g} in", "return_throttled": "yes",
            "extend_load": "0 N", "hanging": "no",
        },
        "pump": {"relief_pressure": "200 psi"},
    }  # fmt: skip
    ports = demand(duty_from(raw)).ports
    assert ports["b"].high == pytest.approx(to_si(250, "psi", "pressure"))
    assert ports["b"].low == ports["b"].high
    assert ports["a"].high == pytest.approx(to_si(200, "psi", "pressure"))


def test_who_may_throttle_the_return_is_asked_between_the_two_pressures(make_duty: MakeDuty) -> None:
    """2:1 at 160 bar: 320 bar on a shut rod side; a load of 60 kN pulling out adds 60 kN / 3927 mm² = 152.8 bar."""
    ports = demand(make_duty({"cylinder": {"return_throttled": None}})).ports
    assert (ports["b"].low, ports["b"].high) == pytest.approx((160 * BAR, 320 * BAR))
    assert ports["b"].lacks == ("cylinder 1.return_throttled",)
    ports = demand(make_duty({"cylinder": {"return_throttled": "yes", "extend_load": "-60 kN"}})).ports
    assert ports["b"].high == pytest.approx(472.8 * BAR, rel=1e-3)


def test_load_that_runs_ahead_is_below_zero(make_duty: MakeDuty) -> None:
    """-60 kN on 7854 mm²: 76.4 bar, of which friction holds 5 %: -72.6 bar."""
    out = movement(make_duty({"cylinder": {"extend_load": "-60 kN"}}), "cylinder 1 going out")
    assert out.load == pytest.approx(-72.6 * BAR, rel=1e-3)


def test_accumulator_adds_its_flow_and_is_asked_for(make_duty: MakeDuty) -> None:
    out = movement(make_duty({"accumulator": {"present": "yes", "peak_flow": "50 L/min"}}), "cylinder 1 going out")
    assert out.inlet_flow == pytest.approx(80 * LITRES)
    for given, lack in (("yes", "accumulator.peak_flow"), (None, "accumulator.present")):
        out = movement(make_duty({"accumulator": {"present": given}}), "cylinder 1 going out")
        assert out.unsure == (lack,)


def test_port_plugged_leaves_one_path_each_way(make_duty: MakeDuty) -> None:
    """B plugged: out through P-A alone; in by the load through A-T, 50 mm/s on 7854 mm² are 23.6 L/min."""
    duty = make_duty({"ports": {"plugged": "B"}, "cylinder": {"retract_speed": "50 mm/s"}})
    out, back = demand(duty).movements
    assert (out.inlet, out.outlet, back.inlet, back.outlet) == ("pa", "", "", "at")
    assert back.return_flow == pytest.approx(23.56 * LITRES, rel=1e-3)


def test_motor_carries_the_same_both_ways() -> None:
    """80 mL a turn at 500 turns a minute: 40 L/min. 120 N·m on 80 mL: 2π·120/80e-6 = 94.2 bar, 99.2 with 95 %."""
    duty = duty_from({"motor": {"displacement": "80 mL", "speed": "500 rpm", "torque": "120 N·m"}})
    one, other = demand(duty).movements
    assert one.inlet_flow == one.return_flow == other.return_flow == pytest.approx(40 * LITRES)
    assert one.load == pytest.approx(99.2 * BAR, rel=1e-3)


def test_oil_cold_and_hot(make_duty: MakeDuty) -> None:
    """VG 46, index 100, ISO D341: about 26 mm²/s at 55 °C and 180 at 15 °C."""
    asked = demand(make_duty())
    assert asked.hot is not None and asked.cold is not None
    assert asked.hot.viscosity == pytest.approx(26e-6, rel=0.1)
    assert asked.cold.viscosity == pytest.approx(180e-6, rel=0.1)


def test_cable_there_and_back(make_duty: MakeDuty) -> None:
    """IEC 60228, 0.75 mm² flexible: 26.0 Ω/km; 100 m there and back 5.2 Ω."""
    duty = make_duty({"supply": {"cable_length": "100 m", "cable_area": "0.75 mm²"}})
    assert demand(duty).loop == pytest.approx(5.2)


def test_all_faults_of_a_duty_at_once(tmp_path: Path) -> None:
    path = tmp_path / "duty.toml"
    path.write_text(
        "[pump]\nflow = '30'\nrelief = '160 bar'\n[oil]\ngrade = '47'\ncoldest = '60 °C'\nhottest = '20 °C'\n"
        "[[cylinder]]\nbore_diameter = '50 mm'\nrod_diameter = '50 mm'\n[suply]\n[supply]\ncable_area = '1.3 mm²'\n",
        "utf-8",
    )
    with pytest.raises(InputError) as caught:
        read_duty(path)
    assert [one.entry for one in caught.value.troubles] == [
        "pump.flow", "pump.relief", "oil.grade", "suply", "cylinder 1.rod_diameter", "oil.coldest",
        "supply.cable_area",
    ]  # fmt: skip
    assert all(one.where == "duty.toml" for one in caught.value.troubles)


def test_every_entry_alone_may_be_missing(make_duty: MakeDuty) -> None:
    """Never a crash, and never a figure made from nothing."""
    whole = make_duty()
    for entry in entries(whole):
        lacking = changed(whole, entry, None)
        assert entry not in entries(lacking)
        demand(lacking)
        assert meaning(entry)[0]
    assert demand(changed(whole, "pump.flow", None)).movements[0].inlet_flow is None
    assert demand(changed(whole, "lines.tank_surge", None)).tank.high == math.inf
    assert demand(duty_from({"duty": {"title": "nothing known"}})).movements == ()


def test_one_entry_changed(make_duty: MakeDuty) -> None:
    duty = changed(make_duty(), "cylinder 1.extend_load", "70 kN")
    assert duty.cylinders[0]["extend_load"] == pytest.approx(70e3)
    for wrong in ("pump", "cylinder 2.stroke_length", "pomp.flow"):
        with pytest.raises(InputError):
            changed(duty, wrong, "1 bar")


@pytest.mark.parametrize(
    ("entry", "text"),
    (("cylinder 1.rod_diameter", "{bore}"), ("oil.coldest", "90 °C"), ("supply.cable_area", "1.7 mm²")),
)
def test_a_change_that_cannot_be_is_refused(make_duty: MakeDuty, entry: str, text: str) -> None:
    duty = make_duty()
    with pytest.raises(InputError) as refused:
        changed(duty, entry, text.format(bore=f"{duty.cylinders[0]['bore_diameter']} m"))
    assert refused.value.troubles[0].entry == entry
