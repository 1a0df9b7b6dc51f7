"""The bench sheet filled in by a thumb: what the tests of it do again and again."""

from pathlib import Path

from playwright.sync_api import Page, expect

from valvecalc.job.compute import compute
from valvecalc.job.judged import side_by_side, verdict_rows
from valvecalc.job.read import read_job

SHEET = "job/sheet/"


def begun(page: Page, served: str) -> None:
    page.goto(served + SHEET)
    page.wait_for_selector(".bench[data-awake]", state="attached")
    page.get_by_role("button", name="Begin a job").tap()
    expect(page.locator(".bench__stage.is-now h2")).to_have_text("The job")


def stage(page: Page, name: str) -> None:
    page.locator(".bench__stages").get_by_role("button", name=name, exact=True).tap()
    expect(page.locator(".bench__stage.is-now h2")).to_have_text(name)


def field(page: Page, step: str, path: str, row: int = 0, state: str = "") -> str:
    """The control of a field, as a selector that leads to it."""
    found = page.evaluate(
        """([step, path, row, state]) => {
          const boxes = [...document.querySelectorAll(`[data-step="${step}"] .field`)];
          const box = boxes.find(({ spec, place }) =>
            spec.field === path && place.row === row && (spec.state || "") === state);
          const control = box.querySelector("input, select:not(.unit)");
          return `#${control.id}`;
        }""",
        [step, path, row, state],
    )
    return str(found)


def put(page: Page, step: str, path: str, text: str, row: int = 0, state: str = "") -> None:
    control = page.locator(field(page, step, path, row, state))
    control.scroll_into_view_if_needed()
    if control.evaluate("control => control.tagName") == "SELECT":
        control.select_option(text)
    else:
        control.fill(text)


def cold_coil(page: Page) -> None:
    """A coil of 24 V and 30 W read at 26 Ω and 22 °C: a third too much."""
    stage(page, "Before anything else")
    put(page, "plates", "coil.nominal_voltage", "24")
    put(page, "plates", "coil.nominal_power", "30")
    stage(page, "Coils, cold, both pins off")
    put(page, "ohms", "coil.coil_temperature", "22")
    put(page, "ohms", "coil.resistance", "26")


def save(page: Page, folder: Path) -> Path:
    stage(page, "What is judged")
    with page.expect_download() as saved:
        page.locator(".bench__stage.is-now").get_by_role("button", name="Save the job file").tap()
    path = folder / "job.toml"
    saved.value.save_as(path)
    return path


def told(page: Page) -> list[tuple[str, str]]:
    """Subject and verdict of every line under "What is judged"."""
    rows = page.locator(".bench__judged .judged > p:first-child:has(.verdict)").all()
    lines = [(row.inner_text(), row.locator(".verdict").inner_text().replace(" ", "-")) for row in rows]
    return [(line.rpartition(": ")[0].lower(), verdict) for line, verdict in lines]


def at_desk(path: Path, shop: Path | None = None) -> list[tuple[str, str]]:
    job = read_job(path, shop)
    rows = verdict_rows(job, compute(job))
    return [(row["subject"].lower(), row["verdict"]) for row in rows]


def left_told(page: Page) -> list[tuple[str, str]]:
    """Subject and verdict of every reading that was judged again, as "What is judged" shows them."""
    rows = page.locator(".bench__judged .judged:has(.judged__left)").all()
    return [
        (
            row.locator("p").first.inner_text().rpartition(": ")[0].lower(),
            row.locator(".judged__left .verdict").inner_text().replace(" ", "-"),
        )
        for row in rows
    ]


def left_at_desk(path: Path, shop: Path | None = None) -> list[tuple[str, str]]:
    job = read_job(path, shop)
    return [(row["subject"].lower(), row["verdict"]) for row in side_by_side(job, compute(job))]
