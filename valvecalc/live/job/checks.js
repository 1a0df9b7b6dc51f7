// What a job gives to each check, and what was judged: twin of job/given.py, job/spots.py, job/judged.py,
// job/fit.py and job/alternating.py, for the checks that stand by themselves and for what is as found.

const isEntry = (value) => isTable(value) && Object.hasOwn(value, "spreads");
const takenBy = (id, ...tables) => {
  const { entries } = valvecalc.card(id);
  const found = {};
  for (const table of tables) {
    for (const [key, value] of Object.entries(table || {})) if (entries.includes(key) && isEntry(value)) found[key] = value;
  }
  return found;
};
const reckoned = (name, si) => {
  const [, dimension, metric] = DATA.words[name];
  const text = valvecalc.units.show(si, dimension, metric);
  return valvecalc.made({
    text, value: valvecalc.units.fromSi(si, metric, dimension), unit: metric, si, spreads: [], origin: "calculated", source: "",
  });
};

/** Readings of a coil by their key: the sheet that judges each, by the kind of the coil; and those of a main stage. */
const OF_COIL = {
  current: { dc: "coil-amps", ac: "ac-armature" },
  drop_out: { dc: "release-volts", ac: "release-volts" },
  shift_time: { dc: "shift-seconds", ac: "shift-seconds" },
};
const CALLED = { drop_out: "drop_out_voltage", shift_time: "measured_shift_time" };
const OF_SPOTS = ["coil-amps", "ac-armature", "release-volts", "shift-seconds"];
const OF_MAIN = [["main-stage-drag", "full_stroke_difference"], ["two-stage-shift", "pilot_pressure"]];

/** Which checks a job can ask for, each with the script of its card: nobody fetches what no reading asks for. */
const checksOf = (tables) => [...new Set([...checksAsked(tables), ...(tables.left ? checksAsked(tables.left) : [])])];
const checksAsked = ({ once, many }) => {
  const found = [];
  const direct = many.coil.filter((coil) => coil.kind !== "ac");
  if (many.coil.length) found.push("coil-check");
  if (direct.some((coil) => coil.pickup.length)) found.push("bench-margin");
  if (many.leakage.length) found.push("leak-check");
  if (once.stand) found.push("test-cylinder");
  for (const [key, sheets] of Object.entries(OF_COIL)) {
    for (const [kind, sheet] of Object.entries(sheets)) {
      if (many.coil.some((coil) => key in coil && (coil.kind || "dc") === kind)) found.push(sheet);
    }
  }
  for (const [sheet, key] of OF_MAIN) if (key in (once.main_stage || {})) found.push(sheet);
  if (many.drift.length) found.push("drift-rate");
  if (many.loss.length) found.push("path-loss");
  return found;
};

/** What of a coil read as left makes a check of it: without one of these only its plate is known. */
const READ_AGAIN = ["resistance", "hot_resistance", "plug_voltage"];
/** Every check of a job: [{ sheet, subject, table, row, given }], in the order in which the report lists them. */
const givenOf = ({ once, many, later }) => {
  const found = [];
  const take = (sheet, subject, table, row, given) => found.push({ sheet, subject, table, row, given });
  const supply = once.supply || {};
  many.coil.forEach((coil, at) => {
    if (coil.kind === "ac" || !coil.pickup.length) return;
    take("bench-margin", `coil ${coil.name}, pick-up readings`, "coil", at, benchEntries(once, coil));
  });
  many.coil.forEach((coil, at) => {
    if (later && !READ_AGAIN.some((key) => key in coil)) return;
    const given = takenBy("coil-check", coil, supply);
    if (coil.kind === "ac") delete given.nominal_power;
    const ohms = cableOhms(supply);
    if (ohms !== null) given.resistance_per_length = reckoned("resistance_per_length", ohms);
    take("coil-check", `coil ${coil.name}`, "coil", at, given);
  });
  const paths = new Set();
  many.leakage.forEach((row, at) => {
    const given = takenBy("leak-check", once.valve, once.oil, row);
    if (!given.land_length && isEntry((once.valve || {}).overlap)) given.land_length = once.valve.overlap;
    const path = row.path ?? `leakage ${at + 1}`;
    take("leak-check", `leakage ${paths.has(path) ? `${path} (${at + 1})` : path}`, "leakage", at, given);
    paths.add(path);
  });
  if (once.stand) take("test-cylinder", "stand cylinder", "stand", 0, takenBy("test-cylinder", once.stand));
  for (const sheet of OF_SPOTS) {
    many.coil.forEach((coil, at) => {
      for (const [key, sheets] of Object.entries(OF_COIL)) {
        if (sheets[coil.kind || "dc"] !== sheet || !(key in coil)) continue;
        const given = takenBy(sheet, coil);
        if (CALLED[key]) given[CALLED[key]] = coil[key];
        take(sheet, `coil ${coil.name}`, "coil", at, given);
      }
    });
  }
  for (const [table, sheet] of [["drift", "drift-rate"], ["loss", "path-loss"]]) {
    many[table].forEach((row, at) => {
      const where = `${table} ${at + 1}`;
      take(sheet, row.path === undefined ? where : `${where}, ${row.path}`, table, at, takenBy(sheet, row));
    });
  }
  for (const [sheet, key] of OF_MAIN) {
    const stage = once.main_stage || {};
    if (key in stage) take(sheet, "main stage", "main_stage", 0, takenBy(sheet, once.duty, stage));
  }
  return found;
};
const cableOhms = ({ cable_area: area, cable_kind: kind = "flexible" }) => {
  const row = isEntry(area) ? DATA.cable.find((one) => Math.abs(one.cable_area - area.si) < 1e-12) : null;
  return row ? row[kind === "flexible" ? "class_5_plain" : "class_2_plain"] : null;
};
/** The readings that bear on one coil, as job/raw.py lays them flat. */
const flatOf = (once, coil) => {
  const found = {};
  for (const table of ["valve", "spring", "oil", "supply", "duty"]) Object.assign(found, once[table]);
  return Object.fromEntries(Object.entries({ ...found, ...coil }).filter(([, value]) => isEntry(value)));
};
const benchEntries = (once, coil) => {
  const flat = flatOf(once, coil), given = {};
  for (const state of ["no-pressure", "blocked", "dwell", "flow", "duty"]) {
    const name = state.replace("-", "_");
    const trials = coil.pickup.filter((one) => one.state === state);
    const read = Object.assign({}, ...trials);
    if (!read.voltage) continue;
    given[`${name}_voltage`] = read.voltage;
    const ohms = read.resistance || flat.resistance;
    if (ohms) given[`${name}_resistance`] = ohms;
  }
  for (const state of ["no-pressure", "blocked", "dwell"]) {
    const { force } = Object.assign({}, ...coil.push.filter((one) => one.state === state));
    if (force) given[`${state.replace("-", "_")}_push`] = force;
  }
  const si = (name) => flat[name].si;
  const has = (...names) => names.every((name) => flat[name]);
  let cold = null;
  if (has("resistance", "coil_temperature")) {
    cold = formula("resistance-at-20", { resistance: si("resistance"), coil_temperature: si("coil_temperature") });
  } else if (has("nominal_resistance_20")) cold = si("nominal_resistance_20");
  else if (has("nominal_voltage", "nominal_power")) {
    cold = formula("nominal-resistance", { nominal_voltage: si("nominal_voltage"), nominal_power: si("nominal_power") });
  }
  if (flat.hot_resistance) given.hot_resistance = flat.hot_resistance;
  else if (cold !== null) {
    const hot = formula("winding-resistance", { resistance_20: cold, winding_temperature: DATA.facts["hot-winding"] });
    given.hot_resistance = reckoned("hot_resistance", hot);
  }
  const lowest = lowestVolts(flat);
  if (flat.minimum_voltage) given.minimum_voltage = flat.minimum_voltage;
  else if (lowest !== null) given.minimum_voltage = reckoned("minimum_voltage", lowest);
  return given;
};
const lowestVolts = (flat) => {
  if (flat.minimum_voltage) return flat.minimum_voltage.si;
  if (!flat.nominal_voltage) return null;
  return formula("lowest-voltage", { nominal_voltage: flat.nominal_voltage.si, supply_below: DATA.facts["supply-below"] });
};

// ---- AC coils: their force follows the gap and not the ohms
const OF_AC = ["resistance_20", "expected_resistance_20", "resistance_deviation", "winding_temperature", "loop_resistance"];
const AT_PLUG = ["voltage_drop", "supply_deviation"];
const trimmed = (answer, coil) => {
  if (coil.kind !== "ac" || !answer.ok) return answer;
  const kept = [...OF_AC, ...(coil.plug_voltage ? AT_PLUG : [])];
  return { ...answer, results: answer.results.filter(({ name }) => kept.includes(name)), meaning: [] };
};

/** A plain reading against its limit: how far it lies on the good side, with a guard band (uncertainty.decide). */
const decided = (distance, spreads) => {
  const u = Math.sqrt(spreads.reduce((sum, [one]) => sum + one * one, 0));
  if (distance >= factOf("decision-factor") * u) return "accept";
  return distance < -factOf("decision-factor") * u || u === 0 ? "reject" : "cannot-tell";
};
/** The verdict on a result by the shop's own limits (judge.py); the engine's own where the shop set none of them. */
const verdictOf = (sheet, result, results) => {
  const keys = ["decision-factor", ...DATA.rules[sheet][result.name].slice(1)];
  if (result.verdict === "unknown" || !keys.some((key) => Object.hasOwn(ownLimits, key))) return result.verdict;
  const [kind, ...ends] = ruleOf(sheet, result.name);
  const inSi = ({ name, unit, value, uncertainty = 0 }) => {
    const { dimension } = valvecalc.card(sheet).words[name], { toSi } = valvecalc.units;
    const u = (toSi(uncertainty, unit, dimension) - toSi(0, unit, dimension)) / 2;
    return [toSi(value, unit, dimension), u ? [[u, null]] : []];
  };
  const both = (verdicts) => (verdicts.includes("reject") ? "reject" : verdicts.every((one) => one === "accept") ? "accept" : "cannot-tell");
  if (kind === "within-range") {
    const [low, high, [most]] = ends.map((name) => inSi(results.find((one) => one.name === name)));
    if (decided(most - high[0], high[1]) === "accept") return "accept";
    return decided(most - low[0], low[1]) === "reject" ? "reject" : "cannot-tell";
  }
  const [si, spreads] = inSi(result);
  if (kind === ">=") return decided(si - ends[0], spreads);
  if (kind === "<=") return decided(ends[0] - si, spreads);
  const above = kind === "band" ? ends[1] : ends[0];
  return both([decided(above - si, spreads), decided(si + ends[0], spreads)]);
};

/**
 * What was judged as found, or as left if `tables` are those: [{ subject, sheet, result, verdict, table, row, at, answer }], `at` the row
 * as the device keeps it. A check without a verdict is a row without `verdict`; one that the engine refuses has `errors`.
 */
const judgedOf = (tables, options) => judgedRows(tables, options).map((told) => ({ ...told, at: (tables.raw[told.table] || [])[told.row] }));
const judgedRows = (tables, options) => {
  const found = [];
  for (const { sheet, subject, table, row, given } of givenOf(tables)) {
    const plain = valvecalc.answer(sheet, given, { steps: false, rows: false, ...options });
    const answer = sheet === "coil-check" ? trimmed(plain, tables.many.coil[row]) : plain;
    const told = { subject, sheet, table, row, answer };
    if (!answer.ok) { found.push({ ...told, errors: answer.errors }); continue; }
    const judged = answer.results.filter(({ verdict }) => verdict);
    if (!judged.length) found.push(told);
    judged.forEach((result) => found.push({ ...told, result, verdict: verdictOf(sheet, result, answer.results),
      subject: `${subject}: ${valvecalc.word(result.name).meaning}` }));
  }
  const { diametral_clearance: fit, new_diametral_clearance: fresh } = tables.once.valve || {};
  if (isEntry(fit) && isEntry(fresh)) {
    const subject = "spool and bore: diametral clearance as the gauges read it";
    const verdict = decided(fresh.si - fit.si, [...fit.spreads, ...fresh.spreads]);
    found.push({ subject, sheet: "fit", verdict, table: "valve", row: 0, text: `${fit.text}, a new fit ${fresh.text} at most` });
  }
  tables.many.coil.forEach((coil, at) => {
    if (!isEntry(coil.insulation)) return;
    const { si, spreads, text } = coil.insulation;
    const subject = `coil ${coil.name}: ${DATA.words.insulation_resistance[3]}`;
    found.push({ subject, sheet: "insulation", verdict: decided(si - factOf("insulation-least"), spreads), table: "coil", row: at, text });
  });
  tables.many.coil.forEach((coil, at) => {
    if (typeof coil.open !== "boolean") return;
    const verdict = coil.open ? "reject" : "accept", text = coil.open ? "Open." : "Closed.";
    found.push({ subject: `coil ${coil.name}: winding`, sheet: "open", verdict, table: "coil", row: at, text });
  });
  found.push(...ownJudged(tables.own));
  tables.many.coil.forEach((coil, at) => {
    if (coil.kind !== "ac") return;
    coil.pickup.filter((one) => typeof one.shifted === "boolean").forEach((one) => {
      const subject = `coil ${coil.name} ${one.state ? DATA.states[one.state] : ""}`;
      found.push({ subject, sheet: "shifted", verdict: one.shifted ? "accept" : "reject", table: "coil", row: at, state: one.state,
        text: `${one.shifted ? "Shifted" : "Did not shift"}${one.voltage ? ` at ${one.voltage.text}` : ""}.` });
    });
  });
  return found;
};
