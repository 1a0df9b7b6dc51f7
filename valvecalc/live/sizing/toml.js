// A duty or a stock list in TOML into plain tables. Twin of facts.parse_toml and of stock._from_toml.
//
// The reader TOML is smol-toml 1.9.1 (BSD-3-Clause, text in assets/toml-licence.txt): smol-toml.js is dist/index.cjs of
// the npm package, unchanged; its sha256 is f9029370259e9a43a2f3e64fa1d39e72f3598188380ace83a0abb8261fa33555. Where a
// file is no TOML, `got` is in the reader's own words; what it reads beyond TOML 1.0 is read.

/** The tables of a duty file, for readDuty. Throws InputError. `western`: the bytes were not UTF-8. */
const readDutyFile = (text, file = "", western = false) => tomlTables(text, file, western);

const tomlTables = (text, file, western) => {
  const stop = (...told) => { throw new InputError([trouble("the file", ...told, file)]); };
  if (western) stop("bytes that are no text", "a text file in UTF-8", "Save it as plain text.");
  const written = text.replace(/^\ufeff/, "").replace(/\r\n/g, "\n");
  try { return tomlPlain(TOML.parse(written, { integersAsBigInt: true })); } catch (fault) {
    if (!(fault instanceof TOML.TomlError)) throw fault;
    const why = fault.message.split("\n")[0].replace("Invalid TOML document: ", "");
    const action = why.includes("redefine")
      ? "It stands there already: put both into one, or write [[name]] before each where several are allowed."
      : 'Correct that line: a text, and a value with its unit, in quotes ("160 bar"), one key a line.';
    return stop(`${why} (at line ${fault.line}, column ${fault.column})`, "TOML", action);
  }
};
// A float without a fraction and a date become the text that Python makes of them: from here on 5 is a whole number.
const tomlPlain = (value) => {
  if (typeof value === "bigint") return Number.isSafeInteger(Number(value)) ? Number(value) : String(value);
  if (Number.isInteger(value)) return tomlFloat(value);
  if (value instanceof TOML.TomlDate) return tomlDate(value);
  if (Array.isArray(value)) return value.map(tomlPlain);
  return textTable(value) ? Object.fromEntries(Object.entries(value).map(([key, one]) => [key, tomlPlain(one)])) : value;
};
const tomlFloat = (value) =>
  Math.abs(value) < 1e16 ? `${Object.is(value, -0) ? "-0" : value}.0` : value.toExponential();
const tomlDate = (date) => {
  const written = date.toISOString().replace("T", " ").replace(/z$/i, "+00:00");
  const [, whole, part, zone] = /^([^.]*)(\.\d+)?(.*)$/.exec(written);
  return whole + (Number(part) ? `${part}000` : "") + zone;
};

/** A stock list in TOML, as readStock gives it. */
const stockFromToml = (text, file, western) => {
  const { valve: rows } = tomlTables(text, file, western);
  if (!Array.isArray(rows) || !rows.every(textTable)) {
    const action = "Write [[valve]] before each.";
    throw new InputError([trouble("the file", "no [[valve]]", "tables [[valve]]", action, file)]);
  }
  const problems = [];
  const columns = new Map(Object.entries(DATA.columns).map(([key, field]) => [key, stockColumn(field)]));
  const told = rows.map((row, at) => {
    const cells = [];
    for (const [key, value] of Object.entries(row)) {
      if (columns.has(key)) {
        cells.push([columns.get(key), (Array.isArray(value) ? value : [value]).map(textOf).join(", ")]);
      } else {
        const [near] = nearestWords(key, [...columns.keys()], 1);
        const action = near ? `Did you mean ${near}?` : "See the guide for the columns.";
        const name = Object.hasOwn(row, "name") ? textOf(row.name) : "";
        problems.push(stockProblem(at + 1, name, key, "a key of this name", "a column", action));
      }
    }
    return [at + 1, cells];
  });
  return stockValves(told, problems);
};
