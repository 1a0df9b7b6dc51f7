// The valves and the duty that the device keeps for the sizing pages, and the few things these pages are built of.
// Whatever a reader or a file brings is text here, never markup. Nothing leaves the device.
shop.size = (() => {
  "use strict";
  // ---- elements
  function el(tag, attributes, ...children) {
    const made = document.createElement(tag);
    Object.entries(attributes || {}).forEach(([name, value]) => {
      if (typeof value === "function") made.addEventListener(name, value);
      else made.setAttribute(name, value);
    });
    made.append(...children.flat(9).filter((child) => child !== null && child !== undefined && child !== ""));
    return made;
  }
  const act = (words, click) => el("button", { type: "button", class: "act", click }, words);
  const link = (path, words) => el("a", { href: shop.page(path) }, words);
  const caution = (...texts) => el("div", { class: "caution" }, texts.map((text) => el("p", {}, text)));
  const bullets = (texts) => (texts.length ? el("ul", {}, texts.map((text) => el("li", {}, text))) : "");
  const folded = (summary, ...body) => el("details", {}, el("summary", {}, summary), ...body);
  // The same as marks.table: cards on a phone, a table above that.
  function table(heads, rows) {
    const line = (row) => el("tr", { role: "row" }, row.map((cell, at) => (at
      ? el("td", { role: "cell", "data-head": heads[at] }, cell) : el("th", { scope: "row", role: "rowheader" }, cell))));
    return el("table", { class: "stack", role: "table", tabindex: 0 },
      el("thead", { role: "rowgroup" }, el("tr", { role: "row" }, heads.map((head) => el("th", { scope: "col", role: "columnheader" }, head)))),
      el("tbody", { role: "rowgroup" }, rows.map(line)));
  }
  // The same as marks.grid: keeps its shape and scrolls sideways within.
  const grid = (heads, rows, title) => el("div", { class: "scroll", tabindex: 0, role: "group", "aria-label": title },
    el("table", {}, el("thead", {}, el("tr", {}, heads.map((head) => el("th", { scope: "col" }, head)))),
      el("tbody", {}, rows.map((row) => el("tr", {}, row.map((cell) => el("td", {}, cell)))))));
  // A symbol that sizing drew, which escapes every word; its title and description need ids of their own on a page that
  // may hold the same symbol twice.
  let symbols = 0;
  function symbol({ function: given, operator, stage }, caption = "") {
    const drawn = sizing.symbol(given, operator, stage);
    if (!drawn) return "";
    const figure = el("figure", { class: "symbol" });
    figure.innerHTML = drawn;
    symbols += 1;
    const told = [...figure.querySelectorAll("title, desc")];
    told.forEach((one, at) => { one.id = `symbol-${symbols}-${at}`; });
    figure.firstChild.setAttribute("aria-labelledby", told.map(({ id }) => id).join(" "));
    if (caption) figure.prepend(el("figcaption", {}, caption));
    return figure;
  }
  // Details that are filled when they are opened: for hundreds of valves most never are.
  function later(summary, fill) {
    const made = folded(summary);
    made.addEventListener("toggle", () => made.append(...[fill()].flat(9)), { once: true });
    return made;
  }
  // What a thumb has done is painted before the work begins.
  const painted = () => new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
  const troubles = (fault) => fault.troubles.map((one) => `${one.entry}: got ${one.got}, need ${one.need}. ${one.do}`);

  // ---- what the machine asks, as the form keeps it: tables of texts; null while nothing is answered
  function duty() {
    const kept = shop.kept("duty");
    return kept && typeof kept === "object" && !Array.isArray(kept) && Object.keys(kept).length ? kept : null;
  }

  // ---- the list
  function stock() {
    const kept = shop.kept("stock");
    return kept && typeof kept.text === "string" && typeof kept.name === "string" ? kept : null;
  }
  function decoded(bytes) {
    try {
      return { text: new TextDecoder("utf-8", { fatal: true }).decode(bytes), western: false };
    } catch (fault) { // five bytes have no letter in that table; the browser would leave control characters there
      const text = new TextDecoder("windows-1252").decode(bytes).replace(/[\x81\x8d\x8f\x90\x9d]/g, "\ufffd");
      return { text, western: true };
    }
  }
  async function opened(file) {
    const today = new Date();
    const date = [today.getFullYear(), today.getMonth() + 1, today.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
    return { name: file.name, date, ...decoded(await file.arrayBuffer()) };
  }
  async function demoList() {
    await shop.load("assets/size-demo.js");
    return { ...sizeDemo.stock, demo: true };
  }
  // { valves, problems }; throws sizing.InputError where no list can be read at all.
  const read = (list) => sizing.readStock(list.text, list.name, Boolean(list.western));
  const weight = (text) => (text.length < 1e6 ? `${Math.ceil(text.length / 1e3)} kB` : `${(text.length / 1e6).toFixed(1)} MB`);

  return { el, act, link, caution, bullets, folded, table, grid, symbol, later, painted, troubles, duty, stock, opened, demoList, read, weight };
})();
