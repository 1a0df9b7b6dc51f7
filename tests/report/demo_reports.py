"""The three demo jobs worked, with an address of the shop's pages: what tests of links and verdicts share."""

import shutil
from functools import cache
from pathlib import Path
from typing import Any

from valvecalc.demo import JOBS, SIZE
from valvecalc.job.publish import work_job

NAMES = ("clamp-press", "plate-press", "carton-lift")
SITE = "https://shop.example/valves"


def shelves(folder: Path) -> Path:
    """The demo jobs with what they name beside them; the shop's pages have an address."""
    jobs = Path(shutil.copytree(JOBS, folder / "jobs"))
    shutil.copytree(SIZE, folder / "size")
    shop = jobs / "shop.toml"
    kept = [line for line in shop.read_text("utf-8").splitlines() if not line.startswith("site = ")]
    shop.write_text(f'site = "{SITE}"\n' + "\n".join(kept) + "\n", "utf-8")
    return jobs


@cache
def worked(folder: Path, name: str) -> dict[str, Any]:
    """The report of a demo job; nobody may change it."""
    return work_job(folder / f"{name}.toml")


def single(answer: dict[str, Any]) -> dict[str, dict[str, Any]]:
    """The results of an answer that are no table, by name."""
    return {row["name"]: row for row in answer["results"] if "rows" not in row}
