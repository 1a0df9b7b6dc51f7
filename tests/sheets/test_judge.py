"""The small sheets: figures worked by hand beside them, verdicts either side of the limit, and words for each."""

import tomllib

import pytest

from valvecalc.door import calc, find
from valvecalc.errors import DataError
from valvecalc.facts import load_toml
from valvecalc.formula import REGISTER
from valvecalc.job.fields import fields
from valvecalc.meaning import kept, meanings
from valvecalc.report.text import answer_text

WORDS = load_toml("words/judge.toml")
FIRST = WORDS["doors"]["first"]
TOLD = [name for name in WORDS if name not in ("doors", "keep")]
#: Held against readings of their own, not against one limit.
BY_READINGS = ("spool-clearance", "leak-check", "oil-code", "torque-check", "torque-sheet")
ML_MIN = 1e-6 / 60


def verdict(name: str, result: str, **given: str) -> str:
    """The verdict of a result of a sheet, "unknown" where it could not be worked."""
    rows = {row["name"]: row for row in calc(name, **given).to_json()["results"]}
    return str(rows[result]["verdict"]) if result in rows else "unknown"


def means(name: str, **given: str) -> list[str]:
    return [row["means"] for row in calc(name, **given).to_json()["meaning"]]


# ---- coil


def test_ohms_turned_to_20_degrees_and_held_against_the_plate() -> None:
    """110 Ω at 45 °C are 110/(1 + 0.00393 · 25) = 100.159 Ω; 50 V and 25 W are 100 Ω: 0.159 % more."""
    plate = {"coil_temperature": "45 °C", "nominal_voltage": "50 V", "nominal_power": "25 W"}
    found = calc("coil-ohms", resistance="110 Ω", **plate).results
    assert found["resistance_20"] == pytest.approx(110 / 1.09825, rel=1e-12)
    assert found["resistance_deviation"] == pytest.approx(110 / 1.09825 / 100 - 1, rel=1e-9)
    assert verdict("coil-ohms", "resistance_deviation", resistance="110 Ω", **plate) == "accept"
    assert verdict("coil-ohms", "resistance_deviation", resistance="98 Ω", **plate) == "reject"
    assert "shorted" in means("coil-ohms", resistance="98 Ω", **plate)[0]
    assert "higher voltage" in means("coil-ohms", resistance="122 Ω", **plate)[0]
    assert verdict("coil-ohms", "resistance_deviation", resistance="120 Ω ± 2 Ω", **plate) == "cannot-tell"


def test_a_quarter_of_the_ohms_is_the_coil_of_half_the_voltage() -> None:
    """Definition R = U²/P: the 24 V coil of 30 W has 19.2 Ω, the 12 V coil 4.8 Ω: 75 % too low."""
    plate = {"coil_temperature": "20 °C", "nominal_voltage": "24 V", "nominal_power": "30 W"}
    assert calc("coil-ohms", resistance="4.8 Ω", **plate).value == pytest.approx(-0.75, abs=1e-12)


def test_volts_at_the_plug() -> None:
    """22 V of 24 V is 8.33 % low, within −10 %; 21 V is 12.5 % low. 23.5 V off load to 22 V is a sag of 6.38 %."""
    found = calc("plug-volts", plug_voltage="22 V", nominal_voltage="24 V", off_load_voltage="23.5 V").results
    assert found["supply_deviation"] == pytest.approx(-2 / 24)
    assert found["supply_sag"] == pytest.approx(1.5 / 23.5)
    given = {"nominal_voltage": "24 V", "off_load_voltage": "23.5 V"}
    assert verdict("plug-volts", "supply_deviation", plug_voltage="22 V", **given) == "accept"
    assert verdict("plug-volts", "supply_sag", plug_voltage="22 V", **given) == "reject"
    assert verdict("plug-volts", "supply_sag", plug_voltage="22.5 V", **given) == "accept"
    assert verdict("plug-volts", "supply_deviation", plug_voltage="21 V", **given) == "reject"
    assert verdict("plug-volts", "supply_deviation", plug_voltage="25.6 V", **given) == "reject"
    assert len(means("plug-volts", plug_voltage="22 V", nominal_voltage="24 V")) == 1


@pytest.mark.parametrize(
    ("amps", "deviation"),
    [
        (1.25, 0.0),  # cold: 24 V / 19.2 Ω
        (1.0, 0.0),  # between hot and cold
        (24 / (19.2 * 1.33405), 0.0),  # hot, 105 °C
        (1.5, 0.2),  # a fifth above the cold current
        (0.75 * 24 / (19.2 * 1.33405), -0.25),  # a quarter below the hot one
    ],
)
def test_a_current_between_hot_and_cold_is_right(amps: float, deviation: float) -> None:
    plate = {"plug_voltage": "24 V", "nominal_voltage": "24 V", "nominal_power": "30 W"}
    assert calc("coil-amps", current=amps, **plate).value == pytest.approx(deviation, abs=1e-12)


def test_with_the_winding_s_temperature_the_current_is_one_figure() -> None:
    """100 °C: 19.2 (1 + 0.00393 · 80) = 25.236 Ω, 0.9510 A at 24 V; 1.05 A is 10.4 % more."""
    plate = {"nominal_voltage": "24 V", "nominal_power": "30 W"}
    found = calc("coil-amps", current="1.05 A", plug_voltage="24 V", winding_temperature="100 °C", **plate).results
    assert found["largest_current"] == found["smallest_current"] == pytest.approx(24 / 25.23648, rel=1e-9)
    assert found["current_deviation"] == pytest.approx(1.05 * 25.23648 / 24 - 1, rel=1e-9)


def test_cold_pick_up_limits_of_a_24_volt_coil() -> None:
    """Independent calculation, no published source: to shift at 90 % with the winding at 105 °C the cold pick-up
    voltage is 0.675 of nominal with nothing in hand and 0.584 (14.0 V) with 25 %."""
    given = {"coil_temperature": "20 °C", "nominal_voltage": "24 V"}
    found = calc("pickup-volts", pickup_voltage="14 V", **given).results
    assert found["largest_pickup_voltage"] / 24 == pytest.approx(0.584, abs=5e-4)
    nothing = calc("pickup-volts", pickup_voltage="16.2 V", **given)
    assert nothing.value == pytest.approx(0.0, abs=0.002)
    at_limit = calc("pickup-volts", pickup_voltage=found["largest_pickup_voltage"], **given)
    assert at_limit.value == pytest.approx(0.25, abs=1e-12)


def test_pick_up_with_both_resistances_is_the_formula_s_share() -> None:
    given = {"pickup_voltage": "28.3 V", "pickup_resistance": "97 Ω", "hot_resistance": "121.7 Ω"}
    share = calc("pickup-share", **given, minimum_voltage="43.2 V").value
    small = calc("pickup-volts", **given, minimum_voltage="43.2 V", coil_temperature="31 °C").value
    assert small == pytest.approx(share, rel=1e-12)


# ---- spool and springs


def test_leakage_turned_to_the_new_valve_s_oil() -> None:
    """Same temperature and pressure: the plain ratio. Half the pressure doubles the turned reading."""
    given = {"oil_temperature": "40 °C", "new_leakage": "10 mL/min", "pressure_drop": "100 bar"}
    found = calc("spool-leakage", leakage="80 mL/min", **given).results
    assert found["wear_ratio"] == pytest.approx(8.0, rel=1e-12)
    assert found["clearance_growth"] == pytest.approx(2.0, rel=1e-12)
    lower = given | {"pressure_drop": "50 bar", "reference_pressure_drop": "100 bar"}
    half = calc("spool-leakage", leakage="40 mL/min", **lower)
    assert half.value == pytest.approx(8.0, rel=1e-12)
    assert verdict("spool-leakage", "wear_ratio", leakage="39 mL/min", **given) == "accept"
    assert verdict("spool-leakage", "wear_ratio", leakage="41 mL/min", **given) == "reject"
    warm = calc("spool-leakage", leakage="80 mL/min", **given | {"oil_temperature": "60 °C"})
    assert 8 / 2.3 < warm.value < 8 / 2.2  # independent calculation: 2.27 times more from 40 to 60 °C


@pytest.mark.parametrize(
    ("read", "new", "expected"),
    [
        ("14 µm", "10 µm", "accept"),
        ("16 µm", "10 µm", "reject"),
        ("6 µm", None, "accept"),  # 3 µm: even against the tightest
        ("14 µm", None, "cannot-tell"),  # 7 µm: 2.3 times the tightest, about half of the loosest
        ("40 µm", None, "reject"),  # 20 µm: 1.54 times even the loosest
        ("15 µm ± 1 µm", "10 µm", "cannot-tell"),
    ],
)
def test_a_fit_against_the_new_one_or_all_that_are_usual(read: str, new: str | None, expected: str) -> None:
    given = {"diametral_clearance": read} | ({"new_diametral_clearance": new} if new else {})
    assert verdict("spool-clearance", "clearance", **given) == expected


def test_springs() -> None:
    """17 of 20 N is 15 % low; 17 against 18 N is 1/17.5 = 5.7 % apart; 24.6 of 25 mm has set 1.6 %."""
    given = {"nominal_preload": "20 N", "partner_preload": "18 N"}
    given |= {"free_length": "24.6 mm", "nominal_free_length": "25 mm"}
    found = calc("spring-load", spring_preload="17 N", **given).results
    assert found == pytest.approx({"preload_deviation": -0.15, "pair_difference": -1 / 17.5, "set_share": 0.016})
    told = [row["verdict"] for row in calc("spring-load", spring_preload="17 N", **given).to_json()["meaning"]]
    assert told == ["reject", "reject", "accept"]


# ---- motion and pressure


def test_stroke_out_and_in() -> None:
    """50 mm bore: 1963.5 mm² · 400 mm = 785.4 cm³, at 12 L/min 3.927 s out; with a 30 mm rod 0.64 of it in."""
    given = {"bore_diameter": "50 mm", "stroke_length": "400 mm", "pump_flow": "12 L/min"}
    out = calc("stroke-seconds", measured_time="4 s", **given).results
    back = calc("stroke-seconds", measured_time="4 s", **given, rod_diameter="30 mm").results
    assert out["expected_time"] == pytest.approx(3.92699, abs=1e-5)
    assert back["expected_time"] == pytest.approx(0.64 * out["expected_time"], rel=1e-12)
    assert [verdict("stroke-seconds", "time_deviation", measured_time=f"{t} s", **given) for t in (3.4, 4.2, 4.4)] == [
        "reject",
        "accept",
        "reject",
    ]
    assert "Faster" in means("stroke-seconds", measured_time="3.4 s", **given)[0]


def test_drift_of_ten_millilitres_a_minute() -> None:
    """Independent calculation, no published source: 10 mL/min out of a 50 mm bore is 5.09 mm/min."""
    given = {"drift_distance": "50.9 mm", "drift_time": "10 min", "bore_diameter": "50 mm"}
    found = calc("drift-rate", **given, allowed_drift="6 mm/min").results
    assert found["leakage"] / ML_MIN == pytest.approx(10.0, abs=0.01)
    assert found["drift_share"] == pytest.approx(5.09 / 6)
    assert "documents say" in means("drift-rate", **given)[0]


def test_loss_with_the_square_of_the_flow() -> None:
    """4 bar at 40 L/min; at 60 L/min 0.1 · 4 · 1.5 + 0.9 · 4 · 2.25 = 8.7 bar. 11 bar is 26 % more, and 1.1 kW."""
    given = {"flow": "60 L/min", "rated_drop": "4 bar", "rated_flow": "40 L/min"}
    found = calc("path-loss", measured_drop="11 bar", **given).results
    assert found["pressure_drop"] == pytest.approx(8.7e5, rel=1e-12)
    assert found["loss_deviation"] == pytest.approx(11 / 8.7 - 1, rel=1e-12)
    assert found["heat"] == pytest.approx(1100.0, rel=1e-12)
    assert [verdict("path-loss", "loss_deviation", measured_drop=f"{p} bar", **given) for p in (10.8, 11)] == [
        "accept",
        "reject",
    ]


# ---- words


def test_the_doors_have_words_for_all_that_they_judge() -> None:
    assert len(FIRST) == len(set(FIRST)) >= 10
    assert set(FIRST) <= set(TOLD)
    for name in TOLD:
        assert set(meanings(find(name))) == set(find(name).judged)


def test_every_sheet_that_judges_has_words() -> None:
    assert {card.id for card in REGISTER.values() if card.judged and not card.part} == set(TOLD)


def test_a_result_may_have_the_words_of_another(monkeypatch: pytest.MonkeyPatch) -> None:
    (own, other) = (meanings(find(name))["supply_deviation"]["verdicts"] for name in ("coil-check", "plug-volts"))
    assert own == other
    lost = {**WORDS, "coil-check": {"supply_deviation": "plug-volts.sag"}}
    monkeypatch.setattr("valvecalc.meaning.load_toml", lambda name: lost if "judge" in name else load_toml(name))
    with pytest.raises(DataError, match=r"no words plug-volts\.sag"):
        meanings(find("coil-check"))


@pytest.mark.parametrize("name", TOLD)
def test_words_promise_nothing_and_each_is_a_sentence(name: str) -> None:
    for known in meanings(find(name)).values():
        for row in known["verdicts"].values():
            assert row["means"][0].isupper() and row["means"].endswith(".")
            assert not any(word in row["means"].lower() for word in ("safe", "please", "careful", "harmless"))
            assert row["next"]["title"] and row["next"]["caution"].endswith(".")


@pytest.mark.parametrize("name", TOLD)
def test_limit_origin_meaning_caution_and_next_step_stand_in_that_order(name: str) -> None:
    answer = calc(name, **find(name).example).to_json()
    text = " ".join(answer_text(answer, width=9000).split())
    at = 0
    for row in answer["meaning"]:
        assert "default: " in row["against"] or name in BY_READINGS
        assert "guard band" in row["against"] or name in BY_READINGS
        told = [row["against"], row["means"]]
        if row["next"]:
            told += [row["next"]["caution"], f"Next: {row['next']['title']}"]
        for part in told:
            at = text.index(" ".join(part.split()), at)


def test_a_check_that_follows_twice_is_told_once() -> None:
    meaning = calc("plug-volts", **find("plug-volts").example).to_json()["meaning"]
    assert [row["next"] and row["next"]["check"] for row in meaning] == [None, "wiggle-test"]


def test_a_verdict_without_words_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    own = {**WORDS, "coil-ohms": {"resistance_deviation": {"accept": {"means": "Good.", "next": "coil-resistance"}}}}
    monkeypatch.setattr("valvecalc.meaning.load_toml", lambda name: own if "judge" in name else load_toml(name))
    with pytest.raises(DataError, match="reject-low"):
        meanings(find("coil-ohms"))


@pytest.mark.parametrize("name", [name for name in FIRST if name in WORDS["keep"]])
def test_kept_lines_are_toml_and_keys_of_the_job_file(name: str) -> None:
    card = find(name)
    place = kept(card)
    table = place["table"].strip("[]").split(".")[-1]
    lines = calc(name, **card.example).to_json()["keep"]
    found = tomllib.loads(lines)
    assert set(found) <= set(fields("job", table))
    typed = [key for entry, key in place["keys"].items() if entry in card.example]
    assert set(found) == {*place.get("also", ()), *typed}
    for entry, key in place["keys"].items():
        if entry in card.example and entry in place["read"]:
            value, _, doubt = card.example[entry].partition(" ± ")
            told = {"value": value, "instrument": "?"}
            assert found[key] == (told | {"uncertainty": doubt} if doubt else told)
        elif entry in card.example:
            assert found[key] == card.example[entry]


def test_an_inch_typed_as_a_quote_stays_toml() -> None:
    lines = calc("spool-clearance", diametral_clearance='0.0004" ± 0.0001"').to_json()["keep"]
    assert tomllib.loads(lines)["diametral_clearance"]["value"] == '0.0004"'
