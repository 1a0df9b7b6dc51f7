"""One file per piece of physics; formulas are called by module, as `gaps.annular_leakage(...)`."""

from importlib import import_module
from types import ModuleType

MODULES = (
    *("supply", "heating", "delay", "motion"),
    *("openings", "coefficient", "paths"),
    *("coil", "solenoid", "spring", "orifice", "spool", "lands"),
    *("lateral", "silt", "gaps", "oil", "cylinder", "budget"),
    *("pilot", "override", "spool_motion", "limit"),
    *("reading", "bench"),
    *("oil_under_pressure", "saybolt", "trapped", "accumulator"),
    *("cylinder_load", "drift", "buckling", "overlap"),
    *("identity", "seals"),
    *("dirt", "oil_code"),
    *("lines", "line_loss", "hammer", "heat", "heat_parts"),
    *("thread", "screw", "joint", "tightening", "face"),
)


def load() -> None:
    """Import every formula file, so that the register is full."""
    for name in MODULES:
        import_module(f"{__name__}.{name}")


def __getattr__(name: str) -> ModuleType:
    if name in MODULES:
        return import_module(f"{__name__}.{name}")
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
