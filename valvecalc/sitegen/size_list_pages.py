"""The pages of the shop's own list: "My valves", how such a list is written, and "Which fits" with a worked example.

What stands here is read without a script. With one, site/pages/assets/size-list.js and size-fits.js take the valves and
the duty that the device keeps; nothing of them leaves it.
"""

import csv
import io
from functools import cache

from valvecalc.demo import SIZE
from valvecalc.facts import caution, load_toml, source
from valvecalc.formula import REGISTER
from valvecalc.selection import function
from valvecalc.selection.cells import UNKNOWN, Field, columns
from valvecalc.sitegen import marks, sizing
from valvecalc.sitegen.size_worked import worked

#: Copied as they are: lists to fill in and to look at.
TEMPLATE, DEMO_LIST = "size/stock-template.csv", "size/stock-demo.csv"
#: Tells a spreadsheet that the letters are UTF-8.
_MARK = "\ufeff"
_SAID = {
    "text": "words",
    "words": "words parted by commas",
    "count": "a whole number, 0 for none",
    "price": "one figure; its currency may stand beside it",
    "protection": "IP and two figures",
    "interface": "ISO 4401-03, NG6 or D03; another surface as “other:” and words",
    "position": "the ports that are joined, see “Positions”",
}
_POSITIONS = ("P-A, B-T", "shut", "P-T", "A-B-T", "P-A-B-T", "A-B-T restricted", "none")


def list_pages() -> dict[str, str]:
    """The three pages and the two lists to load down."""
    return {
        "size/list.md": _list_page(),
        "size/list-format.md": _format_page(),
        "size/fits.md": _fits_page(),
        TEMPLATE: _MARK + ",".join(map(_headed, columns().values())) + "\n",
        DEMO_LIST: _MARK + (SIZE / "stock.csv").read_text("utf-8"),
    }


def _woken(title: str, script: str) -> str:
    """Front matter and heading of a page whose small scripts look at once for what the device keeps."""
    scripts = f"scripts: [assets/size-kept.js, assets/{script}.js]\nhide: ["
    return marks.head(title).replace("hide: [", scripts, 1)


def _download(path: str, words: str) -> str:
    return f'<a class="act" download href="page:{path}">{marks.esc(words)}</a>'


def _list_page() -> str:
    by_desk = (
        "This page reads a list with a script. Without one the list is judged at a desk: "
        "<code>valvecalc size DUTY.toml --stock STOCK.csv</code>."
    )
    parts = [
        _woken("My valves", "size-list"),
        "<p>The valves on your shelves, from a file in CSV, one valve a row, or in TOML. It is read and kept on "
        "this device only; nothing of it is sent anywhere. "
        f"{marks.link('size/list-format.md', 'How the list is written')}.</p>",
        f'<p class="plain-only no-print">{by_desk}</p>',
        '<div class="stock"><div class="with-script">'
        '<p class="field"><label for="stock-file">Open a list (CSV or TOML)</label> '
        '<input type="file" id="stock-file" class="stock__file" accept=".csv,.toml,.txt,text/csv,text/plain"></p>'
        '<p class="entries__do"><button type="button" class="act" data-demo>Use the demo list</button></p>'
        '<p class="stock__said" role="status"></p></div><div class="stock__problems"></div>'
        '<div class="stock__kept"></div></div>',
        "## Begin a list",
        f'<p class="entries__do">{_download(TEMPLATE, "Empty list, all headers")} '
        f"{_download(DEMO_LIST, 'The demo list')}</p>",
        "<p>The shop and the valves of the demo list are invented. Only the column <code>name</code> is needed; what a "
        "blank keeps from being judged is asked for.</p>",
        marks.doors(
            [
                marks.door("size/list-format.md", "How the list is written", "Every column with an example."),
                marks.door("size/fits.md", "Which fits", "The list judged against what the machine asks."),
            ]
        ),
    ]
    return "\n\n".join(parts) + "\n"


# ---- the format


def _format_page() -> str:
    names = ", ".join(f"<code>{marks.esc(word)}</code>" for word in UNKNOWN if word)
    first = next(iter(_demo_rows()))
    toml = "\n".join(["[[valve]]", *(f'{key} = "{first[key]}"' for key in ("name", "interface", "rest", "pressure_p"))])
    parts = [
        marks.head("How a stock list is written"),
        "<p>A text in CSV: the first row names the columns, each row below is one valve. Columns may stand in any "
        "order and may be missing, save <code>name</code>. A faulty cell counts as unknown and is named with its row; "
        "the rest of the row is kept.</p>",
        f'<p class="entries__do">{_download(TEMPLATE, "Empty list, all headers")} '
        f"{_download(DEMO_LIST, 'The demo list')}</p>",
        "## Blank is unknown",
        f"<p>An empty cell, {names} mean that it is not known. Then the judging asks for it where it needs it. It "
        "never takes a blank for zero, and a zero is believed: write it only where it was counted or measured.</p>",
        "## Rows and cells",
        marks.bullets(
            [
                "Commas, semicolons or tabs part the cells; the header row tells which. With semicolons a decimal "
                "comma needs no quotation marks.",
                'A cell that holds the mark that parts the cells stands in quotation marks: "P-A, B-T".',
                "Rows above the header that begin with # are comments.",
                "Each name stands once. Capitals do not count in headers, names and words to choose from.",
                "Save it as CSV UTF-8, else ², ° and µ may be read wrongly; the page says so when it notices.",
            ]
        ),
        "## Figures and units",
        "<p>A figure carries its unit: <code>315 bar</code>, <code>4500 psi</code>, <code>31.5 MPa</code>. Or the "
        "header names the unit for all bare figures below it, as in <code>pressure_p [bar]</code>; a cell with a unit "
        "of its own keeps it. A figure without any unit is refused, and so is one that can be read in two ways: in "
        "<code>4,500 psi</code> the comma may mark thousands or decimals.</p>",
        "## Positions { #positions }",
        "<p>Ports that are joined stand with a hyphen between them, groups are parted by commas, and a port that is "
        "not named is shut by itself. <code>restricted</code> behind a group: through a small notch only.</p>",
        marks.table(("Written", "It means"), [_position(text) for text in _POSITIONS]),
        "## Points { #points }",
        "<p>A curve is one point or more, parted by semicolons: flow, unit, pressure, unit, as in "
        f"<code>{marks.esc(_example('drop_pa'))}</code>. A loss rises with the flow; each flow stands once. With one "
        "point alone the judging allows for more error. <code>shift_limit</code> is flow and the pressure at which "
        "the valve only just shifts there, not above its rating at P.</p>",
        "## Every column { #columns }",
        _columns(),
        "## The same in TOML",
        "<p>A file whose name ends in <code>.toml</code>: one table for each valve, the columns as keys, each "
        "value a text in quotation marks.</p>",
        f"```toml\n{toml}\n```",
    ]
    return "\n\n".join(parts) + "\n"


def _position(text: str) -> tuple[str, str]:
    told = function.words(function.read_position(text))
    return f"<code>{marks.esc(text)}</code>", marks.esc(told[:1].upper() + told[1:])


def _columns() -> str:
    rows = [
        (
            f'<code id="column-{field.key}">{marks.esc(field.key)}</code>',
            marks.esc(field.meaning[:1].upper() + field.meaning[1:]),
            marks.esc(written(field)),
            f"<code>{marks.esc(_example(field.key))}</code>",
        )
        for field in columns().values()
    ]
    return marks.table(("Column", "What it is", "How it is written", "Example"), rows)


def written(field: Field) -> str:
    """How the cells of a column are written, from its kind."""
    if field.kind == "choice":
        return f"one of: {', '.join(field.words)}"
    if field.kind == "quantity":
        _, unit, *rest = field.words
        more = {"from 0": "; 0 is allowed", "any": "; may be below zero"}.get(" ".join(rest), "")
        return f"figure and unit: {unit} or another of its kind{more}"
    if field.kind == "points":
        return "points, see “Points”"
    return _SAID[field.kind]


def _headed(field: Field) -> str:
    """A column's header; a quantity with its unit, so that bare figures can stand below it."""
    return f"{field.key} [{field.words[1]}]" if field.kind == "quantity" else field.key


@cache
def _demo_rows() -> tuple[dict[str, str], ...]:
    lines = [line for line in (SIZE / "stock.csv").read_text("utf-8").splitlines() if not line.startswith("#")]
    return tuple(csv.DictReader(io.StringIO("\n".join(lines))))


def _example(key: str) -> str:
    """The first cell of the demo list that is filled in."""
    return next(row[key] for row in _demo_rows() if row[key])


# ---- which fits


def _fits_page() -> str:
    common = load_toml("words/size.toml")["common"]
    parts = [
        _woken("Which fits", "size-fits"),
        *(marks.caution(caution(str(common[key]))) for key in ("hold-first", "zero-first")),
        '<p class="fits__of">Your list against what the machine asks, worked out on this device: nothing is sent '
        "anywhere. It releases nothing: who answers for the safety of the machine decides.</p>",
        '<p class="plain-only no-print">Judging your own list needs a script. At a desk: '
        "<code>valvecalc size DUTY.toml --stock STOCK.csv</code>. Below stands the answer for the demo.</p>",
        f'<div class="fits" data-state="example"><div class="fits__yours"></div>{worked()}</div>',
        "## What it stands on",
        marks.details("Figures taken where the duty and the list say nothing", _facts()),
        marks.details("Calculations", f"<ul>{''.join(f'<li>{one}</li>' for one in _formulas())}</ul>"),
    ]
    return "\n\n".join(parts) + "\n"


def _facts() -> str:
    found = load_toml("defaults.toml")
    rows = []
    for key in sizing.FACTS:
        fact = found[key]
        origin = marks.origin(fact["origin"], source(fact["source"])["text"] if "source" in fact else "")
        rows.append((f"<code>{key}</code>", marks.esc(fact.get("value", "a table")), origin, marks.esc(fact["note"])))
    return marks.table(("Figure", "Value", "Where it is from", "What it is"), rows)


def _formulas() -> list[str]:
    return [marks.card_link(REGISTER[name]) for name in sizing.CALLED]
