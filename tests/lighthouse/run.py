"""Measures a built site as a phone would meet it; exits 1 where a goal is missed. Builds nothing.

    python -m tests.lighthouse.run [SITE] [--runs 5] [--only lighthouse|hand]

Lighthouse (mobile: slow 4G simulated, 4x CPU) looks at one page of each kind over HTTP/2 and TLS under a sub-path,
then `hand.py` at what Lighthouse never touches: a key, a tap, the second page, the search. Needs node, openssl and
chromium; the first run fetches Lighthouse by npm into .build/lighthouse. The figures are times: let nothing else run.
"""

import argparse
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from shutil import which
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple

from tests.lighthouse import hand

HERE = Path(__file__).parent
ROOT = HERE.parents[1]
VERSION = "12.8.2"
BELOW = "shop/pages/"  # as host.mjs serves it
PAGES = {
    "home": "",
    "symptom": "fault/coil-burns/",
    "judge": "judge/coil-check/",
    "formula": "calc/annular-leakage/",
    "words": "words/",
}
BARE = "bare/"  # a heading and nothing else, made by host.mjs: what any page costs on this machine


class Goal(NamedTuple):
    """A figure of the table and the most (or, of a score, the least) that it may be."""

    name: str
    bound: float
    places: int
    score: bool = False

    def met(self, value: float) -> bool:
        value = round(value, self.places)
        return value >= self.bound if self.score else value <= self.bound

    def told(self, value: float) -> str:
        return f"{value:.{self.places}f}" + ("" if self.met(value) else " **missed**")


SCORES = [Goal(name, 100, 0, score=True) for name in ("performance", "access", "practices", "search engines")]
LCP, TBT, CLS = Goal("LCP s", 1.10, 2), Goal("TBT ms", 10, 0), Goal("CLS", 0, 3)
KB, KB_MATHS, REQUESTS = Goal("kB", 40, 1), Goal("kB", 56, 1), Goal("requests", 9, 0)


def lighthouse_modules() -> Path:
    """The node_modules folder with the pinned Lighthouse; fetched once. $LIGHTHOUSE_MODULES names another one."""
    if named := os.environ.get("LIGHTHOUSE_MODULES"):
        return Path(named)
    home = ROOT / ".build" / "lighthouse"
    package = home / "node_modules" / "lighthouse" / "package.json"
    if not package.exists() or json.loads(package.read_text("utf-8"))["version"] != VERSION:
        home.mkdir(parents=True, exist_ok=True)
        command = ["npm", "install", "--no-audit", "--no-fund", "--prefix", str(home), f"lighthouse@{VERSION}"]
        subprocess.run(command, check=True)
    return home / "node_modules"


@contextmanager
def hosted(site: Path) -> Iterator[str]:
    """The address of the site over HTTP/2 with a certificate of the moment."""
    with TemporaryDirectory() as folder:
        key, certificate = f"{folder}/key.pem", f"{folder}/certificate.pem"
        openssl = ["openssl", "req", "-x509", "-newkey", "rsa:2048", "-nodes", "-days", "1", "-subj", "/CN=localhost"]
        subprocess.run([*openssl, "-keyout", key, "-out", certificate], check=True, capture_output=True)
        command = ["node", str(HERE / "host.mjs"), str(site), key, certificate]
        with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as host:
            assert host.stdout is not None and host.stdin is not None
            yield f"https://localhost:{host.stdout.readline().strip()}/{BELOW}"
            host.stdin.close()


def lighthouse(site: Path, runs: int) -> bool:
    """Print the medians of some runs on each page; whether all goals are met."""
    with hosted(site) as start:
        command = ["node", str(HERE / "measure.mjs"), str(lighthouse_modules()), str(runs)]
        environment = {**os.environ, "CHROME_PATH": which("chromium") or ""}
        done = subprocess.run(
            [*command, *(start + path for path in (BARE, *PAGES.values()))],
            env=environment,
            stdout=subprocess.PIPE,
            text=True,
            check=True,
        )
    rows = [json.loads(line) for line in done.stdout.splitlines()]
    broken = [row["error"] for row in rows if row["error"]]
    if broken:
        raise SystemExit(f"Lighthouse could not load a page: {broken[0]}")
    speed = [row["speed"] for row in rows]
    print(f"Lighthouse {rows[0]['version']}, mobile, HTTP/2 and TLS, median of {runs} runs")
    print(f"Its benchmark index of this machine: {median(speed):.0f} ({min(speed):.0f} to {max(speed):.0f})")
    print("| page | " + " | ".join(goal.name for goal in (*SCORES, LCP, TBT, CLS, KB, REQUESTS)) + " |")
    print("|---" * 10 + "|")
    met = True
    bare = [row for row in rows if row["address"] == start + BARE]
    lcp, tbt = (median(row[name] for row in bare) for name in ("lcp", "tbt"))
    print(f"| (a bare page) | | | | | {lcp / 1000:.2f} | {tbt:.0f} | | | |")
    for name, path in PAGES.items():
        mine = [row for row in rows if row["address"] == start + path]
        met &= _line(name, mine, maths="<math" in (site / path / "index.html").read_text("utf-8"))
    return met


def _line(name: str, rows: list[dict[str, Any]], *, maths: bool) -> bool:
    figures = [
        *((goal, median(row["scores"][place] for row in rows)) for place, goal in enumerate(SCORES)),
        (LCP, median(row["lcp"] for row in rows) / 1000),
        (TBT, median(row["tbt"] for row in rows)),
        (CLS, median(row["cls"] for row in rows)),
        (KB_MATHS if maths else KB, median(row["kB"] for row in rows)),
        (REQUESTS, median(len(row["requests"]) for row in rows)),
    ]
    print(f"| {name} | " + " | ".join(goal.told(value) for goal, value in figures) + " |")
    low = sorted({audit for row in rows for audit in row["low"]})
    other = sorted({address for row in rows for address in row["other"]})
    if low or other:
        print(f"  {name}: audits below 0.9: {', '.join(low) or 'none'}; other hosts: {', '.join(other) or 'none'}")
    return not other and all(goal.met(value) for goal, value in figures)


def main() -> int:
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("site", nargs="?", type=Path, default=ROOT / ".build" / "site")
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--only", choices=("lighthouse", "hand"))
    asked = parser.parse_args()
    if not (asked.site / "index.html").exists():
        parser.error(f"{asked.site} holds no built site: run `valvecalc site` first")
    met = True
    if asked.only != "hand":
        met &= lighthouse(asked.site, asked.runs)
    if asked.only != "lighthouse":
        met &= hand.report(asked.site, asked.runs)
    print("all goals met" if met else "a goal was missed")
    return 0 if met else 1


if __name__ == "__main__":
    sys.exit(main())
