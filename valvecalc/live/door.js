// The door: texts in, the plain data of an answer out. Twin of entries.py, door.py, limits.py, uncertainty.py, judge.py
// and answer_json.py; a card is the plain data of card_data.py with its printed functions.
const DOOR_SCHEMA = 1;
const DOOR_ORIGINS = ["measured", "nameplate", "standard", "handbook", "common-practice", "judgement", "shop", "user"];
const DOOR_RECORD = ["value", "uncertainty", "instrument", "origin", "source", "at"];
const doorCards = new Map();

/** File a card: its data, and the function that makes its printed functions from the runtime. */
const file = (data, make) => doorCards.set(data.id, { ...data, ...make(RUNTIME) });
/** The data of a card that was filed. */
const card = (id) => doorCards.get(id);

/** Bare results for entries in SI: the number of a formula, the results of a sheet. Throws NoValue. */
const run = (id, values) => doorWork(card(id), card(id).register[id], values);
const doorWork = (data, [work, kind, defaults, names], values) => {
  const filled = { ...values };
  for (const name in defaults) if (absent(filled[name])) filled[name] = defaults[name];
  return kind === "formula" ? finite(work(...names.map((name) => filled[name]))) : work(filled, filled);
};

/** Several wrong entries at once, each {entry, got, need, do}. */
class InputError extends Error {
  constructor(troubles) {
    super("entries that cannot be read");
    this.troubles = troubles;
  }
}
const doorTrouble = (entry, got, need, action) => ({ entry, got, need, do: action });
const doorAll = (work, troubles) => {
  try { return work(); } catch (fault) {
    if (fault instanceof InputError) troubles.push(...fault.troubles);
    else if (fault instanceof Refused) troubles.push(doorTrouble(fault.entry, fault.got, fault.need, fault.do));
    else throw fault;
    return undefined;
  }
};
const doorFailed = (troubles) => ({ schema: DOOR_SCHEMA, ok: false, errors: troubles });
/** Python's repr of a text; of a number in a list of JSON its figure. */
const doorRepr = (text) => {
  if (typeof text !== "string") return String(JSON.stringify(text));
  const quote = text.includes("'") && !text.includes('"') ? '"' : "'";
  const body = text.replace(/\\/g, "\\\\").replace(/(?! )[\p{C}\p{Z}]/gu, unitEscape);
  return quote + (quote === "'" ? body.replace(/'/g, "\\'") : body) + quote;
};
const doorCut = (text, most) => [...text].slice(0, most).join("");
const doorCapital = (text) => text.slice(0, 1).toUpperCase() + text.slice(1);

// ---- limits
const limitHolds = (limit, value) =>
  !(limit.low !== null && (value < limit.low || (value === limit.low && !limit.low_in))) &&
  !(limit.high !== null && (value > limit.high || (value === limit.high && !limit.high_in)));

// ---- entries
const doorEntries = (data, given) => {
  const troubles = [];
  const entries = {};
  for (const [name, value] of Object.entries(given)) {
    if (!data.entries.includes(name)) troubles.push(doorUnknown(data, name));
    else if (!absent(value) && value !== "") {
      const entry = doorAll(() => doorOne(data, name, value), troubles);
      if (entry) entries[name] = entry;
    }
  }
  if (troubles.length) throw new InputError(troubles);
  return entries;
};
const doorUnknown = (data, name) => {
  const close = nearestWords(name, data.entries);
  const known = (close.length ? close : data.entries).join(", ");
  const say = close.length ? "Nearest" : "Its entries";
  return doorTrouble(name, "an entry of this name", `an entry of ${data.id}`, `${say}: ${known}.`);
};
const doorOne = (data, name, value) => {
  if (Object.hasOwn(data.choices, name)) return doorChoice(data, name, value);
  if (Object.hasOwn(data.rows, name)) return doorRows(data, name, value);
  const entry = doorEntry(data, name, value);
  doorCheck(data, name, entry, data.limits[name]);
  return entry;
};
const doorEntry = (data, name, value) => {
  const { dimension } = data.words[name];
  if (typeof value === "string") {
    const reading = readText(value, name, dimension);
    const u = standardUncertainty(reading);
    return { text: value, value: reading.value, unit: reading.unit, si: reading.si, spreads: u ? [[u, null]] : [], origin: "user", source: "" };
  }
  if (doorMade.has(value)) return value;
  return typeof value === "number" ? doorNumber(data, name, value) : doorReading(data, name, value);
};
// An entry that was read already (the mean of several trials): only what `doorTake` was given, never what a link brings.
const doorMade = new WeakSet();
const doorTake = (entry) => { doorMade.add(entry); return entry; };
// A number of a list in JSON is in SI, as in a call of the library.
const doorNumber = (data, name, si) => {
  const { dimension, metric } = data.words[name];
  const text = showValue(si, dimension, metric);
  return { text, value: fromSi(si, metric, dimension), unit: metric, si, spreads: [], origin: "user", source: "" };
};
const doorReading = (data, name, given) => {
  for (const key of Object.keys(given)) {
    if (!DOOR_RECORD.includes(key)) {
      throw new InputError([doorTrouble(`${name}.${key}`, "a key of this name", `one of ${DOOR_RECORD.join(", ")}`, "Correct the key.")]);
    }
  }
  if (typeof given.value !== "string") {
    throw new InputError([doorTrouble(name, absent(given.value) ? "None" : String(given.value), 'value = "number unit"', "Write the value as text with its unit.")]);
  }
  const origin = given.origin ?? "measured";
  if (!DOOR_ORIGINS.includes(origin)) {
    throw new InputError([doorTrouble(`${name}.origin`, doorCut(doorRepr(String(origin)), 60), `one of ${DOOR_ORIGINS.join(", ")}`, "Correct the word.")]);
  }
  const entry = doorEntry(data, name, given.value);
  if ("uncertainty" in given) {
    const u = standardUncertainty(readText(`${given.value.split("±")[0]} ± ${given.uncertainty}`, name, data.words[name].dimension));
    entry.spreads = u ? [[u, given.instrument ?? null]] : [];
  }
  return { ...entry, origin, source: String(given.source ?? given.instrument ?? "") };
};
const doorCheck = (data, name, entry, limit) => {
  if (!limit || limitHolds(limit, entry.si)) return;
  const need = `${doorCapital(data.words[name].meaning)}: check the reading and its unit.`;
  throw new InputError([doorTrouble(name, entry.text, limit.text, need)]);
};
const doorChoice = (data, name, value) => {
  const words = data.choices[name];
  if (!words.includes(value)) {
    const close = nearestWords(String(value), words);
    throw new InputError([
      doorTrouble(name, doorRepr(value), `one of ${words.join(", ")}`, `Nearest: ${(close.length ? close : words).join(", ")}.`),
    ]);
  }
  return { text: value, value, unit: "", si: value, spreads: [], origin: "user", source: "" };
};

// ---- lists
const doorRows = (data, name, value) => {
  const columns = data.rows[name];
  const rows = typeof value === "string" ? parseRows(name, columns, value) : value;
  if (!Array.isArray(rows) || !rows.length) {
    const got = doorCut(typeof value === "string" ? doorRepr(value) : "[]", 60);
    throw new InputError([doorTrouble(name, got, "a list of rows", `Each row holds ${columns.join(", ")}.`)]);
  }
  const troubles = [];
  const spreads = rows.map(() => ({}));
  const si = rows.map((row, at) => {
    const found = {};
    if (typeof row !== "object" || row === null || Array.isArray(row)) {
      troubles.push(doorTrouble(`${name} ${at + 1}`, doorCut(doorRepr(row), 60), "a row", `It holds ${columns.join(", ")}.`));
      return found;
    }
    for (const column of Object.keys(row)) {
      if (columns.includes(column)) continue;
      const close = nearestWords(column, columns);
      troubles.push(doorTrouble(`${name} ${at + 1}`, column, `a column of ${name}`, `Nearest: ${(close.length ? close : columns).join(", ")}.`));
    }
    for (const column of columns) {
      if (absent(row[column])) {
        const action = "Fill it in, or leave the whole row out.";
        troubles.push(doorTrouble(`${name} ${at + 1} ${column}`, "an empty cell", data.words[column].meaning, action));
        continue;
      }
      const own = [];
      doorAll(() => {
        if (data.words[column].dimension === "text") found[column] = doorWord(data, column, row[column]);
        else {
          const entry = doorEntry(data, column, row[column]);
          doorCheck(data, column, entry, data.limits[column]);
          found[column] = entry.si;
          spreads[at][column] = entry.spreads;
        }
      }, own);
      troubles.push(...own.map((one) => ({ ...one, entry: `${name} ${at + 1} ${column}` })));
    }
    return found;
  });
  if (!troubles.length && doorIsCurve(data, columns) && si.some((row, at) => at && row[columns[0]] <= si[at - 1][columns[0]])) {
    troubles.push(doorTrouble(name, "rows out of order", `${columns[0]} rising from row to row`, "Sort the rows; no place twice."));
  }
  if (troubles.length) throw new InputError(troubles);
  const text = typeof value === "string" ? value : `${rows.length} rows`;
  return { text, value: rows, unit: "", si, spreads, origin: "user", source: "" };
};
// A list of numbers only is looked up by its first column: out of order it would be read wrongly.
const doorIsCurve = (data, columns) => columns.every((column) => data.words[column].dimension !== "text");
const doorWord = (data, column, cell) => {
  const words = data.choices[column];
  if (words && !words.includes(cell)) {
    const close = nearestWords(String(cell), words);
    throw new InputError([doorTrouble(column, doorRepr(cell), `one of ${words.join(", ")}`, `Nearest: ${(close.length ? close : words).join(", ")}.`)]);
  }
  return String(cell);
};
/** Rows from one text: rows parted by `;`, cells by `|`, or as numbers with their units one after another. */
const parseRows = (name, columns, text) => {
  if (/^\s*\[/.test(text)) return doorJson(name, text);
  return text.split(";").map((part) => part.trim()).filter(Boolean).map((part) => {
    const cells = part.split("|").map((cell) => cell.trim() || null);
    if (cells.length === columns.length && columns.length > 1) return Object.fromEntries(columns.map((column, i) => [column, cells[i]]));
    const words = part.split(UNIT_BLANKS).filter(Boolean);
    if (words.length !== 2 * columns.length) {
      throw new InputError([doorTrouble(name, part, `${columns.length} values with units in each row: ${columns.join(", ")}`,
        "Part rows by ; and cells by | as in 0 mm | 52 N; 0.6 mm | 55.5 N.")]);
    }
    return Object.fromEntries(columns.map((column, i) => [column, words.slice(2 * i, 2 * i + 2).join(" ")]));
  });
};
const doorJson = (name, text) => {
  try {
    const rows = JSON.parse(text);
    return Array.isArray(rows) ? rows : [rows];
  } catch (fault) {
    throw new InputError([doorTrouble(name, doorCut(text, 60), "a list in JSON", "It cannot be read to its end.")]);
  }
};
