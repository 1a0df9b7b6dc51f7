"""The tags of a page, as the tests of the built site read them."""

from functools import cache
from html.parser import HTMLParser
from os.path import normpath
from pathlib import Path
from urllib.parse import unquote, urlsplit

#: What a browser fetches by itself, by tag and attribute. A link fetches only for these words of `rel`.
LOADS = {
    ("script", "src"),
    ("img", "src"),
    ("iframe", "src"),
    ("source", "src"),
    ("audio", "src"),
    ("video", "src"),
    ("video", "poster"),
    ("embed", "src"),
    ("object", "data"),
    ("image", "href"),
    ("use", "href"),
}
LOADING_LINKS = {"stylesheet", "icon", "manifest", "apple-touch-icon", "preload", "modulepreload", "prefetch"}


class Markup(HTMLParser):
    """Every start tag of a page with its attributes, and the text of its title, headings and scripts."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str]]] = []
        self.texts: dict[str, list[str]] = {}
        self._inside: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, {name: value or "" for name, value in attrs}))
        if tag in ("title", "h1", "script", "style"):
            self._inside.append(tag)
            self.texts.setdefault(tag, []).append("")

    def handle_endtag(self, tag: str) -> None:
        if self._inside and self._inside[-1] == tag:
            self._inside.pop()

    def handle_data(self, data: str) -> None:
        if self._inside:
            self.texts[self._inside[-1]][-1] += data

    def ids(self) -> list[str]:
        return [attrs["id"] for _, attrs in self.tags if "id" in attrs]

    def links(self) -> list[str]:
        """Where a reader can go."""
        ways = {("a", "href"), ("area", "href"), ("form", "action")}
        return [value for tag, attrs in self.tags for name, value in attrs.items() if (tag, name) in ways]

    def loads(self) -> list[str]:
        """What the page fetches by itself."""
        found = []
        for tag, attrs in self.tags:
            if tag == "link" and LOADING_LINKS & set(attrs.get("rel", "").split()):
                found.append(attrs["href"])
            found += [value for name, value in attrs.items() if (tag, name) in LOADS]
            found += [part.split()[0] for part in attrs.get("srcset", "").split(",") if part.strip()]
        return found


def local(page: Path, address: str, site: Path) -> tuple[Path, str]:
    """The file that an address on a page leads to, as a server finds it, and the fragment."""
    parts = urlsplit(address)
    path = unquote(parts.path)
    start = f"{site}/" if path.startswith("/") else f"{page.parent}/"
    return served(normpath(start + path) if path else str(page)), unquote(parts.fragment)


@cache
def served(place: str) -> Path:
    """The file that a server sends for a place; a hundred thousand links lead to a few hundred of them."""
    target = Path(place)
    return (target / "index.html" if target.is_dir() else target).resolve()


@cache
def is_there(file: Path) -> bool:
    """Whether a file of a finished site is there, asked once for all links to it."""
    return file.is_file()


def outside(address: str) -> bool:
    """Whether an address names a scheme or a host."""
    parts = urlsplit(address)
    return bool(parts.scheme or parts.netloc)
