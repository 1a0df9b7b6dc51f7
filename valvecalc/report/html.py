"""A job report as one self-contained page: no script, no outside file, readable on a phone and on paper.

What can hurt stands first, then complaint and verdict, the record from found to left and what was not tested, and at
last the figures behind it.
"""

from collections.abc import Mapping
from typing import Any

from valvecalc.drawing import chart
from valvecalc.drawing.rounding import percent
from valvecalc.drawing.shapes import symbol
from valvecalc.report import joints, links, parts, record, replacement, words
from valvecalc.report.answers import answer
from valvecalc.report.digest import as_file
from valvecalc.report.style import STYLE, page_foot

#: Around the report as data.
DATA_BEGINS, DATA_ENDS = '<template id="report-data">', "</template>"
POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"


def render(report: Mapping[str, Any], photos: Mapping[str, bytes] | None = None) -> str:
    """The page of a `report` of the JSON contract; parts that it lacks are left out. `photos` are shown by name."""
    job = report.get("job", {})
    title = f"Job {job['id']}: {job.get('title', '')}".strip(": ") if job.get("id") else "Bench report"
    body = (
        _letterhead(report),
        parts.box("warning", "Keep out of service", report.get("warnings", ())),
        f"<h1>{parts.esc(job.get('title') or title)}</h1>",
        _now(report.get("now")),
        _job(job),
        _headline(report),
        *record.page(report),
        *joints.page(report),
        parts.section("What each port does", _symbol(report.get("symbol")), "symbol"),
        parts.section("What the figures show", _charts(report), "charts"),
        parts.section("Verdicts", _verdicts(report), "verdicts"),
        parts.section("Questions and answers", _answers(report), "answers"),
        parts.section("One cause alone", _thresholds(report), "thresholds"),
        parts.section("How the fault was found", _finder(report.get("finder", {})), "finder"),
        parts.section("Repairs, tried on paper", _repairs(report), "repairs"),
        parts.section(replacement.TITLE, _replacement(report), "replacement"),
        parts.section("Not computed, and what it needs", _not_computed(report), "not-computed"),
        parts.section("Assumed on the way", parts.bullets(report.get("assumed", ())), "assumed"),
        parts.section("Readings", _readings(report), "readings"),
        *record.papers(report, photos or {}),
        parts.section("Sources", parts.bullets(words.source(row) for row in report.get("sources", ())), "sources"),
        _foot(report),
    )
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta name="color-scheme" content="light dark">'
        f"<title>{parts.esc(title)}</title><style>{STYLE}{page_foot(title)}</style></head>\n<body><main>"
        + "\n".join(part for part in body if part)
        + f"</main>{_data(report)}</body></html>\n"
    )


def _data(report: Mapping[str, Any]) -> str:
    """The report as data, for valvecalc verify: a browser neither shows nor runs it."""
    if "made_from" not in report:
        return ""
    text = as_file(report)
    for sign in "<>&":  # within JSON these stand in texts only
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return f"{DATA_BEGINS}{text}{DATA_ENDS}"


def _letterhead(report: Mapping[str, Any]) -> str:
    shop, job = report.get("shop", {}), report.get("job", {})
    left = [f'<p class="shop">{parts.esc(shop["name"])}</p>'] if shop.get("name") else []
    left += [f"<p>{parts.esc(shop['address'])}</p>"] if shop.get("address") else []
    right = ", ".join(part for part in (f"Job {job['id']}" if job.get("id") else "", report.get("made", "")) if part)
    return f'<header class="letterhead"><div>{"".join(left)}</div><p>{parts.esc(right)}</p></header>'


def _now(head: Mapping[str, Any] | None) -> str:
    """The state of the valve now; what must be done stands below the cautions."""
    if not head:
        return ""
    remarks = "".join(f'<p class="quiet">{parts.esc(text)}</p>' for text in head["remarks"])
    return f'<section class="headline" id="now">{_verdict(head, head["title"])}{remarks}</section>'


def _verdict(head: Mapping[str, Any], said: str) -> str:
    return (
        f"<h2>{symbol(head['verdict'])}<span>{parts.esc(said)}</span></h2>"
        f'<p class="sentence">{parts.esc(head["sentence"])}</p>'
    )


def _headline(report: Mapping[str, Any]) -> str:
    """The cautions, then the verdict as found with what must be put right; told above already: that alone."""
    cautions = parts.box("caution", "Before any work", report.get("cautions", ()))
    head = report.get("headline")
    if not head:
        return cautions
    verdict = words.verdict(head["verdict"])
    left = report.get("headline_left")
    said = f"{record.title('found')}: {verdict}" if left else verdict[:1].upper() + verdict[1:]
    told = "" if report.get("now") and not left else _verdict(head, said)
    body = told + record.actions(head)
    return cautions + (f'<section class="headline">{body}</section>' if body else "")


def _job(job: Mapping[str, Any]) -> str:
    names = (
        ("Customer", "customer"),
        ("Machine", "machine"),
        ("Valve", "valve"),
        ("Complaint", "complaint"),
        ("Received", "received"),
    )
    return parts.facts((name, job.get(key)) for name, key in names)


def _symbol(valve: Mapping[str, Any] | None) -> str:
    return replacement.figures([("Symbol by ISO 1219", valve)]) if valve else ""


def _charts(report: Mapping[str, Any]) -> str:
    figures = []
    for spec in report.get("charts", ()):
        table = _points(spec) if spec["kind"] == "stroke" else ""
        title = f"<figcaption>{parts.esc(spec['title'])}</figcaption>"
        figures.append(f'<figure class="{spec["kind"]}">{title}{chart(spec)}{table}</figure>')
    return f'<div class="charts">{"".join(figures)}</div>' if figures else ""


def _points(spec: Mapping[str, Any]) -> str:
    curves = [spec["drive"], *spec["terms"]]
    heads = [f"stroke, {spec['unit_x']}", *(f"{curve['label']}, {spec['unit_y']}" for curve in curves)]
    rows = zip(spec["x"], *(curve["y"] for curve in curves), strict=True)
    table = parts.grid(heads, rows, f"Figures: {spec['title']}")
    return f'<details class="screen-only"><summary>The figures of this chart</summary>{table}</details>'


def _verdicts(report: Mapping[str, Any]) -> str:
    rows = [
        [parts.esc(row["subject"]), parts.verdict(row["verdict"]), parts.esc(row.get("sentence", ""))]
        for row in report.get("verdicts", ())
    ]
    return parts.table(["What was judged", "Verdict", "Why"], rows)


def _answers(report: Mapping[str, Any]) -> str:
    site = str(report.get("shop", {}).get("site", ""))
    body = "".join(answer(row, place, site) for place, row in enumerate(report.get("answers", ()), 1))
    return f'<p class="quiet">{parts.esc(f"{words.COVERAGE} {words.ONCE} {links.SPREAD}")}</p>{body}' if body else ""


def _thresholds(report: Mapping[str, Any]) -> str:
    body = []
    for group, rows in words.grouped(report.get("thresholds", ())).items():
        cells = [
            [
                parts.esc(words.label(row, "entry")),
                parts.esc(words.measured(row.get("as_is"))),
                parts.esc(words.measured(row["value"]) if row.get("value") else "not within the range searched"),
                parts.esc(row.get("sentence", "")),
            ]
            for row in rows
        ]
        title = f"<h3>{parts.esc(group[:1].upper() + group[1:])}</h3>" if group else ""
        body.append(title + parts.table(["What", "Is now", "Turns the verdict at", "In words"], cells, figures=(1, 2)))
    return f'<p class="quiet">{words.ALONE}</p>{"".join(body)}' if body else ""


def _finder(told: Mapping[str, Any]) -> str:
    if not told:
        return ""
    steps = "".join(f"<li>{parts.esc(step)}</li>" for step in told.get("steps", ()))
    head = parts.paragraphs([f"Complaint: {told['symptom']}."])
    return f"{head}<ol>{steps}</ol>{parts.paragraphs([told.get('result', ''), told.get('basis', '')])}"


def _repairs(report: Mapping[str, Any]) -> str:
    cards = []
    for row in report.get("repairs", ()):
        share = f'<p class="big">{parts.esc(percent(row["share"]))} in hand</p>' if row.get("share") is not None else ""
        release = row.get("release_margin")
        back = f"<p>Way back: {parts.esc(words.measured(release))}</p>" if release else ""
        cards.append(
            f'<div class="repair"><h3>{parts.esc(row["name"])}</h3>{share}<p>{parts.verdict(row.get("band"))}</p>'
            f"<p>Smallest margin: {parts.esc(words.measured(row.get('margin')))}</p>{back}"
            f"{parts.paragraphs([row['sentence']] if row.get('sentence') else [])}</div>"
        )
    return f'<div class="repairs">{"".join(cards)}</div>' if cards else ""


def _replacement(report: Mapping[str, Any]) -> str:
    return replacement.page(report.get("replacement", {}), frozenset(report.get("cautions", ())))


def _not_computed(report: Mapping[str, Any]) -> str:
    rows = [
        [parts.esc(row["what"]), parts.bullets(words.missing(need) for need in row.get("needs", ()))]
        for row in report.get("not_computed", ())
    ]
    return parts.table(["What", "Needs"], rows)


def _readings(report: Mapping[str, Any]) -> str:
    rows = [
        [
            parts.esc(words.label(row, "entry")),
            parts.esc(row["text"]),
            parts.esc(words.reading_uncertainty(row)),
            parts.esc(row.get("instrument") or ""),
            parts.origin(row.get("origin")),
        ]
        for row in report.get("readings", ())
    ]
    tools = [
        [parts.esc(row[key] or "") for key in ("id", "kind", "accuracy", "calibrated_until")]
        for row in (
            {"kind": "", "accuracy": "", "calibrated_until": ""} | dict(tool) for tool in report.get("instruments", ())
        )
    ]
    body = parts.table(["What", "Reading", "±", "Instrument", "Where it comes from"], rows, figures=(1,))
    listed = parts.table(["Instrument", "Kind", "Accuracy", "Calibrated until"], tools)
    return body + (f"<h3>Instruments</h3>{listed}" if listed else "")


def _foot(report: Mapping[str, Any]) -> str:
    told = [
        f"valvecalc {report['version']}" if report.get("version") else "",
        f"data {report['data_version']}" if report.get("data_version") else "",
        f"made {report['made']}" if report.get("made") else "",
    ]
    digest = f'<p class="mono">{parts.esc(report["digest"])}</p>' if report.get("digest") else ""
    return (
        '<div class="signatures"><p>Repaired by, date</p><p>Tested by, date (another person where possible)</p></div>'
        f"<footer><p>{parts.esc(words.NO_RELEASE)}</p>"
        f'<p class="quiet">{parts.esc(", ".join(part for part in told if part))}</p>{digest}</footer>'
    )
