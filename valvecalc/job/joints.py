"""What to lay ready before the valve goes together: the rings to pick and the torque of each screw, as plain data."""

from collections.abc import Mapping
from typing import Any

from valvecalc.facts import caution
from valvecalc.job.compute import Findings
from valvecalc.job.read import Job
from valvecalc.job.rings import ring_list
from valvecalc.job.spots import entry_of
from valvecalc.job.verdict import say
from valvecalc.quantities import VOCABULARY
from valvecalc.units import show

Row = Mapping[str, Any]


def seal_list(job: Job, found: Findings) -> dict[str, Any]:
    """The picking list: ring by place, how many of each size, what is not settled, whether the rubber suits."""
    rows, service = job.tables.get("ring", []), dict(job.tables.get("seals", {}))
    if not rows and not service:
        return {}
    answers = [answer for _, answer in found.spots if answer.card.id == "groove-ring"]
    ports = [_port(number, row, answer) for number, (row, answer) in enumerate(zip(rows, answers, strict=True), 1)]
    told = ring_list(ports, service)
    compound = service.get("compound", say("joints", "no_compound"))
    rubber = told["rubber"]
    texts = [caution("wrong-rubber"), *([rubber["caution"]] if rubber else [])]
    return {
        "cautions": texts,
        "rubber": say("joints", "rubber", **{key: rubber[key] for key in ("compound", "word", "reason")})
        if rubber
        else say("joints", "no_fluid"),
        "rows": [_ring(row, job.shop.units) for row in told["rows"]],
        "pick": [
            say("joints", "pick", number=str(row["number"]), size=row["size"], compound=compound)
            for row in told["to_pick"]
        ],
        "open": [say("joints", "open", place=place) for place in told["open"]],
    }


def _port(number: int, row: Row, answer: Any) -> dict[str, Any]:
    told = {"port": row.get("place", str(number)), "answer": answer}
    told |= {"diametral_gap": row["diametral_gap"]} if "diametral_gap" in row else {}
    told |= {"groove_kind": row["groove_kind"]} if "groove_kind" in row else {}
    return told | ({"number": round(row["number"].si)} if "number" in row else {})


def _ring(row: Row, system: str) -> dict[str, str]:
    """One place in texts; a figure that is not settled is empty, the neighbours say what came near."""
    near = [f"{one['size']}: {one['why']}" for one in row["neighbours"] if one["size"] != row["size"]]
    figures = {
        key: "" if row[key] is None else _shown(name, row[key], system)
        for key, name in (("inside", "ring_inside"), ("section", "ring_section"), ("squeeze", "squeeze"))
    }
    return {
        "place": str(row["port"]),
        "number": str(row["number"]),
        "size": str(row["size"] or row["verdict"]),
        **figures,
        "backup": str(row["backup"]),
        "near": "; ".join(near) if row["size"] is None else "",
    }


def torque_sheet(job: Job, found: Findings) -> dict[str, Any]:
    """The torque sheet: each size of screw with rounds and order, who gave the torque, what was applied."""
    answer = next((answer for _, answer in found.spots if answer.card.id == "torque-sheet"), None)
    groups = answer.results.get("screw_groups", []) if answer else []
    if answer is None or not groups:
        return {}
    system = job.shop.units
    rows = [
        {
            "screws": f"{round(row['bolt_count'])} × {row['thread']}",
            "class": str(row["class_word"]),
            **{key: _shown("tightening_torque", row[key], system) for key in ("first_torque", "second_torque")},
            "torque": _shown("tightening_torque", row["tightening_torque"], system),
            "origin": str(row["torque_origin"]),
            "order": str(row["tightening_order"]),
        }
        for row in groups
    ]
    note = answer.results.get("lubrication_note", "")
    return {
        "cautions": [caution(key) for key in answer.card.cautions],
        "rows": rows,
        "lubrication": f"{answer.values['lubrication']}. {note}".strip(),
        "applied": [_applied(row) for row in job.tables.get("torque_done", [])],
    }


def _applied(row: Row) -> dict[str, str]:
    torque = entry_of(row.get("torque"))
    told = {key: str(row.get(key, "")) for key in ("what", "tool", "by")}
    return told | {"torque": torque.text if torque else ""}


def _shown(name: str, si: float, system: str) -> str:
    quantity = VOCABULARY[name]
    return show(si, quantity.dimension, quantity.us if system == "us" else quantity.metric, 3)
