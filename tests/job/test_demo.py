"""The demo's job against hand calculations: the formulas stand here a second time, worked from the raw readings."""

import json
import math
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from valvecalc.compiled import fast
from valvecalc.formula import REGISTER
from valvecalc.job.case import at_pickup
from valvecalc.job.compute import Findings, compute
from valvecalc.job.read import read_job
from valvecalc.job.report import digest, report

Table = dict[str, Any]
DEMO = Path(__file__).parents[2] / "valvecalc" / "demo" / "jobs"


@pytest.fixture(scope="module")
def worked() -> tuple[Findings, Table]:
    job = read_job(DEMO / "clamp-press.toml")
    found = compute(job)
    return found, report(job, found)


def result(told: Table, question: str, name: str) -> Table:
    """A result of the answer whose question begins so."""
    answer = next(row for row in told["answers"] if row["question"].startswith(question))
    row: Table = next(row for row in answer["results"] if row["name"] == name)
    return row


def test_bench_shares_by_hand(worked: tuple[Findings, Table]) -> None:
    """1 - (V/R)²·(R_hot/V_min)²: force goes with the current squared. V_min is 48 V less 10 % (VDE 0580 extract)."""
    hot, lowest = 79.8, 43.2
    means = {"no_pressure": (27.2 + 27.5 + 27.3) / 3, "blocked": (28.9 + 29.4 + 29.0) / 3, "dwell": 35.0, "flow": 32.8}
    ohms = {"no_pressure": 65.0, "blocked": 65.4, "dwell": 65.8, "flow": 66.1}
    share = {state: 1 - (means[state] / ohms[state]) ** 2 * (hot / lowest) ** 2 for state in means}
    bench = worked[0].benches["b"].results
    for state in means:
        assert bench[f"share_{state}"] == pytest.approx(share[state], rel=1e-12)
    assert bench["added_silt"] == pytest.approx(share["blocked"] - share["dwell"], rel=1e-12)
    assert bench["margin_share"] == bench["proved_share"] == pytest.approx(min(share.values()), rel=1e-12)
    assert "proved_share" not in worked[0].benches["a"].results  # neither flow nor a hold was read there


def test_repeats_and_instruments_by_hand(worked: tuple[Findings, Table]) -> None:
    """Scatter of the mean s/√n (JCGM 100:2008, 4.2.3) beside the instrument's limit of error over √3 (4.3.7)."""
    job = read_job(DEMO / "clamp-press.toml")
    row = next(coil for coil in job.tables["coil"] if coil["name"] == "b")
    volts = row["pickup"][0]["voltage"]
    readings = (27.2, 27.5, 27.3)
    mean = sum(readings) / 3
    deviation = math.sqrt(sum((one - mean) ** 2 for one in readings) / 2)
    assert volts.entry.si == pytest.approx(mean, rel=1e-12)
    assert volts.values == readings
    # 0.5 % of reading, of the trial that names the instrument
    spreads = {group: u for u, group in volts.entry.spreads}
    assert spreads["V1"] == pytest.approx(0.005 * 27.2 / math.sqrt(3), rel=1e-12)
    assert spreads[None] == pytest.approx(deviation / math.sqrt(3), rel=1e-12)
    # 0.5 % of a range of 100 N; 1 K on a temperature; 1 % of 250 bar
    preload, oil, duty = (
        job.tables["spring"]["spring_preload"],
        job.tables["oil"]["oil_temperature"],
        job.tables["duty"],
    )
    assert preload.spreads == ((pytest.approx(0.5 / math.sqrt(3)), "F2"),)
    assert oil.spreads == ((pytest.approx(1 / math.sqrt(3)), "T1"),)
    assert duty["supply_pressure"].spreads == ((pytest.approx(2.5e5 / math.sqrt(3)), "P3"),)


def test_coil_and_supply_by_hand(worked: tuple[Findings, Table]) -> None:
    """Copper: R goes with 234.5 °C + T (IEC 60034-1 has 235; IEC 60228 0.00393 1/K, which is 234.5)."""
    told = worked[1]
    cold = result(told, "Is coil b", "resistance_20")["value"]
    assert cold == pytest.approx(62.9 * (234.5 + 20) / (234.5 + 23), rel=1e-4)
    assert result(told, "Is coil b", "winding_temperature")["value"] == pytest.approx(
        79.8 / cold * (234.5 + 20) - 234.5, abs=0.1
    )
    supply = result(told, "Is coil b", "supply_deviation")
    assert supply["value"] == pytest.approx(100 * (42.6 / 48 - 1), rel=1e-12)
    assert supply["verdict"] == "reject"
    # both volts come from one instrument, but nominal volts are none: 0.5 % of 42.6 V, expanded
    assert supply["uncertainty"] == pytest.approx(2 * 0.5 * 42.6 / 48 / math.sqrt(3), rel=1e-6)


def test_the_diametral_clearance_is_halved_in_sight(worked: tuple[Findings, Table]) -> None:
    told = worked[1]
    assert result(told, "P to T", "clearance")["value"] == pytest.approx(5.0, rel=1e-12)
    leak = next(row for row in told["answers"] if row["id"] == "leak-check")
    assert any("10 µm across is 5.00 µm radial" in text for text in leak["sentences"])


def test_the_stand_by_hand(worked: tuple[Findings, Table]) -> None:
    time = math.pi / 4 * 0.040**2 * 0.250 / (16e-3 / 60)
    assert worked[0].stand is not None
    assert worked[0].stand.results["extend_time_expected"] == pytest.approx(time, rel=1e-12)


def test_pushes_are_carried_into_the_budget(worked: tuple[Findings, Table]) -> None:
    """Push less preload is dry friction; what pressure adds is lateral; what the hold adds is silt."""
    case = worked[0].budgets["b"].case
    free = (22.6 + 22.3) / 2
    first = worked[0].budgets["b"].energise.results["stroke_rows"][0]
    assert first["dry_friction"] == pytest.approx(free - 19.0, rel=1e-12)
    assert first["silt_force"] == pytest.approx(41.6 - 25.9, rel=1e-12)
    blocked = fast(REGISTER["shift-budget"])(case.valve._replace(state="blocked"))["stroke_rows"][0]
    assert blocked["lateral_friction"] == pytest.approx(25.9 - free, rel=1e-9)
    assert {case.bases[term] for term in ("dry_friction", "silt_force", "lateral_friction", "flow_force")} == {
        "measured"
    }


def test_the_calibrated_valve_just_shifts_at_its_pickups(
    demo: Table, work: Callable[..., tuple[Findings, Table]]
) -> None:
    """Fed with the volts and ohms of a pick-up that calibrated it, the valve has nothing in hand and lacks nothing."""
    for row in demo["coil"]:
        row.pop("push", None)
    del demo["repair"]
    budget = work(demo)[0].budgets["b"]
    values = {name: entry.si for name, entry in budget.raw.items()}
    for state, silt in (
        ("no_pressure", 0.0),
        ("blocked", 0.0),
        ("flow", 0.0),
        ("dwell", budget.case.valve.silt_at_start),
    ):
        there = at_pickup(values, state, budget.case.valve)
        assert there is not None
        margin = fast(REGISTER["shift-budget"])(there._replace(silt_at_start=silt))["margin"]
        assert margin == pytest.approx(0.0, abs=1e-6), state


def test_what_eats_the_force_adds_up(worked: tuple[Findings, Table]) -> None:
    for chart in worked[1]["charts"]:
        if chart["kind"] == "bars":
            coil = chart["title"].split()[6]
            worst = worked[0].budgets[coil].energise.results["worst"][0]
            assert sum(row["value"] for row in chart["rows"]) == pytest.approx(
                worst["drive"] - worst["margin"], rel=1e-9
            )
            assert [row["value"] for row in chart["rows"]] == sorted(
                (row["value"] for row in chart["rows"]), reverse=True
            )


def test_a_threshold_turns_the_verdict(worked: tuple[Findings, Table]) -> None:
    """Each single cause, put in alone, leaves nothing in hand."""
    budget = worked[0].budgets["b"]
    for direction, causes in (("energise", budget.causes), ("release", budget.release_causes)):
        for row in causes["single_causes"]:
            if row["threshold"] is not None:
                valve = budget.case.valve._replace(direction=direction, **{row["cause"]: row["threshold"]})
                assert fast(REGISTER["shift-budget"])(valve)["margin"] == pytest.approx(0.0, abs=1e-6), row["cause"]


def test_the_other_coil_borrows_what_the_spool_showed(worked: tuple[Findings, Table]) -> None:
    a, b = (worked[0].budgets[name].case.valve for name in "ab")
    assert (a.silt_at_start, a.flow_force_factor) == (b.silt_at_start, b.flow_force_factor)
    assert any("Coil a has no reading of its own for" in text for text in worked[1]["assumed"])


def test_the_order_of_the_file_does_not_matter(demo: Table, work: Callable[..., tuple[Findings, Table]]) -> None:
    plain = work(demo)[1]
    turned = {key: dict(reversed(value.items())) if isinstance(value, dict) else value for key, value in demo.items()}
    told = work(dict(reversed(turned.items())))[1]
    for report_ in (plain, told):
        report_["readings"].sort(key=lambda row: row["entry"])
        del report_["digest"]
    assert told == plain


def test_the_digest_is_that_of_the_report(worked: tuple[Findings, Table]) -> None:
    """Twice the same for one date; another date is another report."""
    import datetime

    job = read_job(DEMO / "clamp-press.toml")
    day = datetime.date(2026, 11, 20)
    first, second = (report(job, worked[0], day) for _ in range(2))
    assert first["digest"] == second["digest"] == digest(json.loads(json.dumps(second)))
    assert report(job, worked[0], datetime.date(2026, 11, 21))["digest"] != first["digest"]


def test_an_instrument_past_its_date_is_told(worked: tuple[Findings, Table]) -> None:
    import datetime

    job = read_job(DEMO / "clamp-press.toml")
    told = report(job, worked[0], datetime.date(2027, 2, 1))["assumed"]
    assert [text for text in told if "F2 was calibrated until 2027-01-31" in text]
    assert not [text for text in told if "R1 was calibrated" in text]
