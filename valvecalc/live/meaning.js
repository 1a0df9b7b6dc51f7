// What a verdict means, what comes next, and the lines for the job file: twin of meaning.py.
const meaningTold = (data, answer) => {
  const found = {};
  if (Object.keys(data.meaning).length) found.meaning = meaningRows(data.meaning, answer.results);
  if (data.keep.table) found.keep = keepText(data.keep, answer);
  return found;
};
const meaningRows = (known, results) => {
  const names = Object.keys(known);
  const row = (name) => results.find((one) => one.name === name && "verdict" in one);
  const found = names.filter(row).map((name) => meaningVerdict(name, row(name).verdict, row(name).value, known[name]));
  if (!found.length) found.push(meaningVerdict(names[0], "unknown", null, known[names[0]]));
  return found.map((one, at) => (at + 1 < found.length && found[at + 1].next.check === one.next.check ? { ...one, next: null } : one));
};
const meaningVerdict = (result, verdict, value, { against, sided, verdicts }) => {
  const words = verdicts[verdict === "reject" && sided ? `reject-${value < 0 ? "low" : "high"}` : verdict];
  return { result, verdict, against, ...words };
};
const keepText = (place, answer) => {
  const lines = [`# ${place.table} of the job file; from ${answer.id}, edition ${answer.edition}`];
  for (const key of place.also || []) lines.push(`${key} = "?"`);
  for (const [name, key] of Object.entries(place.keys)) {
    const { text } = answer.inputs[name] || {};
    if (!text) continue;
    const [, typed, , doubt] = /^(.*?)(±|\+\/?-|$)(.*)$/s.exec(text);
    const value = keepQuoted(typed);
    const error = doubt ? `, uncertainty = ${keepQuoted(doubt)}` : "";
    const plain = error ? `{ value = ${value}${error} }` : value;
    lines.push(`${key} = ${place.read.includes(name) ? `{ value = ${value}${error}, instrument = "?" }` : plain}`);
  }
  return lines.join("\n");
};
const keepQuoted = (text) => `"${text.split(UNIT_BLANKS).filter(Boolean).join(" ").replace(/[\\"]/g, "\\$&")}"`;
