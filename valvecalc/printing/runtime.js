// The primitives of sheets and formulas in JavaScript: the same steps as primitives.py and maths.py,
// tested on the same vectors. What has no value in Python throws NoValue here.
class NoValue extends Error {
  constructor(why, outside) { super(why); this.outside = outside; }
}
const none = (why, outside) => { throw new NoValue(why, outside); };
const finite = (x) => (Number.isFinite(x) ? x : none("no finite value"));
const div = (a, b) => (b === 0 ? none("division by zero") : a / b);
const raised = (y, x) => (Number.isFinite(y) || !Number.isFinite(x) ? y : none("no finite value"));
const pow = (x, n) => (x === 0 && n < 0 ? none("division by zero") : raised(Math.pow(x, n), Number.isFinite(n) ? x : n));
const power = pow;
const sqrt = (x) => (x < 0 ? none("root of a negative number") : Math.sqrt(x));
const exp = (x) => raised(Math.exp(x), x);
const log = (x) => (x <= 0 ? none("logarithm of zero or less") : Math.log(x));
const log10 = (x) => (x <= 0 ? none("logarithm of zero or less") : Math.log10(x));
const cos = (x) => (Math.abs(x) === Infinity ? none("no finite value") : Math.cos(x));
const where = (condition, yes, no) => (condition ? yes : no);
const maximum = (a, b) => (b > a ? b : a);
const minimum = (a, b) => (b < a ? b : a);
const absent = (x) => x === undefined || x === null;
const has = (...values) => !values.some(absent);
const table = (rows, xName, yName, x) => {
  let previous = rows[0];
  if (x === previous[xName]) return previous[yName];
  if (x > previous[xName]) {
    for (const row of rows) {
      if (x <= row[xName]) {
        const x0 = previous[xName], y0 = previous[yName];
        return y0 + (row[yName] - y0) * div(x - x0, row[xName] - x0);
      }
      previous = row;
    }
  }
  return none(`${xName} lies outside the table of ${yName}`, [xName, yName, x, rows[0][xName], rows[rows.length - 1][xName]]);
};
const log_table = (rows, xName, yName, x) =>
  pow(10, table(rows.map((row) => ({ [xName]: row[xName], [yName]: log10(row[yName]) })), xName, yName, x));
const grid = (low, high, steps, ...further) => {
  const places = new Set([high]);
  for (let i = 0; i < steps; i += 1) places.add(low + (high - low) * (i / steps));
  for (const breaks of further) for (const x of breaks) if (low <= x && x <= high) places.add(x);
  return [...places].sort((a, b) => a - b);
};
const sweep = (f, places) => places.map((place) => f(place));
const least = (rows, name) => {
  let found = null;
  for (const row of rows) if (!absent(row[name]) && (found === null || row[name] < found[name])) found = row;
  return found === null ? none(`no row has a ${name}`) : found;
};
const rank = (rows, name) => {
  const withValue = rows.filter((row) => !absent(row[name]));
  return [...withValue.sort((a, b) => b[name] - a[name]), ...rows.filter((row) => absent(row[name]))];
};
const total = (values) => values.reduce((sum, value) => sum + value, 0);
const vary = (record, changes) => ({ ...record, ...changes });
const solve = (f, low, high) => {
  let a = low, b = high, fa = f(a), fb = f(b);
  if (fa === 0) return a;
  if (fb === 0) return b;
  if ((fa > 0) === (fb > 0)) return none("no solution between the ends of the bracket");
  let c = a, fc = fa, t = 0.5;
  for (let i = 0; i < 200; i += 1) {
    let x = a + t * (b - a);
    if (x === a || x === b) x = a + 0.5 * (b - a);
    if (x === a || x === b) break;
    const fx = f(x);
    if ((fx > 0) === (fa > 0)) { c = a; fc = fa; } else { c = b; b = a; fc = fb; fb = fa; }
    a = x; fa = fx;
    if (fa === 0) return a;
    const width = Math.abs(b - a);
    const room = Math.min(0.5, (2.3e-16 * Math.abs(Math.abs(fa) < Math.abs(fb) ? a : b)) / width);
    const xi = (a - b) / (c - b), phi = (fa - fb) / (fc - fb);
    if (phi * phi < xi && (1 - phi) * (1 - phi) < 1 - xi) {
      t = (fa / (fb - fa)) * (fc / (fb - fc)) + ((c - a) / (b - a)) * (fa / (fc - fa)) * (fb / (fc - fb));
    } else t = 0.5;
    t = Math.min(1 - room, Math.max(room, t));
  }
  return Math.abs(fa) < Math.abs(fb) ? a : b;
};
const crossing = (f, at, low, high) => {
  const start = f(at);
  if (start === 0) return at;
  let found = null;
  for (const end of [low, high]) {
    let inner = at;
    for (const share of [0.25, 1]) {
      const outer = at + (end - at) * share;
      if (outer === inner) continue;
      let value;
      try { value = f(outer); } catch (trouble) { if (trouble instanceof NoValue) break; throw trouble; }
      if ((value > 0) !== (start > 0)) {
        const root = solve(f, inner, outer);
        if (found === null || Math.abs(root - at) < Math.abs(found - at)) found = root;
        break;
      }
      inner = outer;
    }
  }
  return found;
};
const threshold = (sheet, record, entry, result, low, high) =>
  crossing((value) => sheet({ ...record, [entry]: value })[result], record[entry], low, high);
