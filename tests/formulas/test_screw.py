"""Screws and joints: round trips, other forms of the same physics, and what a technician knows."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.facts import fact_value
from valvecalc.formulas import face, joint, screw, thread

SHAPES = {
    row["thread"]: {name: row[name] for name in ("screw_diameter", "thread_pitch", "head_diameter", "hole_diameter")}
    for row in fact_value("screw-threads")
}
threads = st.sampled_from(sorted(SHAPES))
frictions = st.floats(0.04, 0.35)


def rubbing(friction: float) -> dict[str, float]:
    return {"thread_friction": friction, "head_friction": friction}


@given(threads, frictions, frictions, st.floats(1e2, 1e6))
def test_torque_and_preload_lead_back_to_each_other(name: str, in_thread: float, at_head: float, pull: float) -> None:
    rub = {"thread_friction": in_thread, "head_friction": at_head}
    torque = screw.torque_by_friction(preload=pull, **SHAPES[name], **rub)
    assert screw.preload_by_friction(tightening_torque=torque, **SHAPES[name], **rub) == pytest.approx(pull, rel=1e-12)
    factor = thread.nut_factor(**SHAPES[name], **rub)
    d = SHAPES[name]["screw_diameter"]
    assert screw.torque_from_preload(preload=pull, screw_diameter=d, nut_factor=factor) == pytest.approx(torque)
    assert screw.preload_from_torque(tightening_torque=torque, screw_diameter=d, nut_factor=factor) == pytest.approx(
        pull
    )


@given(threads, frictions, frictions)
def test_the_nut_factor_is_that_of_wedge_angles(name: str, in_thread: float, at_head: float) -> None:
    """The same with angles: a wedge of the thread's rise and the flanks' friction, and the head's ring beside it."""
    shape = SHAPES[name]
    d2 = shape["screw_diameter"] - 0.649519 * shape["thread_pitch"]
    rise = math.atan(shape["thread_pitch"] / (math.pi * d2))
    slip = math.atan(in_thread / math.cos(math.radians(30)))
    ring = (shape["head_diameter"] + shape["hole_diameter"]) / 4
    wedge = (d2 / 2 * math.tan(rise + slip) + at_head * ring) / shape["screw_diameter"]
    ours = thread.nut_factor(**shape, thread_friction=in_thread, head_friction=at_head)
    assert ours == pytest.approx(wedge, rel=1e-6)


@given(threads, st.floats(0.04, 0.16))
def test_the_form_without_the_small_product_is_a_little_less(name: str, friction: float) -> None:
    """As the standards print it: P/2π + friction of pitch diameter and head. Up to 2 % less on a coarse thread."""
    shape = SHAPES[name]
    d2 = shape["screw_diameter"] - 0.649519 * shape["thread_pitch"]
    head = (shape["head_diameter"] + shape["hole_diameter"]) / 2
    plain = (shape["thread_pitch"] / math.pi + friction * d2 / math.cos(math.radians(30)) + friction * head) / 2
    ours = thread.nut_factor(**shape, **rubbing(friction)) * shape["screw_diameter"]
    assert 1.0 < ours / plain < 1.02


@pytest.mark.parametrize("name", ["M5", "M6", "M8", "M10", "M12"])
@pytest.mark.parametrize(("friction", "factor"), [(0.09, 0.13), (0.12, 0.17), (0.14, 0.19)])
def test_the_usual_nut_factors(name: str, friction: float, factor: float) -> None:
    """Independent calculation: 0.13 / 0.17 / 0.19 on M5 to M12 at friction 0.09 / 0.12 / 0.14."""
    assert thread.nut_factor(**SHAPES[name], **rubbing(friction)) == pytest.approx(factor, abs=0.0075)


@pytest.mark.parametrize(("name", "torque"), [("M5", 7.0), ("M6", 11.9), ("M10", 56.0), ("M12", 97.0)])
def test_the_torques_of_the_usual_faces(name: str, torque: float) -> None:
    """Independent calculation, 70 % of the proof load of 10.9, friction 0.12, K 0.17 rounded: within 1.5 %."""
    proof = screw.proof_load(**dict(list(SHAPES[name].items())[:2]), proof_stress=830e6)
    ours = screw.torque_by_friction(preload=0.7 * proof, **SHAPES[name])
    assert ours == pytest.approx(torque, rel=0.015)


def test_a_nut_factor_of_fourteen_hundredths_is_too_little() -> None:
    """M5 of 10.9 with K 0.14: 5.8 N·m, and at friction 0.12 only 57 % of the proof load in place of 70 %."""
    proof = screw.proof_load(screw_diameter=0.005, thread_pitch=0.0008, proof_stress=830e6)
    poor = screw.torque_from_preload(preload=0.7 * proof, screw_diameter=0.005, nut_factor=0.14)
    assert poor == pytest.approx(5.8, abs=0.05)
    assert screw.preload_by_friction(tightening_torque=poor, **SHAPES["M5"]) / proof == pytest.approx(0.57, abs=0.01)


def test_dry_against_oiled_loses_three_tenths() -> None:
    oiled = screw.preload_from_torque(tightening_torque=10.0, screw_diameter=0.006, nut_factor=0.14)
    dry = screw.preload_from_torque(tightening_torque=10.0, screw_diameter=0.006, nut_factor=0.20)
    assert dry / oiled == pytest.approx(0.70)


@given(threads, frictions)
def test_twist_uses_up_strength(name: str, friction: float) -> None:
    shape = {key: SHAPES[name][key] for key in ("screw_diameter", "thread_pitch")}
    limit = screw.preload_limit(**shape, yield_strength=940e6, thread_friction=friction)
    smooth = screw.preload_limit(**shape, yield_strength=940e6, thread_friction=0.0)
    assert limit < smooth < 0.9 * 940e6 * thread.stress_area(**shape)


def test_an_inch_thread_has_a_little_less_area_by_its_own_rule() -> None:
    for name in SHAPES:
        shape = {key: SHAPES[name][key] for key in ("screw_diameter", "thread_pitch")}
        assert 0.98 < thread.inch_stress_area(**shape) / thread.stress_area(**shape) < 0.995


# ---------------------------------------------------------------- the joint


@given(st.floats(0.005, 0.03), st.floats(0.005, 0.15))
def test_the_cone_is_as_stiff_as_its_slices_in_series(head: float, grip: float) -> None:
    """Quadrature over 4000 slices of the cone, each a ring of its own area."""
    hole, modulus, slices = 0.65 * head, 1.1e11, 4000
    step = grip / slices
    give = 0.0
    for number in range(slices):
        wide = head + 2 * math.tan(math.radians(30)) * (number + 0.5) * step
        give += step / (modulus * math.pi / 4 * (wide**2 - hole**2))
    ours = joint.clamped_stiffness(head_diameter=head, hole_diameter=hole, grip_length=grip, clamped_modulus=modulus)
    assert ours == pytest.approx(1 / give, rel=1e-3)


@given(st.floats(1e3, 1e6), st.floats(0, 1e6), st.floats(1e6, 1e9), st.floats(1e6, 1e9))
def test_what_the_screws_do_not_feel_comes_off_the_clamp(clamp: float, push: float, screws: float, body: float) -> None:
    share = joint.joint_share(screw_stiffness=screws, clamped_stiffness=body)
    load = joint.screw_load(clamp_force=clamp, separating_force=push, screw_stiffness=screws, clamped_stiffness=body)
    left = joint.residual_clamp(clamp_force=clamp, separating_force=push, joint_share=share)
    assert load - left == pytest.approx(push, rel=1e-9, abs=1e-6)  # the body is in balance
    assert load >= clamp and left <= clamp


@given(st.floats(1e3, 1e6), st.floats(0.005, 0.05), st.integers(1, 6))
def test_at_the_opening_pressure_clamp_and_push_are_alike(clamp: float, ring: float, rings: int) -> None:
    pressure = joint.opening_pressure(clamp_force=clamp, ring_diameter=ring, ring_count=float(rings))
    push = joint.separating_force(ports_pressure=pressure, ring_diameter=ring, ring_count=float(rings))
    assert joint.clamp_ratio(clamp_force=clamp, separating_force=push) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("name", "count", "ring", "preload", "push", "ratio"),
    [
        ("M5", 4, 12.8, 8.3, 13.5, 2.44),
        ("M6", 4, 16.6, 11.7, 22.7, 2.06),
        ("M10", 4, 26.0, 33.7, 55.7, 2.42),
        ("M12", 6, 35.0, 49.0, 101.0, 2.91),
    ],
)
def test_the_usual_faces_at_350_bar(
    name: str, count: int, ring: float, preload: float, push: float, ratio: float
) -> None:
    """Independent calculation: 70 % of proof of 10.9 against three rings; kN."""
    proof = screw.proof_load(**dict(list(SHAPES[name].items())[:2]), proof_stress=830e6)
    pull = 0.7 * proof
    force = joint.separating_force(ports_pressure=350e5, ring_diameter=ring / 1000, ring_count=3.0)
    clamp = joint.group_clamp(bolt_count=float(count), preload=pull)
    assert pull / 1000 == pytest.approx(preload, abs=0.06)
    assert force / 1000 == pytest.approx(push, abs=0.06)
    assert joint.clamp_ratio(clamp_force=clamp, separating_force=force) == pytest.approx(ratio, abs=0.006)


# ---------------------------------------------------------------- face and heat


def test_ten_microns_over_a_hundred_millimetres_take_nearly_all_of_a_clearance() -> None:
    """10 µm / 100 mm over a foot of 46 mm: 4.6 µm of 5; as one even bow 2.1 µm."""
    bend = face.face_bend(face_error=10e-6, face_length=0.1, foot_length=0.046)
    assert bend == pytest.approx(4.6e-6)
    assert face.bend_share(face_bend=bend, clearance=5e-6) == pytest.approx(0.92)
    assert face.face_bow(face_error=10e-6, face_length=0.1, foot_length=0.046) == pytest.approx(2.116e-6)


def test_forty_kelvin_take_nearly_three_microns() -> None:
    """D 12 mm, 11.5e-6: 6 mm x 11.5e-6 x 40 = 2.76 µm, told as 2.8 of 5."""
    lost = face.clearance_lost(spool_diameter=0.012, spool_temperature=333.15, body_temperature=293.15)
    assert lost == pytest.approx(2.76e-6)


def test_an_aluminium_body_is_tighter_cold_and_looser_hot() -> None:
    def lost(celsius: float) -> float:
        return float(
            face.clearance_lost(
                spool_diameter=0.012,
                spool_temperature=celsius + 273.15,
                body_temperature=celsius + 273.15,
                body_expansion=23e-6,
            )
        )

    assert lost(-20) > 0 > lost(60)
    assert lost(20) == 0
