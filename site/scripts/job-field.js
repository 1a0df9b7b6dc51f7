// One field of the bench form: its control, what stands in it, and the place where that is kept.
// ---- a field
function field(spec, place, id) {
  const box = made("div", { class: "field" });
  Object.assign(box, { spec, place, before: jobs.get(raw(), spec.field, place) });
  box.append(made("label", { for: id }, spec.label), made("div", { class: "field__in" }, control(spec, place, id)));
  const own = jobs.inWords(box.before);
  const beside = spec.twice ? jobs.inWords(jobs.get(raw(), spec.field, { ...place, left: !left })) : "";
  const other = spec.holds && beside === own ? "" : beside;
  [spec.say, other ? `${left ? "As found" : "As left"}: ${other}` : ""].filter(Boolean).forEach((say) => box.append(made("p", { class: "field__say" }, say)));
  box.append(made("div", { class: "field__limit" }), made("p", { class: "field__say field__earlier" }, earlierOf(box.before)));
  box.append(made("div", { class: "field__wrong", id: `${id}-wrong`, hidden: "hidden" }));
  return box;
}
function control(spec, place, id) {
  const value = jobs.get(raw(), spec.field, place);
  const text = jobs.plain(value);
  const words = spec.kind === "yes-no" ? ["yes", "no"] : (spec.words || "").split("|").filter(Boolean);
  if (words.length) {
    const none = Object.assign(made("option", {}, "not written down"), { value: "" });
    const select = made("select", { id }, none, words.map((word) => made("option", {}, word)));
    if (text && !words.includes(text)) select.append(made("option", {}, text));
    select.value = text || "";
    return [select];
  }
  const input = made("input", { type: "text", id, "aria-describedby": `${id}-wrong`, autocapitalize: "off", autocomplete: "off", spellcheck: "false", enterkeyhint: "next", placeholder: " " });
  if (text === null) { // trials with instruments of their own: shown, and changed where the file is
    input.value = jobs.inWords(value);
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

// ---- what stands in a field, as it is kept: the instrument of a reading and what was corrected stay with it
const valueOf = (box) => jobs.instead(box.before, typedIn(box));
function typedIn(box) {
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
  const old = box.before;
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
    const later = jobs.left(job, each)[place.row];
    jobs.put(job, spec.field, place, value);
    // What was read again follows the name of what it belongs to.
    if (later && !place.left && NAMING.includes(spec.field)) {
      if (value === undefined) delete later[spec.field.split(".")[1]];
      else later[spec.field.split(".")[1]] = jobs.plain(value);
    }
    if (value === undefined) return;
    const run = runs(spec) && spec.say ? jobs.found(job, each).find(({ test }) => test === place.named) : null;
    if (run && run.limit === undefined) run.limit = spec.say.replace(/^Wanted: /, "");
    if (each !== "coil") return;
    [jobs.found(job, each)[place.row], jobs.left(job, each)[place.row]].filter((coil) => coil && coil.name === undefined)
      .forEach((coil) => { coil.name = coilName(jobs.found(job, each)[place.row] || {}, place.row); });
  });
  if (!done) say("Not kept on this device: there is no room, or the browser forbids it. Save the job file.");
  tellJob();
  clearTimeout(later);
  later = setTimeout(changed, 250);
}

// ---- a value that stood here before and is another now: a slip of typing, or a correction that keeps the earlier one
const earlierOf = (value) => (jobs.isCorrected(value)
  ? `Earlier: ${[value.earlier].flat().map((each) => jobs.plain(each)).join("; then ")} (${[value.why, value.by, value.at].map((each) => jobs.plain(each)).filter(Boolean).join(", ")})`
  : "");
// What other things are found by is written anew, not corrected.
const NAMING = ["job.id", "coil.name", "leakage.path", "drift.path", "loss.path"];
function offerEarlier(box) {
  const { spec, place, before } = box;
  const now = jobs.get(raw(), spec.field, place);
  const offer = one(".field__mend", box);
  const stood = before === undefined ? "" : jobs.inWords(before);
  const same = now === undefined || !stood || jobs.inWords(now) === stood;
  if (offer) offer.remove();
  if (same || NAMING.includes(spec.field)) return;
  const why = made("input", { type: "text", "aria-label": `Why it is corrected: ${spec.label}`, placeholder: " " });
  box.append(made("div", { class: "field__mend" }, made("p", {}, `Here stood ${stood}. A correction keeps it, with its reason.`),
    made("label", {}, "Why it is corrected", why), act("Keep both", () => {
      if (!why.value.trim()) { why.setAttribute("aria-invalid", "true"); why.focus(); return; }
      jobs.change((job) => jobs.put(job, spec.field, place, jobs.corrected(before, jobs.get(job, spec.field, place), why.value.trim(), today("day"))));
      box.before = jobs.get(raw(), spec.field, place);
      one(".field__earlier", box).textContent = earlierOf(box.before);
      one(".field__mend", box).remove();
      changed();
    })));
}
const changed = () => document.dispatchEvent(new Event("bench:changed"));
