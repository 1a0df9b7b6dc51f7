"""Charts and symbols as SVG text. Pure functions: figures in, drawing out; nothing is computed here."""

from collections.abc import Mapping
from typing import Any

from valvecalc.errors import DataError

#: Each is a module of this package with a `draw`, imported when such a chart is asked for.
_KINDS = ("stroke", "curve", "bars", "margin", "lines", "columns")


def chart(spec: Mapping[str, Any]) -> str:
    """The SVG of one chart of a report; `spec["kind"]` says which."""
    from importlib import import_module

    kind = spec.get("kind")
    if kind not in _KINDS:
        raise DataError(f"chart kind {kind!r} is unknown; known are {', '.join(_KINDS)}")
    drawn: str = import_module(f"{__name__}.{kind}").draw(spec)
    return drawn
