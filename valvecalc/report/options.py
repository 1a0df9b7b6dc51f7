"""The commands `valvecalc report`, `verify` and `sheet`; apart from their work, so that the help loads none of it."""

from typing import Any


def add_report(commands: Any) -> None:
    """Add the three to those of the command line."""
    report = commands.add_parser(
        "report",
        help="work a job file",
        description="Work a job file into PDF, page, JSON and text; the PDF is A4 or Letter by shop.toml.",
    )
    report.add_argument("job", metavar="JOB.toml")
    report.add_argument("--to", metavar="DIR", help="folder for the report; default: beside the job file")
    report.add_argument("--shop", metavar="FILE", help="shop.toml; default: beside the job file")
    report.add_argument("--estimate", action="store_true", help="one page before the work instead: options and risk")
    verify = commands.add_parser(
        "verify",
        help="hold a report against its digest and work it anew",
        description="Exit code 0: same; 3: altered; 4: differs by version; 1: nothing to hold it against; 2: cannot "
        "be read.",
    )
    verify.add_argument("report", metavar="REPORT.json|.pdf|.html")
    sheet = commands.add_parser(
        "sheet",
        help="the blank bench sheet for a job",
        description="Tests in their order with set-up, expected reading and limit, cautions first; --to writes the "
        "page for the printer, A4 or Letter by shop.toml, with text and JSON.",
    )
    sheet.add_argument("job", metavar="JOB.toml")
    sheet.add_argument("--to", metavar="DIR", help="folder for page, text and JSON; default: print only")
    sheet.add_argument("--shop", metavar="FILE", help="shop.toml; default: beside the job file")
    for command in (report, verify, sheet):
        command.add_argument("--json", action="store_true", help="the answer as JSON, also when it fails")
