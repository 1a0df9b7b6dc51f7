// An answer as text to paste into a report: twin of citation.py, letter by letter.
const citeName = (name) => name.replace(/_/g, " ");
const citeVerdict = (word) => word.replace("cannot-tell", "cannot tell");
const citeRows = (what, name, row) =>
  `${what}: ${citeName(name)}: ${row.rows.length} rows of ${row.columns.map(showColumn).join(", ")}`;
const citeEntry = (name, entry) => {
  if ("rows" in entry) return citeRows("Entry", name, entry);
  const text = entry.text || quantityText(entry.value, entry.unit, null, 6);
  return `Entry: ${citeName(name)} = ${text} (${SITE.origins[entry.origin] || entry.origin})`;
};
const citeResult = (row) => {
  if ("rows" in row) return citeRows("Result", row.name, row);
  return `Result: ${citeName(row.name)} = ${showResult(row)}${row.verdict ? `, ${citeVerdict(row.verdict)}` : ""}`;
};
const cite = (answer, site = "") => {
  const first = answer.result ? answer.result.name : null;
  const singles = answer.results.filter((row) => !("rows" in row));
  const told = [...singles.filter((row) => row.name === first), ...singles.filter((row) => row.name !== first)];
  const lists = answer.results.filter((row) => "rows" in row);
  const needs = [...new Set(answer.missing.map((lack) => lack.entry))];
  const source = (row) => [row.text || row.key, row.locator].filter(Boolean).join(", ");
  return [
    answer.title,
    `valvecalc ${answer.version}, ${answer.id}, edition ${answer.edition}, data ${answer.data_version}`,
    ...Object.entries(answer.inputs).map(([name, entry]) => citeEntry(name, entry)),
    ...told.map(citeResult),
    ...lists.map(citeResult),
    ...(told.length + lists.length ? [] : ["Result: no value"]),
    ...needs.map((name) => `Not computed: needs ${citeName(name)}`),
    ...answer.limits.filter((limit) => limit.says).map((limit) => `Caution: ${limit.says}`),
    ...answer.sources.map((row) => `Source: ${source(row)}`),
    ...(told.some((row) => "uncertainty" in row) ? [SITE.coverage] : []),
    `Link: ${site.replace(/\/+$/, "")}${answer.link}`,
  ].join("\n");
};
