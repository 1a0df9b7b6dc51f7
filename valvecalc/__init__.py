"""valvecalc: hydraulic valve sizing and troubleshooting, as calculations that cite their sources.

    >>> import valvecalc
    >>> answer = valvecalc.calc("annular-leakage", diameter="12 mm", clearance="5 µm", length="4 mm",
    ...                         pressure_drop="160 bar", viscosity="30 mPa·s")
    >>> f"{answer.printed('leakage'):.3f} {answer.unit('leakage')}"
    '3.142 mL/min'

`valvecalc.formulas.gaps.annular_leakage(...)` is the bare call on SI floats or arrays, limits on your own.
"""

from typing import Any

__all__ = ["calc", "formulas", "sheets", "solve_for"]


def __getattr__(name: str) -> Any:
    """Import on first touch: a plain `import valvecalc` stays within a few milliseconds."""
    from importlib import import_module

    if name in ("formulas", "sheets"):
        return import_module(f"valvecalc.{name}")
    if name == "calc":
        return import_module("valvecalc.door").calc
    if name == "solve_for":
        return import_module("valvecalc.solving").solve_for
    if name == "__version__":
        return import_module("valvecalc.version").VERSION
    raise AttributeError(f"module 'valvecalc' has no attribute {name!r}")
