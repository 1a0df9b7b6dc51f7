"""The bench sheet as one self-contained page for the printer: A4 or Letter, no script, no outside file."""

from collections.abc import Mapping
from typing import Any

from valvecalc.report import bench_text, joints, parts
from valvecalc.report.html import POLICY
from valvecalc.report.style import STYLE, page_foot
from valvecalc.report.words import Row

_SHEET = """
.sheet{table-layout:fixed;font-size:.9em;line-height:1.25}
.sheet td,.sheet th{border:1px solid var(--edge);padding:.2rem .4rem}
.sheet tbody th{font-weight:400}.sheet p{margin:0}
.sheet thead th:first-child{width:24%}.sheet thead th:nth-child(2){width:36%}
.sheet .blank{display:block;min-height:1.7em;text-align:right;color:var(--quiet)}
.step h3{margin-bottom:.2rem}.first{break-inside:avoid}.step ul{margin:.2rem 0}
@media print{.caution,.warning{margin:.3rem 0;padding:.2rem .6rem}.step p{margin:.1rem 0}h3{margin:.5rem 0 .1rem}}
"""
#: Papers that a shop may name; another word never gets into the style sheet.
PAPERS = {"A4": "A4", "Letter": "letter"}


def render(sheet: Mapping[str, Any]) -> str:
    """The page of a bench sheet."""
    job = sheet["job"]
    title = f"{sheet['title']} {job['id']}"
    named = [(key.removesuffix("_words").capitalize(), job.get(key)) for key in bench_keys()]
    body = (
        _letterhead(sheet, title),
        f"<h1>{parts.esc(': '.join(filter(None, (title, job.get('title', '')))))}</h1>",
        parts.facts(named),
        parts.paragraphs([sheet["about"]]),
        parts.box("warning", sheet["gate"]["title"], sheet["gate"]["reasons"]),
        parts.section("Assumed on this sheet", parts.bullets(sheet["assumed"])),
        *(_stage(number, stage, sheet) for number, stage in enumerate(sheet["stages"], 1)),
        parts.section("Lines of the acceptance run in the job file", parts.bullets(sheet["written"])),
        parts.section("Instruments of the shop", parts.bullets(map(bench_text.instrument, sheet["instruments"]))),
        '<div class="signatures"><p>tested by, on</p><p>second person</p></div>',
        f"<footer><p>valvecalc {parts.esc(sheet['version'])}, data {parts.esc(sheet['data_version'])}</p></footer>",
    )
    paper = f"@page{{size:{PAPERS.get(sheet['shop']['paper'], 'A4')}}}"
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta name="color-scheme" content="light dark">'
        f"<title>{parts.esc(title)}</title><style>{STYLE}{_SHEET}{paper}{page_foot(title)}</style></head>\n<body><main>"
        + "\n".join(part for part in body if part)
        + "</main></body></html>\n"
    )


def bench_keys() -> tuple[str, ...]:
    """What the head of the sheet tells of the job."""
    return ("customer", "machine", "valve_words", "complaint")


def _letterhead(sheet: Mapping[str, Any], title: str) -> str:
    shop = sheet["shop"]
    left = f'<p class="shop">{parts.esc(shop["name"])}</p>' if shop["name"] else ""
    left += f"<p>{parts.esc(shop['address'])}</p>" if shop["address"] else ""
    return f'<header class="letterhead"><div>{left}</div><p>{parts.esc(title)}</p></header>'


def _stage(number: int, stage: Row, sheet: Mapping[str, Any]) -> str:
    body = parts.paragraphs([stage["about"]]) + parts.box("warning", sheet["gate"]["title"], stage["closed"], 3)
    body += "".join(_step(f"{number}.{place}", step) for place, step in enumerate(stage["steps"], 1))
    if stage["id"] == "closed":
        body += "".join(joints.page(sheet)) + parts.paragraphs([sheet["once_more"]])
    return parts.section(f"{number}. {stage['title']}", body, f"stage-{stage['id']}")


def _step(number: str, step: Row) -> str:
    """Caution, then what to do, on one piece of paper; then the lines to write on."""
    first = f"<h3>{number} {parts.esc(step['title'])}{parts.esc(bench_text.acceptance(step))}</h3>"
    first += parts.box("caution", "First", step["cautions"], 4) + parts.paragraphs(step["how"])
    first += parts.paragraphs([f"With: {step['tool']}"] if step["tool"] else [])
    body = f'<div class="first">{first}</div>' + parts.bullets(map(bench_text.set_up, step["at"]))
    twice = any(row["twice"] for row in step["readings"])
    heads = ("Reading", "Held against", *(("As received", "As left") if twice else ("Written",)))
    top = "".join(f'<th scope="col">{head}</th>' for head in heads)
    rows = "".join(_row(row, twice) for row in step["readings"])
    table = f'<table class="sheet"><thead><tr>{top}</tr></thead><tbody>{rows}</tbody></table>' if rows else ""
    return f'<div class="step">{body}{table}</div>'


def _row(row: Row, twice: bool) -> str:
    against = parts.paragraphs(bench_text.against(row))
    cells = _cell(row, "found", not twice or row["twice"]) + (_cell(row, "left", True) if twice else "")
    return f'<tr><th scope="row">{parts.esc(bench_text.named(row))}</th><td>{against}</td>{cells}</tr>'


def _cell(row: Row, key: str, wanted: bool) -> str:
    """What is read already, else room for reading, instrument and calibration."""
    told = row[key]
    if told is not None:
        return f'<td class="write">{parts.esc(bench_text.read(told))}</td>'
    if not wanted:
        return "<td></td>"
    blanks = [row["unit"], "instrument", "calibrated until"] if bench_text.measured(row) else [""]
    return '<td class="write">' + "".join(f'<span class="blank">{parts.esc(one)}</span>' for one in blanks) + "</td>"
