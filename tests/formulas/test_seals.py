"""Rings and grooves: worked by hand, limits, and what a technician knows."""

import math

import pytest

from valvecalc.door import calc
from valvecalc.formulas import seals

MM = 1e-3


def test_a_ring_of_178_in_a_face_groove() -> None:
    """9.25 x 1.78 in 1.35 x 2.5: 1 - 1.35/1.78 = 24.2 %; 0.7854·1.78²/(1.35·2.5) = 2.4885/3.375 = 73.7 %."""
    assert seals.ring_squeeze(ring_section=1.78 * MM, groove_depth=1.35 * MM) == pytest.approx(0.2416, abs=5e-5)
    fill = seals.gland_fill(ring_section=1.78 * MM, groove_depth=1.35 * MM, groove_width=2.5 * MM)
    assert fill == pytest.approx(0.7373, abs=5e-5)


def test_a_ring_of_14_on_144() -> None:
    """Stretch 0.4/14 = 2.86 %; the section thins by half of it; 17.4 % of squeeze in a depth of 1.45 mm."""
    stretch = seals.ring_stretch(groove_diameter=14.4 * MM, ring_inside=14.0 * MM)
    assert stretch == pytest.approx(0.4 / 14)
    section = seals.stretched_section(ring_section=1.78 * MM, stretch=stretch)
    assert section / (1.78 * MM) == pytest.approx(1 - stretch / 2, abs=4e-4)
    assert seals.ring_squeeze(ring_section=section, groove_depth=1.45 * MM) == pytest.approx(0.174, abs=5e-4)


def test_stretch_and_fill_of_a_ring_on_its_floor() -> None:
    """9.25 x 1.78 on 9.6, groove 2.4 wide, 1.4 deep: 3.784 % and 74.06 %."""
    assert calc("ring-stretch", groove_diameter="9.6 mm", ring_inside="9.25 mm").value == pytest.approx(
        0.03784, abs=1e-5
    )
    given = {"ring_section": "1.78 mm", "groove_depth": "1.4 mm", "groove_width": "2.4 mm"}
    assert calc("gland-fill", **given).value == pytest.approx(0.7406, abs=2e-4)


def test_stretching_keeps_the_volume() -> None:
    """Length times area of the section stays, for any stretch."""
    for stretch in (0.0, 0.02, 0.05, 0.5, 2.0):
        section = seals.stretched_section(ring_section=1.0, stretch=stretch)
        assert (1 + stretch) * section**2 == pytest.approx(1.0)


def test_the_floor_gives_back_the_squeeze() -> None:
    """Round trip: floor for a squeeze, depth from it, squeeze again."""
    for squeeze in (0.08, 0.15, 0.25):
        floor = seals.groove_floor(bore_opposite=0.05, ring_section=3.53 * MM, squeeze=squeeze)
        depth = (0.05 - floor) / 2
        assert seals.ring_squeeze(ring_section=3.53 * MM, groove_depth=depth) == pytest.approx(squeeze)


def test_set_from_nothing_to_all() -> None:
    """25 % squeezed disc of 12.5 mm: h0 12.5, hs 9.375; back to 11.0 is a set of 1.5/3.125 = 48 %."""

    def lost(height: float) -> float:
        return seals.compression_set(ring_section=12.5, ring_height=height, groove_depth=9.375)

    assert lost(12.5) == 0.0
    assert lost(9.375) == 1.0
    assert lost(11.0) == pytest.approx(0.48)


def test_swelling_is_a_third_of_the_volume() -> None:
    assert seals.swollen_section(ring_section=1.0, volume_swell=0.03) == pytest.approx(1.01, abs=1e-4)
    assert seals.swollen_section(ring_section=1.0, volume_swell=0.15) ** 3 == pytest.approx(1.15)
    assert seals.swollen_section(ring_section=1.0, volume_swell=0.0) == 1.0


def test_trends_that_a_technician_knows() -> None:
    def squeeze(depth: float) -> float:
        return seals.ring_squeeze(ring_section=2.62, groove_depth=depth)

    assert squeeze(1.9) > squeeze(2.0) > squeeze(2.1)
    assert squeeze(2.7) < 0  # does not touch
    assert seals.ring_stretch(groove_diameter=10.0, ring_inside=10.0) == 0.0
    assert seals.stretched_section(ring_section=1.78, stretch=0.05) < 1.78


def test_the_round_ring_of_a_flat_one_has_its_area() -> None:
    """An ellipse of 1.5 by 2.112 has the area of a circle of 1.78."""
    section = seals.round_section(ring_height=1.5, ring_breadth=1.78**2 / 1.5)
    assert section == pytest.approx(1.78)
    assert math.pi / 4 * section**2 == pytest.approx(math.pi / 4 * 1.5 * 1.78**2 / 1.5)


def test_a_film_times_the_wetted_rod_is_what_leaked() -> None:
    film = seals.rod_film(leaked_volume=6e-5, strokes_counted=5000.0, rod_diameter=0.036, stroke_length=0.4)
    assert film * 5000 * math.pi * 0.036 * 0.4 == pytest.approx(6e-5)
