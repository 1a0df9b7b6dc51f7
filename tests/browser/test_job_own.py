"""The shop's own checks on the phone: asked behind their cautions, judged, kept, saved for the desk."""

import tomllib
from pathlib import Path

from playwright.sync_api import Page, expect

from tests.browser.sheet import at_desk, begun, put, save, stage, told

OWN = "The shop's own checks"
SHOP = """
[[check]]
id = "nut"
title = "Torque of the coil nut"
unit = "N·m"
at_least = "4 N·m"
at_most = "6 N·m"
[[check]]
id = "gasket"
title = "Gasket <b>whole</b>"
good = true
caution = "Supply off, proved dead."
"""


def opened(page: Page, folder: Path, text: str) -> Path:
    path = folder / "shop.toml"
    path.write_text(text, "utf-8")
    page.set_input_files("input[type=file]", path)
    expect(page.locator(".bench__said")).to_contain_text("instruments are known now")
    return path


def test_own_checks_are_asked_judged_kept_and_read_by_the_desk(bench: Page, served: str, tmp_path: Path) -> None:
    begun(bench, served)
    expect(bench.locator(".bench__stages").get_by_role("button", name=OWN)).to_be_hidden()
    shop = opened(bench, tmp_path, SHOP)
    expect(bench.locator(".bench__said")).to_contain_text("Torque of the coil nut; Gasket <b>whole</b>")
    stage(bench, OWN)
    steps = bench.locator('[data-id="own"] .step')
    expect(steps).to_have_count(2)
    expect(steps.nth(0).locator(".caution")).to_contain_text("gloves and glasses on")
    expect(steps.nth(1).locator(".caution")).to_have_text("Supply off, proved dead.")
    assert bench.locator('[data-id="own"] b').count() == 0
    expect(steps.nth(0)).to_contain_text(
        "Wanted: at least 4 N·m (the shop's own); Wanted: at most 6 N·m (the shop's own)"
    )
    put(bench, "own nut", "check.reading", "7 ± 0.2")
    put(bench, "own gasket", "check.answer", "yes")
    expect(steps.nth(0).locator(".judged")).to_contain_text(
        "7 N·m ± 0.2 N·m; wanted at least 4 N·m and at most 6 N·m. reject"
    )
    expect(steps.nth(1).locator(".judged")).to_contain_text("Yes; wanted yes. accept")
    bench.get_by_role("button", name="As left", exact=True).tap()
    expect(steps.nth(0)).to_contain_text("As found: 7 N·m ± 0.2 N·m")
    put(bench, "own nut", "check.reading", "5")
    bench.reload()
    expect(steps.nth(0).locator(".judged")).to_contain_text("accept")
    path = save(bench, tmp_path)
    assert tomllib.loads(path.read_text("utf-8"))["check"] == [
        {"id": "nut", "reading": "7 N·m ± 0.2 N·m"}, {"id": "gasket", "answer": True},
        {"id": "nut", "when": "as-left", "reading": "5 N·m"},
    ]  # fmt: skip
    assert told(bench) == at_desk(path, shop) != []


def test_another_shop_file_takes_the_checks_of_the_first_away(bench: Page, served: str, tmp_path: Path) -> None:
    begun(bench, served)
    opened(bench, tmp_path, SHOP)
    stage(bench, OWN)
    put(bench, "own nut", "check.reading", "five")
    expect(bench.locator('[data-step="own nut"] .field__wrong')).to_be_visible()
    opened(bench, tmp_path, SHOP.partition('[[check]]\nid = "gasket')[0])
    expect(bench.locator('[data-id="own"] .step')).to_have_count(1)
    opened(bench, tmp_path, '[limits]\ninsulation-least = "20 MΩ"\n')
    expect(bench.locator(".bench__stages").get_by_role("button", name=OWN)).to_be_hidden()
    expect(bench.locator(".bench__stage.is-now")).to_have_count(1)
