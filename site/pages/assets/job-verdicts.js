// What is judged, shown under its readings and together at the end; the gate of the stand; the figures of the set-up; what
// cannot be read, told where it stands. The numbers and the words come from `benchJob` and `valvecalc`.
(function () {
  "use strict";
  const { WORDS, all, one, made, act, raw, root, say, keep, hasUnit } = shop.bench;
  const ENGINE = ["assets/calculator.js", "assets/job.js"];
  const cap = (text) => text.slice(0, 1).toUpperCase() + text.slice(1);
  let asked = 0;

  // ---- a verdict in words
  function figure({ value, unit, uncertainty }) {
    if (typeof value !== "number") return String(value);
    const spread = uncertainty ? valvecalc.units.figure(uncertainty, 2) : "";
    // No more places than the uncertainty has.
    const number = spread && !spread.includes("e") ? value.toFixed((spread.split(".")[1] || "").length) : valvecalc.units.figure(value, 4);
    return `${number.replace(/^-/, "−")}${spread ? ` ± ${spread}` : ""}${unit ? ` ${unit}` : ""}`;
  }
  // The shop's own limits, by name, as shop.toml writes them.
  function ownLimits() {
    const own = shop.kept("limits");
    return shop.jobs.isTable(own) ? own : {};
  }
  const verdict = (word) => made("span", { class: `verdict ${word}` }, word.replace("-", " "));
  function needed(row) {
    const card = valvecalc.card(row.sheet);
    const judged = Object.keys(card.judged).flatMap((name) => [name, ...card.judged[name].slice(1).filter((end) => typeof end === "string")])
      .map((name) => (card.words[name] || {}).meaning);
    const lacks = row.answer.missing.filter(({ why }) => judged.includes(why)).map(({ entry }) => entry);
    return [...new Set(lacks)].map((name) => card.labels[name] || card.words[name].meaning);
  }
  const valueOf = (row) => (row.result ? figure(row.result) : row.text);
  function told(row) {
    if (row.errors) return [made("p", {}, `${cap(row.subject)}: ${row.errors.map((fault) => `${fault.entry.replace(/_/g, " ")} ${fault.got}: ${fault.need}`).join("; ")}.`)];
    if (!row.verdict) {
      const lacks = needed(row);
      return lacks.length ? [made("p", {}, `${cap(row.subject)}: not judged yet. Still needed: ${lacks.join(", ")}.`)] : [];
    }
    const means = row.answer && row.verdict === row.result?.verdict && (row.answer.meaning || []).find((one) => row.result && one.result === row.result.name);
    return [made("p", {}, `${cap(row.subject)}: ${valueOf(row)} `, verdict(row.verdict)), means ? made("p", {}, means.means) : ""].filter(Boolean);
  }
  // Under a reading stands its own verdict: of the readings as found, or as left.
  function tellStep(step, rows) {
    const sheets = WORDS.sheets[step.dataset.step] || [step.dataset.step];
    const states = new Set(shop.bench.specs.get(step).map((spec) => spec.state).filter(Boolean));
    const each = step.dataset.each;
    all(".judged", step).forEach((area) => {
      const number = Number(area.dataset.row);
      const own = each ? [shop.jobs.found(raw(), each)[number], shop.jobs.left(raw(), each)[number]].map((row) => JSON.stringify(row)) : [];
      const mine = rows.filter((row) => sheets.includes(row.sheet) && (!each || (row.table === each && own.includes(JSON.stringify(row.at)))) &&
        (row.sheet !== "shifted" || states.has(row.state)));
      area.replaceChildren(...mine.flatMap(told));
    });
  }
  // What was judged again stands below the first, with its verdict.
  function besides(row, again) {
    const later = again.find(({ subject, verdict: found }) => found && subject === row.subject);
    return later ? [made("p", { class: "judged__left" }, `As left: ${valueOf(later)} `, verdict(later.verdict))] : [];
  }
  function tellJudged(rows, again, lacking) {
    const side = shop.bench.left() ? again : rows;
    all(".step").forEach((step) => tellStep(step, side));
    const first = new Set(rows.filter((row) => row.verdict).map(({ subject }) => subject));
    const every = [
      ...rows.map((row) => [...told(row), ...(row.verdict ? besides(row, again) : [])]),
      ...again.filter((row) => (row.verdict && !first.has(row.subject)) || row.errors)
        .map((row) => told({ ...row, subject: `as left, ${row.subject}` })),
    ].filter((parts) => parts.length).map((parts) => made("div", { class: "judged" }, parts));
    const unknown = [...lacking].map((id) => `“${id}”`).join(", ");
    const own = Object.keys(ownLimits());
    one(".bench__judged").replaceChildren(
      ...(own.length ? [made("p", {}, `${WORDS.limits} ${own.join(", ")}.`)] : []),
      ...(unknown ? [made("p", {}, `${WORDS.tools} ${unknown}`)] : []),
      ...(every.length ? every : [made("p", {}, "Nothing yet: no reading is written down.")]));
  }

  // ---- the gate and the set-up
  function tellGate(tables) {
    const reasons = benchJob.closed(tables);
    all(".bench__shut").forEach((box) => {
      const stage = box.closest(".bench__stage");
      const begun = all(".step__fields .field", stage).some((field) => { const input = one("input, select:not(.unit)", field); return input.value && input.value.trim(); });
      box.hidden = !reasons.length;
      stage.classList.toggle("is-open", !reasons.length || begun);
      one("ul.with-script", box).replaceChildren(...reasons.map((reason) => made("li", {}, reason)));
    });
  }
  function tellSetUp(tables) {
    const { system } = shop.units();
    all(".step__at li:is([data-figure], [data-from])").forEach((line) => {
      const step = line.closest(".step");
      const coils = tables.many.coil.filter((coil) => !step.dataset.of || step.dataset.of === (coil.kind || "dc"));
      const ask = (coil) => (line.dataset.figure ? benchJob.figure(line.dataset.figure, tables, coil, system) : benchJob.from(line.dataset.from, tables, coil, system));
      const each = (coils.length ? coils : [null]).map((coil) => ({ coil, ...ask(coil) }));
      const text = (found) => found.text || `needs ${found.needs.join(", ")}`;
      const same = each.every((found) => text(found) === text(each[0]));
      // Whose the built figure is holds for that figure only.
      const figure = one("b", line), whose = figure.nextSibling;
      if (whose && line.dataset.built === undefined) Object.assign(line.dataset, { built: figure.textContent, whose: whose.textContent });
      const figures = same ? text(each[0]) : each.map((found) => `coil ${found.coil.name} ${text(found)}`).join("; ");
      figure.textContent = each[0].note ? `${figures}. ${each[0].note}` : figures;
      if (whose) whose.textContent = figures === line.dataset.built ? line.dataset.whose : "";
    });
  }

  // ---- what a reading is held against, worked from the others: with where it comes from and what it rests on
  function sideOf(tables, each, number) {
    if (!each) return [tables, null];
    const { jobs } = shop, later = shop.bench.left() && tables.left;
    const own = [jobs.left(raw(), each)[number], jobs.found(raw(), each)[number]].filter(Boolean).map((row) => JSON.stringify(row));
    const at = later ? later.raw[each].findIndex((row) => own.includes(JSON.stringify(row))) : -1;
    return at >= 0 ? [later, later.many[each][at]] : [tables, tables.many[each][number] || null];
  }
  function limitOf(held) {
    if (!held || (!held.limits.length && !held.expected && !held.needs.length)) return [];
    if (!held.limits.length && held.needs.length) return [made("p", { class: "field__say" }, `Limit: needs ${held.needs.join("; ")}.`)];
    const limits = held.limits.map(({ word, text }) => `${word} ${text}`).join(", ");
    const whose = held.whose ? ` (${held.whose})` : "";
    return [
      made("p", { class: "field__say" }, [limits ? `Wanted: ${limits}${whose}.` : "", held.expected ? `Expected: ${held.expected}${limits ? "" : whose}.` : ""].filter(Boolean).join(" ")),
      held.with.length ? made("details", {}, made("summary", {}, "Worked with"), made("p", {}, `${held.with.join("; ")}.`)) : "",
    ].filter(Boolean);
  }
  function tellLimits(tables) {
    const { system } = shop.units();
    all(root.dataset.paper ? ".field" : ".bench__stage.is-now .field").forEach((box) => {
      const step = box.closest(".step"), { each = "" } = step.dataset, { spec, place } = box;
      const [side, row] = sideOf(tables, each, place.row);
      const parts = limitOf(benchJob.held(step.dataset.step, spec, side, { each: row ? each : "", row, system }));
      const area = one(".field__limit", box);
      if (area.textContent !== parts.map((part) => part.textContent).join("")) area.replaceChildren(...parts);
    });
  }

  // ---- what cannot be read
  function wrongOf(box) {
    const { spec, place } = box;
    const value = shop.jobs.get(raw(), spec.field, place);
    if (value === undefined) return null;
    if (["quantity", "repeats", "date"].includes(spec.kind) || spec.field === "check.answer") {
      const [table] = spec.field.split(".").slice(-2);
      return benchJob.refusal(table, spec.field.slice(spec.field.lastIndexOf(".") + 1), value, spec.named);
    }
    const [table, key] = spec.field.split(".").slice(-2);
    const promised = table !== "intake" && !WORDS.quoted.includes(key) && /\bsafe(ly)?\b/i.test(shop.jobs.inWords(value));
    return promised ? { need: "what was tested", do: WORDS.promise, likely: [] } : null;
  }
  function tellWrong() {
    all(".bench__stage.is-now .field").forEach((box) => {
      const area = one(".field__wrong", box);
      const input = one("input, select:not(.unit)", box);
      const wrong = wrongOf(box);
      area.hidden = !wrong;
      if (!wrong) { input.removeAttribute("aria-invalid"); area.replaceChildren(); return; }
      input.setAttribute("aria-invalid", "true");
      const select = one("select.unit", box);
      const offered = select && hasUnit(input.value) ? wrong.likely.filter((unit) => [...select.options].some(({ text }) => text === unit)).slice(0, 3) : [];
      area.replaceChildren(made("p", {}, `Needed: ${wrong.need}. ${wrong.do}`), ...offered.map((unit) => act(unit, () => {
        select.value = unit;
        input.value = valvecalc.units.numberOf(input.value);
        keep(box);
        input.focus();
      })));
    });
  }

  async function judge() {
    if (!shop.jobs.open()) return;
    asked += 1;
    const mine = asked;
    await shop.load(...ENGINE);
    const tables = benchJob.read(raw(), (shop.kept("instruments") || []), ownLimits(), (shop.kept("checks") || []));
    await shop.load(...new Set([...benchJob.wants(tables), ...benchJob.sheets()].map((id) => `assets/calc/${id}.js`)));
    if (mine !== asked) return; // a later answer is on its way
    const options = { system: shop.units().system };
    const rows = benchJob.judged(tables, options);
    const again = tables.left ? benchJob.judged(tables.left, options) : [];
    tellWrong();
    tellGate(tables);
    tellSetUp(tables);
    tellLimits(tables);
    tellJudged(rows, again, tables.lacking);
    root.dataset.judged = String(mine);
  }
  const judged = () => judge().catch((fault) => {
    if (fault.message && fault.message.startsWith("assets/")) say("Not judged: its script is not on this device, and there is no reception.");
    else throw fault;
  });
  document.addEventListener("bench:changed", judged);
  document.addEventListener("bench:shown", judged);
  judged();
})();
