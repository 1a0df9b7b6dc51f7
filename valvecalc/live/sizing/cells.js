// One cell of a stock list or one entry of a duty: its text into a value in SI, by its kind. Twin of cells.py.
const CELL_SIZES = { 4: "02", 6: "03", 10: "05", 16: "07", 25: "08", 32: "10" };
const CELL_INTERFACE =
  /^(?:(?:iso ?)?4401-(02|03|05|07|08|10)(?:-[0-9-]+)?(?::[0-9]{4})?|ng ?(4|6|10|16|25|32)|d0?(2|3|5|7|8|10))$/;

/** Whether a cell says that it is not known. */
const isUnknown = (text) => DATA.unknown.includes(textStrip(text).toLowerCase());

/** The value of a cell that is not unknown; `unit` is what the header names, for a bare number. Throws Refused. */
const readCell = (field, text, unit = "") => CELL_READERS[field.kind](text, field, unit);

const cellPlain = (text) => textWords(text).join(" ");
const cellChoice = (words, text) => {
  const folded = cellPlain(text).toLowerCase();
  const found = words.find((word) => word.toLowerCase() === folded);
  if (found !== undefined) return found;
  const [near] = nearestWords(folded, words, 1);
  return unitRefuse(`one of ${words.join(", ")}`, near ? `Did you mean ${near}?` : "Correct the word.");
};
const cellCount = (text) => {
  if (/^[0-9]{1,9}$/.test(textStrip(text))) return Number(textStrip(text));
  return unitRefuse("a whole number", "Write how many there are, 0 for none; leave it blank if nobody has counted.");
};
const cellPrice = (text) => {
  const bare = textStrip(text).replace(/^(?:[A-Z]{3}|[€$£]) ?| ?(?:[A-Z]{3}|[€$£])$/g, "");
  const [value, , rest] = unitSplit(plainText(bare), "85.50");
  if (!rest && value >= 0) return value;
  return unitRefuse("one figure of 0 or more", "Write it like 85.50 or 85.50 EUR; leave it blank if it is not known.");
};
const cellProtection = (text) => {
  const found = /^IP ?([0-6])([0-9])K?$/.exec(textStrip(text).toUpperCase());
  if (found) return `IP${found[1]}${found[2]}`;
  return unitRefuse("IP and two figures", "Write it like IP65, as on the coil or the plug.");
};
const cellInterface = (text) => {
  const folded = cellPlain(text.toLowerCase());
  if (folded.startsWith("other:")) return folded;
  const found = CELL_INTERFACE.exec(folded);
  const action = "Write it like ISO 4401-05, NG10 or D05; another surface as other: and words.";
  if (!found) return unitRefuse("a mounting surface", action);
  const [, iso, ng, d] = found;
  return `ISO 4401-${iso || (ng ? CELL_SIZES[ng] : d.padStart(2, "0"))}`;
};
const cellQuantity = (text, { key, words }, unit) => {
  const [dimension, printed] = words;
  const [last] = words.slice(-1);
  const { si } = readText(unit && /^[0-9.,' +±-]+$/.test(textStrip(text)) ? `${text} ${unit}` : text, key, dimension);
  const lowest = last === "any" ? "any" : words.slice(-2).join(" ") === "from 0" ? "from 0" : "above 0";
  if ((lowest === "above 0" && si <= 0) || (lowest === "from 0" && si < 0)) {
    const shown = printed && printed !== "from" ? ` ${printed}` : "";
    const action = "Leave it blank if it is not known: a blank is asked for, a zero is believed.";
    unitRefuse(`a figure ${lowest}${shown}`, action);
  }
  return si;
};
const cellPoints = (text, { key, words }) => {
  const [xDimension, xUnit, yDimension, yUnit] = words;
  const pairs = `pairs with their units, as in 20 ${xUnit} 3 ${yUnit}; 40 ${xUnit} 9.5 ${yUnit}`;
  const points = text.split(";").map(textStrip).filter(Boolean).map((part) => {
    const cells = textWords(part);
    if (cells.length !== 4) unitRefuse(pairs, `Correct ${textRepr(part)}.`);
    const read = (at, dimension) => readText(cells.slice(at, at + 2).join(" "), key, dimension).si;
    let point;
    try { point = [read(0, xDimension), read(2, yDimension)]; } catch (refused) {
      if (refused instanceof Refused) unitRefuse(refused.need, `In ${textRepr(part)}: ${refused.do}`);
      throw refused;
    }
    if (point.some((value) => value <= 0)) {
      unitRefuse("points with both figures above 0", `Correct or leave out ${textRepr(part)}.`);
    }
    return point;
  });
  if (!points.length) unitRefuse(pairs, "Fill it in, or leave it blank.");
  const rising = key.startsWith("drop_"); // a limit is looked up by its pressure, a loss by its flow
  const place = rising ? 0 : 1;
  points.sort((one, other) => one[place] - other[place]);
  for (let at = 1; at < points.length; at += 1) {
    const before = points[at - 1], after = points[at];
    if (before[place] === after[place]) {
      const what = rising ? "flow" : "pressure";
      unitRefuse(`each ${what} once`, `Two points stand at one ${what}: keep the one that is right.`);
    }
    if (rising && after[1] <= before[1]) {
      unitRefuse("a loss that rises with the flow", "A larger flow loses less here: a digit is wrong.");
    }
  }
  return points;
};

const CELL_READERS = {
  quantity: cellQuantity,
  points: cellPoints,
  choice: (text, { words }) => cellChoice(words, text),
  text: cellPlain,
  words: (text) => text.replace(/;/g, ",").split(",").map(textStrip).filter(Boolean),
  "yes-no": (text) => cellChoice(["yes", "no"], text) === "yes",
  fluid: (text) => cellChoice(DATA.tables["seal_fluids.csv"].map((row) => row.fluid), text),
  count: cellCount,
  price: cellPrice,
  protection: cellProtection,
  interface: cellInterface,
  position: readPosition,
};

/** The unit of a header as printed. Throws Refused where the column takes none or another kind. */
const headerUnit = ({ kind, words }, unit) => {
  if (kind === "quantity") return unitRow(unit, words[0]).printed;
  return unitRefuse("no unit in this header", "Leave the brackets out; the cells carry what they need.");
};
