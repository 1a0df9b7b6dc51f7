"""Sentences of the sizing, made from data/words/size.toml when somebody reads them, not while thousands are judged."""

from collections.abc import Mapping
from typing import Any

from valvecalc.facts import caution, load_toml
from valvecalc.selection.cells import columns
from valvecalc.selection.duty import meaning
from valvecalc.selection.flow_rules import Loss
from valvecalc.selection.judging import Rule
from valvecalc.units import figure, from_si, show

_PLACES = {"rest": "at rest", "on_a": "with coil a on", "on_b": "with coil b on"}


def _words() -> dict[str, Any]:
    return load_toml("words/size.toml")


def rule_words(rule: str) -> dict[str, Any]:
    """Title, kind, unit and sentences of a rule."""
    found: dict[str, Any] = _words()["rules"][rule]
    return found


def title(rule: Rule) -> str:
    """What a rule is about."""
    return str(rule_words(rule.rule)["title"])


def value_text(rule: str, value: Any, system: str = "metric") -> str:
    """A need or what is there, with its unit."""
    if value is None:
        return "not known"
    row = rule_words(rule)
    if isinstance(value, str | int) or row["kind"] == "text":
        return str(value)
    return show(value, row["kind"], _unit(row, system), 3)


def _unit(row: Mapping[str, Any], system: str) -> str:
    return str(row["us" if system == "us" else "unit"])


def unit_and_value(rule: str, value: Any, system: str = "metric") -> tuple[float | None, str]:
    """A number in the unit of its rule at full precision, and that unit; None for words."""
    row = rule_words(rule)
    if not isinstance(value, float) or row["kind"] == "text":
        return None, ""
    unit = _unit(row, system)
    return from_si(value, unit, row["kind"]), unit


def named_unit(name: str, system: str) -> tuple[str, str]:
    """Kind and unit of what is told under a name of [units]."""
    kind, metric, us = _words()["units"][name]
    return kind, us if system == "us" else metric


def named_text(name: str, value: float, system: str) -> str:
    """What is told under a name of [units], with its unit."""
    return show(float(value), *named_unit(name, system), 3)


def named_figure(name: str, value: float | None, system: str) -> float | None:
    """The same at full precision, without its unit."""
    kind, unit = named_unit(name, system)
    return None if value is None else from_si(value, unit, kind)


def lack_text(entry: str) -> str:
    """What is to be found out, in words."""
    table, _, key = entry.partition(".")
    if table == "stock":
        return f"{columns()[key].meaning.partition(':')[0]} ({key} of this valve)"
    what, how = meaning(entry)
    place = f" of {table}" if table.startswith(("cylinder", "motor")) else ""
    return f"{what.partition(';')[0]}{place} ({entry})" + (f": {how}" if how else "")


def sentence(rule: Rule, system: str = "metric") -> str:
    """What a rule says of a valve, in one sentence or a few."""
    row = rule_words(rule.rule)
    pattern = row.get(rule.words) or _words()["common"][rule.words]
    about = _about(rule)
    told = _shown(about, system)
    hazards = about.get("hazards", ())
    told |= {
        "title": row["title"],
        "need": value_text(rule.rule, rule.need, system),
        "has": value_text(rule.rule, rule.has, system),
        "lacks": "; ".join(lack_text(entry) for entry in rule.lacks) or "its own papers",
        "hazard": " ".join(_words()["hazards"][one] for one in hazards),
        "place": _PLACES.get(about.get("position", ""), str(about.get("place", ""))),
        "ratio": _ratio(about, row, system),
    }
    text = str(pattern).format(**told).strip()
    return text[0].upper() + text[1:]


def _shown(about: Mapping[str, Any], system: str) -> dict[str, str]:
    return {
        name: named_text(name, value, system)
        if name in _words()["units"] and isinstance(value, float | int)
        else str(value)
        for name, value in about.items()
    }


def _about(rule: Rule) -> dict[str, Any]:
    """What the sentence tells beside need and has."""
    if not isinstance(rule.about, Loss):
        return dict(rule.about)
    one = rule.about.movement
    return {
        "movement": one.name,
        "inlet_flow": one.inlet_flow,
        "return_flow": one.return_flow,
        "return_ratio": one.return_ratio,
        "heat": rule.about.heat,
    }


def _ratio(about: Mapping[str, Any], row: Mapping[str, Any], system: str) -> str:
    """Where the areas of the cylinder come in, told only where more comes back than goes in."""
    ratio = about.get("return_ratio") or 0.0
    if ratio <= 1.05 or "ratio" not in row:
        return ""
    told = _shown(about, system) | {
        "return_ratio": figure(ratio, 3),
        "square": figure(ratio * ratio, 2),
        "cube": figure(ratio * ratio * ratio, 2),
    }
    return str(row["ratio"]).format(**told)


def cautions_of(rules: list[Rule]) -> list[str]:
    """The cautions of these rules, each once, ready to stand before everything else."""
    keys = dict.fromkeys(key for rule in rules if (key := rule_words(rule.rule).get("caution")))
    return [caution(str(key)) for key in keys]
