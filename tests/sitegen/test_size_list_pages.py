"""The pages of the shop's own list against the columns, the words and the judging that they are made of."""

import csv
import re
from html import unescape
from typing import Any

import pytest

from valvecalc.demo import SIZE
from valvecalc.door import load
from valvecalc.selection.cells import UNKNOWN, columns, is_unknown, read_cell
from valvecalc.selection.function import read_position, words
from valvecalc.selection.stock import read_csv
from valvecalc.sitegen.size_list_pages import DEMO_LIST, TEMPLATE, list_pages, written
from valvecalc.sitegen.size_worked import DUTIES, about, card, demo, reasons

load()
PAGES = list_pages()
FORMAT = PAGES["size/list-format.md"]
FITS = PAGES["size/fits.md"]
ROWS = {
    found[1]: found[0]
    for found in re.finditer(
        r'<tr role="row"><th scope="row" role="rowheader"><code id="column-(\w+)">.*?</tr>', FORMAT
    )
}


def seen(html: str) -> str:
    """What a reader sees, words parted by one blank."""
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", html)).split())


def plain(text: str) -> str:
    return " ".join(text.split())


def test_every_column_stands_in_the_guide_in_the_order_of_the_file() -> None:
    assert list(ROWS) == list(columns())


@pytest.mark.parametrize("field", columns().values(), ids=lambda field: field.key)
def test_a_column_is_told_with_an_example_that_the_reader_takes(field: Any) -> None:
    row = ROWS[field.key]
    assert plain(field.meaning[1:]) in seen(row)
    how, example = (unescape(found) for found in re.findall(r"<td[^>]*>(.*?)</td>", row)[1:])
    assert how == written(field)
    if field.kind == "choice":
        assert all(word in how for word in field.words)
    if field.kind == "quantity":
        assert field.words[1] in how
    cell = seen(example)
    assert not is_unknown(cell)
    read_cell(field, cell)  # refuses what cannot be read


def test_grammar_is_told_as_it_is_read() -> None:
    table = FORMAT.partition("{ #positions }")[2].partition("</table>")[0]
    rows = re.findall(r"<code>(.*?)</code></th><td[^>]*>(.*?)</td>", table)
    assert len(rows) > 5
    for text, told in rows:
        assert unescape(told).lower() == words(read_position(unescape(text))).lower()
    for word in filter(None, UNKNOWN):
        assert f"<code>{word}</code>" in unescape(FORMAT)
    for mark in ("#positions", "#points", "pressure_p [bar]", "restricted", "[[valve]]"):
        assert mark in unescape(FORMAT)


def test_the_empty_list_takes_bare_figures_in_the_units_of_its_headers() -> None:
    assert PAGES[TEMPLATE].startswith("\ufeff")
    heads = next(csv.reader([PAGES[TEMPLATE].lstrip("\ufeff")]))
    assert [head.partition(" [")[0] for head in heads] == list(columns())
    assert read_csv(PAGES[TEMPLATE].encode(), "stock-template.csv") == ([], [])
    row = ["x" if head == "name" else "5" if head.endswith("]") else "" for head in heads]
    (valve,), problems = read_csv((PAGES[TEMPLATE] + ",".join(row)).encode(), "stock-template.csv")
    assert problems == []
    assert (valve.pressure_p, valve.coil_voltage, valve.voltage_tolerance) == (5e5, 5.0, 0.05)


def test_the_demo_list_is_the_one_of_the_demo() -> None:
    assert read_csv(PAGES[DEMO_LIST].encode(), "x") == read_csv((SIZE / "stock.csv").read_bytes(), "x")


def test_cautions_stand_before_everything_that_is_judged() -> None:
    for text in demo("baler", 0)["cautions"]:
        assert plain(text) in seen(FITS)
    before, _, after = FITS.partition('<div class="fits"')
    assert before.count('class="caution"') == len(demo("baler", 0)["cautions"])
    assert after


@pytest.mark.parametrize("name", DUTIES)
def test_the_worked_example_says_what_the_judging_says(name: str) -> None:
    told = demo(name)
    text = seen(FITS)
    assert plain(told["headline"]) in text
    assert f'data-demo="{name}"' in FITS
    for row in told["candidates"][:3]:
        loud, why = reasons(row)
        assert loud or why
        for sentence in (*loud, *why, about(row)):
            assert plain(sentence) in text


def test_what_would_drop_a_load_is_said_first_and_loud() -> None:
    loud = 0
    for name in DUTIES:
        for row in demo(name)["candidates"]:
            refused = [rule["sentence"] for rule in row["rules"] if rule["sentence"].startswith("REFUSED")]
            html = unescape(card(row, "h4"))
            for text in refused:
                loud += 1
                assert row["verdict"] == "reject"
                assert html.count(text) == 1
                assert html.index(f'<div class="caution"><p>{text}') < html.index('class="valve__about"')
    assert loud >= 1


def test_a_valve_that_fits_names_its_smallest_margins() -> None:
    row = next(row for row in demo("baler")["candidates"] if row["verdict"] == "accept")
    loud, why = reasons(row)
    margins = {rule["sentence"]: rule["margin"] for rule in row["rules"]}
    assert not loud
    assert [margins[text] for text in why] == sorted(margins[text] for text in why)
    assert margins[why[0]] == row["margin"]
