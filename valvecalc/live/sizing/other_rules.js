// Twin of selection/other_rules.py: ratings, oil, seals, leakage, coil and place.

/** Rating of a port, with what the areas of a cylinder make of the pump's pressure; of T with the peak of its line. */
const otherRating = (port) => (valve, asked) => {
  const column = `pressure_${port}`;
  return ratingRule(`pressure-${port}`, port === "t" ? asked.tank : asked.ports[port], valve[column], column);
};

/** A grade is a band: its half width as a limit of error. */
const otherGrade = (viscosity) => (fact("grade-tolerance") * viscosity) / Math.sqrt(3);

/** Hot oil against the thinnest that is allowed. */
const otherThin = (valve, asked) => {
  const lacks = [...asked.lacks_hot, ...lackingOf(valve, "viscosity_min")], at = asked.hot;
  if (lacks.length || at === null) return askRule("thin", lacks, valve.viscosity_min);
  return atLeast("thin", valve.viscosity_min, at.viscosity, otherGrade(at.viscosity));
};

/** Cold oil against the thickest that is allowed. */
const otherThick = (valve, asked) => {
  const lacks = [...asked.lacks_cold, ...lackingOf(valve, "viscosity_max")], at = asked.cold;
  if (lacks.length || at === null) return askRule("thick", lacks, valve.viscosity_max);
  return atMost("thick", valve.viscosity_max, at.viscosity, otherGrade(at.viscosity));
};

/** Hottest oil against what seals and coil stand. */
const otherHottest = (valve, asked) => {
  const at = dutyGet(asked.duty, "oil", "hottest");
  const lacks = [...lackingIf(at, "oil.hottest"), ...lackingOf(valve, "oil_temperature_max")];
  if (lacks.length) return askRule("hottest", lacks);
  return { ...atMost("hottest", valve.oil_temperature_max, at), margin: null };
};

/** Coldest oil against what the seals stand. */
const otherColdest = (valve, asked) => {
  const at = dutyGet(asked.duty, "oil", "coldest");
  const lacks = [...lackingIf(at, "oil.coldest"), ...lackingOf(valve, "oil_temperature_min")];
  if (lacks.length) return askRule("coldest", lacks);
  return { ...atLeast("coldest", valve.oil_temperature_min, at), margin: null };
};

/** Rubber and documents against the fluid. */
const otherSeals = (valve, asked) => {
  const fluid = dutyGet(asked.duty, "oil", "fluid"), seals = valve.seals;
  if (missing(fluid)) return askRule("seals", ["oil.fluid"], null, seals);
  const named = missing(valve.fluids)
    ? null : valve.fluids.some((one) => one.toLowerCase() === fluid.toLowerCase());
  const notNamed = () => ruleOf("seals", REJECT, "not-named", fluid, valve.fluids.join(", "));
  if (seals === null) return named === false ? notNamed() : askRule("seals", ["stock.seals"], fluid, null);
  const bears = DATA.tables["seal_fluids.csv"].find((row) => row.fluid === fluid)[seals];
  if (bears === "no") return ruleOf("seals", REJECT, REJECT, fluid, seals);
  if (named === false) return notNamed();
  if (bears === "yes" || named) return ruleOf("seals", ACCEPT, ACCEPT, fluid, seals);
  return askRule("seals", ["stock.fluids"], fluid, seals);
};

/** Leakage at rest against the drift that the machine bears. */
const otherLeakage = (valve, asked) => {
  const allowed = dutyGet(asked.duty, "allowed", "drift"), { cylinders, motors } = asked.duty;
  if (missing(allowed)) {
    return [...cylinders, ...motors].some((row) => row.hanging !== false)
      ? askRule("leakage", ["allowed.drift"]) : ruleOf("leakage", ACCEPT, "not-asked");
  }
  if (motors.length && !cylinders.length) return ruleOf("leakage", ACCEPT, "motor");
  const lacks = [...asked.lacks_hot, ...lackingOf(valve, "leakage", "leakage_pressure", "leakage_viscosity")];
  let worst = null;
  for (const [area, pressure, unknown] of asked.holding) {
    if (unknown.length || lacks.length || area === null || pressure === null || asked.hot === null) {
      lacks.push(...unknown);
      continue;
    }
    const need = formula("leakage-for-drift", { drift_speed: allowed, area });
    // Laminar gaps: with the pressure, and against the viscosity.
    const lost = valve.leakage * (pressure / valve.leakage_pressure) * (valve.leakage_viscosity / asked.hot.viscosity);
    const found = atMost("leakage", need, lost, (fact("size-leakage-spread") * lost) / Math.sqrt(3));
    if (worst === null || (found.margin || 0) < (worst.margin || 0)) worst = found;
  }
  if (lacks.length || worst === null) {
    return askRule("leakage", lacks.length ? [...new Set(lacks)] : ["cylinder 1.bore_diameter"]);
  }
  return worst;
};

/** Kind of current: a DC coil on AC does not pull, an AC coil on DC burns. */
const otherKind = (valve, asked) => {
  const need = asked.kind, coil = valve.coil_kind;
  if (need === null || coil === null) {
    return askRule("kind", [...lackingIf(need, "supply.kind"), ...lackingOf(valve, "coil_kind")], need, coil);
  }
  const serves =
    coil === need || (coil === "AC 50/60 Hz" && need.startsWith("AC")) || (coil === "rectified" && need !== "DC");
  if (serves) return ruleOf("kind", ACCEPT, ACCEPT, need, coil);
  if (coil === "rectified") return ruleOf("kind", ASK, "bridge-on-dc", need, coil);
  if (coil === "DC") return ruleOf("kind", REJECT, "dc-on-ac", need, coil);
  return ruleOf("kind", REJECT, need === "DC" ? "ac-on-dc" : "frequency", need, coil);
};

const otherResistance = (valve) =>
  formula("nominal-resistance", { nominal_voltage: valve.coil_voltage, nominal_power: valve.coil_power });

/** Voltage at the plug over the coil's, after the cable; null where something is not known. */
const otherShareAtPlug = (valve, asked) => {
  const { volts, loop } = asked;
  if (volts === null || loop === null || missing(valve.coil_voltage)) return null;
  if (loop === 0) return volts / valve.coil_voltage;
  if (missing(valve.coil_power)) return null;
  const given = { source_voltage: volts, resistance: otherResistance(valve), loop_resistance: loop };
  return formula("plug-voltage", given) / valve.coil_voltage;
};

const otherLacksVolts = (valve, asked) => [
  ...lackingIf(asked.volts, "supply.voltage"), ...asked.lacks_loop,
  ...lackingOf(valve, "coil_voltage", ...(asked.loop === 0 ? [] : ["coil_power"])),
];

/** Voltage at the plug, after the cable, against what the coil bears and needs. */
const otherVolts = (valve, asked) => {
  const supply = asked.volts, coil = valve.coil_voltage, tolerance = valve.voltage_tolerance;
  const refused = (words, need, share, about) => ruleOf("volts", REJECT, words, need, share, null, 0, [], about);
  if (supply !== null && !missing(coil) && !missing(tolerance)) {
    const whole = supply / coil; // without the cable: more than this never comes
    if (whole < 1 - tolerance) return refused("other-coil", 1 - tolerance, whole, { supply, coil });
    if (whole > 1 + tolerance && asked.loop === 0) {
      return refused("too-high", 1 + tolerance, whole, { supply, coil });
    }
  }
  const lacks = [...otherLacksVolts(valve, asked), ...lackingOf(valve, "voltage_tolerance")];
  const share = otherShareAtPlug(valve, asked);
  if (lacks.length || share === null) return askRule("volts", lacks);
  const about = { supply, coil, loop: asked.loop };
  if (share > 1 + tolerance) return refused("too-high", 1 + tolerance, share, about);
  const found = atLeast("volts", 1 - tolerance, share, 0, about);
  const isHum = found.verdict === ACCEPT && asked.loop && (valve.coil_kind || "").startsWith("AC");
  return isHum ? { ...found, words: "accept-ac" } : found;
};

/** The shift limit holds only down to the voltage at which it was taken. */
const otherLimitVolts = (valve, asked) => {
  const share = otherShareAtPlug(valve, asked), limit = valve.limit_voltage;
  const lacks = [...otherLacksVolts(valve, asked), ...lackingOf(valve, "limit_voltage")];
  if (lacks.length || share === null) return askRule("limit-volts", lacks, limit, share);
  return atLeast("limit-volts", limit, share);
};

/** Where the winding settles, against its thermal class and the winding at which the shift limit was taken. */
const otherWinding = (valve, asked) => {
  const ambient = dutyGet(asked.duty, "supply", "ambient");
  const first = [...lackingIf(ambient, "supply.ambient"), ...lackingOf(valve, "winding_class", "coil_kind")];
  if (first.length) return askRule("winding", first);
  if (valve.coil_kind.startsWith("AC")) { // its heat follows the gap: its papers hold up to their own ambient
    const found = atMost("winding", fact("reference-ambient"), ambient);
    return { ...found, words: "ac", margin: null, verdict: found.verdict === ACCEPT ? ACCEPT : ASK };
  }
  const lacks = lackingOf(valve, "coil_voltage", "coil_power", "limit_winding");
  const share = otherShareAtPlug(valve, asked);
  if (lacks.length || share === null) return askRule("winding", [...otherLacksVolts(valve, asked), ...lacks]);
  const at = formula("steady-winding-temperature", {
    coil_voltage: share * valve.coil_voltage, resistance_20: otherResistance(valve), ambient_temperature: ambient,
    thermal_resistance: fact("thermal-resistance"),
  });
  const u = (fact("size-thermal-spread") * (at - ambient)) / Math.sqrt(3);
  const most = DATA.tables["thermal_classes.csv"].find((row) => row.class === valve.winding_class).limit;
  const found = atMost("winding", most, at, u, { class: valve.winding_class });
  if (found.verdict === ACCEPT && at > valve.limit_winding) {
    return ruleOf("winding", ASK, "limit-cooler", valve.limit_winding, at);
  }
  return { ...found, margin: null };
};

/** Plug form: another one can be changed, so it is told and nothing more. */
const otherConnector = (valve, asked) => {
  const old = dutyGet(asked.duty, "old", "connector");
  const found = sameRule("connector", old, valve.connector, "old.connector", "connector");
  return found.verdict === REJECT ? { ...found, verdict: ACCEPT, words: "other-plug" } : found;
};

/** Protection against dust and water, figure by figure. */
const otherProtection = (valve, asked) => {
  const need = dutyGet(asked.duty, "supply", "protection"), marked = valve.protection;
  if (need === null || marked === null) {
    const lacks = [...lackingIf(need, "supply.protection"), ...lackingOf(valve, "protection")];
    return askRule("protection", lacks, need, marked);
  }
  const verdict = marked[2] >= need[2] && marked[3] >= need[3] ? ACCEPT : REJECT;
  return ruleOf("protection", verdict, verdict, need, marked);
};

/** A place where gas or dust may explode. */
const otherArea = (valve, asked) => {
  const need = dutyGet(asked.duty, "safety", "hazardous_area"), marked = valve.area;
  if (need === false) return ruleOf("area", ACCEPT, ACCEPT, "no", marked);
  if (missing(need) || marked === null) {
    const lacks = [...lackingIf(need, "safety.hazardous_area"), ...lackingOf(valve, "area")];
    return askRule("area", lacks, null, marked);
  }
  return marked === "ordinary"
    ? ruleOf("area", REJECT, REJECT, "explosion-protected", marked)
    : ruleOf("area", ASK, "marking", "explosion-protected", marked);
};

/** Whether one lies there, and in which state. */
const otherShelf = (valve) => {
  if (valve.quantity === 0) return ruleOf("shelf", REJECT, REJECT, 1, 0);
  if (valve.condition === "scrap") return ruleOf("shelf", REJECT, "scrap", "new", valve.condition);
  const lacks = lackingOf(valve, "quantity", "condition");
  if (lacks.length) return askRule("shelf", lacks, 1, valve.quantity);
  if (valve.condition === "used") return ruleOf("shelf", ASK, "used", "overhauled", valve.condition);
  return ruleOf("shelf", ACCEPT, ACCEPT, 1, valve.quantity);
};

const OTHER_RULES = {
  pressure_p: otherRating("p"), pressure_a: otherRating("a"), pressure_b: otherRating("b"),
  pressure_t: otherRating("t"), thin: otherThin, thick: otherThick, hottest: otherHottest, coldest: otherColdest,
  seals: otherSeals, leakage: otherLeakage, kind: otherKind, volts: otherVolts, limit_volts: otherLimitVolts,
  winding: otherWinding, connector: otherConnector, protection: otherProtection, area: otherArea, shelf: otherShelf,
};
