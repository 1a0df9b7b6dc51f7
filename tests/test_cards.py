"""Every card is complete: names in the vocabulary, origins, sources, cautions, limits, a worked example."""

import pytest

from valvecalc.door import calc, load
from valvecalc.facts import data_path, fact_value, load_toml
from valvecalc.formula import REGISTER, Card
from valvecalc.limits import limits_of, trusted_of
from valvecalc.quantities import ROWS, VOCABULARY
from valvecalc.source import assignments
from valvecalc.unit_table import dimension_names
from valvecalc.units import unit_row

load()
FORMULAS = [card for card in REGISTER.values() if card.kind == "formula"]
PAGES = [card for card in FORMULAS if not card.part]
ORIGINS = {"standard", "handbook", "common-practice", "judgement"}
TABLES = ("cable.csv", "thermal_classes.csv", "oil_grades.csv", "viscosity_index.csv")
NOT_MEASURED = {"text", "count", "rows"}

every_formula = pytest.mark.parametrize("card", FORMULAS, ids=lambda card: str(card.id))
every_card = pytest.mark.parametrize("card", list(REGISTER.values()), ids=lambda card: str(card.id))
shown_card = pytest.mark.parametrize(
    "card",
    [card for card in REGISTER.values() if card.kind == "formula" or not card.part],
    ids=lambda card: str(card.id),
)
every_page = pytest.mark.parametrize("card", PAGES, ids=lambda card: str(card.id))


@every_formula
def test_every_name_is_in_the_vocabulary(card: Card) -> None:
    local = [name for name, _, _ in assignments(card.function)]
    assert [name for name in (*card.entries, *local, card.result) if name not in VOCABULARY] == []


@every_formula
def test_every_entry_has_its_limits_and_they_read(card: Card) -> None:
    assert set(card.limits) == set(card.entries)
    limits = limits_of(card)
    for name, value in card.defaults.items():
        assert limits[name].holds(value), name
    trusted_of(card)


@shown_card
def test_every_default_tells_its_origin(card: Card) -> None:
    assert {name for name in card.defaults if card.defaults[name] is not None} <= set(card.origins) | set(card.choices)
    assert set(card.origins) <= set(card.entries)
    for origin, source in card.origins.values():
        assert origin in ORIGINS
        assert (origin in ("standard", "handbook")) == bool(source)


@every_card
def test_a_chart_runs_along_a_number(card: Card) -> None:
    numbers = set(card.entries) - set(card.rows) - set(card.choices)
    if card.chart in card.rows:  # a list that is drawn as it stands: along an entry, and what it shows is a result
        along, told = card.rows[card.chart][:2]
        assert card.chart in card.results and along in numbers and told in card.results
    else:
        assert card.chart is None or card.chart in numbers


@every_card
def test_sources_and_cautions_resolve(card: Card) -> None:
    keys = [key for key, _ in card.sources] + [key for _, key in card.origins.values() if key]
    assert [key for key in keys if key not in load_toml("sources.toml")] == []
    assert [name for name in card.cautions if name not in load_toml("words/cautions.toml")] == []


@every_page
def test_the_example_gives_what_has_no_default_and_has_an_answer(card: Card) -> None:
    assert set(card.entries) - set(card.defaults) <= set(card.example) <= set(card.entries)
    answer = calc(card.id, **card.example)
    assert answer.value is not None and not answer.missing


@every_page
def test_a_page_says_what_it_is_for(card: Card) -> None:
    text = (card.function.__doc__ or "").strip()
    assert text[0].isupper() and text.split("\n")[0].endswith((".", ":")), text
    assert card.title[0].isupper() and not card.title.endswith(".")


def test_the_vocabulary_has_one_row_for_a_name_and_units_of_its_dimension() -> None:
    names = [row[0] for row in ROWS]
    assert [name for name in VOCABULARY if names.count(name) > 1] == []
    for name, quantity in VOCABULARY.items():
        assert quantity.name == name
        assert quantity.meaning and quantity.meaning[-1] != "."
        if quantity.dimension in NOT_MEASURED:
            continue
        assert quantity.dimension in dimension_names(), name
        assert unit_row(quantity.metric, quantity.dimension) and unit_row(quantity.us, quantity.dimension)


def test_entries_tell_their_kind_of_pressure() -> None:
    """A text is read by the name of its entry: gauge, absolute and difference are three kinds."""
    ends = {"pressure_abs": ("_abs",), "pressure_difference": ("_drop", "_difference", "_modulus")}
    for name in {name for card in REGISTER.values() for name in card.entries if name in VOCABULARY}:
        dimension = VOCABULARY[name].dimension
        assert name.endswith(ends.get(dimension, "")), name
        assert dimension != "pressure" or not name.endswith(("_abs", "_drop", "_difference")), name


def test_every_default_of_the_sheets_reads_and_tells_its_origin() -> None:
    sources = load_toml("sources.toml")
    for key, row in load_toml("defaults.toml").items():
        assert fact_value(key) is not None
        assert row["origin"] in ORIGINS, key
        assert (row["origin"] in ("standard", "handbook")) == ("source" in row), key
        assert row.get("source", "iec-60228") in sources, key


def test_no_source_is_left_unused() -> None:
    used = {key for card in REGISTER.values() for key, _ in card.sources}
    used |= {key for card in REGISTER.values() for _, key in card.origins.values()}
    used |= {row["source"] for row in load_toml("defaults.toml").values() if "source" in row}
    for name in TABLES:
        with open(data_path(name), encoding="utf-8") as file:
            head = "".join(line for line in file if line.startswith("#"))
        used |= {key for key in load_toml("sources.toml") if key in head}
    assert set(load_toml("sources.toml")) - used == set()


def test_sources_grade_how_they_were_seen() -> None:
    for key, row in load_toml("sources.toml").items():
        assert row["kind"] in {"standard", "book", "paper", "public"}, key
        assert row["seen"] in {"full", "companion", "secondary", "own derivation", "memory"}, key
        assert row["text"] and set(row) <= {"text", "kind", "seen", "note"}, key


def test_the_gauge_of_a_cautions_rules() -> None:
    """Each stands alone, tells whom to call, and promises nothing."""
    for key, row in load_toml("words/cautions.toml").items():
        text = row["text"]
        assert "call" in text.lower() or "ask" in text, key
        assert not any(word in text.lower() for word in ("safe", "please", "careful", "as above", "harmless")), key
