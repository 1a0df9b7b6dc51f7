"""Python's records of the sizing as the plain data that the twins hold, how near two must be, and questions to both."""

from collections.abc import Mapping
from math import isclose
from pathlib import Path
from typing import Any

from tests.live.sizing import ask_inner
from valvecalc.errors import InputError
from valvecalc.numbers import Refused
from valvecalc.selection.duty import Duty
from valvecalc.selection.function import Position, text

#: The name of a function, its arguments, what Python answers.
Case = tuple[str, tuple[Any, ...], dict[str, Any]]


def plainly(value: Any) -> Any:
    """Records by their names, positions as their text, lists for tuples."""
    if isinstance(value, Position):
        return text(value)
    if isinstance(value, Duty):
        return {"tables": plainly(value.tables), "cylinders": plainly(value.cylinders), "motors": plainly(value.motors)}
    if isinstance(value, tuple) and hasattr(value, "_asdict"):
        return plainly(value._asdict())
    if isinstance(value, Mapping):
        return {key: plainly(each) for key, each in value.items()}
    return [plainly(each) for each in value] if isinstance(value, tuple | list) else value


def same(mine: Any, theirs: Any, near: float = 1e-12) -> bool:
    """The same words in the same order; figures as near as a share of them."""
    if isinstance(theirs, dict):
        return (
            isinstance(mine, dict)
            and mine.keys() == theirs.keys()
            and all(same(mine[key], theirs[key]) for key in theirs)
        )
    if isinstance(theirs, list):
        return isinstance(mine, list) and len(mine) == len(theirs) and all(map(same, mine, theirs))
    if isinstance(theirs, float | int) and not isinstance(theirs, bool):
        return isinstance(mine, float | int) and not isinstance(mine, bool) and isclose(mine, theirs, rel_tol=near)
    return type(mine) is type(theirs) and bool(mine == theirs)


def told(work: Any, *given: Any) -> dict[str, Any]:
    """What Python answers, as `ask_inner` gives it."""
    try:
        return {"value": plainly(work(*given))}
    except Refused as refused:
        return {"refused": {"need": refused.need, "do": refused.do}}
    except InputError as fault:
        return {"troubles": [one._asdict() for one in fault.troubles]}


def agree(folder: Path, cases: list[Case], more: str = "") -> None:
    """The phone answers each case as Python does."""
    names = sorted({name for name, *_ in cases})
    answers = ask_inner(folder, names, [(name, *given) for name, given, _ in cases], more)
    assert len(answers) == len(cases)
    for (name, given, expected), answer in zip(cases, answers, strict=True):
        assert same(answer, expected), (name, given, answer, expected)
