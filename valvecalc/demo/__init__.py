"""An invented shop with three invented jobs (repaired, replaced, no fault found); `valvecalc demo` works the first.

No real shop, machine or valve; the photographs are drawn.
"""

from collections.abc import Callable
from pathlib import Path

JOBS = Path(__file__).parent / "jobs"
JOB = JOBS / "clamp-press.toml"
#: The shelves of the shop, and what three machines ask: `valvecalc size`.
SIZE = Path(__file__).parent / "size"


def run(folder: Path, show: bool, progress: Callable[[str], None]) -> int:
    """Work the demo job into `folder`, build the site beside it, show both on this machine. Returns the exit code."""
    import shutil

    from valvecalc.errors import InputError
    from valvecalc.job.publish import publish, work_job
    from valvecalc.report.text import render
    from valvecalc.serving import build_site, serve

    progress("working the demo job")
    told = work_job(JOB, progress=progress)
    print(render(told))
    jobs = folder / "jobs"
    shutil.copytree(JOBS, jobs, dirs_exist_ok=True)
    shutil.copytree(SIZE, folder / "size", dirs_exist_ok=True)
    files = publish(told, folder / "report", JOBS)
    print("Report: " + ", ".join(str(path) for path in files) + ".")
    print(f"The job file to copy and change: {jobs / JOB.name}")
    others = sorted(path.name for path in JOBS.glob("*.toml") if path.name not in (JOB.name, "shop.toml"))
    print(f"Two more beside it, of other outcome: {', '.join(others)}")
    print(f"Stock list and duties to copy and change: {folder / 'size'}")
    try:
        site = build_site(folder / "site", progress)
    except InputError as fault:
        print(f"The site was not built. {fault}")
        return 1
    print(f"Site: {site}")
    if show:
        serve(site)
    return 0
