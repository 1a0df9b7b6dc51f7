"""A site under a sub-path on a server that can fail or end, and a phone that goes there."""

import threading
from collections.abc import Callable
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any
from urllib.error import URLError
from urllib.request import urlopen

import pytest
from playwright.sync_api import BrowserContext, ConsoleMessage, Page, expect

from valvecalc.sitegen.worker import write_worker

TEMPLATE = Path(__file__).parents[2] / "site" / "worker.js"
BELOW = "/shop/pages/"
SOON = 60_000  # ms, on a machine that does other work too
STORED = "Stored for offline"
FRESH = "New pages are there"


class Quiet(SimpleHTTPRequestHandler):
    """Serves the built site without a line for each request."""

    def log_message(self, format: str, *args: Any) -> None:
        pass


class Host:
    """A server that shows a site under a sub-path, writes down what it is asked for, and can fail or end."""

    def __init__(self, site: Path, folder: Path) -> None:
        self.asked: list[str] = []
        self.broken: dict[str, int | bytes] = {}  # path below the site -> status, or a text that comes instead
        (folder / "shop").mkdir(parents=True)
        (folder / "shop" / "pages").symlink_to(site, target_is_directory=True)
        host = self

        class Handler(Quiet):
            def do_GET(self) -> None:
                path = self.path.split("?")[0].removeprefix(BELOW)
                host.asked.append(path)
                fault = host.broken.get(path)
                if isinstance(fault, int):
                    self.send_error(fault)
                elif fault is not None:
                    self.send_response(200)
                    self.send_header("Content-Type", "text/html")
                    self.send_header("Content-Length", str(len(fault)))
                    self.end_headers()
                    self.wfile.write(fault)
                else:
                    super().do_GET()

        self._server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Handler, directory=str(folder)))
        self._thread = threading.Thread(target=self._server.serve_forever, daemon=True)
        self._thread.start()
        self.port = self._server.server_port
        self.start = f"http://127.0.0.1:{self.port}{BELOW}"

    def end(self) -> None:
        """Nobody listens afterwards, and that is checked."""
        if self._thread.is_alive():
            self._server.shutdown()
            self._thread.join()
            self._server.server_close()
        with pytest.raises(URLError):
            urlopen(self.start, timeout=2)


Serve = Callable[[Path], Host]


class Phone:
    """A phone's browser: its pages, and what they complained of."""

    def __init__(self, context: BrowserContext) -> None:
        self.context = context
        self.complaints: list[str] = []
        self.page = self.window()

    def window(self) -> Page:
        page = self.context.new_page()
        page.on("console", self._heard)
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        return page

    def _heard(self, message: ConsoleMessage) -> None:
        if message.type in ("error", "warning"):
            self.complaints.append(f"{message.text} {message.location['url']}")

    def visit(self, address: str, words: str = STORED) -> None:
        """Open a page and wait until the strip says so."""
        self.page.goto(address)
        says(self.page, words)

    def stored(self) -> list[str]:
        """The addresses in the store, in order."""
        found: list[str] = self.page.evaluate(
            """async () => (await Promise.all((await caches.keys()).map(async (name) =>
                (await (await caches.open(name)).keys()).map((request) => request.url)))).flat().sort()"""
        )
        return found


def says(page: Page, words: str) -> None:
    expect(page.locator(".strip__offline")).to_have_text(words, timeout=SOON)


def update(site: Path, page: str, words: str) -> None:
    """A new version of the site in which one page says something more."""
    file = site / page / "index.html"
    file.write_text(file.read_text("utf-8").replace("</article>", f"<p>{words}</p></article>"), "utf-8")
    write_worker(site, TEMPLATE, "the next version")


def h1(page: Page) -> str:
    return page.locator("h1").inner_text()
