"""A report's link opened in the browser: the page shows the entries and the results that the report has."""

from math import isclose
from pathlib import Path
from re import findall
from typing import Any

import pytest
from playwright.sync_api import Browser

from tests.browser.test_calculators import TURN
from tests.report.demo_reports import NAMES, SITE, shelves, single, worked
from valvecalc.quantities import VOCABULARY
from valvecalc.report import links
from valvecalc.units import from_si, read, to_si


@pytest.fixture(scope="module")
def jobs(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return shelves(tmp_path_factory.mktemp("demo"))


def cited(text: str, what: str) -> dict[str, str]:
    """Lines of a citation by the name in them."""
    lines = [line.removeprefix(f"{what}: ") for line in text.splitlines() if line.startswith(f"{what}: ")]
    return {name: told for name, _, told in (line.partition(" = ") for line in lines) if told}


def agrees(seen: str, row: dict[str, Any]) -> bool:
    """Whether the figure on the page is that of the report, to the last figure that the page shows."""
    if isinstance(row["value"], str):
        return seen.startswith(row["value"])
    number, unit = findall(r"−?[\d\N{NO-BREAK SPACE} ]*\d(?:\.\d+)?", seen)[0], seen.partition(",")[0].split()[-1]
    shown = float(number.replace("−", "-").replace(" ", "").replace("\N{NO-BREAK SPACE}", ""))
    dimension = VOCABULARY[row["name"]].dimension
    value = row["value"]
    if unit != row["unit"] and row["unit"]:
        value = from_si(to_si(value, row["unit"], dimension), unit, dimension)
    decimals = len(number.partition(".")[2])
    return abs(shown - value) <= 0.5001 * 10.0**-decimals


def same_entry(seen: str, name: str, si: Any) -> bool:
    """Whether an entry on the page is that of the report; a default is told there with six figures."""
    if isinstance(si, str):
        return seen == si
    return isclose(read(seen, name, VOCABULARY[name].dimension).si, si, rel_tol=1e-5)


@pytest.mark.parametrize("name", NAMES)
def test_the_link_of_each_calculation_opens_it_with_its_entries(
    name: str, jobs: Path, browser: Browser, served: str
) -> None:
    context = browser.new_context(viewport={"width": 360, "height": 640}, service_workers="block")
    page = context.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    compared = 0
    for row in worked(jobs, name)["answers"]:
        address, _, fragment = links.url(row, SITE).removeprefix(f"{SITE}/").partition("#")
        page.goto(served + address)
        page.mouse.move(10, 10)
        page.keyboard.press("Shift")
        page.wait_for_selector(".calculator[data-awake]", state="attached")
        seen = page.evaluate(TURN, fragment)
        results, entries = cited(seen["cite"], "Result"), cited(seen["cite"], "Entry")
        for key, was in single(row).items():
            if was["value"] is not None:
                told = results[key.replace("_", " ")]
                assert agrees(told, was), (row["id"], key, told, was["value"], was["unit"])
                compared += 1
        for key, entry in row["inputs"].items():
            if "rows" not in entry:
                told = entries[key.replace("_", " ")]
                assert same_entry(told.rpartition(" (")[0], key, entry["si"]), (row["id"], key, told, entry)
    assert compared > 20
    assert errors == []
    context.close()
