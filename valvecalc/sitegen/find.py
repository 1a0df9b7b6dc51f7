"""The search: everything there is, as a page that is read without script, and as the index that the browser searches.

Entries are taken from the pages themselves, so that none can be forgotten. Finding is finding.py, and in the browser
live/finding.js.
"""

import json
import re
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path

from valvecalc import live, tables
from valvecalc.catalogue import entry_of
from valvecalc.diagnosis.knowledge import knowledge
from valvecalc.facts import load_toml
from valvecalc.finding import Entry, rules
from valvecalc.formula import REGISTER
from valvecalc.quantities import VOCABULARY
from valvecalc.sitegen import fault_parts as parts
from valvecalc.sitegen import marks
from valvecalc.sitegen.words_page import file, place, terms

TITLE = "Search"
PAGE = "find.md"
#: Wakes the search field of a page.
SCRIPT = "assets/find.js"
#: What a page is, by its file: the first pattern that fits, else a page.
_KINDS = (
    (r"hurt\.md", "first-aid"),
    (r"(.+/)?index\.md", "page"),
    (r"fault/causes/.+", "cause"),
    (r"fault/roots/.+", "root"),
    (r"fault/.+/bench\.md", "bench"),
    (r"fault/.+", "symptom"),
    (r"do/readings\.md", "procedure"),
    (r"do/.+", "check"),
    (r"judge/.+", "sheet"),
    (r"calc/.+", "formula"),
    (r"table/.+", "table"),
    (r"size/.+", "sizing"),
)
#: Pages whose parts are looked for by themselves, and what the parts are.
_IN_PARTS = {"hurt.md": "first-aid", "do/readings.md": "procedure", "fault/index.md": "symptom"}
_PART = re.compile(r"^## (?:Card \w · |\d+\. )?(.+?) \{ #([\w-]+) \}$", re.MULTILINE)
_TITLE = re.compile(r"^title: (.+)$", re.MULTILINE)
_TERM_PAGE = re.compile(r"words/([\w-]+)\.md#")
#: Kinds that the page lists by letter; the others have an order of their own.
_BY_LETTER = ("check", "cause", "root")


def form() -> str:
    """The search field. Without script it leads to the list of everything."""
    return (
        f'<form class="find" action="page:{PAGE}" role="search"><input type="search" name="q" '
        'aria-label="Search" placeholder="Search: coil, leakage, jet …" autocapitalize="off" autocomplete="off" '
        'spellcheck="false" enterkeyhint="search"></form>'
    )


def find_pages(pages: Mapping[str, str], folder: Path) -> dict[str, str]:
    """The search page and the index, from the generated pages and those written by hand in a folder."""
    by_hand = {path.relative_to(folder).as_posix(): path.read_text("utf-8") for path in sorted(folder.rglob("*.md"))}
    found = entries({**by_hand, **pages, PAGE: marks.head(TITLE)})
    return {
        PAGE: find_page(found),
        "assets/find-index.js": find_index(found),
        "assets/finding.js": Path(live.__file__).with_name("finding.js").read_text("utf-8"),
    }


def entries(pages: Mapping[str, str]) -> list[Entry]:
    """Every page, the parts of some, and every term of the words page; in the order of the kinds.

    `address` is the page's file, with # and a place where only a part of it is meant.
    """
    found = []
    for path, text in pages.items():
        title = _TITLE.search(text)
        if path.endswith(".md") and title:
            kind = next((kind for pattern, kind in _KINDS if re.fullmatch(pattern, path)), "page")
            found.append(_told(kind, path, json.loads(title[1]) if title[1].startswith('"') else title[1]))
        if path in _IN_PARTS:
            found += [_told(_IN_PARTS[path], f"{path}#{place}", told) for told, place in _PART.findall(text)]
    found += _terms("".join(text for path, text in pages.items() if path.startswith("words/")))
    order = list(rules().kinds)
    return sorted(found, key=lambda entry: order.index(entry.kind))


def _told(kind: str, path: str, title: str, line: str = "") -> Entry:
    """An entry with what its record says, and with what people say for it."""
    known = _records().get(path, Entry(kind, path, title, line))
    said = load_toml("words/search.toml")["says"].get(path, "")
    return known._replace(kind=kind, address=path, title=title, words=f"{known.words} {said}".strip())


@cache
def _records() -> dict[str, Entry]:
    """What the cards and the fault finder's records say below a title, by page."""
    model = knowledge()
    told = {marks.address(card): entry_of(card) for card in REGISTER.values() if not card.part}
    for symptom in model.symptoms.values():
        says = Entry("symptom", "", symptom.title, f"“{symptom.customer_says}”", symptom.customer_says)
        told[parts.page_of("symptom", symptom.id)] = says
    for check in model.checks.values():
        line = parts.sentence(parts.PLACES[check.where])
        told[parts.page_of("check", check.id)] = Entry("check", "", check.title, line, check.reading)
    for table in tables.tables().values():
        told[f"table/{table.id}.md"] = tables.entry_of(table)
    return told


def _terms(page: str) -> list[Entry]:
    """The terms that the words pages explain: each has its name as a place there."""
    shown = set(re.findall(r'(?: id="|\{ ?#)(\w+)', page))
    return [
        _told("word", place(name), name.replace("_", " "), row.symbol)
        for name, row in VOCABULARY.items()
        if name in shown
    ]


def find_page(found: Iterable[Entry]) -> str:
    """The list of everything, by kind, with the search field above it."""
    kinds: dict[str, list[Entry]] = {}
    for entry in found:
        kinds.setdefault(entry.kind, []).append(entry)
    jumps = "".join(f'<li><a href="#{kind}">{marks.esc(_kind_title(kind))}</a></li>' for kind in kinds)
    lines = [
        marks.head(TITLE).replace("hide: [", f"scripts: [{SCRIPT}]\nhide: [toc, ", 1),
        form(),
        f'<nav aria-label="Kinds"><ul class="every every--kinds">{jumps}</ul></nav>',
    ]
    for kind, rows in kinds.items():
        ordered = sorted(rows, key=lambda row: row.title.casefold()) if kind in _BY_LETTER else rows
        items = "".join(f"<li>{marks.link(*told)}</li>" for told in _listed(kind, ordered))
        lines += [f"## {_kind_title(kind)} {{ #{kind} }}", f'<ul class="every">{items}</ul>']
    return "\n\n".join(lines) + "\n"


def _listed(kind: str, rows: Iterable[Entry]) -> list[tuple[str, str]]:
    """Address and title of each; of the terms, which are hundreds, only the pages that they stand on."""
    if kind == "word":
        return [(file(key), group["title"]) for key, group in terms().items()]
    return [(row.address, row.title) for row in rows if not row.address.startswith("words/")]


def _kind_title(kind: str) -> str:
    return str(rules().kinds[kind]["title"])


def find_index(found: Iterable[Entry]) -> str:
    """The index as a classic script: the rules of finding, and the entries by kind as rows of their fields.

    The place of a term follows from its title, so that only # and its page's name stand there.
    """
    rows: dict[str, list[list[str]]] = {kind: [] for kind in rules().kinds}
    for entry in found:
        page = _TERM_PAGE.match(entry.address)
        row = [f"#{page[1]}" if page else _address(entry.address), *entry[2:]]
        while not row[-1]:
            row.pop()
        rows[entry.kind].append(row)
    by = rules()
    told = {
        "same": [",".join(" ".join(phrase) for phrase in group) for group in by.same],
        "idle": " ".join(by.idle),
        "units": " ".join(by.units),
        "worth": by.worth,
        "kinds": [{**told, "entries": rows[kind]} for kind, told in by.kinds.items()],
    }
    return f"const findIndex = {json.dumps(told, ensure_ascii=False, separators=(',', ':'))};\n"


def _address(path: str) -> str:
    """The address of a page's file, counted from the root: calc/index.md is calc/, hurt.md#a is hurt/#a."""
    return re.sub(r"((?:^|(?<=/))index)?\.md(?=#|$)", lambda found: "" if found[1] else "/", path)
