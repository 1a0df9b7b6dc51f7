"""Charts and symbols as SVG text. Pure functions: figures in, drawing out; nothing is computed here."""

from collections.abc import Mapping
from typing import Any

from valvecalc.drawing import bars, margin, stroke
from valvecalc.errors import DataError

_KINDS = {"stroke": stroke.draw, "bars": bars.draw, "margin": margin.draw}


def chart(spec: Mapping[str, Any]) -> str:
    """The SVG of one chart of a report; `spec["kind"]` says which."""
    kind = spec.get("kind")
    if kind not in _KINDS:
        raise DataError(f"chart kind {kind!r} is unknown; known are {', '.join(_KINDS)}")
    return _KINDS[kind](spec)
