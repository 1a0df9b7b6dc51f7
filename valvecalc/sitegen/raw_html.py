"""A Markdown extension that lays finished HTML aside before Markdown looks at it.

The generated pages are HTML but for their headings. Markdown would read each tag of it three times over, to put it
back unchanged: half of the time that mkdocs took. A page that mixes the two (an element with `markdown`, a comment) is
left to Markdown, and so is an element with text behind its end: a page comes out the same with this and without.
"""

import re
from collections.abc import Iterator
from typing import Any

from markdown import Markdown
from markdown.extensions import Extension
from markdown.preprocessors import Preprocessor

#: An element that begins a block of its own: at the start of a line, behind an empty one.
_BLOCK = re.compile(
    r"(?:\A|(?<=\n\n))<(article|aside|details|div|dl|figure|form|h[1-6]|nav|ol|p|section|table|ul)\b[^<>]*>"
)
_MIXED = re.compile(r"<!--|<\w[^<>]*\smarkdown\b")


class _LayAside(Preprocessor):
    """Stores every block of finished HTML as Markdown's own reader of HTML does."""

    def run(self, lines: list[str]) -> list[str]:
        text = "\n".join(lines)
        if _MIXED.search(text):
            return lines
        out, done = [], 0
        for start, end in _blocks(text):
            out += [text[done:start], "\n", self.md.htmlStash.store(text[start:end] + "\n"), "\n\n"]
            done = end
        return "".join([*out, text[done:]]).split("\n")


def _blocks(text: str) -> Iterator[tuple[int, int]]:
    """Start and end of each element that stands alone between empty lines."""
    done = 0
    for found in _BLOCK.finditer(text):
        if found.start() < done:
            continue
        end = _end(text, found.start(), found[1])
        if text.startswith("\n\n", end):
            yield found.start(), end
            done = end


def _end(text: str, start: int, tag: str) -> int:
    """Where the element that begins at `start` has ended; the end of the text where it does not."""
    depth = 0
    for found in re.compile(rf"<(/?){tag}\b[^>]*>").finditer(text, start):
        depth += -1 if found[1] else 1
        if depth == 0:
            return found.end()
    return len(text)


class RawHtml(Extension):
    """Runs behind fenced code and before all that reads HTML."""

    def extendMarkdown(self, md: Markdown) -> None:
        md.preprocessors.register(_LayAside(md), "lay_html_aside", 22)


def makeExtension(**options: Any) -> RawHtml:
    """What mkdocs asks a module for."""
    return RawHtml(**options)
