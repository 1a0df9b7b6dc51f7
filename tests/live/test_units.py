"""Reading and showing on the phone against Python: every spelling, hand-picked texts, random ones, and nonsense.

Figures must be the same doubles, refusals the same words.
"""

import json
import math
import os
import random
import sys
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Any

import pytest

from tests import test_unit_text, test_units
from tests.live.texts import (
    DIMENSIONS,
    ODD,
    ROWS,
    SPELLINGS,
    doubles,
    nonsense,
    one_language,
    reading,
    spoilt,
    unit,
    variants,
)
from tests.node import ask_node, need_node
from valvecalc import live, printing
from valvecalc.errors import InputError, nearest
from valvecalc.numbers import plain, visible
from valvecalc.quantities import VOCABULARY
from valvecalc.unit_table import dimension_row
from valvecalc.units import (
    Reading,
    choices,
    figure,
    from_si,
    read,
    show,
    standard_uncertainty,
    table_for_javascript,
    to_si,
    unit_row,
)

CASES = int(os.environ.get("VALVECALC_CASES", "300"))
FOLDER = Path(live.__file__).parent
RUNTIME = Path(printing.__file__).parent / "runtime.js"
# JSON knows no -0 and nothing that is not finite; both sides write them as words.
DRIVER = """
const fs = require("fs");
const word = (x) => (Object.is(x, -0) ? "-0" : Number.isFinite(x) ? x : String(x));
const told = (key, x) => (typeof x === "number" ? word(x) : x);
const attempt = (given) => {
  try { return answer(...given); } catch (refused) {
    if (!(refused instanceof Refused)) throw refused;
    return [refused.entry, refused.got, refused.need, refused.do];
  }
};
const lines = fs.readFileSync(process.argv[2], "utf8").split("\\n");
const answers = lines.map((line) => JSON.stringify([attempt(JSON.parse(line))], told));
fs.writeFileSync(process.argv[3], answers.join("\\n"));
"""

Node = Callable[[str, Iterable[tuple[Any, ...]]], list[Any]]


@pytest.fixture(scope="module")
def node(tmp_path_factory: pytest.TempPathFactory) -> Node:
    """Run `answer = (…) => …` over many arguments in one node process; a refusal is answered as its four parts."""
    need_node()
    folder = tmp_path_factory.mktemp("units")
    site = f"const SITE = {json.dumps({'units': table_for_javascript()})};"
    pieces = [RUNTIME.read_text("utf-8"), site, (FOLDER / "units.js").read_text("utf-8")]

    def run(answer: str, given: Iterable[tuple[Any, ...]]) -> list[Any]:
        code = "\n".join(['"use strict";', *pieces, f"const answer = {answer};", DRIVER])
        return [json.loads(line, parse_int=float)[0] for line in ask_node(folder, code, given)]

    return run


def told(value: Any) -> Any:
    """A value of Python as the driver writes it."""
    if isinstance(value, float) and (value == 0 or not math.isfinite(value)):
        return {"-0.0": "-0", "0.0": 0, "inf": "Infinity", "-inf": "-Infinity", "nan": "NaN"}[repr(value)]
    return [told(one) for one in value] if isinstance(value, list | tuple) else value


def attempt(work: Callable[..., Any], *given: Any) -> Any:
    """What Python answers, or the four parts of its refusal."""
    try:
        return told(work(*given))
    except InputError as error:
        (trouble,) = error.troubles
        return [trouble.entry, trouble.got, trouble.need, trouble.do]


def compare(node: Node, answer: str, work: Callable[..., Any], given: Iterable[tuple[Any, ...]]) -> list[Any]:
    """Both languages over the same arguments; the answers if they agree. 0 and -0 are two numbers."""
    asked = list(given)
    ours = [attempt(work, *one) for one in asked]
    found = [
        f"{one!r}:\n  Python     {here!r}\n  JavaScript {there!r}"
        for one, here, there in zip(asked, ours, node(answer, asked), strict=True)
        if here != there
    ]
    assert not found, f"{len(found)} of {len(asked)} differ:\n" + "\n".join(found[:5])
    return ours


READ = (
    "(text, dimension) => { const r = readText(text, 'entry', dimension);"
    " return [r.text, r.value, r.unit, r.si, r.halfWidth, r.expanded, standardUncertainty(r)]; }"
)


def read_here(text: str, dimension: str) -> list[Any]:
    reading: Reading = read(text, "entry", dimension)
    return [*reading, standard_uncertainty(reading)]


def was_read(answer: list[Any]) -> bool:
    return len(answer) == 7


def both_sorts(answers: list[Any]) -> bool:
    """Whether enough of the texts were read, and enough refused, for the comparison to mean something."""
    read_well = sum(map(was_read, answers))
    return min(read_well, len(answers) - read_well) > CASES / 6


# --- Texts


def test_every_spelling_in_every_dimension(node: Node) -> None:
    """Right ones and wrong ones, as a reading and alone."""
    pairs = [(spelling, name) for name in DIMENSIONS for spelling in ["", *SPELLINGS]]
    answers = compare(node, READ, read_here, [(f"7.3 {spelling}", name) for spelling, name in pairs])
    # each row of the table is read at least by its printed form (a count is whole, so 7.3 is none)
    got = {(name, answer[2]) for (_, name), answer in zip(pairs, answers, strict=True) if was_read(answer)}
    assert got == {(row.dimension, row.printed) for row in ROWS if row.dimension != "count"}
    fields = ("printed", "dimension", "factor", "offset", "spellings")
    compare(
        node,
        "(spelling, name) => { const r = unitRow(spelling, name, '--in');"
        " return [r.printed, r.dimension, r.factor, r.offset, r.spellings]; }",
        lambda spelling, name: [getattr(unit_row(spelling, name, "--in"), field) for field in fields],
        pairs,
    )


def test_every_spelling_mistyped(node: Node) -> None:
    """In its own dimension and in one other: case, a letter less or more, stand-in characters, backwards."""
    dice = random.Random(1)
    asked = {
        (f"5 {typed}", name)
        for own in DIMENSIONS
        for spelling in dimension_row(own).names
        for typed in variants(spelling)
        for name in (own, dice.choice(DIMENSIONS))
    }
    answers = compare(node, READ, read_here, sorted(asked))
    assert both_sorts(answers)


def picked(*tests: Any) -> Iterator[tuple[Any, ...]]:
    """The hand-picked cases of other tests."""
    for test in tests:
        (mark,) = test.pytestmark
        yield from mark.args[1]


def test_hand_picked_texts(node: Node) -> None:
    """Those of the tests of Python, each in the dimension it was picked for and in all others."""
    cases = list(picked(test_unit_text.test_read, test_unit_text.test_plus_minus, test_unit_text.test_refused))
    assert len(cases) > 150
    compare(node, READ, read_here, [(text, name) for text, *_ in cases for name in DIMENSIONS])


def test_traps_and_references(node: Node) -> None:
    """Every word that is refused by name, alone, with a number before it and behind it, and after ±."""
    table = table_for_javascript()
    words = [word for trap in table["trap"] for word in trap["spellings"]]
    words += [word for reference in table["reference"] for kind in ("gauge", "absolute") for word in reference[kind]]
    forms = ("{}", "46 {}", "{} 46", "{}46", "-0.9 {}", "8 bar ± 2 {}", "300 {} ± 2 {}")
    names = ("pressure", "pressure_abs", "pressure_difference", "kinematic_viscosity", "length", "flow", "ratio")
    cases = [(form.replace("{}", word), name) for word in words for form in forms for name in names]
    compare(node, READ, read_here, cases)
    compare(node, READ, read_here, [(text.upper(), name) for text, name in cases])


@pytest.mark.parametrize("seed", range(3))
def test_random_texts(node: Node, seed: int) -> None:
    """Readings made of the pieces that people write."""
    dice = random.Random(seed)
    names = [dice.choice(DIMENSIONS) for _ in range(10 * CASES)]
    asked = [(reading(dice, name), name) for name in names]
    answers = compare(node, READ, read_here, asked)
    assert both_sorts(answers)


@pytest.mark.parametrize("seed", range(3))
def test_random_nonsense(node: Node, seed: int) -> None:
    """Spoilt readings and any characters at all."""
    dice = random.Random(seed)
    names = [dice.choice(DIMENSIONS) for _ in range(10 * CASES)]
    texts = [spoilt(dice, reading(dice, name)) if dice.random() < 0.7 else nonsense(dice) for name in names]
    asked = [case for case in zip(texts, names, strict=True) if one_language(case[0])]
    answers = compare(node, READ, read_here, asked)
    assert both_sorts(answers)
    compare(node, "(text, name) => unitRow(text, name).printed", lambda text, name: unit_row(text, name).printed, asked)


def test_every_character(node: Node) -> None:
    """Each of Unicode in a message and among blanks; in a reading all but the letters."""
    known = [text for text in map(chr, range(sys.maxunicode + 1)) if one_language(text)]
    chunks = [("x".join(known[at : at + 30]),) for at in range(0, len(known), 30)]
    compare(node, "visibleText", visible, chunks)
    compare(node, "plainText", plain, chunks)
    others = [text for text in known if not text.isalpha() and unicodedata.category(text) != "Co"]
    compare(node, READ, read_here, [(f"{text}5{text} b{text}", "pressure") for text in others])


# --- Showing


def test_figure(node: Node) -> None:
    """Rounded on the exact decimal expansion, for 1 to 17 digits."""
    dice = random.Random(4)
    asked = [(value, digits) for value in doubles(dice, 30 * CASES) for digits in (1, 3, 4, 6, dice.randrange(1, 18))]
    compare(node, "figure", figure, asked)
    compare(node, "(value, digits) => figure(value)", lambda value, digits: figure(value), asked[::5])
    cases = [(value, digits) for value, digits, _ in picked(test_units.test_figure)]
    words = {math.inf: "Infinity", -math.inf: "-Infinity"}
    compare(
        node,
        "(value, digits) => figure(Number(value), digits)",
        lambda value, digits: figure(float(value.replace("Infinity", "inf")), digits),
        [(words.get(value, "NaN" if value != value else repr(value)), digits) for value, digits in cases],
    )


def test_show_and_conversions(node: Node) -> None:
    """Every row of the table, there and back, and the refusal of a unit that does not fit."""
    dice = random.Random(5)
    values = list(doubles(dice, CASES))
    asked = [(value, dice.choice(ROWS)) for value in values * 10] + [(value, row) for value in ODD for row in ROWS]
    asked += [(float(dice.randrange(-9, 10**9)), row) for row in ROWS for _ in range(5)]
    given = [(value, row.dimension, dice.choice(row.spellings), dice.randrange(1, 13)) for value, row in asked]
    given += [(1.0, name, row.printed, 4) for name in DIMENSIONS for row in ROWS]
    compare(node, "showValue", show, given)
    compare(
        node,
        "(value, name, spelling) => [toSi(value, spelling, name), fromSi(value, spelling, name)]",
        lambda value, name, spelling, digits: [to_si(value, spelling, name), from_si(value, spelling, name)],
        given,
    )
    compare(node, "unitChoices", choices, [(name,) for name in DIMENSIONS])


# --- Words that are near


def test_nearest_words(node: Node) -> None:
    """The nearest three of every entry and unit to spoilt ones and to any word, with equally near ones in order."""
    dice = random.Random(6)
    known = [list(VOCABULARY), SPELLINGS, ["bar", "abr", "rab", "bra", "arb", "rba"], ["", "a", "b"], []]
    assert max(map(len, VOCABULARY)) < 50, "difflib begins to drop frequent characters: see units.js"
    asked = []
    for _ in range(CASES):
        words = dice.choice(known)
        word = spoilt(dice, dice.choice(words)) if words and dice.random() < 0.8 else nonsense(dice)
        if one_language(word):
            asked.append((word, words, dice.randrange(1, 6)))
    compare(node, "nearestWords", nearest, asked)
    compare(node, "(word, words) => nearestWords(word, words)", lambda word, words, most: nearest(word, words), asked)


@pytest.mark.parametrize(
    ("text", "dimension", "meant"),
    [
        ("16 mpa", "pressure", ["MPa"]),
        ("5 MOHM", "resistance", ["mΩ", "MΩ"]),
        ("3 ML/min", "flow", ["mL/min"]),
        ("5 baar", "pressure", ["bar", "mbar"]),
        ("160 baar ± 2 bar", "pressure", ["bar", "mbar"]),
        ("5 psig", "pressure_difference", ["psi"]),
        # 5 psia is not 5 psi gauge: no button may say so
        ("5 psia", "pressure", []),
        ("5 psig", "pressure_abs", []),
        # another quantity, a trap, no unit, nothing wrong, nothing at all
        ("30 cP", "kinematic_viscosity", []),
        ("5 mil", "length", []),
        ("12", "pressure", []),
        ("12 bar", "pressure", []),
        ("12 bar ± 1 baar", "pressure", []),
        ("baar", "pressure", []),
        ("", "pressure", []),
    ],
)
def test_units_that_a_mistyped_one_may_have_meant(node: Node, text: str, dimension: str, meant: list[str]) -> None:
    assert node("unitCandidates", [(text, dimension)]) == [meant]


def test_a_candidate_in_the_units_place_is_read(node: Node) -> None:
    """What is left without the unit, and a candidate behind it, is a reading with the figure as typed."""
    dice = random.Random(7)
    asked = []
    for _ in range(10 * CASES):
        name = dice.choice(DIMENSIONS)
        asked.append((f"{dice.choice(['7', '0,5', '1 200', '+3', '1/2'])} {spoilt(dice, unit(dice, name))}", name))
    asked = [case for case in asked if one_language(case[0]) and "±" not in case[0]]
    answers = node("(text, name) => [unitCandidates(text, name), units.numberOf(text)]", asked)
    tried = 0
    for (text, name), (meant, left) in zip(asked, answers, strict=True):
        if meant:
            with pytest.raises(InputError) as caught:
                read(text, "entry", name)
        for printed in meant:
            tried += 1
            assert printed in caught.value.troubles[0].do, text
            assert read(f"{left} {printed}", "entry", name).unit == printed
    assert tried > CASES


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("16 mpa", "16"),
        ("1 1/2in", "1 1/2"),
        (" −0,5\xa0bar ", "-0,5"),
        ("160 baar +/- 2 mbar", "160 ± 2 mbar"),
        ("160 bar ± 2 bar (k=2)", "160 ± 2 bar (k=2)"),
        ("bar", ""),
    ],
)
def test_the_number_of_a_text(node: Node, text: str, left: str) -> None:
    assert node("(text) => units.numberOf(text)", [(text,)]) == [left]


def test_the_names_that_others_call(node: Node) -> None:
    names = ["read", "show", "figure", "fromSi", "toSi", "row", "choices", "candidates", "numberOf"]
    assert node("() => Object.keys(units)", [()]) == [names]
