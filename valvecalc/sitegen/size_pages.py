"""The duty as a form: one question a screen with script, one plain list without; and the request to any supplier.

What is asked is data (selection/questions.py). `size-form.js` shows one section at a time and keeps the answers on the
device; it computes nothing, `sizing` of assets/size.js does.
"""

import json
from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import Any

from valvecalc.demo import SIZE
from valvecalc.drawing.symbol import draw_box, draw_known
from valvecalc.facts import caution, load_toml, parse_toml
from valvecalc.quantities import VOCABULARY
from valvecalc.selection import function
from valvecalc.selection.cells import UNKNOWN, Field
from valvecalc.selection.demand import demand
from valvecalc.selection.duty import duty_from
from valvecalc.selection.questions import Question, field_of, questions, usual_positions
from valvecalc.selection.tell import told_request
from valvecalc.sitegen import marks
from valvecalc.sitegen.calculators import script_json
from valvecalc.units import choices

PAGE = "size/machine.md"
TITLE = "What the machine asks"
REQUEST_TITLE = "What to ask a supplier for"
SCRIPTS = ("assets/size.js", "assets/size-form.js", "assets/size-end.js")
REQUEST = "size/request.md"
#: The demo's duties and stock list as plain data, fetched when somebody asks for an example.
DEMO = "assets/size-demo.js"
_YES_NO = {"yes": "Yes", "no": "No"}


def size_pages() -> dict[str, str]:
    """The page of the form, that of the request, and the script with the examples."""
    return {PAGE: machine_page(), REQUEST: request_page(), DEMO: demo_script()}


def demo_script() -> str:
    """`sizeDemo`: the duties as the form keeps them, by the name of their file, and the stock list as text."""
    told = {"duties": _demos(), "stock": {"name": "stock.csv", "text": (SIZE / "stock.csv").read_text("utf-8")}}
    return f"globalThis.sizeDemo = {script_json(told)};\n"


def _demos() -> dict[str, dict[str, Any]]:
    return {path.stem: parse_toml(path.read_bytes(), path.name) for path in sorted(SIZE.glob("*.toml"))}


def machine_page() -> str:
    """The whole page as Markdown."""
    asked = questions()
    usual, others = usual_positions("rest")
    groups = groupby(asked, key=lambda one: one.group)
    parts = [
        f'<div class="asks" data-unknown="{marks.esc(json.dumps(UNKNOWN))}">',
        '<div class="asks__where with-script"><p>&nbsp;</p>'
        '<progress max="1" value="0" aria-label="Questions gone through"></progress></div>',
        *(_group(title, rows) for title, rows in groups),
        _end(),
        _below(),
        f'<ul class="boxes plain-only">{"".join(map(_box, [*usual, *others]))}</ul>',
        "</div>",
    ]
    return "\n\n".join((marks.head(TITLE, SCRIPTS), _about(), "".join(parts))) + "\n"


def _group(title: str, rows: Iterable[Question]) -> str:
    head = f'<p class="asks__group plain-only"><strong>{marks.esc(title)}</strong></p>'
    return head + "".join(map(_section, rows))


def _about() -> str:
    return (
        '<p class="plain-only">Every question that decides about a replacement, what can hurt first. <strong>“Don’t '
        "know” is always an answer</strong>: it says what to find out. With script these pages ask one question a "
        "screen. Without it, write the answers into a duty file under the names that stand beside them; a desk "
        "judges it: <code>valvecalc size DUTY.toml</code>.</p>"
    )


# ---- one question


def _section(one: Question) -> str:
    entries = [(entry, field_of(entry)) for entry in one.entries]
    conditions = "".join(
        f' data-{name}="{marks.esc(json.dumps(pairs))}"'
        for name, pairs in (("when", dict(one.when)), ("unless", dict(one.unless)))
        if pairs
    )
    hows = list(dict.fromkeys(field.how for _, field in entries if field.how))
    parts = [
        f'<section class="ask{" is-now" if one.id == "moves" else ""}" data-id="{one.id}" '
        f'data-group="{marks.esc(one.group)}" data-entries="{" ".join(one.entries)}"{conditions}>',
        f'<h2 tabindex="-1">{marks.esc(one.ask)}</h2>',
        f"<p>{marks.esc(one.more)}</p>" if one.more else "",
        "".join(marks.caution(caution(key)) for key in one.cautions),
        _how(hows[0]) if len(hows) == 1 else "",
        f"<p>{marks.link(*one.see)}</p>" if one.see else "",
        *(_entry(one, entry, field, len(hows) > 1) for entry, field in entries),
        _rows(one.id) if not entries else "",
        "</section>",
    ]
    return "".join(parts)


def _how(text: str) -> str:
    """How an entry is found out, before the place where it is put."""
    return f'<p class="ask__how"><strong>To find out:</strong> {marks.esc(text)}.</p>'.replace("?.</p>", "?</p>")


def _entry(one: Question, entry: str, field: Field, own_how: bool) -> str:
    how = _how(field.how) if own_how and field.how else ""
    alone = len(one.entries) == 1
    told = f'<p class="plain-only"><code>{entry}</code>: {marks.esc(_plain(one, entry, field))}</p>'
    return f"{how}{''.join(_control(one, entry, field, alone))}{told}"


def _plain(one: Question, entry: str, field: Field) -> str:
    """The answers that there are, for who reads without script."""
    label = _label(one, entry, field)
    words = {"choice": field.words, "yes-no": ("yes", "no")}.get(field.kind, tuple(one.buttons))
    if field.kind == "position":
        return "positions as drawn at the end of this page, written like P-A, B-T"
    if field.kind == "quantity":
        return f"{label}, in {' or '.join(_pair(field))}" if _pair(field)[0] else label
    told = ", ".join(f"{word} ({one.buttons[word]})" if one.buttons.get(word) else word for word in words)
    return f"{label}: {told}" if told else label


def _label(one: Question, entry: str, field: Field) -> str:
    words = one.labels.get(entry) or field.meaning or field.key.replace("_", " ")
    return words[:1].upper() + words[1:]


def _control(one: Question, entry: str, field: Field, alone: bool) -> Iterator[str]:
    label = _label(one, entry, field)
    if field.kind in ("choice", "yes-no"):
        words = field.words if field.kind == "choice" else tuple(_YES_NO)
        yield _buttons(one, entry, field, words, alone)
    elif field.kind == "position":
        usual, others = (";".join(rows) for rows in usual_positions(field.key))
        if not field.key.startswith("crossing"):
            usual += ";none"
        yield f'<div class="boxes with-script" data-entry="{entry}" data-boxes="{usual}"></div>'
        more = f'<div class="boxes" data-entry="{entry}" data-boxes="{others}"></div>'
        yield f'<details class="with-script"><summary>The other positions</summary>{more}</details>'
        yield _typed(entry, field, "Another one: type it, as P-A, B-T or A-B-T restricted")
    else:
        if one.buttons:
            yield _buttons(one, entry, field, tuple(one.buttons), alone)
        if field.kind != "fluid":
            yield _typed(entry, field, "Another one: type it" if one.buttons else label)


def _buttons(one: Question, entry: str, field: Field, words: Iterable[str], alone: bool) -> str:
    """Answers wide enough for a glove; where a screen has several entries they only mark what was chosen."""
    rows = "".join(
        f'<button type="button" class="door" data-put="{marks.esc(word)}" aria-pressed="false"><strong>'
        f"{marks.esc(_named(field, word))}</strong><small>{marks.esc(one.buttons.get(word, ''))}</small></button>"
        for word in words
    ).replace("<small></small>", "")
    dense = " asks__short" if not any(one.buttons.values()) else ""
    stays = "" if alone else ' data-stays=""'
    label = marks.esc(_label(one, entry, field))
    name = "" if alone else f'<p class="ask__name with-script">{label}</p>'
    return (
        f'{name}<div class="doors doors--list{dense} with-script" role="group" aria-label="{label}" '
        f'data-entry="{entry}"{stays}>{rows}</div>'
    )


def _named(field: Field, word: str) -> str:
    if field.kind == "yes-no":
        return _YES_NO[word]
    return word if word[1:2].isupper() or " " in word else word[:1].upper() + word[1:]


def _typed(entry: str, field: Field, label: str) -> str:
    """A field for a figure with its unit, or for words."""
    key = entry.replace(".", "-").replace("_", "-")
    number = field.kind == "quantity"
    keyboard = "decimal" if number and field.words[-1] != "any" else "text"
    unit = _unit_choice(field, label) if number else ""
    return (
        f'<div class="entries with-script"><div class="field" data-entry="{entry}"><label for="in-{key}">'
        f'{marks.esc(label)}</label><div class="field__in"><input type="text" id="in-{key}" inputmode="{keyboard}" '
        f'aria-describedby="wrong-{key}" autocapitalize="off" autocomplete="off" spellcheck="false" '
        f'enterkeyhint="next">{unit}</div><div class="field__wrong" id="wrong-{key}" aria-live="polite" hidden></div>'
        "</div></div>"
    )


def _pair(field: Field) -> tuple[str, ...]:
    """The metric and the US unit of a figure, as the vocabulary pairs them."""
    dimension = field.words[0]
    metric = field.words[1] if len(field.words) > 1 and field.words[1] not in ("any", "from") else ""
    pairs = [(row.metric, row.us) for row in VOCABULARY.values() if row.dimension == dimension and row.metric == metric]
    us = next((us for _, us in pairs if us and us != metric), metric)
    return tuple(dict.fromkeys((metric, us)))


def _unit_choice(field: Field, label: str) -> str:
    metric, us = (*_pair(field), *_pair(field))[:2]
    if not metric:
        return ""
    every = dict.fromkeys((metric, us, *choices(field.words[0])))
    options = "".join(f"<option>{marks.esc(unit)}</option>" for unit in every)
    return (
        f'<select class="unit" aria-label="Unit: {marks.esc(label)}" data-pair="{marks.esc(metric)}|{marks.esc(us)}">'
        f"{options}</select>"
    )


def _box(position: str) -> str:
    """A position drawn, in words and as it is written."""
    read = function.read_position(position)
    assert isinstance(read, function.Position)
    return (
        f'<li data-position="{position}">{draw_box(read)}<span>{marks.esc(function.words(read))}</span>'
        f"<code>{position}</code></li>"
    )


# ---- what moves, the end, and what lies below every question


def _rows(name: str) -> str:
    """How many cylinders and motors there are; before the first answer and after the last one."""

    def add(table: str, first: str, more: str) -> str:
        return (
            f'<button type="button" class="door" data-add="{table}" data-first="{first}" data-more="{more}">'
            f"<strong>{first}</strong></button>"
        )

    none = '<button type="button" class="door" data-do="next"><strong>No, that is all</strong></button>'
    return (
        '<div class="asks__rows with-script"></div><div class="doors doors--list with-script">'
        f"{none if name == 'more' else ''}{add('cylinder', 'A cylinder', 'Another cylinder')}"
        f"{add('motor', 'A hydraulic motor', 'Another hydraulic motor')}</div>"
        '<p class="plain-only"><code>[[cylinder]]</code>, <code>[[motor]]</code>: one table each</p>'
    )


def _end() -> str:
    ways = [
        marks.door("size/fits.md", "Which of my valves fits", "Every valve of your list, rule by rule."),
        marks.door(REQUEST, "What to ask a supplier for", "One page, without a list and without a maker."),
    ]
    return (
        '<section class="ask with-script" data-id="end"><h2 tabindex="-1">What is known</h2>'
        '<p class="asks__count"></p>'
        '<p><button type="button" class="act" data-do="open-ones">Answer what is open</button></p>'
        f'{marks.doors(ways)}<div class="asks__open"></div></section>'
    )


def _below() -> str:
    """What stands under every question: don't know, back, on, the answer; then all questions; then the rest."""
    return (
        '<div class="asks__nav with-script"><button type="button" class="door" data-do="unknown" '
        'aria-pressed="false"><strong>Don’t know</strong></button>'
        '<button type="button" class="act" data-do="back">Back</button>'
        '<button type="button" class="act" data-do="next">Next</button>'
        '<button type="button" class="act" data-do="end">Skip to the answer</button></div>'
        '<details class="asks__all with-script"><summary>All questions and answers</summary><div></div></details>'
        '<details class="asks__more with-script"><summary>Example, file, start anew</summary>'
        '<p>The answers stay on this device.</p><p class="answer__do">'
        '<button type="button" class="act" data-do="example">Show an example</button>'
        '<button type="button" class="act" data-do="save">Save as a file</button>'
        '<button type="button" class="act" data-do="open">Open a file</button>'
        '<button type="button" class="act" data-do="anew">Start anew</button></p><div class="asks__choose"></div>'
        '<input type="file" hidden accept=".toml,text/plain" aria-label="A duty file"></details>'
    )


# ---- the request


def request_page() -> str:
    """What to ask any supplier for: of the kept duty with script, of a demo's duty without."""
    words = load_toml("words/size.toml")["request"]
    asked = demand(duty_from(_demos()["baler"]))
    told = told_request(asked)
    drawn = draw_known(asked.old, told["old"]["operator"], told["old"]["stage"])
    lines = (f"<strong>{marks.esc(row['what'])}:</strong> {marks.esc(row['figure'])}" for row in told["request"])
    cautions = "".join(f"<p>{marks.esc(text)}</p>" for text in told["cautions"])
    open_entries = (marks.esc(row["what"]) for row in told["find_out"])
    parts = [
        marks.head(REQUEST_TITLE).replace("hide: [", "scripts: [assets/size-request.js]\nhide: [", 1),
        f'<div class="caution"><p class="request__hold">{marks.esc(words["hold"])}</p>{cautions}</div>',
        '<section class="request" data-state="example">',
        '<p class="request__none">Here stands an example, of an invented shop. Your own machine takes its place '
        f"with the first question that you answer (this needs script): {marks.link(PAGE, TITLE)}.</p>",
        f"<h2>{marks.esc(words['title'])}</h2>",
        f'<p class="request__machine">{marks.esc(told["machine"] or told["title"])}</p>',
        f'<ul class="request__lines">{_items(lines)}</ul>',
        f'<div class="request__drawn"><h3>{marks.esc(words["drawn"])}</h3>',
        f'<figure class="symbol">{drawn}</figure></div>',
        f'<div class="request__open"{"" if told["find_out"] else " hidden"}>',
        f"<p>{marks.esc(words['open'])}</p><ul>{_items(open_entries)}</ul></div>",
        '<p class="answer__do with-script"><button type="button" class="act" data-do="copy">Copy</button>'
        '<button type="button" class="act" data-do="print">Print</button></p>'
        '<p class="request__said with-script" role="status"></p></section>',
        marks.doors([marks.door(PAGE, TITLE, "Change an answer, or find out what is open.")]),
    ]
    return "\n\n".join((parts[0], "".join(parts[1:]))) + "\n"


def _items(rows: Iterable[str]) -> str:
    return "".join(f"<li>{row}</li>" for row in rows)
