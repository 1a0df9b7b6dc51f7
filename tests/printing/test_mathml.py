"""MathML against the handbook form, written by hand, and read back against the function itself.

The reader below is written from the meaning of the elements (W3C, MathML Core), not from the printer:
a factor is a factor only if an operator says so, and an element it does not know is an error.
"""

import ast
import math
import random
import re
from xml.etree import ElementTree

import pytest

from valvecalc import formulas
from valvecalc.door import fill
from valvecalc.entries import read_entries
from valvecalc.formula import REGISTER, Card
from valvecalc.limits import bracket
from valvecalc.printing.expression import part
from valvecalc.printing.mathml import mathml, mathml_inline, mathml_part, mathml_symbol
from valvecalc.printing.scope import Scope, lines
from valvecalc.quantities import VOCABULARY
from valvecalc.source import called

formulas.load()
CARDS = [card for card in REGISTER.values() if card.kind == "formula"]
#: Elements of MathML Core that are used; anything else would not be drawn by every browser.
CORE = {"math", "mrow", "mi", "mn", "mo", "mtext", "mspace", "mfrac", "msqrt", "msub", "msup", "msubsup"}
TABLE = {"mtable", "mtr", "mtd"}

OPERATORS = {"+": "+", "−": "-", "·": "*", "\u2062": "*", "/": "/", "(": "(", ")": ")", ",": ",", "\u2061": ""}
FUNCTIONS = {"ln": "log", "max": "max", "min": "min", "cos": "cos", "tan": "tan", "arccos": "acos", "tanh": "tanh"}


def read_lines(markup: str) -> list[tuple[str, str]]:
    """(symbol, Python expression) of every line; a symbol stands as V['symbol']."""
    math = ElementTree.fromstring(markup)
    assert math.tag == "math", math.tag
    (top,) = math
    if top.tag == "mtable":
        rows = [[cell[0] for cell in row] for row in top]
        return [(symbol(left), expression(list(right)[1:])) for left, right in rows]
    left, equals, *right = top
    assert equals.text == "="
    return [(symbol(left), expression(right))]


def symbol(element: ElementTree.Element) -> str:
    """The name of a symbol as the vocabulary writes it."""
    if element.tag == "msub":
        return f"{symbol(element[0])}_{symbol(element[1])}"
    if element.tag == "mrow":
        return "".join(symbol(child) for child in element)
    if element.tag == "msup":
        assert element[1].text == "′"
        return symbol(element[0]) + "'"
    assert element.tag in ("mi", "mn"), element.tag
    return element.text or ""


def expression(elements: list[ElementTree.Element]) -> str:
    """A row of elements as one expression; a function without brackets takes the one element after it."""
    out = ""
    elements = [element for element in elements if element.tag != "mspace"]
    for place, element in enumerate(elements):
        applied = place > 0 and elements[place - 1].text == "\u2061"
        out += f"({one(element)})" if applied else one(element)
    return out


def one(element: ElementTree.Element) -> str:
    """One element as an expression that may stand anywhere."""
    tag, children = element.tag, list(element)
    if tag == "mo":
        return OPERATORS[element.text or ""]
    if tag == "mn":
        return element.text or ""
    if tag == "mi":
        name = element.text or ""
        if element.get("mathvariant") == "normal" and name in ("π", "e"):
            return {"π": "pi", "e": "e"}[name]  # upright: the constant, not a quantity
        return FUNCTIONS.get(name) or f"V[{name!r}]"
    if tag == "mfrac":
        return f"(({one(children[0])})/({one(children[1])}))"
    if tag == "msqrt":
        return f"sqrt({expression(children)})"
    if tag == "msub":
        return "log10" if symbol(element) == "log_10" else f"V[{symbol(element)!r}]"
    if tag == "msubsup":
        return f"(V[{symbol(children[0]) + '_' + symbol(children[1])!r}]**({one(children[2])}))"
    if tag == "msup":
        if children[1].text == "′":
            return f"V[{symbol(element)!r}]"
        base = children[0]
        assert base.tag != "mrow" or base[0].text in ("(", "Δ"), "a power stands on what is one thing to the eye"
        return f"(({one(base)})**({one(children[1])}))"
    assert tag == "mrow", tag
    if children[0].text == "{":
        return cases(children[1])
    if children[0].text == "Δ":
        return f"V[{symbol(element)!r}]"
    return expression(children)


def cases(table: ElementTree.Element) -> str:
    """Value and condition row by row, the last one otherwise."""
    out = ""
    for value, condition in table:
        inner = list(condition[0])
        words = (condition[0].text or inner[0].text or "").strip("\u00a0")
        if words == "otherwise":
            return f"({out}({one(value[0])}))"
        assert words == "if", words
        left, sign, right = inner[1]
        python = {"<": "<", "≤": "<=", ">": ">", "≥": ">="}[sign.text or ""]
        out += f"({one(value[0])}) if {one(left)} {python} {one(right)} else "
    raise AssertionError("no last case")


def test_a_quotient_is_marked_up_element_by_element():
    # I = U_c / R: Ohm's law as any handbook prints it.
    assert mathml(REGISTER["coil-current"]) == (
        '<math display="block" alttext="I = U_c / R"><mrow><mi>I</mi><mo>=</mo>'
        '<mfrac><msub><mi>U</mi><mi mathvariant="normal">c</mi></msub><mi>R</mi></mfrac></mrow></math>'
    )


@pytest.mark.parametrize(
    ("symbol", "markup"),
    [
        ("c", "<mi>c</mi>"),
        ("ν_100", "<msub><mi>ν</mi><mn>100</mn></msub>"),
        ("U_min", "<msub><mi>U</mi><mi>min</mi></msub>"),
        ("p_T", '<msub><mi>p</mi><mi mathvariant="normal">T</mi></msub>'),
        ("Δp", '<mrow><mi mathvariant="normal">Δ</mi><mi>p</mi></mrow>'),
        ("R'", "<msup><mi>R</mi><mo>′</mo></msup>"),
        ("µ", "<mi>\u03bc</mi>"),
    ],
)
def test_symbols_carry_their_subscript_and_slant(symbol, markup):
    assert mathml_symbol(symbol) == markup
    assert ElementTree.fromstring(mathml_inline(symbol)).get("alttext") == symbol


# The right sides are the handbook forms, keyed in by hand; sources as on the cards.
HANDBOOK = {
    "annular-leakage": lambda V, pi: (
        pi * V["d"] * V["c"] ** 3 * V["Δp"] * (1 + 1.5 * V["ε"] ** 2) / (12 * V["μ"] * V["L"])
    ),
    "orifice-flow": lambda V, pi: V["C_d"] * V["A"] * math.sqrt(2 * V["Δp"] / V["ρ"]),
    "winding-resistance": lambda V, pi: V["R_20"] * (1 + V["α"] * (V["T_w"] - V["T_ref"])),
    "coil-power": lambda V, pi: V["U_c"] ** 2 / V["R"],
}


@pytest.mark.parametrize("name", HANDBOOK)
def test_the_printed_formula_is_the_handbook_form(name):
    card = REGISTER[name]
    ((_, read),) = read_lines(mathml(card))
    symbols = {greek(VOCABULARY[entry].symbol): 1.1 + 0.37 * place for place, entry in enumerate(card.entries)}
    assert work(read, symbols) == pytest.approx(HANDBOOK[name](symbols, math.pi), rel=1e-14)


def greek(symbol: str) -> str:
    """MathML writes the Greek letter where the vocabulary has the micro sign, which does not slant."""
    return symbol.replace("\u00b5", "\u03bc")


def work(read: str, symbols: dict[str, float]) -> float:
    names = {"sqrt": math.sqrt, "log10": math.log10, "log": math.log, "cos": math.cos, "pi": math.pi, "e": math.e}
    names |= {"tan": math.tan, "acos": math.acos, "tanh": math.tanh}
    return eval(read, {**names, "max": max, "min": min, "V": symbols})


def inputs(card: Card, dice: random.Random) -> dict[str, float]:
    """Anywhere in the limits, or round the example: wide limits may have a value in a small part of them only."""
    ends = {name: bracket(card, name) for name in card.entries}
    if card.example and dice.random() < 0.5:
        middle = fill(card, read_entries(card, card.example))
        return {name: min(high, max(low, middle[name] * dice.uniform(0.8, 1.25))) for name, (low, high) in ends.items()}
    return {name: low + (high - low) * dice.random() for name, (low, high) in ends.items()}


def is_plain(card: Card) -> bool:
    """Whether no line calls a formula with lines of its own: such a one is printed by its title."""
    inner = [called(card.function, node) for _, node, _ in lines(card)]
    return all(callee is None or len(list(lines(callee))) == 1 for callee in inner)


@pytest.mark.parametrize("card", [card for card in CARDS if is_plain(card)], ids=lambda card: card.id)
def test_what_is_printed_is_what_is_worked(card):
    """Reading the MathML line by line gives the function's own value: brackets, fractions and signs are right."""
    dice = random.Random(20)
    worked = 0
    for _ in range(200):
        given = inputs(card, dice)
        try:
            expected = card.function(**given)
        except (ArithmeticError, ValueError):
            continue
        symbols = {greek(VOCABULARY[name].symbol): value for name, value in given.items()}
        for symbol_read, read in read_lines(mathml(card)):
            result = symbols[symbol_read] = work(read, symbols)
        largest = max(map(abs, [expected, *(value for name, value in symbols.items())]))
        assert result == pytest.approx(expected, rel=1e-9, abs=1e-15 * largest)
        worked += 1
    assert worked > 20, "hardly any input in the limits has a value"


NAMES = ("diameter", "clearance", "length", "viscosity")


def tree(dice: random.Random, depth: int) -> str:
    """A random expression of the subset, with just the brackets of its tree."""
    if depth == 0:
        return dice.choice((*NAMES, "2", "0.5", "pi"))
    left, right = tree(dice, depth - 1), tree(dice, dice.randrange(depth))
    sign = dice.choice("+-*/")
    powers = (f"({left})**2", f"sqrt({left})", f"power({left}, 0.5)", f"exp({left})")
    other = (f"-({left})", f"maximum({left}, {right})", *powers)
    return dice.choice((f"({left}) {sign} ({right})", f"({left}) {sign} ({right})", dice.choice(other)))


def test_random_trees_read_back_as_they_were_written():
    dice = random.Random(3)
    symbols = {"d": 1.3, "c": 0.7, "L": 2.1, "\u03bc": 0.4}
    names = {**dict(zip(NAMES, symbols.values(), strict=True)), "power": math.pow, "maximum": max}
    worked = 0
    for _ in range(1500):
        source = tree(dice, dice.randrange(1, 5))
        node = ast.parse(source, mode="eval").body
        markup = mathml_part(part(Scope(REGISTER["annular-leakage"]), node, numbers=False))
        read = one(ElementTree.fromstring(markup))
        try:
            expected = eval(source, {**names, "sqrt": math.sqrt, "exp": math.exp, "pi": math.pi})
        except (ArithmeticError, ValueError):
            continue
        if isinstance(expected, complex):
            continue
        assert work(read, symbols) == pytest.approx(expected, rel=1e-6, abs=1e-9), f"{source}: {read}"
        worked += 1
    assert worked > 700


@pytest.mark.parametrize("card", CARDS, ids=lambda card: card.id)
def test_markup_is_well_formed_core_and_names_every_entry(card):
    markup = mathml(card)
    root = ElementTree.fromstring(markup)
    assert {element.tag for element in root.iter()} <= CORE | TABLE
    assert root.get("alttext")
    assert not [element for element in root.iter() if "columnalign" in element.attrib]
    assert not [element for element in root.iter("mfrac") if len(element) != 2]
    if is_plain(card):
        read = {name for _, line in read_lines(markup) for _, name in re.findall(r"V\[(['\"])(.+?)\1\]", line)}
        assert {greek(VOCABULARY[entry].symbol) for entry in card.entries} <= read


@pytest.mark.parametrize("card", CARDS, ids=lambda card: card.id)
def test_no_two_quantities_of_a_formula_share_a_symbol(card):
    """Else the line reads Q = min(Q, Q). The result may bear the symbol of nothing but itself."""
    names = {*card.entries, *(name for name, _, _ in lines(card))}
    symbols = [VOCABULARY[name].symbol for name in names]
    assert len(set(symbols)) == len(symbols), sorted(symbols)
    assigned = [name for name, _, _ in lines(card)]
    assert len(set(assigned)) == len(assigned), "a line and the result have one name"
