"""From parsed TOML to records: fields, kinds and doubles. Every wrong place is collected, nothing is guessed."""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple, TypeVar

from valvecalc.errors import DataError, nearest

R = TypeVar("R", bound="NamedTuple")


def _strings(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(one, str) for one in value)


def _number(value: Any) -> bool:
    return isinstance(value, (int, float)) and not isinstance(value, bool) and 0 <= value < 1e6


# How a field's annotation reads in TOML: what is asked for, the test, the conversion.
KINDS: dict[Any, tuple[str, Any, Any]] = {
    str: ("a text", lambda value: isinstance(value, str) and bool(value.strip()), str),
    bool: ("true or false", lambda value: isinstance(value, bool), bool),
    float: ("a number, 0 or more", _number, float),
    tuple[str, ...]: ("a list of texts", _strings, tuple),
    Mapping[str, str]: (
        "a table of texts",
        lambda value: isinstance(value, dict) and all(isinstance(one, str) for one in value.values()),
        dict,
    ),
    Mapping[str, float]: (
        "a table of numbers, 0 or more",
        lambda value: isinstance(value, dict) and all(map(_number, value.values())),
        dict,
    ),
}


class Reader:
    """Reads tables of the parsed files and keeps every trouble until `stop_on_trouble`."""

    def __init__(self, parsed: Mapping[str, Mapping[str, Any]]) -> None:
        self.parsed = parsed
        self.troubles: list[str] = []
        if self.file("rules").get("schema") != 1:
            self.say("rules", "schema", f"got {self.file('rules').get('schema')!r}, need 1")

    def say(self, file: str, place: str, what: str) -> None:
        self.troubles.append(f"data/faults/{file}.toml: {place}: {what}")

    def file(self, file: str) -> Mapping[str, Any]:
        found = self.parsed.get(file)
        if not isinstance(found, Mapping):
            if f"data/faults/{file}.toml: the file: missing" not in self.troubles:
                self.say(file, "the file", "missing")
            return {}
        return found

    def plain(self, file: str, table: str) -> dict[str, Any]:
        """A table of its own keys, such as [needs]."""
        found = self.file(file).get(table)
        if not isinstance(found, dict) or not found:
            self.say(file, f"[{table}]", "missing or empty")
            return {}
        return found

    def rows(self, file: str, table: str, record: type[R]) -> list[R]:
        """The records of [[table]]; a row with a wrong field is told and left out."""
        found = self.file(file).get(table)
        if not isinstance(found, list) or not found or not all(isinstance(row, dict) for row in found):
            self.say(file, f"[[{table}]]", "missing or empty")
            return []
        return [made for row in found if (made := self.record(file, table, row, record)) is not None]

    def record(self, file: str, table: str, row: dict[str, Any], record: type[R]) -> R | None:
        fields: dict[str, Any] = {}
        before = len(self.troubles)
        place = f"[[{table}]] {row.get('id', '') or '/'.join(str(row.get(key, '?')) for key in ('killer', 'victim'))}"
        for key in sorted(row.keys() - set(record._fields)):
            self.say(file, place, f"{key} is no field of it; nearest: {', '.join(nearest(key, record._fields)) or '-'}")
        for key in record._fields:
            if key not in row:
                if key not in record._field_defaults:
                    self.say(file, place, f"{key} is missing")
                continue
            need, test, convert = KINDS[record.__annotations__[key]]
            if test(row[key]):
                fields[key] = convert(row[key])
            else:
                self.say(file, place, f"{key}: got {str(row[key])[:60]!r}, need {need}")
        made: Callable[..., R] = record
        return made(**fields) if len(self.troubles) == before else None

    def records(self, file: str, table: str, record: type[R]) -> dict[str, R]:
        """The records of [[table]] by id; a double id is told."""
        found: dict[str, R] = {}
        for row in self.rows(file, table, record):
            key = row.id  # type: ignore[attr-defined]
            if key in found:
                self.say(file, f"[[{table}]] {key}", "stands there twice")
            found[key] = row
        return found

    def links(self) -> dict[str, dict[str, tuple[str, ...]]]:
        """links.toml: the words by check and cause. Its `outcomes` line must repeat those of the check."""
        links: dict[str, dict[str, tuple[str, ...]]] = {}
        checks = self.file("checks").get("checks")
        declared = (
            {row.get("id"): row.get("outcomes") for row in checks if isinstance(row, dict)}
            if isinstance(checks, list)
            else {}
        )
        for check, table in self.file("links").items():
            if not isinstance(table, dict) or not all(map(_strings, table.values())):
                self.say("links", f"[{check}]", "need lists of words")
                continue
            outcomes = declared.get(check)
            if isinstance(outcomes, dict) and table.get("outcomes") != list(outcomes):
                self.say(
                    "links",
                    f"[{check}] outcomes",
                    f"got {table.get('outcomes')}, need {list(outcomes)} as in checks.toml",
                )
            links[check] = {cause: tuple(words) for cause, words in table.items() if cause != "outcomes"}
        return links

    def stop_on_trouble(self) -> None:
        if self.troubles:
            raise DataError("\n".join(self.troubles))
