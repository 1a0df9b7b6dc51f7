// "My valves": a list opened from a file, what is wrong in it, the valves, kept on the device until somebody removes them.
// It computes nothing: sizing reads the list.
(function () {
  "use strict";
  const area = document.querySelector(".stock");
  if (!area) return;
  const { el, act, link, table, symbol, later, painted, troubles, stock, opened, demoList, read, weight } = shop.size;
  const one = (selector) => area.querySelector(selector);
  const said = one(".stock__said"), file = one(".stock__file"), demo = one("[data-demo]");
  const kept = one(".stock__kept"), problems = one(".stock__problems");
  const AT_ONCE = 60; // valves, and faults, shown before somebody asks for the rest
  const NOT_KEPT = "There is no room to keep it on this device, or the browser does not let these pages: it stands here until " +
    "this page is left. “Which fits” can open the file by itself.";

  const ask = () => el("span", { class: "verdict ask" }, "ask");
  const count = (number, what) => `${number} ${what}${number === 1 ? "" : "s"}`;

  // What a list does when it is opened: read, kept if it can be read, shown.
  async function take(list, keep) {
    said.textContent = `Reading ${list.name} (${weight(list.text)}) …`;
    await painted();
    await shop.load("assets/size.js");
    let found;
    try { found = read(list); } catch (fault) {
      if (!(fault instanceof sizing.InputError)) throw fault;
      said.textContent = `Not read. ${troubles(fault).join(" ")}`;
      return;
    }
    const room = keep ? shop.keep("stock", list) : true;
    const from = list.date ? `${list.name}, opened ${list.date}` : list.name;
    said.textContent = `${count(found.valves.length, "valve")} from ${from}. ${room ? "Kept on this device." : NOT_KEPT}`;
    tellProblems(found.problems);
    tellValves(list, found.valves);
  }

  // ---- what is wrong in it
  function tellProblems(rows) {
    problems.replaceChildren();
    if (!rows.length) return;
    const rest = rows.length - AT_ONCE;
    const where = (row) => `Row ${row.row}${row.name ? ` (${row.name})` : ""}: ${row.column}`;
    const told = (some) => table(["Where", "Came", "Needed", "To do"], some.map((row) => [where(row), row.got, row.need, row.do]));
    problems.append(
      el("h2", {}, `${count(rows.length, "thing")} to put right in the list`),
      el("p", {}, "What is named here counts as unknown; all else is kept. Correct the file, then open it again."),
      told(rows.slice(0, AT_ONCE)));
    if (rest <= 0) return;
    const more = act(`Show the other ${rest}`, () => more.replaceWith(told(rows.slice(AT_ONCE))));
    problems.append(more);
  }

  // ---- the valves
  const positions = [["rest", "At rest"], ["on_a", "Coil a on"], ["on_b", "Coil b on"], ["crossing_a", "On the way to a"],
    ["crossing_b", "On the way to b"]];
  function inside(valve) {
    const rows = positions.filter(([key]) => valve.function[key] !== "").map(([key, words]) => {
      const text = valve.function[key];
      return [words, text === null ? ask() : `${sizing.position.words(sizing.position.read(text))} (${text})`];
    });
    const blank = Object.keys(sizing.columns).filter((key) => key !== "name" && valve[key] === null);
    return [symbol(valve), table(["Position", "Ports"], rows),
      blank.length ? el("p", { class: "quiet" }, `Blank in the list, asked for where a duty needs it: ${blank.join(", ")}.`) : ""];
  }
  function line(valve) {
    const about = [valve.shelf === null ? "shelf not known" : `shelf ${valve.shelf}`,
      valve.quantity === null ? "not counted" : `${valve.quantity} there`];
    const open = [["interface", valve.interface], ["function", valve.function.rest]];
    const told = open.map(([what, text]) => (text === null ? el("span", {}, `${what} `, ask()) : text === "" ? "no position of rest" : what === "function" ? `at rest ${text}` : text));
    return later(el("span", { class: "valve__line" }, el("strong", {}, valve.name), " ", el("small", {}, about.join(", ")), " ",
      el("small", {}, told[0], " · ", told[1])), () => inside(valve));
  }
  function tellValves(list, valves) {
    const rows = el("div", { class: "valves" }, valves.slice(0, AT_ONCE).map(line));
    const rest = valves.length - AT_ONCE;
    const more = rest > 0 ? act(`Show the other ${rest}`, () => { rows.append(...valves.slice(AT_ONCE).map(line)); more.remove(); }) : "";
    kept.replaceChildren(el("h2", {}, "The list"), el("p", {}, link("size/fits/", "Which of them fits")), rows, more, removal(list));
  }

  // Removing is asked about first: the file may be on another device.
  function removal(list) {
    const box = el("div", { class: "stock__remove no-print" });
    const first = act("Remove the list from this device", () => {
      const keepIt = act("Keep it", () => { box.replaceChildren(first); first.focus(); });
      box.replaceChildren(
        el("p", { role: "alert" }, `Remove ${list.name} from this device? The file itself stays where it is.`),
        el("p", { class: "entries__do" }, keepIt, act("Remove it", () => {
          shop.keep("stock", null);
          kept.replaceChildren();
          problems.replaceChildren();
          said.textContent = "Removed. No list is kept on this device.";
        })));
      keepIt.focus();
    });
    box.append(first);
    return box;
  }

  file.addEventListener("change", async () => {
    if (!file.files.length) return;
    said.textContent = `Reading ${file.files[0].name} …`;
    try { await take(await opened(file.files[0]), true); } catch (fault) {
      said.textContent = `Not read: ${fault.message}. No reception, or the file has been moved?`;
    }
    file.value = ""; // the same file, corrected, can be opened again
  });
  demo.addEventListener("click", async () => {
    if (stock() && !stock().demo) {
      said.textContent = "A list of yours is kept. Remove it first, below: the demo would take its place.";
      return;
    }
    said.textContent = "Reading the demo list …";
    try { await take(await demoList(), true); } catch (fault) { said.textContent = `Not read: ${fault.message}. No reception?`; }
  });
  const list = stock();
  if (list) take(list, false);
})();
