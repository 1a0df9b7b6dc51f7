"""The files of the built site: links, hosts, promises. No browser needed."""

import gzip
import re
import unicodedata
from collections.abc import Iterator
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import material
import pytest
from fontTools.ttLib import TTFont

from valvecalc.sitegen.demo import REPORTS

LOADING = {
    ("link", "href"),
    ("script", "src"),
    ("img", "src"),
    ("iframe", "src"),
    ("source", "src"),
    ("form", "action"),
}
FETCHED_BY_STYLE = re.compile(r"""(?:url\(\s*['"]?|@import\s+['"])(?!data:)((?:https?:)?//[^'")]+)""")
# Of the sentences that a bench toolkit never prints, those that are promises and have no innocent wording.
PROMISES = re.compile(
    r"\b(harmless|guaranteed|risk-free|no risk|(is|are|now) safe|safe now|cannot fail)\b", re.IGNORECASE
)


class Page(HTMLParser):
    """Ids, links and loaded files of one page, and its text."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.ids: set[str] = set()
        self.links: list[str] = []
        self.loads: list[str] = []
        self.text: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if name == "id" and value:
                self.ids.add(value)
            elif tag == "a" and name == "href" and value:
                self.links.append(value)
            elif (tag, name) in LOADING and value:
                self.loads.append(value)

    def handle_data(self, data: str) -> None:
        self.text.append(data)


@pytest.fixture(scope="module")
def parsed(built_site: Path) -> dict[Path, Page]:
    return {path: Page(path.read_text("utf-8")) for path in sorted(built_site.rglob("*.html"))}


def local(page: Path, address: str, site: Path) -> tuple[Path, str]:
    """The file that an address on a page leads to, and its fragment. 404.html is served from the root."""
    parts = urlsplit(address)
    path = unquote(parts.path)
    target = site / path.lstrip("/") if path.startswith("/") else page.parent / path if path else page
    return (target / "index.html" if target.is_dir() else target), unquote(parts.fragment)


def documents(site: Path) -> set[Path]:
    """The example jobs' reports, which stand alone."""
    return {site / page for _, page in REPORTS.values()}


def outside(pages: dict[Path, Page]) -> Iterator[tuple[Path, str]]:
    for path, page in pages.items():
        yield from ((path, address) for address in page.loads if urlsplit(address).netloc)


def test_pages_load_nothing_from_another_host(parsed: dict[Path, Page], built_site: Path) -> None:
    assert list(outside(parsed)) == []
    for style in built_site.rglob("*.css"):
        assert FETCHED_BY_STYLE.findall(style.read_text("utf-8")) == [], style.name


def test_links_lead_to_a_page_and_a_place_on_it(parsed: dict[Path, Page], built_site: Path) -> None:
    dead = []
    for path, page in parsed.items():
        for address in page.links + page.loads:
            if urlsplit(address).scheme or urlsplit(address).netloc:
                continue
            target, fragment = local(path, address, built_site)
            target = target.resolve()
            # A calculator's state (#e=1&…) stands in the fragment: it names no place.
            place_missing = fragment and "=" not in fragment and target in parsed and fragment not in parsed[target].ids
            if not target.is_file() or place_missing:
                dead.append(f"{path.relative_to(built_site)} -> {address}")
    assert dead == []


def test_no_page_promises(parsed: dict[Path, Page]) -> None:
    found = {str(path): hit[0] for path, page in parsed.items() if (hit := PROMISES.search(" ".join(page.text)))}
    assert found == {}


def test_first_aid_is_one_tap_from_every_page(parsed: dict[Path, Page], built_site: Path) -> None:
    """The example jobs' reports are none of them: they are documents, as the customer gets them."""
    card = built_site / "hurt" / "index.html"
    for path, page in parsed.items():
        if path in documents(built_site):
            continue
        assert any(local(path, address, built_site)[0].resolve() == card for address in page.links), path


def test_blanks_of_the_first_aid_page_are_printed(parsed: dict[Path, Page], built_site: Path) -> None:
    """A blank emergency number shows as such, not as nothing (safety rule of the house)."""
    assert "NOT FILLED IN" in " ".join(parsed[built_site / "hurt" / "index.html"].text)


def slanting(letter: str) -> str:
    """The letter that a browser draws for one that stands alone in a formula, by its name in Unicode."""
    script, _, name = unicodedata.name(letter).replace("LETTER ", "").partition(" ")
    if letter == "h" or script not in ("LATIN", "GREEK"):
        return "ℎ" if letter == "h" else letter
    return unicodedata.lookup(f"MATHEMATICAL ITALIC {name}")


def test_maths_font_holds_every_character_of_the_formulas(parsed: dict[Path, Page], built_site: Path) -> None:
    """What the cut font lacks would be drawn from another font, with brackets and roots that do not grow."""
    font = built_site / "assets" / "maths.woff2"
    assert font.stat().st_size <= 14_000
    cut = TTFont(font)
    has = set(cut.getBestCmap())
    formulas = re.findall(r"<math .*?</math>", "".join(path.read_text("utf-8") for path in parsed))
    assert len(formulas) > 30
    used = set("".join(re.sub(r"<[^>]*>", "", unescape(formula)) for formula in formulas))
    alone = {unescape(letter) for letter in re.findall(r"<mi>([^<&]|&[^;]+;)</mi>", "".join(formulas))}
    assert len(alone) > 20
    used = {letter for letter in used if unicodedata.category(letter) != "Cf"}  # invisible times and apply
    wanted = used | {slanting(letter) for letter in alone} | {"√"}
    assert {letter for letter in wanted if ord(letter) not in has} == set()
    grown = cut["MATH"].table.MathVariants.VertGlyphCoverage.glyphs
    assert {cut.getBestCmap()[ord(sign)] for sign in "()√"} <= set(grown)


def test_styles_and_first_script_are_small(built_site: Path) -> None:
    """Both stand before the first paint of every page."""
    assets = built_site / "assets"
    assert {path.name for path in assets.glob("*.css")} == {"site.css", "tables.css", "job.css"}
    assert len(gzip.compress((assets / "site.css").read_bytes(), 9)) <= 11_000
    assert len(gzip.compress((assets / "shop.js").read_bytes(), 9)) <= 1_600


def test_nothing_of_the_theme_is_published(built_site: Path) -> None:
    """It would be stored on every phone."""
    theme = Path(material.__file__).parent / "templates"
    names = {path.relative_to(theme).as_posix() for path in theme.glob("assets/**/*.*")}
    assert len(names) > 10
    assert {name for name in names if (built_site / name).exists()} == set()


def test_every_page_carries_the_content_policy(parsed: dict[Path, Page], built_site: Path) -> None:
    """A page runs no script and takes no style that stands in its markup or comes from elsewhere."""
    for path in parsed.keys() - documents(built_site):
        text = path.read_text("utf-8")
        policy = re.search(r'<meta http-equiv="Content-Security-Policy" content="([^"]+)">', text)
        assert policy is not None, path
        assert "default-src 'none'; script-src 'self'; style-src 'self';" in policy[1]
        assert re.findall(r"<style|<script(?! (?:defer )?src=)| style=| on[a-z]+=\"", text) == [], path
