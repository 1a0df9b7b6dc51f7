"""The estimate as a page for the printer and as terminal text: warnings and cautions first, then what can be done."""

from collections.abc import Iterator, Mapping, Sequence
from textwrap import wrap
from typing import Any

from valvecalc.facts import load_toml
from valvecalc.report import parts, words
from valvecalc.report.bench_html import PAPERS, bench_keys
from valvecalc.report.html import POLICY
from valvecalc.report.style import STYLE, page_foot
from valvecalc.report.words import Row

WIDTH = 80
#: One sheet of paper: what a customer signs is not spread over two.
_TIGHT = (
    "@media print{html{font-size:8.5pt}body{line-height:1.25}h1{font-size:1.3rem;margin:.4rem 0 .2rem}"
    "h2{margin:.6rem 0 .2rem}.caution,.warning{margin:.4rem 0;padding:.2rem .6rem}li,p{margin:.1rem 0}"
    "th,td{padding:.2rem .5rem .2rem 0}footer{margin-top:.6rem}@page{margin:12mm 12mm 15mm}}"
)
COLUMNS = ("Option", "Cost", "Work", "Ready", "Chance of a come-back", "Cost with come-backs counted", "Remarks")


def heads() -> Mapping[str, str]:
    """The headings of the page."""
    found: Mapping[str, str] = load_toml("words/estimate.toml")["page"]
    return found


def page(told: Mapping[str, Any]) -> str:
    """The estimate as one self-contained page."""
    head, job, shop = heads(), told["job"], told["shop"]
    title = f"{head['title']} {job['id']}"
    named = [(key.removesuffix("_words").capitalize(), job.get(key)) for key in bench_keys()]
    options = parts.table(COLUMNS, [[parts.esc(cell) for cell in cells(row)] for row in told["options"]])
    options += parts.paragraphs([told["least"]] if told["least"] else [])
    lead = "".join(parts.paragraphs([text]) for text in (shop["name"], shop["address"]) if text)
    body = (
        f'<header class="letterhead"><div>{lead}</div><p>{parts.esc(title)}</p></header>',
        parts.box("warning", "Keep out of service", told["warnings"]),
        f"<h1>{parts.esc(': '.join(filter(None, (title, job.get('title', '')))))}</h1>",
        parts.facts(named),
        parts.paragraphs([head["about"]]),
        parts.box("caution", "Before any work", told["cautions"]),
        parts.section(head["found"], parts.bullets(told["found"])),
        parts.section(head["cause"], parts.bullets(told["cause"])),
        parts.section(head["options"], options),
        parts.section(head["nothing"], parts.bullets(told["nothing"])),
        parts.section(head["answer"], parts.paragraphs([" ".join(told["answer"])])),
        parts.section(head["open"], parts.bullets(told["open"])),
        f"<footer><p>{parts.esc(words.NO_RELEASE)}</p><p>{parts.esc(stamp(told))}</p></footer>",
    )
    paper = f"@page{{size:{PAPERS.get(shop['paper'], 'A4')}}}"
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{parts.esc(title)}</title><style>{STYLE}{_TIGHT}{paper}{page_foot(title)}</style></head>\n<body><main>"
        + "\n".join(part for part in body if part)
        + "</main></body></html>\n"
    )


def text(told: Mapping[str, Any], width: int = WIDTH) -> str:
    """The estimate for a terminal."""
    return "\n".join(_lines(told, width)).rstrip() + "\n"


def _lines(told: Mapping[str, Any], width: int) -> Iterator[str]:
    head, job = heads(), told["job"]
    yield from _boxed("KEEP OUT OF SERVICE", told["warnings"], width)
    yield from wrap(": ".join(filter(None, (f"{head['title'].upper()} {job['id']}", job.get("title", "")))), width)
    for key in bench_keys():
        if job.get(key):
            yield from wrap(f"{key.removesuffix('_words').capitalize()}: {job[key]}", width, subsequent_indent="  ")
    yield ""
    yield from _boxed("BEFORE ANY WORK", told["cautions"], width)
    options = ["; ".join(_told(row)) for row in told["options"]] + ([told["least"]] if told["least"] else [])
    for name, texts in (
        *((head[key], told[key]) for key in ("found", "cause")),
        (head["options"], options),
        *((head[key], told[key]) for key in ("nothing", "answer", "open")),
    ):
        if texts:
            yield name
            yield from (line for one in texts for line in wrap(f"- {one}", width, subsequent_indent="  "))
            yield ""
    yield from wrap(words.NO_RELEASE, width)
    yield stamp(told)


def _told(row: Row) -> Iterator[str]:
    for name, cell in zip(COLUMNS, cells(row), strict=True):
        if cell:
            yield cell if name == COLUMNS[0] else f"{name[:1].lower()}{name[1:]}: {cell}"


def cells(row: Row) -> list[str]:
    """An option in the order of the columns; what is not known says what it needs."""
    name = f"{row['name']} ({row['what']})" if row["what"] else row["name"]
    remarks = [row["why"], *row["notes"], *([f"needs: {', '.join(row['needs'])}"] if row["needs"] else [])]
    return [
        name, _with(row["cost"], row["cost_how"]), row["hours"], row["ready"], row["comeback"],
        _with(row["expected"], row["expected_how"]), "; ".join(filter(None, remarks)),
    ]  # fmt: skip


def _with(figure: str, how: str) -> str:
    return f"{figure} ({how})" if figure and how else figure or how


def stamp(told: Mapping[str, Any]) -> str:
    return f"valvecalc {told['version']}, data {told['data_version']}"


def _boxed(title: str, texts: Sequence[str], width: int) -> list[str]:
    body = [f"! {line}" for one in texts for line in wrap(one, width - 2)]
    return [f"! {title}", *body, ""] if texts else []
