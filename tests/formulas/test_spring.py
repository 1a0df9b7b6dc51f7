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
