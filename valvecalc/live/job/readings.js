// What stands in a job file, read: twin of job/reader.py, job/left.py and job/shop.py for the readings that the phone judges. What
// cannot be read is left out and told; the desk refuses the file for it.

/** A formula by its id, with the defaults of its card. */
const formula = (id, entries) => {
  const [work, , defaults, names] = register[id];
  const filled = { ...defaults, ...entries };
  return finite(work(...names.map((name) => filled[name])));
};

const isTable = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
/** The text of a value as it is kept: a date and a whole float of a file are marked, so that they can be written again. */
const isMarked = (value) => isTable(value) && Array.isArray(value.$);
const jobText = (value) => (isMarked(value) ? value.$[1] : String(value));

// ---- the shop's instruments, as shop.toml names them: id -> { range, accuracy }
let shopTools = new Map();
let toolsLacking = new Set();
// ---- the shop's own limits in SI, by the names of data/defaults.toml; what cannot be read the desk refuses
let ownLimits = {};
const ownRead = (given) => {
  const found = {};
  for (const [key, dimension] of Object.entries(DATA.own)) {
    if (!Object.hasOwn(given, key)) continue;
    try { found[key] = valvecalc.units.read(String(given[key]), `limits.${key}`, dimension).si; } catch (refused) {
      if (!refused.need) throw refused;
    }
  }
  return found;
};
const factOf = (key) => ownLimits[key] ?? DATA.facts[key];
/** A rule of a card with the shop's own figures in the place of the project's. */
const ruleOf = (sheet, name) => {
  const [kind, ...figures] = valvecalc.card(sheet).judged[name], [, ...keys] = DATA.rules[sheet][name];
  return [kind, ...figures.map((figure, at) => (kind === "within-range" ? figure : ownLimits[keys[at]] ?? figure))];
};

/** Standard uncertainty in SI of a reading with one of them; null where it is not known here. */
const toolUncertainty = (id, name, dimension, si) => {
  const tool = shopTools.get(id);
  if (!tool) { toolsLacking.add(id); return null; }
  const { read } = valvecalc.units;
  const [share, ...rest] = tool.accuracy.split(" of ");
  const what = rest.join(" of ").trim();
  try {
    if (!rest.length) return jobUncertainty(read(`0 ${tool.accuracy.trim().split(/\s+/).pop()} ± ${tool.accuracy}`, name, dimension));
    const part = read(share, "accuracy", "ratio").si;
    if (what === "reading") return (part * Math.abs(si)) / Math.sqrt(3);
    if (what !== "range" && what !== "full scale") return null;
    const full = read(tool.range, "range", dimension);
    return (part * (full.si - read(`0 ${full.unit}`, "range", dimension).si)) / Math.sqrt(3);
  } catch (refused) {
    if (!refused.need) throw refused;
    toolsLacking.add(id);
    return null;
  }
};

/** One reading as an entry of the engine; throws what the engine's reader of units throws. */
const jobReading = (name, raw, dimension = DATA.words[name][1]) => {
  const text = isTable(raw) && !isMarked(raw) ? raw.value : raw;
  if (isTable(raw) && !isMarked(raw) && typeof text !== "string") throw jobRefused("a text with its unit", "Write it like 160 bar.");
  const written = jobText(text);
  const reading = valvecalc.units.read(written, name, dimension);
  const u = jobUncertainty(reading);
  const entry = {
    text: written, value: reading.value, unit: reading.unit, si: reading.si, spreads: u ? [[u, null]] : [],
    origin: name.startsWith("nominal_") ? "nameplate" : isTable(raw) && !isMarked(raw) ? "measured" : "user", source: "",
  };
  if (!isTable(raw) || isMarked(raw)) return entry;
  if (raw.uncertainty !== undefined) {
    const doubt = jobUncertainty(valvecalc.units.read(`${written.split("±")[0]} ± ${raw.uncertainty}`, name, dimension));
    entry.spreads = doubt ? [[doubt, raw.instrument ?? null]] : [];
  }
  if (raw.instrument !== undefined && !entry.spreads.length) {
    const own = toolUncertainty(String(raw.instrument), name, dimension, entry.si);
    if (own !== null) entry.spreads = [[own, String(raw.instrument)]];
  }
  return { ...entry, source: String(raw.instrument ?? raw.source ?? "") };
};
const jobRefused = (need, action) => Object.assign(new Error(need), { need, do: action, likely: [] });
const jobUncertainty = ({ halfWidth, expanded }) => (halfWidth === null ? null : halfWidth / (expanded ? 2 : Math.sqrt(3)));

const plainSum = (values) => values.reduce((sum, x) => sum + x, 0);

/** The mean of trials in the unit of the first, their scatter beside the instrument's error. */
const jobMean = (name, each, dimension = DATA.words[name][1]) => {
  const [first] = each;
  if (each.length === 1) return { ...first, origin: "measured" };
  const values = each.map((one) => one.si);
  const middle = plainSum(values) / values.length;
  const deviation = Math.sqrt(plainSum(values.map((x) => (x - middle) ** 2)) / (values.length - 1));
  const spreads = deviation > 0 ? [...first.spreads, [deviation / Math.sqrt(values.length), null]] : first.spreads;
  const text = valvecalc.units.show(middle, dimension, first.unit, 6);
  return { ...first, text, value: valvecalc.units.fromSi(middle, first.unit, dimension), si: middle, spreads, origin: "measured" };
};

/** The value that counts; what stood there before it was corrected is for the report. */
const counted = (raw) => {
  if (Array.isArray(raw)) return raw.map(counted);
  if (!isTable(raw) || !Object.hasOwn(raw, "earlier")) return raw;
  const { earlier, why, by = "", ...rest } = raw;
  const before = Array.isArray(earlier) ? earlier : [earlier];
  const plain = (one) => ["string", "number", "boolean"].includes(typeof one) || (isMarked(one) && one.$[0] !== "date");
  if (!Object.hasOwn(rest, "value") || !before.length || !before.every(plain)) {
    throw jobRefused("the value that counts and the earlier ones", '{ value = "63 Ω", earlier = ["68 Ω"], why = "leads not subtracted", by = "…" }');
  }
  if (typeof why !== "string" || !why.trim() || typeof by !== "string") {
    throw jobRefused("a reason in words", "Say why the value was corrected, and by whom.");
  }
  return Object.keys(rest).every((key) => key === "value" || key === "at") ? rest.value : rest;
};
/** A word of a row whose rest is not read. */
const wordOf = (value) => (isTable(value) && !isMarked(value) ? value.value : value);

/** What a field of the job file gives: an entry, a word, true or false, a text; undefined where nothing is. */
const jobValue = (table, key, given) => {
  const raw = counted(given);
  const [kind, name] = DATA.fields[table][key];
  if (kind === "quantity") return valvecalc.made(jobReading(name, raw));
  if (kind === "repeats") {
    const each = Array.isArray(raw) ? raw : [raw];
    if (!each.length) throw jobRefused("at least one reading", "Leave it empty if there is none.");
    return valvecalc.made(jobMean(name, each.map((one) => jobReading(name, one))));
  }
  if (kind === "date" && !isDay(jobText(raw))) throw jobRefused("a day", DATA.day);
  return raw;
};
/** Whether a text tells a day, a month, a year, or a quarter as it stands on seals. */
const isDay = (text) => {
  if (/^([1-4]Q([0-9]{2}|[0-9]{4})|[0-9]{4}-Q[1-4])$/.test(text)) return true;
  const [, year, month = "01", day = "01"] = /^([0-9]{4})(?:-([0-9]{2})(?:-([0-9]{2})(?:[T ].*)?)?)?$/s.exec(text) || [];
  const at = new Date(`${year}-${month}-${day}T00:00:00Z`);
  return Number(year) > 0 && !Number.isNaN(at.getTime()) && at.toISOString().startsWith(`${year}-${month}-${day}`);
};

/** A table of the file with what of it can be read; `faults` grows; its `at` is the row itself. */
const jobTable = (table, raw, row, faults) => {
  const found = {};
  for (const [key, value] of Object.entries(raw)) {
    if (!Object.hasOwn(DATA.fields[table], key)) continue;
    try { found[key] = jobValue(table, key, value); } catch (refused) {
      if (!refused.need) throw refused;
      faults.push({ table, row, key, at: raw, need: refused.need, do: refused.do, likely: refused.likely || [] });
    }
  }
  return found;
};
const rowsOf = (raw) => (Array.isArray(raw) ? raw : raw === undefined ? [] : [raw]).filter(isTable);
const isLeft = (row) => row.when === "as-left";
const BELOW_COIL = ["pickup", "push"];

/**
 * The tables as found and as left: { found, left, faults }, each { once: {table: entries}, many: {table: [entries]}, raw: the rows of
 * `many` as the device keeps them }. `left` is null where nothing was read again.
 */
const jobTables = (raw) => {
  const faults = [];
  jobTable("job", raw, 0, faults);
  const found = { once: {}, many: {}, raw: {} }, left = { once: {}, many: {}, raw: {} };
  let again = DATA.twice.some((table) => rowsOf(raw[table]).some(isLeft));
  for (const table of DATA.once) {
    const rows = rowsOf(raw[table]);
    const side = (of) => { const row = rows.find(of); return row ? jobTable(table, row, 0, faults) : null; };
    found.once[table] = side((row) => !isLeft(row));
    const own = DATA.twice.includes(table) ? side(isLeft) : null;
    left.once[table] = carriedTo(table, found.once[table], own);
  }
  for (const table of DATA.many.filter((name) => name !== "coil")) {
    for (const [side, of] of [[found, (row) => !isLeft(row)], [left, isLeft]]) {
      side.raw[table] = rowsOf(raw[table]).filter(of);
      side.many[table] = side.raw[table].map((row, at) => jobTable(table, row, at, faults));
    }
  }
  for (const [side, of] of [[found, (row) => !isLeft(row)], [left, isLeft]]) {
    side.raw.check = rowsOf(raw.check).filter(of);
    side.own = answersOf(side.raw.check, faults);
  }
  const sides = [rowsOf(raw.coil).filter((row) => !isLeft(row)), rowsOf(raw.coil).filter(isLeft)];
  const coils = sides.flatMap((rows) => rows.map((row, at) => coilOf(row, at, faults)));
  again = again || coils.some(({ trials }) => trials.left);
  Object.assign(found.many, { coil: coils.filter(({ row }) => !isLeft(row)).map(({ read, trials }) => ({ ...read, ...trials.found })) });
  found.raw.coil = coils.filter(({ row }) => !isLeft(row)).map(({ row }) => row);
  const later = coilsLeft(coils);
  left.many.coil = later.map(({ coil }) => coil);
  left.raw.coil = later.map(({ row }) => row);
  return { found, left: again ? left : null, faults };
};
/** A table that comes once, as left: what holds after the work too, and what was read again. */
const carriedTo = (table, found, own) => {
  const keys = DATA.carried[table];
  if (!keys) return DATA.twice.includes(table) ? own : null;
  const kept = Object.entries(found || {}).filter(([key]) => keys.includes(key));
  return kept.length || own ? { ...Object.fromEntries(kept), ...own } : null;
};
const coilOf = (row, at, faults) => {
  const read = { ...jobTable("coil", row, at, faults), name: jobText(wordOf(row.name) ?? at + 1) };
  const trials = { found: {}, left: false, again: {}, all: {} };
  for (const name of BELOW_COIL) {
    const rows = rowsOf(row[name]).map((one) => [isLeft(one), jobTable(name, one, at, faults)]);
    trials.found[name] = rows.filter(([later]) => !later).map(([, one]) => one);
    trials.again[name] = rows.filter(([later]) => later).map(([, one]) => one);
    trials.all[name] = rows.map(([, one]) => one);
    trials.left = trials.left || trials.again[name].length > 0;
  }
  return { row, read, trials };
};
/** Coils as left by name: a trial of a coil may be as left by itself. */
const coilsLeft = (coils) => {
  const plateOf = (read) => Object.fromEntries(Object.entries(read).filter(([key]) => DATA.plate.includes(key)));
  const first = coils.filter(({ row }) => !isLeft(row));
  const plates = new Map(first.map(({ read }) => [read.name, plateOf(read)]));
  const again = new Map(first.filter(({ trials }) => trials.left)
    .map(({ row, read, trials }) => [read.name, { row, coil: { ...plates.get(read.name), ...trials.again } }]));
  for (const { row, read, trials } of coils.filter((one) => isLeft(one.row))) {
    const before = (again.get(read.name) || { coil: {} }).coil;
    const joined = BELOW_COIL.map((name) => [name, [...(before[name] || []), ...trials.all[name]]]);
    again.set(read.name, { row, coil: { ...plates.get(read.name), ...read, ...Object.fromEntries(joined) } });
  }
  return [...again.values()];
};
