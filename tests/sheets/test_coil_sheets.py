"""Supply check, wrong coil, spring check: figures worked by hand beside the sheet's."""

import math

import pytest

from valvecalc.door import calc, find
from valvecalc.facts import fact_value
from valvecalc.judge import verdicts
from valvecalc.sheets.supply_check import KINDS

ROOT = math.sqrt(2.0)


# ---------------------------------------------------------------- supply


def test_the_words_of_the_sheet_are_those_of_the_table() -> None:
    rows = fact_value("supply-kinds")
    assert tuple(row["supply_kind"] for row in rows) == KINDS == find("supply-check").choices["supply_kind"]
    assert {row["wave"] for row in rows} == {"dc", "full", "half", "peak", "pulsed", "ac"}
    assert all(row["meter_note"].endswith(".") for row in rows)


def expected(wave: str, volts: float, drop: float, share: float) -> tuple[float, float, float]:
    """Mean, true RMS, peak of 1 V steps of thought: by hand, kind by kind."""
    peak = ROOT * volts - drop
    return {
        "dc": (volts - drop, volts - drop, volts - drop),
        "half": (peak / math.pi, volts / ROOT, peak),
        "full": (2 * peak / math.pi, volts, peak),
        "peak": (peak, peak, peak),
        "pulsed": (share * volts - (1 - share) * drop, volts * math.sqrt(share), volts - drop),
        "ac": (0.0, volts, peak),
    }[wave]


@pytest.mark.parametrize("row", fact_value("supply-kinds"), ids=lambda row: row["supply_kind"])
def test_every_supply_by_hand(row: dict) -> None:
    answer = calc(
        "supply-check",
        supply_kind=row["supply_kind"],
        supply_voltage="40 V",
        on_share="45 %",
        resistance="80 Ω",
        loop_resistance="2 Ω",
        nominal_voltage="36 V",
        plug_voltage="33 V",
    )
    found = answer.results
    mean, effective, peak = expected(row["wave"], 40.0 * row["voltage_factor"], row["diode_drop"], 0.45)
    assert (found["mean_voltage"], found["effective_voltage"], found["peak_voltage"]) == pytest.approx(
        (mean, effective, peak), rel=1e-12
    )
    counts = effective if row["wave"] == "ac" else mean
    assert found["expected_voltage"] == pytest.approx(counts * 80 / 82, rel=1e-12)
    assert ("expected_current" in found) == (row["wave"] != "ac")
    if row["wave"] != "ac":
        assert found["expected_current"] == pytest.approx(counts / 82, rel=1e-12)
    assert found["reading_deviation"] == pytest.approx(33 / (counts * 80 / 82) - 1, rel=1e-9)
    assert found["supply_deviation"] == pytest.approx(33 / 36 - 1, rel=1e-12)
    assert found["meter_note"] == row["meter_note"]


def test_a_bridge_with_one_open_diode_is_told() -> None:
    """42 V behind a bridge: 36.9 V expected; half of that at the plug is rejected, and right as half wave."""
    reading = {"supply_voltage": "42 V", "plug_voltage": "18.6 V", "nominal_voltage": "36 V"}
    bridge = calc("supply-check", supply_kind="transformer and bridge", **reading)
    diode = calc("supply-check", supply_kind="transformer and one diode", **reading)
    assert bridge.results["expected_voltage"] == pytest.approx(36.92, abs=0.01)
    assert verdicts(bridge)["reading_deviation"] == "reject"
    assert verdicts(diode)["reading_deviation"] == "accept"
    assert verdicts(diode)["supply_deviation"] == "reject"


def test_without_a_reading_the_expected_volts_are_held_against_the_plate() -> None:
    answer = calc("supply-check", supply_kind="battery with charger", supply_voltage="24 V", nominal_voltage="24 V")
    assert answer.results["supply_deviation"] == pytest.approx(0.15)
    assert "reading_deviation" not in answer.results and "expected_current" not in answer.results
    assert verdicts(answer)["supply_deviation"] == "reject"


# ---------------------------------------------------------------- wrong coil


def test_a_12_volt_coil_on_24() -> None:
    """Independent calculation, no published source: 12 V, 30 W on 24 V at 20 °C: 120 W at first, settles at 202 °C."""
    answer = calc(
        "wrong-coil", nominal_voltage="12 V", nominal_power="30 W", coil_voltage="24 V", ambient_temperature="20 °C"
    )
    found = answer.results
    assert found["heat_ratio"] == pytest.approx(4.0)
    assert found["cold_power"] == pytest.approx(120.0)
    assert found["winding_temperature"] - 273.15 == pytest.approx(202, abs=0.5)
    assert found["temperature_reserve"] == pytest.approx(155 - 202, abs=0.5)
    assert verdicts(answer)["temperature_reserve"] == "reject"
    # at its cold power it would make for 20 + 2.6 · 120 = 332 °C: 155 °C after 20 min · ln(312 / 177)
    assert found["on_time"] == pytest.approx(1200 * math.log(312 / 177), rel=1e-9)
    assert found["life_share"] == pytest.approx(2 ** (found["temperature_reserve"] / 10), rel=1e-12)
    hot = 4.8 * (1 + 0.00393 * (found["winding_temperature"] - 293.15))
    assert found["hot_resistance"] == pytest.approx(hot, rel=1e-12)
    assert found["hot_current"] == pytest.approx(24 / hot, rel=1e-12)
    assert found["hot_power"] == pytest.approx(24**2 / hot, rel=1e-12)
    assert found["hot_force_share"] == pytest.approx((24 / hot / 2.5) ** 2, rel=1e-12)
    # the share of the time at which it keeps to 155 °C: (155 - 20) K over 2.6 K/W times the power it has there
    at_limit = 4.8 * (1 + 0.00393 * 135)
    assert found["allowed_share"] == pytest.approx(135 * at_limit / (2.6 * 24**2), rel=1e-12)


def test_a_24_volt_coil_on_12_is_weak_but_whole() -> None:
    """Independent calculation, no published source: 24 V, 30 W on 12 V at 20 °C: 38 °C, force 0.218 of cold rated."""
    answer = calc(
        "wrong-coil", nominal_voltage="24 V", nominal_power="30 W", coil_voltage="12 V", ambient_temperature="20 °C"
    )
    found = answer.results
    assert found["force_ratio"] == pytest.approx(0.25)
    assert found["hot_force_share"] == pytest.approx(0.218, abs=0.001)
    assert found["winding_temperature"] - 273.15 == pytest.approx(38, abs=0.5)
    assert verdicts(answer)["temperature_reserve"] == "accept"
    assert "on_time" not in found and found["allowed_share"] > 1.0


@pytest.mark.parametrize(("volts", "force"), [("24 V", 0.552), ("26.4 V", 0.630), ("21.6 V", 0.474)])
def test_the_right_coil_hot(volts: str, force: float) -> None:
    """Independent calculation, no published source: 24 V, 30 W at 50 °C ambient: force over cold rated force."""
    answer = calc(
        "wrong-coil", nominal_voltage="24 V", nominal_power="30 W", coil_voltage=volts, ambient_temperature="50 °C"
    )
    assert answer.results["hot_force_share"] == pytest.approx(force, abs=0.001)


# ---------------------------------------------------------------- spring

SPRING = {"load_1": "18 N", "length_1": "22 mm", "load_2": "31 N", "length_2": "19.5 mm"}


def test_a_spring_by_hand() -> None:
    """5.2 N/mm; at 21.5 mm 18 + 0.5 · 5.2 = 20.6 N; at full stroke of 3 mm 36.2 N; nine coils of 1.4 mm are 12.6 mm."""
    answer = calc(
        "spring-check",
        **SPRING,
        installed_length="21.5 mm",
        stroke="3 mm",
        free_length="25.2 mm",
        nominal_preload="21 N",
        nominal_free_length="25.5 mm",
        partner_preload="20 N",
        wire_diameter="1.4 mm",
        mean_diameter="10 mm",
        active_coils="7",
        total_coils="9",
    )
    found = answer.results
    assert found["spring_rate"] == pytest.approx(5200.0)
    assert found["spring_preload"] == pytest.approx(20.6)
    assert found["preload_deviation"] == pytest.approx(20.6 / 21 - 1)
    assert found["set_share"] == pytest.approx(0.3 / 25.5)
    assert found["pair_difference"] == pytest.approx(0.6 / 20.3)
    assert found["rate_from_wire"] == pytest.approx(5591, abs=1)  # 5.59 N/mm, independent calculation
    assert found["rate_deviation"] == pytest.approx(5200 / found["rate_from_wire"] - 1)
    assert found["worked_load"] == pytest.approx(36.2)
    wahl = (4 * (10 / 1.4) - 1) / (4 * (10 / 1.4) - 4) + 0.615 / (10 / 1.4)
    assert found["shear_stress"] == pytest.approx(wahl * 8 * 36.2 * 0.01 / (math.pi * 0.0014**3), rel=1e-12)
    assert found["solid_length"] == pytest.approx(0.0126)
    assert found["solid_reserve"] == pytest.approx(0.0215 - 0.003 - 0.0126)
    assert found["solid_reserve_share"] == pytest.approx(5.9 / (25.2 - 12.6))
    assert set(verdicts(answer).values()) == {"accept"}


def test_a_set_spring_of_a_mixed_pair_is_rejected() -> None:
    answer = calc(
        "spring-check",
        load_1="14.9 N",
        length_1="22 mm",
        load_2="27.9 N",
        length_2="19.5 mm",
        installed_length="22 mm",
        free_length="24.8 mm",
        nominal_preload="18 N",
        nominal_free_length="25.5 mm",
        partner_preload="17.8 N",
    )
    told = verdicts(answer)
    assert (told["preload_deviation"], told["set_share"], told["pair_difference"]) == ("reject", "reject", "reject")
    assert told["rate_deviation"] == told["solid_reserve_share"] == "unknown"
    assert answer.results["spring_rate"] == pytest.approx(5200.0)


def test_two_loads_alone_tell_the_rate() -> None:
    assert set(calc("spring-check", **SPRING).results) == {"spring_rate"}


# ---------------------------------------------------------------- AC


@pytest.mark.parametrize(
    ("amps", "verdict", "judged"),
    [("0.36 A", "closed", "accept"), ("0.70 A", "cannot tell", "reject"), ("1.2 A", "held open", "reject")],
)
def test_an_ac_armature_by_hand(amps: str, verdict: str, judged: str) -> None:
    """Holding 0.4 A, inrush 1.4 A: 0 % and 100 %; the heat goes with the square of the current."""
    answer = calc("ac-armature", current=amps, inrush_current="1.4 A", holding_current="0.4 A")
    now = float(amps.split()[0])
    assert answer.results["open_share"] == pytest.approx(now - 0.4)
    assert answer.results["heat_ratio"] == pytest.approx((now / 0.4) ** 2)
    assert answer.results["open_heat_ratio"] == pytest.approx(12.25)
    assert answer.results["armature_verdict"] == verdict
    assert verdicts(answer)["open_share"] == judged
    assert "force_ratio" not in answer.results
