"""The reports of the example jobs, as they are written for a customer, and the page that leads to them."""

from typing import Any

from valvecalc.demo import JOB, JOBS
from valvecalc.job.publish import work_job
from valvecalc.report.html import render
from valvecalc.report.parts import verdict
from valvecalc.report.pictures import beside
from valvecalc.sitegen import marks

#: Job file -> what came of it, and its report as a page.
REPORTS = {
    JOB.name: ("A valve repaired", "job/demo-report.html"),
    "plate-press.toml": ("A valve replaced", "job/demo-replaced.html"),
    "carton-lift.toml": ("No fault found", "job/demo-no-fault.html"),
}


def demo_pages() -> dict[str, str]:
    """The page and the reports. They carry the last day of their job, so that the same sources give the same pages."""
    told = {name: work_job(JOBS / name) for name in REPORTS}
    return {"job/demo.md": _page(told)} | {
        REPORTS[name][1]: render(report, beside(report, JOBS)) for name, report in told.items()
    }


def _page(told: dict[str, dict[str, Any]]) -> str:
    parts = [
        marks.head("Reports of the example jobs"),
        "<p>Three jobs that ended differently. The shop, the machines and the valves are invented.</p>",
        *(part for name, report in told.items() for part in _job(name, report)),
        "## Start from one of them",
        "<p>Copy it, change the readings to yours, leave out what you did not read. "
        f"{marks.link('job/fields.md', 'Every field is explained here')}.</p>",
        f"```sh\nvalvecalc report {JOB.name}\n```",
    ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _job(name: str, told: dict[str, Any]) -> list[str]:
    """What it was and what came out; what to do stands in the report, behind its cautions."""
    outcome, page = REPORTS[name]
    head, job = told["headline"], told["job"]
    source = marks.esc((JOBS / name).read_text("utf-8"))
    return [
        f"## {outcome}",
        f"<p>{marks.esc(job['title'])}. {marks.esc(job['complaint'])}</p>",
        "<p>As found:</p>",
        f'<p class="answer-figure"><span>{marks.esc(head["sentence"])}</span> {verdict(head["verdict"])}</p>',
        marks.doors([marks.door(page, "Open the report", "As the customer gets it; prints on A4 or Letter.")]),
        marks.details(f"The job file, {name}", f"<pre><code>{source}</code></pre>"),
    ]
