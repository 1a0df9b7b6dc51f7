"""Speed of the shop's memory: `python -m tests.benchmark_history` reads ten thousand invented jobs.

The first reading is held against tomllib alone on the same files in the same run. Apart from the other benchmarks, for
it takes a quarter of a minute; the jobs are short ones, so that what is not tomllib's weighs the more.
"""

import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path
from time import perf_counter, sleep

from tests.benchmark_table import Table
from tests.history.making import make
from valvecalc.history import index
from valvecalc.history.entry import entry, titles

JOBS, WARM = 10_000, 200


def alone(paths: list[Path]) -> float:
    """Seconds that tomllib takes for these files."""
    began = perf_counter()
    for path in paths:
        with path.open("rb") as file:
            tomllib.load(file)
    return perf_counter() - began


def main() -> int:
    """Print every figure with its goal; 1 if one is missed."""
    told = Table()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        paths = make(folder, JOBS)
        sleep(index.YOUNG / 1e9)  # until then the index does not trust the files
        titles("symptoms"), entry("warm", {"times": {"intake": "5 min"}})
        alone(paths[:WARM])
        theirs = alone(paths)
        began = perf_counter()
        read = index.remember(folder)
        ours = perf_counter() - began
        assert (len(read.jobs), read.read) == (JOBS, JOBS)
        told.line(
            "ten thousand jobs read for the first time, over tomllib alone", ours / theirs, 4, beside=f"  {ours:.1f} s"
        )
        began = perf_counter()
        again = index.remember(folder)
        spent = perf_counter() - began
        assert (again.jobs, again.read) == (read.jobs, 0)
        told.line("the same from the index", spent, 2, "s")
        began = perf_counter()
        command = [sys.executable, "-m", "valvecalc", "history", name]
        subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
        told.line("valvecalc history from the index, whole process", perf_counter() - began, 2, "s")
    return 1 if told.over else 0


if __name__ == "__main__":
    raise SystemExit(main())
