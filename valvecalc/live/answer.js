// The plain data of an answer: results with uncertainty and verdict, entries, limits, what is missing. Twin of door.work,
// uncertainty.py, judge.py and answer_json.py.

const answerOptions = (options = {}) => ({ system: "metric", units: {}, steps: true, rows: true, spreads: true, ...options });

/** The answer to texts, or the failure with every wrong entry. */
const answer = (id, given, options) => {
  const data = card(id);
  try {
    return answerJson(answerWork(data, doorEntries(data, given), answerOptions(options)));
  } catch (fault) {
    if (fault instanceof InputError) return doorFailed(fault.troubles);
    throw fault;
  }
};

const answerFill = (data, entries) =>
  Object.fromEntries(data.entries.map((name) => [name, name in entries ? entries[name].si : data.defaults[name] ?? null]));

const answerWork = (data, entries, options) => {
  const values = answerFill(data, entries);
  const missing = data.entries.filter((name) => values[name] === null);
  const made = { data, entries, values, missing, options, results: {}, lacks: [] };
  if (data.kind === "formula" && missing.length) {
    return { ...made, lacks: missing.map((name) => answerLack(data, name, data.title)) };
  }
  const lacking = data.kind === "formula" ? {} : answerLacking(data, missing);
  const lacks = Object.entries(lacking).flatMap(([result, wanted]) =>
    wanted.map((name) => answerLack(data, name, data.words[result].meaning)));
  try {
    return { ...made, lacks, results: answerResults(data, values) };
  } catch (why) {
    if (!(why instanceof NoValue)) throw why;
    const none = {
      entry: data.result,
      why: `no value here: ${answerSay(why)}`,
      how: "Check the entries that lie at an end of their range.",
    };
    return { ...made, lacks: [none, ...lacks] };
  }
};
const answerResults = (data, values) => {
  const found = run(data.id, values);
  if (data.kind === "formula") return { [data.result]: found };
  return Object.fromEntries(Object.entries(found).filter(([, value]) => !absent(value)));
};
const ANSWER_SAYS = {
  "division by zero": "it divides by zero",
  "no finite value": "a number grows beyond all bounds",
  "root of a negative number": "a root or logarithm is outside its range",
  "logarithm of zero or less": "a root or logarithm is outside its range",
};
const answerSay = (why) => (why.outside ? answerOutside(why.outside) : ANSWER_SAYS[why.message] || why.message);
const answerOutside = ([name, of, ...ends]) => {
  const { dimension, metric } = cardWord(name);
  const [at, low, high] = ends.map((si) => showValue(si, dimension, metric, 6));
  return `${name} ${at} lies outside the table of ${of} (${low} to ${high})`;
};
const answerLack = (data, entry, why) => {
  const { metric, meaning } = data.words[entry];
  return { entry, why, how: `Give ${entry}: ${meaning}${metric ? ` in ${metric}` : ""}.` };
};

// ---- what is missing (needs.py)
const answerLacking = (data, missing) => {
  if (!missing.length) return {};
  const wants = Object.entries(data.needs).map(([name, need]) => [name, [...answerLacks(need, new Set(missing))].sort()]);
  return Object.fromEntries(wants.filter(([, wanted]) => wanted.length));
};
const answerLacks = (need, missing) => {
  const found = new Set(need.all.filter((name) => missing.has(name)));
  const told = (group) => [...answerLeast(group, missing)].sort();
  const groups = need.any.map((group) => [told(group), group]).sort(([a], [b]) => answerOrder(a, b));
  for (const [, group] of groups) {
    const rest = new Set([...missing].filter((name) => !found.has(name)));
    for (const name of answerLeast(group, rest)) found.add(name);
  }
  return found;
};
const answerLeast = (group, missing) => {
  const sets = group.map((need) => answerLacks(need, missing));
  const ranked = sets.map((set) => [[...set].sort(), set]);
  return ranked.reduce((best, one) => (answerFewer(one[0], best[0]) ? one : best))[1];
};
const answerFewer = (a, b) => a.length < b.length || (a.length === b.length && answerOrder(a, b) < 0);
const answerOrder = (a, b) => {
  for (let i = 0; i < Math.min(a.length, b.length); i += 1) if (a[i] !== b[i]) return a[i] < b[i] ? -1 : 1;
  return a.length - b.length;
};

// ---- uncertainty (uncertainty.py)
const spreadLeaves = ({ data, entries }) =>
  Object.entries(entries).flatMap(([name, entry]) => {
    if (!Object.hasOwn(data.rows, name)) return entry.spreads.map(([u, group]) => ({ path: [name], u, group, limit: data.limits[name] }));
    return entry.spreads.flatMap((row, at) =>
      Object.entries(row).flatMap(([column, spreads]) =>
        spreads.map(([u, group]) => ({ path: [name, at, column], u, group, limit: data.limits[column] }))));
  });
const spreadOf = (made) => {
  const leaves = spreadLeaves(made);
  return leaves.length ? propagate((values) => answerResults(made.data, values), made.values, leaves) : {};
};
/** Standard uncertainty of every number that `work` returns: {name: u}. */
const propagate = (work, values, leaves) => {
  const groups = new Map();
  leaves.forEach((leaf) => {
    const key = leaf.group || `${leaf.path}#${groups.size}`;
    groups.set(key, [...(groups.get(key) || []), leaf]);
  });
  const here = spreadTry(work, values);
  const found = {};
  for (const name in here) if (typeof here[name] === "number") found[name] = [];
  const broken = new Set();
  for (const members of groups.values()) {
    const [up, upShare] = spreadMoved(values, members, 1);
    const [down, downShare] = spreadMoved(values, members, -1);
    const high = upShare > 0 ? spreadTry(work, up) : here;
    const low = downShare > 0 ? spreadTry(work, down) : here;
    for (const name in found) {
      const above = typeof high[name] === "number", below = typeof low[name] === "number";
      const span = (above ? upShare : 0) + (below ? downShare : 0);
      if (span > 0) found[name].push(((above ? high[name] : here[name]) - (below ? low[name] : here[name])) / span);
      else broken.add(name);
    }
  }
  const spreads = {};
  for (const name in found) {
    if (broken.has(name) || !found[name].length) continue;
    const ordered = found[name].sort((a, b) => Math.abs(b) - Math.abs(a));
    spreads[name] = Math.sqrt(ordered.reduce((sum, one) => sum + one * one, 0));
  }
  return spreads;
};
const spreadTry = (work, values) => {
  try { return work(values); } catch (why) {
    if (why instanceof NoValue) return {};
    throw why;
  }
};
const spreadMoved = (values, members, sign) => {
  let share = 1;
  for (const { path, u, limit } of members) {
    const end = limit ? (sign > 0 ? limit.high : limit.low) : null;
    if (end === null || !(u > 0)) continue;
    const inside = sign > 0 ? limit.high_in : limit.low_in;
    share = Math.min(share, (Math.abs(end - spreadAt(values, path)) * (inside ? 1 : 1 - 1e-6)) / u);
  }
  const moved = { ...values };
  for (const { path, u } of members) spreadSet(moved, path, spreadAt(values, path) + sign * u * share);
  return [moved, share];
};
const spreadAt = (values, path) => path.reduce((found, step) => found[step], values);
const spreadSet = (values, [entry, index, column], value) => {
  if (index === undefined) { values[entry] = value; return; }
  values[entry] = values[entry].map((row, at) => (at === index ? { ...row, [column]: value } : row));
};

// ---- verdicts (judge.py)
const decide = (value, u, sign, limit, factor) => {
  const distance = sign === ">=" ? value - limit : limit - value;
  if (distance >= factor * u) return "accept";
  return distance < -factor * u || u === 0 ? "reject" : "cannot-tell";
};
const judgeBoth = (one, other) => {
  if (one === "reject" || other === "reject") return "reject";
  return one === "accept" && other === "accept" ? "accept" : "cannot-tell";
};
const judge = (rule, name, results, spreads) => {
  const [kind, ...ends] = rule, { factor } = SITE;
  const u = (result) => spreads[result] || 0;
  const held = (result, sign, limit) => decide(results[result], u(result), sign, limit, factor);
  if (kind === ">=" || kind === "<=") return held(name, kind, ends[0]);
  if (kind === "within") return judgeBoth(held(name, "<=", ends[0]), held(name, ">=", -ends[0]));
  if (kind === "band") return judgeBoth(held(name, "<=", ends[1]), held(name, ">=", -ends[0]));
  const [low, high, most] = ends;
  if (ends.some((end) => absent(results[end]))) return "unknown";
  if (held(high, "<=", results[most]) === "accept") return "accept";
  return held(low, "<=", results[most]) === "reject" ? "reject" : "cannot-tell";
};

// ---- the contract (answer_json.py)
const answerUnit = ({ data, entries, options, solved }, name) => {
  if (Object.hasOwn(options.units, name)) return options.units[name];
  if (entries[name] && entries[name].unit && name !== solved) return entries[name].unit;
  return data.words[name][options.system === "us" ? "us" : "metric"];
};
const answerScaled = (made, name, si) => {
  const { dimension } = made.data.words[name];
  if (typeof si !== "number" || dimension === "text" || dimension === "rows") return si;
  return fromSi(si, answerUnit(made, name), dimension);
};
const answerExpanded = (made, name, u) => {
  const { dimension } = made.data.words[name], unit = answerUnit(made, name);
  return fromSi(2 * u, unit, dimension) - fromSi(0, unit, dimension);
};
const answerColumns = (made, columns) => columns.map((name) => ({ name, unit: answerUnit(made, name) }));
const answerRow = (made, columns, row) => columns.map((column) => answerScaled(made, column, row[column] ?? null));

const answerResult = (made, name, spreads) => {
  const { data, results } = made;
  if (Object.hasOwn(data.rows, name)) {
    const columns = data.rows[name];
    const rows = results[name].map((row) => answerRow(made, columns, row));
    return { name, unit: "", value: null, columns: answerColumns(made, columns), rows };
  }
  const row = { name, value: answerScaled(made, name, results[name]), unit: answerUnit(made, name) };
  if (name in spreads) row.uncertainty = answerExpanded(made, name, spreads[name]);
  if (data.judged[name]) row.verdict = judge(data.judged[name], name, results, spreads);
  return row;
};
const answerInput = (made, name) => {
  const { data, entries } = made, entry = entries[name];
  if (!entry) {
    if (!Object.hasOwn(data.defaults, name)) return null;
    const [origin, source] = data.origins[name] || ["judgement", ""];
    const si = data.defaults[name];
    const row = { text: "", value: answerScaled(made, name, si), unit: answerUnit(made, name), si, origin };
    return source ? { ...row, source } : row;
  }
  const { text, value, unit, si, origin, source, spreads } = entry;
  if (Object.hasOwn(data.rows, name)) {
    const columns = data.rows[name];
    return { text, columns: answerColumns(made, columns), rows: si.map((row) => answerRow(made, columns, row)), origin };
  }
  const row = { text, value, unit, si, origin };
  if (spreads.length) row.uncertainty = answerExpanded(made, name, Math.sqrt(spreads.reduce((sum, [u]) => sum + u * u, 0)));
  return source ? { ...row, source } : row;
};
const answerLimits = (made) => {
  const { data, values } = made, rows = [];
  const there = (name) => data.entries.includes(name) && !absent(values[name]);
  const row = (name, limit, state) => {
    const [low, high] = [limit.low, limit.high].map((end) => (end === null ? null : answerScaled(made, name, end)));
    return { entry: name, low, high, unit: answerUnit(made, name), state };
  };
  for (const [name, limit] of Object.entries(data.limits)) if (there(name)) rows.push(row(name, limit, "inside"));
  for (const [name, [limit, says]] of Object.entries(data.trusted)) {
    if (!there(name)) continue;
    const inside = limitHolds(limit, values[name]);
    rows.push(inside ? row(name, limit, "inside") : { ...row(name, limit, "outside what is trusted"), says });
  }
  return rows;
};
const answerJson = (made) => {
  const { data, entries, values, results, lacks, options } = made;
  const spreads = made.solved || !options.spreads ? {} : spreadOf(made);
  const wanted = (name) => name in results && (options.rows || !Object.hasOwn(data.rows, name));
  const told = (data.results.length ? data.results : [data.result]).filter(wanted)
    .map((name) => answerResult(made, name, spreads));
  if (made.solved) told.unshift(answerSolved(made));
  const head = told.find((row) => !("rows" in row));
  const inputs = data.entries.map((name) => [name, answerInput(made, name)]).filter(([, row]) => row);
  const answered = {
    schema: DOOR_SCHEMA,
    kind: "answer",
    ok: true,
    id: data.id,
    title: data.title,
    edition: data.edition,
    version: SITE.version,
    data_version: SITE.data_version,
    inputs: Object.fromEntries(inputs),
    result: head
      ? Object.fromEntries(["name", "value", "unit", "uncertainty"].filter((key) => key in head).map((key) => [key, head[key]]))
      : null,
    results: told,
    steps: options.steps && Object.keys(results).length ? workedLines(data, data.id, values, options.system) : [],
    limits: answerLimits(made),
    missing: lacks,
    sources: data.sources,
    cautions: data.cautions,
    link: answerLink(data, entries),
  };
  return { ...answered, ...meaningTold(data, answered) };
};
const answerSolved = (made) => {
  const { solved, entries, solvedSpread } = made;
  const row = { name: solved, value: answerScaled(made, solved, entries[solved].si), unit: answerUnit(made, solved) };
  return solvedSpread === undefined ? row : { ...row, uncertainty: answerExpanded(made, solved, solvedSpread) };
};

// ---- the address
const answerLink = (data, entries) => {
  const cell = (row, column, si) => {
    if (typeof row[column] === "string") return row[column];
    const { dimension, metric } = data.words[column];
    return showValue(si[column], dimension, metric, 6);
  };
  const texts = Object.entries(entries).map(([name, { text, value, si }]) =>
    [name, Object.hasOwn(data.rows, name) ? answerRows(data.rows[name], value, (row, column, at) => cell(row, column, si[at])) : text]);
  return `/${data.page}${answerFragment(data, Object.fromEntries(texts))}`;
};
/** The fragment of entries as typed: what cannot be read stays what it is. */
const fragment = (id, given) => {
  const data = card(id);
  const cell = (row, column) => (typeof row[column] === "string" ? row[column] : "");
  const texts = Object.entries(given).map(([name, value]) =>
    [name, Array.isArray(value) ? answerRows(data.rows[name], value, cell) : value]);
  return answerFragment(data, Object.fromEntries(texts));
};
const answerRows = (columns, rows, cell) =>
  rows.map((row, at) => columns.map((column) => cell(row, column, at)).join("|")).join(";");
const answerFragment = (data, texts) => {
  const pairs = data.entries.filter((name) => texts[name]).map((name) => `${name}=${answerQuoted(answerTight(texts[name]))}`);
  return `#${[`e=${data.edition}`, ...pairs].join("&")}`;
};
const answerTight = (text) => text.replace(/ +([^0-9]|$)/g, "$1").replace(/([^0-9]) +/g, "$1");
/** As Python's quote: `/` stays. Half a character, which no address can hold, becomes the sign for one. */
const answerQuoted = (text) =>
  encodeURIComponent(text.replace(/\p{Cs}/gu, "\ufffd"))
    .replace(/[!'()*]/g, (mark) => `%${mark.charCodeAt(0).toString(16).toUpperCase()}`)
    .replace(/%2F/g, "/");
