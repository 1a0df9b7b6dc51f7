// What the twins of selection/ share: facts, formulas as the door runs them, and the record that a trouble is.

/** A fact of data/defaults.toml that the build put in (sitegen/sizing.py). */
const fact = (id) => {
  if (!(id in DATA.facts)) throw new Error(`sitegen/sizing.py does not list the fact ${id}`);
  return DATA.facts[id];
};

/** A formula or sheet by its id, with the defaults of its card; throws NoValue as Python does. */
const formula = (id, entries) => {
  const [work, kind, defaults, names] = register[id];
  const filled = { ...defaults, ...entries };
  return kind === "formula" ? finite(work(...names.map((name) => filled[name]))) : work(filled, filled);
};

/** The default of an entry of a card. */
const formulaDefault = (id, entry) => register[id][2][entry];

/** A fault that stops everything: which entry, what came, what is needed, what to do (errors.InputError). */
class InputError extends Error {
  constructor(troubles) {
    super(troubles.map((one) => one.need).join("; "));
    this.troubles = troubles;
  }
}
const trouble = (entry, got, need, action, where = null) => ({ entry, got, need, do: action, where });
const missing = (value) => value === null || value === undefined;

// ---- what Python does with a text or a plain value; its blanks are not those of trim()
const textWords = (text) => text.split(UNIT_BLANKS).filter(Boolean);
const TEXT_ENDS = new RegExp(`^${UNIT_BLANKS.source}|${UNIT_BLANKS.source}$`, "g");
const textStrip = (text) => text.replace(TEXT_ENDS, "");
/** The keys and values of what is a table and no list, null for anything else. */
const textTable = (value) => (typeof value === "object" && value !== null && !Array.isArray(value) ? value : null);
/** str(value) of plain data. A number without a fraction is a whole one. */
const textOf = (value) => (typeof value === "string" ? value : textRepr(value));
const textRepr = (value) => {
  if (typeof value === "string") return textQuoted(value);
  if (typeof value === "boolean") return value ? "True" : "False";
  if (missing(value)) return "None";
  if (Array.isArray(value)) return `[${value.map(textRepr).join(", ")}]`;
  if (textTable(value)) return `{${Object.entries(value).map((pair) => pair.map(textRepr).join(": ")).join(", ")}}`;
  if (!Number.isFinite(value)) return Number.isNaN(value) ? "nan" : value < 0 ? "-inf" : "inf";
  return Math.abs(value) < 1e-4 && value ? value.toExponential().replace(/-(\d)$/, "-0$1") : String(value);
};
const textQuoted = (text) => {
  const quote = text.includes("'") && !text.includes('"') ? '"' : "'";
  const body = text.replace(/\\/g, "\\\\").replace(/(?! )[\p{C}\p{Z}]/gu, unitEscape);
  return quote + (quote === "'" ? body.replace(/'/g, "\\'") : body) + quote;
};
const textCut = (text, most) => [...text].slice(0, most).join("");
/** f"{value:g}" of a finite number: six figures, half to even, no zeros at the end. */
const textFigures = (value) => {
  if (!value) return "0";
  const [mantissa, exponent] = Math.abs(value).toExponential(60).split("e");
  const known = mantissa.replace(".", "");
  const behind = known.slice(6).replace(/0+$/, "");
  const up = behind > "5" || (behind === "5" && Number(known[5]) % 2 === 1);
  const whole = String(Number(known.slice(0, 6)) + up);
  const power = Number(exponent) + whole.length - 6;
  const digits = whole.slice(0, 6).replace(/0+$/, "");
  const sign = value < 0 ? "-" : "";
  if (power < -4 || power >= 6) {
    const written = `${power < 0 ? "-" : "+"}${String(Math.abs(power)).padStart(2, "0")}`;
    return `${sign}${digits[0]}${digits[1] ? `.${digits.slice(1)}` : ""}e${written}`;
  }
  if (power < 0) return `${sign}0.${"0".repeat(-power - 1)}${digits}`;
  return sign + (digits.length > power + 1 ? unitPoint(digits, power + 1) : digits.padEnd(power + 1, "0"));
};
