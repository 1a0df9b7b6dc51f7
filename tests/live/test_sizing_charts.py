"""The charts of the sizing on the phone against Python, character for character: of duties, lists and any figures."""

import random
from pathlib import Path
from typing import Any

from tests.live.sizing import ask_inner
from tests.live.test_drawing import LABELS, UNITS, same
from tests.live.test_sizing_telling import DEMO, STOCK, altered, worn
from valvecalc.drawing import chart
from valvecalc.selection.charts import charts
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import duty_from
from valvecalc.selection.ranking import rank
from valvecalc.selection.stock import read_csv

MORE = """
const listed = (csv) => readStock(csv, "stock.csv").valves;
const chartsWhole = (raw, csv, system) => charts(readDuty(raw, "duty").duty, listed(csv), system);
"""


def test_the_charts_of_duties_and_lists(tmp_path: Path) -> None:
    dice = random.Random(4)
    given = [(raw, STOCK, system) for raw in DEMO for system in ("metric", "us")]
    given += [(altered(dice), worn(dice), dice.choice(["metric", "us"])) for _ in range(60)]
    ours: list[str] = []
    for raw, stock, system in given:
        asked = demand(duty_from(raw))
        ours += charts(asked, rank(read_csv(stock.encode(), "stock.csv")[0], asked), system)
    answers = ask_inner(tmp_path, ["chartsWhole"], [("chartsWhole", *one) for one in given], MORE)
    same(ours, [drawn for answer in answers for drawn in answer["value"]])
    assert len(set(ours)) > 60 and "" in ours
    for words in ("short of the duty", "plugged", "is not known.", "its limit is not known at"):
        assert any(words in drawn.replace("\N{NO-BREAK SPACE}", " ") for drawn in ours), words


def a_chart(dice: random.Random) -> dict[str, Any]:
    size = dice.choice([1.0, 400.0, 10 ** dice.uniform(-3, 6)])
    high = dice.choice([1.0, 25.0, 10 ** dice.uniform(-3, 5)])

    def points(count: int) -> list[tuple[float, float]]:
        return [(dice.uniform(0, size), dice.choice([high, dice.uniform(0, high)])) for _ in range(count)]

    return {
        "kind": "lines",
        "title": dice.choice(LABELS),
        "x": {"label": dice.choice(LABELS), "unit": dice.choice(UNITS)},
        "y": {"label": dice.choice(LABELS), "unit": dice.choice(UNITS)},
        "lines": [
            {"label": dice.choice(LABELS), "points": points(dice.randrange(2, 50)), "dots": points(dice.randrange(3))}
            for _ in range(dice.randrange(1, 5))
        ],
        "places": [
            {"x": dice.uniform(0, size), "y": dice.choice([None, dice.uniform(0, high)]), "label": dice.choice(LABELS)}
            for _ in range(dice.randrange(4))
        ],
        "notes": dice.sample(LABELS, dice.randrange(3)),
    }


def test_charts_of_any_figures(tmp_path: Path) -> None:
    dice = random.Random(8)
    specs = [a_chart(dice) for _ in range(200)]
    answers = ask_inner(tmp_path, ["chartsDraw"], [("chartsDraw", spec) for spec in specs])
    same([chart(spec) for spec in specs], [answer["value"] for answer in answers])
