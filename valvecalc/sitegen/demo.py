"""The report of the example job, as it is written for a customer, and the page that leads to it."""

from typing import Any

from valvecalc.demo import JOB
from valvecalc.job.publish import work_job
from valvecalc.report.html import render
from valvecalc.report.parts import verdict
from valvecalc.sitegen import marks

REPORT = "job/demo-report.html"


def demo_pages() -> dict[str, str]:
    """The page and the report. Both carry the last day of the job, so that the same sources give the same pages."""
    told = work_job(JOB)
    return {"job/demo.md": _page(told), REPORT: render(told)}


def _page(told: dict[str, Any]) -> str:
    head, job = told["headline"], told["job"]
    parts = [
        marks.head("Report of the example job"),
        f"<p>{marks.esc(job['title'])}. {marks.esc(job['complaint'])}</p>",
        *(marks.caution(text) for text in (*told["warnings"], *told["cautions"])),
        "<p>The shop, the machine and the valve are invented.</p>",
        "## What the report says",
        f'<p class="answer-figure"><span>{marks.esc(head["sentence"])}</span> {verdict(head["verdict"])}</p>',
        "<h3>What must be put right</h3>",
        marks.bullets(head["actions"]),
        marks.doors(
            [marks.door(REPORT, "Open the report", "As the customer gets it: one page, prints on A4 or Letter.")]
        ),
        "## The job file it is made from",
        "<p>Copy it, change the readings to yours, leave out what you did not read. "
        f"{marks.link('job/fields.md', 'Every field is explained here')}.</p>",
        marks.details("The whole file", f"<pre><code>{marks.esc(JOB.read_text('utf-8'))}</code></pre>"),
        "```sh\nvalvecalc report clamp-press.toml\n```",
    ]
    return "\n\n".join(part for part in parts if part) + "\n"
