"""What the pages load, made small at build: one style sheet, a maths font cut to the formulas, short scripts."""

import re
from html import unescape
from importlib.util import find_spec
from io import BytesIO
from pathlib import Path

from fontTools import subset
from fontTools.ttLib import TTFont

#: The style sheets of site/styles in their order: of two rules of equal weight the later one holds.
STYLES = ("colours", "text", "frame", "doors", "marks", "form", "find", "finder", "size", "size_fits", "paper")
#: Those that only the pages load which name them in their front matter (`style`).
OWN_STYLES = ("job", "tables")
#: Scripts put together from the pieces of site/scripts, in their order: a later one calls earlier ones by name.
JOINED = {"job-form": ("job-page", "job-own", "job-field", "job-form")}
#: A formula, and a letter that stands alone in it.
_MATH = re.compile(r"<math\b.*?</math>", re.DOTALL)
_LETTER = re.compile(r"<mi>([^<]|&\w+;)</mi>")


def style(folder: Path) -> str:
    """What every page loads, as one. Raises ValueError where the folder and the order differ."""
    found = {path.stem for path in folder.glob("*.css")}
    if found != {*STYLES, *OWN_STYLES}:
        wrong = sorted(found ^ {*STYLES, *OWN_STYLES})
        raise ValueError(f"{folder}: {wrong} stands only there or only in assets.STYLES and OWN_STYLES")
    return shrunk("".join(folder.joinpath(f"{name}.css").read_text("utf-8") for name in STYLES), "text/css")


def own_style(folder: Path, name: str) -> str:
    """A style sheet that only some pages load."""
    return shrunk(folder.joinpath(f"{name}.css").read_text("utf-8"), "text/css")


def joined(folder: Path, name: str) -> str:
    """A script of several pieces that share one scope. Raises ValueError where the folder and the order differ."""
    found = {path.stem for path in folder.glob("*.js")}
    if found != {piece for pieces in JOINED.values() for piece in pieces}:
        raise ValueError(f"{folder}: its scripts are not those of assets.JOINED")
    pieces = "\n".join(folder.joinpath(f"{piece}.js").read_text("utf-8") for piece in JOINED[name])
    return f'(function () {{\n"use strict";\n{pieces}}})();\n'


def shrink_scripts(folder: Path) -> None:
    """Shrink every script of a folder."""
    for path in sorted(folder.rglob("*.js")):
        path.write_text(shrunk(path.read_text("utf-8"), "application/javascript"), "utf-8")


def shrunk(text: str, kind: str) -> str:
    """A script or style sheet without comments and long names; as written where no minifier is installed."""
    if find_spec("minify") is None:
        return text
    import minify

    return str(minify.string(kind, text))


def letters(pages: str) -> str:
    """Every character that the formulas of some pages need, those included that the browser slants by itself."""
    formulas = _MATH.findall(pages)
    plain = set("".join(unescape(re.sub(r"<[^>]*>", "", formula)) for formula in formulas))
    alone = {unescape(letter) for formula in formulas for letter in _LETTER.findall(formula)}
    roots = {"√"} if any("<msqrt" in formula for formula in formulas) else set()
    return "".join(sorted(plain | set(map(slanted, alone)) | roots))


def slanted(letter: str) -> str:
    """The slanting letter that stands for a single letter in a formula (MathML Core, text-transform: math-auto)."""
    if letter == "h":
        return "ℎ"  # the one hole of the block
    for first, last, start in (("A", "Z", 0x1D434), ("a", "z", 0x1D44E), ("Α", "Ω", 0x1D6E2), ("α", "ω", 0x1D6FC)):
        if first <= letter <= last:
            return chr(start + ord(letter) - ord(first))
    return letter


def cut_font(source: Path, text: str) -> bytes:
    """A font with only the glyphs of a text and what they grow into, as WOFF2; the same bytes at every build."""
    font = TTFont(source, recalcTimestamp=False)
    options = subset.Options(layout_features=["*"], notdef_outline=True, hinting=False, desubroutinize=True)
    cutter = subset.Subsetter(options)
    cutter.populate(text=text)
    cutter.subset(font)
    font.flavor = "woff2"
    cut = BytesIO()
    font.save(cut, reorderTables=None)
    return cut.getvalue()
