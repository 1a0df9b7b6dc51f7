"""The card of a sheet: one shop question, a record of entries in, a dict of named results out.

A sheet's body is written in the printable subset (see DEVELOPERS.md): assignments of sums,
differences, comparisons, formulas, other sheets and the primitives; it holds no product and no
number with a dimension of its own. The function comes back unwrapped, as with a formula.
"""

from collections.abc import Callable, Mapping
from typing import Any

from valvecalc.formula import Card, file_card

#: A sheet takes its own record, or the record of a caller that has the same fields and more.
Sheet = Callable[..., Any]


def sheet(
    title: str,
    *,
    results: tuple[str, ...],
    rows: Mapping[str, tuple[str, ...]] | None = None,
    choices: Mapping[str, tuple[str, ...]] | None = None,
    judged: Mapping[str, Any] | None = None,
    sources: tuple[tuple[str, str], ...] = (),
    limits: Mapping[str, str] | None = None,
    trusted: Mapping[str, tuple[str, str]] | None = None,
    origins: Mapping[str, tuple[str, str]] | None = None,
    labels: Mapping[str, str] | None = None,
    example: Mapping[str, Any] | None = None,
    cautions: tuple[str, ...] = (),
    distrust: tuple[str, ...] = (),
    edition: int = 1,
    part: bool = False,
    formerly: tuple[str, ...] = (),
    chart: str | None = None,
) -> Callable[[Sheet], Sheet]:
    """File the card of a sheet and return the function unchanged.

    results  names of the results in the order they are told, headline first
    rows     list entry or list result -> the names of its columns
    choices  entry told by a word -> the words it may be
    judged   result -> (">=" or "<=", fact id of the limit): decided with a guard band
    chart    the entry along which the headline is drawn; or a list result, whose second column is drawn over its first
    part     an inner sheet: called by others, no page, every entry must be there
    Everything else is as for a formula.
    """

    def file(function: Sheet) -> Sheet:
        code = function.__code__
        record = next(iter(function.__annotations__.values()))
        extra = code.co_varnames[code.co_argcount : code.co_argcount + code.co_kwonlyargcount]
        if twice := set(extra) & set(record._fields):
            raise RuntimeError(f"{code.co_name}: {', '.join(sorted(twice))} stands in the record already")
        file_card(
            Card(
                id=code.co_name.replace("_", "-"),
                kind="sheet",
                title=title,
                function=function,
                entries=(*record._fields, *extra),
                defaults={name: value for name, value in record._field_defaults.items() if value is not None}
                | (function.__kwdefaults__ or {}),
                result=results[0],
                sources=sources,
                limits=limits or {},
                trusted=trusted or {},
                origins=origins or {},
                labels=labels or {},
                example=example or {},
                cautions=cautions,
                distrust=distrust,
                edition=edition,
                part=part,
                formerly=formerly,
                record=record,
                rows=rows or {},
                choices=choices or {},
                results=results,
                judged=judged or {},
                chart=chart,
            )
        )
        return function

    return file
