"""axe-core over the pages of the built site at two widths in both schemes; calculators also with an answer on them.

Some of each kind in an ordinary run; VALVECALC_AXE=all looks at every page: an hour that belongs to every change of
the frame, the styles or the generated markup.

What axe leaves open ("incomplete") is counted by rule and printed with `pytest -s`: the texts in front of which
something lies are all measured by the survey (test_every_page.py), at 7:1.
"""

import json
import os
import subprocess
import sys
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

import valvecalc
from tests.browser.axe import SCHEMES, WIDTHS
from tests.browser.conftest import some
from valvecalc.door import load
from valvecalc.formula import REGISTER

ROOT = Path(__file__).parents[2]
PROCESSES = 2
EVERY = os.environ.get("VALVECALC_AXE") == "all"
#: A page takes some seconds a view: of what one function makes in dozens, two or so stand for all.
SHARE = 0.4
#: A whole report of dozens of pages takes minutes a view: it is looked at with VALVECALC_AXE=all.
LONG = "job/demo-report.html"
#: What axe is known to leave open, and why each was looked at by a person.
LEFT_OPEN = {
    "color-contrast": "text over a drawing or under the strip, single letters: the survey measures them",
}


def awake() -> list[tuple[str, str]]:
    """Calculators with their example in the address: one in sixteen (they share one form)."""
    load()
    cards = [card for card in REGISTER.values() if not card.part and not card.desk_only][:: 1 if EVERY else 16]
    found = []
    for card in cards:
        path, _, state = str(valvecalc.calc(card.id, **card.example).to_json()["link"]).lstrip("/").partition("#")
        found.append((path, f"#{state}"))
    return found


@pytest.fixture(scope="module")
def found(built_site: Path, served: str) -> dict[str, dict[str, Any]]:
    """What axe finds, by page and view; two browsers share the pages."""
    files = sorted(path.relative_to(built_site).as_posix() for path in built_site.rglob("*.html"))
    names = [name.removesuffix("index.html") for name in files]
    looked = names if EVERY else [name for name in some(names, SHARE) if name != LONG]
    pages = [(name, "") for name in looked] + awake()

    def share(mine: list[tuple[str, str]]) -> list[dict[str, Any]]:
        command = [sys.executable, "-m", "tests.browser.axe", served]
        done = subprocess.run(command, cwd=ROOT, input=json.dumps(mine), capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stderr
        return [json.loads(line) for line in done.stdout.splitlines()]

    with ThreadPoolExecutor(PROCESSES) as pool:
        shares = pool.map(share, (pages[first::PROCESSES] for first in range(PROCESSES)))
        rows = {row["page"]: row["views"] for rows in shares for row in rows}
    assert len(rows) == len(pages) > (300 if EVERY else 60)
    return rows


def test_axe_finds_nothing_wrong(found: dict[str, dict[str, Any]]) -> None:
    wrong: dict[str, list[str]] = {}
    for page, views in found.items():
        assert set(views) == {f"{width} {scheme}" for width in WIDTHS for scheme in SCHEMES}
        for view, row in views.items():
            for rule in row["violations"]:
                wrong.setdefault(rule["rule"], []).extend(
                    f"{page} {view}: {node['place']} {node['html']}" for node in rule["nodes"]
                )
    told = {rule: [f"{len(places)} places", *places[:6]] for rule, places in wrong.items()}
    assert wrong == {}, json.dumps(told, indent=1, ensure_ascii=False)


def test_axe_looked_at_something(found: dict[str, dict[str, Any]]) -> None:
    """A run that sees an empty page also finds nothing."""
    assert min(views[f"{width} default"]["passed"] for views in found.values() for width in WIDTHS) >= 15
    assert min(views[f"{width} slate"]["passed"] for views in found.values() for width in WIDTHS) >= 1


def test_what_axe_leaves_open_is_known(found: dict[str, dict[str, Any]]) -> None:
    rules: Counter[str] = Counter()
    why: Counter[tuple[str, str]] = Counter()
    for views in found.values():
        for row in views.values():
            for rule in row["incomplete"]:
                rules[rule["rule"]] += len(rule["nodes"])
                why.update((rule["rule"], node["why"]) for node in rule["nodes"])
    print("\nleft open by axe:", dict(rules))
    for (rule, reason), count in why.most_common(12):
        print(f"  {count:6d} {rule}: {reason[:150]}")
    assert set(rules) <= set(LEFT_OPEN)
