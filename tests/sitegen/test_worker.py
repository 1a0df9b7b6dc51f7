"""What the service worker is told of the site, the stick's links, the hosting page and the server for a look."""

import json
import os
import re
import subprocess
import sys
import threading
from http.server import ThreadingHTTPServer
from pathlib import Path
from urllib.request import urlopen

import pytest
from mkdocs.utils.yaml import yaml_load

from valvecalc.cli import main
from valvecalc.errors import DataError
from valvecalc.serving import _Quiet
from valvecalc.sitegen.stick import page_for_files, write_stick
from valvecalc.sitegen.worker import contents, write_worker

ROOT = Path(__file__).parents[2]


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A site of a few files."""
    site = tmp_path / "site"
    for name in (
        "index.html",
        "404.html",
        "learn/index.html",
        "judge/coil/index.html",
        "assets/a.js",
        "do/x/index.html",
    ):
        (site / name).parent.mkdir(parents=True, exist_ok=True)
        (site / name).write_text(f"<p>{name}</p>", "utf-8")
    (site / "sitemap.xml").write_text("<x/>", "utf-8")
    return site


def site_of(worker: str) -> dict[str, object]:
    found = re.search(r"^const SITE = (.*);$", worker, re.MULTILINE)
    assert found is not None
    told: dict[str, object] = json.loads(found[1])
    return told


def test_the_worker_knows_every_file_and_what_comes_first(small: Path) -> None:
    write_worker(small, ROOT / "site" / "worker.js", "1")
    told = site_of((small / "sw.js").read_text("utf-8"))
    assert list(told["files"]) == [  # type: ignore[call-overload]
        "index.html", "404.html", "assets/a.js", "judge/coil/index.html", "do/x/index.html", "learn/index.html",
    ]  # fmt: skip
    assert told["first"] == 4
    # sha256sum of "<p>index.html</p>", first 12 digits, from coreutils
    assert told["files"]["index.html"] == "4e65d041b20a"  # type: ignore[index]


def test_the_same_site_gives_the_same_worker_and_a_change_one_other_hash(small: Path) -> None:
    first = contents(small, "1")
    write_worker(small, ROOT / "site" / "worker.js", "1")
    assert contents(small, "1") == first  # the worker is no part of it
    (small / "learn" / "index.html").write_text("<p>other</p>", "utf-8")
    then = contents(small, "1")
    assert [name for name in first["files"] if first["files"][name] != then["files"][name]] == ["learn/index.html"]


def test_two_builds_give_the_same_scripts() -> None:
    """Whatever order the machine takes sets in: a phone would fetch each script that differs."""
    code = (
        "import hashlib\n"
        "from valvecalc.door import load\nfrom valvecalc.formula import REGISTER\n"
        "from valvecalc.sitegen.calculators import calculator_scripts\nload()\n"
        "made = calculator_scripts([card for card in REGISTER.values() if not card.part])\n"
        "print({name: hashlib.sha256(text.encode()).hexdigest() for name, text in made.items()})"
    )
    told = [
        subprocess.run(
            [sys.executable, "-c", code],
            env=os.environ | {"PYTHONHASHSEED": seed},
            cwd=ROOT,
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert len(told[0]) > 1000
    assert told[0] == told[1]


def test_the_whole_site_costs_less_than_9_kb_a_page(built_site: Path) -> None:
    told = contents(built_site, "1")
    pages = sum(name.endswith(".html") for name in told["files"])
    assert pages > 250
    assert told["packed"] / pages <= 9000


FILES = {name: Path(name) for name in ("index.html", "a/index.html", "a/b/index.html", "a/paper.html", "assets/s.css")}


@pytest.mark.parametrize(
    ("name", "before", "after"),
    [
        ("index.html", 'href="a/"', 'href="a/index.html"'),
        ("index.html", 'href="./a/#x"', 'href="./a/index.html#x"'),
        ("index.html", 'href="./."', 'href="././index.html"'),
        ("a/b/index.html", 'href="../../"', 'href="../../index.html"'),
        ("a/b/index.html", 'href="../.."', 'href="../../index.html"'),
        ("a/b/index.html", 'href=".."', 'href="../index.html"'),
        ("a/b/index.html", 'action="../"', 'action="../index.html"'),
        ("a/b/index.html", 'href="../paper.html"', 'href="../paper.html"'),
        ("a/index.html", 'href="../assets/s.css"', 'href="../assets/s.css"'),
        ("a/index.html", 'href="#e=1&amp;a=1/2"', 'href="#e=1&amp;a=1/2"'),
        ("a/index.html", 'href="https://standard.example/"', 'href="https://standard.example/"'),
        ("a/index.html", 'href="mailto:a@b.example"', 'href="mailto:a@b.example"'),
        ("index.html", '<link rel="manifest" href="manifest.webmanifest">\n<p>', "<p>"),
    ],
)
def test_links_of_the_stick_name_files(name: str, before: str, after: str) -> None:
    assert page_for_files(before, name, FILES) == after


@pytest.mark.parametrize("link", ("nowhere/", "../", "../../a/", "a/c/"))
def test_a_link_to_nowhere_stops_the_stick(link: str) -> None:
    with pytest.raises(DataError, match=r"index\.html leads to"):
        page_for_files(f'href="{link}"', "index.html", FILES)


def test_the_stick_of_the_built_site(built_site: Path, tmp_path: Path) -> None:
    """Every link of every page names a file that is there; what only a server needs is left out."""
    stick = tmp_path / "stick"
    write_stick(built_site, stick)
    pages = list(stick.rglob("*.html"))
    assert len(pages) == len(list(built_site.rglob("*.html"))) - 1  # 404.html
    for page in pages:
        for link in re.findall(r'\b(?:href|action|src)="([^"#?]+)', page.read_text("utf-8")):
            if not re.match(r"[a-z]+:", link):
                assert (page.parent / link).is_file(), f"{page.relative_to(stick)} -> {link}"
    assert not [name for name in ("sw.js", "manifest.webmanifest", "404.html") if (stick / name).exists()]


def test_a_folder_that_holds_something_is_left_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kept = tmp_path / "holiday.jpg"
    kept.write_bytes(b"x")
    assert main(["site", "--stick", "--to", str(tmp_path)]) == 2
    assert "new or empty" in capsys.readouterr().err
    assert kept.read_bytes() == b"x"
    assert main(["site", "--to", str(tmp_path / "new")]) == 2
    assert "--stick" in capsys.readouterr().err


def test_the_hosting_page_names_the_policy_of_the_pages() -> None:
    """Both examples send the policy that stands in the pages, and frame-ancestors, which only a header can say."""
    config = yaml_load((ROOT / "mkdocs.yml").read_text("utf-8"))
    policy = " ".join(config["extra"]["content_policy"].split())
    told = (ROOT / "site" / "pages" / "hosting.md").read_text("utf-8")
    assert told.count(f"\"{policy}; frame-ancestors 'none'\"") == 2


def test_the_server_for_a_look_sends_types_and_a_fresh_worker(small: Path) -> None:
    (small / "sw.js").write_text("", "utf-8")
    (small / "m.webmanifest").write_text("{}", "utf-8")
    (small / "f.woff2").write_bytes(b"")

    class Handler(_Quiet):
        def __init__(self, *arguments: object, **named: object) -> None:
            super().__init__(*arguments, directory=str(small), **named)  # type: ignore[arg-type]

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    thread = threading.Thread(target=server.serve_forever, daemon=True)
    thread.start()
    told = {}
    for name in ("sw.js", "m.webmanifest", "f.woff2", "assets/a.js"):
        with urlopen(f"http://127.0.0.1:{server.server_port}/{name}") as answer:
            told[name] = (answer.headers.get_content_type(), answer.headers["Cache-Control"])
    server.shutdown()
    thread.join()
    server.server_close()
    assert told == {
        "sw.js": ("text/javascript", "no-store"),
        "m.webmanifest": ("application/manifest+json", None),
        "f.woff2": ("font/woff2", None),
        "assets/a.js": ("text/javascript", None),
    }
