"""The tables of screws, each against its own arithmetic, and against the formulas that use them."""

import math
from itertools import pairwise

import pytest

from valvecalc.facts import fact_value, load_table
from valvecalc.formulas import screw, thread
from valvecalc.sheets import joint_hold, screw_pull, torque_sheet

MPA = 1e6
#: class -> proof stress, tensile strength, up to M16 and above; MPa.
CLASSES = {
    "4_6": (225, 225, 400, 400),
    "4_8": (310, 310, 420, 420),
    "5_6": (280, 280, 500, 500),
    "5_8": (380, 380, 520, 520),
    "6_8": (440, 440, 600, 600),
    "8_8": (580, 600, 800, 830),
    "9_8": (650, 650, 900, 900),
    "10_9": (830, 830, 1040, 1040),
    "12_9": (970, 970, 1220, 1220),
}
#: Yield strength up to M16 and above, MPa.
YIELD = {"8_8": (640, 660), "10_9": (940, 940), "12_9": (1100, 1100)}
#: Diameter -> bearing diameter of a hexagon head (ISO 4014), medium hole (ISO 273), mm.
HEXAGON = {
    8: (11.6, 9.0),
    10: (14.6, 11.0),
    12: (16.6, 13.5),
    14: (19.6, 15.5),
    16: (22.5, 17.5),
    20: (28.2, 22.0),
    24: (33.6, 26.0),
}


def diameter_of(name: str) -> float:
    """M12 or M10x1.25 -> m."""
    return float(name[1:].split("x")[0]) / 1000


@pytest.mark.parametrize("name", ["iso898_1_proof_load_coarse", "iso898_1_tensile_load_coarse"])
def test_areas_follow_from_diameter_and_pitch(name: str) -> None:
    for row in load_table(f"{name}.csv"):
        area = math.pi / 4 * (diameter_of(row["thread"]) - 0.938194 * row["thread_pitch"]) ** 2
        assert row["stress_area"] == pytest.approx(area, rel=0.006), row["thread"]


def test_proof_loads_are_the_unrounded_area_times_the_proof_stress() -> None:
    """M6 of 8.8 is furthest off: 11600 N printed, 11672 N worked out."""
    seen = 0
    for row in load_table("iso898_1_proof_load_coarse.csv"):
        d = diameter_of(row["thread"])
        area = math.pi / 4 * (d - 0.938194 * row["thread_pitch"]) ** 2
        for name, stresses in CLASSES.items():
            if row[f"class_{name}"] is not None:
                load = area * stresses[d > 0.0161] * MPA
                assert row[f"class_{name}"] == pytest.approx(load, rel=0.0062), (row["thread"], name)
                seen += 1
    assert seen == 16 * 9 - 5  # 9.8 ends at M16


def test_tensile_loads_are_the_printed_area_times_the_strength() -> None:
    seen = 0
    for row in load_table("iso898_1_tensile_load_coarse.csv"):
        big = diameter_of(row["thread"]) > 0.0161
        for name, stresses in CLASSES.items():
            if row[f"class_{name}"] is not None:
                load = row["stress_area"] * stresses[2 + big] * MPA
                band = 0.008 if (row["thread"], name) == ("M39", "12_9") else 0.006  # printed 1200000 for 1190720
                assert row[f"class_{name}"] == pytest.approx(load, rel=band), (row["thread"], name)
                seen += 1
    assert seen == 20 * 9 - 9


def test_the_misprint_of_a_reprint_is_found_by_the_check() -> None:
    """One reprint has 91130 N for M4 of 10.9."""
    row = next(row for row in load_table("iso898_1_tensile_load_coarse.csv") if row["thread"] == "M4")
    assert row["class_10_9"] == 9130
    assert abs(91130 / (row["stress_area"] * 1040 * MPA) - 1) > 0.006


def test_proof_lies_below_tensile_and_both_rise_with_size_and_strength() -> None:
    proof = load_table("iso898_1_proof_load_coarse.csv")
    tensile = {row["thread"]: row for row in load_table("iso898_1_tensile_load_coarse.csv")}
    for row in proof:
        for name in CLASSES:
            if row[f"class_{name}"] is not None:
                assert 0.5 < row[f"class_{name}"] / tensile[row["thread"]][f"class_{name}"] < 0.95
    for small, large in pairwise(proof):
        assert all(small[f"class_{name}"] < large[f"class_{name}"] for name in ("4_6", "8_8", "10_9", "12_9"))


def test_every_fine_row_follows_from_thread_yield_and_friction() -> None:
    """Preload within 0.4 % or its last digit, torque within 0.7 % or its last digit: 63 of each."""
    rows = load_table("bolt_preload_torque_fine.csv")
    worst = [0.0, 0.0]
    for row in rows:
        d, pitch = (float(part) for part in row["thread"][1:].split("x"))
        head, hole = HEXAGON[int(d)]
        for name, yields in YIELD.items():
            preload, torque = row[f"preload_{name}"], row[f"torque_{name}"]
            ours = screw.preload_limit(
                screw_diameter=d / 1000,
                thread_pitch=pitch / 1000,
                yield_strength=yields[d > 16] * MPA,
                thread_friction=row["friction"],
            )
            turned = screw.torque_by_friction(
                preload=ours,
                screw_diameter=d / 1000,
                thread_pitch=pitch / 1000,
                head_diameter=head / 1000,
                hole_diameter=hole / 1000,
                thread_friction=row["friction"],
                head_friction=row["friction"],
            )
            assert ours == pytest.approx(preload, rel=0.004), row["thread"]
            digit = 0.05 if d == 8 else 0.5
            assert abs(turned - torque) <= max(0.007 * torque, digit), (row["thread"], row["friction"], name)
            worst = [max(worst[0], abs(ours / preload - 1)), max(worst[1], abs(turned / torque - 1))]
    assert len(rows) == 21
    assert worst[0] > 0.001 and worst[1] > 0.002  # a rounded table is not met better than this


def test_the_fine_table_tells_its_own_nut_factor() -> None:
    for row in load_table("bolt_preload_torque_fine.csv"):
        d = diameter_of(row["thread"])
        factors = [row[f"torque_{name}"] / (row[f"preload_{name}"] * d) for name in YIELD]
        assert row["nut_factor"] == pytest.approx(sum(factors) / 3, abs=0.0006)


def test_the_coarse_tables_agree_with_each_other() -> None:
    rows = load_table("bolt_torque_coarse_mu014.csv")
    pairs = [(row[f"first_{name}"], row[f"second_{name}"]) for row in rows for name in YIELD]
    both = [(first, second) for first, second in pairs if second is not None]
    assert len(both) == 18
    assert all(first == pytest.approx(second, rel=0.04) for first, second in both)


def test_the_coarse_table_follows_the_older_form_and_lies_below_the_newer() -> None:
    """Twist as in a wholly elastic screw, head at 1.3 d: within 4.5 %. By the form of 2001 10 to 19 % more."""
    threads = {row["thread"]: row for row in fact_value("screw-threads")}
    compared = 0
    for row in load_table("bolt_torque_coarse_mu014.csv"):
        if row["thread"] not in threads:
            continue
        d, pitch = threads[row["thread"]]["screw_diameter"], threads[row["thread"]]["thread_pitch"]
        head, hole = threads[row["thread"]]["head_diameter"], threads[row["thread"]]["hole_diameter"]
        pitch_diameter, stress_diameter = d - 0.649519 * pitch, d - 0.938194 * pitch
        rise = pitch / math.pi + 0.14 / math.cos(math.pi / 6) * pitch_diameter
        for name, yields in YIELD.items():
            strength = yields[d > 0.0161] * MPA
            elastic = 0.9 * strength * math.pi / 4 * stress_diameter**2
            elastic /= math.sqrt(1 + 3 * (2 / stress_diameter * rise) ** 2)
            older = elastic / 2 * (rise + 0.14 * 1.3 * d)
            assert older == pytest.approx(row[f"first_{name}"], rel=0.045), (row["thread"], name)
            newer = screw.torque_by_friction(
                preload=screw.preload_limit(
                    screw_diameter=d, thread_pitch=pitch, yield_strength=strength, thread_friction=0.14
                ),
                screw_diameter=d,
                thread_pitch=pitch,
                head_diameter=head,
                hole_diameter=hole,
                thread_friction=0.14,
                head_friction=0.14,
            )
            assert 1.10 < newer / row[f"first_{name}"] < 1.19, (row["thread"], name)
            compared += 1
    assert compared == 30


def test_nut_factors_rise_and_hold_ours_for_oil() -> None:
    rows = {row["screw_finish"]: row for row in load_table("nut_factors.csv")}
    assert all(row["least_nut_factor"] < row["largest_nut_factor"] for row in rows.values())
    oil = rows["machine oil on steel"]
    for row in fact_value("screw-threads"):
        shape = {name: row[name] for name in ("screw_diameter", "thread_pitch", "head_diameter", "hole_diameter")}
        for friction in (0.09, 0.12, 0.14):
            ours = thread.nut_factor(**shape, thread_friction=friction, head_friction=friction)
            assert oil["least_nut_factor"] < ours < oil["largest_nut_factor"]


def test_the_screws_of_a_face_are_those_of_the_table_of_faces() -> None:
    faces = {row["mounting_face"]: row for row in fact_value("interfaces") if row["confirmed"] == "yes"}
    diameters = {row["thread"]: row["screw_diameter"] for row in fact_value("screw-threads")}
    groups: dict[str, list[tuple[float, float]]] = {}
    for row in fact_value("screw-groups"):
        groups.setdefault(row["mounting_face"], []).append((diameters[row["thread"]], row["bolt_count"]))
    assert tuple(groups) == torque_sheet.FACES
    assert groups.keys() == faces.keys()
    for face, sizes in groups.items():
        assert sum(count for _, count in sizes) == faces[face]["nominal_bolt_count"]
        assert max(d for d, _ in sizes) == pytest.approx(faces[face]["nominal_bolt_diameter"])


def test_the_words_of_the_sheets_are_those_of_the_tables() -> None:
    assert tuple(row["thread"] for row in fact_value("screw-threads")) == screw_pull.THREADS
    assert tuple(row["screw_class"] for row in fact_value("screw-classes")) == screw_pull.CLASSES
    assert tuple(row["lubrication"] for row in fact_value("screw-friction")) == screw_pull.LUBRICATIONS
    assert tuple(row["hole_material"] for row in fact_value("thread-engagement")) == joint_hold.MATERIALS


def test_threads_follow_from_their_names() -> None:
    coarse = {row["thread"]: row["thread_pitch"] for row in load_table("iso898_1_proof_load_coarse.csv")}
    numbers = {"10": 0.19}
    for row in fact_value("screw-threads"):
        if row["thread"] in coarse:
            assert row["screw_diameter"] == pytest.approx(diameter_of(row["thread"]))
            assert row["thread_pitch"] == pytest.approx(coarse[row["thread"]])
            assert 1.45 < row["head_diameter"] / row["screw_diameter"] < 1.76
            assert 1.07 < row["hole_diameter"] / row["screw_diameter"] < 1.14
        else:
            size, per_inch = row["thread"].removesuffix(" UNC").split("-")
            over, _, under = size.partition("/")
            inches = numbers.get(size) or float(over) / float(under or 1)
            assert row["screw_diameter"] == pytest.approx(0.0254 * inches, rel=1e-5)
            assert row["thread_pitch"] == pytest.approx(0.0254 / float(per_inch), rel=1e-5)


def test_friction_ranges_rise_and_lie_within_a_class_of_the_guideline() -> None:
    classes = {"A": (0.04, 0.10), "B": (0.08, 0.16), "C": (0.14, 0.24)}
    for row in fact_value("screw-friction"):
        assert row["least_friction"] < row["friction"] < row["largest_friction"]
        if row["lubrication"] != "not known":
            ends = (row["least_friction"], row["largest_friction"])
            assert any(low <= ends[0] and ends[1] <= high for low, high in classes.values()), row["lubrication"]


def test_every_number_of_screws_of_the_faces_has_its_order() -> None:
    orders = {row["bolt_count"] for row in fact_value("tightening-order")}
    assert {row["bolt_count"] for row in fact_value("screw-groups")} <= orders
