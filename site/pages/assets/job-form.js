// The bench sheet as a form: one stage at a time, each answer kept on the device as it is typed. It computes nothing:
// `benchJob` (assets/job.js) reads and judges. Whatever a reader, a link or a file brings is text here, never markup.
// API (global `shop.bench`) for job-file.js and job-verdicts.js; event bench:changed when an answer was given.
(function () {
  "use strict";
  const root = document.querySelector(".bench");
  if (!root) return;
  const jobs = shop.jobs;
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
  const specOf = (reading) => ({ ...reading.dataset, label: one("span", reading).textContent, say: (one("small", reading) || {}).textContent || "" });
  const steps = new Map(all(".step").map((step) => [step, all(".reading", step).map(specOf)]));
  const kindOf = (row) => (row && jobs.plain(row.kind)) || "dc";
  const suits = (of, row) => !of || of === kindOf(row);
  const order = [...steps.keys()];
  function rowsOf(each) {
    const rows = each ? jobs.found(raw(), each) : [];
    return rows.length ? rows : [{}];
  }
  const placeOf = (spec, number, row, each) => ({
    row: number, state: spec.state || "",
    named: spec.named ? (each === "coil" ? `${spec.named}, coil ${coilName(row, number)}` : spec.named) : "",
  });
  const coilName = (row, number) => jobs.plain(row.name) || "ab"[number] || String(number + 1);
  const legend = (each, row, number) => (each === "coil" ? `Coil ${coilName(row, number)}` : jobs.plain(row.path) || `${each[0].toUpperCase()}${each.slice(1)} ${number + 1}`);

  // ---- a text into number and unit, and back. What cannot be parted stays whole, to be corrected in place.
  const NUMBER = /^[\d.,'’ /+\-−]*\d(?:[eE][+-]?\d+)?/;
  const hasUnit = (text) => /[^\d\s.,'’/+\-−eE()k=]/.test(text);
  function parted(text, units) {
    const [main, ...doubt] = text.split(/±|\+\/?-/);
    const [number] = NUMBER.exec(main.trim()) || [""];
    const unit = main.trim().slice(number.length).trim();
    if (number && units.includes(unit)) return { number, unit, doubt: doubt.join("±").trim() };
    return { number: main.trim(), unit: "", doubt: doubt.join("±").trim() };
  }
  const joined = (text, unit) => (!text.trim() || hasUnit(text) || !unit ? text.trim() : `${text.trim()}${unit === "°" ? "" : " "}${unit}`);

  // ---- a field
  function field(spec, place, id) {
    const box = made("div", { class: "field" });
    Object.assign(box, { spec, place });
    box.append(made("label", { for: id }, spec.label), made("div", { class: "field__in" }, control(spec, place, id)));
    if (spec.say) box.append(made("p", { class: "field__say" }, spec.say));
    box.append(made("div", { class: "field__wrong", id: `${id}-wrong`, hidden: "hidden" }));
    return box;
  }
  function control(spec, place, id) {
    const value = jobs.get(raw(), spec.field, place);
    const text = jobs.plain(value);
    const words = spec.kind === "yes-no" ? ["yes", "no"] : (spec.words || "").split("|").filter(Boolean);
    if (words.length) {
      const select = made("select", { id }, made("option", { value: "" }, "not written down"), words.map((word) => made("option", {}, word)));
      if (text && !words.includes(text)) select.append(made("option", {}, text));
      select.value = text || "";
      return [select];
    }
    const input = made("input", { type: "text", id, "aria-describedby": `${id}-wrong`, autocapitalize: "off", autocomplete: "off", spellcheck: "false", enterkeyhint: "next", placeholder: " " });
    if (text === null) { // trials with instruments of their own: shown, and changed where the file is
      input.value = value.map((trial) => jobs.plain(trial)).join("; ");
      input.readOnly = true;
      return [input];
    }
    if (spec.kind !== "quantity" && spec.kind !== "repeats") {
      input.classList.add("wide");
      input.value = text;
      const now = spec.kind === "date" ? act("Now", () => { input.value = today(spec.field); keep(input.closest(".field")); }) : null;
      return [input, now].filter(Boolean);
    }
    input.inputMode = spec.kind === "repeats" || /gauge|temperature|difference/.test(spec.field) ? "text" : "decimal";
    const units = (spec.units || "").split("|").filter(Boolean);
    const told = text.includes(";") ? { number: text, unit: "", doubt: "" } : parted(text, units);
    input.value = told.number;
    if (!units.length) return [input];
    const [metric, us] = spec.pair.split("|");
    const select = made("select", { class: "unit", "aria-label": `Unit: ${spec.label}` }, units.map((unit) => made("option", {}, unit)));
    select.value = told.unit || shop.unit(metric, us);
    const doubt = made("input", { type: "text", inputmode: "text", autocomplete: "off", placeholder: " ", "aria-label": `How far it can be wrong: ${spec.label}` });
    doubt.value = told.doubt || (jobs.isTable(value) && !jobs.isMarked(value) ? jobs.plain(value.uncertainty) : "");
    return [input, select, made("span", { class: "field__doubt" }, "±", doubt)];
  }
  function today(name) {
    const now = new Date();
    const local = new Date(now - now.getTimezoneOffset() * 60000).toISOString();
    return name === "isolation.proved_at" ? local.slice(0, 16).replace("T", " ") : local.slice(0, 10);
  }

  // ---- what stands in a field, as it is kept
  function valueOf(box) {
    const { spec } = box;
    const control = one("input, select:not(.unit)", box);
    const text = control.value.trim();
    if (!text) return undefined;
    if (spec.kind === "yes-no") return text === "yes";
    if (spec.kind === "words") return text.split(";").map((part) => part.trim()).filter(Boolean);
    if (spec.kind !== "quantity" && spec.kind !== "repeats") return text;
    const select = one("select.unit", box);
    const unit = select ? select.value : "";
    const doubt = one(".field__doubt input", box);
    const whole = (part) => [joined(part.split("±")[0], unit), ...part.split("±").slice(1).map((more) => joined(more, unit))].join(" ± ");
    const each = (spec.kind === "repeats" ? text.split(";") : [text]).filter((part) => part.trim()).map(whole);
    const error = doubt && doubt.value.trim() ? joined(doubt.value, unit) : "";
    const old = jobs.get(raw(), spec.field, box.place);
    if (jobs.isTable(old) && !jobs.isMarked(old) && each.length === 1) {
      const { uncertainty, ...rest } = old;
      return { ...rest, value: each[0], ...(error ? { uncertainty: error } : {}) };
    }
    if (error) each[0] += ` ± ${error}`;
    return each.length === 1 ? each[0] : each;
  }
  let later = 0;
  function keep(box) {
    const { spec, place } = box;
    const control = one("input, select:not(.unit)", box);
    if (control.readOnly) return;
    const value = valueOf(box);
    const each = spec.field.split(".")[0];
    const done = jobs.change((job) => {
      jobs.put(job, spec.field, place, value);
      if (each !== "coil" || value === undefined) return;
      const coil = jobs.found(job, "coil")[place.row];
      if (coil.name === undefined) coil.name = coilName({}, place.row);
    });
    if (!done) say("Not kept on this device: there is no room, or the browser forbids it. Save the job file.");
    tellJob();
    clearTimeout(later);
    later = setTimeout(changed, 250);
  }
  const changed = () => document.dispatchEvent(new Event("bench:changed"));

  // ---- a stage
  function fillStep(step) {
    const { each = "" } = step.dataset;
    const area = one(".step__fields", step);
    all(":scope > :not(.reading)", area).forEach((child) => child.remove());
    const specs = steps.get(step);
    const rows = rowsOf(each);
    const fits = rows.map((row, number) => [row, number]).filter(([row]) => suits(step.dataset.of, row));
    step.hidden = !fits.length;
    fits.forEach(([row, number]) => {
      const fields = specs.filter((spec) => suits(spec.of, row)).map((spec) =>
        field(spec, placeOf(spec, number, row, each), `in-${order.indexOf(step)}-${number}-${specs.indexOf(spec)}`));
      const form = made("div", { class: "entries" }, fields);
      const verdicts = made("div", { class: "judged", "data-row": String(number) });
      if (!each) { area.append(form, verdicts); return; }
      const takeOut = ownRows(step) && jobs.found(raw(), each).length ? made("p", {}, act("Take this one out", (event) => takeRow(event, each, number))) : "";
      area.append(made("fieldset", { class: "row" }, made("legend", {}, legend(each, row, number)), form, verdicts, takeOut));
    });
    if (ownRows(step)) area.append(made("p", { class: "no-print" }, act(each === "coil" ? "Add a coil" : "Add another", () => addRow(each, step))));
  }
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
        const gone = jobs.found(job, each)[number];
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
  let now = stages[0];
  const fillStage = (stage) => all(".step", stage).forEach(fillStep);
  function fill() {
    fillStage(now);
    tellJob();
    document.dispatchEvent(new Event("bench:shown"));
  }
  function show(id, move) {
    now = stages.find((stage) => stage.dataset.id === id) || stages[0];
    stages.forEach((stage) => stage.classList.toggle("is-now", stage === now));
    all(".bench__stages .act").forEach((button, at) => {
      if (stages[at] === now) button.setAttribute("aria-current", "step");
      else button.removeAttribute("aria-current");
    });
    const at = stages.indexOf(now);
    one('[data-do="back"]').disabled = at === 0;
    one('[data-do="next"]').textContent = at + 1 < stages.length ? `Next: ${titleOf(stages[at + 1])}` : "To the first stage";
    fill();
    if (!move) return;
    const heading = one("h2", now);
    heading.focus({ preventScroll: true });
    heading.scrollIntoView({ block: "start" });
  }
  const titleOf = (stage) => one("h2", stage).textContent;
  one(".bench__stages").append(...stages.map((stage) => act(titleOf(stage), () => go(stage.dataset.id))));
  function go(id) {
    history.pushState(null, "", `#at=${id}`);
    show(id, true);
  }
  const placed = () => (/^#at=([\w-]+)$/.exec(location.hash) || [])[1];
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
      go("job");
      changed();
    },
    back() { go(stages[Math.max(0, stages.indexOf(now) - 1)].dataset.id); },
    next() { go(stages[(stages.indexOf(now) + 1) % stages.length].dataset.id); },
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
  const boxOf = (target) => target.closest && target.closest(".field");
  root.addEventListener("input", ({ target }) => { const box = boxOf(target); if (box && box.spec) keep(box); });
  root.addEventListener("change", ({ target }) => {
    const box = boxOf(target);
    if (!box || !box.spec) return;
    if (target.matches("select.unit")) shop.setUnit(...box.spec.pair.split("|"), target.value);
    keep(box);
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
    if (event.key !== "Enter" || event.isComposing || !event.target.matches(".field input")) return;
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
    stages.forEach(fillStage);
    all("input.wide").forEach((input) => input.after(made("span", { class: "paper-only" }, input.value)));
    document.dispatchEvent(new Event("bench:shown"));
  });
  addEventListener("afterprint", fill);

  shop.bench = { root, WORDS, all, one, made, act, raw, say, sure, show, go, fill, changed, tellJob, now: () => now, keep, hasUnit, specs: steps };
  show(placed(), Boolean(placed()));
  one(".bench__files").open = !jobs.open();
  root.dataset.awake = "yes";
  // The engine follows when the page stands; without reception it comes from the device's own store.
  addEventListener("load", () => shop.load("assets/job-verdicts.js").catch(() => say("The judging is not loaded: no reception?")));
})();
