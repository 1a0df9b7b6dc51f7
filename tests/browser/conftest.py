"""Chromium over the built site, served on loopback; every page is visited once and measured."""

import functools
import re
import shutil
import threading
from collections.abc import Iterable, Iterator
from http.server import ThreadingHTTPServer
from pathlib import Path
from shutil import which
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from tests.browser.reception import Host, Phone, Quiet, Serve

FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
# What only works with script stands on the page in another form without: a conversation, a worked example, a sentence.
TEXT = """() => {
    for (const e of document.querySelectorAll("#finder, .fits__yours, .offline, .with-script, .entries")) e.remove();
    for (const e of document.querySelectorAll("article details")) e.open = true;
    return document.querySelector("article").innerText;
}"""
MEASURE = Path(__file__).with_name("measure.js").read_text("utf-8")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """A browser test that fails is run once more: on a machine that does other work a renderer may stand still for
    seconds. The summary names those that needed it (R); one that needs it twice in a week is mended, not run again."""
    here = Path(__file__).parent
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.flaky(reruns=1))


@pytest.fixture(scope="session")
def served(built_site: Path) -> Iterator[str]:
    """Address of the site on loopback, with a slash at its end."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(built_site)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}/"
    server.shutdown()
    thread.join()
    server.server_close()


#: Pages made in hundreds by one function: some of a kind stand for all where looking takes a second a page.
KINDS = {
    r"fault/causes/[^/]+/": 5,
    r"fault/roots/[^/]+/": 5,
    r"fault/[^/]+/bench/": 5,
    r"fault/[^/]+/": 5,
    r"do/[^/]+/": 5,
    r"words/[^/]+/": 5,
    r"learn/[^/]+/": 20,
    r"table/[^/]+/": 12,
    r"calc/[^/]+/": 16,
    r"judge/[^/]+/": 16,
}


def some(pages: Iterable[str], share: float = 1.0) -> list[str]:
    """All pages but those of which there are many of a kind, and some of each of these (`share`: of KINDS)."""
    kinds: dict[str, list[str]] = {}
    for address in sorted(pages):
        kind = next((kind for kind in KINDS if re.fullmatch(kind, address)), address)
        kinds.setdefault(kind, []).append(address)
    return sorted(
        one for kind, group in kinds.items() for one in spread(group, max(1, round(share * KINDS.get(kind, 1))))
    )


def spread(group: list[str], most: int) -> list[str]:
    """So many of them, evenly."""
    return group[:: max(1, len(group) // most)][:most]


@pytest.fixture(scope="session")
def every_address(built_site: Path) -> list[str]:
    """Every page of the site, relative to its start."""
    return sorted(page.parent.relative_to(built_site).as_posix() + "/" for page in built_site.rglob("index.html"))


@pytest.fixture(scope="session")
def addresses(every_address: list[str]) -> list[str]:
    """The pages of the survey."""
    return some(every_address)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        chromium = playwright.chromium.launch(executable_path=which("chromium"), args=FLAGS)
        yield chromium
        chromium.close()


def lay_out_all(context: BrowserContext, site: Path) -> None:
    """What the style sheet lays out when the thumb comes near is laid out at once: innerText passes over the rest."""
    css = site.joinpath("assets/site.css").read_text("utf-8")
    assert css.count("content-visibility:auto") == 1
    whole = css.replace("content-visibility:auto", "content-visibility:visible")
    context.route("**/assets/site.css", lambda route: route.fulfill(body=whole, content_type="text/css"))


@pytest.fixture(scope="session")
def survey(browser: Browser, served: str, addresses: list[str], built_site: Path) -> dict[str, dict[str, Any]]:
    """What measure.js finds on each page, by width and scheme, with its requests and console errors."""
    found: dict[str, dict[str, Any]] = {}
    context = browser.new_context(color_scheme="light", service_workers="block")  # a worker passes by what is routed
    lay_out_all(context, built_site)
    page = context.new_page()
    requests: list[str] = []
    errors: list[str] = []
    page.on("request", lambda request: requests.append(request.url))
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: errors.append(str(error)))
    for address in addresses:
        requests.clear()
        errors.clear()
        page.set_viewport_size({"width": 360, "height": 640})
        page.goto(served + address)
        page.evaluate(MEASURE)
        row: dict[str, Any] = {}
        for width, scheme in ((360, "default"), (360, "slate"), (320, "default"), (1280, "default"), (1280, "slate")):
            page.set_viewport_size({"width": width, "height": 640})
            row[f"{width} {scheme}"] = page.evaluate("scheme => measure(scheme)", scheme)
        page.set_viewport_size({"width": 360, "height": 640})
        row["text"] = page.evaluate(TEXT)
        found[address] = row | {"requests": list(requests), "errors": list(errors)}
    context.close()
    return found


@pytest.fixture
def serve(tmp_path: Path) -> Iterator[Serve]:
    hosts: list[Host] = []

    def started(site: Path) -> Host:
        hosts.append(Host(site, tmp_path / f"host{len(hosts)}"))
        return hosts[-1]

    yield started
    for host in hosts:
        host.end()


@pytest.fixture
def copy(built_site: Path, tmp_path: Path) -> Path:
    """A copy of the site that a test may change."""
    return Path(shutil.copytree(built_site, tmp_path / "copy"))


@pytest.fixture
def phone(browser: Browser) -> Iterator[Phone]:
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True, reduced_motion="reduce")
    phone = Phone(context)
    yield phone
    context.close()


@pytest.fixture
def narrow(browser: Browser) -> Iterator[BrowserContext]:
    """A browser as wide as a small phone, without the worker."""
    context = browser.new_context(viewport={"width": 360, "height": 640}, has_touch=True, service_workers="block")
    yield context
    context.close()


@pytest.fixture
def bench(narrow: BrowserContext) -> Iterator[Page]:
    """A page in it; whatever it complains of fails the test."""
    page = narrow.new_page()
    errors: list[str] = []
    page.on("pageerror", lambda error: errors.append(str(error)))
    page.on("console", lambda message: errors.append(message.text) if message.type == "error" else None)
    yield page
    assert errors == []
