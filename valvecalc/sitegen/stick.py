"""The built site as a folder that needs no server: from a stick, opened as index.html.

A browser shows the listing of a folder where a server would send its index.html, so links to folders are written out.
Scripts do the same by themselves on a page that was opened as index.html (shop.page).
"""

import re
from pathlib import Path, PurePosixPath
from shutil import copyfile, rmtree
from urllib.parse import unquote

from valvecalc.errors import DataError, InputError, Trouble

#: What only a server has a use for. A browser that opens files refuses the manifest loudly.
LEFT_OUT = ("sw.js", "404.html", "manifest.webmanifest", "sitemap.xml", "sitemap.xml.gz")
_MANIFEST = re.compile(r'<link rel="manifest"[^>]*>\n?')
_ADDRESS = re.compile(r'\b(href|action)="([^"#?]*)([^"]*)"')
_ELSEWHERE = re.compile(r"[a-z][a-z+.-]*:|//")


def empty_folder(wanted: str | None) -> Path:
    """The folder for the stick. One that somebody names is never emptied; .build/stick is ours."""
    folder = Path(wanted or ".build/stick")
    if not wanted:
        rmtree(folder, ignore_errors=True)
    elif folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise InputError(Trouble("--to", wanted, "a folder that is new or empty", "Name another one, or empty it."))
    return folder


def write_stick(site: Path, stick: Path) -> None:
    """Write the folder out of the built site. Raises DataError at a link to nowhere."""
    files = {path.relative_to(site).as_posix(): path for path in sorted(site.rglob("*")) if path.is_file()}
    for name, source in files.items():
        if name in LEFT_OUT:
            continue
        target = stick / name
        target.parent.mkdir(parents=True, exist_ok=True)
        if target.suffix == ".html":
            text = page_for_files(source.read_text("utf-8"), name, files)
            target.write_text(text, encoding="utf-8", newline="\n")
        else:
            copyfile(source, target)


def page_for_files(html: str, name: str, files: dict[str, Path]) -> str:
    """A page of the site whose links name files, not folders."""

    def written_out(found: re.Match[str]) -> str:
        attribute, path, rest = found.groups()
        if not path or _ELSEWHERE.match(path):
            return found[0]
        target = _target(name, unquote(path))
        if target in files:
            return found[0]
        if (f"{target}/index.html" if target else "index.html") not in files:
            raise DataError(f"{name} leads to {path}, which is no file of the site")
        return f'{attribute}="{path}{"" if path.endswith("/") else "/"}index.html{rest}"'

    return _ADDRESS.sub(written_out, _MANIFEST.sub("", html))


def _target(name: str, path: str) -> str:
    """The place that a relative address on a page leads to, counted from the root; empty for the root itself."""
    parts: list[str] = []
    for part in (*PurePosixPath(name).parent.parts, *path.split("/")):
        if part == "..":
            if not parts:
                raise DataError(f"{name} leads to {path}, which lies above the site")
            parts.pop()
        elif part not in ("", "."):
            parts.append(part)
    return "/".join(parts)
