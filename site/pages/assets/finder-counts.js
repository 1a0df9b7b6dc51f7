// The shop's own cases in the fault finder: the file that `valvecalc history FOLDER --counts FILE` writes, kept on this device and
// weighed in by finder.js. Nothing leaves the device; what a file says is looked up among the known ids or shown as text.
// API (global `finderCounts`): of(symptom), said(symptom), control(made, symptom, changed).
globalThis.finderCounts = (() => {
  "use strict";
  const model = finder.knowledge(finderModel);
  const isTable = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
  const known = (table, id) => Object.prototype.hasOwnProperty.call(table, id);
  const cases = (n) => typeof n === "number" && n >= 0 && n < 1e6;

  // Why a file is none of counts; "" where it is one.
  function fault(tables) {
    const own = Object.keys(tables).filter((symptom) => known(model.symptoms, symptom));
    if (!own.length) return "it names no complaint of the fault finder";
    for (const symptom of own) {
      if (!isTable(tables[symptom])) return `${symptom} is no table of cause = cases`;
      for (const [cause, n] of Object.entries(tables[symptom])) {
        if (!known(model.causes, cause)) return `${symptom}: ${cause} is no cause that the fault finder knows`;
        if (!cases(n)) return `${symptom}: ${cause} is no number of cases`;
      }
    }
    return "";
  }

  // What is kept: { name, date, tables }; null without one, or where it is not ours.
  function kept() {
    const found = shop.kept("counts");
    return isTable(found) && isTable(found.tables) && !fault(found.tables) ? found : null;
  }
  const of = (symptom) => { const found = kept(); return found ? found.tables[symptom] || {} : null; };
  const total = (row) => Object.values(row).reduce((sum, n) => sum + n, 0);
  const file = (found) => `${found.name} of ${found.date}`;

  // How far the order rests on them: twin of diagnosis/told.py; "" without a file.
  function said(symptom) {
    const found = kept();
    if (!found) return "";
    const n = total(of(symptom));
    return n ? `${n} own cases of this complaint are weighed in; the coarse weights count as ${model.scale.repair.file_cases} cases. (${file(found)})`
      : `No own case of this complaint: the order rests on the coarse weights alone. (${file(found)})`;
  }

  async function opened(chosen) {
    await shop.load("assets/toml.js");
    let tables;
    try { tables = tomlReader.parse(new TextDecoder("utf-8", { fatal: true }).decode(await chosen.arrayBuffer()).replace(/\r\n/g, "\n")); } catch (trouble) {
      return "it is no TOML that can be read";
    }
    const why = fault(tables);
    const own = Object.fromEntries(Object.entries(tables).filter(([symptom]) => known(model.symptoms, symptom)));
    if (!why) shop.keep("counts", { name: chosen.name, date: new Date(chosen.lastModified).toISOString().slice(0, 10), tables: own });
    return why;
  }

  // The quiet place for it: `made` makes an element, `changed` shows the case anew.
  function control(made, symptom, changed) {
    const found = kept();
    const pick = made("input", { type: "file", hidden: "hidden", accept: ".toml,text/plain", "aria-label": "The shop's counted cases" });
    const told = made("p", { role: "status" }, found ? `Known here: ${file(found)}.` : "");
    pick.addEventListener("change", () => opened(pick.files[0]).then((why) => {
      if (why) told.textContent = `${pick.files[0].name} is not taken: ${why}.`;
      else changed();
      pick.value = "";
    }, () => { told.textContent = "Not read: its script is not on this device, and there is no reception."; }));
    const act = (words, run) => made("button", { type: "button", class: "door--small", onclick: run }, words);
    return made("details", {}, made("summary", {}, "The shop's own cases"),
      made("p", {}, "A desk counts them from the shop's jobs: valvecalc history FOLDER --counts FILE. They shift what is asked first; they stay on this device."),
      told, pick, act(found ? "Open another file" : "Open the file", () => pick.click()),
      found ? act("Take it off this device", () => { shop.keep("counts", null); changed(); }) : "");
  }

  return { of, said, control };
})();
