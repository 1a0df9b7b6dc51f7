// The shop's own checks: twin of job/own.py, and of what job/reader.py makes of their answers. A check as the device keeps it: texts
// { id, title, unit, at_least, at_most, good, caution }, `good` yes, no or empty.

let ownChecks = new Map();
/** The dimension of a check's unit: the first that has this spelling, letter by letter. */
const dimensionOf = (unit) => {
  const found = Object.keys(DATA.spelled).find((name) => DATA.spelled[name].includes(unit.trim()));
  if (!found) throw jobRefused("a unit of the table", "Correct the unit of this check in shop.toml, capitals included.");
  return found;
};
/** What an answer gives: an entry, or true or false. Throws what is wrong with it. */
const checkAnswer = (check, key, given) => {
  if ((key === "reading") !== Boolean(check.unit)) {
    throw jobRefused(check.unit ? `a reading in ${check.unit}` : "an answer: true or false", `Check ${check.id} asks for it.`);
  }
  const raw = counted(given);
  if (key === "answer") {
    if (typeof raw !== "boolean") throw jobRefused("true or false", DATA.yesNo);
    return raw;
  }
  const dimension = dimensionOf(check.unit);
  const each = Array.isArray(raw) && raw.length ? raw : [raw];
  return valvecalc.made(jobMean("reading", each.map((one) => jobReading("reading", one, dimension)), dimension));
};
/** The answers of some rows that can be read: [{ check, row, said, note }]; `faults` grows. */
const answersOf = (rows, faults) => rows.flatMap((row, at) => {
  const check = ownChecks.get(jobText(wordOf(row.id) ?? ""));
  if (!check) return [];
  const read = ["answer", "reading"].filter((key) => row[key] !== undefined).flatMap((key) => {
    try { return [checkAnswer(check, key, row[key])]; } catch (refused) {
      if (!refused.need) throw refused;
      faults.push({ table: "check", row: at, key, at: row, need: refused.need, do: refused.do, likely: refused.likely || [] });
      return [];
    }
  });
  return read.slice(0, 1).map((said) => ({ check, row: at, said, note: jobText(wordOf(row.note) ?? "") }));
});

const WORST = ["reject", "cannot-tell", "accept"];
/** A reading in words with what was wanted of it, and its verdict with the guard band. */
const heldTo = (check, entry) => {
  const limits = [["at least", check.at_least, 1], ["at most", check.at_most, -1]].filter(([, text]) => text);
  const verdicts = limits.map(([, text, side]) => {
    const limit = valvecalc.units.read(text, "limit", dimensionOf(check.unit)).si;
    return decided(side > 0 ? entry.si - limit : limit - entry.si, entry.spreads);
  });
  const wanted = limits.map(([word, text]) => `${word} ${text}`).join(" and ");
  const doubt = entry.spreads.length || !wanted ? "" : ", uncertainty not known";
  return [`${asRead(entry)}${doubt}${wanted ? `; wanted ${wanted}` : ""}.`, WORST.find((word) => verdicts.includes(word)) || "unknown"];
};
const asRead = ({ text, unit, spreads }) => {
  if (!spreads.length || text.includes("±")) return text;
  const u = Math.sqrt(plainSum(spreads.map(([one]) => one * one))), dimension = unit ? dimensionOf(unit) : "ratio";
  const { toSi, figure: shown } = valvecalc.units;
  return `${text} ± ${`${shown((2 * u) / (toSi(1, unit, dimension) - toSi(0, unit, dimension)), 2)} ${unit}`.trim()}`;
};
const yesNo = (said) => (said ? "Yes" : "No");
/** The answers judged, as rows of `judgedRows`. */
const ownJudged = (answers) => answers.map(({ check, row, said, note }) => {
  const told = { subject: check.title || check.id, sheet: `own ${check.id}`, table: "check", row };
  if (typeof said === "boolean") {
    const wanted = check.good ? `; wanted ${check.good}` : "";
    const verdict = !check.good ? "unknown" : yesNo(said).toLowerCase() === check.good ? "accept" : "reject";
    return { ...told, verdict, text: [`${yesNo(said)}${wanted}.`, note].filter(Boolean).join(" ") };
  }
  const [text, verdict] = heldTo(check, said);
  return { ...told, verdict, text: [text, note].filter(Boolean).join(" ") };
});
