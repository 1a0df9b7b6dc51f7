"""What each port of the job's valve does, by [function]: plain data from which the report draws its symbol."""

from typing import Any

from valvecalc.errors import InputError, Trouble
from valvecalc.job.read import Job
from valvecalc.numbers import Refused
from valvecalc.selection.function import Function, Position, completed, read_position, text

POSITIONS = ("rest", "on_a", "on_b")


def symbol(job: Job) -> dict[str, Any]:
    """The function as `valvecalc size` tells one: a position by its text, "" where there is none, None if not known.

    Nothing where the job says nothing of it. Raises InputError with every position that cannot be read.
    """
    row = job.tables.get("function", {})
    found: dict[str, Position | str] = {}
    troubles = []
    for key in POSITIONS:
        if key in row:
            try:
                found[key] = read_position(row[key])
            except Refused as fault:
                troubles.append(Trouble(f"function.{key}", repr(row[key])[:60], fault.need, fault.do, job.path.name))
    if troubles:
        raise InputError(troubles)
    if not found:
        return {}
    operator, stage = row.get("operator"), row.get("stage")
    whole = completed(Function(**found), operator)
    named = {key: text(one) if isinstance(one, Position) else one for key, one in whole._asdict().items()}
    return {"function": named, "operator": operator, "stage": stage}
