// Sentences of the sizing from data/words/size.toml: twin of selection/words.py, letter by letter.
const WORDS_PLACES = { rest: "at rest", on_a: "with coil a on", on_b: "with coil b on" };

const wordsFilled = (pattern, told) =>
  pattern.replace(/\{(\w+)\}/g, (whole, name) => {
    if (!(name in told)) throw new Error(`no ${name} is told for: ${pattern}`);
    return told[name];
  });
const wordsUnit = (row, system) => row[system === "us" ? "us" : "unit"];

/** What a rule is about. */
const ruleTitle = ({ rule }) => DATA.words.rules[rule].title;

/** A need or what is there, with its unit. */
const valueText = (rule, value, system = "metric") => {
  if (missing(value)) return "not known";
  const row = DATA.words.rules[rule];
  if (typeof value === "string" || row.kind === "text") return String(value);
  return showValue(value, row.kind, wordsUnit(row, system), 3);
};

/** [a number in the unit of its rule at full precision, that unit]; [null, ""] for words. */
const unitAndValue = (rule, value, system = "metric") => {
  const row = DATA.words.rules[rule];
  if (typeof value !== "number" || row.kind === "text") return [null, ""];
  const unit = wordsUnit(row, system);
  return [fromSi(value, unit, row.kind), unit];
};

/** Kind and unit of what is told under a name of [units]. */
const namedUnit = (name, system) => {
  const [kind, metric, us] = DATA.words.units[name];
  return [kind, system === "us" ? us : metric];
};
/** What is told under a name of [units], with its unit. */
const namedText = (name, value, system) => showValue(value, ...namedUnit(name, system), 3);
/** The same at full precision, without its unit. */
const namedFigure = (name, value, system) => {
  const [kind, unit] = namedUnit(name, system);
  return missing(value) ? null : fromSi(value, unit, kind);
};

/** What is to be found out, in words. */
const lackText = (entry) => {
  const at = entry.indexOf("."), place = entry.slice(0, at), key = entry.slice(at + 1);
  if (place === "stock") return `${DATA.columns[key].meaning.split(":")[0]} (${key} of this valve)`;
  const [what, how] = dutyMeaning(entry);
  const of = /^(cylinder|motor)/.test(place) ? ` of ${place}` : "";
  return `${what.split(";")[0]}${of} (${entry})${how ? `: ${how}` : ""}`;
};

/** What a rule says of a valve, in one sentence or a few. */
const sentenceOf = (rule, system = "metric") => {
  const row = DATA.words.rules[rule.rule], about = wordsAbout(rule);
  const told = {
    ...wordsShown(about, system),
    title: row.title,
    need: valueText(rule.rule, rule.need, system),
    has: valueText(rule.rule, rule.has, system),
    lacks: rule.lacks.map(lackText).join("; ") || "its own papers",
    hazard: (about.hazards || []).map((one) => DATA.words.hazards[one]).join(" "),
    place: WORDS_PLACES[about.position] || String(about.place || ""),
    ratio: wordsRatio(about, row, system),
  };
  const [first, ...rest] = wordsFilled(row[rule.words] || DATA.words.common[rule.words], told).trim();
  return first.toUpperCase() + rest.join("");
};

const wordsShown = (about, system) =>
  Object.fromEntries(Object.entries(about).map(([name, value]) =>
    [name, name in DATA.words.units && typeof value === "number" ? namedText(name, value, system) : String(value)]));

// What the sentence tells beside need and has: the loss of a movement, or names with values.
const wordsAbout = ({ about }) => {
  if (typeof about.movement !== "object") return about;
  const one = about.movement;
  return {
    movement: one.name,
    inlet_flow: one.inlet_flow,
    return_flow: one.return_flow,
    return_ratio: one.return_ratio,
    heat: lossHeat(about),
  };
};

// Where the areas of the cylinder come in, told only where more comes back than goes in.
const wordsRatio = (about, row, system) => {
  const ratio = about.return_ratio || 0;
  if (ratio <= 1.05 || !("ratio" in row)) return "";
  const powers = { return_ratio: figure(ratio, 3), square: figure(ratio * ratio, 2), cube: figure(ratio * ratio * ratio, 2) };
  return wordsFilled(row.ratio, { ...wordsShown(about, system), ...powers });
};

/** The cautions of these rules, each once, ready to stand before everything else. */
const cautionsOf = (rules) =>
  [...new Set(rules.map(({ rule }) => DATA.words.rules[rule].caution).filter(Boolean))].map((key) => DATA.cautions[key]);
