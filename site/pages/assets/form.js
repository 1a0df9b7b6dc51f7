// The form of a calculator page: what stands in its fields as entries, answers as they are typed, the state in the
// address. It computes nothing: valvecalc.answer does. Whatever a reader or a link brings is text here, never markup.
(function () {
  "use strict";
  const section = document.querySelector(".calculator");
  if (!section || !window.valvecalc) return;
  const id = section.dataset.id;
  const card = valvecalc.card(id);
  const form = section.querySelector("form.entries");
  const all = (selector, root) => [...(root || section).querySelectorAll(selector)];
  const one = (selector, root) => (root || section).querySelector(selector);
  const { given, isList, fill, clear, put, typed, setUnit, hasUnit, addRow, withDoubt } = shop.fields(form, id);
  const example = { head: one(".answer__head").innerHTML, body: one(".answer__body").innerHTML,
    chart: one(".answer__chart").innerHTML, worked: one(".worked").innerHTML }; // as built: our own
  let untouched = true;
  let later = 0;

  // ---- solving -----------------------------------------------------------------------------------------------
  const wanted = one("#solve", form);
  const stated = one("#solve-result", form);
  function solveUnits() {
    if (!stated) return;
    const select = one("#solve-unit", form);
    const word = valvecalc.word(stated.value);
    const units = [...new Set([word.metric, word.us, ...valvecalc.units.choices(word.dimension)])].filter(Boolean);
    select.replaceChildren(...units.map((unit) => new Option(unit, unit)));
    select.hidden = !units.length;
    setUnit(select, shop.unit(word.metric, word.us));
  }
  const solving = () => Boolean(wanted && wanted.value);

  // ---- answer ------------------------------------------------------------------------------------------------
  function options(more) {
    const units = {};
    const usual = shop.units();
    (card.results.length ? card.results : [card.result]).forEach((name) => {
      const { metric, us } = valvecalc.word(name);
      const unit = metric && shop.unit(metric, us, usual);
      if (unit !== metric) units[name] = unit;
    });
    const chosen = one(".answer__unit select");
    if (chosen) units[card.result] = chosen.value;
    return { system: usual.system, units, ...more };
  }
  function work(more) {
    const entries = given();
    if (!solving()) return [valvecalc.answer(id, entries, options(more))];
    delete entries[wanted.value];
    entries[stated.value] = typed(one("#solve-value", form), one("#solve-unit", form));
    const found = valvecalc.solveFor(id, wanted.value, entries, options(more));
    return Array.isArray(found) ? found : [found];
  }
  function paint(part, html) {
    const area = one(part);
    const open = all("details", area).map((each) => each.open);
    area.innerHTML = html; // made by show.js, which escapes every text
    all("details", area).forEach((each, i) => { each.open = Boolean(open[i]); });
  }
  let last = null;
  function update() {
    const entries = given();
    section.dataset.state = Object.keys(entries).length || solving() ? "yours" : "example";
    if (section.dataset.state === "example") return restore();
    const answers = work({ steps: false, rows: false });
    tellFaults(answers[0].ok ? [] : answers[0].errors);
    if (answers[0].ok) {
      last = answers;
      paint(".answer__head", answers.map((each) => valvecalc.show.headline(card, each)).join(""));
      one(".now").replaceChildren(...all(".answer__head .answer-figure > *").map((each) => each.cloneNode(true)));
    } else wait();
    clearTimeout(later);
    later = setTimeout(rest, 60);
    section.classList.add("is-behind"); // chart and worked lines still tell of the entries before
  }
  function wait() {
    last = null;
    const told = document.createElement("p");
    told.className = "answer-figure";
    told.textContent = "No answer yet: correct the entry that is marked.";
    one(".answer__head").replaceChildren(told);
    one(".now").textContent = told.textContent;
  }
  // What costs more than the figure itself follows when the typing pauses: worked lines, chart, address.
  function rest() {
    clearTimeout(later);
    section.classList.remove("is-behind");
    remember();
    if (!last) return tell();
    const answers = work({});
    if (!answers[0].ok) return;
    last = answers;
    const answer = answers[0];
    paint(".answer__body", valvecalc.show.body(card, answer, shop.page));
    paint(".worked", answer.steps.length ? valvecalc.show.lines(card, answer.steps, shop.page) : "");
    paint(".answer__chart", valvecalc.chart(id, answer));
    tell(answer);
  }
  // For citing: the answer, null for the example as built, nothing while an entry is wrong.
  function tell(answer) {
    document.dispatchEvent(new CustomEvent("shop:answer", { detail: { answer } }));
  }
  function restore() {
    last = null;
    tellFaults([]);
    paint(".answer__head", example.head);
    paint(".answer__body", example.body);
    paint(".answer__chart", example.chart);
    paint(".worked", example.worked);
    remember();
    tell(null);
  }

  // ---- faults, corrected in place ----------------------------------------------------------------------------
  function tellFaults(errors) {
    all(".field__wrong:not([hidden])", form).forEach((box) => { box.hidden = true; box.replaceChildren(); });
    all("[aria-invalid]", form).forEach((input) => input.removeAttribute("aria-invalid"));
    errors.forEach((error) => {
      const [name] = error.entry.split(" ");
      const box = document.getElementById(`wrong-${name}`) || document.getElementById("wrong-solve");
      const told = document.createElement("p");
      told.textContent = `${error.entry === name ? "" : `${error.entry}: `}Needed: ${error.need}. ${error.do}`;
      const place = box || one(".field__wrong", form);
      place.append(told);
      place.hidden = false;
      if (!box) return;
      const input = one(`input[name="${name}"]`, box.closest(".field"));
      if (!input || card.rows[name]) return;
      input.setAttribute("aria-invalid", "true");
      correct(box, input, name);
    });
  }
  function correct(box, input, name) {
    if (!hasUnit(input.value)) return;
    valvecalc.units.candidates(input.value, valvecalc.word(name).dimension).slice(0, 3).forEach((unit) => {
      const button = document.createElement("button");
      button.type = "button";
      button.className = "act";
      button.textContent = unit;
      button.addEventListener("click", () => {
        setUnit(one("select.unit", box.closest(".field")), unit);
        input.value = valvecalc.units.numberOf(input.value);
        input.focus();
        update();
      });
      box.append(button);
    });
  }

  // ---- the address holds the state ---------------------------------------------------------------------------
  function remember() {
    const link = stateLink();
    if (location.hash === link || (!link && !location.hash)) return;
    history.replaceState(history.state, "", link || location.pathname + location.search);
  }
  function stateLink() {
    const entries = given();
    if (!Object.keys(entries).length && !solving()) return "";
    let link = valvecalc.fragment(id, entries);
    if (solving()) {
      const text = typed(one("#solve-value", form), one("#solve-unit", form));
      link += `&solve=${wanted.value}&${stated.value}=${encodeURIComponent(text)}`;
    }
    return link;
  }
  function fromAddress() {
    if (!location.hash.includes("=")) return false;
    const entries = {};
    const unknown = [], unread = [];
    let edition = null;
    const results = card.results.length ? card.results : [card.result];
    location.hash.slice(1).split("&").forEach((pair) => {
      const at = pair.indexOf("=");
      const name = pair.slice(0, at);
      const text = decoded(pair.slice(at + 1));
      if (name === "e") edition = text;
      else if (card.rows[name] && card.entries.includes(name) && !isList(name, text)) unread.push(`${name} (${text.slice(0, 40)})`);
      else if (card.entries.includes(name)) entries[name] = text;
      else if (name === "solve" && wanted && card.entries.includes(text)) entries["#solve"] = text;
      else if (results.includes(name)) entries["#stated"] = [name, text];
      else unknown.push(name);
    });
    const { "#solve": solve, "#stated": result, ...plain } = entries;
    fill(plain);
    if (solve && result) {
      wanted.value = solve;
      stated.value = result[0];
      solveUnits();
      put(one("#solve-value", form), one("#solve-unit", form), result[1], result[0]);
      wanted.closest("details").open = true;
    }
    tellOrigin(edition, unknown, unread);
    return true;
  }
  const decoded = (text) => { try { return decodeURIComponent(text); } catch (fault) { return text; } };
  function tellOrigin(edition, unknown, unread) {
    const told = [];
    if (edition !== null && edition !== String(card.edition)) {
      told.push(`This link was made with edition ${edition.slice(0, 8)} of this calculation; these pages hold edition ` +
        `${card.edition}. The answer below is worked anew and may differ.`);
    }
    if (unknown.length) told.push(`The link names what this calculation does not have: ${unknown.join(", ").slice(0, 120)}.`);
    if (unread.length) told.push(`Left out, for it cannot be read: ${unread.join(", ").slice(0, 120)}.`);
    const note = one(".entries__note");
    note.textContent = told.join(" ");
    note.hidden = !told.length;
  }

  // ---- events ------------------------------------------------------------------------------------------------
  const acts = {
    example() { fill(card.example); update(); },
    clear() { clear(); if (wanted) wanted.value = ""; one(".entries__note").hidden = true; update(); one("input, select", form).focus(); },
    doubt() { withDoubt(!form.classList.contains("with-doubt")); update(); },
    row(button) { one("input, select", addRow(button.closest(".rows"))).focus(); },
    "row-off"(button) {
      const field = button.closest(".rows");
      const row = button.closest(".rows__row");
      if (all(".rows__row", field).length > 1) row.remove();
      else all("input", row).forEach((input) => { input.value = ""; });
      update();
    },
  };
  section.addEventListener("click", (event) => {
    const button = event.target.closest("button[data-do]");
    if (button && acts[button.dataset.do]) acts[button.dataset.do](button);
  });
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", (event) => {
    if (event.target.matches("select.unit")) return;
    if (event.target.id === "diametral") halve(event.target);
    untouched = false;
    update();
  });
  form.addEventListener("change", (event) => {
    const { target } = event;
    if (target === stated) solveUnits();
    if (target.matches("select.unit") && target.dataset.pair) {
      const [metric, us] = target.dataset.pair.split("|");
      shop.setUnit(metric, us, target.value);
    }
    if (target.matches(".field__in input[name]")) tidy(target);
    update();
  });
  const answerUnit = one(".answer__unit select");
  if (answerUnit) {
    answerUnit.addEventListener("change", () => {
      shop.setUnit(...answerUnit.dataset.pair.split("|"), answerUnit.value);
      update();
    });
  }
  // A unit typed into the field moves to the unit choice, once the field is left.
  function tidy(input) {
    const field = input.closest(".field");
    if (card.rows[field.dataset.entry] || !hasUnit(input.value)) return;
    put(input, one("select.unit", field), input.value, field.dataset.entry, { doubt: one(".field__doubt input", field) });
  }
  // The shop reads the difference of two diameters; the formula wants the gap on one side.
  function halve(input) {
    const half = Number(input.value.replace(",", ".")) / 2;
    const told = Number.isFinite(half) && half ? String(Number(valvecalc.units.figure(half, 6))) : "";
    one('[name="clearance"]', input.closest(".field")).value = told;
    one("output", input.parentNode).textContent = told ? `÷ 2 = ${told}` : "÷ 2";
  }
  // Units follow the switch where nothing is typed: what is typed keeps the unit that it was read in.
  function followUnits() {
    all("select.unit[data-pair]").forEach((select) => {
      const field = select.closest(".field");
      const filled = field && all("input[name]", field).some((input) => input.value.trim());
      if (!filled) setUnit(select, shop.unit(...select.dataset.pair.split("|")));
    });
    solveUnits();
  }
  document.addEventListener("shop:units", () => { followUnits(); if (!untouched || last) update(); });
  const catchUp = () => { if (section.classList.contains("is-behind")) rest(); };
  addEventListener("beforeprint", catchUp);
  // Before a copy is made of it, the text follows the entries: what is copied is never the answer before.
  addEventListener("click", (event) => { if (event.target.closest("[data-keep], [data-cite]")) catchUp(); }, true);
  // A script that came after the answer asks for it.
  document.addEventListener("shop:asked", () => {
    if (!section.classList.contains("is-behind")) tell(section.dataset.state === "example" ? null : last ? last[0] : undefined);
  });
  addEventListener("hashchange", () => {
    if (fromAddress()) update();
    else remember(); // a jump within the page must not lose the entries
  });

  section.dataset.awake = "yes";
  followUnits();
  if (fromAddress()) { untouched = false; update(); }
  else if (given() && Object.keys(given()).length) update(); // the browser put back what stood there
})();
