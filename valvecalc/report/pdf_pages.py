"""A report as the pages of a PDF: first what a customer reads in a minute, then the evidence, then each calculation."""

from collections.abc import Mapping
from typing import Any

from valvecalc.report import blocks, pdf_answers, pdf_evidence, pdf_further, pdf_record, words
from valvecalc.report.blocks import Block
from valvecalc.report.record import title as title_of_record
from valvecalc.report.replacement import TITLE as REPLACEMENT

PAPERS = {"a4": "a4", "letter": "us-letter"}

#: Parts with a place of their own, and those that are no part of the page; all others follow by the shape of their
#: data.
_PLACED = {
    *("schema", "kind", "ok", "version", "data_version", "made", "made_from", "digest", "shop", "job", "headline"),
    *("warnings", "cautions", "answers", "charts", "thresholds", "repairs", "replacement", "verdicts", "finder"),
    *("assumed", "not_computed", "not_tested", "readings", "instruments", "sources", "photos", "symbol"),
    *pdf_record.PARTS,
}

_JOB = (
    ("Customer", "customer"),
    ("Machine", "machine"),
    ("Valve", "valve"),
    ("Complaint", "complaint"),
    ("Received", "received"),
    ("Work done", "work_done"),
)
SIGNATURES = ("Repaired by, date", "Tested by, date (another person where possible)", "Received by, date")


def document(report: Mapping[str, Any], photos: Mapping[str, str]) -> dict[str, Any]:
    """Everything that report.typ sets. `photos` gives the place of each photo that is there."""
    job, shop = report.get("job", {}), report.get("shop", {})
    name = f"Job {job['id']}" if job.get("id") else "Bench report"
    title = blocks.plain(job.get("title") or name)
    body = [*_first(report, title, name), *_evidence(report, photos), *_last(report), *_behind(report, shop)]
    return {
        "title": blocks.plain(f"{name}: {title}" if title != name else name),
        "author": blocks.plain(shop.get("name") or "valvecalc"),
        "about": blocks.plain(f"Bench report, valvecalc {report.get('version', '')}, {report.get('digest', '')}"),
        "paper": PAPERS.get(str(shop.get("paper", "A4")).lower(), "a4"),
        "foot": blocks.plain(", ".join(filter(None, (name, shop.get("name"))))),
        "blocks": body,
    }


def _first(report: Mapping[str, Any], title: str, name: str) -> list[Block]:
    """The first page: what can hurt, the state now, complaint, finding, what to do, what was not tested."""
    job, shop = report.get("job", {}), report.get("shop", {})
    right = ", ".join(part for part in (name, report.get("made", "")) if part)
    head = {"kind": "letterhead", "right": blocks.plain(right)}
    head |= {"shop": blocks.plain(shop.get("name", "")), "address": blocks.plain(shop.get("address", ""))}
    pairs = [(label, _prose(job.get(key))) for label, key in _JOB]
    placed = {key for _, key in _JOB} | {"id", "title"}
    pairs += [(pdf_further.title_of(key), _prose(job[key])) for key in job if key not in placed]
    return [
        head,
        *blocks.box("warning", "Keep out of service", blocks.texts(report.get("warnings", ()), "strong")),
        {"kind": "title", "text": title},
        *pdf_record.now(report),
        *blocks.facts(pairs),
        *blocks.box("caution", "Before any work", blocks.texts(report.get("cautions", ()))),
        *pdf_record.verdicts(report),
        *pdf_record.in_brief(report),
        *pdf_evidence.margins(report),
    ]


def _evidence(report: Mapping[str, Any], photos: Mapping[str, str]) -> list[Block]:
    told = [
        *pdf_record.in_full(report),
        *blocks.section("Verdicts", pdf_evidence.verdicts(report)),
        *blocks.section("What each port does", pdf_evidence.symbol(report)),
        *(block for key in report if key not in _PLACED for block in pdf_further.part(key, report[key])),
        *blocks.section(title_of_record("photos"), pdf_evidence.photos(report, photos)),
        *blocks.section("What the figures show", pdf_evidence.charts(report)),
        *blocks.section("How the fault was found", pdf_evidence.finder(report)),
        *blocks.section("Repairs, tried on paper", pdf_evidence.repairs(report)),
        *blocks.section(REPLACEMENT, pdf_evidence.other_valve(report)),
        *blocks.section("One cause alone", pdf_evidence.thresholds(report)),
        *blocks.section("Not computed, and what it needs", pdf_evidence.not_computed(report)),
        *blocks.section("Assumed on the way", blocks.bullets(report.get("assumed", ()))),
    ]
    return [{"kind": "page"}, *told] if told else []


def _last(report: Mapping[str, Any]) -> list[Block]:
    """What the report does not say, and who signs it."""
    signed = {"kind": "signatures", "items": list(SIGNATURES)}
    told = blocks.section("What this report does not say", [blocks.text(words.NO_RELEASE), signed])
    return [{"kind": "together", "blocks": told}]


def _behind(report: Mapping[str, Any], shop: Mapping[str, Any]) -> list[Block]:
    """Each calculation, the readings, the instruments, the sources, and how the report is checked."""
    told = ", ".join(
        f"{name} {report[key]}"
        for name, key in (("valvecalc", "version"), ("data", "data_version"), ("made", "made"))
        if report.get(key)
    )
    check = [
        blocks.text(
            "The report as data is attached to this file. The command valvecalc verify reads it from there, holds it "
            "against its digest and works every calculation anew. A digest finds what was changed; it is no signature."
        ),
        blocks.text(told, "quiet"),
        *blocks.texts([report.get("digest", "")], "mono"),
    ]
    sources = blocks.bullets(words.source(row) for row in report.get("sources", ()))
    return [
        *blocks.section("Calculations", pdf_answers.calculations(report, str(shop.get("site", "")))),
        *blocks.section("Readings", pdf_evidence.readings(report)),
        *blocks.section("Instruments", pdf_evidence.instruments(report)),
        *pdf_record.papers(report),
        *blocks.section("Sources", sources),
        *blocks.section("How to check this report", check),
    ]


def _prose(text: Any) -> Any:
    """A list in one line; sentences stay sentences."""
    if not isinstance(text, list | tuple):
        return text
    texts = list(map(str, text))
    return (" " if all(one.rstrip().endswith((".", "!", "?")) for one in texts) else "; ").join(texts)
