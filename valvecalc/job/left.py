"""As found and as left: a reading taken again after the work is judged beside the first and never mixed with it.

What the work does not change (plate, drawing, the oil's grade, the stand) holds for both. A reading that the work can
change counts as left only where it was read again.
"""

from collections.abc import Mapping
from typing import Any

from valvecalc.job.fields import BELOW_COIL, fields, many, tables

Table = dict[str, Any]

#: What holds after the work too, by table.
CARRIED = {
    "valve": ("spool_diameter", "stroke", "overlap", "new_diametral_clearance"),
    "oil": ("viscosity_40", "viscosity_100", "viscosity_index", "density_15"),
    "supply": ("minimum_voltage", "cable_length", "cable_area", "cable_kind"),
    "duty": tuple(fields("job", "duty")),
    "main_stage": ("spool_diameter", "stroke", "pump_flow", "available_drop", "flow_force_factor", "choke_diameter"),
    "stand": ("bore_diameter", "rod_diameter", "stroke_length", "pump_flow"),
}
PLATE = (
    *("name", "kind", "driven_port", "cylinder_side"),
    *("nominal_voltage", "nominal_power", "nominal_resistance_20"),
    *("inrush_current", "holding_current", "rated_shift_time"),
)
#: Tables that come as found and as left.
TWICE = tuple(name for name in tables("job") if "when" in fields("job", name) and name not in BELOW_COIL)


def parted(read: Mapping[str, Any]) -> tuple[Table, Table]:
    """The tables as found and as left; nothing as left where nothing was read again."""
    found: Table = {name: value for name, value in read.items() if name not in TWICE}
    left: Table = {}
    for name in TWICE:
        if name not in read:
            continue
        first, again = _coils(read[name]) if name == "coil" else _rows(read[name])
        single = not many("job", name)
        if first or not again:
            found[name] = first[0] if single and first else {} if single else first
        if again:
            left[name] = again[0] if single else again
    if left:
        for name, keys in CARRIED.items():
            carried = {key: value for key, value in found.get(name, {}).items() if key in keys}
            if carried or name in left:
                left[name] = carried | left.get(name, {})
    return found, left


def is_left(row: Mapping[str, Any]) -> bool:
    """Whether a row was read after the work."""
    return bool(row.get("when") == "as-left")


def _rows(value: Any) -> tuple[list[Table], list[Table]]:
    rows = value if isinstance(value, list) else [value]
    plain = [({key: one for key, one in row.items() if key != "when"}, is_left(row)) for row in rows]
    return [row for row, again in plain if not again], [row for row, again in plain if again]


def _coils(rows: list[Table]) -> tuple[list[Table], list[Table]]:
    """Coils by name: a trial of a coil may be as left by itself."""
    found, left = _rows(rows)
    plates = {row["name"]: {key: row[key] for key in PLATE if key in row} for row in found}
    first = [row | {key: _rows(row[key])[0] for key in BELOW_COIL} for row in found]
    again: dict[str, Table] = {}
    for row in found:
        trials = {key: _rows(row[key])[1] for key in BELOW_COIL}
        if any(trials.values()):
            again[row["name"]] = plates[row["name"]] | trials
    for row in left:
        trials = {key: [*again.get(row["name"], {}).get(key, []), *_plain(row[key])] for key in BELOW_COIL}
        again[row["name"]] = plates.get(row["name"], {}) | row | trials
    return first, list(again.values())


def _plain(trials: list[Table]) -> list[Table]:
    return [{key: one for key, one in row.items() if key != "when"} for row in trials]
