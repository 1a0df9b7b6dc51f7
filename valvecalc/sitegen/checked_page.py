"""The published figures, worked again while the site is built: on the page of their formula and all on /checked/."""

from collections.abc import Sequence
from itertools import groupby
from pathlib import Path

from valvecalc.checked import Case, Checked, left_out
from valvecalc.door import find
from valvecalc.drawing.rounding import quantity
from valvecalc.facts import source
from valvecalc.formula import REGISTER
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen import marks
from valvecalc.sitegen.checked_faults import PAGE, TITLE

_ABSENT = (
    "The published cases lie in tests/published/ of the source tree, and these pages were built without it. "
    "Build them from the sources to see each case."
)


def seen(key: str, locator: str) -> str:
    """A source with its locator, how it is known, and its note."""
    row = source(key)
    told = f"{marks.esc(row['text'])}{', ' + marks.esc(locator) if locator else ''}"
    note = f" {marks.esc(row['note'])}" if row.get("note") else ""
    return f'{told}. <span class="seen">{marks.SEEN[row["seen"]].capitalize()}.</span>{note}'


def cases_table(rows: Sequence[Checked], *, name_formula: bool = False) -> str:
    """Cases as a table: what was given, printed, ours, how far apart, verdict."""
    heads = ("Case", "Printed", "Ours", "Apart, allowed", "Verdict")
    return marks.table(heads, [_cells(row, name_formula) for row in rows], figures=(1, 2))


def _cells(row: Checked, name_formula: bool) -> list[str]:
    case = row.case
    card = find(case.formula)
    title = f"<p>{marks.card_link(card)}</p>" if name_formula else ""
    given = ", ".join(
        f"<var>{marks.symbols(VOCABULARY[name].symbol)}</var> = {marks.esc(text)}" for name, text in case.given.items()
    )
    apart = f"{quantity(row.difference, row.unit, digits=2)}, allowed {marks.esc(case.within)}: {marks.esc(case.why)}"
    return [
        f'{title}<p>{given}</p><p class="quiet">{_where(case)}</p>',
        marks.esc(case.expect),
        marks.esc(quantity(row.ours, row.unit, digits=_digits(case.expect))),
        apart,
        _verdict(row),
    ]


def _where(case: Case) -> str:
    """Source and locator of a case, with how it is known."""
    row = source(case.source)
    told = f"{row['text']}{', ' + case.locator if case.locator else ''} ({marks.SEEN[row['seen']]})"
    return marks.esc(told)


def _digits(expect: str) -> int:
    """One digit more than was printed, so that the difference can be seen."""
    figures = expect.split()[0].lstrip("-0.").replace(".", "")
    return max(4, len(figures) + 1)


def _verdict(row: Checked) -> str:
    word, told = ("accept", "reproduced") if row.holds else ("reject", "not reproduced")
    return f'<span class="verdict {word}">{told}</span>'


def by_formula(rows: Sequence[Checked]) -> dict[str, list[Checked]]:
    """Cases by the id of their formula."""
    found: dict[str, list[Checked]] = {}
    for row in rows:
        found.setdefault(find(row.case.formula).id, []).append(row)
    return found


def checked_page(folder: Path, rows: Sequence[Checked]) -> str:
    """The page /checked/."""
    parts = [marks.head("What was checked")]
    if not rows:
        return "\n\n".join([*parts, f"<p>{_ABSENT}</p>"]) + "\n"
    good = sum(row.holds for row in rows)
    library = sum(row.case.status == "library" for row in rows)
    parts += [
        f"<p>{len(rows)} figures that somebody else printed, worked again by our formulas when these pages were built: "
        f"<strong>{good} reproduced, {len(rows) - good} not.</strong> {len(rows) - library} of them come from print, "
        f"{library} from an open library. The tolerance comes from how the figure was printed, never from our answer."
        "</p>",
        "<p>Definitions and recalled values are no checks and are not listed. What the fault finder knows was held "
        f"against published fault tables too: {marks.link(PAGE, TITLE)}.</p>",
    ]
    for topic, group in groupby(rows, key=lambda row: row.case.topic):
        parts += [f"## {topic[:1].upper()}{topic[1:].replace('_', ' ')}", cases_table(list(group), name_formula=True)]
    checked = by_formula(rows)
    bare = [card for card in REGISTER.values() if card.kind == "formula" and not card.part and card.id not in checked]
    parts += [
        "## No published check found",
        "<p>These have tests of their own, but no figure printed elsewhere was found to hold them against.</p>",
        f"<ul>{''.join(f'<li>{marks.card_link(card)}</li>' for card in bare)}</ul>",
        "## Looked at and left out",
        marks.table(("Figure", "Why"), [[f"<code>{row.id}</code>", marks.esc(row.why)] for row in left_out(folder)]),
    ]
    return "\n\n".join(parts) + "\n"
