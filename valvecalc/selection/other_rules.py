"""Rules on ratings, oil, seals, leakage, coil and place."""

import math

from valvecalc.facts import fact_value, load_table
from valvecalc.formulas import coil, drift, heating
from valvecalc.selection.demand import Demand
from valvecalc.selection.flow_rules import Work
from valvecalc.selection.judging import (
    ACCEPT,
    ASK,
    REJECT,
    Rule,
    ask,
    at_least,
    at_most,
    lacking,
    rating,
    same,
)
from valvecalc.selection.stock import StockValve

_ROOT_3 = math.sqrt(3.0)


def pressure_p(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Rating of P."""
    return rating("pressure-p", asked.ports["p"], valve.pressure_p, "pressure_p")


def pressure_a(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Rating of A, with what the areas of a cylinder make of the pump's pressure."""
    return rating("pressure-a", asked.ports["a"], valve.pressure_a, "pressure_a")


def pressure_b(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Rating of B, likewise."""
    return rating("pressure-b", asked.ports["b"], valve.pressure_b, "pressure_b")


def pressure_t(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Rating of T against the highest peak in the tank line."""
    return rating("pressure-t", asked.tank, valve.pressure_t, "pressure_t")


def thin(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Hot oil against the thinnest that is allowed."""
    lacks = (*asked.lacks_hot, *lacking(valve, "viscosity_min"))
    if lacks or asked.hot is None:
        return ask("thin", lacks, valve.viscosity_min)
    return at_least("thin", valve.viscosity_min, asked.hot.viscosity, _grade(asked.hot.viscosity))


def thick(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Cold oil against the thickest that is allowed."""
    lacks = (*asked.lacks_cold, *lacking(valve, "viscosity_max"))
    if lacks or asked.cold is None:
        return ask("thick", lacks, valve.viscosity_max)
    return at_most("thick", valve.viscosity_max, asked.cold.viscosity, _grade(asked.cold.viscosity))


def _grade(viscosity: float) -> float:
    """A grade is a band: its half width as a limit of error."""
    return float(fact_value("grade-tolerance")) * viscosity / _ROOT_3


def hottest(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Hottest oil against what seals and coil stand."""
    at = asked.duty.get("oil", "hottest")
    lacks = (("oil.hottest",) if at is None else ()) + lacking(valve, "oil_temperature_max")
    return ask("hottest", lacks) if lacks else at_most("hottest", valve.oil_temperature_max, at)._replace(margin=None)


def coldest(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Coldest oil against what the seals stand."""
    at = asked.duty.get("oil", "coldest")
    lacks = (("oil.coldest",) if at is None else ()) + lacking(valve, "oil_temperature_min")
    return ask("coldest", lacks) if lacks else at_least("coldest", valve.oil_temperature_min, at)._replace(margin=None)


def seals(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Rubber and documents against the fluid."""
    fluid = asked.duty.get("oil", "fluid")
    if fluid is None:
        return ask("seals", ("oil.fluid",), None, valve.seals)
    named = None if valve.fluids is None else fluid.lower() in [one.lower() for one in valve.fluids]
    if valve.seals is not None:
        bears = next(row for row in load_table("seal_fluids.csv") if row["fluid"] == fluid)[valve.seals]
        if bears == "no":
            return Rule("seals", REJECT, REJECT, fluid, valve.seals)
        if named is False:
            return Rule("seals", REJECT, "not-named", fluid, ", ".join(valve.fluids))
        if bears == "yes" or named:
            return Rule("seals", ACCEPT, ACCEPT, fluid, valve.seals)
        return ask("seals", ("stock.fluids",), fluid, valve.seals)
    if named is False:
        return Rule("seals", REJECT, "not-named", fluid, ", ".join(valve.fluids))
    return ask("seals", ("stock.seals",), fluid, None)


def leakage(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Leakage at rest against the drift that the machine bears."""
    allowed = asked.duty.get("allowed", "drift")
    rows = [*asked.duty.cylinders, *asked.duty.motors]
    if allowed is None:
        if any(row.get("hanging") is not False for row in rows):
            return ask("leakage", ("allowed.drift",))
        return Rule("leakage", ACCEPT, "not-asked")
    if asked.duty.motors and not asked.duty.cylinders:
        return Rule("leakage", ACCEPT, "motor")
    lacks = (*asked.lacks_hot, *lacking(valve, "leakage", "leakage_pressure", "leakage_viscosity"))
    worst: Rule | None = None
    for area, pressure, missing in asked.holding:
        if missing or lacks or area is None or pressure is None or asked.hot is None:
            lacks = (*lacks, *missing)
            continue
        need = drift.leakage_for_drift(drift_speed=allowed, area=area)
        # Laminar gaps: with the pressure, and against the viscosity.
        has = valve.leakage * (pressure / valve.leakage_pressure) * (valve.leakage_viscosity / asked.hot.viscosity)
        u = fact_value("size-leakage-spread") * has / _ROOT_3
        found = at_most("leakage", need, has, u)
        if worst is None or (found.margin or 0.0) < (worst.margin or 0.0):
            worst = found
    if lacks or worst is None:
        return ask("leakage", tuple(dict.fromkeys(lacks)) or ("cylinder 1.bore_diameter",))
    return worst


def kind(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Kind of current: a DC coil on AC does not pull, an AC coil on DC burns."""
    need, has = asked.kind, valve.coil_kind
    if need is None or has is None:
        return ask("kind", (("supply.kind",) if need is None else ()) + lacking(valve, "coil_kind"), need, has)
    if has == need or (has == "AC 50/60 Hz" and need.startswith("AC")) or (has == "rectified" and need != "DC"):
        return Rule("kind", ACCEPT, ACCEPT, need, has)
    if has == "rectified":
        return Rule("kind", ASK, "bridge-on-dc", need, has)
    if has == "DC":
        return Rule("kind", REJECT, "dc-on-ac", need, has)
    return Rule("kind", REJECT, "ac-on-dc" if need == "DC" else "frequency", need, has)


def share_at_plug(valve: StockValve, asked: Demand) -> float | None:
    """Voltage at the plug over the coil's, after the cable; None where something is not known."""
    if asked.volts is None or asked.loop is None or valve.coil_voltage is None:
        return None
    if asked.loop == 0.0:
        return float(asked.volts / valve.coil_voltage)
    if valve.coil_power is None:
        return None
    resistance = coil.nominal_resistance(nominal_voltage=valve.coil_voltage, nominal_power=valve.coil_power)
    at_plug = coil.plug_voltage(source_voltage=asked.volts, resistance=resistance, loop_resistance=asked.loop)
    return float(at_plug / valve.coil_voltage)


def _lacks_volts(valve: StockValve, asked: Demand) -> tuple[str, ...]:
    lacks = ("supply.voltage",) if asked.volts is None else ()
    columns = ("coil_voltage",) if asked.loop == 0.0 else ("coil_voltage", "coil_power")
    return (*lacks, *asked.lacks_loop, *lacking(valve, *columns))


def volts(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Voltage at the plug, after the cable, against what the coil bears and needs."""
    if asked.volts is not None and valve.coil_voltage is not None and valve.voltage_tolerance is not None:
        whole = asked.volts / valve.coil_voltage  # without the cable: more than this never comes
        if whole < 1 - valve.voltage_tolerance:
            about = {"supply": asked.volts, "coil": valve.coil_voltage}
            return Rule("volts", REJECT, "other-coil", 1 - valve.voltage_tolerance, whole, about=about)
        if whole > 1 + valve.voltage_tolerance and asked.loop == 0.0:
            about = {"supply": asked.volts, "coil": valve.coil_voltage}
            return Rule("volts", REJECT, "too-high", 1 + valve.voltage_tolerance, whole, about=about)
    lacks = (*_lacks_volts(valve, asked), *lacking(valve, "voltage_tolerance"))
    share = share_at_plug(valve, asked)
    if lacks or share is None:
        return ask("volts", lacks)
    about = {"supply": asked.volts, "coil": valve.coil_voltage, "loop": asked.loop}
    if share > 1 + valve.voltage_tolerance:
        return Rule("volts", REJECT, "too-high", 1 + valve.voltage_tolerance, share, about=about)
    found = at_least("volts", 1 - valve.voltage_tolerance, share, 0.0, about)
    if found.verdict == ACCEPT and asked.loop and (valve.coil_kind or "").startswith("AC"):
        return found._replace(words="accept-ac")
    return found


def limit_volts(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """The shift limit holds only down to the voltage at which it was taken."""
    share = share_at_plug(valve, asked)
    lacks = (*_lacks_volts(valve, asked), *lacking(valve, "limit_voltage"))
    if lacks or share is None:
        return ask("limit-volts", lacks, valve.limit_voltage, share)
    return at_least("limit-volts", valve.limit_voltage, share)


def winding(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Where the winding settles, against its thermal class and the winding at which the shift limit was taken."""
    ambient = asked.duty.get("supply", "ambient")
    lacks = (("supply.ambient",) if ambient is None else ()) + lacking(valve, "winding_class", "coil_kind")
    if lacks:
        return ask("winding", lacks)
    if valve.coil_kind.startswith("AC"):  # its heat follows the gap: its papers hold up to their own ambient
        found = at_most("winding", fact_value("reference-ambient"), ambient)
        return found._replace(words="ac", margin=None, verdict=ACCEPT if found.verdict == ACCEPT else ASK)
    lacks = lacking(valve, "coil_voltage", "coil_power", "limit_winding")
    share = share_at_plug(valve, asked)
    if lacks or share is None:
        return ask("winding", (*_lacks_volts(valve, asked), *lacks))
    resistance = coil.nominal_resistance(nominal_voltage=valve.coil_voltage, nominal_power=valve.coil_power)
    thermal = fact_value("thermal-resistance")
    at = heating.steady_winding_temperature(
        coil_voltage=share * valve.coil_voltage,
        resistance_20=resistance,
        ambient_temperature=ambient,
        thermal_resistance=thermal,
    )
    u = fact_value("size-thermal-spread") * (at - ambient) / _ROOT_3
    most = next(row for row in load_table("thermal_classes.csv") if row["class"] == valve.winding_class)["limit"]
    found = at_most("winding", float(most), at, u, {"class": valve.winding_class})._replace(margin=None)
    if found.verdict == ACCEPT and at > valve.limit_winding:
        return Rule("winding", ASK, "limit-cooler", valve.limit_winding, at)
    return found


def connector(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Plug form: another one can be changed, so it is told and nothing more."""
    found = same("connector", asked.duty.get("old", "connector"), valve.connector, "old.connector", "connector")
    return found._replace(verdict=ACCEPT, words="other-plug") if found.verdict == REJECT else found


def protection(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Protection against dust and water, figure by figure."""
    need, has = asked.duty.get("supply", "protection"), valve.protection
    if need is None or has is None:
        lacks = (("supply.protection",) if need is None else ()) + lacking(valve, "protection")
        return ask("protection", lacks, need, has)
    fits = has[2] >= need[2] and has[3] >= need[3]
    return Rule("protection", ACCEPT if fits else REJECT, ACCEPT if fits else REJECT, need, has)


def area(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """A place where gas or dust may explode."""
    need = asked.duty.get("safety", "hazardous_area")
    if need is False:
        return Rule("area", ACCEPT, ACCEPT, "no", valve.area)
    if need is None or valve.area is None:
        lacks = (("safety.hazardous_area",) if need is None else ()) + lacking(valve, "area")
        return ask("area", lacks, None, valve.area)
    if valve.area == "ordinary":
        return Rule("area", REJECT, REJECT, "explosion-protected", valve.area)
    return Rule("area", ASK, "marking", "explosion-protected", valve.area)


def shelf(valve: StockValve, asked: Demand, work: Work) -> Rule:
    """Whether one lies there, and in which state."""
    if valve.quantity == 0:
        return Rule("shelf", REJECT, REJECT, 1, 0)
    if valve.condition == "scrap":
        return Rule("shelf", REJECT, "scrap", "new", valve.condition)
    lacks = lacking(valve, "quantity", "condition")
    if lacks:
        return ask("shelf", lacks, 1, valve.quantity)
    if valve.condition == "used":
        return Rule("shelf", ASK, "used", "overhauled", valve.condition)
    return Rule("shelf", ACCEPT, ACCEPT, 1, valve.quantity)
