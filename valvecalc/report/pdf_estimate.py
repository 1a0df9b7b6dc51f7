"""The estimate as a PDF of one sheet: the page that a customer reads, and a line to sign, laid out by report.typ."""

from collections.abc import Mapping
from json import dumps
from typing import Any

from valvecalc.report import blocks, pdf, words
from valvecalc.report.bench_html import bench_keys
from valvecalc.report.estimate import COLUMNS, cells, heads, stamp
from valvecalc.report.pdf_pages import PAPERS

SIGNATURES = ("For the shop, date", "For the customer, date")
#: How wide each column of the options is, one beside the other.
_WIDTHS = (3, 3, 1, 2, 2, 3, 4)


def render(told: Mapping[str, Any]) -> bytes:
    """The PDF of an estimate, its data attached."""
    return pdf.of_document(document(told), dumps(told, ensure_ascii=False, indent=1))


def document(told: Mapping[str, Any]) -> dict[str, Any]:
    """Everything that report.typ sets."""
    head, job, shop = heads(), told["job"], told["shop"]
    name = blocks.plain(f"{head['title']} {job['id']}")
    title = blocks.plain(": ".join(filter(None, (name, job.get("title", "")))))
    pairs = [(key.removesuffix("_words").capitalize(), job[key]) for key in bench_keys() if job.get(key)]
    letterhead = {"kind": "letterhead", "right": name}
    letterhead |= {"shop": blocks.plain(shop["name"]), "address": blocks.plain(shop["address"])}
    options = [
        *blocks.table(COLUMNS, [cells(row) for row in told["options"]], widths=_WIDTHS, small=True),
        *blocks.texts([told["least"]] if told["least"] else [], "strong"),
    ]
    told_of = {key: blocks.section(head[key], blocks.bullets(told[key])) for key in ("found", "cause", "nothing")}
    body = [
        letterhead,
        *blocks.box("warning", "Keep out of service", blocks.texts(told["warnings"], "strong")),
        {"kind": "title", "text": title},
        *blocks.facts(pairs),
        *blocks.box("caution", "Before any work", blocks.texts(told["cautions"])),
        *told_of["found"],
        *told_of["cause"],
        *blocks.section(head["options"], options if told["options"] else []),
        *told_of["nothing"],
        *blocks.section(head["open"], blocks.bullets(told["open"])),
        *blocks.section(head["answer"], blocks.texts([" ".join(told["answer"])])),
        {"kind": "signatures", "items": list(SIGNATURES)},
        blocks.text(head["about"], "quiet"),
        blocks.text(words.NO_RELEASE, "quiet"),
        blocks.text(stamp(told), "quiet"),
    ]
    return {
        "title": title,
        "author": blocks.plain(shop["name"] or "valvecalc"),
        "about": blocks.plain(f"{head['title']}, valvecalc {told['version']}"),
        "paper": PAPERS.get(str(shop["paper"]).lower(), "a4"),
        "foot": blocks.plain(", ".join(filter(None, (name, shop["name"])))),
        "tight": True,
        "blocks": body,
    }
