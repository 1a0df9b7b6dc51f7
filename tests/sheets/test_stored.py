"""The sheets of the oil's temperatures, of oil shut in and of accumulators: figures worked by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.door import calc
from valvecalc.judge import verdicts

BAR, L = 1e5, 1e-3
AIR = 1.01325

# ---------------------------------------------------------------- temperatures of an oil


@pytest.mark.parametrize(("grade", "best"), [(22, (28, 49)), (32, (37, 58)), (46, (46, 67)), (68, (54, 77))])
def test_window_of_a_grade(grade: int, best: tuple[int, int]) -> None:
    """Independent calculation, no published source: 36 to 16 mm²/s of oils of index 100, told to 1 °C."""
    found = calc("oil-window", viscosity_40=f"{grade} mm²/s").results
    told = (found["best_from_temperature"] - 273.15, found["best_to_temperature"] - 273.15)
    assert told == pytest.approx(best, abs=0.75)


def test_all_five_temperatures_of_grade_46() -> None:
    """Independent calculation, no published source: 500, 100, 10 mm²/s at 2, 25, 84 °C."""
    found = calc("oil-window", viscosity_40="46 mm²/s").results
    for name, celsius in (("cold_start_temperature", 2), ("coldest_temperature", 25), ("hottest_temperature", 84)):
        assert found[name] - 273.15 == pytest.approx(celsius, abs=0.55)
    assert "window_word" not in found


@pytest.mark.parametrize(
    ("celsius", "word"), [(-5, "too thick"), (20, "thick"), (50, "best"), (75, "thin"), (95, "too thin")]
)
def test_where_the_oil_stands(celsius: int, word: str) -> None:
    found = calc("oil-window", viscosity_40="46 mm²/s", oil_temperature=f"{celsius} °C").results
    assert found["window_word"] == word
    same = calc("oil-state", viscosity_40="46 mm²/s", oil_temperature=f"{celsius} °C").results
    assert found["kinematic_viscosity"] == same["kinematic_viscosity"]


def test_a_sample_is_judged_with_its_doubt() -> None:
    for reading, verdict in (("45 mm²/s", "accept"), ("41 mm²/s ± 1 mm²/s", "cannot-tell"), ("38 mm²/s", "reject")):
        answer = calc("grade-check", viscosity_40=reading, grade_viscosity="46 mm²/s")
        assert verdicts(answer)["grade_deviation"] == verdict
    assert calc("grade-check", viscosity_40="50.6 mm²/s", grade_viscosity="46 mm²/s").value == pytest.approx(0.1)


@pytest.mark.parametrize(
    ("grade", "low", "high"), [(22, 19.8, 24.2), (32, 28.8, 35.2), (46, 41.4, 50.6), (68, 61.2, 74.8)]
)
def test_the_limits_of_a_grade(grade: int, low: float, high: float) -> None:
    """Definition, ISO 3448: mid-point ± 10 %. A hair inside is accepted, a hair outside rejected."""
    for at_40, verdict in (
        (low + 0.01, "accept"),
        (low - 0.01, "reject"),
        (high - 0.01, "accept"),
        (high + 0.01, "reject"),
    ):
        answer = calc("grade-check", viscosity_40=f"{at_40:.2f} mm²/s", grade_viscosity=f"{grade} mm²/s")
        assert verdicts(answer)["grade_deviation"] == verdict


@given(st.floats(15, 400), st.floats(20, 200), st.floats(0, 110))
def test_a_reading_at_any_temperature_leads_back_to_the_oil(at_40: float, index: float, celsius: float) -> None:
    """The other sheet goes from 40 °C to a temperature; this one comes back."""
    there = calc("oil-state", viscosity_40=at_40 * 1e-6, viscosity_index=index, oil_temperature=celsius + 273.15)
    if there.value is None or not 2e-6 < there.results["kinematic_viscosity"] <= 0.02:
        return
    back = calc(
        "viscosity-40-from-reading",
        kinematic_viscosity=there.results["kinematic_viscosity"],
        oil_temperature=celsius + 273.15,
        viscosity_index=index,
    ).results
    assert back["viscosity_40"] == pytest.approx(at_40 * 1e-6, rel=1e-9)
    assert back["viscosity_100"] == pytest.approx(there.results["viscosity_100"], rel=1e-9)


def test_saybolt_seconds_come_back() -> None:
    for seconds, celsius in ((35.0, 40.0), (150.0, 37.78), (2000.0, 20.0)):
        found = calc("viscosity-from-saybolt", saybolt_time=seconds, oil_temperature=f"{celsius} °C").value
        back = calc("saybolt-seconds", kinematic_viscosity=found, oil_temperature=f"{celsius} °C").value
        assert back == pytest.approx(seconds, rel=1e-12)


# ---------------------------------------------------------------- energy behind a fitting


def test_energy_of_oil_and_gas() -> None:
    """By hand, 8 L at 170 bar, 1.43 GPa: half of 17 MPa · 8 L · 170/14300 = 808.4 J. 4 L gas from 170 to 70 bar:
    7.101325 MPa · 4 L · ln(171.01325/71.01325) = 24 965 J, and 4 L · (1 - 71.01325/171.01325) = 2.339 L of oil."""
    entries = {"oil_pressure": "170 bar", "oil_volume": "8 L", "gas_volume": "4 L", "precharge_pressure": "70 bar"}
    found = calc("trapped-energy", **entries).results
    assert found["oil_energy"] == pytest.approx(808.4, abs=0.05)
    by_hand = 71.01325 * BAR * 4 * L * math.log(171.01325 / 71.01325)
    assert found["gas_energy"] == pytest.approx(by_hand, rel=1e-9)
    assert found["stored_energy"] == pytest.approx(808.39 + by_hand, rel=1e-6)
    assert found["usable_volume"] / L == pytest.approx(2.339, abs=0.0005)


def test_without_an_accumulator_the_oil_alone_is_told_and_without_oil_the_gas() -> None:
    oil_alone = calc("trapped-energy", oil_pressure="170 bar", oil_volume="8 L")
    assert oil_alone.results["stored_energy"] == oil_alone.results["oil_energy"]
    assert "gas_energy" not in oil_alone.results
    gas_alone = calc("trapped-energy", oil_pressure="170 bar", gas_volume="4 L", precharge_pressure="70 bar").results
    assert gas_alone["stored_energy"] == gas_alone["gas_energy"]


def test_the_cautions_figures() -> None:
    """What the caution says: 0.14 L, 1.4 kJ, 14 kg from 10 m; and the accumulator's fifty times."""
    oil = calc("trapped-energy", oil_pressure="200 bar", oil_volume="10 L").results
    assert oil["decompression_volume"] / L == pytest.approx(0.14, abs=0.005)
    assert oil["oil_energy"] == pytest.approx(1400, abs=50)
    assert oil["oil_energy"] == pytest.approx(14 * 9.81 * 10, rel=0.03)
    gas = calc("trapped-energy", oil_pressure="200 bar", gas_volume="10 L", precharge_pressure="80 bar").results
    assert gas["gas_energy"] / oil["oil_energy"] == pytest.approx(50, abs=5)


# ---------------------------------------------------------------- accumulator


def test_precharge_read_in_the_cold() -> None:
    """By hand: 71 bar at 12 °C are 72.01325 · 293.15/285.15 - 1.01325 = 73.020 bar at 20 °C, 8.7 % under 80; at 48 °C
    72.01325 · 321.15/285.15 - 1.01325 = 80.092 bar, 84.3 % of 95; 160/80.092 = 1.998."""
    answer = calc(
        "accumulator-check",
        gas_pressure="71 bar",
        gas_temperature="12 °C",
        precharge_pressure="80 bar",
        working_temperature="48 °C",
        lowest_working_pressure="95 bar",
        highest_working_pressure="160 bar",
        gas_volume="10 L",
    )
    found = answer.results
    assert found["precharge_read"] / BAR == pytest.approx(73.020, abs=0.001)
    assert found["precharge_deviation"] == pytest.approx(-0.0872, abs=0.0001)
    assert found["working_precharge"] / BAR == pytest.approx(80.092, abs=0.001)
    assert found["precharge_share"] == pytest.approx(0.843, abs=0.0005)
    assert found["charging_ratio"] == pytest.approx(1.998, abs=0.0005)
    assert found["expected_gas_pressure"] / BAR == pytest.approx(81.01325 * 285.15 / 293.15 - AIR, rel=1e-12)
    by_hand = 10 * (81.105 / 96.01325 - 81.105 / 161.01325)
    assert found["usable_volume"] / L == pytest.approx(by_hand, abs=0.001)
    assert found["usable_volume_fast"] < found["usable_volume"]
    assert set(verdicts(answer).values()) == {"accept"}


def test_too_high_a_precharge_at_work_is_told() -> None:
    entries = {"gas_pressure": "88 bar", "gas_temperature": "20 °C", "working_temperature": "60 °C"}
    answer = calc("accumulator-check", **entries, lowest_working_pressure="95 bar", highest_working_pressure="160 bar")
    assert verdicts(answer)["precharge_share"] == "reject"
    assert verdicts(answer)["precharge_deviation"] == "unknown"
    flat = calc("accumulator-check", **entries | {"gas_pressure": "30 bar"}, highest_working_pressure="160 bar")
    assert verdicts(flat)["charging_ratio"] == "reject"
