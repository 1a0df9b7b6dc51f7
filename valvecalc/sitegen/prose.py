"""Calculations in hand-written pages: a fenced `calc` block of TOML is worked through the door while the site is built.

    ```calc
    id = "annular-leakage"
    diameter = "16 mm"
    …
    expect = "12.3 mL/min"     the headline as it is printed, with its verdict if it has one; what the prose speaks of
    chart = true               with the chart of the card
    also = { … }               results by name, as printed, where the prose speaks of them too
    ```

A block that cannot be worked, or whose answer is not the expected one, stops the build with file and line. So the prose
beside a figure cannot outlive it.
"""

import re
from collections.abc import Iterable, Mapping
from html import escape
from pathlib import Path
from typing import Any

import valvecalc
from valvecalc.door import find
from valvecalc.errors import DataError, InputError
from valvecalc.facts import parse_toml
from valvecalc.report import words
from valvecalc.sitegen import marks
from valvecalc.sitegen.answer_part import body, grid, headline, lines, named
from valvecalc.sitegen.curves import figure

_BLOCK = re.compile(r"^```calc\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_ABOUT = ("id", "expect", "chart", "also")
#: A link of a hand-written page to the page of a calculation.
_LINK = re.compile(r"\]\((?:\.\./)*(?:calc|judge)/([a-z0-9-]+)\.md[#)]")


def worked(markdown: str, name: str) -> str:
    """A hand-written page with its `calc` blocks worked. `name` is its file, for the message.

    Raises DataError with file and line where a block cannot be worked or does not give what it expects.
    """

    def told(found: re.Match[str]) -> str:
        place = f"{name}, line {markdown.count(chr(10), 0, found.start()) + 1}"
        try:
            return _case(parse_toml(found[1].encode(), "calc block"), place)
        except InputError as error:
            raise DataError(f"{place}: {error}") from error

    return _BLOCK.sub(told, markdown)


def _case(block: Mapping[str, Any], place: str) -> str:
    """One worked case as HTML: what was given, the answer, chart and worked lines, the way to the calculator."""
    if missing := [key for key in ("id", "expect") if key not in block]:
        raise DataError(f"{place}: a calc block needs {' and '.join(missing)}")
    card = find(str(block["id"]))
    answer = valvecalc.calc(card.id, **{key: value for key, value in block.items() if key not in _ABOUT})
    row = answer.to_json()
    printed = {one["name"]: _printed(one) for one in row["results"] if "rows" not in one}
    head = row["result"]["name"] if row["result"] else ""
    for name, expected in {head: block["expect"], **block.get("also", {})}.items():
        came = printed.get(name, "no value")
        if came != expected:
            told = card.id if name == head else f"{card.id}, {name},"
            raise DataError(f"{place}: {told} gives {came}, the page expects {expected}: mend the page")
    single = [(named(card, key), marks.esc(one["text"])) for key, one in row["inputs"].items() if one.get("text")]
    rows = [
        grid(card, key, one["columns"], one["rows"])
        for key, one in row["inputs"].items()
        if key in card.rows and key in block
    ]
    parts = [
        f'<div class="case"><p class="case__title"><strong>{marks.esc(card.title)}</strong></p>',
        marks.pairs(("Entry", "Value"), single),
        *rows,
        headline(card, row),
        figure(answer) if block.get("chart") else "",
        f"<details><summary>All that it gives, and the worked lines</summary>{body(card, row)}"
        f'<div class="worked">{lines(card, row["steps"])}</div></details>',
        f'<p><a href="page:{marks.address(card)}#{escape(row["link"].partition("#")[2])}">'
        "The same with your own numbers</a></p></div>",
    ]
    return "\n".join(part for part in parts if part)


def _printed(result: Mapping[str, Any]) -> str:
    """A result as it is printed: value, and the verdict behind a comma."""
    told = words.result(result)
    return f"{told}, {words.verdict(result['verdict'])}" if "verdict" in result else told


def guides(folder: Path) -> dict[str, list[tuple[str, str]]]:
    """Id of a calculation -> the guide pages (learn/) that lead to it: file under the pages folder, and title."""
    found: dict[str, list[tuple[str, str]]] = {}
    for path in _guide_files(folder):
        text = path.read_text("utf-8")
        title = text.split("\ntitle: ", 1)[1].split("\n", 1)[0]
        for name in dict.fromkeys(_LINK.findall(text)):
            found.setdefault(name, []).append((path.relative_to(folder).as_posix(), title))
    return found


def _guide_files(folder: Path) -> Iterable[Path]:
    return (path for path in sorted((folder / "learn").glob("*.md")) if path.name != "index.md")
