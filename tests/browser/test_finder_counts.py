"""The shop's counted cases on the finder's page: the order of the command line with the same file, named, removable."""

import json
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from valvecalc import cli
from valvecalc.diagnosis import told
from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.history.counts import Counts, as_toml

MODEL = knowledge()
#: Cases that turn the order: many of what is rare.
CASES = {
    "coil-burns": {"over-voltage": 90},
    "wont-return": {"spring-broken": 80, "spool-silted": 3},
    "slow-or-late-shift": {"spool-silted": 0, "pilot-orifice-blocked": 60},
}


def counts_file(folder: Path, cases: dict[str, dict[str, int]]) -> Path:
    path = folder / "counts.toml"
    path.write_text(as_toml(Counts(cases, {})), "utf-8")
    return path


def at_desk(capsys: pytest.CaptureFixture[str], symptom: str, *more: str) -> dict[str, Any]:
    assert cli.main(["diagnose", symptom, "--json", *more]) == 0
    return dict(json.loads(capsys.readouterr().out))


def first(desk: dict[str, Any]) -> tuple[str, list[str]]:
    """The next check and the leading causes of the command line, as the page writes them."""
    return MODEL.checks[desk["next"]["id"]].title, [MODEL.causes[row["id"]].title for row in desk["belief"]]


def here(page: Page) -> tuple[str, list[str]]:
    heading = page.locator(".finder .step h2").inner_text()
    return heading.removeprefix("Next check: "), page.locator(".finder .leading li a").all_inner_texts()


def test_with_the_file_the_order_is_that_of_the_command_line(
    bench: Page, served: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = counts_file(tmp_path, CASES)
    turned = 0
    for place, (symptom, row) in enumerate(CASES.items()):
        plain, own = first(at_desk(capsys, symptom)), first(at_desk(capsys, symptom, "--counts", str(path)))
        turned += plain != own
        bench.goto(f"{served}fault/{symptom}/#ask")
        expect(bench.locator(".finder .step h2")).to_be_visible()
        if not place:
            assert bench.locator(".weighed").count() == 0
            title, leading = here(bench)
            assert (title, leading) == (plain[0], plain[1][: len(leading)])
            bench.locator(".finder input[type=file]").set_input_files(path)
        said = bench.locator(".weighed")
        expect(said).to_contain_text("counts.toml of 20")
        cases_told = " ".join(told.own_cases(sum(row.values()), MODEL.rules.scale["repair"]["file_cases"]).split())
        assert said.inner_text().startswith(cases_told)
        title, leading = here(bench)
        assert (title, leading) == (own[0], own[1][: len(leading)])
        assert leading
    assert turned >= 2
    bench.get_by_text("The shop's own cases", exact=True).tap()
    bench.get_by_role("button", name="Take it off this device").tap()
    expect(bench.locator(".weighed")).to_have_count(0)
    title, leading = here(bench)
    assert (title, leading) == (plain[0], plain[1][: len(leading)])


def test_a_complaint_without_an_own_case_says_so(bench: Page, served: str, tmp_path: Path) -> None:
    path = counts_file(tmp_path, {"coil-burns": {"over-voltage": 3}})
    bench.goto(f"{served}fault/coil-hums/#ask")
    bench.locator(".finder input[type=file]").set_input_files(path)
    expect(bench.locator(".weighed")).to_contain_text(
        " ".join(told.own_cases(0, MODEL.rules.scale["repair"]["file_cases"]).split())
    )


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('id = "7"', "it names no complaint of the fault finder"),
        ('[coil-burns]\n"<img src=x>" = 3', "<img src=x> is no cause that the fault finder knows"),
        ("[coil-burns]\nover-voltage = -1", "over-voltage is no number of cases"),
        ("[coil-burns]\nover-voltage = true", "over-voltage is no number of cases"),
        ("[coil-burns]\nover-voltage = nan", "over-voltage is no number of cases"),
        ("coil-burns = 4", "coil-burns is no table of cause = cases"),
        ('[coil-burns]\n"__proto__" = 3', "__proto__ is no cause that the fault finder knows"),
        ("[coil-burns", "it is no TOML that can be read"),
    ],
)  # fmt: skip
def test_a_file_that_is_none_is_told_as_text_and_not_kept(
    bench: Page, served: str, tmp_path: Path, text: str, said: str
) -> None:
    path = tmp_path / "counts.toml"
    path.write_text(text, "utf-8")
    bench.goto(f"{served}fault/coil-burns/#ask")
    bench.locator(".finder input[type=file]").set_input_files(path)
    expect(bench.locator(".finder details p[role=status]")).to_contain_text(said)
    assert bench.evaluate("shop.kept('counts')") is None
    assert bench.locator(".finder img").count() == 0
