"""Builds the site with mkdocs and shows a folder on this machine only."""

import os
import subprocess
import sys
from collections.abc import Callable
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from valvecalc.errors import InputError, Trouble


def shop_address(path: str | None) -> str:
    """Where others reach the shop's pages: `site` of a shop.toml, "" without one."""
    if path is None:
        return ""
    from valvecalc.job.read import read_shop

    address = read_shop(Path(path)).site
    if not address.startswith(("http://", "https://")):
        need = "an address that begins with https:// or http://"
        raise InputError(Trouble("site", address or "nothing", need, 'Write site = "https://…" into it.', path))
    return address


def build_site(folder: Path, progress: Callable[[str], None], address: str = "") -> Path:
    """Build the site strictly into a folder. Needs the source tree and the extra `site`.

    address  where others can reach it; citations and QR codes lead there
    """
    config = Path(__file__).resolve().parent.parent / "mkdocs.yml"
    if not config.exists():
        raise InputError(
            Trouble(
                "site",
                "an installation without the site's sources",
                "a clone of the project",
                "Run it from the clone, as the README says.",
            )
        )
    if find_spec("mkdocs") is None:
        raise InputError(Trouble("site", "no mkdocs", "the extra 'site'", "Install it: pip install -e '.[site]'"))
    progress("building the site")
    command = [
        sys.executable,
        "-m",
        "mkdocs",
        "build",
        "--strict",
        "--quiet",
        "-f",
        str(config),
        "-d",
        str(folder.resolve()),
    ]
    known = os.environ | ({"VALVECALC_SITE_ADDRESS": address} if address else {})
    done = subprocess.run(command, capture_output=True, text=True, check=False, env=known)
    if done.returncode != 0:
        raise InputError(
            Trouble(
                "site",
                (done.stderr or done.stdout).strip()[-800:],
                "a site that builds",
                "Correct the page named there.",
            )
        )
    return folder.resolve()


class _Quiet(SimpleHTTPRequestHandler):
    #: What a page needs under its own name wherever it is shown: the machine's own table of types may lack them.
    extensions_map = SimpleHTTPRequestHandler.extensions_map | {
        ".js": "text/javascript",
        ".svg": "image/svg+xml",
        ".webmanifest": "application/manifest+json",
        ".woff2": "font/woff2",
    }

    def end_headers(self) -> None:
        """The worker is asked for anew each time: it names the pages of today."""
        if getattr(self, "path", "").split("?")[0].endswith("/sw.js"):  # none yet at a request that cannot be read
            self.send_header("Cache-Control", "no-store")
        super().end_headers()

    def log_message(self, *_: Any) -> None:
        """Requests of one's own browser are no news."""


def serve(folder: Path, at: str = "") -> None:
    """Show a folder on a free port of the loopback address until Ctrl-C."""

    class Handler(_Quiet):
        def __init__(self, *arguments: Any, **named: Any) -> None:
            super().__init__(*arguments, directory=str(folder), **named)

    with _server(Handler) as server:
        port = server.server_address[1]
        print(f"Open http://127.0.0.1:{port}/{at}   (this machine only; Ctrl-C ends it)", flush=True)
        try:
            server.serve_forever()
        except KeyboardInterrupt:
            print("\nEnded.")


def _server(handler: type[SimpleHTTPRequestHandler]) -> ThreadingHTTPServer:
    try:
        return ThreadingHTTPServer(("127.0.0.1", 8014), handler)
    except OSError:
        return ThreadingHTTPServer(("127.0.0.1", 0), handler)
