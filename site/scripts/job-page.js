// What the pieces of the bench form share: helpers, what a reading is, as found or as left. The pieces (order in sitegen/assets.py)
// become one script, assets/job-form.js, and share one scope.
const root = document.querySelector(".bench");
if (!root) return;
const jobs = shop.jobs;
const { parted, joined, hasUnit } = jobs;
const WORDS = JSON.parse(root.dataset.words);
const all = (selector, from = root) => [...from.querySelectorAll(selector)];
const one = (selector, from = root) => from.querySelector(selector);
const stages = all(".bench__stage");
function made(tag, attributes, ...children) {
  const element = document.createElement(tag);
  Object.entries(attributes).forEach(([name, value]) => {
    if (typeof value === "function") element.addEventListener(name, value);
    else if (value !== "") element.setAttribute(name, value);
  });
  element.append(...children.flat(9).filter((child) => child !== null && child !== ""));
  return element;
}
const act = (words, click) => made("button", { type: "button", class: "act", click }, words);
const raw = () => (jobs.open() || { raw: {} }).raw;

// ---- what a reading is: told by the built page
const specOf = (reading) => ({ ...reading.dataset, label: one("span", reading).textContent, say: reading.dataset.worked ? "" : (one("small", reading) || {}).textContent || "" });
const steps = new Map(all(".step").map((step) => [step, all(".reading", step).map(specOf)]));
// As found or as left: `left` is which of the two is written down now. A line of the acceptance run is written as left.
let left = false;
const runs = (spec) => spec.field.startsWith("acceptance.");
const asked = (spec) => (left ? spec.twice || runs(spec) : !runs(spec));
const kindOf = (row) => (row && jobs.plain(row.kind)) || "dc";
const suits = (of, row) => !of || of === kindOf(row);
const order = [...steps.keys()];
function rowsOf(each) {
  const rows = each ? jobs.found(raw(), each) : [];
  const both = left && each ? jobs.left(raw(), each).map((row, number) => rows[number] || row) : rows;
  return both.length ? both : [{}];
}
const placeOf = (spec, number, row, each) => ({
  row: number, state: spec.state || "", left: left && !runs(spec), holds: heldBy(each),
  named: spec.named ? (each === "coil" ? `${spec.named}, coil ${coilName(row, number)}` : spec.named) : "",
});
const heldBy = (each) => all(`[data-each="${each}"] [data-holds]`).map(({ dataset }) => dataset.field.split(".")[1]);
const coilName = (row, number) => jobs.plain(row.name) || "ab"[number] || String(number + 1);
const legend = (each, row, number) => (each === "coil" ? `Coil ${coilName(row, number)}` : jobs.plain(row.path) || `${each[0].toUpperCase()}${each.slice(1)} ${number + 1}`);
