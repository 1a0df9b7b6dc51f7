"""What the fault finder knows: the records of data/faults/, read once, every fault of the files named at once."""

from collections.abc import Mapping
from functools import cache
from typing import Any, NamedTuple

from valvecalc.errors import DataError, InputError

FILES = ("rules", "symptoms", "causes", "checks", "links", "roots", "chains")


class Symptom(NamedTuple):
    """A complaint. candidates: cases out of 100 by cause; already_known: answers that the complaint itself gives."""

    id: str
    title: str
    group: str
    customer_says: str
    caution: str
    ask_first: tuple[str, ...]
    applies_to: tuple[str, ...]
    already_known: Mapping[str, str]
    weights_source: str
    candidates: Mapping[str, float]
    look_first: tuple[str, ...] = ()
    out_of_service: bool = False


class Cause(NamedTuple):
    """A fault. side: where it is confirmed and cured; opened: its repair opens the valve."""

    id: str
    title: str
    component: str
    side: str
    applies_to: tuple[str, ...]
    frequency: str
    frequency_source: str
    mechanism: str
    confirmed_by: str
    caution: str
    hazards: tuple[str, ...]
    remedy: str
    repair_class: str
    remedy_minutes: float
    roots: tuple[str, ...]
    repair_group: str = ""
    opened: bool = False
    judged_by: str = ""
    numbers: tuple[str, ...] = ()
    compute: str = ""
    tell_the_customer: str = ""

    @property
    def computed_by(self) -> tuple[str, ...]:
        """The calculations that settle it, the one that judges its reading first."""
        return (*((self.judged_by,) if self.judged_by else ()), *self.numbers)


class Check(NamedTuple):
    """Something to look at or measure; `outcomes` and `default` are by outcome id, in the order they are offered."""

    id: str
    title: str
    where: str
    tool: str
    minutes: float
    hazard: str
    hazards: tuple[str, ...]
    needs: tuple[str, ...]
    caution: str
    how: str
    outcomes: Mapping[str, str]
    default: Mapping[str, str]
    evidence_group: str
    applies_to: tuple[str, ...]
    source: str
    after: tuple[str, ...] = ()
    may_be_missed: bool = False
    never_first: bool = False
    at_bench: str = ""
    steps: tuple[str, ...] = ()
    reading: str = ""
    judged_by: str = ""
    no_pressure_after: tuple[str, ...] = ()
    intrusive: bool = False
    destroys_evidence: bool = False


class Root(NamedTuple):
    """What on the machine kills valves."""

    id: str
    title: str
    how_it_kills: str
    measure: str
    tell_the_customer: str


class Chain(NamedTuple):
    """One fault makes the next; `prove` is the check that shows the killer, by one of the outcomes `proven_by`."""

    killer: str
    victim: str
    note: str
    prove: str
    proven_by: tuple[str, ...]
    applies_to: tuple[str, ...] = ("all",)


class Group(NamedTuple):
    """A titled id: one of the six groups of symptoms, or a repair job that cures several causes."""

    id: str
    title: str


class Hazard(NamedTuple):
    """What can hurt; a check that has it is never below `floor`; `stop` is the sentence that ends the work."""

    id: str
    title: str
    floor: str
    stop: str


class Gate(NamedTuple):
    """What has to be true before a check opens; the steps are ticked one by one."""

    id: str
    title: str
    steps: tuple[str, ...]


class Rules(NamedTuple):
    """Figures and vocabularies of rules.toml: `scale` by table and word, the rest by id.

    pressure  the needs that put pressure on the valve
    clears    ticks that a check with this need takes away: they follow in turn
    """

    basis: str
    scale: Mapping[str, Mapping[str, Any]]
    tags: Mapping[str, str]
    needs: Mapping[str, str]
    pressure: tuple[str, ...]
    clears: Mapping[str, tuple[str, ...]]
    groups: Mapping[str, Group]
    repair_groups: Mapping[str, Group]
    hazards: Mapping[str, Hazard]
    gates: Mapping[str, Gate]


class Model(NamedTuple):
    """The whole knowledge, by id. `links[check][cause]` holds one word for each outcome of the check."""

    rules: Rules
    symptoms: Mapping[str, Symptom]
    causes: Mapping[str, Cause]
    checks: Mapping[str, Check]
    links: Mapping[str, Mapping[str, tuple[str, ...]]]
    roots: Mapping[str, Root]
    chains: tuple[Chain, ...]

    def words(self, check: str, cause: str) -> tuple[str, ...]:
        """The likelihood words of a cause on a check, one an outcome; the check's default where no link says more."""
        return self.links[check].get(cause) or tuple(self.checks[check].default.values())


@cache
def knowledge() -> Model:
    """The project's own knowledge. Raises DataError that names every fault of the files."""
    from valvecalc.facts import load_toml

    return build({name: load_toml(f"faults/{name}.toml") for name in FILES})


def from_texts(texts: Mapping[str, str]) -> Model:
    """The knowledge out of TOML texts by file name ("rules" …). DataError names every fault, broken TOML too."""
    from valvecalc.facts import parse_toml

    parsed, troubles = {}, []
    for name, text in texts.items():
        try:
            parsed[name] = parse_toml(text.encode(), f"faults/{name}.toml")
        except InputError as fault:
            troubles.append(str(fault))
    if troubles:
        raise DataError("\n".join(troubles))
    return build(parsed)


def build(parsed: Mapping[str, Mapping[str, Any]]) -> Model:
    """The knowledge out of parsed tables by file name.

    First the shape (fields, kinds, doubles), then the sense (see knowledge_check). DataError has one line a fault.
    """
    from valvecalc.diagnosis.knowledge_check import faults
    from valvecalc.diagnosis.knowledge_read import Reader

    reader = Reader(parsed)
    rules = Rules(
        basis=str(reader.file("rules").get("basis", "")),
        scale=reader.plain("rules", "scale"),
        tags=reader.plain("rules", "tags"),
        needs=reader.plain("rules", "needs"),
        pressure=tuple(reader.plain("rules", "pressure").get("needs", ())),
        clears={key: tuple(value) for key, value in reader.plain("rules", "clears").items()},
        groups=reader.records("rules", "groups", Group),
        repair_groups=reader.records("rules", "repair_groups", Group),
        hazards=reader.records("rules", "hazards", Hazard),
        gates=reader.records("rules", "gates", Gate),
    )
    model = Model(
        rules=rules,
        symptoms=reader.records("symptoms", "symptoms", Symptom),
        causes=reader.records("causes", "causes", Cause),
        checks=reader.records("checks", "checks", Check),
        links=reader.links(),
        roots=reader.records("roots", "roots", Root),
        chains=tuple(reader.rows("chains", "chains", Chain)),
    )
    reader.stop_on_trouble()
    if troubles := list(faults(model)):
        raise DataError("\n".join(troubles))
    return model
