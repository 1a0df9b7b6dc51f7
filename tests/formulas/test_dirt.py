"""Dirt: the tables by their own arithmetic, the tank's balance by hand, limits and trends."""

import math
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.door import calc
from valvecalc.errors import InputError, NoValue
from valvecalc.facts import load_table, load_toml
from valvecalc.formulas import dirt
from valvecalc.sheets.oil_counts import CLASSES
from valvecalc.sheets.oil_target import COMPONENTS

PER_ML = 1e6
PER_100 = 1e4
L_MIN = 1e-3 / 60
TANK = {"system_volume": 0.2, "filter_flow": 20 * L_MIN, "filtration_ratio": 200.0}


# ---- the tables


def test_table_iso4406_codes() -> None:
    """Each upper limit is the next lower limit, each step doubles but for rounding, ten codes are a thousandfold."""
    rows = load_table("iso4406_codes.csv")
    assert [row["iso_code"] for row in rows] == list(range(29))
    for low, high in pairwise(rows):
        assert low["most_particles"] == high["least_particles"]
        assert 1.9 < high["most_particles"] / low["most_particles"] < 2.1
    for row, later in zip(rows, rows[10:], strict=False):
        assert later["most_particles"] == pytest.approx(1000 * row["most_particles"], rel=0.03)


def test_table_as4059_cumulative() -> None:
    """Each class doubles the one before but for rounding (152 to 306, 3120 to 6250); a smaller size has no fewer."""
    rows = load_table("as4059_cumulative.csv")
    sizes = [name for name in rows[0] if name.startswith("limit")]
    assert [row["cleanliness_class"] for row in rows] == list(CLASSES)
    assert [row["class_rank"] for row in rows] == list(range(-2, 13))
    for low, high in pairwise(rows):
        for size in sizes:
            assert abs(high[size] - 2 * low[size]) <= max(2.01 * PER_100, 0.002 * high[size])
    for row in rows:
        assert all(row[a] >= row[b] for a, b in pairwise(sizes))


def test_table_nas1638_differential() -> None:
    """The bands are the differences of neighbouring columns of AS4059, exactly, in all fourteen classes."""
    bands = load_table("nas1638_differential.csv")
    above = {row["cleanliness_class"]: row for row in load_table("as4059_cumulative.csv")}
    names = ["limit_above_6", "limit_above_14", "limit_above_21", "limit_above_38", "limit_above_70"]
    assert len(bands) == 14
    for row in bands:
        counts = [above[row["cleanliness_class"]][name] for name in names]
        wanted = [a - b for a, b in pairwise(counts)] + [counts[-1]]
        found = [row[f"limit_{band}"] for band in ("5_15", "15_25", "25_50", "50_100", "over_100")]
        assert [round(one) for one in found] == [round(one) for one in wanted]
        assert row["class_rank"] == above[row["cleanliness_class"]]["class_rank"]


def test_table_cleanliness_targets() -> None:
    """Within a set no code gets dirtier with more pressure; numbers fall; bands join; the words are the sheet's."""
    rows = load_table("cleanliness_targets.csv")
    assert list(dict.fromkeys(row["component"] for row in rows)) == list(COMPONENTS)
    assert all(row["target_4"] > row["target_6"] > row["target_14"] for row in rows)
    for component in COMPONENTS:
        for name in ("first set", "second set"):
            own = [row for row in rows if row["component"] == component and row["target_set"] == name]
            own = [row for row in own if row["target_note"] is None]
            for low, high in pairwise(own):
                assert low["below_pressure"] == high["from_pressure"]
                assert all(low[n] >= high[n] for n in ("target_4", "target_6", "target_14"))
    sets = {row["target_set"] for row in rows if row["component"] == "solenoid directional valve"}
    assert sets == {"first set", "second set", "single figure"}


def test_table_oil_signs() -> None:
    rows = load_table("oil_signs.csv")
    checks = {row["id"] for row in load_toml("faults/checks.toml")["checks"]}
    assert all(row["first_check"] in checks for row in rows)
    assert len({row["oil_sign"] for row in rows}) == len(rows) == 15
    assert {row["sign_origin"] for row in rows} == {"common practice", "water-article"}
    page = (Path(__file__).parents[2] / "site/pages/learn/reading-the-oil.md").read_text("utf-8")
    for row in rows:  # the page for people shows each sign with the same check
        (line,) = [line for line in page.splitlines() if line.startswith(f"| {row['oil_sign']} |")]
        assert f"(../do/{row['first_check']}.md)" in line


def test_table_water_crackle() -> None:
    rows = load_table("water_crackle.csv")
    assert rows[0]["least_water"] == 0 and rows[-1]["most_water"] is None
    assert all(low["most_water"] == high["least_water"] for low, high in pairwise(rows))


# ---- filters


@pytest.mark.parametrize(("beta", "share"), [(2, 50), (75, 98.66666666667), (200, 99.5), (1000, 99.9)])
def test_share_kept_by_definition(beta: float, share: float) -> None:
    """η = 1 − 1/β, ISO 16889."""
    assert dirt.filter_efficiency(filtration_ratio=float(beta)) * 100 == pytest.approx(share, abs=5e-5)


@given(st.floats(1.001, 1e5), st.floats(1, 1e12))
def test_ratio_share_and_counts_agree(beta: float, upstream: float) -> None:
    behind = dirt.downstream_count(upstream_count=upstream, filtration_ratio=beta)
    share = dirt.filter_efficiency(filtration_ratio=beta)
    assert dirt.filtration_ratio(upstream_count=upstream, downstream_count=behind) == pytest.approx(beta)
    assert 1 - behind / upstream == pytest.approx(share, abs=1e-12)
    assert dirt.ratio_from_efficiency(filter_efficiency=share) == pytest.approx(beta, rel=1e-9 * beta)


# ---- the tank


def test_one_code_takes_seven_minutes() -> None:
    """200 L, 20 L/min, β 200, wholly mixed: ln 2 · 10 min / 0.995 = 6.97 min; half mixed twice that."""
    whole = dirt.halving_time(**TANK, mixing_factor=1.0) / 60
    assert whole == pytest.approx(math.log(2) * 10 / 0.995) == pytest.approx(6.97, abs=0.005)
    assert dirt.halving_time(**TANK, mixing_factor=0.5) / 60 == pytest.approx(2 * whole)


@pytest.mark.parametrize(("mixing", "minutes"), [(1.0, 34.4), (0.5, 69.0)])
def test_from_22_to_17(mixing: float, minutes: float) -> None:
    """40 000 to 1300 in each mL are 4.94 halvings: 34.4 min, and 68.9 min half mixed."""
    found = calc(
        "flush-time",
        start_code="22",
        wanted_code="17",
        system_volume="200 L",
        filter_flow="20 L/min",
        filtration_ratio="200",
        mixing_factor=str(mixing),
    )
    assert found.value / 60 == pytest.approx(minutes, abs=0.15)
    assert found.results["flush_word"] == "filtering gets there"


def test_the_floor_is_code_20() -> None:
    """10⁸ particles a minute into 20 L/min at β 10, wholly mixed: 10⁸/(20 000 · 0.9) = 5556 in each mL, code 20."""
    given_flush = {"system_volume": "200 L", "filter_flow": "20 L/min", "filtration_ratio": "10", "mixing_factor": "1"}
    found = calc("flush-time", start_code="22", wanted_code="17", ingress_rate="1e8 1/min", **given_flush).results
    assert found["settled_count"] / PER_ML == pytest.approx(1e8 / 18000)
    assert found["settled_code"] == 20
    assert found["flush_word"] == "never: what comes in keeps it dirtier"
    assert "cleaning_time" not in found or found["cleaning_time"] is None
    last = found["flush_rows"][-1]["cleaned_count"] / PER_ML
    assert 5556 < last < 5750
    assert calc("flush-time", start_code="15", wanted_code="17", **given_flush).results["flush_word"] == (
        "it is there already"
    )


@given(
    st.floats(0.1, 1e4),
    st.floats(1.5, 1000),
    st.floats(0.3, 1.0),
    st.floats(0, 1e9),
    st.floats(1.01, 1e3),
    st.floats(1.01, 1e3),
)
def test_time_and_count_are_each_other_turned_round(
    volume: float, beta: float, mixing: float, floor: float, above: float, further: float
) -> None:
    tank = {"system_volume": volume, "filter_flow": 1e-3, "filtration_ratio": beta, "mixing_factor": mixing}
    wanted = (floor + 1) * above
    start = wanted * further
    time = dirt.cleaning_time(start_count=start, wanted_count=wanted, settled_count=floor, **tank)
    assert time > 0
    reached = dirt.cleaned_count(start_count=start, settled_count=floor, cleaning_time=time, **tank)
    assert reached == pytest.approx(wanted, rel=1e-9)


def test_the_steady_count_balances_what_comes_in() -> None:
    """V·dn/dt = R − Q·η·m·n is nothing there, and a step of it by hand agrees with the closed form."""
    filter_ = {"filter_flow": 20 * L_MIN, "filtration_ratio": 10.0, "mixing_factor": 0.5}
    floor = dirt.settled_count(ingress_rate=1e8 / 60, **filter_)
    assert dirt.ingress_from_count(settled_count=floor, **filter_) == pytest.approx(1e8 / 60)
    step, n = 0.05, 4e10
    for _ in range(int(600 / step)):
        n += step * (1e8 / 60 - 20 * L_MIN * 0.9 * 0.5 * n) / 0.2
    closed = dirt.cleaned_count(
        start_count=4e10, settled_count=floor, cleaning_time=600.0, system_volume=0.2, **filter_
    )
    assert closed == pytest.approx(n, rel=1e-4)


def test_a_count_below_the_floor_is_never_reached() -> None:
    with pytest.raises((NoValue, ValueError)):
        dirt.cleaning_time(start_count=1e10, wanted_count=1e9, settled_count=2e9, **TANK)


# ---- sizes and lines


def test_between_counted_sizes_the_line_goes_through_both() -> None:
    """900 at 6 µm and 60 at 14 µm: at √(6·14) = 9.165 µm the geometric mean, 232.4."""
    two = {"first_size": 6e-6, "second_size": 14e-6, "first_count": 900.0, "second_count": 60.0}
    assert dirt.count_at_size(particle_size=6e-6, **two) == pytest.approx(900)
    assert dirt.count_at_size(particle_size=14e-6, **two) == pytest.approx(60)
    assert dirt.count_at_size(particle_size=math.sqrt(84) * 1e-6, **two) == pytest.approx(math.sqrt(54000))


def test_turbulent_flow_against_speed_and_reynolds_number() -> None:
    """20 mm bore, 14 mm²/s, 4000: 2.8 m/s, times 314.16 mm² is 52.78 L/min."""
    found = dirt.turbulent_flow(tube_bore=0.02, kinematic_viscosity=14e-6)
    assert found / L_MIN == pytest.approx(2.8 * math.pi * 0.01**2 / L_MIN)
    washed = calc("flush-flow", flow=f"{found / L_MIN} L/min", tube_bore="20 mm", kinematic_viscosity="14 mm²/s")
    assert washed.results["line_reynolds_number"] == pytest.approx(4000)
    assert washed.results["line_velocity"] == pytest.approx(2.8)


def test_refused_at_the_door() -> None:
    with pytest.raises(InputError):
        calc("filter-efficiency", filtration_ratio="0.5")
    with pytest.raises(InputError):
        calc("oil-code-from-counts", count_4="1200")
