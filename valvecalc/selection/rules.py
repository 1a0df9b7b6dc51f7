"""All rules in the order in which they are told: what can hurt first, what must match, then what follows the oil."""

from collections.abc import Callable
from operator import itemgetter
from typing import Any

from valvecalc.selection import flow_rules, match_rules, other_rules
from valvecalc.selection.demand import Demand
from valvecalc.selection.flow_rules import Work, work_of
from valvecalc.selection.judging import Rule
from valvecalc.selection.stock import StockValve

RuleOf = Callable[[StockValve, Demand, Work], Rule]

_COIL = ("coil_voltage", "coil_power")

#: Each rule with all that it reads of a valve; () where it reads what the valve loses, which differs from row to row.
RULES: tuple[tuple[RuleOf, tuple[str, ...]], ...] = (
    (match_rules.load, ("function",)),
    (match_rules.interface, ("interface",)),
    (match_rules.ports, ("function",)),
    (match_rules.crossing, ("function",)),
    (match_rules.movements, ("function",)),
    (match_rules.operator, ("operator",)),
    (match_rules.fail_safe, ("function", "operator")),
    (match_rules.unloads, ("function",)),
    (other_rules.kind, ("coil_kind",)),
    (other_rules.volts, (*_COIL, "voltage_tolerance", "coil_kind")),
    (other_rules.seals, ("seals", "fluids")),
    (other_rules.pressure_p, ("pressure_p",)),
    (other_rules.pressure_a, ("pressure_a",)),
    (other_rules.pressure_b, ("pressure_b",)),
    (other_rules.pressure_t, ("pressure_t",)),
    (flow_rules.shift, ("shift_limit", "limit_ports")),
    (other_rules.limit_volts, (*_COIL, "limit_voltage")),
    (flow_rules.loss, ()),
    (flow_rules.pump, ()),
    (flow_rules.cold, ()),
    (flow_rules.reach, ()),
    (flow_rules.runaway, ()),
    (flow_rules.pilot, ()),
    (flow_rules.drain, ("stage", "drain", "drain_pressure_max")),
    (other_rules.thin, ("viscosity_min",)),
    (other_rules.thick, ("viscosity_max",)),
    (other_rules.hottest, ("oil_temperature_max",)),
    (other_rules.coldest, ("oil_temperature_min",)),
    (other_rules.leakage, ("leakage", "leakage_pressure", "leakage_viscosity")),
    (other_rules.winding, (*_COIL, "coil_kind", "winding_class", "limit_winding")),
    (other_rules.protection, ("protection",)),
    (other_rules.area, ("area",)),
    (other_rules.connector, ("connector",)),
    (other_rules.shelf, ("quantity", "condition")),
)


class Judge:
    """Judges valves against one duty. What it said of a column's value it says again of the next valve with that value:
    a list of thousands holds few different coils, seals and mounting surfaces."""

    def __init__(self, asked: Demand) -> None:
        self.asked = asked
        place = {name: at for at, name in enumerate(StockValve._fields)}
        self.plan: list[tuple[RuleOf, Callable[[StockValve], Any] | None, dict[Any, Rule]]] = [
            (rule, itemgetter(*(place[name] for name in columns)) if columns else None, {}) for rule, columns in RULES
        ]

    def __call__(self, valve: StockValve) -> tuple[list[Rule], Work]:
        """Every rule on one valve, and what it costs in each movement."""
        asked = self.asked
        work = work_of(valve, asked)
        found = []
        for rule, key_of, said in self.plan:
            if key_of is None:
                found.append(rule(valve, asked, work))
                continue
            key = key_of(valve)
            told = said.get(key)
            if told is None:
                told = said[key] = rule(valve, asked, work)
            found.append(told)
        return found, work
