"""One file per shop question; a sheet calls formulas, other sheets and the primitives."""

from importlib import import_module
from types import ModuleType

MODULES = (
    *("coil_check", "oil", "leak_check", "bench_margin", "shift", "single_causes", "test_cylinder"),
    *("supply_check", "wrong_coil", "spring_check", "ac_armature", "drop_out", "current_trace", "shift_time"),
    *("two_stage", "main_stage", "crossing", "limit", "open_edges", "edge_oil", "every_edge", "override_check"),
    *("oil_window", "trapped_energy", "accumulator_check"),
    *("judge_coil", "judge_switching", "judge_spool", "judge_motion", "stand"),
    *("cylinder_check", "drift_check", "creep_check", "rod_buckling", "centre_leakage", "cylinder_size"),
    *("cavitation_check", "rated_point", "path_fit", "cylinder_circuit"),
    *("mounting_interface", "coil_identity", "size_class"),
    *("screw_pull", "torque_sheet", "joint_hold", "face_check"),
    *("line_drops", "line_check", "line_ends", "water_hammer", "tank_heat", "valve_heat"),
    *("oil_counts", "oil_class", "oil_target", "flushing", "judge_oil"),
    *("which_ring", "groove_ring", "ring_check", "seal_checks", "seal_compound"),
)


def load() -> None:
    """Import every sheet file, so that the register is full."""
    for name in MODULES:
        import_module(f"{__name__}.{name}")


def __getattr__(name: str) -> ModuleType:
    if name in MODULES:
        return import_module(f"{__name__}.{name}")
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
