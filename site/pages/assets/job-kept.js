// The jobs that the device keeps, and what stands in one: tables as in a job file. Nothing leaves the device, and whatever
// a reader or a file brings is text here, never markup. A job is a key of its own in the store: an answer writes that job
// alone, in one step, and what was there stays if there is no room.
// API (global `shop.jobs`): list, open, raw, change, begin, choose, remove, name, stored, rows, found, get, put, plain.
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
  const text = (value) => (isMarked(value) ? String(value.$[1]) : typeof value === "string" || typeof value === "number" ? String(value) : "");
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
  const asFound = (row) => row.when !== "as-left";
  // The rows of a table that are as found, the very objects.
  const found = (raw, table) => rows(raw[table]).filter(asFound);
  const HEAD = "job", REPEATED = ["coil", "leakage", "drift", "loss", "acceptance", "part", "torque_done", "ring"];
  // The row that a field stands in; made where `make` says so. at: { row: number of the row, state, named }.
  function rowOf(raw, field, at, make) {
    const path = field.split(".");
    const table = path[0];
    if (table === HEAD) return raw;
    if (at.named) return named(raw, table, at.named, make);
    let row = found(raw, table)[at.row || 0];
    if (!row && make) {
      row = {};
      if (raw[table] === undefined) raw[table] = REPEATED.includes(table) ? [row] : row;
      else raw[table] = [...rows(raw[table]), row];
    }
    if (!row || path.length < 3) return row;
    const trials = rows(row[path[1]]).filter(asFound);
    const state = at.state || "";
    let trial = trials.find((one) => (one.state || "") === state);
    if (!trial && make) {
      trial = { state };
      row[path[1]] = [...rows(row[path[1]]), trial];
    }
    return trial;
  }
  // Rows that a word names: a line of the acceptance run, a part, a torque.
  const NAMES = { acceptance: "test", part: "name", torque_done: "what" };
  function named(raw, table, word, make) {
    const key = NAMES[table];
    let row = found(raw, table).find((one) => one[key] === word);
    if (!row && make) {
      row = { [key]: word };
      raw[table] = [...rows(raw[table]), row];
    }
    return row;
  }
  const keyOf = (field) => field.slice(field.lastIndexOf(".") + 1);
  function get(raw, field, at = {}) {
    const row = rowOf(raw, field, at, false);
    return row ? row[keyOf(field)] : undefined;
  }
  // undefined takes it out; a row that holds nothing any more goes too.
  function put(raw, field, at, value) {
    const key = keyOf(field);
    const row = rowOf(raw, field, at, value !== undefined);
    if (!row) return;
    if (value !== undefined) { row[key] = value; return; }
    delete row[key];
    const path = field.split(".");
    const bare = (one) => Object.keys(one).every((left) => ["state", NAMES[path[0]]].includes(left));
    if (path.length === 3) {
      const coil = found(raw, path[0])[at.row || 0];
      coil[path[1]] = rows(coil[path[1]]).filter((one) => one !== row || !bare(one));
      if (!coil[path[1]].length) delete coil[path[1]];
    } else if (at.named && bare(row)) raw[path[0]] = rows(raw[path[0]]).filter((one) => one !== row);
    else if (path[0] !== HEAD && !REPEATED.includes(path[0]) && bare(row) && isTable(raw[path[0]])) delete raw[path[0]];
    if (Array.isArray(raw[path[0]]) && !raw[path[0]].length) delete raw[path[0]];
  }
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

  return { list, open, change, begin, choose, remove, stored: () => stored, rows, found, get, put, plain, isTable, isMarked, REPEATED };
})();
