"""Laying finished HTML aside changes no page: each comes out as Markdown alone makes it."""

from typing import Any

import markdown
import pytest
import yaml

from tests.conftest import ROOT
from valvecalc.formula import REGISTER
from valvecalc.sitegen import raw_html
from valvecalc.sitegen.card_page import card_page
from valvecalc.sitegen.legend import legend_page
from valvecalc.sitegen.words_page import words_pages

OURS = "valvecalc.sitegen.raw_html"

ODD = {
    "one element": "<div>\n\n<p>a *b* & c</p>\n\n</div>",
    "two on a line": "<p>a</p><ul><li>b</li></ul>\n\n## Head\n\n<p>c</p>",
    "words behind the end": "<p>a</p> and *b*\n\n<p>c</p>",
    "no empty line": "<p>a</p>\n<p>b</p>\n\n*c*",
    "one inside another of its kind": "<div><div>\n\n*a*\n\n</div>\n\n<div>b</div></div>\n\n*c*",
    "Markdown inside": '<div markdown="1">\n\n*a*\n\n<p>b</p>\n\n</div>',
    "Markdown inside, in short": "<div markdown>\n\n*a*\n\n<p>b</p>\n\n</div>",
    "a comment": "<div>\n\n<!-- <div> -->\n\n</div>\n\n*a*",
    "no end": "*a*\n\n<div>\n\n*b*",
    "a block in fenced code": "```html\n\n<p>a</p>\n\n```\n\n<p>b</p>",
    "a block in a list": "- a\n\n    <p>b</p>\n\n- c",
    "an element of a line": "<strong>a</strong> *b*\n\n<a href='#c'>c</a>",
    "a longer name": "<pre>\n\n*a*\n\n</pre>\n\n<p>b</p>",
    "nothing": "",
}


@pytest.fixture(scope="module")
def extensions() -> tuple[list[str], dict[str, Any]]:
    """The extensions of mkdocs.yml with their settings, as mkdocs hands them on."""
    text = (ROOT / "mkdocs.yml").read_text("utf-8").replace("!ENV", "")
    names: list[str] = ["toc", "tables", "fenced_code"]
    settings: dict[str, Any] = {}
    for entry in yaml.safe_load(text)["markdown_extensions"]:
        name, given = (entry, {}) if isinstance(entry, str) else next(iter(entry.items()))
        names.append(name)
        settings[name] = given
    return list(dict.fromkeys(names)), settings


def both(text: str, extensions: tuple[list[str], dict[str, Any]]) -> tuple[str, str]:
    names, settings = extensions
    assert OURS in names
    without = [name for name in names if name != OURS]
    return (
        markdown.markdown(text, extensions=names, extension_configs=settings),
        markdown.markdown(text, extensions=without, extension_configs=settings),
    )


@pytest.mark.parametrize("text", ODD.values(), ids=ODD)
def test_odd_pages(text: str, extensions: tuple[list[str], dict[str, Any]]) -> None:
    with_it, without = both(text, extensions)
    assert with_it == without


def body(page: str) -> str:
    return page.split("\n---\n", 1)[1]


def test_generated_pages(extensions: tuple[list[str], dict[str, Any]]) -> None:
    cards = [card for card in REGISTER.values() if not card.part][::12]
    pages = [*(card_page(card, {}, {}) for card in cards), legend_page(), *words_pages().values()]
    assert len(pages) > 20
    for page in map(body, pages):
        with_it, without = both(page, extensions)
        assert with_it == without


def test_hand_written_pages(extensions: tuple[list[str], dict[str, Any]]) -> None:
    for path in sorted((ROOT / "site" / "pages").rglob("*.md")):
        with_it, without = both(path.read_text("utf-8").replace("```calc", "```text"), extensions)
        assert with_it == without, path.name


def test_most_of_a_generated_page_is_laid_aside() -> None:
    """Else it would be here for nothing."""
    page = body(legend_page()) + "\n"
    laid = sum(end - start for start, end in raw_html._blocks(page))
    assert laid > 0.8 * len(page)
