"""A reading kept for the job: the copied lines are those of Python, and a job file reads them."""

import tomllib

import pytest
from playwright.sync_api import Browser, expect

import valvecalc
from valvecalc.door import load
from valvecalc.facts import load_toml
from valvecalc.formula import REGISTER

load()
KEPT = sorted(load_toml("words/judge.toml")["keep"])


@pytest.mark.parametrize("card_id", KEPT)
def test_what_is_copied_is_what_python_keeps(card_id: str, browser: Browser, served: str) -> None:
    row = valvecalc.calc(card_id, **REGISTER[card_id].example).to_json()
    context = browser.new_context(
        viewport={"width": 360, "height": 640},
        has_touch=True,
        service_workers="block",
        permissions=["clipboard-read", "clipboard-write"],
    )
    page = context.new_page()
    page.goto(f"{served}judge/{card_id}/#{row['link'].partition('#')[2]}")
    page.wait_for_selector(".calculator[data-state=yours]")
    expect(page.locator(".keep__text")).to_have_text(row["keep"])
    page.locator(".calculator [data-keep]").tap()
    expect(page.locator(".keep__said")).to_have_text("Copied.")
    copied = page.evaluate("navigator.clipboard.readText()")
    context.close()
    assert copied == row["keep"]
    assert tomllib.loads(copied)


def test_a_copy_is_of_the_entry_just_typed(browser: Browser, served: str) -> None:
    typed = REGISTER["coil-ohms"].example | {"resistance": "70 Ω"}
    context = browser.new_context(service_workers="block", permissions=["clipboard-read", "clipboard-write"])
    page = context.new_page()
    row = valvecalc.calc("coil-ohms", **REGISTER["coil-ohms"].example).to_json()
    page.goto(f"{served}judge/coil-ohms/#{row['link'].partition('#')[2]}")
    page.wait_for_selector(".calculator[data-state=yours]:not(.is-behind)")
    # Within one task of the browser, so that no pause lets the text follow first.
    page.evaluate("""() => {
      const entry = document.querySelector(".calculator input[name=resistance]");
      entry.value = "70";
      entry.dispatchEvent(new Event("input", { bubbles: true }));
      document.querySelector(".calculator [data-keep]").click();
    }""")
    expect(page.locator(".keep__said")).to_have_text("Copied.")
    copied = page.evaluate("navigator.clipboard.readText()")
    context.close()
    assert copied == valvecalc.calc("coil-ohms", **typed).to_json()["keep"] != row["keep"]
