"""One reading of the demo changed at a time: do share, ranking and verdict move as a technician expects?"""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from valvecalc.job.compute import Findings

Table = dict[str, Any]
SHOP = (Path(__file__).parents[2] / "valvecalc" / "demo" / "jobs" / "shop.toml").read_text("utf-8")
Work = Callable[..., tuple[Findings, Table]]


def coil(job: Table, name: str) -> Table:
    found: Table = next(row for row in job["coil"] if row["name"] == name)
    return found


def reading(rows: list[Table], state: str) -> Table:
    return next(row for row in rows if row["state"] == state)


def judged(work: Work, job: Table) -> tuple[float, list[str], str]:
    """Share in hand of coil b, the first three that eat its force, and its band."""
    found, told = work(job)
    chart = next(row for row in told["charts"] if row["kind"] == "bars" and "coil b" in row["title"])
    share = found.budgets["b"].energise.results["margin_share"]
    margin = next(row for row in told["charts"] if row["kind"] == "margin" and "coil b" in row["title"])
    band = next(row["label"] for row in margin["bands"] if share < row["to"])
    return share, [row["label"] for row in chart["rows"][:3]], band


@pytest.fixture
def before(demo: Table, work_once: Work) -> tuple[float, list[str], str]:
    return judged(work_once, demo)


def test_as_it_is(before: tuple[float, list[str], str]) -> None:
    share, ranking, band = before
    assert -0.1 < share < 0.1
    assert ranking[:2] == ["spring", "silt"]
    assert band == "erratic"


def test_less_silt_after_the_hold(demo: Table, work_once: Work, before: tuple[float, list[str], str]) -> None:
    reading(coil(demo, "b")["push"], "dwell")["force"] = "31.6 N"
    share, ranking, band = judged(work_once, demo)
    assert share > before[0] + 0.05
    assert ranking[1] == "flow force"  # the weakest place moves from the start to the edge
    assert band == "works"


def test_more_volts_at_the_plug(demo: Table, work_once: Work, before: tuple[float, list[str], str]) -> None:
    coil(demo, "b")["plug_voltage"] = "47 V"
    share, ranking, band = judged(work_once, demo)
    assert share > before[0] + 0.05
    assert (ranking, band) == (before[1], "works")


def test_a_hotter_winding(demo: Table, work_once: Work, before: tuple[float, list[str], str]) -> None:
    coil(demo, "b")["hot_resistance"] = "85 ohm"
    share, _, band = judged(work_once, demo)
    assert share < before[0] - 0.05
    assert band == "will not shift"


def test_warmer_oil_explains_the_leakage(demo: Table, work_once: Work, before: tuple[float, list[str], str]) -> None:
    """The same drops from thinner oil come past a smaller gap; the force budget hardly notices."""
    cold = next(iter(work_once(demo)[0].leaks.values())).results
    demo["oil"]["oil_temperature"] = "60 °C"
    warm = next(iter(work_once(demo)[0].leaks.values())).results
    assert warm["clearance_touching"] < cold["clearance_touching"]
    assert (cold["wear_verdict"], warm["wear_verdict"]) == ("worn", "cannot tell")
    assert judged(work_once, demo)[0] == pytest.approx(before[0], abs=0.01)


def test_a_stiffer_spring(demo: Table, work_once: Work, before: tuple[float, list[str], str]) -> None:
    """3 N more of preload are felt at the override too: every push grows, the share falls, the spring eats more."""
    demo["spring"]["spring_preload"] = "22 N"
    alone = judged(work_once, demo)
    assert alone[0] == pytest.approx(before[0], abs=1e-9)  # the pushes told the sum: friction gives way instead
    assert alone[1] == ["spring", "silt", "lateral friction"]
    for name, forces in (("a", ("25.4 N",)), ("b", ("25.5 N", "28.9 N", "44.6 N"))):
        for row, force in zip(coil(demo, name)["push"], forces, strict=True):
            row["force"] = force
    share, ranking, _ = judged(work_once, demo)
    assert share < before[0] - 0.05
    assert ranking == before[1]


def test_a_preload_beyond_the_push_is_told(demo: Table, work_once: Work) -> None:
    demo["spring"]["spring_preload"] = "24 N"
    assert any("ask for less force than the spring alone takes" in text for text in work_once(demo)[1]["assumed"])


def test_more_taper(demo: Table, work_once: Work) -> None:
    """Where nobody pushed under pressure the taper itself speaks; where somebody did, the push wins."""
    pushed = work_once(demo)[0].budgets["b"].energise.results["start_margin"]
    for land in demo["land"][:2]:
        land["taper"] = "12 µm"
    assert work_once(demo)[0].budgets["b"].energise.results["start_margin"] == pytest.approx(pushed, abs=0.05)
    starts = []
    for row in demo["coil"]:
        row["push"] = row.get("push", [])[:1]
        row["pickup"] = [one for one in row["pickup"] if one["state"] in ("no-pressure", "flow")]
    for taper in ("0.5 µm", "3 µm"):
        for land in demo["land"][:2]:
            land["taper"] = taper
        starts.append(work_once(demo)[0].budgets["b"].energise.results["start_margin"])
    assert starts[1] < starts[0]


def test_readings_that_speak_against_each_other_are_told(demo: Table, work_once: Work) -> None:
    assert not [text for text in work_once(demo)[1]["assumed"] if "foretell" in text]
    reading(coil(demo, "b")["pickup"], "no-pressure")["voltage"] = "33 V"
    told = [text for text in work_once(demo)[1]["assumed"] if "foretell" in text]
    assert len(told) == 1
    assert "read was 33.0 V" in told[0]


def test_own_limits_of_the_shop_judge(demo: Table, work_once: Work) -> None:
    told = work_once(demo, SHOP + '\n[limits]\nsupply-below = "15 %"\n')[1]
    answer = next(row for row in told["answers"] if row["question"].startswith("Is coil b"))
    assert next(row for row in answer["results"] if row["name"] == "supply_deviation")["verdict"] == "accept"
    row = next(row for row in told["verdicts"] if row["subject"].startswith("coil b: voltage"))
    assert row["verdict"] == "accept"
    assert "from −15 %" in row["sentence"]


def test_a_us_shop_reads_its_own_units(demo: Table, work: Work) -> None:
    told = work(demo, SHOP.replace('units = "metric"', 'units = "us"'))[1]
    units = {row["unit"] for row in told["charts"] if row["kind"] == "bars"}
    units |= {row["unit_y"] for row in told["charts"] if row["kind"] == "stroke"}
    assert units == {"lbf"}
    said = [row["sentence"] for row in told["thresholds"]] + told["headline"]["actions"]
    said += [row["drive"]["label"] for row in told["charts"] if row["kind"] == "stroke"]
    for text in said:
        words = text.replace("\N{NO-BREAK SPACE}", " ").replace(",", " ").replace(".", " ").split()
        assert not {"N", "bar", "mm", "µm", "°C", "N/mm", "L/min"} & set(words), text
    figures = {row[key]["unit"] for row in told["thresholds"] for key in ("as_is", "value") if row[key]}
    assert not {"N", "bar", "mm", "µm", "°C", "N/mm", "L/min"} & figures
