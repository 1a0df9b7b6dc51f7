// The duty form: one question at a time, its answers kept on the device at each touch. It computes nothing: `sizing`
// (assets/size.js) says what cannot be read. Whatever a reader, a link or a file brings is text here, never markup.
// API (global `shop.asks`) for size-end.js; event size:shown when a screen has been put up or an answer was given.
(function () {
  "use strict";
  const root = document.querySelector(".asks");
  if (!root || !window.sizing) return;
  const all = (selector, from = root) => [...from.querySelectorAll(selector)];
  const one = (selector, from = root) => from.querySelector(selector);
  const sections = all(".ask");
  const UNKNOWN = JSON.parse(root.dataset.unknown);
  const REPEATED = ["cylinder", "motor"];
  const NAMES = { cylinder: "Cylinder", motor: "Motor" };

  function made(tag, attributes, ...children) {
    const element = document.createElement(tag);
    Object.entries(attributes).forEach(([name, value]) => element.setAttribute(name, value));
    element.append(...children);
    return element;
  }
  const act = (words, run) => {
    const button = made("button", { type: "button", class: "act" }, words);
    button.addEventListener("click", run);
    return button;
  };

  // ---- answers: tables of texts as in a duty file; cylinders and motors are lists of such tables ----------------
  const isTable = (value) => Boolean(value) && typeof value === "object" && !Array.isArray(value);
  const texts = (table) => Object.fromEntries(Object.entries(table).map(([key, value]) =>
    [key, typeof value === "boolean" ? (value ? "yes" : "no") : typeof value === "number" ? String(value) : value]));
  function plain(found) {
    const tables = Object.entries(isTable(found) ? found : {}).map(([name, value]) => {
      if (!REPEATED.includes(name)) return [name, isTable(value) ? texts(value) : value];
      return [name, (Array.isArray(value) ? value : [value]).filter(isTable).map(texts)];
    });
    return Object.fromEntries(tables);
  }
  let raw = plain(shop.kept("duty"));
  const keep = () => shop.keep("duty", raw) === false && shop.say("Not kept on this device: save the answers as a file.", true);
  const parted = (entry) => { const at = entry.indexOf("."); return [entry.slice(0, at), entry.slice(at + 1)]; };
  const rows = (table) => raw[table] || [];
  function tableOf(table, number) {
    if (REPEATED.includes(table)) return rows(table)[number - 1] || {};
    return isTable(raw[table]) ? raw[table] : {};
  }
  function answer(entry, number) {
    const [table, key] = parted(entry);
    const found = tableOf(table, number)[key];
    return typeof found === "string" ? found : "";
  }
  function put(entry, number, text) {
    const [table, key] = parted(entry);
    const row = tableOf(table, number);
    if (text.trim()) row[key] = text.trim();
    else delete row[key];
    if (!REPEATED.includes(table)) raw[table] = row;
    keep();
  }
  const isUnknown = (text) => UNKNOWN.includes(text.trim().toLowerCase());
  const saysUnknown = (entry, number) => Boolean(answer(entry, number)) && isUnknown(answer(entry, number));
  const isKnown = (entry, number) => Boolean(answer(entry, number)) && !isUnknown(answer(entry, number));
  // What a text comes to, so that NG10 and ISO 4401-05 are one answer.
  function sense(entry, text) {
    const [table, key] = parted(entry);
    const { duty } = sizing.readDuty({ [table]: { [key]: text } });
    const row = REPEATED.includes(table) ? duty[`${table}s`][0] : duty.tables[table];
    return row && row[key];
  }

  // ---- which questions are asked, in which order ------------------------------------------------------------------
  const entriesOf = (section) => (section.dataset.entries || "").split(" ").filter(Boolean);
  const tableOfSection = (section) => {
    const [table] = parted(section.dataset.id);
    return REPEATED.includes(table) ? table : "";
  };
  function holds([entry, word], number) {
    const text = answer(entry, number);
    if (!isKnown(entry, number) || word === "known") return isKnown(entry, number);
    return word === "zero" ? parseFloat(text.replace(",", ".")) === 0 : text.toLowerCase() === word;
  }
  const conditions = (text) => Object.entries(JSON.parse(text || "{}"));
  // One that holds an answer already is asked all the same: nothing that was said may get out of sight.
  function isAsked(section, number) {
    const { when, unless } = section.dataset;
    return entriesOf(section).some((entry) => isKnown(entry, number)) ||
      (conditions(when).every((pair) => holds(pair, number)) && !conditions(unless).some((pair) => holds(pair, number)));
  }
  let forced = null; // a question that a link asked for, though it need not be asked
  const isSame = (a, b) => Boolean(b) && a.section === b.section && a.number === b.number;
  function screens() {
    const found = [];
    for (let at = 0; at < sections.length;) {
      const table = tableOfSection(sections[at]);
      let end = at + 1;
      while (table && end < sections.length && tableOfSection(sections[end]) === table) end += 1;
      const numbers = table ? rows(table).map((_, place) => place + 1) : [0];
      const block = sections.slice(at, end).filter((section) => section.dataset.id !== "end");
      numbers.forEach((number) => block.forEach((section) => {
        const screen = { section, number };
        if (isAsked(section, number) || isSame(screen, forced)) found.push(screen);
      }));
      at = end;
    }
    return found;
  }
  const named = (entry, number) => (number ? entry.replace(".", ` ${number}.`) : entry);
  const idOf = ({ section, number }) => named(section.dataset.id, number);
  const titleOf = ({ section, number }) => {
    const table = tableOfSection(section);
    return (table && rows(table).length > 1 ? `${NAMES[table]} ${number}: ` : "") + section.dataset.ask;
  };
  sections.forEach((section) => { section.dataset.ask = one("h2", section).textContent; });
  let saidAll = false;
  const hasRows = () => REPEATED.some((table) => rows(table).length);
  function isOpen({ section, number }) {
    if (section.dataset.id === "moves") return !hasRows();
    if (section.dataset.id === "more") return !saidAll;
    return entriesOf(section).every((entry) => !answer(entry, number));
  }
  // "pump.flow", "cylinder 1.hanging", "end": the screen that it stands on.
  function found(id) {
    const [label, key] = parted(id);
    const [table, place] = label.split(" ");
    const section = sections.find((each) => each.dataset.id === id || entriesOf(each).includes(`${table}.${key}`));
    if (!section) return null;
    const repeated = tableOfSection(section);
    const number = repeated ? Number(place || 1) : 0;
    return repeated && !rows(repeated)[number - 1] ? { section: sections[0], number: 0 } : { section, number };
  }

  // ---- a screen -----------------------------------------------------------------------------------------------
  let now = null, later = 0;
  function show(id, move) {
    clearTimeout(later);
    const listed = screens();
    now = found(id) || listed.find(isOpen) || listed[0];
    if (now.section.dataset.id !== "end" && !listed.some((each) => isSame(each, now))) forced = now;
    sections.forEach((section) => section.classList.toggle("is-now", section === now.section));
    const heading = one("h2", now.section);
    heading.textContent = titleOf(now);
    fill();
    tellPlace();
    if (!move) return;
    heading.focus({ preventScroll: true });
    root.scrollIntoView({ block: "start" });
  }
  function tellPlace() {
    const listed = screens();
    const at = listed.findIndex((each) => isSame(each, now));
    const bar = one(".asks__where progress");
    one(".asks__where p").textContent = at < 0 ? "Answer" : `${now.section.dataset.group} · ${at + 1} of ${listed.length}`;
    bar.max = listed.length;
    bar.value = at < 0 ? listed.length : at + 1;
    one('.asks__nav [data-do="next"]').hidden = one('[data-do="end"]').hidden = at < 0;
    const asks = one('[data-do="unknown"]');
    asks.hidden = at < 0 || (hasRows() && ["moves", "more"].includes(now.section.dataset.id));
    const entries = entriesOf(now.section);
    asks.setAttribute("aria-pressed", entries.length > 0 && entries.every((entry) => saysUnknown(entry, now.number)));
    document.dispatchEvent(new Event("size:shown"));
  }
  function fill(spare = null) {
    const { section, number } = now;
    all("[data-boxes]", section).forEach(drawBoxes);
    all("[data-put]", section).forEach((button) => {
      const { entry } = button.closest("[data-entry]").dataset;
      const said = isKnown(entry, number) ? sense(entry, answer(entry, number)) : undefined;
      button.setAttribute("aria-pressed", said !== undefined && said === sense(entry, button.dataset.put));
    });
    all(".field[data-entry]", section).forEach((field) => {
      const text = answer(field.dataset.entry, number);
      if (one("input", field) !== spare) fillField(field, isUnknown(text) ? "" : text);
    });
    all(".asks__rows", section).forEach(tellRows);
    check();
  }
  function drawBoxes(place) {
    if (place.children.length) return;
    place.dataset.boxes.split(";").forEach((position) => {
      const drawn = all("li[data-position]").find((each) => each.dataset.position === position);
      const inside = drawn ? [...drawn.cloneNode(true).children] : [made("span", {}, "It has no such position")];
      place.append(made("button", { type: "button", class: "box", "data-put": position }, ...inside));
    });
  }
  // A figure and its unit part; what cannot be read stays whole, to be corrected in place.
  function fillField(field, text) {
    const [table, key] = parted(field.dataset.entry);
    const input = one("input", field);
    const select = one("select", field);
    input.value = text;
    if (!select) return;
    select.value = shop.unit(...select.dataset.pair.split("|"));
    if (!text || text.includes("±")) return;
    try {
      const { unit } = sizing.units.read(text, key, sizing.fields[table][key].words[0]);
      if (!all("option", select).some((option) => option.value === unit)) return;
      select.value = unit;
      input.value = sizing.units.numberOf(text);
    } catch (refused) { /* told below the field */ }
  }
  const hasUnit = (text) => /[^\d\s.,'’/+\-−±eE()k=]/.test(text);
  function typed(field) {
    const text = one("input", field).value.trim();
    const select = one("select", field);
    return text && select && !hasUnit(text) ? text.split("±").map((part) => `${part.trim()} ${select.value}`).join(" ± ") : text;
  }
  function tellRows(place) {
    const list = made("ul", {});
    REPEATED.forEach((table) => rows(table).forEach((row, at) => {
      const name = `${NAMES[table]} ${at + 1}`;
      const item = made("li", {}, made("span", {}, name));
      const off = () => { rows(table).splice(at, 1); keep(); show(now.section.dataset.id, true); };
      const remove = act("Remove", () => (Object.keys(row).length ? sure(item, `Remove ${name} with its answers?`, off) : off()));
      remove.setAttribute("aria-label", `Remove ${name}`);
      item.append(remove);
      list.append(item);
    }));
    place.replaceChildren(...(list.children.length ? [list] : []));
    all("[data-add]", place.parentNode).forEach((button) => {
      const { add: table, first, more } = button.dataset;
      one("strong", button).textContent = rows(table).length ? more : first;
    });
  }
  function sure(place, question, yes) {
    const box = made("div", { class: "asks__sure", role: "group", "aria-label": question }, made("p", {}, question));
    const no = act("No, keep it", () => { box.remove(); });
    box.append(act("Yes", () => { box.remove(); yes(); }), no);
    all(".asks__sure", place).forEach((old) => old.remove());
    place.append(box);
    no.focus();
  }

  // ---- faults, in place -----------------------------------------------------------------------------------------
  function check() {
    const { section, number } = now;
    const told = [];
    const { troubles } = sizing.readDuty(raw);
    all(".field[data-entry]", section).forEach((field) => {
      const { entry } = field.dataset;
      const box = one(".field__wrong", field);
      const text = answer(entry, number);
      const fault = (text && sizing.refusal(...parted(entry), text)) || (text && troubles.find((each) => each.entry === named(entry, number)));
      const input = one("input", field);
      box.hidden = !fault;
      if (!fault) { box.replaceChildren(); input.removeAttribute("aria-invalid"); return; }
      input.setAttribute("aria-invalid", "true");
      box.replaceChildren(made("p", {}, `Needed: ${fault.need}. ${fault.do}`));
      (fault.likely || []).slice(0, 3).forEach((word) => box.append(act(word, () => {
        put(entry, number, one("select", field) ? `${sizing.units.numberOf(text)} ${word}` : word);
        fill();
        input.focus();
      })));
      told.push(input);
    });
    return told;
  }

  // ---- ways -----------------------------------------------------------------------------------------------------
  function go(id) {
    history.pushState(null, "", `#q=${encodeURIComponent(id)}`);
    show(id, true);
  }
  // On to the next question without an answer: who comes back to change one thing is not led through all the others.
  function next() {
    const listed = screens();
    const at = listed.findIndex((each) => isSame(each, now));
    saidAll = saidAll || now.section.dataset.id === "more";
    const open = listed.slice(at + 1).find(isOpen);
    go(open ? idOf(open) : "end");
  }
  function add(table) {
    raw[table] = [...rows(table), {}];
    keep();
    const first = screens().find((each) => tableOfSection(each.section) === table && each.number === rows(table).length);
    go(idOf(first));
  }
  const acts = {
    "open-ones"() { go(idOf(screens().find(isOpen))); },
    next() { const [wrong] = check(); if (wrong) wrong.focus(); else next(); },
    back() {
      if (history.length > 1) return history.back();
      const listed = screens();
      return go(idOf(listed[Math.max(0, listed.findIndex((each) => isSame(each, now)) - 1)]));
    },
    end() { go("end"); },
    // Fills what is empty; where nothing is, all of the screen becomes unknown. A valve moves something, so it is a cylinder.
    unknown() {
      const entries = entriesOf(now.section);
      if (!entries.length) return add("cylinder");
      const empty = entries.filter((entry) => !answer(entry, now.number));
      (empty.length ? empty : entries).forEach((entry) => put(entry, now.number, "unknown"));
      fill();
      return acts.next();
    },
  };
  root.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    const { do: name, put: text, add: table } = button ? button.dataset : {};
    if (table) return void add(table);
    if (name && acts[name]) return void acts[name]();
    if (text === undefined) return;
    const place = button.closest("[data-entry]");
    put(place.dataset.entry, now.number, text);
    fill();
    tellPlace();
    if (!("stays" in place.dataset)) next();
  });
  const store = (field) => { put(field.dataset.entry, now.number, typed(field)); tellPlace(); };
  root.addEventListener("input", (event) => {
    const field = event.target.closest(".field[data-entry]");
    if (!field || event.target.tagName !== "INPUT") return;
    store(field);
    if (event.target.hasAttribute("aria-invalid")) check();
  });
  root.addEventListener("change", (event) => {
    const field = event.target.closest(".field[data-entry]");
    if (!field) return;
    if (event.target.tagName === "SELECT") shop.setUnit(...event.target.dataset.pair.split("|"), event.target.value);
    store(field);
    // Not at once: a fault that opens between the finger's down and up would push the button away from under it.
    clearTimeout(later);
    later = setTimeout(() => fill(document.activeElement), 300);
  });
  root.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || event.isComposing || !event.target.matches(".field input")) return;
    event.preventDefault();
    const inputs = all(".field input", now.section);
    const after = inputs[inputs.indexOf(event.target) + 1];
    if (after) after.focus();
    else acts.next();
  });
  document.addEventListener("shop:units", () => { if (!shop.editing()) fill(); });

  function arrive(move) {
    const asked = /^#q=(.+)$/.exec(location.hash);
    let id = "";
    try { id = asked ? decodeURIComponent(asked[1]) : ""; } catch (fault) { /* no address of ours */ }
    show(id, move);
  }
  function take(duty) {
    [raw, saidAll, forced] = [plain(duty), false, null];
    keep();
  }
  addEventListener("popstate", () => arrive(true));
  shop.asks = {
    root, raw: () => raw, now: () => now, take, answer, isKnown, saysUnknown, rows, found, screens, isSame, entriesOf, named, idOf,
    titleOf, isOpen, go, made, act, sure,
  };
  arrive(Boolean(location.hash));
  root.dataset.awake = "yes";
})();
