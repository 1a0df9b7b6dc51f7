"""The page of the words against the pages that it sends readers to."""

import re
from pathlib import Path

import pytest

from valvecalc.door import load
from valvecalc.errors import DataError
from valvecalc.formula import REGISTER
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen import words_page
from valvecalc.sitegen.marks import address, symbols

load()
CARDS = [card for card in REGISTER.values() if not card.part]
SYMBOL_ROW = re.compile(r'<tr role="row"><th [^>]*>(?:(?!</tr>).)*?<code id="(\w+)">.*?</tr>')


@pytest.fixture(scope="module")
def words(built_site: Path) -> str:
    return built_site.joinpath("words", "index.html").read_text("utf-8")


@pytest.fixture(scope="module")
def rows(words: str) -> dict[str, str]:
    """The row of each term as it is written."""
    return {match[1]: match[0] for match in SYMBOL_ROW.finditer(words)}


def test_every_term_that_a_calculation_names_leads_back_to_it(built_site: Path, rows: dict[str, str]) -> None:
    """The symbols of a calculation's own page, read from that page as it is written."""
    counted = 0
    for card in CARDS:
        place = address(card).removesuffix(".md")
        page = built_site.joinpath(place, "index.html").read_text("utf-8")
        table = page.partition('id="symbols-units-and-limits"')[2].partition("<h2")[0]
        for name in re.findall(r"<code>(\w+)</code></t", table):
            assert f'href="../{place}/"' in rows[name], f"{card.id}: {name}"
            counted += 1
    assert counted > 300


def test_a_row_says_what_the_vocabulary_says(rows: dict[str, str]) -> None:
    assert len(rows) > 250
    for name, row in rows.items():
        quantity = VOCABULARY[name]
        assert symbols(quantity.meaning)[1:] in row
        assert (f"<var>{symbols(quantity.symbol)}</var>" in row) == bool(quantity.symbol)
        assert quantity.metric in row and quantity.us in row
        assert "href=" in row


def test_every_jump_arrives(words: str, rows: dict[str, str]) -> None:
    places = re.findall(r' id="([\w-]+)"', words)
    assert len(places) == len(set(places))
    jumps = re.findall(r'href="#([\w-]+)"', words)
    assert set(jumps) <= set(places)
    assert {name for name in rows if VOCABULARY[name].symbol} <= set(jumps)


def test_a_symbol_stands_once_with_all_that_it_means(words: str, rows: dict[str, str]) -> None:
    index = words.partition('id="about-symbols"')[2]
    found = re.findall(r"<var>(.*?)</var></th><td[^>]*>(.*?)</td>", index)
    assert len(found) == len(dict(found)) > 150
    for told, meant in found:
        wanted = {name for name in rows if symbols(VOCABULARY[name].symbol) == told}
        assert set(re.findall(r'href="#(\w+)"', meant)) == wanted


def test_a_term_without_a_heading_stops_the_build(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(VOCABULARY, "newcomer", VOCABULARY["flow"])
    with pytest.raises(DataError, match="newcomer"):
        words_page.terms()
