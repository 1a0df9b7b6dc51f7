"""The page of the marks: every box, shape and edge that the pages use, with what it means."""

from collections.abc import Iterable

import valvecalc
from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.drawing import chart
from valvecalc.facts import caution, load_toml
from valvecalc.formula import REGISTER
from valvecalc.job.verdict import bands
from valvecalc.report.words import ORIGINS
from valvecalc.sitegen import answer_part, fault_parts, marks

#: The share and its uncertainty that the example of a margin bar shows: near the edge of two bands.
_SHARE, _HALF_WIDTH = 0.28, 0.08
#: The calculation whose worked example shows what an answer looks like.
_EXAMPLE = "coil-current"


def legend_page() -> str:
    """The whole page as Markdown."""
    said = load_toml("words/marks.toml")
    place = said["place"]
    levels = knowledge().rules.scale["hazard_meaning"]
    card = REGISTER[_EXAMPLE]
    answer = valvecalc.calc(card.id, **card.example).to_json()
    worked = f'<div class="worked">{answer_part.lines(card, answer["steps"])}</div>'
    step = f'<section class="step"><div class="caution"><p>{marks.esc(caution("hot-coil"))}</p></div>'
    step += '<div class="do"><p>Measure the winding at the coil’s own pins.</p></div></section>'
    drawn = {
        "kind": "margin",
        "title": "Example: share of the force in hand",
        "value": _SHARE,
        "half_width": _HALF_WIDTH,
        "bands": bands({}),
    }
    parts = [
        marks.head("Marks"),
        "<p>What the boxes, shapes and edges mean. Each is told by a word and a shape; colour only helps.</p>",
        "## Caution and step",
        *_shown((step, place["caution"]), ("", place["step"])),
        "## Verdicts",
        _meanings("Verdict", ((marks.verdict(word), text) for word, text in said["verdict"].items())),
        "## Margin bar",
        f'<figure class="chart">{chart(drawn)}</figure>',
        f"<p>{marks.esc(said['bar']['told'])}</p>",
        "## Where a value comes from",
        _meanings("Origin", ((marks.origin(word), said["origin"][word]) for word in ORIGINS)),
        "## How much a check can hurt",
        _meanings(
            "Hazard", ((fault_parts.hazard(level), f"{text[:1].upper()}{text[1:]}.") for level, text in levels.items())
        ),
        "## Answer and worked lines",
        *_shown((answer_part.headline(card, answer), place["answer"]), (worked, place["worked"])),
        "## What is not there",
        *_shown(
            ('<p><span class="not-filled">NOT FILLED IN</span></p>', place["not-filled"]),
            ('<div class="coming"><p><strong>Not built yet</strong></p></div>', place["coming"]),
            ("<p><strong>Not computed: needs …</strong></p>", place["missing"]),
        ),
    ]
    return "\n\n".join(parts) + "\n"


def _shown(*rows: tuple[str, str]) -> Iterable[str]:
    for mark, meaning in rows:
        yield from (mark, f"<p>{marks.esc(meaning)}</p>")


def _meanings(head: str, rows: Iterable[tuple[str, str]]) -> str:
    return marks.table((head, "It means"), [(mark, marks.esc(meaning)) for mark, meaning in rows])
