"""A job file that means harm: whatever stands in it is text on the page, in every stage, as found and as left."""

from pathlib import Path

from playwright.sync_api import Page, expect

from tests.browser.sheet import SHEET, save, stage
from tests.live.job import written
from valvecalc.job.fields import fields, many, tables

EVIL = '<img src=x onerror="document.title=1"><script>document.title=2</script>{{}}${1}'


def hostile() -> dict[str, object]:
    """Every field of a job file with markup in the place of its value, read twice where it may be."""

    def row(table: str) -> dict[str, object]:
        told: dict[str, object] = {key: EVIL for key in fields("job", table) if key != "when"}
        first = next(iter(told))
        return told | {first: {"value": EVIL, "earlier": [EVIL], "why": EVIL, "by": EVIL}}

    raw: dict[str, object] = {key: EVIL for key in fields("job", "job") if key != "schema"}
    for name in tables("job"):
        if name in ("job", "pickup", "push"):
            continue
        own = row(name)
        if name == "coil":
            own |= {"name": EVIL, "kind": "dc", "pickup": [row("pickup") | {"state": "blocked"}], "push": [row("push")]}
        if name in ("leakage", "drift", "loss"):
            own |= {"path": EVIL}
        twice = [own, own | {"when": "as-left"}] if "when" in fields("job", name) else [own]
        raw[name] = twice if many("job", name) or len(twice) > 1 else own
    return raw


def test_every_field_of_a_file_is_text(bench: Page, served: str, tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(written(hostile()), "utf-8")
    bench.goto(served + SHEET)
    bench.wait_for_selector(".bench[data-awake]", state="attached")
    title = bench.title()
    bench.set_input_files("input[type=file]", path)
    expect(bench.locator(".bench__name strong")).to_contain_text("<img src=x")
    for when in ("As found", "As left"):
        bench.get_by_role("button", name=when, exact=True).tap()
        for name in bench.locator(".bench__stages button:visible").all_inner_texts():
            stage(bench, name)
            before = bench.locator(".bench").get_attribute("data-judged")
            bench.evaluate("shop.bench.changed()")
            expect(bench.locator(".bench")).not_to_have_attribute("data-judged", before or "")
            assert bench.locator(".bench :is(img, script)").count() == 0, name
            assert bench.evaluate("document.documentElement.scrollWidth") <= 360, (when, name)
    assert bench.title() == title
    assert bench.locator(".bench__judged").inner_text()
    text = save(bench, tmp_path).read_text("utf-8")
    assert text.startswith("# Left out of the file, for it cannot be read: ")
