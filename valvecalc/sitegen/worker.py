"""Writes the service worker of a built site (site/worker.js) with one content hash for each file."""

import gzip
import hashlib
import json
from collections.abc import Iterator
from fnmatch import fnmatch
from pathlib import Path
from typing import Any

from valvecalc.sitegen.assets import shrunk

#: Not kept on the device: the worker itself, and what no page asks for.
LEFT_OUT = ("sw.js", "sitemap.xml*", "*.map", "*.gz")
#: Stored first: with these a bench can start to work while the rest is still coming.
FIRST = (
    "index.html",
    "404.html",
    "manifest.webmanifest",
    *(f"{name}/index.html" for name in ("hurt", "find", "offline", "fault", "judge", "calc")),
    "assets/*",
    "judge/*",
    "calc/*",
)


def write_worker(site: Path, template: Path, version: str) -> None:
    """Write sw.js into the root of a built site. `version` is what the reader is told."""
    head = json.dumps(contents(site, version), ensure_ascii=False, separators=(",", ":"))
    script = shrunk(template.read_text(encoding="utf-8"), "application/javascript")
    text = f'"use strict";\nconst SITE = {head};\n{script}\n'
    (site / "sw.js").write_text(text, encoding="utf-8", newline="\n")


def contents(site: Path, version: str) -> dict[str, Any]:
    """What the worker knows of the site: its files in the order of storing, with their hashes and sizes."""
    paths = sorted(_files(site), key=lambda path: (_turn(path), path))
    texts = [(site / path).read_bytes() for path in paths]
    return {
        "version": version,
        "first": sum(_turn(path) < len(FIRST) for path in paths),
        "bytes": sum(map(len, texts)),
        "packed": sum(len(gzip.compress(text, mtime=0)) for text in texts),
        "files": {path: content_hash(text) for path, text in zip(paths, texts, strict=True)},
    }


def content_hash(text: bytes) -> str:
    """The first 12 hex digits of SHA-256, as the worker works them out again of what it has fetched."""
    return hashlib.sha256(text).hexdigest()[:12]


def _files(site: Path) -> Iterator[str]:
    for file in site.rglob("*"):
        path = file.relative_to(site).as_posix()
        if file.is_file() and not any(fnmatch(path, pattern) for pattern in LEFT_OUT):
            yield path


def _turn(path: str) -> int:
    """The place of a file in the order of storing; those of one turn go by name."""
    return next((turn for turn, pattern in enumerate(FIRST) if fnmatch(path, pattern)), len(FIRST))
