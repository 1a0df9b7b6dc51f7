// The fields of a calculator's form and what stands in them: fields to entries, entries to fields. What a reader or a link
// brings is text here, never markup. form.js answers with it.
shop.fields = (form, id) => {
  "use strict";
  const card = valvecalc.card(id);
  const all = (selector, root) => [...(root || form).querySelectorAll(selector)];
  const one = (selector, root) => (root || form).querySelector(selector);
  const rows = {}; // list entry -> its empty row, the pattern of new ones
  all(".rows").forEach((set) => { rows[set.dataset.entry] = one(".rows__row", set).cloneNode(true); });

  // A link drops blanks, also those within a word of a choice.
  const plain = (text) => text.replace(/\s/g, "");
  function choose(select, text) {
    const found = [...select.options].find((option) => plain(option.value) === plain(text));
    select.value = found ? found.value : text;
  }

  // ---- fields to entries -------------------------------------------------------------------------------------
  const hasUnit = (text) => /[^\d\s.,'’/+\-−±eE()k=%]/.test(text) || /%/.test(text);
  // "160 ± 2" with bar chosen is "160 bar ± 2 bar"; a unit typed into the field wins over the chosen one.
  function typed(input, unit, doubt) {
    const [main, ...spread] = input.value.split("±");
    if (!input.value.trim()) return "";
    const space = unit && unit.value === "°" ? "" : " ";
    const withUnit = (text) => text.trim() + (hasUnit(text) || !unit || !unit.value ? "" : space + unit.value);
    const spreads = [...spread, ...(doubt && doubt.value.trim() ? [doubt.value] : [])];
    return [withUnit(main), ...spreads.map(withUnit)].join(" ± ");
  }
  function readField(field) {
    const name = field.dataset.entry;
    if (card.rows[name]) return readRows(field);
    const input = one(`[name="${name}"]`, field);
    if (input.tagName === "SELECT") return input.value;
    return typed(input, one("select.unit", field), form.classList.contains("with-doubt") ? one(".field__doubt input", field) : null);
  }
  function readRows(field) {
    const units = all(".rows__head", field).map((head) => one("select.unit", head));
    const columns = card.rows[field.dataset.entry];
    const found = all(".rows__row", field).map((row) => {
      const cells = {};
      columns.forEach((column, i) => {
        const cell = one(`[name="${column}"]`, row);
        const text = cell.tagName === "SELECT" ? cell.value : typed(cell, units[i]);
        if (text) cells[column] = text;
      });
      return cells;
    });
    const filled = found.filter((cells) => Object.keys(cells).length);
    return filled.length ? filled : "";
  }
  function given() {
    const found = {};
    all(".field[data-entry]").forEach((field) => {
      const value = readField(field);
      if (value !== "") found[field.dataset.entry] = value;
    });
    return found;
  }

  // ---- entries to fields -------------------------------------------------------------------------------------
  function setUnit(select, unit) {
    if (!select || !unit) return;
    const option = all("option", select).find((each) => each.textContent === unit);
    if (option) select.value = option.value;
  }
  // A text that can be read is parted into number and unit; one that cannot stays whole, to be corrected in place.
  // What stands after ± goes to the field of its own where there is one.
  // A column has one unit choice, which its first row sets: in another unit the text of a later row stays whole.
  function put(input, select, text, name, { doubt, leads = true } = {}) {
    const [main, spread] = text.split("±");
    const parted = spread === undefined || doubt ? part(text, main, name) : null;
    input.value = text;
    if (!parted) return;
    if (leads) setUnit(select, parted.unit);
    if (parted.unit && !(select && select.value === parted.unit)) return;
    input.value = parted.number;
    if (spread === undefined) return;
    doubt.value = spread.trim().replace(/^([\d.,'/ e+-]*\d) *(\S.*)$/, "$1 $2");
    withDoubt(true);
  }
  function part(text, main, name) {
    try {
      const reading = valvecalc.units.read(text, name, valvecalc.word(name).dimension);
      return { number: valvecalc.units.numberOf(main), unit: reading.unit };
    } catch (refused) {
      return null;
    }
  }
  function withDoubt(on) {
    form.classList.toggle("with-doubt", on);
    one('[data-do="doubt"]').setAttribute("aria-pressed", String(on));
  }
  function fill(entries) {
    clear();
    Object.entries(entries).forEach(([name, value]) => {
      const field = all(".field[data-entry]").find((each) => each.dataset.entry === name);
      if (!field) return;
      field.closest("details")?.setAttribute("open", "");
      if (card.rows[name]) return fillRows(field, value);
      const input = one(`[name="${name}"]`, field);
      if (input.tagName === "SELECT") choose(input, value);
      else put(input, one("select.unit", field), String(value), name, { doubt: one(".field__doubt input", field) });
    });
  }
  // A list that cannot be read is left out; form.js says so.
  function rowsOf(name, value) {
    try {
      const list = typeof value === "string" ? valvecalc.rows(id, name, value) : value;
      return list.filter((cells) => cells && typeof cells === "object");
    } catch (refused) {
      return [];
    }
  }
  function fillRows(field, value) {
    const name = field.dataset.entry;
    const list = rowsOf(name, value);
    all(".rows__row", field).slice(1).forEach((row) => row.remove());
    list.forEach((cells, i) => {
      const row = i ? addRow(field) : one(".rows__row", field);
      card.rows[name].forEach((column, at) => {
        const cell = one(`[name="${column}"]`, row);
        const text = cells[column] === undefined || cells[column] === null ? "" : String(cells[column]);
        if (cell.tagName === "SELECT") choose(cell, text);
        else if (text) put(cell, one("select.unit", all(".rows__head", field)[at]), text, column, { leads: !i });
      });
    });
  }
  function addRow(field) {
    const row = rows[field.dataset.entry].cloneNode(true);
    const before = all(".rows__row", field);
    row.setAttribute("aria-label", `Row ${before.length + 1}`);
    before[before.length - 1].after(row);
    return row;
  }
  function clear() {
    all("input").forEach((input) => { input.value = ""; });
    all("select:not(.unit)").forEach((select) => { select.selectedIndex = 0; });
    all(".rows").forEach((set) => all(".rows__row", set).slice(1).forEach((row) => row.remove()));
  }

  const isList = (name, text) => rowsOf(name, text).length > 0;

  return { given, isList, fill, clear, put, typed, setUnit, hasUnit, addRow, withDoubt };
};
