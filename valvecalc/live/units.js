// Text to SI and back: the twin of numbers.py, unit_table.py and units.py, working on SITE.units, which is their table.
// Every refusal has the words of Python. Blanks, digits and lengths are Python's too: not \s, \d and .length.

/**
 * A text that cannot be read: what is needed and what to do, and in which entry, and what came.
 * `likely` are the printed units that the message names as meant; any of them may be put in the unit's place as it is.
 */
class Refused extends Error {
  constructor(need, action, likely = []) {
    super(need);
    Object.assign(this, { need, do: action, likely });
  }
}
const unitRefuse = (...told) => { throw new Refused(...told); };
const unitNamed = (entry, text, work) => {
  try { return work(); } catch (trouble) { throw Object.assign(trouble, { entry, got: visibleText(text) }); }
};

// ---- numbers.py
const UNIT_NUMBER = new RegExp(SITE.units.number);
const UNIT_UNFINISHED = /^[0-9.,'/+-]/;
const UNIT_BLANKS = /[\t-\r\x1c-\x20\x85\xa0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]+/;
const unitStrip = (text) => text.replace(/^ +| +$/g, "");

/** The text with every kind of blank as one space, and typographic minus and apostrophe as typed ones. */
const plainText = (text) => {
  const typed = text.replace(/\u2212/g, "-").replace(/\u2019/g, "'").replace(/\uff05/g, "%");
  return typed.split(UNIT_BLANKS).filter(Boolean).join(" ");
};

/** What came, in quotes, fit for a message: control characters written out, cut to 60 characters. */
const visibleText = (text) => {
  const all = [...text];
  const cut = all.length <= 60 ? text : `${all.slice(0, 59).join("")}…`;
  return `'${cut.replace(/(?! )[\p{C}\p{Z}]/gu, unitEscape)}'`;
};
const unitEscape = (mark) => {
  const code = mark.codePointAt(0).toString(16);
  const [letter, width] = code.length < 3 ? ["x", 2] : code.length < 5 ? ["u", 4] : ["U", 8];
  return { "\t": "\\t", "\n": "\\n", "\r": "\\r" }[mark] || `\\${letter}${code.padStart(width, "0")}`;
};

/** [the number at the start of a plain text, its own text, what follows it]; `example` is the pattern to follow. */
const unitSplit = (text, example) => {
  if ([...text].length > 120) unitRefuse("one number and its unit", `Shorten the entry to the form ${example}.`);
  const empty = "Fill it in, or leave the entry out if there is no reading.";
  if (!text) unitRefuse(`a number, for example ${example}`, empty);
  const match = UNIT_NUMBER.exec(text);
  if (!match) unitRefuse(...unitNoNumber(text, example));
  const rest = unitStrip(text.slice(match[0].length));
  const [own, sign, whole, over, under, blanks, commas, dots, left, right, single, power] = match;
  if (/^\p{Nd}+$/u.test(rest) || (rest.startsWith(",") && right !== undefined)) {
    unitRefuse("one number", `Write it in one form only, for example ${example}.`);
  }
  let value;
  if (under !== undefined) {
    value = Number(whole || 0) + Number(over) / Number(under);
    const zero = "Correct the number below the line: it is 0.";
    if (!Number(under)) unitRefuse("a fraction with something under the line", zero);
  } else {
    if (right !== undefined && right.length === 3 && left[0] !== "0") {
      const asWhole = left + right, asBroken = `${left}.${right}`;
      const action = `Write ${asWhole} if the comma marks thousands, ${asBroken} if it is the decimal mark.`;
      unitRefuse(`a number that can be read one way only: ${asWhole} or ${asBroken}`, action);
    }
    const digits =
      (blanks && blanks.replace(/[ ']/g, "").replace(",", ".")) ||
      (commas && commas.replace(/,/g, "")) ||
      (dots && dots.replace(/\./g, "").replace(",", ".")) ||
      single ||
      `${left}.${right}`;
    value = Number(`${digits}e${power || 0}`);
  }
  const tooLarge = "Check the exponent: the number is too large for any reading.";
  if (!Number.isFinite(value)) unitRefuse("a finite number", tooLarge);
  return [sign === "-" ? -value : value, own, rest];
};
const unitNoNumber = (text, example) => {
  if (/^(nan|inf)/.test(text.replace(/^[+\- ]+/, "").toLowerCase())) {
    return ["a finite number", "Leave the entry out if there is no reading."];
  }
  const others = /(?![0-9])\p{Nd}/u.test(text);
  if (others) return ["the digits 0 to 9", `Type the number with these digits, for example ${example}.`];
  return ["a number first, then its unit", `Write it like ${example}.`];
};

/** The number alone, rounded to `digits` significant digits, half away from zero, trailing zeros kept. */
const figure = (value, digits = 4) => {
  if (!Number.isFinite(value)) return "no value";
  if (!value) return "0";
  // Rounded here and not by toExponential(digits - 1): engines differ on an exact half.
  const [mantissa, exponent] = Math.abs(value).toExponential(30).split("e");
  const known = mantissa.replace(".", "");
  const whole = String(BigInt(known.slice(0, digits)) + BigInt(known[digits] >= "5"));
  const power = Number(exponent) + whole.length - digits;
  const kept = whole.slice(0, digits);
  const sign = value < 0 ? "-" : "";
  if (power < -4 || power >= 9) return `${sign}${unitPoint(kept, 1)}e${power}`;
  if (power < 0) return `${sign}0.${"0".repeat(-power - 1)}${kept}`;
  return sign + unitPoint(kept.padEnd(power + 1, "0"), power + 1);
};
const unitPoint = (digits, place) =>
  digits.length > place ? `${digits.slice(0, place)}.${digits.slice(place)}` : digits;

// ---- errors.nearest: difflib's ratio. Its rule for frequent characters begins at words of 200, near nothing here.
const unitMatches = (a, b) => {
  let size = 0, ia = 0, ib = 0;
  for (let i = 0; i < a.length; i += 1) {
    for (let j = 0; j < b.length; j += 1) {
      let k = 0;
      while (i + k < a.length && j + k < b.length && a[i + k] === b[j + k]) k += 1;
      if (k > size) [size, ia, ib] = [k, i, j];
    }
  }
  if (!size) return 0;
  return unitMatches(a.slice(0, ia), b.slice(0, ib)) + size + unitMatches(a.slice(ia + size), b.slice(ib + size));
};
const unitLikeness = (a, b) => {
  const both = a.length + b.length;
  if (5 * Math.min(a.length, b.length) < both) return 0;
  return both ? (2 * unitMatches(a, b)) / both : 1;
};

/** The nearest known spellings of a word, best first; of equally near ones the later in the alphabet. */
const nearestWords = (word, known, most = 3) =>
  known
    .map((each) => [unitLikeness([...each], [...word]), each])
    .filter(([likeness]) => likeness >= 0.4)
    .sort(([a, one], [b, other]) => b - a || (one < other ? 1 : one > other ? -1 : 0))
    .slice(0, most)
    .map(([, each]) => each);

// ---- unit_table.py
const UNIT_ROWS = new Map();

// A dimension with its rows. `names`: spelling -> {row, kind}, kind being the pressure reference it names, or "".
// `folded`: the same without regard to case -> the spellings.
const unitDimension = (name) => {
  if (UNIT_ROWS.has(name)) return UNIT_ROWS.get(name);
  const told = SITE.units.dimensions[name];
  const like = told.like || name;
  const rows = SITE.units.dimensions[like].units.map(({ printed, factor, offset = 0, spellings = [] }) => (
    { printed, dimension: name, factor, offset, spellings: [printed, ...spellings] }
  ));
  const names = new Map();
  for (const row of rows) for (const spelling of row.spellings) names.set(spelling, { row, kind: "" });
  for (const reference of like === "pressure" ? SITE.units.reference : []) {
    const { row } = names.get(reference.unit);
    for (const kind of ["gauge", "absolute"]) for (const word of reference[kind]) names.set(word, { row, kind });
  }
  const folded = new Map();
  for (const spelling of names.keys()) {
    const low = spelling.toLowerCase();
    folded.set(low, [...(folded.get(low) || []), spelling]);
  }
  UNIT_ROWS.set(name, { ...told, name, rows, names, folded });
  return UNIT_ROWS.get(name);
};

const unitTidy = (unit) =>
  SITE.units.replace.reduce((text, [typed, own]) => text.split(typed).join(own), unit).replace(/ *([/·]) */g, "$1");

// The row meant by a spelling, and the reference that the spelling names: exact first, then without regard to case,
// if that leads to one row and no m/M changes.
const unitFind = (typed, dimension) => {
  const { names, folded } = unitDimension(dimension);
  if (names.has(typed)) return names.get(typed);
  const unit = unitTidy(typed);
  if (names.has(unit)) return names.get(unit);
  unitRefuseTrap(unit, dimension);
  const spellings = folded.get(unit.toLowerCase()) || [];
  const printed = [...new Set(spellings.map((spelling) => names.get(spelling).row.printed))];
  const swapsM = (spelling) => [...spelling].some((letter, i) => letter !== unit[i] && "mM".includes(letter));
  const sure = spellings.filter((spelling) => !swapsM(spelling)).map((spelling) => names.get(spelling));
  if (sure.length && sure.every(({ row, kind }) => row === sure[0].row && kind === sure[0].kind)) return sure[0];
  if (!printed.length) throw unitUnknown(unit, dimension);
  const meant = printed.join(" or ");
  const action = `Write ${meant} if that is meant: m is a thousandth and M a million, so capitals count.`;
  return unitRefuse("the unit in its exact letters", action, printed);
};

// Words of the trade that are not a unit, or not one unit.
const unitRefuseTrap = (unit, dimension) => {
  const low = unit.toLowerCase();
  const fits = ({ dimensions }) => !dimensions || dimensions.includes(dimension);
  const trap = SITE.units.trap.find((each) => each.spellings.includes(low) && fits(each));
  if (trap) unitRefuse(trap.need, trap.do);
};

const unitUnknown = (unit, dimension) => {
  const asked = unitDimension(dimension);
  const examples = asked.examples.join(" or ");
  const low = unit.toLowerCase();
  const others = Object.keys(SITE.units.dimensions).filter((name) => unitDimension(name).folded.has(low));
  const mixed = SITE.units.mixed_up.find((pair) => pair.asked === dimension && others.includes(pair.given));
  if (mixed) return new Refused(asked.says, `${unit} is ${unitDimension(mixed.given).says}: ${mixed.do}`);
  const [other] = others;
  if (other) return new Refused(asked.says, `${unit} is ${unitDimension(other).says}; write for example ${examples}.`);
  const known = [...new Set(asked.rows.map((row) => row.printed).filter(Boolean))];
  if (!known.length) return new Refused(asked.says, `Write the number alone, for example ${examples}.`);
  const close = nearestWords(unit, [...asked.names.keys()].filter((spelling) => asked.names.get(spelling).row.printed));
  const likely = [...new Set(close.map((spelling) => asked.names.get(spelling).row.printed))];
  const last = known.pop();
  return new Refused(
    `${asked.says} in ${known.length ? `${known.join(", ")} or ` : ""}${last}`,
    likely.length ? `Did you mean ${likely.join(" or ")}?` : `Write it for example as ${examples}.`,
    likely,
  );
};

// A pressure whose spelling names the wrong reference: the figure must change with the unit, so no unit is `likely`,
// but for a difference, where the reference is only one word too many.
const unitCheckReference = (kind, value, { printed, dimension, factor }, typed) => {
  if (!kind) return;
  if (dimension === "pressure_difference") {
    unitRefuse("a pressure difference", `A difference has no reference: write ${printed}.`, [printed]);
  }
  const absolute = dimension === "pressure_abs";
  const wanted = absolute ? "absolute" : "gauge";
  if (kind === wanted) return;
  const shift = SITE.units.atmosphere / factor;
  const other = `${figure(absolute ? value + shift : value - shift)} ${printed}`;
  unitRefuse(`${absolute ? "an" : "a"} ${wanted} pressure`, `${typed} is ${other} ${wanted}: enter ${other}.`);
};

const unitCheckPossible = (si, { lowest, says, lowest_says: lowestSays }) => {
  if (!Number.isFinite(si)) unitRefuse("a finite number", "Leave the entry out if there is no reading.");
  if (lowest !== undefined && si < lowest - 1e-9) unitRefuse(`${says} that can exist`, lowestSays);
};

// ---- units.py
const UNIT_DIFFERENCE_OF = {
  temperature: "temperature_difference", pressure: "pressure_difference", pressure_abs: "pressure_difference",
};
const unitParts = (text) => plainText(text).replace(/\+\/?-/g, "±").split("±").map(unitStrip);

/**
 * What a text says: {text, value, unit, si, halfWidth, expanded}; `halfWidth` is what stood after ±, in SI, or null,
 * `expanded` that it was marked (k=2). Throws Refused.
 */
const readText = (text, entry, dimension) =>
  unitNamed(entry, text, () => {
    const asked = unitDimension(dimension);
    const [main, ...spread] = unitParts(text);
    if (spread.length > 1) unitRefuse("one ± only", `Write it like ${asked.examples[0]} ± 2 %.`);
    const [value, row] = unitValueAndRow(main, asked);
    const si = value * row.factor + row.offset;
    unitCheckPossible(si, asked);
    if (dimension === "count" && !Number.isInteger(value)) unitRefuse("a whole number", "Enter it without a fraction.");
    const [halfWidth, expanded] = spread.length ? unitHalfWidth(spread[0], value, row, main) : [null, false];
    return { text, value, unit: row.printed, si, halfWidth, expanded };
  });

const unitValueAndRow = (text, asked) => {
  const [example] = asked.examples;
  const examples = asked.examples.join(" or ");
  // "ISO VG 46": the grade has no number in front
  if (!/^\p{Nd}/u.test(text)) unitRefuseTrap(text.replace(/[0-9 ]+$/, ""), asked.name);
  const [value, number, rest] = unitSplit(text, example);
  if (!rest && !asked.names.has("")) unitRefuse("a unit as well", `${number} what? For example ${examples}.`);
  let found;
  try { found = unitFind(rest, asked.name); } catch (refused) {
    if (UNIT_UNFINISHED.test(rest)) unitRefuse("one number, then its unit", `Write it in the form ${example}.`);
    throw refused;
  }
  unitCheckReference(found.kind, value, found.row, text);
  return [value, found.row];
};

// What stands after ±, in SI, and whether it is expanded.
const unitHalfWidth = (given, value, unit, main) => {
  const coverage = /\( ?[kK] ?= ?([0-9]+(?:[.,][0-9]+)?) ?\)$/.exec(given);
  const text = coverage ? unitStrip(given.slice(0, coverage.index)) : given;
  const marked = text.toLowerCase().replace(/ /g, "").includes("(k");
  if (marked || (coverage && Number(coverage[1].replace(",", ".")) !== 2)) {
    unitRefuse("a limit of error, or an expanded uncertainty marked (k=2)", `Write it like ${main} ± 2 % (k=2).`);
  }
  const difference = UNIT_DIFFERENCE_OF[unit.dimension] || unit.dimension;
  const [number, , rest] = unitSplit(text, "± 2 %");
  if (number < 0) unitRefuse("a limit of error of 0 or more", "Write it after ± without a sign.");
  if (!rest && unit.printed) unitRefuse("a unit after ± as well", `Write it like ${main} ± ${text} ${unit.printed}.`);
  let halfWidth;
  if (unitTidy(rest) === "%" && unit.printed !== "%") {
    const isLevel = unit.dimension === "temperature";
    if (isLevel) unitRefuse("the limit of a temperature in K, °C or °F", "Write it like 40 °C ± 1 K.");
    halfWidth = (Math.abs(value) * unit.factor * number) / 100;
  } else {
    const { row, kind } = unitFind(rest, difference);
    unitCheckReference(kind, number, row, text);
    halfWidth = number * row.factor;
  }
  unitCheckPossible(halfWidth, unitDimension(difference));
  return [halfWidth, Boolean(coverage)];
};

/** Standard uncertainty of a reading in SI, null if no ± was given: a/√3 of a limit, U/2 of an expanded one. */
const standardUncertainty = ({ halfWidth, expanded }) =>
  halfWidth === null ? null : halfWidth / (expanded ? 2 : Math.sqrt(3));

/** The row {printed, dimension, factor, offset, spellings} meant by a spelling in a dimension. Throws Refused. */
const unitRow = (unit, dimension, entry = "unit") => {
  const key = `${dimension} ${unit}`;
  if (!UNIT_MEANT.has(key)) UNIT_MEANT.set(key, unitNamed(entry, unit, () => unitMeant(unit, dimension)));
  return UNIT_MEANT.get(key);
};
const UNIT_MEANT = new Map(); // each row of a curve asks again
const unitMeant = (unit, dimension) => {
  const { row, kind } = unitFind(plainText(unit), dimension);
  if (!kind || kind === { pressure: "gauge", pressure_abs: "absolute" }[dimension]) return row;
  return unitRefuse(unitDimension(dimension).says, `Write ${row.printed}: the entry says what it is measured from.`);
};

/** A value in a shop unit, in SI. */
const toSi = (value, unit, dimension) => {
  const { factor, offset } = unitRow(unit, dimension);
  return value * factor + offset;
};

/** An SI value in a shop unit. */
const fromSi = (si, unit, dimension) => {
  const { factor, offset } = unitRow(unit, dimension);
  return (si - offset) / factor;
};

/** An SI value as text in a shop unit: 1.914 L/min. Counts print whole; readText takes it back. */
const showValue = (si, dimension, unit, digits = 4) => {
  const { printed } = unitRow(unit, dimension);
  const value = fromSi(si, unit, dimension);
  const number = dimension === "count" && Number.isInteger(value) ? String(BigInt(value)) : figure(value, digits);
  return `${number}${["", "°"].includes(printed) ? "" : " "}${printed}`;
};

/** Printed forms of the units of a dimension, for a form's list. */
const unitChoices = (dimension) => unitDimension(dimension).rows.map((row) => row.printed);

/** Printed units that the mistyped unit of a text may have meant, best first: those that its refusal names. */
const unitCandidates = (text, dimension) => {
  try { unitValueAndRow(unitParts(text)[0], unitDimension(dimension)); return []; } catch (refused) {
    if (!(refused instanceof Refused)) throw refused;
    return refused.likely;
  }
};

/** The text without the unit of its first number, what stands after ± kept: for putting another unit in its place. */
const unitNumberOf = (text) => {
  const [main, ...spread] = unitParts(text);
  return [(UNIT_NUMBER.exec(main) || [""])[0], ...spread].join(" ± ");
};

const units = {
  read: readText, show: showValue, figure, fromSi, toSi,
  row: unitRow, choices: unitChoices, candidates: unitCandidates, numberOf: unitNumberOf,
};
