"""The markup of every page, as served and on a stick: links arrive, nothing comes from elsewhere or runs inline."""

import re
from collections import Counter
from os.path import normpath
from pathlib import Path
from urllib.parse import parse_qsl, unquote

import pytest

from tests.sitegen.markup import Markup, is_there, local, outside
from valvecalc.sitegen.demo import REPORTS
from valvecalc.sitegen.stick import write_stick

#: The reports are documents as the customer gets them, alone: they carry their own style, and keep to all the rest.
DOCUMENTS = {page for _, page in REPORTS.values()}
FETCHED_BY_STYLE = re.compile(r"""(?:url\(\s*['"]?|@import\s+['"]?)([^'")\s]+)""")
HOST = re.compile(r"""["'`]((?:https?:)?//[\w.-]+\.\w+[^"'`]*)""")
#: Names of languages, not addresses: no browser fetches them.
NAMES = ("http://www.w3.org/2000/svg", "http://www.w3.org/1998/Math/MathML", "http://www.w3.org/1999/xhtml")
POINTING = ("for", "aria-labelledby", "aria-describedby", "aria-controls", "aria-owns", "list", "headers", "form")
Pages = dict[Path, Markup]


@pytest.fixture(scope="module", params=("served", "stick"))
def site(request: pytest.FixtureRequest, built_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    if request.param == "served":
        return built_site
    stick = tmp_path_factory.mktemp("stick") / "pages"
    write_stick(built_site, stick)
    return stick


@pytest.fixture(scope="module")
def pages(site: Path) -> Pages:
    found = {path.resolve(): Markup(path.read_text("utf-8")) for path in sorted(site.rglob("*.html"))}
    assert len(found) > 250
    return found


def place(path: Path, site: Path) -> str:
    return path.relative_to(site.resolve()).as_posix()


def test_links_arrive_at_a_file_and_at_a_place_on_it(site: Path, pages: Pages) -> None:
    from_stick = not (site / "sw.js").exists()
    ids = {path: set(page.ids()) for path, page in pages.items()}
    entries = {  # a list has no field of its own, but a box named after it
        path: {attrs[key] for _, attrs in page.tags for key in ("name", "data-entry") if key in attrs}
        for path, page in pages.items()
    }
    dead, counted = [], 0
    for path, page in pages.items():
        for address in page.links() + page.loads():
            if outside(address):
                continue
            counted += 1
            target, fragment = local(path, address, site)
            named = unquote(address.partition("#")[0])
            if not is_there(target) or (from_stick and named and not is_there(Path(normpath(path.parent / named)))):
                dead.append(f"{place(path, site)} -> {address}: no file")
            elif "=" in fragment:  # the state of a calculator: the edition and entries by name
                wrong = {name for name, _ in parse_qsl(fragment)} - entries.get(target, set()) - {"e", "solve"}
                dead += [f"{place(path, site)} -> {address}: no entry {name}" for name in sorted(wrong)]
            elif fragment and fragment not in ids[target]:
                dead.append(f"{place(path, site)} -> {address}: no such place")
    assert counted > 5000
    assert dead == []


def test_ids_are_there_once_and_what_points_to_one_finds_it(site: Path, pages: Pages) -> None:
    wrong = []
    for path, page in pages.items():
        ids = page.ids()
        wrong += [f"{place(path, site)}: {one} twice" for one, times in Counter(ids).items() if times > 1]
        for _, attrs in page.tags:
            aims = {one for name in POINTING for one in attrs.get(name, "").split()}
            wrong += [f"{place(path, site)}: {one} is not there" for one in sorted(aims - set(ids))]
    assert wrong == []


def test_nothing_is_fetched_from_another_host(site: Path, pages: Pages) -> None:
    asked = [
        f"{place(path, site)}: {address}"
        for path, page in pages.items()
        for address in page.loads()
        if outside(address) and not address.startswith("data:")
    ]
    styles = {path: path.read_text("utf-8") for path in site.rglob("*.css")}
    styles |= {path: " ".join(page.texts.get("style", [])) for path, page in pages.items()}
    for path, style in styles.items():
        asked += [
            f"{path.name}: {address}"
            for address in FETCHED_BY_STYLE.findall(style)
            if outside(address) and address[:5] != "data:"
        ]
    for path in [*site.rglob("*.js"), *site.rglob("*.webmanifest"), *site.rglob("*.svg")]:
        hosts = [host for host in HOST.findall(path.read_text("utf-8")) if host not in NAMES]
        asked += [f"{path.name}: {host}" for host in hosts]
    assert asked == []


def test_links_to_other_hosts_are_only_sources(site: Path, pages: Pages) -> None:
    """A reader may follow them; they are https, open with no script and tell nothing of the page."""
    found = {address for page in pages.values() for address in page.links() if outside(address)}
    assert {address for address in found if not address.startswith(("https://", "tel:", "mailto:"))} == set()


def test_each_page_says_what_it_is(site: Path, pages: Pages) -> None:
    wrong, titles = [], {}
    for path, page in pages.items():
        first = dict(reversed(page.tags))  # the first of each tag
        heads = [" ".join(text.split()) for text in page.texts.get("h1", [])]
        title = [" ".join(text.split()) for text in page.texts.get("title", [])][:1]
        if len(heads) != 1 or not heads[0]:
            wrong.append(f"{place(path, site)}: h1 {heads}")
        if not title or len(title[0]) < 4:
            wrong.append(f"{place(path, site)}: title {title}")
        elif path.name != "404.html":
            titles.setdefault(title[0], []).append(place(path, site))
        if first["html"].get("lang") != "en":
            wrong.append(f"{place(path, site)}: lang")
        if "width=device-width" not in {a.get("name"): a.get("content", "") for t, a in page.tags if t == "meta"}.get(
            "viewport", ""
        ):
            wrong.append(f"{place(path, site)}: viewport")
    wrong += [f"one title, several pages: {title} {where}" for title, where in titles.items() if len(where) > 1]
    assert wrong == []


def test_nothing_runs_or_is_styled_inline(site: Path, pages: Pages) -> None:
    """What the content policy would refuse is not there in the first place."""
    wrong = []
    for path, page in pages.items():
        name = place(path, site)
        for tag, attrs in page.tags:
            bad = [key for key in attrs if key.startswith("on")]
            bad += [key for key in attrs if key == "style" and name not in DOCUMENTS]
            bad += [
                f"{key}={value}" for key, value in attrs.items() if re.match(r"\s*(javascript|vbscript):", value, re.I)
            ]
            bad += [tag] if tag in ("base", "iframe", "object", "embed", "applet") else []
            bad += ["inline"] if tag == "script" and "src" not in attrs else []
            bad += ["refresh"] if tag == "meta" and attrs.get("http-equiv", "").lower() == "refresh" else []
            wrong += [f"{name}: <{tag}> {one}" for one in bad]
        if any(text.strip() for text in page.texts.get("script", [])):
            wrong.append(f"{name}: a script stands in the page")
        if page.texts.get("style") and name not in DOCUMENTS:
            wrong.append(f"{name}: a style stands in the page")
    assert wrong == []
