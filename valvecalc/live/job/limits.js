// What a reading is held against before it is taken: twin of job/bench_limits.py. The sheet that judges it, solved backwards.
const BESIDE = 1e-3;
const cardOf = (id) => valvecalc.card(id);

/** What a line of the sheet may draw on: the tables that come once, its own row, and the trial of its state. */
const tablesOf = ({ once, many }, each, row, state) => {
  const found = { ...once, ...Object.fromEntries(Object.keys(many).map((table) => [table, {}])) };
  const own = (each && row) || {};
  if (each) found[each] = own;
  for (const table of BELOW_COIL) found[table] = (own[table] || []).find((trial) => (trial.state || "") === state) || {};
  return found;
};

/** Limits, expected reading, what they were worked with and what is lacking: by the first sheet that can say it. */
const heldBy = (judges, tables, system) => {
  let first = null;
  for (const judge of judges) {
    const found = heldOne(judge, tables, system);
    if (found.limits.length) return found;
    first = first || found;
  }
  return first;
};
/** What the job gives to the judging sheet, the reading itself left out; and what was assumed of the rest. */
const entriesOf = (judge, tables) => {
  const data = cardOf(judge.sheet), given = {};
  for (const name of data.entries) {
    const more = (judge.more || {})[name];
    for (const [table, key] of [...judge.tables.map((one) => [one, name]), ...(more ? [more.split(".")] : [])]) {
      const value = (tables[table] || {})[key];
      const word = Object.hasOwn(data.choices, name) && typeof value === "string";
      if ((!word && !isEntry(value)) || name === judge.entry || (judge.skip || []).includes(name) || name in given) continue;
      given[name] = word ? value : valvecalc.made({ ...value, spreads: [] });
    }
  }
  const assumed = Object.keys(judge.assume || {}).filter((name) => !(name in given));
  return [{ ...given, ...Object.fromEntries(assumed.map((name) => [name, judge.assume[name]])) }, assumed];
};

const heldOne = (judge, tables, system) => {
  const data = cardOf(judge.sheet), reading = judge.entry;
  const [given, assumed] = entriesOf(judge, tables);
  const told = { sheet: data.id, limits: [], expected: "", whose: "", with: [], needs: [] };
  const plain = { steps: false, rows: false, spreads: false };
  const limit = data.limits[reading] || { low: null, high: null };
  const some = limit.high === null ? (limit.low ?? 0) + 1 : ((limit.low ?? 0) + limit.high) / 2;
  const there = valvecalc.answer(data.id, { ...given, [reading]: some }, plain);
  if (!there.ok) return { ...told, needs: there.errors.map((one) => `${one.entry}: ${one.need}`) };
  const { [reading]: _, ...inputs } = there.inputs;
  const values = Object.fromEntries(data.entries.map((name) => [name, inputs[name] ? inputs[name].si : null]));
  const [rule, ...ends] = ruleOf(data.id, judge.result);
  const results = rule === "within-range" ? ends : [judge.result];
  const needed = [...new Set(results.flatMap((result) =>
    there.missing.filter(({ why }) => why === data.words[result].meaning).map(({ entry }) => entry)))];
  if (needed.length) return { ...told, needs: needed.map((name) => placeIn(name, judge, data)) };
  const work = (moved) => { try { return valvecalc.run(data.id, { ...values, ...moved }); } catch (why) {
    if (why instanceof valvecalc.NoValue) return {};
    throw why;
  } };
  const solved = (result, target) => {
    const found = valvecalc.solveFor(data.id, reading, { ...given, [result]: target }, plain);
    if (!Array.isArray(found)) throw new Unsolved(found.errors.map((one) => one.need).join("; "));
    if (!found[0].inputs[reading]) throw new Unsolved(found[0].missing[0].why);
    return found.map(({ inputs: { [reading]: { si } } }) => si);
  };
  const shown = (si, digits) => limitShown(reading, si, system, digits);
  try {
    told.limits = limitEnds(rule, ends, judge, work).flatMap((end) => limitRows(end, rule, reading, { work, solved, shown }));
    if (judge.expect) {
      const worked = work({});
      const found = judge.expect.map((name) => worked[name]).filter((si) => typeof si === "number").sort((a, b) => a - b);
      told.expected = [...new Set(found.map((si) => shown(si, 3)))].join(" to ");
    } else if (judge.target !== undefined) told.expected = shown(solved(judge.result, judge.target)[0], 3);
  } catch (why) {
    if (!(why instanceof Unsolved)) throw why;
    return { ...told, needs: [why.message] };
  }
  const own = inputs[judge.limit_entry] && judge.limit_entry in given ? [entryOrigin(inputs[judge.limit_entry])] : [];
  told.whose = [...new Set([...own, ...judge.facts.map(([key, text]) => (Object.hasOwn(ownLimits, key) ? `${key}, the shop's own` : text))])].join("; ");
  const used = limitUsed(data, reading, values, results, told.limits[0].value, work);
  told.with = used.map((name) => limitWith(name, { data, given, inputs, assumed, values, system }));
  return told;
};
class Unsolved extends Error {}

/** Each end of the reading: the value at which the sheet's verdict turns, and which side of it is good. */
const limitEnds = (rule, ends, judge, work) => {
  if (rule === "within-range") {
    const limit = work({})[ends[2]];
    return [[ends[1], limit, "good"], [ends[0], limit, "bad"]];
  }
  const at = { band: [-ends[0], ends[1]], within: [-ends[0], ends[0]] }[rule] || [ends[0]];
  return at.map((one) => [judge.result, one, "good"]);
};
const limitRows = ([result, target, says], rule, reading, { work, solved, shown }) => {
  const wantedAbove = rule === ">=" || (["within", "band"].includes(rule) && target < 0);
  return solved(result, target).map((at) => {
    const beyond = work({ [reading]: at * (1 + BESIDE) })[result];
    const goodAbove = wantedAbove ? beyond >= target : beyond <= target;
    const above = says === "good" ? goodAbove : !goodAbove;
    const word = says === "good" ? (above ? "at least" : "at most") : above ? "worn above" : "bad below";
    return { word, value: at, text: shown(at, 4), says, above };
  });
};
/** The entries that the limit rests on: words, and numbers that move what is judged when they move. */
const limitUsed = (data, reading, values, results, at, work) => {
  const judged = (moved) => { const found = work({ [reading]: at, ...moved }); return results.map((name) => found[name]); };
  const plain = judged({});
  return data.entries.filter((name) => values[name] !== null && name !== reading).filter((name) =>
    typeof values[name] !== "number" || judged({ [name]: values[name] * (1 + BESIDE) }).some((one, i) => one !== plain[i]));
};
/** An entry behind the limit with its origin: of the job, assumed here, or the sheet's default. */
const limitWith = (name, { data, given, inputs, assumed, values, system }) => {
  const label = DATA.labels[name];
  if (assumed.includes(name)) return `${label} = ${inputs[name].text} (${DATA.say.sheet.assumed})`;
  if (name in given) return `${label} = ${inputs[name].text} (${entryOrigin(inputs[name])})`;
  return `${label} = ${limitShown(name, values[name], system, 4)} (${DATA.origins[(data.origins[name] || [""])[0]]})`;
};
/** Where an entry of the job comes from; what was typed is the job's. */
const entryOrigin = ({ origin }) => (origin === "user" ? "the job file" : DATA.origins[origin]);
const placeIn = (name, judge, data) => {
  const table = judge.tables.find((one) => Object.hasOwn(DATA.fields[one], name));
  const place = table ? `${table}.${name}` : (judge.more || {})[name];
  const label = data.labels[name] || data.words[name].meaning;
  return place ? `${label} (${place})` : label;
};
const limitShown = (name, si, system, digits) => {
  if (typeof si !== "number") return String(si);
  const { dimension, metric, us } = valvecalc.word(name);
  return valvecalc.units.show(si, dimension, system === "us" ? us : metric, digits);
};

/** Which sheets say what readings are held against. */
const limitSheets = () => [...new Set(Object.values(DATA.lines).flat().flatMap((line) => (line.judge || []).map(({ sheet }) => sheet)))];
/** What a reading of a step is held against: { limits, expected, whose, with, needs }; null where its words stand on the page. */
const heldOf = (step, { field, state = "" }, tables, { each, row, system }) => {
  const kind = (row && row.kind) || "dc";
  const line = (DATA.lines[step] || []).find((one) => one.field === field && one.state === state);
  if (!line) return null;
  if (line.figure) {
    const told = figureOf(line.figure, tables, row, system);
    if (told.needs) return { limits: [], expected: "", whose: "", with: [], needs: told.needs };
    return { limits: [{ word: "at least", text: told.text }], expected: "", whose: line.whose, with: [], needs: [] };
  }
  if (line.fact) {
    const text = standShown(line.name, factOf(line.fact), system);
    const whose = Object.hasOwn(ownLimits, line.fact) ? `${line.fact}, the shop's own` : line.whose;
    return { limits: [{ word: "at least", text }], expected: "", whose, with: [], needs: [] };
  }
  const judges = line.judge.filter((judge) => !judge.kind || !row || !Object.keys(row).length || judge.kind === kind);
  return judges.length ? heldBy(judges, tablesOf(tables, each, row, state), system) : null;
};
