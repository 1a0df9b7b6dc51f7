"""Torque sheet, joint, torque as found, face, heat and nut: figures worked by hand."""

import math

import pytest

from valvecalc.answer import Answer
from valvecalc.door import calc
from valvecalc.judge import verdicts

JOINT = {
    "thread": "M6",
    "bolt_count": "4",
    "tightening_torque": "11.5 N·m",
    "ports_pressure": "280 bar",
    "ring_diameter": "16.6 mm",
}


def groups(answer: Answer) -> list[dict[str, object]]:
    found = answer.results["screw_groups"]
    assert isinstance(found, list)
    return found


# ---------------------------------------------------------------- which torque


def test_the_documents_torque_wins_and_is_told_as_such() -> None:
    """M6, K by hand 0.17204: 11.5 / (0.17204 x 6 mm) = 11.14 kN; rounds 30 and 70 % of 11.5."""
    face = "ISO 4401-05 / NG10 / D05"
    answer = calc("torque-sheet", mounting_face=face, screw_class="10.9", maker_torque="11.5 N·m")
    (one,) = groups(answer)
    assert (one["thread"], one["bolt_count"], one["class_word"]) == ("M6", 4, "10.9")
    assert one["torque_origin"] == answer.results["torque_origin"] == "the valve's documents"
    assert one["first_torque"] == pytest.approx(3.45)
    assert one["second_torque"] == pytest.approx(8.05)
    assert one["tightening_torque"] == answer.results["tightening_torque"] == pytest.approx(11.5)
    assert one["preload"] == pytest.approx(11140, rel=1e-3)
    assert "opposite" in str(one["tightening_order"])
    assert verdicts(answer) == {"proof_verdict": "accept", "clamp_ratio": "unknown"}


def test_without_documents_the_torque_is_computed() -> None:
    """0.7 x 830 MPa x 20.12 mm² = 11.69 kN; x 0.17204 x 6 mm = 12.07 N·m."""
    answer = calc("torque-sheet", mounting_face="ISO 4401-05 / NG10 / D05", screw_class="10.9")
    assert answer.results["torque_origin"] == "computed"
    assert answer.results["tightening_torque"] == pytest.approx(12.07, abs=0.01)


def test_a_face_with_two_sizes_has_two_groups_and_both_clamp() -> None:
    answer = calc(
        "torque-sheet",
        mounting_face="ISO 4401-07 / NG16 / D07",
        screw_class="10.9",
        maker_torque="50 N·m",
        ports_pressure="350 bar",
        ring_diameter="26 mm",
    )
    large, small = groups(answer)
    assert (large["thread"], large["bolt_count"], large["torque_origin"]) == ("M10", 4, "the valve's documents")
    assert (small["thread"], small["bolt_count"], small["torque_origin"]) == ("M6", 2, "computed")
    clamp = 4 * float(str(large["least_preload"])) + 2 * float(str(small["least_preload"]))
    assert answer.results["clamp_force"] == pytest.approx(clamp)
    assert answer.results["separating_force"] == pytest.approx(3 * 350e5 * math.pi / 4 * 0.026**2)
    assert answer.results["clamp_ratio"] == pytest.approx(clamp / 55747.56, rel=1e-5)
    own = calc(
        "torque-sheet",
        mounting_face="ISO 4401-07 / NG16 / D07",
        screw_class="10.9",
        maker_torque="50 N·m",
        small_maker_torque="10 N·m",
    )
    assert [one["tightening_torque"] for one in groups(own)] == [pytest.approx(50), pytest.approx(10)]
    assert {one["torque_origin"] for one in groups(own)} == {"the valve's documents"}


def test_own_thread_and_number_win_over_the_face() -> None:
    answer = calc(
        "torque-sheet",
        mounting_face="ISO 4401-03 / NG6 / D03",
        thread="10-24 UNC",
        bolt_count="4",
        screw_class="SAE grade 8",
    )
    assert [(one["thread"], one["bolt_count"]) for one in groups(answer)] == [("10-24 UNC", 4)]
    alone = calc("torque-sheet", thread="M8", bolt_count="5", screw_class="12.9")
    assert [(one["thread"], one["bolt_count"]) for one in groups(alone)] == [("M8", 5)]


def test_a_thread_without_a_number_is_not_passed_over() -> None:
    """With a face it has as many screws as the face; without one the number is asked for."""
    given = {"thread": "1/4-20 UNC", "screw_class": "SAE grade 8"}
    with_face = calc("torque-sheet", mounting_face="ISO 4401-05 / NG10 / D05", **given)
    assert [(one["thread"], one["bolt_count"]) for one in groups(with_face)] == [("1/4-20 UNC", 4)]
    without = calc("torque-sheet", **given)
    assert "screw_groups" not in without.results
    assert any("bolt_count" in str(row) or "mounting_face" in str(row) for row in without.missing)


def test_no_class_means_no_torque_and_says_what_is_needed() -> None:
    answer = calc("torque-sheet", mounting_face="ISO 4401-05 / NG10 / D05", maker_torque="11.5 N·m")
    assert "screw_groups" not in answer.results
    assert verdicts(answer)["proof_verdict"] == "unknown"
    assert any("screw_class" in str(row) or "proof_stress" in str(row) for row in answer.missing)


def test_a_usual_torque_of_documents_is_not_condemned() -> None:
    """8.9 N·m on M5 of 10.9 stands for friction 0.14: 77 % of proof there, 112 % at 0.09. So friction decides."""
    given = {"mounting_face": "ISO 4401-03 / NG6 / D03", "screw_class": "10.9", "maker_torque": "8.9 N·m"}
    answer = calc("torque-sheet", **given)
    assert answer.results["least_proof_share"] == pytest.approx(0.77, abs=0.01)
    assert answer.results["largest_proof_share"] == pytest.approx(1.12, abs=0.01)
    assert verdicts(answer)["proof_verdict"] == "cannot-tell"
    assert verdicts(calc("torque-sheet", **given | {"maker_torque": "13 N·m"}))["proof_verdict"] == "reject"


# ---------------------------------------------------------------- dry or oiled


def test_the_same_torque_gives_half_to_twice_by_what_is_on_the_thread() -> None:
    answer = calc("preload-range", tightening_torque="11.5 N·m", thread="M6", screw_class="10.9")
    rows = answer.results["friction_rows"]
    assert isinstance(rows, list)
    pulls = {row["lubrication"]: row["preload"] for row in rows}
    oiled, dry = pulls["oiled on thread and head"], pulls["dry: zinc plated or bare"]
    assert answer.results["preload"] == pytest.approx(oiled)
    assert dry / oiled == pytest.approx(0.70, abs=0.01)
    assert pulls["paste with MoS2 or graphite"] / oiled == pytest.approx(1.39, abs=0.01)
    assert answer.results["tightening_factor"] == pytest.approx(
        answer.results["largest_preload"] / answer.results["least_preload"]
    )
    assert answer.results["preload_share"] == pytest.approx(0.667, abs=0.001)


# ---------------------------------------------------------------- does it hold


def test_a_joint_that_holds_and_one_that_lifts() -> None:
    """Push 3 x 280 bar x 216.4 mm² = 18.18 kN; clamp 4 x 9.76 kN at friction 0.14."""
    good = calc("joint-hold", **JOINT)
    assert good.results["separating_force"] == pytest.approx(18180, rel=1e-3)
    assert good.results["clamp_force"] == pytest.approx(39040, rel=1e-3)
    assert good.results["clamp_ratio"] == pytest.approx(2.147, abs=0.001)
    assert good.results["opening_pressure"] == pytest.approx(601e5, rel=1e-3)
    assert verdicts(good)["clamp_ratio"] == "accept"
    loose = calc("joint-hold", **JOINT | {"tightening_torque": "5 N·m"})
    assert verdicts(loose)["clamp_ratio"] == "reject"
    assert loose.results["opening_pressure"] < 280e5


def test_tank_pressure_counts_only_where_it_is_given() -> None:
    without, with_tank = calc("joint-hold", **JOINT), calc("joint-hold", **JOINT, tank_pressure="160 bar")
    added = with_tank.results["separating_force"] - without.results["separating_force"]
    assert added == pytest.approx(160e5 * math.pi / 4 * 0.0166**2)
    assert with_tank.results["opening_pressure"] < without.results["opening_pressure"]


@pytest.mark.parametrize(
    ("material", "length", "verdict"),
    [("steel", "8 mm", "accept"), ("cast iron", "8 mm", "reject"), ("aluminium", "12.5 mm", "accept")],
)
def test_thread_that_engages(material: str, length: str, verdict: str) -> None:
    """M6: steel 7.5 mm, iron 9, aluminium 12."""
    answer = calc("joint-hold", **JOINT, hole_material=material, engagement_length=length)
    assert verdicts(answer)["engagement_use"] == verdict


def test_a_body_of_iron_leaves_the_screws_a_tenth() -> None:
    answer = calc("joint-hold", **JOINT, grip_length="34 mm")
    assert 0.05 < answer.results["joint_share"] < 0.25
    left = answer.results["clamp_force"] - (1 - answer.results["joint_share"]) * answer.results["separating_force"]
    assert answer.results["residual_clamp"] == pytest.approx(left)


# ---------------------------------------------------------------- a torque as found


def found(torque: str, **more: str) -> Answer:
    ports = {"bolt_count": "4", "ports_pressure": "280 bar", "ring_diameter": "16.6 mm"}
    return calc("torque-check", tightening_torque=torque, thread="M6", screw_class="10.9", **ports, **more)


def test_too_loose_right_and_too_tight() -> None:
    assert verdicts(found("5 N·m", maker_torque="11.5 N·m")) == {
        "torque_deviation": "reject",
        "proof_verdict": "accept",
        "clamp_ratio": "reject",
    }
    assert set(verdicts(found("11.5 N·m", maker_torque="11.5 N·m")).values()) == {"accept"}
    tight = verdicts(found("25 N·m", maker_torque="11.5 N·m"))
    assert (tight["torque_deviation"], tight["proof_verdict"], tight["clamp_ratio"]) == ("reject", "reject", "accept")


def test_the_range_of_torque_is_where_the_verdicts_turn() -> None:
    answer = found("9 N·m")
    least, largest = answer.results["least_torque"], answer.results["largest_torque"]
    assert least == pytest.approx(8.033, abs=0.001) and largest == pytest.approx(13.586, abs=0.001)
    assert found(f"{least} N·m").results["clamp_ratio"] == pytest.approx(1.5)
    assert found(f"{largest} N·m").results["largest_proof_share"] == pytest.approx(1.0)
    assert verdicts(answer)["torque_deviation"] == "unknown"


# ---------------------------------------------------------------- face, heat, nut


def test_the_face_of_the_standard_clearance() -> None:
    """10 µm over 100 mm is just what a face may have, and yet 4.6 of 5 µm over a foot of 46 mm."""
    answer = calc(
        "flatness-check", face_error="9 µm", face_length="100 mm", foot_length="46 mm", diametral_clearance="10 µm"
    )
    assert answer.results["flatness_share"] == pytest.approx(0.9)
    assert answer.results["face_bend"] == pytest.approx(0.9 * 4.6e-6)
    assert answer.results["bend_share"] == pytest.approx(0.9 * 0.92)
    assert verdicts(answer)["flatness_share"] == "accept"
    assert verdicts(calc("flatness-check", face_error="11 µm", face_length="100 mm"))["flatness_share"] == "reject"


def test_hot_oil_in_a_cold_valve() -> None:
    """6 mm x 11.5e-6 x 40 K = 2.76 µm of 5: 55 %."""
    answer = calc(
        "thermal-shock",
        spool_diameter="12 mm",
        diametral_clearance="10 µm",
        spool_temperature="60 °C",
        body_temperature="20 °C",
    )
    assert answer.results["clearance_lost"] == pytest.approx(2.76e-6)
    assert answer.results["clearance_left"] == pytest.approx(2.24e-6)
    assert verdicts(answer)["lost_share"] == "reject"


def test_the_nut_on_a_thin_tube() -> None:
    """6 N·m / (0.13 x 18 mm) = 2.564 kN on π/4 (17² - 13.5²) = 83.84 mm²: 30.6 MPa; oil 160 bar adds 27.3."""
    given = {
        "nut_torque": "6 N·m",
        "nut_thread_diameter": "18 mm",
        "tube_diameter": "17 mm",
        "tube_inside": "13.5 mm",
    }
    plain, pressed = calc("tube-nut", **given), calc("tube-nut", **given, tube_pressure="160 bar")
    assert plain.results["tube_stress"] == pytest.approx(30.58e6, rel=1e-3)
    assert pressed.results["tube_stress"] == pytest.approx(57.90e6, rel=1e-3)
    assert not plain.card.judged  # it warns and allows nothing
