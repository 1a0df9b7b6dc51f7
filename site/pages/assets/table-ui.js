// The page of a table: rows found by words, sorted by a column, figures in the shop's units. It computes nothing: the figures
// of both unit systems stand in the page.
(function () {
  "use strict";
  const table = document.querySelector("article .table");
  if (!table) return;
  const body = table.tBodies[0], rows = [...body.rows], heads = [...table.tHead.rows[0].cells];
  const names = heads.map((head) => head.firstChild.textContent.trim());

  // ---- units: a column follows the switch where it has a US unit
  const figures = [...table.querySelectorAll("[data-us]")].map((place) =>
    ({ place, column: place.closest("th, td").cellIndex, metric: place.textContent, us: place.dataset.us }));
  function turn() {
    const units = shop.units();
    const us = heads.map(({ dataset }) => {
      const [metric, other] = (dataset.units || "").split("|");
      return other && shop.unit(metric, other, units) === other;
    });
    for (const one of figures) one.place.textContent = us[one.column] ? one.us : one.metric;
    words.clear();
    look();
  }

  // ---- rows that hold every word that was typed, whole where a row has it whole, else its beginning; 1,78 is 1.78
  const field = document.querySelector("#rows"), told = document.querySelector(".field [role=status]");
  const plain = (text) => text.toLowerCase().replace(/(\d),(?=\d)/g, "$1.").split(/[\s/]+/)
    .map((word) => word.replace(/^[^\p{L}\p{N}]+/u, "")).filter(Boolean);
  const words = new Map();
  function wordsOf(row) {
    if (!words.has(row)) words.set(row, plain([...row.cells].map((cell) => cell.textContent).join(" ")));
    return words.get(row);
  }
  function look() {
    if (!field) return;
    const wanted = plain(field.value);
    let left = rows;
    for (const word of wanted) {
      const whole = left.filter((row) => wordsOf(row).includes(word));
      left = whole.length ? whole : left.filter((row) => wordsOf(row).some((own) => own.startsWith(word)));
    }
    const shown = new Set(left);
    for (const row of rows) row.hidden = !shown.has(row);
    told.textContent = wanted.length ? `${left.length} of ${rows.length} rows` : `${rows.length} rows`;
  }

  // ---- order: figures before words, and what is not known always last
  const { compare } = new Intl.Collator("en", { numeric: true });
  const value = (row, column) => row.cells[column].textContent.trim();
  function order(one, other) {
    const [a, b] = [Number(one), Number(other)];
    if (Number.isNaN(a) || Number.isNaN(b)) return Number.isNaN(a) - Number.isNaN(b) || compare(one, other);
    return a - b;
  }
  function sort(head) {
    const column = head.cellIndex, down = head.getAttribute("aria-sort") === "ascending";
    for (const one of heads) one.removeAttribute("aria-sort");
    head.setAttribute("aria-sort", down ? "descending" : "ascending");
    const known = rows.filter((row) => value(row, column) !== "–");
    known.sort((a, b) => (down ? -1 : 1) * order(value(a, column), value(b, column)));
    body.append(...known, ...rows.filter((row) => value(row, column) === "–"));
    shop.say(`Sorted by ${names[column]}, ${down ? "largest" : "smallest"} first`);
  }
  const SIGNS = { ascending: " ▲", descending: " ▼" };
  const sign = (head) => { head.querySelector("[aria-hidden]").textContent = SIGNS[head.getAttribute("aria-sort")] || " ↕"; };
  if (!table.matches(".stack")) {
    for (const head of heads) {
      const button = document.createElement("button"), mark = document.createElement("span");
      button.type = "button";
      mark.setAttribute("aria-hidden", "true");
      button.append(...head.childNodes, mark);
      head.append(button);
      sign(head);
    }
    table.tHead.addEventListener("click", (event) => {
      const head = event.target.closest("th");
      if (!head) return;
      sort(head);
      heads.forEach(sign);
    });
  }

  if (field) field.addEventListener("input", look);
  document.addEventListener("shop:units", turn);
  turn();
})();
