"""The rings to lay ready for a valve, from readings of its counterbores: size, number, rubber, back-up. Plain data.

No public source was found that gives the rings of a mounting face; so they are told from the grooves that are there.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from valvecalc.door import calc
from valvecalc.judge import verdicts

Row = Mapping[str, Any]

#: Entries of `groove-ring` that a port may give.
READ = ("groove_kind", "groove_depth", "groove_diameter", "groove_width", "port_diameter", "groove_error")


def ring_list(ports: Sequence[Row], service: Row | None = None) -> dict[str, Any]:
    """Rings for each port, and how many of each size.

    ports    one row for each groove: `port` (its name), `number` (rings alike, 1 if not said), and the readings of
             `groove-ring` as texts or SI floats; with `diametral_gap` the need of a back-up ring is looked up too;
             `answer`: its answer of `groove-ring`, where that is worked already
    service  what `seal-compound` asks (fluid, compound, highest_temperature, lowest_temperature), and `pressure`

    Raises InputError for a reading that is none. A groove whose ring is not settled has `size` None, and its
    neighbours tell what came near.
    """
    service = service or {}
    rows = [_row(port, service) for port in ports]
    counts: dict[str, int] = {}
    for row in rows:
        if row["size"] is not None:
            counts[row["size"]] = counts.get(row["size"], 0) + row["number"]
    return {
        "rows": rows,
        "to_pick": [{"size": size, "number": counts[size]} for size in sorted(counts)],
        "open": [row["port"] for row in rows if row["size"] is None],
        "rubber": _rubber(service),
    }


def _row(port: Row, service: Row) -> dict[str, Any]:
    answer = port.get("answer") or calc("groove-ring", **{name: port[name] for name in READ if name in port})
    found = answer.results
    near = found.get("groove_rows", [])
    # What one reading off could turn over is not picked: the verdict with the doubt of the readings decides.
    sure = found.get("ring_verdict") == "settled" and verdicts(answer)["ring_misfit"] == "accept"
    return {
        "port": port["port"],
        "number": int(port.get("number", 1)),
        "size": found["nearest_ring"] if sure else None,
        "verdict": found.get("ring_verdict", "not read"),
        "section": found.get("ring_section") if sure else None,
        "inside": found.get("ring_inside") if sure else None,
        "squeeze": found.get("squeeze") if sure else None,
        "backup": _backup(port, service),
        "neighbours": [{"size": row["ring_size"], "why": row["fit_word"]} for row in near],
        "missing": [lack.entry for lack in answer.missing],
    }


def _backup(port: Row, service: Row) -> str:
    """A face has no gap while its screws hold; elsewhere gap and pressure decide."""
    if "diametral_gap" not in port or "pressure" not in service:
        face = str(port.get("groove_kind", "face")).startswith("face")
        return "none while the joint stays shut" if face else "gap and pressure not read"
    given = {
        name: port[name] for name in ("diametral_gap", "ring_hardness", "joint_kind", "pressure_side") if name in port
    }
    return str(calc("extrusion-check", ring_pressure=service["pressure"], **given).results["backup_word"])


def _rubber(service: Row) -> dict[str, Any] | None:
    """Yes, ask or no for the rubber named; None where no fluid is."""
    if "fluid" not in service:
        return None
    names = ("fluid", "compound", "highest_temperature", "lowest_temperature")
    answer = calc("seal-compound", **{name: service[name] for name in names if name in service})
    found = answer.results
    return {
        "compound": answer.values["compound"],
        "word": found.get("compound_word", "ask"),
        "reason": found.get("compound_reason", "rubber not named"),
        "caution": found["mixing_note"],
    }
