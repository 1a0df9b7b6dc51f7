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
const tan = (x) => (Math.abs(x) === Infinity ? none("no finite value") : Math.tan(x));
const acos = (x) => (Math.abs(x) > 1 ? none("arc cosine beyond 1") : Math.acos(x));
const tanh = (x) => Math.tanh(x);
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
const most = (rows, name) => {
  let found = null;
  for (const row of rows) if (!absent(row[name]) && (found === null || row[name] > found[name])) found = row;
  return found === null ? none(`no row has a ${name}`) : found;
};
const rank = (rows, name) => {
  const withValue = rows.filter((row) => !absent(row[name]));
  return [...withValue.sort((a, b) => b[name] - a[name]), ...rows.filter((row) => absent(row[name]))];
};
const total = (values) => values.reduce((sum, value) => sum + value, 0);
const fit = (rows, xName, yName) => {
  if (rows.length < 2) return none("a curve needs two points at least");
  const sum = (values, of) => total(values.map(of));
  const first = rows.map((row) => div(row[xName], row[yName]));
  const second = rows.map((row, i) => row[xName] * first[i]);
  const along = sum(first, (a) => a * a);
  const share = div(sum(first, (a, i) => a * second[i]), along);
  const across = second.map((b, i) => b - share * first[i]);
  let square = div(total(across), sum(across, (c) => c * c));
  let linear = div(total(first), along) - square * share;
  if (linear < 0 || square < 0) {
    const beside = sum(second, (b) => b * b);
    const isStraight = div(total(first) * total(first), along) >= div(total(second) * total(second), beside);
    linear = isStraight ? div(total(first), along) : 0;
    square = isStraight ? 0 : div(total(second), beside);
  }
  const left = first.map((a, i) => linear * a + square * second[i] - 1);
  return { linear, square, error: sqrt(div(sum(left, (one) => one * one), left.length)), largest: rows[rows.length - 1][xName] };
};
const march = (rates, start, along, end, rows, steps) => {
  const step = div(end, rows * steps), names = Object.keys(start);
  const ahead = (row, rate, at, by) => {
    const moved = { [along]: at };
    for (const name of names) moved[name] = row[name] + by * rate[name];
    return moved;
  };
  let row = { [along]: 0, ...start };
  const found = [row];
  for (let number = 1; number <= rows * steps; number += 1) {
    const middle = (number - 0.5) * step, at = number * step;
    const first = rates(row);
    const second = rates(ahead(row, first, middle, 0.5 * step));
    const third = rates(ahead(row, second, middle, 0.5 * step));
    const fourth = rates(ahead(row, third, at, step));
    const mean = {};
    for (const name of names) mean[name] = (first[name] + 2 * (second[name] + third[name]) + fourth[name]) / 6;
    row = ahead(row, mean, at, step);
    if (number % steps === 0) {
      if (!Object.values(row).every(Number.isFinite)) {
        return none("the values run away: something changes faster than the steps of the calculation");
      }
      found.push(row);
    }
  }
  return found;
};
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
