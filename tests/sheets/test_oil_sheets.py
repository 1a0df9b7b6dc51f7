"""Codes, classes, targets and readings of the oil: figures worked by hand, verdicts either side of the limit."""

import math

import pytest

from valvecalc.door import calc
from valvecalc.errors import InputError
from valvecalc.facts import load_table

PER_ML = 1e6
PER_100 = 1e4


def verdict(name: str, result: str, **given: str) -> str:
    rows = {row["name"]: row for row in calc(name, **given).to_json()["results"]}
    return str(rows[result]["verdict"]) if result in rows else "unknown"


# ---- codes


def test_three_counts_make_a_code() -> None:
    """2000, 400 and 50 in each mL are 18/16/13 (table seen); 4000, 900, 60 are 19/17/13 (physics figures)."""
    for counts, code in (((2000, 400, 50), (18, 16, 13)), ((4000, 900, 60), (19, 17, 13))):
        given = {f"count_{size}": f"{n} 1/mL" for size, n in zip((4, 6, 14), counts, strict=True)}
        found = calc("oil-code-from-counts", **given).results
        assert (found["code_4"], found["code_6"], found["code_14"]) == code


def test_the_cleanest_oil_and_the_worked_article() -> None:
    """0.009 in each mL is code 0. 300 000, 50 000 and 700 in 100 mL are 19/16/10, as an article prints."""
    assert calc("oil-code-from-counts", count_4="0.009 1/mL").value == 0
    given = {"count_4": "300000 per 100 mL", "count_6": "50000 per 100 mL", "count_14": "700 per 100 mL"}
    found = calc("oil-code-from-counts", **given).results
    assert (found["code_4"], found["code_6"], found["code_14"]) == (19, 16, 10)


def test_few_counts_are_told() -> None:
    """0.9 in each mL of 20 mL are 18 particles, fewer than 20; 1.0 are 20."""
    few = calc("oil-code-from-counts", count_14="0.9 1/mL", counted_volume="20 mL").results
    assert few["particles_counted"] == pytest.approx(18)
    assert few["code_note"].startswith("too few")
    enough = calc("oil-code-from-counts", count_14="1.01 1/mL", counted_volume="20 mL").results
    assert enough["code_note"] == "enough counted"


@pytest.mark.parametrize("code", range(29))
def test_codes_there_and_back(code: int) -> None:
    found = calc("counts-of-code", code_6=str(code)).results
    assert set(found) == {"most_count_6", "least_count_6"}
    middle = (found["most_count_6"] + found["least_count_6"]) / 2 / PER_ML
    assert calc("oil-code-from-counts", count_6=f"{middle} 1/mL").results["code_6"] == code
    assert calc("oil-code-from-counts", count_6=f"{found['most_count_6'] / PER_ML} 1/mL").results["code_6"] == code


def test_beyond_the_scale_there_is_no_answer() -> None:
    with pytest.raises(InputError):
        calc("oil-code-from-counts", count_4="3e6 1/mL")


# ---- older classes


@pytest.mark.parametrize("row", load_table("nas1638_differential.csv"), ids=lambda row: row["cleanliness_class"])
def test_a_class_is_its_own_limit_and_one_more_is_the_next(row: dict[str, float]) -> None:
    entry = {"limit_5_15": "band_5_15", "limit_25_50": "band_25_50"}
    given = {entry[name]: f"{row[name] / PER_100} per 100 mL" for name in entry}
    assert calc("nas1638-class", **given).value == row["cleanliness_class"]
    if row["class_rank"] < 12:
        above = {"band_5_15": f"{row['limit_5_15'] / PER_100 + 1} per 100 mL"}
        assert calc("nas1638-class", **above).value != row["cleanliness_class"]


def test_the_worst_size_decides_and_each_has_its_own_class() -> None:
    """41 000 above 4 µm is class 6 (25 000 < n <= 50 000); 100 above 14 µm is class 1 (54 < n <= 109)."""
    found = calc("as4059-class", count_above_4="41000 per 100 mL", count_above_14="100 per 100 mL").results
    assert (found["cleanliness_class"], found["class_of_4"], found["class_of_14"]) == ("6", "6", "1")
    assert "class_of_6" not in found


def test_a_class_as_a_code_and_back() -> None:
    """Class 6: 500, 194.62 and 34.62 in each mL are 16/15/12; their upper ends, 640, 320 and 40, are 7, 7 and 7."""
    found = calc("class-limits", cleanliness_class="6").results
    assert (found["code_4"], found["code_6"], found["code_14"]) == (16, 15, 12)
    assert round(found["limit_5_15"] / PER_100) == 16000
    assert calc("class-of-code", code_4="16", code_6="15", code_14="12").value == "7"
    assert calc("class-of-code", code_14="12").results["class_of_14"] == "7"
    assert "limit_5_15" not in calc("class-limits", cleanliness_class="000").results


# ---- target


@pytest.mark.parametrize(
    ("component", "pressure", "target", "word"),
    [
        ("solenoid directional valve", "100 bar", (20, 18, 15), "agree"),
        ("solenoid directional valve", "160 bar", (19, 17, 14), "agree"),
        ("solenoid directional valve", "250 bar", (18, 16, 13), "agree"),
        ("flow control valve", "100 bar", (19, 17, 14), "differ"),  # 20/18/15 against 19/17/14
        ("variable piston pump", "250 bar", (16, 14, 11), "differ"),  # 16/14/11 against 16/14/12
        ("proportional valve", "100 bar", (17, 15, 12), "agree"),
    ],
)
def test_target_of_a_component(component: str, pressure: str, target: tuple[int, ...], word: str) -> None:
    found = calc("cleanliness-target", component=component, supply_pressure=pressure).results
    assert (found["target_4"], found["target_6"], found["target_14"]) == target
    assert word in found["target_word"]


def test_harder_duty_asks_for_one_less_and_the_printed_ones_stay_in_sight() -> None:
    given = {"component": "solenoid directional valve", "supply_pressure": "250 bar"}
    found = calc("cleanliness-target", **given, duty_kind="frequent cold starts").results
    assert (found["target_4"], found["target_6"], found["target_14"]) == (17, 15, 12)
    assert [row["target_4"] for row in found["target_rows"]] == [18, 18, 20, 18]


def test_between_the_bands_of_the_two_sets() -> None:
    """210 bar is above 3000 psi (206.8 bar) in the first set and below 212 bar in the second: the cleaner is taken."""
    found = calc("cleanliness-target", component="solenoid directional valve", supply_pressure="210 bar").results
    assert (found["target_4"], found["target_word"]) == (18, "the sets differ: the cleaner is taken")


# ---- how far off


@pytest.mark.parametrize(
    ("codes", "over", "said"),
    [
        (("18", "16", "13"), 0, "cannot-tell"),
        (("17", "15", "12"), -1, "accept"),
        (("19", "16", "13"), 1, "cannot-tell"),
        (("20", "16", "12"), 2, "reject"),
        (("15", "14", "15"), 2, "reject"),
    ],
)
def test_each_code_above_the_target_is_twice_the_dirt(codes: tuple[str, ...], over: int, said: str) -> None:
    given = dict(zip(("code_4", "code_6", "code_14"), codes, strict=True))
    found = calc("oil-code", **given).results
    assert found["codes_over"] == over and found["times_dirtier"] == 2**over
    assert verdict("oil-code", "codes_over", **given) == said


def test_a_bottle_from_a_tap_cannot_tell_two_codes() -> None:
    given = {"code_4": "20", "code_6": "18", "code_14": "15", "code_error": "2"}
    assert verdict("oil-code", "codes_over", **given) == "cannot-tell"
    assert verdict("oil-code", "codes_over", **{**given, "code_14": "16"}) == "reject"


def test_one_number_alone_is_judged() -> None:
    assert calc("oil-code", code_14="16").value == 3
    assert calc("oil-code", code_14="16").results.get("worst_size") is None


# ---- gap


def test_particles_between_once_and_twice_the_clearance() -> None:
    """20/18/14, 7 µm: 2500 at 6 and 160 at 14 µm; at 7 µm 2500·(7/6)^(ln(160/2500)/ln(14/6)), at 14 µm 160."""
    found = calc("gap-dirt", clearance="7 µm", code_4="20", code_6="18", code_14="14", leakage="12 mL/min").results
    at_7 = 2500 * (7 / 6) ** (math.log(160 / 2500) / math.log(14 / 6))
    assert found["count_at_clearance"] / PER_ML == pytest.approx(at_7)
    assert found["gap_count"] / PER_ML == pytest.approx(at_7 - 160)
    assert found["gap_rate"] * 60 == pytest.approx(12 * (at_7 - 160))


def test_dirtier_oil_brings_more_and_a_code_doubles_it() -> None:
    code = {"code_4": "17", "code_6": "16", "code_14": "12"}
    dirtier = {name: str(int(text) - 1) for name, text in code.items()}
    more, fewer = (calc("gap-dirt", clearance="5 µm", **one).value for one in (code, dirtier))
    assert more / fewer == pytest.approx(2, rel=0.03)


# ---- the oil itself


@pytest.mark.parametrize(
    ("reading", "said", "nearest"),
    [
        ("46 mm²/s", "accept", 46),
        ("41 mm²/s", "reject", 46),  # 10.9 % thin
        ("32 mm²/s", "reject", 32),
        ("42 mm²/s ± 1 mm²/s", "cannot-tell", 46),  # 8.7 % with u = 1.3 %
    ],
)
def test_a_reading_at_40_degrees_against_its_grade(reading: str, said: str, nearest: float) -> None:
    given = {"kinematic_viscosity": reading, "oil_temperature": "40 °C", "grade_viscosity": "46 mm²/s"}
    assert calc("oil-grade", **given).results["nearest_grade"] * 1e6 == pytest.approx(nearest)
    assert verdict("oil-grade", "grade_deviation", **given) == said


def test_a_warm_reading_is_turned_to_40_degrees_first() -> None:
    """The oil of 46 and 6.8 mm²/s has 20.623 at 60 °C (two-constant form) and an index of 101.6."""
    given = {"kinematic_viscosity": "20.623 mm²/s", "oil_temperature": "60 °C", "viscosity_index": "101.608"}
    found = calc("oil-grade", **given).results
    assert found["viscosity_40"] * 1e6 == pytest.approx(46, rel=2e-4)
    assert "grade_deviation" not in found


def test_water_against_what_the_oil_dissolves() -> None:
    assert calc("oil-water", water_content="500 ppm").value == pytest.approx(2.5)
    assert verdict("oil-water", "saturation_share", water_content="150 ppm") == "accept"
    assert verdict("oil-water", "saturation_share", water_content="0.04 %") == "reject"
    assert verdict("oil-water", "saturation_share", water_content="190 ppm ± 40 ppm") == "cannot-tell"


def test_flushing_has_two_verdicts() -> None:
    """30 L/min in 12 mm: 4.42 m/s; with 10 mm²/s Reynolds number 5305: tumbles, but slower than 4.6 m/s."""
    given = {"flow": "30 L/min", "tube_bore": "12 mm", "kinematic_viscosity": "10 mm²/s"}
    found = calc("flush-flow", **given).results
    assert found["line_velocity"] == pytest.approx(5e-4 / (math.pi * 0.006**2))
    assert found["line_reynolds_number"] == pytest.approx(found["line_velocity"] * 0.012 / 1e-5)
    assert verdict("flush-flow", "line_reynolds_number", **given) == "accept"
    assert verdict("flush-flow", "line_velocity", **given) == "reject"
