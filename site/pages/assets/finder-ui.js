// The fault finder on a symptom page: wakes <div id="finder" data-symptom="…">. It computes nothing itself (finder.js) and
// asks the network for nothing. The whole case stands in the fragment of the address, in the words of the command line:
//   #e=1&at=bench-only&valve=ac,detented&have=area-clear&found=listen-click:hum&skip=…&lack=…&not-cured=…&cured=job:cause&killer=…
// Whatever comes out of the fragment is text: it is looked up among the known ids or shown, never run.
(function () {
  "use strict";

  const SAYS = {
    next: "Next check",
    asked: "You asked for",
    places: { "on-machine": "At the machine", "on-bench": "On the bench", "disassembled": "Valve opened" },
    stages: {
      "on-bench": "The valve comes off for this check. Zero pressure proved and everybody told first; the machine stands still from here.",
      "disassembled": "The valve is opened for this check. It cannot be tested as it came in afterwards.",
    },
    skipped: { "not-possible": "not possible here", declined: "left out" },
    faults: {
      "no-check": "is no check", "no-outcome": "is no answer of that check", "no-need": "is nothing that can be ticked",
      "no-repair": "is no repair that is left", "no-cause": "is no cause that this repair cures", "no-killer": "is no killer here",
      twice: "has an answer already", known: "is what the complaint says already", "other-valve": "does not apply to this valve",
      word: "is no part of a case", tag: "is no kind of valve", place: "is no situation", version: "is a version that this page does not know",
      valve: "is a valve that cannot show this complaint",
    },
  };
  // What the valve is: each choice takes tags out of those that may be true. What is not known stays in.
  const VALVE = [
    ["Current", [["AC or DC: not known", []], ["AC coil", ["dc"]], ["DC coil, or AC through a rectifier", ["ac"]]]],
    ["Coils", [["Two coils, or not known", []], ["One coil", ["double-solenoid"]]]],
    ["Stages", [["Two stages (pilot operated), or not known", []], ["Direct operated", ["pilot-operated"]]]],
    ["Detent", [["Detent, or not known", []], ["Springs, no detent", ["detented"]]]],
    ["Armature", [["In oil, or not known", []], ["Dry", ["wet-armature"]]]],
    ["Voltage", [["Above 50 V, or not known", []], ["50 V or less", ["above-50-v"]]]],
  ];

  const root = document.getElementById("finder");
  if (!root || typeof finderModel === "undefined") return;
  const model = finder.knowledge(finderModel);
  const symptom = root.dataset.symptom;
  // A complaint of a valve that came in alone starts on the bench.
  const usual = root.dataset.situation === finder.BENCH_ONLY ? finder.BENCH_ONLY : finder.AT_MACHINE;
  if (!Object.prototype.hasOwnProperty.call(model.symptoms, symptom)) return;
  const base = new URL("..", document.currentScript.src).href;
  // From a stick pages are opened as files, and links go on so.
  const file = location.pathname.endsWith("/index.html") ? "index.html" : "";
  const page = (path) => `${base}${path}/${file}`;

  // ---------------------------------------------------------------- the case in the fragment

  const STEP = {
    found: (check, outcome) => ({ check, outcome }),
    skip: (check) => ({ check, skipped: "not-possible" }),
    have: (need) => ({ need, ticked: true }),
    lack: (need) => ({ need, missing: true }),
    cured: (repair, cause) => (cause ? { repair, cured: true, cause } : { repair, cured: true }),
    "not-cured": (repair) => ({ repair, cured: false }),
    killer: (killer) => ({ killer: killer === "unknown" ? null : killer }),
  };

  function written(step) {
    if ("outcome" in step) return ["found", step.check, step.outcome];
    if ("skipped" in step) return ["skip", step.check];
    if ("need" in step) return [step.ticked ? "have" : "lack", step.need];
    if ("repair" in step) return step.cured ? ["cured", step.repair, step.cause] : ["not-cured", step.repair];
    return ["killer", step.killer === null ? "unknown" : step.killer];
  }

  function fragment(state) {
    const parts = ["e=1"];
    if (state.situation !== usual) parts.push(`at=${state.situation}`);
    if (state.profile) parts.push(`valve=${state.profile.join(",")}`);
    for (const step of state.steps) {
      const [key, ...values] = written(step);
      parts.push(`${key}=${values.filter(Boolean).map(encodeURIComponent).join(":")}`);
    }
    return parts.length > 1 ? `#${parts.join("&")}` : "";
  }

  // The state of a fragment and what in it could not be read, as [text, why]; null for an ordinary anchor.
  function read(hash) {
    const pairs = hash.replace(/^#/, "").split("&").filter(Boolean).map((part) => {
      const at = part.indexOf("=");
      const plain = (text) => { try { return decodeURIComponent(text); } catch (trouble) { return text; } };
      return at < 0 ? [plain(part), ""] : [plain(part.slice(0, at)), plain(part.slice(at + 1))];
    });
    if (!pairs.some(([key]) => key === "e")) return null;
    const state = { symptom, situation: usual, profile: null, steps: [] }, unread = [];
    for (const [key, value] of pairs) {
      const [one, two = ""] = value.split(":");
      if (key === "e") { if (value !== "1") unread.push([value, "version"]); }
      else if (key === "at") {
        if (value === finder.BENCH_ONLY || value === finder.AT_MACHINE) state.situation = value;
        else unread.push([value, "place"]);
      } else if (key === "valve") {
        const tags = value.split(",").filter(Boolean), known = (tag) => Object.prototype.hasOwnProperty.call(model.tags, tag);
        tags.filter((tag) => !known(tag)).forEach((tag) => unread.push([tag, "tag"]));
        if (finder.fits(model, symptom, tags.filter(known))) state.profile = tags.filter(known);
        else unread.push([value, "valve"]);
      } else if (Object.prototype.hasOwnProperty.call(STEP, key)) state.steps.push(STEP[key](one, two));
      else unread.push([`${key}=${value}`, "word"]);
    }
    return { state, unread };
  }

  // ---------------------------------------------------------------- the page

  const fresh = () => ({ symptom, situation: usual, profile: null, steps: [] });
  let state = fresh(), unread = [], wanted = "", ticked = new Set();

  function el(tag, attributes, ...children) {
    const made = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes || {})) {
      if (name === "onclick" || name === "onchange") made.addEventListener(name.slice(2), value);
      else made.setAttribute(name, value);
    }
    made.append(...children.flat(9).filter((child) => child !== null && child !== undefined && child !== ""));
    return made;
  }
  const button = (words, below, act, kind = "door") =>
    el("button", { type: "button", class: kind, onclick: act }, el("strong", {}, words), below ? el("small", {}, below) : "");
  const small = (words, act) => el("button", { type: "button", class: "door--small", onclick: act }, words);
  const link = (path, words) => el("a", { href: page(path) }, words);
  const caution = (...lines) => el("div", { class: "caution" }, lines.map((line) => el("p", {}, line)));
  // The label beside its choice and not around it, so that the choice is not read out as part of its own name.
  function field(words, select) {
    select.id = `finder-${words.toLowerCase().replace(/\W+/g, "-")}`;
    return [el("label", { for: select.id }, words), select];
  }
  const folded = (summary, ...body) => el("details", {}, el("summary", {}, summary), ...body);
  const list = (tag, rows, kind = "") => (rows.length ? el(tag, kind ? { class: kind } : {}, rows.map((row) => el("li", {}, row))) : "");
  const hazard = (level) => el("span", { class: `hazard ${level}` }, `hazard ${level}`);
  const causeLink = (cause) => link(`fault/causes/${cause}`, model.causes[cause].title);

  // A step is a page of its own in the history, so that Back takes it back; a tick or the valve's description is not.
  function go(change, keep = false) {
    state = { ...state, ...change };
    wanted = "";
    unread = [];
    history[keep ? "replaceState" : "pushState"](null, "", fragment(state) || "#ask");
    show(!keep);
    if (keep) refocus();
  }
  // After a tick the next one, after the last tick the instruction, after a choice the same choice again.
  let chosen = "";
  function refocus() {
    const next = (chosen && document.getElementById(chosen)) || body.querySelector(".tick input:not(:checked)") || body.querySelector("h3");
    next.focus({ preventScroll: true });
    chosen = "";
  }
  const add = (step, keep = false) => { if (!keep) ticked = new Set(); go({ steps: [...state.steps, step] }, keep); };
  const replaced = (place, step) => go({ steps: state.steps.flatMap((old, at) => (at !== place ? [old] : step ? [step] : [])) });

  function questionCard(now, advice, question, killer) {
    const record = model.checks[question.check], open = !question.unticked.length;
    const answer = (outcome) => add({ check: question.check, outcome });
    const outcomes = question.outcomes.length ? question.outcomes : Object.keys(record.outcomes).map((outcome) => [outcome, 0, []]);
    const enters = finder.STAGES.indexOf(question.place) > finder.STAGES.indexOf(now.position.stage);
    return el("section", { class: "step" },
      el("h2", { tabindex: "-1" }, `${wanted ? SAYS.asked : SAYS.next}: ${record.title}`),
      caution(question.caution, ...record.hazards.map((id) => model.hazards[id].stop)),
      el("div", { class: "do" }, enters ? el("p", { class: "stage" }, el("strong", {}, `${SAYS.places[question.place]}. `), SAYS.stages[question.place] || "") : "",
      el("p", {}, `${SAYS.places[question.place]} · about ${record.minutes} min · `, hazard(question.hazard), ` · with: ${record.tool}`),
      question.unticked.map((need) => gate(need)),
      open ? [
        el("h3", { tabindex: "-1" }, "How"),
        record.steps.length ? list("ol", record.steps) : el("p", {}, record.how),
        record.judged_by ? el("p", {}, "The number is judged here: ", link(record.judged_by, record.judged_by.split("/")[1].replace(/-/g, " "))) : "",
        el("h3", {}, "What did you find?"),
        el("div", { class: "doors doors--list answers" }, outcomes.map(([outcome, , after]) =>
          button(record.outcomes[outcome], after.length ? `points to: ${model.causes[after[0][0]].title}` : "", () => answer(outcome)))),
      ] : el("p", {}, "The instruction and the answers open when everything above is ticked."),
      wanted ? "" : el("p", { class: "quiet" }, finder.whyCheck(now, advice)),
      small("Not possible here: ask something else", () => add({ check: question.check, skipped: "not-possible" })),
      killer ? small("Close without knowing what killed it", () => add({ killer: null })) : "",
      el("p", { class: "no-print" }, link(`do/${question.check}`, "The whole procedure of this check"))));
  }

  // Ticked one by one; the last tick opens what waits behind it.
  function gate(need) {
    const record = model.gates[need] || { title: model.needs[need], steps: [model.needs[need]] };
    const tick = (text, place) => {
      const key = `${need} ${place}`;
      const box = el("input", { type: "checkbox", onchange: () => {
        if (box.checked) ticked.add(key); else ticked.delete(key);
        if (record.steps.every((_, at) => ticked.has(`${need} ${at}`))) add({ need, ticked: true }, true);
      } });
      box.checked = ticked.has(key);
      return el("label", { class: "tick" }, box, el("span", {}, text));
    };
    return el("fieldset", {}, el("legend", {}, record.title), record.steps.map(tick),
      small("This cannot be had here", () => add({ need, missing: true })));
  }

  function repairCard(now, advice) {
    const [job, ...rest] = advice.repairs, cause = model.causes[job.causes[0][0]];
    return el("section", { class: "step" },
      el("h2", { tabindex: "-1" }, finder.headline(now, advice)),
      caution(cause.caution),
      el("div", { class: "do" }, advice.before.length ? [
        el("p", {}, "Before it is opened, since afterwards it cannot be done any more:"),
        advice.before.map((check) => small(model.checks[check].title, () => { wanted = check; show(true); })),
      ] : "",
      el("h3", {}, `${finder.jobTitle(model, job.job)}, about ${Math.round(job.minutes)} min`),
      el("p", {}, cause.remedy),
      el("p", {}, el("strong", {}, "Proof: "), cause.confirmed_by),
      el("p", {}, "Causes that it cures: ", job.causes.map(([id, chance], at) => [at ? "; " : "", causeLink(id), ` (${finder.strength(now.scope, chance)})`])),
      cause.judged_by ? el("p", {}, "Calculation: ", link(cause.judged_by, cause.judged_by.split("/")[1].replace(/-/g, " "))) : "",
      told(cause),
      rest.length ? [el("h3", {}, "Then, if that did not cure it"), list("ol", rest.slice(0, 3).map((one) => finder.jobTitle(model, one.job)))] : "",
      el("h3", {}, "Did it cure?"),
      el("div", { class: "doors doors--list" },
        job.causes.slice(0, 4).map(([id]) => button(`Cured: ${model.causes[id].title}`, "", () => add({ repair: job.job, cured: true, cause: id }))),
        button("This did not cure it", "ask on", () => add({ repair: job.job, cured: false })))));
  }

  function told(cause) {
    return [
      list("ul", cause.roots.map((id) => [el("strong", {}, "On the machine: "), link(`fault/roots/${id}`, model.roots[id].title), `. Measure: ${model.roots[id].measure}`])),
      el("p", {}, el("strong", {}, "Tell the customer: "), cause.tell_the_customer || cause.roots.map((id) => model.roots[id].tell_the_customer).join(" ")),
    ];
  }

  function machineCard(now, advice) {
    return el("section", { class: "step" },
      el("h2", { tabindex: "-1" }, finder.headline(now, advice)),
      advice.measure.map((id, at) => {
        const check = model.checks[id];
        return [
          el("h3", {}, `${at + 1}. ${check.title}`), caution(check.caution, ...check.hazards.map((one) => model.hazards[one].stop)),
          check.needs.length ? [el("p", {}, "First:"), list("ul", check.needs.map((need) => model.needs[need]))] : "",
          check.steps.length ? list("ol", check.steps) : el("p", {}, check.how),
          el("p", {}, `Write down which: ${Object.values(check.outcomes).join("; ")}`),
          small("The answer has come", () => { wanted = id; show(true); }),
        ];
      }),
      el("h3", {}, "How did it end?"),
      el("div", { class: "doors doors--list" },
        advice.repairs[0].causes.slice(0, 4).map(([id]) => button(`Cured on the machine: ${model.causes[id].title}`, "", () => add({ repair: advice.repairs[0].job, cured: true, cause: id }))),
        button("Nothing wrong on the machine", "ask on", () => add({ repair: advice.repairs[0].job, cured: false }))));
  }

  function closedCard(now, advice) {
    const known = advice.killers, open = now.killer === null && known.chains.length && !known.shown.length;
    const names = [...new Set(known.chains.map((chain) => chain.killer))];
    return el("section", { class: "step" },
      el("h2", { tabindex: "-1" }, finder.headline(now, advice)),
      known.shown.map(([killer, check, outcome]) => el("p", {}, causeLink(killer), `: shown by '${model.checks[check].title}: ${model.checks[check].outcomes[outcome]}'`)),
      told(model.causes[now.cured]),
      open ? [
        el("h3", {}, "What killed it?"),
        el("div", { class: "doors doors--list" },
          names.map((id) => button(model.causes[id].title, known.chains.find((chain) => chain.killer === id).note, () => add({ killer: id }))),
          button("Not known", "the report says so", () => add({ killer: null }))),
      ] : "",
      el("p", {}, link(`fault/causes/${now.cured}`, "The whole page of this cause")));
  }

  function nothingCard(now, advice) {
    return el("section", { class: "step" }, el("h2", { tabindex: "-1" }, finder.headline(now, advice)),
      el("p", {}, "Change an answer below, or ", link("fault", "choose another complaint"), "."));
  }

  function leadingCauses(now, advice) {
    if (now.cured || !advice.leading.length) return "";
    return el("section", { class: "leading" }, el("h3", {}, "It may be"),
      list("ul", advice.leading.map(([cause, chance]) => [el("strong", {}, `${finder.strength(now.scope, chance)}: `), causeLink(cause)])));
  }

  const title = (table, id) => (Object.prototype.hasOwnProperty.call(table, id) ? table[id].title || table[id] : id);

  // The steps so far; each opens to be changed or taken back, and the later ones still count.
  function path() {
    if (!state.steps.length) return "";
    const ticks = state.steps.flatMap((step, place) => (step.ticked ? [[step, place]] : []));
    const rows = state.steps.map((step, place) => {
      if (step.ticked) return null;
      const back = small("Take this back", () => replaced(place, null));
      if ("outcome" in step || "skipped" in step) {
        const check = model.checks[step.check];
        const said = "outcome" in step ? check.outcomes[step.outcome] : SAYS.skipped[step.skipped];
        return folded(`${check.title}: ${said}`, Object.keys(check.outcomes).map((outcome) =>
          small(check.outcomes[outcome], () => replaced(place, { check: step.check, outcome }))), back);
      }
      if ("need" in step) return folded(`${title(model.gates, step.need)}: cannot be had`, back);
      if ("repair" in step) {
        const job = step.repair in model.repair_groups || step.repair in model.causes ? finder.jobTitle(model, step.repair) : "Card for the machine";
        return folded(`${job}: ${step.cured ? `cured${step.cause ? `, ${title(model.causes, step.cause)}` : ""}` : "did not cure"}`, back);
      }
      return folded(`Killed by: ${step.killer === null ? "not known" : title(model.causes, step.killer)}`, back);
    }).filter(Boolean);
    return el("section", { class: "so-far" }, el("h3", {}, "So far"), list("ol", rows, "path"),
      ticks.length ? folded(`Ticked: ${ticks.length}`, ticks.map(([step, place]) => small(`Take back: ${title(model.gates, step.need)}`, () => replaced(place, null)))) : "",
      el("p", {}, "The address of this page holds the whole case: send it, keep it or print it."),
      small("Start again", () => { ticked = new Set(); go({ steps: [] }); }));
  }

  function alreadyChecked(now) {
    const left = Object.keys(now.scope.rows).filter((check) => !now.position.answered.has(check) && !now.position.skipped.has(check) && !now.afterwards.some(([asked]) => asked === check));
    const answers = el("div", { class: "doors doors--list" });
    const choose = el("select", { onchange: () => {
      answers.replaceChildren(...Object.entries(model.checks[choose.value] ? model.checks[choose.value].outcomes : {}).map(([outcome, words]) =>
        button(words, "", () => add({ check: choose.value, outcome }))));
    } }, el("option", { value: "" }, "Choose"), finder.STAGES.map((place) =>
      el("optgroup", { label: SAYS.places[place] }, left.filter((check) => model.checks[check].where === place).map((check) => el("option", { value: check }, model.checks[check].title)))));
    return folded("I have already checked …", field("What was checked", choose), answers);
  }

  function valve() {
    const all = Object.keys(model.tags), tags = state.profile;
    const picks = VALVE.map(([name, choices]) => {
      const pick = el("select", { onchange: () => { chosen = pick.id; describe(); } }, choices.map(([words], place) => el("option", { value: place }, words)));
      pick.selectedIndex = Math.max(0, choices.findIndex(([, out]) => tags && out.length && out.every((tag) => !tags.includes(tag))));
      return pick;
    });
    function describe() {
      const out = VALVE.flatMap(([, choices], at) => choices[picks[at].selectedIndex][1]);
      const profile = out.length ? all.filter((tag) => tag !== "all" && !out.includes(tag)) : null;
      if (finder.fits(model, symptom, profile)) go({ profile }, true);
      else { unread = [[profile.join(", "), "valve"]]; show(false); }
    }
    const place = el("select", { onchange: () => { chosen = place.id; go({ situation: place.value }, true); } },
      el("option", { value: finder.AT_MACHINE }, "At the machine"), el("option", { value: finder.BENCH_ONLY }, "Valve on the bench, machine out of reach"));
    place.value = state.situation;
    return folded("The valve, and where you are", field("Where you are", place), VALVE.map((row, at) => field(row[0], picks[at])));
  }

  function card(now, advice) {
    if (wanted) return questionCard(now, advice, finder.question(now, wanted), false);
    if (advice.question) return [advice.kind === "ask-killer" ? el("p", {}, finder.headline(now, advice)) : "", questionCard(now, advice, advice.question, advice.kind === "ask-killer")];
    return { repair: repairCard, "machine-card": machineCard, closed: closedCard, "nothing-fits": nothingCard }[advice.kind](now, advice);
  }

  // The shop's own cases, where a file of them is kept here (finder-counts.js).
  const counted = typeof finderCounts === "undefined" ? null : finderCounts;
  const replayed = (told) => finder.replay(model, { ...told, counts: counted && counted.of(symptom) });
  const weighed = () => { const said = counted ? counted.said(symptom) : ""; return said ? el("p", { class: "quiet weighed" }, said) : ""; };
  const ownCases = () => (counted ? counted.control(el, symptom, () => show(true)) : "");

  const live = el("p", { class: "unseen", "aria-live": "polite" });
  const body = el("div", {});

  function show(move) {
    const now = replayed(state);
    const wrong = unread.concat(now.faults.map(({ fault }) => [fault[1], fault[0]]));
    if (now.faults.length) state = { ...state, steps: state.steps.filter((step) => !now.faults.some((fault) => fault.step === step)) };
    const advice = finder.advise(now);
    const opened = [...body.querySelectorAll("details[open] > summary")].map((summary) => summary.textContent);
    body.replaceChildren(...[
      wrong.length ? el("div", { class: "caution unread" }, wrong.map(([what, why]) => el("p", {}, `Left out: '${String(what).slice(0, 80)}' ${SAYS.faults[why]}.`))) : "",
      // The complaint's own caution says it above every question; an end starts with it.
      finder.notes(now, { ...advice, notes: advice.notes.filter((note) => note !== "out-of-service" || advice.kind !== "check") }).map((note) => caution(note)),
      card(now, advice), leadingCauses(now, advice), weighed(), alreadyChecked(now), valve(), ownCases(), path(),
    ].flat(9).filter(Boolean));
    if (!move) for (const summary of body.querySelectorAll("details > summary")) if (opened.includes(summary.textContent)) summary.parentNode.open = true;
    const heading = body.querySelector("h2");
    live.textContent = heading.textContent;
    if (move) { heading.focus({ preventScroll: true }); heading.scrollIntoView({ block: "start" }); }
    setTimeout(() => lookAhead(now, advice), 0);
  }

  // What each answer leads to, written under it when there is time: minutes and hazard of the next check.
  function lookAhead(now, advice) {
    const question = wanted ? null : advice.question;
    if (!question || now.cured) return;
    const rows = body.querySelectorAll(".answers > button");
    question.outcomes.forEach(([outcome], place) => {
      if (!rows[place]) return;
      const then = finder.advise(replayed({ ...state, steps: [...state.steps, { check: question.check, outcome }] }));
      const asked = then.question && model.checks[then.question.check];
      if (asked) rows[place].append(el("small", {}, `then ${asked.minutes} min, `, hazard(then.question.hazard)));
      else if (then.kind === "repair") rows[place].append(el("small", {}, "then a repair"));
    });
  }

  // Who came to the cards below stays with them, and may change over: no answer moves away under a finger.
  function arrive() {
    const target = location.hash && document.getElementById(location.hash.slice(1));
    const asleep = !location.hash || Boolean(target && target.closest(".talk"));
    document.documentElement.classList.toggle("finder-awake", !asleep);
    if (asleep) {
      body.replaceChildren(small("Ask step by step, in any order", () => { history.pushState(null, "", "#ask"); arrive(); }));
      if (counted && Object.keys(counted.of(symptom) || {}).length) {
        body.append(el("p", { class: "quiet" }, "The shop's own cases are kept here: the cards below do not know them, asking step by step does."));
      }
      return;
    }
    const found = read(location.hash);
    if (found) { state = found.state; unread = found.unread; }
    else if (location.hash === "#ask") { state = fresh(); unread = []; }
    wanted = "";
    ticked = new Set();
    show(false);
  }

  root.classList.add("finder");
  root.replaceChildren(live, body);
  addEventListener("popstate", arrive);
  arrive();
})();
