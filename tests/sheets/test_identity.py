"""A valve without a plate: face, coil and spool, each with figures worked by hand."""

import math

import pytest

from valvecalc.door import calc
from valvecalc.facts import data_path, fact_value
from valvecalc.judge import verdicts


def words(result: object) -> dict[str, str]:
    """Face or supply -> the word of its row."""
    assert isinstance(result, list)
    return {row.get("mounting_face") or row["supply_name"]: row["fit_word"] for row in result}


# ---------------------------------------------------------------- the face


def test_screws_and_ports_of_one_size_are_accepted() -> None:
    """M5 measured 4.9 mm: 1 - 4.9/5 = 2 %; ports of 7.0 mm lie within 6.3 to 7.5. Next is 05: 7.0 mm of 11 mm."""
    answer = calc("mounting-interface", bolt_diameter="4.9 mm", port_diameter="7 mm", bolt_count="4")
    found = answer.results
    assert found["nearest_face"] == "ISO 4401-03 / NG6 / D03"
    assert found["interface_verdict"] == "accept"
    assert found["misfit"] == pytest.approx(0.02)
    assert found["second_face"] == "ISO 4401-05 / NG10 / D05"
    assert found["second_misfit"] == pytest.approx(1 - 7 / 11)
    assert verdicts(answer) == {"misfit": "accept"}
    assert words(found["interface_rows"]) == {
        "ISO 4401-03 / NG6 / D03": "fits",
        "ISO 4401-05 / NG10 / D05": "screws do not fit",
        "ISO 4401-07 / NG16 / D07": "screws do not fit",
        "ISO 4401-08 / NG25 / D08": "screws do not fit",
        "ISO 4401-10 / NG32 / D10": "screws do not fit",
    }


@pytest.mark.parametrize(
    ("inch", "face"),
    [("0.19 in", "03"), ("0.25 in", "05"), ("0.375 in", "07"), ("0.5 in", "08"), ("0.75 in", "10")],
)
def test_inch_screws_belong_to_the_same_sizes(inch: str, face: str) -> None:
    """10-24 to 3/4: none lies further than 6.3 % from the metric screw of its face (1/4 in: 6.35 to 6 mm is 5.8 %)."""
    found = calc("mounting-interface", bolt_diameter=inch).results
    assert f"-{face} " in found["nearest_face"]
    assert found["misfit"] < 0.064


@pytest.mark.parametrize("one", [{"bolt_diameter": "5.9 mm"}, {"port_diameter": "11.1 mm"}])
def test_one_kind_of_reading_is_not_enough(one: dict[str, str]) -> None:
    found = calc("mounting-interface", **one).results
    assert found["nearest_face"] == "ISO 4401-05 / NG10 / D05"
    assert found["interface_verdict"] == "cannot tell"


def test_readings_that_contradict_each_other_fit_nothing() -> None:
    """M10 with ports of 25 mm: 10/12 is 17 % under size 08, 25/19 is 32 % over size 07."""
    answer = calc("mounting-interface", bolt_diameter="10 mm", port_diameter="25 mm")
    found = answer.results
    assert (found["nearest_face"], found["interface_verdict"]) == ("ISO 4401-08 / NG25 / D08", "none of them")
    assert found["misfit"] == pytest.approx(1 / 6)
    assert found["second_misfit"] == pytest.approx(25 / 19 - 1)
    assert verdicts(answer) == {"misfit": "reject"}


def test_a_face_smaller_than_the_table_is_none_of_them() -> None:
    found = calc("mounting-interface", bolt_diameter="5 mm", port_diameter="4.4 mm").results
    assert found["interface_verdict"] == "none of them"
    assert found["misfit"] == pytest.approx(1 - 4.4 / 6.3)


def test_a_fifth_screw_is_told_but_six_of_another_size_are_not_it() -> None:
    found = calc("mounting-interface", bolt_diameter="6 mm", port_diameter="11 mm", bolt_count="5").results
    assert found["misfit"] == pytest.approx(0.25)
    assert words(found["interface_rows"])["ISO 4401-05 / NG10 / D05"] == "number of screws does not fit"
    assert "fifth" in found["interface_note"]


@pytest.mark.parametrize("given", [{}, {"bolt_count": "4"}])
def test_without_a_diameter_there_is_no_face(given: dict[str, str]) -> None:
    answer = calc("mounting-interface", **given)
    assert not answer.results and answer.missing


def test_the_doubt_of_a_reading_reaches_the_verdict() -> None:
    """6.35 mm for M6 is 5.8 % off: accepted as it stands, open when the caliper is good to 0.3 mm (5 % of it)."""
    assert verdicts(calc("mounting-interface", bolt_diameter="6.35 mm"))["misfit"] == "accept"
    assert verdicts(calc("mounting-interface", bolt_diameter="6.35 mm ± 0.3 mm"))["misfit"] == "cannot-tell"


def test_what_is_not_confirmed_has_no_figure_and_is_not_used() -> None:
    rows = {row["mounting_face"]: row for row in fact_value("interfaces")}
    assert [name for name, row in rows.items() if row["confirmed"] != "yes"] == ["ISO 4401-02"]
    assert rows["ISO 4401-02"]["nominal_bolt_diameter"] is rows["ISO 4401-02"]["largest_port_diameter"] is None
    for name, row in rows.items():
        if row["confirmed"] == "yes":
            assert all(value is not None for value in row.values()), name
    with open(data_path("interfaces.csv"), encoding="utf-8") as file:
        text = file.read()
    assert "spacing" in text and "[mm]" in text and "spacing [mm]" not in text  # none was found, so none is there


# ---------------------------------------------------------------- the coil


def test_ohms_of_a_24_v_coil_may_be_those_of_an_ac_coil() -> None:
    """24²/19.2 = 30 W. Usual: 24²/40 = 14.4 to 24²/20 = 28.8 Ω; an AC coil for 110 to 120 V has 20 to 40 Ω."""
    found = calc("coil-identity", resistance="24 Ω", coil_temperature="20 °C").results
    assert found["coil_verdict"] == "cannot tell"
    assert {found["likely_supply"], found["second_supply"]} == {"24 V DC", "110 to 120 V AC"}
    told = words(found["coil_rows"])
    assert {name for name, word in told.items() if word == "may be"} == {"24 V DC", "110 to 120 V AC"}
    rows = {row["supply_name"]: row for row in found["coil_rows"]}
    assert rows["24 V DC"]["candidate_power"] == pytest.approx(24.0)
    assert rows["12 V DC"]["candidate_power"] == pytest.approx(6.0)
    assert rows["48 V DC"]["candidate_power"] == pytest.approx(96.0)
    assert rows["110 to 120 V AC"]["candidate_power"] is None  # ohms do not give it
    for name, least, most in (("24 V DC", 14.4, 28.8), ("110 to 120 V AC", 20.0, 40.0)):
        middle, half = math.sqrt(least * most), math.sqrt(most / least)
        place = abs(math.log(24 / middle)) / math.log(half)
        assert rows[name]["usual_range_misfit"] == pytest.approx(place - 1)


def test_a_48_v_coil_may_be_one_for_230_v_ac() -> None:
    found = calc("coil-identity", resistance="85 Ω").results
    assert found["coil_verdict"] == "cannot tell"
    assert {found["likely_supply"], found["second_supply"]} == {"48 V DC", "220 to 240 V AC"}


@pytest.mark.parametrize(
    ("ohms", "plug", "supply", "watts"),
    [
        ("4.8 Ω", "not known", "12 V DC", 30.0),
        ("4.8 Ω", "plain", "12 V DC", 30.0),
        ("320 Ω", "with rectifier", "98 V DC (110 V AC behind a bridge)", 98**2 / 320),
        ("1.4 kΩ", "with rectifier", "205 V DC (230 V AC behind a bridge)", 205**2 / 1400),
    ],
)
def test_what_can_be_told(ohms: str, plug: str, supply: str, watts: float) -> None:
    found = calc("coil-identity", resistance=ohms, plug_kind=plug).results
    assert (found["likely_supply"], found["coil_verdict"]) == (supply, "accept")
    assert found["likely_power"] == pytest.approx(watts)


def test_12_v_dc_and_24_v_ac_lie_far_apart() -> None:
    """24 V AC: 20 to 40 Ω times (24/120)² is 0.8 to 1.6 Ω; as a 12 V DC coil 1.2 Ω would draw 120 W."""
    rows = {row["supply_name"]: row for row in calc("coil-identity", resistance="1.2 Ω").results["coil_rows"]}
    assert rows["24 V AC"]["fit_word"] == "may be"
    assert rows["12 V DC"]["candidate_power"] == pytest.approx(120.0)
    assert rows["12 V DC"]["fit_word"] == "below the usual ohms"


@pytest.mark.parametrize("ohms", ["370 Ω", "1.5 kΩ"])
def test_a_rectified_coil_and_a_plain_one_are_not_told_apart_by_ohms(ohms: str) -> None:
    assert calc("coil-identity", resistance=ohms).results["coil_verdict"] == "cannot tell"


def test_a_warm_winding_is_turned_to_20_degrees() -> None:
    """At 80 °C copper has (234.5 + 80)/(234.5 + 20) = 1.2358 times its ohms: 24 Ω were 19.42 Ω."""
    found = calc("coil-identity", resistance="24 Ω", coil_temperature="80 °C").results
    assert found["resistance_20"] == pytest.approx(24 / (314.5 / 254.5), rel=2e-3)
    assert calc("coil-identity", resistance="24 Ω").results["resistance_20"] == 24.0


def test_ohms_between_the_usual_coils_are_none() -> None:
    found = calc("coil-identity", resistance="9.5 Ω").results
    assert found["coil_verdict"] == "none is usual"
    assert set(words(found["coil_rows"]).values()) == {"above the usual ohms", "below the usual ohms"}


def test_without_ohms_nothing_is_said() -> None:
    assert not calc("coil-identity").results
    assert not calc("coil-identity", coil_temperature="20 °C").results


# ---------------------------------------------------------------- the spool


def test_flow_of_an_edge_by_hand() -> None:
    """D 12 mm, 3 mm open: π·12·3 = 113.1 mm²; 0.65·113.1e-6·√(2·5e5/870) = 2.492e-3 m³/s = 149.5 L/min."""
    found = calc("size-class", spool_diameter="12 mm", stroke="3.5 mm", overlap="0.5 mm", clearance="0 µm").results
    flow = 0.65 * math.pi * 0.012 * 0.003 * math.sqrt(2 * 5e5 / 870)
    assert flow * 6e4 == pytest.approx(149.5, abs=0.1)
    assert found["opening"] == pytest.approx(0.003)
    assert found["edge_flow"] == pytest.approx(flow)
    assert found["likely_flow"] == pytest.approx(0.6 * flow)  # 89.7 L/min: 75 is 1.2 times less, 120 is 1.34 times more
    assert found["least_flow"] == pytest.approx(0.35 * flow)  # 52 L/min
    assert found["likely_size"] == found["smallest_size"] == "ISO 4401-03 / NG6 / D03"
    assert found["largest_size"] == "ISO 4401-05 / NG10 / D05"
    assert found["size_verdict"] == "cannot tell"
    rows = {row["mounting_face"]: row for row in found["size_rows"]}
    assert rows["ISO 4401-03 / NG6 / D03"]["likely_misfit"] == pytest.approx(0.6 * flow * 6e4 / 75 - 1)


def test_a_small_spool_is_of_the_smallest_size_whatever_its_body() -> None:
    found = calc("size-class", spool_diameter="9 mm", stroke="1.5 mm").results
    assert (found["smallest_size"], found["size_verdict"]) == ("ISO 4401-03 / NG6 / D03", "accept")


def test_half_the_circumference_and_a_quarter_of_the_drop_are_a_quarter_of_the_flow() -> None:
    given = {"spool_diameter": "16 mm", "stroke": "4 mm", "overlap": "1 mm"}
    whole = calc("size-class", **given).results["edge_flow"]
    part = calc("size-class", **given, open_circumference="0.5", pressure_drop="1.25 bar").results["edge_flow"]
    assert part == pytest.approx(whole / 4)


def test_an_edge_that_never_opens_has_no_size() -> None:
    found = calc("size-class", spool_diameter="12 mm", stroke="2 mm", overlap="2.5 mm").results
    assert found["opening"] == 0.0 and found["size_verdict"] == "cannot tell"
    assert found.get("likely_size") is None


def test_without_the_spool_there_is_no_flow() -> None:
    assert not calc("size-class", spool_diameter="12 mm").results
    assert set(calc("size-class", stroke="3 mm").results) == {"opening"}


# ---------------------------------------------------------------- the headline


@pytest.mark.parametrize(
    ("sheet", "given", "settled", "verdict"),
    [
        ("mounting-interface", {"bolt_diameter": "5 mm"}, "settled_face", "cannot tell"),
        ("mounting-interface", {"port_diameter": "14 mm"}, "settled_face", "none of them"),
        ("coil-identity", {"resistance": "24 Ω"}, "settled_supply", "cannot tell"),
        ("coil-identity", {"resistance": "9.5 Ω"}, "settled_supply", "none is usual"),
        ("size-class", {"spool_diameter": "12 mm", "stroke": "3 mm"}, "settled_size", "cannot tell"),
    ],
)
def test_what_is_not_settled_is_never_shown_as_if_it_were(
    sheet: str, given: dict[str, str], settled: str, verdict: str
) -> None:
    assert calc(sheet, **given).results[settled] == verdict


def test_what_is_settled_is_named() -> None:
    face = calc("mounting-interface", bolt_diameter="5 mm", port_diameter="7.5 mm")
    assert face.results["settled_face"] == "ISO 4401-03 / NG6 / D03"
    assert calc("coil-identity", resistance="4.8 Ω").results["settled_supply"] == "12 V DC"
    small = calc("size-class", spool_diameter="9 mm", stroke="1.5 mm")
    assert small.results["settled_size"] == "ISO 4401-03 / NG6 / D03"
