"""The pages of the tables against the CSV files that they show."""

import csv
import json
import re
from collections.abc import Callable
from html.parser import HTMLParser
from math import pi, sqrt
from pathlib import Path
from typing import Any

import pytest

from valvecalc import tables as module
from valvecalc.catalogue import items, show
from valvecalc.cli import main
from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.door import load
from valvecalc.errors import DataError
from valvecalc.facts import caution, load_table, load_toml, source, table_text
from valvecalc.finding import Finder, rules
from valvecalc.formula import REGISTER
from valvecalc.sitegen import card_page, marks
from valvecalc.sitegen.table_pages import address, download, plain, table_pages, used_by
from valvecalc.tables import Table, entry_of, figure, tables
from valvecalc.units import to_si

DATA = Path(__file__).parent.parent.parent / "valvecalc" / "data"
load()
PAGES = table_pages()
CHECKS = knowledge().checks
TABLES = list(tables().values())
EVERY = pytest.mark.parametrize("table", TABLES, ids=lambda table: table.id)


class Cells(HTMLParser):
    """The one table of a page, as rows of (text, US text), and all text."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.rows: list[list[list[str]]] = []
        self.text = ""
        self.inside = False
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag == "tr":
            self.rows.append([])
        if tag in ("th", "td"):
            self.inside = True
            self.rows[-1].append(["", ""])
        if self.inside and (us := dict(attrs).get("data-us")):
            self.rows[-1][-1][1] += us

    def handle_endtag(self, tag: str) -> None:
        self.inside = self.inside and tag not in ("th", "td")

    def handle_data(self, data: str) -> None:
        self.text += data
        if self.inside:
            self.rows[-1][-1][0] += data


def test_every_csv_has_a_page_in_the_list() -> None:
    files = {path.name for path in DATA.glob("*.csv")}
    assert files == {table.file for table in TABLES}
    for table in TABLES:
        assert f'href="page:{address(table)}"' in PAGES["table/index.md"], table.id


@EVERY
def test_every_row_and_cell_is_there(table: Table) -> None:
    """As printed in the unit system of the print; in the other one the same quantity to four figures."""
    top, *rows = Cells(PAGES[address(table)]).rows
    _, heads, cells = table_text(table.file)
    assert len(top) == len(heads) and len(rows) == len(cells)
    for shown, printed in zip(rows, cells, strict=True):
        assert len(shown) == len(printed)
        for (metric, us), cell, column in zip(shown, printed, table.columns, strict=True):
            own = us if column.unit == column.us and us else metric
            told = CHECKS[cell].title if cell in CHECKS else plain(cell)
            assert own.removesuffix(f" {column.unit}") == (told or "–")
            other = metric if own is us else us
            if not (cell and other and column.metric != column.us):
                continue
            unit = column.us if other is us else column.metric
            number = float(other.removesuffix(f" {unit}"))
            same = to_si(float(cell), column.unit, column.dimension)
            assert to_si(number, unit, column.dimension) == pytest.approx(same, rel=6e-4)


@EVERY
def test_the_heads_have_words_and_units(table: Table) -> None:
    top = Cells(PAGES[address(table)]).rows[0]
    cards = '<div class="cards"' in PAGES[address(table)]
    for (words, _), column, head in zip(top, table.columns, table_text(table.file)[1], strict=True):
        assert column.words.strip() and words.lower().startswith(column.words.lower())
        name, _, unit = head.partition(" [")
        assert (column.name, column.unit) == (name, unit.rstrip("]"))
        assert cards or not column.unit or words.endswith(f"[{column.metric}]")
        assert "_" not in words, "a name of the program is no word"


@EVERY
def test_every_figure_can_be_read_in_its_unit(table: Table) -> None:
    assert len(load_table(table.file)) == len(table.rows)


@EVERY
def test_source_extent_check_and_caution_are_told(table: Table) -> None:
    page = PAGES[address(table)]
    text = " ".join(Cells(page).text.split())
    for told in (table.about, table.extent, table.checked, table.origin.rstrip("."), table.notes):
        assert " ".join(told.split()) in text
    for key in table.sources:
        assert source(key)["text"] in text and marks.SEEN[source(key)["seen"]].capitalize() in text
    assert ("Part of it." if table.partial else "Whole.") in text
    before = page.index("<table")
    assert page.index("<strong>From:</strong>") < before
    for key in table.cautions:
        assert page.index(marks.esc(caution(key))) < page.index(marks.esc(table.about))


@EVERY
def test_no_word_of_a_source_key_is_left(table: Table) -> None:
    """A key is for the file; a reader gets the name."""
    keys = {key for key in load_toml("sources.toml") if "-" in key and re.search(r"\d", key)}
    assert not keys & set(re.findall(r"[a-z0-9][a-z0-9-]+", f"{table.notes} {table.origin}"))


@EVERY
def test_the_file_to_take_along_is_the_data(table: Table) -> None:
    text = PAGES[download(table)]
    comments, heads, cells = table_text(table.file)
    lines = text.splitlines()
    assert tuple(line.removeprefix("#").strip() for line in lines if line.startswith("#")) == comments
    read = list(csv.reader(line for line in lines if not line.startswith("#")))
    assert tuple(map(tuple, read)) == (heads, *cells)
    assert f'href="page:{download(table)}" download' in PAGES[address(table)]
    if '"' not in text:
        assert text == (DATA / table.file).read_text("utf-8")


@EVERY
def test_no_cell_is_a_formula_to_a_spreadsheet(table: Table) -> None:
    for cell in (cell for row in (table_text(table.file)[1], *table.rows) for cell in row):
        assert not re.match(r"[=+@\t\r]|-(?!\d+(\.\d+)?$)", cell), cell


@EVERY
def test_a_table_and_the_calculations_that_use_it_lead_to_each_other(table: Table) -> None:
    assert set(table.used) <= REGISTER.keys()
    users = [card for card in REGISTER.values() if not card.part and table in used_by(card)]
    page = PAGES[address(table)]
    for card in users:
        assert marks.card_link(card) in page
        assert f'href="page:{address(table)}"' in "".join(card_page._tables(card))
    assert users or "No calculation asks for it" in page


def test_the_oil_grades_know_their_sheets() -> None:
    users = {table.id for table in used_by(REGISTER["index-of-oil"])}
    assert users == {"viscosity-index"}


@EVERY
def test_the_search_finds_a_table_by_its_title_and_by_what_it_is_called(table: Table) -> None:
    finder = Finder([entry_of(one) for one in TABLES], rules())
    words = [table.title, *load_toml(module.WORDS)[table.id.replace("-", "_")].get("find", ())]
    for text in words:
        found = finder.ask(text)
        assert table in [TABLES[place] for place in (*found.near, *found.far)][:5], text


def test_a_ring_is_found_by_its_number() -> None:
    finder = Finder([entry_of(one) for one in TABLES], rules())
    for text in ("ring 214", "-214", "o-ring 112"):
        assert TABLES[finder.ask(text).near[0]].id == "oring-sizes"


def test_the_command_line_lists_and_shows_a_table(capsys: pytest.CaptureFixture[str]) -> None:
    ids = [row["id"] for row in items()]
    assert len(ids) == len(set(ids)), "tables and calculations share one name space"
    assert set(ids) >= set(tables())
    for name in (row["id"] for row in items() if row["kind"] == "table"):
        assert show(name)[0]["kind"] == "table" and show(name)[0]["id"] == name
    assert "oil-grades" in [row["id"] for row in items("oil grade table")[:3]]
    assert main(["show", "thermal-classes"]) == 0
    told = capsys.readouterr().out
    for cell in ("F", "155", "115", "IEC 60085", "Insulation classes of coils"):
        assert cell in told
    assert main(["show", "thermal-classes", "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["rows"][4] == {"class": "F", "limit": "155", "rise": "115"}
    assert main(["show", "cable", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["rows"][0]["class_2_plain"] is None


def test_everything_wrong_is_told_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    words = {name: dict(row) for name, row in load_toml(module.WORDS).items()}
    del words["cable"], words["oil_grades"]["title"]
    words["oil_grades"]["columns"] = {"lowest": "lowest", "widest": "widest"}
    words["thermal_classes"] |= {"subject": "weather", "partial": "no", "cautions": ["fire"], "colour": "red"}
    words["ghost"] = words["interfaces"]
    monkeypatch.setattr(module, "load_toml", lambda name: words if name == module.WORDS else load_toml(name))
    with pytest.raises(DataError) as fault:
        tables.__wrapped__()
    for told in (
        "data/cable.csv has no [cable]", "[ghost] has no data/ghost.csv", "[oil_grades] lacks title",
        "[oil_grades] has no words for column grade", "[oil_grades] columns: widest is no column",
        "[thermal_classes] subject weather", "[thermal_classes] partial is no bool",
        "[thermal_classes] knows no caution fire", "[thermal_classes] knows no colour",
    ):  # fmt: skip
        assert told in str(fault.value)


def test_figures_in_the_other_units() -> None:
    """By hand: 155 °C is 311 °F; 7.5 mm is 0.2953 in; 75 L/min is 19.81 gpm; a rise of 50 K stays what it is."""
    by = {column.name: column for table in TABLES for column in table.columns}
    assert figure(by["limit"], "155", "°F") == "311.0"
    assert figure(by["largest_port_diameter"], "7.5", "in") == "0.2953"
    assert figure(by["least_usual_flow"], "75", "gpm") == "19.81"
    assert by["rise"].us == by["rise"].metric == "K"
    assert figure(by["limit"], "140 to 150", "°F") == "140 to 150"


def _rows(name: str) -> list[dict[str, Any]]:
    _, heads, cells = table_text(name)
    return [dict(zip((head.partition(" [")[0] for head in heads), row, strict=True)) for row in cells]


def _cable() -> bool:
    kinds = {"class_2_plain": (1.03, 1.13), "class_5_plain": (1.04, 1.23)}
    return all(
        least <= round(float(row["cable_area"]) * float(row[kind]) / 17.241, 2) <= most
        for row in _rows("cable.csv")
        for kind, (least, most) in kinds.items()
        if row[kind]
    )


def _grades() -> bool:
    return all(
        float(row[name]) == pytest.approx(share * float(row["viscosity_40"]), rel=1e-9)
        for row in _rows("oil_grades.csv")
        for name, share in (("lowest", 0.9), ("highest", 1.1))
    )


def _classes() -> bool:
    return all(float(row["limit"]) - 40 == float(row["rise"]) for row in _rows("thermal_classes.csv"))


def _low_ac() -> bool:
    low, high = (next(row for row in _rows("coil_supplies.csv") if row["supply_name"].startswith(name))
                 for name in ("24 V AC", "110 to 120"))  # fmt: skip
    return all(
        float(low[name]) == pytest.approx(float(high[name]) * (24 / 120) ** 2)
        for name in ("least_resistance_20", "largest_resistance_20")
    )


def _means() -> bool:
    notes = " ".join(row["meter_note"] for row in _rows("supplies.csv"))
    return f"{2 * sqrt(2) / pi:.1f} of the AC" in notes and f"{sqrt(2) / pi:.2f} of the AC" in notes


def _swelling() -> bool:
    bears = {row["fluid"]: row for row in _rows("seal_fluids.csv")}
    return bears["HLP"]["EPDM"] == bears["HL"]["EPDM"] == bears["HFDR"]["NBR"] == "no"


@pytest.mark.parametrize("holds", (_cable, _grades, _classes, _low_ac, _means, _swelling))
def test_a_table_agrees_with_its_own_arithmetic(holds: Callable[[], bool]) -> None:
    assert holds()
