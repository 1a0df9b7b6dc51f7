"""The generated pages: path under the pages folder -> text. A `.md` is a page, all else is copied."""

from collections.abc import Iterable
from pathlib import Path
from sys import modules

from valvecalc.checked import cases, check
from valvecalc.door import load
from valvecalc.formula import REGISTER, Card
from valvecalc.sitegen import marks
from valvecalc.sitegen.card_page import card_page
from valvecalc.sitegen.checked_page import by_formula, checked_page
from valvecalc.sitegen.demo import demo_pages
from valvecalc.sitegen.fault_pages import fault_pages
from valvecalc.sitegen.job_page import fields_page


def pages(root: Path) -> dict[str, str]:
    """Every generated page. `root` is the source tree: the published cases are read from it."""
    load()
    folder = root / "tests" / "published"
    rows = [check(case) for case in cases(folder)]
    checked = by_formula(rows)
    shown = [card for card in REGISTER.values() if not card.part]
    return {
        "calc/index.md": _formulas(card for card in shown if card.kind == "formula"),
        "judge/index.md": _sheets(card for card in shown if card.kind == "sheet"),
        "checked.md": checked_page(folder, rows),
        **{marks.address(card): card_page(card, checked) for card in shown},
        "job/fields.md": fields_page(),
        **demo_pages(),
        **fault_pages(),
    }


def _door(card: Card) -> str:
    return marks.door(marks.address(card), card.title, marks.first_sentence(card), card.id)


def _formulas(cards: Iterable[Card]) -> str:
    """All formulas by subject; a subject is a file, and its heading the file's first line."""
    subjects: dict[str, list[Card]] = {}
    for card in cards:
        subjects.setdefault(card.function.__module__, []).append(card)
    told = (
        "Each page shows a formula with a worked example, its limits, when not to trust it, where it is from and "
        "what it was checked against."
    )
    every = marks.door("checked.md", "What was checked", "Every published figure with ours beside it.")
    parts = [marks.head("Look up and cite"), f"<p>{told}</p>", marks.doors([every])]
    for module, group in subjects.items():
        title, _, more = (modules[module].__doc__ or "").split("\n")[0].rstrip(".").partition(": ")
        parts += [
            f"## {title}",
            f"<p>{marks.esc(more[:1].upper() + more[1:])}.</p>" if more else "",
            marks.doors(map(_door, group)),
        ]
    return "\n\n".join(part for part in parts if part) + "\n"


def _sheets(cards: Iterable[Card]) -> str:
    told = "A sheet answers one question of the shop from the readings you have. What is missing is named, not guessed."
    return "\n\n".join([marks.head("I have a reading"), f"<p>{told}</p>", marks.doors(map(_door, cards))]) + "\n"
