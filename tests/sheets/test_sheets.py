"""The other sheets: their figures against arithmetic written out beside them, or an independent calculation's.

"Independent calculation, no published source": the figures were printed by another implementation of the same
physics, made before this one and apart from it; they bear no other authority.
"""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.door import calc
from valvecalc.judge import verdicts
from valvecalc.uncertainty import decide

IN, PSI, GPM = 0.0254, 6894.757293168361, 231 * 0.0254**3 / 60
ML_MIN = 1e-6 / 60


# ---------------------------------------------------------------- oil


def test_a_grade_46_oil_of_index_100() -> None:
    """Independent calculation, no published source: 6.76 mm²/s at 100 °C; 134.5, 20.6, 11.1 mm²/s at 20, 60, 80 °C.

    At an index of 100 the oil is the standard's own H: ASTM D2270 has H 45.33 at 6.7 and 46.44 at 6.8 mm²/s."""
    given = {"viscosity_40": "46 mm²/s", "viscosity_index": "100"}
    at_100 = calc("oil-state", **given, oil_temperature="40 °C").results["viscosity_100"]
    assert at_100 == pytest.approx(6.76e-6, abs=0.005e-6)
    assert at_100 == pytest.approx((6.7 + 0.1 * (46 - 45.33) / (46.44 - 45.33)) * 1e-6, rel=1e-12)
    for celsius, expected in ((20, 134.5), (40, 46.0), (60, 20.6), (80, 11.1)):
        found = calc("oil-state", **given, oil_temperature=f"{celsius} °C").results["kinematic_viscosity"]
        assert found * 1e6 == pytest.approx(expected, abs=0.051), celsius


@pytest.mark.parametrize(
    ("at_40", "at_100", "index", "within"),
    [
        (73.30, 8.86, 92.0, 0.5),  # ASTM D2270, example of procedure A (5.1.4): index 92
        (22.83, 5.05, 156.0, 0.5),  # ASTM D2270, example of procedure B (6.1.4): index 156
    ],
)
def test_the_standards_examples_come_back(at_40: float, at_100: float, index: float, within: float) -> None:
    """The standard goes from two viscosities to the index; the sheet goes back from the index it prints."""
    found = calc("index-at", viscosity_40=f"{at_40} mm²/s", viscosity_100=f"{at_100} mm²/s").value
    assert found == pytest.approx(index, abs=within)
    back = calc("oil-state", viscosity_40=f"{at_40} mm²/s", viscosity_index=found, oil_temperature="40 °C")
    assert back.results["viscosity_100"] * 1e6 == pytest.approx(at_100, rel=1e-12)


@given(st.floats(15, 700), st.floats(20, 200))
def test_index_and_viscosity_at_100_are_each_others_inverse(at_40: float, index: float) -> None:
    oil = calc("oil-state", viscosity_40=at_40 * 1e-6, viscosity_index=index, oil_temperature=330.0)
    if oil.value is None:  # the table of references ends at 70 mm²/s
        return
    assert calc(
        "index-at", viscosity_40=at_40 * 1e-6, viscosity_100=oil.results["viscosity_100"]
    ).value == pytest.approx(index, abs=1e-7)


def test_density_and_dynamic_viscosity() -> None:
    """By hand: 880 (1 - 0.00065 · 40) = 857.12 kg/m³ at 55 °C; dynamic is kinematic times that."""
    oil = calc("oil-state", viscosity_40="32 mm²/s", oil_temperature="55 °C", density_15="880 kg/m³").results
    assert oil["density"] == pytest.approx(857.12, rel=1e-12)
    assert oil["viscosity"] == pytest.approx(oil["kinematic_viscosity"] * 857.12, rel=1e-12)


# ---------------------------------------------------------------- leakage

WHOLE = {
    "spool_diameter": "12 mm",
    "land_length": "1.3 mm",
    "pressure_drop": "210 bar",
    "lands_in_series": "2",
    "parallel_paths": "2",
    "viscosity_40": "46 mm²/s",
    "oil_temperature": "50 °C",
}


@pytest.mark.parametrize(
    ("clearance", "centred", "touching"),
    [(3, 3.2, 8.0), (5, 14.9, 37.3), (7, 40.9, 102.2), (10, 119.2, 298.0), (15, 402.3, 1005.8), (20, 953.7, 2384.2)],
)
def test_leakage_of_a_whole_valve(clearance: int, centred: float, touching: float) -> None:
    """Independent calculation, no published source: D 12, overlap 1.3 mm, P 210 bar, A and B plugged, VG 46 at 50 °C;
    two paths of two lands in series. Its oil density is not told: half a percent is left for that."""
    found = calc("leak-check", **WHOLE, leakage="1 mL/min", diametral_clearance=f"{2 * clearance} µm").results
    assert found["expected_leakage_centred"] / ML_MIN == pytest.approx(centred, rel=5e-3, abs=0.05)
    assert found["expected_leakage_touching"] / ML_MIN == pytest.approx(touching, rel=5e-3, abs=0.05)
    assert found["expected_leakage_touching"] == pytest.approx(2.5 * found["expected_leakage_centred"], rel=1e-12)


def test_clearance_from_a_reading() -> None:
    """Independent calculation, no published source: 80 mL/min past a pair of lands side by side, 105 bar each:
    8.76 µm centred, 6.45 touching."""
    found = calc("leak-check", **WHOLE, leakage="80 mL/min").results
    assert found["clearance_centred"] * 1e6 == pytest.approx(8.76, abs=0.015)
    assert found["clearance_touching"] * 1e6 == pytest.approx(6.45, abs=0.015)
    assert found["clearance_centred"] / found["clearance_touching"] == pytest.approx(2.5 ** (1 / 3), rel=1e-12)


def test_the_reading_of_a_known_fit_gives_that_fit_back() -> None:
    centred = calc("leak-check", **WHOLE, leakage="1 mL/min", diametral_clearance="14 µm")
    back = calc("leak-check", **WHOLE, leakage=centred.results["expected_leakage_centred"])
    assert back.results["clearance_centred"] == pytest.approx(7e-6, rel=1e-12)
    back = calc("leak-check", **WHOLE, leakage=centred.results["expected_leakage_touching"])
    assert back.results["clearance_touching"] == pytest.approx(7e-6, rel=1e-12)


@pytest.mark.parametrize(
    ("leakage", "verdict", "judged"),
    [("10 mL/min", "new", "accept"), ("60 mL/min", "cannot tell", "cannot-tell"), ("300 mL/min", "worn", "reject")],
)
def test_worn_only_if_even_the_smallest_clearance_is_beyond(leakage: str, verdict: str, judged: str) -> None:
    answer = calc("leak-check", **WHOLE, leakage=leakage, new_diametral_clearance="12 µm")
    found = answer.results
    assert found["wear_verdict"] == verdict
    assert verdicts(answer)["wear_verdict"] == judged
    assert found["new_clearance"] == 6e-6
    assert (found["clearance_touching"] > 6e-6) == (verdict == "worn")
    assert (found["clearance_centred"] <= 6e-6) == (verdict == "new")


def test_a_reading_turned_to_reference_oil_and_pressure() -> None:
    """Leakage · viscosity / pressure stays. Independent calculation, no published source: the same valve leaks 2.27
    times as much at 60 °C as at 40 °C (VG 46)."""
    given = WHOLE | {"oil_temperature": "60 °C", "leakage": "227 mL/min", "reference_pressure_drop": "105 bar"}
    found = calc("leak-check", **given, new_leakage="25 mL/min").results
    assert found["reference_leakage"] / ML_MIN == pytest.approx(100 / 2, rel=3e-3)
    assert found["wear_ratio"] == pytest.approx(found["reference_leakage"] / (25 * ML_MIN), rel=1e-12)


# ---------------------------------------------------------------- margin on the bench

# Independent calculation, no published source: 48 V DC coil, 0.9 of it at the plug, 121.7 Ω hot.
# u(U) 0.3 V, u(R) 0.5 %, u(R hot) 1 %, all k = 1; share, its u, decision against 25 % with 1.645 u.
BENCH = [
    ("no_pressure", 22.6, 93.5, 0.5363, 0.0161, "accept"),
    ("blocked", 25.1, 94.8, 0.4437, 0.0182, "accept"),
    ("dwell", 31.9, 95.6, 0.1164, 0.0258, "reject"),
    ("flow", 28.3, 97.0, 0.3245, 0.0208, "accept"),
    ("duty", 41.0, 119.8, 0.0705, 0.0248, "reject"),
    ("duty", 36.5, 119.7, 0.2621, 0.0205, "cannot-tell"),
    ("no_pressure", 22.0, 93.3, 0.5587, 0.0156, "accept"),
    ("dwell", 23.9, 95.2, 0.4998, 0.0168, "accept"),
    ("duty", 34.2, 119.6, 0.3511, 0.0184, "accept"),
]


def read_k1(value: float, u: float, unit: str) -> str:
    return f"{value} {unit} ± {2 * u} {unit} (k=2)"


@pytest.mark.parametrize(("state", "volts", "ohms", "share", "u", "decision"), BENCH)
def test_share_uncertainty_and_decision(
    state: str, volts: float, ohms: float, share: float, u: float, decision: str
) -> None:
    answer = calc(
        "bench-margin",
        hot_resistance=read_k1(121.7, 1.217, "Ω"),
        minimum_voltage="43.2 V",
        **{f"{state}_voltage": read_k1(volts, 0.3, "V"), f"{state}_resistance": read_k1(ohms, 0.005 * ohms, "Ω")},
    )
    assert answer.results["margin_share"] == pytest.approx(share, abs=0.002)
    assert answer.results[f"share_{state}"] == answer.results["margin_share"]
    assert answer.spreads["margin_share"].u == pytest.approx(u, abs=0.001)
    found = answer.spreads["margin_share"].u
    assert decide(answer.results["margin_share"], found, ">=", 0.25, 1.645) == decision
    # the sheet itself decides only where flow and a hold were both met
    assert verdicts(answer)["proved_share"] == (decision if state == "duty" else "unknown")


def test_flow_and_hold_met_one_after_the_other_count_as_the_smaller() -> None:
    readings = {
        "dwell_voltage": "23.9 V",
        "dwell_resistance": "95.2 Ω",
        "flow_voltage": "26.4 V",
        "flow_resistance": "96.8 Ω",
    }
    answer = calc("bench-margin", hot_resistance="121.7 Ω", minimum_voltage="43.2 V", **readings)
    assert answer.results["proved_share"] == answer.results["share_flow"] < answer.results["share_dwell"]
    assert verdicts(answer)["proved_share"] == "accept"


def test_what_each_state_adds_and_newtons_from_one_push() -> None:
    """Definitions, by hand from the shares above: 0.5363, 0.4437, 0.1164, 0.3245; a push of 22 N without pressure."""
    answer = calc(
        "bench-margin",
        hot_resistance="121.7 Ω",
        minimum_voltage="43.2 V",
        no_pressure_voltage="22.6 V", no_pressure_resistance="93.5 Ω", blocked_voltage="25.1 V",
        blocked_resistance="94.8 Ω", dwell_voltage="31.9 V", dwell_resistance="95.6 Ω", flow_voltage="28.3 V",
        flow_resistance="97 Ω", no_pressure_push="22 N", blocked_push="26 N", dwell_push="37 N",
    )  # fmt: skip
    found = answer.results
    assert found["weakest_state"] == "after dwell"
    assert found["used_spring_and_dry"] == pytest.approx(1 - 0.5363, abs=1e-4)
    assert found["added_lateral"] == pytest.approx(0.5363 - 0.4437, abs=1.5e-4)
    assert found["added_silt"] == pytest.approx(0.4437 - 0.1164, abs=1.5e-4)
    assert found["added_flow"] == pytest.approx(0.4437 - 0.3245, abs=1.5e-4)
    assert (found["push_added_lateral"], found["push_added_silt"]) == pytest.approx((4.0, 11.0))
    assert found["offered_force"] == pytest.approx(22 / (1 - 0.5363), rel=3e-4)
    assert found["margin_force"] == pytest.approx(22 / (1 - 0.5363) * 0.1164, rel=1e-3)
    told = [(row["tested_state"], row["margin_share"] is None) for row in found["states"]]
    assert told == [
        ("no pressure", False),
        ("blocked", False),
        ("after dwell", False),
        ("flow", False),
        ("flow after dwell", True),
    ]


def test_without_a_pick_up_reading_there_is_no_margin() -> None:
    answer = calc("bench-margin", hot_resistance="60 Ω", minimum_voltage="32 V")
    assert answer.value is None
    assert answer.missing
    assert verdicts(answer)["proved_share"] == "unknown"


# ---------------------------------------------------------------- coil


def test_a_coil_followed_from_cold_to_its_plug() -> None:
    """By hand: 36 V, 27 W: 48 Ω at 20 °C. Read 50.31 Ω at 32 °C: copper gains 0.393 % for each K."""
    found = calc(
        "coil-check",
        resistance="50.31 Ω", coil_temperature="32 °C", nominal_voltage="36 V", nominal_power="27 W",
        hot_resistance="62 Ω", source_voltage="35 V", cable_length="30 m", resistance_per_length="13.3 Ω/km",
        contact_resistance="0.2 Ω",
    ).results  # fmt: skip
    at_20 = 50.31 / (1 + 0.00393 * 12)
    assert found["resistance_20"] == pytest.approx(at_20, rel=1e-12)
    assert found["expected_resistance_20"] == pytest.approx(48.0, rel=1e-12)
    assert found["resistance_deviation"] == pytest.approx(at_20 / 48 - 1, rel=1e-9)
    assert found["cold_current"] == pytest.approx(36 / at_20, rel=1e-12)
    assert found["winding_temperature"] == pytest.approx(273.15 + 62 / at_20 * (234.5 + 20) - 234.5, rel=1e-12)
    loop = 2 * 30 * 0.0133
    plug = 35 * 62 / (62 + loop + 0.2)
    assert found["loop_resistance"] == pytest.approx(loop, rel=1e-12)
    assert found["plug_voltage_expected"] == pytest.approx(plug, rel=1e-12)
    assert found["voltage_drop"] == pytest.approx(35 - plug, rel=1e-10)
    assert found["supply_deviation"] == pytest.approx(plug / 36 - 1, rel=1e-10)
    assert found["hot_current"] == pytest.approx(plug / 62, rel=1e-12)
    assert found["hot_power"] == pytest.approx(plug**2 / 62, rel=1e-12)
    assert found["hot_force_share"] == pytest.approx((plug / 62 / (36 / at_20)) ** 2, rel=1e-12)


def test_a_measured_plug_voltage_wins_over_the_computed() -> None:
    given = {"nominal_voltage": "36 V", "hot_resistance": "62 Ω", "source_voltage": "35 V", "cable_length": "30 m"}
    found = calc("coil-check", **given, resistance_per_length="13.3 Ω/km", plug_voltage="32.1 V").results
    assert found["hot_current"] == pytest.approx(32.1 / 62, rel=1e-12)
    assert found["supply_deviation"] == pytest.approx(32.1 / 36 - 1, rel=1e-12)
    assert found["voltage_drop"] == pytest.approx(35 - 32.1, rel=1e-12)


PLATE = {"nominal_voltage": "36 V", "nominal_power": "27 W", "coil_temperature": "20 °C"}
WINDINGS = [("48 Ω", "accept"), ("52.7 Ω", "accept"), ("53 Ω", "reject"), ("24 Ω", "reject")]


@pytest.mark.parametrize(("ohms", "verdict"), WINDINGS)
def test_the_winding_against_its_plate(ohms: str, verdict: str) -> None:
    """10 % at 20 °C (common practice, no source): 48 Ω gives 43.2 to 52.8 Ω."""
    answer = calc("coil-check", resistance=ohms, **PLATE)
    assert verdicts(answer)["resistance_deviation"] == verdict


def test_a_coil_of_half_the_voltage_shows_a_quarter_of_the_ohms() -> None:
    """Same power, half the voltage: R = U²/P."""
    answer = calc("coil-check", resistance="12 Ω", **PLATE)
    assert answer.results["resistance_deviation"] == pytest.approx(-0.75)


# ---------------------------------------------------------------- cylinder of the stand


def test_a_stand_cylinder_at_three_flows() -> None:
    """2 in bore, 1 in rod, 12 in stroke. Handy identity of the trade: t = A·L·60/(231·gpm), with A in in² and L in in.
    Independent calculation, no published source: 1.958 s out and 1.469 s in at 5 gpm, 6.67 gpm back on the way in."""
    for gpm, out, back in ((3, 3.26, 2.45), (5, 1.958, 1.469), (8, 1.22, 0.92)):
        found = calc(
            "test-cylinder", bore_diameter="2 in", rod_diameter="1 in", stroke_length="12 in", pump_flow=f"{gpm} gpm"
        ).results
        assert found["extend_time_expected"] == pytest.approx(math.pi * 12 * 60 / (231 * gpm), rel=1e-9)
        assert found["retract_time_expected"] == pytest.approx(math.pi * 0.75 * 12 * 60 / (231 * gpm), rel=1e-9)
        assert found["extend_time_expected"] == pytest.approx(out, abs=0.0051)
        assert found["retract_time_expected"] == pytest.approx(back, abs=0.0051)
        assert found["area_ratio"] == pytest.approx(4 / 3, rel=1e-12)
        assert found["retract_return_flow"] / GPM == pytest.approx(gpm * 4 / 3, rel=1e-9)


def test_what_measured_times_speak_for() -> None:
    """By hand: both ways 15 % slow is 1/1.15 of the flow, and the ratio of the times does not move."""
    stand = {"bore_diameter": "45 mm", "rod_diameter": "25 mm", "stroke_length": "280 mm", "pump_flow": "14 L/min"}
    plain = calc("test-cylinder", **stand).results
    slow = calc(
        "test-cylinder",
        **stand,
        extend_time=1.15 * plain["extend_time_expected"],
        retract_time=1.15 * plain["retract_time_expected"],
    )
    assert slow.results["extend_deviation"] == pytest.approx(0.15, rel=1e-9)
    assert slow.results["extend_flow"] * 60000 == pytest.approx(14 / 1.15, rel=1e-9)
    assert slow.results["retract_flow"] * 60000 == pytest.approx(14 / 1.15, rel=1e-9)
    assert slow.results["time_ratio_deviation"] == pytest.approx(0.0, abs=1e-12)
    assert verdicts(slow)["extend_deviation"] == "reject"
    assert verdicts(slow)["time_ratio_deviation"] == "accept"
    one_way = calc(
        "test-cylinder",
        **stand,
        extend_time=plain["extend_time_expected"],
        retract_time=1.2 * plain["retract_time_expected"],
    )
    assert verdicts(one_way)["extend_deviation"] == "accept"
    assert verdicts(one_way)["time_ratio_deviation"] == "reject"
