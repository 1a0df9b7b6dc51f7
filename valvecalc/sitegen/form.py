"""The form of a calculator as HTML, written at build; `form.js` wakes it, and without script it is not shown.

Entries of the example come first, since they are what the shop reads; the rest is taken as it stands unless filled in.
"""

from collections.abc import Iterable

from valvecalc.facts import source
from valvecalc.formula import Card
from valvecalc.quantities import VOCABULARY, Quantity
from valvecalc.report import words
from valvecalc.sitegen import marks
from valvecalc.units import choices, from_si

#: An entry that the shop reads doubled: the difference of two diameters, where the formula wants the gap on one side.
_HALVED = {"clearance": "Or the difference of bore and spool diameters"}


def form(card: Card) -> str:
    """The form: entries, what is left to defaults, solving for an entry, the buttons."""
    main = [name for name in card.entries if name in card.example]
    rest = [name for name in card.entries if name not in card.example]
    parts = [
        '<form class="entries" novalidate autocomplete="off"><p class="now" aria-hidden="true"></p>',
        *(_field(card, name) for name in main),
        _more(f"More entries ({len(rest)}): left empty, they are taken as said", (_field(card, name) for name in rest)),
        _solve(card),
        '<p class="entries__do"><button type="button" class="act" data-do="example">Fill in the example</button>'
        '<button type="button" class="act" data-do="clear">Clear</button>'
        '<button type="button" class="act" data-do="doubt" aria-pressed="false">± of the readings</button></p>',
        "</form>",
    ]
    return "".join(parts)


def answer_unit(card: Card) -> str:
    """The unit choice of the headline result; nothing where there is only one unit."""
    quantity = VOCABULARY[card.result]
    if not _units(quantity):
        return ""
    return f'<label class="answer__unit">Answer in {_unit_choice(card, card.result, quantity, "answer")}</label>'


def _more(summary: str, fields: Iterable[str]) -> str:
    body = "".join(fields)
    return marks.details(summary, body) if body else ""


def _field(card: Card, name: str) -> str:
    label = f"{marks.esc(marks.label(card, name))}{_symbol(VOCABULARY[name])}"
    said = f'<p class="field__say" id="say-{name}">{marks.esc(_hint(card, name))}</p>'
    wrong = f'<div class="field__wrong" id="wrong-{name}" hidden></div>'
    if name in card.rows:
        return (
            f'<fieldset class="field rows" data-entry="{name}"><legend>{label}</legend>{_rows(card, name)}{said}{wrong}'
            f'<button type="button" class="act" data-do="row">Add a row</button></fieldset>'
        )
    head = f'<div class="field" data-entry="{name}"><label for="in-{name}">{label}</label>'
    if name in card.choices:
        return f'{head}<div class="field__in">{_choice(card, name, f"in-{name}", "")}</div>{said}{wrong}</div>'
    quantity = VOCABULARY[name]
    told = marks.esc(marks.within(marks.label(card, name)))
    entry = _input(card, name, f'id="in-{name}" aria-describedby="say-{name} wrong-{name}"')
    doubt = (
        f'<span class="field__doubt"><label for="doubt-{name}">±</label><input type="text" id="doubt-{name}" '
        f'placeholder=" " inputmode="decimal" aria-label="How far {told} can be wrong"></span>'
    )
    body = f'<div class="field__in">{entry}{_unit_choice(card, name, quantity, "in")}{doubt}</div>'
    return f"{head}{body}{_halved(name)}{said}{wrong}</div>"


def _halved(name: str) -> str:
    if name not in _HALVED:
        return ""
    return (
        f'<p class="field__half"><label for="diametral">{_HALVED[name]}</label> '
        '<input type="text" id="diametral" inputmode="decimal"> <output for="diametral">÷ 2</output></p>'
    )


def _input(card: Card, name: str, more: str) -> str:
    """Digits' keyboard, unless a reading may lie below zero: some phones' digits have no minus."""
    keyboard = "text" if _below_zero(card, name) else "decimal"
    return (
        f'<input type="text" {more} name="{name}" inputmode="{keyboard}" autocapitalize="off" spellcheck="false" '
        'enterkeyhint="next" placeholder=" ">'
    )


def _below_zero(card: Card, name: str) -> bool:
    return ">" not in card.limits.get(name, "") or "> -" in card.limits[name] or ">= -" in card.limits[name]


def _symbol(quantity: Quantity) -> str:
    return f" <var>{marks.symbols(quantity.symbol)}</var>" if quantity.symbol else ""


def _hint(card: Card, name: str) -> str:
    """Example, limits, and what is taken when the entry is left empty, with its origin."""
    told = []
    if name in card.example and name not in card.rows:
        told.append(f"Example: {card.example[name]}.")
    if name in card.limits:
        told.append(f"Limits: {marks.limit_text(card.limits[name])}.")
    if name in card.defaults:
        word, key = card.origins.get(name, ("judgement", ""))
        value = card.defaults[name]
        quantity = VOCABULARY[name]
        if quantity.dimension not in ("text", "rows"):
            value = marks.exact(from_si(value, quantity.metric, quantity.dimension), quantity.metric)
        by = f", {source(key)['text']}" if key else ""
        told.append(f"Left empty: {value} ({words.origin(word)}{by}).")
    elif name not in card.example and card.kind == "sheet":
        told.append("Left empty: not known.")
    return " ".join(told)


def _units(quantity: Quantity) -> list[str]:
    """Units to choose from, the shop's own two first; empty where there is no choice."""
    if not quantity.metric:
        return []
    every = dict.fromkeys((quantity.metric, quantity.us, *choices(quantity.dimension)))
    return [unit for unit in every if unit]


def _unit_choice(card: Card, name: str, quantity: Quantity, what: str) -> str:
    units = _units(quantity)
    if not units:
        return ""
    told = marks.esc(marks.within(marks.label(card, name)))
    options = "".join(f"<option>{marks.esc(unit)}</option>" for unit in units)
    return (
        f'<select class="unit" id="unit-{what}-{name}" aria-label="Unit of {told}" '
        f'data-pair="{marks.esc(quantity.metric)}|{marks.esc(quantity.us)}">{options}</select>'
    )


def _choice(card: Card, name: str, key: str, label: str) -> str:
    options = "".join(f"<option>{marks.esc(word)}</option>" for word in card.choices[name])
    said = f' aria-label="{marks.esc(label)}"' if label else f' aria-describedby="say-{name} wrong-{name}"'
    return f'<select id="{key}" name="{name}"{said}><option value="">not known</option>{options}</select>'


def _rows(card: Card, name: str) -> str:
    """One row of empty cells as a pattern; form.js adds as many as are asked for."""
    columns = card.rows[name]
    units = "".join(_column_unit(card, column) for column in columns)
    cells = "".join(_cell(card, name, column) for column in columns)
    return (
        f'<div class="rows__units">{units}</div><div class="rows__row" role="group" aria-label="Row 1">{cells}'
        '<button type="button" class="act rows__off" data-do="row-off" aria-label="Take this row out">×</button></div>'
    )


def _column_unit(card: Card, column: str) -> str:
    quantity = VOCABULARY[column]
    choice = _unit_choice(card, column, quantity, "column") if quantity.dimension not in ("text", "rows") else ""
    return f'<span class="rows__head">{marks.esc(marks.label(card, column))}{_symbol(quantity)} {choice}</span>'


def _cell(card: Card, name: str, column: str) -> str:
    label = marks.label(card, column)
    if column in card.choices:
        return _choice(card, column, f"cell-{name}-{column}", label)
    return _input(card, column, f'id="cell-{name}-{column}" aria-label="{marks.esc(label)}"')


def _solve(card: Card) -> str:
    """Which entry to find, and the result it is to give."""
    entries = [name for name in card.entries if _number(card, name)]
    results = [name for name in (card.results or (card.result,)) if _number(card, name)]
    if not entries or not results:
        return ""
    wanted = "".join(f'<option value="{name}">{marks.esc(marks.label(card, name))}</option>' for name in entries)
    given = "".join(f'<option value="{name}">{marks.esc(marks.label(card, name))}</option>' for name in results)
    body = (
        '<div class="field solve"><label for="solve">Find</label>'
        f'<select id="solve"><option value="">(nothing: work it forward)</option>{wanted}</select>'
        f'<label for="solve-result">so that</label><select id="solve-result">{given}</select>'
        '<label for="solve-value">is</label><div class="field__in"><input type="text" id="solve-value" '
        'inputmode="text" autocapitalize="off" spellcheck="false" aria-describedby="wrong-solve">'
        '<select class="unit" id="solve-unit" aria-label="Unit of the result"></select></div>'
        '<div class="field__wrong" id="wrong-solve" hidden></div></div>'
    )
    return marks.details("Solve for an entry", body)


def _number(card: Card, name: str) -> bool:
    return name not in card.rows and name not in card.choices and VOCABULARY[name].dimension not in ("text", "rows")
