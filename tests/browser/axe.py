"""Runs axe-core over pages of a served site: every rule of WCAG 2.2 A and AA and the best practices.

    python -m tests.browser.axe ADDRESS < pages.json     prints what was found as JSON lines, one for each page

`pages.json` is a list of [path, hash]; a page with a hash is woken by it, so that a calculator shows an answer. A page
is loaded once; its width and scheme are changed in place, with every closed part opened.
"""

import json
import sys
from importlib.resources import files
from shutil import which
from typing import Any

from playwright.sync_api import Page, sync_playwright

from tests.browser.conftest import FLAGS

TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
WIDTHS = (360, 1280)
#: A scheme sets colours and nothing else: the dark one is asked only for the rules that read colours.
COLOURS = ["color-contrast", "link-in-text-block"]
SCHEMES = {"default": {"type": "tag", "values": TAGS}, "slate": {"type": "rule", "values": COLOURS}}
AXE = files("axe_playwright_python").joinpath("axe.min.js").read_text("utf-8")
#: Colours are judged at rest, not on their way to another scheme; what is laid out late is looked at all the same.
READY = """() => {
  const still = new CSSStyleSheet();
  still.replaceSync(`*, *::before, *::after { transition: none !important; animation: none !important }
    .stack { content-visibility: visible !important }`);
  document.adoptedStyleSheets.push(still);
  document.querySelectorAll("details:not(.menu)").forEach((part) => { part.open = true; });
}"""
#: Open, the menu lies over what is below it: looked at on the start page, where it covers no target by half.
MENU = """() => { document.querySelector("details.menu").open = true; }"""
RUN = """async ([scheme, rules]) => {
  document.documentElement.dataset.mdColorScheme = scheme;
  const found = await axe.run(document, { runOnly: rules, resultTypes: ["violations", "incomplete"] });
  const told = (rows) => rows.map((row) => ({ rule: row.id, nodes: row.nodes.map((node) => ({
    place: node.target.join(" "), html: node.html.slice(0, 200),
    why: [...node.any, ...node.all, ...node.none].map((check) => check.message).join("; ") })) }));
  return { violations: told(found.violations), incomplete: told(found.incomplete), passed: found.passes.length };
}"""


def look(page: Page, address: str, awake: bool) -> dict[str, Any]:
    """What axe finds on one page, by view."""
    page.set_viewport_size({"width": WIDTHS[0], "height": 800})
    page.goto(address)
    if awake:
        page.wait_for_selector(".calculator[data-awake]")
    page.evaluate(READY)
    if page.locator(".front").count():
        page.evaluate(MENU)
    page.evaluate(AXE)
    found = {}
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 800})
        for scheme, rules in SCHEMES.items():
            found[f"{width} {scheme}"] = page.evaluate(RUN, [scheme, rules])
    return found


def main() -> None:
    start = sys.argv[1]
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=which("chromium"), args=FLAGS)
        page = browser.new_context(service_workers="block", reduced_motion="reduce").new_page()
        for path, state in json.load(sys.stdin):
            if state:
                page.goto("about:blank")  # else only the hash would change
            print(
                json.dumps({"page": path + state, "views": look(page, start + path + state, bool(state))}), flush=True
            )
        browser.close()


if __name__ == "__main__":
    main()
