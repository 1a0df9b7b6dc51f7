// The inverse: the value of one entry that gives a stated result. Twin of solving.py, places to look and texts alike.

/** Answers for the values of `wanted` that give the result stated among the entries; or the failure; or no value. */
const solveFor = (id, wanted, given, options) => {
  const data = card(id), settings = answerOptions(options);
  try {
    return solveAll(data, wanted, given, settings);
  } catch (fault) {
    if (fault instanceof InputError) return doorFailed(fault.troubles);
    if (!(fault instanceof NoValue)) throw fault;
    const none = { entry: wanted, why: answerSay(fault), how: "Change an entry, or look between other ends." };
    const made = { data, entries: {}, values: {}, options: settings, results: {}, lacks: [none] };
    return [answerJson(made)];
  }
};
const solveAll = (data, wanted, given, options) => {
  const results = data.results.length ? data.results : [data.result];
  const filled = Object.fromEntries(Object.entries(given).filter(([, value]) => !absent(value) && value !== ""));
  const stated = Object.keys(filled).filter((name) => results.includes(name) && !data.entries.includes(name));
  const troubles = [];
  if (stated.length !== 1) {
    troubles.push(doorTrouble("--solve", stated.join(", ") || "no result", `one result as an entry: ${results.join(", ")}`,
      `State it, for example ${results[0]}=…`));
  }
  if (!data.entries.includes(wanted)) troubles.push(doorUnknown(data, wanted));
  else if (wanted in filled) {
    const got = typeof filled[wanted] === "string" ? filled[wanted] : JSON.stringify(filled[wanted]);
    troubles.push(doorTrouble(wanted, doorCut(got, 60), "this entry left out", "It is what you solve for."));
  }
  else if (Object.hasOwn(data.rows, wanted) || Object.hasOwn(data.choices, wanted)) {
    troubles.push(doorTrouble(wanted, "a list or a word", "an entry that is a number", "Solve for another entry."));
  }
  const targets = stated.map((name) => doorAll(() => doorEntry(data, name, filled[name]), troubles));
  const target = targets[targets.length - 1];
  const rest = Object.fromEntries(Object.entries(filled).filter(([name]) => !stated.includes(name)));
  const entries = doorAll(() => doorEntries(data, rest), troubles);
  if (troubles.length || !target) throw new InputError(troubles);
  const ends = solveEnds(data.limits[wanted]);
  const roots = solveRoots(data, entries, wanted, stated[0], target.si, ends);
  const answers = roots.map((root) => solveOne(data, entries, wanted, root, stated[0], target, options));
  const leaves = solveLeaves(data, { ...entries, "": target });
  return answers.map((made, at) => {
    const solvedSpread = leaves.length && options.spreads
      ? solveSpread(data, entries, wanted, stated[0], target, roots[at], ends, leaves)
      : undefined;
    return answerJson({ ...made, solvedSpread });
  });
};

/** Where to look for an entry: its limits, an excluded end moved in by a trifle of the range. */
const solveEnds = (limit = { low: null, high: null, low_in: true, high_in: true }) => {
  const low = limit.low === null ? -1e12 : limit.low, high = limit.high === null ? 1e12 : limit.high;
  const trifle = (high - low) * 1e-12;
  return [limit.low_in ? low : low + trifle, limit.high_in ? high : high - trifle];
};
const solveLeaves = (data, entries) =>
  Object.entries(entries).filter(([name]) => !Object.hasOwn(data.rows, name))
    .flatMap(([name, entry]) => entry.spreads.map(([u, group]) => ({ path: [name], u, group, limit: undefined })));
// Solved again at every step, the root nearest to the first one taken.
const solveSpread = (data, entries, wanted, result, target, root, ends, leaves) => {
  const again = (values) => {
    const moved = Object.fromEntries(Object.entries(entries).map(([name, entry]) =>
      [name, Object.hasOwn(data.rows, name) ? entry : { ...entry, si: values[name] }]));
    const roots = solveRoots(data, moved, wanted, result, values[""], ends);
    return { [wanted]: roots.reduce((best, one) => (Math.abs(one - root) < Math.abs(best - root) ? one : best)) };
  };
  const values = Object.fromEntries(Object.entries(entries).map(([name, entry]) => [name, entry.si]));
  return propagate(again, { ...values, "": target.si }, leaves)[wanted];
};
const solveOne = (data, entries, wanted, root, result, target, options) => {
  const { dimension, metric } = data.words[wanted];
  const entry = {
    text: showValue(root, dimension, metric), value: fromSi(root, metric, dimension), unit: metric, si: root,
    spreads: [], origin: "calculated", source: "",
  };
  const made = answerWork(data, { ...entries, [wanted]: entry }, options);
  const found = made.results[result];
  if (Math.abs(found - target.si) > 1e-6 * Math.max(Math.abs(target.si), Math.abs(found))) {
    return none(`${result} jumps past ${target.text} near ${wanted} = ${entry.text}; no solution there`);
  }
  return { ...made, solved: wanted };
};

const solveRoots = (data, entries, wanted, result, target, [low, high]) => {
  const values = answerFill(data, entries);
  const missing = data.entries.filter((name) => values[name] === null && name !== wanted);
  const needed = data.kind === "formula" ? missing : answerLacking(data, missing)[result] || [];
  if (needed.length) {
    const wants = [...needed].sort().map((name) => `${name}, ${data.words[name].meaning}`).join("; ");
    none(`to solve for ${wanted} it needs ${wants}`);
  }
  const off = (x) => {
    const found = answerResults(data, { ...values, [wanted]: x })[result];
    return absent(found) ? none(`${result} has no value there`) : found - target;
  };
  const roots = [];
  const same = 1e-14 * Math.abs(target); // of a stretch that gives the target all along, its first place is named
  let changes = false;
  let before = null;
  for (const x of solveScan(low, high, data.kind === "formula" ? 200 : 24)) {
    const y = solveTry(() => off(x));
    if (y === null) { before = null; continue; }
    if (Math.abs(y) <= same) {
      if (!before || Math.abs(before[1]) > same) roots.push(x);
    } else {
      changes = true;
      if (before && Math.abs(before[1]) > same && before[1] > 0 !== y > 0) {
        const root = solveBetween(off, before[0], x, target);
        if (root !== null) roots.push(root);
      }
    }
    before = [x, y];
  }
  if (roots.length && !changes) none(`${result} does not change with ${wanted}: any value gives it`);
  if (!roots.length) {
    const { dimension, metric } = data.words[wanted];
    const [from, to] = [low, high].map((end) => showValue(end, dimension, metric));
    none(`no ${wanted} between ${from} and ${to} gives this ${result}`);
  }
  return roots;
};
const solveTry = (work) => {
  try { return work(); } catch (why) {
    if (why instanceof NoValue) return null;
    throw why;
  }
};
// Null where the result jumps past the target: a pole, a step.
const solveBetween = (off, low, high, target) => {
  const found = solveTry(() => { const root = solve(off, low, high); return [root, off(root)]; });
  if (!found) return null;
  const [root, residual] = found;
  return Math.abs(residual) <= 1e-6 * Math.max(Math.abs(target), Math.abs(target + residual)) ? root : null;
};
// Places to look between two ends: evenly, and by decades where the range spans them.
const solveScan = (low, high, parts) => {
  const places = new Set();
  for (let i = 0; i <= parts; i += 1) places.add(low + ((high - low) * i) / parts);
  if (high > 0 && high / Math.max(low, high * 1e-12) > 100) {
    for (let i = 0; i <= parts; i += 1) places.add(high * Math.pow(10, (-12 * i) / parts));
  }
  return [...places].filter((x) => low <= x && x <= high).sort((a, b) => a - b);
};
