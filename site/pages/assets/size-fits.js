// "Which fits": the kept list judged against the kept duty, or the demo's. It computes nothing: sizing does, and the cards
// are those of sitegen/size_worked.py. The answer as text is size-report.js.
(function () {
  "use strict";
  const area = document.querySelector(".fits");
  if (!area) return;
  const { el, act, link, caution, bullets, folded, grid, table, symbol, later, painted, troubles, duty, stock, opened, demoList, read } = shop.size;
  const yours = area.querySelector(".fits__yours");
  const said = el("p", { role: "status" });
  const body = el("div", {});
  yours.append(said, body);
  const AT_ONCE = 10; // candidates told before somebody asks for more: their sentences cost more than the judging
  const IN_FULL = 3; // leaders with every reason, and every rule on paper; of the others a few reasons
  const CLOSEST = 3; // rules named of a valve that fits
  const DEMO = /^#demo=([\w-]+)$/;

  const halves = (value, power) => Math.floor(value * power + 0.5) / power; // as the pages are built: halves upward
  const decimal = (value) => (value === null ? "–" : halves(value, 10).toFixed(1));
  const percent = (share) => `${halves(100 * share, 1)} %`;
  const mark = (word) => el("span", { class: `verdict ${word}` }, word);
  const VERDICT = { accept: "fits", ask: "asks", reject: "does not fit" };

  // ---- one candidate
  // What would drop or drive a load is said first.
  const isLoud = ({ sentence }) => sentence.startsWith("REFUSED");
  function reasons(row) {
    if (row.verdict === "accept") return [[], closest(row).map((rule) => rule.sentence)];
    const told = row.rules.filter((rule) => rule.verdict === row.verdict);
    return [told.filter(isLoud), told.filter((rule) => !isLoud(rule))].map((rules) => rules.map((rule) => rule.sentence));
  }
  const closest = (row) => row.rules.filter((rule) => rule.margin !== null && rule.margin >= row.margin)
    .sort((a, b) => a.margin - b.margin).slice(0, CLOSEST);
  function about(row) {
    const open = row.verdict !== "reject";
    return [row.shelf ? `shelf ${row.shelf}` : "shelf not known", row.quantity === null ? "not counted" : `${row.quantity} there`,
      row.interface || "mounting not known", open && row.loss !== null ? `costs the pump ${decimal(row.loss)} ${row.loss_unit}` : "",
      open && row.price !== null ? `price ${row.price}` : ""].filter(Boolean).join(", ");
  }
  function drawn(tag, attributes, ...children) {
    const made = document.createElementNS("http://www.w3.org/2000/svg", tag);
    Object.entries(attributes).forEach(([name, value]) => made.setAttribute(name, value));
    made.append(...children);
    return made;
  }
  function inHand(row) {
    if (row.margin === null || row.verdict === "reject") return "";
    const width = Math.min(Math.max(halves(100 * row.margin, 1), 0), 100);
    const bar = drawn("svg", { viewBox: "0 0 100 8", preserveAspectRatio: "none", "aria-hidden": "true" },
      drawn("rect", { width: 100, height: 8, class: "empty" }), drawn("rect", { width, height: 8, class: "full" }));
    return el("p", { class: "valve__margin" }, bar, ` smallest margin ${percent(row.margin)}`);
  }
  function card(row, place) {
    const [loud, why] = reasons(row);
    const full = place < IN_FULL && row.verdict !== "reject";
    const all = full ? folded("Every rule, and what each movement costs", everything(row))
      : later("Every rule, and what each movement costs", () => everything(row));
    return el("section", { class: "valve" },
      el("h3", {}, mark(row.verdict), " ", row.id), loud.map((text) => caution(text)),
      el("p", { class: "valve__about" }, about(row)), inHand(row),
      bullets(place < IN_FULL || why.length <= CLOSEST ? why : [...why.slice(0, CLOSEST - 1), `and ${why.length - CLOSEST + 1} more, see every rule.`]), el("div", { class: full ? "" : "no-print" }, all));
  }
  function everything(row) {
    const told = row.rules.map((rule) => [
      [mark(rule.verdict), " ", rule.title], rule.need || "–", rule.has || "–",
      rule.margin === null ? "–" : percent(rule.margin), rule.sentence]);
    return [functions(row), table(["Rule", "Needs", "Has", "In hand", "It says"], told), losses(row)];
  }
  // Where the ports do something else, or may: what is needed and what is there.
  function functions(row) {
    if (row.rules.some((rule) => rule.rule === "function" && rule.verdict === "accept")) return "";
    return el("div", { class: "symbols" }, symbol(asked.old, "Needed: the old valve"), symbol(row.symbol, `There: ${row.id}`));
  }
  function losses(row) {
    if (!row.movements.length) return "";
    const cost = (state) => (state ? [state.in, state.out, state.felt, state.pump].map(decimal) : ["–", "–", "–", "–"]);
    const [{ flow_unit: flow, pressure_unit: pressure, heat_unit: heat }] = row.movements;
    const heads = ["Movement", "Paths", `In ${flow}`, `Back ${flow}`, ...["warm", "cold"].flatMap((oil) =>
      ["in", "out", "felt", "pump"].map((what) => `${what} ${pressure}, ${oil}`)), `Heat ${heat}`];
    const rows = row.movements.map((one) => [one.movement, one.paths.map((path) => path.toUpperCase().split("").join("–")).join(", "),
      decimal(one.inlet_flow), decimal(one.return_flow), ...cost(one.warm), ...cost(one.cold), one.heat === null ? "–" : String(halves(one.heat, 1))]);
    return [el("h4", {}, "What each movement costs"), grid(heads, rows, `Losses of ${row.id}`),
      el("p", { class: "quiet" }, "in, out: lost on the way in and on the way back. felt: both together as the pump feels them. pump: pressure at P.")];
  }

  // ---- the answer
  let asked = null; // { raw, duty, faults, list, valves, problems, demo, old: the old valve as it is drawn }
  function answer(most = AT_ONCE) {
    const { duty, valves, problems } = asked;
    const { system } = shop.units();
    const told = sizing.size(duty, valves, problems, { most, system });
    asked.old = told.old;
    area.dataset.state = "yours";
    body.replaceChildren(...[
      told.cautions.filter((text) => ![...document.querySelectorAll("article > .caution")].some((box) => box.textContent === text)).map((text) => caution(text)),
      el("p", { class: "fits__head" }, told.headline), origin(told), told.notes.map((note) => el("p", {}, note)), faults(told),
      charts(system), el("h2", {}, told.candidates.some((row) => row.verdict !== "reject") ? "The valves, best first" : "Nearest misses"),
      told.candidates.map(card), more(told), findOut(told), whatIf(), report(told),
    ].flat(9).filter(Boolean));
    said.textContent = "";
  }
  function origin(told) {
    const machine = [told.title, told.machine].filter(Boolean).join(" · ") || "a machine without a name";
    const { list, valves, demo } = asked;
    const from = `${valves.length} valve${valves.length === 1 ? "" : "s"} of ${list.name}`;
    return [
      el("p", { class: "fits__of" }, `${machine} · ${from}${list.date ? `, opened ${list.date}` : ""}`,
        demo ? ". This is the demo: shop, machines and valves are invented. Nothing of yours is changed by it." : ""),
      el("p", { class: "entries__do no-print" }, demo ? act("Leave the demo", () => { location.hash = ""; })
        : [link("size/machine/", "What the machine asks"), link("size/list/", "My valves")].map((to) => { to.className = "act"; return to; })),
    ];
  }
  // What could not be read of duty and list.
  function faults(told) {
    const rows = told.faults.map((one) => `Row ${one.row}${one.name ? ` (${one.name})` : ""}: ${one.column}: got ${one.got}, need ${one.need}. ${one.do}`);
    const duty = asked.faults.map((one) => `${one.entry}: got ${one.got}, need ${one.need}. ${one.do}`);
    return [
      duty.length ? el("div", { class: "fits__faults" }, el("p", {}, el("strong", {}, "Left out of what the machine asks:")), bullets(duty)) : "",
      rows.length ? later(`${rows.length} to put right in the list; each counts as unknown`, () => bullets(rows)) : "",
    ];
  }
  // Drawn when the answer stands: they rank once more. The drawing escapes every text.
  function charts(system) {
    const place = folded("Charts of the leaders: loss, shift limit");
    setTimeout(() => {
      const drawn = sizing.charts(asked.duty, asked.valves, system).filter(Boolean);
      if (!drawn.length) return place.remove();
      return place.append(...drawn.map((svg) => { const figure = el("figure", { class: "chart" }); figure.innerHTML = svg; return figure; }));
    });
    return place;
  }
  function more(told) {
    const left = told.judged - told.candidates.length;
    if (left <= 0) return "";
    return el("p", { class: "entries__do" }, act(`Show the other ${left}`, async () => { said.textContent = "Working …"; await painted(); answer(null); }),
      el("span", { class: "paper-only" }, `${left} more do no better.`));
  }
  function findOut(told) {
    if (!told.find_out.length) return "";
    return [el("h2", {}, "To be found out about the machine"), el("ul", {}, told.find_out.map((row) => el("li", {},
      asked.demo ? row.what : el("a", { href: shop.page(`size/machine/#q=${encodeURIComponent(row.entry)}`) }, row.what))))];
  }
  const report = (told) => shop.sizeReport(told, asked);

  // ---- what if
  function entries() {
    return Object.keys(sizing.fields).filter((name) => name !== "duty").flatMap((name) => {
      const rows = Array.isArray(asked.raw[name]) ? asked.raw[name] : null;
      const labels = name === "cylinder" || name === "motor" ? (rows || []).map((row, at) => [`${name} ${at + 1}`, row || {}]) : [[name, asked.raw[name] || {}]];
      return labels.map(([label, row]) => ({ label, fields: sizing.fields[name], row }));
    });
  }
  function whatIf() {
    const groups = entries();
    const find = (entry) => {
      const at = entry.lastIndexOf(".");
      const group = groups.find(({ label }) => label === entry.slice(0, at));
      return [group.fields[entry.slice(at + 1)], group.row[entry.slice(at + 1)]];
    };
    const pick = el("select", { id: "fits-entry", change: () => { place(); } }, groups.map(({ label, fields }) => el("optgroup", { label },
      Object.keys(fields).map((key) => el("option", { value: `${label}.${key}` }, fields[key].meaning.split(";")[0] || key.replace(/_/g, " "))))));
    if (groups.some(({ label }) => label === "pump")) pick.value = "pump.flow";
    const now = el("small", { id: "fits-now" });
    const box = el("span", {});
    const out = el("div", { role: "status" });
    const control = () => box.firstChild;
    function place() {
      const [field, text] = find(pick.value);
      const words = field.kind === "choice" ? field.words : field.kind === "yes-no" ? ["yes", "no"] : null;
      const options = { id: "fits-value", "aria-describedby": "fits-now" };
      box.replaceChildren(words ? el("select", options, [...words, "unknown"].map((word) => el("option", { value: word }, word)))
        : el("input", { ...options, type: "text", autocomplete: "off", autocapitalize: "off", spellcheck: "false", enterkeyhint: "go" }));
      now.textContent = `Now: ${text || "not known"}.`;
      out.replaceChildren();
    }
    async function turn(event) {
      event.preventDefault();
      out.replaceChildren(el("p", {}, "Working …"));
      await painted();
      const { duty, valves, problems } = asked;
      try {
        out.replaceChildren(...flips(sizing.size(duty, valves, problems, { most: 0, change: [pick.value, control().value], system: shop.units().system })));
      } catch (fault) {
        if (!(fault instanceof sizing.InputError)) throw fault;
        out.replaceChildren(el("div", { class: "field__wrong" }, troubles(fault).map((text) => el("p", {}, text))));
      }
    }
    place();
    return el("section", { class: "fits__if no-print" }, el("h2", {}, "What if"),
      el("form", { class: "entries", submit: turn },
        el("p", { class: "field" }, el("label", { for: "fits-entry" }, "Entry to change"), pick),
        el("p", { class: "field" }, el("label", { for: "fits-value" }, "Another value"), el("span", { class: "field__in" }, box), now),
        el("p", { class: "entries__do" }, el("button", { type: "submit", class: "act" }, "Show what turns"))), out);
  }
  function flips(told) {
    const turned = told.flips.filter((flip) => flip.before !== flip.after);
    const others = told.flips.length - turned.length;
    return [
      el("p", { class: "fits__head" }, told.headline),
      el("p", {}, turned.length ? `It turns ${turned.length} of ${told.judged}.` : "It turns no valve.",
        others ? ` ${others} more change in single rules only.` : ""),
      ...turned.map((flip) => el("section", { class: "valve" },
        el("h3", {}, mark(flip.after), ` ${flip.id}: ${VERDICT[flip.before]}, now ${VERDICT[flip.after]}`),
        flip.rules.filter(isLoud).map((rule) => caution(rule.sentence)),
        bullets(flip.rules.filter((rule) => !isLoud(rule)).map((rule) => rule.sentence)))),
    ];
  }

  // ---- where duty and list come from
  async function begin(raw, list, demo) {
    area.dataset.state = "yours";
    body.replaceChildren();
    said.textContent = `Working through ${list.name} …`;
    await painted();
    await shop.load("assets/size.js", "assets/size-report.js");
    try {
      const { duty, troubles: wrong } = sizing.readDuty(raw);
      asked = { raw, duty, faults: wrong, list, demo, ...read(list) };
      answer();
    } catch (fault) {
      if (!(fault instanceof sizing.InputError)) throw fault;
      said.textContent = `Not judged. ${troubles(fault).join(" ")}`;
      doors();
    }
  }
  // What is still to be done before anything can be judged.
  function doors(list = stock()) {
    const raw = duty();
    const file = el("input", { type: "file", id: "fits-file", class: "stock__file", accept: ".csv,.toml,.txt,text/csv,text/plain",
      change: async () => { if (file.files.length) begin(duty(), await opened(file.files[0]), null); } });
    const door = (path, words, below) => el("a", { class: "door", href: shop.page(path) }, el("strong", {}, words), el("small", {}, below));
    const todo = [
      raw ? "" : door("size/machine/", "Say what the machine asks", "One question a screen; “don’t know” is always an answer."),
      list ? "" : door("size/list/", "Open your list", "The valves on your shelves, kept on this device."),
      raw && !list ? door("size/request/", "No list: write a request", "One page for any supplier, without a maker.") : "",
    ];
    body.replaceChildren(
      el("div", { class: "doors doors--list" }, todo.filter(Boolean)),
      raw ? el("p", { class: "field" }, el("label", { for: "fits-file" }, "Or open a list for this page only (CSV or TOML)"), file) : "");
  }
  async function arrive() {
    const wanted = DEMO.exec(location.hash);
    const raw = duty(), list = stock();
    if (wanted) {
      await shop.load("assets/size-demo.js");
      if (Object.prototype.hasOwnProperty.call(sizeDemo.duties, wanted[1])) return begin(sizeDemo.duties[wanted[1]], await demoList(), wanted[1]);
    }
    if (raw && list) return begin(raw, list, null);
    area.dataset.state = "example";
    asked = null;
    doors();
  }
  area.addEventListener("click", (event) => {
    const demo = event.target.closest("[data-demo]");
    if (demo) location.hash = `demo=${demo.dataset.demo}`;
  });
  document.addEventListener("shop:units", () => { if (asked) answer(); });
  addEventListener("hashchange", () => { if (DEMO.test(location.hash) || (asked && asked.demo)) arrive(); });
  // Back from the form or the list, which may have changed.
  addEventListener("pageshow", (event) => { if (event.persisted) arrive(); });
  arrive();
})();
