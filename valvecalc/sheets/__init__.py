"""One file per shop question; a sheet calls formulas, other sheets and the primitives."""

from importlib import import_module
from types import ModuleType

MODULES = ("coil_check", "oil", "leak_check", "bench_margin", "shift", "single_causes", "test_cylinder")


def load() -> None:
    """Import every sheet file, so that the register is full."""
    for name in MODULES:
        import_module(f"{__name__}.{name}")


def __getattr__(name: str) -> ModuleType:
    if name in MODULES:
        return import_module(f"{__name__}.{name}")
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
