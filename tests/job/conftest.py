"""Jobs as plain data, worked without a file: the demo, and a small one that has every key once."""

import json
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from valvecalc.job.compute import Findings, compute
from valvecalc.job.read import Job, read_job
from valvecalc.job.report import report

Table = dict[str, Any]
DEMO = Path(__file__).parents[2] / "valvecalc" / "demo" / "jobs"
JOBS = Path(__file__).parent / "jobs"


def toml(value: Any) -> str:
    """A value as TOML: texts, numbers, booleans, lists and inline tables are all that a job file holds."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {toml(one)}" for key, one in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(map(toml, value)) + "]"
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False)
    return str(value)


@pytest.fixture
def demo() -> Table:
    """The demo's job as a table that a test may change."""
    return tomllib.loads((DEMO / "clamp-press.toml").read_text("utf-8"))


@pytest.fixture
def read(tmp_path: Path) -> Callable[..., Job]:
    """Reads a job given as a table (or as text), with the shop of the demo unless another is given."""

    def read(job: Table | str, shop: Table | str | None = None) -> Job:
        path = tmp_path / "job.toml"
        text = job if isinstance(job, str) else "\n".join(f"{key} = {toml(value)}" for key, value in job.items())
        path.write_text(text, "utf-8")
        if shop is None:
            return read_job(path, DEMO / "shop.toml")
        told = shop if isinstance(shop, str) else "\n".join(f"{key} = {toml(value)}" for key, value in shop.items())
        (tmp_path / "shop.toml").write_text(told, "utf-8")
        return read_job(path)

    return read


@pytest.fixture
def work(read: Callable[..., Job]) -> Callable[..., tuple[Findings, Table]]:
    """Findings and report of a job given as a table."""

    def work(job: Table | str, shop: Table | str | None = None) -> tuple[Findings, Table]:
        told = read(job, shop)
        found = compute(told)
        return found, report(told, found)

    return work


@pytest.fixture
def without_causes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leaves the single causes out, three quarters of the time of a job, where a test asks for nothing of them."""
    from valvecalc.job import compute

    whole = compute.fast
    empty: Table = {"single_causes": []}
    monkeypatch.setattr(
        compute, "fast", lambda card, *rest: (lambda _: empty) if card.id == "each-cause" else whole(card, *rest)
    )


@pytest.fixture
def without_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    """Leaves the worked lines out, half the time of a job without its single causes, where a test reads none."""
    monkeypatch.setattr("valvecalc.answer_json._steps", lambda _: [])


#: What the jobs say that `work_once` was asked for last, by job and shop.
ONCE: dict[str, Any] = {}


@pytest.fixture
def work_once(
    work: Callable[..., tuple[Findings, Table]], without_causes: None, without_lines: None
) -> Callable[..., tuple[Findings, Table]]:
    """`work` without single causes and worked lines, the same job not twice; what it gives is not to be changed."""

    def once(job: Table | str, shop: Table | str | None = None) -> tuple[Findings, Table]:
        key = repr((job, shop))
        ONCE[key] = ONCE.pop(key) if key in ONCE else work(job, shop)
        if len(ONCE) > 8:
            del ONCE[next(iter(ONCE))]
        return ONCE[key]

    return once
