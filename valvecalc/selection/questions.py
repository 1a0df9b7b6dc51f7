"""The duty as questions for a person: their order, words, and when one need not be asked.

They are data (data/words/size_questions.toml).
Every entry of a duty file is asked in exactly one question.
"""

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import Any, NamedTuple

from valvecalc.errors import DataError
from valvecalc.facts import load_toml
from valvecalc.numbers import Refused
from valvecalc.selection.cells import Field, duty_fields, duty_tables, read_cell
from valvecalc.selection.duty import REPEATED
from valvecalc.selection.function import Position, all_positions, read_position, text

FILE = "words/size_questions.toml"
#: Questions that stand for no entry: how many cylinders and motors there are, asked before them and after them.
ROWS = ("moves", "more")
_KEYS = {"id", "entries", "ask", "more", "when", "unless", "cautions", "buttons", "labels", "see"}


class Question(NamedTuple):
    """One screen: its group, the entries that it fills, its words, its conditions.

    id       the first entry, or the name of a question without entries
    when     entry -> word: asked only while all hold; unless: not asked while one holds
    buttons  answer -> what it means; for a choice these are all answers, else the usual ones
    labels   entry -> what stands over its field, where its meaning is no name
    see      (page, words) of a page that helps
    """

    id: str
    group: str
    ask: str
    more: str
    entries: tuple[str, ...]
    when: Mapping[str, str]
    unless: Mapping[str, str]
    cautions: tuple[str, ...]
    buttons: Mapping[str, str]
    labels: Mapping[str, str]
    see: tuple[str, str] | None

    @property
    def repeated(self) -> str:
        """The table that it is asked for once a row; empty where it is asked once."""
        table = self.id.partition(".")[0]
        return table if table in REPEATED else ""


def field_of(entry: str) -> Field:
    """The field of "table.key"."""
    table, _, key = entry.partition(".")
    return duty_fields(table)[key]


@cache
def questions() -> tuple[Question, ...]:
    """All questions in their order. Raises DataError that names every fault of the file."""
    return read_questions(load_toml(FILE))


def read_questions(data: Mapping[str, Any]) -> tuple[Question, ...]:
    """The questions out of the file's data. Raises DataError with one line a fault."""
    rows = [(group["title"], row) for group in data["group"] for row in group["question"]]
    found = tuple(_question(group, row) for group, row in rows)
    faults = [f"{one.id}: {fault}" for one, (_, row) in zip(found, rows, strict=True) for fault in _faults(one, row)]
    faults += _not_once(found)
    faults += _position_faults(data.get("positions", {}))
    if faults:
        raise DataError("\n".join(f"data/{FILE}: {fault}" for fault in faults))
    return found


def usual_positions(key: str) -> tuple[list[str], list[str]]:
    """The fifteen positions as texts, for one entry of the old valve: the usual ones, the others."""
    first = load_toml(FILE)["positions"][key]
    return first, [one for one in map(text, all_positions()) if one not in first]


def _question(group: str, row: Mapping[str, Any]) -> Question:
    entries = tuple(row.get("entries", ()))
    see = row.get("see")
    return Question(
        id=entries[0] if entries else str(row.get("id", "?")),
        group=group,
        ask=row.get("ask", ""),
        more=row.get("more", ""),
        entries=entries,
        when=row.get("when", {}),
        unless=row.get("unless", {}),
        cautions=tuple(row.get("cautions", ())),
        buttons=row.get("buttons", {}),
        labels=row.get("labels", {}),
        see=(see["page"], see["words"]) if see else None,
    )


def _known() -> dict[str, Field]:
    return {f"{table}.{key}": field for table in duty_tables() for key, field in duty_fields(table).items()}


def _faults(one: Question, row: Mapping[str, Any]) -> Iterator[str]:
    known = _known()
    if unknown := sorted(set(row) - _KEYS):
        yield f"has {', '.join(unknown)}, which no question has"
    if not one.ask.endswith("?"):
        yield "asks no question"
    if not one.entries and one.id not in ROWS:
        yield f"fills no entry and is none of {', '.join(ROWS)}"
    if "id" in row and one.entries:
        yield "has entries and an id: the first entry is its id"
    for entry in one.entries:
        if entry not in known:
            yield f"asks for {entry}, which is no entry of a duty"
    if len({entry.partition(".")[0] for entry in one.entries}) > 1 and one.repeated:
        yield "mixes a cylinder's or motor's entries with others"
    for name, conditions in (("when", one.when), ("unless", one.unless)):
        for entry, word in conditions.items():
            if entry not in known:
                yield f"{name} {entry}: no entry of a duty"
            elif word not in _words(known[entry]):
                yield f"{name} {entry} is {word}: its words are {', '.join(_words(known[entry]))}"
            elif entry.partition(".")[0] in REPEATED and entry.partition(".")[0] != one.repeated:
                yield f"{name} {entry}: which of the rows?"
    cautions = load_toml("words/cautions.toml")
    yield from (f"{key} is no caution" for key in one.cautions if key not in cautions)
    yield from (f"labels {entry}, which it does not ask" for entry in one.labels if entry not in one.entries)
    if one.buttons and all(entry in known for entry in one.entries):
        yield from _button_faults(one)


def _words(field: Field) -> tuple[str, ...]:
    own = {"choice": field.words, "yes-no": ("yes", "no"), "quantity": ("zero",)}.get(field.kind, ())
    return (*own, "known")


def _button_faults(one: Question) -> Iterator[str]:
    if len(one.entries) != 1:
        yield "has buttons, but not one entry"
        return
    field = field_of(one.entries[0])
    every = {"choice": field.words, "yes-no": ("yes", "no")}.get(field.kind)
    if every is not None and set(one.buttons) != set(every):
        yield f"its buttons are not {', '.join(every)}"
    elif every is None:
        for answer in one.buttons:
            try:
                read_cell(field, answer)
            except Refused as refused:
                yield f"its button {answer!r} cannot be read: needed {refused.need}"


def _not_once(found: Iterable[Question]) -> Iterator[str]:
    asked = [entry for one in found for entry in one.entries]
    for entry in _known():
        if asked.count(entry) != 1:
            yield f"{entry} is asked {asked.count(entry)} times, not once"
    names = [one.id for one in found]
    yield from (f"{name} stands {names.count(name)} times" for name in ROWS if names.count(name) != 1)


def _position_faults(positions: Mapping[str, Any]) -> Iterator[str]:
    wanted = {key for key, field in duty_fields("old").items() if field.kind == "position"}
    if set(positions) != wanted:
        yield f"positions: {', '.join(sorted(set(positions) ^ wanted))} stands only there or only in a duty"
    for key, usual in positions.items():
        for one in usual:
            try:
                read = read_position(one)
            except Refused:
                read = ""
            if not isinstance(read, Position) or text(read) != one:
                yield f"positions.{key}: {one!r} is not written as it is printed"
