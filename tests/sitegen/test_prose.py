"""Calculations in hand-written pages are worked while the site is built; guide pages lead to every calculation."""

import re
from pathlib import Path

import pytest

from valvecalc.door import load
from valvecalc.errors import DataError
from valvecalc.formula import REGISTER
from valvecalc.sitegen.prose import guides, worked

FOLDER = Path(__file__).parent.parent.parent / "site" / "pages"
BLOCK = """# A page

```calc
id = "coil-power"
coil_voltage = "24 V"
resistance = "19.2 Ω"
expect = "{expect}"
```

and more.
"""


def test_a_block_becomes_a_worked_case_with_a_way_to_the_calculator() -> None:
    """24² / 19.2 = 30 (by hand)."""
    page = worked(BLOCK.format(expect="30.00 W"), "learn/a.md")
    assert "```" not in page and page.startswith("# A page") and page.endswith("and more.\n")
    assert "<strong>30.00 W</strong>" in page
    assert 'href="page:calc/coil-power.md#e=1&amp;coil_voltage=24V&amp;resistance=19.2%CE%A9"' in page


def test_a_page_without_blocks_stays_as_it_is() -> None:
    text = "# A page\n\n```toml\nid = 1\n```\n"
    assert worked(text, "a.md") == text


@pytest.mark.parametrize(
    ("text", "told"),
    (
        (BLOCK.format(expect="31 W"), "learn/a.md, line 3: coil-power gives 30.00 W, the page expects 31 W"),
        (BLOCK.format(expect="x").replace("19.2 Ω", "19.2 kg"), "learn/a.md, line 3: resistance: got '19.2 kg'"),
        (BLOCK.format(expect="x").replace("coil-power", "coil-powr"), "learn/a.md, line 3: id: got coil-powr"),
        (BLOCK.format(expect="x").replace("expect", "hopes"), "learn/a.md, line 3: a calc block needs expect"),
        (BLOCK.format(expect="x").replace("19.2 Ω", '19.2" Ω'), "learn/a.md, line 3: calc block: the file: got"),
    ),
)
def test_a_wrong_block_stops_the_build_with_file_and_line(text: str, told: str) -> None:
    with pytest.raises(DataError) as caught:
        worked(text, "learn/a.md")
    assert str(caught.value).startswith(told)


def test_every_calculation_is_explained_on_a_page_for_people() -> None:
    load()
    explained = guides(FOLDER)
    assert set(explained) <= set(REGISTER)
    assert sorted(card.id for card in REGISTER.values() if not card.part and card.id not in explained) == []


def test_the_pages_for_people_stand_in_the_index_of_learning() -> None:
    index = (FOLDER / "learn" / "index.md").read_text("utf-8")
    names = [path.name for path in (FOLDER / "learn").glob("*.md") if path.name != "index.md"]
    assert len(names) >= 10
    assert [name for name in names if f"({name})" not in index] == []


def test_a_caution_stands_before_what_is_worked_in_a_page() -> None:
    """Where the card of a block carries a caution, the page shows one above it."""
    late = []
    for path in sorted(FOLDER.rglob("*.md")):
        text = path.read_text("utf-8")
        for found in re.finditer(r'^```calc\nid = "([\w-]+)"', text, re.MULTILINE):
            if REGISTER[found[1]].cautions and 'class="caution"' not in text[: found.start()]:
                late.append((path.name, found[1]))
    assert late == []
