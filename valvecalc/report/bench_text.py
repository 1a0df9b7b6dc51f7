"""The bench sheet as terminal text of 96 columns: cautions first, then what to do, then lines to write on."""

from collections.abc import Iterator, Mapping, Sequence
from textwrap import wrap
from typing import Any

from valvecalc.report import joints
from valvecalc.report.words import Row

WIDTH = 96
COLUMNS = (("found", "as received"), ("left", "as left"))


def render(sheet: Mapping[str, Any], width: int = WIDTH) -> str:
    """The sheet as text; a caution is never shortened."""
    return "\n".join(_lines(sheet, width)).rstrip() + "\n"


def _lines(sheet: Mapping[str, Any], width: int) -> Iterator[str]:
    job = sheet["job"]
    yield from _fit(": ".join(filter(None, (f"{sheet['title'].upper()} {job['id']}", job.get("title", "")))), width)
    yield from _fit(", ".join(filter(None, (sheet["shop"]["name"], sheet["shop"]["address"]))), width)
    for key in ("customer", "machine", "valve_words", "complaint"):
        if job.get(key):
            yield from _fit(f"{key.removesuffix('_words').capitalize()}: {job[key]}", width, "  ")
    yield from ("", *_fit(sheet["about"], width), "")
    yield from _boxed(sheet["gate"]["title"], sheet["gate"]["reasons"], width)
    yield from _listed("Assumed on this sheet", sheet["assumed"], width)
    for number, stage in enumerate(sheet["stages"], 1):
        yield from (f"{number}. {stage['title'].upper()}", *_fit(stage["about"], width, "   "), "")
        yield from _boxed(sheet["gate"]["title"], stage["closed"], width)
        for place, step in enumerate(stage["steps"], 1):
            yield from _step(f"{number}.{place}", step, width)
        if stage["id"] == "closed":
            yield from _joints(sheet, width)
            yield from ("", *_fit(sheet["once_more"], width), "")
    yield from _listed("Lines of the acceptance run in the job file", sheet["written"], width)
    yield from _listed("Instruments of the shop", map(instrument, sheet["instruments"]), width)
    yield from ("Tested by ____________________  on ______________  second person ____________________", "")
    yield f"valvecalc {sheet['version']}, data {sheet['data_version']}"


def _step(number: str, step: Row, width: int) -> Iterator[str]:
    yield from _fit(f"{number} {step['title']}{acceptance(step)}", width)
    yield from (f"  ! {line}" for text in step["cautions"] for line in wrap(text, width - 4))
    for text in step["how"]:
        yield from _fit(f"  {text}", width, "  ")
    if step["tool"]:
        yield from _fit(f"With: {step['tool']}", width, "  ")
    for row in step["at"]:
        yield from _fit(f"At: {set_up(row)}", width, "  ")
    for row in step["readings"]:
        yield from _fit(f"[ ] {named(row)}", width, "  ")
        for text in against(row):
            yield from _fit(text, width, "      ")
        yield from _write(row, width)
    yield ""


def _write(row: Row, width: int) -> Iterator[str]:
    """What is read already, else a line to write on."""
    for key, name in COLUMNS if row["twice"] else (("found", ""),):
        told = row[key]
        lead = f"      {name + ' ':<12}" if name else "      "
        if told is not None:
            yield from _fit(f"{lead.strip()} {read(told)}".strip(), width, "      ")
        elif measured(row):
            yield f"{lead}______________ {row['unit']:<7} instrument ____________ calibrated until ____________"
        else:
            yield f"{lead}______________"


def measured(row: Row) -> bool:
    """Whether an instrument belongs to the reading."""
    return bool(row["unit"]) or row["field"] == "acceptance.reading"


def named(row: Row) -> str:
    """Which reading: of what, and where it goes in the job file."""
    state = f", {row['state']}" if row["state"] else ""
    words = f" ({row['choices']})" if row["choices"] else ""
    lead = f"{row['subject']}: " if row["subject"] else ""
    return f"{lead}{row['what']}{state}{words} [{row['field']}]"


def against(row: Row) -> list[str]:
    """What the reading is held against, whose limit that is, and what it was worked with."""
    expected = [f"expected {row['expected']}"] if row["expected"] else []
    limits = [f"{limit['word']} {limit['text']}" for limit in row["limits"]]
    told = "; ".join([*expected, *limits])
    texts = [f"{told[:1].upper()}{told[1:]}{_whose(row)}." if told else ""]
    texts += [f"Worked with: {'; '.join(row['with'])}."] if row["with"] else []
    texts += [f"No limit yet; needs: {'; '.join(row['needs'])}."] if row["needs"] else []
    return [text for text in texts if text]


def set_up(row: Row) -> str:
    """A line of the set-up."""
    lead = f"{row['subject']}, " if row["subject"] else ""
    told = f"{row['text']}{_whose(row)}" if row["text"] else f"__________ needs: {'; '.join(row['needs'])}"
    return f"{lead}{row['what']}: {told}" + (f". {row['note']}" if row["note"] else "")


def _whose(row: Row) -> str:
    return f" ({row['whose']})" if row["whose"] else ""


def acceptance(step: Row) -> str:
    """Which lines of the acceptance run the step answers."""
    lines = ", ".join(map(str, step["acceptance"]))
    return f" (acceptance line {lines})" if lines else ""


def read(told: Row) -> str:
    """What is read already, with its instrument."""
    until = f", calibrated until {told['until']}" if told["until"] else ""
    return f"{told['text']}{instrument_of(told)}{until}"


def instrument_of(told: Row) -> str:
    """The instrument of a reading."""
    return f", instrument {told['instrument']}" if told["instrument"] else ""


def instrument(row: Row) -> str:
    """An instrument of the shop in one line."""
    cells = (
        row["kind"],
        row["range"],
        row["accuracy"],
        f"calibrated until {row['calibrated_until'] or 'NOT FILLED IN'}",
    )
    return f"{row['id']}: {', '.join(cell for cell in cells if cell)}"


def _joints(sheet: Mapping[str, Any], width: int) -> Iterator[str]:
    def items(texts: Sequence[str]) -> list[str]:
        return [line for text in texts for line in _fit(f"- {text}", width, "  ")]

    for name, body in joints.lines(sheet, items, lambda name, texts: list(_boxed(name, texts, width))):
        yield from (name, *body, "")


def _listed(title: str, texts: Any, width: int) -> Iterator[str]:
    lines = [line for text in texts for line in _fit(f"- {text}", width, "  ")]
    yield from [title, *lines, ""] if lines else []


def _boxed(title: str, texts: Sequence[str], width: int) -> Iterator[str]:
    if texts:
        yield f"! {title.upper()}"
        yield from (f"! {line}" for text in texts for line in wrap(text, width - 2))
        yield ""


def _fit(text: str, width: int, indent: str = "") -> list[str]:
    return wrap(text.strip(), width, initial_indent=indent, subsequent_indent=indent + "  ")
