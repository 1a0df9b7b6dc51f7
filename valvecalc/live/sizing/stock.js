// A stock list into valves and its faults: what is good is kept, a blank is unknown and never zero. Twin of stock.py.
const STOCK_PATHS = ["pa", "pb", "at", "bt", "pt"];

/**
 * The curve of a path from its points, or from one point and the usual share that goes with viscosity: the loss in
 * their oil is linear·Q + square·Q²; `thick_…` with the largest such share where one point alone cannot tell.
 */
const curveOf = (points) => {
  const [largest] = points[points.length - 1];
  if (points.length > 1) {
    const { linear, square } = fit(points.map(([flow, drop]) => ({ flow, drop })), "flow", "drop");
    return { linear, square, thick_linear: linear, thick_square: square, spread: fact("size-curve-spread"), largest };
  }
  const [[flow, drop]] = points;
  const share = formulaDefault("one-point-drop", "laminar_share"), thick = fact("largest-laminar-share");
  const along = drop / flow, across = drop / flow ** 2;
  return {
    linear: share * along, square: (1 - share) * across, thick_linear: thick * along, thick_square: (1 - thick) * across,
    spread: fact("size-point-spread"), largest,
  };
};

/** The valve with its curves and its function worked out. */
const preparedValve = (valve) => {
  const known = STOCK_PATHS.filter((path) => !missing(valve[`drop_${path}`]));
  const curves = Object.fromEntries(known.map((path) => [path, stockCurve(valve[`drop_${path}`])]));
  const { rest, on_a, on_b, crossing_a, crossing_b, operator } = valve;
  return { ...valve, curves, function: completed({ rest, on_a, on_b, crossing_a, crossing_b }, operator) };
};
const STOCK_CURVES = new WeakMap(); // cells that repeat are one list of points
const stockCurve = (points) => {
  if (!STOCK_CURVES.has(points)) STOCK_CURVES.set(points, curveOf(points));
  return STOCK_CURVES.get(points);
};

/**
 * A stock list, in TOML if the file's name says so, else in CSV: { valves, problems }. Throws InputError only where no
 * list can be read at all.
 * `western`: the bytes were not UTF-8 and were read as Western European.
 */
const readStock = (text, file, western = false) =>
  (/.\.toml$/i.test(file) ? stockFromToml : stockFromCsv)(text, file, western);
const stockFromCsv = (text, file, western) => {
  const problems = [];
  if (western) {
    const action = "Save it as CSV UTF-8; until then it is read as Western European: look at µ, ² and accents.";
    problems.push(stockProblem(1, "", "the file", "letters that are not UTF-8", "a text in UTF-8", action));
  }
  const written = text.replace(/^\ufeff/, "");
  const stop = (entry, ...parts) => { throw new InputError([trouble(entry, ...parts, file)]); };
  if (written.includes("\0")) stop("the file", "bytes that are no text", "a stock list", "Export it as CSV.");
  const numbered = stockRows(written, stop);
  if (!numbered.length) stop("the file", "nothing", "a header and one valve a row", "Start from the demo list.");
  const [[row, head], ...others] = numbered;
  const known = stockHeader(row, head, problems);
  if (!known.some(({ field }) => field.key === "name")) {
    const action = "Give each valve a name of its own in a column headed name.";
    stop("the header", textCut(head.join(", "), 60), "a column called name", action);
  }
  const told = [];
  for (const [number, cells] of others) {
    if (cells.slice(head.length).some(textStrip)) {
      const action = "Put quotation marks round a cell with the mark that parts the cells in it.";
      const need = `${head.length} cells, as the header has`;
      problems.push(stockProblem(number, "", "the row", `${cells.length} cells`, need, action));
      continue;
    }
    const there = known.filter(({ place }) => place < cells.length);
    told.push([number, there.map((column) => [column, cells[column.place]])]);
  }
  return stockValves(told, problems);
};
const stockProblem = (row, name, column, got, need, action) => ({ row, name, column, got, need, do: action });

// [number as a spreadsheet counts, cells] of each row that is not blank, from the header on.
const stockRows = (written, stop) => {
  const lines = written.split(/\r\n|[\n-\r\x1c-\x1e\x85\u2028\u2029]/);
  const first = lines.find((line) => textStrip(line) && !line.startsWith("#")) || "";
  const counted = [",", ";", "\t"].map((mark) => [first.split(mark).length, mark]);
  const [, mark] = counted.reduce((best, one) => (one[0] > best[0] ? one : best));
  let rows;
  try { rows = readTable(written, mark); } catch (fault) {
    if (!(fault instanceof TableError)) throw fault;
    const action = "Look for a quotation mark that is not closed.";
    stop("the file", fault.message, "a table of cells", action);
  }
  const numbered = rows.map((cells, at) => [at + 1, cells]).filter(([, cells]) => cells.some(textStrip));
  const start = numbered.findIndex(([, [cell]]) => !cell.startsWith("#")); // above the header only: a valve may be #14
  return start < 0 ? [] : numbered.slice(start);
};

// A column at its place, with the unit that its header names. Cells repeat: each text is read once, and kept.
const stockColumn = (field, place = null, unit = "") => ({ field, place, unit, read: new Map() });
// The columns that a header names.
const stockHeader = (row, head, problems) => {
  const found = [];
  const told = (column, ...parts) => problems.push(stockProblem(row, "", column, ...parts));
  head.forEach((cell, place) => {
    const bare = textStrip(cell);
    if (!bare) return;
    const [, title, unit] = /^([^\n]*?)(?:\[([^\n]*)\])?$/.exec(bare) || ["", cell, ""];
    const key = textWords(title.toLowerCase().replace(/[-_]/g, " ")).join("_");
    if (!Object.hasOwn(DATA.columns, key)) {
      const [near] = nearestWords(key, Object.keys(DATA.columns), 1);
      const action = near ? `Did you mean ${near}? The whole column is left out until then.` : "It is left out.";
      told(bare, "a column of this name", "a column of a stock list", action);
    } else if (found.some(({ field }) => field.key === key)) {
      told(key, "the same column twice", "each column once", "The first is taken; take one of them out.");
    } else {
      const field = DATA.columns[key];
      try { found.push(stockColumn(field, place, unit && headerUnit(field, unit))); } catch (refused) {
        if (!(refused instanceof Refused)) throw refused;
        told(key, visibleText(bare), refused.need, refused.do);
      }
    }
  });
  return found;
};

// `told`: [number of the row, [column, text] …] …
const stockValves = (told, problems) => {
  const blank = Object.fromEntries(Object.keys(DATA.columns).map((key) => [key, null]));
  const valves = [];
  const names = new Map();
  for (const [number, cells] of told) {
    const [, called] = cells.find(([{ field }]) => field.key === "name") || ["", ""];
    const name = cellPlain(called);
    const fault = (...parts) => problems.push(stockProblem(number, name, ...parts));
    if (!name) {
      fault("name", "an empty cell", "a name for each valve", "Name it; until then the row is left out.");
      continue;
    }
    const folded = name.toLowerCase();
    if (names.has(folded)) {
      const action = `Row ${names.get(folded)} has it already: this row is left out until it has a name of its own.`;
      fault("name", visibleText(name), "each name once", action);
      continue;
    }
    names.set(folded, number);
    const values = { ...blank, name };
    for (const [column, text] of cells) {
      const { key } = column.field;
      if (key === "name") continue;
      if (!column.read.has(text)) column.read.set(text, stockRead(column, textStrip(text)));
      const value = column.read.get(text);
      if (value instanceof Refused) fault(key, visibleText(textStrip(text)), value.need, value.do);
      else values[key] = value;
    }
    stockContradictions(values, (columns, ...parts) => {
      fault(columns.join(" and "), ...parts);
      for (const column of columns) values[column] = null;
    });
    valves.push(preparedValve(values));
  }
  return { valves, problems: problems.sort((one, other) => one.row - other.row) };
};
// The value of a cell, null for unknown, or why it is refused.
const stockRead = ({ field, unit }, text) => {
  if (isUnknown(text)) return null;
  try { return readCell(field, text, unit); } catch (refused) {
    if (refused instanceof Refused) return refused;
    throw refused;
  }
};

const STOCK_RISING = [
  ["viscosity_min", "viscosity_max"], ["oil_temperature_min", "oil_temperature_max"],
  ["pilot_pressure_min", "pilot_pressure_max"], ["pressure_t", "pressure_p"],
];
// Cells that cannot both be right; `found` takes them out before the next are compared.
const stockContradictions = (values, found) => {
  const both = "Both count as unknown until one of them is corrected.";
  for (const [low, high] of STOCK_RISING) {
    if (values[low] !== null && values[high] !== null && values[low] > values[high]) {
      found([low, high], "the first above the second", `${low} not above ${high}`, both);
    }
  }
  const { shift_limit: points, pressure_p: rating, operator, rest, on_a, on_b } = values;
  if (points && rating !== null && points[points.length - 1][1] > rating * (1 + 1e-9)) {
    found(["shift_limit", "pressure_p"], "a limit above the rating of P", "a limit within the rating", both);
  }
  if (operator === "spring-centred" && [rest, on_a, on_b].includes("")) {
    const need = "three positions where springs centre the spool";
    found(["operator"], "spring-centred, and a position that is none", need, "It counts as unknown until then.");
  }
};
