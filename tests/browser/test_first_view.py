"""What Chromium really asks the server for before a touch is what the budgets count (tests/sitegen/budgets.py)."""

import functools
import threading
import time
from collections.abc import Iterator
from http.server import ThreadingHTTPServer
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.conftest import some
from tests.browser.reception import SOON, Quiet
from tests.sitegen.budgets import AT_LEISURE, first_view

BELOW = "/sub/path/"


@pytest.fixture
def watched(built_site: Path, tmp_path: Path) -> Iterator[tuple[str, list[str]]]:
    """The site under a sub-path, and what is asked of the server: what a browser hides from its page is seen too."""
    (tmp_path / "sub").mkdir()
    (tmp_path / "sub" / "path").symlink_to(built_site, target_is_directory=True)
    asked: list[str] = []

    class Watching(Quiet):
        def do_GET(self) -> None:
            asked.append(self.path)
            super().do_GET()

    server = ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Watching, directory=str(tmp_path)))
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}{BELOW}", asked
    server.shutdown()
    thread.join()
    server.server_close()


def names(asked: list[str]) -> set[str]:
    """Of the files asked for."""
    files = {path.removeprefix(BELOW) for path in asked}
    return {f"{path}index.html" if path.endswith("/") or not path else path for path in files}


def wait_for(page: Page, needed: set[str], asked: list[str]) -> None:
    """Until these are asked for, or never will be: on a busy machine half a second of silence proves nothing."""
    until = time.monotonic() + SOON / 1000
    while not needed <= names(asked) and time.monotonic() < until:
        page.wait_for_timeout(50)


def test_requests_before_a_touch_are_those_counted(
    browser: Browser, watched: tuple[str, list[str]], addresses: list[str], built_site: Path
) -> None:
    start, asked = watched
    # The worker stores the whole site behind the first view; what it moves is counted in test_offline.py.
    wrong = {}
    for address in some(addresses, 0.4):  # each waits for half a second of silence
        asked.clear()
        context = browser.new_context(viewport={"width": 360, "height": 640}, service_workers="block")
        page = context.new_page()
        counted = set(first_view(built_site, built_site / address / "index.html").files)
        needed = counted - set(AT_LEISURE)
        page.goto(start + address, wait_until="load")
        wait_for(page, needed, asked)
        page.wait_for_load_state("networkidle")
        context.close()
        got = names(asked)
        if not needed <= got <= counted or len(asked) != len(got):
            wrong[address] = {"more": sorted(got - counted), "fewer": sorted(counted - got), "asked": len(asked)}
    assert wrong == {}
