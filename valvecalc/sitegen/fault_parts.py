"""Pieces that the fault finder's pages share: heads, doors, gates as ticks, hazard in word and shape."""

from collections.abc import Iterable

from valvecalc.diagnosis.knowledge import Cause, Check, Model, Symptom
from valvecalc.door import find
from valvecalc.sitegen import marks

#: Where a check is done.
PLACES = {"on-machine": "at the machine", "on-bench": "on the bench", "disassembled": "with the valve opened"}
LEVELS = {"none": "none", "low": "low", "medium": "medium", "high": "high"}
OUT_OF_SERVICE = "Out of service until explained."


def page_of(kind: str, name: str) -> str:
    """The page of a record as a file under the pages folder."""
    folder = {"symptom": "fault", "check": "do", "cause": "fault/causes", "root": "fault/roots"}[kind]
    return f"{folder}/{name}.md"


def check_link(check: Check) -> str:
    """A link to the page of a check."""
    return marks.link(page_of("check", check.id), check.title)


def cause_link(model: Model, name: str) -> str:
    """A link to the page of a cause."""
    return marks.link(page_of("cause", name), model.causes[name].title)


def root_link(model: Model, name: str) -> str:
    """A link to the page of a root."""
    return marks.link(page_of("root", name), model.roots[name].title)


def symptom_door(symptom: Symptom) -> str:
    """A complaint with what the customer says."""
    return marks.door(page_of("symptom", symptom.id), symptom.title, f"“{symptom.customer_says}”")


def cost(model: Model, check: Check) -> str:
    """Minutes and hazard of a check in a line: `6 min` and a mark whose shape and word say how bad."""
    return f"{check.minutes:g} min {hazard(check.hazard)}"


def hazard(level: str) -> str:
    """Hazard by shape and word."""
    return f'<span class="hazard {level}">hazard {marks.esc(LEVELS[level])}</span>'


def hazards(model: Model, names: Iterable[str]) -> str:
    """What can hurt and the sentence that ends the work, one line each."""
    rows = [model.rules.hazards[name] for name in names]
    items = "".join(f"<li><strong>{marks.esc(row.title)}.</strong> {marks.esc(row.stop)}</li>" for row in rows)
    return f"<ul>{items}</ul>" if items else ""


def warning(*texts: str) -> str:
    """A caution of several paragraphs in one box."""
    return f'<div class="caution">{"".join(f"<p>{marks.esc(sentence(text))}</p>" for text in texts if text)}</div>'


def sentence(text: str) -> str:
    """A text with a capital and its full stop."""
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text[-1:] in ".?!" else ".")


def gates(model: Model, needs: Iterable[str]) -> str:
    """What has to be true, as boxes to tick one by one; they are ticked on paper or in the head."""
    parts = []
    for need in needs:
        gate = model.rules.gates[need]
        steps = "".join(f"<li>{marks.esc(sentence(step))}</li>" for step in gate.steps)
        parts.append(
            f'<div class="gate"><p><strong>{marks.esc(gate.title)}</strong> '
            f'<span class="quiet">{marks.esc(model.rules.needs[need])}</span></p><ul class="ticks">{steps}</ul></div>'
        )
    return "".join(parts)


def need_line(needs: Iterable[str]) -> str:
    """The gates in short, for a card that leads to their steps."""
    return ", ".join(need.replace("-", " ") for need in needs)


def judge(name: str) -> str:
    """A link to the sheet or formula that judges a reading or computes a cause."""
    return marks.card_link(find(name))


def compute(cause: Cause) -> str:
    """What to compute for a cause, with the pages that do it."""
    told = [marks.esc(sentence(cause.compute))] if cause.compute else []
    pages = ", ".join(map(judge, cause.computed_by))
    return " ".join([*told, *([f"{pages}."] if pages else [])])


def listed(items: Iterable[str]) -> str:
    """Items that are HTML already, as a list."""
    told = "".join(f"<li>{item}</li>" for item in items)
    return f"<ul>{told}</ul>" if told else ""
