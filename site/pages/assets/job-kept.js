// The jobs that the device keeps, and what stands in one: tables as in a job file. Nothing leaves the device, and whatever
// a reader or a file brings is text here, never markup. A job is a key of its own in the store: an answer writes that job
// alone, in one step, and what was there stays if there is no room.
// API (global `shop.jobs`): list, open, raw, change, begin, choose, remove, name, stored, rows, found, left, get, put, plain, inWords, instead, corrected, parted, joined, hasUnit.
shop.jobs = (() => {
  "use strict";
  const PREFIX = "valvecalc.jobs.";
  const memory = new Map(); // where the store is blocked or full: for as long as the page stands
  const isTable = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
  const isMarked = (value) => isTable(value) && Array.isArray(value.$);

  // ---- the store
  function read(key) {
    if (memory.has(key)) return memory.get(key);
    try {
      const found = JSON.parse(localStorage.getItem(PREFIX + key));
      return isTable(found) ? found : null;
    } catch (fault) { return null; }
  }
  let stored = true;
  function write(key, raw) {
    try {
      localStorage.setItem(PREFIX + key, JSON.stringify(raw));
      memory.delete(key);
      stored = true;
    } catch (fault) {
      memory.set(key, raw);
      stored = false;
    }
    return stored;
  }
  function keys() {
    const found = new Set(memory.keys());
    try {
      for (let at = 0; at < localStorage.length; at += 1) {
        const key = localStorage.key(at);
        if (key.startsWith(PREFIX)) found.add(key.slice(PREFIX.length));
      }
    } catch (fault) { /* blocked */ }
    return [...found];
  }

  // ---- jobs
  const text = (value) => (isTable(value) && !isMarked(value) ? text(value.value) : isMarked(value) ? String(value.$[1]) : typeof value === "string" || typeof value === "number" ? String(value) : "");
  const name = (raw, key) => [text(raw.id), text(raw.title) || text(raw.machine)].filter((part) => part.trim()).join(", ") || `Job begun ${key.slice(0, 16).replace("T", " ")}`;
  function list() {
    return keys().sort().reverse().map((key) => ({ key, raw: read(key) })).filter(({ raw }) => raw)
      .map(({ key, raw }) => ({ key, name: name(raw, key) }));
  }
  // The one that is open: { key, name, raw }, null without one.
  function open() {
    const kept = shop.kept("job");
    const key = kept && typeof kept.key === "string" ? kept.key : null;
    const raw = key === null ? null : read(key);
    return raw ? { key, raw, name: name(raw, key) } : null;
  }
  function tell(key, raw) {
    const now = { key, name: name(raw, key) }, before = shop.kept("job") || {};
    if (stored && (before.key !== now.key || before.name !== now.name)) shop.keep("job", now);
  }
  function begin(raw = {}) {
    const now = new Date();
    const local = new Date(now - now.getTimezoneOffset() * 60000).toISOString().slice(0, 19);
    let key = local;
    for (let n = 2; read(key); n += 1) key = `${local}-${n}`;
    write(key, raw);
    tell(key, raw);
    return key;
  }
  function choose(key) { const raw = read(key); if (raw) tell(key, raw); }
  function remove(key) {
    memory.delete(key);
    try { localStorage.removeItem(PREFIX + key); } catch (fault) { /* blocked */ }
    const kept = shop.kept("job");
    if (kept && kept.key === key) shop.keep("job", null);
  }
  // The open job read anew, changed, and written: two pages that are open at a time lose nothing of each other.
  function change(run) {
    const now = open();
    if (!now) return false;
    run(now.raw);
    const done = write(now.key, now.raw);
    tell(now.key, now.raw);
    return done;
  }

  // ---- what stands in one. A field is "table.key", of the head "job.key", below a coil "coil.pickup.key".
  const rows = (value) => (Array.isArray(value) ? value : value === undefined ? [] : [value]).filter(isTable);
  const isLeft = (row) => row.when === "as-left";
  // The rows of a table that are as found, the very objects.
  const found = (raw, table) => rows(raw[table]).filter((row) => !isLeft(row));
  const HEAD = "job", REPEATED = ["coil", "leakage", "drift", "loss", "acceptance", "part", "torque_done", "ring", "check"];
  const BELOW = ["pickup", "push"];
  // Rows that a word names: a line of the acceptance run, a part, a torque, an answer to a check of the shop.
  const NAMES = { acceptance: "test", part: "name", torque_done: "what", check: "id" };
  const calledBy = (table) => (table === "coil" ? "name" : "path");
  // The rows as left: for each row as found the one of its name, or undefined; then those that have none. Of a single table one.
  function left(raw, table) {
    const rest = rows(raw[table]).filter(isLeft);
    if (!REPEATED.includes(table)) return rest;
    const key = calledBy(table);
    const own = found(raw, table).map((row) => {
      const at = rest.findIndex((one) => text(one[key]) === text(row[key]));
      return at < 0 ? undefined : rest.splice(at, 1)[0];
    });
    return [...own, ...rest];
  }
  // ---- where a field stands: { row, owner, list }; the row is made where `make` says so.
  // at: { row: number of the row, state, named, left: as left, holds: keys that the work does not change }
  function added(owner, list, row) {
    if (owner[list] === undefined) owner[list] = REPEATED.includes(list) || BELOW.includes(list) || row.when ? [row] : row;
    else owner[list] = [...rows(owner[list]), row];
    return row;
  }
  function spot(raw, field, at, make) {
    const path = field.split("."), [table] = path, number = at.row || 0;
    if (table === HEAD) return { row: raw };
    if (at.named) {
      const key = NAMES[table];
      const among = at.left ? rows(raw[table]).filter(isLeft) : found(raw, table);
      const blank = { [key]: at.named, ...(at.left ? { when: "as-left" } : {}) };
      const row = among.find((one) => one[key] === at.named) || (make ? added(raw, table, blank) : undefined);
      return { row, owner: raw, list: table };
    }
    const own = found(raw, table)[number];
    let row = own;
    if (at.left) row = left(raw, table)[number];
    if (path.length > 2) return trial(raw, path, at, { own, row }, make);
    if (!row && make) row = added(raw, table, at.left ? again(table, own, at) : {});
    return { row, owner: raw, list: table };
  }
  // A row as left begins with what the work does not change.
  function again(table, own, { holds = [] }) {
    const kept = REPEATED.includes(table) && own ? [calledBy(table), ...holds].filter((key) => own[key] !== undefined) : [];
    return { ...Object.fromEntries(kept.map((key) => [key, own[key]])), when: "as-left" };
  }
  // A trial of a coil by its state. As left it stands in the row as left, or in the coil's own and is marked itself.
  function trial(raw, [table, list], at, { own, row }, make) {
    const state = at.state || "";
    const among = (owner, of) => (owner ? rows(owner[list]).filter(of).find((one) => (one.state || "") === state) : undefined);
    const places = at.left ? [[row, () => true], [own, isLeft]] : [[row, (one) => !isLeft(one)]];
    for (const [owner, of] of places) {
      const there = among(owner, of);
      if (there) return { row: there, owner, list };
    }
    if (!make) return {};
    const owner = row || added(raw, table, at.left ? again(table, own, at) : {});
    return { row: added(owner, list, state ? { state } : {}), owner, list };
  }
  const keyOf = (field) => field.slice(field.lastIndexOf(".") + 1);
  function get(raw, field, at = {}) {
    const { row } = spot(raw, field, at, false);
    return row ? row[keyOf(field)] : undefined;
  }
  // undefined takes it out; a row that holds nothing any more goes too, save one that was added as a row.
  function put(raw, field, at, value) {
    const key = keyOf(field);
    const { row, owner, list } = spot(raw, field, at, value !== undefined);
    if (!row) return;
    if (value !== undefined) { row[key] = value; return; }
    delete row[key];
    if (owner) cleared(raw, { row, owner, list }, at);
  }
  function cleared(raw, { row, owner, list }, at) {
    const told = ["state", "when", NAMES[list], list === "acceptance" ? "limit" : "", isLeft(row) ? calledBy(list) : "", ...(at.holds || [])];
    const stays = owner === raw && REPEATED.includes(list) && !at.named && !isLeft(row);
    if (stays || !Object.keys(row).every((one) => told.includes(one))) return;
    const rest = rows(owner[list]).filter((one) => one !== row);
    if (rest.length && Array.isArray(owner[list])) owner[list] = rest;
    else delete owner[list];
    if (owner !== raw && isLeft(owner)) cleared(raw, { row: owner, owner: raw, list: "coil" }, {});
  }
  // ---- what was corrected: { value, earlier: [what stood there], why, by, at } beside what else the reading carries
  const HISTORY = ["earlier", "why", "by", "at"];
  const isCorrected = (value) => isTable(value) && Object.hasOwn(value, "earlier");
  // A new value in the place of one that was corrected: what stood there earlier stays told.
  function instead(old, value) {
    if (!isCorrected(old) || value === undefined) return value;
    const history = Object.fromEntries(HISTORY.filter((key) => old[key] !== undefined).map((key) => [key, old[key]]));
    return { ...(isTable(value) && !isMarked(value) ? value : { value }), ...history };
  }
  // A value that corrects another, with the reason and the day.
  function corrected(old, value, why, day) {
    const before = isCorrected(old) ? [old.earlier].flat() : [];
    const whys = isCorrected(old) && text(old.why) ? [text(old.why), why] : [why];
    const now = isTable(value) && !isMarked(value) ? value : { value };
    return { ...now, earlier: [...before, plain(old) ?? inWords(old)], why: whys.join("; "), at: { $: ["date", day] } };
  }
  // A value as text, trials with instruments of their own too.
  const inWords = (value) => plain(value) ?? (Array.isArray(value) ? value : value.value).map(inWords).join("; ");
  // A value as text for a field; null where the form cannot show it whole.
  function plain(value) {
    if (value === undefined || value === null) return "";
    if (typeof value === "boolean") return value ? "yes" : "no";
    if (Array.isArray(value)) {
      const each = value.map(plain);
      return value.some((one) => isTable(one) && !isMarked(one)) || each.includes(null) ? null : each.join("; ");
    }
    if (isMarked(value)) return String(value.$[1]).replace("T", " ");
    if (isTable(value)) return plain(value.value);
    return String(value);
  }

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

  return { list, open, change, begin, choose, remove, stored: () => stored, rows, found, left, get, put, plain, inWords, instead, corrected, isCorrected, isTable, isMarked, isLeft, parted, joined, hasUnit, REPEATED };
})();
