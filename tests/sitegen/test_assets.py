"""Style sheet, font and scripts as the build makes them small."""

import json
import shutil
import subprocess
from io import BytesIO
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from valvecalc.sitegen import assets

SITE = Path(__file__).parents[2] / "site"
SCRIPT = r"""
const words = `a ${`b // ${6 /2/ 3}` }   c
   d`; // told
const slash = (x) => /\/\/ [/'"] x/.test(x);
let e = 1; e = e ++ + ++ e;
console.log(JSON.stringify([words, slash("// / x"), e, "  'q'  ", 1.50e-3, 123456789012345680000, .1 + .2]));
"""


def test_a_style_sheet_that_nobody_ordered_stops_the_build(tmp_path: Path) -> None:
    for name in (*assets.STYLES, "stray"):
        tmp_path.joinpath(f"{name}.css").write_text("a { color: red; }", "utf-8")
    with pytest.raises(ValueError, match="stray"):
        assets.style(tmp_path)


def test_the_order_of_the_style_sheets_holds(tmp_path: Path) -> None:
    for name in (*assets.STYLES, *assets.OWN_STYLES):
        tmp_path.joinpath(f"{name}.css").write_text(f".{name} {{ color: red; }}", "utf-8")
    text = assets.style(tmp_path)
    places = [text.index(f".{name}") for name in assets.STYLES]
    assert places == sorted(places)


@pytest.mark.skipif(shutil.which("node") is None, reason="node is not installed")
def test_a_shrunk_script_says_the_same(tmp_path: Path) -> None:
    path = tmp_path / "script.js"
    said = []
    for shrink in (False, True):
        path.write_text(SCRIPT, "utf-8")
        if shrink:
            assets.shrink_scripts(tmp_path)
        done = subprocess.run(["node", str(path)], capture_output=True, text=True, check=True)
        said.append(json.loads(done.stdout))
    assert said[0] == said[1]
    assert said[0][0] == "a b // 1   c\n   d"


def test_letters_of_formulas_slant_where_they_stand_alone() -> None:
    page = "<p>xyz</p><math display='block'><mi>α</mi><mo>=</mo><mi>h</mi><mi>sin</mi><msqrt><mi>B</mi></msqrt></math>"
    assert set(assets.letters(page)) == set("α=hsinB") | set("𝛼ℎ𝐵√")


def test_a_cut_font_is_the_same_at_every_build_and_still_grows() -> None:
    source = SITE / "fonts" / "maths.woff2"
    cut = assets.cut_font(source, "x=(1)√")
    assert cut == assets.cut_font(source, "x=(1)√")
    assert len(cut) < source.stat().st_size / 2
    font = TTFont(BytesIO(cut))
    assert set(font.getBestCmap()) >= set(map(ord, "x=(1)√"))
    assert ord("y") not in font.getBestCmap()
    assert font.getBestCmap()[ord("(")] in font["MATH"].table.MathVariants.VertGlyphCoverage.glyphs
