// The bench sheet as a form: one stage at a time, each answer kept on the device as it is typed. It computes nothing:
// `benchJob` (assets/job.js) reads and judges. Whatever a reader, a link or a file brings is text here, never markup.
// API (global `shop.bench`) for job-file.js and job-verdicts.js; event bench:changed when an answer was given.
// ---- a stage
function fillStep(step) {
  const { each = "" } = step.dataset;
  const area = one(".step__fields", step);
  all(":scope > :not(.reading)", area).forEach((child) => child.remove());
  const specs = steps.get(step).filter(asked).flatMap(withResult);
  const rows = rowsOf(each);
  const fits = rows.map((row, number) => [row, number]).filter(([row]) => suits(step.dataset.of, row));
  step.hidden = !fits.length || (left && !specs.length);
  if (!left && steps.get(step).some(runs)) area.append(made("p", { class: "field__say no-print" }, WORDS.later));
  if (!specs.length) return;
  fits.forEach(([row, number]) => {
    const fields = specs.filter((spec) => suits(spec.of, row)).map((spec) =>
      field(spec, placeOf(spec, number, row, each), `in-${order.indexOf(step)}-${number}-${specs.indexOf(spec)}`));
    fields.forEach(tellWhy);
    const form = made("div", { class: "entries" }, fields);
    const verdicts = made("div", { class: "judged", "data-row": String(number) });
    if (!each) { area.append(form, verdicts); return; }
    const takeOut = ownRows(step) && jobs[left ? "left" : "found"](raw(), each)[number] ? made("p", {}, act("Take this one out", (event) => takeRow(event, each, number))) : "";
    area.append(made("fieldset", { class: "row" }, made("legend", {}, legend(each, row, number)), form, verdicts, takeOut));
  });
  if (ownRows(step) && !left) area.append(made("p", { class: "no-print" }, act(each === "coil" ? "Add a coil" : "Add another", () => addRow(each, step))));
}
// A line of the acceptance run has a result, and one that was not run its reason.
const withResult = (spec) => (!runs(spec) ? [spec] : [spec,
  { ...spec, field: "acceptance.result", kind: "choice", words: WORDS.results, label: "Result", say: "" },
  { ...spec, field: "acceptance.why", kind: "text", label: "Why it was not run", say: "" }]);
// Coils are added where their plates are read; a leakage, a drift, a loss where it is measured.
const ownRows = (step) => Boolean(step.dataset.each) && (step.dataset.each !== "coil" || step.dataset.step === "plates");
function addRow(each, step) {
  jobs.change((job) => {
    const before = jobs.rows(job[each]);
    const number = jobs.found(job, each).length;
    const blank = number ? [] : [each === "coil" ? { name: coilName({}, 0) } : {}];
    job[each] = [...before, ...blank, each === "coil" ? { name: coilName({}, number || 1) } : {}];
  });
  fill();
  const added = all(".row", step).pop();
  one("input, select", added).focus();
}
function takeRow(event, each, number) {
  sure(event.target.parentNode, "Take it out with all that was written down for it?", () => {
    jobs.change((job) => {
      const gone = jobs[left ? "left" : "found"](job, each)[number];
      job[each] = jobs.rows(job[each]).filter((row) => row !== gone);
      if (!job[each].length) delete job[each];
    });
    fill();
    changed();
  });
}
function sure(area, question, run) {
  const box = made("div", { class: "bench__sure", role: "group" }, made("p", {}, question),
    act("Yes", () => { box.remove(); run(); }), act("No", () => box.remove()));
  area.append(box);
  one("button", box).focus();
}
// Why a line was not run is asked where it was not run.
function tellWhy(box) {
  if (box.spec.field !== "acceptance.why") return;
  box.hidden = jobs.plain(jobs.get(raw(), "acceptance.result", box.place)) !== "not-run";
}
let now = stages[0];
const fillStage = (stage) => all(".step", stage).forEach(fillStep);
function fill() {
  fillStage(now);
  tellJob();
  document.dispatchEvent(new Event("bench:shown"));
}
// After the work only the stages count in which something is read again.
const counts = (stage) => (stage !== ownStage || Boolean(one(".step", stage))) && (!left || stage.dataset.id === "end" || all(".step", stage).some((step) => steps.get(step).some(asked)));
function show(place, move) {
  const [id, when] = place || [];
  left = when === "left";
  const on = stages.filter(counts);
  now = on.find((stage) => stage.dataset.id === id) || on[0];
  stages.forEach((stage) => stage.classList.toggle("is-now", stage === now));
  const told = (button, yes) => (yes ? button.setAttribute("aria-current", "step") : button.removeAttribute("aria-current"));
  all(".bench__stages .act").forEach((button, at) => {
    told(button, stages[at] === now);
    button.hidden = !counts(stages[at]);
  });
  all(".bench__when .act").forEach((button) => button.setAttribute("aria-pressed", String((button.dataset.do === "left") === left)));
  root.dataset.when = left ? "left" : "found";
  const at = on.indexOf(now);
  one('[data-do="back"]').disabled = at === 0;
  one('[data-do="next"]').textContent = at + 1 < on.length ? `Next: ${titleOf(on[at + 1])}` : "To the first stage";
  fill();
  if (!move) return;
  const heading = one("h2", now);
  heading.focus({ preventScroll: true });
  heading.scrollIntoView({ block: "start" });
}
const titleOf = (stage) => one("h2", stage).textContent;
one(".bench__stages").append(...stages.map((stage) => act(titleOf(stage), () => go(stage.dataset.id))));
function go(id, when = left ? "left" : "", move = true) {
  history.pushState(null, "", `#at=${id}${when ? `,${when}` : ""}`);
  show([id, when], move);
}
const step = (by) => {
  const on = stages.filter(counts);
  go(on[(on.indexOf(now) + by + on.length) % on.length].dataset.id);
};
const placed = () => { const found = /^#at=([\w-]+)(?:,(left))?$/.exec(location.hash); return found ? [found[1], found[2]] : null; };
addEventListener("popstate", () => show(placed(), true));

// ---- which job
const say = (text) => { one(".bench__said").textContent = text; };
function tellJob() {
  const job = jobs.open();
  root.dataset.open = job ? "yes" : "no";
  one(".bench__name span").textContent = job ? "Open:" : "No job is open.";
  one(".bench__name strong").textContent = job ? job.name : "";
  one('.bench__files [data-do="save"]').hidden = !job;
  const others = jobs.list().filter(({ key }) => !job || key !== job.key);
  one(".bench__others").replaceChildren(...(others.length ? [made("p", {}, job ? "Also on this device:" : "On this device:")] : []),
    ...others.map(({ key, name }) => act(name, () => {
      jobs.choose(key);
      one(".bench__files").open = false;
      say("");
      show(placed(), false);
      changed();
    })));
}
const acts = {
  begin() {
    jobs.begin();
    one(".bench__files").open = false;
    say("");
    go("job", "");
    changed();
  },
  back() { step(-1); },
  next() { step(1); },
  found() { go(now.dataset.id, "", false); changed(); },
  left() { go(now.dataset.id, "left", false); changed(); },
  print() { print(); },
  remove() {
    const job = jobs.open();
    sure(one(".bench__left"), `Take “${job.name}” off this device? What was not saved as a file is gone.`, () => {
      jobs.remove(job.key);
      say(`${job.name} is off this device.`);
      tellJob();
      one(".bench__files").open = true;
      root.scrollIntoView();
    });
  },
};
root.addEventListener("click", (event) => {
  const button = event.target.closest("[data-do]");
  if (button && acts[button.dataset.do]) acts[button.dataset.do]();
  else if (button) shop.load("assets/job-file.js").then(() => shop.bench.file(button.dataset.do)).catch(() => say("Not loaded: no reception?"));
});
one('input[type="file"]').addEventListener("change", ({ target }) => {
  const [file] = target.files;
  if (file) shop.load("assets/job-file.js").then(() => shop.bench.opened(file)).then(() => { target.value = ""; });
});

// ---- typing
const boxOf = (target) => (target.closest && target.closest(".field__in") ? target.closest(".field") : null);
root.addEventListener("input", ({ target }) => { const box = boxOf(target); if (box && box.spec) keep(box); });
root.addEventListener("change", ({ target }) => {
  const box = boxOf(target);
  if (!box || !box.spec) return;
  if (target.matches("select.unit")) shop.setUnit(...box.spec.pair.split("|"), target.value);
  keep(box);
  offerEarlier(box);
  if (runs(box.spec)) all(".field", box.parentNode).forEach(tellWhy);
  if (["coil.kind", "coil.name", "leakage.path", "drift.path", "loss.path"].includes(box.spec.field)) tellLegends();
});
// A kind or a name changes what other steps ask: they are made anew when they are looked at; here only the headings.
function tellLegends() {
  all(".row", now).forEach((row) => {
    const step = row.closest(".step"), number = Number(one(".judged", row).dataset.row);
    one("legend", row).textContent = legend(step.dataset.each, rowsOf(step.dataset.each)[number], number);
  });
}
root.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || event.isComposing || !event.target.matches(".field__in input")) return;
  event.preventDefault();
  const inputs = all(".bench__stage.is-now .field > .field__in > :is(input, select:not(.unit))");
  const after = inputs[inputs.indexOf(event.target) + 1];
  if (after) after.focus();
});
document.addEventListener("shop:units", () => { if (!shop.editing()) fill(); });
// Another page of ours has written: what stands here is old.
addEventListener("storage", (event) => { if (event.key && event.key.startsWith("valvecalc.job") && !shop.editing()) { fill(); changed(); } });
// Paper shows every stage, and a long text whole.
addEventListener("beforeprint", () => {
  root.dataset.paper = "yes";
  stages.forEach(fillStage);
  all("input.wide").forEach((input) => input.after(made("span", { class: "paper-only" }, input.value)));
  document.dispatchEvent(new Event("bench:shown"));
});
addEventListener("afterprint", () => { delete root.dataset.paper; fill(); });

shop.bench = { root, WORDS, all, one, made, act, raw, say, sure, show, go, fill, changed, tellJob, now: () => now, left: () => left, rowsOf, keep, hasUnit, specs: steps, ownSteps() { ownSteps(); show(placed(), false); } };
show(placed(), Boolean(placed()));
one(".bench__files").open = !jobs.open();
root.dataset.awake = "yes";
// Where a job is open the engine follows when the page stands; without reception it comes from the device's own store.
const judging = () => jobs.open() && shop.load("assets/job-verdicts.js").catch(() => say("The judging is not loaded: no reception?"));
addEventListener("load", judging);
document.addEventListener("bench:changed", judging);
