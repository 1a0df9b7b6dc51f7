"""The files of the built site: links, hosts, promises. No browser needed."""

import json
import re
from collections.abc import Iterator
from html import unescape
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest

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
    """The example job's report is none of them: it is a document, as the customer gets it."""
    card = built_site / "hurt" / "index.html"
    document = built_site / "job" / "demo-report.html"
    for path, page in parsed.items():
        if path == document:
            continue
        assert any(local(path, address, built_site)[0].resolve() == card for address in page.links), path


def test_blanks_of_the_first_aid_page_are_printed(parsed: dict[Path, Page], built_site: Path) -> None:
    """A blank emergency number shows as such, not as nothing (safety rule of the house)."""
    assert "NOT FILLED IN" in " ".join(parsed[built_site / "hurt" / "index.html"].text)


def characters(style: str) -> set[int]:
    """Code points that the maths font is cut to, as its style declares them."""
    rule = re.search(r'@font-face \{ font-family: "Shop Maths".*?unicode-range: ([^;]+);', style)
    assert rule is not None
    found: set[int] = set()
    for run in rule[1].split(", "):
        low, _, high = run.removeprefix("U+").partition("-")
        found |= set(range(int(low, 16), int(high or low, 16) + 1))
    return found


def test_maths_font_holds_every_character_of_the_formulas(parsed: dict[Path, Page], built_site: Path) -> None:
    """What the cut font lacks would be drawn from another font, with brackets and roots that do not grow."""
    cut = characters((built_site / "assets" / "shop.css").read_text("utf-8"))
    assert (built_site / "assets" / "maths.woff2").stat().st_size < 40_000
    formulas = re.findall(r"<math .*?</math>", "".join(path.read_text("utf-8") for path in parsed))
    assert len(formulas) > 30
    used = set("".join(re.sub(r"<[^>]*>", "", unescape(formula)) for formula in formulas))
    assert {letter for letter in used if ord(letter) not in cut} == set()
    # A single letter slants: the browser takes it from the block of slanting letters.
    assert {0x1D44E, 0x1D434, 0x1D6FC, 0x210E} <= cut


def test_every_page_of_a_calculation_can_be_searched_by_title_and_id(built_site: Path) -> None:
    entries = json.loads((built_site / "search" / "search_index.json").read_text("utf-8"))["docs"]
    texts = {entry["location"]: f"{entry['title']} {entry['text']}" for entry in entries}
    assert "Leakage past a spool land" in texts["calc/annular-leakage/"]
    assert "annular-leakage" in texts["calc/annular-leakage/"]
