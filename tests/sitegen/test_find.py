"""The search: what technicians type finds what they mean, in Python and in JavaScript alike."""

import gzip
import json
import random
import re
import string
import tomllib
from collections.abc import Iterable
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import pytest

from tests.node import ask_node
from valvecalc import live
from valvecalc.catalogue import items
from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.facts import load_toml
from valvecalc.finding import Entry, Finder, apart, root, rules, words
from valvecalc.formula import REGISTER
from valvecalc.sitegen import find
from valvecalc.sitegen.pages import pages

ROOT = Path(__file__).parent.parent.parent
PAGES = pages(ROOT)
INDEX = PAGES["assets/find-index.js"]
TOLD: dict[str, Any] = json.loads(INDEX.removeprefix("const findIndex = ").rstrip(";\n"))
QUERIES: dict[str, list[str]] = tomllib.loads(Path(__file__).with_name("find_queries.toml").read_text("utf-8"))
PAIRS = [(text, address) for address, texts in QUERIES.items() for text in texts]
NONSENSE = ("xyzzy", "qqqq wwww", "!!!", "12345", "<img src=x onerror=alert(1)>", "\u202e\ud800", "zzzzzzzz", "пример")


def address_of(row: list[str]) -> str:
    """As finding.js reads a row: a term has its address from its title."""
    return f"words/{row[0][1:]}/#{row[1].replace(' ', '_')}" if row[0][:1] == "#" else row[0]


def address_of_file(path: str) -> str:
    """calc/index.md is calc/, hurt.md#burn is hurt/#burn."""
    return re.sub(r"((?:^|(?<=/))index)?\.md", lambda end: "" if end[1] else "/", path)


ENTRIES = [
    Entry(
        next(name for name, row in rules().kinds.items() if row["title"] == kind["title"]),
        address_of(row),
        *row[1:],
    )
    for kind in TOLD["kinds"]
    for row in kind["entries"]
]
FINDER = Finder(ENTRIES, rules())


@cache
def shown(text: str) -> list[Entry]:
    """What is found, in the order in which it is shown."""
    found = FINDER.ask(text)
    return [ENTRIES[place] for place in (*found.near, *found.far)]


def in_javascript(texts: Iterable[str]) -> list[dict[str, list[str]]]:
    """The same questions asked of live/finding.js in node."""
    code = (
        f"{Path(live.__file__).with_name('finding.js').read_text('utf-8')}{INDEX}"
        "const finder = finding(findIndex), fs = require('fs');"
        "const asked = JSON.parse(fs.readFileSync(process.argv[2], 'utf-8'));"
        "const told = asked.map((text) => finder.ask(text));"
        "fs.writeFileSync(process.argv[3], JSON.stringify(told.map(({ near, far, unknown }) => "
        "({ near: near.map((entry) => entry.address), far: far.map((entry) => entry.address), unknown }))));"
    )
    with TemporaryDirectory() as folder:
        (line,) = ask_node(Path(folder), code, [list(texts)])
    told: list[dict[str, list[str]]] = json.loads(line)
    return told


def test_the_table_is_large_enough() -> None:
    assert len(PAIRS) >= 120 and len(QUERIES) >= 60
    assert set(QUERIES) <= {entry.address for entry in ENTRIES}


@pytest.mark.parametrize(("text", "address"), PAIRS)
def test_what_is_typed_finds_what_is_meant(text: str, address: str) -> None:
    first = [entry.address for entry in shown(text)[:3]]
    assert address in first, first


def test_every_page_is_in_the_index_and_leads_to_itself() -> None:
    hand_written = (ROOT / "site" / "pages").rglob("*.md")
    files = {path.relative_to(ROOT / "site" / "pages").as_posix() for path in hand_written}
    files |= {path for path in PAGES if path.endswith(".md")}
    wanted = {address_of_file(path) for path in files}
    assert len(wanted) > 250
    assert {entry.address for entry in ENTRIES if "#" not in entry.address} == wanted


def test_every_page_is_found_by_its_title() -> None:
    """Among the first three of all, as everything that is typed."""
    missed = {}
    for entry in ENTRIES:
        if "#" not in entry.address:
            first = [found.address for found in shown(entry.title)[:3]]
            if entry.address not in first:
                missed[entry.address] = first
    assert missed == {}


def test_every_complaint_comes_first_by_what_the_customer_says() -> None:
    missed = {}
    for symptom in knowledge().symptoms.values():
        found = shown(symptom.customer_says)
        if f"fault/{symptom.id}/" not in [entry.address for entry in found[:2]]:
            missed[symptom.customer_says] = [entry.address for entry in found[:3]]
    assert missed == {}


def test_every_calculation_is_found_by_its_id() -> None:
    for card in REGISTER.values():
        if not card.part:
            assert f"/{card.id}/" in "".join(entry.address for entry in shown(card.id)[:5]), card.id


def slipped(text: str, chance: random.Random) -> str:
    """A word with one slip of the thumb in it."""
    at = chance.randrange(1, len(text) - 1)
    return chance.choice(
        (
            text[:at] + text[at + 1 :],
            text[:at] + chance.choice(string.ascii_lowercase) + text[at:],
            text[:at] + chance.choice(string.ascii_lowercase) + text[at + 1 :],
            text[:at] + text[at + 1] + text[at] + text[at + 2 :],
        )
    )


WORDS = ("solenoid", "viscosity", "resistance", "clearance", "cylinder", "pressure", "voltage", "armature", "leakage")


@pytest.mark.parametrize("word", WORDS)
def test_a_slip_of_the_thumb_still_finds_the_word(word: str) -> None:
    chance = random.Random(word)
    for _ in range(8):
        told = slipped(word, chance)
        assert set(shown(told)) & set(shown(word)[:5]), told


@pytest.mark.parametrize("text", NONSENSE)
def test_nonsense_finds_nothing_and_says_so(text: str) -> None:
    found = FINDER.ask(text)
    assert found.near == found.far == []
    assert found.unknown == [word for word in words(text) if not word.isdigit() and len(word) > 1]


def test_figures_with_units_do_not_spoil_the_rest() -> None:
    for plain, full in (("spool leak", "16 mm spool leak 200 bar"), ("coil", "24V coil"), ("oil", "oil 3 mL/min")):
        assert shown(full)[0] == shown(plain)[0]


def test_a_beginning_is_enough_while_typing() -> None:
    for typed in ("vi", "visc", "viscos", "viscosit"):
        assert any("viscosity" in entry.address for entry in shown(typed)[:6]), typed


def test_words_and_roots() -> None:
    assert words("Won’t shift: O-Ring, 24V, Rückleitung, Δp") == [
        "wont",
        "shift",
        "o",
        "ring",
        "24",
        "v",
        "ruckleitung",
        "δp",
    ]
    for one in ("leak", "leaks", "leaking", "leaked"):
        assert root(one) == "leak"
    assert root("humming") == root("hums") == "hum"
    assert root("buzzes") == root("buzzing") == root("buzz")
    assert root("spring") == "spring" and root("loss") == root("losses")


def test_slips_are_counted() -> None:
    assert [apart(*pair, 2) for pair in (("vavle", "valve"), ("coil", "coil"), ("leek", "leak"), ("ab", "abcde"))] == [
        1,
        0,
        1,
        3,
    ]
    assert apart("solonid", "solenoid", 2) == 2
    assert apart("kitten", "sitting", 2) == 3  # that is "more than 2"


def test_groups_hold_words_that_can_be_typed() -> None:
    """A phrase of idle words only would stand for everything; one phrase alone is no group."""
    for group in rules().same:
        assert len(group) > 1
        for phrase in group:
            assert phrase and not set(phrase) <= set(rules().idle), phrase


def test_what_people_say_is_said_of_pages_that_are_there() -> None:
    places = {address_of_file(path) for path in load_toml("words/search.toml")["says"]}
    assert places <= {entry.address for entry in ENTRIES}


def test_python_and_javascript_find_the_same() -> None:
    chance = random.Random(7)
    known = [word for entry in ENTRIES for word in words(f"{entry.title} {entry.line}") if len(word) > 3]
    garbled = [
        " ".join(
            slipped(word, chance) if chance.random() < 0.5 else word
            for word in chance.sample(known, chance.randint(1, 4))
        )
        for _ in range(60)
    ]
    typing = [text[:length] for text in ("vavle sticks", "leek past") for length in range(len(text) + 1)]
    hostile = [
        "",
        " ",
        "a" * 3000,
        "\u202eabc",
        "__proto__ constructor toString",
        "ﬁlter ½ in",
        "İstanbul Straße",
        "o'ring",
    ]
    texts = [text for text, _ in PAIRS] + garbled + typing + hostile + list(NONSENSE)
    for text, told in zip(texts, in_javascript(texts), strict=True):
        found = FINDER.ask(text)
        assert told["near"] == [ENTRIES[place].address for place in found.near], text
        assert told["far"] == [ENTRIES[place].address for place in found.far], text
        assert told["unknown"] == found.unknown, text


def test_the_index_is_light() -> None:
    """Fetched at the first touch of the search, and stored: some twenty-five bytes for each of its lines."""
    assert len(gzip.compress(INDEX.encode(), 9)) <= 26 * len(ENTRIES)


def test_the_page_lists_everything_by_kind_in_the_order_of_the_answers() -> None:
    page = PAGES[find.PAGE]
    listed = re.findall(r'<li><a href="page:([^"]+)"', page)
    assert len(listed) == len(set(listed))
    shown = {address_of_file(page) for page in listed}
    assert {entry.address for entry in ENTRIES if entry.kind != "word"} - {"words/symbols/"} <= shown
    # Of the terms, which are hundreds, the page that each stands on.
    assert {entry.address.partition("#")[0] for entry in ENTRIES if entry.kind == "word"} <= shown
    headings = re.findall(r"^## (.+?) \{ #", page, re.MULTILINE)
    assert headings == [kind["title"] for kind in TOLD["kinds"] if kind["entries"]]
    assert page.index('<form class="find"') < page.index("## ")


def test_the_command_line_forgives_too() -> None:
    for typed, wanted in (
        ("leakege", "annular-leakage"),
        ("cst", "kinematic-viscosity"),
        ("solonoid force", "solenoid-force"),
    ):
        assert wanted in [item["id"] for item in items(typed)][:8], typed
    assert items("zzz") == []
