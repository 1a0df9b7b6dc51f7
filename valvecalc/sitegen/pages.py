"""The generated pages: path under the pages folder -> text. A `.md` is a page, all else is copied."""

from collections.abc import Iterable
from pathlib import Path
from sys import modules

from valvecalc.checked import cases, check
from valvecalc.door import load
from valvecalc.facts import load_toml
from valvecalc.formula import REGISTER, Card
from valvecalc.sitegen import marks
from valvecalc.sitegen.bench_form import form_pages
from valvecalc.sitegen.calculators import calculator_scripts
from valvecalc.sitegen.card_page import card_page
from valvecalc.sitegen.checked_faults import PAGE as FAULTS_CHECKED
from valvecalc.sitegen.checked_faults import faults_page
from valvecalc.sitegen.checked_page import by_formula, checked_page
from valvecalc.sitegen.demo import demo_pages
from valvecalc.sitegen.fault_pages import fault_pages, other_cores
from valvecalc.sitegen.find import find_pages
from valvecalc.sitegen.job_page import fields_page
from valvecalc.sitegen.legend import legend_page
from valvecalc.sitegen.prose import guides
from valvecalc.sitegen.size_list_pages import list_pages
from valvecalc.sitegen.size_pages import size_pages
from valvecalc.sitegen.sizing import sizing_script
from valvecalc.sitegen.table_pages import table_pages
from valvecalc.sitegen.words_page import words_pages


def pages(root: Path, address: str = "") -> dict[str, str]:
    """Every generated page and script.

    root     the source tree: the published cases are read from it
    address  where others can reach the shop's pages, for citations and their QR codes
    """
    load()
    folder = root / "tests" / "published"
    rows = [check(case) for case in cases(folder)]
    checked = by_formula(rows)
    by_hand = root / "site" / "pages"
    explained = guides(by_hand)
    shown = [card for card in REGISTER.values() if not card.part]
    with other_cores():
        written = {
            "calc/index.md": _formulas(card for card in shown if card.kind == "formula"),
            "judge/index.md": judge_index(card for card in shown if card.kind == "sheet"),
            "checked.md": checked_page(folder, rows),
            FAULTS_CHECKED: faults_page(folder.parent / "diagnosis"),
            **{marks.address(card): card_page(card, checked, explained) for card in shown},
            **calculator_scripts(shown, address),
            "job/fields.md": fields_page(),
            **form_pages(),
            "marks.md": legend_page(),
            **words_pages(),
            **table_pages(),
            **demo_pages(),
            **fault_pages(),
            **size_pages(),
            **list_pages(),
            "assets/size.js": sizing_script(),
        }
    return written | find_pages(written, by_hand)


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
    words = marks.door("words.md", "Words", "Every term and symbol, its units and the pages that use it.")
    people = marks.door("learn/index.md", "The calculations, explained", "By subject: which reading, which formula.")
    figures = marks.door("table/index.md", "Tables", "Each with its source, and as a file for a spreadsheet.")
    parts = [marks.head("Look up and cite"), f"<p>{told}</p>", marks.doors([people, figures, every, words])]
    for module, group in subjects.items():
        title, _, more = (modules[module].__doc__ or "").split("\n")[0].rstrip(".").partition(": ")
        parts += [
            f"## {title}",
            f"<p>{marks.esc(more[:1].upper() + more[1:])}.</p>" if more else "",
            marks.doors(map(_door, group)),
        ]
    return "\n\n".join(part for part in parts if part) + "\n"


def judge_index(cards: Iterable[Card]) -> str:
    """The small sheets by what was measured, in the order of data/words/judge.toml; the larger ones after them."""
    words = load_toml("words/judge.toml")["doors"]
    by_id = {card.id: card for card in cards}
    first = [by_id.pop(name) for name in words["first"]]
    told = "A sheet answers one question of the shop from the readings you have. What is missing is named, not guessed."
    parts = [marks.head(words["asks"]), f"<p>{marks.esc(words['about'])}</p>", marks.doors(map(_door, first))]
    parts += [f"## {words['more']}", f"<p>{told}</p>", marks.doors(map(_door, by_id.values()))]
    return "\n\n".join(parts) + "\n"
