"""A formula in MathML Core, for the page: no script, no picture, read aloud by the browser itself."""

from html import escape

from valvecalc.formula import Card
from valvecalc.printing.expression import Part, part, symbol_of
from valvecalc.printing.scope import Scope, lines
from valvecalc.printing.text import is_atom, is_negative, text
from valvecalc.quantities import VOCABULARY

_SIGN = {"sum": "+", "difference": "−"}
_LOOSE = ("sum", "difference", "compare")
_SLASH = ((), ("product", "quotient", "minus"))  # what more needs brackets before and behind a slash
_AFTER_SIGN = ("sum", "difference", "compare", "minus")
#: Two factors stand side by side with a thin space, which a reader takes for a product and a screen reader is told.
_TIMES = '<mo>&#x2062;</mo><mspace width="0.17em"/>'
_APPLY = "<mo>&#x2061;</mo>"


def mathml(card: Card) -> str:
    """All lines of a formula as one display block; the plain text stands in `alttext`.

    Of a sheet only the lines that are one number each are printed; rows and words are left out.
    """
    numbers = [(name, node) for name, node, _ in lines(card) if _is_number(name)]
    rows = [(symbol_of(name), part(Scope(card), node, numbers=False)) for name, node in numbers]
    shown = [(symbol, right) for symbol, right in rows if right.kind != "words"]
    plain = "; ".join(f"{symbol} = {text(right)}" for symbol, right in shown)
    if len(shown) == 1:
        inner = mathml_line(*shown[0])
    else:
        inner = '<mtable displaystyle="true">' + "".join(_row(*row) for row in shown) + "</mtable>"
    return f'<math display="block" alttext="{escape(plain)}">{inner}</math>'


def mathml_line(symbol: str, part: Part) -> str:
    """One line, symbol = expression, to stand inside a `<math>` element."""
    return f"<mrow>{mathml_symbol(symbol)}<mo>=</mo>{mathml_part(part)}</mrow>"


def mathml_inline(symbol: str) -> str:
    """A symbol alone in running text, as in a list of entries."""
    return f'<math alttext="{escape(symbol)}">{mathml_symbol(symbol)}</math>'


def mathml_symbol(symbol: str) -> str:
    """A symbol of the vocabulary: what follows `_` is the subscript, upright, since it is a label and no quantity."""
    if "_" not in symbol:
        return _letters(symbol)
    letters, lower = _subscripted(symbol)
    return f"<msub>{letters}{lower}</msub>"


def mathml_part(part: Part) -> str:
    """A tree of parts. Fractions and roots group by themselves; other grouping keeps its brackets."""
    kind, parts = part.kind, part.parts
    if kind in _SIGN:
        left, right = parts
        inner = _bracketed(left, ("compare",)) + f"<mo>{_SIGN[kind]}</mo>"
        return f"<mrow>{inner}{_bracketed(right, _AFTER_SIGN, below_zero=True)}</mrow>"
    if kind == "product":
        return _product(*parts)
    if kind == "quotient":
        return _fraction(*parts)
    if kind == "power":
        return _power(*parts)
    if kind == "minus":
        return f"<mrow><mo>−</mo>{_bracketed(parts[0], _AFTER_SIGN, below_zero=True)}</mrow>"
    if kind == "root":
        return f"<msqrt>{mathml_part(parts[0])}</msqrt>"
    if kind == "call":
        return _call(part)
    if kind == "compare":
        sign = f"<mo>{escape(part.text)}</mo>" if len(part.text) == 1 else _spaced(part.text)
        return f"<mrow>{sign.join(_bracketed(each, ('compare',)) for each in parts)}</mrow>"
    if kind == "cases":
        return _cases(part)
    if kind == "symbol":
        return mathml_symbol(part.text)
    if kind == "number":
        return f"<mn>{part.text}</mn>"
    return f"<mtext>{escape(part.text)}</mtext>"


def _row(symbol: str, part: Part) -> str:
    # MathML Core has no columnalign; the cell's own style aligns the equals signs.
    cells = (("right", mathml_symbol(symbol)), ("left", f"<mrow><mo>=</mo>{mathml_part(part)}</mrow>"))
    return "<mtr>" + "".join(_cell(content, side) for side, content in cells) + "</mtr>"


def _cell(content: str, side: str) -> str:
    return f'<mtd style="text-align: {side}">{content}</mtd>'


def _is_number(name: str) -> bool:
    return name in VOCABULARY and VOCABULARY[name].dimension not in ("text", "rows")


def _letters(base: str) -> str:
    """Quantities slant (one letter does so by itself), names of several letters stand, Δ belongs to what follows."""
    if base[:1] == "Δ" and len(base) > 1:
        return f'<mrow><mi mathvariant="normal">Δ</mi>{_letters(base[1:])}</mrow>'
    if base.endswith("'"):
        return f"<msup>{_letters(base[:-1])}<mo>′</mo></msup>"
    if base == "π":
        return '<mi mathvariant="normal">π</mi>'  # a constant stands upright (ISO 80000-2), as e does
    return f"<mi>{escape(base.replace('µ', 'μ'))}</mi>"  # the micro sign has no slanting form, the letter has


def _subscripted(symbol: str) -> tuple[str, str]:
    base, _, lower = symbol.partition("_")
    if lower.isdigit():
        return _letters(base), f"<mn>{lower}</mn>"
    upright = ' mathvariant="normal"' if len(lower) == 1 else ""
    return _letters(base), f"<mi{upright}>{escape(lower.replace('_', ','))}</mi>"


def _spaced(word: str) -> str:
    return f"<mtext>\u00a0{escape(word)}\u00a0</mtext>"


def _fenced(part: Part) -> str:
    return f"<mrow><mo>(</mo>{mathml_part(part)}<mo>)</mo></mrow>"


def _bracketed(part: Part, kinds: tuple[str, ...], below_zero: bool = False) -> str:
    return _fenced(part) if part.kind in kinds or (below_zero and is_negative(part)) else mathml_part(part)


def _fraction(above: Part, below: Part) -> str:
    """π / 4 · t / c is two fractions side by side, as it is read; a fraction inside a fraction gets a slash."""
    before, rest = _split(above)
    if before is not None and rest is not None:
        return _product(before, Part("quotient", "", (rest, below)))
    return f"<mfrac>{_slashed(above)}{_slashed(below)}</mfrac>"


def _split(part: Part) -> tuple[Part | None, Part | None]:
    """A chain of factors that begins with a fraction: that fraction, and the factors after it."""
    if part.kind != "product":
        return (part, None) if part.kind == "quotient" else (None, part)
    before, rest = _split(part.parts[0])
    return before, part.parts[1] if rest is None else Part("product", "", (rest, part.parts[1]))


def _slashed(part: Part) -> str:
    """What stands small, in a fraction or an exponent: one line, so that a phone shows it."""
    if part.kind == "minus" and part.parts[0].kind == "quotient":
        return f"<mrow><mo>−</mo>{_slashed(part.parts[0])}</mrow>"
    if part.kind != "quotient":
        return mathml_part(part)
    above, below = (_bracketed(each, (*_LOOSE, *more)) for each, more in zip(part.parts, _SLASH, strict=True))
    return f"<mrow>{above}<mo>/</mo>{below}</mrow>"


def _power(base: Part, exponent: Part) -> str:
    raised = _slashed(exponent)
    if base.kind == "symbol" and "_" in base.text and not base.text.startswith("Δ"):
        letters, lower = _subscripted(base.text)
        return f"<msubsup>{letters}{lower}{raised}</msubsup>"
    return f"<msup>{mathml_part(base) if is_atom(base) else _fenced(base)}{raised}</msup>"


def _product(left: Part, right: Part) -> str:
    sign = "<mo>·</mo>" if _begins_with_figure(right) else _TIMES
    inner = _bracketed(left, _LOOSE) + sign + _bracketed(right, (*_LOOSE, "product", "minus"), below_zero=True)
    return f"<mrow>{inner}</mrow>"


def _begins_with_figure(part: Part) -> bool:
    while part.kind in ("product", "power"):
        part = part.parts[0]
    return part.kind in ("number", "value")


def _call(part: Part) -> str:
    if part.text == "exp":
        return f'<msup><mi mathvariant="normal">e</mi>{_slashed(part.parts[0])}</msup>'
    if part.text == "log₁₀":
        name = "<msub><mi>log</mi><mn>10</mn></msub>"
    elif " " in part.text:
        name = f"<mtext>{escape(part.text)}</mtext>"
    else:
        name = mathml_symbol(part.text)
    if len(part.parts) == 1 and part.parts[0].kind == "symbol" and " " not in part.text:
        return f'<mrow>{name}{_APPLY}<mspace width="0.17em"/>{mathml_part(part.parts[0])}</mrow>'
    inner = "<mo>,</mo>".join(mathml_part(each) for each in part.parts)
    return f"<mrow>{name}{_APPLY}<mrow><mo>(</mo>{inner}<mo>)</mo></mrow></mrow>"


def _cases(part: Part) -> str:
    rows = ""
    for value, when in zip(part.parts[:-1:2], part.parts[1::2], strict=True):
        condition = f"<mrow>{_spaced('if')}{mathml_part(when)}</mrow>"
        rows += f"<mtr>{_cell(mathml_part(value), 'left')}{_cell(condition, 'left')}</mtr>"
    rows += f"<mtr>{_cell(mathml_part(part.parts[-1]), 'left')}{_cell(_spaced('otherwise'), 'left')}</mtr>"
    return f'<mrow><mo stretchy="true">{{</mo><mtable displaystyle="true">{rows}</mtable></mrow>'
