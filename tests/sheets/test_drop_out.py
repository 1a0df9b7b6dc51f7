"""Drop-out and current trace: closed forms by hand, and what a technician knows."""

import math

import pytest

from tests.sheets.test_shift_time import shift
from valvecalc.door import calc
from valvecalc.facts import fact_value
from valvecalc.judge import verdicts
from valvecalc.sheets import drop_out as drop_out_sheet


def test_the_words_of_the_sheet_are_those_of_the_table() -> None:
    rows = fact_value("suppressor-kinds")
    assert tuple(row["suppressor_kind"] for row in rows) == drop_out_sheet.KINDS


def test_drop_out_by_hand() -> None:
    """46 V over 115 Ω: 0.4 A; 2.4 H: 20.87 ms; to 0.1 A with 47 V: ln((46 + 47)/(11.5 + 47))."""
    coil = {"coil_voltage": "46 V", "resistance": "115 Ω", "inductance": "2.4 H", "drop_out_current": "0.1 A"}
    found = calc("drop-out", suppressor_kind="Zener or varistor 47 V", **coil).results
    tau = 2.4 / 115
    assert found["coil_time_constant"] == pytest.approx(tau)
    assert found["drop_out_delay"] == pytest.approx(tau * math.log(93 / 58.5))
    assert found["diode_delay"] == pytest.approx(tau * math.log(46.8 / 12.3))
    assert found["delay_ratio"] == pytest.approx(math.log(93 / 58.5) / math.log(46.8 / 12.3))
    own = calc("drop-out", suppressor_kind="Zener or varistor 47 V", **coil, clamp_voltage="60 V").results
    assert own["drop_out_delay"] == pytest.approx(tau * math.log(106 / 71.5))
    assert calc("drop-out", suppressor_kind="diode", **coil).results["delay_ratio"] == 1.0
    # a lamp tells volts and does not clamp: tau · ln((46 + 400)/(11.5 + 400))
    lamp = calc("drop-out", suppressor_kind="lamp or LED alone in the plug", **coil).results
    assert lamp["drop_out_delay"] == pytest.approx(tau * math.log(446 / 411.5))
    assert "volts at the plug" in lamp["suppressor_note"]


# ---------------------------------------------------------------- trace


@pytest.mark.parametrize(
    ("peak", "dip", "verdict", "judged"),
    [("0.30 A", "0.26 A", "moved", "accept"), ("0.30 A", "0.30 A", "did not move", "reject"),
     ("0.30 A", "0.292 A", "cannot tell", "reject")],
)  # fmt: skip
def test_a_dip_proves_motion(peak: str, dip: str, verdict: str, judged: str) -> None:
    answer = calc("current-trace", trace_peak_current=peak, dip_current=dip)
    assert answer.results["motion_verdict"] == verdict
    assert verdicts(answer)["dip_share"] == judged


def test_the_settled_current_tells_of_resistance_in_the_way() -> None:
    answer = calc("current-trace", final_current="0.32 A", coil_voltage="46 V", resistance="115 Ω")
    assert answer.results["final_deviation"] == pytest.approx(0.32 / 0.4 - 1)
    assert verdicts(answer)["final_deviation"] == "reject"


def test_the_worked_trace_of_the_shift_is_read_as_moved() -> None:
    """The two sheets speak of one thing."""
    found = shift()
    answer = calc("current-trace", trace_peak_current=found["trace_peak_current"], dip_current=found["dip_current"])
    assert answer.results["motion_verdict"] == "moved"
