"""Spring formulas: definitions and a source spoilt by whole-number division."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.formulas import spring


def test_whole_number_division_is_not_repeated() -> None:
    """Wire 5 mm, mean 30 mm, 15 coils, 84 GPa (Jindal, Machine Design, example 8-1, p. 224): the stored working
    prints 16.0 N/mm, spoilt by whole-number division; right is 16.2037 N/mm."""
    rate = spring.spring_rate_from_wire(
        wire_diameter=0.005, mean_diameter=0.03, active_coils=15, shear_modulus=84_000_000_000
    )
    assert rate == pytest.approx(16203.7, abs=0.05)


@given(st.floats(0, 500), st.floats(100, 50_000), st.floats(0.015, 0.025), st.floats(0.001, 0.01))
def test_two_loads_give_back_the_rate(load: float, rate: float, length: float, travel: float) -> None:
    second = spring.spring_force(spring_preload=load, spring_rate=rate, position=travel)
    found = spring.spring_rate_from_loads(load_1=load, load_2=second, length_1=length, length_2=length - travel)
    assert found == pytest.approx(rate, rel=1e-6)


def test_preload_is_rate_times_what_is_pressed_together() -> None:
    assert spring.preload_at_length(free_length=0.0255, installed_length=0.022, spring_rate=5200.0) == pytest.approx(
        18.2, rel=1e-9
    )


def test_one_percent_more_wire_is_four_percent_more_rate() -> None:
    entries = {"mean_diameter": 0.01, "active_coils": 7.0, "shear_modulus": 81.5e9}
    thin = spring.spring_rate_from_wire(wire_diameter=0.0014, **entries)
    thick = spring.spring_rate_from_wire(wire_diameter=0.0014 * 1.01, **entries)
    assert thick / thin == pytest.approx(1.01**4, rel=1e-12)


@given(st.floats(0.0005, 0.005), st.floats(4, 15))
def test_the_other_form_of_the_stress_factor_lies_just_below(wire: float, index: float) -> None:
    """(w + 0.5) / (w - 0.75), the form of EN 13906-1: below Wahl's by 1.4 % at a spring index of 4, 0.6 % at 15."""
    wahl = spring.wahl_factor(wire_diameter=wire, mean_diameter=index * wire)
    assert 0.986 * wahl < (index + 0.5) / (index - 0.75) < 0.994 * wahl


def test_stress_without_curvature_is_plain_torsion() -> None:
    """12 mm wire, 150 mm mean, 450 N: 99.47 N/mm² without a factor (Bhavikatti, example 6.22, p. 254)."""
    wire, mean = 0.012, 0.15
    stress = spring.spring_stress(spring_load=450.0, wire_diameter=wire, mean_diameter=mean)
    plain = stress / spring.wahl_factor(wire_diameter=wire, mean_diameter=mean)
    assert plain / 1e6 == pytest.approx(99.47, abs=0.006)
    # a straight wire has no curvature: the factor goes to 1
    assert spring.wahl_factor(wire_diameter=1e-6, mean_diameter=1.0) == pytest.approx(1.0, abs=1e-5)


def test_the_illustrated_spring() -> None:
    """Independent calculation, no published source: 1.4 mm wire, 10 mm mean, 27.5 N: 255 MPa plain, 305 MPa with the
    factor of EN 13906-1; Wahl's is 1 % above it."""
    stress = spring.spring_stress(spring_load=27.5, wire_diameter=0.0014, mean_diameter=0.01)
    factor = spring.wahl_factor(wire_diameter=0.0014, mean_diameter=0.01)
    assert stress / factor / 1e6 == pytest.approx(255, abs=0.5)
    assert stress / 1e6 == pytest.approx(305 * 1.01, abs=1.0)


@given(st.floats(100, 1e5), st.floats(100, 1e5))
def test_springs_together(one: float, other: float) -> None:
    beside = spring.parallel_springs(rate_1=one, rate_2=other)
    behind = spring.series_springs(rate_1=one, rate_2=other)
    assert behind < min(one, other) <= max(one, other) < beside
    assert 1 / behind == pytest.approx(1 / one + 1 / other, rel=1e-12)
    assert spring.series_springs(rate_1=one, rate_2=one) == pytest.approx(one / 2, rel=1e-12)


@given(st.floats(0, 100), st.floats(0, 100), st.floats(500, 20_000), st.floats(500, 20_000))
def test_off_centre_the_two_springs_balance(one: float, other: float, rate_1: float, rate_2: float) -> None:
    """The stronger one relaxes by the offset, the other is pressed by it."""
    offset = spring.off_centre_rest(preload_1=one, preload_2=other, rate_1=rate_1, rate_2=rate_2)
    assert one - rate_1 * offset == pytest.approx(other + rate_2 * offset, rel=1e-9, abs=1e-9)


def test_solid_length_of_a_textbook_spring() -> None:
    """Bhandari, example 10.1: 10 coils of 7 mm, 1 mm gaps, 1250 N on 8 coils of 42 mm mean: free length 109.34 mm."""
    rate = spring.spring_rate_from_wire(
        wire_diameter=0.007, mean_diameter=0.042, active_coils=8.0, shear_modulus=81.37e9
    )
    free = spring.solid_length(total_coils=10.0, wire_diameter=0.007) + 9 * 0.001 + 1250.0 / rate
    assert free * 1000 == pytest.approx(109.337611, abs=1e-6)
