"""What a page loads before anybody touches it, counted from the built files.

python -m tests.sitegen.budgets [SITE]       the table, heaviest page of each kind first (default .build/site)
"""

import gzip
import sys
from functools import cache
from pathlib import Path
from typing import NamedTuple

from tests.sitegen.markup import Markup, local, outside

FIRST_VIEW, FIRST_VIEW_MATHS = 40_000, 56_000  # bytes, each file by gzip -9
FONT, REQUESTS, A_PAGE = 14_000, 9, 9_000
#: Asked for by the frame's own script when the page has loaded (site/pages/assets/shop.js).
AFTER_LOAD = "assets/offline.js"
FONT_FILE = "assets/maths.woff2"
#: Part of the first view's count though a phone fetches them at its leisure, or not at all.
AT_LEISURE = ("assets/mark.svg", "manifest.webmanifest", "assets/offline.js")
PACKED = {".woff2", ".png"}  # gzip cannot make them smaller, and no server tries


class View(NamedTuple):
    """The first view of a page."""

    page: str
    maths: bool
    files: tuple[str, ...]
    size: int
    elsewhere: tuple[str, ...]

    @property
    def most(self) -> int:
        return FIRST_VIEW_MATHS if self.maths else FIRST_VIEW


@cache
def packed(path: Path) -> int:
    """Bytes of a file on the line."""
    text = path.read_bytes()
    return len(text) if path.suffix in PACKED else len(gzip.compress(text, 9, mtime=0))


def first_view(site: Path, path: Path) -> View:
    """What is loaded before a touch: the page, its styles and scripts, the font if it shows maths."""
    text = path.read_text("utf-8")
    page = Markup(text)
    maths = "<math" in text
    home_screen = {attrs["href"] for _, attrs in page.tags if attrs.get("rel") == "apple-touch-icon"}
    addresses = [address for address in page.loads() if address not in home_screen and not address.startswith("data:")]
    wanted = {path.resolve()} | {local(path, address, site)[0] for address in addresses if not outside(address)}
    if any(attrs.get("src", "").endswith("assets/shop.js") for _, attrs in page.tags):
        wanted.add((site / AFTER_LOAD).resolve())
        wanted |= {(site / FONT_FILE).resolve()} if maths else set()
    return View(
        page=path.relative_to(site).as_posix(),
        maths=maths,
        files=tuple(sorted(file.relative_to(site.resolve()).as_posix() for file in wanted)),
        size=sum(map(packed, wanted)),
        elsewhere=tuple(filter(outside, addresses)),
    )


def first_views(site: Path) -> list[View]:
    """Of every page, those nearest to their budget first. The report is a document, not a page in the frame."""
    views = [first_view(site, path) for path in sorted(site.rglob("*.html")) if not path.name.startswith("demo-")]
    return sorted(views, key=lambda view: view.size / view.most, reverse=True)


def stored_by_page(site: Path) -> tuple[int, int]:
    """Bytes of the whole site on the line, and the number of its pages."""
    files = [path for path in site.rglob("*") if path.is_file() and path.suffix not in (".gz", ".map")]
    return sum(map(packed, files)), sum(path.suffix == ".html" for path in files)


def kind(page: str) -> str:
    """Pages of one kind share a template: fault/coil-burns/bench/ is one of fault/…/bench/."""
    first, *rest = page.split("/")[:-1] or [""]
    return "/".join([first, *("…" if place in (0, len(rest) - 1) else name for place, name in enumerate(rest))])


def table(site: Path) -> str:
    """Markdown: the heaviest page of each kind against its budget, then the font and the site as a whole."""
    lines = ["| kind | pages | heaviest | kB | of | requests |", "|---|---:|---|---:|---:|---:|"]
    kinds: dict[tuple[str, bool], list[View]] = {}
    for view in first_views(site):
        kinds.setdefault((kind(view.page), view.maths), []).append(view)
    for (name, maths), views in kinds.items():
        heaviest = views[0]
        told = f"{name}{' (maths)' if maths else ''} | {len(views)} | {heaviest.page}"
        over = " **over**" if heaviest.size > heaviest.most or len(heaviest.files) > REQUESTS else ""
        lines.append(
            f"| {told} | {heaviest.size / 1000:.1f}{over} | {heaviest.most / 1000:.0f} | {len(heaviest.files)} |"
        )
    size, pages = stored_by_page(site)
    font = packed(site / FONT_FILE)
    lines += [
        "",
        f"font {font / 1000:.1f} kB of {FONT / 1000:.0f}; "
        f"whole site {size / 1000:.0f} kB, {pages} pages, {size / pages / 1000:.2f} kB a page of {A_PAGE / 1000:.0f}; "
        f"asked of other hosts: {sum(len(view.elsewhere) for view in first_views(site))}",
    ]
    return "\n".join(lines)


if __name__ == "__main__":
    print(table(Path(sys.argv[1] if len(sys.argv) > 1 else ".build/site")))
