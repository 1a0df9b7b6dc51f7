"""The few things every drawing is made of: text, lines, hatching, a frame with title and description.

A drawing is 360 units wide so that its letters stay readable on a phone of 320 px. It takes its colours from
CSS custom properties (`--ink`, `--paper`, `--alarm`, `--tone-1` …) and carries a fallback for each; meaning is
always told by words and by hatching as well. The same input gives the same bytes, in live/drawing.js too.
"""

from collections.abc import Sequence
from html import escape
from math import ceil, floor
from re import sub
from zlib import crc32

WIDTH = 360
FONT = 14
ROW = 18

INK = "var(--ink, currentColor)"
PAPER = "var(--paper, Canvas)"
ALARM = "var(--alarm, #c62828)"
FAINT = "var(--faint, #80868c)"

# Fallbacks of middle lightness: the ink of a light and of a dark page can both be read beside them.
_TONES = ("#8fb8de", "#e3b45f", "#a5cf93", "#dd9a94", "#bda6dc", "#8fcac5", "#cbb98a", "#b4bac0")
# One hatching each, drawn in a 10 × 10 tile: "" is plain.
_HATCHES = (
    "",
    "M-2 2L2 -2M0 10L10 0M8 12L12 8",
    "M1.5 5h2M6.5 0h2M6.5 10h2",
    "M-2 8L2 12M0 0L10 10M8 -2L12 2",
    "M0 3h10M0 8h10",
    "M0 5h10M5 0v10",
    "M3 0v10M8 0v10",
    "M0 0L10 10M0 10L10 0",
)


# More than any two machines differ by in a coordinate; so an exact half falls to the same side on both.
_HAIR = 1e-6


def number(x: float) -> str:
    """A coordinate: two decimals at most."""
    return f"{floor(x * 100 + 0.5 + _HAIR) / 100:.12g}"


def mark(title: str, description: str) -> str:
    """An id for this drawing's parts, the same every time for the same words."""
    words = f"{title}\n{description}"
    return f"d{crc32(words.encode()):08x}"


def picture(title: str, description: str, height: float, body: Sequence[str], width: float = WIDTH) -> str:
    """The frame: it scales to its place, and says in words what it shows."""
    name = mark(title, description)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" viewBox="0 0 {number(width)} {number(height)}"'
        f' role="img" aria-labelledby="{name}-t {name}-d" font-family="system-ui, sans-serif" font-size="{FONT}">'
        f'<title id="{name}-t">{escape(title)}</title><desc id="{name}-d">{escape(description)}</desc>'
        + "".join(body)
        + "</svg>"
    )


def text(
    x: float, y: float, words: str, *, anchor: str = "start", bold: bool = False, fill: str = INK, halo: bool = False
) -> str:
    """One line of text; `anchor` is start, middle or end. A halo keeps lines behind it from striking it through."""
    look = ' font-weight="700"' if bold else ""
    look += f' stroke="{PAPER}" stroke-width="6" stroke-linejoin="round" paint-order="stroke"' if halo else ""
    return f'<text x="{number(x)}" y="{number(y)}" text-anchor="{anchor}"{look} fill="{fill}">{escape(words)}</text>'


def line(points: Sequence[tuple[float, float]], *, stroke: str = INK, width: float = 1, dash: str = "") -> str:
    """A line through points; `dash` as in SVG."""
    path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<path d="{path}" fill="none" stroke="{stroke}" stroke-width="{number(width)}"{dashes}/>'


def box(x: float, y: float, width: float, height: float, *, fill: str, dash: str = "") -> str:
    """A rectangle with a thin edge in ink."""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(width)}" height="{number(height)}"'
        f' fill="{fill}" stroke="{INK}" stroke-width="0.75"{dashes}/>'
    )


def hatches(name: str, count: int) -> str:
    """The first `count` fillings of this drawing: a tone with a hatching each, never a tone alone."""
    tiles = []
    for place in range(count):
        tone = place % len(_TONES)
        lines = _HATCHES[place % len(_HATCHES)]
        drawn = (
            f'<path d="{lines}" fill="none" stroke="{INK}" stroke-opacity="0.6" stroke-width="1.2"/>' if lines else ""
        )
        tiles.append(
            f'<pattern id="{name}-{place}" width="10" height="10" patternUnits="userSpaceOnUse">'
            f'<rect width="10" height="10" fill="var(--tone-{tone + 1}, {_TONES[tone]})"/>{drawn}</pattern>'
        )
    return f"<defs>{''.join(tiles)}</defs>"


def filling(name: str, place: int) -> str:
    """The filling number `place` made by `hatches`."""
    return f"url(#{name}-{place})"


def room(words: str) -> float:
    """About how wide a line of text is; broad on purpose, since the reader's font is not known."""
    return 0.62 * FONT * len(words)


def wrapped(words: str, width: float) -> list[str]:
    """The words in lines that fit into `width`; a no-break space holds a figure and its unit together."""
    lines: list[str] = []
    for word in words.split(" "):
        if lines and room(f"{lines[-1]} {word}") <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines or [""]


def legend(body: list[str], label: str, y: float) -> float:
    """Write what a sign at the left stands for; where the next one begins."""
    for words in wrapped(label, WIDTH - 46):
        body.append(text(42, y, words))
        y += ROW
    return y + 3


def ticks(low: float, high: float, most: int = 6) -> list[float]:
    """Round numbers from at or below `low` to at or above `high`, not many more than `most`."""
    span = high - low if high > low else 1.0
    step = float(f"1e{exponent(span / most)}")
    while span / step > most + 1e-9:
        step *= 2.5 if f"{step:e}"[0] == "2" else 2
    first, last = floor(low / step + 1e-9), ceil(high / step - 1e-9)
    return [place * step for place in range(first, max(last, first + 1) + 1)]


def ticks_inside(low: float, high: float) -> list[float]:
    """Round numbers from `low` to `high`, about five."""
    trifle = (high - low) * 1e-9
    return [mark for mark in ticks(low, high, 5) if low - trifle <= mark <= high + trifle]


def decades(low: float, high: float) -> list[float]:
    """Marks of a logarithmic scale that holds two positive ends: 1, 2, 5, 10 …; powers of ten alone if it is long."""
    first, last = exponent(low), exponent(high)
    steps = (1, 2, 5) if last - first < 3 else (1,)
    marks = [float(f"{step}e{power}") for power in range(first, last + 2) for step in steps]
    below = max(place for place, at in enumerate(marks) if at <= low * (1 + 1e-9))
    above = min(place for place, at in enumerate(marks) if at >= high * (1 - 1e-9))
    return marks[below : above + 1]


def exponent(x: float) -> int:
    """The power of ten of a number's first digit."""
    return int(f"{x:.16e}".split("e")[1])


def for_paper(svg: str) -> str:
    """The same drawing with the fallback colours written in, for renderers that know no custom properties."""
    fixed = sub(r"var\(--[\w-]+, ([^()]+)\)", r"\1", svg)
    return fixed.replace("currentColor", "#15181b").replace("Canvas", "#ffffff")
